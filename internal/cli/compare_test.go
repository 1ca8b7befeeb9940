package cli

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"

	"guidecoat/internal/compare"
	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// revised puts the examples in a folder twice, and changes files of the second.
func revised(t *testing.T, changes map[string]func(string) string) string {
	t.Helper()
	dir := t.TempDir()
	for _, side := range []string{"old", "new"} {
		if err := os.CopyFS(filepath.Join(dir, side), os.DirFS(examples(t))); err != nil {
			t.Fatal(err)
		}
	}
	for name, change := range changes {
		at := filepath.Join(dir, "new", name)
		text, err := os.ReadFile(at)
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		was := string(text)
		now := change(was)
		if now == was {
			t.Fatalf("%s is not changed", name)
		}
		if now == "" {
			if err := os.Remove(at); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if err := os.WriteFile(at, []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func swap(pairs ...string) func(string) string { return strings.NewReplacer(pairs...).Replace }

func TestCompareTellsWhatARevisionPutRightAndWhatItBroke(t *testing.T) {
	const sheet = "bad/filler-over-etch.toml"
	dir := revised(t, map[string]func(string) string{sheet: swap(`revision = "A"`, `revision = "B"`, `product = "etch"`, `product = "grey-epoxy"`,
		"coats = 1\nwet_film = \"3 mil\"\nthen_wait = \"1 h\"", "coats = 2\nwet_film = \"3 mil\"\nbetween = \"20 min\"\nstood = \"20 min\"\nthen_wait = \"16 h\"")})
	old, now := filepath.Join("old", sheet), filepath.Join("new", sheet)
	status, out, errs := run(t, dir, "compare", old, now)
	if status != exitClean || errs != "" {
		t.Errorf("status %d: %s", status, errs)
	}
	for _, want := range []string{"(TL-101 A to B)", "GONE", "was FAILS, line 50", "filler-on-acid-primer", "KEPT", `product = "grey-epoxy" (was "etch")`,
		"Films of zones dent, panel", "was Etch 1", "Clock", "VOC", "To buy", "3 gone, ", "Nothing here says that the work is safe"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	for _, line := range strings.Split(out, "\n") {
		if runewidth.StringWidth(line) > 80 {
			t.Errorf("%d columns: %s", runewidth.StringWidth(line), line)
		}
	}
	status, out, _ = run(t, dir, "compare", now, old)
	if status != exitFindings || !strings.Contains(out, "NEW") || !strings.Contains(out, "caution  WARNING: ") {
		t.Errorf("the other way round: status %d\n%s", status, out)
	}
	// Only what is new counts, and from --stop-at up.
	for _, tc := range []struct {
		args []string
		want int
	}{
		{[]string{"compare", old, old}, exitClean}, {[]string{"compare", "--stop-at", "advice", old, old}, exitClean},
		{[]string{"compare", "--stop-at", "advice", old, now}, exitClean}, {[]string{"compare", "--stop-at", "risk", now, old}, exitFindings},
	} {
		if status, out, _ := run(t, dir, tc.args...); status != tc.want {
			t.Errorf("%v: status %d\n%s", tc.args, status, out)
		}
	}
}

func TestCompareOfTwoFoldersGoesByTheNamesOfTheSheets(t *testing.T) {
	dir := revised(t, map[string]func(string) string{
		"bad/water-on-steel.toml": func(string) string { return "" },
		"bad/rushed-clear.toml":   swap("revision = \"A\"", "revision = \"B\""),
		"good/more.toml":          func(string) string { return "format = 1\n[sheet]\ntitle = \n" },
		"good/door-bare-steel.toml": swap(`product = "grey-epoxy"`, `product = "etch"`, "stood = \"20 min\"\n", "", "coats = 2\nwet_film = \"2.5 mil\"", "coats = 1\nwet_film = \"2.5 mil\"",
			"wet_film  = \"2.5 mil\"", "wet_film  = \"2.5 mil\""),
	})
	status, out, errs := run(t, dir, "compare", "--as", "json", "old", "new")
	if status != exitUnreadable || errs != "" {
		t.Errorf("status %d: %s", status, errs)
	}
	var said struct {
		Pairs []struct {
			Readable bool
			Errors   []struct{ File string }
			Old, New *struct{ File string }
			Findings struct{ Gone, New, Kept []struct{ Rule string } }
		}
		Counts map[string]int
		Note   string
	}
	if err := json.Unmarshal([]byte(out), &said); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(out, ": null,\n      \"findings\"") || regexp.MustCompile(`"(gone|kept|steps|films|windows|voc|buy|keys|errors)": null`).MatchString(out) {
		t.Error("a list is null")
	}
	sides := map[string]string{}
	for _, p := range said.Pairs {
		name := ""
		if p.Old != nil {
			name += p.Old.File
		}
		name += " | "
		if p.New != nil {
			name += p.New.File
		}
		for _, e := range p.Errors {
			name += " ! " + e.File
		}
		sides[name] = strings.Join([]string{word(len(p.Findings.Gone)), word(len(p.Findings.New)), word(len(p.Findings.Kept))}, " ")
	}
	for name, want := range map[string]string{
		"old/bad/water-on-steel.toml | ":                                "some none none",
		"old/bad/rushed-clear.toml | new/bad/rushed-clear.toml":         "none none some",
		" |  ! new/good/more.toml":                                      "none none none",
		"old/good/door-bare-steel.toml | new/good/door-bare-steel.toml": "none some some",
	} {
		if got, ok := sides[name]; !ok || got != want {
			t.Errorf("%q: %q, not %q; told are %v", name, got, want, sides)
		}
	}
	if said.Counts["pairs"] != 19 || said.Counts["unreadable"] != 1 {
		t.Errorf("counted %v", said.Counts)
	}
	_, again, _ := run(t, dir, "compare", "--as", "json", "--jobs", "3", "old", "new")
	if again != out {
		t.Error("with --jobs 3 it is another answer")
	}
}

func word(n int) string {
	if n == 0 {
		return "none"
	}
	return "some"
}

func TestCompareRefusesWhatCannotBeCompared(t *testing.T) {
	dir := examples(t)
	for _, tc := range []struct {
		args   []string
		status int
		words  string
	}{
		{[]string{"compare"}, exitWrong, "two sheets, or two folders"},
		{[]string{"compare", "good/door-bare-steel.toml"}, exitWrong, "two sheets, or two folders"},
		{[]string{"compare", "good", "bad/water-on-steel.toml"}, exitWrong, "good is a folder and bad/water-on-steel.toml is not"},
		{[]string{"compare", "--as", "sarif", "good", "bad"}, exitWrong, "not one of text, json or markdown"},
		{[]string{"compare", "nowhere", "good"}, exitUnreadable, "no such file"},
		{[]string{"compare", "shelf.toml", "good/door-bare-steel.toml"}, exitUnreadable, ""},
		{[]string{"compare", "good/nowhere.toml", "good/door-bare-steel.toml"}, exitUnreadable, ""},
	} {
		status, out, errs := run(t, dir, tc.args...)
		if status != tc.status || !strings.Contains(errs, tc.words) || tc.words == "" && !strings.Contains(out, "CANNOT READ") {
			t.Errorf("%v: status %d, %q\n%s", tc.args, status, errs, out)
		}
	}
}

func TestNoStringOfASheetReachesAComparisonRaw(t *testing.T) {
	evil := `\u001b[31m|</details>**x** [a](b) @everyone \u202e #1`
	dir := revised(t, map[string]func(string) string{
		"bad/no-hardener.toml": swap(`call = "surfacer"`, `call = "`+evil+`"`, `title    = "`, `title    = "`+evil, `mix = "1"`, `mix = "1:0"`),
	})
	for _, as := range []string{"text", "markdown"} {
		_, out, errs := run(t, dir, "compare", "--as", as, "old/bad/no-hardener.toml", "new/bad/no-hardener.toml")
		if errs != "" || strings.ContainsAny(out, "\x1b\u202e") || !strings.Contains(out, "everyone") {
			t.Errorf("--as %s: %s\n%q", as, errs, out)
		}
		if as == "markdown" && (strings.Contains(out, "**x**") || strings.Contains(out, "](") || strings.Contains(out, "@everyone") || strings.Count(out, "<details>") != strings.Count(out, "</details>")) {
			t.Errorf("markup got through:\n%s", out)
		}
	}
}

// A fails that is known does not stop a build; one that is new does, and so
// does a known one that became graver.
func TestABaselineLeavesOnlyWhatIsNew(t *testing.T) {
	dir := revised(t, map[string]func(string) string{
		"bad/water-on-steel.toml": swap("[[step]]\n", "# moved\n\n[[step]]\n"),
		"bad/rushed-clear.toml":   swap(`between = "15 min"`, `between = "1 min"`),
	})
	if status, _, errs := run(t, dir, "inspect", "--quiet", "--keep-baseline", "old/known.toml", "old/bad"); status != exitFindings || errs != "" {
		t.Fatalf("status %d: %s", status, errs)
	}
	if status, out, _ := run(t, dir, "inspect", "--quiet", "--baseline", "old/known.toml", "old/bad"); status != exitClean || strings.Contains(out, "FAILS") {
		t.Errorf("at once: status %d\n%s", status, out)
	}
	// It names sheets from its own folder: it can be kept beside other copies,
	// and used from anywhere.
	text, err := os.ReadFile(filepath.Join(dir, "old/known.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "new/known.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, _ := run(t, filepath.Join(dir, "new"), "inspect", "--as", "json", "--baseline", "known.toml", "bad")
	if status != exitFindings {
		t.Errorf("status %d", status)
	}
	var said struct {
		Counts map[string]int
		Sheets []struct {
			File            string
			Findings, Known []struct{ Rule string }
		}
	}
	if err := json.Unmarshal([]byte(out), &said); err != nil {
		t.Fatal(err)
	}
	fresh := 0
	for _, s := range said.Sheets {
		fresh += len(s.Findings)
		if s.File == "bad/rushed-clear.toml" != (len(s.Findings) > 0) {
			t.Errorf("%s has new %v", s.File, s.Findings)
		}
	}
	if fresh == 0 || said.Counts["known"] < 30 || said.Counts["fails"]+said.Counts["risk"]+said.Counts["advice"] != fresh {
		t.Errorf("counted %v", said.Counts)
	}
}

func TestABaselineNeverHidesWhatCannotBeReadNorACaution(t *testing.T) {
	dir := revised(t, map[string]func(string) string{"bad/broken.toml": func(string) string { return "[sheet]\ntitle = \n" }})
	if status, _, errs := run(t, dir, "inspect", "--quiet", "--keep-baseline", "known.toml", "new/bad"); status != exitUnreadable || !strings.Contains(errs, "was not written: 1 sheet could not be judged") {
		t.Errorf("status %d: %s", status, errs)
	}
	if _, err := os.Stat(filepath.Join(dir, "known.toml")); !os.IsNotExist(err) {
		t.Error("a baseline was written without the findings of a sheet")
	}
	// A name of the old folder stands for the same sheet of the new one.
	if _, _, errs := run(t, dir, "inspect", "--quiet", "--keep-baseline", "old/known.toml", "old/bad"); errs != "" {
		t.Fatal(errs)
	}
	if err := os.Rename(filepath.Join(dir, "old/known.toml"), filepath.Join(dir, "new/known.toml")); err != nil {
		t.Fatal(err)
	}
	caution := "Isocyanate mist can cause serious, sometimes fatal lung"
	for _, as := range []string{"text", "junit", "markdown", "sarif", "json"} {
		status, out, _ := run(t, dir, "inspect", "--as", as, "--baseline", "new/known.toml", "new/bad")
		if status != exitUnreadable || !strings.Contains(out, "broken.toml") {
			t.Errorf("--as %s: status %d", as, status)
		}
		if !strings.Contains(strings.Join(strings.Fields(out), " "), caution) {
			t.Errorf("--as %s hides the caution", as)
		}
	}
	if _, out, _ := run(t, dir, "inspect", "--quiet", "--baseline", "new/known.toml", "new/bad"); !strings.Contains(out, "KNOWN new/bad/no-air-no-booth.toml") || strings.Contains(out, "FAILS") {
		t.Errorf("--quiet says\n%s", out)
	}
}

// A sheet that a rule could not judge keeps what it broke with, and its known
// findings are set aside without their being called gone.
func TestABaselineNeverHidesARuleThatBroke(t *testing.T) {
	doc := &stack.Document{Steps: []stack.Step{{N: 1, Do: "tack"}}}
	step := 1
	finding := rulebook.Finding{ID: "r@1", Rule: "r", On: "1", Grade: "fails", Step: &step}
	other := rulebook.Finding{ID: "q@1", Rule: "q", On: "1", Grade: "fails", Step: &step}
	var base compare.Baseline
	base.Add("a.toml", doc, []rulebook.Finding{finding, other})
	broke := []rulebook.Broke{{Rule: "q", Message: "took too long"}}
	sheets := []report.Judged{{File: "a.toml", Doc: doc, Result: rulebook.Result{Findings: []rulebook.Finding{finding}, Broke: broke}}}
	p := &program{Streams: Streams{Dir: t.TempDir()}}
	flags := &baselineFlags{from: "known.toml"}
	p.setAside(sheets, &base, flags)
	j := sheets[0]
	if len(j.Known) != 1 || len(j.Result.Findings) != 0 || len(j.Result.Broke) != 1 || j.Gone != 0 {
		t.Errorf("it became %+v", j)
	}
	var status *statusError
	if err := outcome(sheets, "fails"); !errors.As(err, &status) || status.status != exitUnreadable {
		t.Errorf("it ends with %v", err)
	}
	if err := p.keepBaseline(sheets, &baselineFlags{keep: "known.toml"}); err == nil {
		t.Error("a baseline was kept without what the broken rule would have found")
	}
}

func TestABaselineThatIsNoneIsToldBeforeAnythingIsJudged(t *testing.T) {
	dir := revised(t, nil)
	for text, words := range map[string]string{"": "no format = 1", "format = 9\n": "of a newer guidecoat", "format = [\n": "line "} {
		if err := os.WriteFile(filepath.Join(dir, "known.toml"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		status, out, errs := run(t, dir, "inspect", "--baseline", "known.toml", "old/bad")
		if status != exitUnreadable || out != "" || !strings.Contains(errs, words) {
			t.Errorf("%q: status %d, %q\n%s", text, status, errs, out)
		}
	}
	if status, _, errs := run(t, dir, "inspect", "--quiet", "--keep-baseline", "nowhere/known.toml", "old/bad"); status != exitWrong || !strings.Contains(errs, "no such folder") {
		t.Errorf("status %d: %s", status, errs)
	}
}
