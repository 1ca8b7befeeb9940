package stack

import (
	"math"
	"sort"
	"strings"

	"guidecoat/internal/quantity"
)

// absoluteZero is 0 K in °C.
const absoluteZero = -273.15

// beyond stands for a ratio to a limit of zero: it is over, and how far means nothing.
const beyond = 1e9

// round9 rounds to nine significant digits, so that the document is the same
// bytes whatever order the arithmetic was done in.
func round9(v float64) float64 { return significant(v, 9) }

// significant rounds v to n significant digits; it is never -0, which prints.
func significant(v float64, n int) float64 {
	if r := quantity.Significant(v, n); r != 0 {
		return r
	}
	return 0
}

// measure puts an interval of the dimension's canonical unit into a Measure
// shown in unit. With no unit a readable one is picked.
func measure(iv quantity.Interval, dim quantity.Dimension, unit string) Measure {
	if isOpen(iv, dim) {
		return openMeasure(dim, unit)
	}
	if unit == "" {
		unit = readableUnit(iv, dim)
	}
	m := Measure{Lo: finite(iv.Lo), Hi: upper(iv.Hi), Text: textOf(iv, dim, unit)}
	m.Shown = Shown{Lo: shown(finite(iv.Lo), dim, unit), Unit: unit}
	if m.Hi != nil {
		hi := shown(iv.Hi, dim, unit)
		m.Shown.Hi = &hi
	}
	return m
}

// isOpen: nothing is known of a quantity of this dimension.
func isOpen(iv quantity.Interval, dim quantity.Dimension) bool {
	if dim == quantity.Temperature || dim == quantity.TempMargin {
		return iv.IsOpen() && iv.Lo <= absoluteZero
	}
	return iv.IsOpen() && iv.Lo <= 0
}

// shown is a canonical value in a unit, to four significant digits; in the
// canonical unit where the dimension has no such unit.
func shown(v float64, dim quantity.Dimension, unit string) float64 {
	if c, ok := quantity.Convert(v, dim, unit); ok {
		v = c
	}
	return significant(v, 4)
}

// textOf writes an interval for a message. A range that begins below zero is
// written with 'to', so that no dash can be read as a sign.
func textOf(iv quantity.Interval, dim quantity.Dimension, unit string) string {
	if lo, ok := quantity.Convert(iv.Lo, dim, unit); ok && lo < 0 && iv.Lo > absoluteZero && iv.Lo != iv.Hi && !iv.IsOpen() {
		return strings.TrimSpace(quantity.FormatNumber(lo) + " to " + quantity.Format(quantity.Exactly(iv.Hi), dim, unit))
	}
	return quantity.Format(iv, dim, unit)
}

// openMeasure is a quantity that nobody wrote.
func openMeasure(dim quantity.Dimension, unit string) Measure {
	if unit == "" {
		unit = readableUnit(quantity.Interval{}, dim)
	}
	return Measure{Shown: Shown{Unit: unit}, Text: "not written", Open: true}
}

// marginMeasure is a difference of temperatures, canonically in °C.
func marginMeasure(iv quantity.Interval, unit string) Measure {
	return measure(iv, quantity.TempMargin, unit)
}

// gradeMeasure is an abrasive: its median particle in µm, shown as its grade.
// The zero Abrasive is a grade that nobody wrote.
func gradeMeasure(a quantity.Abrasive) Measure {
	if a.Name == "" && a.Microns == (quantity.Interval{}) {
		return Measure{Shown: Shown{Unit: string(quantity.FEPA)}, Text: "grade not written", Open: true}
	}
	m := Measure{Lo: round9(a.Microns.Lo), Hi: upper(a.Microns.Hi), Text: a.Name}
	if a.System == quantity.Pad {
		// The P grades it works like, the coarser (lower number) first.
		lo := float64(quantity.NearestCoarser(a.Microns.Hi).Number)
		hi := float64(quantity.NearestCoarser(a.Microns.Lo).Number)
		m.Shown = Shown{Lo: lo, Hi: &hi, Unit: string(quantity.FEPA)}
		return m
	}
	n := float64(a.Number)
	m.Shown = Shown{Lo: n, Hi: &n, Unit: string(a.System)}
	return m
}

// number is one number a quantity is held to, and where it comes from. The
// zero number is one that nobody gives: ok is false.
type number struct {
	iv     quantity.Interval
	dim    quantity.Dimension
	unit   string
	grade  quantity.Abrasive // of an abrasive limit, for showing it
	source string            // card | typical | limit | house | sheet
	leaned []string          // CARD.KEY where it is typical
	graced bool              // clock, film or reduction
	ok     bool
	never  bool   // 'never': there is no such time
	until  string // a wait that is a condition ("matte"): ok is false, iv is open
}

// least is the number held to its lower end alone: a range out of which the
// shop may choose is met by its low end.
func (n number) least() number {
	n.iv.Hi = n.iv.Lo
	return n
}

// most is the number held to its upper end alone. It is no number where that
// end is open.
func (n number) most() number {
	if math.IsInf(n.iv.Hi, 1) {
		return number{}
	}
	n.iv.Lo = n.iv.Hi
	return n
}

// scaled is the number times f.
func (n number) scaled(f float64) number {
	n.iv.Lo *= f
	n.iv.Hi *= f
	return n
}

// Measure is the number as the document carries it.
func (n number) measure() Measure {
	if n.dim == quantity.Particle && n.grade.Name != "" {
		return gradeMeasure(n.grade)
	}
	return measure(n.iv, n.dim, n.unit)
}

// compare sets a measured quantity, in the canonical unit of the limit's
// dimension, beside a limit. sense is "least" or "most". open says that nobody
// wrote the measured quantity; unitHint is the unit the sheet wrote it in. It
// is nil where there is no limit to compare with.
func compare(sense string, measured quantity.Interval, open bool, unitHint string, limit number) *Comparison {
	if !limit.ok || limit.never {
		return nil
	}
	unit := limit.unit
	if limit.source == "limit" || limit.source == "typical" || unit == "" {
		switch {
		case unitHint != "" && readable(limit, unitHint):
			unit = unitHint
		case limit.dim == quantity.Time && limit.iv.Lo <= 4*60 && !measured.IsOpen() && readableUnit(measured, limit.dim) == "min":
			unit = "min" // "25 min of 60 min", not "0.4167 h of 1 h"
		}
	}
	shown := limit
	shown.unit = unit
	c := &Comparison{
		Limit:  shown.measure(),
		Sense:  sense,
		Source: limit.source,
		Leaned: sorted(limit.leaned),
		Graced: limit.graced,
	}
	if open || isOpen(measured, limit.dim) {
		c.Open = true
		c.Measured = openMeasure(limit.dim, unit)
		return c
	}
	c.Measured = measure(measured, limit.dim, unit)
	c.Over = over(sense, measured, limit)
	return c
}

// readable: a limit of four square inches is no 0.02778 ft2, whatever the
// sheet measures the panel in.
func readable(limit number, unit string) bool {
	v := limit.iv.Lo
	if v == 0 {
		v = limit.iv.Hi
	}
	v = math.Abs(shown(v, limit.dim, unit))
	return limit.dim == quantity.Temperature || limit.dim == quantity.TempMargin || v == 0 || v >= 0.05 && v < 10000
}

// compareGrades sets an abrasive beside the grade it is held to: "most" for
// the coarsest let in, "least" for the finest, by median particle.
func compareGrades(sense string, a quantity.Abrasive, limit number) *Comparison {
	if !limit.ok || limit.never {
		return nil
	}
	m := gradeMeasure(a)
	c := compare(sense, a.Microns, m.Open, "", limit)
	c.Measured = m
	return c
}

// over is measured ÷ limit at its extreme pairings. An open end of the limit
// is no limit: the closed end stands in for it.
func over(sense string, measured quantity.Interval, limit number) Range {
	m, l := measured, limit.iv
	if limit.dim == quantity.Temperature {
		m, l = kelvin(m), kelvin(l)
	}
	if math.IsInf(l.Hi, 1) && sense == "least" {
		l.Hi = l.Lo
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range []float64{m.Lo, m.Hi} {
		for _, y := range []float64{l.Lo, l.Hi} {
			q := quotient(x, y)
			lo, hi = math.Min(lo, q), math.Max(hi, q)
		}
	}
	if math.IsInf(lo, 1) {
		lo = beyond
	}
	return Range{Lo: round9(lo), Hi: upper(hi)}
}

// quotient is x ÷ y where zero ÷ zero is exactly met, anything ÷ zero beyond
// it, and infinity ÷ infinity not told apart from it.
func quotient(x, y float64) float64 {
	switch {
	case math.IsInf(x, 1) && math.IsInf(y, 1):
		return math.Inf(1)
	case y == 0 && x == 0:
		return 1
	case y == 0 && x > 0:
		if math.IsInf(x, 1) {
			return x
		}
		return beyond
	case y == 0:
		return -beyond
	}
	return x / y
}

func kelvin(iv quantity.Interval) quantity.Interval {
	return quantity.Interval{Lo: math.Max(0, iv.Lo-absoluteZero), Hi: iv.Hi - absoluteZero}
}

// upper is an interval's upper end as the document has it: null when open.
func upper(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	r := round9(v)
	return &r
}

// finite is a lower end as the document has it: no temperature is under absolute zero.
func finite(v float64) float64 {
	if math.IsInf(v, -1) || math.IsNaN(v) {
		return absoluteZero
	}
	return round9(v)
}

// readableUnit is the unit for a quantity that the sheet wrote in none.
func readableUnit(iv quantity.Interval, dim quantity.Dimension) string {
	if dim != quantity.Time {
		return dim.Canonical()
	}
	end := iv.Hi
	if iv.IsOpen() {
		end = iv.Lo
	}
	switch {
	case end < 2*60:
		return "min"
	case end <= 3*24*60:
		return "h"
	}
	return "days"
}

// sorted is a sorted copy without doubles, never nil.
func sorted(words []string) []string {
	out := make([]string, 0, len(words))
	out = append(out, words...)
	sort.Strings(out)
	kept := out[:0]
	for i, w := range out {
		if i == 0 || w != out[i-1] {
			kept = append(kept, w)
		}
	}
	return kept
}
