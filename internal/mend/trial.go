package mend

import (
	"context"
	"errors"
	"slices"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// trial is the sheet after some edits, built and judged.
type trial struct {
	moves []move
	text  []byte
	steps []handle
	sheet *sheet.Sheet

	findings []rulebook.Finding
	broke    bool    // a rule broke: nothing is proved
	film     float64 // mil of everything laid, the middle of each
	minutes  float64 // the clock's length, its middle
	tops     []string
}

// try builds and judges a text.
func (m *Mender) try(ctx context.Context, file string, text []byte) (*trial, []sheet.Problem, error) {
	s, problems := m.Reader.ReadText(file, text)
	if len(problems) > 0 {
		return nil, problems, nil
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil, problems, nil
	}
	result, problems, err := m.Judge(ctx, s, doc)
	if err != nil || len(problems) > 0 {
		return nil, problems, err
	}
	t := &trial{text: text, sheet: s, findings: result.Findings, broke: len(result.Broke) > 0}
	for i := range s.Steps {
		t.steps = append(t.steps, handle(i+1))
	}
	t.measure(doc)
	return t, nil, nil
}

func (t *trial) measure(doc *stack.Document) {
	for _, l := range doc.Layers {
		if l.Existing || l.Substrate || l.FilmLaid.Open {
			continue
		}
		t.film += middle(l.FilmLaid)
	}
	t.minutes = middle(doc.Sheet.Elapsed)
	for _, z := range doc.Zones {
		if z.Parent != "" {
			continue
		}
		// What the sheet is for: the colors and clears a zone ends with, and
		// whether it ends under a film at all.
		top := z.Name + ":"
		for _, id := range z.Layers {
			l := doc.LayersByID[id]
			if c := l.Traits.Class; !l.Existing && (c == "color" || c == "clear" || c == "coating") {
				top += " " + l.Card
			}
		}
		if len(z.Layers) > 1 {
			top += " over films"
		}
		t.tops = append(t.tops, top)
	}
}

func middle(m stack.Measure) float64 {
	if m.Hi == nil {
		return m.Lo
	}
	return (m.Lo + *m.Hi) / 2
}

// edited is a text after a move, and the handles of its steps.
func edited(file string, text []byte, steps []handle, mv move) ([]byte, []handle, error) {
	at := slices.Index(steps, mv.anchor)
	if at < 0 {
		return nil, nil, errors.New("the step it stands at is not there")
	}
	sc, err := newScript(file, text)
	if err != nil {
		return nil, nil, err
	}
	switch mv.kind {
	case "drop":
		text, err = sc.drop(at + 1)
		return text, slices.Delete(slices.Clone(steps), at, at+1), err
	case "set":
		text, err = sc.write(at+1, mv.set, mv.drop)
		return text, steps, err
	}
	if mv.after {
		at++
	}
	text, err = sc.insert(at+1, mv.set)
	return text, slices.Insert(slices.Clone(steps), at, mv.id), err
}

// spot is what a finding says and where, in words that hold through edits.
type spot struct {
	rule string
	step handle
	zone string
	on   string // of a finding that stands at no step
}

// spots are the places of a finding, one a zone.
func (t *trial) spots(f rulebook.Finding) []spot {
	s := spot{rule: f.Rule}
	if f.Step != nil && *f.Step >= 1 && *f.Step <= len(t.steps) {
		s.step = t.steps[*f.Step-1]
	} else {
		s.on = f.On
	}
	if len(f.Zones) == 0 {
		return []spot{s}
	}
	out := make([]spot, len(f.Zones))
	for i, z := range f.Zones {
		out[i] = s
		out[i].zone = z
	}
	return out
}

var gravity = map[string]int{"advice": 1, "risk": 2, "fails": 3}

// grades are how gravely each spot is spoken of.
func (t *trial) grades() map[spot]int {
	out := map[spot]int{}
	for _, f := range t.findings {
		for _, s := range t.spots(f) {
			out[s] = max(out[s], gravity[f.Grade])
		}
	}
	return out
}

// toPerson: the finding is about what protects a person and no edit answers it.
func toPerson(f rulebook.Finding) bool { return f.Family == "people" && len(f.Mend) == 0 }
