package quantity

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatNumberGivesFourDigitsAndNoMore(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 1: "1", 25.6: "25.6", 0.30000000000000004: "0.3", 1604.1667: "1604", 12351.3: "12350",
		0.00012346: "0.0001235", 1e-10: "0", 99999: "100000", 2.5: "2.5", -5: "-5", 0.5: "0.5", 33.33333: "33.33", 100: "100",
		1e12: "1000000000000", 0.05: "0.05", 9.9999: "10", math.Inf(1): "any",
	} {
		if got := FormatNumber(v); got != want {
			t.Errorf("FormatNumber(%v) = %q, want %q", v, got, want)
		}
	}
}

func TestFormatWritesAsAPainterWould(t *testing.T) {
	tests := []struct {
		iv   Interval
		dim  Dimension
		unit string
		want string
	}{
		{Exactly(1536), Time, "h", "25.6 h"}, // 1536 min ÷ 60
		{Interval{1, 3}, Film, "mil", "1 - 3 mil"},
		{Interval{1440, inf}, Time, "h", "at least 24 h"},
		{Interval{0, 4320}, Time, "h", "up to 72 h"},
		{Exactly(1440), Time, "days", "1 day"},
		{Interval{1440, 10080}, Time, "days", "1 - 7 days"},
		{Interval{0, 1440}, Time, "days", "up to 1 day"},
		{Exactly(10080), Time, "weeks", "1 week"},
		{Exactly(0), Time, "min", "0 min"},
		{Open, Time, "h", "any"},
		{Exactly(4.0 / 144), Area, "in2", "4 in2"},
		{Exactly(14), Area, "sqft", "14 ft2"},
		{Exactly(20), Temperature, "°F", "68 °F"},
		{Exactly(20), Temperature, "F", "68 °F"},
		{Interval{-5, 10}, Temperature, "°C", "-5 - 10 °C"},
		{Interval{0, 10}, Temperature, "°C", "0 - 10 °C"},
		{Interval{absoluteZero, 35}, Temperature, "°F", "up to 95 °F"},
		{Interval{absoluteZero, inf}, Temperature, "°F", "any"},
		{Exactly(3), TempMargin, "°F", "5.4 °F"}, // a difference: 3 × 1.8, never 37.4
		{Exactly(419.391), Concentration, "lb/gal", "3.5 lb/gal"},
		{Exactly(2), Count, "", "2"},
		{Interval{2, 3}, Count, "", "2 - 3"},
		{Interval{0, 3}, Count, "", "0 - 3"},
		{Exactly(45), Share, "%", "45 %"},
		{Interval{1.00001, 1.00002}, Film, "mil", "1 mil"},
		{Exactly(5), Time, "furlongs", "5 min"},
	}
	for _, tt := range tests {
		if got := Format(tt.iv, tt.dim, tt.unit); got != tt.want {
			t.Errorf("Format(%v, %v, %q) = %q, want %q", tt.iv, tt.dim, tt.unit, got, tt.want)
		}
	}
}

func TestAQuantityPrintsInTheUnitItWasWrittenIn(t *testing.T) {
	for text, want := range map[string]string{
		"30 min - 7 days": "0.02083 - 7 days", // 30 ÷ 1440
		"1 day":           "1 day",
		"60 um":           "60 µm",
		"until Matte":     "until matte",
		"overnight":       "12 - 16 h",
		"same day":        "up to 8 h",
		"any":             "any",
	} {
		dim := Time
		if strings.HasSuffix(text, "um") {
			dim = Film
		}
		q, err := Parse(dim, text)
		if err != nil || q.String() != want {
			t.Errorf("%q prints as %q (%v), want %q", text, q.String(), err, want)
		}
	}
	if never, _ := ParseTypical(Time, "never"); never.String() != "never" {
		t.Errorf("never prints as %q", never.String())
	}
	if (Quantity{}).String() != "not written" {
		t.Errorf("the zero Quantity prints as %q", Quantity{})
	}
}

// Each unit, there and back.
func TestConvertUndoesToCanonical(t *testing.T) {
	for _, dim := range dimensions {
		for _, unit := range dim.Units() {
			rapid.Check(t, func(t *rapid.T) {
				v := rapid.Float64Range(0.001, 1e6).Draw(t, "v")
				c, ok := ToCanonical(v, dim, unit)
				if !ok {
					t.Fatalf("%v has no unit %q", dim, unit)
				}
				back, ok := Convert(c, dim, unit)
				if !ok || math.Abs(back-v) > 1e-9*math.Max(1, v) {
					t.Fatalf("%v %s went to %v and came back as %v", v, unit, c, back)
				}
			})
			if v, ok := Convert(math.Inf(1), dim, unit); !ok || !math.IsInf(v, 1) {
				t.Errorf("an open end in %s becomes %v", unit, v)
			}
			if v, ok := ToCanonical(math.Inf(1), dim, unit); !ok || !math.IsInf(v, 1) {
				t.Errorf("an open end from %s becomes %v", unit, v)
			}
		}
		if _, ok := Convert(1, dim, "furlongs"); ok {
			t.Errorf("%v knows furlongs", dim)
		}
		if _, ok := ToCanonical(1, dim, "furlongs"); ok {
			t.Errorf("%v knows furlongs", dim)
		}
	}
}

func TestAMarginIsADifference(t *testing.T) {
	// 4-reference.md: 5 °F is 2.8 °C, never −15 °C.
	if got, ok := ToCanonical(5, TempMargin, "F"); !ok || math.Abs(got-5/1.8) > 1e-12 {
		t.Errorf("a margin of 5 °F is %v °C", got)
	}
	if got, ok := ConvertMargin(3, "°F"); !ok || math.Abs(got-5.4) > 1e-12 {
		t.Errorf("a margin of 3 °C is %v °F", got)
	}
	if _, ok := ConvertMargin(3, "mil"); ok {
		t.Error("a margin in mil")
	}
}

// What is printed reads back, whatever was written.
func TestWhatFormatWritesParseReads(t *testing.T) {
	for _, dim := range dimensions {
		units := append([]string{""}, dim.Units()...)
		rapid.Check(t, func(t *rapid.T) {
			iv := interval(dim == Temperature).Draw(t, "iv")
			if dim == Temperature {
				iv.Lo, iv.Hi = math.Max(iv.Lo, -270), math.Max(iv.Hi, -270)
			}
			unit := rapid.SampledFrom(units).Draw(t, "unit")
			printed := Format(iv, dim, unit)
			q, err := Parse(dim, printed)
			if err != nil {
				// What is under a millionth of a millionth is not read, nor over.
				if strings.Contains(err.Error(), "too small") || strings.Contains(err.Error(), "too large") {
					return
				}
				t.Fatalf("Format(%v, %v, %q) = %q does not read: %v", iv, dim, unit, printed, err)
			}
			near := func(a, b float64) bool {
				return a == b || math.Abs(a-b) < 1e-4 || math.Abs(a-b) <= 1e-3*math.Max(math.Abs(a), math.Abs(b))+0.1*b2f(dim == Temperature)
			}
			if !near(q.Lo, iv.Lo) && iv.Lo > absoluteZero || !near(q.Hi, iv.Hi) {
				t.Fatalf("Format(%v, %v, %q) = %q reads as %v", iv, dim, unit, printed, q.Interval)
			}
		})
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func TestEveryDimensionIsNamedAndHasUnits(t *testing.T) {
	for _, dim := range dimensions {
		if dim.String() == "quantity" || wants(dim) == "write a number with its unit" {
			t.Errorf("dimension %d has no name or no advice", dim)
		}
		if dim != Count && (dim.Canonical() == "" || len(dim.Units()) == 0 || dim.Units()[0] != dim.Canonical()) {
			t.Errorf("%v has no canonical unit", dim)
		}
	}
	if Dimension(0).String() != "quantity" || Dimension(0).Canonical() != "" || len(Dimension(0).Units()) != 0 {
		t.Error("the zero Dimension is not nothing")
	}
	if _, err := Parse(0, "5 min"); err == nil {
		t.Error("the zero Dimension reads")
	}
}

// The decimal that encoding a number and reading it back gives is the measure.
func TestSignificantIsWhatDecimalRoundingGives(t *testing.T) {
	byDecimal := func(v float64, digits int) float64 {
		r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
		if err != nil {
			return v // rounded up it is no number any more
		}
		return r
	}
	check := func(v float64, digits int) {
		t.Helper()
		if got, want := Significant(v, digits), byDecimal(v, digits); got != want {
			t.Fatalf("%v to %d digits: got %v, want %v", v, digits, got, want)
		}
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 200_000 {
		v := math.Float64frombits(random.Uint64())
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		check(v, 1+random.IntN(15))
	}
	for range 200_000 {
		v := (random.Float64() - 0.5) * math.Pow10(random.IntN(24)-8)
		check(v, 4)
		check(v, 9)
		check(math.Round(v)+0.5, 1+random.IntN(12)) // halves, exactly
		check((math.Round(v)+0.5)/1000, 1+random.IntN(12))
	}
	for e := -30; e <= 30; e++ {
		for _, v := range []float64{math.Pow10(e), math.Nextafter(math.Pow10(e), 0), math.Nextafter(math.Pow10(e), math.Inf(1))} {
			check(v, 4)
			check(-v, 9)
		}
	}
}
