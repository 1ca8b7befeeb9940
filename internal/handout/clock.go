package handout

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"

	"guidecoat/internal/picture"
	"guidecoat/internal/plan"
	"guidecoat/internal/quantity"
)

// clock is the plan of the days, with its windows.
func (b *builder) clock() error {
	p := b.in.Plan
	c := clock{
		From: said(plan.Wall(p.From, plan.Nearest) + " " + p.From[:4] + " (" + b.in.Whose + ")"),
		Day:  said(p.Day[0] + " to " + p.Day[1] + ", every day of the week; waits run through the night"),
	}
	if p.Day == [2]string{"00:00", "24:00"} {
		c.Day = "the shop never shuts"
	}
	if p.Ready != nil {
		c.Ready = said(plan.Spoken(p.Ready, plan.Up) + ", the last wait counted")
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		h := hours{N: s.Step, Title: said(b.title(&b.s.Steps[s.Step-1])), Starts: said(plan.Spoken(&s.Start, plan.Nearest)), Ends: said(plan.Spoken(&s.End, plan.Nearest))}
		switch {
		case s.Overruns:
			h.Note = "takes longer than a working day, and runs past its end"
		case s.Held:
			h.Note = "waits for the shop to open"
		}
		c.Steps = append(c.Steps, h)
	}
	for i := range p.Windows {
		c.Windows = append(c.Windows, windowOf(&p.Windows[i]))
	}
	for _, o := range p.Open {
		words := o.Why
		if o.Step > 0 {
			words = fmt.Sprintf("Before step %d: %s", o.Step, o.Why)
		}
		c.Open = append(c.Open, said(words))
	}
	c.Untimed = p.Untimed
	if len(p.Steps) > 0 {
		const caption = "The days, with every window under the step that makes use of it"
		svg, err := svgOf("clock", clockWide, func(buf *bytes.Buffer, o picture.SVGOptions) error {
			o.Title = caption
			return picture.ClockSVG(buf, p, o)
		})
		if err != nil {
			return err
		}
		c.Figure = &figure{ID: "clock-drawing", Caption: caption, SVGs: []template.HTML{svg}}
	}
	b.v.Clock = c
	return nil
}

// windowOf is a window as a row of the table.
func windowOf(w *plan.Window) window {
	out := window{
		Film: said(fmt.Sprintf("%s of step %d", w.Film, w.FilmStep)), Zones: said(strings.Join(w.Zones, ", ")),
		Step: w.Step, Planned: said(plan.Spoken(&w.Planned, plan.Nearest)),
	}
	open := func(words string) { out.Opens = append(out.Opens, said(words)) }
	note := func(words string) { out.Says = append(out.Says, said(words)) }
	switch w.For {
	case "recoat":
		switch {
		case w.Source == "none" || w.Opens == nil && w.Shuts == nil && !w.Never:
			open("no window given")
			note("neither its card nor its kind gives one")
			return out
		case w.Never:
			open("never, unabraded")
		case w.Opens == nil:
			open("no least wait given")
		default:
			open("from " + plan.Spoken(w.Opens, plan.Up))
		}
		switch {
		case w.Shuts != nil:
			open("until " + plan.Spoken(w.Shuts, plan.Down))
		case !w.Never:
			open("no last moment given")
		}
		switch {
		case w.Abraded:
			note("abraded before, so that the shutting no longer binds")
		case w.Last != nil && w.Slack != nil && *w.Slack < 0:
			note(plan.HoursLong(-*w.Slack) + " after the last moment, " + plan.Wall(*w.Last, plan.Down) + ": a scuff is due")
		case w.Last != nil && w.Slack != nil:
			note(plan.HoursLong(*w.Slack) + " before the last moment, " + plan.Wall(*w.Last, plan.Down))
		}
	case "dead time":
		open("dead: lifts if recoated")
		open("from " + plan.Spoken(w.Shuts, plan.Down))
		open("until " + plan.Spoken(w.Opens, plan.Up))
	default:
		open("ready to " + w.For)
		open("from " + plan.Spoken(w.Opens, plan.Up))
	}
	note(strings.TrimSpace(plan.SourceWords(w.Source)))
	if w.Factor != 1 {
		note(fmt.Sprintf("the least wait is %s times as long at this panel temperature", quantity.FormatNumber(w.Factor)))
	}
	if w.Baked {
		note("a bake counted")
	}
	return out
}
