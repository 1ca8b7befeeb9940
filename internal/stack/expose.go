package stack

import (
	"fmt"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// surroundings are what a surface stood in from one moment to another.
type surroundings struct {
	where       []string // every place, sorted
	outdoors    bool
	outdoorTime span
	humidity    quantity.Interval // the highest, %
	humid       bool              // somebody wrote it
	unit        string
}

// around gathers what a surface stood in from one position to another: the
// weather of every step in between, a step's own holding for its then_wait too.
// The place where it came up counts; the air there only if there is no other.
func (b *builder) around(from, to int) surroundings {
	var a surroundings
	places := map[string]bool{}
	air := func(w sheet.Weather) {
		if !w.Humidity.Written {
			return
		}
		h := closed(w.Humidity.Interval)
		if a.humid {
			h = h.Max(a.humidity)
		}
		a.humidity, a.humid, a.unit = h, true, w.Humidity.Unit
	}
	var outdoors quantity.Interval
	written, inside := false, false
	for i := from; i < to; i++ {
		p, w := b.clock.pieces[i], b.clock.weather[i/2]
		if i%2 == 1 && !p.written {
			continue
		}
		inside = true
		places[placeOf(w)] = true
		air(w)
		if placeOf(w) == "outdoors" {
			outdoors, written = outdoors.Add(p.dur), written || p.written
		}
	}
	switch {
	case from > 0:
		w := b.clock.weather[(from-1)/2]
		places[placeOf(w)] = true
		if !inside {
			air(w)
		}
	case !inside:
		places[placeOf(b.s.Booth)] = true
		air(b.s.Booth)
	}
	a.where = sortedKeys(places)
	a.outdoors = places["outdoors"]
	a.outdoorTime = span{iv: outdoors}
	if a.outdoors && (!written || isOpen(outdoors, quantity.Time)) {
		a.outdoorTime = span{iv: quantity.Open, open: true, unit: "days"}
	}
	return a
}

func (a surroundings) humidityMeasure() *Measure {
	if !a.humid {
		return nil
	}
	m := measure(a.humidity, quantity.Share, a.unit)
	return &m
}

// cover ends the life of a zone's top surface in a step (0: the sheet ends) and
// tells how it was exposed. It returns the exposure's id.
func (b *builder) cover(z *zone, step int, by, contact string) string {
	s, f := z.top, z.topFilm()
	to := b.clock.sheetEnd()
	if step > 0 {
		to = startOf(step)
	}
	from, pos, place, during := s.from, s.pos, s.place, s.during
	if s.opened != nil && z.porous() {
		// What bare fiberglass went through before it drank does not count.
		from, pos, place = s.opened.N, doneOf(s.opened.N), s.opened.Place
		during = after(during, from)
	}
	time := b.clock.plain(pos, to)
	around := b.around(pos, to)
	x := Exposure{
		ID: fmt.Sprintf("%s/%d-%d", z.facts.Name, from, step), Zone: z.facts.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits,
		Pore: z.porous(), Bare: f.Substrate, FromStep: from, ToStep: step, EndedBy: by, Contact: contact,
		Time: time.measure(), Outdoors: around.outdoors, OutdoorTime: around.outdoorTime.measure(), Humidity: around.humidityMeasure(),
		Where: around.where, During: during, Place: place,
	}
	if n := len(x.During); n > 0 && step > 0 && x.During[n-1].Step == step {
		x.During = x.During[:n-1] // that is what ended it
	}
	if x.Pore {
		x.PoreOpen = time.held("most", b.poreLimit(f, around))
	}
	if f.Traits.Acid {
		x.AcidHold = time.held("most", b.lim.number("acid_hold"))
		if damp := b.lim.interval("damp_acid").Hi; around.humid && around.humidity.Hi > damp {
			x.AcidDamp = b.clock.dampTime(pos, to, damp).held("most", b.lim.number("acid_hold_damp"))
		}
	}
	if around.outdoors {
		if f.Traits.Epoxy {
			x.SunEpoxy = around.outdoorTime.held("most", b.lim.number("sun_epoxy"))
		}
		if f.Kind == "urethane surfacer" {
			x.SunSurfacer = around.outdoorTime.held("most", b.lim.number("sun_surfacer"))
		}
	}
	b.exposures = append(b.exposures, exposed{z.id, x})
	return x.ID
}

// after are the happenings behind a step.
func after(during []During, step int) []During {
	i := 0
	for i < len(during) && during[i].Step <= step {
		i++
	}
	return during[i:]
}

// poreLimit is how long a pore may stand open: beyond the settling its card
// asks for, and half as long in damp air.
func (b *builder) poreLimit(f *film, around surroundings) number {
	n := b.damped(b.lim.number("porous_open"), around, "damp_pore")
	if f.Existing || f.Substrate {
		return n
	}
	if settles := f.view.number("settles"); settles.ok && !settles.never {
		n.iv = n.iv.Add(settles.iv)
		n.leaned = append(append([]string{}, n.leaned...), settles.leaned...)
	}
	return n
}

// exposed is an exposure with its zone's number, for putting them in order.
type exposed struct {
	zone int
	x    Exposure
}
