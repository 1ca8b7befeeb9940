package compare

import (
	"fmt"
	"slices"

	"guidecoat/internal/rulebook"
)

// atom is a finding in one of its zones. Findings that differ in the zone
// alone are told as one, so that one finding of the old sheet may be two in the
// new one, or the other way round: zone by zone they can be matched all the same.
type atom struct {
	of    int // index of its finding
	zone  string
	place string // the aligned place in words, without its zone
	step  int    // the step it is about, by the new sheet's numbers; 0 where it is about none or that is gone
}

// found is a finding of one side with its atoms' matches.
type found struct {
	Told
	atoms   int
	matched []int // indices of findings of the other side, one for each atom matched
}

// findings matches the findings of both sides.
func (c comparer) findings() Findings {
	out := Findings{Gone: []Told{}, New: []Told{}, Kept: []Kept{}}
	olds, oldAtoms := standings(c.old, func(n int) int { return c.toNew[n] })
	news, newAtoms := standings(c.new, func(n int) int { return n })
	zones := func(r Revision) map[string]bool {
		in := map[string]bool{}
		if r.Doc != nil {
			for _, z := range r.Doc.Zones {
				in[z.Name] = true
			}
		}
		return in
	}
	before, now := zones(c.old), zones(c.new)
	for _, key := range []struct{ old, new func(atom) string }{
		{samePlace(olds), samePlace(news)},
		{renamed(olds, now), renamed(news, before)},
		{sameStep(olds), sameStep(news)},
	} {
		match(olds, news, &oldAtoms, &newAtoms, key.old, key.new)
	}
	for _, n := range news {
		if len(n.matched) == 0 {
			n.Counts = !n.Waived
			out.New = append(out.New, n.Told)
			continue
		}
		out.Kept = append(out.Kept, kept(n, olds))
	}
	for _, o := range olds {
		if len(o.matched) == 0 {
			out.Gone = append(out.Gone, o.Told)
		}
	}
	return out
}

// kept is a finding of the new side with what it was.
func kept(n found, olds []found) Kept {
	o := olds[n.matched[0]]
	k := Kept{Told: n.Told, Was: Was{ID: o.ID, Grade: o.Grade, Step: o.Step, Line: o.Line, Zones: o.Zones, Waived: o.Waived}}
	k.Worse = len(n.matched) < n.atoms
	for _, i := range n.matched {
		k.Worse = k.Worse || !rulebook.AtLeast(olds[i].Grade, n.Grade) || olds[i].Waived && !n.Waived
	}
	k.Counts = k.Worse && !n.Waived
	return k
}

// samePlace knows an atom by its aligned place and its zone.
func samePlace(list []found) func(atom) string {
	return func(a atom) string {
		if a.place == "" {
			return ""
		}
		return list[a.of].Rule + "\x00" + a.zone + "\x00" + a.place
	}
}

// renamed knows an atom by its aligned place alone, where the other sheet has
// no zone of that name.
func renamed(list []found, others map[string]bool) func(atom) string {
	return func(a atom) string {
		if a.place == "" || a.zone == "" || others[a.zone] {
			return ""
		}
		return list[a.of].Rule + "\x00" + a.place
	}
}

// sameStep knows an atom by the step it is told of and its zone: the film
// under that step may be another now.
func sameStep(list []found) func(atom) string {
	return func(a atom) string {
		if a.step == 0 {
			return ""
		}
		return fmt.Sprintf("%s\x00%s\x00%d", list[a.of].Rule, a.zone, a.step)
	}
}

// match pairs the atoms that have the same key, one with one and in their
// order; those of the same message first. An atom with the key "" is in no
// pair, and what is paired is taken out of the atoms.
func match(olds, news []found, oldAtoms, newAtoms *[]atom, oldKey, newKey func(atom) string) {
	byKey := map[string][]atom{}
	for _, a := range *oldAtoms {
		if k := oldKey(a); k != "" {
			byKey[k] = append(byKey[k], a)
		}
	}
	gone := map[atom]int{} // of the old atoms, how often each was paired
	for _, alikeToo := range []bool{true, false} {
		*newAtoms = slices.DeleteFunc(*newAtoms, func(n atom) bool {
			k := newKey(n)
			i := slices.IndexFunc(byKey[k], func(o atom) bool {
				return !alikeToo || olds[o.of].Message == news[n.of].Message
			})
			if k == "" || i < 0 {
				return false
			}
			o := byKey[k][i]
			byKey[k] = slices.Delete(byKey[k], i, i+1)
			gone[o]++
			olds[o.of].matched = append(olds[o.of].matched, n.of)
			news[n.of].matched = append(news[n.of].matched, o.of)
			return true
		})
	}
	*oldAtoms = slices.DeleteFunc(*oldAtoms, func(o atom) bool {
		gone[o]--
		return gone[o] >= 0
	})
}

// standings are a revision's findings and waived findings in order, with their
// atoms. The steps an atom stands on get the numbers that renumber gives; where
// that is 0, there is no such step, and the atom has no place on the other side.
func standings(r Revision, renumber func(int) int) ([]found, []atom) {
	var list []found
	var atoms []atom
	add := func(f rulebook.Finding, waived bool) {
		p := place{other: f.On}
		if r.Doc != nil {
			p = placeOf(f, len(r.Doc.Steps))
		}
		words := p.aligned(renumber)
		step := 0
		if f.Step != nil && *f.Step > 0 {
			step = renumber(*f.Step)
		}
		zones := f.Zones
		if len(zones) == 0 {
			zones = []string{""}
		}
		for _, z := range zones {
			atoms = append(atoms, atom{of: len(list), zone: z, place: words, step: step})
		}
		list = append(list, found{Told: Told{Finding: f, Waived: waived}, atoms: len(zones)})
	}
	for _, f := range r.Result.Findings {
		add(f, false)
	}
	for _, f := range r.Result.Waived {
		add(f, true)
	}
	return list, atoms
}

// aligned is a place in words without its zone, its steps renumbered; "" where
// one of them is not on the other side. The product of a film is left out: it
// may have been changed at that step.
func (p place) aligned(renumber func(int) int) string {
	if len(p.steps) == 0 {
		return "other " + p.other
	}
	words := "step"
	if p.layer != "" {
		words = "film"
	}
	for _, n := range p.steps {
		if n > 0 {
			if n = renumber(n); n == 0 {
				return ""
			}
		}
		words += fmt.Sprintf(" %d", n)
	}
	return words
}
