package rulebook

import (
	"context"
	"io/fs"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
)

// libraryFaults runs the Rego tests of what all rules share, the library and
// the gatherer, and gives every test that does not pass and every line that no
// test comes to.
func libraryFaults(t *testing.T, b *Book, change map[string]string) (ran int, faults []string) {
	t.Helper()
	files, err := fs.Glob(b.files, "lib/*.rego")
	if err != nil {
		t.Fatal(err)
	}
	modules := map[string]*ast.Module{}
	for _, file := range append(files, "guidecoat.rego", "guidecoat_test.rego") {
		text, err := fs.ReadFile(b.files, file)
		if err != nil {
			t.Fatal(err)
		}
		s := string(text)
		for old, new := range change {
			s = strings.ReplaceAll(s, old, new)
		}
		if modules[file], err = parseModule(file, s); err != nil {
			t.Fatal(err)
		}
	}
	compiler, err := newCompiler(testCapabilities())
	if err != nil {
		t.Fatal(err)
	}
	data, _, err := b.data()
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	store := inmem.NewFromASTObject(data)
	txn, err := store.NewTransaction(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer store.Abort(ctx, txn)
	covered := cover.New()
	results, err := tester.NewRunner().SetCompiler(compiler).SetStore(store).SetModules(modules).
		RaiseBuiltinErrors(true).SetParallel(1).SetCoverageQueryTracer(covered).RunTests(ctx, txn)
	if err != nil {
		t.Fatal(err)
	}
	for r := range results {
		ran++
		if !r.Pass() {
			faults = append(faults, r.Package+"."+r.Name+" does not pass")
		}
	}
	report := covered.Report(modules)
	for file, m := range modules {
		if strings.HasSuffix(file, "_test.rego") {
			continue
		}
		lines := map[int]bool{}
		for _, n := range report.Files[file].NotCovered {
			if len(n.Kinds) == 0 && !lines[n.Start.Row] {
				lines[n.Start.Row] = true
				faults = append(faults, m.Package.Location.File+": no test comes to line "+ast.IntNumberTerm(n.Start.Row).String())
			}
		}
	}
	return ran, faults
}

func TestEveryLineThatRulesShareIsTested(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	ran, faults := libraryFaults(t, b, nil)
	for _, f := range faults {
		t.Error("policies/" + f)
	}
	if ran < 100 {
		t.Errorf("only %d tests ran", ran)
	}
}

// The chain by which a grade is found, spoilt link by link: the library's own
// tests must see each.
func TestASpoiltLinkInTheChainOfGradesIsSeen(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string][2]string{
		"exactly at a least breaks":         {"over.hi < 1\n", "over.hi <= 1\n"},
		"exactly at a most breaks":          {"end > 1\n", "end >= 1\n"},
		"exactly below breaks":              {"m.lo < top(l)", "m.lo <= top(l)"},
		"exactly above breaks":              {"top(m) > l.lo", "top(m) >= l.lo"},
		"an open measure breaks a least":    {"c.sense == \"least\"\n\tnot c.open\n", "c.sense == \"least\"\n"},
		"what may be keeps its grade":       {"capped(table, sure) := \"risk\" if {", "capped(table, sure) := \"fails\" if {"},
		"a typical number is sure":          {"certainty(c) := \"may\" if {", "certainty(c) := \"will\" if {"},
		"grace stops short of ten percent":  {"c.over.lo >= input.limits.grace.low", "c.over.lo > input.limits.grace.low"},
		"grace over a most stops short":     {"c.over.hi <= input.limits.grace.high", "c.over.hi < input.limits.grace.high"},
		"grace holds for typical numbers":   {"c.source == \"card\"", "c.source != \"\""},
		"grace holds for everything":        {"\tc.graced\n", "\tc.source\n"},
		"grace eases nothing":               {"eased(table, c) := \"risk\" if {", "eased(table, c) := \"fails\" if {"},
		"what is not broken is judged":      {"\tbroken(c)\n\tsure", "\tsure"},
		"a graver finding is silenced":      {"rank >= lib.order[f.grade]", "rank >= 0"},
		"a finding elsewhere is silenced":   {"[cover, f.on, rank] in standing", "some near in standing\n\tnear[0] == cover\n\tnear[2] == rank"},
		"nothing is silenced at one's own":  {"rank >= lib.order[f.grade]", "rank > lib.order[f.grade]"},
		"a family is gathered under others": {`"family": "clock"}`, `"family": "film"}`},
	} {
		t.Run(name, func(t *testing.T) {
			text := ""
			for _, file := range []string{"lib/lib.rego", "guidecoat.rego"} {
				b, err := fs.ReadFile(b.files, file)
				if err != nil {
					t.Fatal(err)
				}
				text += string(b)
			}
			if !strings.Contains(text, change[0]) {
				t.Fatalf("the case changes nothing: %q stands nowhere", change[0])
			}
			if _, faults := libraryFaults(t, b, map[string]string{change[0]: change[1]}); len(faults) == 0 {
				t.Error("no test sees it")
			}
		})
	}
}
