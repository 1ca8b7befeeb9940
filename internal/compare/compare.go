// Package compare sets two revisions of a sheet beside each other: which
// findings are gone, new and kept, and what became of films, clock, VOC and
// cans to buy. It also keeps and reads baselines, the findings a shop knows of.
//
// It promises the same answer for the same two revisions, and that a finding
// is known again after lines have moved and steps were put in, taken out or
// rewritten: the steps of both are aligned first, by verb, zones, product, call
// and text, and then the findings of each rule by the steps they stand on.
// It must not know how a verdict was reached.
package compare

import (
	"slices"

	"guidecoat/internal/plan"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// Revision is one reading of a sheet: what was written, what it came to on
// paper, and what was found. A Revision without a document could not be judged.
type Revision struct {
	File   string
	Doc    *stack.Document
	Steps  []Step
	Result rulebook.Result
}

// NewRevision is a sheet that was read from this text, carried out and judged.
func NewRevision(s *sheet.Sheet, text []byte, doc *stack.Document, result rulebook.Result) Revision {
	return Revision{File: s.File, Doc: doc, Steps: stepsOf(s, text), Result: result}
}

// Side is the head of one revision.
type Side struct {
	File     string `json:"file"`
	Title    string `json:"title"`
	Number   string `json:"number"`
	Revision string `json:"revision"`
	Steps    int    `json:"steps"`
}

// Comparison is all that changed from one revision to the next. Lists are
// never nil. A side that is not there, or could not be judged, is nil: then
// every finding of the other is gone, or new, and nothing is measured.
type Comparison struct {
	Old      *Side        `json:"old"`
	New      *Side        `json:"new"`
	Steps    []StepChange `json:"steps"` // in the order of the new sheet, those that are gone where they stood
	Findings Findings     `json:"findings"`
	Films    []ZoneFilms  `json:"films"`
	Clock    Clock        `json:"clock"`
	Voc      []Measured   `json:"voc"`    // g/L as applied, a cup each, then each published figure
	Buy      []Bought     `json:"buy"`    // in the order they are first poured, by the new sheet
	Litres   Values       `json:"litres"` // of everything mixed
	Gallons  Values       `json:"gallons"`
}

// StepChange is a step that is not in both revisions as it was. A step that
// only has another number now is none.
type StepChange struct {
	Change string      `json:"change"` // new | gone | moved | rewritten
	Old    *int        `json:"old"`    // its number there, null where it is new
	New    *int        `json:"new"`    // null where it is gone
	Name   string      `json:"name"`   // what it does: "spray grey-epoxy"
	Call   string      `json:"call"`
	Keys   []KeyChange `json:"keys"` // of a step in both, what is written otherwise
}

// KeyChange is one key of a step that is written otherwise.
type KeyChange struct {
	Key string  `json:"key"`
	Old *string `json:"old"` // as the sheet writes it; null where it was not written
	New *string `json:"new"`
}

// Findings are the findings of both revisions. Waived ones are among them.
type Findings struct {
	Gone []Told `json:"gone"` // as they were
	New  []Told `json:"new"`
	Kept []Kept `json:"kept"`
}

// Told is a finding on one side.
type Told struct {
	rulebook.Finding
	Waived bool `json:"waived"`
	// Counts: it is new and not waived, so that it counts for the exit status.
	Counts bool `json:"counts"`
}

// Kept is a finding on both sides.
type Kept struct {
	Was Was `json:"was"`
	Told
	// Worse: it is graver now, on more zones, or its waiver is gone. Such a
	// finding counts as a new one does.
	Worse bool `json:"worse"`
}

// Was is what a kept finding was in the old revision.
type Was struct {
	ID     string   `json:"id"`
	Grade  string   `json:"grade"`
	Step   *int     `json:"step"`
	Line   int      `json:"line"`
	Zones  []string `json:"zones"`
	Waived bool     `json:"waived"`
}

// Values are one quantity before and after; null where it is not known, or
// there is no such thing on that side.
type Values struct {
	Old     *plan.Amount `json:"old"`
	New     *plan.Amount `json:"new"`
	Changed bool         `json:"changed"`
}

// Measured is a named quantity before and after.
type Measured struct {
	Name   string `json:"name"`
	Change string `json:"change"` // new | gone | "" where it is on both sides
	Values
}

// ZoneFilms are the films of one zone at the end.
type ZoneFilms struct {
	Zone   string `json:"zone"`
	Change string `json:"change"` // new | gone | "" where the zone is in both
	// Paint is all paint left, existing included, mil or µm as the sheet writes; Filler all fillers of the sheet.
	Paint  Values     `json:"paint"`
	Filler Values     `json:"filler"`
	Films  []Measured `json:"films"` // what is left of each, from the metal up
}

// Clock is how long the sheet takes, and the waits between its films.
type Clock struct {
	Elapsed Values   `json:"elapsed"` // from the first step to the end of the last
	Windows []Window `json:"windows"`
}

// Window is the wait of one film on another, beside what the lower one allows.
type Window struct {
	Upper  string   `json:"upper"`
	Lower  string   `json:"lower"`
	Change string   `json:"change"` // new | gone | "" where it is on both sides
	Zones  []string `json:"zones"`  // of the new revision, or where it is gone of the old
	Wait   Values   `json:"wait"`
	Least  Values   `json:"least"` // from when it may follow
	Most   Values   `json:"most"`  // until when it may, unabraded
}

// Bought is one can before and after.
type Bought struct {
	Name    string     `json:"name"`
	Old     *plan.Both `json:"old"` // null where it is not bought, or goes in by weight
	New     *plan.Both `json:"new"`
	Changed bool       `json:"changed"`
}

// Revisions compares two revisions of one sheet.
func Revisions(old, new Revision) Comparison {
	c := comparer{old: old, new: new, toNew: map[int]int{}, toOld: map[int]int{}}
	c.pairs = align(old.Steps, new.Steps)
	for _, p := range c.pairs {
		c.toNew[old.Steps[p.old].N], c.toOld[new.Steps[p.new].N] = new.Steps[p.new].N, old.Steps[p.old].N
	}
	out := Nothing()
	out.Old, out.New, out.Steps, out.Findings = side(old), side(new), c.steps(), c.findings()
	if old.Doc != nil && new.Doc != nil {
		out.Films = c.films()
		out.Clock = c.clock()
		out.Voc = c.voc()
		out.Buy = c.buy()
		out.Litres, out.Gallons = c.mixed("L"), c.mixed("gal")
	}
	return out
}

// Nothing is a comparison of what cannot be compared.
func Nothing() Comparison {
	return Comparison{Steps: []StepChange{}, Findings: Findings{Gone: []Told{}, New: []Told{}, Kept: []Kept{}},
		Films: []ZoneFilms{}, Clock: Clock{Windows: []Window{}}, Voc: []Measured{}, Buy: []Bought{}}
}

func side(r Revision) *Side {
	if r.Doc == nil {
		return nil
	}
	s := r.Doc.Sheet
	return &Side{File: r.File, Title: s.Title, Number: s.Number, Revision: s.Revision, Steps: len(r.Doc.Steps)}
}

// Counts tells how many of the new findings count for the exit status: those
// at or above a grade that are new, or worse than they were.
func (c Comparison) Counts(stopAt string) int {
	n := 0
	for _, f := range c.Findings.New {
		if f.Counts && rulebook.AtLeast(f.Grade, stopAt) {
			n++
		}
	}
	for _, f := range c.Findings.Kept {
		if f.Counts && rulebook.AtLeast(f.Grade, stopAt) {
			n++
		}
	}
	return n
}

type comparer struct {
	old, new     Revision
	pairs        []pair
	toNew, toOld map[int]int // numbers of steps in both
}

func number(n int) *int { return &n }

// steps tells what became of the steps, by the order of the new sheet.
func (c comparer) steps() []StepChange {
	out := []StepChange{}
	paired := map[int]pair{} // by index in the new sheet
	for _, p := range c.pairs {
		paired[p.new] = p
	}
	told := 0 // old steps before this index are told of
	gone := func(before int) {
		for ; told < before; told++ {
			if s := c.old.Steps[told]; c.toNew[s.N] == 0 {
				out = append(out, StepChange{Change: "gone", Old: number(s.N), Name: s.name(), Call: s.Call, Keys: []KeyChange{}})
			}
		}
	}
	for j, s := range c.new.Steps {
		p, ok := paired[j]
		if !ok {
			out = append(out, StepChange{Change: "new", New: number(s.N), Name: s.name(), Call: s.Call, Keys: []KeyChange{}})
			continue
		}
		if !p.moved {
			gone(p.old)
		}
		from := c.old.Steps[p.old]
		keys := keyChanges(from, s)
		change := "rewritten"
		switch {
		case p.moved:
			change = "moved"
		case len(keys) == 0:
			continue
		}
		out = append(out, StepChange{Change: change, Old: number(from.N), New: number(s.N), Name: s.name(), Call: s.Call, Keys: keys})
	}
	gone(len(c.old.Steps))
	return out
}

func (s Step) name() string {
	what := s.Product
	for _, k := range s.Keys {
		if what == "" && (k.Name == "grit" || k.Name == "pad" || k.Name == "tool") {
			what = plainText(k.Text)
		}
	}
	if what == "" {
		return s.Do
	}
	return s.Do + " " + what
}

// plainText is a TOML text without its quotes, where it is a simple one.
func plainText(s string) string {
	if n := len(s); n >= 2 && (s[0] == '"' || s[0] == '\'') && s[n-1] == s[0] {
		return s[1 : n-1]
	}
	return s
}

func keyChanges(old, new Step) []KeyChange {
	out := []KeyChange{}
	was, is := map[string]string{}, map[string]string{}
	var names []string
	for _, k := range old.Keys {
		was[k.Name] = k.Text
		names = append(names, k.Name)
	}
	for _, k := range new.Keys {
		is[k.Name] = k.Text
		names = append(names, k.Name)
	}
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		before, hadIt := was[name]
		after, hasIt := is[name]
		if hadIt == hasIt && before == after {
			continue
		}
		change := KeyChange{Key: name}
		if hadIt {
			change.Old = &before
		}
		if hasIt {
			change.New = &after
		}
		out = append(out, change)
	}
	return out
}
