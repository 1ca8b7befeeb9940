package stack

import (
	"fmt"
	"math"
	"sort"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// end closes what is open and fills in everything that is only known once the
// whole sheet has been carried out.
func (b *builder) end() {
	last := len(b.clock.pieces)
	d := b.doc
	for _, z := range b.zones {
		f := z.topFilm()
		i := b.openExposure[z]
		id := b.cover(z, 0, last, "end", "")
		d.Exposures[i].ToStep = 0
		e := Ending{
			ID: id, Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Existing: f.Existing, Substrate: f.Substrate,
			Pore: porous(z), Faces: z.Faces, Step: z.top.from, Polished: z.top.polished, Place: z.top.place,
		}
		var left *scar
		for k := range z.top.scars {
			sc := &z.top.scars[k]
			if sc.step > z.top.polishStep && !sc.strip && (left == nil || sc.abr.Microns.Hi > left.abr.Microns.Hi) {
				left = sc
			}
		}
		if left != nil {
			g := left.grit
			e.Scratch, e.ScratchStep = &g, left.step
		}
		d.Endings = append(d.Endings, e)
		z.Ending = f.ID
		for _, x := range z.films {
			z.Layers = append(z.Layers, x.ID)
		}
		z.Area = openMeasure(quantity.Area, z.areaUnit)
		if !z.areaOpen {
			z.Area = measure(z.areaIv, quantity.Area, z.areaUnit)
		}
		d.Zones = append(d.Zones, z.Zone)
		b.lefts(z, f)
	}
	b.fillLayers()
	b.fillLays()
	b.fillContacts()
	b.depths()
	for i := range d.Metalworks {
		m := &d.Metalworks[i]
		m.CutToMetalAfter = b.cutToMetalAfter(m.Zone, m.Step)
	}
	for i := range d.Bakes {
		for j := range d.Bakes[i].Films {
			bf := &d.Bakes[i].Films[j]
			if s, ok := b.relied[bf.Layer+"/"+bf.Zone]; ok && s > d.Bakes[i].Step {
				bf.ReliedOn, bf.ReliedStep = true, s
			}
		}
	}
	b.barriers()
	d.Sheet = b.sheetFacts()
	d.Booth = b.boothFacts()
	d.Panel = b.panelFacts()
	d.Limits = b.lim.document()
	d.Cards = map[string]CardFacts{}
	uses := cardUses(b.s, b.lim)
	for _, ref := range sortedKeys(uses) {
		d.Cards[ref] = cardFacts(uses[ref], b.s.Date, b.lim)
	}
	b.looks()
	cups := map[int]*cup{}
	for _, p := range b.pending {
		if p.cup != nil {
			cups[p.st.N] = p.cup
		}
	}
	d.Vocs = d.vocs(b.s, cups, b.lim)
	views := map[string]*cardView{}
	for _, l := range b.layers {
		views[l.ID] = l.view
	}
	d.Totals = d.totals(views, b.lim)
	d.finish()
}

func (b *builder) cutToMetalAfter(zone string, step int) bool {
	for _, s := range b.doc.Strips {
		if s.Zone == zone && s.Step > step && s.DownTo == "substrate" {
			return true
		}
	}
	for _, z := range b.zones {
		if z.Parent == zone && z.CutStep > step && z.cutToMetal {
			return true
		}
	}
	return false
}

// lefts notes what was left of a clear after its last abrasion or polish.
func (b *builder) lefts(z *place, top *film) {
	for _, f := range z.films[1:] {
		if f.Traits.Class != "clear" || f.Existing || !f.known {
			continue
		}
		low := b.lim.number("clear_min")
		bad := b.lim.number("clear_least")
		low.leaned, bad.leaned = f.layer.leaned, f.layer.leaned
		lc := compare("least", f.left, false, f.unitOr("mil"), low)
		bc := compare("least", f.left, false, f.unitOr("mil"), bad)
		act, polish := -1, -1
		for _, i := range f.abrasions {
			act = i
		}
		for i := range b.doc.Polishes {
			if p := b.doc.Polishes[i]; p.Zone == z.Name && p.Layer == f.ID && (act < 0 || p.Step > b.doc.Abrasions[act].Step) {
				polish = i
			}
		}
		switch {
		case polish >= 0:
			b.doc.Polishes[polish].ClearLeftLow, b.doc.Polishes[polish].ClearLeftBad = lc, bc
		case act >= 0:
			b.doc.Abrasions[act].ClearLeftLow, b.doc.Abrasions[act].ClearLeftBad = lc, bc
		}
	}
}

// fillLayers works out each layer's film, its first day and what it rests on.
func (b *builder) fillLayers() {
	for _, l := range b.layers {
		if l.Substrate {
			l.FilmLaid = openMeasure(quantity.Film, "mil")
			l.LaidAt = measureTime(quantity.Interval{})
			l.FilmLeft, l.FirstDay, l.RestsOn = map[string]Measure{}, []Chill{}, []Rest{}
			b.doc.Layers = append(b.doc.Layers, l.Layer)
			continue
		}
		unit := orElse(l.unit, "mil")
		l.FilmLeft = map[string]Measure{}
		if l.Existing {
			l.FilmLaid = openMeasure(quantity.Film, unit)
			if !l.leftOpen {
				l.FilmLaid = measure(l.film, quantity.Film, unit)
			}
			l.FilmAssumed = l.assumed
			l.LaidAt = measureTime(quantity.Interval{})
		} else {
			w := filmOfLayer(l.view, l.films)
			l.FilmLaid, l.FilmAssumed, l.Coats = w.measure(), w.assumed, w.coats
			if len(l.Fades) < len(l.Zones) {
				l.Thin, l.Thick, l.ThickHalf = w.against(l.view)
			}
			l.LaidAt = measureTime(b.clock.total(0, b.clock.steps[l.lastStep].done))
			l.FirstDay = b.firstDay(l)
			for _, z := range b.zones {
				for _, f := range z.films {
					if f.layer == l {
						if full, any, _ := b.baked(z, f, len(b.clock.pieces)); full || any {
							l.BakedFull = true
						}
					}
				}
			}
		}
		for _, name := range sortedKeys(l.left) {
			if l.leftOpen {
				l.FilmLeft[name] = openMeasure(quantity.Film, unit)
			} else {
				l.FilmLeft[name] = measure(l.left[name], quantity.Film, unit)
			}
		}
		if l.RestsOn == nil {
			l.RestsOn = []Rest{}
		}
		b.doc.Layers = append(b.doc.Layers, l.Layer)
	}
}

// firstDay lists the pieces of weather that begin within a day of the last coat.
func (b *builder) firstDay(l *layer) []Chill {
	out := []Chill{}
	day := b.lim.interval("cure_day")
	from := b.clock.steps[l.lastStep].done
	cold := b.lim.number("chill_below")
	if n := l.view.number("lowest_cure"); n.ok {
		cold = n.least()
	}
	var since quantity.Interval
	// The laying step's own stretch is part of the film's first day.
	own := b.clock.pieces[b.clock.steps[l.lastStep].start]
	first := Chill{Step: own.step, Where: placeOf(own.weather), Outdoors: placeOf(own.weather) == "outdoors", After: measureTime(since)}
	if own.panelOK {
		first.Cold = compare("least", own.panel, false, own.weather.Panel.Unit, cold)
	}
	out = append(out, first)
	for i := from; i < len(b.clock.pieces); i++ {
		if since.Lo >= day.Lo {
			break
		}
		p := b.clock.pieces[i]
		if p.dur.Hi > 0 {
			c := Chill{Step: p.step, Where: placeOf(p.weather), Outdoors: placeOf(p.weather) == "outdoors", After: measureTime(since)}
			if p.panelOK {
				c.Cold = compare("least", p.panel, false, p.weather.Panel.Unit, cold)
			}
			out = append(out, c)
		}
		since = since.Add(p.dur)
	}
	return out
}

// fillLays tells of every laying step: its film, weather and cup.
func (b *builder) fillLays() {
	for _, p := range b.pending {
		st, l := p.st, p.layer
		v := l.view
		where := placeOf(weatherAt(st.Weather, b.s.Booth))
		lay := Lay{
			ID: fmt.Sprint(st.N), Step: st.N, Do: st.Do, Layer: l.ID, Name: l.Name, Card: l.Card, Kind: l.Kind, Traits: l.Traits,
			Contacts: p.contacts, Zones: zoneNames(p.zones), Where: where, Outdoors: where == "outdoors", Wear: append([]string{}, st.Wear.Values...),
			Joins: p.joins, JoinsSlowed: p.joinsSlowed, JoinsStep: p.joinsStep, Gun: st.Gun.Value, MetalworkNear: p.near, MetalworkStep: p.nearStep, Mix: fmt.Sprint(st.N), Place: st.Place,
		}
		sort.Strings(lay.Wear)
		lay.film(p.film, v)
		lay.weather(st, b.s.Booth, v)
		if lo, _ := v.film(); lo.ok && p.film.known && p.film.coat.Lo > 0 && len(l.Steps) == 1 {
			lay.CoatsEnough = int(math.Ceil(lo.iv.Lo/p.film.coat.Lo - 1e-9))
		}
		if st.Thickness.Written {
			m := measure(st.Thickness.Interval, quantity.Film, st.Thickness.Unit)
			lay.Thickness = &m
		}
		if lay.Coats > 1 {
			lay.BetweenWritten = st.Between.Written
			if st.Between.Written {
				lay.Between = compare("least", closedWait(st.Between), st.Between.Until != "", st.Between.Unit, v.flash())
				lay.BetweenSlowed = b.waited(v, st.N, closedWait(st.Between), st.Between.Until != "", v.flash())
			}
		}
		b.doc.Lays = append(b.doc.Lays, lay)
		if p.cup == nil {
			continue
		}
		air := weatherAt(st.Weather, b.s.Booth).Air
		b.doc.Mixes = append(b.doc.Mixes, p.cup.facts(cupUse{layer: l.ID, area: p.area, film: filmOfLayer(v, l.films), air: air, where: where}))
	}
}

// fillContacts tells what was laid over each upper film later, and what each layer rests on.
func (b *builder) fillContacts() {
	byZone := map[string][]int{}
	for i, c := range b.doc.Contacts {
		byZone[c.Zone] = append(byZone[c.Zone], i)
	}
	b.sandedAt = map[string]int{}
	for _, a := range b.doc.Abrasions {
		key := a.Zone + "/" + a.Layer
		if (a.Do == "sand" || a.Do == "block") && !a.Cut && b.sandedAt[key] == 0 {
			b.sandedAt[key] = a.Step
		}
	}
	for _, zone := range sortedKeys(byZone) {
		list := byZone[zone]
		for k, i := range list {
			c := &b.doc.Contacts[i]
			for _, s := range b.layerBy[c.Upper].StrippedLater {
				c.Stripped = c.Stripped || s == zone
			}
			for n, j := range list[k+1:] {
				if n >= 64 {
					break // what lies so far above says no more
				}
				c.Above = append(c.Above, b.doc.Contacts[j].Upper)
			}
		}
	}
	rests := map[string]*[]Rest{}
	for _, c := range b.doc.Contacts {
		if c.ZoneFacts.Role == "blend" {
			continue
		}
		r := rests[c.Upper]
		if r == nil {
			r = &[]Rest{}
			rests[c.Upper] = r
		}
		found := false
		for i := range *r {
			if (*r)[i].Layer == c.Lower {
				(*r)[i].Zones = append((*r)[i].Zones, c.Zone)
				found = true
			}
		}
		if !found {
			*r = append(*r, Rest{Layer: c.Lower, Kind: c.LowerKind, Name: c.LowerName, Zones: []string{c.Zone}})
		}
	}
	for i := range b.doc.Layers {
		if r := rests[b.doc.Layers[i].ID]; r != nil {
			b.doc.Layers[i].RestsOn = *r
		}
	}
	for _, c := range b.doc.Contacts {
		if !c.GapApplies || !c.Gap.Open {
			continue
		}
		b.doc.Waits = append(b.doc.Waits, Wait{
			ID: c.ID, Zone: c.Zone, Step: c.Step, Upper: c.Upper, Lower: c.Lower, UpperName: c.UpperName, LowerName: c.LowerName,
			Condition: b.clock.condition(b.clock.steps[b.layerBy[c.Lower].lays[c.Zone]].done, b.clock.steps[c.Step].start), Place: c.Place, LowerPlace: c.LowerPlace,
		})
	}
}

// barriers notes, on the last abrasion of the only water barrier over bare steel, what was left of it.
func (b *builder) barriers() {
	for _, z := range b.zones {
		if !z.films[0].Traits.Steel {
			continue
		}
		var only *film
		n := 0
		for _, f := range z.films[1:] {
			if f.Traits.HoldsOutWater {
				only = f
				n++
			}
		}
		if n != 1 || only.Existing || !only.known || len(only.abrasions) == 0 {
			continue
		}
		lim := b.lim.number("barrier_min")
		lim.leaned = only.layer.leaned
		for _, i := range only.abrasions {
			b.doc.Abrasions[i].BarrierLeft = compare("least", b.leftMiddled(only), false, only.unitOr("mil"), lim)
		}
	}
}

func (b *builder) looks() {
	d := b.doc
	d.LayersByID = make(map[string]Layer, len(d.Layers))
	for _, l := range d.Layers {
		d.LayersByID[l.ID] = l
	}
	d.ContactsByUpper = map[string][]Contact{}
	d.ContactsOnMetal, d.ContactsUnderColor = []Contact{}, []Contact{}
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

func (b *builder) sheetFacts() SheetFacts {
	s := b.s
	return SheetFacts{Title: s.Title.Value, Number: s.Number.Value, Revision: s.Revision.Value, Author: s.Author.Value, Date: day(s.Date),
		Work: orElse(s.Work, "restoration"), EndsAs: orElse(s.EndsAs, "finished"), Inspects: sortedSet(b.inspects), Place: s.Place}
}

func (b *builder) boothFacts() Booth {
	w := b.s.Booth
	return Booth{Air: amountMeasure(w.Air), Panel: amountMeasure(w.Panel), Humidity: amountMeasure(w.Humidity), Where: placeOf(w), Region: b.s.Region, Place: w.Place}
}

func (b *builder) panelFacts() PanelFacts {
	p := b.s.Panel
	f := PanelFacts{Part: p.Part.Value, Substrate: p.Substrate.Value, Plastic: orElse(p.Plastic.Value, "unknown"), Rust: orElse(p.Rust.Value, "none"), Area: amountMeasure(p.Area), Place: p.Place}
	if p.Year.Written {
		y := p.Year.Value
		f.Year = &y
	}
	return f
}

// emptyDocument has no nil list.
func emptyDocument() *Document {
	return &Document{Stack: 1, Steps: []Step{}, Layers: []Layer{}, Contacts: []Contact{}, Zones: []Zone{}}
}

var _ = sheet.Place{}
