package stack

import (
	"math"

	"guidecoat/internal/quantity"
)

// slowed is a span of the clock as drying counts it at the panel's
// temperature, beside the least wait it is held to. It is nil for waterborne
// films, which are not scaled, where no temperature is written, and where the
// span is open.
func (b *builder) slowed(v *cardView, from, to int, open bool, n number) *Slowed {
	if open || !n.ok || n.never || v.hasTrait("waterborne") || to < from {
		return nil
	}
	told := false
	for i := from; i < to; i++ {
		told = told || b.clock.pieces[i].panelOK
	}
	if !told {
		return nil
	}
	span := b.clock.total(from, to)
	scaled := b.clock.effective(from, to, v.timesAt())
	c := compare("least", scaled, false, "", n)
	if c == nil {
		return nil
	}
	return &Slowed{Compared: *c, Factor: measure(paceOf(span, scaled), quantity.Count, "")}
}

// paceOf is how many times longer a span is than what drying counts of it.
func paceOf(span, scaled quantity.Interval) quantity.Interval {
	if scaled.Lo <= 0 || math.IsInf(scaled.Hi, 1) || math.IsInf(span.Hi, 1) {
		return quantity.Exactly(1)
	}
	if span.IsExact() {
		return quantity.Interval{Lo: round9(span.Lo / scaled.Hi), Hi: round9(span.Lo / scaled.Lo)}
	}
	// Both ends stretch together: the same weather holds for either.
	x, y := span.Lo/scaled.Lo, span.Hi/scaled.Hi
	return quantity.Interval{Lo: round9(math.Min(x, y)), Hi: round9(math.Max(x, y))}
}

// waited is a written wait between coats as drying counts it in its step's weather.
func (b *builder) waited(v *cardView, step int, wait quantity.Interval, open bool, n number) *Slowed {
	p := b.clock.pieces[b.clock.steps[step].start]
	if open || !n.ok || n.never || v.hasTrait("waterborne") || !p.panelOK {
		return nil
	}
	at := v.timesAt()
	f := quantity.Interval{Lo: pace(p.panel.Lo, at), Hi: pace(p.panel.Hi, at)}
	scaled := wait.Mul(f)
	c := compare("least", scaled, false, "", n)
	if c == nil {
		return nil
	}
	return &Slowed{Compared: *c, Factor: measure(paceOf(wait, scaled), quantity.Count, "")}
}
