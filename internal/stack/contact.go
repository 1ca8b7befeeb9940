package stack

import (
	"fmt"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// pending is one laying step, whose facts are told once its layer is whole.
type pending struct {
	st          *sheet.Step
	cup         *cup
	layer       *layer
	film        stepFilm
	zones       []*place
	contacts    []string
	area        quantity.Interval
	areaUnit    string
	joinsStep   int
	joins       *Comparison
	joinsSlowed *Slowed
	near        *Comparison
	nearStep    int
}

// lay lays a film on the zones: a new layer, or more coats of the last one.
func (b *builder) lay(zs []*place, st *sheet.Step) {
	if len(zs) == 0 {
		return
	}
	at := b.clock.steps[st.N]
	v := b.views[st.N-1]
	name := st.Product.Value
	if v == nil { // solder
		v, name = viewKind("body solder", b.lim), "body solder"
	}
	p := &pending{st: st, zones: zs}
	if st.Card != nil {
		p.cup = cupOf(b.s, st, v)
		p.film = p.cup.film()
	} else {
		p.film = stepFilm{wet: quantity.Open, coat: quantity.Open, dry: quantity.Open, coats: 1}
	}
	open := false
	for _, z := range zs {
		if z.areaOpen {
			open = true
		}
		p.area = p.area.Add(z.areaIv)
		p.areaUnit = z.areaUnit
	}
	if open {
		p.area = quantity.Open
	}
	where := placeOf(weatherAt(st.Weather, b.s.Booth))
	if pos, ok := b.metalworkAt[where]; ok {
		iv, isOpen := b.clock.any(pos, at.start)
		if isOpen {
			iv, isOpen = quantity.Interval{}, b.clock.writes[at.start] > b.clock.writes[pos]
		}
		p.near, p.nearStep = compare("least", iv, isOpen, b.clock.unit(pos, at.start), b.lim.number("metalwork_clear")), b.metalworkStep[where]
	}
	l := b.lastLaid
	if l != nil && b.joins(l, v, zs, st, p) {
		for _, z := range zs {
			f := z.topFilm()
			f.at = st.N
			f.steps = append(f.steps, p.film)
			b.filmIn(z, f, v)
			z.top = &surface{from: st.N, pos: at.done, place: st.Place, lastAbrPos: -1}
			x := &b.doc.Exposures[b.openExposure[z]]
			x.FromStep, x.ToStep = st.N, -at.done-1
			p.contacts = append(p.contacts, z.Name+"/"+l.ID)
		}
		l.Steps = append(l.Steps, st.N)
		l.lastStep = st.N
	} else {
		l = b.newLayer(fmt.Sprintf("%d:%s", st.N, slug(name)), v, st, zs)
		if st.Card != nil {
			l.Card = v.ref
		}
		l.Name, l.Call = v.shown, st.Call
		for _, z := range zs {
			id := b.contact(z, st, l, v, at)
			p.contacts = append(p.contacts, id)
		}
	}
	p.layer = l
	l.films = append(l.films, p.film)
	for _, z := range zs {
		for _, f := range b.fadeZones(st, zs) {
			if f == z.Name {
				l.Fades = appendOnce(l.Fades, f)
			}
		}
	}
	b.lastLaid = l
	b.pending = append(b.pending, p)
}

func (b *builder) fadeZones(st *sheet.Step, zs []*place) []string {
	if !st.Fades.Written {
		return nil
	}
	if st.Fades.All {
		return zoneNames(zs)
	}
	var out []string
	for _, n := range st.Fades.Zones {
		for _, z := range b.named(n) {
			out = append(out, z.Name)
		}
	}
	return out
}

// joins tells whether a step goes on with the last layer.
func (b *builder) joins(l *layer, v *cardView, zs []*place, st *sheet.Step, p *pending) bool {
	if st.Card == nil || l.view != v {
		return false
	}
	for _, z := range zs {
		if z.topFilm().layer != l || z.topFilm().at != l.lastStep {
			return false
		}
	}
	gap, open := b.clock.sinceLaid(l.lastStep, b.clock.steps[st.N].start)
	most := v.flashMost()
	if !open && most.ok && gap.Lo > most.iv.Hi {
		return false
	}
	p.joinsStep = l.lastStep
	p.joins = compare("least", gap, open, b.clock.sinceLaidUnit(l.lastStep, b.clock.steps[st.N].start), v.flash())
	p.joinsSlowed = b.slowed(v, b.clock.steps[l.lastStep].done, b.clock.steps[st.N].start, open, v.flash())
	return true
}

func (b *builder) newLayer(id string, v *cardView, st *sheet.Step, zs []*place) *layer {
	l := &layer{view: v, left: map[string]quantity.Interval{}, lays: map[string]int{}, lastStep: st.N}
	l.ID, l.Kind, l.Traits = id, v.kind.Name, v.traits()
	l.Step, l.Steps, l.Zones = st.N, []int{st.N}, zoneNames(zs)
	l.Fades, l.StrippedLater, l.Place = []string{}, []string{}, st.Place
	b.layers = append(b.layers, l)
	b.layerBy[id] = l
	return l
}

// filmIn works out the film of a layer in one zone from the steps that lay it there.
func (b *builder) filmIn(z *place, f *film, v *cardView) {
	w := filmOfLayer(v, f.steps)
	f.known = w.known && !w.iv.IsOpen()
	f.left, f.leftMid = w.iv, w.iv.Mid()
	f.layer.unit = orElse(w.unit, "mil")
	f.layer.leaned, f.layer.assumed, f.layer.film, f.layer.leftOpen = w.leaned, w.assumed, w.iv, !f.known
	f.layer.left[z.Name] = f.left
}

// contact makes the contact of a new film with what it lies on in a zone.
func (b *builder) contact(z *place, st *sheet.Step, l *layer, v *cardView, at span) string {
	id := z.Name + "/" + l.ID
	if len(b.doc.Contacts) >= maxContacts {
		b.problem(st.Place, fmt.Sprintf("step[%d]", st.N), "this sheet makes more than %d contacts between films; one with that many is a slip", maxContacts)
		return id
	}
	low, s := z.topFilm(), z.top
	b.beginning(z, st.N, "film", id, st.Place)
	c := Contact{
		ID: id, Zone: z.Name, Step: st.N, Upper: l.ID, Lower: low.ID, UpperName: l.Name, LowerName: low.Name,
		UpperCard: l.Card, LowerCard: low.Card, UpperKind: l.Kind, LowerKind: low.Kind, UpperTraits: l.Traits, LowerTraits: low.Traits,
		LowerStep: low.Step, LowerExisting: low.Existing, LowerSubstrate: low.Substrate, LowerPore: porous(z), LowerCondition: low.Condition,
		Substrate: z.substrateKind,
		ZoneFacts: ZoneFacts{Role: z.Role, Faces: z.Faces, Edge: z.Edge, Cut: z.CutStep > 0, Rust: z.Rust, Plastic: z.Plastic, Olefin: z.Olefin},
		FirstFilm: !z.laidAny, MetalworkBefore: z.metalwork, Films: []string{}, Above: []string{}, Beneath: []Beneath{},
		Abrasions: []Grit{}, Sequence: append([]Ratio{}, b.ratios(low)...), Wipes: []Wipe{}, AllWipes: []Wipe{}, Touched: append([]string{}, s.touched...),
		Inspected: sortedSet(z.inspected), Place: st.Place, LowerPlace: low.Place,
	}
	for _, f := range z.films {
		c.Films = append(c.Films, f.ID)
	}
	for _, fz := range b.fadeZones(st, []*place{z}) {
		if fz == z.Name {
			c.Fades = true
		}
	}
	c.CardSays = cardSays(v, low, z)
	spot := v.number("spot_metal")
	c.SpotMetal = compare("most", z.areaIv, z.areaOpen, z.areaUnit, spot)
	c.SpotTypical = compare("most", z.areaIv, z.areaOpen, z.areaUnit, b.lim.number("spot_metal_typical"))
	b.contactClock(&c, z, low, l, v, at)
	b.contactSurface(&c, z, low, s, v, at)
	if low.Substrate {
		b.contactMetal(&c, z, low, s, v, at)
	}
	if z.hasRust && c.FirstFilm {
		r := z.rust
		r.Converter = r.Converter || l.Kind == "rust converter"
		c.Rust = &r
	}
	if s.stripper != nil {
		k := *s.stripper
		c.Stripper = &k
	}
	if low.Kind == "body solder" {
		k := s.solder
		c.Solder = &k
	}
	if l.Kind == "rust converter" {
		z.rust.Converter = true
	}
	// What covers the surface is noted on what it covers.
	for _, i := range s.touches {
		b.doc.Touches[i].Covered, b.doc.Touches[i].Contact = true, id
	}
	last := -1
	for _, i := range low.abrasions {
		a := &b.doc.Abrasions[i]
		if a.NextContact != "" {
			continue
		}
		a.Uncovered = false
		a.NextContact, a.NextKind = id, l.Kind
		last = i
		b.drying(a, z, at)
	}
	if last >= 0 && l.Kind != low.Kind {
		b.doc.Abrasions[last].Last = true
	}
	c.Exposure = b.cover(z, st.N, at.start, "film", id)
	f := &film{layer: l, at: st.N, steps: []stepFilm{b.stepFilmOf(st, v)}}
	z.films = append(z.films, f)
	b.filmIn(z, f, v)
	z.laidAny = true
	if l.Traits.Class == "filler" || l.Traits.Class == "seam" {
		z.filled = true
	}
	b.fresh(z, st.N, at.done, st.Place)
	b.contactAt[id] = len(b.doc.Contacts)
	b.doc.Contacts = append(b.doc.Contacts, c)
	return id
}

func (b *builder) stepFilmOf(st *sheet.Step, v *cardView) stepFilm {
	if st.Card == nil {
		return stepFilm{wet: quantity.Open, coat: quantity.Open, dry: quantity.Open, coats: 1}
	}
	return cupOf(b.s, st, v).film()
}

// cardSays is what a card says of what it is laid on.
func cardSays(v *cardView, low *film, z *place) string {
	c := v.card
	if c == nil {
		return "silent"
	}
	names := func(t sheet.Texts) bool {
		for _, n := range t.Values {
			if n == low.Kind {
				return true
			}
		}
		return false
	}
	if names(c.KeepOff) {
		return "forbids"
	}
	if names(c.GoesOn) {
		return "allows"
	}
	if low.Substrate {
		if c.DirectTo.Written {
			if names(c.DirectTo) {
				return "allows"
			}
			return "unlisted"
		}
		if c.DirectToMetal.Value && low.Traits.Metal {
			return "allows"
		}
	}
	if c.GoesOn.Written {
		return "unlisted"
	}
	return "silent"
}

func (b *builder) contactClock(c *Contact, z *place, low *film, l *layer, v *cardView, at span) {
	c.Gap, c.GapEffective, c.Factor = openMeasure(quantity.Time, "h"), openMeasure(quantity.Time, "h"), openMeasure(quantity.Count, "")
	c.WindowGiven = "none"
	b.beneath(c, z, at)
	if low.at == 0 {
		return
	}
	c.GapApplies = true
	gap, open := b.clock.sinceLaid(low.at, at.start)
	unit := b.clock.sinceLaidUnit(low.at, at.start)
	c.Gap = timeOrOpen(gap, open)
	c.BakedFull, c.Baked, c.BakeStep = b.baked(z, low, at.start)
	lv := low.view
	least, most, any, given := lv.recoat(l.Kind)
	c.WindowGiven = given
	if low.Traits.Pore && l.view == lv && given == "none" {
		least, most = number{}, number{}
	}
	c.RecoatLeast = compare("least", gap, open, unit, least)
	if c.RecoatLeast != nil && brokenLeast(c.RecoatLeast) {
		b.rely(low, z, c.Step)
	}
	if !any {
		c.RecoatMost = compare("most", gap, open, unit, most)
		c.WindowShut = most.never && v != lv
	}
	if d := lv.noRecoat(); d.ok {
		c.DeadStart = compare("least", gap, open, unit, d.least())
		c.DeadEnd = compare("most", gap, open, unit, d.most())
	}
	if l.Traits.Class == "filler" || l.Kind == "polyester surfacer" {
		n := lv.number("fill_after")
		c.FillAfter = compare("least", gap, open, unit, n)
		if !c.BakedFull {
			c.FillSlowed = b.slowed(lv, b.clock.steps[low.at].done, at.start, open, n)
		}
		if c.FillAfter != nil && brokenLeast(c.FillAfter) {
			b.rely(low, z, c.Step)
		}
		if lv.kind.FillSanded && n.source == "typical" {
			c.FillSanded = true
		}
	}
	if !open {
		eff := b.clock.effective(b.clock.steps[low.at].done, at.start, lv.timesAt())
		c.GapEffective = measureTime(eff)
		c.Factor = measure(paceOf(gap, eff), quantity.Count, "")
		if !lv.hasTrait("waterborne") {
			c.RecoatLeastWarm = compare("least", eff, false, "", least)
		}
	}
}

// beneath lists the films of this sheet under a contact with their ages.
func (b *builder) beneath(c *Contact, z *place, at span) {
	for _, f := range z.films {
		if f.at == 0 {
			continue
		}
		iv, open := b.clock.sinceLaid(f.at, at.start)
		c.Beneath = append(c.Beneath, Beneath{Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Step: f.Step, Age: timeOrOpen(iv, open), Blocked: f.blocked, Settling: b.settling(z, f, at.start)})
	}
}

func (b *builder) ratios(f *film) []Ratio {
	var out []Ratio
	for i := 1; i < len(f.sequence); i++ {
		a, c := f.sequence[i-1], f.sequence[i]
		if !a.Known || !c.Known || a.Microns.Hi == nil || c.Microns.Lo <= 0 || *a.Microns.Hi <= c.Microns.Lo {
			continue
		}
		fall := quantity.Interval{Lo: a.Microns.Lo / *c.Microns.Hi, Hi: *a.Microns.Hi / c.Microns.Lo}
		if cmp := compare("most", fall, false, "", b.lim.number("grade_step")); cmp != nil {
			out = append(out, Ratio{FromStep: a.Step, ToStep: c.Step, From: a.Name, To: c.Name, Fall: *cmp, Between: b.between(*a.Microns.Hi, c.Microns.Lo)})
		}
	}
	return out
}

func (b *builder) contactSurface(c *Contact, z *place, low *film, s *surface, v *cardView, at span) {
	var coarse, fine *scar
	for i := range s.scars {
		sc := &s.scars[i]
		if !sc.strip {
			c.Abrasions = append(c.Abrasions, sc.grit)
			c.Abraded = true
			c.Sanded = c.Sanded || sc.sand
		} else if !low.Substrate {
			c.Abraded = true
		}
		if sc.known && (fine == nil || sc.abr.Microns.Lo < fine.abr.Microns.Lo) {
			fine = sc
		}
	}
	if low.Substrate && len(c.Abrasions) == 0 {
		c.Abraded = false
	}
	for i := range s.scratch {
		if coarse == nil || s.scratch[i].abr.Microns.Hi > coarse.abr.Microns.Hi {
			coarse = &s.scratch[i]
		}
	}
	limC, limF := v.gritBeneath(low.Substrate)
	if coarse != nil {
		g := coarse.grit
		c.Scratch = &g
		c.Coarse = compareGrades("most", coarse.abr, limC)
		c.Refine = b.refine(coarse.abr)
	}
	if fine != nil {
		g := fine.grit
		c.Grip = &g
		c.Fine = compareGrades("least", fine.abr, limF)
	}
	for i, w := range s.wipes {
		iv, open := b.clock.any(w.donePos-b.waitAfter(w.step), at.start)
		x := Wipe{Step: w.step, Agent: w.agent, Kind: w.kind, Solvent: w.solvent, Age: timeOrOpen(iv, open)}
		c.AllWipes = append(c.AllWipes, x)
		if i >= s.sinceAbr {
			c.Wipes = append(c.Wipes, x)
			y := x
			c.LastWipe = &y
		}
	}
	if s.broken != nil {
		k := *s.broken
		c.WipeBroken = &k
	}
	c.Dust = Dust{Abraded: s.lastAbr > 0, Step: s.lastAbr, Cleaned: s.cleaned, Tacked: s.tacked, BlownOff: s.blown, Rinsed: s.rinsed}
	c.LowerLeft = openMeasure(quantity.Film, "mil")
	if !low.Substrate && low.known {
		c.LowerLeft = measure(low.left, quantity.Film, low.unitOr("mil"))
		if n := len(z.films); n >= 2 {
			left := low.left
			if low.layer.assumed {
				left = quantity.Exactly(round9(low.leftMid))
			} else if len(low.abrasions) > 0 {
				left = b.leftMiddled(low)
			}
			lim := b.lim.number("left_thin")
			lim.leaned = append([]string{}, low.layer.leaned...)
			c.LeftThin = compare("least", left, false, low.unitOr("mil"), lim)
		}
	}
	if n := len(z.films); n >= 2 {
		u := z.films[n-2]
		c.Under, c.UnderKind = u.ID, u.Kind
		t := u.Traits
		c.UnderTraits = &t
	}
	c.SettleLower = b.settling(z, low, at.start)
}

// leftMiddled is the film left, an unwritten removal counted at its middle.
func (b *builder) leftMiddled(f *film) quantity.Interval {
	iv := f.layer.film
	unwritten := 0.0
	for _, i := range f.abrasions {
		a := b.doc.Abrasions[i]
		if a.Cut {
			continue
		}
		r := interval(a.Removed)
		if b.s.Steps[a.Step-1].TakesOff.Written {
			iv = iv.SubClamped(r)
		} else {
			unwritten += r.Mid()
		}
	}
	return iv.SubClamped(quantity.Exactly(unwritten))
}

// waitAfter is 0: a wipe's age counts from the end of the wipe itself.
func (b *builder) waitAfter(int) int { return 0 }

// drying tells what became of water after an abrasion, before the next film.
func (b *builder) drying(a *Abrasion, z *place, at span) {
	warm := b.lim.interval("dry_out_warm").Lo
	from := b.clock.steps[a.Step].done
	var sum quantity.Interval
	written := false
	for i := from; i < at.start; i++ {
		p := b.clock.pieces[i]
		if p.panelOK && p.panel.Lo < warm {
			continue
		}
		sum = sum.Add(p.dur)
		written = written || p.written
	}
	a.DriedOut = compare("least", sum, !written, "", b.lim.number("dry_out_time"))
	for _, k := range b.bakes {
		if k.start >= from && k.end <= at.start && k.zones[z.Name] &&
			closed(k.st.Metal.Interval).Lo >= b.lim.interval("dry_bake_metal").Lo-1e-9 && closed(k.st.For.Interval).Lo >= b.lim.interval("dry_bake_time").Lo {
			a.BakedDry = true
		}
	}
}

func (b *builder) contactMetal(c *Contact, z *place, low *film, s *surface, v *cardView, at span) {
	t := &Tooth{By: "none", Bared: s.bared, BaredStep: s.from}
	for i := range s.scars {
		sc := &s.scars[i]
		t.Step = sc.step
		switch {
		case !sc.strip:
			t.By, t.Blast = "abrasion", false
		case s.bared == "sander", s.bared == "grinder":
			t.By = s.bared
		default:
			t.By, t.Blast = "grit blast", true
		}
	}
	if len(s.scars) == 0 && s.bared == "strip disc" {
		t.By, t.Step = "strip disc", s.from
	}
	limC, limF := v.gritBeneath(true)
	if c.Scratch != nil {
		g := *c.Scratch
		t.Grit = &g
		for i := range s.scratch {
			if s.scratch[i].grit.Step == g.Step {
				t.CoarseCard = compareGrades("most", s.scratch[i].abr, limC)
				t.FineCard = compareGrades("least", s.scratch[i].abr, limF)
			}
		}
	}
	if c.Grip != nil {
		g := *c.Grip
		t.Finest = &g
		if t.Grit == nil {
			for i := range s.scars {
				if s.scars[i].grit.Step == g.Step {
					t.CoarseCard = compareGrades("most", s.scars[i].abr, limC)
					t.FineCard = compareGrades("least", s.scars[i].abr, limF)
				}
			}
		}
	}
	c.Tooth = t
	p := &MetalPrep{
		AcidWash: s.acid, AcidWashSinceAbraded: s.acidSince, Conversion: s.conv, ConversionSinceAbraded: s.convSince,
		Neutralized: s.neutralized, RinsedSince: s.rinsedSince, AbradedSince: s.abradedSince, TreatStep: s.treatStep, NeutralizeStep: s.neutStep,
		LastStep: s.lastChem, AcidAfterSolvent: s.acidAfterSolvent, BeforeAbrasion: s.solventBefore,
		Blasted: s.blasted && !s.metalworkSince, BlownOff: s.blownSinceBlast, LastAbradedStep: s.lastRoughStep,
	}
	for _, w := range s.wipes[s.degreaseFrom:] {
		switch w.kind {
		case "wax and grease remover", "plastic cleaner":
			p.Solvent = true
		case "lacquer thinner":
			p.Thinner = true
		case "waterborne cleaner":
			p.WaterCleaner = true
		}
	}
	if s.blasted {
		iv, open := b.clock.any(s.blastPos, at.start)
		if open && b.clock.writes[at.start] == b.clock.writes[s.blastPos] {
			iv, open = quantity.Interval{}, false
		}
		p.BlastAge = compare("most", iv, open, b.clock.unit(s.blastPos, at.start), b.lim.number("blast_fresh"))
	}
	c.Prep = p
	// How long the metal stood open, from its last dry abrasion or blast.
	from := s.pos
	for _, sc := range s.scars {
		if !sc.strip && sc.known && !sc.grit.Wet && sc.abr.Microns.Lo >= b.lim.interval("dry_abrasive").Lo {
			from = max(from, b.clock.steps[sc.step].done)
		}
	}
	iv, open := b.clock.any(from, at.start)
	m := timeOrOpen(iv, open)
	c.OpenTime = &m
	around := b.clock.around(from, at.start, nil)
	c.OpenOutdoors = around.outdoors
	if around.humidityOK {
		h := measure(around.humidity, quantity.Share, around.unit)
		c.OpenHumidity = &h
	}
	if low.Traits.Metal && low.Kind != "stainless steel" {
		name := "bare_steel_open"
		switch {
		case s.convSince:
			name = "bare_converted_open"
		case low.Traits.Zinc:
			name = "bare_galvanized_open"
		case low.Kind == "aluminum":
			name = "bare_aluminum_open"
		case s.blasted:
			name = "bare_blasted_open"
		}
		n := b.lim.number(name)
		if low.Traits.Steel && around.humidityOK && around.humidity.Hi > b.lim.interval("damp_steel").Lo {
			n = n.scaled(0.5)
		}
		c.OpenSteel = compare("most", iv, open, b.clock.unit(from, at.start), n)
		if low.Traits.Steel {
			c.OpenDay = compare("most", iv, open, b.clock.unit(from, at.start), b.lim.number("bare_steel_most"))
		}
	}
	if z.zincAbr != nil {
		g := z.zincAbr.grit
		c.ZincAbraded = &g
	}
	c.ZincCut = z.zincCut
	b.metals = append(b.metals, metalContact{id: c.ID, zone: z, s: s, upper: v})
}

type metalContact struct {
	id    string
	zone  *place
	s     *surface
	upper *cardView
}

// depths compares, for every film on bare metal, all the films laid before
// anything is sanded with the depth of the scratch (median/10 for an orbital
// sander, /6 otherwise) or with the blast's profile and 1 mil more.
func (b *builder) depths() {
	for _, m := range b.metals {
		c := &b.doc.Contacts[b.contactAt[m.id]]
		if c.UpperTraits.Class == "filler" || c.Stripped || c.Tooth == nil {
			continue
		}
		var films quantity.Interval
		known := true
		var leaned []string
		add := func(id string) {
			l := b.layerBy[id]
			if l.Traits.Class == "filler" || l.Traits.Class == "seam" {
				return
			}
			films = films.Add(l.film)
			known = known && !l.leftOpen
			leaned = append(leaned, l.leaned...)
		}
		add(c.Upper)
		sandedAt := b.firstSanded(c.Zone, c.Upper)
		for _, id := range c.Above {
			l := b.layerBy[id]
			if sandedAt > 0 && l.Step > sandedAt {
				break
			}
			add(id)
			if s := b.firstSanded(c.Zone, id); s > 0 && (sandedAt == 0 || s < sandedAt) {
				sandedAt = s
			}
		}
		if !known {
			continue
		}
		var depth quantity.Interval
		switch {
		case m.s.blasted:
			if !m.s.profile.Written {
				continue
			}
			depth = closed(m.s.profile.Interval).Add(b.lim.interval("blast_peak"))
		case c.Scratch != nil && c.Scratch.Known:
			by := b.lim.interval("depth_other").Lo
			if c.Scratch.Tool == "sander" {
				by = b.lim.interval("depth_sander").Lo
			}
			hi := c.Scratch.Microns.Lo
			if c.Scratch.Microns.Hi != nil {
				hi = *c.Scratch.Microns.Hi
			}
			depth = quantity.Interval{Lo: c.Scratch.Microns.Lo, Hi: hi}.Scale(1 / by / 25.4)
		default:
			continue
		}
		c.Tooth.Depth = compare("least", films, false, "mil", number{iv: depth, dim: quantity.Film, unit: "mil", source: "limit", leaned: leaned, ok: true})
	}
}

// firstSanded is the first step that sands or blocks a layer in a zone, 0 for none.
func (b *builder) firstSanded(zone, layer string) int {
	return b.sandedAt[zone+"/"+layer]
}
