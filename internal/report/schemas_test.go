package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"guidecoat/internal/mend"
	"guidecoat/internal/rulebook"
)

// outside is a report to be held to the schema of its kind by programs that
// are not ours.
type outside struct {
	Name string `json:"name"`
	Kind string `json:"kind"`
	Text string `json:"text"`
}

// faults asks the published schemas, by node, and skips where the packages of
// testdata/formats/node are not installed; the continuous build installs them.
func faults(t *testing.T, reports []outside) map[string][]string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here: the reports are not held to the published schemas")
	}
	in, err := json.Marshal(reports)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "validate.mjs")
	cmd.Dir = filepath.Join("..", "..", "testdata", "formats")
	cmd.Stdin = bytes.NewReader(in)
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == 3 {
		t.Skip("the schemas are not installed: npm install --no-package-lock --prefix testdata/formats/node")
	}
	if err != nil {
		t.Fatalf("node validate.mjs: %v", err)
	}
	said := map[string][]string{}
	if err := json.Unmarshal(out, &said); err != nil {
		t.Fatal(err)
	}
	if len(said) != len(reports) {
		t.Fatalf("%d of %d reports were looked at", len(said), len(reports))
	}
	return said
}

func TestTheReportsHoldToTheSchemasThatOthersPublish(t *testing.T) {
	known := exampleJudged()
	known.Baselined = true
	known.Result.Findings[0].People = true
	known.Known = append(known.Known, known.Result.Findings[0])
	known.Known[0].Rule, known.Known[0].ID = "tooth-too-deep", "tooth-too-deep@dent/6:filler"
	broke := exampleJudged()
	broke.Result.Broke = []rulebook.Broke{{Rule: "dust-left-under-film", Message: "took too long"}}
	text := "a = \"é😀\"\nb = 1\n"
	options := SARIFOptions{Version: "1.2.3", Book: book(t), Text: func(string) []byte { return []byte(text) },
		Fixes: func(string, rulebook.Finding) []mend.Fix {
			return []mend.Fix{{Title: hostile, Edits: []mend.TextEdit{{Start: 0, End: 1, New: hostile}, {Start: len(text), End: len(text), New: "\x00"}}}}
		}}
	var reports []outside
	for name, sheets := range map[string][]Judged{
		"nothing": {}, "clean": {{File: "good.toml"}}, "found": {exampleJudged()}, "unread": {unreadSheet()}, "waived": {waivedSheet()},
		"known": {known}, "broke": {broke}, "hostile": hostileSheets(), "all": append(hostileSheets(), exampleJudged(), unreadSheet(), waivedSheet(), known, broke),
	} {
		var s, j bytes.Buffer
		if err := errors.Join(SARIF(&s, sheets, options), JUnit(&j, sheets, options.Book, "fails")); err != nil {
			t.Fatal(err)
		}
		reports = append(reports, outside{"sarif " + name, "sarif", s.String()}, outside{"junit " + name, "junit", j.String()})
	}
	// What the program really printed of an example.
	for kind, file := range map[string]string{"sarif": "filler-over-etch.sarif", "junit": "filler-over-etch.xml"} {
		printed, err := os.ReadFile(filepath.Join("..", "cli", "testdata", "reports", file))
		if err != nil {
			t.Fatal(err)
		}
		reports = append(reports, outside{file, kind, string(printed)})
		// And what is none, so that a check that finds nothing is known to look.
		spoiled := strings.NewReplacer(`"level": "note"`, `"level": "advice"`, "</testcase>", "<advice/></testcase>").Replace(string(printed))
		reports = append(reports, outside{"spoiled " + file, kind, spoiled})
	}
	for name, said := range faults(t, reports) {
		if spoiled := strings.HasPrefix(name, "spoiled"); spoiled != (len(said) > 0) {
			t.Errorf("%s: %q", name, said)
		}
	}
}

func TestASkippedJUnitCaseSaysWhyInItsText(t *testing.T) {
	var b bytes.Buffer
	if err := JUnit(&b, []Judged{waivedSheet()}, book(t), "fails"); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "<skipped>waived: test panel, by foreman, until 2026-05-01</skipped>") {
		t.Errorf("it says\n%s", b.String())
	}
}
