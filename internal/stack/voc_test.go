package stack

import (
	"math"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// sprayed is one product that a step sprays over the one before.
type sprayed struct {
	name, kind string
	voc        string // "" where the card does not give it
}

// vocsOf is what the document says of the VOC of those products in a region.
func vocsOf(t *testing.T, region string, list ...sprayed) []Voc {
	t.Helper()
	s := &sheet.Sheet{Work: "collision", Cards: map[string]*sheet.Card{}}
	l := limitsOf(s)
	d := &Document{Booth: Booth{Region: region}, LayersByID: map[string]Layer{}}
	steel := Layer{ID: "0:mild-steel", Kind: "mild steel", Traits: kindTraits("mild steel"), Substrate: true}
	d.Layers = append(d.Layers, steel)
	d.LayersByID[steel.ID] = steel
	films := []string{steel.ID}
	cups := map[int]*cup{}
	for i, p := range list {
		c := plainCard(p.name, p.kind)
		if p.voc != "" {
			c.VOC = said(t, quantity.Concentration, p.voc)
		}
		s.Cards[p.name] = c
		n := i + 1
		s.Steps = append(s.Steps, sheet.Step{N: n, Do: "spray", Card: c})
		v := viewCard(c, l)
		layer := Layer{ID: stepID(n) + ":" + p.name, Kind: p.kind, Name: v.shown, Card: v.ref, Traits: v.traits(), Step: n, Steps: []int{n}}
		d.Layers = append(d.Layers, layer)
		d.LayersByID[layer.ID] = layer
		d.Contacts = append(d.Contacts, Contact{Upper: layer.ID, Films: append([]string{}, films...)})
		films = append(films, layer.ID)
	}
	for i := range s.Steps {
		st := &s.Steps[i]
		cups[st.N] = cupOf(s, st, viewCard(st.Card, l))
	}
	return d.vocs(s, cups, l)
}

func TestBaseAndClearAreOneSystemInTheUS(t *testing.T) {
	got := vocsOf(t, "us",
		sprayed{"grey", "urethane surfacer", "570 g/L"},
		sprayed{"red", "solvent basecoat", "750 g/L"},
		sprayed{"glass", "urethane clear", "500 g/L"})
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	// Surfacer 570 of 580 (40 CFR 59 subpart B table 1, second).
	if v := got[0]; v.ID != "1" || v.Category != "primer, surfacer" || v.Compared.Limit.Lo != 580 || v.Binds != "maker" {
		t.Errorf("%+v", v)
	}
	// (750 + 2 × 500) ÷ 3 = 583.33 of 600 (59.104(a)(2), from memory).
	v := got[1]
	if v.ID != "2" || v.Compared.Limit.Lo != 600 || math.Abs(v.Compared.Measured.Lo-583.333333) > 1e-5 || *v.Compared.Over.Hi >= 1 {
		t.Errorf("%+v", v)
	}
	if v.Name != "red (solvent basecoat) under glass (urethane clear)" || len(v.Steps) != 2 || len(v.Layers) != 2 {
		t.Errorf("%+v", v)
	}
}

func TestAMidCoatMakesItASystemOfThreeStages(t *testing.T) {
	got := vocsOf(t, "us",
		sprayed{"red", "solvent basecoat", "700 g/L"},
		sprayed{"candy", "mid coat", "800 g/L"},
		sprayed{"glass", "urethane clear", "500 g/L"})
	// (700 + 800 + 2 × 500) ÷ 4 = 625 of 630.
	if len(got) != 1 || got[0].Compared.Limit.Lo != 630 || got[0].Compared.Measured.Lo != 625 {
		t.Errorf("%+v", got)
	}
}

func TestEachStandsByItselfInTheEUAndQuebec(t *testing.T) {
	for region, limits := range map[string][2]float64{
		"eu":     {420, 420}, // 2004/42/EC annex II B (second)
		"quebec": {420, 250}, // Q-2 r. 4.1 s. 38 (read): color 420, clear 250
	} {
		got := vocsOf(t, region, sprayed{"red", "waterborne basecoat", "400 g/L"}, sprayed{"glass", "urethane clear", "430 g/L"})
		if len(got) != 2 || got[0].Compared.Limit.Lo != limits[0] || got[1].Compared.Limit.Lo != limits[1] || got[1].Compared.Over.Lo <= 1 {
			t.Errorf("%s: %+v", region, got)
		}
		if want := map[string]string{"eu": "maker", "quebec": "user"}[region]; got[0].Binds != want {
			t.Errorf("%s binds %s", region, got[0].Binds)
		}
	}
}

func TestAnUnknownPartLeavesTheSystemOpen(t *testing.T) {
	got := vocsOf(t, "us", sprayed{"red", "solvent basecoat", ""}, sprayed{"glass", "urethane clear", "900 g/L"})
	if len(got) != 1 || !got[0].Compared.Open {
		t.Errorf("%+v", got)
	}
}

func TestAClearAloneStandsAgainstTheTopcoatsFigure(t *testing.T) {
	got := vocsOf(t, "us", sprayed{"glass", "urethane clear", "650 g/L"})
	if len(got) != 1 || got[0].Compared.Limit.Lo != 600 || got[0].Compared.Over.Lo <= 1 {
		t.Errorf("%+v", got)
	}
}

func TestTheFigureIsComparedInGramsPerLitre(t *testing.T) {
	// 5 lb/gal × 119.826 = 599.13 g/L (calc).
	got := vocsOf(t, "us", sprayed{"red", "single-stage urethane", "5 lb/gal"})
	if c := got[0].Compared; c.Measured.Shown.Unit != "g/L" || c.Measured.Text != "599.1 g/L" || c.Limit.Text != "600 g/L" {
		t.Errorf("%+v", c)
	}
}

func TestNoRegionNoFigures(t *testing.T) {
	if got := vocsOf(t, "", sprayed{"red", "single-stage urethane", "900 g/L"}); got == nil || len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

func TestAProductSprayedTwiceIsToldOnce(t *testing.T) {
	got := vocsOf(t, "eu", sprayed{"glass", "urethane clear", "430 g/L"}, sprayed{"glass", "urethane clear", "430 g/L"})
	if len(got) != 1 || len(got[0].Steps) != 2 {
		t.Errorf("%+v", got)
	}
}
