package quantity

import (
	"math"
	"strconv"
	"strings"
)

// absoluteZero is 0 K in °C: the lower end of "up to 95 F".
const absoluteZero = -273.15

// FormatNumber writes v for a painter: at most four significant digits, no
// trailing zeros, no exponent. "25.6", "0.3", "1604".
func FormatNumber(v float64) string {
	switch {
	case math.IsNaN(v):
		return "unknown"
	case math.IsInf(v, 1):
		return "any"
	case math.IsInf(v, -1):
		return "-any"
	case math.Abs(v) < 1e-9: // nothing that a shop could measure
		return "0"
	}
	rounded := Significant(v, 4)
	if whole := int64(rounded); math.Abs(rounded) < 1e15 && float64(whole) == rounded {
		return strconv.FormatInt(whole, 10)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// Significant rounds v to so many significant digits, 1 to 15, as a decimal
// would be: halves of what v exactly is go to the even digit. What is no number
// that can be rounded is given back.
func Significant(v float64, digits int) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	// By a power of ten that is exact, which a whole number divided by gives the
	// nearest there is; only near a half does the product's own error matter.
	if up := digits - 1 - magnitude(math.Abs(v)); up >= 0 && up < len(tens) && digits <= 12 {
		scaled := v * tens[up]
		whole := math.Round(scaled)
		if abs := math.Abs(whole); math.Abs(math.Abs(scaled-whole)-0.5) > 1e-3 && tens[digits-1] <= abs && abs < tens[digits] {
			return whole / tens[up]
		}
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// magnitude is the power of ten of a number's first digit, but for the last bit
// of what lies below 0.1: of 2^e it is e times the logarithm of 2, and of what
// lies between that and 2^(e+1) it is that or one more.
func magnitude(v float64) int {
	_, exp := math.Frexp(v)
	m := int(math.Floor(float64(exp-1) * (math.Ln2 / math.Ln10)))
	switch next := m + 1; {
	case next >= len(tens) || -next >= len(tens):
		return m
	case next >= 0 && v >= tens[next], next < 0 && v*tens[-next] >= 1:
		return next
	}
	return m
}

// tens are the powers of ten that a float64 holds exactly.
var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// Format writes an interval held in the dimension's canonical unit in another
// unit of it: "25.6 h", "1 - 3 mil", "at least 24 h", "up to 72 h", "any". A
// unit that the dimension does not have, "" among them, gives the canonical
// one. What Format writes, Parse reads back, to four digits.
func Format(iv Interval, dim Dimension, unit string) string {
	u, ok := findUnit(dim, unit)
	if !ok {
		u, _ = findUnit(dim, dim.Canonical())
	}
	lo := FormatNumber(u.of(iv.Lo))
	noLeast := lo == "0"
	switch dim {
	case Temperature:
		noLeast = iv.Lo <= absoluteZero
	case Count:
		noLeast = false
	}
	switch {
	case iv.IsOpen() && noLeast:
		return "any"
	case iv.IsOpen():
		return "at least " + lo + " " + spelledFor(u.name, lo)
	}
	hi := lo
	if iv.Hi != iv.Lo {
		hi = FormatNumber(u.of(iv.Hi))
	}
	switch {
	case lo == hi:
		return trim(lo + " " + spelledFor(u.name, lo))
	case noLeast:
		return trim("up to " + hi + " " + spelledFor(u.name, hi))
	}
	return trim(lo + " - " + hi + " " + spelledFor(u.name, hi))
}

func trim(s string) string { return strings.TrimRight(s, " ") }

// spelledFor puts a unit that is a word into the number its figure wants.
func spelledFor(unit, figure string) string {
	if figure == "1" && (unit == "days" || unit == "weeks") {
		return strings.TrimSuffix(unit, "s")
	}
	return unit
}

// String writes the quantity in the unit it was written in; a condition or
// "never" as such, and "not written" for the zero Quantity.
func (q Quantity) String() string {
	switch {
	case q.Never:
		return "never"
	case q.Until != "":
		return "until " + q.Until
	case !q.Written:
		return "not written"
	}
	return Format(q.Interval, q.Dim, q.Unit)
}
