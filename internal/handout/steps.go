package handout

import (
	"bytes"
	"fmt"
	"html/template"
	"reflect"
	"slices"
	"strings"

	"guidecoat/internal/picture"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// mostDrawn is how many drawings a page may hold, steps times zones: a stack is
// built for every step, and every zone of it drawn.
const mostDrawn = 1500

// drawnWide is the width of the drawings in CSS pixels: that of a phone, so
// that their words can be read on one; they are scaled up where there is room.
const drawnWide = 360

// clockWide is the width of the clock picture, which needs room for its days.
const clockWide = 800

// steps tells every step, and draws what has changed after it.
func (b *builder) steps() error {
	stages := len(b.s.Steps)*len(b.doc.Zones) <= mostDrawn
	if !stages {
		b.v.Undrawn = said(fmt.Sprintf("The sheet has %d steps on %d zones, too many to draw after each; the stack at the end is drawn.", len(b.s.Steps), len(b.doc.Zones)))
	}
	var before []picture.Column
	if stages {
		start, err := b.stackAfter(0)
		if err != nil {
			return err
		}
		before = picture.Columns(start, nil)
		if b.v.First, err = drawing("start-drawing", "The panel as it comes in", before); err != nil {
			return err
		}
	}
	marks, _ := picture.Marks(b.doc, b.in.Judged.Result.Findings)
	for i := range b.s.Steps {
		st := &b.s.Steps[i]
		out := b.step(st)
		if stages {
			now, err := b.stackAfter(st.N)
			if err != nil {
				return err
			}
			cols := picture.Columns(now, about(picture.AsOf(marks, b.doc, st.N), st.N))
			if changed := changes(before, cols); len(changed) > 0 {
				shown, same := parted(cols, changed)
				if out.Figure, err = drawing(fmt.Sprintf("step-%d-drawing", st.N), fmt.Sprintf("After step %d", st.N), shown); err != nil {
					return err
				}
				if len(same) > 0 {
					kept, err := drawing(fmt.Sprintf("step-%d-same", st.N), "As it was before", same)
					if err != nil {
						return err
					}
					out.Figure.Same = kept.SVGs
				}
				out.Tell += said(" The films now, from the top down: " + told(shown))
			}
			before = cols
		}
		b.v.Steps = append(b.v.Steps, out)
	}
	final := picture.Columns(b.doc, marks)
	var err error
	if b.v.Final, err = drawing("end-drawing", "The stack at the end", final); err != nil {
		return err
	}
	b.v.Key, err = key()
	return err
}

// stackAfter is the stack as it stands after the first n steps.
func (b *builder) stackAfter(n int) (*stack.Document, error) {
	if n == len(b.s.Steps) {
		return b.doc, nil
	}
	cut := *b.s
	cut.Steps = cut.Steps[:n]
	doc, problems := stack.Build(&cut)
	if len(problems) > 0 {
		return nil, fmt.Errorf("the stack after step %d cannot be built: %s", n, problems[0].Message)
	}
	return doc, nil
}

// step tells one step.
func (b *builder) step(st *sheet.Step) step {
	facts := b.doc.Steps[st.N-1]
	out := step{
		N: st.N, Title: said(b.title(st)), Says: says(st), Plain: said(b.plain(st)), Facts: b.stepFacts(st),
		Then: said(written(st.ThenWait)), Cup: b.cupsOf[st.N] != nil, Findings: b.about[st.N],
	}
	for _, w := range st.Wear.Values {
		out.Wear = append(out.Wear, said(w))
	}
	list := hazardsOf(facts, b.mixes[st.N])
	for _, h := range list {
		c := cautions[h]
		out.Cautions = append(out.Cautions, signal{said(c.signal), said(c.name + ": " + c.short + ".")})
		b.hazards[h] = append(b.hazards[h], st.N)
	}
	if strings.TrimSuffix(string(out.Plain), ".") == string(out.Title) {
		out.Plain = "" // the heading says it all
	}
	out.Bare = len(out.Wear) == 0 && (len(list) > 0 || st.Do != "wait" && st.Do != "store" && st.Do != "inspect")
	out.Tell = said(strings.TrimSpace(fmt.Sprintf("Step %d of %d: %s. %s", st.N, len(b.s.Steps), out.Title, out.Plain)))
	return out
}

// says is what a step says to the technician, in its own lines.
func says(st *sheet.Step) []said { return lines(strings.Join(st.Says.Values, "\n")) }

// about are the marks that are about a step.
func about(marks []picture.Mark, step int) []picture.Mark {
	return slices.DeleteFunc(slices.Clone(marks), func(m picture.Mark) bool { return m.Step != step })
}

// changes are the zones whose films, or whose tooth, are not what they were,
// those that are new, and those with a mark on them.
func changes(before, now []picture.Column) map[string]bool {
	was := map[string][]picture.Film{}
	for _, c := range before {
		was[c.Zone] = lasting(c.Films)
	}
	out := map[string]bool{}
	for _, c := range now {
		old, there := was[c.Zone]
		marked := slices.ContainsFunc(c.Films, func(f picture.Film) bool { return len(f.Marks)+len(f.OnTop)+len(f.Within) > 0 })
		if !there || marked || !reflect.DeepEqual(old, lasting(c.Films)) {
			out[c.Zone] = true
		}
	}
	return out
}

// lasting are films without what passes: a wipe of the open face leaves the
// films as they were.
func lasting(films []picture.Film) []picture.Film {
	out := slices.Clone(films)
	for i := range out {
		out[i].Face.Touched, out[i].Face.Water = nil, false
		out[i].Marks, out[i].OnTop, out[i].Within = nil, nil, nil
	}
	return out
}

// parted are the columns of some zones, and the others.
func parted(cols []picture.Column, zones map[string]bool) (in, out []picture.Column) {
	for _, c := range cols {
		if zones[c.Zone] {
			in = append(in, c)
		} else {
			out = append(out, c)
		}
	}
	return in, out
}

// told is a drawing in words: each zone's films from the top down.
func told(cols []picture.Column) string {
	var zones []string
	for _, c := range cols {
		var films []string
		for _, f := range c.Films {
			words := f.Name
			if f.Text != "" {
				words += ", " + f.Text
			}
			films = append(films, words)
		}
		zones = append(zones, c.Zone+": "+strings.Join(films, "; "))
	}
	return strings.Join(zones, ". ")
}

// drawing draws zones, each by itself; those that look the same are one.
func drawing(id, caption string, cols []picture.Column) (*figure, error) {
	f := &figure{ID: said(id), Caption: said(caption)}
	for i, c := range alike(cols) {
		svg, err := svgOf(fmt.Sprintf("%s-%d", id, i+1), drawnWide, func(b *bytes.Buffer, o picture.SVGOptions) error {
			o.Title = caption
			return picture.SVG(b, []picture.Column{c}, o)
		})
		if err != nil {
			return nil, err
		}
		f.SVGs = append(f.SVGs, svg)
	}
	return f, nil
}

// alike joins the zones that look the same under all their names.
func alike(cols []picture.Column) []picture.Column {
	var out []picture.Column
	names := map[int][]string{}
	at := map[string]int{}
	for _, c := range cols {
		c.Films = slices.Clone(c.Films)
		for i := range c.Films {
			c.Films[i].Contact = "" // the zone's own
		}
		looks := fmt.Sprintf("%q %d %+v", c.Parent, c.CutStep, c.Films)
		i, known := at[looks]
		if !known {
			i = len(out)
			at[looks] = i
			out = append(out, c)
		} else {
			out[i].Area = ""
		}
		names[i] = append(names[i], c.Zone)
		out[i].Zone = strings.Join(names[i], " and ")
	}
	return out
}

// key is what the fills and signs of all drawings stand for.
func key() (*figure, error) {
	const caption = "What the fills and signs mean"
	svg, err := svgOf("key", drawnWide, func(b *bytes.Buffer, o picture.SVGOptions) error {
		o.Title = caption
		return picture.KeySVG(b, o)
	})
	return &figure{ID: "key", Caption: caption, SVGs: []template.HTML{svg}}, err
}

// svgOf is a drawing for the page; picture escapes every string in it.
func svgOf(id string, width int, write func(*bytes.Buffer, picture.SVGOptions) error) (template.HTML, error) {
	var b bytes.Buffer
	if err := write(&b, picture.SVGOptions{Width: width, IDPrefix: id + "-", Embedded: true, Bare: true}); err != nil {
		return "", fmt.Errorf("drawing %s: %w", id, err)
	}
	return template.HTML(b.String()), nil
}
