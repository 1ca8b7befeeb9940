package stack

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// fresh gives a zone a new top surface.
func (b *builder) fresh(z *place, step, pos int, at sheet.Place) *surface {
	z.top = &surface{from: step, pos: pos, place: at, lastAbrPos: -1}
	b.expose(z, step, pos)
	return z.top
}

// expose opens the exposure of a zone's top surface.
func (b *builder) expose(z *place, step, pos int) {
	f := z.topFilm()
	b.openExposure[z] = len(b.doc.Exposures)
	b.doc.Exposures = append(b.doc.Exposures, Exposure{
		Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Bare: f.Substrate,
		Pore: f.Traits.Pore, FromStep: step, During: []During{}, Where: []string{}, Place: z.top.place,
		ToStep: -pos - 1, // the position, until the exposure is closed
	})
}

// cover closes the exposure of a zone's top surface.
func (b *builder) cover(z *place, step, pos int, by, contact string) string {
	i := b.openExposure[z]
	x := &b.doc.Exposures[i]
	from := -x.ToStep - 1
	x.ToStep = step
	x.EndedBy, x.Contact = by, contact
	x.ID = fmt.Sprintf("%s/%d-%d", z.Name, x.FromStep, step)
	x.Pore = porous(z)
	f := z.topFilm()
	var iv quantity.Interval
	var open bool
	if x.FromStep > 0 && f.at == x.FromStep && !f.Substrate && !f.Existing {
		iv, open = b.clock.sinceLaid(f.at, pos)
	} else {
		iv, open = b.clock.any(from, pos)
	}
	x.Time = timeOrOpen(iv, open)
	around := b.clock.around(from, pos, nil)
	x.Outdoors, x.Where = around.outdoors, around.where
	switch {
	case around.outdoorOpen:
		x.OutdoorTime = openMeasure(quantity.Time, "days")
	default:
		x.OutdoorTime = measureTime(around.outdoorTime)
	}
	if around.humidityOK {
		m := measure(around.humidity, quantity.Share, around.unit)
		x.Humidity = &m
	}
	damp := func(limit string) bool {
		return around.humidityOK && around.humidity.Hi > b.lim.interval(limit).Lo
	}
	if x.Pore {
		n := b.lim.number("porous_open")
		if damp("damp_pore") {
			n = n.scaled(0.5)
		}
		if s := f.view.number("settles"); s.ok && !s.never && !f.Substrate {
			n.iv = n.iv.Add(s.iv)
			n.leaned = s.leaned
			if s.source == "card" {
				n.source = "card"
			}
		}
		x.PoreOpen = compare("most", iv, open, b.clock.unit(from, pos), n)
	}
	if f.Traits.Acid {
		x.AcidHold = compare("most", iv, open, b.clock.unit(from, pos), b.lim.number("acid_hold"))
		if damp("damp_acid") {
			x.AcidDamp = compare("most", iv, open, b.clock.unit(from, pos), b.lim.number("acid_hold_damp"))
		}
	}
	if around.outdoors {
		x.SunEpoxy = compare("most", around.outdoorTime, around.outdoorOpen, b.clock.unit(from, pos), b.lim.number("sun_epoxy"))
		x.SunSurfacer = compare("most", around.outdoorTime, around.outdoorOpen, b.clock.unit(from, pos), b.lim.number("sun_surfacer"))
	}
	return x.ID
}

func timeOrOpen(iv quantity.Interval, open bool) Measure {
	if open {
		return openMeasure(quantity.Time, "h")
	}
	return measureTime(iv)
}

// porous tells whether a zone's top drinks: its film, or bare fiberglass once abraded.
func porous(z *place) bool {
	f := z.topFilm()
	if f.Substrate && f.Kind == "fiberglass" {
		return len(z.top.scars) > 0
	}
	return f.Traits.Pore
}

// during notes a step in every running exposure it happens beside.
func (b *builder) during(st *sheet.Step, zs []*place) {
	switch st.Do {
	case "metalwork", "polish", "spray", "brush", "store", "spread":
	default:
		return
	}
	reached := map[*place]bool{}
	for _, z := range zs {
		reached[z] = true
	}
	where := placeOf(weatherAt(st.Weather, b.s.Booth))
	kind := ""
	if st.Card != nil {
		kind = st.Card.Kind
	}
	for _, z := range b.zones {
		i := b.openExposure[z]
		x := &b.doc.Exposures[i]
		if x.FromStep == st.N {
			continue
		}
		same := where == placeOf(weatherAt(sheet.Weather{}, b.s.Booth)) || reached[z]
		x.During = append(x.During, During{Step: st.N, Do: st.Do, SamePlace: same, Reaches: reached[z], ProductKind: kind})
	}
}

// strip takes films off a zone; its surface begins anew.
func (b *builder) strip(z *place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	keep := 0
	downTo := orElse(st.DownTo.Value, "substrate")
	if downTo != "substrate" {
		keep = z.uppermost(func(f *film) bool { return f.Kind == downTo && !f.Substrate })
		if keep < 0 {
			b.problem(st.DownTo.Place, fmt.Sprintf("step[%d].down_to", st.N), "zone %s carries no %s at this step, so nothing can be stripped down to it; it carries %s", z.Name, downTo, carriedWords(z))
			return
		}
	}
	e := Strip{
		ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Tool: st.Tool.Value, Media: st.Media.Value, Zone: z.Name, DownTo: downTo,
		Took: []Worked{}, HadFiller: z.filled, Substrate: z.substrateKind, SubstrateTraits: z.substrateFilm().Traits,
		CleanedBefore: z.soiled == "" || z.cleanedSinceSoil, SoiledBy: z.soiled, SoiledStep: z.soiledStep, Place: st.Place,
	}
	for i := len(z.films) - 1; i > keep; i-- {
		f := z.films[i]
		e.Took = append(e.Took, Worked{Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Existing: f.Existing, Hazards: append([]string{}, f.Traits.Hazards...)})
		b.work(st, z, f)
		f.StrippedLater = appendOnce(f.StrippedLater, z.Name)
		delete(f.layer.left, z.Name)
	}
	b.work(st, z, z.films[keep])
	solventSeen := z.top.solventSeen
	if keep < len(z.films)-1 {
		b.cover(z, st.N, at.start, "strip", "")
		z.films = z.films[:keep+1]
		b.refill(z)
		b.fresh(z, st.N, at.done, st.Place)
	} else {
		b.cover(z, st.N, at.start, "strip", "")
		b.fresh(z, st.N, at.done, st.Place)
	}
	s := z.top
	tool := st.Tool.Value
	s.bared, s.profile = tool, st.Profile
	if tool == "blast" {
		s.bared = orElse(st.Media.Value, "grit")
	}
	s.solventBefore = solventSeen && !z.dirty()
	s.solventSeen = false
	s.lastRoughStep = st.N
	switch {
	case tool == "chemical stripper":
		s.stripper = &Stripper{Step: st.N}
		s.wetUse = true
	case tool == "sander" || tool == "grinder" || s.bared == "grit" && tool == "blast":
		g := b.grit(st)
		sc := scar{grit: g, abr: st.Grit.Abrasive, sand: st.Grit.Written, strip: true, known: st.Grit.Written, step: st.N, tool: tool}
		s.scars = append(s.scars, sc)
		if sc.known && tool != "blast" {
			s.scratch = append(s.scratch, sc)
		}
		s.lastAbr, s.lastAbrPos = st.N, at.done
		if tool == "blast" {
			s.blasted, s.blastPos = true, at.done
		}
	case tool == "strip disc", tool == "wire wheel", tool == "blast":
		s.lastAbr = 0
	}
	f := z.topFilm()
	if f.Substrate {
		if tool == "blast" && (s.bared == "grit" || s.bared == "glass bead") {
			z.rust.Blasted = true
		}
		if (tool == "sander" || tool == "grinder") && st.Grit.Written && st.Grit.Microns.Lo >= b.lim.interval("rust_sanded").Lo {
			z.rust.Sanded = true
		}
		if f.Traits.Zinc && (tool == "sander" || tool == "grinder" || tool == "strip disc" || tool == "blast") {
			z.zincCut = true
		}
		z.filled = false
	}
	e.TopKind = f.Kind
	b.doc.Strips = append(b.doc.Strips, e)
	if tool != "chemical stripper" && tool != "razor" {
		z.clearSoil()
	}
}

func (z *place) dirty() bool { return z.soiled != "" && !z.cleanedSinceSoil }

// clearSoil: the first abrasion has happened; what was ground in is told of it alone.
func (z *place) clearSoil() { z.soiled, z.soiledStep, z.cleanedSinceSoil = "", 0, false }

func (b *builder) refill(z *place) {
	z.filled = false
	for _, f := range z.films {
		if f.Traits.Class == "filler" || f.Traits.Class == "seam" {
			z.filled = true
		}
	}
}

func carriedWords(z *place) string {
	if len(z.films) == 1 {
		return "nothing but bare " + z.films[0].Kind
	}
	var names []string
	for _, f := range z.films[1:] {
		names = append(names, f.Kind)
	}
	return strings.Join(names, ", ")
}

func appendOnce(list []string, s string) []string {
	for _, x := range list {
		if x == s {
			return list
		}
	}
	return append(list, s)
}

func (b *builder) grit(st *sheet.Step) Grit {
	g := gradeOf(st)
	return Grit{Step: st.N, Do: st.Do, Tool: st.Tool.Value, Name: g.Name, Pad: g.System == quantity.Pad, Wet: st.Wet.Value, Known: g.Written, Microns: gradeMeasure(g.Abrasive)}
}

// removed is what one act takes off, mil, with its middle.
func (b *builder) removed(z *place, st *sheet.Step) (quantity.Interval, bool) {
	if st.TakesOff.Written {
		return closed(st.TakesOff.Interval), true
	}
	g := gradeOf(st)
	return trade.Removal(g.Abrasive, st.Tool.Value, z.Role == "edge"), false
}

// abrade sands, blocks or scuffs the zones, and splits off what is cut through.
func (b *builder) abrade(zs []*place, st *sheet.Step) {
	for _, z := range zs {
		b.abradeOne(z, st)
	}
	for i := range st.CutsTo {
		cut := &st.CutsTo[i]
		match := b.matcher(cut)
		found := 0
		var splits []*place
		for _, z := range zs {
			j := z.uppermost(match)
			if j < 0 {
				continue
			}
			found++
			if j == len(z.films)-1 {
				continue // only abraded
			}
			splits = append(splits, z)
		}
		if found == 0 {
			b.problem(cut.Place, fmt.Sprintf("step[%d].cuts_to", st.N), "nothing this step reaches lies over %q, so it cannot be cut through to it", cut.To)
			continue
		}
		several := len(splits) > 1
		for _, z := range splits {
			b.cut(z, st, cut, match, several)
		}
	}
}

func (b *builder) matcher(cut *sheet.Cut) func(*film) bool {
	switch {
	case cut.To == "substrate":
		return func(f *film) bool { return f.Substrate }
	case cut.ToCall:
		return func(f *film) bool { return f.Call == cut.To && f.Call != "" }
	}
	return func(f *film) bool { return f.Kind == cut.To }
}

func (b *builder) abradeOne(z *place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	f := z.topFilm()
	b.work(st, z, f)
	b.beginning(z, st.N, "abrasion", fmt.Sprintf("%s/%d", z.Name, st.N), st.Place)
	e := b.abrasion(z, st, f)
	removed, written := b.removed(z, st)
	e.Removed = measure(removed, quantity.Film, orElse(st.TakesOff.Unit, "mil"))
	e.CutsWritten = len(st.CutsTo) > 0
	if f.Substrate {
		e.LeftBefore, e.LeftAfter = openMeasure(quantity.Film, "mil"), openMeasure(quantity.Film, "mil")
	} else if !f.known {
		e.LeftBefore, e.LeftAfter = openMeasure(quantity.Film, f.unitOr("mil")), openMeasure(quantity.Film, f.unitOr("mil"))
		b.aged(&e, z, f, st, at)
	} else {
		before := f.left
		e.LeftBefore = measure(before, quantity.Film, f.unitOr("mil"))
		after := before.SubClamped(removed)
		e.LeftAfter = measure(after, quantity.Film, f.unitOr("mil"))
		e.CouldCutThrough = after.Lo <= 0
		if !f.Traits.Acid && f.Traits.Class != "promoter" {
			mid := quantity.Exactly(removed.Mid())
			if f.leftMid > 0 {
				one := number{iv: quantity.Exactly(round9(f.leftMid)), dim: quantity.Film, unit: f.unitOr("mil"), source: "sheet", ok: true, leaned: f.leaned}
				if !written {
					one.leaned = append([]string{}, f.leaned...)
				}
				one.leaned = nil
				e.ThroughMiddle = compare("most", mid, false, f.unitOr("mil"), one)
			}
			f.left = after
			f.leftMid = math.Max(0, f.leftMid-removed.Mid())
			f.layer.left[z.Name] = f.left
		}
		b.aged(&e, z, f, st, at)
	}
	b.scar(z, st, at, &e)
	f.abrasions = append(f.abrasions, len(b.doc.Abrasions))
	b.doc.Abrasions = append(b.doc.Abrasions, e)
}

func (f *film) unitOr(u string) string { return orElse(f.layer.unit, u) }

// abrasion starts the entry of one abrasion of a zone's top.
func (b *builder) abrasion(z *place, st *sheet.Step, f *film) Abrasion {
	e := Abrasion{
		ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Do: st.Do, Tool: st.Tool.Value, Zone: z.Name, Layer: f.ID,
		SurfaceKind: f.Kind, SurfaceName: f.Name, SurfaceTraits: f.Traits, Pore: f.Traits.Pore || f.Kind == "fiberglass" && f.Substrate,
		BareSteel: f.Substrate && f.Traits.Steel, Existing: f.Existing, Grit: b.grit(st), Wet: st.Wet.Value, GuideCoat: st.GuideCoat.Value,
		SoiledBy: z.soiled, SoiledStep: z.soiledStep, CleanedBefore: z.soiled == "" || z.cleanedSinceSoil,
		LeftBefore: openMeasure(quantity.Film, "mil"), LeftAfter: openMeasure(quantity.Film, "mil"), Removed: openMeasure(quantity.Film, "mil"),
		Place: st.Place,
	}
	return e
}

// ages sets the film's age beside the times it wants before it is abraded.
func (b *builder) ages(z *place, f *film, st *sheet.Step, at span) (*Measure, *Comparison, *Settling, bool) {
	if f.Existing || f.Substrate || f.at == 0 {
		return nil, nil, nil, false
	}
	iv, open := b.clock.sinceLaid(f.at, at.start)
	m := timeOrOpen(iv, open)
	n := f.view.number("sand_after")
	c := compare("least", iv, open, b.clock.sinceLaidUnit(f.at, at.start), n)
	full, _, _ := b.baked(z, f, at.start)
	if c != nil && brokenLeast(c) {
		b.rely(f, z, st.N)
	}
	return &m, c, b.settling(z, f, at.start), full
}

// aged fills in what ages tells, and the age as the panel's temperature counts it.
func (b *builder) aged(e *Abrasion, z *place, f *film, st *sheet.Step, at span) {
	e.Age, e.SandAfter, e.Settling, e.SandAfterBaked = b.ages(z, f, st, at)
	if e.Age != nil && !e.SandAfterBaked {
		e.SandSlowed = b.slowed(f.view, b.clock.steps[f.at].done, at.start, e.Age.Open, f.view.number("sand_after"))
	}
}

func brokenLeast(c *Comparison) bool { return !c.Open && c.Over.Lo < 1 }

func (b *builder) rely(f *film, z *place, step int) {
	key := f.ID + "/" + z.Name
	if _, ok := b.relied[key]; !ok {
		b.relied[key] = step
	}
}

// settling sets a film's age at a position beside its settling time.
func (b *builder) settling(z *place, f *film, pos int) *Settling {
	if f.Existing || f.Substrate || f.at == 0 {
		return nil
	}
	n := f.view.number("settles")
	if b.s.Work == "collision" && f.Traits.Class == "surfacer" && f.Kind != "polyester surfacer" {
		n = f.view.number("sand_after")
	}
	if !n.ok || n.never {
		return nil
	}
	s := &Settling{}
	if _, hi := f.view.film(); hi.ok && !f.leftOpen && !f.assumed {
		if c := compare("most", f.film, false, f.layer.unit, hi); c != nil && c.Over.Lo > 1 {
			s.Doubled = true
			n = n.scaled(2)
			n.leaned = append(append([]string{}, n.leaned...), hi.leaned...)
		}
	}
	iv, open := b.clock.sinceLaid(f.at, pos)
	s.Age = compare("least", iv, open, b.clock.sinceLaidUnit(f.at, pos), n)
	s.Baked, _, _ = b.baked(z, f, pos)
	if !s.Baked {
		s.Slowed = b.slowed(f.view, b.clock.steps[f.at].done, pos, open, n)
	}
	return s
}

// baked tells whether a bake since the film was laid met its schedule for
// certain: with its rest by a position (full), however short ago (any), and
// which step baked.
func (b *builder) baked(z *place, f *film, pos int) (full, any bool, step int) {
	if f.Existing || f.Substrate || f.at == 0 {
		return false, false, 0
	}
	laid := b.clock.steps[f.at].done
	rest := b.lim.interval("bake_rest")
	for i := len(b.bakes) - 1; i >= 0; i-- {
		k := b.bakes[i]
		if k.start < laid {
			break
		}
		if !k.zones[z.Name] || k.end > pos || !b.meets(f, k) || !b.laidSinceBake(f, k, i) {
			continue
		}
		any, step = true, k.step
		since := b.clock.total(k.end, pos)
		if since.Lo >= rest.Lo {
			full = true
		}
		return full, any, step
	}
	return false, false, 0
}

func (b *builder) laidSinceBake(f *film, k *bakeRun, i int) bool {
	laid := b.clock.steps[f.at].done
	for j := i - 1; j >= 0; j-- {
		if b.bakes[j].start >= laid {
			return b.meets(f, b.bakes[j])
		}
	}
	return true
}

func (b *builder) meets(f *film, k *bakeRun) bool {
	n := f.view.bake()
	metal, time := closed(k.st.Metal.Interval), closed(k.st.For.Interval)
	return n.metal.ok && n.time.ok && metal.Lo >= n.metal.iv.Lo && time.Lo >= n.time.iv.Lo
}

// scar puts an abrasion on a zone's top surface.
func (b *builder) scar(z *place, st *sheet.Step, at span, e *Abrasion) {
	s, f := z.top, z.topFilm()
	g := gradeOf(st)
	sc := scar{grit: e.Grit, abr: g.Abrasive, known: g.Written, step: st.N, tool: st.Tool.Value}
	sc.sand = st.Do != "scuff" || g.System != quantity.Pad && g.Microns.Lo > b.lim.interval("scuff_is_sand").Lo
	s.scars = append(s.scars, sc)
	if sc.sand {
		step := b.lim.interval("grade_step").Lo
		kept := s.scratch[:0:0]
		for _, old := range s.scratch {
			if old.abr.Microns.Hi > step*g.Microns.Lo {
				kept = append(kept, old)
			}
		}
		s.scratch = append(kept, sc)
		f.sequence = append(f.sequence, e.Grit)
		f.blocked = true
	}
	s.lastAbr, s.lastAbrPos, s.lastRoughStep = st.N, at.done, st.N
	s.sinceAbr, s.degreaseFrom = len(s.wipes), len(s.wipes)
	s.cleaned, s.tacked, s.blown, s.rinsed = false, false, false, false
	s.broken = nil
	s.acidSince, s.convSince, s.acidAfterSolvent = false, false, false
	if s.lastChem > 0 {
		s.abradedSince = true
	}
	if s.stripper != nil {
		s.stripper.Abraded = true
	}
	s.solventBefore = s.solventBefore || s.solventSeen
	s.blasted, s.metalworkSince, s.polished = false, false, false
	if f.Substrate {
		if f.Traits.Zinc && (z.zincAbr == nil || sc.abr.Microns.Hi > z.zincAbr.abr.Microns.Hi) {
			z.zincAbr = &sc
			if st.Tool.Value == "grinder" {
				z.zincCut = true
			}
		}
		if !st.Wet.Value && g.Written && g.Microns.Lo >= b.lim.interval("rust_sanded").Lo || g.Written && g.Microns.Lo >= b.lim.interval("rust_sanded").Lo {
			z.rust.Sanded = true
		}
	}
	z.clearSoil()
	if g.Microns.Lo >= b.lim.interval("dry_abrasive").Lo && !st.Wet.Value {
		b.dryAgain(z, st.N)
	}
}

// dryAgain marks every earlier touch and wet abrasion of this surface's place as dry-abraded since.
func (b *builder) dryAgain(z *place, step int) {
	for _, i := range z.top.touches {
		if b.doc.Touches[i].Step < step {
			b.doc.Touches[i].DryAbraded = true
		}
	}
	for _, i := range z.topFilm().abrasions {
		if b.doc.Abrasions[i].Step < step && b.doc.Abrasions[i].NextContact == "" {
			b.doc.Abrasions[i].DryAgain = true
		}
	}
}

// cut splits a zone off where the abrasive goes through.
func (b *builder) cut(z *place, st *sheet.Step, cut *sheet.Cut, match func(*film) bool, several bool) {
	if len(b.zones) >= maxZones {
		b.problem(cut.Place, fmt.Sprintf("step[%d].cuts_to", st.N), "this cut makes more than %d zones; a sheet with that many is a slip", maxZones)
		return
	}
	at := b.clock.steps[st.N]
	j := z.uppermost(match)
	name := cut.Call
	if name == "" {
		to := cut.To
		if to == "substrate" {
			to = z.substrateKind
		}
		name = z.Name + " cut to " + to
	} else if several {
		name = cut.Call + " (" + z.Name + ")"
	}
	for n := 2; b.byName[name] != nil; n++ {
		name = fmt.Sprintf("%s %d", strings.TrimSuffix(name, fmt.Sprintf(" %d", n-1)), n)
	}
	c := &place{order: len(b.zones), inspected: map[string]bool{}, bakedAt: map[string]int{}}
	c.Zone = z.Zone
	c.Name, c.Parent, c.CutStep, c.Place = name, z.Name, st.N, cut.Place
	c.Carried, c.Layers = append([]string{}, z.Carried...), []string{}
	c.rust, c.hasRust, c.laidAny, c.metalwork = z.rust, z.hasRust, z.laidAny, z.metalwork
	c.zincAbr, c.zincCut, c.substrateKind = z.zincAbr, z.zincCut, z.substrateKind
	c.began, c.soap, c.softCleaner = z.began, z.soap, z.softCleaner
	for m := range z.inspected {
		c.inspected[m] = true
	}
	c.cutToMetal = j == 0
	c.areaUnit = orElse(cut.Area.Unit, z.areaUnit)
	if cut.Area.Written {
		c.areaIv = closed(cut.Area.Interval)
		if !z.areaOpen {
			z.areaIv = z.areaIv.SubClamped(c.areaIv)
		}
	} else {
		c.areaIv, c.areaOpen = quantity.Interval{Lo: 0, Hi: z.areaIv.Hi}, z.areaOpen
		if !z.areaOpen {
			z.areaIv = quantity.Interval{Lo: 0, Hi: z.areaIv.Hi}
		}
	}
	first := z.topFilm().Kind
	for i := 0; i <= j; i++ {
		old := z.films[i]
		nf := &film{layer: old.layer, at: old.at, left: old.left, known: old.known, leftMid: old.leftMid, blocked: old.blocked}
		if i == j && !old.Substrate {
			// The film named is left whole.
			nf.left, nf.leftMid = old.left, old.leftMid
		}
		nf.sequence = append([]Grit{}, old.sequence...)
		c.films = append(c.films, nf)
		if !old.Substrate {
			nf.layer.left[c.Name] = nf.left
		}
	}
	b.refill(c)
	if st.Do != "" && c.films[j].Traits.Class == "filler" {
		c.filled = true
	}
	b.zones = append(b.zones, c)
	b.byName[name] = c
	z.cuts = append(z.cuts, c)
	if cut.Call != "" {
		b.byCall[cut.Call] = append(b.byCall[cut.Call], c)
	}
	s := b.fresh(c, st.N, at.done, cut.Place)
	s.bared = "cut"
	s.solventBefore = z.top.solventBefore || z.top.solventSeen
	f := c.topFilm()
	for i := len(z.films) - 1; i >= j; i-- {
		b.work(st, c, z.films[i])
	}
	e := b.abrasion(c, st, f)
	e.Cut, e.CutFrom = true, first
	e.SoiledBy, e.CleanedBefore = "", true
	e.CutsWritten = true
	if !f.Substrate && f.known {
		e.LeftBefore = measure(f.left, quantity.Film, f.unitOr("mil"))
		e.LeftAfter = e.LeftBefore
	}
	e.Removed = measure(quantity.Interval{}, quantity.Film, "mil")
	b.aged(&e, c, f, st, at)
	f.sequence = nil
	b.scar(c, st, at, &e)
	f.abrasions = []int{len(b.doc.Abrasions)}
	b.doc.Abrasions = append(b.doc.Abrasions, e)
	c.clearSoil()
}

var solventCleaners = map[string]bool{"wax and grease remover": true, "plastic cleaner": true, "lacquer thinner": true, "alcohol wipe": true}

// touch lets a zone's top meet a cleaner, a chemical, water or air.
func (b *builder) touch(z *place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	s, f := z.top, z.topFilm()
	kind := st.WithKind
	agent := orElse(st.With.Value, kind)
	if st.Do == "rinse" {
		agent, kind = "water", "water"
	}
	e := Touch{
		ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Do: st.Do, Zone: z.Name, Layer: f.ID, SurfaceKind: f.Kind, SurfaceName: f.Name,
		SurfaceTraits: f.Traits, Pore: porous(z), BareSteel: f.Substrate && f.Traits.Steel, Agent: agent, AgentKind: kind,
		At: measureTime(b.clock.total(0, at.start)), Wear: append([]string{}, st.Wear.Values...), Place: st.Place,
	}
	e.Water = st.Do == "rinse" || kind == "waterborne cleaner" || kind == "soap and water"
	if st.Do == "rinse" {
		e.FollowsWet = s.wetUse
		if st.DriedWithin.Written {
			e.Dried = compare("most", st.DriedWithin.Interval, false, st.DriedWithin.Unit, b.lim.number("rinse_dry"))
		}
	}
	switch st.Do {
	case "clean":
		s.wipes = append(s.wipes, wipeOf{step: st.N, agent: agent, kind: kind, solvent: solventCleaners[kind], donePos: at.done})
		s.cleaned, s.broken = true, nil
		if kind == "wax and grease remover" || kind == "plastic cleaner" || kind == "lacquer thinner" {
			s.solventSeen = true
		}
		if s.stripper != nil {
			s.stripper.Wiped = true
		}
		s.solder.Cleaned = true
		z.cleanedSinceSoil = true
		if kind == "soap and water" {
			z.soap = true
		}
		if kind == "plastic cleaner" || kind == "wax and grease remover" {
			z.softCleaner = true
		}
		s.touched = append(s.touched, kind)
	case "treat":
		s.wetUse = true
		s.treatStep, s.lastChem = st.N, st.N
		s.neutralized, s.rinsedSince, s.abradedSince = false, false, false
		if kind == "acid wash" {
			s.acid, s.acidSince = true, true
			s.acidAfterSolvent = s.solventSeen
			if f.Substrate {
				z.rust.AcidWash = true
			}
			for _, i := range s.touches {
				b.doc.Touches[i].AcidWashed = true
			}
		} else {
			s.conv, s.convSince = true, true
		}
		s.touched = append(s.touched, kind)
	case "neutralize":
		s.wetUse = true
		s.neutStep, s.lastChem = st.N, st.N
		s.neutralized, s.rinsedSince, s.abradedSince = true, false, false
		s.solder.Neutralized = true
		s.touched = append(s.touched, kind)
	case "rinse":
		s.rinsed = true
		if s.lastChem > 0 {
			s.rinsedSince = true
		}
		if s.stripper != nil {
			s.stripper.Rinsed = true
		}
		s.solder.Rinsed = true
		s.touched = append(s.touched, "rinse")
	case "tack":
		s.tacked = true
		s.touched = append(s.touched, "tack")
	case "blow_off":
		s.blown = true
		if s.blasted {
			s.blownSinceBlast = true
		}
		s.touched = append(s.touched, "blow_off")
	}
	s.touches = append(s.touches, len(b.doc.Touches))
	b.doc.Touches = append(b.doc.Touches, e)
}

// soil: hands, oil and dust reach the surface.
func (b *builder) soil(z *place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	z.soiled, z.soiledStep, z.cleanedSinceSoil = st.Do, st.N, false
	s := z.top
	if len(s.wipes) > 0 {
		s.broken = &Broken{Step: st.N, Do: st.Do}
	}
	if st.Do != "metalwork" {
		return
	}
	s.metalworkSince = true
	s.degreaseFrom = len(s.wipes)
	s.acidAfterSolvent = false
	s.solventSeen = false
	s.solventBefore = false
	s.lastRoughStep = st.N
	z.metalwork = true
	z.rust.Metalwork = true
	where := placeOf(weatherAt(st.Weather, b.s.Booth))
	if st.Where.Written { // only metalwork that says it is done in the booth or bay is taken to be
		b.metalworkAt[where], b.metalworkStep[where] = at.done, st.N
	}
	e := Metalwork{ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Zone: z.Name, Welding: st.Welding.Value, Where: where, Carrying: []Worked{}, Place: st.Place}
	for _, f := range z.films[1:] {
		switch f.Kind {
		case "factory finish", "factory primer", "e-coat":
			if f.Existing {
				continue
			}
		}
		e.Carrying = append(e.Carrying, Worked{Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Existing: f.Existing, Hazards: append([]string{}, f.Traits.Hazards...)})
	}
	if st.Welding.Value {
		b.work(st, z, z.topFilm())
	}
	b.doc.Metalworks = append(b.doc.Metalworks, e)
}

func (b *builder) mask(zs []*place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	over := map[string]bool{}
	for _, n := range st.Over.Values {
		for _, z := range b.named(n) {
			over[z.Name] = true
		}
	}
	all := len(st.Over.Values) == 0 && len(st.On.Values) == 0
	for _, z := range b.zones {
		on := false
		if len(st.On.Values) > 0 {
			for _, r := range zs {
				on = on || r == z
			}
		}
		if (all || on || over[z.Name]) && len(z.top.wipes) > 0 {
			z.top.broken = &Broken{Step: st.N, Do: "mask"}
		}
		if !over[z.Name] {
			continue
		}
		f := z.topFilm()
		if f.Existing || f.Substrate {
			continue
		}
		iv, open := b.clock.sinceLaid(f.at, at.start)
		e := Mask{ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Zone: z.Name, Layer: f.ID, Name: f.Name, Kind: f.Kind, Place: st.Place}
		if full, _, _ := b.baked(z, f, at.start); !full {
			e.TapeAfter = compare("least", iv, open, b.clock.sinceLaidUnit(f.at, at.start), f.view.number("tape_after"))
			e.TapeSlowed = b.slowed(f.view, b.clock.steps[f.at].done, at.start, open, f.view.number("tape_after"))
		}
		b.doc.Masks = append(b.doc.Masks, e)
	}
}

func (b *builder) polish(z *place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	f := z.topFilm()
	s := z.top
	e := Polish{ID: fmt.Sprintf("%s/%d", z.Name, st.N), Step: st.N, Zone: z.Name, Layer: f.ID, Name: f.Name, Kind: f.Kind, Place: st.Place}
	removed := closed(st.TakesOff.Interval)
	if !st.TakesOff.Written {
		removed = trade.CompoundRemoval(z.Role == "edge")
	}
	e.Removed = measure(removed, quantity.Film, orElse(st.TakesOff.Unit, "mil"))
	if !f.Existing && !f.Substrate {
		_, any, bakeStep := b.baked(z, f, at.start)
		iv, open := b.clock.sinceLaid(f.at, at.start)
		n := f.view.number("polish_after")
		if any {
			n = b.lim.number("polish_after_bake")
			iv, open = b.clock.any(b.clock.steps[bakeStep].done, at.start)
		}
		e.PolishAfter = compare("least", iv, open, b.clock.sinceLaidUnit(f.at, at.start), n)
		if !any {
			e.PolishSlowed = b.slowed(f.view, b.clock.steps[f.at].done, at.start, open, n)
		}
		if e.PolishAfter != nil && brokenLeast(e.PolishAfter) && !any {
			b.rely(f, z, st.N)
		}
	}
	for i := len(b.bakes) - 1; i >= 0; i-- {
		if k := b.bakes[i]; k.zones[z.Name] {
			iv, open := b.clock.any(k.end, at.start)
			e.SinceBake = compare("least", iv, open, b.clock.unit(k.end, at.start), b.lim.number("polish_after_bake"))
			break
		}
	}
	if f.known && !f.Substrate {
		f.left = f.left.SubClamped(removed)
		f.leftMid = math.Max(0, f.leftMid-removed.Mid())
		f.layer.left[z.Name] = f.left
	}
	s.polished, s.polishStep = true, st.N
	for _, i := range f.abrasions {
		b.doc.Abrasions[i].Uncovered = false
	}
	b.doc.Polishes = append(b.doc.Polishes, e)
}

func (b *builder) bake(zs []*place, st *sheet.Step) {
	at := b.clock.steps[st.N]
	k := &bakeRun{step: st.N, start: at.start, end: at.done, st: st, zones: map[string]bool{}}
	e := Bake{ID: fmt.Sprint(st.N), Step: st.N, Zones: zoneNames(zs), Metal: measure(closed(st.Metal.Interval), quantity.Temperature, st.Metal.Unit),
		For: measure(closed(st.For.Interval), quantity.Time, st.For.Unit), By: st.By.Value, Films: []BakedFilm{}, Place: st.Place}
	plastic, filler := false, false
	for _, z := range zs {
		k.zones[z.Name] = true
		t := z.substrateFilm().Traits
		plastic = plastic || t.Plastic
		for _, f := range z.films[1:] {
			filler = filler || f.Traits.Class == "filler"
			if f.Existing {
				continue
			}
			n := f.view.bake()
			since, open := b.clock.sinceLaid(f.at, at.start)
			bf := BakedFilm{Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Traits: f.Traits, Since: timeOrOpen(since, open)}
			last := true
			laid := b.clock.steps[f.at].done
			for _, old := range b.bakes {
				if old.zones[z.Name] && old.start >= laid {
					last = false
				}
			}
			bf.LaidSinceLastBake = last
			if last {
				bf.FlashFirst = compare("least", since, open, b.clock.sinceLaidUnit(f.at, at.start), n.flashFirst)
			}
			bf.TooHot = compare("most", closed(st.Metal.Interval), false, st.Metal.Unit, n.maxMetal)
			bf.HotEnough = compare("least", closed(st.Metal.Interval), false, st.Metal.Unit, n.metal)
			bf.LongEnough = compare("least", closed(st.For.Interval), false, st.For.Unit, n.time)
			bf.ToCard = b.meets(f, k)
			e.Films = append(e.Films, bf)
		}
	}
	if plastic {
		e.PlasticHot = compare("most", closed(st.Metal.Interval), false, st.Metal.Unit, b.lim.number("bake_plastic"))
	}
	if filler {
		e.FillerHot = compare("most", closed(st.Metal.Interval), false, st.Metal.Unit, b.lim.number("bake_filler"))
	}
	b.bakes = append(b.bakes, k)
	b.doc.Bakes = append(b.doc.Bakes, e)
}

// beginning tells the first abrasion or film of bare plastic, fiberglass or gelcoat.
func (b *builder) beginning(z *place, step int, act, id string, at sheet.Place) {
	if z.began {
		return
	}
	f := z.topFilm()
	soft := f.Substrate && (f.Traits.Plastic || f.Traits.Composite) || f.Kind == "gelcoat" && f.Existing
	if !soft {
		return
	}
	z.began = true
	b.doc.Beginnings = append(b.doc.Beginnings, Beginning{ID: id, Zone: z.Name, Step: step, Act: act, Layer: f.ID, Kind: f.Kind, Name: f.Name, Soap: z.soap, Cleaner: z.softCleaner, Place: at})
}

func sortedSet(m map[string]bool) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
