package stack

import (
	"fmt"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// abrade sands, blocks or scuffs every zone it reaches, then splits off what
// it cuts through.
func (b *builder) abrade(zs []*zone, st *sheet.Step) {
	b.count(st, len(zs))
	for _, z := range zs {
		b.abradeZone(z, st)
	}
	for i := range st.CutsTo {
		b.cutThrough(zs, st, &st.CutsTo[i])
	}
}

// abradeZone abrades one zone's top.
func (b *builder) abradeZone(z *zone, st *sheet.Step) {
	f := z.topFilm()
	b.work(z, f)
	b.beginning(z, st, "abrasion", actID(z, st))
	e := b.newAbrasion(z, st, f)
	e.CutsWritten = len(st.CutsTo) > 0
	if !f.Substrate {
		removed, written := removal(z, st)
		unit := orElse(st.TakesOff.Unit, f.unit)
		e.Removed = measure(removed, quantity.Film, unit)
		if f.known {
			e.LeftBefore = measure(f.left.iv, quantity.Film, f.unit)
			if f.Traits.Acid || f.Traits.Class == "promoter" {
				// The paper may be through it anywhere; the stack keeps the film.
				e.CouldCutThrough = true
			} else {
				e.ThroughMiddle = throughMiddle(f, removed, unit)
				f.takeOff(removed, written)
				e.CouldCutThrough = f.left.iv.Lo <= 0
			}
			e.LeftAfter = measure(f.left.iv, quantity.Film, f.unit)
		}
	}
	b.aged(f, st, &e)
	b.putAbrasion(z, f, st, e)
}

// throughMiddle sets the middle of what an abrasion takes off beside the
// middle of what was left. It is null where either has no middle.
func throughMiddle(f *film, removed quantity.Interval, unit string) *Comparison {
	if removed.IsOpen() || f.left.iv.IsOpen() {
		return nil
	}
	limit := number{
		iv: quantity.Exactly(f.left.middle), dim: quantity.Film, unit: f.unit, source: "sheet",
		leaned: f.leaned, ok: true,
	}
	return compare("most", quantity.Exactly(removed.Mid()), false, unit, limit)
}

// newAbrasion is the entry of one abrasion of a zone's top, before anything
// comes of it.
func (b *builder) newAbrasion(z *zone, st *sheet.Step, f *film) Abrasion {
	return Abrasion{
		ID: actID(z, st), Step: st.N, Do: st.Do, Tool: st.Tool.Value, Zone: z.facts.Name, Layer: f.ID,
		SurfaceKind: f.Kind, SurfaceName: f.Name, SurfaceTraits: f.Traits,
		Pore:      f.Traits.Pore || f.Substrate && f.Kind == "fiberglass",
		BareSteel: f.Substrate && f.Traits.Steel, Existing: f.Existing,
		Grit: gritOf(st), Wet: st.Wet.Value, GuideCoat: st.GuideCoat.Value,
		Removed: openMeasure(quantity.Film, f.unit), LeftBefore: openMeasure(quantity.Film, f.unit), LeftAfter: openMeasure(quantity.Film, f.unit),
		CleanedBefore: !z.soiled(), SoiledBy: z.soiledBy, SoiledStep: z.soiledStep, Uncovered: true, Place: st.Place,
	}
}

// aged sets a film's age at an abrasion beside the times it wants before.
func (b *builder) aged(f *film, st *sheet.Step, e *Abrasion) {
	if f.lastStep == 0 {
		return
	}
	at := startOf(st.N)
	sp := b.clock.sinceLaid(f.lastStep, at)
	age := sp.measure()
	e.Age = &age
	n := f.view.number("sand_after")
	e.SandAfter = sp.held("least", n)
	sure, perhaps := b.rested(f, at)
	e.SandAfterBaked = sure
	if !sure {
		e.SandSlowed = b.clock.slowed(f.view, sp, n)
	}
	if perhaps {
		e.SandAfter, e.SandSlowed = e.SandAfter.perhaps(), e.SandSlowed.perhaps()
	}
	f.wants(st.N, e.SandAfter)
	e.Settling = b.beneath(f, at).Settling
}

// wants notes something done to a film beside the age it wants for it unbaked.
func (f *film) wants(step int, c *Comparison) {
	if c != nil {
		f.due = append(f.due, due{step, c})
	}
}

// settling sets a film's age at a position beside its settling time; null
// where it has none.
func (b *builder) settling(f *film, at int) *Settling {
	if f.lastStep == 0 {
		return nil
	}
	key := "settles"
	if b.s.Work == "collision" && f.Traits.Class == "surfacer" && f.Kind != "polyester surfacer" {
		key = "sand_after"
	}
	n := f.view.number(key)
	if !n.ok || n.never {
		return nil
	}
	sure, perhaps := b.rested(f, at)
	s := &Settling{Baked: sure}
	if _, top := f.view.film(); top.ok && f.laid.known && !f.laid.assumed {
		leaned := append(append(append([]string{}, n.leaned...), top.leaned...), f.laid.leaned...)
		switch {
		case f.laid.iv.Lo > top.iv.Hi:
			s.Doubled = true
			n = n.scaled(2)
			n.leaned = leaned
		case f.laid.iv.Hi > top.iv.Hi:
			// It may be over its top: it may want twice as long.
			n.iv.Hi *= 2
			n.leaned = leaned
		}
	}
	sp := b.clock.sinceLaid(f.lastStep, at)
	s.Age = sp.held("least", n)
	if !s.Baked {
		s.Slowed = b.clock.slowed(f.view, sp, n)
	}
	if perhaps {
		s.Age, s.Slowed = s.Age.perhaps(), s.Slowed.perhaps()
	}
	return s
}

// putAbrasion marks a zone's top with an abrasion and enters it.
func (b *builder) putAbrasion(z *zone, f *film, st *sheet.Step, e Abrasion) {
	s := z.top
	g := gradeOf(st)
	m := mark{grit: e.Grit, abr: g.Abrasive, known: g.Written, deep: b.countsAsSanding(st)}
	porous := z.porous()
	s.scratched = append(s.scratched, e.Grit)
	if !porous && z.porous() {
		s.opened = st
	}
	if m.deep {
		s.sanded, f.blocked = true, true
		s.marks = b.without(s.marks, g.Abrasive)
		s.sequence = append(s.sequence, m)
		z.depth = nil
	}
	s.marks = append(s.marks, m)
	s.wipesFrom, s.broken = len(s.wipes), nil
	s.dust = Dust{Abraded: true, Step: st.N}
	s.follows, s.polished = false, false
	s.blastStep = 0
	b.abradedPrep(z, s, st)
	if s.stripper != nil {
		s.stripper.Abraded = true
	}
	dry := !st.Wet.Value
	fresh := dry && g.Written && g.Microns.Lo >= b.lim.interval("dry_abrasive").Lo
	if fresh {
		z.lastDry = st.N
	}
	if f.Substrate {
		if dry {
			s.dayPos = doneOf(st.N)
		}
		if fresh || dry && !f.Traits.Steel {
			s.openPos = doneOf(st.N)
		}
		if g.Written && g.Microns.Lo >= b.lim.interval("rust_sanded").Lo {
			z.rust.Sanded = true
		}
		if f.Traits.Zinc {
			b.abradedZinc(z, m, st.Tool.Value == "grinder")
		}
	}
	z.clearSoil()
	i := len(b.doc.Abrasions)
	s.abrasions = append(s.abrasions, i)
	z.openAbrasions = append(z.openAbrasions, i)
	if !f.Substrate {
		f.acts = append(f.acts, act{index: i, left: f.left})
	}
	b.doc.Abrasions = append(b.doc.Abrasions, e)
}

// countsAsSanding: a sand or a block, or a scuff coarser than the limit; a
// finer scuff or a pad gives grip only.
func (b *builder) countsAsSanding(st *sheet.Step) bool {
	if st.Do != "scuff" {
		return true
	}
	g := gradeOf(st)
	return g.Written && g.System != quantity.Pad && g.Microns.Lo > b.lim.interval("scuff_is_sand").Hi
}

// without are the marks that sanding with an abrasive leaves: those whose
// median is more than grade_step times its own.
func (b *builder) without(marks []mark, a quantity.Abrasive) []mark {
	step := b.lim.interval("grade_step").Lo
	var kept []mark
	for _, m := range marks {
		if m.known && m.abr.Microns.Hi > step*a.Microns.Lo*(1+1e-12) {
			kept = append(kept, m)
		}
	}
	return kept
}

// abradedPrep is what an abrasion does to the record of what metal was treated
// and degreased with.
func (b *builder) abradedPrep(z *zone, s *surface, st *sheet.Step) {
	p := &s.prep
	p.AcidWashSinceAbraded, p.ConversionSinceAbraded = false, false
	p.Solvent, p.Thinner, p.WaterCleaner, p.AcidAfterSolvent, p.BlownOff = false, false, false, false, false
	p.AbradedSince = p.AbradedSince || p.LastStep > 0
	p.BeforeAbrasion = z.degreased
	p.LastAbradedStep = st.N
}

// abradedZinc notes the coarsest abrasion galvanized steel has had.
func (b *builder) abradedZinc(z *zone, m mark, ground bool) {
	if m.known && (z.zinc == nil || m.abr.Microns.Hi > z.zinc.abr.Microns.Hi) {
		z.zinc = &m
	}
	z.zincCut = z.zincCut || ground
}

// cutTarget finds, among a zone's films, the one that a cut names.
func (b *builder) cutTarget(cut *sheet.Cut) func(*film) bool {
	switch {
	case cut.ToCall:
		l := b.callOf[cut.To]
		return func(f *film) bool { return f.layer == l }
	case cut.To == "substrate":
		return func(f *film) bool { return f.Substrate }
	}
	return func(f *film) bool { return f.Kind == cut.To }
}

// cutThrough splits a new zone off every zone that has the named film under
// its top. A zone whose top it already is, is only abraded.
func (b *builder) cutThrough(zs []*zone, st *sheet.Step, cut *sheet.Cut) {
	match := b.cutTarget(cut)
	var split []*zone
	var keep []int
	found := false
	for _, z := range zs {
		i := z.uppermost(match)
		found = found || i >= 0
		if i >= 0 && i < len(z.films)-1 {
			split, keep = append(split, z), append(keep, i)
		}
	}
	if !found {
		what := fmt.Sprintf("no %s", cut.To)
		if cut.ToCall {
			what = fmt.Sprintf("nothing laid by %q", cut.To)
		}
		b.problem(keyPlace(st, "cuts_to", cut.Place), stepKey(st, "cuts_to"), "step %d cuts through to %q, but there is %s where it sands; under it lie %s", st.N, cut.To, what, beneathWords(zs))
		return
	}
	b.count(st, len(split))
	for i, z := range split {
		if len(b.zones) >= maxZones {
			b.stop(st, "with this cut the panel falls into more than %d zones; cut through in fewer places", maxZones)
			return
		}
		b.cutZone(z, keep[i], st, cut, len(split) > 1)
	}
}

// beneathWords tells a painter what films there are.
func beneathWords(zs []*zone) string {
	var words []string
	seen := map[string]bool{}
	for _, z := range zs {
		for _, f := range z.films {
			if !seen[f.Kind] && len(words) < 12 {
				seen[f.Kind] = true
				words = append(words, f.Kind)
			}
		}
	}
	return strings.Join(words, ", ")
}

// cutName is what a cut zone is called.
func (b *builder) cutName(z *zone, bared *film, st *sheet.Step, cut *sheet.Cut, several bool) string {
	name := cut.Call
	switch {
	case name == "":
		name = z.facts.Name + " cut to " + bared.Kind
	case several:
		name = cut.Call + " (" + z.facts.Name + ")"
	}
	if b.byName[name] == nil {
		return name
	}
	// The same zone was cut to the same kind before.
	again := fmt.Sprintf("%s (step %d)", name, st.N)
	for n := 2; b.byName[again] != nil; n++ {
		again = fmt.Sprintf("%s (step %d, %d)", name, st.N, n)
	}
	return again
}

// cutZone splits a new zone off a zone, down to its film number keep.
func (b *builder) cutZone(z *zone, keep int, st *sheet.Step, cut *sheet.Cut, several bool) {
	bared := z.films[keep]
	c := &zone{
		id: len(b.zones), facts: z.facts, call: cut.Call, parent: z, unit: orElse(cut.Area.Unit, z.unit), where: z.where,
		inspected: map[string]bool{}, laid: z.laid, worked: z.worked, rust: z.rust, zinc: z.zinc, zincCut: z.zincCut,
		degreased: z.degreased, lastBake: z.lastBake,
	}
	for m := range z.inspected {
		c.inspected[m] = true
	}
	c.facts.Name = b.cutName(z, bared, st, cut, several)
	c.facts.Parent, c.facts.CutStep, c.facts.Place = z.facts.Name, st.N, keyPlace(st, "cuts_to", cut.Place)
	b.cutArea(z, c, cut)
	for _, f := range z.films[:keep+1] {
		g := *f
		g.contact, g.acts, g.due = -1, nil, append([]due{}, f.due...)
		c.push(&g)
	}
	b.zones = append(b.zones, c)
	b.byName[c.facts.Name] = c
	if cut.Call != "" {
		b.byCall[cut.Call] = append(b.byCall[cut.Call], c)
	}
	z.kids = append(z.kids, c)
	if keep == 0 {
		c.baredBy = st.N
	}

	c.top = newSurface(st)
	c.top.bared = "cut"
	for i := len(z.films) - 1; i > keep; i-- {
		b.work(c, z.films[i])
	}
	f := c.topFilm()
	b.work(c, f)
	e := b.newAbrasion(c, st, f)
	e.Cut, e.CutFrom, e.CutsWritten = true, z.topFilm().Kind, true
	if f.known {
		// The named film is left whole.
		e.Removed = measure(quantity.Interval{}, quantity.Film, f.unit)
		e.LeftBefore = measure(f.left.iv, quantity.Film, f.unit)
		e.LeftAfter = e.LeftBefore
	}
	b.aged(f, st, &e)
	b.putAbrasion(c, f, st, e)
	c.top.prep.BeforeAbrasion = z.degreased
}

// cutArea gives a cut zone its area, and takes it off its parent's.
func (b *builder) cutArea(z, c *zone, cut *sheet.Cut) {
	if !cut.Area.Written {
		// Anything up to the zone's.
		c.area, c.areaOK = quantity.Interval{Lo: 0, Hi: z.area.Hi}, z.areaOK
		z.area.Lo = 0
		return
	}
	c.area, c.areaOK = cut.Area.Interval, true
	if z.areaOK {
		c.area = c.area.Min(z.area)
		z.area = z.area.SubClamped(c.area)
	}
}

// strip takes films off the zones it reaches; their surface begins anew.
func (b *builder) strip(zs []*zone, st *sheet.Step) {
	downTo := orElse(st.DownTo.Value, "substrate")
	keeps := make([]int, len(zs))
	carried := downTo == "substrate"
	for i, z := range zs {
		if downTo != "substrate" {
			keeps[i] = z.uppermost(func(f *film) bool { return f.Kind == downTo })
			carried = carried || keeps[i] >= 0
		}
	}
	if !carried {
		b.problem(keyPlace(st, "down_to", st.DownTo.Place), stepKey(st, "down_to"), "step %d strips down to %s, but there is no %s where it strips; there are %s", st.N, downTo, downTo, beneathWords(zs))
		return
	}
	b.count(st, len(zs))
	for i, z := range zs {
		// A zone without the film it stops at is passed over.
		if keeps[i] >= 0 {
			b.stripZone(z, keeps[i], st, downTo)
		}
	}
}

// stripZone takes the films over number keep off one zone.
func (b *builder) stripZone(z *zone, keep int, st *sheet.Step, downTo string) {
	e := Strip{
		ID: actID(z, st), Step: st.N, Tool: st.Tool.Value, Media: st.Media.Value, Zone: z.facts.Name, DownTo: downTo, HadFiller: z.carriesFiller(),
		Substrate: z.facts.Substrate, SubstrateTraits: z.films[0].Traits,
		CleanedBefore: !z.soiled(), SoiledBy: z.soiledBy, SoiledStep: z.soiledStep, Place: st.Place,
	}
	old := z.top
	b.cover(z, st.N, "strip", "")
	for i := len(z.films) - 1; i > keep; i-- {
		f := z.films[i]
		e.Took = append(e.Took, workedOn(z, f))
		b.work(z, f)
		f.StrippedLater = append(f.StrippedLater, z.facts.Name)
		if f.contact >= 0 {
			b.doc.Contacts[f.contact].Stripped = true
		}
	}
	took := len(z.films)-1 > keep
	z.cutDown(keep)
	f := z.topFilm()
	e.TopKind = f.Kind
	dusty := dustyTool(st.Tool.Value)
	if dusty {
		b.work(z, f)
	}
	b.doc.Strips = append(b.doc.Strips, e)

	s := newSurface(st)
	s.bared, s.profile = st.Tool.Value, st.Profile
	z.top = s
	z.depth = nil
	z.virgin = z.virgin && !took
	s.prep.BeforeAbrasion, s.prep.LastAbradedStep = z.degreased, st.N
	if dusty {
		s.dust = Dust{Abraded: true, Step: st.N}
	} else if !took {
		s.openPos, s.dayPos = old.openPos, old.dayPos
	}
	tool := st.Tool.Value
	if tool == "blast" {
		s.bared = orElse(st.Media.Value, "grit")
	}
	g := gradeOf(st)
	switch {
	case tool == "sander", tool == "grinder":
		s.tooth, s.toothBy = &mark{grit: gritOf(st), abr: g.Abrasive, deep: true, known: g.Written}, tool
		if g.Written {
			s.marks = append(s.marks, *s.tooth)
		}
	case s.bared == "grit":
		s.tooth, s.toothBy = &mark{grit: gritOf(st)}, "grit blast"
		s.blastStep = st.N
	case tool == "strip disc":
		s.toothBy = tool
	}
	switch {
	case tool == "chemical stripper":
		s.stripper = &Stripper{Step: st.N}
		s.follows = true
	case old.stripper != nil && !took:
		// What the stripper left is still there, abraded or not.
		left := *old.stripper
		left.Abraded = left.Abraded || s.tooth != nil
		s.stripper = &left
		s.follows = old.follows
	}
	if tool == "blast" || (tool == "sander" || tool == "grinder") && g.Written && g.Microns.Lo >= b.lim.interval("dry_abrasive").Lo {
		z.lastDry = st.N
	}
	if f.Substrate {
		b.strippedBare(z, s, st, g)
	}
	if tool == "sander" || tool == "blast" {
		z.clearSoil()
	}
}

// strippedBare is what stripping a zone to its substrate comes to.
func (b *builder) strippedBare(z *zone, s *surface, st *sheet.Step, g sheet.Grade) {
	z.baredBy = st.N
	tool := st.Tool.Value
	switch {
	case s.bared == "grit" || s.bared == "glass bead":
		z.rust.Blasted = true
	case tool == "sander" || tool == "grinder":
		// A grade that nobody wrote breaks no rule.
		if !g.Written || g.Microns.Lo >= b.lim.interval("rust_sanded").Lo {
			z.rust.Sanded = true
		}
	}
	if z.films[0].Traits.Zinc {
		if s.tooth != nil {
			b.abradedZinc(z, *s.tooth, false)
		}
		z.zincCut = z.zincCut || tool == "grinder" || tool == "strip disc" || s.bared == "grit" || s.bared == "glass bead"
	}
}
