package quantity

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// within is a value of an interval; of an open one, anything up to 1e6 over
// its lower end.
func within(t *rapid.T, iv Interval, label string) float64 {
	hi := iv.Hi
	if iv.IsOpen() {
		hi = iv.Lo + 1e6
	}
	return rapid.OneOf(rapid.Float64Range(iv.Lo, hi), rapid.Just(iv.Lo), rapid.Just(hi)).Draw(t, label)
}

// interval draws closed and open ones, on either side of zero where it may.
func interval(negative bool) *rapid.Generator[Interval] {
	return rapid.Custom(func(t *rapid.T) Interval {
		least := 0.0
		if negative {
			least = -1e6
		}
		value := rapid.OneOf(rapid.Float64Range(least, 1e6), rapid.Just(0.0), rapid.Just(1.0))
		lo := value.Draw(t, "lo")
		switch rapid.IntRange(0, 3).Draw(t, "shape") {
		case 0:
			return Exactly(lo)
		case 1:
			return Interval{lo, math.Inf(1)}
		}
		hi := value.Draw(t, "hi")
		return Interval{math.Min(lo, hi), math.Max(lo, hi)}
	})
}

func TestIntervalArithmeticHoldsEveryAnswer(t *testing.T) {
	operations := []struct {
		name string
		iv   func(a, b Interval) Interval
		one  func(x, y float64) float64
		skip func(x, y float64) bool
	}{
		{"add", Interval.Add, func(x, y float64) float64 { return x + y }, nil},
		{"sub", Interval.Sub, func(x, y float64) float64 { return x - y }, nil},
		{"sub clamped", Interval.SubClamped, func(x, y float64) float64 { return math.Max(0, x-y) }, nil},
		{"mul", Interval.Mul, func(x, y float64) float64 { return x * y }, nil},
		{"div", Interval.Div, func(x, y float64) float64 { return x / y }, func(_, y float64) bool { return y == 0 }},
		{"min", Interval.Min, math.Min, nil},
		{"max", Interval.Max, math.Max, nil},
		{"hull", Interval.Hull, func(x, _ float64) float64 { return x }, nil},
		{"hull of the other", Interval.Hull, func(_, y float64) float64 { return y }, nil},
	}
	for _, op := range operations {
		for _, negative := range []bool{false, true} {
			t.Run(op.name, func(t *testing.T) {
				rapid.Check(t, func(t *rapid.T) {
					a, b := interval(negative).Draw(t, "a"), interval(negative).Draw(t, "b")
					got := op.iv(a, b)
					if math.IsNaN(got.Lo) || math.IsNaN(got.Hi) || got.Lo > got.Hi {
						t.Fatalf("%v %s %v = %v", a, op.name, b, got)
					}
					x, y := within(t, a, "x"), within(t, b, "y")
					if op.skip != nil && op.skip(x, y) {
						return
					}
					if v := op.one(x, y); !got.Contains(v) {
						t.Fatalf("%v %s %v = %v does not hold %v for %v and %v", a, op.name, b, got, v, x, y)
					}
				})
			})
		}
	}
}

// Against exact numbers an end is off by no more than a float's last digit.
func TestIntervalArithmeticIsExactToTheLastDigit(t *testing.T) {
	exact := func(v float64) *big.Float { return new(big.Float).SetPrec(2000).SetFloat64(v) }
	operations := []struct {
		name string
		iv   func(a, b Interval) Interval
		big  func(z, x, y *big.Float) *big.Float
	}{
		{"add", Interval.Add, (*big.Float).Add},
		{"sub", Interval.Sub, (*big.Float).Sub},
		{"mul", Interval.Mul, (*big.Float).Mul},
		{"div", Interval.Div, (*big.Float).Quo},
	}
	for _, op := range operations {
		t.Run(op.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				a, b := interval(true).Draw(t, "a"), interval(true).Draw(t, "b")
				x, y := within(t, a, "x"), within(t, b, "y")
				if y == 0 {
					return
				}
				z := op.big(new(big.Float).SetPrec(2000), exact(x), exact(y))
				got := op.iv(a, b)
				lo, hi := math.Nextafter(got.Lo, math.Inf(-1)), math.Nextafter(got.Hi, math.Inf(1))
				if !math.IsInf(lo, -1) && z.Cmp(exact(lo)) < 0 || !math.IsInf(hi, 1) && z.Cmp(exact(hi)) > 0 {
					t.Fatalf("%v %s %v = %v is off %v by more than its last digit", a, op.name, b, got, z)
				}
			})
		})
	}
}

func TestExactIntervalsStayExact(t *testing.T) {
	// 48 h of 60 min less 30 min, twice: no end is widened by rounding.
	got := Exactly(48).Scale(60).SubClamped(Exactly(30)).Mul(Exactly(2))
	if got != Exactly(5700) {
		t.Errorf("got %v, want exactly 5700", got)
	}
}

func TestOpenEndsStayOpenAndZeroStaysZero(t *testing.T) {
	tests := []struct {
		name      string
		got, want Interval
	}{
		{"nothing stated plus an hour", Open.Add(Exactly(60)), Interval{60, inf}},
		{"what is left of an open amount less an open one", Open.SubClamped(Open), Open},
		{"what is left of 3 mil less an open amount", Exactly(3).SubClamped(Open), Interval{0, 3}},
		{"zero coats of an open film", Open.Mul(Exactly(0)), Exactly(0)},
		{"an open film over zero to two", Open.Div(Interval{0, 2}), Open},
		{"one over an open amount", Exactly(1).Div(Interval{1, inf}), Interval{0, 1}},
		{"open over open", Interval{1, inf}.Div(Interval{1, inf}), Open},
		{"zero over zero to two", Exactly(0).Div(Interval{0, 2}), Exactly(0)},
		{"one over exactly zero is not known", Exactly(1).Div(Exactly(0)), Interval{math.Inf(-1), inf}},
		{"one over both sides of zero is not known", Exactly(1).Div(Interval{-1, 1}), Interval{math.Inf(-1), inf}},
		{"a range turned round", Interval{1, 2}.Scale(-1), Interval{-2, -1}},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, tt.got, tt.want)
		}
	}
	if !math.IsInf(Open.Mid(), 1) || (Interval{1, 3}).Mid() != 2 || Exactly(0.3).Mid() != 0.3 {
		t.Error("the middle of an interval is not halfway")
	}
	if z := Exactly(0).Scale(-1); math.Signbit(z.Lo) || math.Signbit(z.Hi) {
		t.Error("minus zero would print as -0")
	}
}
