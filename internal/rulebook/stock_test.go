package rulebook

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"guidecoat/internal/raced"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

// sortedFindings writes a list of findings so that two lists of the same compare equal.
func sortedFindings(t *testing.T, v any) string {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var list []any
	d := json.NewDecoder(bytes.NewReader(raw))
	if err := d.Decode(&list); err != nil {
		t.Fatal(err)
	}
	lines := make([]string, len(list))
	for i, x := range list {
		b, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		lines[i] = string(b)
	}
	sort.Strings(lines)
	return strings.Join(lines, "\n")
}

// stacks are the stacks of the sheets that break each rule, by the rule's name.
func stacks(t *testing.T, b *Book) map[string]*stack.Document {
	t.Helper()
	out := map[string]*stack.Document{}
	for _, name := range b.Names() {
		r, err := b.Rule(name)
		if err != nil {
			t.Fatal(err)
		}
		s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, name+".toml", []byte(r.Breaks))
		if len(problems) > 0 {
			continue // TestRules tells
		}
		d, problems := stack.Build(s)
		if len(problems) == 0 {
			out[name] = d
		}
	}
	return out
}

// stockOPA is OPA as its command line sets it up: policies/ and tests as they
// are, no schema, no list of built-ins.
func stockOPA(t *testing.T) rego.PreparedEvalQuery {
	t.Helper()
	data := map[string]any{}
	options := []func(*rego.Rego){rego.Query("data.guidecoat.findings")}
	err := fs.WalkDir(policies.Files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(policies.Files, p)
		if err != nil {
			return err
		}
		switch filepath.Ext(p) {
		case ".rego":
			options = append(options, rego.Module(p, string(text)))
		case ".json":
			var part map[string]any
			if err := json.Unmarshal(text, &part); err != nil {
				return err
			}
			for k, v := range part {
				data[k] = v
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	stock, err := rego.New(append(options, rego.Store(inmem.NewFromObject(data)))...).PrepareForEval(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return stock
}

// Whoever asks a stock OPA for data.guidecoat.findings, with a stack by way of
// JSON, is given what this program raises: for every example, every rule's own
// sheets and 500 made up. The program asks only the rules a stack needs, of
// only what they read, and drops what is covered in Go; OPA does all in Rego.
func TestAStockOPARaisesTheSame(t *testing.T) {
	raced.Skip(t)
	t.Parallel()
	b := builtinBook(t)
	stock := stockOPA(t)
	raised, stacks := 0, 0
	manyStacks(t, b, func(name string, d *stack.Document) {
		if strings.HasPrefix(name, "odd") {
			return // of no sheet
		}
		stacks++
		ours, err := b.Raised(context.Background(), d)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		input, err := ast.ValueFromReader(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		rs, err := stock.Eval(context.Background(), rego.EvalParsedInput(input))
		if err != nil || len(rs) == 0 {
			t.Fatalf("%s: %v", name, err)
		}
		got, want := sortedFindings(t, ours), sortedFindings(t, rs[0].Expressions[0].Value)
		if got != want {
			t.Errorf("%s:\nours  %s\nstock %s", name, got, want)
		}
		if got != "" {
			raised += strings.Count(got, "\n") + 1
		}
	})
	if raised < stacks {
		t.Errorf("%d findings on %d stacks: little was compared", raised, stacks)
	}
	t.Logf("%d findings on %d stacks", raised, stacks)
}

func TestTheOPACommandRaisesTheSame(t *testing.T) {
	opa, err := exec.LookPath("opa")
	if err != nil {
		t.Skip("there is no opa command here")
	}
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	all := stacks(t, b)
	for _, name := range []string{"filler-on-acid-primer", "color-on-exposed-filler", "bare-metal-not-degreased", "value-assumed"} {
		d, ok := all[name]
		if !ok {
			t.Errorf("there is no sheet %s", name)
			continue
		}
		text, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "stack.json")
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(opa, "eval", "-f", "values", "-d", filepath.Join("..", "..", "policies"), "-i", file, "data.guidecoat.findings").Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var values []any
		if err := json.Unmarshal(out, &values); err != nil || len(values) != 1 {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		ours, err := b.Raised(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := sortedFindings(t, ours), sortedFindings(t, values[0]); got != want || got == "" {
			t.Errorf("%s:\nours  %s\nopa   %s", name, got, want)
		}
	}
}
