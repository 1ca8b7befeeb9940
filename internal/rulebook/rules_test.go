package rulebook

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// theDay is the day the sheets in the rules' folders are judged on.
var theDay = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// judgeSheet reads a sheet of a rule's folder and judges it with every rule.
func judgeSheet(t testing.TB, b *Book, file, text string) Judged {
	t.Helper()
	if text == "" {
		return Judged{} // told by the folder's check
	}
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, file, []byte(text))
	if len(problems) > 0 {
		return Judged{Problems: problems}
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		return Judged{Problems: problems}
	}
	r, err := b.Judge(context.Background(), d, s, Options{Today: theDay})
	if err != nil {
		t.Fatal(err)
	}
	return Judged{Result: r}
}

// faultsOf is everything that is wrong with a rule: its folder, METADATA,
// fields, tests, coverage and its two sheets.
func faultsOf(t testing.TB, b *Book, name string) []sheet.Problem {
	t.Helper()
	faults, err := b.CheckRule(context.Background(), name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Rule(name)
	if err != nil {
		return faults // told already
	}
	more, err := b.CheckSheets(name, judgeSheet(t, b, "breaks.toml", r.Breaks), judgeSheet(t, b, "holds.toml", r.Holds))
	if err != nil {
		t.Fatal(err)
	}
	return append(faults, more...)
}

// TestRules holds every rule of the rulebook to what a rule must be. One alone:
//
//	go test ./internal/rulebook -run 'TestRules/adhesion/filler-on-acid-primer'
func TestRules(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, family := range Families {
		t.Run(family, func(t *testing.T) {
			for _, name := range b.Names() {
				if b.Family(name) != family {
					continue
				}
				t.Run(name, func(t *testing.T) {
					for _, p := range faultsOf(t, b, name) {
						t.Errorf("policies/%s:%d: %s", p.Place.File, p.Place.Line, p.Message)
					}
				})
			}
		})
	}
}

func TestTheRulebookAsksForNoFieldThatNoStackHas(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	if err := b.CheckFields(context.Background()); err != nil {
		t.Error(err)
	}
}

// The whole catalogue, family by family, each rule with the
// gravest grade it gives. window-shut-by-heat is a risk: no key of a card
// can say that heat shuts its window.
var catalogue = map[string]map[string]string{
	"substrate": {
		"water-on-bare-steel":      "fails",
		"wet-sanding-bare-steel":   "fails",
		"smooth-bare-metal":        "fails",
		"tooth-too-fine":           "risk",
		"tooth-too-deep":           "risk",
		"bare-metal-not-degreased": "fails",
		"sanded-before-degreased":  "risk",
		"bare-metal-left-open":     "fails",
		"acid-left-on-metal":       "fails",
		"acid-primer-on-acid-wash": "fails",
		"clean-again-after-break":  "risk",
		"rust-left-in-place":       "fails",
		"hole-bridged-with-filler": "fails",
		"filler-on-zinc":           "fails",
		"zinc-sanded-away":         "risk",
		"enamel-on-zinc":           "fails",
		"acid-primer-on-plastic":   "risk",
		"plastic-without-promoter": "fails",
		"mold-release-left":        "fails",
		"gloss-not-scuffed":        "fails",
		"old-finish-not-proven":    "risk",
		"stripper-left-behind":     "fails",
		"stripper-on-composite":    "fails",
		"solder-flux-left":         "risk",
	},
	"adhesion": {
		"filler-on-acid-primer":        "fails",
		"polyester-on-acid-primer":     "fails",
		"epoxy-on-acid-primer":         "risk",
		"acid-primer-on-filler":        "fails",
		"acid-primer-on-paint":         "fails",
		"acid-primer-sanded":           "risk",
		"color-on-acid-primer":         "fails",
		"urethane-on-bare-metal":       "fails",
		"polyester-on-bare-metal":      "fails",
		"filler-on-bare-metal":         "risk",
		"filler-on-green-primer":       "fails",
		"color-on-bare-metal":          "fails",
		"filler-on-old-finish":         "fails",
		"strong-solvent-on-reversible": "fails",
		"strong-solvent-on-enamel":     "fails",
		"one-part-putty-buried":        "risk",
		"seam-sealer-on-bare-metal":    "risk",
		"clear-without-base":           "risk",
		"sanded-base-cleared":          "fails",
		"surfacer-not-sanded":          "risk",
		"primer-over-color":            "advice",
		"stiff-on-flexible":            "risk",
		"metalwork-after-filler":       "fails",
		"card-forbids":                 "fails",
		"card-does-not-list":           "risk",
		"foreign-hardener":             "fails",
		"foreign-reducer":              "risk",
		"thinner-in-urethane":          "fails",
	},
	"porosity": {
		"color-on-exposed-filler": "fails",
		"wet-sanded-filler":       "fails",
		"water-on-filler":         "fails",
		"filler-left-open":        "risk",
		"filler-near-grease":      "risk",
		"cleaner-not-flashed":     "risk",
	},
	"clock": {
		"recoated-too-soon":         "fails",
		"window-missed":             "fails",
		"window-shut-by-heat":       "risk",
		"recoated-in-dead-time":     "fails",
		"window-unknown":            "advice",
		"wait-not-written":          "advice",
		"coats-too-close":           "fails",
		"sanded-too-soon":           "fails",
		"blocked-before-settled":    "risk",
		"color-before-settled":      "risk",
		"pot-life-passed":           "fails",
		"induction-skipped":         "risk",
		"baked-before-flash":        "risk",
		"bake-too-hot":              "risk",
		"bake-too-short":            "risk",
		"polished-too-soon":         "risk",
		"taped-too-soon":            "risk",
		"hold-primer-kept-too-long": "risk",
		"cure-slowed-by-cold":       "risk",
		"chilled-before-cure":       "risk",
	},
	"abrasive": {
		"scratch-too-coarse":        "fails",
		"scratch-too-fine":          "risk",
		"grade-skipped":             "risk",
		"filler-not-leveled":        "fails",
		"non-sanding-primer-sanded": "risk",
		"dust-left-under-film":      "risk",
		"scuffed-not-covered":       "fails",
		"no-guide-coat":             "advice",
		"grade-system-unclear":      "advice",
	},
	"film": {
		"film-too-thin":             "fails",
		"film-too-thick":            "fails",
		"stack-too-thick":           "risk",
		"filler-too-thick":          "risk",
		"coat-too-wet":              "risk",
		"sanded-through-unsaid":     "risk",
		"barrier-sanded-thin":       "risk",
		"clear-sanded-thin":         "fails",
		"clear-faded-in-open-panel": "risk",
	},
	"weather": {
		"too-near-dew-point":  "fails",
		"too-cold":            "fails",
		"too-hot":             "fails",
		"too-humid":           "risk",
		"weather-not-written": "advice",
	},
	"mix": {
		"ratio-off-card":       "fails",
		"hardener-missing":     "fails",
		"hardener-in-one-part": "risk",
		"over-reduced":         "fails",
		"ratio-not-written":    "advice",
		"batch-short":          "risk",
		"tip-off-card":         "risk",
		"pressure-off-card":    "risk",
		"voc-over-limit":       "fails",
	},
	"finish": {
		"ends-unprotected":      "fails",
		"patchwork-under-color": "risk",
		"epoxy-left-in-sun":     "risk",
	},
	"people": {
		"isocyanate-without-supplied-air": "fails",
		"spray-without-booth":             "fails",
		"skin-unprotected":                "fails",
		"dust-without-respirator":         "fails",
		"old-paint-lead-unproven":         "fails",
		"acid-without-protection":         "fails",
		"chromate-handled":                "fails",
	},
	"paper": {
		"data-sheet-missing":    "advice",
		"safety-sheet-missing":  "advice",
		"data-sheet-stale":      "advice",
		"value-assumed":         "advice",
		"product-unused":        "advice",
		"no-measuring-stop":     "advice",
		"waiver-without-reason": "risk",
		"waiver-expired":        "risk",
		"waiver-unused":         "advice",
	},
}

func TestTheRulebookHoldsTheWholeCatalogueAndNothingElse(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, family := range slices.Sorted(maps.Keys(catalogue)) {
		for _, name := range slices.Sorted(maps.Keys(catalogue[family])) {
			named[name] = true
			if got := b.Family(name); got != family {
				t.Errorf("%s stands in family %q, the catalogue has it in %s", name, got, family)
				continue
			}
			r, err := b.Rule(name)
			if err != nil {
				t.Fatal(err)
			}
			if want := catalogue[family][name]; r.Grade != want {
				t.Errorf("%s gives %s at its gravest, the catalogue says %s", name, r.Grade, want)
			}
		}
	}
	for _, name := range b.Names() {
		if !named[name] {
			t.Errorf("%s is not in the catalogue", name)
		}
	}
}

// soundFiles is a small rulebook with one whole, sound rule, to take things
// away from. It stands in the weather family, over a real sheet.
func soundFiles(t testing.TB) fstest.MapFS {
	const breaks = `format = 1

[sheet]
title = "Epoxy on a damp day"
ends_as = "primed"

[booth]
air = "72 F"
panel = "72 F"
humidity = "90 %"

[panel]
substrate = "mild steel"

[product.grey]
kind = "epoxy primer"

[[step]]
do = "spray"
product = "grey"
`
	files := bookFiles(t, map[string]string{
		"weather/too-damp": `# METADATA
# title: the air is too damp
# description: |
#   Water settles on the film while it is wet.
# custom:
#   grade: risk
#   defect: blush
#   remedy: Wait for a drier day.
#   safety:
#     signal: NOTICE
#     text: Follow the safety data sheet.
#   source:
#     - common practice
#   limits:
#     - humidity_typical
package guidecoat.weather["too-damp"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	limit := input.limits.humidity_typical.measure
	sure := lib.above(l.humidity, limit)
	judgement := lib.measured_against("risk", sure, l.humidity, limit)
	v := lib.verdict(lib.at_step(l), judgement, sprintf("%s goes on at %s", [l.name, l.humidity.text]), [])
}
`,
		"weather/too-damp/rule_test.rego": `package guidecoat.weather["too-damp_test"]

import data.guidecoat.weather["too-damp"] as rule

lay(share) := {"id": "1", "step": 1, "name": "grey", "place": {}, "humidity": {"lo": share, "hi": share, "open": false, "text": "damp", "shown": {}}}

limits := {"humidity_typical": {"measure": {"lo": 80, "hi": 80, "open": false, "shown": {}}}}

test_damp_air_breaks_it if count(rule.verdict) == 1 with input as {"lays": [lay(81)], "limits": limits}

test_just_dry_enough_does_not if count(rule.verdict) == 0 with input as {"lays": [lay(80)], "limits": limits}
`,
		"weather/too-damp/breaks.toml": breaks,
		"weather/too-damp/holds.toml":  strings.Replace(breaks, "90 %", "80 %", 1),
	})
	return files
}

func TestASoundRuleHasNoFault(t *testing.T) {
	b, err := Load(soundFiles(t))
	if err != nil {
		t.Fatal(err)
	}
	if faults := faultsOf(t, b, "too-damp"); len(faults) > 0 {
		t.Error(&RulesError{faults})
	}
}

// Each case takes one thing away from a sound rule, or spoils it: the check
// must find it. A check that lets any of these pass checks nothing.
func TestEveryThingTakenAwayFromARuleIsFound(t *testing.T) {
	const rule, test, breaks, holds = "rule.rego", "rule_test.rego", "breaks.toml", "holds.toml"
	for name, c := range map[string]struct {
		file, old, new string // no old: the file is taken away
		says           string
	}{
		"its test":                   {test, "", "", "rule too-damp has no rule_test.rego"},
		"its breaks.toml":            {breaks, "", "", "rule too-damp has no breaks.toml"},
		"its holds.toml":             {holds, "", "", "rule too-damp has no holds.toml"},
		"its METADATA":               {rule, "# METADATA\n", "# \n", "there is no METADATA block"},
		"its title":                  {rule, "# title: the air is too damp\n", "", `METADATA has no "title"`},
		"its description":            {rule, "# description: |\n#   Water settles on the film while it is wet.\n", "", `METADATA has no "description"`},
		"its grade":                  {rule, "#   grade: risk\n", "", `custom has no "grade"`},
		"its defect":                 {rule, "#   defect: blush\n", "", `custom has no "defect"`},
		"its remedy":                 {rule, "#   remedy: Wait for a drier day.\n", "", `custom has no "remedy"`},
		"its caution":                {rule, "#     text: Follow the safety data sheet.\n", "", `safety has no "text"`},
		"its signal word":            {rule, "#     signal: NOTICE\n", "", `safety has no "signal"`},
		"its source":                 {rule, "#     - common practice\n", "", `"source"`},
		"its list of limits":         {rule, "#   limits:\n#     - humidity_typical\n", "", `custom has no "limits"`},
		"a limit from the list":      {rule, "#     - humidity_typical\n", "#     - humidity_typical_damp\n", `this reads the limit "humidity_typical", and METADATA does not name it`},
		"the limit it names":         {rule, "#     - humidity_typical\n", "#     - humidity_typical\n#     - humidity_of_march\n", `METADATA names the limit "humidity_of_march", and there is none`},
		"what it covers":             {rule, "#   limits:", "#   covers: [too-dry]\n#   limits:", `covers names "too-dry", and there is no such rule`},
		"its gravest grade":          {rule, "#   grade: risk\n", "#   grade: advice\n", `this gives "risk", and METADATA says that "advice" is the gravest`},
		"a grade it never gives":     {rule, "#   grade: risk\n", "#   grade: fails\n", "it breaks too-damp at risk; the rule's grade is fails"},
		"the limit for a number":     {rule, "sure := lib.above(l.humidity, limit)", "sure := \"will\"\n	l.humidity.lo > 80", "80 is compared with bare"},
		"a number worked out":        {rule, "	v := lib.verdict", "	l.humidity.lo + l.humidity.lo > 1\n	v := lib.verdict", "arithmetic (+) is worked out in the stack"},
		"a letter of a field":        {rule, "l.name, l.humidity.text", "l.nme, l.humidity.text", `there is no field "nme" here; did you mean "name"?`},
		"its standing alone":         {rule, "import data.guidecoat.lib", "import data.guidecoat.lib\nimport data.guidecoat.paper[\"waiver-unused\"] as other", "guidecoat.paper[\"waiver-unused\"] is another rule's"},
		"its standing alone in full": {rule, "some l in input.lays", "some l in input.lays\n\tcount(data.guidecoat.paper[\"waiver-unused\"].verdict) == 0", "is another rule's"},
		"its package":                {rule, "package guidecoat.weather[\"too-damp\"]", "package guidecoat.weather[\"too-wet\"]", "that of this folder is guidecoat.weather"},
		"the package of its test":    {test, "package guidecoat.weather[\"too-damp_test\"]", "package guidecoat.weather[\"too-wet_test\"]", "that of these tests is"},
		"a test that passes":         {test, "count(rule.verdict) == 1", "count(rule.verdict) == 2", "test test_damp_air_breaks_it does not pass"},
		"a test that does not break": {test, "if count(rule.verdict) == 1", "if to_number(\"x\") == 1", "test test_damp_air_breaks_it broke"},
		"a test done":                {test, "test_damp_air_breaks_it", "todo_test_damp_air_breaks_it", "is left for later"},
		"the test that enters it":    {test, "[lay(81)]", "[lay(80)]", "does not pass"},
		"every test":                 {test, "test_", "tast_", "there is no test here"},
		"the test that stops short": {
			test, "test_just_dry_enough_does_not if count(rule.verdict) == 0 with input as {\"lays\": [lay(80)], \"limits\": limits}\n", "",
			"no test stops short of this verdict",
		},
		"the test of a second verdict": {
			rule, "verdict contains v if {", "verdict contains v if {\n\tsome m in input.masks\n\tv := lib.verdict(lib.at_surface(m), lib.plain(\"risk\"), \"tape\", [])\n}\n\nverdict contains v if {",
			"no test comes here",
		},
		"the stack's own field in its test": {test, "\"humidity\": {", "\"humdity\": {}, \"humidity\": {", `there is no field "humdity" in a lay; did you mean "humidity"?`},
		"what breaks it":                    {breaks, "90 %", "80 %", "it does not break too-damp"},
		"what holds it":                     {holds, "80 %", "81 %", "it breaks too-damp, and must not"},
		"a sheet that reads":                {breaks, "[panel]", "[pannel]", "this sheet cannot be read"},
		"a near miss that reads":            {holds, "kind = \"epoxy primer\"", "", "this sheet cannot be read"},
	} {
		t.Run(name, func(t *testing.T) {
			files := soundFiles(t)
			at := "weather/too-damp/" + c.file
			if c.old == "" {
				delete(files, at)
			} else {
				text := string(files[at].Data)
				spoilt := strings.ReplaceAll(text, c.old, c.new)
				if spoilt == text {
					t.Fatalf("the case changes nothing: %q is not in %s", c.old, c.file)
				}
				files[at] = &fstest.MapFile{Data: []byte(spoilt)}
			}
			b, err := Load(files)
			if err != nil {
				t.Fatal(err)
			}
			var told []string
			faults, err := b.CheckRule(context.Background(), "too-damp")
			if err != nil {
				t.Fatal(err)
			}
			if len(faults) == 0 {
				faults = faultsOf(t, b, "too-damp")
			}
			for _, p := range faults {
				told = append(told, p.Message)
				if p.Place.File == "" || p.Place.Line == 0 {
					t.Errorf("a fault without a place: %+v", p)
				}
			}
			if !strings.Contains(strings.Join(told, "\n"), c.says) {
				t.Errorf("told %q, want %q", told, c.says)
			}
		})
	}
}

func TestASheetThatBreaksAnotherRuleTooIsFound(t *testing.T) {
	for grade, want := range map[string]bool{"fails": true, "risk": true, "advice": false} {
		files := soundFiles(t)
		files["weather/other/rule.rego"] = &fstest.MapFile{Data: []byte(ruleText("weather", "other", grade, "",
			"verdict contains v if {\n\tsome l in input.lays\n\tv := lib.verdict(lib.at_step(l), lib.plain(\""+grade+"\"), \"other\", [])\n}\n"))}
		b, err := Load(files)
		if err != nil {
			t.Fatal(err)
		}
		said := (&RulesError{faultsOf(t, b, "too-damp")}).Error()
		for _, file := range []string{"breaks.toml", "holds.toml"} {
			if got := strings.Contains(said, file+":18:1: it breaks other too ("+grade+"): other"); got != want {
				t.Errorf("%s in %s: told %v, want %v:\n%s", grade, file, got, want, said)
			}
		}
	}
}

func TestAFileTooManyIsFound(t *testing.T) {
	files := soundFiles(t)
	files["weather/too-damp/notes.md"] = &fstest.MapFile{Data: []byte("x")}
	b, err := Load(files)
	if err != nil {
		t.Fatal(err)
	}
	faults, err := b.CheckRule(context.Background(), "too-damp")
	if err != nil || len(faults) != 1 || !strings.Contains(faults[0].Message, "and nothing else") {
		t.Errorf("got %v, %v", faults, err)
	}
	if _, err := b.CheckRule(context.Background(), "nobody"); !errors.Is(err, ErrNoRule) {
		t.Errorf("got %v", err)
	}
}
