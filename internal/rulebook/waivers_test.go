package rulebook

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

func on(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

func written(s string) sheet.Text { return sheet.Text{Value: s, Written: true} }

func lastDay(t time.Time) sheet.Date { return sheet.Date{Value: t, Written: true} }

// A waiver stands on line 90 of the sheet.
func waiver(rule, reason string, more ...func(*sheet.Waiver)) sheet.Waiver {
	w := sheet.Waiver{Rule: written(rule), Place: sheet.Place{File: "door.toml", Line: 90, Column: 1, EndLine: 95, EndColumn: 5}}
	if reason != "" {
		w.Reason = written(reason)
	}
	for _, m := range more {
		m(&w)
	}
	return w
}

func until(t time.Time) func(*sheet.Waiver) { return func(w *sheet.Waiver) { w.Until = lastDay(t) } }
func by(s string) func(*sheet.Waiver)       { return func(w *sheet.Waiver) { w.By = written(s) } }
func inZone(s string) func(*sheet.Waiver)   { return func(w *sheet.Waiver) { w.Zone = written(s) } }
func atStep(s string, n int) func(*sheet.Waiver) {
	return func(w *sheet.Waiver) { w.Step, w.StepN = written(s), n }
}

func TestWaivers(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near":  ruleText("clock", "near", "risk", "", onContacts("risk", "true")),
		"clock/calm":  ruleText("clock", "calm", "risk", "", onContacts("risk", "false")),
		"people/hurt": ruleText("people", "hurt", "fails", "", onContacts("fails", "c.step == 2")),
	})
	today := on(2026, 3, 2)
	// Without waivers: near in panel and dent at step 1 as one finding, near and hurt in rub at step 2.
	const near1, near2, hurt = "near@panel/1:grey risk", "near@rub/2:grey risk", "hurt@rub/2:grey fails"
	for name, c := range map[string]struct {
		waivers          []sheet.Waiver
		findings, waived string
	}{
		"none": {nil, near1 + ", " + hurt + ", " + near2, ""},
		"one with a reason holds wherever the rule is broken": {
			[]sheet.Waiver{waiver("near", "show car")}, hurt, near1 + ", " + near2,
		},
		"one without a reason sets nothing aside": {
			[]sheet.Waiver{waiver("near", "")}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@near risk", "",
		},
		"a reason of blanks is none": {
			[]sheet.Waiver{waiver("near", "  ")}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@near risk", "",
		},
		"it holds on its last day": {
			[]sheet.Waiver{waiver("near", "show car", until(on(2026, 3, 2)))}, hurt, near1 + ", " + near2,
		},
		"the day after it has ended": {
			[]sheet.Waiver{waiver("near", "show car", until(on(2026, 3, 1)))}, near1 + ", " + hurt + ", " + near2 + ", waiver-expired@near risk", "",
		},
		"what is not broken leaves it unused": {
			[]sheet.Waiver{waiver("calm", "show car")}, near1 + ", " + hurt + ", " + near2 + ", waiver-unused@calm advice", "",
		},
		"one that has ended and fits nothing is told once": {
			[]sheet.Waiver{waiver("calm", "show car", until(on(2026, 3, 1)))}, near1 + ", " + hurt + ", " + near2 + ", waiver-expired@calm risk", "",
		},
		"narrowed to a step by number": {
			[]sheet.Waiver{waiver("near", "show car", atStep("2", 2))}, near1 + ", " + hurt, near2,
		},
		"narrowed to a step by its call": {
			[]sheet.Waiver{waiver("near", "show car", atStep("prime", 0))}, hurt + ", " + near2, near1,
		},
		"narrowed to a step that breaks nothing": {
			[]sheet.Waiver{waiver("hurt", "show car", atStep("1", 1), by("foreman"), until(on(2026, 4, 1)))},
			near1 + ", " + hurt + ", " + near2 + ", waiver-unused@hurt/1 advice", "",
		},
		// dent alone: its part of the finding of step 1, and rub, which was cut from it.
		"narrowed to a zone, with what was cut from it": {
			[]sheet.Waiver{waiver("near", "show car", inZone("dent"))}, near1 + ", " + hurt, "near@dent/1:grey risk, " + near2,
		},
		"narrowed to the rest": {
			[]sheet.Waiver{waiver("near", "show car", inZone("panel"))}, "near@dent/1:grey risk, " + hurt + ", " + near2, near1,
		},
		"narrowed to a cut": {
			[]sheet.Waiver{waiver("near", "show car", inZone("rub"))}, near1 + ", " + hurt, near2,
		},
		"narrowed to zone and step": {
			[]sheet.Waiver{waiver("near", "show car", inZone("dent"), atStep("1", 1))}, near1 + ", " + hurt + ", " + near2, "near@dent/1:grey risk",
		},
		"two for one finding are both used": {
			[]sheet.Waiver{waiver("near", "first"), waiver("near", "second", inZone("rub"))}, hurt, near1 + ", " + near2,
		},
		"people: with name, reason and a near date": {
			[]sheet.Waiver{waiver("hurt", "r", by("foreman"), until(on(2026, 5, 31)))}, near1 + ", " + near2, hurt, // 2 March + 90 days = 31 May
		},
		"people: a day too far": {
			[]sheet.Waiver{waiver("hurt", "r", by("foreman"), until(on(2026, 6, 1)))}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@hurt risk", "",
		},
		"people: no name": {
			[]sheet.Waiver{waiver("hurt", "r", until(on(2026, 5, 31)))}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@hurt risk", "",
		},
		"people: no date": {
			[]sheet.Waiver{waiver("hurt", "r", by("foreman"))}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@hurt risk", "",
		},
		"people: neither": {
			[]sheet.Waiver{waiver("hurt", "r")}, near1 + ", " + hurt + ", " + near2 + ", waiver-without-reason@hurt risk", "",
		},
		"people: ended": {
			[]sheet.Waiver{waiver("hurt", "r", by("foreman"), until(on(2026, 3, 1)))}, near1 + ", " + hurt + ", " + near2 + ", waiver-expired@hurt risk", "",
		},
		"what is said about waivers cannot be waived": {
			[]sheet.Waiver{waiver("near", ""), waiver("waiver-without-reason", "we know")},
			near1 + ", " + hurt + ", " + near2 + ", waiver-unused@waiver-without-reason advice, waiver-without-reason@near risk", "",
		},
		"a rule that does not exist is another's to tell": {
			[]sheet.Waiver{waiver("neer", "r")}, near1 + ", " + hurt + ", " + near2, "",
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := &sheet.Sheet{File: "door.toml", Waivers: c.waivers, Steps: []sheet.Step{{N: 1, Call: "prime"}, {N: 2}}}
			r := judged(t, b, twoZones(), s, Options{Today: today})
			if got := ids(r.Findings); got != c.findings {
				t.Errorf("findings\n got %s\nwant %s", got, c.findings)
			}
			if got := ids(r.Waived); got != c.waived {
				t.Errorf("waived\n got %s\nwant %s", got, c.waived)
			}
			for _, f := range r.Waived {
				if f.Waiver == nil || f.Waiver.Reason == "" {
					t.Errorf("%s is waived by %+v", f.ID, f.Waiver)
				}
			}
			for _, f := range r.Findings {
				if f.Waiver != nil {
					t.Errorf("%s stands and has a waiver", f.ID)
				}
			}
		})
	}
}

// onSteps is the body of a rule that speaks of steps and of no zone.
func onSteps(grade, condition string) string {
	return fmt.Sprintf(`verdict contains v if {
	some s in input.steps
	%s
	v := lib.verdict({"on": s.id, "zone": null, "step": s.n, "rests": {"step": s.id}, "place": s.place}, lib.plain(%q), "dust is made", [])
}
`, condition, grade)
}

func TestAZoneInAWaiverOfARuleThatSpeaksOfSteps(t *testing.T) {
	b := bookOf(t, map[string]string{
		"people/dust": ruleText("people", "dust", "fails", "", onSteps("fails", "true")),
		"paper/title": ruleText("paper", "title", "advice", "", `verdict contains v if {
	input.sheet.title == "Door"
	v := lib.verdict({"on": "sheet", "zone": null, "step": null, "place": input.sheet.place}, lib.plain("advice"), "no", [])
}
`),
	})
	d := twoZones()
	// Step 1 works on everything, step 2 on the dent and what was cut from it.
	d.Steps[0].Zones, d.Steps[1].Zones = []string{"panel", "dent"}, []string{"dent", "rub"}
	const unused = "the waiver of dust in "
	for name, c := range map[string]struct {
		zone, rule, findings, waived, says string
	}{
		"all that the step works on lies in the zone": {"dent", "dust", "title@sheet advice, dust@1 fails", "dust@2 fails", ""},
		"some of it lies elsewhere": {
			"rub", "dust", "title@sheet advice, dust@1 fails, dust@2 fails, waiver-unused@rub/dust advice", "",
			unused + "rub sets nothing aside: that rule speaks of step 1 and all it works on, not of a zone; leave zone out of the waiver",
		},
		"a rule that speaks of the sheet": {
			"dent", "title", "title@sheet advice, dust@1 fails, dust@2 fails, waiver-unused@dent/title advice", "",
			"the waiver of title in dent sets nothing aside: that rule speaks of no zone; leave zone out of the waiver",
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := &sheet.Sheet{File: "door.toml", Waivers: []sheet.Waiver{waiver(c.rule, "r", by("foreman"), until(on(2026, 4, 1)), inZone(c.zone))}}
			r := judged(t, b, d, s, Options{Today: on(2026, 3, 2)})
			if got := ids(r.Findings); got != c.findings {
				t.Errorf("findings\n got %s\nwant %s", got, c.findings)
			}
			if got := ids(r.Waived); got != c.waived {
				t.Errorf("waived %s, want %s", got, c.waived)
			}
			for _, f := range r.Findings {
				if f.Rule == waiverUnused && f.Message != c.says {
					t.Errorf("it says %q", f.Message)
				}
			}
		})
	}
}

func TestTheHourOfTheDayChangesNoWaiver(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "true"))})
	for _, zone := range []*time.Location{time.UTC, time.FixedZone("east", 14*3600), time.FixedZone("west", -11*3600)} {
		for _, hour := range []int{0, 12, 23} {
			s := &sheet.Sheet{Waivers: []sheet.Waiver{waiver("near", "r", until(on(2026, 3, 2)))}}
			r := judged(t, b, twoZones(), s, Options{Today: time.Date(2026, 3, 2, hour, 59, 0, 0, zone)})
			if len(r.Findings) != 0 || len(r.Waived) == 0 {
				t.Errorf("%v %d h: findings %s", zone, hour, ids(r.Findings))
			}
		}
	}
}

func TestTheHouseMayShortenAPeopleWaiver(t *testing.T) {
	b := bookOf(t, map[string]string{"people/hurt": ruleText("people", "hurt", "fails", "", onContacts("fails", "c.step == 2"))})
	d := twoZones()
	thirty := 30 * 24 * 60.0
	d.Limits = map[string]stack.Limit{"people_waiver": {Measure: stack.Measure{Lo: thirty, Hi: &thirty}}}
	for days, want := range map[int]string{30: "", 31: "hurt@rub/2:grey fails, waiver-without-reason@hurt risk"} {
		s := &sheet.Sheet{File: "door.toml", Waivers: []sheet.Waiver{waiver("hurt", "r", by("foreman"), until(on(2026, 3, 2).AddDate(0, 0, days)))}}
		if got := ids(judged(t, b, d, s, Options{Today: on(2026, 3, 2)}).Findings); got != want {
			t.Errorf("%d days: got %s, want %s", days, got, want)
		}
	}
}

func TestAWaivedFindingCarriesItsWaiver(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.step == 2"))})
	s := &sheet.Sheet{Waivers: []sheet.Waiver{waiver("near", " cut flat within the week ", by("foreman"), until(on(2027, 3, 1)))}}
	f := judged(t, b, twoZones(), s, Options{Today: on(2026, 3, 2)}).Waived[0]
	if f.Waiver.Reason != "cut flat within the week" || *f.Waiver.By != "foreman" || *f.Waiver.Until != "2027-03-01" {
		t.Errorf("got %+v", f.Waiver)
	}
	s.Waivers = []sheet.Waiver{waiver("near", "r")}
	f = judged(t, b, twoZones(), s, Options{Today: on(2026, 3, 2)}).Waived[0]
	if f.Waiver.By != nil || f.Waiver.Until != nil {
		t.Errorf("what is not written is not null: %+v", f.Waiver)
	}
}

func TestAFindingAboutAWaiverStandsAtTheWaiver(t *testing.T) {
	b := bookOf(t, map[string]string{"people/hurt": ruleText("people", "hurt", "fails", "", onContacts("fails", "false"))})
	s := &sheet.Sheet{Waivers: []sheet.Waiver{waiver("hurt", "r", atStep("2", 2), inZone("dent"))}}
	f := judged(t, b, twoZones(), s, Options{Today: on(2026, 3, 2)}).Findings[0]
	if f.ID != "waiver-without-reason@dent/hurt/2" || f.Line != 90 || *f.Step != 2 || *f.Zone != "dent" || f.Family != "paper" || f.Certainty != "will" {
		t.Errorf("got %+v", f)
	}
	if !strings.Contains(f.Message, "needs by and until") {
		t.Errorf("it says %q", f.Message)
	}
}

func TestHouseGradesHoldForFindingsAboutWaiversToo(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "false"))})
	s := houseGrades(sheet.HouseGrade{Rule: waiverWithoutReason, Grade: "advice"}, sheet.HouseGrade{Rule: waiverUnused, Off: true, Reason: "r"})
	s.Waivers = []sheet.Waiver{waiver("near", ""), waiver("near", "r")}
	r := judged(t, b, twoZones(), s, Options{Today: on(2026, 3, 2)})
	if got := ids(r.Findings); got != "waiver-without-reason@near advice" {
		t.Errorf("got %s", got)
	}
	if len(r.Off) != 1 || r.Off[0].Rule != waiverUnused {
		t.Errorf("off %+v", r.Off)
	}
}

func TestACutMadeInSeveralZonesIsNamedByItsCall(t *testing.T) {
	d := twoZones()
	d.Zones = append(d.Zones, stack.Zone{Name: "edge (dent)", Parent: "dent"}, stack.Zone{Name: "edge (panel)", Parent: "panel"})
	j := joining{doc: d}
	for _, c := range []struct {
		zone, named string
		want        bool
	}{
		{"edge (dent)", "edge", true}, {"edge (panel)", "edge", true}, {"edge (dent)", "dent", true},
		{"edge (dent)", "panel", false}, {"dent", "edge", false}, {"rub", "dent", true}, {"rub", "panel", false}, {"", "panel", false},
	} {
		if got := j.within(c.zone, c.named); got != c.want {
			t.Errorf("within(%q, %q) = %v", c.zone, c.named, got)
		}
	}
}

func TestNamesOfNoRuleAreTold(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "true"))})
	h := houseOf(t, map[string]string{"own.rego": ruleText("house", "own-rule", "risk", "", onContacts("risk", "true"))})
	s := houseGrades(sheet.HouseGrade{Rule: "own-rule", Grade: "risk"}, sheet.HouseGrade{Rule: "nea", Grade: "risk", Place: sheet.Place{File: "guidecoat.toml", Line: 7}})
	s.Waivers = []sheet.Waiver{waiver("near", "r"), waiver("own-rule", "r"), waiver("own-rul", "r")}
	got := b.CheckNames(s, h)
	if len(got) != 2 {
		t.Fatalf("got %v", got)
	}
	if p := got[0]; p.Place.Line != 90 || p.Key != "waiver[3].rule" || !strings.Contains(p.Message, "own-rul") {
		t.Errorf("got %+v", p)
	}
	if p := got[1]; p.Place.File != "guidecoat.toml" || p.Place.Line != 7 || p.Key != "grades.nea" {
		t.Errorf("got %+v", p)
	}
	if got := b.CheckNames(s, nil); len(got) != 4 {
		t.Errorf("without the shop's rules: got %v, want its names told too", got)
	}
}
