package rulebook

import (
	"strings"
	"testing"
)

const soundMetadata = `# METADATA
# title: filler lies on acid primer
# description: |
#   The first paragraph goes
#   over two lines.
#
#   The second does not.
# custom:
#   grade: fails
#   defect: delamination
#   remedy: Take it off.
#   safety:
#     signal: WARNING
#     text: "Follow the safety data sheet."
#   source:
#     - common practice
#     - "TT-C-490F 3.5.4 (read)"
#   limits: []
#   covers:
#     - card-does-not-list
package guidecoat.adhesion["filler-on-acid-primer"]

verdict := set()
`

func TestSoundMetadataIsReadWhole(t *testing.T) {
	var r Rule
	if problems := readMetadata(&r, soundMetadata); len(problems) > 0 {
		t.Fatal(problems)
	}
	want := Rule{
		Title: "filler lies on acid primer", Grade: "fails", Defect: "delamination", Remedy: "Take it off.",
		Description: "The first paragraph goes over two lines.\n\nThe second does not.",
		Safety:      Safety{"WARNING", "Follow the safety data sheet."},
		Source:      []string{"common practice", "TT-C-490F 3.5.4 (read)"},
		Limits:      []string{}, Covers: []string{"card-does-not-list"}, Line: 1,
	}
	if got := strings.Join([]string{r.Title, r.Grade, r.Defect, r.Remedy, r.Description, r.Safety.Signal, r.Safety.Text, strings.Join(r.Source, ";"), strings.Join(r.Covers, ";")}, "|"); got != strings.Join([]string{want.Title, want.Grade, want.Defect, want.Remedy, want.Description, want.Safety.Signal, want.Safety.Text, strings.Join(want.Source, ";"), strings.Join(want.Covers, ";")}, "|") {
		t.Errorf("got  %#v\nwant %#v", r, want)
	}
	if r.Limits == nil || r.Line != 1 {
		t.Errorf("limits %#v, line %d", r.Limits, r.Line)
	}
}

// Each case takes one thing of sound METADATA away or spoils it; the fault must
// name it, on its line.
func TestWhatIsWrongWithMetadataIsNamedOnItsLine(t *testing.T) {
	for name, c := range map[string]struct {
		old, new string
		line     int
		says     string
	}{
		"no title":                 {"# title: filler lies on acid primer\n", "", 1, `METADATA has no "title"`},
		"an empty title":           {"filler lies on acid primer", `""`, 2, `"title" is empty`},
		"a title of nothing":       {"title: filler lies on acid primer", "title:", 2, `"title" is empty`},
		"a misspelt title":         {"title:", "titel:", 2, `METADATA knows no key "titel"; did you mean "title"?`},
		"a title that is a list":   {"filler lies on acid primer", "[a]", 2, `"title" must be a text`},
		"no description":           {"# description: |\n#   The first paragraph goes\n#   over two lines.\n#\n#   The second does not.\n", "", 1, `METADATA has no "description"`},
		"a misspelt description":   {"description:", "descripton:", 3, `did you mean "description"?`},
		"no custom":                {soundMetadata[strings.Index(soundMetadata, "# custom"):strings.Index(soundMetadata, "package")], "", 1, `METADATA has no "custom"`},
		"custom that is a text":    {soundMetadata[strings.Index(soundMetadata, "# custom"):strings.Index(soundMetadata, "package")], "# custom: yes\n", 8, `"custom" must be a table`},
		"no grade":                 {"#   grade: fails\n", "", 8, `custom has no "grade"`},
		"a grade that is none":     {"grade: fails", "grade: fatal", 9, `"grade" is "fatal"; it must be one of advice, risk and fails`},
		"a misspelt grade":         {"grade: fails", "grad: fails", 9, `did you mean "grade"?`},
		"no defect":                {"#   defect: delamination\n", "", 8, `custom has no "defect"`},
		"an empty defect":          {"defect: delamination", `defect: " "`, 10, `"defect" is empty`},
		"no remedy":                {"#   remedy: Take it off.\n", "", 8, `custom has no "remedy"`},
		"a misspelt remedy":        {"remedy:", "remdy:", 11, `did you mean "remedy"?`},
		"no safety":                {"#   safety:\n#     signal: WARNING\n#     text: \"Follow the safety data sheet.\"\n", "", 8, `custom has no "safety"`},
		"safety without signal":    {"#     signal: WARNING\n", "", 12, `safety has no "signal"`},
		"a signal word of no kind": {"signal: WARNING", "signal: BEWARE", 13, `"signal" is "BEWARE"; it must be one of DANGER, WARNING, CAUTION and NOTICE`},
		"safety without text":      {"#     text: \"Follow the safety data sheet.\"\n", "", 12, `safety has no "text"`},
		"a misspelt safety text":   {"text: \"Follow", "txet: \"Follow", 14, `safety knows no key "txet"; did you mean "text"?`},
		"no source":                {"#   source:\n#     - common practice\n#     - \"TT-C-490F 3.5.4 (read)\"\n", "", 8, `custom has no "source"`},
		"an empty list of sources": {"#   source:\n#     - common practice\n#     - \"TT-C-490F 3.5.4 (read)\"\n", "#   source: []\n", 15, `"source" is empty`},
		"an empty source":          {"- common practice", `- ""`, 16, `an entry of "source" is empty or no text`},
		"a source that is a text":  {"#   source:\n#     - common practice\n#     - \"TT-C-490F 3.5.4 (read)\"\n", "#   source: common practice\n", 15, `"source" must be a list`},
		"no limits":                {"#   limits: []\n", "", 8, `custom has no "limits"`},
		"a misspelt limits":        {"limits: []", "limit: []", 18, `did you mean "limits"?`},
		"covers with nothing":      {"#   covers:\n#     - card-does-not-list\n", "#   covers: []\n", 19, `"covers" is empty`},
		"a key of nobody's":        {"#   grade: fails\n", "#   grade: fails\n#   colour-of-the-sky: blue\n", 10, `custom knows no key "colour-of-the-sky"; it may have`},
		"a key written twice":      {"#   grade: fails\n", "#   grade: fails\n#   grade: risk\n", 10, `"grade" is written twice`},
		"another scope":            {"# title:", "# scope: subpackages\n# title:", 2, "leave scope out"},
		"YAML that does not read":  {"grade: fails", "grade: [fails", 1, "the METADATA block cannot be read"},
		"a gap over the package":   {"package guidecoat", "\npackage guidecoat", 21, "without a gap"},
		"no block at all":          {soundMetadata[:strings.Index(soundMetadata, "package")], "", 1, "there is no METADATA block over the package line"},
		"an empty block":           {soundMetadata[:strings.Index(soundMetadata, "package")], "# METADATA\n", 1, "the METADATA block is empty"},
		"no package":               {soundMetadata, "# METADATA\n", 1, "there is no package line"},
	} {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(soundMetadata, c.old, c.new, 1)
			if text == soundMetadata {
				t.Fatalf("the case changes nothing: %q is not in the sound METADATA", c.old)
			}
			var r Rule
			problems := readMetadata(&r, text)
			if len(problems) == 0 {
				t.Fatal("nothing is found wrong")
			}
			for _, p := range problems {
				if p.line == c.line && strings.Contains(p.message, c.says) {
					return
				}
			}
			t.Errorf("got %v, want line %d: %s", problems, c.line, c.says)
		})
	}
}

func TestAMisspeltKeyIsToldOnce(t *testing.T) {
	var r Rule
	problems := readMetadata(&r, strings.Replace(soundMetadata, "remedy:", "remdy:", 1))
	if len(problems) != 1 {
		t.Errorf("got %v, want the one fault", problems)
	}
}

func TestAllFaultsOfABlockAreToldAtOnce(t *testing.T) {
	text := strings.NewReplacer("title:", "titel:", "grade: fails", "grade: fatal", "signal: WARNING", "signal:").Replace(soundMetadata)
	var r Rule
	problems := readMetadata(&r, text)
	if len(problems) != 3 || problems[0].line > problems[1].line || problems[1].line > problems[2].line {
		t.Errorf("got %v, want three faults by line", problems)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"grade", "defect", "remedy"}
	for word, want := range map[string]string{"grad": "grade", "remidy": "remedy", "colour-of-the-sky": "", "": "", "effect": "defect"} {
		if got := nearest(word, known); got != want {
			t.Errorf("nearest(%q) = %q, want %q", word, got, want)
		}
	}
}
