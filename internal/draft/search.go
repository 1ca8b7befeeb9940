package draft

import (
	"container/heap"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// searcher is one search.
type searcher struct {
	wish   Wish
	shop   Shop
	base   *sheet.Sheet // the sheet's head, with the cards in reach
	limits map[string]stack.Limit
	temper temper
	head   string

	lays     []string   // kinds that have to be laid, by their own names
	products []*product // those that a draft may lay, sorted by reference
	coats    map[string][]coat
	volumes  map[volumeKey]float64
	ahead    map[string]cost

	strips bool             // a finish that could be kept may be stripped
	never  map[pairing]bool // what no way of making ready lets lie on what
	heard  map[string]heard // what the rulebook said, by the sheet's text
	judged int
	made   int
}

type volumeKey struct {
	c  *coat
	on string
}

// heard is what the rulebook says of one sheet.
type heard struct {
	grave, advice []rulebook.Finding
}

// later are the rules whose finding on a sheet that goes on may be gone when it
// has: what rests on the end of the sheet, on the last abrasion of a film, on
// all the films over a metal, or on all that stands in a system. Every other
// finding of the built-in rules rests on what has been done and stays done.
var later = map[string]bool{
	"acid-left-on-metal": true, "acid-primer-sanded": true, "barrier-sanded-thin": true, "blocked-before-settled": true,
	"clear-sanded-thin": true, "ends-unprotected": true, "epoxy-left-in-sun": true, "film-too-thin": true,
	"filler-left-open": true, "grade-skipped": true, "hold-primer-kept-too-long": true, "no-measuring-stop": true, "product-unused": true,
	"scuffed-not-covered": true, "tooth-too-deep": true, "voc-over-limit": true,
	"water-on-bare-steel": true, "wet-sanding-bare-steel": true, "wait-not-written": true,
}

// ofTheEnd are those of them that speak of how a sheet ends: alike of all sheets
// with the same films.
var ofTheEnd = map[string]bool{"ends-unprotected": true, "no-measuring-stop": true, "product-unused": true}

// judge asks the rulebook about a node, once a text.
func (s *searcher) judge(ctx context.Context, n *node) error {
	text := s.text(n)
	h, ok := s.heard[text]
	if !ok {
		var err error
		if h, err = s.ask(ctx, text); err != nil {
			return err
		}
		s.heard[text] = h
		s.judged++
		if s.shop.Progress != nil {
			s.shop.Progress(s.judged, s.shop.Budget)
		}
	}
	n.judged = true
	n.pending, n.reasons, n.advice = nil, nil, nil
	n.cost.grave, n.cost.advice = 0, 0
	for _, f := range h.grave {
		if !n.done && s.mayGo(f.Rule) {
			if !ofTheEnd[f.Rule] {
				n.pending = append(n.pending, f.ID)
			}
			continue
		}
		n.reasons = append(n.reasons, s.reason(f))
		n.cost.grave++
	}
	for _, f := range h.advice {
		if n.done || !s.mayGo(f.Rule) {
			n.advice = append(n.advice, s.reason(f))
			n.cost.advice++
		}
	}
	slices.Sort(n.pending)
	return nil
}

// mayGo: what is not known to stay may go; of a shop's own rule nothing is known.
func (s *searcher) mayGo(rule string) bool { return later[rule] || s.shop.Book.Family(rule) == "" }

// ask reads, builds and judges one text.
func (s *searcher) ask(ctx context.Context, text string) (heard, error) {
	sh, doc, err := s.build(text)
	if err != nil {
		return heard{}, err
	}
	r, err := s.shop.Book.Judge(ctx, doc, sh, rulebook.Options{Today: s.shop.Today, House: s.shop.House})
	if err != nil {
		return heard{}, fmt.Errorf("judging a drafted sheet: %w", err)
	}
	if len(r.Broke) > 0 {
		return heard{}, fmt.Errorf("the rule %s broke on a drafted sheet: %s", r.Broke[0].Rule, r.Broke[0].Message)
	}
	var h heard
	for _, f := range r.Findings {
		if rulebook.AtLeast(f.Grade, "risk") {
			h.grave = append(h.grave, f)
		} else {
			h.advice = append(h.advice, f)
		}
	}
	return h, nil
}

func (s *searcher) build(text string) (*sheet.Sheet, *stack.Document, error) {
	sh, problems := s.shop.Reader.ReadText(s.shop.File, []byte(text))
	if len(problems) > 0 {
		return nil, nil, &FileError{problems}
	}
	doc, problems := stack.Build(sh)
	if len(problems) > 0 {
		return nil, nil, &FileError{problems}
	}
	return sh, doc, nil
}

// queue is the sheets still to be looked at, the most promising first.
type queue struct {
	s    *searcher
	list []queued
}

type queued struct {
	n   *node
	key [7]int64
}

func (q *queue) Len() int { return len(q.list) }
func (q *queue) Less(i, j int) bool {
	if c := before(q.list[i].key, q.list[j].key); c != 0 {
		return c < 0
	}
	return q.list[i].n.index < q.list[j].n.index
}
func (q *queue) Swap(i, j int) { q.list[i], q.list[j] = q.list[j], q.list[i] }
func (q *queue) Push(x any)    { q.list = append(q.list, x.(queued)) }
func (q *queue) Pop() any {
	last := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return last
}

// add puts a node where its cost, and the least that is still to come, place it.
func (q *queue) add(n *node) {
	if n.index == 0 {
		q.s.made++
		n.index = q.s.made
	}
	rest, ok := q.s.toCome(n)
	if !ok {
		return
	}
	heap.Push(q, queued{n, n.cost.plus(rest).in(q.s.wish.Least)})
}

// run is the search: always the sheet that could still become the cheapest is
// looked at next, so that the first that is whole is the best. What breaks a
// rule for good costs more than anything else, so that a sheet that breaks one
// is only gone on with when none is left that breaks none; where nothing passes
// the first whole sheet is then the one that breaks the least.
func (s *searcher) run(ctx context.Context, bound int) (whole []*node, reached bool, err error) {
	q := &queue{s: s}
	for _, n := range s.roots() {
		n.judged = true
		q.add(n)
	}
	seen := map[string][]*node{}
	found := map[string]bool{}
	for q.Len() > 0 {
		if err := ctx.Err(); err != nil {
			return whole, false, err
		}
		n := heap.Pop(q).(queued).n
		if len(whole) > 0 && n.cost.grave > 0 {
			break // what is left breaks a rule
		}
		if n.done && found[n.way()] {
			continue
		}
		if !n.judged {
			if dominated(n, seen[n.build()]) {
				continue
			}
			if n.cost.grave == n.knownGrave() && s.refused(n) {
				n.cost.grave++
				q.add(n)
				continue
			}
			if s.judged >= bound {
				return whole, true, nil
			}
			before := n.cost
			if err := s.judge(ctx, n); err != nil {
				return whole, false, err
			}
			if n.cost != before {
				if n.cost.grave > before.grave {
					if err := s.learn(ctx, n); err != nil {
						return whole, false, err
					}
				}
				q.add(n)
				continue
			}
		}
		if n.done {
			found[n.way()] = true
			whole = append(whole, n)
			if len(whole) == 1 {
				// Runners-up are worth as much work again as the best, and no more.
				bound = min(bound, s.judged+max(leastForRunners, s.judged))
			}
			if n.cost.grave > 0 || len(whole) > mostRunners {
				break
			}
			continue
		}
		if dominated(n, seen[n.build()]) {
			continue
		}
		seen[n.build()] = append(seen[n.build()], n)
		for _, m := range s.moves(n) {
			m.cost.grave, m.cost.advice = n.cost.grave, n.cost.advice
			q.add(m)
		}
	}
	return whole, false, nil
}

// leastForRunners is how many sheets are judged for the runners-up at least,
// should there be so many to judge.
const leastForRunners = 100

// build names the films of a sheet and how its zones were begun: sheets of one
// build differ in how each ground was made ready.
func (n *node) build() string {
	var b strings.Builder
	for _, z := range n.zones {
		b.WriteString(z.name + ":" + z.begun)
		for _, f := range z.films {
			b.WriteString("|" + f.coat.p.ref + "," + f.coat.aim)
			if f.baked {
				b.WriteString(",baked")
			}
		}
		b.WriteByte('\n')
	}
	if n.done {
		b.WriteString("done")
	}
	return b.String()
}

// way names what is laid and how the zones were begun: sheets of one way are one
// proposal to a foreman, whatever the film or the grit.
func (n *node) way() string {
	return n.began() + "|" + strings.Join(n.layers, "|")
}

// began says how the zones were begun: "bare", "dent stripped, panel kept".
func (n *node) began() string {
	if len(n.zones) == 1 {
		return n.zones[0].begun
	}
	var all []string
	for _, z := range n.zones {
		all = append(all, z.name+" "+z.begun)
	}
	return strings.Join(all, ", ")
}

// dominated: a sheet of the same build has been gone on with already that costs
// no more, has no film younger in its settling, and leaves no more open.
func dominated(n *node, others []*node) bool {
	for _, o := range others {
		if o.covers(n) {
			return true
		}
	}
	return false
}

func (n *node) covers(m *node) bool {
	for _, p := range n.pending {
		if !m.judged || !slices.Contains(m.pending, p) {
			return false
		}
	}
	if n.cost.grave > m.cost.grave || n.cost.minutes > m.cost.minutes || n.cost.passes > m.cost.passes ||
		n.cost.litres > m.cost.litres || n.cost.advice > m.cost.advice || n.cost.steps > m.cost.steps {
		return false
	}
	for i, z := range n.zones {
		for k, f := range z.films {
			g := m.zones[i].films[k]
			if f.unsettled(n.now) > g.unsettled(m.now) {
				return false
			}
		}
	}
	return true
}

// unsettled is how long a film that was abraded goes on settling.
func (f film) unsettled(now float64) float64 {
	if f.baked || !f.blocked {
		return 0
	}
	return math.Max(0, f.coat.p.settles()-(now-f.at))
}
