package draft

import (
	"context"
	"flag"
	"fmt"
	"slices"
	"testing"
)

var everything = flag.Bool("everything", false, "try everything for each thing there should be least of, which takes minutes")

// exhaust makes every whole sheet that the moves lead to, and has every one
// judged: no order, no bound, nothing learned and nothing left out.
func exhaust(t *testing.T, s *searcher) []*node {
	t.Helper()
	var whole []*node
	made := 0
	var grow func(n *node)
	grow = func(n *node) {
		for _, m := range s.moves(n) {
			if made++; made > 20_000 {
				t.Fatal("this shelf is too large for everything to be tried")
			}
			if !m.done {
				grow(m)
				continue
			}
			if err := s.judge(context.Background(), m); err != nil {
				t.Fatal(err)
			}
			whole = append(whole, m)
		}
	}
	for _, n := range s.roots() {
		grow(n)
	}
	return whole
}

// smallShelves are shelves small enough for everything to be tried.
var smallShelves = []struct {
	name  string
	shelf []string
	wish  func() Wish
	least Least // what trying everything is asked the least of; all of them with -everything
}{
	{"single stage on bare steel", []string{"grey-epoxy", "cab-black", "degreaser"}, func() Wish { return onSteel(Solid) }, LeastDays},
	{"metallic on aluminum in collision work", []string{"wash", "seal-grey", "river-blue", "gloss-clear", "degreaser", "water-wash"}, func() Wish {
		w := onSteel(Metallic)
		w.Substrate, w.Work = "aluminum", "collision"
		return w
	}, LeastDays},
	{"a surfacer that has to be leveled", []string{"etch", "quick-surfacer", "cab-black", "degreaser"}, func() Wish { return onSteel(Solid) }, LeastFilm},
	{"a lacquer primer that leads nowhere", []string{"etch", "old-lacquer-primer", "quick-surfacer", "degreaser"}, func() Wish { return onSteel(Primed) }, LeastLitres},
	{"TPO", []string{"plastic-grip", "quick-surfacer", "cab-black", "plastic-wash"}, func() Wish {
		w := onSteel(Solid)
		w.Substrate, w.Plastic = "bare plastic", "TPO"
		return w
	}, LeastPasses},
	{"old lacquer that may be kept", []string{"grey-epoxy", "chalk-white", "gloss-clear", "degreaser"}, func() Wish {
		w := onSteel(Solid)
		w.Carries = []Carried{{Kind: "aged lacquer"}}
		return w
	}, LeastPasses},
	{"baked in collision work", []string{"wash", "quick-surfacer", "degreaser"}, func() Wish {
		w := onSteel(Primed)
		w.Work, w.Bake = "collision", true
		return w
	}, LeastDays},
	{"a dent in bare steel", []string{"body-filler", "quick-surfacer", "degreaser"}, func() Wish {
		w := onSteel(Primed)
		w.Work, w.Repair = "collision", "1 ft2"
		return w
	}, LeastDays},
	{"a refinish so thick that it has to come off", []string{"grey-epoxy", "cab-black", "degreaser"}, func() Wish {
		w := onSteel(Solid)
		w.Work, w.Carries = "collision", []Carried{{Kind: "two-part refinish", Film: "9 mil"}}
		return w
	}, LeastDays},
	{"epoxy that is asked for", []string{"grey-epoxy", "wash", "quick-surfacer", "degreaser"}, func() Wish {
		w := onSteel(Primed)
		w.Lays = []string{"epoxy primer"}
		return w
	}, LeastDays},
	{"nothing that goes on zinc", []string{"cab-black", "quick-surfacer", "degreaser"}, func() Wish {
		w := onSteel(Solid)
		w.Substrate = "galvanized steel"
		return w
	}, LeastFilm},
}

func TestTheSearchFindsWhatTryingEverythingFinds(t *testing.T) {
	sheets := 0
	for _, c := range smallShelves {
		t.Run(c.name, func(t *testing.T) {
			folder := shelfOf(t, c.shelf...)
			leasts := []Least{c.least}
			if *everything {
				leasts = Leasts
			}
			for _, least := range leasts {
				w := c.wish()
				w.Least, w.Title = least, "all"
				s := shop(t, folder)
				s.Budget = 1 << 20
				all, err := newSearcher(w, s)
				if err != nil {
					t.Fatal(err)
				}
				all.strips = true
				whole := exhaust(t, all)
				sheets += all.judged
				slices.SortStableFunc(whole, func(a, b *node) int { return before(a.cost.in(least), b.cost.in(least)) })
				searched, err := newSearcher(w, s)
				if err != nil {
					t.Fatal(err)
				}
				searched.strips = true
				found, reached, err := searched.run(context.Background(), s.Budget)
				if err != nil || reached && len(found) == 0 {
					t.Fatal(err, reached)
				}
				t.Logf("least %s: %d whole sheets of %d judged against %d", least, len(whole), all.judged, searched.judged)
				if len(whole) == 0 || len(found) == 0 {
					t.Fatalf("trying everything makes %d sheets, the search %d", len(whole), len(found))
				}
				if got, want := found[0].cost.in(least), whole[0].cost.in(least); got != want {
					t.Errorf("least %s: the search finds %v at %v, trying everything %v at %v\n%s\n%s", least, found[0].way(), got, whole[0].way(), want, searched.text(found[0]), all.text(whole[0]))
				}
				if want := wayside(whole, least); found[0].cost.grave == 0 {
					var got []string
					for _, n := range found {
						got = append(got, fmt.Sprint(n.cost.in(least)))
					}
					if !slices.Equal(got, want[:min(len(want), len(got))]) {
						t.Errorf("least %s: the runners-up cost\n%v, and of all ways the cheapest cost\n%v", least, got, want)
					}
				}
			}
		})
	}
	t.Logf("%d sheets were judged in trying everything", sheets)
}

// wayside is the cost of the cheapest sheet of each way that passes, cheapest first.
func wayside(whole []*node, least Least) []string {
	seen := map[string]bool{}
	var costs []string
	for _, n := range whole {
		if n.cost.grave == 0 && !seen[n.way()] {
			seen[n.way()] = true
			costs = append(costs, fmt.Sprint(n.cost.in(least)))
		}
	}
	return costs
}

// What a sheet breaks for good stays broken whatever is laid on it: the rules
// that are not among those of `later`. Every sheet that a search gave up is gone
// on with here.
func TestWhatIsGivenUpCannotBeCured(t *testing.T) {
	for _, c := range smallShelves {
		t.Run(c.name, func(t *testing.T) {
			w := c.wish()
			w.Title = "cure"
			s, err := newSearcher(w, shop(t, shelfOf(t, c.shelf...)))
			if err != nil {
				t.Fatal(err)
			}
			tried, ctx := 0, context.Background()
			var grow func(n *node)
			grow = func(n *node) {
				for _, m := range s.moves(n) {
					if tried > 30 || m.done {
						continue
					}
					if err := s.judge(ctx, m); err != nil {
						t.Fatal(err)
					}
					if len(m.reasons) == 0 {
						grow(m)
						continue
					}
					for _, k := range s.moves(m) {
						tried++
						if err := s.judge(ctx, k); err != nil {
							t.Fatal(err)
						}
						for _, r := range m.reasons {
							if !slices.ContainsFunc(k.reasons, func(o Reason) bool { return o.Rule == r.Rule }) {
								t.Errorf("%v breaks %s, and %v does not\n%s", m.layers, r.Rule, k.layers, s.text(k))
							}
						}
					}
				}
			}
			for _, n := range s.roots() {
				grow(n)
			}
		})
	}
}
