package compare

import (
	"slices"
	"strings"

	"guidecoat/internal/sheet"
)

// Key is one key of a step as it is written.
type Key struct {
	Name string `json:"name"`
	Text string `json:"text"` // the value as the sheet writes it
}

// Step is one written step, as far as two revisions are set beside each other.
type Step struct {
	N       int
	Do      string
	Call    string
	Product string   // the card that is laid or wiped with, or ""
	Zones   []string // as written; nil is everything
	Keys    []Key    // sorted by name
}

// stepsOf are the steps of a sheet with the text of their keys.
func stepsOf(s *sheet.Sheet, text []byte) []Step {
	x, _ := sheet.NewIndex(s.File, text)
	written := x.Root.Get("step")
	out := make([]Step, len(s.Steps))
	for i, from := range s.Steps {
		st := Step{N: from.N, Do: from.Do, Call: from.Call, Zones: from.Zones, Product: from.Product.Value}
		if st.Product == "" {
			st.Product = from.With.Value
		}
		if n := written.Entry(i + 1); n != nil {
			for _, k := range n.Children {
				st.Keys = append(st.Keys, Key{k.Name, strings.Join(strings.Fields(string(x.Slice(k.Value))), " ")})
			}
		}
		slices.SortStableFunc(st.Keys, func(a, b Key) int { return strings.Compare(a.Name, b.Name) })
		out[i] = st
	}
	return out
}

func (s Step) same(o Step) bool { return s.Do == o.Do && slices.Equal(s.Keys, o.Keys) }

// family is the sort of act a verb is: a step that is rewritten from one to
// another of the same sort is still taken for that step.
func (s Step) family() string {
	switch s.Do {
	case "spray", "brush", "spread", "caulk":
		return "lay"
	case "sand", "block", "scuff":
		return "abrade"
	}
	return s.Do
}

// How alike two steps are. Only the order of these matters: what a painter
// would know a step by outweighs what is often edited. Two steps of different
// sorts are never the same step.
const (
	alikeSort    = 2  // the same sort of act
	alikeDo      = 1  // the same verb
	alikeZones   = 3  // on the same zones
	alikeProduct = 6  // with the same product
	alikeCall    = 12 // of the same call
	alikeText    = 8  // word for word
	otherCall    = 4  // less: both have a call, and not the same
)

// alike is how much speaks for two steps being the same one; 0: nothing.
func alike(a, b Step) int32 {
	if a.family() != b.family() {
		return 0
	}
	n := int32(alikeSort)
	if a.Do == b.Do {
		n += alikeDo
	}
	if slices.Equal(a.Zones, b.Zones) {
		n += alikeZones
	}
	if a.Product != "" && a.Product == b.Product {
		n += alikeProduct
	}
	switch {
	case a.Call != "" && a.Call == b.Call:
		n += alikeCall
	case a.Call != "" && b.Call != "":
		n -= otherCall
	}
	if a.same(b) {
		n += alikeText
	}
	return max(n, 1)
}

// pair is two steps that are the same one, by index. Moved: the order of the
// rest had to be left to find it.
type pair struct {
	old, new int
	moved    bool
}

// mostCells bounds the table of one alignment: 16 MiB of it. Sheets of up to
// 2,000 rewritten steps fit.
const mostCells = 4 << 20

// align finds which steps of two revisions are the same one, in the order of
// the new ones. Steps keep their order, but for those that carry a call, which
// are found again wherever they went. Every step is in one pair at most.
func align(old, new []Step) []pair {
	var pairs []pair
	alignRange(old, new, 0, len(old), 0, len(new), &pairs)
	return sortPairs(append(pairs, moved(old, new, pairs)...))
}

func sortPairs(pairs []pair) []pair {
	slices.SortFunc(pairs, func(a, b pair) int { return a.new - b.new })
	return pairs
}

// alignRange pairs old[lo:hi] with new[nlo:nhi].
func alignRange(old, new []Step, lo, hi, nlo, nhi int, pairs *[]pair) {
	// What is word for word the same at both ends is most of most revisions.
	for lo < hi && nlo < nhi && old[lo].same(new[nlo]) {
		*pairs = append(*pairs, pair{old: lo, new: nlo})
		lo, nlo = lo+1, nlo+1
	}
	for lo < hi && nlo < nhi && old[hi-1].same(new[nhi-1]) {
		hi, nhi = hi-1, nhi-1
		*pairs = append(*pairs, pair{old: hi, new: nhi})
	}
	if lo == hi || nlo == nhi {
		return
	}
	if (hi-lo+1)*(nhi-nlo+1) <= mostCells {
		alignTable(old, new, lo, hi, nlo, nhi, pairs)
		return
	}
	// Too long for a table: the steps that stand there once on either side and
	// are word for word the same part it into shorter ranges. A range without
	// any is taken for rewritten, and nothing in it is paired.
	anchors := uniqueSame(old, new, lo, hi, nlo, nhi)
	for _, a := range anchors {
		alignRange(old, new, lo, a.old, nlo, a.new, pairs)
		*pairs = append(*pairs, a)
		lo, nlo = a.old+1, a.new+1
	}
	if len(anchors) > 0 {
		alignRange(old, new, lo, hi, nlo, nhi, pairs)
	}
}

// alignTable is the alignment of most likeness, by the usual table over both
// (S. B. Needleman and C. D. Wunsch, J. Mol. Biol. 48, 1970), with nothing
// taken off for a gap. Of several as good it takes the one that pairs later
// steps.
func alignTable(old, new []Step, lo, hi, nlo, nhi int, pairs *[]pair) {
	wide := nhi - nlo + 1
	best := make([]int32, (hi-lo+1)*wide)
	for i := lo + 1; i <= hi; i++ {
		row, above := best[(i-lo)*wide:], best[(i-lo-1)*wide:]
		for j := nlo + 1; j <= nhi; j++ {
			b := max(above[j-nlo], row[j-nlo-1])
			if s := alike(old[i-1], new[j-1]); s > 0 {
				b = max(b, above[j-nlo-1]+s)
			}
			row[j-nlo] = b
		}
	}
	at := func(i, j int) int32 { return best[(i-lo)*wide+j-nlo] }
	for i, j := hi, nhi; i > lo && j > nlo; {
		s := alike(old[i-1], new[j-1])
		switch {
		case s > 0 && at(i, j) == at(i-1, j-1)+s:
			i, j = i-1, j-1
			*pairs = append(*pairs, pair{old: i, new: j})
		case at(i, j) == at(i, j-1):
			j--
		default:
			i--
		}
	}
}

// text is all of a step in one string.
func (s Step) text() string {
	var b strings.Builder
	for _, k := range s.Keys {
		b.WriteString(k.Name + "\x00" + k.Text + "\x00")
	}
	return b.String()
}

// uniqueSame are the longest run, in the order of both, of steps that stand
// once on either side and are the same word for word.
func uniqueSame(old, new []Step, lo, hi, nlo, nhi int) []pair {
	type count struct{ olds, news, at int }
	seen := map[string]*count{}
	of := func(s Step) *count {
		c := seen[s.text()]
		if c == nil {
			c = &count{}
			seen[s.text()] = c
		}
		return c
	}
	for i := lo; i < hi; i++ {
		c := of(old[i])
		c.olds, c.at = c.olds+1, i
	}
	for j := nlo; j < nhi; j++ {
		of(new[j]).news++
	}
	var candidates []pair
	for j := nlo; j < nhi; j++ {
		if c := of(new[j]); c.olds == 1 && c.news == 1 {
			candidates = append(candidates, pair{old: c.at, new: j})
		}
	}
	return increasing(candidates)
}

// increasing is the longest run of pairs whose old steps keep their order.
func increasing(pairs []pair) []pair {
	var ends []int // ends[n] is the pair that ends the best run of n+1
	before := make([]int, len(pairs))
	for i, p := range pairs {
		n, _ := slices.BinarySearchFunc(ends, p.old, func(e, old int) int { return pairs[e].old - old })
		before[i] = -1
		if n > 0 {
			before[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	out := make([]pair, len(ends))
	if len(ends) > 0 {
		for i, n := ends[len(ends)-1], len(ends)-1; i >= 0; i, n = before[i], n-1 {
			out[n] = pairs[i]
		}
	}
	return out
}

// moved pairs steps of one call that the order of the rest left alone.
func moved(old, new []Step, pairs []pair) []pair {
	oldTaken, newTaken := map[int]bool{}, map[int]bool{}
	for _, p := range pairs {
		oldTaken[p.old], newTaken[p.new] = true, true
	}
	calls := map[string]int{} // a sheet has each call once
	for i, s := range old {
		if s.Call != "" && !oldTaken[i] {
			calls[s.Call] = i
		}
	}
	var out []pair
	for j, s := range new {
		if i, ok := calls[s.Call]; ok && s.Call != "" && !newTaken[j] && s.family() == old[i].family() {
			out = append(out, pair{old: i, new: j, moved: true})
		}
	}
	return out
}
