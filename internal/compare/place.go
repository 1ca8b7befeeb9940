package compare

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// place is where a finding stands, taken apart: an id names steps by their
// numbers, and those shift when a step is put in or taken out before them.
type place struct {
	zone  string // "" where it is about none
	layer string // product or kind of a film, "" where it stands on none
	steps []int  // the steps it names, in the order it names them; 0 is 'to the end'
	other string // all of it, where it names no step: a card, the sheet, what was there
}

// The forms of ids (8-rulings.md), behind the zone where there is one.
var (
	onFilm  = regexp.MustCompile(`^([1-9][0-9]*):(.+)$`)          // 3:grey-epoxy
	onSteps = regexp.MustCompile(`^([1-9][0-9]*)(?:-([0-9]+))?$`) // 3, 3-7
)

// placeOf takes the place of a finding apart, in a sheet of so many steps.
func placeOf(f rulebook.Finding, steps int) place {
	zone, rest := "", f.On
	for _, z := range f.Zones {
		if after, ok := strings.CutPrefix(f.On, z+"/"); ok {
			zone, rest = z, after
			break
		}
	}
	number := func(s string) (int, bool) {
		n, err := strconv.Atoi(s)
		return n, err == nil && n <= steps
	}
	if m := onFilm.FindStringSubmatch(rest); m != nil {
		if n, ok := number(m[1]); ok {
			return place{zone: zone, layer: m[2], steps: []int{n}}
		}
	}
	// What is about no step at all may be a card whose name is a number.
	if m := onSteps.FindStringSubmatch(rest); m != nil && f.Step != nil {
		from, ok := number(m[1])
		if ok && m[2] == "" {
			return place{zone: zone, steps: []int{from}}
		}
		if to, okTo := number(m[2]); ok && okTo {
			return place{zone: zone, steps: []int{from, to}}
		}
	}
	return place{zone: zone, other: rest}
}

// Like is what a finding is known by when steps have been put in or taken out
// before it: its id, with what each step does in the place of its number, and
// without its zones, which are told beside it. Findings of one sheet may share
// it; how many do is part of what is known.
func Like(d *stack.Document, f rulebook.Finding) string {
	if d == nil {
		return f.ID // of what could not be carried out there are no findings
	}
	p := placeOf(f, len(d.Steps))
	words := p.other
	switch {
	case p.layer != "":
		words = p.layer
	case len(p.steps) > 0:
		acts := make([]string, len(p.steps))
		for i, n := range p.steps {
			acts[i] = act(d, n)
		}
		words = strings.Join(acts, " to ")
	}
	return f.Rule + "@" + words
}

// act is what a step does and with what: `spray grey-epoxy`, `clean degreaser`.
func act(d *stack.Document, n int) string {
	if n == 0 {
		return "the end"
	}
	s := d.Steps[n-1]
	what := s.With
	if i := slices.IndexFunc(d.Lays, func(l stack.Lay) bool { return l.Step == n }); i >= 0 {
		what = d.Lays[i].Card
	}
	return strings.TrimSpace(s.Do + " " + what)
}
