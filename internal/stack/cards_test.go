package stack

import (
	"reflect"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// said is an amount as a card or step writes it.
func said(t *testing.T, dim quantity.Dimension, text string) sheet.Amount {
	t.Helper()
	return sheet.Amount{Quantity: amount(t, dim, text)}
}

func saidTime(t *testing.T, text string) sheet.Amount { return said(t, quantity.Time, text) }
func saidFilm(t *testing.T, text string) sheet.Amount { return said(t, quantity.Film, text) }

func saidText(s string) sheet.Text { return sheet.Text{Value: s, Written: true} }

func saidMix(t *testing.T, text string) sheet.MixText {
	t.Helper()
	m, err := quantity.ParseMix(text)
	if err != nil {
		t.Fatal(err)
	}
	return sheet.MixText{Mix: m}
}

func saidList(words ...string) sheet.Texts { return sheet.Texts{Values: words, Written: true} }

// rulebookLimits are the limits as the rulebook has them, for restoration.
func rulebookLimits() limits { return limitsOf(&sheet.Sheet{Work: "restoration"}) }

// plainCard is a card that writes its kind and nothing else.
func plainCard(name, kind string) *sheet.Card { return &sheet.Card{Name: name, Kind: kind} }

func TestACardIsShownByItsNameAndKind(t *testing.T) {
	for _, tc := range []struct {
		name, label, kind, want string
	}{
		{"grey-epoxy", "", "epoxy primer", "grey-epoxy (epoxy primer)"},
		{"grey-epoxy", "Grey epoxy 20", "epoxy primer", "Grey epoxy 20 (epoxy primer)"},
		{"epoxy-primer", "", "epoxy primer", "epoxy primer"},
		{"etch-primer", "", "one-part acid primer", "one-part acid primer"}, // an everyday name of it
	} {
		t.Run(tc.want, func(t *testing.T) {
			c := plainCard(tc.name, tc.kind)
			if tc.label != "" {
				c.Label = saidText(tc.label)
			}
			if v := viewCard(c, rulebookLimits()); v.shown != tc.want {
				t.Errorf("got %q", v.shown)
			}
		})
	}
}

func TestAnotherUseOfACanHasItsOwnReference(t *testing.T) {
	c := plainCard("grey-epoxy", "epoxy sealer")
	c.Use = "sealer"
	if v := viewCard(c, rulebookLimits()); v.ref != "grey-epoxy as sealer" {
		t.Errorf("got %q", v.ref)
	}
}

func TestACardsNumberWinsOverItsKinds(t *testing.T) {
	c := plainCard("grey-epoxy", "epoxy primer")
	v := viewCard(c, rulebookLimits())
	n := v.number("sand_after") // epoxy primer: 24 h, typical numbers of kinds, common practice
	if n.source != "typical" || n.iv != quantity.Exactly(24*60) || !reflect.DeepEqual(n.leaned, []string{"grey-epoxy.sand_after"}) || !n.graced {
		t.Errorf("typical: %+v", n)
	}
	c.SandAfter = saidTime(t, "16 h")
	n = v.number("sand_after")
	if n.source != "card" || n.iv != quantity.Exactly(16*60) || len(n.leaned) != 0 || n.unit != "h" || !n.graced {
		t.Errorf("card: %+v", n)
	}
	if n := v.number("induction"); n.ok {
		t.Errorf("a kind has no induction: %+v", n)
	}
}

func TestOnlyClockFilmAndReductionAreGraced(t *testing.T) {
	c := plainCard("x", "urethane surfacer")
	c.ReduceUpTo = said(t, quantity.Share, "10 %")
	c.SpotMetal = said(t, quantity.Area, "4 in2")
	c.Film = saidFilm(t, "2-6 mil")
	v := viewCard(c, rulebookLimits())
	lo, hi := v.film()
	if !lo.graced || !hi.graced || !v.number("reduce_up_to").graced {
		t.Error("film and reduction have grace")
	}
	low, _ := v.airRange()
	if v.number("spot_metal").graced || low.graced {
		t.Error("a spot's area and temperatures have none")
	}
}

func TestARecoatTableIsReadByWhatGoesOn(t *testing.T) {
	// recoat = {paint = "1 h - 72 h", filler = "12 h - 7 days"}: polyester has no entry, so paint's.
	c := plainCard("grey-epoxy", "epoxy primer")
	c.Recoat = map[string]sheet.Window{
		"paint":  {Least: saidTime(t, "1 h"), Most: saidTime(t, "72 h"), Written: true},
		"filler": {Least: saidTime(t, "12 h"), Most: saidTime(t, "7 days"), Written: true},
	}
	v := viewCard(c, rulebookLimits())
	for _, tc := range []struct {
		upper       string
		least, most float64 // min
	}{
		{"urethane surfacer", 60, 72 * 60},
		{"polyester surfacer", 60, 72 * 60},
		{"body filler", 12 * 60, 7 * 1440},
		{"finishing putty", 12 * 60, 7 * 1440},
		{"one-part putty", 12 * 60, 7 * 1440},
		{"seam sealer", 60, 72 * 60},
		{"epoxy primer", 60, 72 * 60},
	} {
		t.Run(tc.upper, func(t *testing.T) {
			least, most, any, given := v.recoat(tc.upper)
			if least.iv.Lo != tc.least || most.iv.Hi != tc.most || any || given != "card" || len(least.leaned)+len(most.leaned) != 0 {
				t.Errorf("least %+v most %+v any %v given %s", least, most, any, given)
			}
		})
	}
}

func TestAWindowThatTheCardLeavesOutIsItsKinds(t *testing.T) {
	l := rulebookLimits()
	// epoxy primer: 1 h - 72 h.
	least, most, any, given := viewCard(plainCard("e", "epoxy primer"), l).recoat("urethane surfacer")
	if least.iv.Lo != 60 || most.iv.Hi != 72*60 || any || given != "typical" || most.leaned[0] != "e.recoat" {
		t.Errorf("least %+v most %+v any %v given %s", least, most, any, given)
	}
	// lacquer primer: 15 min - any.
	if _, most, any, _ := viewCard(plainCard("e", "lacquer primer"), l).recoat("solvent basecoat"); most.ok || !any {
		t.Errorf("most %+v any %v", most, any)
	}
	// urethane clear: own coats, then from 12 h scuffed: never unsanded.
	least, most, _, _ = viewCard(plainCard("e", "urethane clear"), l).recoat("solvent basecoat")
	if least.iv.Lo != 12*60 || !most.ok || !most.never || most.leaned[0] != "e.recoat" {
		t.Errorf("least %+v most %+v", least, most)
	}
	// One number is the least; the most is then the kind's.
	c := plainCard("e", "epoxy primer")
	c.Recoat = map[string]sheet.Window{"paint": {Least: saidTime(t, "2 h"), Written: true}}
	least, most, _, given = viewCard(c, l).recoat("urethane surfacer")
	if least.source != "card" || most.source != "typical" || given != "card" {
		t.Errorf("least %+v most %+v given %s", least, most, given)
	}
	// A least beyond the kind's most leaves no most.
	c.Recoat["paint"] = sheet.Window{Least: saidTime(t, "5 days"), Written: true}
	if _, most, _, _ = viewCard(c, l).recoat("urethane surfacer"); most.ok {
		t.Errorf("most %+v", most)
	}
	// weld-through primer has no typical window.
	if _, _, _, given = viewCard(plainCard("e", "weld-through primer"), l).recoat("urethane surfacer"); given != "none" {
		t.Errorf("given %s", given)
	}
}

func TestATypicalDeadTimeGivesWayToTheCardsWindow(t *testing.T) {
	l := rulebookLimits()
	c := plainCard("red", "single-stage enamel") // dead 4-48 h
	if n := viewCard(c, l).noRecoat(); n.iv != (quantity.Interval{Lo: 240, Hi: 2880}) || n.source != "typical" {
		t.Errorf("typical %+v", n)
	}
	c.Recoat = map[string]sheet.Window{"paint": {Least: saidTime(t, "8 h"), Any: true, Written: true}}
	if n := viewCard(c, l).noRecoat(); n.ok {
		t.Errorf("a window across it: %+v", n)
	}
	c.Recoat = map[string]sheet.Window{"paint": {Least: saidTime(t, "0 h"), Most: saidTime(t, "4 h"), Written: true}}
	if n := viewCard(c, l).noRecoat(); !n.ok {
		t.Error("a window before it leaves it standing")
	}
	c.NoRecoat = saidTime(t, "6 h - 60 h")
	if n := viewCard(c, l).noRecoat(); n.source != "card" || n.iv.Lo != 360 {
		t.Errorf("card %+v", n)
	}
}

func TestFlashAndWhatStillJoinsALayer(t *testing.T) {
	l := rulebookLimits()
	c := plainCard("s", "urethane surfacer")
	c.Flash = saidTime(t, "10-15 min")
	v := viewCard(c, l)
	if n := v.flash(); n.iv != quantity.Exactly(10) {
		t.Errorf("the short end of the card's flash: %+v", n)
	}
	if n := v.flashMost(); n.iv.Hi != 60 || n.source != "typical" || n.leaned[0] != "s.flash_most" { // typical 60 min
		t.Errorf("flash_most %+v", n)
	}
	b := plainCard("b", "solvent basecoat") // any time in its window: 24 h
	if n := viewCard(b, l).flashMost(); n.iv.Hi != 24*60 {
		t.Errorf("basecoat %+v", n)
	}
	b.Recoat = map[string]sheet.Window{"paint": {Least: saidTime(t, "15 min"), Any: true, Written: true}}
	if n := viewCard(b, l).flashMost(); !n.ok || !n.iv.IsOpen() {
		t.Errorf("basecoat with no upper end %+v", n)
	}
	w := viewCard(plainCard("w", "waterborne basecoat"), l).flash()
	if w.ok || w.until != "matte" {
		t.Errorf("until matte: %+v", w)
	}
}

func TestACardsGritHoldsOnMetalAndAKindsOnFilmsOnly(t *testing.T) {
	l := rulebookLimits()
	c := plainCard("s", "urethane surfacer")
	if coarse, fine := viewCard(c, l).gritBeneath(true); coarse.ok || fine.ok {
		t.Error("a kind says nothing of metal")
	}
	// P120 - P500: 125 and 30.2 µm (ISO 6344; P500's decimal from memory).
	coarse, fine := viewCard(c, l).gritBeneath(false)
	if coarse.iv.Lo != 125 || fine.iv.Lo != 30.2 || coarse.source != "typical" || coarse.leaned[0] != "s.grit_beneath" {
		t.Errorf("coarse %+v fine %+v", coarse, fine)
	}
	r, err := quantity.ParseAbrasiveRange("P80-P180")
	if err != nil {
		t.Fatal(err)
	}
	c.GritBeneath = r
	coarse, fine = viewCard(c, l).gritBeneath(true)
	if coarse.iv.Lo != 201 || fine.iv.Lo != 82 || coarse.source != "card" {
		t.Errorf("coarse %+v fine %+v", coarse, fine)
	}
	p80, _ := quantity.ParseAbrasive("P80")
	cmp := compareGrades("most", p80, fine)
	// 201 ÷ 82 = 2.451...
	if cmp.Measured.Text != "P80" || cmp.Limit.Text != "P180" || cmp.Over.Lo < 2.45 || cmp.Over.Lo > 2.452 {
		t.Errorf("%+v", cmp)
	}
}

func TestAWeatherRangeNotOnTheCardIsTypicalAndLeanedOn(t *testing.T) {
	l := rulebookLimits()
	low, high := viewCard(plainCard("c", "urethane clear"), l).airRange()
	if low.source != "typical" || low.leaned[0] != "c.air" || low.measure().Text != "60 °F" || high.measure().Text != "95 °F" {
		t.Errorf("%+v %+v", low, high)
	}
	for kind, want := range map[string]string{
		"urethane clear": "80 %", "one-part acid primer": "70 %", "two-part wash primer": "70 %",
		"lacquer topcoat": "70 %", "lacquer primer": "70 %", "waterborne basecoat": "70 %", "epoxy primer": "80 %",
	} {
		if n := viewCard(plainCard("c", kind), l).humidityMost(); n.measure().Text != want || n.leaned[0] != "c.humidity" {
			t.Errorf("%s: %+v", kind, n)
		}
	}
	c := plainCard("c", "urethane clear")
	c.Air = said(t, quantity.Temperature, "up to 90 F")
	if low, high := viewCard(c, l).airRange(); low.ok || high.source != "card" || high.measure().Text != "90 °F" {
		t.Errorf("only a warm end: %+v %+v", low, high)
	}
}

func TestABakeNotOnTheCardIsTheTypicalOne(t *testing.T) {
	l := rulebookLimits()
	c := plainCard("s", "urethane surfacer")
	b := viewCard(c, l).bake()
	if b.metal.measure().Text != "140 °F" || b.time.iv.Lo != 30 || b.flashFirst.iv.Lo != 10 || b.maxMetal.ok || b.metal.source != "typical" {
		t.Errorf("%+v", b)
	}
	c.Bake = sheet.BakeSchedule{Metal: said(t, quantity.Temperature, "150 F"), For: saidTime(t, "20 min"), MaxMetal: said(t, quantity.Temperature, "160 F"), Written: true}
	b = viewCard(c, l).bake()
	if b.metal.source != "card" || b.time.iv.Lo != 20 || b.maxMetal.measure().Text != "160 °F" || b.flashFirst.source != "typical" {
		t.Errorf("%+v", b)
	}
}

func TestTheCardsMixSaysWhetherItIsTwoPart(t *testing.T) {
	l := rulebookLimits()
	for _, tc := range []struct {
		kind, mix string
		want      bool
	}{
		{"epoxy primer", "", true},
		{"solvent basecoat", "", false},
		{"solvent basecoat", "1:0:1", false},
		{"solvent basecoat", "4:1", true},
		{"chip guard", "1", false},
		{"chip guard", "", true},
		{"urethane clear", "1", true}, // a mistake to be told, not a one-part clear
		{"body filler", "2 %", true},
	} {
		t.Run(tc.kind+" "+tc.mix, func(t *testing.T) {
			c := plainCard("x", tc.kind)
			if tc.mix != "" {
				c.Mix = saidMix(t, tc.mix)
			}
			v := viewCard(c, l)
			if v.twoPart() != tc.want || v.traits().TwoPart != tc.want {
				t.Errorf("got %v", v.twoPart())
			}
		})
	}
}

func TestACardsTraitsAreItsKindsWithItsOwnSay(t *testing.T) {
	c := plainCard("f", "body filler")
	c.WetSandable = sheet.Flag{Value: true, Written: true}
	c.Sandable = sheet.Flag{Value: false, Written: true}
	c.Hazards = saidList("silica", "styrene")
	tr := viewCard(c, rulebookLimits()).traits()
	if !tr.WetSandable || tr.Sandable || !tr.Pore || tr.Class != "filler" {
		t.Errorf("%+v", tr)
	}
	if want := []string{"peroxide", "silica", "styrene"}; !reflect.DeepEqual(tr.Hazards, want) {
		t.Errorf("hazards %v", tr.Hazards)
	}
	if steel := kindTraits("mild steel"); !steel.Metal || !steel.Steel || steel.Class != "substrate" {
		t.Errorf("mild steel %+v", steel)
	}
}

func TestLimitsAreTheHousesWhereItHasItsOwn(t *testing.T) {
	s := &sheet.Sheet{Work: "collision", House: &sheet.House{Limits: []sheet.HouseLimit{{Name: "bare_steel_open", Text: "4 h"}}}}
	l := limitsOf(s)
	d := l.document()
	if m := d["bare_steel_open"]; m.Source != "house" || m.Measure.Text != "4 h" || m.Half != 120 {
		t.Errorf("%+v", m)
	}
	if m := d["stack_max"]; m.Source != "limit" || m.Measure.Text != "12 mil" { // collision; restoration has 20
		t.Errorf("%+v", m)
	}
	if m := rulebookLimits().document()["stack_max"]; m.Measure.Text != "20 mil" {
		t.Errorf("%+v", m)
	}
	// Grace of 10 %: 0.9 and 1.1.
	if m := d["grace"]; *m.Low != 0.9 || *m.High != 1.1 {
		t.Errorf("%+v", m)
	}
	if m := d["grade_step"]; m.Low != nil || m.Measure.Lo != 2.7 {
		t.Errorf("%+v", m)
	}
	if m := d["metal_steel_fine"]; m.Measure.Text != "P180" || m.Measure.Lo != 82 {
		t.Errorf("%+v", m)
	}
	if m := d["dew_margin"]; m.Measure.Lo != 3 || m.Measure.Text != "3 °C" {
		t.Errorf("%+v", m)
	}
}
