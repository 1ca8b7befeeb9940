package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

func pointer[T any](v T) *T { return &v }

func exampleFinding() rulebook.Finding {
	return rulebook.Finding{
		ID: "filler-on-acid-primer@dent/6:filler", Rule: "filler-on-acid-primer", Family: "adhesion", Grade: "fails", Certainty: "will",
		Zone: pointer("dent"), Zones: []string{"dent"}, Step: pointer(6), File: "specs/door.toml", Line: 41, Column: 1,
		Message: "body filler lies on etch (one-part acid primer)",
		Why:     "Filler hardens when its peroxide sets off the resin. Acid upsets that right where the two touch, and the bond never comes.",
		Remedy:  "Take the acid primer off and lay epoxy.", Defect: "delamination",
		Safety: rulebook.Safety{Signal: "WARNING", Text: "Dust harms the lungs."}, Source: []string{"common practice"},
		Related: []rulebook.Related{{File: "specs/door.toml", Line: 27, Column: 1, Text: "the primer"}},
		Leaned:  []string{}, Mend: []rulebook.Edit{}, Upper: "6:filler", Lower: "3:etch", On: "dent/6:filler",
		Pair: &rulebook.Pair{Upper: rulebook.Film{Name: "body filler", Step: 6, Laid: "2 mm"},
			Lower: rulebook.Film{Name: "etch (one-part acid primer)", Step: 3, Laid: "0.4 mil"}, Beneath: "mild steel"},
	}
}

func exampleJudged() Judged {
	return Judged{File: "specs/door.toml", Title: "Door", Doc: &stack.Document{Steps: make([]stack.Step, 8)},
		Result: rulebook.Result{Findings: []rulebook.Finding{exampleFinding()}}}
}

func text(t *testing.T, o TextOptions, sheets ...Judged) string {
	t.Helper()
	var b bytes.Buffer
	if err := Text(&b, sheets, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestAFindingSaysWhatWhereWhyWhatToDoAndWhatToMind(t *testing.T) {
	got := text(t, TextOptions{}, exampleJudged())
	for _, want := range []string{
		"FAILS  step 6, dent: body filler lies on etch (one-part acid primer)",
		"filler-on-acid-primer", "line 41, column 1; the primer is line 27",
		"┌ body filler", "╳ here: delamination", "└ etch (one-part acid primer)", "mild steel",
		"why  Filler hardens", "do  Take the acid primer off", "caution  WARNING: Dust harms the lungs.", "source  common practice",
		"1 sheet: 1 fails.", "Nothing here says that the work is safe",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the report does not say %q:\n%s", want, got)
		}
	}
}

func TestNoLineIsWiderThanTheTerminal(t *testing.T) {
	j := exampleJudged()
	j.Result.Findings[0].Message = strings.Repeat("a very long story about a primer ", 20) + strings.Repeat("x", 300)
	for _, line := range strings.Split(text(t, TextOptions{}, j), "\n") {
		if runewidth.StringWidth(line) > 80 {
			t.Errorf("%d columns: %s", runewidth.StringWidth(line), line)
		}
	}
}

func TestControlCharactersOfASheetAreShownAndNeverSent(t *testing.T) {
	j := exampleJudged()
	evil := "\x1b]0;owned\x07\x1b[31mred\u202egnp.exe\u0085\u200b\r\n\x00"
	j.File, j.Title = "a"+evil+".toml", evil
	f := &j.Result.Findings[0]
	f.File, f.Message, f.Zones, f.Call = j.File, evil, []string{evil}, &evil
	f.Related[0].Text = evil
	broken := Judged{File: evil, Problems: []sheet.Problem{{Place: sheet.Place{File: evil, Line: 1, Column: 1}, Key: evil, Message: evil}}}
	for _, quiet := range []bool{false, true} {
		got := text(t, TextOptions{Quiet: quiet}, j, broken)
		for _, r := range got {
			if r != '\n' && (r < 0x20 || r == 0x7f || (r >= 0x80 && r < 0xa0) || r == 0x202e || r == 0x200b) {
				t.Fatalf("%U reached the terminal (quiet %v): %q", r, quiet, got)
			}
		}
		if !strings.Contains(got, "␛") {
			t.Errorf("the escape is not made visible (quiet %v)", quiet)
		}
	}
}

func TestColorAddsNothingThatTheWordsDoNotSay(t *testing.T) {
	plain := text(t, TextOptions{}, exampleJudged())
	colored := text(t, TextOptions{Color: true}, exampleJudged())
	if plain == colored || !strings.Contains(colored, "\x1b[") {
		t.Fatal("no color was written")
	}
	for strings.Contains(colored, "\x1b[") {
		i := strings.Index(colored, "\x1b[")
		n := strings.IndexByte(colored[i:], 'm')
		colored = colored[:i] + colored[i+n+1:]
	}
	if colored != plain {
		t.Errorf("the colored report says something else:\n%s", colored)
	}
}

func TestACleanSheetGetsOneLineAndTheClosingOne(t *testing.T) {
	got := text(t, TextOptions{}, Judged{File: "good.toml"})
	want := "good.toml: no fault found\n\n1 sheet: no fault found.\n"
	if !strings.HasPrefix(got, want) || !strings.Contains(strings.ReplaceAll(got, "\n", " "), "Nothing here says that the work is safe") {
		t.Errorf("got:\n%s", got)
	}
}

func TestARuleThatBrokeIsNeverACleanSheet(t *testing.T) {
	j := Judged{File: "x.toml", Result: rulebook.Result{Broke: []rulebook.Broke{{Rule: "our-rule", Message: "took too long"}}}}
	if got := text(t, TextOptions{}, j); !strings.Contains(got, "our-rule: took too long") || strings.Contains(got, "no fault") {
		t.Errorf("got:\n%s", got)
	}
	j.Result.Findings = []rulebook.Finding{exampleFinding()}
	if got := text(t, TextOptions{}, j); !strings.Contains(got, "our-rule: took too long") || !strings.Contains(got, "FAILS") {
		t.Errorf("what could be judged is not told beside it:\n%s", got)
	}
	if Count([]Judged{j}).Unreadable != 1 {
		t.Error("it does not count as unreadable")
	}
}

func TestAWaivedPeopleFindingPrintsItsCautionStill(t *testing.T) {
	j := Judged{File: "x.toml"}
	f := exampleFinding()
	f.People, f.Waiver = true, &rulebook.Applied{Reason: "booth is being rebuilt", By: pointer("foreman")}
	j.Result.Waived = []rulebook.Finding{f}
	got := text(t, TextOptions{}, j)
	for _, want := range []string{"WAIVED", "booth is being rebuilt, by foreman", "caution", "Dust harms the lungs"} {
		if !strings.Contains(got, want) {
			t.Errorf("the report does not say %q:\n%s", want, got)
		}
	}
}

func TestJSONIsTheContractAndItsListsAreNeverNull(t *testing.T) {
	var b bytes.Buffer
	broken := Judged{File: "b.toml", Problems: []sheet.Problem{{Place: sheet.Place{Line: 3, Column: 9}, Key: "booth.air", Message: "no unit"}}}
	if err := JSON(&b, []Judged{exampleJudged(), broken}, "1.2.3"); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), `"errors": null`) || strings.Contains(b.String(), `"findings": null`) || strings.Contains(b.String(), `"waived": null`) {
		t.Errorf("a list is null:\n%s", b.String())
	}
	var got struct {
		Guidecoat struct {
			Version string
			Format  int
		}
		Sheets []struct {
			Readable bool
			Errors   []struct {
				File   string
				Line   int
				Column int
				Key    string
			}
			Findings []map[string]any
		}
		Counts map[string]int
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Guidecoat.Format != 1 || got.Guidecoat.Version != "1.2.3" {
		t.Errorf("head: %+v", got.Guidecoat)
	}
	if got.Sheets[1].Readable || got.Sheets[1].Errors[0].Line != 3 || got.Sheets[1].Errors[0].File != "b.toml" {
		t.Errorf("the unreadable sheet: %+v", got.Sheets[1])
	}
	f := got.Sheets[0].Findings[0]
	for _, key := range []string{"measured", "limit", "call"} {
		if v, ok := f[key]; !ok || v != nil {
			t.Errorf("%s should be there and null, is %v", key, v)
		}
	}
	for key, want := range map[string]int{"sheets": 2, "unreadable": 1, "fails": 1, "risk": 0, "advice": 0, "waived": 0} {
		if got.Counts[key] != want {
			t.Errorf("counts.%s is %d, not %d", key, got.Counts[key], want)
		}
	}
}

func TestAFindingInAnotherFileNamesIt(t *testing.T) {
	j := exampleJudged()
	j.Result.Findings[0].File = "shelf.toml"
	if got := text(t, TextOptions{}, j); !strings.Contains(got, "shelf.toml, line 41, column 1") {
		t.Errorf("the shelf is not named:\n%s", got)
	}
}

func TestAdviceAloneDoesNotReadLikeAFault(t *testing.T) {
	j := exampleJudged()
	j.Result.Findings[0].Grade = "advice"
	got := text(t, TextOptions{}, j)
	if !strings.Contains(got, "\n1 sheet: nothing fails, nothing is at risk, 1 for advice.\n") ||
		!strings.Contains(strings.Join(strings.Fields(got), " "), "it says that nothing in the sheet fails or is at risk by what this rulebook knows.") {
		t.Errorf("it closes\n%s", got)
	}
	if strings.Contains(got, "caution") {
		t.Errorf("advice about paint has a caution:\n%s", got)
	}
	// Of what guards people the caution is told whatever the grade.
	j.Result.Findings[0].People = true
	if got := text(t, TextOptions{}, j); !strings.Contains(got, "caution  WARNING: Dust harms the lungs.") {
		t.Errorf("the caution is missing:\n%s", got)
	}
	// Beside something worse it is only counted.
	if got := text(t, TextOptions{}, j, exampleJudged()); !strings.Contains(got, "\n2 sheets: 1 fails, 1 for advice.\n") {
		t.Errorf("it closes\n%s", got)
	}
}

func TestWhatABaselineHoldsIsCountedAndNotShown(t *testing.T) {
	j := exampleJudged()
	j.Baselined, j.Known, j.Result.Findings, j.Gone = true, j.Result.Findings, nil, 2
	got := text(t, TextOptions{}, j)
	for _, want := range []string{"specs/door.toml\n  nothing new; 1 known from the baseline\n", "1 sheet: 1 known from the baseline.", "2 entries of the baseline stand for nothing any more"} {
		if !strings.Contains(got, want) {
			t.Errorf("it does not say %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "body filler") || text(t, TextOptions{Quiet: true}, j) != "" {
		t.Errorf("what is known is shown:\n%s", got)
	}
}
