package cli

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
)

var formats = []struct{ as, ending string }{{"sarif", "sarif"}, {"junit", "xml"}, {"markdown", "md"}}

// The expected reports were read line by line against the text report of the
// same sheet before they were kept: which rule, which grade, which lines.
func TestEachFormatSaysOfAnExampleWhatWasReadAndKept(t *testing.T) {
	for _, f := range formats {
		_, out, errs := run(t, examples(t), "inspect", "--as", f.as, "bad/filler-over-etch.toml")
		if errs != "" {
			t.Fatal(errs)
		}
		golden := filepath.Join("testdata", "reports", "filler-over-etch."+f.ending)
		if *refresh {
			if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(golden, []byte(out), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if out != string(want) {
			t.Errorf("--as %s says something else than %s:\n%s", f.as, golden, out)
		}
	}
}

// However it is printed, it is the same judgement: the counts of every format
// are those of the JSON, over all the examples at once.
func TestTheFormatsAgreeWithTheJSONAndWithTheExitStatus(t *testing.T) {
	dir := examples(t)
	status, out, _ := run(t, dir, "inspect", "--as", "json", "good", "bad")
	findings := map[string]int{} // by file and rule
	fails := map[string]bool{}   // file and rule with one that fails
	for _, s := range judgedJSON(t, out) {
		for _, f := range s.Findings {
			findings[s.File+" "+f.Rule]++
			if f.Grade == "fails" {
				fails[s.File+" "+f.Rule] = true
			}
		}
	}
	for _, f := range formats {
		got, printed, errs := run(t, dir, "inspect", "--as", f.as, "good", "bad")
		if got != status || errs != "" {
			t.Errorf("--as %s ends with status %d, the JSON with %d: %s", f.as, got, status, errs)
		}
		switch f.as {
		case "sarif":
			log, err := sarif.FromString(printed)
			if err != nil {
				t.Fatal(err)
			}
			if err := log.Validate(); err != nil {
				t.Errorf("the log does not hold to the schema: %v", err)
			}
			seen := map[string]int{}
			for _, r := range log.Runs[0].Results {
				at := *r.Locations[0].PhysicalLocation.ArtifactLocation.URI
				seen[at+" "+*r.RuleID]++
				if id := *log.Runs[0].Tool.Driver.Rules[r.RuleIndex].ID; id != *r.RuleID {
					t.Errorf("a result of %s points at the record of %s", *r.RuleID, id)
				}
			}
			for key, n := range findings {
				// a finding about a shelf's card lies in the shelf
				if seen[key] != n && !strings.Contains(key, "value-assumed") {
					t.Errorf("%s: %d results, %d findings", key, seen[key], n)
				}
			}
		case "junit":
			var suites struct {
				Suites []struct {
					Name  string `xml:"name,attr"`
					Cases []struct {
						Name    string    `xml:"name,attr"`
						Failure *struct{} `xml:"failure"`
					} `xml:"testcase"`
				} `xml:"testsuite"`
			}
			if err := xml.Unmarshal([]byte(printed), &suites); err != nil {
				t.Fatal(err)
			}
			for _, s := range suites.Suites {
				for _, c := range s.Cases {
					if (c.Failure != nil) != fails[s.Name+" "+c.Name] {
						t.Errorf("%s %s: the case fails: %v", s.Name, c.Name, c.Failure != nil)
					}
				}
			}
		case "markdown":
			n := 0
			for _, count := range findings {
				n += count
			}
			listed := strings.Count(printed, "\n- **FAILS**") + strings.Count(printed, "\n- **RISK**") + strings.Count(printed, "\n- **ADVICE**")
			if listed != n {
				t.Errorf("%d findings are listed, of %d", listed, n)
			}
		}
	}
}

func TestASheetThatCannotBeReadIsToldInEveryFormat(t *testing.T) {
	dir := t.TempDir()
	// The fault is in line 3 behind é and 😀: character 21, unit 22 (é is one
	// UTF-16 unit and 😀 two).
	if err := os.WriteFile(filepath.Join(dir, "broken.toml"), []byte("format = 1\n[sheet]\ntitle = \"é😀 panel\" x\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, out, _ := run(t, dir, "inspect", "--as", "json", "broken.toml")
	var said struct {
		Sheets []struct {
			Errors []struct{ Line, Column int }
		}
	}
	if err := json.Unmarshal([]byte(out), &said); err != nil || len(said.Sheets) != 1 || len(said.Sheets[0].Errors) == 0 {
		t.Fatalf("the JSON: %v\n%s", err, out)
	}
	at := said.Sheets[0].Errors[0]
	for _, f := range formats {
		status, out, _ := run(t, dir, "inspect", "--as", f.as, "broken.toml")
		if status != exitUnreadable {
			t.Errorf("--as %s ends with status %d", f.as, status)
		}
		want := map[string]string{"junit": `<error message="cannot be read`, "markdown": "- **CANNOT READ** line 3", "sarif": `"executionSuccessful": false`}[f.as]
		if !strings.Contains(out, want) {
			t.Errorf("--as %s does not say %q:\n%s", f.as, want, out)
		}
		if f.as != "sarif" {
			continue
		}
		log, err := sarif.FromString(out)
		if err != nil {
			t.Fatal(err)
		}
		region := log.Runs[0].Invocations[0].ToolExecutionNotifications[0].Locations[0].PhysicalLocation.Region
		if *region.StartLine != 3 || at.Line != 3 || at.Column < 12 || *region.StartColumn != at.Column+1 {
			t.Errorf("character %d of line %d is told as unit %d of line %d", at.Column, at.Line, *region.StartColumn, *region.StartLine)
		}
	}
}

// everyContactRule is a shop's own rule that finds fault with every contact.
const everyContactRule = `# METADATA
# title: Every sheet is spoken of
# description: Only for a test.
# custom:
#   grade: fails
#   defect: none
#   remedy: None.
#   safety:
#     signal: NOTICE
#     text: Follow the safety data sheet.
#   source: ["common practice"]
#   limits: []
package guidecoat.house["our-rule"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	v := lib.verdict(lib.at_contact(c), lib.plain("fails"), "our own", [])
}
`

// A shop's own rule is a case and has its record like any of ours: a red build
// with no red case would send the reader looking.
func TestAShopsOwnRuleHasItsCaseAndItsRecord(t *testing.T) {
	dir := t.TempDir()
	text, err := os.ReadFile(filepath.Join("..", "..", "policies", "adhesion", "filler-on-acid-primer", "breaks.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "rules"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string]string{"door.toml": string(text), "rules/our-rule.rego": everyContactRule} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for as, want := range map[string]string{"sarif": `"name": "Every sheet is spoken of"`, "junit": `<testcase name="our-rule"`, "markdown": "our own (our-rule, line"} {
		_, out, errs := run(t, dir, "inspect", "--as", as, "--rules", filepath.Join(dir, "rules"), "door.toml")
		if errs != "" || !strings.Contains(out, want) {
			t.Errorf("--as %s does not say %q: %s\n%.3000s", as, want, errs, out)
		}
	}
}
