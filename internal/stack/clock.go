package stack

import (
	"math"
	"sort"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// piece is one stretch of the sheet's clock: what a step itself lasts, or the
// time written after it.
type piece struct {
	step    int // number of the step
	dur     quantity.Interval
	written bool // somebody wrote it
	wait    bool // the `for` of a wait, bake, store or metalwork: it closes a span that began at a laying
	until   string
	unit    string // it was written in
	weather sheet.Weather
	panel   quantity.Interval // °C, the panel during it; the metal's heat during a bake
	panelOK bool
}

// clock is the sheet's time line. Steps are done in order; a position is a
// number of whole pieces since the beginning.
type clock struct {
	pieces []piece
	// sums over the pieces before each position
	lo, hi        []float64
	writes, waits []int
	steps         []span // by step number: start, end of what it lays or does, end with its wait
}

type span struct{ start, done, end int }

// clockOf lays the sheet's steps out in time.
func clockOf(s *sheet.Sheet, views []*cardView) *clock {
	c := &clock{steps: make([]span, len(s.Steps)+1)}
	for i := range s.Steps {
		st := &s.Steps[i]
		w := weatherAt(st.Weather, s.Booth)
		at := span{start: len(c.pieces)}
		p := piece{step: st.N, weather: w}
		p.panel, p.panelOK = closed(w.Panel.Interval), w.Panel.Written
		if st.For.Written {
			p.dur, p.written, p.until, p.unit = closedWait(st.For), true, st.For.Until, st.For.Unit
		}
		switch st.Do {
		case "wait", "bake", "store", "metalwork":
			p.wait = st.For.Written
			if st.Do == "bake" && st.Metal.Written {
				p.panel, p.panelOK = closed(st.Metal.Interval), true
			}
		case "spray", "brush", "spread", "caulk":
			if n := coatsOf(st); n > 1 {
				between := quantity.Interval{}
				if st.Between.Written {
					between = closedWait(st.Between)
				} else if v := views[i]; v != nil {
					if f := v.flash(); f.ok && !f.never {
						between = f.iv
					} else if f.until != "" {
						between = quantity.Open
					}
				}
				p.dur = p.dur.Add(between.Scale(float64(n - 1)))
			}
		}
		c.pieces = append(c.pieces, p)
		at.done = len(c.pieces)
		if st.ThenWait.Written {
			q := piece{step: st.N, weather: w, dur: closedWait(st.ThenWait), written: true, until: st.ThenWait.Until, unit: st.ThenWait.Unit}
			q.panel, q.panelOK = closed(w.Panel.Interval), w.Panel.Written
			c.pieces = append(c.pieces, q)
		}
		at.end = len(c.pieces)
		c.steps[st.N] = at
	}
	n := len(c.pieces)
	c.lo, c.hi = make([]float64, n+1), make([]float64, n+1)
	c.writes, c.waits = make([]int, n+1), make([]int, n+1)
	for i, p := range c.pieces {
		c.lo[i+1] = c.lo[i] + p.dur.Lo
		c.hi[i+1] = c.hi[i] + p.dur.Hi
		c.writes[i+1], c.waits[i+1] = c.writes[i], c.waits[i]
		if p.written {
			c.writes[i+1]++
		}
		if p.wait {
			c.waits[i+1]++
		}
	}
	return c
}

func coatsOf(st *sheet.Step) int {
	if st.Coats.Written && st.Coats.Value > 0 {
		return st.Coats.Value
	}
	return 1
}

// closedWait is a written wait as the clock counts it.
func closedWait(a sheet.Amount) quantity.Interval {
	if a.Until != "" {
		return quantity.Open
	}
	return a.Interval
}

// total is the sum of the pieces from one position to another.
func (c *clock) total(from, to int) quantity.Interval {
	if to <= from {
		return quantity.Interval{}
	}
	iv := quantity.Interval{Lo: round9(c.lo[to] - c.lo[from])}
	if math.IsInf(c.hi[to], 1) {
		// Subtracting would lose what lies before the open piece.
		for i := from; i < to; i++ {
			iv.Hi += c.pieces[i].dur.Hi
		}
	} else {
		iv.Hi = c.hi[to] - c.hi[from]
	}
	if !math.IsInf(iv.Hi, 1) {
		iv.Hi = round9(iv.Hi)
	}
	return iv
}

// sinceLaid is a span that starts at the end of a laying step's last coat: it
// is open unless that step's then_wait, or a wait in it, is written.
func (c *clock) sinceLaid(step, to int) (iv quantity.Interval, open bool) {
	from := c.steps[step].done
	if to < from {
		to = from
	}
	closed := c.steps[step].end > from && to >= c.steps[step].end || c.waits[to]-c.waits[from] > 0
	if !closed {
		return quantity.Open, true
	}
	iv = c.total(from, to)
	return iv, iv == quantity.Open
}

// any is a span of another sort: it is open when nothing in it is written.
func (c *clock) any(from, to int) (iv quantity.Interval, open bool) {
	if to <= from || c.writes[to]-c.writes[from] == 0 {
		return quantity.Open, true
	}
	iv = c.total(from, to)
	return iv, iv == quantity.Open
}

// unit is the one the longest written piece between two positions was written
// in: what a person would say the span in.
func (c *clock) unit(from, to int) string {
	unit, longest := "", -1.0
	for i := from; i < to; i++ {
		if p := c.pieces[i]; p.unit != "" && p.dur.Lo > longest {
			unit, longest = p.unit, p.dur.Lo
		}
	}
	return unit
}

// sinceLaidUnit is unit for a span from the end of a step's last coat.
func (c *clock) sinceLaidUnit(step, to int) string { return c.unit(c.steps[step].done, to) }

// effective is a span as drying counts it at the panel's temperature: pieces
// outside the card's temperature are scaled by 2^((T − T_card)/10 °C) from the
// nearer end (rule of thumb, doubling per 10 °C).
func (c *clock) effective(from, to int, at quantity.Interval) quantity.Interval {
	var sum quantity.Interval
	for i := from; i < to; i++ {
		p := c.pieces[i]
		d := p.dur
		if p.panelOK {
			f := quantity.Interval{Lo: pace(p.panel.Lo, at), Hi: pace(p.panel.Hi, at)}
			d = d.Mul(f)
		}
		sum = sum.Add(d)
	}
	sum.Lo = round9(sum.Lo)
	if !math.IsInf(sum.Hi, 1) {
		sum.Hi = round9(sum.Hi)
	}
	return sum
}

// pace is how fast a film dries at t °C beside the temperature its times hold at.
func pace(t float64, at quantity.Interval) float64 {
	switch {
	case t < at.Lo:
		return math.Pow(2, (t-at.Lo)/10)
	case t > at.Hi:
		return math.Pow(2, (t-at.Hi)/10)
	}
	return 1
}

// condition is the condition ("matte") written between two positions, if any.
func (c *clock) condition(from, to int) string {
	for i := from; i < to; i++ {
		if c.pieces[i].until != "" {
			return "until " + c.pieces[i].until
		}
	}
	return ""
}

// places gathers what the air was like from one position to another.
type surroundings struct {
	where       []string
	outdoors    bool
	outdoorTime quantity.Interval
	outdoorOpen bool
	humidity    quantity.Interval
	humidityOK  bool
	unit        string
}

// around looks at every piece of time from one position to another; a span
// without a piece is looked at where it stands.
func (c *clock) around(from, to int, skip func(piece) bool) surroundings {
	var s surroundings
	seen := map[string]bool{}
	written := false
	for i := from; i < to && i < len(c.pieces); i++ {
		p := c.pieces[i]
		if skip != nil && skip(p) {
			continue
		}
		where := placeOf(p.weather)
		if p.dur.Hi > 0 || p.written {
			seen[where] = true
		}
		if where == "outdoors" && (p.dur.Hi > 0) {
			s.outdoors = true
			s.outdoorTime = s.outdoorTime.Add(p.dur)
			written = written || p.written
		}
		if p.weather.Humidity.Written && p.dur.Hi > 0 {
			h := closed(p.weather.Humidity.Interval)
			if !s.humidityOK {
				s.humidity, s.humidityOK, s.unit = h, true, p.weather.Humidity.Unit
			} else {
				s.humidity = s.humidity.Max(h)
			}
		}
	}
	s.outdoorOpen = s.outdoors && !written
	for w := range seen {
		s.where = append(s.where, w)
	}
	sort.Strings(s.where)
	if s.where == nil {
		s.where = []string{}
	}
	return s
}

func placeOf(w sheet.Weather) string {
	if w.Where.Written && w.Where.Value != "" {
		return w.Where.Value
	}
	return "booth"
}
