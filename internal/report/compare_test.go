package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"guidecoat/internal/compare"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// comparedExample is a pair in which one finding is gone, one new, one kept
// and one worse.
func comparedExample(file string) Compared {
	old, now := exampleJudged(), exampleJudged()
	old.File, now.File = "old/"+file, "new/"+file
	named := func(rule, on string, f rulebook.Finding) rulebook.Finding {
		f.Rule, f.On, f.ID = rule, on, rule+"@"+on
		return f
	}
	f := exampleFinding()
	risk := f
	risk.Grade = "risk"
	old.Result.Findings = []rulebook.Finding{named("gone", "dent/6:filler", f), named("kept", "dent/6:filler", f), named("worse", "dent/6:filler", risk)}
	now.Result.Findings = []rulebook.Finding{named("new", "dent/6:filler", f), named("kept", "dent/6:filler", f), named("worse", "dent/6:filler", f)}
	for _, j := range []*Judged{&old, &now} {
		for i := range j.Result.Findings {
			j.Result.Findings[i].File = j.File
		}
	}
	revision := func(j Judged) compare.Revision {
		r := compare.Revision{File: j.File, Doc: j.Doc, Result: j.Result}
		for n := range j.Doc.Steps {
			r.Steps = append(r.Steps, compare.Step{N: n + 1, Do: "tack"})
		}
		return r
	}
	return Compared{Old: &old, New: &now, Comparison: compare.Revisions(revision(old), revision(now))}
}

func comparedText(t *testing.T, o TextOptions, pairs ...Compared) string {
	t.Helper()
	var b bytes.Buffer
	if err := CompareText(&b, pairs, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestAComparisonTellsWhatIsGoneNewKeptAndWorse(t *testing.T) {
	got := comparedText(t, TextOptions{}, comparedExample("a.toml"))
	rest := got
	for _, want := range []string{"  old  old/a.toml", "  new  new/a.toml", "  GONE ", " gone\n", "was FAILS, line 41", "  NEW ", "FAILS, line 41",
		"  do  Take the acid primer off", "caution  WARNING: Dust harms the lungs.", "  KEPT ", "  WORSE ", "FAILS, was RISK, line 41",
		"1 gone, 1 new, 2 kept (1 of them worse).", "Nothing here says that the work is safe"} {
		i := strings.Index(rest, want)
		if i < 0 {
			t.Fatalf("%q is not there, or not in its order:\n%s", want, got)
		}
		rest = rest[i+len(want):]
	}
	quiet := comparedText(t, TextOptions{Quiet: true}, comparedExample("a.toml"))
	if n := strings.Count(quiet, "\n"); n != 4 || strings.Contains(quiet, "caution") {
		t.Errorf("--quiet says %d lines:\n%s", n, quiet)
	}
}

func TestAKeptFindingThatGuardsPeopleIsToldWithItsCaution(t *testing.T) {
	c := comparedExample("a.toml")
	for i := range c.Comparison.Findings.Kept {
		c.Comparison.Findings.Kept[i].People = true
	}
	c.Comparison.Findings.New = nil
	for as, got := range map[string]string{"text": comparedText(t, TextOptions{}, c), "markdown": comparedMarkdown(t, 0, c)} {
		if n := strings.Count(got, "Dust harms the lungs."); n != 2 {
			t.Errorf("--as %s tells the caution %d times of 2:\n%s", as, n, got)
		}
	}
}

func TestNoLineOfAComparisonIsWiderThanTheTerminal(t *testing.T) {
	c := comparedExample(strings.Repeat("深い/", 30) + "a.toml")
	long := strings.Repeat("塗料 ", 40)
	c.Comparison.Films = []compare.ZoneFilms{{Zone: long, Films: []compare.Measured{{Name: long, Change: "new", Values: compare.Values{Changed: true}}}}}
	c.Comparison.Old, c.Comparison.New = &compare.Side{Title: long}, &compare.Side{Title: long, Revision: "B"}
	step := 3
	c.Comparison.Steps = []compare.StepChange{{Change: "rewritten", Old: &step, New: &step, Name: long, Keys: []compare.KeyChange{{Key: "says", Old: &long, New: &long}}}}
	for _, line := range strings.Split(comparedText(t, TextOptions{}, c), "\n") {
		if printable.Width(line) > 80 {
			t.Errorf("%d columns: %s", printable.Width(line), line)
		}
	}
}

func TestASideThatCannotBeReadIsComparedWithNothing(t *testing.T) {
	unread := unreadSheet()
	c := comparedExample("a.toml")
	c.New, c.Comparison = &unread, compare.Nothing()
	got := comparedText(t, TextOptions{}, c)
	if !strings.Contains(got, "CANNOT READ  specs/b.toml, line 3") || strings.Contains(got, "GONE") || !strings.Contains(got, "1 cannot be compared whole") {
		t.Errorf("it says\n%s", got)
	}
	// One that was judged, but not by every rule, is compared as far as it goes.
	c = comparedExample("a.toml")
	c.New.Result.Broke = []rulebook.Broke{{Rule: "dust-left-under-film", Message: "took too long"}}
	got = comparedText(t, TextOptions{}, c)
	if !strings.Contains(got, "RULE BROKE") || !strings.Contains(got, "GONE") || !strings.Contains(got, "1 cannot be compared whole") {
		t.Errorf("it says\n%s", got)
	}
}

func comparedMarkdown(t *testing.T, most int, pairs ...Compared) string {
	t.Helper()
	var b bytes.Buffer
	if err := CompareMarkdown(&b, pairs, most); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestAComparisonAsACommentKeepsToItsLength(t *testing.T) {
	var pairs []Compared
	for i := range 200 {
		pairs = append(pairs, comparedExample(fmt.Sprintf("%d.toml", i)))
	}
	got := comparedMarkdown(t, 9000, pairs...)
	if n := utf8.RuneCountInString(got); n > 9000 {
		t.Errorf("%d characters", n)
	}
	for _, want := range []string{"| 200 | 0 | 200 | 200 | 400 | 200 |", "- **NEW** ", "Left out, as a comment holds no more: ", "`guidecoat compare` in the terminal tells all.", compareLastLine} {
		if !strings.Contains(got, want) {
			t.Errorf("it does not say %q", want)
		}
	}
	if strings.Contains(got, "**GONE**") {
		t.Error("what is gone is told before what is new has its room")
	}
}

func TestAComparisonOfNothingThatChangedSaysSo(t *testing.T) {
	j := exampleJudged()
	r := compare.Revision{File: j.File, Doc: j.Doc, Steps: []compare.Step{{N: 1, Do: "tack"}}}
	r.Doc.Zones = []stack.Zone{{Name: "panel"}}
	same := Compared{Old: &j, New: &j, Comparison: compare.Revisions(r, r)}
	if got := comparedMarkdown(t, 0, same); !strings.Contains(got, "\n\nNothing changed.\n") {
		t.Errorf("it says\n%s", got)
	}
	if got := comparedMarkdown(t, 0, same, comparedExample("a.toml")); !strings.Contains(got, "<summary>nothing changed in 1 of the 2 sheets</summary>") {
		t.Errorf("it says\n%s", got)
	}
	if got := comparedText(t, TextOptions{}, same, comparedExample("a.toml")); !strings.Contains(got, "2 sheets: 1 gone, 1 new, 2 kept (1 of them worse); 1 unchanged.") {
		t.Errorf("it says\n%s", got)
	}
}
