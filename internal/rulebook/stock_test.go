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

// The opa command itself, over every example and a part of all the other stacks:
// many at a time, as a process of its own for each would take too long.
func TestTheOPACommandRaisesTheSame(t *testing.T) {
	raced.Skip(t)
	opa, err := exec.LookPath("opa")
	if err != nil {
		t.Skip("there is no opa command here")
	}
	b := builtinBook(t)
	stacks, want := map[string]json.RawMessage{}, map[string]string{}
	ask := func() {
		t.Helper()
		if len(stacks) == 0 {
			return
		}
		text, err := json.Marshal(map[string]any{"stacks": stacks})
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "stacks.json")
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(opa, "eval", "-f", "values", "-d", filepath.Join("..", "..", "policies"), "-d", file,
			"{name: found | some name, s in data.stacks; found := data.guidecoat.findings with input as s}").Output()
		if err != nil {
			t.Fatal(err)
		}
		var values []map[string]any
		if err := json.Unmarshal(out, &values); err != nil || len(values) != 1 || len(values[0]) != len(stacks) {
			t.Fatalf("%d stacks, and %d answers (%v)", len(stacks), len(values), err)
		}
		for name := range stacks {
			if got := sortedFindings(t, values[0][name]); got != want[name] {
				t.Errorf("%s:\nours  %s\nopa   %s", name, want[name], got)
			}
		}
		clear(stacks)
	}
	n, raised := 0, 0
	manyStacks(t, b, func(name string, d *stack.Document) {
		if n++; strings.HasPrefix(name, "odd") || n%8 != 0 && !strings.Contains(name, "specs-examples") {
			return
		}
		text, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		ours, err := b.Raised(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		stacks[name], want[name] = text, sortedFindings(t, ours)
		raised += strings.Count(want[name], "\n")
		if len(stacks) == 20 {
			ask()
		}
	})
	ask()
	if raised < len(want) {
		t.Errorf("%d findings on %d stacks: little was compared", raised, len(want))
	}
	t.Logf("%d findings on %d stacks", raised, len(want))
}
