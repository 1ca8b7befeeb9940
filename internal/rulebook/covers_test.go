package rulebook

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
)

func TestCoversJSONIsWrittenFromTheMetadata(t *testing.T) {
	want, err := builtinBook(t).CoversJSON()
	writtenFromTheMetadata(t, coversFile, want, err)
}

// writtenFromTheMetadata holds a file of policies to what go generate makes of
// the rules.
func writtenFromTheMetadata(t *testing.T, name string, want []byte, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join("..", "..", "policies", name)
	if *refresh {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("policies/%s is not what the METADATA of the rules says: run go generate ./policies\ngot  %s\nwant %s", name, got, want)
	}
}

// What silences what, as it was decided.
var ruledCovers = map[string][]string{
	"filler-on-acid-primer":    {"card-does-not-list", "window-missed"},
	"polyester-on-acid-primer": {"card-does-not-list", "window-missed"},
	"color-on-exposed-filler":  {"scratch-too-coarse", "patchwork-under-color", "surfacer-not-sanded"},
	"smooth-bare-metal":        {"dust-left-under-film", "tooth-too-fine"},
	"bare-metal-not-degreased": {"clean-again-after-break", "cleaner-not-flashed"},
	"wet-sanding-bare-steel":   {"water-on-bare-steel"},
	"filler-on-zinc":           {"zinc-sanded-away", "tooth-too-deep"},
	"hole-bridged-with-filler": {"rust-left-in-place"},
	"hardener-missing":         {"ratio-off-card"},
	"thinner-in-urethane":      {"foreign-reducer"},
	"grade-skipped":            {"scratch-too-coarse"},
	"window-missed":            {"scratch-too-fine"},
	"recoated-in-dead-time":    {"recoated-too-soon", "window-missed", "strong-solvent-on-enamel"},
	"card-forbids":             {"card-does-not-list"},
	"too-cold":                 {"cure-slowed-by-cold"},
}

func TestTheRulesSilenceWhatWasDecidedAndNothingElse(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	rules, err := b.Rules()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string][]string{}
	for _, r := range rules {
		if len(r.Covers) > 0 {
			got[r.Name] = slices.Sorted(slices.Values(r.Covers))
		}
	}
	for _, rule := range slices.Sorted(maps.Keys(ruledCovers)) {
		want := slices.Sorted(slices.Values(ruledCovers[rule]))
		if !reflect.DeepEqual(got[rule], want) {
			t.Errorf("%s covers %v; it was decided that it covers %v", rule, got[rule], want)
		}
	}
	for _, rule := range slices.Sorted(maps.Keys(got)) {
		if _, ok := ruledCovers[rule]; !ok {
			t.Errorf("%s covers %v, and nobody decided so", rule, got[rule])
		}
	}
	if err := b.CheckCovers(); err != nil {
		t.Error(err)
	}
}

func TestRulesThatWouldSilenceAllAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		covers map[string]string
		says   string
	}{
		"a rule that does not exist": {map[string]string{"a": "c"}, `covers names "c", and there is no such rule`},
		"itself":                     {map[string]string{"a": "a"}, "these silence one another, so that none would speak: a"},
		"one another":                {map[string]string{"a": "b", "b": "a"}, "none would speak: a and b"},
	} {
		t.Run(name, func(t *testing.T) {
			rules := map[string]string{}
			for _, r := range []string{"a", "b"} {
				rules["clock/"+r] = ruleText("clock", r, "risk", c.covers[r], "verdict := set()")
			}
			told(t, bookOf(t, rules).CheckCovers(), c.says)
		})
	}
}

// What is dropped must not depend on who drops it: Rego where a stock OPA
// evaluates, Go here.
func TestGoAndRegoDropTheSame(t *testing.T) {
	covers := map[string][]string{"a": {"b", "c"}, "b": {"d"}, "e": {"a", "d"}}
	random := rand.New(rand.NewPCG(1, 2))
	pick := func(from ...string) string { return from[random.IntN(len(from))] }
	gather := bookFiles(t, nil)["guidecoat.rego"].Data
	lib := bookFiles(t, nil)["lib/lib.rego"].Data
	for round := range 60 {
		var verdicts []verdict
		var set []*ast.Term
		for i := range random.IntN(12) {
			v := verdict{rule: pick("a", "b", "c", "d", "e"), on: pick("x", "y"), grade: pick(grades...), message: fmt.Sprint(i)}
			verdicts = append(verdicts, v)
			set = append(set, ast.MustParseTerm(fmt.Sprintf(`{"rule": %q, "on": %q, "grade": %q, "message": %q}`, v.rule, v.on, v.grade, v.message)))
		}
		data, err := json.Marshal(covers)
		if err != nil {
			t.Fatal(err)
		}
		compiler := ast.MustCompileModules(map[string]string{
			"guidecoat.rego": string(gather), "lib.rego": string(lib),
			"ask.rego": fmt.Sprintf("package ask\n\nfound := f if {\n\tf := data.guidecoat.findings with data.guidecoat.raised as %s with data.covers as %s\n}\n", ast.SetTerm(set...), data),
		})
		j := judge{compiler: compiler, store: emptyStore(), queries: map[string]rego.PreparedEvalQuery{}}
		found, err := j.askOne(context.Background(), ast.MustParseRef("data.ask.found"), ast.NewObject())
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, f := range found.(ast.Set).Slice() {
			o, _ := plain(f.Value)
			m := o.(map[string]any)
			want = append(want, fmt.Sprint(m["rule"], m["on"], m["grade"], m["message"]))
		}
		var got []string
		for _, v := range uncovered(slices.Clone(verdicts), covers) {
			got = append(got, fmt.Sprint(v.rule, v.on, v.grade, v.message))
		}
		slices.Sort(want)
		slices.Sort(got)
		if strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Fatalf("round %d: of %v\nGo keeps   %v\nRego keeps %v", round, verdicts, got, want)
		}
	}
}
