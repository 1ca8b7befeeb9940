package rulebook

import (
	"context"
	"path"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// heldToWritten are the rules of the catalogue marked h: they fail only when
// every number they need is written.
var heldToWritten = []string{
	"filler-on-green-primer", "recoated-too-soon", "window-missed", "recoated-in-dead-time", "sanded-too-soon",
	"pot-life-passed", "film-too-thin", "film-too-thick", "clear-sanded-thin", "too-cold", "too-hot", "over-reduced",
}

// certainties is a tracer that gathers what the verdicts of one file were
// found to be: grade, certainty, and whether they lean on typical numbers.
type certainties struct {
	file  string
	found map[string]bool
}

func (*certainties) Enabled() bool               { return true }
func (*certainties) Config() topdown.TraceConfig { return topdown.TraceConfig{PlugLocalVars: true} }
func (c *certainties) TraceEvent(e topdown.Event) {
	r, ok := e.Node.(*ast.Rule)
	if !ok || e.Op != topdown.ExitOp || r.Location == nil || r.Location.File != c.file || e.Locals == nil {
		return
	}
	e.Locals.Iter(func(_, v ast.Value) bool {
		o, ok := v.(ast.Object)
		if !ok || o.Get(ast.StringTerm("message")) == nil {
			return false
		}
		word := func(key string) string {
			if t := o.Get(ast.StringTerm(key)); t != nil {
				s, _ := t.Value.(ast.String)
				return string(s)
			}
			return ""
		}
		c.found[word("grade")+" "+word("certainty")] = true
		if t := o.Get(ast.StringTerm("leaned")); t != nil {
			if a, ok := t.Value.(*ast.Array); ok && a.Len() > 0 {
				c.found[word("grade")+" "+word("certainty")+" leaned"] = true
			}
		}
		return false
	})
}

// seen runs a rule's own tests, and gives the kinds of verdict they met.
func seen(t *testing.T, b *Book, name string) map[string]bool {
	t.Helper()
	compiler, err := b.testCompiler()
	if err != nil {
		t.Fatal(err)
	}
	data, _, err := b.data()
	if err != nil {
		t.Fatal(err)
	}
	file := b.rules[name].file
	test, err := b.parse(path.Join(path.Dir(file), "rule_test.rego"))
	if err != nil {
		t.Fatal(err)
	}
	c := &certainties{file, map[string]bool{}}
	for _, r := range test.Rules {
		ref := r.Head.Ref().String()
		if !strings.HasPrefix(ref, "test_") {
			continue
		}
		if _, err := rego.New(
			rego.ParsedQuery(ast.NewBody(ast.NewExpr(ast.NewTerm(test.Package.Path.Append(ast.StringTerm(ref)))))),
			rego.Compiler(compiler), rego.Store(inmem.NewFromASTObject(data)), rego.SetRegoVersion(ast.RegoV1), rego.QueryTracer(c),
		).Eval(context.Background()); err != nil {
			t.Fatalf("%s: %s: %v", name, ref, err)
		}
	}
	return c.found
}

// A rule that fails only where its numbers are written is tested where it
// breaks for certain, where it only may, and where it leans on a typical number
// and so is a risk.
func TestRulesHeldToWrittenNumbersAreTestedCertainAndPossible(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range heldToWritten {
		found := seen(t, b, name)
		for _, want := range []string{"fails will", "risk may", "risk may leaned"} {
			if !found[want] {
				t.Errorf("%s: no test of its own meets a verdict that is %s; met are %v", name, want, found)
			}
		}
		for _, never := range []string{"fails may", "fails will leaned", "fails may leaned"} {
			if found[never] {
				t.Errorf("%s: a test of its own meets a verdict that is %s, and there is none", name, never)
			}
		}
	}
}
