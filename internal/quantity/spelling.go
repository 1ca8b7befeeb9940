package quantity

import (
	"maps"
	"slices"
	"sync"
	"unicode"
)

// Spellings are the ways that a unit of the dimension may be written, lower
// case, shortest first; all units' together where none is named. A plain
// number has none.
func (d Dimension) Spellings(unitNames ...string) []string {
	var all []string
	for _, u := range units[d] {
		if len(unitNames) == 0 || slices.Contains(unitNames, u.name) {
			all = append(all, u.spelled...)
		}
	}
	slices.SortFunc(all, func(a, b string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		if a < b {
			return -1
		}
		return 1
	})
	return all
}

// Waits are the waits that are written in words: the conditions, each behind
// "until", and the habits.
func Waits() []string {
	var all []string
	for _, c := range conditions {
		all = append(all, "until "+c)
	}
	return append(all, slices.Sorted(maps.Keys(habits))...)
}

// Alike are the characters that are read as a lower-case one in a unit or a
// word, itself first: its capitals, and what cannot be told from it on paper.
func Alike(r rune) []rune {
	return append([]rune{r}, readAs()[r]...)
}

// readAs holds, of each character, the others that are read as it.
var readAs = sync.OnceValue(func() map[rune][]rune {
	all := map[rune][]rune{}
	add := func(c rune) {
		if folded := []rune(plainUnit(string(c))); len(folded) == 1 && folded[0] != c {
			all[folded[0]] = append(all[folded[0]], c)
		}
	}
	for _, cases := range unicode.CaseRanges {
		for c := rune(cases.Lo); c <= rune(cases.Hi); c++ {
			add(c)
		}
	}
	// The one lookalike that has no case.
	add('º')
	for _, cs := range all {
		slices.Sort(cs)
	}
	return all
})
