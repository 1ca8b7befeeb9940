package sheet

import (
	"maps"
	"slices"
)

// What is asked of a file while it is being written: what is wrong with it by
// itself, and which cards it has in reach though it cannot be read.

// Check tells what is wrong with a shelf or a house file by itself: what any
// sheet that uses it would be told. Of any other kind it tells nothing.
func (r *Reader) Check(kind FileKind, file string, text []byte) []Problem {
	loc := r.locate(file)
	switch kind {
	case IsShelf:
		s := &shelf{loc: loc}
		s.read(text)
		return sorted(loc.name, s.problems)
	case IsHouse:
		h := &house{loc: loc}
		h.read(r, text)
		return sorted(loc.name, h.problems)
	default:
		return nil
	}
}

// InReach is every card that a sheet of that file has in reach beside its own,
// by name, and its house: of the house's shelf and of the shelves named, as they
// are written in the sheet. What cannot be read is left out without a word.
func (r *Reader) InReach(file string, shelves []string) (map[string]*Card, *House) {
	loc := r.locate(file)
	cards := map[string]*Card{}
	var of *House
	if h := r.houseFor(loc); h != nil {
		of = h.house
		fromHouse, _ := merged(h.shelves)
		maps.Copy(cards, fromHouse)
	}
	for _, written := range shelves {
		if at, err := loc.beside(written); err == nil && at.abs != loc.abs {
			named, _ := merged([]*shelf{r.shelf(at)})
			maps.Copy(cards, named)
		}
	}
	return cards, of
}

// HelpersFor are the helper kinds that the `with` of a verb takes; nil for a
// verb that has none.
func HelpersFor(do string) []string { return slices.Clone(fitFor[do]) }
