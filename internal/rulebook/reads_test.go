package rulebook

import (
	"context"
	"slices"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
)

// readsIn is what rules of these bodies can read beside this library.
func readsIn(t *testing.T, library string, texts map[string]string) *reads {
	t.Helper()
	modules := map[string]*ast.Module{"lib/lib.rego": ast.MustParseModule("package guidecoat.lib\n" + library)}
	for file, text := range texts {
		modules[file] = ast.MustParseModule("package guidecoat.clock.x\n" + text)
	}
	return readsOf(modules)
}

const smallLibrary = `
near(c) if far(c.hours)

far(h) if h > input.limits.reach.low

alone(c) if c.never

two("a") if input.first

two("b") if input.second

everything := input

dynamic(key) := input[key]
`

func TestWhatARuleCanRead(t *testing.T) {
	const imported = "import data.guidecoat.lib\n"
	for name, c := range map[string]struct {
		text       string
		read, left []string
	}{
		"the fields it names":       {"r if input.contacts[_].zone == input.sheet.work", []string{"contacts", "zone", "sheet", "work"}, []string{"hours", "limits"}},
		"a field named by a string": {`r if object.get(input.panel, "part", "") == ""`, []string{"panel", "part"}, []string{"zone"}},
		"through the library, and on through it": {imported + "r if lib.near(input.contacts[_])",
			[]string{"contacts", "hours", "limits", "reach"}, []string{"never", "first"}},
		"all the parts of one name":   {imported + `r if lib.two("a")`, []string{"first", "second"}, []string{"hours"}},
		"inside of a reference":       {imported + `r if input.cards[lib.two(input.sheet.work)]`, []string{"cards", "sheet", "work", "first"}, []string{"hours"}},
		"in a rule that is otherwise": {"r := 1 if input.zones\nelse := 2 if input.lays", []string{"zones", "lays"}, []string{"mixes"}},
		"in a comprehension":          {"r := [z | some s in input.steps; z := s.zones]", []string{"steps", "zones"}, []string{"mixes"}},
	} {
		t.Run(name, func(t *testing.T) {
			keep := readsIn(t, smallLibrary, map[string]string{"x": c.text}).of([]string{"x"})
			if keep == nil {
				t.Fatal("it can read anything")
			}
			for _, field := range c.read {
				if !keep(field) {
					t.Errorf("%s is read and left out", field)
				}
			}
			for _, field := range c.left {
				if keep(field) {
					t.Errorf("%s is handed over, and not read", field)
				}
			}
		})
	}
}

func TestWhatARuleMayReadWithoutNamingIt(t *testing.T) {
	const imported = "import data.guidecoat.lib\n"
	for name, text := range map[string]string{
		"the input":                      "r if count(input) > 3",
		"a field of any name":            "r if input[_].zone",
		"a field by a name made up":      `r if input[concat("_", ["a", "b"])]`,
		"any limit":                      "r if input.limits[_].low > 3",
		"all limits":                     "r if x := input.limits",
		"a limit by a name made up":      `r if input.limits[concat("_", ["a", "b"])]`,
		"the input through the library":  imported + "r if lib.everything.zones",
		"any field through the library":  imported + `r if lib.dynamic("zones")`,
		"any part of the library":        imported + "r if lib[_]",
		"the library by another name":    "import data.guidecoat.lib as l\nr if l.near(1)",
		"a part of the library imported": "import data.guidecoat.lib.near\nr if near(1)",
		"the library in full":            "r if data.guidecoat.lib.near(1)",
		"the input within a reference":   "r if input.cards[input]",
		"the input in a comprehension":   "r := [x | some x in input]",
		"another name for the input":     "import input as everything\nr if everything.zones",
		"a part of the input imported":   "import input.contacts\nr if contacts[_].zone",
	} {
		t.Run(name, func(t *testing.T) {
			if readsIn(t, smallLibrary, map[string]string{"x": text}).of([]string{"x"}) != nil {
				t.Error("something is taken not to be read")
			}
		})
	}
}

// Together rules get what any of them reads, so that one asked alone shows best
// whether it gets what it needs.
func TestARuleSpeaksTheSameOfWhatItReadsAloneAndOfTheWholeStack(t *testing.T) {
	b := builtinBook(t)
	j, err := b.compiled(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	spoke := map[string]bool{}
	for name, d := range stacks(t, b) {
		needed, err := b.needed(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, rule := range needed {
			one := []string{rule}
			input, err := toValueOf(d, j.reads.of(b.filesOf(one)))
			if err != nil {
				t.Fatal(err)
			}
			got, broke, err := b.raiseAll(context.Background(), j, one, input)
			if err != nil || len(broke) > 0 {
				t.Fatal(name, rule, err, broke)
			}
			want := raisedBy(t, b, j, one, d)
			if !slices.Equal(inWordsOf(got).verdicts, want.verdicts) {
				t.Errorf("%s: %s says %v\nand of the whole stack %v", name, rule, inWordsOf(got).verdicts, want.verdicts)
			}
			spoke[rule] = spoke[rule] || len(got) > 0
		}
	}
	for _, rule := range b.names {
		if r, err := b.Rule(rule); err != nil || !spoke[rule] && (r.Needs == nil || len(r.Needs) > 0) {
			t.Errorf("%s was never heard to speak (%v)", rule, err)
		}
	}
}
