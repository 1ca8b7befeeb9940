package report

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"guidecoat/internal/mend"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

func book(t *testing.T) *rulebook.Book {
	t.Helper()
	b, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func unreadSheet() Judged {
	return Judged{File: "specs/b.toml", Problems: []sheet.Problem{
		{Place: sheet.Place{File: "specs/b.toml", Line: 3, Column: 9, EndLine: 3, EndColumn: 12}, Key: "booth.air", Message: "no unit"},
		{Place: sheet.Place{File: "specs/shelf.toml", Line: 2, Column: 1}, Message: "no such card"},
	}}
}

func waivedSheet() Judged {
	f := exampleFinding()
	f.File, f.People = "specs/w.toml", true
	f.Waiver = &rulebook.Applied{Reason: "test panel", By: pointer("foreman"), Until: pointer("2026-05-01")}
	return Judged{File: "specs/w.toml", Result: rulebook.Result{Waived: []rulebook.Finding{f}}}
}

// hostile is what a sheet's own strings could try in any of the formats.
const hostile = "\x1b[31m</failure>]]><script>alert(1)</script> @everyone #12 !3 [x](javascript:alert) ![i](http://evil.example/i.png) " +
	"**b** `c` | d\r\n## e\n/close www.evil.example a@b.example {0} :smile: <!-- \u202e\u0000\ufffe \xff &amp; $x$ [[wiki]]"

func hostileSheets() []Judged {
	f := exampleFinding()
	f.File, f.Message, f.Zones, f.Call, f.Why = "a b/"+hostile+".toml", hostile, []string{hostile}, pointer(hostile), hostile
	f.Related[0].Text, f.Related[0].File, f.ID = hostile, hostile, "filler-on-acid-primer@"+hostile
	w := f
	w.Waiver = &rulebook.Applied{Reason: hostile, By: pointer(hostile)}
	return []Judged{
		{File: f.File, Title: hostile, Result: rulebook.Result{Findings: []rulebook.Finding{f}, Waived: []rulebook.Finding{w},
			Off: []rulebook.Off{{Rule: "dust-left", Reason: hostile}}}},
		{File: hostile, Problems: []sheet.Problem{{Place: sheet.Place{File: hostile, Line: 1, Column: 2}, Key: hostile, Message: hostile}}},
		{File: "c.toml", Result: rulebook.Result{Broke: []rulebook.Broke{{Rule: "our-rule", Message: hostile}}}},
	}
}

func noRawControls(t *testing.T, out string) {
	t.Helper()
	if !utf8.ValidString(out) {
		t.Error("the report is no UTF-8")
	}
	for _, r := range out {
		if r != '\n' && r < 0x20 || r == 0x7f || r == 0x202e || r == 0xfffe || r == 0xfffd {
			t.Fatalf("%U got through raw", r)
		}
	}
}

// --- SARIF ---

func sarifOf(t *testing.T, text func(string) []byte, sheets ...Judged) (string, *sarif.Run) {
	t.Helper()
	var b bytes.Buffer
	if err := SARIF(&b, sheets, SARIFOptions{Version: "1.2.3", Book: book(t), Text: text}); err != nil {
		t.Fatal(err)
	}
	log, err := sarif.FromBytes(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if err := log.Validate(); err != nil { // against the OASIS schema
		t.Fatalf("the log does not hold to the schema: %v\n%s", err, b.String())
	}
	if len(log.Runs) != 1 {
		t.Fatalf("%d runs", len(log.Runs))
	}
	return b.String(), log.Runs[0]
}

func TestASARIFResultHasItsLevelPlaceRecordAndFingerprint(t *testing.T) {
	_, run := sarifOf(t, nil, exampleJudged())
	r := run.Results[0]
	if *r.RuleID != "filler-on-acid-primer" || r.Level != "error" || *run.ColumnKind != "utf16CodeUnits" {
		t.Errorf("rule %s, level %s, columns %s", *r.RuleID, r.Level, *run.ColumnKind)
	}
	at := r.Locations[0].PhysicalLocation
	if *at.ArtifactLocation.URI != "specs/door.toml" || *at.Region.StartLine != 41 || *at.Region.StartColumn != 1 {
		t.Errorf("it lies at %s:%d:%d", *at.ArtifactLocation.URI, *at.Region.StartLine, *at.Region.StartColumn)
	}
	if len(r.RelatedLocations) != 1 || *r.RelatedLocations[0].PhysicalLocation.Region.StartLine != 27 || *r.RelatedLocations[0].Message.Text != "the primer" {
		t.Errorf("the lower film is not told of: %+v", r.RelatedLocations)
	}
	record, err := book(t).Rule("filler-on-acid-primer")
	if err != nil {
		t.Fatal(err)
	}
	d := run.Tool.Driver.Rules[r.RuleIndex]
	if *d.ID != record.Name || *d.Name != record.Title || *d.ShortDescription.Text != record.Title || *d.FullDescription.Text != record.Description {
		t.Errorf("the record is not the rule's METADATA: %+v", d)
	}
	if !strings.HasPrefix(*d.Help.Text, record.Remedy) || !strings.Contains(*d.Help.Text, record.Safety.Signal+": "+record.Safety.Text) {
		t.Errorf("the help is %q", *d.Help.Text)
	}
	if d.Properties.Properties["family"] != "adhesion" || d.Properties.Properties["grade"] != "fails" {
		t.Errorf("properties: %v", d.Properties.Properties)
	}
	if !*run.Invocations[0].ExecutionSuccessful {
		t.Error("a run that judged all is not successful")
	}
}

func TestASARIFFingerprintOutlivesAMovedLineAndPartsFiles(t *testing.T) {
	moved, other := exampleJudged(), exampleJudged()
	moved.Result.Findings[0].Line, moved.Result.Findings[0].Column = 99, 4
	other.Result.Findings[0].File = "specs/hood.toml"
	print := func(j Judged) string {
		_, run := sarifOf(t, nil, j)
		return run.Results[0].PartialFingerprints[fingerprint]
	}
	first := print(exampleJudged())
	if first != "filler-on-acid-primer@filler on dent in specs/door.toml" || print(moved) != first || print(other) == first {
		t.Errorf("fingerprints %q, moved %q, other file %q", first, print(moved), print(other))
	}
}

func TestASARIFFingerprintOutlivesAStepPutIn(t *testing.T) {
	print := func(j Judged) string {
		_, run := sarifOf(t, nil, j)
		return run.Results[0].PartialFingerprints[fingerprint]
	}
	shifted := exampleJudged()
	f := &shifted.Result.Findings[0]
	f.On, f.ID, f.Step = "dent/7:filler", "filler-on-acid-primer@dent/7:filler", pointer(7)
	shifted.Doc.Steps = append(shifted.Doc.Steps, stack.Step{N: len(shifted.Doc.Steps) + 1})
	if a, b := print(exampleJudged()), print(shifted); a != b {
		t.Errorf("%q became %q", a, b)
	}
}

func TestTwoSARIFResultsOfOneSheetNeverShareAFingerprint(t *testing.T) {
	j := exampleJudged()
	j.Result.Findings = append(j.Result.Findings, j.Result.Findings[0])
	_, run := sarifOf(t, nil, j)
	if a, b := run.Results[0].PartialFingerprints[fingerprint], run.Results[1].PartialFingerprints[fingerprint]; a == b || b != a+" (2)" {
		t.Errorf("%q and %q", a, b)
	}
}

func TestASARIFResultSaysWhetherABaselineHoldsIt(t *testing.T) {
	j := exampleJudged()
	_, run := sarifOf(t, nil, j)
	if run.Results[0].BaselineState != nil {
		t.Errorf("without a baseline it says %q", *run.Results[0].BaselineState)
	}
	j.Baselined, j.Known = true, j.Result.Findings
	_, run = sarifOf(t, nil, j)
	if len(run.Results) != 2 || *run.Results[0].BaselineState != "new" || *run.Results[1].BaselineState != "unchanged" {
		t.Errorf("%d results, %+v", len(run.Results), run.Results)
	}
}

// Places of edits are byte offsets; SARIF wants lines and UTF-16 units. é is
// two bytes and one unit, 😀 four bytes and two units.
func TestASARIFFixReplacesThePlacesOfItsEdits(t *testing.T) {
	text := "\ufefftitle = \"é😀\"\r\nfor = \"1 h\"\n"
	at := strings.Index(text, "😀")
	hour := strings.Index(text, "1 h")
	j := exampleJudged()
	fixes := func(file string, f rulebook.Finding) []mend.Fix {
		if file != j.File || f.ID != j.Result.Findings[0].ID {
			t.Errorf("asked for %s of %s", f.ID, file)
		}
		return []mend.Fix{
			{Title: "Wait {longer}", Edits: []mend.TextEdit{edit(hour, hour+1, "24"), edit(at, at+4, "]({}")}},
			{Title: "Put a step in", Edits: []mend.TextEdit{edit(len(text), len(text), "[[step]]\n"), edit(0, 0, "#\n")}},
			{Title: "Nothing"},
		}
	}
	var b bytes.Buffer
	o := SARIFOptions{Version: "1", Book: book(t), Text: func(string) []byte { return []byte(text) }, Fixes: fixes}
	if err := SARIF(&b, []Judged{j}, o); err != nil {
		t.Fatal(err)
	}
	log, err := sarif.FromBytes(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if err := log.Validate(); err != nil {
		t.Fatal(err)
	}
	got := log.Runs[0].Results[0].Fixes
	if len(got) != 2 || *got[0].Description.Text != "Wait {{longer}}" || *got[0].ArtifactChanges[0].ArtifactLocation.URI != "specs/door.toml" {
		t.Fatalf("the fixes:\n%s", b.String())
	}
	var said []string
	for _, f := range got {
		for _, r := range f.ArtifactChanges[0].Replacements {
			d := r.DeletedRegion
			said = append(said, fmt.Sprintf("%d:%d-%d:%d %s", *d.StartLine, *d.StartColumn, *d.EndLine, *d.EndColumn, *r.InsertedContent.Text))
		}
	}
	want := []string{"1:11-1:13 ]({}", "2:8-2:9 24", "1:1-1:1 #\n", "3:1-3:1 [[step]]\n"}
	if !slices.Equal(said, want) {
		t.Errorf("the replacements are %q, not %q", said, want)
	}
}

func TestASARIFFixThatLiesOutsideItsFileIsAFault(t *testing.T) {
	for name, edits := range map[string][]mend.TextEdit{
		"past the end": {edit(3, 99, "")}, "backwards": {edit(3, 2, "")}, "below nothing": {edit(-1, 1, "")},
		"in a character": {edit(1, 3, "")}, "one over the other": {edit(0, 3, ""), edit(2, 4, "")},
	} {
		o := SARIFOptions{Version: "1", Book: book(t), Text: func(string) []byte { return []byte("é = 1\n") },
			Fixes: func(string, rulebook.Finding) []mend.Fix { return []mend.Fix{{Title: "odd", Edits: edits}} }}
		if err := SARIF(io.Discard, []Judged{exampleJudged()}, o); err == nil {
			t.Errorf("%s: no fault is told", name)
		}
	}
}

func TestSARIFColumnsAreUTF16UnitsAndLeftOutWhereTheTextIsGone(t *testing.T) {
	j := exampleJudged()
	f := &j.Result.Findings[0]
	// Line 2 is `é😀x`: x is the third character; é is one unit, 😀 two, so x
	// begins at unit 4 and ends before 5. The byte-order mark takes no column.
	f.Line, f.Column, f.EndLine, f.EndColumn = 2, 3, 2, 4
	_, run := sarifOf(t, func(string) []byte { return []byte("\ufeffa\né😀x\n") }, j)
	region := run.Results[0].Locations[0].PhysicalLocation.Region
	if *region.StartColumn != 4 || *region.EndColumn != 5 {
		t.Errorf("columns %d to %d, want 4 to 5", *region.StartColumn, *region.EndColumn)
	}
	_, run = sarifOf(t, func(string) []byte { return nil }, j)
	region = run.Results[0].Locations[0].PhysicalLocation.Region
	if region.StartColumn != nil || region.EndColumn != nil || *region.StartLine != 2 {
		t.Errorf("without the text the region is %+v", region)
	}
}

func TestAnUnreadableSheetIsASARIFErrorNotificationAndNoSuccess(t *testing.T) {
	broken := Judged{File: "c.toml", Result: rulebook.Result{Broke: []rulebook.Broke{{Rule: "our-rule", Message: "took too long"}}}}
	_, run := sarifOf(t, nil, unreadSheet(), broken)
	in := run.Invocations[0]
	if *in.ExecutionSuccessful || len(in.ToolExecutionNotifications) != 3 {
		t.Fatalf("successful %v, %d notifications", *in.ExecutionSuccessful, len(in.ToolExecutionNotifications))
	}
	n := in.ToolExecutionNotifications[0]
	if n.Level != "error" || *n.Message.Text != "booth.air: no unit" || *n.Locations[0].PhysicalLocation.Region.StartLine != 3 {
		t.Errorf("the first is %+v", n)
	}
	if *in.ToolExecutionNotifications[1].Locations[0].PhysicalLocation.ArtifactLocation.URI != "specs/shelf.toml" {
		t.Error("a fault in a shelf is told of the sheet")
	}
	if *in.ToolExecutionNotifications[2].AssociatedRule.ID != "our-rule" {
		t.Error("a rule that broke is not named")
	}
}

func TestAWaivedFindingIsASuppressedSARIFResultAndOthersSayTheyAreNot(t *testing.T) {
	out, run := sarifOf(t, nil, exampleJudged(), waivedSheet())
	if len(run.Results) != 2 || len(run.Results[0].Suppressions) != 0 || strings.Count(out, `"suppressions"`) != 2 {
		t.Fatalf("suppressions stand on some results only:\n%s", out)
	}
	s := run.Results[1].Suppressions[0]
	if *s.Kind != "inSource" || *s.Justification != "test panel, by foreman, until 2026-05-01" {
		t.Errorf("kind %s, justification %q", *s.Kind, *s.Justification)
	}
}

func TestACleanSARIFRunHasAnEmptyListOfResults(t *testing.T) {
	out, _ := sarifOf(t, nil, Judged{File: "good.toml"})
	if !strings.Contains(out, `"results": []`) || !strings.Contains(out, noSafety) {
		t.Errorf("got:\n%s", out)
	}
}

func TestASARIFURIIsRelativeSlashedAndPercentEncoded(t *testing.T) {
	for file, want := range map[string]string{
		"specs/door 1.toml": "specs/door%201.toml",
		"a%b#c?.toml":       "a%25b%23c%3F.toml",
		"x:y.toml":          "./x:y.toml",
		"../ü.toml":         "../%C3%BC.toml",
		"/srv/a b.toml":     "file:///srv/a%20b.toml",
		"\x1b\xff.toml":     "%1B%FF.toml",
	} {
		if got := fileURI(file); got != want {
			t.Errorf("%q is %s, want %s", file, got, want)
		}
	}
}

func TestNoStringOfASheetMakesASARIFLinkPlaceholderOrControl(t *testing.T) {
	out, run := sarifOf(t, nil, hostileSheets()...)
	noRawControls(t, out)
	link, placeholder := regexp.MustCompile(`\]\(`), regexp.MustCompile(`(^|[^{])\{\d+\}($|[^}])`)
	for _, r := range run.Results {
		for _, text := range []string{*r.Message.Text, *r.RelatedLocations[0].Message.Text} {
			if link.MatchString(text) || placeholder.MatchString(text) {
				t.Errorf("a link or placeholder stands in %q", text)
			}
		}
	}
}

// --- JUnit ---

func junitOf(t *testing.T, stopAt string, sheets ...Judged) (string, junitSuites) {
	t.Helper()
	var b bytes.Buffer
	if err := JUnit(&b, sheets, book(t), stopAt); err != nil {
		t.Fatal(err)
	}
	decoder := xml.NewDecoder(bytes.NewReader(b.Bytes()))
	for {
		if _, err := decoder.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("the XML is not well formed: %v", err)
		}
	}
	var got junitSuites
	if err := xml.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	sum := [3]int{}
	for _, s := range got.Suites {
		n := [4]int{len(s.Cases), 0, 0, 0}
		for _, c := range s.Cases {
			if c.Time != "0" || c.Class != s.Name || c.Name == "" {
				t.Errorf("a case is %+v", c)
			}
			if c.Failure != nil {
				n[1]++
			}
			if c.Error != nil {
				n[2]++
			}
			if c.Skipped != nil {
				n[3]++
			}
		}
		if n != [4]int{s.Tests, s.Failures, s.Errors, s.Skipped} {
			t.Errorf("%s counts %d, %d, %d, %d; its cases are %v", s.Name, s.Tests, s.Failures, s.Errors, s.Skipped, n)
		}
		sum[0], sum[1], sum[2] = sum[0]+n[0], sum[1]+n[1], sum[2]+n[2]
	}
	if sum != [3]int{got.Tests, got.Failures, got.Errors} || got.Time != "0" {
		t.Errorf("the sums are %d, %d, %d, not %v", got.Tests, got.Failures, got.Errors, sum)
	}
	return b.String(), got
}

func caseOf(t *testing.T, s junitSuite, name string) junitCase {
	t.Helper()
	for _, c := range s.Cases {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("%s has no case %q", s.Name, name)
	return junitCase{}
}

func TestAJUnitCaseFailsOnlyWhereItsRuleFoundSomethingThatStops(t *testing.T) {
	j := exampleJudged()
	low := exampleFinding()
	low.Rule, low.Grade, low.Message = "value-assumed", "advice", "a number is typical"
	j.Result.Findings = append(j.Result.Findings, low)
	for stopAt, failures := range map[string]int{"fails": 1, "risk": 1, "advice": 2} {
		_, got := junitOf(t, stopAt, j)
		s := got.Suites[0]
		if s.Failures != failures || s.Tests != len(book(t).Names()) {
			t.Errorf("--stop-at %s: %d of %d fail, want %d of %d", stopAt, s.Failures, s.Tests, failures, len(book(t).Names()))
		}
		c := caseOf(t, s, "filler-on-acid-primer")
		if c.Failure == nil || c.Failure.Type != "fails" || !strings.Contains(c.Failure.Text, "specs/door.toml:41:1") || !strings.Contains(c.Failure.Text, "caution: WARNING: Dust") {
			t.Errorf("the failure is %+v", c.Failure)
		}
		if c := caseOf(t, s, "value-assumed"); stopAt != "advice" && !strings.Contains(c.Out, "a number is typical") {
			t.Errorf("what does not stop is not told: %+v", c)
		}
	}
}

func TestAnUnreadableSheetOrABrokenRuleIsAJUnitError(t *testing.T) {
	broken := Judged{File: "c.toml", Result: rulebook.Result{Broke: []rulebook.Broke{{Rule: "our-rule", Message: "took too long"}}}}
	_, got := junitOf(t, "fails", unreadSheet(), broken)
	if s := got.Suites[0]; s.Tests != 1 || s.Errors != 1 || !strings.Contains(s.Cases[0].Error.Text, "specs/shelf.toml:2:1: no such card") {
		t.Errorf("the unreadable sheet: %+v", s)
	}
	if c := caseOf(t, got.Suites[1], "our-rule"); c.Error == nil || !strings.Contains(c.Error.Message, "took too long") {
		t.Errorf("the broken rule: %+v", c)
	}
}

func TestAWaivedOrSwitchedOffRuleIsASkippedJUnitCaseThatSaysWhy(t *testing.T) {
	j := waivedSheet()
	j.Result.Off = []rulebook.Off{{Rule: "value-assumed", Reason: "we know our cans"}}
	_, got := junitOf(t, "fails", j)
	c := caseOf(t, got.Suites[0], "filler-on-acid-primer")
	if c.Skipped == nil || !strings.Contains(c.Skipped.Message, "test panel") || !strings.Contains(c.Out, "Dust harms the lungs") {
		t.Errorf("waived: %+v", c)
	}
	if c := caseOf(t, got.Suites[0], "value-assumed"); c.Skipped == nil || !strings.Contains(c.Skipped.Message, "we know our cans") {
		t.Errorf("off: %+v", c)
	}
}

func TestNoStringOfASheetEndsAJUnitElementOrIsLost(t *testing.T) {
	out, got := junitOf(t, "fails", hostileSheets()...)
	noRawControls(t, out)
	if strings.Contains(out, "<script") || strings.Contains(out, "]]>") {
		t.Error("markup of a sheet got through")
	}
	text := caseOf(t, got.Suites[0], "filler-on-acid-primer").Failure.Text
	for _, want := range []string{"␛[31m</failure>]]><script>", "␀", "<U+FFFE>", "<U+202E>"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not shown in %q", want, text)
		}
	}
}

// --- Markdown ---

func markdownOf(t *testing.T, sheets ...Judged) string {
	t.Helper()
	var b bytes.Buffer
	if err := Markdown(&b, sheets, 0); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestMarkdownCountsThenListsThenFoldsAwayAndEndsWithTheLastLine(t *testing.T) {
	got := markdownOf(t, exampleJudged(), unreadSheet(), waivedSheet(), Judged{File: "good.toml"})
	rest := got
	for _, want := range []string{
		"| 4 | 1 | 1 | 0 | 0 | 1 | 0 |\n", "### Sheet specs/door.toml\n",
		"- **FAILS** step 6, dent: body filler lies on etch (one-part acid primer) (filler-on-acid-primer, line 41; the primer: line 27)\n",
		"<details><summary>why, do, caution</summary>\n\n  **Why:** Filler hardens", "**Do:** Take", "**Caution:** WARNING: Dust harms the lungs.\n\n  </details>\n",
		"- **CANNOT READ** line 3, column 9: booth.air: no unit\n", "- **CANNOT READ** in specs/shelf.toml, line 2, column 1: no such card\n",
		"- **WAIVED** step 6", "reason: test panel, by foreman, until 2026-05-01\n", "**Caution:** WARNING: Dust harms the lungs.",
		"<details><summary>no fault found in 1 of the 4 sheets</summary>\n\n- good.toml\n\n</details>\n",
	} {
		i := strings.Index(rest, want)
		if i < 0 {
			t.Fatalf("%q is not there, or not in its order:\n%s", want, got)
		}
		rest = rest[i+len(want):]
	}
	if !strings.HasSuffix(got, "\n\n"+noSafetyFound+"\n") || strings.Contains(got, "\n\n\n") {
		t.Errorf("the end is wrong:\n%s", got)
	}
}

func TestAMarkdownFindingThatLiesInAShelfNamesTheShelf(t *testing.T) {
	j := exampleJudged()
	j.Result.Findings[0].File = "specs/shelf.toml"
	if got := markdownOf(t, j); !strings.Contains(got, "line 41 of specs/shelf.toml; the primer: line 27 of specs/door.toml)") {
		t.Errorf("got:\n%s", got)
	}
}

func TestOneCleanSheetIsToldWithItsNameInMarkdown(t *testing.T) {
	if got := markdownOf(t, Judged{File: "good.toml"}); !strings.Contains(got, "### Sheet good.toml\n\nNo fault found.\n") {
		t.Errorf("got:\n%s", got)
	}
}

// A comment that is too long for its host is not shown at all: what is least
// grave stays out, and how much that is is said.
func TestAMarkdownReportKeepsToItsLengthAndSaysWhatItLeftOut(t *testing.T) {
	var sheets []Judged
	fails, advice := 0, 0
	for i := range 300 {
		j := exampleJudged()
		j.File = fmt.Sprintf("specs/%03d.toml", i)
		j.Result.Findings[0].File = j.File
		if i%3 != 0 {
			j.Result.Findings[0].Grade = "advice"
			advice++
		} else {
			fails++
		}
		sheets = append(sheets, j, Judged{File: fmt.Sprintf("clean/%03d.toml", i)})
	}
	sheets = append(sheets, unreadSheet())
	for _, most := range []int{3000, 20000, MarkdownMost} {
		var b bytes.Buffer
		if err := Markdown(&b, sheets, most); err != nil {
			t.Fatal(err)
		}
		got := b.String()
		if n := utf8.RuneCountInString(got); n > most {
			t.Errorf("%d characters, and %d are the most", n, most)
		}
		said := regexp.MustCompile(`Left out, as a comment holds no more: (.*)\. `).FindStringSubmatch(got)
		if said == nil {
			t.Fatalf("nothing is said of what was left out of %d", most)
		}
		left := func(words string) int {
			n := 0
			if m := regexp.MustCompile(`(\d+) ` + words).FindStringSubmatch(said[1]); m != nil {
				n, _ = strconv.Atoi(m[1])
			}
			return n
		}
		if n := strings.Count(got, "- **FAILS**"); n+left("that fail") != fails || most == MarkdownMost && n != fails {
			t.Errorf("%d fail and %d are left out, of %d", n, left("that fail"), fails)
		}
		if n := strings.Count(got, "- **ADVICE**"); n+left("for advice") != advice || n > 0 && left("that fail") > 0 {
			t.Errorf("%d for advice and %d are left out, of %d", n, left("for advice"), advice)
		}
		if n := strings.Count(got, "\n- clean/"); n+left("names of sheets") != 300 {
			t.Errorf("%d names of clean sheets and %d are left out, of 300", n, left("names of sheets"))
		}
		if !strings.Contains(got, "- **CANNOT READ**") || !strings.HasSuffix(got, noSafetyFound+"\n") {
			t.Error("what must never be left out is")
		}
	}
}

func TestNoStringOfASheetIsMarkdownHTMLOrAMention(t *testing.T) {
	got := markdownOf(t, hostileSheets()...)
	noRawControls(t, got)
	// What is left when the report's own markup is taken away.
	rest := regexp.MustCompile(`</?details>|</?summary>|\*\*[A-Z][A-Za-z ]*:?\*\*|(?m)^#{2,3} |^\|.*\|$`).ReplaceAllString(got, "")
	rest = regexp.MustCompile(`(?m)^\|[-0-9a-z|: ]*\|$`).ReplaceAllString(rest, "")
	rest = regexp.MustCompile(`&#\d+;`).ReplaceAllString(rest, "")
	if bad := regexp.MustCompile("[<>*_`@#!|$~\\[\\]{}&\\\\^]").FindString(rest); bad != "" {
		t.Errorf("%q got through raw:\n%s", bad, rest)
	}
	// What a site would look for once the references are resolved.
	resolved := regexp.MustCompile(`&#(\d+);`).ReplaceAllStringFunc(got, func(s string) string {
		var n rune
		for _, r := range s[2 : len(s)-1] {
			n = n*10 + r - '0'
		}
		return string(n)
	})
	for _, pattern := range []string{`@[a-z]`, `#\d`, `!\d`, `://`, `www\.`, `:smile`, `javascript:a`, `\[\[`} {
		if found := regexp.MustCompile(pattern).FindString(resolved); found != "" {
			t.Errorf("%q can be taken for a reference", found)
		}
	}
	for _, line := range strings.Split(got, "\n") {
		if !regexp.MustCompile(`^(|## Guidecoat|### Sheet .*|\|.*\||- \*\*[A-Z ]+\*\* .*|  (\*\*[A-Z][a-z]+:\*\* .*|</?details>.*)|Nothing here .*|Cannot be read, .*|Not every rule .*|No fault .*)$`).MatchString(line) {
			t.Errorf("a line begins with what a sheet says: %q", line)
		}
	}
}

func TestTheFormatsGiveTheSameBytesForTheSameJudgement(t *testing.T) {
	sheets := append(hostileSheets(), exampleJudged(), unreadSheet(), waivedSheet())
	write := func() string {
		var b bytes.Buffer
		for _, err := range []error{SARIF(&b, sheets, SARIFOptions{Version: "1", Book: book(t)}), JUnit(&b, sheets, book(t), "risk"), Markdown(&b, sheets, 0)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		return b.String()
	}
	first := write()
	for range 5 {
		if write() != first {
			t.Fatal("the bytes differ from one time to the next")
		}
	}
	if !json.Valid([]byte(first[:strings.Index(first, "<?xml")])) {
		t.Error("the SARIF log is no JSON")
	}
}

func edit(start, end int, text string) mend.TextEdit {
	return mend.TextEdit{Start: start, End: end, New: text}
}
