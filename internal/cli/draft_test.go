package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// draftArgs is a draft of a small job, for a folder that holds the example shelf.
func draftArgs(more ...string) []string {
	return append([]string{"draft", "--substrate", "mild steel", "--ending", "primed", "--shelf", "shelf.toml",
		"--air", "72 F", "--panel", "70 F", "--humidity", "45 %", "--area", "6 ft2"}, more...)
}

// flat is a text without its line ends.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

func shelfFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	text, err := os.ReadFile(filepath.Join(examples(t), "shelf.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "shelf.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestADraftIsASheetThatInspectPasses(t *testing.T) {
	dir := shelfFolder(t)
	if err := os.Mkdir(filepath.Join(dir, "sheets"), 0o755); err != nil {
		t.Fatal(err)
	}
	status, out, errs := run(t, dir, draftArgs("--out", "sheets/primed.toml", "--title", `Door "blue", primed`)...)
	if status != exitClean || out != "" || !strings.Contains(errs, "The least days: ") || !strings.Contains(errs, "Next: ") || !strings.Contains(errs, "lost by") {
		t.Fatalf("%d %s %s", status, out, errs)
	}
	if !strings.Contains(flat(errs), "Nothing here says that the work is safe") {
		t.Errorf("it does not say that nothing says that the work is safe:\n%s", errs)
	}
	text, err := os.ReadFile(filepath.Join(dir, "sheets", "primed.toml"))
	if err != nil || !strings.Contains(string(text), `shelf    = ["../shelf.toml"]`) {
		t.Fatalf("%v\n%s", err, text)
	}
	status, out, errs = run(t, dir, "inspect", "--stop-at", "risk", "sheets/primed.toml")
	if status != exitClean {
		t.Errorf("inspect of the draft: %d %s\n%s\n%s", status, errs, out, text)
	}
	status, _, errs = run(t, dir, draftArgs("--out", "sheets/primed.toml")...)
	if again, _ := os.ReadFile(filepath.Join(dir, "sheets", "primed.toml")); status != exitWrong || string(again) != string(text) || !strings.Contains(errs, "there is a file of that name") {
		t.Errorf("a draft over a sheet that is there: %d %s", status, errs)
	}
}

func TestADraftIsTheSameOnTheTerminalAndAsJSON(t *testing.T) {
	dir := shelfFolder(t)
	_, text, _ := run(t, dir, draftArgs()...)
	status, out, errs := run(t, dir, draftArgs("--as", "json")...)
	if status != exitClean || errs != "" {
		t.Fatalf("%d %s", status, errs)
	}
	var told struct {
		Least string
		Best  struct {
			Sheet  string
			Layers []string
		}
		Runners []struct{ Lost, Sheet string }
		Judged  int
	}
	if err := json.Unmarshal([]byte(out), &told); err != nil {
		t.Fatal(err)
	}
	if told.Best.Sheet != text || told.Least != "days" || told.Judged == 0 || len(told.Runners) == 0 {
		t.Errorf("the JSON tells another draft:\n%s\n%s", out, text)
	}
	for _, r := range told.Runners {
		if r.Lost == "" || r.Sheet == "" || r.Sheet == text {
			t.Errorf("a runner-up without a reason, or without a sheet of its own: %+v", r)
		}
	}
}

func TestWhereNothingCanBeDraftedTheStatusIsOneAndTheReasonsAreTold(t *testing.T) {
	dir := shelfFolder(t)
	shelf := filepath.Join(dir, "shelf.toml")
	text, err := os.ReadFile(shelf)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		shelf string
		says  []string
	}{
		"no cleaner": {strings.Replace(strings.Replace(string(text), `kind = "wax and grease remover"`, `kind = "alcohol wipe"`, 1), `kind = "waterborne cleaner"`, `kind = "alcohol wipe"`, 1),
			[]string{"No sheet passes", "bare-metal-not-degreased", "wax and grease remover"}},
		"an empty shelf": {"format = 1\n[product.rag]\nkind = \"tack cloth\"\n", []string{"missing", "epoxy primer"}},
	} {
		c.shelf = strings.Replace(c.shelf, `kind = "plastic cleaner"`, `kind = "alcohol wipe"`, 1)
		if err := os.WriteFile(shelf, []byte(c.shelf), 0o644); err != nil {
			t.Fatal(err)
		}
		status, out, errs := run(t, dir, draftArgs()...)
		if status != exitFindings || out != "" {
			t.Errorf("%s: %d %s", name, status, out)
		}
		for _, want := range c.says {
			if !strings.Contains(flat(errs), want) {
				t.Errorf("%s: %q is not told:\n%s", name, want, errs)
			}
		}
	}
}

func TestAWrongFlagOfDraftIsToldByItsName(t *testing.T) {
	dir := shelfFolder(t)
	for name, c := range map[string]struct {
		args []string
		says []string
	}{
		"an unknown kind":      {draftArgs("--carries", "e-cote, peeling"), []string{"--carries", "e-coat"}},
		"an unknown substrate": {draftArgs("--substrate", "mild steal"), []string{"--substrate", "mild steel"}},
		"an unknown ending":    {draftArgs("--ending", "shiny"), []string{"--ending", "solid, metallic or primed"}},
		"an unknown measure":   {draftArgs("--least", "money"), []string{"--least", "litres"}},
		"no unit":              {draftArgs("--air", "72"), []string{"--air", "F"}},
		"two conditions":       {draftArgs("--carries", "e-coat, sound, peeling"), []string{"--carries", "two conditions"}},
		"no tries":             {draftArgs("--tries", "0"), []string{"--tries"}},
	} {
		status, out, errs := run(t, dir, c.args...)
		if status != exitWrong || out != "" {
			t.Errorf("%s: %d %s", name, status, out)
		}
		for _, want := range c.says {
			if !strings.Contains(flat(errs), want) {
				t.Errorf("%s: %q is not told:\n%s", name, want, errs)
			}
		}
	}
	// What is wrong with a shelf is told of its flag, not of a sheet that nobody has written.
	for shelf, says := range map[string]string{
		"shelves.toml":     "--shelf shelves.toml: there is no such file",
		filepath.Join(dir): "--shelf: the shelf",
	} {
		status, out, errs := run(t, dir, draftArgs("--shelf", shelf, "--out", "door.toml")...)
		if status != exitUnreadable || out != "" || !strings.Contains(errs, says) || strings.Contains(errs, "door.toml") {
			t.Errorf("a shelf that cannot be read: %d %s", status, errs)
		}
	}
}

func TestADraftKeepsTheShopsOwnRules(t *testing.T) {
	dir := shelfFolder(t)
	status, free, errs := run(t, dir, draftArgs()...)
	if status != exitClean {
		t.Fatal(errs)
	}
	if !strings.Contains(free, `product = "wash"`) {
		t.Fatalf("the rule below is to forbid what is drafted without it:\n%s", free)
	}
	rule := filepath.Join(dir, "rules", "no-wash-primer")
	if err := os.MkdirAll(rule, 0o755); err != nil {
		t.Fatal(err)
	}
	text := `# METADATA
# scope: package
# title: wash primer is not used here
# description: The owner will have no wash primer. It looks like any other primer. Ask at the bench.
# custom:
#   grade: fails
#   defect: peeling
#   remedy: Use epoxy.
#   safety: {signal: CAUTION, text: "Follow the safety data sheet, the local code and licensed practice."}
#   source: [house rule]
#   limits: []
package guidecoat.house["no-wash-primer"]

verdict contains v if {
	some l in input.lays
	l.kind == "two-part wash primer"
	v := {
		"on": l.id, "zone": null, "step": l.step, "grade": "fails", "certainty": "will", "leaned": [],
		"measured": null, "limit": null, "rests": {"step": l.id}, "place": l.place,
		"message": "wash primer is not used in this shop", "mend": [],
	}
}
`
	if err := os.WriteFile(filepath.Join(rule, "rule.rego"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	status, kept, errs := run(t, dir, draftArgs("--rules", "rules")...)
	if status != exitClean || strings.Contains(kept, `product = "wash"`) {
		t.Errorf("%d %s\n%s", status, errs, kept)
	}
}
