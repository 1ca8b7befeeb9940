package trade

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"guidecoat/internal/quantity"
)

func TestDewPointRisesWithHeatAndDampAndIsNeverOverTheAir(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		air := rapid.Float64Range(-40, 60).Draw(t, "air")
		damp := rapid.Float64Range(1, 100).Draw(t, "humidity")
		d := DewPoint(air, damp)
		if d > air+1e-9 {
			t.Fatalf("dew point %v in air of %v", d, air)
		}
		if warmer := DewPoint(air+1, damp); warmer <= d {
			t.Fatalf("in warmer air it falls from %v to %v", d, warmer)
		}
		if damper := DewPoint(air, damp+1); damper <= d {
			t.Fatalf("in damper air it falls from %v to %v", d, damper)
		}
		if back := HumidityAt(air, d); math.Abs(back-damp) > 1e-6 {
			t.Fatalf("%v %% came back as %v", damp, back)
		}
	})
	if d := DewPoint(20, 100); math.Abs(d-20) > 1e-9 {
		t.Errorf("in air that holds no more water it is %v, want the air's 20", d)
	}
}

func TestDewPointIsANumberWhateverIsWritten(t *testing.T) {
	for _, air := range []float64{-273.15, -243.12, -240, 0, 100, 1e12} {
		for _, damp := range []float64{0, 1e-12, 1, 100, 200, 1e12} {
			if d := DewPoint(air, damp); math.IsNaN(d) || math.IsInf(d, 0) {
				t.Errorf("DewPoint(%v, %v) = %v", air, damp, d)
			}
		}
		if p := SaturationPressure(air); math.IsNaN(p) || math.IsInf(p, 0) {
			t.Errorf("SaturationPressure(%v) = %v", air, p)
		}
	}
}

func TestFilmGoesWetToDryAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wet := quantity.Exactly(rapid.Float64Range(0.1, 50).Draw(t, "wet"))
		solids := quantity.Exactly(rapid.Float64Range(1, 100).Draw(t, "solids"))
		dry := DryFilm(wet, solids)
		if dry.Lo > wet.Lo*(1+1e-12) {
			t.Fatalf("%v wet is %v dry", wet, dry)
		}
		if back := WetFilm(dry, solids); math.Abs(back.Lo-wet.Lo) > 1e-9*wet.Lo {
			t.Fatalf("%v came back as %v", wet, back)
		}
		// What covers an area at that film is the film's own volume.
		rate := SpreadingRate(solids, dry)
		metric := SpreadingRateMetric(solids, dry.Scale(MicronsPerMil))
		coverage, _ := quantity.ToCanonical(rate.Lo, quantity.Coverage, "ft2/gal")
		if math.Abs(coverage-metric.Lo) > 1e-9*metric.Lo {
			t.Fatalf("%v ft2/gal and %v m2/L", rate, metric)
		}
		all := quantity.Exactly(100)
		needed := PaintNeeded(dry, quantity.Exactly(1), solids, all, quantity.Interval{})
		gallons, _ := quantity.Convert(needed.Lo, quantity.Volume, "gal")
		if math.Abs(gallons*rate.Lo-1) > 1e-9 {
			t.Fatalf("%v gal for a square foot at %v ft2/gal", gallons, rate)
		}
	})
}

func TestWhatCouldBeNothingIsOpen(t *testing.T) {
	zero, one := quantity.Interval{}, quantity.Exactly(1)
	for name, got := range map[string]quantity.Interval{
		"wet film of no solids":         WetFilm(one, zero),
		"coverage of no film":           SpreadingRate(one, zero),
		"coverage of no film in metric": SpreadingRateMetric(one, zero),
		"paint without solids":          PaintNeeded(one, one, zero, one, zero),
		"paint that never lands":        PaintNeeded(one, one, one, zero, zero),
		"paint all left in the cup":     PaintNeeded(one, one, one, one, quantity.Exactly(100)),
		"a scratch over nothing":        ScratchDepth(one, 0),
	} {
		if got != quantity.Open {
			t.Errorf("%s is %v, want open", name, got)
		}
	}
	if got := PracticalRate(one, quantity.Exactly(150)); got != zero {
		t.Errorf("a loss of 150 %% leaves %v", got)
	}
	if got := SolidsInGun(quantity.Exactly(45), -1); got != quantity.Exactly(45) {
		t.Errorf("a reducer share under nothing leaves %v", got)
	}
}

func TestCupsPourTheWholeVolume(t *testing.T) {
	mix, err := quantity.ParseMix("4:1:1")
	if err != nil {
		t.Fatal(err)
	}
	base, hardener, reducer := Cups(quantity.Exactly(12), mix)
	// 12 in 6 parts is 2 a part.
	if base != quantity.Exactly(8) || hardener != quantity.Exactly(2) || reducer != quantity.Exactly(2) {
		t.Errorf("4:1:1 of 12 is %v, %v and %v; want 8, 2 and 2", base, hardener, reducer)
	}
	if base, hardener, reducer = Cups(quantity.Exactly(12), quantity.Mix{}); base.Lo != 12 || hardener.Lo != 0 || reducer.Lo != 0 {
		t.Errorf("a mix that is not written is %v, %v and %v", base, hardener, reducer)
	}
}

func TestTimeFactorNeverRunsOutOfNumbers(t *testing.T) {
	for _, at := range []float64{-273.15, 1e12, -1e12} {
		if f := TimeFactor(20, at); math.IsInf(f, 0) || f <= 0 {
			t.Errorf("TimeFactor(20, %v) = %v", at, f)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-20, 40).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0, 20).Draw(t, "width")
		at := quantity.Interval{Lo: lo, Hi: hi}
		f := TimeFactorFrom(quantity.Interval{Lo: 20, Hi: 25}, at)
		if f.Lo > f.Hi || f.Lo <= 0 {
			t.Fatalf("from %v: %v", at, f)
		}
		if lo >= 20 && hi <= 25 && f != quantity.Exactly(1) {
			t.Fatalf("within the card's own range %v it is %v", at, f)
		}
	})
}

func TestOrbitalGoesByTheToolsName(t *testing.T) {
	for tool, want := range map[string]bool{
		"orbital sander": true, "random-orbital sander": true, "Random Orbital": true, "DA": true, "DA sander": true,
		"dual-action sander": true, "sander": true,
		"": false, "hand": false, "block": false, "grinder": false, "inline sander": false, "belt sander": false,
	} {
		if Orbital(tool) != want {
			t.Errorf("Orbital(%q) is %v", tool, !want)
		}
	}
}

func TestAFinerGradeNeverTakesOffMoreThanP180(t *testing.T) {
	// The table itself has P180 over P80: a block levels where P80 on paint
	// scuffs. From P180 on it falls.
	last := math.Inf(1)
	for _, n := range quantity.Grades(quantity.FEPA) {
		if n < 180 {
			continue
		}
		a, err := quantity.ParseAbrasive("P" + quantity.FormatNumber(float64(n)))
		if err != nil {
			t.Fatal(err)
		}
		mid := Removal(a, "", false).Mid()
		if mid > last {
			t.Errorf("P%d takes off %v, more than the grade before it", n, mid)
		}
		last = mid
	}
}

func BenchmarkDewPoint(b *testing.B) {
	// History, two shared cores: 40 ns.
	for b.Loop() {
		DewPoint(22.2, 45)
	}
}

func BenchmarkLookup(b *testing.B) {
	// History, two shared cores: a new replacer each time 2.8 µs; one for all
	// 0.7 µs, and a kind's own name, which is what the stack asks for, 30 ns.
	for _, name := range []string{"Self-Etching Primer", "one-part acid primer"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, ok := Kinds().Lookup(name); !ok {
					b.Fatal("not found")
				}
			}
		})
	}
}
