package stack

import (
	"slices"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// contact lays the film of a laying step on a zone and tells what it rests on.
// It returns the contact's id.
func (b *builder) contact(z *zone, p *laying) string {
	st, l := p.st, p.layer
	low, s, at := z.topFilm(), z.top, startOf(st.N)
	id := z.facts.Name + "/" + l.ID
	b.beginning(z, st, "film", id)
	n := len(z.ids)
	c := Contact{
		ID: id, Zone: z.facts.Name, Step: st.N, Upper: l.ID, Lower: low.ID, UpperName: l.Name, LowerName: low.Name,
		UpperCard: l.Card, LowerCard: low.Card, UpperKind: l.Kind, LowerKind: low.Kind, UpperTraits: l.Traits, LowerTraits: low.Traits,
		LowerStep: low.Step, LowerExisting: low.Existing, LowerSubstrate: low.Substrate, LowerPore: z.porous(), LowerCondition: low.Condition,
		Substrate: z.facts.Substrate, FirstFilm: !z.laid, MetalworkBefore: z.worked, Films: z.ids[:n:n],
		ZoneFacts: ZoneFacts{
			Role: z.facts.Role, Faces: z.facts.Faces, Edge: z.facts.Edge, Cut: z.parent != nil, Rust: z.facts.Rust, Plastic: z.facts.Plastic, Olefin: z.facts.Olefin,
		},
		CardSays: cardSays(l, low), Inspected: sortedKeys(z.inspected), Touched: append([]string{}, s.touched...),
		Place: st.Place, LowerPlace: low.Place,
	}
	c.SpotMetal = compare("most", z.area, !z.areaOK, z.unit, l.view.number("spot_metal"))
	c.SpotTypical = compare("most", z.area, !z.areaOK, z.unit, b.lim.number("spot_metal_typical"))
	b.contactClock(&c, low, l, at)
	b.contactSurface(&c, z, low, l, at)
	b.contactBeneath(&c, z, at)
	if low.Substrate {
		b.contactBare(&c, z, low, l, at)
	}
	if c.FirstFilm && z.facts.Rust != "none" {
		r := z.rust
		r.Converter = r.Converter || l.Kind == "rust converter"
		c.Rust = &r
	}
	if s.stripper != nil {
		left := *s.stripper
		c.Stripper = &left
	}
	if low.Kind == "body solder" {
		left := s.solder
		c.Solder = &left
	}
	c.Exposure = b.cover(z, st.N, "film", id)
	b.coverTouches(z, id)
	b.coverAbrasions(z, s, low, l, id, st.N)

	// The films that this one lies over here are told of it.
	for i := len(z.films) - 1; i >= 0; i-- {
		if f := z.films[i]; f.contact >= 0 {
			under := &b.doc.Contacts[f.contact]
			if len(under.Above) < mostAbove {
				under.Above = append(under.Above, l.ID)
			}
		}
	}
	f := &film{layer: l, contact: len(b.doc.Contacts), coats: []stepFilm{p.film}, lastStep: st.N}
	f.measure()
	b.doc.Contacts = append(b.doc.Contacts, c)
	condition := ""
	if c.GapApplies && c.Gap.Open {
		condition = b.clock.condition(doneOf(low.lastStep), at)
	}
	b.conditions = append(b.conditions, condition)
	if low.Substrate {
		z.depth = &depth{contact: f.contact, scratch: s.coarsest(), profile: s.profile}
		b.depths = append(b.depths, z.depth)
	}
	if z.depth != nil {
		z.depth.films = append(z.depth.films, f)
	}
	z.push(f)
	z.laid = true
	z.rust.Converter = z.rust.Converter || l.Kind == "rust converter"
	z.virgin = false
	z.clearSoil()
	z.top = newSurface(st)
	return id
}

// cardSays is what a film's card says of what it is laid on. What it forbids
// goes before what it allows; a film may always lie on its own kind of can.
func cardSays(l *layer, low *film) string {
	c := l.view.card
	if c == nil {
		return "silent"
	}
	names := func(kinds []string) bool {
		for _, k := range kinds {
			if k == low.Kind {
				return true
			}
		}
		return false
	}
	switch {
	case names(c.KeepOff.Values):
		return "forbids"
	case names(c.GoesOn.Values):
		return "allows"
	case low.Substrate && names(c.DirectTo.Values):
		return "allows"
	case low.Substrate && low.Traits.Metal && c.DirectToMetal.Value:
		return "allows"
	case low.Substrate && c.DirectTo.Written:
		return "unlisted"
	case c.GoesOn.Written && low.layer.view != l.view:
		return "unlisted"
	}
	return "silent"
}

// contactClock is the gap to the film beneath, beside that film's own times.
func (b *builder) contactClock(c *Contact, low *film, l *layer, at int) {
	c.Gap, c.GapEffective, c.Factor = openMeasure(quantity.Time, "h"), openMeasure(quantity.Time, "h"), openMeasure(quantity.Count, "")
	c.WindowGiven = "none"
	if low.lastStep == 0 {
		return
	}
	v := low.view
	gap := b.clock.sinceLaid(low.lastStep, at)
	c.GapApplies, c.Gap = true, gap.measure()
	least, most, any, given := v.recoat(l.Kind)
	c.WindowGiven = given
	c.RecoatLeast = gap.held("least", least)
	if !any {
		c.RecoatMost = gap.held("most", most)
		// A contact with its own kind of can is a new layer: "own coats only" lets it
		// lie there; "own coats, then from 12 h scuffed" does not, unscuffed.
		c.WindowShut = most.never && (v != l.view || least.ok)
	}
	eff := b.scaled(v, gap)
	if !gap.open {
		c.GapEffective = eff.measure()
		c.Factor = measure(b.clock.factor(gap, eff, v.timesAt()), quantity.Count, "")
		if v.hasTrait("waterborne") {
			c.Factor = measure(quantity.Exactly(1), quantity.Count, "")
		}
	}
	c.RecoatLeastWarm = eff.held("least", least)
	if c.RecoatLeastWarm != nil && !eff.open {
		enough := eff.enough(b.clock.factor(gap, eff, v.timesAt()), least)
		c.RecoatEnough = &enough
	}
	if dead := v.noRecoat(); dead.ok {
		c.DeadStart = gap.held("least", dead.least())
		c.DeadEnd = gap.held("most", dead.most())
	}
	low.wants(c.Step, c.RecoatLeast)
	sure, perhaps := b.rested(low, at)
	c.BakedFull = sure
	if low.baked != nil {
		c.Baked, c.BakeStep = true, low.baked.step
	} else if low.perhaps != nil {
		c.BakedPerhaps, c.BakeStep = true, low.perhaps.step
	}
	if perhaps {
		c.RecoatLeast, c.RecoatLeastWarm = c.RecoatLeast.perhaps(), c.RecoatLeastWarm.perhaps()
	}
	if l.Traits.Class == "filler" || l.Kind == "polyester surfacer" {
		n := v.fillAfter(l.Kind)
		c.FillAfter = gap.held("least", n)
		if !c.BakedFull {
			c.FillSlowed = b.clock.slowed(v, gap, n)
		}
		if perhaps {
			c.FillAfter, c.FillSlowed = c.FillAfter.perhaps(), c.FillSlowed.perhaps()
		}
		c.FillSanded = v.kind.FillSanded && n.source == "typical"
		low.wants(c.Step, c.FillAfter)
	}
}

// fillAfter is the least wait before a filler or polyester surfacer. Where the
// card's recoat table has an entry for just that, its kind's typical number has
// nothing more to say.
func (v *cardView) fillAfter(upperKind string) number {
	n := v.number("fill_after")
	if v.card == nil || n.source != "typical" {
		return n
	}
	if entry := recoatEntry(upperKind); entry != "paint" && v.card.Recoat[entry].Written {
		return number{}
	}
	return n
}

// scaled is a span as drying counts it for a card; waterborne films are not
// scaled.
func (b *builder) scaled(v *cardView, sp span) span {
	if v.hasTrait("waterborne") {
		return sp
	}
	return b.clock.effective(sp, v.timesAt())
}

// contactSurface is the state of the surface that a film is laid on.
func (b *builder) contactSurface(c *Contact, z *zone, low *film, l *layer, at int) {
	s := z.top
	c.Abrasions = append([]Grit{}, s.scratched...)
	c.Sanded = s.sanded
	c.Abraded = len(s.scratched) > 0 || s.tooth != nil && !low.Substrate
	c.AbradedSinceBake = slices.ContainsFunc(s.scratched, func(g Grit) bool { return c.BakeStep > 0 && g.Step > c.BakeStep })
	scratch, grip := s.coarsest(), s.finest()
	coarse, fine := l.view.gritBeneath(low.Substrate)
	if scratch != nil {
		c.Scratch = &scratch.grit
		c.Coarse = compareGrades("most", scratch.abr, coarse)
		c.Refine = b.refine(scratch.abr)
	}
	if grip != nil {
		c.Grip = &grip.grit
		c.Fine = compareGrades("least", grip.abr, fine)
	}
	c.Sequence = b.sequence(s)
	for i, w := range s.wipes {
		x := Wipe{Step: w.step, Agent: w.agent, Kind: w.kind, Solvent: w.solvent, Age: b.clock.plain(doneOf(w.step), at).measure()}
		c.AllWipes = append(c.AllWipes, x)
		if i >= s.wipesFrom {
			c.Wipes = append(c.Wipes, x)
		}
	}
	if n := len(c.Wipes); n > 0 {
		last := c.Wipes[n-1]
		c.LastWipe = &last
		c.WipeBroken = s.broken
	}
	c.Dust = s.dust
	c.LowerLeft = openMeasure(quantity.Film, low.unit)
	if !low.Substrate && low.known {
		c.LowerLeft = measure(low.left.iv, quantity.Film, low.unit)
		thin := b.lim.number("left_thin")
		thin.leaned = low.leaned
		c.LeftThin = compare("least", low.left.against(thin), false, low.unit, thin)
	}
	if n := len(z.films); n > 1 {
		under := z.films[n-2]
		traits := under.Traits
		c.Under, c.UnderKind, c.UnderTraits = under.ID, under.Kind, &traits
	}
	if low.lastStep > 0 {
		c.SettleLower = b.beneath(low, at).Settling
	}
}

// coarsest is the scratch that counts: the coarsest still there, nil if none.
func (s *surface) coarsest() *mark {
	var found *mark
	for i := range s.marks {
		if m := &s.marks[i]; m.deep && m.known && (found == nil || m.abr.Microns.Hi > found.abr.Microns.Hi) {
			found = m
		}
	}
	return found
}

// finest is the finest thing that gave grip and is still there.
func (s *surface) finest() *mark {
	var found *mark
	for i := range s.marks {
		if m := &s.marks[i]; m.known && (found == nil || m.abr.Microns.Lo < found.abr.Microns.Lo) {
			found = m
		}
	}
	return found
}

// sequence is how far the grade fell from each sanding of a surface to the next.
func (b *builder) sequence(s *surface) []Ratio {
	out := []Ratio{}
	for i := 1; i < len(s.sequence); i++ {
		from, to := s.sequence[i-1], s.sequence[i]
		if !from.known || !to.known {
			continue
		}
		fall := compare("most", trade.GradeRatio(from.abr, to.abr), false, "", b.lim.number("grade_step"))
		if fall == nil {
			continue
		}
		out = append(out, Ratio{
			FromStep: from.grit.Step, ToStep: to.grit.Step, From: from.grit.Name, To: to.grit.Name, Fall: *fall,
			Between: b.between(from.abr.Microns.Hi, to.abr.Microns.Lo),
		})
	}
	return out
}

// contactBeneath tells the age of the films of this sheet under a contact, from
// the lowest of the uppermost ones up.
func (b *builder) contactBeneath(c *Contact, z *zone, at int) {
	films := z.films[max(0, len(z.films)-mostBeneath):]
	c.Beneath = make([]Beneath, 0, len(films))
	for _, f := range films {
		if f.lastStep == 0 {
			continue
		}
		x := b.beneath(f, at)
		x.Blocked = f.blocked
		c.Beneath = append(c.Beneath, x)
	}
}

// ageKey is what the age of a film and its settling depend on.
type ageKey struct {
	layer    *layer
	lastStep int
	laid     quantity.Interval
	baked    *bakeRun
	perhaps  *bakeRun
}

// beneath is a film's entry under a contact made at a position. Most zones that
// a step reaches lie over the same films, so that one step works each out once.
func (b *builder) beneath(f *film, at int) Beneath {
	if b.agesAt != at || b.ages == nil {
		b.agesAt, b.ages = at, map[ageKey]Beneath{}
	}
	key := ageKey{f.layer, f.lastStep, f.laid.iv, f.baked, f.perhaps}
	x, ok := b.ages[key]
	if !ok {
		x = Beneath{
			Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Step: f.Step,
			Age: b.clock.sinceLaid(f.lastStep, at).measure(), Settling: b.settling(f, at),
		}
		b.ages[key] = x
	}
	return x
}

// coverTouches tells every touch since the last film that a film follows, and
// what came between.
func (b *builder) coverTouches(z *zone, contact string) {
	for _, i := range z.openTouches {
		t := &b.doc.Touches[i]
		t.Covered, t.Contact = contact != "", contact
		t.DryAbraded, t.AcidWashed = z.lastDry > t.Step, z.lastAcid > t.Step
	}
	z.openTouches = nil
}

// coverAbrasions tells every abrasion since the last film what came after it.
// Those of the surface itself are told what covers it; the last of them also
// that another kind goes on it.
func (b *builder) coverAbrasions(z *zone, s *surface, low *film, l *layer, contact string, step int) {
	b.dried(z, startOf(step))
	for i, k := range s.abrasions {
		a := &b.doc.Abrasions[k]
		a.Uncovered = false
		a.NextContact, a.NextKind = contact, l.Kind
		a.Last = i == len(s.abrasions)-1 && l.Kind != low.Kind
		if a.Last && a.Settling != nil {
			low.wants(a.Step, a.Settling.Age)
		}
	}
}

// dried tells the abrasions of a place since its last film how it dried.
func (b *builder) dried(z *zone, at int) {
	for _, k := range z.openAbrasions {
		a := &b.doc.Abrasions[k]
		a.DryAgain = z.lastDry > a.Step
		a.BakedDry = z.lastDryBake > a.Step
		if a.Wet {
			sp := b.clock.warmTime(doneOf(a.Step), at, b.lim.interval("dry_out_warm").Lo)
			a.DriedOut = sp.held("least", b.lim.number("dry_out_time"))
		}
	}
	z.openAbrasions = nil
}
