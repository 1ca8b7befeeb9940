package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// stage is one film that the ending still wants: any of some products.
type stage []*product

// stagesOf are the ways to the ending, each a row of stages that still have to
// be laid everywhere, in order. A row with an empty stage leads nowhere.
func (s *searcher) stagesOf(colored *product, filled, covered bool, owed []string) [][]stage {
	pick := func(ok func(*product) bool) stage {
		var out stage
		for _, p := range s.products {
			if len(s.coats[p.ref]) > 0 && ok(p) {
				out = append(out, p)
			}
		}
		return out
	}
	var first []stage
	if s.wish.Repair != "" && !filled {
		first = append(first, pick(func(p *product) bool { return p.class() == "filler" }))
	}
	if s.wish.Repair != "" && !covered && s.wish.Ending != Primed {
		first = append(first, pick(s.levels))
	}
	for _, kind := range owed {
		st := pick(func(p *product) bool { return p.kind.Name == kind })
		// One film may be two things at once: what covers filler, what ends it primed.
		twice := slices.ContainsFunc(st, func(p *product) bool {
			return s.wish.Ending == Primed && endsPrimed(p) || s.wish.Repair != "" && !covered && s.levels(p)
		})
		if !twice {
			first = append(first, st)
		}
	}
	clear := pick(func(p *product) bool { return p.class() == "clear" })
	if colored != nil {
		return [][]stage{{clear}}
	}
	row := func(more ...stage) []stage { return append(first[:len(first):len(first)], more...) }
	if s.wish.Ending == Primed {
		return [][]stage{row(pick(endsPrimed))}
	}
	base := pick(func(p *product) bool { return p.class() == "color" && !p.weatherproof() })
	alone := pick(func(p *product) bool { return p.class() == "color" && p.weatherproof() })
	if s.wish.Ending == Metallic {
		return [][]stage{row(base, clear)}
	}
	return [][]stage{row(base, clear), row(alone)}
}

// toCome is the least that a sheet still has to cost, in each of its parts. It
// is not ok where the shelf has nothing for a stage of the ending.
func (s *searcher) toCome(n *node) (cost, bool) {
	if n.done {
		return cost{}, true
	}
	var rows [][]stage
	if s.mayEnd(n) {
		top := stage{}
		for _, z := range n.zones {
			top = append(top, z.films[len(z.films)-1].coat.p)
		}
		// The films are there; they have to be left alone, less what they have stood.
		longest := 0.0
		for i, z := range n.zones {
			f := z.films[len(z.films)-1]
			longest = math.Max(longest, s.leastRest(top[i])-(n.now-f.at))
		}
		rest := cost{minutes: thousandths(math.Max(0, longest))}
		if s.wish.Ending == Primed {
			// Another primer on it may be ready sooner.
			if more, ok := s.rowAhead(s.stagesOf(nil, true, true, nil)[0]); ok {
				rest = rest.least(more)
			}
		}
		return rest, true
	}
	covered := s.covered(n)
	owed := s.owed(n)
	key := fmt.Sprint(n.color != nil, n.filled, covered, owed)
	if c, ok := s.ahead[key]; ok {
		return c.plus(s.windowAhead(n)), c.grave == 0
	}
	rows = s.stagesOf(n.color, n.filled, covered, owed)
	total, ok := cost{}, false
	for _, row := range rows {
		c, possible := s.rowAhead(row)
		switch {
		case !possible:
		case !ok:
			total, ok = c, true
		default:
			total = total.least(c)
		}
	}
	if !ok {
		total.grave = 1
	}
	s.ahead[key] = total
	return total.plus(s.windowAhead(n)), ok
}

// windowAhead is what a base coat that was just laid still has to stand before its clear.
func (s *searcher) windowAhead(n *node) cost {
	if n.color == nil {
		return cost{}
	}
	clears := s.stagesOf(n.color, true, true, nil)[0]
	wait := math.Inf(1)
	for _, p := range clears[0] {
		w, _ := n.color.least(p)
		wait = math.Min(wait, w)
	}
	if math.IsInf(wait, 1) {
		return cost{}
	}
	return cost{minutes: thousandths(wait)}
}

// rowAhead is the least that a row of stages costs.
func (s *searcher) rowAhead(row []stage) (cost, bool) {
	var total cost
	for i, st := range row {
		if len(st) == 0 {
			return cost{}, false
		}
		best, wait := cost{}, math.Inf(1)
		for k, p := range st {
			for j := range s.coats[p.ref] {
				c := &s.coats[p.ref][j]
				one := cost{minutes: thousandths(c.minutes), film: thousandths(c.film), litres: thousandths(s.leastLitres(c)), passes: 1, steps: 1}
				if k == 0 && j == 0 {
					best = one
				} else {
					best = best.least(one)
				}
			}
			if i+1 == len(row) {
				wait = math.Min(wait, s.leastRest(p))
				continue
			}
			for _, up := range row[i+1] {
				wait = math.Min(wait, s.leastWait(p, up, i > 0 && row[i-1][0].class() == "filler"))
			}
		}
		if s.wish.Bake && i+1 < len(row) {
			wait = 0 // a bake may stand for it
		}
		if !math.IsInf(wait, 1) {
			best.minutes += thousandths(wait)
		}
		total = total.plus(best)
	}
	return total, true
}

// leastWait is the shortest wait before a product goes on another, which may be
// there to level filler.
func (s *searcher) leastWait(p, up *product, levels bool) float64 {
	wait, _ := p.least(up)
	after, sandable := p.sandable()
	if sandable && (s.blocked(p) || levels && s.levels(p)) {
		wait = math.Max(wait, after)
		if s.wish.Work != "collision" {
			wait = math.Max(wait, p.settles())
		}
	}
	return wait
}

// leastRest is the shortest time a last film is left alone, baked or not.
func (s *searcher) leastRest(p *product) float64 {
	rest := p.rests()
	if b := s.bakingOf(p); b != nil {
		rest = math.Min(rest, b.flash+b.minutes+s.limit("polish_after_bake"))
	}
	return rest
}

// leastLitres is the least of a coat over the sets of zones it may be laid on.
func (s *searcher) leastLitres(c *coat) float64 {
	if s.wish.Repair != "" && c.p.class() == "filler" {
		return s.litres(c, []int{0})
	}
	return s.litres(c, nil)
}

// litres is what a coat takes on some zones (nil: all), as the stack of a sheet
// with this one step has it; 0 where an area is not written.
func (s *searcher) litres(c *coat, on []int) float64 {
	var names []string
	if s.wish.Repair != "" && len(on) == 1 && s.base.HasRest() {
		names = []string{dentName}
	}
	key := volumeKey{c, strings.Join(names, ",")}
	if v, ok := s.volumes[key]; ok {
		return v
	}
	st := c.step
	st.on = names
	v := 0.0
	if _, doc, err := s.build(s.head + s.body([]step{st})); err == nil && doc.Sheet.Litres != nil {
		v = doc.Sheet.Litres.Lo
		if hi := doc.Sheet.Litres.Hi; hi != nil {
			v = (v + *hi) / 2
		}
	}
	s.volumes[key] = v
	return v
}
