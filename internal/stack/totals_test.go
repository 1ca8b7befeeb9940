package stack

import (
	"testing"

	"guidecoat/internal/quantity"
)

// zoneWith is a document of one zone carrying those layers, metal first.
func zoneWith(layers ...Layer) *Document {
	d := &Document{LayersByID: map[string]Layer{}}
	z := Zone{Name: "panel"}
	for _, l := range layers {
		d.LayersByID[l.ID] = l
		z.Layers = append(z.Layers, l.ID)
	}
	d.Zones = []Zone{z}
	d.Endings = []Ending{{ID: "panel/9-0", Zone: "panel"}}
	return d
}

// filmOf is a layer of that kind with that film left on the zone "panel".
func filmOf(t *testing.T, id, kind, left string) Layer {
	t.Helper()
	l := Layer{ID: id, Kind: kind, Traits: kindTraits(kind), Step: 1, Card: id}
	m := openMeasure(quantity.Film, "mil")
	if left != "" {
		q := amount(t, quantity.Film, left)
		m = measure(q.Interval, quantity.Film, q.Unit)
	}
	l.FilmLeft, l.FilmLaid = map[string]Measure{"panel": m}, m
	return l
}

func existing(l Layer, assumed bool) Layer {
	l.Existing, l.Step, l.Card, l.FilmAssumed = true, 0, "", assumed
	return l
}

func totalOf(t *testing.T, layers ...Layer) Total {
	t.Helper()
	d := zoneWith(layers...)
	return d.totals(map[string]*cardView{}, rulebookLimits())[0]
}

func TestPaintIsCountedApartFromFillersAndHeavyCoatings(t *testing.T) {
	steel := Layer{ID: "0:mild-steel", Kind: "mild steel", Traits: kindTraits("mild steel"), Substrate: true}
	got := totalOf(t, steel,
		filmOf(t, "1:e", "epoxy primer", "2 mil"),
		filmOf(t, "2:f", "body filler", "100 mil"),
		filmOf(t, "3:p", "finishing putty", "20 mil"),
		filmOf(t, "4:s", "polyester surfacer", "8 mil"),
		filmOf(t, "5:g", "seam sealer", "60 mil"),
		filmOf(t, "6:b", "solvent basecoat", "1 mil"),
		filmOf(t, "7:c", "urethane clear", "2.5 mil"),
		filmOf(t, "8:l", "bed liner", "30 mil"),
	)
	// 2 + 8 + 1 + 2.5 = 13.5 mil of paint; 100 + 20 = 120 mil of filler. 13.5 ÷ 20 = 0.675, 120 ÷ 250 = 0.48.
	if got.Paint.Lo != 13.5 || got.StackMax.Over.Lo != 0.675 || got.Filler.Lo != 120 || got.FillerMax.Over.Lo != 0.48 {
		t.Errorf("%+v", got)
	}
	if got.ID != "panel/9-0" || got.Layers != 8 || got.LacquerMax != nil || got.FiberMax != nil || got.OnePartPuttyMax != nil {
		t.Errorf("%+v", got)
	}
}

func TestAnExistingFilmNobodyWroteCountsAtTheMiddleOfItsRange(t *testing.T) {
	// Factory finish 3.5-6 mil: 4.75; written at 5 mil it is 5; + 2.5.
	got := totalOf(t, existing(filmOf(t, "0.1:factory-finish", "factory finish", "3.5-6 mil"), true), filmOf(t, "1:c", "urethane clear", "2.5 mil"))
	if got.Paint.Lo != 7.25 || *got.Paint.Hi != 7.25 {
		t.Errorf("assumed: %+v", got.Paint)
	}
	got = totalOf(t, existing(filmOf(t, "0.1:factory-finish", "factory finish", "5-7 mil"), false), filmOf(t, "1:c", "urethane clear", "2.5 mil"))
	if got.Paint.Lo != 7.5 || *got.Paint.Hi != 9.5 {
		t.Errorf("written: %+v", got.Paint)
	}
}

func TestAnUnknownFilmLeavesTheStackUnjudged(t *testing.T) {
	got := totalOf(t, existing(filmOf(t, "0.1:unknown-finish", "unknown finish", ""), true), filmOf(t, "1:c", "urethane clear", "30 mil"))
	if !got.Paint.Open || got.StackMax != nil {
		t.Errorf("%+v", got)
	}
}

func TestGelcoatAndUnderbodyCoatingAreNoPaint(t *testing.T) {
	got := totalOf(t,
		existing(filmOf(t, "0.1:gelcoat", "gelcoat", "15-25 mil"), true),
		existing(filmOf(t, "0.2:underbody-coating", "underbody coating", "30 mil"), false),
		filmOf(t, "1:c", "urethane clear", "2 mil"))
	if got.Paint.Lo != 2 || *got.Paint.Hi != 2 {
		t.Errorf("%+v", got.Paint)
	}
}

func TestLacquersCountTogether(t *testing.T) {
	got := totalOf(t,
		existing(filmOf(t, "0.1:aged-lacquer", "aged lacquer", "5 mil"), false),
		filmOf(t, "1:p", "lacquer primer", "2 mil"), filmOf(t, "2:t", "lacquer topcoat", "3 mil"))
	// 5 + 2 + 3 = 10 of 8 mil.
	if got.LacquerMax == nil || got.LacquerMax.Over.Lo != 1.25 {
		t.Errorf("%+v", got.LacquerMax)
	}
}

func TestFiberFillerMayLieThickerThanTheRest(t *testing.T) {
	got := totalOf(t, filmOf(t, "1:r", "fiber filler", "300 mil"), filmOf(t, "2:b", "body filler", "90 mil"))
	// Body filler alone 90 of 250 mil; both together 390 of 375 mil (0.375 in).
	if !got.HasFiber || got.FillerMax.Over.Lo != 0.36 || got.FiberMax.Over.Lo != 1.04 || got.Filler.Lo != 390 {
		t.Errorf("filler %+v fiber %+v", got.FillerMax, got.FiberMax)
	}
}

func TestOnePartPuttyHasItsOwnMost(t *testing.T) {
	got := totalOf(t, filmOf(t, "1:g", "one-part putty", "18 mil"))
	if got.OnePartPuttyMax == nil || got.OnePartPuttyMax.Over.Lo != 1.2 || got.FillerMax.Over.Lo != 18.0/250 {
		t.Errorf("%+v", got.OnePartPuttyMax)
	}
}

func TestATotalOfTypicalFilmsLeansOnThem(t *testing.T) {
	l := filmOf(t, "1:c", "urethane clear", "2-3 mil")
	l.FilmAssumed = true
	d := zoneWith(l)
	l.Card = "glass"
	d.LayersByID[l.ID] = l
	views := map[string]*cardView{"glass": viewCard(plainCard("glass", "urethane clear"), rulebookLimits())}
	got := d.totals(views, rulebookLimits())[0]
	if len(got.StackMax.Leaned) != 1 || got.StackMax.Leaned[0] != "glass.film" {
		t.Errorf("%+v", got.StackMax)
	}
}

func TestWhatIsSpreadLeansOnNoSolids(t *testing.T) {
	d := zoneWith(filmOf(t, "1:f", "body filler", "100 mil"))
	d.Lays = []Lay{{Layer: "1:f", Do: "spread"}}
	views := map[string]*cardView{"1:f": viewCard(plainCard("fill", "body filler"), rulebookLimits())}
	if got := d.totals(views, rulebookLimits())[0]; len(got.FillerMax.Leaned) != 0 {
		t.Errorf("%+v", got.FillerMax)
	}
	d.Lays[0].Do = "spray"
	if got := d.totals(views, rulebookLimits())[0]; len(got.FillerMax.Leaned) != 1 {
		t.Errorf("sprayed: %+v", got.FillerMax)
	}
}

func TestTheSheetTakesAsLongAsItsLastStepsEndAndAsMuchAsItsCups(t *testing.T) {
	end := measure(quantity.Exactly(26*60), quantity.Time, "h")
	half, third := measure(quantity.Exactly(0.5), quantity.Volume, "L"), measure(quantity.Interval{Lo: 0.3, Hi: 0.35}, quantity.Volume, "mL")
	d := &Document{Steps: []Step{{N: 1}, {N: 2, End: end}}, Mixes: []Mix{{Needed: &half}, {Needed: &third}}}
	d.finish()
	if d.Sheet.Elapsed.Text != "26 h" || d.Sheet.Litres == nil || d.Sheet.Litres.Text != "0.8 - 0.85 L" {
		t.Errorf("%+v %+v", d.Sheet.Elapsed, d.Sheet.Litres)
	}
	d = &Document{Mixes: []Mix{{Needed: &half}, {}}}
	d.finish()
	if d.Sheet.Litres != nil || d.Sheet.Elapsed.Lo != 0 || d.Sheet.Elapsed.Open {
		t.Errorf("%+v %+v", d.Sheet.Elapsed, d.Sheet.Litres)
	}
}
