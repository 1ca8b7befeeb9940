package rulebook

import (
	"slices"
	"sync"
)

// judges are the compiled judges of one book. To compile the rules that one
// sheet can break takes a quarter of the time of compiling all; but many sheets
// together can break nearly all, and then one judge of all rules serves them
// best. So whoever asks for rules that the judge lacks gets a judge with those
// beside what was asked for before; when that comes to most of the rules, or
// has been done a few times, it is the whole book, which serves whoever comes after.
type judges struct {
	mu    sync.Mutex // held while compiling: who waits for a judge would compile the same
	part  *judge     // of some rules
	times int        // a part was compiled
	all   *judge
	err   error // what hinders compiling the whole book
}

// partsMost is how often a part of the book is compiled before the whole is:
// two sheets judged beside each other, or an old and a new one, need no whole book.
const partsMost = 2

// whole is the judge that has every rule.
func (js *judges) whole(compile func() (*judge, error)) (*judge, error) {
	js.mu.Lock()
	defer js.mu.Unlock()
	return js.compileAll(compile)
}

func (js *judges) compileAll(compile func() (*judge, error)) (*judge, error) {
	if js.all == nil && js.err == nil {
		js.all, js.err = compile()
		if js.err == nil {
			js.part = nil
		}
	}
	return js.all, js.err
}

// with is a judge that has at least the named rules, which are sorted; all are
// the names of every rule.
func (js *judges) with(names []string, compile func(names []string) (*judge, error), all []string) (*judge, error) {
	js.mu.Lock()
	defer js.mu.Unlock()
	if js.all != nil {
		return js.all, nil
	}
	if js.part != nil {
		if subset(names, js.part.names) {
			return js.part, nil
		}
		names = slices.Compact(slices.Sorted(slices.Values(slices.Concat(names, js.part.names))))
	}
	if js.times == partsMost || len(names) > len(all)/2 {
		return js.compileAll(func() (*judge, error) { return compile(all) })
	}
	j, err := compile(names)
	if err != nil {
		return nil, err
	}
	js.part = j
	js.times++
	return j, nil
}

// subset tells whether a sorted list holds all of another.
func subset(some, all []string) bool {
	for _, s := range some {
		if _, found := slices.BinarySearch(all, s); !found {
			return false
		}
	}
	return true
}
