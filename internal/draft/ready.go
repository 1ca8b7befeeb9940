package draft

import (
	"fmt"
	"math"
	"slices"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// ready is one way of making a zone ready for a product: what is waited for,
// what is done to it. Cards and kinds say which ways are worth trying; whether
// one will do is the rulebook's word.
type ready struct {
	age   float64 // the top film is at least so old, min, before anything is done to it
	till  string  // why it is
	steps []step  // without zones
	begun string  // of a zone not yet begun: "kept", "stripped", "bare" ...
	dusty bool    // it has been abraded: it wants a wipe
	bake  *baking // the panel is baked first
	sands bool    // a film of this sheet was abraded
}

// baking is a card's bake.
type baking struct {
	flash, minutes float64
	metal          string
}

// grades are the grades that shops keep, coarsest first.
var grades = func() []quantity.Abrasive {
	var all []quantity.Abrasive
	for _, name := range []string{"P80", "P120", "P180", "P220", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500"} {
		all = append(all, graded(name))
	}
	return all
}()

// within are grades between the coarsest and the finest wanted (µm): the one
// nearest to the middle of the scale, then the finest, for thin films.
func within(coarse, fine float64) []quantity.Abrasive {
	var in []quantity.Abrasive
	for _, g := range grades {
		if g.Microns.Hi <= coarse*(1+1e-9) && g.Microns.Lo >= fine*(1-1e-9) {
			in = append(in, g)
		}
	}
	if len(in) == 0 {
		// A range between two of the shop's grades, or beyond them: its own coarse end.
		if g := quantity.NearestCoarser(coarse); g.Microns.Lo >= fine*(1-1e-9) && g.Microns.Hi <= coarse*(1+1e-9) {
			return []quantity.Abrasive{g}
		}
		return nil
	}
	middle := math.Sqrt(in[0].Microns.Mid() * in[len(in)-1].Microns.Mid())
	best := in[0]
	for _, g := range in {
		if math.Abs(math.Log(g.Microns.Mid()/middle)) < math.Abs(math.Log(best.Microns.Mid()/middle))-1e-9 {
			best = g
		}
	}
	if finest := in[len(in)-1]; finest != best {
		return []quantity.Abrasive{best, finest}
	}
	return []quantity.Abrasive{best}
}

// onMetal are grades for a bare metal under a product: what the limits allow
// the metal and the card the product.
func (s *searcher) onMetal(metal *trade.Kind, up *product) []quantity.Abrasive {
	coarse, fine := "metal_steel_coarse", "metal_steel_fine"
	switch {
	case metal.Name == "aluminum":
		coarse, fine = "metal_aluminum_coarse", "metal_aluminum_fine"
	case metal.Name == "stainless steel":
		coarse, fine = "metal_aluminum_coarse", "metal_stainless_fine"
	case metal.Has("zinc"):
		coarse, fine = "metal_galvanized_coarse", "metal_galvanized_fine"
	case up.class() == "filler":
		coarse, fine = "metal_filler_coarse", "metal_filler_fine"
	case up.kind.Has("acid"):
		fine = "metal_steel_acid_fine"
	}
	c, f := s.limit(coarse), s.limit(fine)
	if up.card.GritBeneath.Written {
		c, f = math.Min(c, up.card.GritBeneath.Coarse.Microns.Hi), math.Max(f, up.card.GritBeneath.Fine.Microns.Lo)
	}
	if s.base.Panel.Rust.Value != "none" {
		f = math.Max(f, s.limit("rust_sanded"))
	}
	return within(c, f)
}

// onFilm are grades for a film under a product.
func (s *searcher) onFilm(up *product) []quantity.Abrasive {
	coarse, fine := s.limit("dry_abrasive"), s.limit("color_scratch_fails")
	if r, ok := up.grits(); ok {
		coarse, fine = r.Coarse.Microns.Hi, r.Fine.Microns.Lo
	}
	if up.class() != "surfacer" && up.class() != "filler" {
		// A thin film hides no coarse scratch, whatever its range allows on metal.
		if finer := within(math.Min(coarse, thinOver.Microns.Hi), fine); len(finer) > 0 {
			return finer
		}
	}
	return within(coarse, fine)
}

// What abrades how: the grade a filler's shaping begins with and the one it is
// finished with or finer, the one a surfacer's blocking begins with, and the
// coarsest on a film under one that is not there to fill (common practice).
var (
	shaping  = graded("P80")
	filled   = graded("P180")
	blocking = graded("P320")
	thinOver = graded("P240")
)

func graded(name string) quantity.Abrasive {
	a, err := quantity.ParseAbrasive(name)
	if err != nil {
		panic(err)
	}
	return a
}

// sand is a sanding with a grade, by machine.
func (s *searcher) sand(g quantity.Abrasive) step {
	return step{do: "sand", wear: s.dust()}.text("grit", g.Name).text("tool", "sander")
}

// cut is a sanding off of all that is carried.
func (s *searcher) cut(g quantity.Abrasive, why string) step {
	return step{do: "strip", wear: s.dust(), why: []string{why}}.text("tool", "sander").text("grit", g.Name)
}

// begun is a way to begin on a zone: every one leaves dust.
func begun(how string, steps ...step) ready { return ready{begun: how, steps: steps, dusty: true} }

// begin are the ways to begin on a zone as it came in.
func (s *searcher) begin(z zone, up *product) []ready {
	var ways []ready
	kept := s.keeps() && !z.dent
	if kept && up.class() != "promoter" {
		ways = s.keptFinish(up)
	}
	if kept && !s.strips {
		return ways
	}
	substrate := trade.KindOf(s.base.Panel.Substrate.Value)
	switch {
	case substrate.Has("metal"):
		return append(ways, s.bareMetal(z, substrate, up)...)
	case len(s.base.Panel.Carries) > 0:
		return append(ways, s.strippedPlastic(substrate, up)...)
	}
	return append(ways, s.barePlastic(substrate, up)...)
}

// keptFinish are the ways to dull a finish that stays.
func (s *searcher) keptFinish(up *product) []ready {
	var ways []ready
	carried := s.base.Panel.Carries
	for _, g := range s.onFilm(up) {
		st := s.sand(g)
		st.why = []string{fmt.Sprintf("Dull all over, edges and corners too: gloss gives no grip. %s is what goes well under %s.", g.Name, s.shown(up))}
		st.says = "No shine left anywhere on the " + carried[len(carried)-1].Kind + "."
		ways = append(ways, begun("kept", st))
	}
	return ways
}

// strippedPlastic are the ways to a plastic or composite under what it carries:
// sanded off, grade by grade, and nothing hammered.
func (s *searcher) strippedPlastic(substrate *trade.Kind, up *product) []ready {
	var ways []ready
	for _, last := range s.onFilm(up) {
		steps := []step{s.cut(filled, "Down to the "+substrate.Name+", with no heat and no gouges.")}
		for _, g := range ladder(filled, last, s.limit("grade_step")) {
			if g.Name != filled.Name {
				steps = append(steps, s.sand(g))
			}
		}
		ways = append(ways, begun("stripped", steps...))
	}
	return ways
}

// barePlastic are the ways to a grip on plastic and composite that came bare.
func (s *searcher) barePlastic(substrate *trade.Kind, up *product) []ready {
	var ways []ready
	if r, ok := up.grits(); substrate.Has("plastic") {
		for _, pad := range quantity.PadNames() {
			a := graded(pad)
			if !ok || a.Microns.Hi <= r.Coarse.Microns.Hi && a.Microns.Lo >= r.Fine.Microns.Lo {
				ways = append(ways, begun("bare", step{do: "scuff", wear: s.dust()}.text("pad", a.Name)))
			}
		}
	}
	for _, g := range s.onFilm(up) {
		ways = append(ways, begun("bare", s.sand(g)))
	}
	return ways
}

// keeps: what the panel carries can be worth keeping. A finish that peels or is
// cracked lets go under whatever goes on it, and comes off.
func (s *searcher) keeps() bool {
	for _, c := range s.base.Panel.Carries {
		if c.Condition == "peeling" || c.Condition == "cracked" {
			return false
		}
	}
	return len(s.base.Panel.Carries) > 0 && !s.wish.Strip
}

// bareMetal are the ways to a metal with a tooth: sanded, and where it has
// rusted acid washed or blasted too.
func (s *searcher) bareMetal(z zone, metal *trade.Kind, up *product) []ready {
	var ways []ready
	how := "bare"
	if len(s.base.Panel.Carries) > 0 {
		how = "stripped"
	}
	rusty := s.base.Panel.Rust.Value != "none"
	for _, g := range s.onMetal(metal, up) {
		steps := s.toothed(z, g)
		ways = append(ways, begun(how, steps...))
		if acid := s.helpers("acid wash"); rusty && len(acid) > 0 {
			ways = append(ways, begun(how+" and acid washed", append(steps, s.washed(acid[0], g)...)...))
		}
	}
	if s.wish.Blast && !z.dent {
		blast := step{do: "strip", wear: wearBlast}.text("tool", "blast").text("media", "grit").text("profile", "1 mil")
		blast.why = []string{"Fine grit at low pressure; sheet metal warps where the nozzle lingers."}
		ways = append(ways, begun("blasted", blast))
	}
	return ways
}

// toothed are the steps to a metal sanded with a grade, what it carries taken
// off, and hammered or welded first where that is called for.
func (s *searcher) toothed(z zone, g quantity.Abrasive) []step {
	tooth := s.sand(g)
	tooth.why = []string{"A tooth for the primer: the whole place evenly dull."}
	holes := s.base.Panel.Rust.Value == "holes"
	var steps []step
	if len(s.base.Panel.Carries) > 0 {
		coarse := g
		if g.Microns.Hi < filled.Microns.Lo {
			coarse = filled
		}
		steps = append(steps, s.cut(coarse, "Down to sound metal."))
		if coarse == g && !z.dent && !holes {
			return steps
		}
	}
	if z.dent || holes {
		hammer := step{do: "metalwork", wear: wearWipe}.text("for", "1 h")
		hammer.why = []string{"As long as it takes; an hour is written so that the clock has one."}
		if holes {
			hammer = hammer.raw("welding", "true")
			hammer.says = "Cut the rot out and weld sound metal in: nothing is bridged with filler."
			hammer.wear = wearWeld
		}
		steps = append(steps, hammer, s.wipe())
	}
	return append(steps, tooth)
}

// washed are the steps that follow sanding where acid takes rust out of pits.
func (s *searcher) washed(acid string, g quantity.Abrasive) []step {
	steps := []step{step{do: "treat", wear: wearAcid}.text("with", acid)}
	if neutral := s.helpers("neutralizer"); len(neutral) > 0 {
		steps = append(steps, step{do: "neutralize", wear: wearAcid}.text("with", neutral[0]))
	}
	again := s.sand(g)
	again.why = []string{"Dry, to take off the bloom that water leaves on bright steel."}
	return append(steps, step{do: "rinse", wear: wearAcid}.text("dried_within", s.limitText("rinse_dry")), again)
}

// over are the ways to go on over a film that this sheet laid.
func (s *searcher) over(n *node, z zone, up *product) []ready {
	top := z.films[len(z.films)-1]
	p := top.coat.p
	var ways []ready
	least, ok := p.least(up)
	if ok && !s.blocked(p) && !s.levelsFiller(z) {
		// Left as it is, in its window; or after what lies beneath has settled too.
		for _, age := range s.ages(n, z, p, least) {
			ways = append(ways, ready{age: age, till: "the next film may go on it"})
		}
	}
	after, sandable := p.sandable()
	if !sandable {
		return ways
	}
	till := "it can be sanded"
	wanted := []float64{math.Max(after, least)}
	if s.wish.Work == "collision" {
		wanted = append(wanted, p.settles())
	} else {
		till = "it can be sanded and has stopped shrinking"
		wanted[0] = math.Max(wanted[0], p.settles())
	}
	for _, age := range s.ages(n, z, p, wanted...) {
		for _, steps := range s.leveled(p, up) {
			ways = append(ways, ready{age: age, till: till, steps: steps, dusty: true, sands: true})
		}
	}
	if b := s.bakingOf(p); b != nil && !top.baked {
		for _, steps := range s.leveled(p, up) {
			ways = append(ways, ready{steps: steps, dusty: true, sands: true, bake: b})
		}
	}
	return ways
}

// blocked: what is laid to fill is abraded before anything goes on it; a
// surfacer too, unless its card lets it be coated as it lies.
func (s *searcher) blocked(p *product) bool {
	return p.porous() || p.class() == "surfacer" && !p.card.WetOnWet.Value
}

// levelsFiller: the top film is there to level filler out, and is blocked for that.
func (s *searcher) levelsFiller(z zone) bool {
	last := len(z.films) - 1
	if !s.levels(z.films[last].coat.p) {
		return false
	}
	for i := last - 1; i >= 0 && !s.levels(z.films[i].coat.p); i-- {
		if z.films[i].coat.p.class() == "filler" {
			return true
		}
	}
	return false
}

// ages are the ages of a zone's top film that are worth waiting for: the one
// that is wanted, and those at which it, or a film beneath, has settled.
func (s *searcher) ages(n *node, z zone, p *product, wanted ...float64) []float64 {
	top := z.films[len(z.films)-1]
	at := func(minutes float64) float64 { return whole(s.temper.slowed(p, minutes)) }
	base := at(wanted[0])
	all := []float64{base}
	for _, w := range wanted[1:] {
		all = append(all, math.Max(base, at(w)))
	}
	for _, f := range z.films[:len(z.films)-1] {
		if f.blocked && !f.baked {
			// So old must the top film be for that one to have settled.
			all = append(all, math.Max(base, whole(s.temper.slowed(f.coat.p, f.coat.p.settles())-(top.at-f.at))))
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// leveled are the ways to abrade a film for what goes on: fillers and
// surfacers are blocked, from the grade that cuts them down in falls of no more
// than the limit allows; others are sanded.
func (s *searcher) leveled(p, up *product) [][]step {
	var ways [][]step
	finals := s.onFilm(up)
	if p.class() == "filler" {
		fine := slices.DeleteFunc(slices.Clone(finals), func(g quantity.Abrasive) bool { return g.Microns.Hi > filled.Microns.Hi })
		if len(fine) > 0 {
			finals = fine
		}
	}
	for _, last := range finals {
		var first quantity.Abrasive
		switch {
		case p.class() == "filler" || p.kind.Name == "polyester surfacer":
			first = shaping
		case p.class() == "surfacer":
			first = blocking
		}
		if first.Name == "" {
			ways = append(ways, []step{s.sand(last)})
			continue
		}
		var steps []step
		for _, g := range ladder(first, last, s.limit("grade_step")) {
			st := step{do: "block", wear: s.dust()}.text("grit", g.Name)
			if p.class() == "surfacer" {
				st = st.raw("guide_coat", "true")
			}
			steps = append(steps, st)
		}
		ways = append(ways, steps)
	}
	return ways
}

// ladder are the grades from one to another, none so many times finer than the
// one before it; only the last where that is the coarser.
func ladder(first, last quantity.Abrasive, step float64) []quantity.Abrasive {
	if first.Microns.Mid() <= last.Microns.Mid() {
		return []quantity.Abrasive{last}
	}
	rungs := []quantity.Abrasive{first}
	for at := first; at.Microns.Mid()/last.Microns.Mid() > step; {
		next := at
		for _, g := range grades {
			if g.Microns.Mid() < at.Microns.Mid() && at.Microns.Mid()/g.Microns.Mid() <= step {
				next = g
			}
		}
		if next.Name == at.Name {
			break
		}
		rungs, at = append(rungs, next), next
	}
	if rungs[len(rungs)-1].Name != last.Name {
		rungs = append(rungs, last)
	}
	return rungs
}

// dust is what is worn where dry dust is made. Old paint may hold lead.
func (s *searcher) dust() []string {
	if s.maybeLead() {
		return wearOldDust
	}
	return wearDust
}
