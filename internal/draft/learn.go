package draft

import (
	"context"
	"slices"
)

// pairing is one product on what it would lie on.
type pairing struct {
	lower string // a film's reference and aim; how the zone was begun where there is none yet
	upper *coat
	dent  bool
}

// pairings are what the last layer of a sheet lies on.
func (n *node) pairings() []pairing {
	var all []pairing
	for _, i := range n.on {
		z := n.zones[i]
		last := len(z.films) - 1
		lower := z.begun
		if last > 0 {
			under := z.films[last-1]
			lower = under.coat.p.ref + "," + under.coat.aim
		}
		all = append(all, pairing{lower, z.films[last].coat, z.dent})
	}
	return all
}

// refused says whether the last layer is one that has been found never to go
// where it lies.
func (s *searcher) refused(n *node) bool {
	if n.done {
		return false
	}
	return slices.ContainsFunc(n.pairings(), func(p pairing) bool { return s.never[p] })
}

// knownGrave is what a sheet breaks that it was made from.
func (n *node) knownGrave() int {
	if n.from == nil {
		return 0
	}
	return n.from.cost.grave
}

// learn asks, where a layer was refused, whether any way of making its ground
// ready would do: where one rule speaks against all of them in one zone, the
// layer never goes on what lies there, and is not tried on it again. It stops
// asking as soon as no such rule is left.
//
// That the answer holds on other sheets too rests on the verdict about two films
// being about these two: the cross-check against trying everything is in the
// tests.
func (s *searcher) learn(ctx context.Context, n *node) error {
	if n.done || n.from == nil || s.refused(n) {
		return nil
	}
	pairs := n.pairings()
	against := make([][]string, len(pairs))
	for k, i := range n.on {
		against[k] = s.against(n, n.zones[i].name)
	}
	hopeless := func() bool { return slices.ContainsFunc(against, func(rules []string) bool { return len(rules) > 0 }) }
	top := n.zones[n.on[0]].films
	for _, m := range s.layings(n.from, n.on, top[len(top)-1].coat) {
		if !hopeless() || s.judged >= s.shop.Budget {
			return nil
		}
		if err := s.judge(ctx, m); err != nil {
			return err
		}
		for k, i := range n.on {
			said := s.against(m, m.zones[i].name)
			against[k] = slices.DeleteFunc(against[k], func(rule string) bool { return !slices.Contains(said, rule) })
		}
	}
	for k, rules := range against {
		if len(rules) > 0 {
			s.never[pairs[k]] = true
		}
	}
	return nil
}

// against are the rules that speak for good against the last layer in a zone.
func (s *searcher) against(n *node, zone string) []string {
	var rules []string
	for _, f := range s.heard[s.text(n)].grave {
		if f.Upper != "" && f.Step != nil && *f.Step == n.last+1 && slices.Contains(f.Zones, zone) && !s.mayGo(f.Rule) {
			rules = append(rules, f.Rule)
		}
	}
	return rules
}
