package draft

import (
	"fmt"
	"math"
	"slices"

	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// zone is one part of the panel while a sheet is being drafted.
type zone struct {
	name  string
	dent  bool
	begun string // how it was begun; "" while nothing has been done to it
	films []film // laid by this sheet, from the metal up
}

// film is one film that lies in a zone.
type film struct {
	coat    *coat
	at      float64 // end of its last coat since the sheet began, min
	baked   bool
	blocked bool // abraded at some time
}

// node is a sheet as far as it has been written.
type node struct {
	steps   []step
	zones   []zone
	now     float64 // end of the last step, min
	last    int     // the last laying step; -1 while there is none
	cleaner string
	layers  []string
	filled  bool
	color   *product
	cleared bool
	done    bool // nothing more is added: the last wait and the last stop are written

	from *node // the sheet without the last layer
	on   []int // the zones the last layer lies on

	cost  cost
	index int // when it was made: what is equal is looked at in that order

	judged  bool
	pending []string // verdicts that a later step may take away
	reasons []Reason // verdicts at fails or risk that nothing takes away
	advice  []Reason
}

// roots are the empty sheets: one for each cleaner wipes are tried with.
func (s *searcher) roots() []*node {
	var all []*node
	for _, cleaner := range s.cleaners() {
		n := &node{last: -1, cleaner: cleaner, zones: []zone{{name: sheet.RestZone}}}
		if s.wish.Repair != "" {
			n.zones = []zone{{name: dentName, dent: true}}
			if s.base.HasRest() {
				n.zones = append(n.zones, zone{name: sheet.RestZone})
			}
		}
		all = append(all, n)
	}
	return all
}

// dentName is the zone that is filled.
const dentName = "dent"

// moves are the sheets that one more layer, with what makes its ground ready,
// makes of a sheet; or the sheet ended, where it may be.
func (s *searcher) moves(n *node) []*node {
	var all []*node
	if s.mayEnd(n) {
		all = append(all, s.ended(n)...)
	}
	everywhere := make([]int, len(n.zones))
	for i := range n.zones {
		everywhere[i] = i
	}
	for _, p := range s.products {
		for _, on := range s.places(n, p, everywhere) {
			for i := range s.coats[p.ref] {
				all = append(all, s.layings(n, on, &s.coats[p.ref][i])...)
			}
		}
	}
	return all
}

// places are the sets of zones that a product may go on next, by the order of a
// job: filler in the dent alone; undercoats there too, and everywhere once the
// dent is filled or where the panel is begun from the metal; color and clear
// everywhere, in that order, and nothing between or after.
func (s *searcher) places(n *node, p *product, everywhere []int) [][]int {
	switch {
	case n.cleared || n.color != nil && p.class() != "clear":
		return nil
	case p.class() == "clear":
		if n.color == nil || n.color.weatherproof() {
			return nil
		}
		return [][]int{everywhere}
	case p.class() == "sealer" && s.wish.Repair != "" && !s.covered(n):
		return nil
	case p.class() == "color":
		if s.wish.Repair != "" && !s.covered(n) || len(s.owed(n)) > 0 || slices.ContainsFunc(n.zones, s.thirsty) {
			return nil
		}
		return [][]int{everywhere}
	case p.class() == "filler":
		if films := n.zones[0].films; n.filled || len(films) > 0 && !bears(films[len(films)-1].coat.p) {
			return nil
		}
		return [][]int{{0}}
	}
	var sets [][]int
	if n.takes(0, p) && len(n.zones) > 1 {
		sets = append(sets, []int{0})
	}
	for i := range n.zones {
		if !n.takes(i, p) {
			return sets
		}
	}
	if len(n.zones) == 1 || n.filled || len(s.base.Panel.Carries) == 0 {
		sets = append(sets, everywhere)
	}
	return sets
}

// thirsty: no color goes straight on raw composite, which drinks it, nor on a
// primer that came with the part, which was never meant for the last one.
func (s *searcher) thirsty(z zone) bool {
	if len(z.films) > 0 {
		return false
	}
	carried := s.base.Panel.Carries
	if z.begun == "stripped" || len(carried) == 0 {
		return trade.KindOf(s.base.Panel.Substrate.Value).Has("composite")
	}
	top := carried[len(carried)-1].Kind
	return top == "e-coat" || top == "factory primer"
}

// owed are the kinds that have to be laid under the color, and are not yet.
func (s *searcher) owed(n *node) []string {
	var kinds []string
	for _, kind := range s.lays {
		laid := slices.ContainsFunc(n.zones, func(z zone) bool {
			return slices.ContainsFunc(z.films, func(f film) bool { return f.coat.p.kind.Name == kind })
		})
		if !laid {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// covered says whether the dent is filled, and the filler covered with what can
// be blocked flat.
func (s *searcher) covered(n *node) bool {
	films := n.zones[0].films
	for i := len(films) - 1; i >= 0 && films[i].coat.p.class() != "filler"; i-- {
		if s.levels(films[i].coat.p) {
			return n.filled
		}
	}
	return false
}

// bears: filler goes on metal, or on a primer or surfacer.
func bears(p *product) bool { return p.class() == "primer" || p.class() == "surfacer" }

// levels: filler is leveled out by a surfacer; by a primer where the shelf has
// no surfacer.
func (s *searcher) levels(p *product) bool {
	for _, other := range s.products {
		if other.class() == "surfacer" && len(s.coats[other.ref]) > 0 {
			return p.class() == "surfacer"
		}
	}
	return p.class() == "primer"
}

// takes says whether an undercoat may be tried on a zone as it stands. Films go
// on in the order of a build-up: promoter, primer, surfacer, sealer, each
// product once. What is spread or sprayed to fill begins another; what covers it
// can itself be leveled.
func (n *node) takes(zone int, p *product) bool {
	films := n.zones[zone].films
	if p.class() == "promoter" && len(films) > 0 {
		return false // it goes on the plastic itself
	}
	if p.porous() && slices.ContainsFunc(films, func(f film) bool { return f.coat.p == p }) {
		return false
	}
	for i := len(films) - 1; i >= 0; i-- {
		switch lower := films[i].coat.p; {
		case lower.class() == "filler", lower.kind.Name == "polyester surfacer":
			return i < len(films)-1 || p.class() != "sealer"
		case lower == p, order[lower.class()] > order[p.class()],
			lower.class() == "sealer", // the color goes on it
			lower.kind.Has("acid") && p.kind.Has("acid"):
			return false
		}
	}
	return len(films) < mostFilms
}

// order is that of a build-up.
var order = map[string]int{"promoter": 0, "primer": 1, "surfacer": 2, "sealer": 3}

// mostFilms is how many films a draft lays in one place.
const mostFilms = 6

// layings are the ways of laying a coat on some zones, one for each way of
// making each of them ready.
func (s *searcher) layings(n *node, on []int, c *coat) []*node {
	combined := [][]ready{nil}
	for _, i := range on {
		var ways []ready
		z := n.zones[i]
		switch {
		case z.begun == "":
			ways = s.begin(z, c.p)
		case len(z.films) > 0:
			ways = s.over(n, z, c.p)
		}
		var next [][]ready
		for _, sofar := range combined {
			for _, w := range ways {
				if bothBaked(sofar, w) {
					continue
				}
				next = append(next, append(sofar[:len(sofar):len(sofar)], w))
			}
		}
		combined = next
	}
	var all []*node
	for _, ways := range combined {
		all = append(all, s.laid(n, on, ways, c))
	}
	return all
}

// bothBaked: one bake heats the whole panel; two ways that differ in it do not go together.
func bothBaked(sofar []ready, w ready) bool {
	for _, r := range sofar {
		if (r.bake == nil) != (w.bake == nil) {
			return true
		}
	}
	return false
}

// laid is the sheet with a coat laid on zones made ready.
func (s *searcher) laid(n *node, on []int, ways []ready, c *coat) *node {
	m := n.clone()
	if len(m.steps) == 0 {
		for _, st := range s.arrival() {
			s.put(m, st, nil)
		}
	}
	s.waits(m, on, ways)
	s.abrades(m, on, ways)
	s.wipes(m, on, ways, c.p)

	st := c.step
	st.call = m.call(callOf[c.p.class()])
	s.put(m, st, m.named(on))
	m.last = len(m.steps) - 1
	m.now += c.minutes
	m.from, m.on = n, on
	layer := c.p.ref
	if len(on) < len(n.zones) {
		layer = fmt.Sprintf("%s (%s)", c.p.ref, n.zones[on[0]].name)
	}
	m.layers = append(m.layers, layer)
	for _, i := range on {
		m.zones[i].films = append(m.zones[i].films, film{coat: c, at: m.now})
	}
	switch c.p.class() {
	case "filler":
		m.filled = true
	case "color":
		m.color = c.p
	case "clear":
		m.cleared = true
	}
	m.cost.film += thousandths(c.film)
	m.cost.litres += thousandths(s.litres(c, on))
	m.cost.minutes = thousandths(m.now)
	return m
}

// named are the names of some zones; nil for all of them.
func (n *node) named(zones []int) []string {
	if len(zones) == len(n.zones) {
		return nil
	}
	var names []string
	for _, i := range zones {
		names = append(names, n.zones[i].name)
	}
	return names
}

// abrades writes what makes each zone ready; what is done alike to all of them
// is written once.
func (s *searcher) abrades(m *node, on []int, ways []ready) {
	alike := true
	for _, w := range ways {
		alike = alike && sameSteps(w.steps, ways[0].steps)
	}
	for k, w := range ways {
		names := m.named(on[k : k+1])
		if alike {
			names = m.named(on)
		}
		for _, st := range w.steps {
			s.put(m, st, names)
		}
		if alike {
			break
		}
	}
	for k, i := range on {
		z := &m.zones[i]
		if z.begun == "" {
			z.begun = ways[k].begun
		}
		if ways[k].sands {
			z.films[len(z.films)-1].blocked = true
		}
	}
}

// wipes takes the dust off what was abraded, and a last tack under what shows it.
func (s *searcher) wipes(m *node, on []int, ways []ready, up *product) {
	var dusty, porous []int
	for k, i := range on {
		if !ways[k].dusty {
			continue
		}
		dusty = append(dusty, i)
		if films := m.zones[i].films; len(films) > 0 && films[len(films)-1].coat.p.porous() {
			porous = append(porous, i)
		}
	}
	if len(dusty) == 0 {
		return
	}
	wipe := s.wipe()
	if len(porous) > 0 {
		s.put(m, step{do: "blow_off"}, m.named(porous))
		wipe.wait = math.Max(wipe.wait, s.limit("porous_dry_out"))
		wipe.why = []string{"What is porous drinks the cleaner; it has to come out again."}
	}
	s.put(m, wipe, m.named(dusty))
	if slices.Contains([]string{"sealer", "color", "clear"}, up.class()) {
		s.put(m, step{do: "tack"}, m.named(on))
	}
}

// callOf is what the steps that lay a class of films are called.
var callOf = map[string]string{
	"primer": "primer", "surfacer": "build", "promoter": "promoter", "filler": "filler", "sealer": "sealer", "color": "color", "clear": "clear",
}

// call is a call that no step has yet.
func (n *node) call(word string) string {
	if word == "" {
		word = "coat"
	}
	same := 0
	for _, st := range n.steps {
		if st.call == word || len(st.call) > len(word) && st.call[:len(word)+1] == word+" " {
			same++
		}
	}
	if same == 0 {
		return word
	}
	return fmt.Sprintf("%s %d", word, same+1)
}

func sameSteps(a, b []step) bool {
	return slices.EqualFunc(a, b, func(x, y step) bool {
		return x.do == y.do && x.wait == y.wait && slices.Equal(x.keys, y.keys)
	})
}

// waits writes the wait after the last laying step, and a bake if there is one,
// so that every zone's top film is old enough.
func (s *searcher) waits(m *node, on []int, ways []ready) {
	if m.last < 0 {
		return
	}
	wait, till := 0.0, ""
	var b *baking
	for k, i := range on {
		films := m.zones[i].films
		if len(films) == 0 {
			continue
		}
		if left := ways[k].age - (m.now - films[len(films)-1].at); left > wait {
			wait, till = left, ways[k].till
		}
		if ways[k].bake != nil {
			b = ways[k].bake
		}
	}
	if b == nil {
		s.stands(m, whole(wait), till)
		return
	}
	s.stands(m, b.flash, "it may be heated")
	s.baked(m, b, s.limit("bake_rest"))
}

// stands writes how long the last film is left, and why.
func (s *searcher) stands(m *node, wait float64, till string) {
	if wait <= 0 {
		return
	}
	st := &m.steps[m.last]
	st.wait = wait
	st.why = append(st.why[:len(st.why):len(st.why)], fmt.Sprintf("Then left for %s, till %s%s.", span(wait), till, s.slower(m)))
	m.now += wait
}

// slower says where the cold makes a wait longer than its card has it.
func (s *searcher) slower(m *node) string {
	for _, z := range m.zones {
		if last := len(z.films) - 1; last >= 0 && s.temper.slowed(z.films[last].coat.p, 1) > 1 {
			return "; in this cold that is longer than its card has it"
		}
	}
	return ""
}

// baked puts a bake down; everything on the panel is then baked.
func (s *searcher) baked(m *node, b *baking, rest float64) {
	st := step{do: "bake", wait: rest}.text("metal", b.metal).text("for", span(b.minutes))
	s.put(m, st, nil)
	m.now += b.minutes
	for i := range m.zones {
		for k := range m.zones[i].films {
			m.zones[i].films[k].baked = true
		}
	}
}

// put adds one step. A wipe gets the cleaner of the node, or is left out where
// there is none.
func (s *searcher) put(m *node, st step, on []string) {
	if st.do == "clean" && len(st.keys) == 0 {
		if m.cleaner == "" {
			return
		}
		st = st.text("with", m.cleaner)
	}
	st.on = on
	m.steps = append(m.steps, st)
	m.now += st.wait
	m.cost.steps++
	switch st.do {
	case "metalwork":
		m.now += 60
	case "spray", "spread", "sand", "block", "scuff", "strip":
		m.cost.passes++
	}
	m.cost.minutes = thousandths(m.now)
}

// mayEnd says whether the panel looks as it was wished for.
func (s *searcher) mayEnd(n *node) bool {
	if s.wish.Repair != "" && !s.covered(n) || len(s.owed(n)) > 0 {
		return false
	}
	if s.wish.Ending != Primed {
		return n.cleared || n.color != nil && n.color.weatherproof()
	}
	for _, z := range n.zones {
		if len(z.films) == 0 || !endsPrimed(z.films[len(z.films)-1].coat.p) {
			return false
		}
	}
	return true
}

// endsPrimed: a primed panel leaves the shop under a primer or surfacer that
// holds water out.
func endsPrimed(p *product) bool {
	return (p.class() == "primer" || p.class() == "surfacer") && p.holdsOutWater()
}

// ended are the ways to end a sheet: left alone until the last film can be
// touched, or baked.
func (s *searcher) ended(n *node) []*node {
	rest := 0.0
	for _, z := range n.zones {
		top := z.films[len(z.films)-1]
		rest = math.Max(rest, whole(s.temper.slowed(top.coat.p, top.coat.p.rests()))-(n.now-top.at))
	}
	stop := step{do: "inspect"}.raw("measure", list([]string{"film", "color"}))
	if s.wish.Ending == Primed {
		stop = step{do: "inspect"}.raw("measure", list([]string{"film"}))
	}
	m := n.clone()
	m.done = true
	s.stands(m, rest, "it can be touched, taped and coated again")
	s.put(m, stop, nil)
	all := []*node{m}
	top := n.zones[0].films[len(n.zones[0].films)-1].coat.p
	if b := s.bakingOf(top); b != nil {
		m := n.clone()
		m.done = true
		s.stands(m, b.flash, "it may be heated")
		s.baked(m, b, s.limit("polish_after_bake"))
		s.put(m, stop, nil)
		all = append(all, m)
	}
	return all
}

// bakingOf is a product's bake, where the booth can bake and its card has one.
func (s *searcher) bakingOf(p *product) *baking {
	if !s.wish.Bake || !p.card.Bake.Written || !p.card.Bake.Metal.Written || !p.card.Bake.For.Written {
		return nil
	}
	flash := s.limit("flash_first_typical")
	if p.card.Bake.FlashFirst.Written {
		flash = p.card.Bake.FlashFirst.Lo
	}
	return &baking{flash: whole(s.temper.slowed(p, flash)), minutes: p.card.Bake.For.Lo, metal: p.card.Bake.Metal.Text}
}

// clone is a copy whose steps and zones may be changed.
func (n *node) clone() *node {
	m := *n
	m.steps = slices.Clone(n.steps)
	m.layers = slices.Clone(n.layers)
	m.zones = slices.Clone(n.zones)
	for i := range m.zones {
		m.zones[i].films = slices.Clone(n.zones[i].films)
	}
	m.index, m.judged, m.pending, m.reasons, m.advice = 0, false, nil, nil, nil
	return &m
}
