package handout

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"guidecoat/internal/rulebook"
)

// findings teaches what was found: a rule once, with every place it is broken.
// The gravest come first.
func (b *builder) findings() {
	b.about = map[int][]ref{}
	result := b.in.Judged.Result
	var order []*finding
	taught := map[string]*finding{}
	for i := range result.Findings {
		f := &result.Findings[i]
		t := taughtOf(f)
		known, ok := taught[f.Rule]
		if ok && sameLesson(*known, t) {
			if rulebook.AtLeast(string(t.Grade), string(known.Grade)) {
				known.Grade = t.Grade
			}
		} else {
			known = &t
			taught[f.Rule] = known
			order = append(order, known)
		}
		known.Places = append(known.Places, placeOf(f))
	}
	slices.SortStableFunc(order, func(x, y *finding) int {
		switch {
		case x.Grade == y.Grade:
			return 0
		case rulebook.AtLeast(string(x.Grade), string(y.Grade)):
			return -1
		}
		return 1
	})
	for i, f := range order {
		f.N = i + 1
		for _, p := range f.Places {
			if p.Step > 0 {
				b.about[p.Step] = append(b.about[p.Step], ref{N: f.N, Grade: p.Grade, Text: p.Message})
			}
		}
		for _, s := range f.Sources {
			b.rests("Finding: "+string(f.Rule), string(s))
		}
		b.v.Findings = append(b.v.Findings, *f)
	}
	for i := range result.Waived {
		b.v.Waived = append(b.v.Waived, waivedOf(&result.Waived[i]))
	}
	for _, o := range result.Off {
		b.v.Off = append(b.v.Off, fact{said(o.Rule), said(o.Reason)})
	}
}

// taughtOf is a finding's lesson, without its place.
func taughtOf(f *rulebook.Finding) finding {
	t := finding{
		Title: said(headline(f.Rule)), Rule: said(f.Rule), Grade: said(f.Grade), Becomes: said(f.Defect), Remedy: paragraphs(f.Remedy),
		Signal: said(f.Safety.Signal), Caution: said(f.Safety.Text),
	}
	t.Mechanism, t.Look, t.Tell = lesson(f.Why)
	for _, s := range f.Source {
		t.Sources = append(t.Sources, said(s))
	}
	return t
}

// headline is a rule's name as words: window-missed, "Window missed".
func headline(rule string) string {
	words := strings.ReplaceAll(rule, "-", " ")
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

func sameLesson(x, y finding) bool {
	x.Places, y.Places, x.Grade, y.Grade = nil, nil, "", ""
	return reflect.DeepEqual(x, y)
}

func placeOf(f *rulebook.Finding) place {
	p := place{Grade: said(f.Grade), Certainty: said(f.Certainty), Message: said(f.Message), Leaned: said(strings.Join(f.Leaned, ", "))}
	if f.Step != nil {
		p.Step = *f.Step
	}
	p.Where = said(whereOf(f))
	return p
}

// whereOf tells zones and the line of the sheet.
func whereOf(f *rulebook.Finding) string {
	line := fmt.Sprintf("line %d of %s", f.Line, f.File)
	if f.Line == 0 {
		line = f.File
	}
	if len(f.Zones) == 0 {
		return line
	}
	return strings.Join(f.Zones, ", ") + "; " + line
}

func waivedOf(f *rulebook.Finding) waived {
	w := waived{Rule: said(f.Rule), Message: said(f.Message), Where: said(whereOf(f))}
	if f.Waiver != nil {
		w.Reason = said(f.Waiver.Reason)
		if f.Waiver.By != nil {
			w.By = said(*f.Waiver.By)
		}
		if f.Waiver.Until != nil {
			w.Until = said(*f.Waiver.Until)
		}
	}
	if f.People {
		w.Signal, w.Caution = said(f.Safety.Signal), said(f.Safety.Text)
	}
	return w
}

// How a rule's text goes on from what happens in the film to what it looks
// like, and from there to how to tell in the shop.
var (
	looks = []string{"It looks ", "They look ", "You see ", "Looks like ", "What you get", "What comes of it looks"}
	tells = []string{"In the shop:"}
)

// lesson parts a rule's text into what happens, what it looks like and how to
// tell in the shop. What does not go that way is all of it what happens.
func lesson(why string) (mechanism, look, tell []said) {
	at := opening(why, looks)
	if at < 0 {
		at = len(why)
	}
	to := opening(why, tells)
	switch {
	case to < 0:
		to = len(why)
	case to < at:
		at = to
	}
	return paragraphs(why[:at]), paragraphs(why[at:to]), paragraphs(why[to:])
}

// opening is where the first sentence begins that opens with one of the
// words, -1 where none does.
func opening(text string, words []string) int {
	first := -1
	for _, w := range words {
		for i := 0; ; {
			j := strings.Index(text[i:], w)
			if j < 0 {
				break
			}
			j += i
			before := strings.TrimRight(text[:j], " \n")
			if before == "" || strings.HasSuffix(before, ".") || strings.HasSuffix(before, ")") {
				if first < 0 || j < first {
					first = j
				}
				break
			}
			i = j + len(w)
		}
	}
	return first
}
