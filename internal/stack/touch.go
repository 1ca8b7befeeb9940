package stack

import (
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// touch lets the tops of the zones meet a cleaner, a chemical, water or air.
func (b *builder) touch(zs []*zone, st *sheet.Step) {
	b.count(st, len(zs))
	for _, z := range zs {
		b.touchZone(z, st)
	}
}

// touchZone lets one zone's top meet what the step has in hand.
func (b *builder) touchZone(z *zone, st *sheet.Step) {
	s, f := z.top, z.topFilm()
	agent, kind := orElse(st.With.Value, st.WithKind), st.WithKind
	if st.Do == "rinse" {
		agent, kind = "water", "water"
	}
	e := Touch{
		ID: actID(z, st), Step: st.N, Do: st.Do, Zone: z.facts.Name, Layer: f.ID, SurfaceKind: f.Kind, SurfaceName: f.Name, SurfaceTraits: f.Traits,
		Pore: z.porous(), BareSteel: f.Substrate && f.Traits.Steel, Agent: agent, AgentKind: kind,
		Water: kind == "water" || kind == "waterborne cleaner" || kind == "soap and water",
		At:    b.since(startOf(st.N)), Wear: sorted(st.Wear.Values), Place: st.Place,
	}
	if st.Do == "rinse" {
		e.FollowsWet = s.follows
		if st.DriedWithin.Written {
			dried := span{iv: wait(st.DriedWithin), unit: st.DriedWithin.Unit}
			dried.open = isOpen(dried.iv, quantity.Time)
			e.Dried = dried.held("most", b.lim.number("rinse_dry"))
		}
	}
	switch st.Do {
	case "clean":
		b.wiped(z, s, st, agent, kind)
	case "treat":
		b.treated(z, s, st, kind)
	case "neutralize":
		s.follows = true
		s.solder.Neutralized = true
		p := &s.prep
		p.NeutralizeStep, p.LastStep = st.N, st.N
		p.Neutralized = p.TreatStep > 0
		p.RinsedSince, p.AbradedSince = false, false
	case "rinse":
		s.dust.Rinsed = true
		s.solder.Rinsed = true
		s.prep.RinsedSince = s.prep.RinsedSince || s.prep.LastStep > 0
		if s.stripper != nil {
			s.stripper.Rinsed = true
		}
		kind = "rinse"
	case "tack":
		s.dust.Tacked = true
		kind = "tack"
	case "blow_off":
		s.dust.BlownOff = true
		s.prep.BlownOff = s.prep.BlownOff || s.blastStep > 0
		kind = "blow_off"
	}
	s.touched = append(s.touched, kind)
	z.openTouches = append(z.openTouches, len(b.doc.Touches))
	b.doc.Touches = append(b.doc.Touches, e)
}

// wiped is a clean of a zone's top.
func (b *builder) wiped(z *zone, s *surface, st *sheet.Step, agent, kind string) {
	solvent := kind == "wax and grease remover" || kind == "plastic cleaner" || kind == "lacquer thinner"
	s.wipes = append(s.wipes, wipe{step: st.N, agent: agent, kind: kind, solvent: solvent || kind == "alcohol wipe"})
	s.broken = nil
	s.dust.Cleaned = true
	s.solder.Cleaned = true
	if s.stripper != nil {
		s.stripper.Wiped = true
	}
	switch kind {
	case "wax and grease remover", "plastic cleaner":
		s.prep.Solvent = true
		z.cleaner = true
	case "lacquer thinner":
		s.prep.Thinner = true
	case "waterborne cleaner":
		s.prep.WaterCleaner = true
	case "soap and water":
		z.soap = true
	}
	if solvent {
		s.solventSeen, z.degreased = true, true
	}
	z.cleaned = true
}

// treated is an acid wash or a conversion coating of a zone's top.
func (b *builder) treated(z *zone, s *surface, st *sheet.Step, kind string) {
	s.follows = true
	p := &s.prep
	p.TreatStep, p.LastStep = st.N, st.N
	p.Neutralized, p.RinsedSince, p.AbradedSince = false, false, false
	if kind == "conversion coating" {
		p.Conversion, p.ConversionSinceAbraded = true, true
		return
	}
	p.AcidWash, p.AcidWashSinceAbraded = true, true
	p.AcidAfterSolvent = p.AcidAfterSolvent || s.solventSeen
	z.lastAcid = st.N
	if z.onSubstrate() {
		z.rust.AcidWash = true
	}
}

// soil is metalwork or storing: hands, oil and dust reach every top.
func (b *builder) soil(zs []*zone, st *sheet.Step) {
	b.count(st, len(zs))
	for _, z := range zs {
		s := z.top
		z.soiledBy, z.soiledStep, z.cleaned, z.degreased = st.Do, st.N, false, false
		s.breakWipe(st)
		if st.Do != "metalwork" {
			continue
		}
		p := &s.prep
		p.Solvent, p.Thinner, p.WaterCleaner, p.AcidAfterSolvent = false, false, false, false
		p.LastAbradedStep = st.N
		s.solventSeen = false
		z.worked = true
		z.rust.Metalwork = true
		e := Metalwork{
			ID: actID(z, st), Step: st.N, Zone: z.facts.Name, Welding: st.Welding.Value, Where: placeOf(b.clock.weather[st.N-1]), Place: st.Place,
		}
		for _, f := range z.films[1:] {
			if st.Welding.Value {
				b.work(z, f)
			}
			switch {
			case f.Existing && (f.Kind == "e-coat" || f.Kind == "factory primer" || f.Kind == "factory finish"):
			default:
				e.Carrying = append(e.Carrying, workedOn(z, f))
			}
		}
		if st.Welding.Value {
			b.work(z, z.films[0])
		}
		b.doc.Metalworks = append(b.doc.Metalworks, e)
	}
	if st.Do == "metalwork" && st.Where.Written {
		b.rooms[st.Where.Value] = st.N
	}
}

// breakWipe spoils the last wipe of a surface.
func (s *surface) breakWipe(st *sheet.Step) {
	if s.broken == nil && len(s.wipes) > s.wipesFrom {
		s.broken = &Broken{Step: st.N, Do: st.Do}
	}
}

// mask lays tape: `on` is what is covered, `over` the zones the tape lies on.
// Hands and tape spoil a wipe there, or anywhere if neither is written.
func (b *builder) mask(zs []*zone, st *sheet.Step) {
	touched := make([]bool, len(b.zones))
	if len(st.On.Values) > 0 || len(st.Over.Values) == 0 {
		for _, z := range zs {
			touched[z.id] = true
		}
	}
	over := b.spread(b.said(st, "over", st.Over), false)
	b.count(st, len(over))
	for _, z := range over {
		touched[z.id] = true
		f := z.topFilm()
		if f.lastStep == 0 {
			continue
		}
		sp := b.clock.sinceLaid(f.lastStep, startOf(st.N))
		n := f.view.number("tape_after")
		b.doc.Masks = append(b.doc.Masks, Mask{
			ID: actID(z, st), Step: st.N, Zone: z.facts.Name, Layer: f.ID, Name: f.Name, Kind: f.Kind,
			TapeAfter: sp.held("least", n), TapeSlowed: b.clock.slowed(f.view, sp, n), Place: st.Place,
		})
	}
	for _, z := range b.zones {
		if touched[z.id] {
			z.top.breakWipe(st)
		}
	}
}

// polish compounds the top of every zone: it takes film off, and every scratch
// with it.
func (b *builder) polish(zs []*zone, st *sheet.Step) {
	b.count(st, len(zs))
	at := startOf(st.N)
	for _, z := range zs {
		s, f := z.top, z.topFilm()
		removed, written := removal(z, st)
		e := Polish{
			ID: actID(z, st), Step: st.N, Zone: z.facts.Name, Layer: f.ID, Name: f.Name, Kind: f.Kind,
			Removed: measure(removed, quantity.Film, orElse(st.TakesOff.Unit, f.unit)), Place: st.Place,
		}
		if z.lastBake != nil {
			sp := b.clock.plain(doneOf(z.lastBake.step), at)
			e.SinceBake = sp.held("least", b.lim.number("polish_after_bake"))
		}
		if f.lastStep > 0 {
			sp := b.clock.sinceLaid(f.lastStep, at)
			n := f.view.number("polish_after")
			if f.baked != nil {
				e.PolishAfter = b.clock.plain(doneOf(f.baked.step), at).held("least", b.lim.number("polish_after_bake"))
			} else {
				e.PolishAfter = sp.held("least", n)
				e.PolishSlowed = b.clock.slowed(f.view, sp, n)
				if f.perhaps != nil {
					cooled := b.clock.plain(doneOf(f.perhaps.step), at).held("least", b.lim.number("polish_after_bake"))
					if !cooled.missed() {
						e.PolishAfter, e.PolishSlowed = e.PolishAfter.perhaps(), e.PolishSlowed.perhaps()
					}
				}
			}
			f.wants(st.N, sp.held("least", n))
		}
		if !f.Substrate {
			f.takeOff(removed, written)
			f.acts = append(f.acts, act{polish: true, index: len(b.doc.Polishes), left: f.left})
		}
		for _, i := range s.abrasions {
			b.doc.Abrasions[i].Uncovered = false
		}
		s.marks, s.scratched, s.sequence, s.sanded = nil, nil, nil, false
		s.polished = true
		b.doc.Polishes = append(b.doc.Polishes, e)
	}
}

// bake heats the panel. What it is worth to a film is known once it is over.
func (b *builder) bake(zs []*zone, st *sheet.Step) {
	at := startOf(st.N)
	run := &bakeRun{step: st.N, metal: closed(st.Metal.Interval), time: wait(st.For)}
	run.dry = run.metal.Lo >= b.lim.interval("dry_bake_metal").Lo-1e-9 && run.time.Lo >= b.lim.interval("dry_bake_time").Lo
	b.bakes = append(b.bakes, run)
	e := Bake{
		ID: stepID(st.N), Step: st.N, Zones: zoneNames(zs), By: st.By.Value, Place: st.Place,
		Metal: measure(st.Metal.Interval, quantity.Temperature, st.Metal.Unit), For: measure(run.time, quantity.Time, st.For.Unit),
	}
	hot := func(sense string, n number) *Comparison {
		return compare(sense, st.Metal.Interval, false, st.Metal.Unit, n)
	}
	plastic, filler := false, false
	for _, z := range zs {
		plastic = plastic || z.films[0].Traits.Plastic
		for _, f := range z.films[1:] {
			filler = filler || f.Traits.Class == "filler" && f.Kind != "body solder"
			if f.lastStep == 0 {
				continue
			}
			b.count(st, 1)
			n := f.view.bake()
			sp := b.clock.sinceLaid(f.lastStep, at)
			bf := BakedFilm{
				Zone: z.facts.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Since: sp.measure(),
				TooHot: hot("most", n.maxMetal), HotEnough: hot("least", n.metal),
				LongEnough:        compare("least", run.time, run.time.IsOpen() && run.time.Lo == 0, st.For.Unit, n.time),
				LaidSinceLastBake: !f.bakedAny,
			}
			if bf.LaidSinceLastBake {
				bf.FlashFirst = sp.held("least", n.flashFirst)
			}
			bf.ToCard = n.metal.ok && n.time.ok && run.metal.Lo >= n.metal.iv.Hi-1e-9 && run.time.Lo >= n.time.iv.Hi-1e-9
			if bf.ToCard && f.baked == nil {
				f.baked = run
				f.inBakes[z.facts.Name] = true
			}
			mayBe := n.metal.ok && n.time.ok && run.metal.Hi >= n.metal.iv.Lo-1e-9 && run.time.Hi >= n.time.iv.Lo-1e-9
			if mayBe && !bf.ToCard && f.baked == nil && f.perhaps == nil {
				f.perhaps = run
				f.mayBeIn[z.facts.Name] = true
			}
			f.bakedAny = true
			e.Films, run.films = append(e.Films, bf), append(run.films, f)
		}
		z.lastBake = run
		if run.dry {
			z.lastDryBake = st.N
		}
	}
	if plastic {
		e.PlasticHot = hot("most", b.lim.number("bake_plastic"))
	}
	if filler {
		e.FillerHot = hot("most", b.lim.number("bake_filler"))
	}
	b.doc.Bakes = append(b.doc.Bakes, e)
}

// rested: a bake met the film's schedule, and the rest after it is over: surely,
// or perhaps. A rest that nobody wrote breaks nothing.
func (b *builder) rested(f *film, at int) (sure, perhaps bool) {
	after := func(run *bakeRun) (sure, perhaps bool) {
		if run == nil {
			return false, false
		}
		sp, rest := b.clock.plain(doneOf(run.step), at), b.lim.interval("bake_rest")
		return sp.open || round9(sp.iv.Lo) >= rest.Lo, sp.open || round9(sp.iv.Hi) >= rest.Lo
	}
	if sure, perhaps = after(f.baked); sure {
		return true, false
	}
	_, other := after(f.perhaps)
	return false, perhaps || other
}

// missed tells whether a time a film wants is surely missed; null is not.
func (c *Comparison) missed() bool {
	return c != nil && !c.Open && c.Over.Hi != nil && *c.Over.Hi < 1
}

// perhaps is a time a film wants, where a bake that may have met its schedule
// may stand for it: it is not surely missed. Null stays null.
func (c *Comparison) perhaps() *Comparison {
	if !c.missed() {
		return c
	}
	out := *c
	out.Over.Hi = nil
	return &out
}

func (s *Slowed) perhaps() *Slowed {
	if s == nil {
		return nil
	}
	out := *s
	out.Compared = *s.Compared.perhaps()
	return &out
}

// warmTime is how long the panel was at least so warm, °C, from one position to
// another; a piece whose temperature nobody wrote may be warm.
func (c *clock) warmTime(from, to int, least float64) span {
	return c.part(from, to, func(i int) (sure, may bool) {
		p := c.pieces[i]
		return !p.warm || p.panel.Lo >= least-1e-9, !p.warm || p.panel.Hi >= least-1e-9
	})
}

// dampTime is how long the air was damper than so many percent. A piece whose
// humidity nobody wrote was not.
func (c *clock) dampTime(from, to int, limit float64) span {
	return c.part(from, to, func(i int) (sure, may bool) {
		h := c.weather[i/2].Humidity
		return h.Written && h.Interval.Lo > limit, h.Written && closed(h.Interval).Hi > limit
	})
}

// part is the time from one position to another in the pieces that surely count,
// up to that in those that may.
func (c *clock) part(from, to int, counts func(piece int) (sure, may bool)) span {
	sp := c.plain(from, to)
	if sp.open {
		return sp
	}
	var sum quantity.Interval
	for i := from; i < to; i++ {
		d := c.pieces[i].dur
		sure, may := counts(i)
		if !sure {
			d.Lo = 0
		}
		if !may {
			d.Hi = 0
		}
		sum = sum.Add(d)
	}
	sp.iv = quantity.Interval{Lo: round9(sum.Lo), Hi: sum.Hi}
	if !math.IsInf(sum.Hi, 1) {
		sp.iv.Hi = round9(sum.Hi)
	}
	sp.open = isOpen(sp.iv, quantity.Time)
	return sp
}
