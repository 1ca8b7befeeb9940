package stack

import (
	"math"
	"sort"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// piece is one stretch of the sheet's clock: what a step itself lasts, or the
// wait written after it. A piece that nobody wrote lasts nothing.
type piece struct {
	dur     quantity.Interval // min; a condition ("until matte") is 0 to open
	written bool              // somebody wrote it
	unit    string            // the unit it was written in
	until   string            // the condition it ends on, "" if none
	leaned  []string          // typical flashes that stand in for a `between` nobody wrote
	panel   quantity.Interval // °C, of the panel while it lasts; during a bake, the metal's heat
	warm    bool              // the panel's temperature is known
}

// clock is the sheet's time line. Steps are done in order, one after another,
// on every zone alike. Step n owns two pieces: what it lasts (for a laying
// step from its first coat to the end of its last), and its then_wait. A
// position lies between two pieces: 0 is the beginning, startOf(n), doneOf(n)
// and endOf(n) stand before, between and after the pieces of step n.
type clock struct {
	pieces  []piece
	weather []sheet.Weather // by step index: what the step says, else the booth
	lo, hi  []exact         // sums of both ends of the pieces before a position, open ends apart
	open    []int           // pieces without an upper end before a position
	writes  []int           // written pieces before a position
	closers []int           // waits, bakes, stores and metalworks with a `for` before a position
	written []int           // the pieces that are written, in order
	until   []int           // the pieces that end on a condition
	leaned  []int           // the pieces that lean on a typical flash
	scaled  map[quantity.Interval]*scaledSums
}

func startOf(step int) int { return 2 * (step - 1) }
func doneOf(step int) int  { return 2*step - 1 }
func endOf(step int) int   { return 2 * step }

// exact is a sum of floats kept to twice their length, so that the span
// between two late positions is as exact as its own pieces.
type exact struct{ sum, rest float64 }

func (e exact) add(v float64) exact {
	s := e.sum + v
	t := s - e.sum
	rest := e.rest + ((e.sum - (s - t)) + (v - t))
	return exact{s, rest}
}

func (e exact) minus(f exact) float64 { return (e.sum - f.sum) + (e.rest - f.rest) }

// wait is a written wait as the clock counts it.
func wait(a sheet.Amount) quantity.Interval {
	if a.Until != "" {
		return quantity.Open
	}
	return a.Interval
}

// newClock lays the steps out in time. cups are those of the laying steps, by
// step index; nil where a step lays no product.
func newClock(s *sheet.Sheet, cups []*cup) *clock {
	n := 2 * len(s.Steps)
	c := &clock{
		pieces: make([]piece, 0, n), lo: make([]exact, n+1), hi: make([]exact, n+1), open: make([]int, n+1),
		writes: make([]int, n+1), closers: make([]int, n+1), scaled: map[quantity.Interval]*scaledSums{},
	}
	for i := range s.Steps {
		st := &s.Steps[i]
		w := weatherAt(st.Weather, s.Booth)
		c.weather = append(c.weather, w)
		own := piece{written: st.For.Written, unit: st.For.Unit, until: st.For.Until}
		if st.For.Written {
			own.dur = wait(st.For)
		}
		if cp := cups[i]; cp != nil {
			own.dur, own.leaned = cp.lasts()
			if st.Between.Written && cp.coats() > 1 {
				own.written = true
				if own.unit == "" {
					own.unit = st.Between.Unit
				}
				if own.until == "" {
					own.until = st.Between.Until
				}
			}
		}
		own.panel, own.warm = closed(w.Panel.Interval), w.Panel.Written
		after := piece{written: st.ThenWait.Written, unit: st.ThenWait.Unit, until: st.ThenWait.Until, panel: own.panel, warm: own.warm}
		if st.ThenWait.Written {
			after.dur = wait(st.ThenWait)
		}
		if st.Do == "bake" && st.Metal.Written {
			own.panel, own.warm = closed(st.Metal.Interval), true
		}
		c.pieces = append(c.pieces, own, after)
	}
	for i, p := range c.pieces {
		c.lo[i+1], c.hi[i+1] = c.lo[i].add(p.dur.Lo), c.hi[i]
		c.open[i+1], c.writes[i+1], c.closers[i+1] = c.open[i], c.writes[i], c.closers[i]
		if math.IsInf(p.dur.Hi, 1) {
			c.open[i+1]++
		} else {
			c.hi[i+1] = c.hi[i].add(p.dur.Hi)
		}
		if p.written {
			c.writes[i+1]++
			c.written = append(c.written, i)
		}
		if p.until != "" {
			c.until = append(c.until, i)
		}
		if len(p.leaned) > 0 {
			c.leaned = append(c.leaned, i)
		}
		if i%2 == 0 && p.written && closes(s.Steps[i/2].Do) {
			c.closers[i+1]++
		}
	}
	return c
}

// closes: the `for` of these steps says how long a span lasts that began at
// the laying of a film.
func closes(do string) bool {
	switch do {
	case "wait", "bake", "store", "metalwork":
		return true
	}
	return false
}

// sheetEnd is the position after the last step.
func (c *clock) sheetEnd() int { return len(c.pieces) }

// span is how long it is from one position to another.
type span struct {
	iv     quantity.Interval // min
	open   bool              // nobody wrote how long; iv is 0 to open
	unit   string            // the unit its longest piece was written in, "" where none was
	leaned []string          // typical flashes it counts
	from   int
	to     int
}

func (s span) measure() Measure {
	if s.open {
		unit := s.unit
		if unit == "" {
			unit = "h"
		}
		return openMeasure(quantity.Time, unit)
	}
	return measure(s.iv, quantity.Time, s.unit)
}

// held sets a span beside the time it is held to.
func (s span) held(sense string, n number) *Comparison {
	if len(s.leaned) > 0 {
		n.leaned = append(append([]string{}, n.leaned...), s.leaned...)
	}
	return compare(sense, s.iv, s.open, s.unit, n)
}

// sum is everything that is counted from one position to another.
func (c *clock) sum(from, to int) quantity.Interval {
	if to <= from {
		return quantity.Interval{}
	}
	iv := quantity.Interval{Lo: math.Max(0, c.lo[to].minus(c.lo[from])), Hi: math.Inf(1)}
	if c.open[to] == c.open[from] {
		iv.Hi = math.Max(iv.Lo, c.hi[to].minus(c.hi[from]))
	}
	return iv
}

// plain is a span that is open only where nothing in it is written.
func (c *clock) plain(from, to int) span {
	if to < from {
		to = from
	}
	return c.spanOf(from, to, c.writes[to] == c.writes[from])
}

// sinceLaid is a span that starts at the end of the last coat that a step
// lays. It is open unless its wait is written: as that step's then_wait, or as
// the `for` of a wait, bake, store or metalwork in it.
func (c *clock) sinceLaid(step, to int) span {
	from := doneOf(step)
	if to < from {
		to = from
	}
	said := to >= endOf(step) && c.pieces[from].written || c.closers[to] > c.closers[from]
	return c.spanOf(from, to, !said)
}

func (c *clock) spanOf(from, to int, open bool) span {
	s := span{from: from, to: to, open: open, iv: quantity.Open}
	longest := -1.0
	for i, j := within(c.written, from, to); i < j; i++ {
		if p := c.pieces[c.written[i]]; p.unit != "" && p.dur.Lo > longest {
			s.unit, longest = p.unit, p.dur.Lo
		}
	}
	if open {
		return s
	}
	s.iv = c.sum(from, to)
	s.open = isOpen(s.iv, quantity.Time)
	if i, j := within(c.leaned, from, to); j > i {
		for _, k := range c.leaned[i:j] {
			s.leaned = append(s.leaned, c.pieces[k].leaned...)
		}
		s.leaned = sorted(s.leaned)
	}
	return s
}

// within finds which of some ordered piece numbers lie from one position to
// another: list[i:j].
func within(list []int, from, to int) (i, j int) {
	return sort.SearchInts(list, from), sort.SearchInts(list, to)
}

// condition is the first condition written from one position to another, as
// the sheet has it ("until matte"), or "".
func (c *clock) condition(from, to int) string {
	if i, j := within(c.until, from, to); j > i {
		return "until " + c.pieces[c.until[i]].until
	}
	return ""
}

// scaledSums are the clock's sums as drying counts them for a card whose times
// hold at one temperature.
type scaledSums struct {
	lo, hi []exact
	open   []int
	warm   []int // pieces that last and whose temperature is known, before a position
}

// scaledFor makes the sums of every piece divided by how many times longer
// drying takes in it (trade.TimeFactorFrom), once for each temperature.
func (c *clock) scaledFor(timesAt quantity.Interval) *scaledSums {
	if s, ok := c.scaled[timesAt]; ok {
		return s
	}
	n := len(c.pieces)
	s := &scaledSums{lo: make([]exact, n+1), hi: make([]exact, n+1), open: make([]int, n+1), warm: make([]int, n+1)}
	for i, p := range c.pieces {
		d := p.dur
		if p.warm {
			d = d.Div(trade.TimeFactorFrom(timesAt, p.panel))
		}
		s.lo[i+1], s.hi[i+1], s.open[i+1], s.warm[i+1] = s.lo[i].add(d.Lo), s.hi[i], s.open[i], s.warm[i]
		if math.IsInf(d.Hi, 1) {
			s.open[i+1]++
		} else {
			s.hi[i+1] = s.hi[i].add(d.Hi)
		}
		if p.warm && p.dur.Hi > 0 {
			s.warm[i+1]++
		}
	}
	c.scaled[timesAt] = s
	return s
}

// effective is a span as drying counts it at the panel's temperature.
func (c *clock) effective(sp span, timesAt quantity.Interval) span {
	if sp.open {
		return sp
	}
	s := c.scaledFor(timesAt)
	out := sp
	out.iv = quantity.Interval{Lo: math.Max(0, s.lo[sp.to].minus(s.lo[sp.from])), Hi: math.Inf(1)}
	if s.open[sp.to] == s.open[sp.from] {
		out.iv.Hi = math.Max(out.iv.Lo, s.hi[sp.to].minus(s.hi[sp.from]))
	}
	out.open = isOpen(out.iv, quantity.Time)
	return out
}

// factor is a span by the clock over the same as drying counts it.
func (c *clock) factor(sp, eff span, timesAt quantity.Interval) quantity.Interval {
	if sp.iv.IsExact() && sp.iv.Lo > 0 && eff.iv.Lo > 0 && !eff.iv.IsOpen() {
		return sp.iv.Div(eff.iv)
	}
	f := quantity.Interval{Lo: math.Inf(1), Hi: math.Inf(-1)}
	for _, p := range c.pieces[sp.from:sp.to] {
		if p.dur.Hi <= 0 && !p.written {
			continue
		}
		one := quantity.Exactly(1)
		if p.warm {
			one = trade.TimeFactorFrom(timesAt, p.panel)
		}
		f = f.Hull(one)
	}
	if math.IsInf(f.Lo, 0) || math.IsInf(f.Hi, 0) {
		return quantity.Exactly(1)
	}
	return f
}

// slowed sets a span as the panel's temperature counts it beside the time it
// is held to. It is null where there is no such time, where the span is open or
// no temperature in it is written, and for waterborne films.
func (c *clock) slowed(v *cardView, sp span, n number) *Slowed {
	if sp.open || !n.ok || n.never || v.hasTrait("waterborne") {
		return nil
	}
	at := v.timesAt()
	s := c.scaledFor(at)
	if s.warm[sp.to] == s.warm[sp.from] {
		return nil
	}
	eff := c.effective(sp, at)
	return eff.slowedBy(c.factor(sp, eff, at), n)
}

// slowedBy sets a span that the temperature has been reckoned into beside the
// time it is held to; null where there is no such time.
func (s span) slowedBy(factor quantity.Interval, n number) *Slowed {
	compared := s.held("least", n)
	if compared == nil {
		return nil
	}
	return &Slowed{Compared: *compared, Factor: measure(factor, quantity.Count, ""), Enough: s.enough(factor, n)}
}

// enough is the span by the clock that is as long as a time it is held to,
// where the temperature slows it by a factor.
func (s span) enough(factor quantity.Interval, n number) Measure {
	least := n.least().iv
	if factor.IsOpen() || least.IsOpen() {
		return openMeasure(quantity.Time, s.unit)
	}
	return measure(quantity.Exactly(least.Hi*factor.Hi), quantity.Time, s.unit)
}
