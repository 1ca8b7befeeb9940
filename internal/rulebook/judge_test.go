package rulebook

import (
	"context"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

func TestVerdictsThatDifferInTheZoneAloneAreOneFinding(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.upper_kind == \"epoxy primer\""))})
	r := judged(t, b, twoZones(), nil, Options{})
	if len(r.Findings) != 2 {
		t.Fatalf("got %s, want the two zones of step 1 as one and step 2 as another", ids(r.Findings))
	}
	f := r.Findings[0]
	// The sheet has panel before dent, though dent comes first by letter and in the list of contacts.
	if f.Zone == nil || *f.Zone != "panel" || !reflect.DeepEqual(f.Zones, []string{"panel", "dent"}) {
		t.Errorf("zone %v, zones %v; want panel, then dent", f.Zone, f.Zones)
	}
	if f.ID != "near@panel/1:grey" {
		t.Errorf("id %s", f.ID)
	}
	if *f.Step != 1 || f.Call == nil || *f.Call != "prime" {
		t.Errorf("step %v, call %v", f.Step, f.Call)
	}
	if r.Findings[1].Call != nil {
		t.Errorf("step 2 has no call, got %q", *r.Findings[1].Call)
	}
}

func TestWhatDiffersInMoreThanTheZoneStaysApart(t *testing.T) {
	for name, pick := range map[string]string{
		"in the grade":   `{"grade": {"panel": "risk", "dent": "advice"}[c.zone]}`,
		"in the words":   `{"message": c.zone}`,
		"in the place":   `{"place": {"file": "door.toml", "line": {"panel": 7, "dent": 8}[c.zone], "column": 1, "end_line": 9, "end_column": 1}}`,
		"in the numbers": `{"measured": {"lo": {"panel": 7, "dent": 8}[c.zone], "hi": null, "unit": "h"}}`,
	} {
		t.Run(name, func(t *testing.T) {
			b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", `verdict contains v if {
	some c in input.contacts
	c.step == 1
	v := object.union(lib.verdict(lib.at_contact(c), lib.plain("risk"), "too soon", []), `+pick+`)
}`)})
			r := judged(t, b, twoZones(), nil, Options{})
			if len(r.Findings) != 2 {
				t.Errorf("got %s, want two findings", ids(r.Findings))
			}
		})
	}
}

func TestAFindingIsJoinedWithAllAPersonReads(t *testing.T) {
	b := bookOf(t, map[string]string{"people/near": ruleText("people", "near", "fails", "", `verdict contains v if {
	some c in input.contacts
	c.zone == "rub"
	v := object.union(
		lib.verdict(lib.at_contact(c), lib.plain("fails"), " grey lies on grey ", [lib.insert_before(2, {"do": "scuff", "pad": "fine pad"})]),
		{"measured": {"lo": 25.6, "hi": 25.6, "unit": "h"}, "limit": {"lo": 24, "hi": null, "unit": "h"}, "leaned": ["grey.recoat", "grey.flash"]},
	)
}`)})
	r := judged(t, b, twoZones(), nil, Options{})
	if len(r.Findings) != 1 {
		t.Fatalf("got %s", ids(r.Findings))
	}
	got, err := json.MarshalIndent(r.Findings[0], "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want := `{
  "id": "near@rub/2:grey",
  "rule": "near",
  "family": "people",
  "grade": "fails",
  "certainty": "will",
  "zone": "rub",
  "zones": [
    "rub"
  ],
  "step": 2,
  "call": null,
  "file": "door.toml",
  "line": 30,
  "column": 1,
  "end_line": 33,
  "end_column": 9,
  "message": "grey lies on grey",
  "why": "What goes on in the film, and what it looks like.\n\nHow to tell it in the shop.",
  "remedy": "Do it again.",
  "defect": "peeling",
  "measured": {
    "lo": 25.6,
    "hi": 25.6,
    "unit": "h"
  },
  "limit": {
    "lo": 24,
    "hi": null,
    "unit": "h"
  },
  "leaned": [
    "grey.flash",
    "grey.recoat"
  ],
  "safety": {
    "signal": "CAUTION",
    "text": "Follow the safety data sheet."
  },
  "source": [
    "common practice"
  ],
  "related": [
    {
      "file": "door.toml",
      "line": 20,
      "column": 1,
      "text": "grey (epoxy primer), laid in step 1"
    }
  ],
  "mend": [
    {
      "edit": "insert",
      "where": "before",
      "step": 2,
      "set": {
        "do": "scuff",
        "pad": "fine pad"
      }
    }
  ]
}`
	if string(got) != want {
		t.Errorf("got %s", got)
	}
	if f := r.Findings[0]; f.On != "rub/2:grey" || f.Upper != "2:grey" || f.Lower != "1:grey" || !f.People {
		t.Errorf("on %q, upper %q, lower %q, people %v", f.On, f.Upper, f.Lower, f.People)
	}
}

func TestWhatDoesNotApplyIsNullAndListsNeverAre(t *testing.T) {
	b := bookOf(t, map[string]string{"paper/near": ruleText("paper", "near", "advice", "", `verdict contains v if {
	input.stack == 1
	v := lib.verdict({"on": "sheet", "zone": null, "step": null, "rests": {}, "place": input.sheet.place}, lib.plain("advice"), "m", [])
}`)})
	r := judged(t, b, twoZones(), nil, Options{})
	got, err := json.Marshal(r.Findings[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"zone":null`, `"zones":[]`, `"step":null`, `"call":null`, `"measured":null`, `"limit":null`, `"leaned":[]`, `"related":[]`, `"mend":[]`, `"line":3`} {
		if !strings.Contains(string(got), want) {
			t.Errorf("%s is not in %s", want, got)
		}
	}
	if strings.Contains(string(got), "waiver") {
		t.Errorf("a finding that is not waived has a waiver: %s", got)
	}
	if r.Findings == nil || r.Waived == nil || r.Broke == nil || r.Off == nil {
		t.Errorf("a list of the result is nil: %#v", r)
	}
}

func TestRelatedPlacesSayWhatStandsThere(t *testing.T) {
	d := twoZones()
	l := d.LayersByID["0:mild-steel"]
	l.Substrate, l.Existing, l.Name = false, true, "e-coat"
	d.LayersByID["0.1:e-coat"] = l
	d.Contacts[0].Lower = "0.1:e-coat"
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", `verdict contains v if {
	some c in input.contacts
	v := object.union(lib.verdict(lib.at_contact(c), lib.plain("risk"), "m", []), {"rests": {"upper": c.upper, "lower": c.lower, "step": "1"}})
}`)})
	var got []string
	for _, f := range judged(t, b, d, nil, Options{}).Findings {
		for _, r := range f.Related {
			got = append(got, f.ID+": "+r.Text)
		}
	}
	// Step 1 and its film stand where the finding of step 1 does, so they are not told there.
	want := []string{
		"near@dent/1:grey: e-coat, on the panel when the sheet begins",
		"near@panel/1:grey: mild steel, what the panel is made of",
		"near@rub/2:grey: grey (epoxy primer), laid in step 1",
		`near@rub/2:grey: step 1 ("prime")`,
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

func TestFindingsComeByFileLineColumnRuleZoneAndID(t *testing.T) {
	zone := func(s string) *string { return &s }
	want := []Finding{
		{File: "a.toml", Line: 9, ID: "1"},
		{File: "b.toml", Line: 1, Column: 2, ID: "2"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "a", ID: "3"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "b", ID: "4"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "b", Zone: zone("a"), ID: "5"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "b", Zone: zone("b"), ID: "6"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "b", Zone: zone("b"), ID: "7"},
		{File: "b.toml", Line: 1, Column: 3, Rule: "b", Zone: zone("b"), ID: "7", Message: "z"},
		{File: "b.toml", Line: 10, ID: "0"},
	}
	got := make([]Finding, len(want))
	for i, f := range want {
		got[len(want)-1-i] = f
	}
	inOrder(got)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
}

func TestAFindingWithoutAPlaceStandsAtTheHeadOfTheSheet(t *testing.T) {
	d := twoZones()
	for i := range d.Contacts {
		d.Contacts[i].Place = sheet.Place{}
	}
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.step == 1"))})
	f := judged(t, b, d, nil, Options{}).Findings[0]
	if f.File != "door.toml" || f.Line != 3 {
		t.Errorf("it stands at %s:%d", f.File, f.Line)
	}
	d.Sheet.Place = sheet.Place{}
	f = judged(t, b, d, nil, Options{}).Findings[0]
	if f.File != "door.toml" || f.Line != 1 || f.Column != 1 {
		t.Errorf("it stands at %s:%d:%d", f.File, f.Line, f.Column)
	}
}

func TestARuleThatBreaksIsNamedAndTheOthersAreHeard(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near": ruleText("clock", "near", "risk", "far", onContacts("risk", "c.step == 1")),
		"clock/far":  ruleText("clock", "far", "risk", "", onContacts("risk", "c.step == 1")),
		// Two values for one call: an error of the evaluation.
		"film/split": ruleText("film", "split", "risk", "", onContacts("risk", "both(c) == c.zone")+"\nboth(x) := x.zone\n\nboth(x) := x.upper\n"),
	})
	r := judged(t, b, twoZones(), nil, Options{})
	if got := ids(r.Findings); got != "near@panel/1:grey risk" {
		t.Errorf("got %s, want near, and far covered by it as ever", got)
	}
	if len(r.Broke) != 1 || r.Broke[0].Rule != "split" || !strings.Contains(r.Broke[0].Message, "film/split/rule.rego:29: function data.guidecoat.film.split.both produced conflicting values") {
		t.Errorf("got %+v", r.Broke)
	}
}

func TestAVerdictThatLacksSomethingIsARuleThatBroke(t *testing.T) {
	for name, c := range map[string]struct{ spoil, says string }{
		"no grade":              {`object.remove(v, ["grade"])`, `its verdict has no "grade"`},
		"a grade that is none":  {`object.union(v, {"grade": "fatal"})`, `the grade "fatal"`},
		"no certainty":          {`object.union(v, {"certainty": "surely"})`, `the certainty "surely"`},
		"no message":            {`object.union(v, {"message": "  "})`, `its verdict's "message" is empty`},
		"nothing it stands on":  {`object.remove(v, ["on"])`, `its verdict has no "on"`},
		"a step in words":       {`object.union(v, {"step": "two"})`, `its verdict's "step" is no whole number`},
		"a zone that is a list": {`object.union(v, {"zone": ["panel"]})`, `its verdict's "zone" is no text`},
		"measured in words":     {`object.union(v, {"measured": "3 h"})`, `its verdict's "measured" is no object`},
		"measured without lo":   {`object.union(v, {"measured": {"hi": 3, "unit": "h"}})`, `its verdict's "measured" has no lo`},
		"measured up to words":  {`object.union(v, {"measured": {"lo": 1, "hi": "x", "unit": "h"}})`, `hi that is no number`},
		"a limit without unit":  {`object.union(v, {"limit": {"lo": 3, "hi": 3}})`, `its verdict's "limit" has no unit`},
		"leaned in one word":    {`object.union(v, {"leaned": "grey.recoat"})`, `its verdict's "leaned" is no list`},
		"an edit of no kind":    {`object.union(v, {"mend": [{"edit": "burn", "step": 1}]})`, `"burn" is no edit`},
		"an edit of no step":    {`object.union(v, {"mend": [{"edit": "drop", "step": 0}]})`, `it names no step`},
		"an insert nowhere":     {`object.union(v, {"mend": [{"edit": "insert", "step": 1, "set": {"do": "tack"}}]})`, `before or after`},
		"an insert of nothing":  {`object.union(v, {"mend": [{"edit": "insert", "where": "after", "step": 1, "set": {}}]})`, `it has no do`},
		"a key set to nothing":  {`object.union(v, {"mend": [{"edit": "set", "step": 1, "key": "grit"}]})`, `it sets no key or no value`},
		"edits in a word":       {`object.union(v, {"mend": "sand it"})`, `is no list of edits`},
		"a place in words":      {`object.union(v, {"place": "line 3"})`, `its verdict's "place" is no object`},
		"no object at all":      {`v.message`, `its verdict is no object`},
	} {
		t.Run(name, func(t *testing.T) {
			h := houseOf(t, map[string]string{"odd.rego": ruleText("house", "odd", "fails", "", `verdict contains w if {
	some c in input.contacts
	c.zone == "rub"
	v := lib.verdict(lib.at_contact(c), lib.plain("risk"), "m", [])
	w := `+c.spoil+`
}`)})
			b := bookOf(t, nil)
			r := judged(t, b, twoZones(), nil, Options{House: h})
			// What is wrong with an edit alone leaves the verdict.
			left := 0
			if strings.Contains(c.spoil, `"mend"`) {
				left = 1
			}
			if len(r.Findings) != left || len(r.Broke) != 1 || r.Broke[0].Rule != "odd" || !strings.Contains(r.Broke[0].Message, c.says) {
				t.Errorf("findings %s, broke %+v; want %s", ids(r.Findings), r.Broke, c.says)
			}
		})
	}
}

func TestAnEditThatIsNoneIsLeftOutOfOurOwnFindings(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", `verdict contains v if {
	some c in input.contacts
	c.step == 2
	v := lib.verdict(lib.at_contact(c), lib.plain("risk"), "m", [lib.drop(0), lib.drop(2)])
}`)})
	r := judged(t, b, twoZones(), nil, Options{})
	if len(r.Broke) != 0 || len(r.Findings) != 1 || len(r.Findings[0].Mend) != 1 || r.Findings[0].Mend[0].Step != 2 {
		t.Errorf("findings %+v, broke %+v", r.Findings, r.Broke)
	}
	if len(r.oddEdits) != 1 || r.oddEdits[0].Rule != "near" || !strings.Contains(r.oddEdits[0].Message, "it names no step") {
		t.Errorf("the project's check would not see it: %+v", r.oddEdits)
	}
}

func houseGrades(grades ...sheet.HouseGrade) *sheet.Sheet {
	return &sheet.Sheet{File: "door.toml", House: &sheet.House{Grades: grades}}
}

func TestHouseGradesCapAndNeverRaise(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near":  ruleText("clock", "near", "fails", "", onContacts("fails", "c.step == 2")),
		"clock/mild":  ruleText("clock", "mild", "advice", "", onContacts("advice", "c.step == 2")),
		"people/hurt": ruleText("people", "hurt", "fails", "", onContacts("fails", "c.step == 2")),
	})
	for name, c := range map[string]struct {
		grades []sheet.HouseGrade
		want   string
	}{
		"no grades":               {nil, "hurt fails, mild advice, near fails"},
		"a cap":                   {[]sheet.HouseGrade{{Rule: "near", Grade: "risk"}}, "hurt fails, mild advice, near risk"},
		"a cap over the grade":    {[]sheet.HouseGrade{{Rule: "mild", Grade: "fails"}}, "hurt fails, mild advice, near fails"},
		"off":                     {[]sheet.HouseGrade{{Rule: "near", Off: true, Reason: "r"}}, "hurt fails, mild advice"},
		"a people rule capped":    {[]sheet.HouseGrade{{Rule: "hurt", Grade: "advice"}}, "hurt advice, mild advice, near fails"},
		"a people rule never off": {[]sheet.HouseGrade{{Rule: "hurt", Off: true, Reason: "r"}}, "hurt fails, mild advice, near fails"},
	} {
		t.Run(name, func(t *testing.T) {
			r := judged(t, b, twoZones(), houseGrades(c.grades...), Options{})
			if got := strings.ReplaceAll(ids(r.Findings), "@rub/2:grey", ""); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestWhatIsSwitchedOffIsListedWhetherBrokenOrNot(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near":  ruleText("clock", "near", "fails", "", onContacts("fails", "c.step == 2")),
		"clock/far":   ruleText("clock", "far", "fails", "", onContacts("fails", "c.step == 9")),
		"people/hurt": ruleText("people", "hurt", "fails", "", onContacts("fails", "c.step == 2")),
	})
	r := judged(t, b, twoZones(), houseGrades(
		sheet.HouseGrade{Rule: "near", Off: true, Reason: "our own way"},
		sheet.HouseGrade{Rule: "hurt", Off: true, Reason: "no"},
		sheet.HouseGrade{Rule: "far", Off: true, Reason: "never here"},
	), Options{})
	want := []Off{{"far", "never here"}, {"near", "our own way"}}
	if !reflect.DeepEqual(r.Off, want) {
		t.Errorf("got %+v, want %+v", r.Off, want)
	}
}

func TestTheSameStackGivesTheSameBytes(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "true")),
		"film/thin":  ruleText("film", "thin", "fails", "", onContacts("fails", "true")),
		"film/thick": ruleText("film", "thick", "fails", "", onContacts("advice", "true")),
	})
	var first []byte
	for i := range 20 {
		r := judged(t, b, twoZones(), nil, Options{})
		got, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = got
		} else if string(got) != string(first) {
			t.Fatalf("run %d gives\n%s\nand the first gave\n%s", i, got, first)
		}
	}
}

func TestAJudgementStopsWithItsContext(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "true"))})
	judged(t, b, twoZones(), nil, Options{})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := b.Judge(ctx, twoZones(), &sheet.Sheet{}, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestARulebookThatDoesNotBuildJudgesNothing(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.uper"))})
	_, err := b.Judge(context.Background(), twoZones(), &sheet.Sheet{}, Options{})
	told(t, err, `there is no field "uper" here`)
}

func TestAStackThatIsNoJSONIsAnError(t *testing.T) {
	d := twoZones()
	d.Limits = map[string]stack.Limit{"x": {Half: 1}}
	nan := 0.0
	d.Limits["x"] = stack.Limit{Half: nan / nan}
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "input.limits.x.half > 3"))})
	if _, err := b.Judge(context.Background(), d, &sheet.Sheet{}, Options{}); err == nil || !strings.Contains(err.Error(), "is no number") {
		t.Errorf("a stack with a number that is none, read by a rule, is judged: %v", err)
	}
}

func TestAFaultInsideIsAnErrorAndNoPanic(t *testing.T) {
	if _, err := bookOf(t, nil).Judge(context.Background(), twoZones(), nil, Options{}); err == nil || !strings.Contains(err.Error(), "a fault inside the program") {
		t.Errorf("got %v", err)
	}
}

func TestManyMayJudgeAtOnce(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "true"))})
	d := twoZones()
	want := ids(judged(t, b, d, nil, Options{}).Findings)
	results := make([]string, 8)
	done := make(chan struct{})
	for i := range results {
		go func() {
			defer func() { done <- struct{}{} }()
			r, err := b.Judge(context.Background(), d, &sheet.Sheet{File: "door.toml"}, Options{})
			if err == nil {
				results[i] = ids(r.Findings)
			}
		}()
	}
	for range results {
		<-done
	}
	for i, got := range results {
		if got != want {
			t.Errorf("goroutine %d got %s, want %s", i, got, want)
		}
	}
}

func TestRaisedIsWhatAStockOPAWouldBeGiven(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.step == 2"))})
	got, err := b.Raised(context.Background(), twoZones())
	if err != nil {
		t.Fatal(err)
	}
	list, ok := got.([]any)
	if !ok || len(list) != 1 {
		t.Fatalf("got %#v", got)
	}
	if v := list[0].(map[string]any); v["rule"] != "near" || v["family"] != "clock" || v["on"] != "rub/2:grey" || v["step"] != 2 {
		t.Errorf("got %#v", v)
	}
}

func TestSetsThatAreNoVerdictsAreTold(t *testing.T) {
	vs, broke := readVerdicts(ast.String("x"), "clock", "near")
	if len(vs) != 0 || len(broke) != 1 || broke[0].Rule != "near" {
		t.Errorf("got %v, %v", vs, broke)
	}
}

func TestJudgingWaiversNeedsTheDay(t *testing.T) {
	b := bookOf(t, nil)
	s := &sheet.Sheet{Waivers: []sheet.Waiver{{Rule: sheet.Text{Value: "near", Written: true}}}}
	if _, err := b.Judge(context.Background(), twoZones(), s, Options{}); err == nil {
		t.Error("waivers were judged without a day")
	}
	if _, err := b.Judge(context.Background(), twoZones(), s, Options{Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)}); err != nil {
		t.Error(err)
	}
}
