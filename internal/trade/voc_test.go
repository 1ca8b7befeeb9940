package trade

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"guidecoat/internal/quantity"
)

func TestEveryVOCRowIsWhole(t *testing.T) {
	if got := VOCRegions(); !slices.Equal(got, []string{"eu", "quebec", "us"}) {
		t.Fatalf("regions %q", got)
	}
	for _, region := range VOCRegions() {
		taken := map[string]string{}
		for _, row := range VOCRows(region) {
			// us and eu bind the maker, quebec the user (8-rulings.md, VOC).
			binds := "maker"
			if region == "quebec" {
				binds = "user"
			}
			if row.Region != region || row.Binds != binds || row.Category == "" || row.Limit <= 0 || row.Source == "" ||
				!slices.Contains(statuses, row.Status) {
				t.Errorf("%s: %+v", region, row)
			}
			if row.Citation() != row.Source+" ("+row.Status+")" {
				t.Errorf("%s: cited as %q", row.Category, row.Citation())
			}
			for _, kind := range row.Kinds {
				if k, ok := Kinds().Lookup(kind); !ok || k.Name != kind {
					t.Errorf("%s, %s: %q is no kind's own name", region, row.Category, kind)
				}
				if other := taken[kind]; other != "" {
					t.Errorf("%s: %s is in %q and %q", region, kind, other, row.Category)
				}
				taken[kind] = row.Category
				if got, ok := VOCLimit(region, kind); !ok || got.Category != row.Category {
					t.Errorf("VOCLimit(%s, %s) = %v", region, kind, got)
				}
			}
		}
	}
	if rows := VOCRows("elsewhere"); len(rows) != 0 {
		t.Errorf("a region that is not known has %v", rows)
	}
	if _, ok := VOCLimit("", "epoxy primer"); ok {
		t.Error("no region has a limit")
	}
	for _, region := range []string{"eu", "quebec", ""} {
		if row, ok := VOCSystemLimit(region, 0); ok {
			t.Errorf("%q takes topcoats as a system: %v", region, row)
		}
	}
}

func TestVOCRowsAreACopy(t *testing.T) {
	VOCRows("us")[0].Limit = 1
	if VOCRows("us")[0].Limit == 1 {
		t.Error("a caller can change the table")
	}
}

func TestNoReducerLeavesTheCardsVOC(t *testing.T) {
	card := quantity.Interval{Lo: 400, Hi: 420}
	if got := VOCAsApplied(card, 0, quantity.Open); got != card {
		t.Errorf("unreduced it is %v, want the card's %v", got, card)
	}
	if got := VOCAsApplied(card, 0.1, quantity.Open); !got.IsOpen() {
		t.Errorf("with a reducer that is not known it is %v, want an open end", got)
	}
}

func TestVOCAsAppliedLiesBetweenItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		card := rapid.Float64Range(0, 900).Draw(t, "card")
		reducer := rapid.Float64Range(0, 900).Draw(t, "reducer")
		r := rapid.Float64Range(0, 5).Draw(t, "share")
		got := VOCAsApplied(quantity.Exactly(card), r, quantity.Exactly(reducer)).Lo
		if got < math.Min(card, reducer)-1e-9 || got > math.Max(card, reducer)+1e-9 {
			t.Fatalf("%v with %v of %v is %v", card, r, reducer, got)
		}
	})
}

func TestMostReducerReachesTheLimitAndNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(1, 500).Draw(t, "limit")
		card := rapid.Float64Range(0, limit).Draw(t, "card")
		reducer := limit + rapid.Float64Range(1, 400).Draw(t, "over")
		volume := rapid.Float64Range(0.1, 10).Draw(t, "volume")
		most, ok := MostReducer(volume, volume*card, reducer, limit)
		if !ok || most < 0 {
			t.Fatalf("MostReducer = %v, %v", most, ok)
		}
		got := VOCAsApplied(quantity.Exactly(card), most/volume, quantity.Exactly(reducer)).Lo
		if math.Abs(got-limit) > 1e-6*limit {
			t.Fatalf("with %v of reducer it is %v, want the limit %v", most, got, limit)
		}
	})
	if most, ok := MostReducer(1, 500, 800, 400); !ok || most != 0 {
		t.Errorf("a paint over its limit takes %v, %v; want none", most, ok)
	}
	if _, ok := MostReducer(1, 300, 350, 400); ok {
		t.Error("a reducer under the limit never reaches it")
	}
}

func TestNothingButWaterHasNoVOC(t *testing.T) {
	if voc, ok := VOCLessWater(8.3, 8.3, 0, 1, 1, 0); ok {
		t.Errorf("a gallon of water has %v", voc)
	}
	// 400 g of volatiles in 1 L, of which 100 g (0.1 L) of water and 79 g (0.1 L) exempt:
	// (400 − 100 − 79) ÷ (1 − 0.1 − 0.1) = 221 ÷ 0.8 = 276.25 g/L.
	if voc, ok := VOCLessWater(400, 100, 79, 1, 0.1, 0.1); !ok || math.Abs(voc-276.25) > 1e-9 {
		t.Errorf("%v, want 276.25", voc)
	}
}
