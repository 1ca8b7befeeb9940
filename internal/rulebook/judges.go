package rulebook

import (
	"slices"
	"sync"
)

// judges are the compiled judges of one book. To compile the rules that one
// sheet can break takes a quarter of the time of compiling all; but many sheets
// together can break nearly all, and then one judge of all rules serves them
// best. So the first few calls for rules no judge has get one with just those,
// and the next gets the whole book, which serves whoever comes after.
type judges struct {
	mu    sync.Mutex // held while compiling: who waits for a judge would compile the same
	parts []*judge   // in the order they were compiled
	all   *judge
	err   error // what hinders compiling the whole book
}

// partsMost is how many judges of a part of the book are kept: two sheets
// judged beside each other, or an old and a new one, need no whole book.
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
			js.parts = nil
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
	for _, j := range js.parts {
		if subset(names, j.names) {
			return j, nil
		}
	}
	if len(js.parts) == partsMost {
		return js.compileAll(func() (*judge, error) { return compile(all) })
	}
	j, err := compile(names)
	if err != nil {
		return nil, err
	}
	js.parts = append(js.parts, j)
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
