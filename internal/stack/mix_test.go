package stack

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// bench is a sheet with cards and one laying step, for the mixing bench.
type bench struct {
	sheet *sheet.Sheet
	step  *sheet.Step
	card  *sheet.Card
}

// newBench sets up `spray` of a card of that kind with that mix on the card.
func newBench(t *testing.T, kind, mix string) *bench {
	t.Helper()
	c := plainCard("paint", kind)
	if mix != "" {
		c.Mix = saidMix(t, mix)
	}
	b := &bench{card: c, step: &sheet.Step{N: 3, Do: "spray", Card: c}}
	b.sheet = &sheet.Sheet{Work: "restoration", Cards: map[string]*sheet.Card{"paint": c}}
	return b
}

// have puts another card on the bench.
func (b *bench) have(c *sheet.Card) { b.sheet.Cards[c.Name] = c }

func (b *bench) cup() *cup {
	return cupOf(b.sheet, b.step, viewCard(b.card, limitsOf(b.sheet)))
}

// facts are the cup's, for an area in ft² and the film its step lays.
func (b *bench) facts(area float64, air sheet.Amount) Mix {
	c := b.cup()
	return c.facts(cupUse{layer: "3:paint", area: quantity.Exactly(area), film: filmOfLayer(c.view, []stepFilm{c.film()}), air: air})
}

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-6*math.Max(1, math.Abs(want)) }

func TestDryFilmIsWetFilmTimesTheSolidsInTheGun(t *testing.T) {
	for _, tc := range []struct {
		name, mix, solids, wet string
		coats                  int
		dry                    float64 // mil, all coats
	}{
		// TB 43-0213: 10 mil wet for 5 mil dry, that is 50 % (read).
		{"ten wet for five dry", "1", "50 %", "10 mil", 1, 5},
		// 4.0 mil at 65 % wants 6.15 mil wet (read): 6.1538 × 0.65 = 4.
		{"4.0 mil dry at 65 %", "1", "65 %", "6.1538461538 mil", 1, 4},
		// Thinned by 10 %: 35 ÷ 1.1 = 31.8 %; 8 mil wet leaves 2.545 (calc).
		{"35 % with a tenth of thinner", "1:0:0.1", "35 %", "8 mil", 1, 8 * 0.35 / 1.1},
		// 4:1 + 10 %: reducer is a tenth of base and hardener together.
		{"reducer at 10 % of base and hardener", "4:1 + 10 %", "44 %", "5 mil", 2, 2 * 5 * 0.44 / 1.1},
		// 2:1:0.5: r = 0.5 ÷ 3.
		{"reducer as a third part", "2:1:0.5", "49 %", "3 mil", 1, 3 * 0.49 / (1 + 0.5/3)},
	} {
		t.Run(tc.name, func(t *testing.T) {
			b := newBench(t, "urethane surfacer", tc.mix)
			b.card.VolumeSolids = said(t, quantity.Share, tc.solids)
			b.step.WetFilm = saidFilm(t, tc.wet)
			b.step.Coats = sheet.Number{Value: tc.coats, Written: true}
			f := b.cup().film()
			if !f.known || !near(f.dry.Lo, tc.dry) || !near(f.dry.Hi, tc.dry) || len(f.leaned) != 0 {
				t.Errorf("got %+v, want %v mil", f, tc.dry)
			}
		})
	}
}

func TestFilmFromTypicalSolidsLeansOnThem(t *testing.T) {
	b := newBench(t, "urethane surfacer", "4:1") // typical solids 45 %
	b.step.WetFilm = saidFilm(t, "4 mil")
	b.card.Film = saidFilm(t, "2-6 mil")
	c := b.cup()
	f := filmOfLayer(c.view, []stepFilm{c.film()})
	if !near(f.iv.Lo, 1.8) || f.assumed || !reflect.DeepEqual(f.leaned, []string{"paint.volume_solids"}) {
		t.Fatalf("%+v", f)
	}
	thin, thick, half := f.against(c.view)
	// 1.8 of 2 mil: 0.9.
	if !near(thin.Over.Lo, 0.9) || !reflect.DeepEqual(thin.Leaned, []string{"paint.volume_solids"}) || thin.Source != "card" || !thin.Graced {
		t.Errorf("thin %+v", thin)
	}
	// 1.8 of 6 mil: 0.3.
	if !near(*thick.Over.Hi, 0.3) || half != nil {
		t.Errorf("thick %+v half %+v", thick, half)
	}
}

func TestAFilmThatNobodyWroteIsTheCardsAndIsNotComparedWithItself(t *testing.T) {
	b := newBench(t, "urethane clear", "2:1")
	b.card.Film = saidFilm(t, "50-75 um")
	c := b.cup()
	f := filmOfLayer(c.view, []stepFilm{c.film()})
	// 50 µm is 50 ÷ 25.4 = 1.9685 mil.
	if !f.known || !f.assumed || !near(f.iv.Lo, 50/25.4) || f.measure().Text != "50 - 75 µm" || len(f.leaned) != 0 {
		t.Errorf("%+v %s", f, f.measure().Text)
	}
	if thin, thick, _ := f.against(c.view); thin != nil || thick != nil {
		t.Error("compared with itself")
	}
	// Without either, the kind's: 2-3 mil, leaned on.
	b.card.Film = sheet.Amount{}
	c = b.cup()
	f = filmOfLayer(c.view, []stepFilm{c.film()})
	if f.iv != (quantity.Interval{Lo: 2, Hi: 3}) || !reflect.DeepEqual(f.leaned, []string{"paint.film"}) {
		t.Errorf("%+v", f)
	}
}

func TestAStepThatDoesNotSayHowWetLeavesTheLayerToTheCard(t *testing.T) {
	b := newBench(t, "urethane surfacer", "4:1")
	b.card.VolumeSolids = said(t, quantity.Share, "50 %")
	b.card.Film = saidFilm(t, "2-6 mil")
	b.step.WetFilm = saidFilm(t, "5 mil")
	c := b.cup()
	written := c.film() // 2.5 mil
	unwritten := stepFilm{wet: quantity.Open, coat: quantity.Open, dry: quantity.Open, coats: 1}
	f := filmOfLayer(c.view, []stepFilm{written, unwritten})
	// Never under the 2.5 mil that are written: 2.5 to 6.
	if !f.assumed || f.iv != (quantity.Interval{Lo: 2.5, Hi: 6}) {
		t.Errorf("%+v", f)
	}
	// Its half of the layer: two coats in all.
	if iv, known := f.shareOf(unwritten); !known || iv != (quantity.Interval{Lo: 1.25, Hi: 3}) {
		t.Errorf("share %+v", iv)
	}
}

func TestSpreadFillerIsAsThickAsItIsSpread(t *testing.T) {
	b := newBench(t, "body filler", "2 %")
	b.step.Do, b.step.Thickness = "spread", said(t, quantity.Film, "2 mm")
	f := b.cup().film()
	// 2 mm is 2000 ÷ 25.4 = 78.74 mil.
	if !f.known || !near(f.dry.Lo, 2000/25.4) || f.unit != "mm" {
		t.Errorf("%+v", f)
	}
}

func TestHalfAsMuchAgainIsJudgedForAcidPrimerOnly(t *testing.T) {
	b := newBench(t, "two-part wash primer", "1:1")
	b.card.VolumeSolids = said(t, quantity.Share, "10 %")
	b.card.Film = saidFilm(t, "0.3-0.5 mil") // TT-C-490D Type III (second)
	b.step.WetFilm = saidFilm(t, "10 mil")   // 1.0 mil dry
	c := b.cup()
	_, thick, half := filmOfLayer(c.view, []stepFilm{c.film()}).against(c.view)
	// 1.0 of 0.5 is 2; of 1.5 × 0.5 = 0.75 it is 1.333.
	if !near(thick.Over.Lo, 2) || !near(half.Over.Lo, 4.0/3) || half.Graced || half.Limit.Text != "0.75 mil" {
		t.Errorf("thick %+v half %+v", thick, half)
	}
}

func TestALightCoatAndATooWetOne(t *testing.T) {
	b := newBench(t, "epoxy primer", "1:1")
	b.card.WetMax = saidFilm(t, "4 mil")
	b.step.WetFilm = saidFilm(t, "5 mil")
	c := b.cup()
	var l Lay
	l.film(c.film(), c.view)
	if !near(l.WetMax.Over.Lo, 1.25) || !near(l.LightCoat.Over.Lo, 2.5) || l.Coat.Text != "5 mil" {
		t.Errorf("%+v", l)
	}
	b.step.WetFilm = sheet.Amount{}
	l = Lay{}
	l.film(b.cup().film(), c.view)
	if l.WetMax != nil || l.LightCoat != nil || !l.Coat.Open || !l.CoatDry.Open {
		t.Errorf("nothing written: %+v", l)
	}
}

func TestTheRatioInTheCupAgainstTheCards(t *testing.T) {
	for _, tc := range []struct {
		name, card, step string
		off              float64 // %; −1 where there is nothing to compare
	}{
		{"as the card says", "4:1", "4:1", 0},
		{"the same in other parts", "4:1", "8:2", 0},
		// 1/5 against 1/4: 20 % short.
		{"five to one for four to one", "4:1", "5:1", 20},
		// 1/3 against 1/4: 33.3 % over.
		{"three to one for four to one", "4:1", "3:1", 100.0 / 3},
		{"reducer is not part of it", "4:1", "4:1:1", 0},
		{"no hardener is all of it", "4:1", "4:0", 100},
		{"a one-part card", "1", "4:1", -1},
		{"a paste is never a ratio by volume", "2 %", "100:2", -1},
		{"nothing in the step", "4:1", "", -1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			b := newBench(t, "urethane surfacer", tc.card)
			if tc.step != "" {
				b.step.Mix = saidMix(t, tc.step)
			}
			c := b.cup().ratioOff()
			switch {
			case tc.off < 0 && c != nil:
				t.Errorf("compared: %+v", c)
			case tc.off >= 0 && (c == nil || math.Abs(c.Measured.Lo-tc.off) > 1e-6):
				t.Errorf("got %+v", c)
			}
		})
	}
}

func TestReducerAgainstTheMostTheCardLetsIn(t *testing.T) {
	for _, tc := range []struct {
		name, card, upTo, step string
		over                   float64 // −1 where there is no limit
	}{
		// 4:1:1 is 1 ÷ 5 = 20 %, of 10 %.
		{"twice what the card lets in", "4:1", "10 %", "4:1:1", 2},
		{"what the card lets in", "4:1", "10 %", "4:1 + 10 %", 1},
		{"no reducer", "4:1", "10 %", "4:1", 0},
		// The card's own share: 1:1:0.5 is 25 %; 1:1:1 is 50 %.
		{"the card's own share", "1:1:0.5", "", "1:1:1", 2},
		{"the card's own mix", "1:1:0.5", "", "", 1},
		{"a card that says nothing of reducer", "4:1", "", "4:1:1", -1},
		{"none at all on the card's own word", "4:1:0", "", "4:1:1", beyond},
	} {
		t.Run(tc.name, func(t *testing.T) {
			b := newBench(t, "urethane surfacer", tc.card)
			if tc.upTo != "" {
				b.card.ReduceUpTo = said(t, quantity.Share, tc.upTo)
			}
			if tc.step != "" {
				b.step.Mix = saidMix(t, tc.step)
			}
			c := b.cup().reduced()
			switch {
			case tc.over < 0 && c != nil:
				t.Errorf("compared: %+v", c)
			case tc.over >= 0 && (c == nil || !near(c.Over.Lo, tc.over) || !c.Graced || c.Source != "card"):
				t.Errorf("got %+v", c)
			}
		})
	}
}

func TestTheHardenerOfTheStepAmongTheCards(t *testing.T) {
	b := newBench(t, "urethane surfacer", "4:1")
	b.card.Hardener = saidList("quick-hardener", "slow-hardener")
	b.step.Hardener = saidText("Slow-Hardener")
	if m := b.facts(1, sheet.Amount{}); m.HardenerKnown != "listed" {
		t.Errorf("got %q", m.HardenerKnown)
	}
	b.step.Hardener = saidText("epoxy-hardener")
	if m := b.facts(1, sheet.Amount{}); m.HardenerKnown != "foreign" || m.HardenerName != "epoxy-hardener" {
		t.Errorf("got %+v", m)
	}
	b.step.Hardener = sheet.Text{}
	if m := b.facts(1, sheet.Amount{}); m.HardenerKnown != "" {
		t.Errorf("got %q", m.HardenerKnown)
	}
	b.card.Hardener, b.step.Hardener = sheet.Texts{}, saidText("anything")
	if m := b.facts(1, sheet.Amount{}); m.HardenerKnown != "" || m.CardHardeners == nil {
		t.Errorf("a card that lists none: %+v", m)
	}
}

func TestHazardsOfACupAreThoseOfAllItsParts(t *testing.T) {
	withHardener := func(t *testing.T, kind, mix string, hazards ...string) *bench {
		b := newBench(t, kind, mix)
		h := plainCard("act", "hardener")
		if len(hazards) > 0 {
			h.Hazards = saidList(hazards...)
		}
		b.have(h)
		b.step.Hardener, b.step.HardenerCard = saidText("act"), h
		return b
	}
	t.Run("an activated basecoat is isocyanate work", func(t *testing.T) {
		m := withHardener(t, "solvent basecoat", "4:1", "isocyanate").facts(1, sheet.Amount{})
		if !m.Isocyanate || !m.Flammable || m.HardenerKind != "hardener" {
			t.Errorf("%v", m.Hazards)
		}
	})
	t.Run("a hardened enamel is, whatever the hardener's card leaves out", func(t *testing.T) {
		if m := withHardener(t, "single-stage enamel", "8:1").facts(1, sheet.Amount{}); !m.Isocyanate {
			t.Errorf("%v", m.Hazards)
		}
	})
	t.Run("a hardener whose card names another hazard is taken at its word", func(t *testing.T) {
		if m := withHardener(t, "single-stage enamel", "8:1", "flammable").facts(1, sheet.Amount{}); m.Isocyanate {
			t.Errorf("%v", m.Hazards)
		}
	})
	t.Run("a basecoat as it comes is not", func(t *testing.T) {
		if m := newBench(t, "solvent basecoat", "1:0:1").facts(1, sheet.Amount{}); m.Isocyanate {
			t.Errorf("%v", m.Hazards)
		}
	})
	t.Run("what the card lists goes in where there is a share for it", func(t *testing.T) {
		b := newBench(t, "epoxy primer", "1:1")
		h := plainCard("part-b", "hardener")
		h.Hazards = saidList("chromate")
		b.have(h)
		b.card.Hardener = saidList("part-b")
		m := b.facts(1, sheet.Amount{})
		if !m.Chromate || !m.EpoxyHardener || m.Isocyanate {
			t.Errorf("%v", m.Hazards)
		}
	})
	t.Run("an additive counts", func(t *testing.T) {
		b := newBench(t, "waterborne basecoat", "1")
		a := plainCard("flex", "flex additive")
		a.Hazards = saidList("isocyanate")
		b.have(a)
		b.step.Additive, b.step.AdditiveCard = saidText("flex"), a
		if m := b.facts(1, sheet.Amount{}); !m.Isocyanate || m.AdditiveKind != "flex additive" {
			t.Errorf("%v", m.Hazards)
		}
	})
}

func TestVOCAsApplied(t *testing.T) {
	voc := func(t *testing.T, text string) sheet.Amount { return said(t, quantity.Concentration, text) }
	t.Run("the guidebook's dilution", func(t *testing.T) {
		// 1 gal at 2.5 lb/gal + 0.25 gal thinner at 6.8: (2.5 + 0.25 × 6.8) ÷ 1.25 = 3.36 lb/gal
		// (Organic Finishing Guidebook, app. B, read); × 119.826 = 402.6 g/L.
		b := newBench(t, "lacquer topcoat", "1:0:0.25")
		b.card.VOC = voc(t, "2.5 lb/gal")
		r := plainCard("thin", "reducer")
		r.VOC = voc(t, "6.8 lb/gal")
		b.have(r)
		b.card.Reducer = saidList("thin")
		m := b.facts(1, sheet.Amount{})
		if m.Voc == nil || m.Voc.Text != "3.36 lb/gal" || math.Abs(m.Voc.Lo-3.36*119.826) > 0.01 {
			t.Errorf("%+v", m.Voc)
		}
	})
	t.Run("no reducer leaves the card's", func(t *testing.T) {
		b := newBench(t, "urethane surfacer", "4:1")
		b.card.VOC = voc(t, "430 g/L")
		if m := b.facts(1, sheet.Amount{}); m.Voc == nil || m.Voc.Lo != 430 {
			t.Errorf("%+v", m.Voc)
		}
	})
	t.Run("a reducer without its own counts with its density", func(t *testing.T) {
		b := newBench(t, "urethane surfacer", "4:1:1") // r = 0.2
		b.card.VOC = voc(t, "400 g/L")
		r := plainCard("slow", "reducer")
		r.Density = voc(t, "0.88 g/mL")
		b.have(r)
		b.step.Reducer, b.step.ReducerCard = saidText("slow"), r
		// (400 + 0.2 × 880) ÷ 1.2 = 480.
		if m := b.facts(1, sheet.Amount{}); m.Voc == nil || !near(m.Voc.Lo, 480) {
			t.Errorf("%+v", m.Voc)
		}
	})
	t.Run("a part that nobody gives leaves it open", func(t *testing.T) {
		b := newBench(t, "urethane surfacer", "4:1:1")
		b.card.VOC = voc(t, "400 g/L")
		b.step.Reducer = saidText("whatever")
		if m := b.facts(1, sheet.Amount{}); m.Voc != nil {
			t.Errorf("%+v", m.Voc)
		}
	})
	t.Run("either of two reducers", func(t *testing.T) {
		b := newBench(t, "urethane surfacer", "1:0:1")
		b.card.VOC = voc(t, "400 g/L")
		for name, own := range map[string]string{"fast": "800 g/L", "slow": "860 g/L"} {
			r := plainCard(name, "reducer")
			r.VOC = voc(t, own)
			b.have(r)
		}
		b.card.Reducer = saidList("fast", "slow")
		// (400 + 800) ÷ 2 and (400 + 860) ÷ 2.
		if m := b.facts(1, sheet.Amount{}); m.Voc == nil || !near(m.Voc.Lo, 600) || !near(*m.Voc.Hi, 630) {
			t.Errorf("%+v", m.Voc)
		}
	})
}

func TestPotLifeRunsFromMixingToTheEndOfTheLastCoat(t *testing.T) {
	air := func(text string) sheet.Amount { return said(t, quantity.Temperature, text) }
	setUp := func() *bench {
		b := newBench(t, "urethane surfacer", "4:1")
		b.card.PotLife = saidTime(t, "45 min")
		b.step.Stood = saidTime(t, "5 min")
		b.step.For = saidTime(t, "10 min")
		b.step.Between = saidTime(t, "15 min")
		b.step.Coats = sheet.Number{Value: 3, Written: true}
		return b
	}
	t.Run("stood, laying and the waits between coats", func(t *testing.T) {
		// 5 + 10 + 2 × 15 = 45 of 45 min.
		if c := setUp().cup().pot(air("72 F")); c.Measured.Lo != 45 || c.Over.Lo != 1 || !c.Graced {
			t.Errorf("%+v", c)
		}
	})
	t.Run("a fresh cup lasts one coat", func(t *testing.T) {
		b := setUp()
		b.step.FreshCup = sheet.Flag{Value: true, Written: true}
		// 5 + 10/3 min.
		if c := b.cup().pot(air("72 F")); !near(c.Measured.Lo, 5+10.0/3) {
			t.Errorf("%+v", c)
		}
	})
	t.Run("ten degrees over where the card's times hold halves it", func(t *testing.T) {
		// times hold to 77 °F = 25 °C; 95 °F = 35 °C: 2^((25−35)/10) = 0.5: 22.5 min.
		if c := setUp().cup().pot(air("95 F")); !near(c.Limit.Lo, 22.5) || !near(c.Over.Lo, 2) {
			t.Errorf("%+v", c)
		}
	})
	t.Run("ten degrees under doubles it", func(t *testing.T) {
		// 68 °F = 20 °C; 50 °F = 10 °C.
		if c := setUp().cup().pot(air("50 F")); !near(c.Limit.Lo, 90) {
			t.Errorf("%+v", c)
		}
	})
	t.Run("coats with no wait written take the flash", func(t *testing.T) {
		b := setUp()
		b.step.Between = sheet.Amount{}
		// Typical flash of a urethane surfacer 10 min: 5 + 10 + 20.
		c := b.cup().pot(air("72 F"))
		if c.Measured.Lo != 35 || !reflect.DeepEqual(c.Leaned, []string{"paint.flash"}) {
			t.Errorf("%+v", c)
		}
	})
	t.Run("a one-part product has none", func(t *testing.T) {
		if c := newBench(t, "solvent basecoat", "1:0:1").cup().pot(sheet.Amount{}); c != nil {
			t.Errorf("%+v", c)
		}
	})
}

func TestInductionIsAskedForOnlyByTheCard(t *testing.T) {
	b := newBench(t, "epoxy primer", "1:1")
	b.step.Stood = saidTime(t, "15 min")
	if m := b.facts(1, sheet.Amount{}); m.Induction != nil || m.InductionDue != nil {
		t.Errorf("%+v", m.Induction)
	}
	b.card.Induction = saidTime(t, "30 min")
	if m := b.facts(1, sheet.Amount{}); m.Induction == nil || m.Induction.Over.Lo != 0.5 || m.InductionDue.Text != "30 min" || !m.StoodWritten {
		t.Errorf("%+v", m.Induction)
	}
	b.step.Stood = sheet.Amount{}
	if m := b.facts(1, sheet.Amount{}); m.Induction != nil || m.InductionDue == nil || m.StoodWritten {
		t.Errorf("absent: %+v", m.Induction)
	}
}

func TestThePasteOfAFillerIsAShareByWeight(t *testing.T) {
	b := newBench(t, "body filler", "")
	b.step.Do, b.step.Mix, b.step.Thickness = "spread", saidMix(t, "4 %"), said(t, quantity.Film, "2 mm")
	m := b.facts(1, sheet.Amount{})
	// 4 of at most 3 %, of at least 1 %.
	if m.Paste == nil || !near(m.PasteHigh.Over.Lo, 4.0/3) || !near(m.PasteLow.Over.Lo, 4) || m.RatioOff != nil || !m.TwoPart || m.Written != "step" {
		t.Errorf("%+v", m)
	}
	last := m.NeededCups[len(m.NeededCups)-1]
	if last.Part != "paste" || last.Volume.Text != "4 % by weight" || !last.Volume.Open {
		t.Errorf("%+v", last)
	}
}

func TestHowMuchToMix(t *testing.T) {
	b := newBench(t, "urethane clear", "2:1")
	b.card.VolumeSolids = said(t, quantity.Share, "50 %")
	b.step.WetFilm = saidFilm(t, "4 mil")
	b.step.Coats = sheet.Number{Value: 2, Written: true}
	b.step.Gun = saidText("hvlp")
	b.step.Batch = said(t, quantity.Volume, "0.5 L")
	// 2 coats × 4 mil wet are 8 mil; wet film alone tells the volume that lands:
	// 8 mil on 10 ft² is 80 ÷ 1604.17 gal = 0.049870 gal = 0.188779 L. Of what leaves
	// an HVLP gun 60-70 % lands (US EPA, read), and a tenth stays in cup and gun:
	// 0.188779 ÷ 0.7 ÷ 0.9 = 0.299649, 0.188779 ÷ 0.6 ÷ 0.9 = 0.349590 L.
	m := b.facts(10, sheet.Amount{})
	if m.Needed == nil || math.Abs(m.Needed.Lo-0.299649) > 2e-6 || math.Abs(*m.Needed.Hi-0.349590) > 2e-6 {
		t.Fatalf("%+v", m.Needed)
	}
	if len(m.NeededCups) != 2 || math.Abs(m.NeededCups[0].Volume.Lo-0.299649*2/3) > 2e-6 || m.NeededCups[1].Part != "hardener" {
		t.Errorf("%+v", m.NeededCups)
	}
	// 0.349590 L, rounded up.
	if m.BatchEnough != "0.35 L" {
		t.Errorf("%q", m.BatchEnough)
	}
	// 0.5 ÷ 0.34959 = 1.43.
	if m.Batch == nil || math.Abs(m.Batch.Over.Lo-1.43025) > 1e-4 || m.Batch.Source != "sheet" {
		t.Errorf("%+v", m.Batch)
	}
	t.Run("a conventional gun wants more than twice as much", func(t *testing.T) {
		b.step.Gun = saidText("conventional") // 20-30 % (US EPA, read)
		m := b.facts(10, sheet.Amount{})
		if math.Abs(*m.Needed.Hi-0.188779/0.2/0.9) > 2e-6 || m.Batch.Over.Lo > 1 {
			t.Errorf("%+v", m.Needed)
		}
	})
	b.step.Gun = saidText("hvlp")
	for name, solids := range map[string]sheet.Amount{
		"a range of solids": said(t, quantity.Share, "45-55 %"), "solids of the kind": {},
	} {
		t.Run(name+" makes no odds to a wet film", func(t *testing.T) {
			b.card.VolumeSolids = solids
			m := b.facts(10, sheet.Amount{})
			if math.Abs(m.Needed.Lo-0.299649) > 2e-6 || math.Abs(*m.Needed.Hi-0.349590) > 2e-6 || len(m.Batch.Leaned) != 0 {
				t.Errorf("%+v, leaned on %v", m.Needed, m.Batch.Leaned)
			}
		})
	}
	t.Run("a film that is not written leans on the solids of the kind", func(t *testing.T) {
		dry := newBench(t, "urethane clear", "2:1")
		dry.card.Film = said(t, quantity.Film, "2 mil")
		dry.step.Batch = b.step.Batch
		// 2 mil dry at 42 % are 4.7619 mil wet: 0.188779 × 4.7619 ÷ 8 ÷ 0.7 ÷ 0.9 L at the least.
		m := dry.facts(10, sheet.Amount{})
		if math.Abs(m.Needed.Lo-0.178362) > 2e-6 || !reflect.DeepEqual(m.Batch.Leaned, []string{"paint.volume_solids"}) {
			t.Errorf("%+v, leaned on %v", m.Needed, m.Batch.Leaned)
		}
	})
	t.Run("without an area nobody can tell", func(t *testing.T) {
		c := b.cup()
		m := c.facts(cupUse{area: quantity.Open, film: filmOfLayer(c.view, []stepFilm{c.film()})})
		if m.Needed != nil || m.Batch != nil || m.NeededCups == nil {
			t.Errorf("%+v", m.Needed)
		}
	})
}

func TestWhatEachSquareMetreGivesOff(t *testing.T) {
	b := newBench(t, "urethane clear", "2:1")
	b.card.VolumeSolids = said(t, quantity.Share, "50 %")
	b.card.VOC = said(t, quantity.Concentration, "420 g/L")
	b.step.WetFilm = saidFilm(t, "4 mil")
	b.step.Coats = sheet.Number{Value: 2, Written: true}
	// 8 mil wet is 0.2032 mm: 0.2032 L on a m². Over 0.7 and 0.6 that lands and 0.9 that leaves the
	// cup: 0.322540 and 0.376296 L, × 420 g/L = 135.47 to 158.04 g.
	m := b.facts(10, sheet.Amount{})
	if v := m.VocPerArea; v == nil || math.Abs(v.Lo-135.4667) > 0.001 || math.Abs(*v.Hi-158.0444) > 0.001 || v.Text != "135.5 - 158 g/m2" {
		t.Errorf("%+v", v)
	}
	b.card.VOC = sheet.Amount{}
	if m := b.facts(10, sheet.Amount{}); m.VocPerArea != nil {
		t.Errorf("%+v", m.VocPerArea)
	}
}

func TestAMixNobodyWroteSaysSo(t *testing.T) {
	m := newBench(t, "urethane clear", "").facts(1, sheet.Amount{})
	if m.Written != "none" || !m.TwoPart || m.Reduced != nil || m.RatioOff != nil || m.BaseParts != 0 {
		t.Errorf("%+v", m)
	}
	m = newBench(t, "urethane clear", "2:1").facts(1, sheet.Amount{})
	if m.Written != "card" || m.CardMix != "2:1" || m.StepMix != "" || m.HardenerParts != 1 {
		t.Errorf("%+v", m)
	}
	if !strings.Contains(m.Solids.Text, "42 %") { // urethane clear, typical
		t.Errorf("%s", m.Solids.Text)
	}
}
