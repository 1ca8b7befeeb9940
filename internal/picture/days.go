package picture

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"guidecoat/internal/plan"
	"guidecoat/internal/printable"
)

// ClockSVG draws the plan of the days as SVG: a bar for every step over the
// shop's working days, solid where the step is surely going on and hatched
// where it may be, and under each step the windows it makes use of, with when
// they shut and the last moment before a scuff is due. Nights are drawn narrow,
// and days on which nothing happens as a break. The error is the writer's.
func ClockSVG(w io.Writer, p *plan.Plan, o SVGOptions) error {
	return writeSVG(w, drawDays(p, o), o)
}

// What the bars of a plan are filled with.
var (
	fillAct     = &hatch{name: "act", ground: ink{0x2c, 0x4f, 0x74}}
	fillWait    = &hatch{name: "wait", ground: ink{0xa9, 0xb7, 0xc4}, marks: ink{0x1f, 0x33, 0x46}, w: 4, h: 4, dots: []hatchDot{{at: point{2, 2}, r: 0.8}}}
	fillPerhaps = &hatch{name: "perhaps", ground: white, marks: ink{0x2c, 0x4f, 0x74}, w: 5, h: 5, lines: rising(5, 5, 1.1)}
	fillOpen    = &hatch{name: "open", ground: ink{0xd3, 0xe8, 0xd0}, marks: ink{0x1e, 0x5b, 0x2a}, w: 6, h: 4, lines: []hatchLine{{point{-1, 2}, point{7, 2}, 1}}}
	fillMaybe   = &hatch{name: "maybe-open", ground: white, marks: ink{0x1e, 0x5b, 0x2a}, w: 6, h: 5, lines: falling(6, 5, 1)}
	fillDead    = &hatch{name: "dead", ground: ink{0xee, 0xd9, 0xd0}, marks: danger, w: 6, h: 6, lines: append(rising(6, 6, 1), falling(6, 6, 1)...)}
	fillNight   = &hatch{name: "night", ground: ink{0xe4, 0xe6, 0xe8}}
)

// axis maps the wall clock to the drawing: working hours even, nights narrow,
// empty days as a break. It runs through knots, straight between them.
type axis struct {
	at     []int64
	x      []float64
	days   []axisDay
	breaks []axisBreak
}

// axisDay is one day that is drawn: its working hours.
type axisDay struct {
	midnight    int64
	opens, shut float64 // x
}

// axisBreak stands for days on which nothing happens.
type axisBreak struct {
	from, to float64 // x
	days     int
}

const (
	dayLong    = 24 * 60 * 60
	nightShare = 0.07 // of the working hours' width, before and after them
	breakShare = 0.3
)

// axisOf lays the days on which something happens side by side from left to right.
func axisOf(times []int64, day [2]int64, left, right float64) *axis {
	slices.Sort(times)
	has := map[int64]bool{}
	for _, t := range times {
		d := floorDay(t)
		if t == d && t > times[0] { // midnight ends the day before
			d -= dayLong
		}
		has[d] = true
	}
	var days []int64
	for d := range has {
		days = append(days, d)
	}
	slices.Sort(days)
	opens, shuts := day[0], day[1]
	if shuts <= opens {
		opens, shuts = 0, dayLong
	}
	hours := float64(shuts - opens)
	before, after := nightShare*hours, nightShare*hours
	if opens == 0 {
		before = 0
	}
	if shuts == dayLong {
		after = 0
	}
	total := 0.0
	for i, d := range days {
		total += before + hours + after
		if i > 0 && d-days[i-1] > dayLong {
			total += breakShare * hours
		}
	}
	a := &axis{}
	x, scale := left, (right-left)/total
	knot := func(t int64) {
		a.at, a.x = append(a.at, t), append(a.x, x)
	}
	for i, d := range days {
		if i > 0 && d-days[i-1] > dayLong {
			from := x
			x += breakShare * hours * scale
			a.breaks = append(a.breaks, axisBreak{from, x, int((d-days[i-1])/dayLong) - 1})
		}
		knot(d)
		x += before * scale
		at := axisDay{midnight: d, opens: x}
		knot(d + opens)
		x += hours * scale
		at.shut = x
		knot(d + shuts)
		x += after * scale
		knot(d + dayLong)
		a.days = append(a.days, at)
	}
	return a
}

func floorDay(t int64) int64 { return t - ((t%dayLong)+dayLong)%dayLong }

// of is where a time lies; times off the axis lie at its ends.
func (a *axis) of(t int64) float64 {
	i, _ := slices.BinarySearch(a.at, t)
	switch {
	case i == 0:
		return a.x[0]
	case i == len(a.at):
		return a.x[i-1]
	case a.at[i] == a.at[i-1]:
		return a.x[i]
	}
	share := float64(t-a.at[i-1]) / float64(a.at[i]-a.at[i-1])
	return a.x[i-1] + (a.x[i]-a.x[i-1])*share
}

// span is a moment in seconds of the wall clock; open where it has no latest.
type span struct {
	lo, hi int64
	open   bool
}

func spanOf(m plan.Moment) span {
	s := span{lo: wallSeconds(m.Earliest)}
	if m.Latest == nil {
		s.open = true
		s.hi = s.lo
	} else {
		s.hi = wallSeconds(*m.Latest)
	}
	return s
}

// wallSeconds reads a time as a plan writes it.
func wallSeconds(t string) int64 {
	at, err := time.Parse("2006-01-02T15:04:05", t)
	if err != nil {
		return 0
	}
	return at.Unix()
}

// clockSeconds reads "08:00" as seconds from midnight.
func clockSeconds(t string) int64 {
	var h, m int64
	if _, err := fmt.Sscanf(t, "%d:%d", &h, &m); err != nil {
		return 0
	}
	return (h*60 + m) * 60
}

// daysDrawer draws one plan.
type daysDrawer struct {
	*drawing
	p       *plan.Plan
	axis    *axis
	left    float64 // of the chart
	right   float64
	words   float64 // width of the words beside it
	stacked bool    // words above their bar
	end     int64   // of the axis
}

func drawDays(p *plan.Plan, o SVGOptions) *drawing {
	d := &drawing{width: o.width(), title: o.Title, desc: describeDays(p)}
	if d.title == "" {
		d.title = "Plan of the days: " + p.Title
	}
	w := &daysDrawer{drawing: d, p: p}
	inner := d.width - 2*margin
	y := margin
	if !o.Bare {
		y = w.paragraph(margin, y, inner, d.title, 16, true, black) + 4
	}
	if len(p.Steps) == 0 {
		y = w.paragraph(margin, y, inner, "The sheet has no steps: there is nothing to plan.", bodySize, false, black)
	} else {
		w.stacked = inner < 560
		w.words, w.left, w.right = inner, margin, margin+inner-24
		if !w.stacked {
			w.words = min(inner*0.42, 330)
			w.left = margin + w.words + 12
		}
		w.axis = axisOf(w.times(), [2]int64{clockSeconds(p.Day[0]), clockSeconds(p.Day[1])}, w.left, w.right)
		y = w.chart(y)
	}
	if !o.Bare {
		y = w.key(y + 6)
	}
	for _, note := range o.Notes {
		y = w.paragraph(margin, y+2, inner, note, noteSize, false, black)
	}
	d.height = math.Ceil(y + margin/2)
	return d
}

// times are all moments the axis has to hold: those of the steps, and of the
// windows those that fall between.
func (w *daysDrawer) times() []int64 {
	out := []int64{wallSeconds(w.p.From)}
	for _, s := range w.p.Steps {
		for _, m := range []plan.Moment{s.Start, s.End} {
			at := spanOf(m)
			out = append(out, at.lo, at.hi)
		}
	}
	if w.p.Ready != nil {
		out = append(out, spanOf(*w.p.Ready).lo)
	}
	w.end = slices.Max(out)
	for _, win := range w.p.Windows {
		for _, m := range []*plan.Moment{win.Opens, win.Shuts} {
			if m == nil {
				continue
			}
			at := spanOf(*m)
			for _, t := range []int64{at.lo, at.hi} {
				if t <= w.end {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

const (
	rowText = 12.0
	barHigh = 13.0
)

// chart draws the days, the rows and what lies behind them.
func (w *daysDrawer) chart(y float64) float64 {
	head := y
	y += 34
	top := y
	behind := len(w.items)
	for i := range w.p.Steps {
		var mid float64
		mid, y = w.step(y, &w.p.Steps[i])
		first := y
		for j := range w.p.Windows {
			if w.p.Windows[j].Step == w.p.Steps[i].Step {
				y = w.window(y, &w.p.Windows[j])
			}
		}
		if y > first { // where the step stands in its windows
			x := w.axis.of(wallSeconds(w.p.Steps[i].Start.Earliest))
			w.broken(path{{x, mid + barHigh/2}, {x, y - 6}}, 2.5, black, 1)
		}
	}
	rows := append([]item{}, w.items[behind:]...)
	w.items = w.items[:behind]
	w.calendar(head, top, y)
	w.items = append(w.items, rows...)
	return y + 4
}

// calendar draws the days behind the rows, with their names on top.
func (w *daysDrawer) calendar(head, top, bottom float64) {
	a := w.axis
	w.area(rectangle(w.left, top-4, w.right-w.left, bottom-top+4), fillNight, pale, 0.5)
	hour := (a.days[0].shut - a.days[0].opens) * 3600 / float64(clockSeconds(w.p.Day[1])-clockSeconds(w.p.Day[0]))
	every := 0
	for _, n := range []int{1, 2, 3, 4, 6} {
		if hour*float64(n) >= 30 {
			every = n
			break
		}
	}
	free := w.left - 1
	for _, d := range a.days {
		w.area(rectangle(d.opens, top-4, d.shut-d.opens, bottom-top+4), plain(white), pale, 0.5)
		at := time.Unix(d.midnight, 0).UTC()
		for _, layout := range []string{"Mon 2 Jan 2006", "Mon 2 Jan", "2 Jan", "2"} {
			name := at.Format(layout)
			if wide := measure(name, noteSize, true); wide <= d.shut-d.opens || layout == "2" && d.opens > free {
				w.write(point{d.opens + 2, head + noteSize}, name, noteSize, true, fromLeft, black)
				free = d.opens + wide + 4
				break
			}
		}
		opens, shuts := clockSeconds(w.p.Day[0]), clockSeconds(w.p.Day[1])
		for h := opens / 3600; every > 0 && h*3600 < shuts; h++ {
			if h*3600 < opens || (h-opens/3600)%int64(every) != 0 {
				continue
			}
			x := a.of(d.midnight + h*3600)
			w.stroke(path{{x, top - 4}, {x, bottom}}, pale, 0.5)
			w.write(point{x + 1, head + 26}, fmt.Sprintf("%02d", h), 10, false, fromLeft, grey)
		}
	}
	for _, b := range a.breaks {
		w.area(rectangle(b.from, top-4, b.to-b.from, bottom-top+4), plain(white), pale, 0.5)
		mid := (b.from + b.to) / 2
		w.broken(path{{mid - 2, top - 4}, {mid - 2, bottom}}, 3, grey, 1)
		w.broken(path{{mid + 2, top - 4}, {mid + 2, bottom}}, 3, grey, 1)
		words := fmt.Sprintf("%d days", b.days)
		if b.days == 1 {
			words = "1 day"
		}
		if measure(words, 10, false) > b.to-b.from {
			words = fmt.Sprint(b.days)
		}
		w.write(point{mid, head + 26}, words, 10, false, fromMiddle, grey)
	}
}

// row lays a row's words and tells the middle of its bar and where it ends.
func (w *daysDrawer) row(y, indent float64, name, details string, bold bool) (mid, end float64) {
	top := y
	width := w.words - indent
	y = w.paragraph(margin+indent, y, width, name, rowText, bold, black)
	y = w.paragraph(margin+indent, y, width, details, 10.5, false, grey)
	if w.stacked {
		return y + barHigh/2 + 2, y + barHigh + 10
	}
	return top + barHigh/2 + 2, max(y, top+barHigh+2) + 5
}

// step draws one step, and tells the middle of its bar and where its row ends.
func (w *daysDrawer) step(y float64, s *plan.Planned) (mid, bottom float64) {
	name := fmt.Sprintf("%d  %s", s.Step, strings.ReplaceAll(s.Do, "_", " "))
	if s.What != "" {
		name += ", " + s.What
	}
	if len(s.Zones) > 0 {
		name += " (" + someOf(s.Zones) + ")"
	}
	start, end := spanOf(s.Start), spanOf(s.End)
	details := plan.Spoken(&s.Start, plan.Nearest)
	if s.Start.Earliest != s.End.Earliest || end.open != start.open || end.hi != start.hi {
		details += ", ends " + plan.Spoken(&s.End, plan.Nearest)
	} else if !s.Waits {
		details += ", no time written"
	}
	if s.Held {
		details += "; waits for the shop to open"
	}
	if s.Overruns {
		details += "; runs past the working day"
	}
	if len(w.items) > 0 {
		w.stroke(path{{margin, y - 3}, {w.right, y - 3}}, pale, 0.5)
	}
	mid, bottom = w.row(y, 0, name, details, true)
	fill := fillAct
	if s.Waits {
		fill = fillWait
	}
	w.bar(mid, barHigh, start, end, fill, fillPerhaps)
	return mid, bottom
}

// someOf names zones, and counts those that are too many to be named.
func someOf(zones []string) string {
	const most = 6
	if len(zones) <= most {
		return strings.Join(zones, ", ")
	}
	return fmt.Sprintf("%s and %d more zones", strings.Join(zones[:most-1], ", "), len(zones)-most+1)
}

// bar draws what goes on from one moment to another: solid where it surely
// does, hatched where it may, with an arrow where it has no end.
func (w *daysDrawer) bar(mid, high float64, from, to span, sure, perhaps *hatch) {
	x := func(t int64) float64 { return w.axis.of(t) }
	top := mid - high/2
	a, b := x(from.lo), x(to.hi)
	open := to.open || from.open
	if open {
		b = max(x(to.lo), a)
		w.arrow(mid, b, high, perhaps)
	}
	if !open && from.lo == from.hi && to.lo == to.hi {
		if from.lo == to.lo {
			w.diamond(a, mid, high, sure)
			return
		}
		w.area(rectangle(a, top, max(b-a, 3), high), sure, black, 0.8)
		return
	}
	w.area(rectangle(a, top, max(b-a, 3), high), perhaps, black, 0.8)
	if !from.open && from.hi < to.lo {
		c := x(from.hi)
		w.area(rectangle(c, top, max(x(to.lo)-c, 3), high), sure, black, 0.8)
	}
}

// diamond is what takes no time.
func (w *daysDrawer) diamond(x, mid, high float64, fill *hatch) {
	w.area(path{{x, mid - high/2}, {x + high/2, mid}, {x, mid + high/2}, {x - high/2, mid}}, fill, black, 0.8)
}

// flag is the last moment before a scuff is due.
func (w *daysDrawer) flag(x, mid, high float64) {
	w.stroke(path{{x, mid - high}, {x, mid + high}}, danger, 2.4)
	w.area(path{{x, mid - high}, {x + 9, mid - high + 3.5}, {x, mid - high + 7}}, plain(danger), danger, 0.8)
}

// arrow goes on to the right from x: nobody says how far.
func (w *daysDrawer) arrow(mid, x, high float64, fill *hatch) {
	x = min(x, w.right)
	w.area(path{{x, mid - high/2}, {x + 12, mid - high/2}, {x + 20, mid}, {x + 12, mid + high/2}, {x, mid + high/2}}, fill, black, 0.8)
}

// window draws what a step makes use of, under its step.
func (w *daysDrawer) window(y float64, win *plan.Window) float64 {
	name, details := windowWords(win)
	mid, bottom := w.row(y, 14, name, details, false)
	const high = 8.0
	switch {
	case win.For == "dead time":
		if win.Shuts != nil && win.Opens != nil {
			w.bar(mid, high, spanOf(*win.Shuts), spanOf(*win.Opens), fillDead, fillDead)
		}
	case win.Never || win.Opens == nil && win.Shuts == nil:
	default:
		from := span{lo: wallSeconds(w.p.From)}
		from.hi = from.lo
		if win.Opens != nil {
			from = spanOf(*win.Opens)
		} else if i := win.FilmStep; i >= 1 && i <= len(w.p.Steps) {
			from = spanOf(w.p.Steps[i-1].End)
		}
		w.opening(mid, high, from, win)
	}
	return bottom
}

// opening draws a window from its opening to its shutting.
func (w *daysDrawer) opening(mid, high float64, from span, win *plan.Window) {
	to := span{lo: w.end, hi: w.end}
	goesOn := win.Shuts == nil
	if !goesOn {
		to = spanOf(*win.Shuts)
		if goesOn = to.lo > w.end; goesOn {
			to = span{lo: w.end, hi: w.end}
		}
	}
	if from.lo >= w.end { // opens after the last step begins: nothing to show but where
		w.arrow(mid, w.axis.of(from.lo), high, fillMaybe)
		return
	}
	to.lo, to.hi = max(to.lo, from.lo), max(to.hi, from.lo)
	if goesOn {
		w.arrow(mid, w.axis.of(to.hi), high, fillOpen)
	}
	w.bar(mid, high, from, to, fillOpen, fillMaybe)
	if win.Last != nil && !win.Abraded {
		if last := wallSeconds(*win.Last); last <= w.end {
			w.flag(w.axis.of(last), mid, high)
		}
	}
}

// windowWords names a window and says its hours.
func windowWords(win *plan.Window) (name, details string) {
	of := fmt.Sprintf("%s of step %d", win.Film, win.FilmStep)
	switch win.For {
	case "dead time":
		return "dead time of " + of, plan.Spoken(win.Shuts, plan.Down) + " to " + plan.Spoken(win.Opens, plan.Up)
	case "recoat":
		name = "next film on " + of
		switch {
		case win.Never:
			details = "unabraded, it never opens for this film"
		case win.Opens == nil && win.Shuts == nil:
			return name, "neither its card nor its kind gives a window"
		case win.Opens == nil:
			details = "no least wait given"
		default:
			details = "opens " + plan.Spoken(win.Opens, plan.Up)
		}
		switch {
		case win.Shuts == nil:
			details += ", no last moment given"
		case win.Abraded:
			details += ", shuts " + plan.Spoken(win.Shuts, plan.Down) + " (abraded before, so that this no longer binds)"
		default:
			details += ", shuts " + plan.Spoken(win.Shuts, plan.Down)
			if win.Last != nil {
				details += "; last moment before a scuff is due " + plan.Wall(*win.Last, plan.Down)
			}
			if win.Slack != nil && *win.Slack < 0 {
				details += ", and the plan comes " + plan.HoursLong(-*win.Slack) + " after it"
			}
		}
	default:
		name, details = of+", ready to "+win.For, plan.Spoken(win.Opens, plan.Up)
	}
	return name, details + "," + plan.SourceWords(win.Source)
}

// key says what the bars and signs are.
func (w *daysDrawer) key(y float64) float64 {
	inner := w.width - 2*margin
	w.stroke(path{{margin, y}, {margin + inner, y}}, pale, 1)
	k := &legend{drawing: w.drawing, left: margin, right: margin + inner, x: margin, y: y + 8}
	box := func(fill *hatch) func(x, y float64) {
		return func(x, y float64) { w.area(rectangle(x, y+1, 28, barHigh), fill, black, 0.8) }
	}
	k.put(28, "step, surely going on", box(fillAct))
	k.put(28, "wait or store", box(fillWait))
	k.put(28, "between earliest and latest", box(fillPerhaps))
	k.put(14, "no time written", func(x, y float64) { w.diamond(x+7, y+7, barHigh, fillAct) })
	k.put(22, "goes on, nobody says how long", func(x, y float64) { w.arrow(y+7, x, barHigh, fillPerhaps) })
	k.put(28, "window open", box(fillOpen))
	k.put(28, "perhaps open", box(fillMaybe))
	k.put(28, "dead time", box(fillDead))
	k.put(14, "last moment before a scuff is due", func(x, y float64) { w.flag(x+3, y+7, 7) })
	k.put(12, "where its step begins", func(x, y float64) { w.broken(path{{x + 6, y}, {x + 6, y + 14}}, 2.5, black, 1) })
	k.put(28, "shop shut (drawn narrow)", box(fillNight))
	y = k.end()
	words := "Working day " + w.p.Day[0] + " to " + w.p.Day[1] + ", every day of the week; waits run through the night. A window is never drawn to open sooner or to shut later than it does. " +
		"The nights this plan adds are not on the sheet, and 'inspect' judges the sheet as written: a plan shows hours, never that work is safe."
	return w.paragraph(margin, y, inner, words, noteSize, false, grey)
}

// describeDays tells the plan in words, for those who do not see it.
func describeDays(p *plan.Plan) string {
	if len(p.Steps) == 0 {
		return "The sheet has no steps: there is nothing to plan."
	}
	var said []string
	for i := range p.Steps {
		s := &p.Steps[i]
		words := fmt.Sprintf("Step %d, %s", s.Step, strings.ReplaceAll(s.Do, "_", " "))
		if s.What != "" {
			words += " " + s.What
		}
		words += ": starts " + plan.Spoken(&s.Start, plan.Nearest) + ", ends " + plan.Spoken(&s.End, plan.Nearest) + "."
		for j := range p.Windows {
			if p.Windows[j].Step == s.Step {
				name, details := windowWords(&p.Windows[j])
				words += " " + strings.ToUpper(name[:1]) + name[1:] + ": " + details + "."
			}
		}
		said = append(said, words)
	}
	return printable.Visible(strings.Join(said, " "))
}
