package cli

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"guidecoat/internal/picture"
	"guidecoat/internal/plan"
	"guidecoat/internal/printable"
	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// clock plans the days of a sheet.
func (p *program) clock() *cobra.Command {
	var as, house, out string
	var days daysFlags
	var width int
	c := &cobra.Command{
		Use:   "clock SHEET",
		Short: "When steps start and end, and when each window opens and shuts",
		Long: `Clock carries a sheet out by the wall clock, from a given hour and within the
shop's working day. Waits run through the night; an act that would begin out of
hours, or not end within them, waits for the next morning.

It shows when each film may take the next, and the last moment to lay that
before a scuff is due. Where nobody wrote how long a wait is, it says so: what
comes after is then only known to be no sooner.`,
		Args: oneSheet,
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", as, "text", "json", "ical", "svg"); err != nil {
				return err
			}
			if err := checkDrawing(c.Flags(), as, width); err != nil {
				return err
			}
			if err := days.check(); err != nil {
				return err
			}
			s, err := p.read(args[0], house)
			if err != nil {
				return err
			}
			doc, problems := stack.Build(s)
			if len(problems) > 0 {
				return p.refuse(args[0], problems)
			}
			made, start, whose, err := days.plan(s, doc)
			if err != nil {
				return err
			}
			return p.deliver(out, func(w io.Writer) error {
				switch as {
				case "json":
					return writeJSON(w, struct {
						Guidecoat printedBy `json:"guidecoat"`
						File      string    `json:"file"`
						FromWhose string    `json:"from_whose"`
						*plan.Plan
					}{printed(), shown(args[0]), whose, made})
				case "svg":
					return picture.ClockSVG(w, made, picture.SVGOptions{
						Title: "Plan of the days: " + titled(made.Title, made.Number, made.Revision), IDPrefix: "clock-", Width: width,
						Notes: []string{"From " + plan.Wall(made.From, plan.Nearest) + " " + made.From[:4] + " (" + whose + ")."}})
				case "ical":
					_, err := w.Write(calendar(made, start).Write())
					return err
				}
				return clockText(w, shown(args[0]), whose, made)
			})
		},
	}
	c.Flags().StringVar(&as, "as", "text", "how to print: text, json, ical or svg")
	days.add(c.Flags())
	c.Flags().IntVar(&width, "width", 800, "width of an SVG in `pixels`")
	c.Flags().StringVar(&house, "house", "", "use this house `file`")
	c.Flags().StringVar(&out, "out", "", "write to this `file` instead of the terminal")
	return c
}

// daysFlags are the flags of the commands that plan the days.
type daysFlags struct{ from, day string }

func (d *daysFlags) add(f *pflag.FlagSet) {
	f.StringVar(&d.from, "from", "", `the hour work begins, as "2026-03-02 08:00"; if not given, 08:00 on the sheet's date`)
	f.StringVar(&d.day, "day", "08:00-17:00", "the working day, as 08:00-17:00; every day of the week counts")
}

// check refuses what no sheet could make right.
func (d *daysFlags) check() error {
	_, err := workingDay(d.day)
	return err
}

// plan carries a sheet out by the wall clock, and tells from when and who says so.
func (d *daysFlags) plan(s *sheet.Sheet, doc *stack.Document) (made *plan.Plan, start time.Time, whose string, err error) {
	hours, err := workingDay(d.day)
	if err != nil {
		return nil, start, "", err
	}
	if start, whose, err = startOf(d.from, s); err != nil {
		return nil, start, "", err
	}
	if made, err = plan.Days(doc, plan.Options{From: start, Day: hours, LastWait: lastWait(s)}); err != nil {
		return nil, start, "", &statusError{exitWrong, err}
	}
	return made, start, whose, nil
}

// workingDay reads "08:00-17:00".
func workingDay(text string) (plan.Day, error) {
	bad := &statusError{exitWrong, fmt.Errorf("--day %q is not a working day like 08:00-17:00, its start before its end, neither before 00:00 nor after 24:00", text)}
	opens, shuts, ok := strings.Cut(text, "-")
	if !ok {
		return plan.Day{}, bad
	}
	a, okA := minutes(opens)
	b, okB := minutes(shuts)
	if !okA || !okB || a >= b {
		return plan.Day{}, bad
	}
	return plan.Day{Opens: a, Shuts: b}, nil
}

// minutes reads "08:00" or "8:00" as minutes from midnight; 24:00 is the end of a day.
func minutes(text string) (int, bool) {
	hours, mins, ok := strings.Cut(strings.TrimSpace(text), ":")
	if !ok || len(hours) < 1 || len(hours) > 2 || len(mins) != 2 {
		return 0, false
	}
	h, err := strconv.ParseUint(hours, 10, 8)
	m, err2 := strconv.ParseUint(mins, 10, 8)
	if err != nil || err2 != nil || m > 59 || h*60+m > 24*60 {
		return 0, false
	}
	return int(h*60 + m), true
}

// startOf is when work begins, and who says so.
func startOf(from string, s *sheet.Sheet) (at time.Time, whose string, err error) {
	if from != "" {
		for _, layout := range []string{"2006-01-02 15:04", "2006-01-02T15:04"} {
			if at, err := time.Parse(layout, strings.TrimSpace(from)); err == nil {
				return at, "as asked", nil
			}
		}
		return at, "", &statusError{exitWrong, fmt.Errorf("--from %q is not a date and an hour like \"2026-03-02 08:00\"", from)}
	}
	if s.Date.Written {
		y, m, d := s.Date.Value.Date()
		return time.Date(y, m, d, 8, 0, 0, 0, time.UTC), "08:00 on the sheet's date, as no other hour was asked for", nil
	}
	return time.Date(2026, 1, 5, 8, 0, 0, 0, time.UTC), "an example day: no hour was asked for, and the sheet has no date", nil
}

// lastWait is the wait written after the last step.
func lastWait(s *sheet.Sheet) quantity.Interval {
	if len(s.Steps) == 0 {
		return quantity.Interval{}
	}
	w := s.Steps[len(s.Steps)-1].ThenWait
	switch {
	case !w.Written:
		return quantity.Interval{}
	case w.Until != "":
		return quantity.Interval{Hi: math.Inf(1)}
	}
	return w.Interval
}

func clockText(w io.Writer, file, whose string, c *plan.Plan) error {
	var g page
	g.head("Plan of the days: " + titled(c.Title, c.Number, c.Revision))
	g.head(file)
	year := c.From[:4]
	g.line("from", plan.Wall(c.From, plan.Nearest)+" "+year+" ("+whose+")")
	if c.Day == [2]string{"00:00", "24:00"} {
		g.line("day", "the shop never shuts")
	} else {
		g.line("day", c.Day[0]+" to "+c.Day[1]+", every day of the week; waits run through the night")
	}
	day := ""
	for i, s := range c.Steps {
		if on := s.Start.Earliest[:10]; on != day {
			day = on
			at, err := time.Parse("2006-01-02", on)
			g.b.WriteString("\n")
			if err == nil {
				on = at.Format("Monday 2 January 2006")
			}
			g.head(on)
		}
		for _, o := range c.Open {
			if o.Step == s.Step {
				g.line("open", o.Why)
			}
		}
		words := s.Name + ": " + strings.ReplaceAll(s.Do, "_", " ")
		if s.What != "" {
			words += ", " + s.What
		}
		if len(s.Zones) > 0 {
			words += " (" + strings.Join(s.Zones, ", ") + ")"
		}
		g.line(clockHour(s.Start.Earliest), words)
		if s.Start.Latest == nil || *s.Start.Latest != s.Start.Earliest {
			g.line("", "starts "+plan.Spoken(&c.Steps[i].Start, plan.Nearest))
		}
		if s.End.Earliest != s.Start.Earliest || !sameEnds(s) {
			g.line("", "ends "+plan.Spoken(&c.Steps[i].End, plan.Nearest))
		}
		if s.Held {
			g.line("", "waits for the shop to open")
		}
		if s.Overruns {
			g.line("", "takes longer than a working day, and runs past its end")
		}
		for _, win := range c.Windows {
			if win.Step == s.Step {
				windowText(&g, win)
			}
		}
	}
	g.b.WriteString("\n")
	if c.Ready == nil {
		g.head("The sheet has no steps: there is nothing to plan.")
	} else {
		for _, o := range c.Open {
			if o.Step == 0 {
				g.line("open", o.Why)
			}
		}
		g.line("done", plan.Spoken(c.Ready, plan.Up)+", the last wait counted")
	}
	if len(c.Untimed) > 0 {
		does := " do not say how long they take: counted as no time"
		if len(c.Untimed) == 1 {
			does = " does not say how long it takes: counted as no time"
		}
		g.line("not timed", stepsNamed(c.Untimed)+does)
	}
	if c.Ready != nil {
		g.b.WriteString("\n")
		g.head("Card times are shown as the written panel temperature makes them. The nights this plan adds are not on the sheet, and 'inspect' judges the sheet as written: a plan shows hours, never that work is safe.")
	}
	_, err := io.WriteString(w, g.b.String())
	return err
}

// clockHour is the hour of a time of the plan.
func clockHour(t string) string {
	words := plan.Wall(t, plan.Nearest)
	return words[len(words)-5:]
}

// sameEnds: a step ends as it starts, at both its times.
func sameEnds(s plan.Planned) bool {
	return (s.Start.Latest == nil) == (s.End.Latest == nil) && (s.Start.Latest == nil || *s.Start.Latest == *s.End.Latest)
}

// windowText says what a window is for and how it stands to the plan.
func windowText(g *page, win plan.Window) {
	of := fmt.Sprintf("%s of step %d", win.Film, win.FilmStep)
	zones := " (" + strings.Join(win.Zones, ", ") + ")"
	from := plan.SourceWords(win.Source)
	if win.Factor != 1 {
		from += fmt.Sprintf("; the least wait is %s times as long at this panel temperature", quantity.FormatNumber(win.Factor))
	}
	if win.Baked {
		from += "; a bake counted"
	}
	switch win.For {
	case "recoat":
		if win.Source == "none" || win.Opens == nil && win.Shuts == nil && !win.Never {
			g.line("window", of+": neither its card nor its kind gives a recoat window"+zones)
			return
		}
		words := of + ": "
		switch {
		case win.Never:
			words += "unabraded, it never opens for this film"
		case win.Opens == nil:
			words += "no least wait given"
		default:
			words += "opens " + plan.Spoken(win.Opens, plan.Up)
		}
		if win.Shuts == nil {
			words += ", no last moment given"
		} else {
			words += ", shuts " + plan.Spoken(win.Shuts, plan.Down)
		}
		g.line("window", words+from+zones)
		switch {
		case win.Abraded:
			g.line("", "it is abraded before this step, so that the shutting no longer binds it")
		case win.Last != nil && win.Slack != nil && *win.Slack < 0:
			g.line("last moment", plan.Wall(*win.Last, plan.Down)+" before a scuff is due; the plan starts this "+plan.HoursLong(-*win.Slack)+" after it")
		case win.Last != nil && win.Slack != nil:
			g.line("last moment", plan.Wall(*win.Last, plan.Down)+" before a scuff is due; the plan starts this "+plan.HoursLong(*win.Slack)+" before it")
		}
	case "dead time":
		g.line("dead time", of+": from "+plan.Spoken(win.Shuts, plan.Down)+" to "+plan.Spoken(win.Opens, plan.Up)+from+zones)
	default:
		g.line("ready", of+", to "+win.For+": "+plan.Spoken(win.Opens, plan.Up)+from+zones)
	}
}

// calendar makes the plan's events: the earliest times, with the latest told in words.
func calendar(c *plan.Plan, stamp time.Time) plan.Calendar {
	out := plan.Calendar{
		Name: printable.Visible(titled(c.Title, c.Number, c.Revision)), Version: Version,
		UID: c.Number + "\x00" + c.Title, Stamp: stamp,
	}
	why := map[int][]string{}
	for _, o := range c.Open {
		why[o.Step] = append(why[o.Step], o.Why)
	}
	for i, s := range c.Steps {
		summary := s.Name + ": " + strings.ReplaceAll(s.Do, "_", " ")
		if s.What != "" {
			summary += ", " + s.What
		}
		told := []string{"starts " + plan.Spoken(&c.Steps[i].Start, plan.Nearest), "ends " + plan.Spoken(&c.Steps[i].End, plan.Nearest)}
		if len(s.Zones) > 0 {
			told = append([]string{strings.Join(s.Zones, ", ")}, told...)
		}
		told = append(told, why[s.Step]...)
		out.Events = append(out.Events, plan.Event{
			ID: fmt.Sprintf("step %d", s.Step), Start: c.Time(s.Start), End: c.Time(s.End),
			Summary: printable.Visible(summary), Text: lines(told), Busy: !s.Waits,
		})
	}
	seen := map[string]int{}
	for i := range c.Windows {
		win := &c.Windows[i]
		base := fmt.Sprintf("%s, film of step %d, step %d, %s", win.For, win.FilmStep, win.Step, strings.Join(win.Zones, "\x00"))
		seen[base]++
		id := fmt.Sprintf("%s, %d", base, seen[base])
		of := fmt.Sprintf("%s of step %d", win.Film, win.FilmStep)
		add := func(end, summary string, m *plan.Moment, round func(time.Time) time.Time) {
			out.Events = append(out.Events, plan.Event{
				ID: id + ", " + end, Start: round(c.Time(*m)), Summary: printable.Visible(summary),
				Text: lines([]string{plan.Spoken(m, round), "for step " + strconv.Itoa(win.Step) + ", " + strings.Join(win.Zones, ", ")}),
			})
		}
		switch {
		case win.For == "dead time":
			if win.Shuts != nil {
				add("begins", "dead time of "+of+" begins", win.Shuts, plan.Down)
			}
			if win.Opens != nil {
				add("ends", "dead time of "+of+" ends", win.Opens, plan.Up)
			}
		case win.For != "recoat":
			if win.Opens != nil {
				add("opens", of+" is ready to "+win.For, win.Opens, plan.Up)
			}
		default:
			if win.Opens != nil && !win.Never {
				add("opens", of+" takes the next film from now on", win.Opens, plan.Up)
			}
			if win.Shuts != nil && !win.Abraded {
				add("shuts", "last moment to lay a film over "+of+" before a scuff is due", win.Shuts, plan.Down)
			}
		}
	}
	return out
}

// lines puts lines of a description together, none of which can break another.
func lines(list []string) string {
	var out []string
	for _, l := range list {
		out = append(out, printable.Visible(l))
	}
	return strings.Join(out, "\n")
}
