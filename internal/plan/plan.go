// Package plan turns the facts of a stack into two papers for the shop: the
// table the mixing bench pours from, and the plan of the days.
//
// It promises the same paper for the same facts: it reads no clock, no file and
// no map in the order it happens to lie in. It measures and never judges; no
// word of 'too soon' or 'over the limit' is said here. It must not know how a
// sheet is written, nor what a rule makes of it.
package plan

import (
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/stack"
)

// Amount is a quantity in one unit, to four digits. Hi is null where it has no
// upper end.
type Amount struct {
	Lo   float64  `json:"lo"`
	Hi   *float64 `json:"hi"`
	Unit string   `json:"unit"`
	Text string   `json:"text"`
}

// Both is a quantity in metric and in US units; one that was not asked for is null.
type Both struct {
	Metric *Amount `json:"metric"`
	US     *Amount `json:"us"`
}

// Units is which of the two a table is in.
type Units struct{ Metric, US bool }

// interval is a measure's interval in its canonical unit.
func interval(m stack.Measure) quantity.Interval {
	iv := quantity.Interval{Lo: m.Lo, Hi: math.Inf(1)}
	if m.Hi != nil {
		iv.Hi = *m.Hi
	}
	return iv
}

// known tells whether somebody wrote a measure, or it could be reckoned, with
// an upper end.
func known(m stack.Measure) bool { return !m.Open && m.Hi != nil }

// amount is a canonical interval in one unit of its dimension.
func amount(iv quantity.Interval, dim quantity.Dimension, unit string) *Amount {
	in := func(v float64) float64 {
		c, _ := quantity.Convert(v, dim, unit)
		return round4(c)
	}
	a := &Amount{Lo: in(iv.Lo), Unit: unit, Text: quantity.Format(iv, dim, unit)}
	if !math.IsInf(iv.Hi, 1) {
		hi := in(iv.Hi)
		a.Hi = &hi
	}
	return a
}

// in is a quantity in whichever units are asked for.
func (u Units) in(iv quantity.Interval, dim quantity.Dimension, metric, us string) Both {
	var b Both
	if u.Metric {
		b.Metric = amount(iv, dim, metric)
	}
	if u.US {
		b.US = amount(iv, dim, us)
	}
	return b
}

// volume is a volume, L, in the units a bench pours it in.
func (u Units) volume(iv quantity.Interval) Both {
	metric, us := "L", "gal"
	gallons, _ := quantity.Convert(iv.Hi, quantity.Volume, "gal")
	switch {
	case gallons < 0.25:
		us = "fl oz"
	case gallons < 1:
		us = "qt"
	}
	if iv.Hi < 1 {
		metric = "mL"
	}
	return u.in(iv, quantity.Volume, metric, us)
}

// round4 rounds to four significant digits, as every number for a painter is.
func round4(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	scale := math.Pow(10, 3-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(scale, 0) || scale == 0 {
		return v
	}
	return math.Round(v*scale) / scale
}
