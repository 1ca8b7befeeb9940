package stack_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// The sheets of testdata/stack are small ones whose facts are worked out by
// hand from the rules of the stack, with the arithmetic beside every number.

// worked is one of those sheets carried out.
type worked struct {
	t *testing.T
	*stack.Document
}

func work(t *testing.T, name string) worked {
	t.Helper()
	file := filepath.Join("..", "..", "testdata", "stack", name+".toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, name+".toml", text)
	for _, p := range problems {
		t.Fatalf("%s:%d: %s", name, p.Place.Line, p.Message)
	}
	d, problems := stack.Build(s)
	for _, p := range problems {
		t.Fatalf("%s:%d: %s", name, p.Place.Line, p.Message)
	}
	return worked{t, d}
}

// find is the one entry that matches.
func find[T any](t *testing.T, list []T, what string, match func(T) bool) T {
	t.Helper()
	i := slices.IndexFunc(list, match)
	if i < 0 {
		t.Fatalf("there is no %s", what)
	}
	return list[i]
}

func (w worked) contact(id string) stack.Contact {
	w.t.Helper()
	return find(w.t, w.Contacts, "contact "+id, func(c stack.Contact) bool { return c.ID == id })
}

func (w worked) abrasion(id string) stack.Abrasion {
	w.t.Helper()
	return find(w.t, w.Abrasions, "abrasion "+id, func(a stack.Abrasion) bool { return a.ID == id })
}

func (w worked) exposure(id string) stack.Exposure {
	w.t.Helper()
	return find(w.t, w.Exposures, "exposure "+id, func(x stack.Exposure) bool { return x.ID == id })
}

func (w worked) zone(name string) stack.Zone {
	w.t.Helper()
	return find(w.t, w.Zones, "zone "+name, func(z stack.Zone) bool { return z.Name == name })
}

func (w worked) layer(id string) stack.Layer {
	w.t.Helper()
	return find(w.t, w.Layers, "layer "+id, func(l stack.Layer) bool { return l.ID == id })
}

func (w worked) lay(step int) stack.Lay {
	w.t.Helper()
	return find(w.t, w.Lays, fmt.Sprintf("lay %d", step), func(l stack.Lay) bool { return l.Step == step })
}

func (w worked) polish(step int) stack.Polish {
	w.t.Helper()
	return find(w.t, w.Polishes, fmt.Sprintf("polish %d", step), func(p stack.Polish) bool { return p.Step == step })
}

func (w worked) baked(step int, layer string) stack.BakedFilm {
	w.t.Helper()
	bake := find(w.t, w.Bakes, fmt.Sprintf("bake %d", step), func(b stack.Bake) bool { return b.Step == step })
	return find(w.t, bake.Films, "baked film "+layer, func(f stack.BakedFilm) bool { return f.Layer == layer })
}

var open = math.Inf(1)

// near: to the nine digits of the document.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-8*math.Max(1, math.Abs(b)) }

// is checks both ends of a measure, in the canonical unit; hi may be open.
func (w worked) is(what string, m stack.Measure, lo, hi float64) {
	w.t.Helper()
	w.within(what, m, lo, hi, 0)
}

func (w worked) within(what string, m stack.Measure, lo, hi, tolerance float64) {
	w.t.Helper()
	got := open
	if m.Hi != nil {
		got = *m.Hi
	}
	same := func(a, b float64) bool { return a == b || near(a, b) || math.Abs(a-b) <= tolerance }
	if !same(m.Lo, lo) || !same(got, hi) {
		w.t.Errorf("%s is %v to %v, worked out %v to %v", what, m.Lo, got, lo, hi)
	}
	if wantOpen := lo == 0 && hi == open; m.Open != wantOpen {
		w.t.Errorf("%s: open is %v, worked out %v", what, m.Open, wantOpen)
	}
}

// held checks both sides of a comparison with single numbers.
func (w worked) held(what string, c *stack.Comparison, measured, limit float64) {
	w.t.Helper()
	if c == nil {
		w.t.Errorf("%s: nothing is compared, worked out %v against %v", what, measured, limit)
		return
	}
	w.is(what, c.Measured, measured, measured)
	w.is(what+", limit", c.Limit, limit, limit)
}

func (w worked) same(what string, got, want any) {
	w.t.Helper()
	if g, v := fmt.Sprintf("%v", got), fmt.Sprintf("%v", want); g != v {
		w.t.Errorf("%s is %s, worked out %s", what, g, v)
	}
}

func TestFilmsLaidGoByWetFilmSolidsReducerAndCoats(t *testing.T) {
	w := work(t, "film-laid")
	// No wet film written: the card's 1-2 mil stands in.
	w.is("tie", w.layer("1:tie").FilmLaid, 1, 2)
	w.same("tie assumed", w.layer("1:tie").FilmAssumed, true)
	// Step 2: 48 % ÷ (1 + 0.20) = 40 %; 4 mil × 0.40 = 1.6 mil a coat; two coats 3.2 mil.
	w.is("step 2, a coat", w.lay(2).CoatDry, 1.6, 1.6)
	w.is("step 2, solids", w.Mixes[1].Solids, 40, 40)
	// Step 3, 20 min later (flash_most 60 min, typical): same layer. 48 %, no reducer: 3-5 mil × 0.48 = 1.44-2.4 mil.
	w.is("step 3, a coat", w.lay(3).CoatDry, 1.44, 2.4)
	build := w.layer("2:build")
	w.same("build's steps", build.Steps, []int{2, 3})
	w.same("build's coats", build.Coats, 3)
	// 3.2 + 1.44 = 4.64; 3.2 + 2.4 = 5.6.
	w.is("build", build.FilmLaid, 4.64, 5.6)
	w.same("build assumed", build.FilmAssumed, false)
	// A one-part cut with its own volume: r = 1; a basecoat's typical 22 % ÷ 2 = 11 %; 2 mil × 0.11 × 3 coats = 0.66 mil.
	base := w.layer("4:base")
	w.is("base", base.FilmLaid, 0.66, 0.66)
	if base.Thin == nil || !slices.Contains(base.Thin.Leaned, "base.volume_solids") {
		t.Errorf("the base's film rests on a typical solids, and does not say so: %v", base.Thin)
	}
	// 100 µm = 100 ÷ 25.4 mil. r = 0.5 ÷ (2 + 1) = 1/6; 50 % ÷ (7/6) = 300/7 %; two coats:
	// 2 × 3.93700787 × 0.428571429 = 3.37457818 mil.
	w.is("gloss", w.layer("5:gloss").FilmLaid, 2*100/25.4*3/7, 2*100/25.4*3/7)
	// Filler has the thickness that is spread.
	w.is("putty", w.layer("6:putty").FilmLaid, 20, 30)
}

func TestFilmsLeftAreWhatAbrasionsMayTakeOff(t *testing.T) {
	w := work(t, "film-left")
	left := func(id string, before, after [2]float64) {
		t.Helper()
		a := w.abrasion(id)
		w.is(id+" before", a.LeftBefore, before[0], before[1])
		w.is(id+" after", a.LeftAfter, after[0], after[1])
		w.same(id+" could be through", a.CouldCutThrough, after[0] == 0)
	}
	// Three coats of 8 mil wet at 50 %: 12 mil.
	// Block P180, no tool: 1.5-4 mil; at an edge twice, 3-8 mil.
	left("flat/4", [2]float64{12, 12}, [2]float64{8, 10.5})
	left("rim/4", [2]float64{12, 12}, [2]float64{4, 9})
	// Sand P320: 0.7-2 mil, half with an orbital sander, 0.35-1; at the edge 0.7-2.
	left("flat/5", [2]float64{8, 10.5}, [2]float64{7, 10.15})
	left("rim/5", [2]float64{4, 9}, [2]float64{2, 8.3})
	// P220 lies between the rows P180 and P320: the nearest coarser, P180, holds: 1.5-4; 3-8 at the edge.
	// flat: 7 − 4 = 3, 10.15 − 1.5 = 8.65. rim: 2 − 8 is under nothing, 0; 8.3 − 3 = 5.3.
	left("flat/6", [2]float64{7, 10.15}, [2]float64{3, 8.65})
	left("rim/6", [2]float64{2, 8.3}, [2]float64{0, 5.3})
	// Written: 0.1 mil, at an edge too.
	left("flat/7", [2]float64{3, 8.65}, [2]float64{2.9, 8.55})
	left("rim/7", [2]float64{0, 5.3}, [2]float64{0, 5.2})
	// 6 mil off at most 5.2: none left, and nothing is carried into the film beneath.
	left("rim/8", [2]float64{0, 5.2}, [2]float64{0, 0})
	build := w.layer("3:build").FilmLeft
	w.is("build left, flat", build["flat"], 2.9, 8.55)
	w.is("build left, rim", build["rim"], 0, 0)
	// The stack keeps acid primer whatever is done to it: 4 mil × 10 % = 0.4 mil.
	for _, zone := range []string{"flat", "rim"} {
		w.is("acid left, "+zone, w.layer("1:acid").FilmLeft[zone], 0.4, 0.4)
	}
}

func TestAGapIsOpenUnlessItsWaitIsWritten(t *testing.T) {
	w := work(t, "gaps")
	// Step 1 has no then_wait; the 10 min and 5 min of a clean say nothing of the primer's wait.
	w.is("gap to 3", w.contact("panel/3:base").Gap, 0, open)
	// From the end of the wipe: its then_wait alone.
	w.is("wipe before 3", w.contact("panel/3:base").LastWipe.Age, 5, 5)
	// then_wait 20 + tacking 5.
	w.is("gap to 5", w.contact("panel/5:gloss").Gap, 25, 25)
	// Step 5 begins at 10 + 5 + 20 + 5 = 40 min and lasts for 12 + 10 × (2 − 1) = 22 min.
	w.is("laid at 5", w.layer("5:gloss").LaidAt, 62, 62)
	// Overnight is 12 to 16 h: age at the sanding 720-960 min; 10 min of sanding later the next film.
	w.is("age at 7", *w.abrasion("panel/7").Age, 720, 960)
	w.is("gap to 8", w.contact("panel/8:gloss").Gap, 730, 970)
	// "until matte" leaves the clock open.
	w.is("gap to 9", w.contact("panel/9:base").Gap, 0, open)
	// "until dry to touch" and a wait of 1 h: at least 1 h.
	w.is("gap to 11", w.contact("panel/11:gloss").Gap, 60, open)
	// "same day" is 0 to 8 h.
	w.is("age at 12", *w.abrasion("panel/12").Age, 0, 480)

	var told []string
	for _, x := range w.Waits {
		told = append(told, x.ID+" "+x.Condition)
	}
	w.same("waits", strings.Join(told, ", "), "panel/3:base , panel/9:base until matte")
}

func TestTheClockAddsRangesAndFlashesStandIn(t *testing.T) {
	w := work(t, "clock")
	start := func(step int, lo, hi float64) {
		t.Helper()
		w.is(fmt.Sprintf("start of %d", step), w.Steps[step-1].Start, lo, hi)
	}
	// Three coats, two flashes of 15-20 min: 30-40 min.
	w.is("end of 1", w.Steps[0].End, 30, 40)
	// And 1-2 h: 90-160.
	start(2, 90, 160)
	w.is("age at 2", *w.abrasion("panel/2").Age, 60, 120)
	// 20 min of sanding, then at least 24 h: 110 + 1440 = 1550.
	start(3, 110, 180)
	start(4, 1550, open)
	// 60 + 20 + 1440 = 1520.
	w.is("gap to 4", w.contact("panel/4:build").Gap, 1520, open)
	// Two coats with a urethane surfacer's typical flash of 10 min: 1560.
	w.is("laid at 4", w.layer("4:build").LaidAt, 1560, open)
	// An open store before it does not blur a later wait: 3 h from the last coat.
	w.is("age at 5", *w.abrasion("panel/5").Age, 180, 180)
}

func TestWaitsAreScaledPieceByPieceFromTheNearerEnd(t *testing.T) {
	w := work(t, "effective")
	eff := func(id string, gap [2]float64, lo, hi, slowest, fastest float64) {
		t.Helper()
		c := w.contact(id)
		w.is(id+" gap", c.Gap, gap[0], gap[1])
		w.is(id+" effective", c.GapEffective, lo, hi)
		w.is(id+" factor", c.Factor, fastest, slowest)
	}
	// Times hold at 68-77 °F = 20-25 °C. 50 °F = 10 °C: 2^((20 − 10)/10) = 2, so an hour counts 30 min;
	// 70 °F is within: 120 min. 180 min count as 150; 180 ÷ 150 = 1.2.
	eff("panel/3:warmcard", [2]float64{180, 180}, 150, 150, 1.2, 1.2)
	w.held("least recoat, scaled", w.contact("panel/3:warmcard").RecoatLeastWarm, 150, 60)
	// times_at 60 °F; 78 °F is 18 °F = 10 °C warmer: twice as fast, 2 h count as 4 h.
	a := w.abrasion("panel/4")
	w.is("age at 4", *a.Age, 120, 120)
	w.held("age at 4, scaled", &a.SandSlowed.Compared, 240, 180)
	w.is("factor at 4", a.SandSlowed.Factor, 0.5, 0.5)
	// 240, and an hour at 32-50 °F = 0-10 °C against 60 °F = 15.555... °C: it counts
	// 60 ÷ 2^(1.5555...) = 20.41 to 60 ÷ 2^(0.5555...) = 40.82 min.
	t60 := (60 - 32) / 1.8
	lo, hi := 240+60/math.Exp2(t60/10), 240+60/math.Exp2((t60-10)/10)
	eff("panel/6:epoxy", [2]float64{180, 180}, lo, hi, 180/lo, 180/hi)
	// 95 °F = 35 °C is 10 °C over the warmer end: 30 min count 60. An hour at 0-10 °C: 20 and 10 °C under the
	// colder end, ÷ 4 and ÷ 2: 15-30 min. 90 min count 75-90.
	eff("panel/8:water", [2]float64{90, 90}, 75, 90, 1.2, 1)
	// Waterborne films dry by the air's dampness: not scaled.
	eff("panel/9:epoxy", [2]float64{60, 60}, 60, 60, 1, 1)
}

func TestDewPointsAndTheirMargins(t *testing.T) {
	w := work(t, "dew")
	lay := func(step int, dewLo, dewHi, marginLo, marginHi float64) {
		t.Helper()
		l := w.lay(step)
		w.within(fmt.Sprintf("dew point at %d", step), *l.DewPoint, dewLo, dewHi, 0.03)
		w.within(fmt.Sprintf("margin at %d", step), l.DewMargin.Measured, marginLo, marginHi, 0.03)
		w.is("the margin wanted", l.DewMargin.Limit, 3, 3)
	}
	// Check points of the Magnus form, WMO-No. 8 and ASHRAE's iteration agreeing within 0.03 °C:
	// 25 °C and 60 % → 16.70 °C. 20 − 16.70 = 3.30.
	lay(1, 16.70, 16.70, 3.30, 3.30)
	// 86 °F = 30 °C; 50 % → 18.44, 70 % → 23.93. 30 − 23.93 = 6.07, 30 − 18.44 = 11.56.
	lay(2, 18.44, 23.93, 6.07, 11.56)
	// 5 °C and 85 % → 2.69. 10 − 2.69 = 7.31, 12 − 2.69 = 9.31.
	lay(3, 2.69, 2.69, 7.31, 9.31)
}

func TestExposuresAndWipesCountFromTheEndOfTheirStep(t *testing.T) {
	w := work(t, "exposures")
	x := w.exposure("panel/0-1")
	w.same("what ended the e-coat", x.EndedBy, "strip")
	w.is("the e-coat before anything is written", x.Time, 0, open)
	// From the end of the stripping: its wait 10; clean 5 + 15; sand 20; clean 5 + (10-15); store 60-120: 125-190.
	x = w.exposure("panel/1-7")
	w.is("bare metal", x.Time, 10+5+15+20+5+10+60, 10+5+15+20+5+15+120)
	w.is("bare metal outdoors", x.OutdoorTime, 60, 120)
	w.same("where", x.Where, []string{"booth", "outdoors"})
	w.is("the dampest air", *x.Humidity, 60, 60)
	c := w.contact("panel/7:epoxy")
	// Since the end of the first wipe: 15 + 20 + 5 + (10-15) + (60-120).
	w.same("wipes in its life", len(c.AllWipes), 2)
	w.is("first wipe", c.AllWipes[0].Age, 110, 175)
	// Only the second is since the sanding: (10-15) + (60-120).
	w.same("wipes since the sanding", len(c.Wipes), 1)
	w.is("second wipe", c.LastWipe.Age, 70, 135)
	w.same("what spoiled it", *c.WipeBroken, stack.Broken{Step: 5, Do: "store"})
	// The metal's clock starts anew with the dry sanding at P120: 5 + (10-15) + (60-120).
	w.is("open since sanded", *c.OpenTime, 75, 140)
	w.same("dust", c.Dust, stack.Dust{Abraded: true, Step: 3, Cleaned: true, Tacked: true})
	// Nothing is written between.
	w.is("primer till the base", w.exposure("panel/7-9").Time, 0, open)
	w.is("wipe before the base", w.contact("panel/9:base").LastWipe.Age, 0, open)
	// To the sheet's end.
	w.is("base at the end", w.exposure("panel/9-0").Time, 60, 60)
}

func TestCutsSplitZonesOffWithTheirFilmsAndAreas(t *testing.T) {
	w := work(t, "cuts")
	names := []string{}
	for _, z := range w.Zones {
		names = append(names, z.Name+" < "+z.Parent)
	}
	w.same("zones", names, []string{"panel < ", "metal < panel", "ring < panel", "speck < ring"})
	// 72 in² = 0.5 ft²; 10 − 0.5 − 0.5 = 9.
	w.is("panel's area", w.zone("panel").Area, 9, 9)
	w.is("metal's area", w.zone("metal").Area, 0.5, 0.5)
	// A cut's area not written is anything up to its zone's, and so is what is left of that.
	w.is("ring's area", w.zone("ring").Area, 0, 0.5)
	w.is("speck's area", w.zone("speck").Area, 0, 0.5)
	// `except = "ring"` leaves out what was cut from it too.
	w.same("panel", w.zone("panel").Layers, []string{"0:mild-steel", "0.1:e-coat", "0.2:factory-finish", "5:build"})
	w.same("metal", w.zone("metal").Layers, []string{"0:mild-steel", "4:epoxy", "5:build"})
	w.same("ring", w.zone("ring").Layers, []string{"0:mild-steel", "0.1:e-coat"})
	w.same("speck", w.zone("speck").Layers, []string{"0:mild-steel", "4:epoxy"})
	w.same("step 6", w.Steps[5].Zones, []string{"panel", "metal", "ring", "speck"})
	// The parent loses what was taken off (4-5 − 1); the film cut to is whole until it is sanded itself (0.8 − 0.2).
	w.is("factory finish left", w.layer("0.2:factory-finish").FilmLeft["panel"], 3, 4)
	w.same("where it is left", len(w.layer("0.2:factory-finish").FilmLeft), 1)
	w.is("e-coat under it", w.layer("0.1:e-coat").FilmLeft["panel"], 0.8, 0.8)
	a := w.abrasion("ring/2")
	w.same("ring is cut", a.Cut, true)
	w.same("ring is cut from", a.CutFrom, "factory finish")
	w.is("ring when cut", a.LeftAfter, 0.8, 0.8)
	w.is("ring when sanded", w.abrasion("ring/3").LeftAfter, 0.6, 0.6)
	w.is("e-coat left in the ring", w.layer("0.1:e-coat").FilmLeft["ring"], 0.6, 0.6)
	// From the end of the cutting step, its own 10 min over: its then_wait.
	w.is("metal stands", w.exposure("metal/2-4").Time, 5, 5)
	// A cut's surface is new: this abrasion alone, no touches, dusty.
	c := w.contact("speck/4:epoxy")
	w.same("speck's abrasions", len(c.Abrasions), 1)
	w.same("speck's scratch", c.Scratch.Name, "P320")
	w.same("speck's wipes", len(c.AllWipes), 0)
	w.same("speck's dust", c.Dust, stack.Dust{Abraded: true, Step: 3})
	w.same("speck bared by", c.Tooth.Bared, "cut")
	w.is("gap on metal", w.contact("metal/5:build").Gap, 30, 30)
	// 82 µm ≤ 2.7 × 46.2: the P180 of the cut is gone from the ring.
	ending := find(t, w.Endings, "ending of ring", func(e stack.Ending) bool { return e.Zone == "ring" })
	w.same("ring's scratch", ending.Scratch.Name, "P320")
}

func TestOneCallCutsSeveralZones(t *testing.T) {
	w := work(t, "call")
	names := []string{}
	for _, z := range w.Zones {
		names = append(names, z.Name)
	}
	// 2 + 8 ft² are the whole panel: there is no zone `panel`.
	w.same("zones", names, []string{
		"dent", "bare", "through (dent)", "through (bare)", "dent cut to factory finish",
		"through (dent) cut to mild steel", "through (bare) cut to mild steel",
	})
	w.same("through (dent) when cut", w.abrasion("through (dent)/3").Layer, "1:epoxy")
	w.same("through (dent)", w.zone("through (dent)").Layers, []string{"0:mild-steel", "0.1:factory-finish", "1:epoxy"})
	w.same("dent cut to factory finish", w.zone("dent cut to factory finish").Layers, []string{"0:mild-steel", "0.1:factory-finish"})
	// The call alone means all that it cut.
	w.same("step 4", w.Steps[3].Zones, []string{"through (dent)", "through (bare)"})
	// Without `dent` and all that was cut from it.
	w.same("step 6", w.Steps[5].Zones, []string{"bare", "through (bare)", "through (bare) cut to mild steel"})
	// The surfacer waited a day; the primer under the cut was laid 2 h before that: 1440 + 120.
	w.is("gap on the surfacer", w.contact("bare/6:epoxy").Gap, 1440, 1440)
	w.is("gap on the primer laid bare", w.contact("through (bare)/6:epoxy").Gap, 1560, 1560)
	w.same("what is under the new spot", w.contact("through (bare) cut to mild steel/6:epoxy").Lower, "0:mild-steel")
}

func TestStepsInARowAreOneLayer(t *testing.T) {
	w := work(t, "joining")
	steps := map[string]string{}
	for _, l := range w.Layers {
		if l.Step > 0 {
			steps[l.ID] = fmt.Sprint(l.Steps)
		}
	}
	w.same("layers", steps, map[string]string{
		// 60 min is no longer than flash_most; 61 min is; step 4 reaches the panel, which step 3 left out.
		"1:epoxy": "[1 2]", "3:epoxy": "[3]", "4:epoxy": "[4]",
		// A basecoat joins within the most of its recoat, 8 h, with tacking between.
		"5:base": "[5 7 8]",
		// A gap that nobody wrote joins; masking between does not.
		"9:gloss": "[9 10]", "12:gloss": "[12]",
	})
	// From the last coat in that very zone: on the panel that is step 1: 60 + 61 + 20.
	w.is("gap on the panel", w.contact("panel/4:epoxy").Gap, 141, 141)
	w.is("gap on the spot", w.contact("spot/4:epoxy").Gap, 20, 20)
	w.is("gap to 3", w.contact("spot/3:epoxy").Gap, 61, 61)
	// Within a layer a gap is held to the flash.
	w.held("step 2 joins", w.lay(2).Joins, 60, 15)
	w.held("step 8 joins", w.lay(8).Joins, 5, 8)
	w.is("step 10 joins", w.lay(10).Joins.Measured, 0, open)
	// 45-75 + 1.
	w.is("gap to 12", w.contact("panel/12:gloss").Gap, 46, 76)
}

func TestABakeCountsWhenItMeetsTheScheduleAndHalfAnHourAfter(t *testing.T) {
	w := work(t, "bakes")
	f := w.baked(2, "1:build")
	w.same("to the card", f.ToCard, true)
	w.held("flash before it", f.FlashFirst, 10, 15)
	// Sanded at 10 + 30 + 29 = 69 min, when 180 are wanted: the bake is relied on.
	w.is("age at 3", *w.abrasion("panel/3").Age, 69, 69)
	w.same("relied on", f.ReliedOn, true)
	w.same("relied on by", f.ReliedStep, 3)
	// 29 min after its end it does not count yet; a minute of sanding later it does.
	w.same("rested at 3", w.abrasion("panel/3").SandAfterBaked, false)
	w.same("settled at 3", w.abrasion("panel/3").Settling.Baked, false)
	w.same("rested at 4", w.abrasion("panel/4").SandAfterBaked, true)
	w.same("settled at 4", w.abrasion("panel/4").Settling.Baked, true)
	w.same("rested at 5", w.contact("panel/5:gloss").BakedFull, true)
	// 130-140 °F may miss the 140 °F.
	second := w.baked(6, "5:gloss")
	w.same("to the card, at 6", second.ToCard, false)
	w.same("first bake of the gloss", second.LaidSinceLastBake, true)
	w.same("second bake of the surfacer", w.baked(6, "1:build").LaidSinceLastBake, false)
	// So its own 20 h hold, from the last coat: 15 + 30 + 120.
	w.held("polish at 7", w.polish(7).PolishAfter, 165, 1200)
	w.held("since the bake, at 7", w.polish(7).SinceBake, 120, 60)
	// 60 °C = 140 °F for 40 min meets it: then an hour from the bake's end is wanted, and 50 min passed.
	w.same("to the card, at 9", w.baked(9, "8:gloss").ToCard, true)
	w.held("polish at 10", w.polish(10).PolishAfter, 50, 60)
}

func TestStripsBeginASurfaceAnew(t *testing.T) {
	w := work(t, "strips")
	took := func(id string, want ...string) {
		t.Helper()
		s := find(t, w.Strips, "strip "+id, func(s stack.Strip) bool { return s.ID == id })
		var got []string
		for _, f := range s.Took {
			got = append(got, f.Layer)
		}
		w.same(id+" took", got, want)
	}
	took("low/2", "0.3:two-part-refinish")
	took("mid/3", "0.3:two-part-refinish", "0.2:factory-finish")
	took("panel/4", "0.3:two-part-refinish", "0.2:factory-finish", "0.1:e-coat")
	took("mid/6", "5:epoxy", "0.1:e-coat")
	// What it stops at is left whole: a factory finish of nobody's writing is 3.5-6 mil.
	left := w.layer("0.2:factory-finish").FilmLeft
	w.same("zones with factory finish", len(left), 1)
	w.is("factory finish left", left["low"], 3.5, 6)

	c := w.contact("low/5:epoxy") // a razor leaves neither tooth nor dust
	w.same("low lies on", c.Lower, "0.2:factory-finish")
	w.same("low abraded", c.Abraded, false)
	w.same("low dust", c.Dust.Abraded, false)
	c = w.contact("mid/5:epoxy") // a sander leaves its tooth, but has not sanded
	w.same("mid lies on", c.Lower, "0.1:e-coat")
	w.same("mid abraded", c.Abraded, true)
	w.same("mid sanded", c.Sanded, false)
	w.same("mid scratch", c.Scratch.Name, "P80")
	w.same("mid dust", c.Dust, stack.Dust{Abraded: true, Step: 3})
	w.same("mid stripped later", c.Stripped, true)
	c = w.contact("panel/5:epoxy") // a strip disc leaves dust and no tooth
	w.same("panel's tooth", c.Tooth.By, "strip disc")
	w.same("panel's scratch", c.Scratch == nil, true)
	w.same("panel's dust", c.Dust, stack.Dust{Abraded: true, Step: 4})
	w.same("panel's first film", c.FirstFilm, true)
	c = w.contact("mid/7:epoxy")
	w.same("mid's tooth", c.Tooth.By, "grit blast")
	w.same("mid blasted", c.Prep.Blasted, true)
	w.same("mid's first film", c.FirstFilm, false)
	w.same("mid at the end", w.zone("mid").Layers, []string{"0:mild-steel", "7:epoxy"})
	w.same("stripped later", w.layer("5:epoxy").StrippedLater, []string{"mid"})
}

func TestScratchesGoWhenAGradeStepTakesThemAway(t *testing.T) {
	w := work(t, "scratches")
	c := w.contact("a/8:build")
	// P80 201 µm ≤ 2.7 × P180 82 = 221.4: gone. P180 82 ≤ 2.7 × P320 46.2 = 124.74: gone.
	w.same("a's scratch", c.Scratch.Name, "P320")
	w.same("a's falls", len(c.Sequence), 2)
	w.held("P80 to P180", &c.Sequence[0].Fall, 201.0/82, 2.7)
	w.held("P180 to P320", &c.Sequence[1].Fall, 82/46.2, 2.7)
	c = w.contact("b/8:build")
	// 201 > 124.74: the P80 is still there under the P320.
	w.same("b's scratch", c.Scratch.Name, "P80")
	w.same("b's grip", c.Grip.Name, "P320")
	w.held("P80 to P320", &c.Sequence[0].Fall, 201/46.2, 2.7)
	// In two steps: no coarser than 2.7 × 46.2 = 124.7 and no finer than 201 ÷ 2.7 = 74.4; the middle is
	// √(201 × 46.2) = 96.4 µm: P150 (100) is nearer than P180 (82).
	w.same("between", c.Sequence[0].Between, "P150")
	c = w.contact("c/8:build")
	// A scuff coarser than P220 counts as a sand; a finer one leaves no scratch and takes none away.
	w.same("c's scratch", c.Scratch.Name, "P120")
	w.same("c's grip", c.Grip.Name, "P320")
	w.same("c sanded", c.Sanded, true)
	w.same("c's falls", len(c.Sequence), 0)
	c = w.contact("panel/8:build")
	w.same("panel's scratch", c.Scratch == nil, true)
	w.same("panel's grip", c.Grip.Name, "fine pad")
	w.same("panel abraded", c.Abraded, true)
	w.same("panel sanded", c.Sanded, false)
}

func TestAFilmUnderACutKeepsItsAge(t *testing.T) {
	w := work(t, "ages")
	// 7 mil wet × 50 % × 2 coats = 7 mil, over the card's 6: settling counts twice, 2 × 16 h = 1920 min.
	w.is("build", w.layer("1:build").FilmLaid, 7, 7)
	w.is("sealer's age at 3", *w.abrasion("panel/3").Age, 300, 300)
	// From the surfacer's last coat: 4 h, and the sealer's 5 h.
	ring := w.abrasion("ring/3")
	w.is("surfacer's age at 3", *ring.Age, 540, 540)
	w.held("sand_after at 3", ring.SandAfter, 540, 180)
	w.same("doubled", ring.Settling.Doubled, true)
	w.held("settling at 3", ring.Settling.Age, 540, 1920)
	w.is("surfacer in the ring", w.layer("1:build").FilmLeft["ring"], 7, 7)
	// 540 + 30 of sanding + 10 of waiting; over the sealer 300 + 40.
	w.is("gap in the ring", w.contact("ring/4:top").Gap, 580, 580)
	w.is("gap elsewhere", w.contact("panel/4:top").Gap, 340, 340)
	w.held("settling at 4", w.contact("ring/4:top").SettleLower.Age, 580, 1920)
	// From the end of the cutting step.
	w.is("the ring stands", w.exposure("ring/3-4").Time, 10, 10)
}

func TestCoatsOnAPartBakedAndThenCutThrough(t *testing.T) {
	w := work(t, "partial")
	// 4 mil × 50 % = 2 mil a coat: one coat on the panel, two on the spot, of which 0.5 is sanded off.
	build := w.layer("2:build")
	w.same("build's steps", build.Steps, []int{2, 3})
	w.is("build left on the panel", build.FilmLeft["panel"], 2, 2)
	w.is("build left on the spot", build.FilmLeft["spot"], 3.5, 3.5)
	w.same("zones with build", len(build.FilmLeft), 2)
	// Cut to what a call laid: 3 mil × 50 % = 1.5 mil, whole. 1 − 0.25 ft².
	w.is("primer in the ring", w.layer("1:tie").FilmLeft["ring"], 1.5, 1.5)
	w.is("ring's area", w.zone("ring").Area, 0.25, 0.25)
	w.is("spot's area", w.zone("spot").Area, 0.75, 0.75)
	// The ring is younger than the bake, its primer is not: 140 °F for 30 min is the usual schedule, an hour ago.
	a := w.abrasion("ring/5")
	w.same("rested", a.SandAfterBaked, true)
	// 60 + 10 + 20 + 30 + 60.
	w.is("primer's age at 5", *a.Age, 180, 180)
	w.is("80 grit is CAMI", a.Grit.Microns, 192, 192)
	c := w.contact("ring/6:gloss")
	w.same("ring lies on", c.Lower, "1:tie")
	w.same("ring baked", c.BakedFull, true)
	w.is("gap in the ring", c.Gap, 180, 180)
	// On the spot from the second coat, 20 + 30 + 60; on the panel from the first, 10 more.
	w.is("gap on the spot", w.contact("spot/6:gloss").Gap, 110, 110)
	w.is("gap on the panel", w.contact("panel/6:gloss").Gap, 120, 120)
	// What fades out in a zone fades out in what was cut from it.
	w.same("fades", w.layer("6:gloss").Fades, []string{"spot", "ring"})
}
