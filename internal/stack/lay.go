package stack

import (
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// laying is one laying step, whose facts are told once its layer is whole.
type laying struct {
	st       *sheet.Step
	cup      *cup
	layer    *layer
	film     stepFilm
	zones    []*zone
	contacts []string
	area     quantity.Interval // ft², of its zones as they are when it is laid
	joins    *span             // the gap to the step whose layer it goes on with
	joined   int               // that step
	room     int               // the last metalwork that says it was done in the same place, 0 if none
}

// lay lays a film on the zones it reaches: a new layer, or more coats of the
// one that the row of steps before it lays.
func (b *builder) lay(zs []*zone, st *sheet.Step) {
	b.count(st, len(zs))
	v := b.views[st.N-1]
	if v == nil {
		return
	}
	p := &laying{st: st, cup: b.cups[st.N-1], zones: zs, room: b.rooms[placeOf(b.clock.weather[st.N-1])], film: stepFilm{wet: quantity.Open, coat: quantity.Open, dry: quantity.Open, coats: 1}}
	if p.cup != nil {
		p.film = p.cup.film()
	}
	for _, z := range zs {
		area := z.area
		if !z.areaOK {
			area = quantity.Open
		}
		p.area = p.area.Add(area)
	}
	if gap, ok := b.goesOn(v, zs, st); ok {
		p.layer, p.joined, p.joins = b.row.layer, b.row.layer.lastStep, &gap
		b.moreCoats(p)
	} else {
		p.layer = b.newLayer(v, st, zs)
		for _, z := range zs {
			if len(b.doc.Contacts) >= maxContacts {
				b.stop(st, "with this step more than %d films lie on films, counted zone by zone; split the sheet", maxContacts)
				return
			}
			if len(z.films) > maxFilms {
				b.stop(st, "with this step %s carries more than %d films; no panel does", z.facts.Name, maxFilms)
				return
			}
			p.contacts = append(p.contacts, b.contact(z, p))
		}
	}
	p.layer.coats = append(p.layer.coats, p.film)
	p.layer.lastStep = st.N
	if p.cup != nil {
		p.layer.poisons = append(p.layer.poisons, p.cup.poisons()...)
	}
	if st.Call != "" {
		b.callOf[st.Call] = p.layer
	}
	b.fades(p)
	b.row = &row{layer: p.layer, zones: map[*zone]bool{}}
	for _, z := range zs {
		b.row.zones[z] = true
	}
	b.lays = append(b.lays, p)
}

// goesOn tells whether a step lays more coats of the layer before it: the same
// card in the same use, nothing between but waiting, tacking and wiping, no
// zone that the step before left out, and a gap that is not longer for certain
// than a coat may wait to join. A gap that nobody wrote joins.
func (b *builder) goesOn(v *cardView, zs []*zone, st *sheet.Step) (span, bool) {
	if b.row == nil || b.row.layer.view != v || v.card == nil {
		return span{}, false
	}
	l := b.row.layer
	for _, z := range zs {
		if !b.row.zones[z] || z.topFilm().layer != l {
			return span{}, false
		}
	}
	gap := b.clock.sinceLaid(l.lastStep, startOf(st.N))
	if most := v.flashMost(); !gap.open && most.ok && round9(gap.iv.Lo) > round9(most.iv.Hi) {
		return span{}, false
	}
	return gap, true
}

// newLayer is the layer that a step begins.
func (b *builder) newLayer(v *cardView, st *sheet.Step, zs []*zone) *layer {
	name, ref := "body-solder", ""
	if v.card != nil {
		name, ref = v.card.Name, v.ref
	}
	l := &layer{view: v, home: map[string]*zone{}, inBakes: map[string]bool{}, mayBeIn: map[string]bool{}, left: map[string]Measure{}, unit: "mil"}
	l.Layer = Layer{
		ID: stepID(st.N) + ":" + name, Kind: v.kind.Name, Name: v.shown, Card: ref, Traits: v.traits(),
		Step: st.N, Steps: []int{st.N}, Call: st.Call, Zones: zoneNames(zs), Place: st.Place,
	}
	for _, z := range zs {
		l.home[z.facts.Name] = z
	}
	b.layers = append(b.layers, l)
	b.byID[l.ID] = l
	return l
}

// moreCoats lays a step's coats on the layer that its zones have on top.
func (b *builder) moreCoats(p *laying) {
	l, st := p.layer, p.st
	l.Steps = append(l.Steps, st.N)
	for _, z := range p.zones {
		f := z.topFilm()
		f.coats = append(append([]stepFilm{}, f.coats...), p.film)
		f.lastStep = st.N
		f.measure()
		id := z.facts.Name + "/" + l.ID
		p.contacts = append(p.contacts, id)
		b.coverTouches(z, id)
		// The layer goes on: its surface is that of the last coat.
		z.top = newSurface(st)
	}
}

// measure works out a film in its zone from the steps that lay it there.
func (f *film) measure() {
	f.laid = filmOfLayer(f.view, f.coats)
	f.left, f.known = leftOf(f.laid.iv, f.laid.assumed), f.laid.known && !isOpen(f.laid.iv, quantity.Film)
	f.leaned = f.laid.leaned
	f.unit = orElse(f.laid.unit, "mil")
}

// fades notes where a step's coats fade out.
func (b *builder) fades(p *laying) {
	if !p.st.Fades.Written {
		return
	}
	says := b.said(p.st, "fades", sheet.Texts{Values: p.st.Fades.Zones, Place: p.st.Fades.Place})
	in := map[*zone]bool{}
	for _, z := range b.spread(says, p.st.Fades.All) {
		in[z] = true
	}
	for _, z := range p.zones {
		if !in[z] {
			continue
		}
		p.layer.Fades = appendOnce(p.layer.Fades, z.facts.Name)
		if f := z.topFilm(); f.layer == p.layer && f.contact >= 0 {
			b.doc.Contacts[f.contact].Fades = true
		}
	}
}

func appendOnce(list []string, s string) []string {
	for _, x := range list {
		if x == s {
			return list
		}
	}
	return append(list, s)
}

// layFacts is what the document says of every laying step.
func (b *builder) layFacts() {
	for _, p := range b.lays {
		if p.cup == nil {
			continue // body solder has neither can nor cup
		}
		st, l, v := p.st, p.layer, p.layer.view
		where := placeOf(b.clock.weather[st.N-1])
		e := Lay{
			ID: stepID(st.N), Step: st.N, Do: st.Do, Layer: l.ID, Name: l.Name, Card: l.Card, Kind: l.Kind, Traits: l.Traits,
			Contacts: p.contacts, Zones: zoneNames(p.zones), Where: where, Outdoors: where == "outdoors", Wear: sorted(st.Wear.Values),
			Gun: st.Gun.Value, Mix: stepID(st.N), Place: st.Place,
		}
		e.film(p.film, v)
		e.weather(st, b.s.Booth, v)
		if st.Thickness.Written {
			m := measure(st.Thickness.Interval, quantity.Film, st.Thickness.Unit)
			e.Thickness = &m
		}
		if e.Coats > 1 && st.Between.Written {
			e.BetweenWritten = true
			sp := span{iv: wait(st.Between), unit: st.Between.Unit}
			sp.open = isOpen(sp.iv, quantity.Time)
			e.Between = sp.held("least", v.flash())
			e.BetweenSlowed = b.slowedBetween(v, st, sp)
		}
		if p.joins != nil {
			e.Joins, e.JoinsStep = p.joins.held("least", v.flash()), p.joined
			e.JoinsWritten = !p.joins.open || b.clock.condition(p.joins.from, p.joins.to) != ""
			e.JoinsSlowed = b.clock.slowed(v, *p.joins, v.flash())
		}
		e.CoatsMore = e.Coats + 1
		if p.film.known && p.film.coat.Lo > 0 && len(l.Steps) == 1 && st.Do != "spread" {
			lo, hi := v.film()
			if n := math.Ceil(lo.iv.Lo/p.film.coat.Lo - 1e-9); lo.ok && n < 1000 {
				e.CoatsEnough = int(n)
			}
			if n := math.Floor(hi.iv.Hi/p.film.coat.Hi + 1e-9); hi.ok && n < 1000 {
				e.CoatsMost = int(n)
			}
		}
		if p.room > 0 {
			sp := b.clock.plain(doneOf(p.room), startOf(st.N))
			e.MetalworkNear, e.MetalworkStep = sp.held("least", b.lim.number("metalwork_clear")), p.room
		}
		b.doc.Lays = append(b.doc.Lays, e)
		b.doc.Mixes = append(b.doc.Mixes, p.cup.facts(cupUse{
			layer: l.ID, area: p.area, film: filmOfLayer(v, l.coats), air: b.clock.weather[st.N-1].Air, where: where,
		}))
	}
}

// slowedBetween is a written wait between coats as the panel's temperature
// counts it; as slowed.
func (b *builder) slowedBetween(v *cardView, st *sheet.Step, sp span) *Slowed {
	piece := b.clock.pieces[startOf(st.N)]
	n := v.flash()
	if sp.open || !n.ok || n.never || !piece.warm || v.hasTrait("waterborne") {
		return nil
	}
	factor := trade.TimeFactorFrom(v.timesAt(), piece.panel)
	eff := sp
	eff.iv = sp.iv.Div(factor)
	eff.iv.Lo, eff.iv.Hi = round9(eff.iv.Lo), round9(eff.iv.Hi)
	return eff.slowedBy(factor, n)
}
