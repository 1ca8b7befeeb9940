package quantity

import "math"

// Interval arithmetic. For any x in a and y in b, each operation's result
// holds x∘y as floats give it, because rounding never turns an order round;
// against the exact numbers it is off by at most the last digit of a float at
// either end. Ends are never widened outward: a wait of exactly the card's
// hours must stay exactly that.

// IsOpen reports whether there is no upper end.
func (a Interval) IsOpen() bool { return math.IsInf(a.Hi, 1) }

// IsExact reports whether the interval holds one value alone.
func (a Interval) IsExact() bool { return a.Lo == a.Hi }

// Contains reports whether v lies in the interval.
func (a Interval) Contains(v float64) bool { return a.Lo <= v && v <= a.Hi }

// Add is a + b.
func (a Interval) Add(b Interval) Interval {
	return Interval{plus(a.Lo, b.Lo, -1), plus(a.Hi, b.Hi, 1)}
}

// Sub is a − b. An open b gives a lower end of −Inf; see SubClamped.
func (a Interval) Sub(b Interval) Interval {
	return Interval{plus(a.Lo, -b.Hi, -1), plus(a.Hi, -b.Lo, 1)}
}

// SubClamped is a − b, but never under zero: what is left when b is taken off a.
func (a Interval) SubClamped(b Interval) Interval {
	d := a.Sub(b)
	return Interval{math.Max(0, d.Lo), math.Max(0, d.Hi)}
}

// Mul is a × b. Zero times an open end is zero: nothing, however often.
func (a Interval) Mul(b Interval) Interval {
	return hullOf(times(a.Lo, b.Lo), times(a.Lo, b.Hi), times(a.Hi, b.Lo), times(a.Hi, b.Hi))
}

// Scale is a × k; k may be negative.
func (a Interval) Scale(k float64) Interval { return a.Mul(Exactly(k)) }

// Div is a ÷ b over every y in b but zero itself. Where b reaches zero from
// above the result is open upward; where b is exactly zero, or lies on both
// sides of it, nothing is known: −Inf to +Inf.
func (a Interval) Div(b Interval) Interval {
	switch {
	case b.Lo > 0 || b.Hi < 0:
		return hullOf(over(a.Lo, b.Lo), over(a.Lo, b.Hi), over(a.Hi, b.Lo), over(a.Hi, b.Hi))
	case b.Lo == 0 && b.Hi > 0:
		return Interval{
			Lo: math.Min(over(a.Lo, b.Hi), overZero(a.Lo, 1)),
			Hi: math.Max(over(a.Hi, b.Hi), overZero(a.Hi, 1)),
		}
	case b.Hi == 0 && b.Lo < 0:
		return a.Scale(-1).Div(b.Scale(-1))
	}
	return Interval{math.Inf(-1), math.Inf(1)}
}

// Hull is the smallest interval that holds both.
func (a Interval) Hull(b Interval) Interval {
	return Interval{math.Min(a.Lo, b.Lo), math.Max(a.Hi, b.Hi)}
}

// Min is the lesser of a value from a and one from b.
func (a Interval) Min(b Interval) Interval {
	return Interval{math.Min(a.Lo, b.Lo), math.Min(a.Hi, b.Hi)}
}

// Max is the greater of a value from a and one from b.
func (a Interval) Max(b Interval) Interval {
	return Interval{math.Max(a.Lo, b.Lo), math.Max(a.Hi, b.Hi)}
}

// Mid is the middle; +Inf where there is no upper end.
func (a Interval) Mid() float64 {
	if a.IsExact() {
		return a.Lo
	}
	return a.Lo/2 + a.Hi/2
}

// plus adds; where an infinity meets its opposite nothing is known, and the
// end that is asked for (side −1 or 1) is open.
func plus(x, y float64, side int) float64 {
	s := x + y
	if math.IsNaN(s) {
		return math.Inf(side)
	}
	return s
}

func times(x, y float64) float64 {
	if x == 0 || y == 0 {
		return 0
	}
	return x * y
}

// over divides by a y that is not zero; open ÷ open could be anything over zero.
func over(x, y float64) float64 {
	if math.IsInf(x, 0) && math.IsInf(y, 0) {
		return 0
	}
	return x / y
}

// overZero is where x ÷ y goes as y falls to zero from above.
func overZero(x float64, side int) float64 {
	if x == 0 {
		return 0
	}
	if x < 0 {
		side = -side
	}
	return math.Inf(side)
}

func hullOf(vs ...float64) Interval {
	h := Interval{vs[0], vs[0]}
	for _, v := range vs[1:] {
		h.Lo, h.Hi = math.Min(h.Lo, v), math.Max(h.Hi, v)
	}
	// A −0 is the same number and would print as "-0".
	return Interval{h.Lo + 0, h.Hi + 0}
}
