package stack

import (
	"sort"

	"guidecoat/internal/quantity"
)

// end closes what is still open when the sheet ends, and tells everything that
// is only known once the whole of it has been carried out.
func (b *builder) end() {
	d := b.doc
	last := b.clock.sheetEnd()
	for _, z := range b.zones {
		b.coverTouches(z, "")
		b.dried(z, last)
		b.ending(z)
	}
	b.layerFacts()
	b.layFacts()
	b.fillDepths()
	b.leftOvers()
	b.reliances()
	b.waits()
	for i := range d.Metalworks {
		m := &d.Metalworks[i]
		m.CutToMetalAfter, m.PerhapsCutAfter = b.byName[m.Zone].baredAfter(m.Step)
	}
	sort.SliceStable(b.exposures, func(i, j int) bool {
		x, y := b.exposures[i], b.exposures[j]
		if x.zone != y.zone {
			return x.zone < y.zone
		}
		return x.x.FromStep < y.x.FromStep
	})
	for _, e := range b.exposures {
		d.Exposures = append(d.Exposures, e.x)
	}
	b.head()
	d.Cards = map[string]CardFacts{}
	uses := cardUses(b.s, b.lim)
	for _, ref := range sortedKeys(uses) {
		d.Cards[ref] = cardFacts(uses[ref], b.s.Date, b.lim)
	}
	d.LayersByID = make(map[string]Layer, len(d.Layers))
	for _, l := range d.Layers {
		d.LayersByID[l.ID] = l
	}
	cups := map[int]*cup{}
	for i, c := range b.cups {
		if c != nil {
			cups[i+1] = c
		}
	}
	d.Vocs = d.vocs(b.s, cups, b.lim)
	d.Totals = d.totals(b.byRef, b.lim)
	b.looks()
	d.finish()
}

// ending is what faces the weather in a zone, and the zone itself.
func (b *builder) ending(z *zone) {
	d, s, f := b.doc, z.top, z.topFilm()
	porous := z.porous()
	id := b.cover(z, 0, "end", "")
	e := Ending{
		ID: id, Zone: z.facts.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Existing: f.Existing, Pore: porous,
		Substrate: f.Substrate, Faces: z.facts.Faces, Step: s.from, Polished: s.polished, Place: s.place,
	}
	var left *mark
	for i := range s.marks {
		m := &s.marks[i]
		if m.known && (s.tooth == nil || m.grit.Step != s.tooth.grit.Step) && (left == nil || m.abr.Microns.Hi > left.abr.Microns.Hi) {
			left = m
		}
	}
	if left != nil {
		grit := left.grit
		e.Scratch, e.ScratchStep = &grit, grit.Step
	}
	d.Endings = append(d.Endings, e)

	z.facts.Area = openMeasure(quantity.Area, z.unit)
	if z.areaOK {
		z.facts.Area = measure(z.area, quantity.Area, z.unit)
	}
	z.facts.Layers, z.facts.Ending = z.ids, f.ID
	d.Zones = append(d.Zones, z.facts)
	for _, f := range z.films {
		if f.Substrate {
			continue
		}
		f.layer.left[z.facts.Name] = openMeasure(quantity.Film, f.unit)
		if f.known {
			f.layer.left[z.facts.Name] = measure(f.left.iv, quantity.Film, f.unit)
		}
	}
}

// layerFacts is what the document says of every layer.
func (b *builder) layerFacts() {
	rests := b.restsOn()
	for _, l := range b.layers {
		d := l.Layer
		d.FilmLeft = l.left
		d.RestsOn = rests[l.ID]
		if l.lastStep > 0 {
			f := filmOfLayer(l.view, l.coats)
			d.FilmLaid, d.FilmAssumed, d.Coats = f.measure(), f.assumed, f.coats
			d.Thin, d.Thick, d.ThickHalf = f.against(l.view)
			if len(l.Fades) == len(l.Zones) {
				d.Thin = nil
			}
			d.LaidAt = b.since(doneOf(l.lastStep))
			d.FirstDay = b.firstDay(l)
			d.BakedFull = len(l.inBakes) > 0
			d.BakedPerhaps = len(l.inBakes)+len(l.mayBeIn) > 0
			for _, name := range l.Zones {
				d.BakedFull = d.BakedFull && l.inBakes[name]
				d.BakedPerhaps = d.BakedPerhaps && (l.inBakes[name] || l.mayBeIn[name])
			}
			d.BakedPerhaps = d.BakedPerhaps && !d.BakedFull
		}
		b.doc.Layers = append(b.doc.Layers, d)
	}
}

// restsOn lists, for every layer, the different layers beneath it over all its
// zones other than blend zones.
func (b *builder) restsOn() map[string][]Rest {
	rests := map[string][]Rest{}
	at := map[[2]string]int{}
	for i := range b.doc.Contacts {
		c := &b.doc.Contacts[i]
		if c.ZoneFacts.Role == "blend" {
			continue
		}
		key := [2]string{c.Upper, c.Lower}
		k, ok := at[key]
		if !ok {
			k = len(rests[c.Upper])
			at[key] = k
			rests[c.Upper] = append(rests[c.Upper], Rest{Layer: c.Lower, Kind: c.LowerKind, Name: c.LowerName})
		}
		rests[c.Upper][k].Zones = append(rests[c.Upper][k].Zones, c.Zone)
	}
	return rests
}

// firstDay lists the pieces of weather that begin, or may begin, within a day
// of a layer's last coat. Pieces in a row with the same weather are one.
func (b *builder) firstDay(l *layer) []Chill {
	day := b.lim.interval("cure_day").Hi
	cold := b.lim.number("chill_below")
	if own := l.view.number("lowest_cure"); own.ok {
		cold = own.least()
	}
	var out []Chill
	type weather struct {
		where string
		panel quantity.Interval
		warm  bool
	}
	var last weather
	from := doneOf(l.lastStep)
	for i := from; i < b.clock.sheetEnd(); i++ {
		p := b.clock.pieces[i]
		since := b.clock.sum(from, i)
		if round9(since.Lo) >= day {
			break
		}
		if p.dur.Hi <= 0 && !p.written {
			continue
		}
		w := b.clock.weather[i/2]
		now := weather{placeOf(w), p.panel, p.warm}
		if len(out) > 0 && now == last {
			continue
		}
		last = now
		c := Chill{Step: i/2 + 1, Where: now.where, Outdoors: now.where == "outdoors", After: b.clock.sinceLaid(l.lastStep, i).measure()}
		if i == from {
			c.After = measure(quantity.Interval{}, quantity.Time, "")
		}
		if p.warm {
			unit := w.Panel.Unit
			if unit == "" {
				unit = cold.unit
			}
			c.Cold = compare("least", p.panel, false, unit, cold)
		}
		out = append(out, c)
	}
	return out
}

// leftOvers tells what is left of the only water barrier over bare steel after
// each abrasion of it, and of the clear on top after the last act on it.
func (b *builder) leftOvers() {
	for _, z := range b.zones {
		b.barrierLeft(z)
		f := z.topFilm()
		if f.Traits.Class != "clear" || f.Existing || !f.known || len(f.acts) == 0 {
			continue
		}
		last := f.acts[len(f.acts)-1]
		low, bad := b.lim.number("clear_min"), b.lim.number("clear_least")
		low.leaned, bad.leaned = f.leaned, f.leaned
		least := compare("least", last.left.against(low), false, f.unit, low)
		most := compare("least", last.left.against(bad), false, f.unit, bad)
		if last.polish {
			e := &b.doc.Polishes[last.index]
			e.ClearLeftLow, e.ClearLeftBad = least, most
		} else {
			e := &b.doc.Abrasions[last.index]
			e.ClearLeftLow, e.ClearLeftBad = least, most
		}
	}
}

func (b *builder) barrierLeft(z *zone) {
	if !z.films[0].Traits.Steel {
		return
	}
	var only *film
	for _, f := range z.films[1:] {
		if !f.Traits.HoldsOutWater {
			continue
		}
		if only != nil {
			return
		}
		only = f
	}
	if only == nil || only.Existing || !only.known {
		return
	}
	for _, a := range only.acts {
		if a.polish {
			continue
		}
		n := b.lim.number("barrier_min")
		n.leaned = only.leaned
		b.doc.Abrasions[a.index].BarrierLeft = compare("least", a.left.against(n), false, only.unit, n)
	}
}

// reliances tells the films of every bake whether something later came sooner
// than they allow unbaked.
func (b *builder) reliances() {
	for i := range b.doc.Bakes {
		e := &b.doc.Bakes[i]
		for k := range e.Films {
			bf := &e.Films[k]
			for _, due := range b.bakes[i].films[k].due {
				if due.step > e.Step && !due.compared.Open && due.compared.Over.Lo < 1 && (!bf.ReliedOn || due.step < bf.ReliedStep) {
					bf.ReliedOn, bf.ReliedStep = true, due.step
				}
			}
		}
	}
}

// waits tells the contacts whose gap no step says.
func (b *builder) waits() {
	for i := range b.doc.Contacts {
		c := &b.doc.Contacts[i]
		if !c.GapApplies || !c.Gap.Open {
			continue
		}
		b.doc.Waits = append(b.doc.Waits, Wait{
			ID: c.ID, Zone: c.Zone, Step: c.Step, Upper: c.Upper, Lower: c.Lower, UpperName: c.UpperName, LowerName: c.LowerName,
			Condition: b.conditions[i], Place: c.Place, LowerPlace: c.LowerPlace,
		})
	}
}

// head is what the document says of the sheet, its booth and its panel.
func (b *builder) head() {
	s, d := b.s, b.doc
	d.Sheet = SheetFacts{
		Title: s.Title.Value, Number: s.Number.Value, Revision: s.Revision.Value, Author: s.Author.Value, Date: day(s.Date),
		Work: orElse(s.Work, "restoration"), EndsAs: orElse(s.EndsAs, "finished"), Inspects: sortedKeys(b.inspect), Place: s.Place,
	}
	w := s.Booth
	d.Booth = Booth{
		Air: amountMeasure(w.Air), Panel: amountMeasure(w.Panel), Humidity: amountMeasure(w.Humidity),
		Where: placeOf(w), Region: s.Region, Place: w.Place,
	}
	p := s.Panel
	d.Panel = PanelFacts{
		Part: p.Part.Value, Substrate: p.Substrate.Value, Plastic: orElse(p.Plastic.Value, "unknown"), Rust: orElse(p.Rust.Value, "none"),
		Area: amountMeasure(p.Area), Place: p.Place,
	}
	if p.Year.Written {
		year := p.Year.Value
		d.Panel.Year = &year
	}
	d.Limits = b.lim.documentOf(b.s.Work)
}

// looks are the ready-made views that rules ask for most.
func (b *builder) looks() {
	d := b.doc
	d.ContactsByUpper = map[string][]Contact{}
	for _, c := range d.Contacts {
		d.ContactsByUpper[c.Upper] = append(d.ContactsByUpper[c.Upper], c)
		if c.LowerSubstrate && c.LowerTraits.Metal {
			d.ContactsOnMetal = append(d.ContactsOnMetal, c)
		}
		if c.UpperTraits.Class == "color" || c.UpperTraits.Class == "clear" {
			d.ContactsUnderColor = append(d.ContactsUnderColor, c)
		}
	}
}
