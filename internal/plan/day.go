package plan

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"
	"time"

	"guidecoat/internal/quantity"
	"guidecoat/internal/stack"
)

// Day is when the shop works, in minutes from midnight; every day of the week
// counts. {0, 1440} is a shop that never shuts.
type Day struct{ Opens, Shuts int }

// Options is what a plan needs beside the sheet's facts.
type Options struct {
	From time.Time // the hour work may begin; a wall clock without a time zone
	Day  Day
	// LastWait is the wait written after the last step, min; the zero interval where none is.
	LastWait quantity.Interval
}

// Moment is a point of the wall clock that is known from somewhere on: no
// sooner than Earliest, no later than Latest; null where no end to it is known.
type Moment struct {
	Earliest string  `json:"earliest"` // 2026-03-02T08:00:00, no time zone
	Latest   *string `json:"latest"`

	lo int64  // seconds from the midnight the plan begins with
	hi *int64 // nil: open
}

// Plan is a sheet carried out by the wall clock.
type Plan struct {
	Title    string    `json:"title"`
	Number   string    `json:"number"`
	Revision string    `json:"revision"`
	From     string    `json:"from"`
	Day      [2]string `json:"day"` // "08:00", "17:00"
	Steps    []Planned `json:"steps"`
	Windows  []Window  `json:"windows"`
	// Ready: the end of the last step and of the wait written after it.
	Ready *Moment `json:"ready"`
	// Open: every wait that nobody put a length to, so that what follows it is only known to be no sooner.
	Open []Unsaid `json:"open"`
	// Untimed: the steps that do not say how long they take, and count as no time.
	Untimed []int `json:"untimed"`

	midnight time.Time
}

// Planned is one step on the wall clock.
type Planned struct {
	Step  int      `json:"step"`
	Name  string   `json:"name"`
	Do    string   `json:"do"`
	What  string   `json:"what"` // the product, cleaner or grade, "" where the verb says all
	Zones []string `json:"zones"`
	// Waits: it goes on by itself, through the night too (wait, store); everything else is an act.
	Waits bool   `json:"waits"`
	Start Moment `json:"start"`
	End   Moment `json:"end"`
	// Held: it would have begun out of hours, or not ended within them, and waits for the shop to open (at the earliest times).
	Held bool `json:"held"`
	// Overruns: it takes longer than a working day, and ends after hours.
	Overruns bool `json:"overruns"`
	Line     int  `json:"line"`
}

// Unsaid is one wait without an end.
type Unsaid struct {
	Step int    `json:"step"` // the step that comes after it
	Why  string `json:"why"`
}

// Window is the time in which something may follow a film.
type Window struct {
	// For: "recoat", "dead time", "fill", "sand", "tape" or "polish".
	For      string   `json:"for"`
	Film     string   `json:"film"`
	FilmStep int      `json:"film_step"`
	Step     int      `json:"step"` // the step that makes use of it
	Zones    []string `json:"zones"`
	// Opens: the film is ready; of a dead time: it is over. Null where no number is given.
	Opens *Moment `json:"opens"`
	// Shuts: unabraded, it takes no more; of a dead time: it begins. Null where there is no upper end.
	Shuts *Moment `json:"shuts"`
	// Last: the last moment to lay the next film, at the earliest times and the shorter end, before a scuff is due.
	Last *string `json:"last"`
	// Planned: when the step that uses it starts.
	Planned Moment `json:"planned"`
	// Slack: hours from that start to the shutting, at the earliest times; below 0 the plan comes after it. Null without a shutting.
	Slack *float64 `json:"slack"`
	// Abraded: the film is abraded before the step, so that the shutting no longer binds it.
	Abraded bool `json:"abraded"`
	// Never: unabraded, the film takes its own coats only, and was never open for this one.
	Never bool `json:"never"`
	// Baked: a bake stands in for the wait.
	Baked bool `json:"baked"`
	// Factor: how many times longer the panel's temperature makes the least wait; 1 where it makes it no longer or is not written.
	Factor float64 `json:"factor"`
	// Source: whose numbers these are: card, typical or limit; "none" where neither gives any.
	Source string `json:"source"`
}

const (
	secondsADay = 24 * 60 * 60
	wallClock   = "2006-01-02T15:04:05"
)

// errTooLong: no calendar holds the sheet.
var errTooLong = errors.New("the sheet runs past the year 9999, and no calendar holds that")

// starts is the first moment, from t on, at which an act of so many seconds can
// begin: within the working day, and ending within it; one that is longer than
// the day begins when the shop opens. It never makes a later t start sooner.
func (d Day) starts(t, lasts int64) (at int64, overruns bool) {
	opens, shuts := int64(d.Opens)*60, int64(d.Shuts)*60
	if opens == 0 && shuts == secondsADay {
		return t, false
	}
	day, off := t/secondsADay*secondsADay, t%secondsADay
	overruns = lasts > shuts-opens
	switch {
	case off <= opens:
		return day + opens, overruns
	case off < shuts && off+lasts <= shuts:
		return t, false
	}
	return day + secondsADay + opens, overruns
}

type planner struct {
	d      *stack.Document
	o      Options
	from   int64
	most   int64 // seconds to the end of the year 9999
	p      *Plan
	zoneOf map[string]string // parent by zone
	known  map[string]int    // windows by all that tells them apart but their zones
}

// Days plans a sheet from a given hour. The error is for a sheet that no
// calendar holds.
func Days(d *stack.Document, o Options) (*Plan, error) {
	y, m, day := o.From.Date()
	midnight := time.Date(y, m, day, 0, 0, 0, 0, time.UTC)
	h, mi, s := o.From.Clock()
	w := &planner{d: d, o: o, from: int64(h*3600 + mi*60 + s), zoneOf: map[string]string{}, known: map[string]int{}}
	w.most = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC).Unix() - midnight.Unix()
	w.p = &Plan{
		Title: d.Sheet.Title, Number: d.Sheet.Number, Revision: d.Sheet.Revision, midnight: midnight,
		Steps: []Planned{}, Windows: []Window{}, Open: []Unsaid{}, Untimed: []int{},
		Day: [2]string{hour(o.Day.Opens), hour(o.Day.Shuts)},
	}
	w.p.From = w.wall(w.from)
	for _, z := range d.Zones {
		w.zoneOf[z.Name] = z.Parent
	}
	if err := w.steps(); err != nil {
		return nil, err
	}
	w.windows()
	return w.p, nil
}

func hour(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

func (w *planner) wall(t int64) string {
	return w.p.at(t).Format(wallClock)
}

func (w *planner) moment(lo int64, hi *int64) Moment {
	m := Moment{Earliest: w.wall(lo), lo: lo}
	if hi != nil && *hi <= w.most {
		at := w.wall(*hi)
		m.Latest, m.hi = &at, hi
	}
	return m
}

// seconds is a time in minutes to the nearest second, no more than a calendar holds.
func seconds(minutes float64) int64 { return int64(math.Round(math.Min(minutes, 1e10) * 60)) }

// between is the time from one measure of the sheet's clock to a later one, in
// seconds; the longer is nil where it has no end.
func between(from, to stack.Measure) (short int64, long *int64) {
	short = max(0, seconds(to.Lo-from.Lo))
	if from.Hi != nil && to.Hi != nil {
		l := max(short, seconds(*to.Hi-*from.Hi))
		long = &l
	}
	return short, long
}

func plus(t *int64, d *int64) *int64 {
	if t == nil || d == nil {
		return nil
	}
	sum := *t + *d
	return &sum
}

// steps carries the sheet out twice, with every wait at its shortest and at its
// longest. From the first wait without an end on, there is no latest.
func (w *planner) steps() error {
	lo := w.from
	first := w.from
	hi := &first
	steps := w.d.Steps
	what := w.what()
	for i, st := range steps {
		waits := st.Do == "wait" || st.Do == "store"
		short, long := between(st.Start, st.End)
		if i > 0 {
			wait, most := between(steps[i-1].End, st.Start)
			lo, hi = lo+wait, plus(hi, most)
			if w.unsaid(st.N, steps[i-1], st) {
				hi = nil
			}
		}
		p := Planned{Step: st.N, Name: st.Name, Do: st.Do, What: what[st.N], Zones: st.Zones, Waits: waits, Line: st.Place.Line}
		if !waits {
			due := lo
			lo, p.Overruns = w.o.Day.starts(lo, short)
			p.Held = lo > due
			if hi != nil {
				lasts := short
				if long != nil {
					lasts = *long
				}
				at, _ := w.o.Day.starts(*hi, lasts)
				hi = &at
			}
			if short == 0 && (long == nil || *long == 0) {
				w.p.Untimed = append(w.p.Untimed, st.N)
			}
		}
		p.Start = w.moment(lo, hi)
		if long == nil && st.Start.Hi != nil {
			w.p.Open = append(w.p.Open, Unsaid{Step: st.N, Why: st.Name + " has no end written: at least " + lengthOf(short)})
		}
		lo, hi = lo+short, plus(hi, long)
		if lo > w.most {
			return errTooLong
		}
		p.End = w.moment(lo, hi)
		w.p.Steps = append(w.p.Steps, p)
	}
	if len(steps) == 0 {
		return nil
	}
	lo += seconds(w.o.LastWait.Lo)
	if math.IsInf(w.o.LastWait.Hi, 1) {
		w.p.Open = append(w.p.Open, Unsaid{Step: 0, Why: "the wait after " + steps[len(steps)-1].Name + " has no end written"})
		hi = nil
	} else {
		last := seconds(w.o.LastWait.Hi)
		hi = plus(hi, &last)
	}
	if lo > w.most {
		return errTooLong
	}
	ready := w.moment(lo, hi)
	w.p.Ready = &ready
	return nil
}

// unsaid notes a wait before a step that has no end, or that no step says.
func (w *planner) unsaid(n int, before, st stack.Step) bool {
	var why []string
	seen := map[string]bool{}
	for _, wt := range w.d.Waits {
		if wt.Step != n {
			continue
		}
		words := fmt.Sprintf("no step says how long %s waits before %s", wt.LowerName, wt.UpperName)
		if wt.Condition != "" {
			words += ` ("` + wt.Condition + `" is no length)`
		}
		if !seen[words] {
			seen[words] = true
			why = append(why, words)
		}
	}
	if before.End.Hi != nil && st.Start.Hi == nil && len(why) == 0 {
		short, _ := between(before.End, st.Start)
		words := "the wait after " + before.Name + " has no end written"
		if short > 0 {
			words += ": at least " + lengthOf(short)
		}
		why = append(why, words)
	}
	for _, words := range why {
		w.p.Open = append(w.p.Open, Unsaid{Step: n, Why: words})
	}
	return len(why) > 0
}

func lengthOf(seconds int64) string {
	unit := "min"
	switch {
	case seconds < 60:
		unit = "s"
	case seconds >= 2*3600:
		unit = "h"
	}
	return quantity.Format(quantity.Exactly(float64(seconds)/60), quantity.Time, unit)
}

// what each step works with.
func (w *planner) what() map[int]string {
	out := map[int]string{}
	for _, st := range w.d.Steps {
		switch {
		case st.With != "":
			out[st.N] = st.With
		case st.Grade != "":
			out[st.N] = st.Grade
		case st.Tool != "":
			out[st.N] = st.Tool
		}
	}
	for _, l := range w.d.Lays {
		out[l.Step] = l.Name
	}
	for _, b := range w.d.Bakes {
		out[b.Step] = b.Metal.Text + " metal"
	}
	return out
}

// laid is the step whose coats finished a film in a zone before another step.
func (w *planner) laid(layer, zone string, before int) int {
	last := 0
	for _, n := range w.d.LayersByID[layer].Steps {
		if n < before && n > last && w.reaches(n, zone) {
			last = n
		}
	}
	return last
}

// reaches: the step is on the zone, or on one that it was cut from.
func (w *planner) reaches(step int, zone string) bool {
	if step < 1 || step > len(w.d.Steps) {
		return false
	}
	for hops := 0; zone != "" && hops <= len(w.d.Zones); hops++ {
		for _, z := range w.d.Steps[step-1].Zones {
			if z == zone {
				return true
			}
		}
		zone = w.zoneOf[zone]
	}
	return false
}

// after is a time (min) after a moment.
func (w *planner) after(m Moment, iv quantity.Interval) *Moment {
	if iv.IsOpen() && iv.Lo <= 0 {
		return nil
	}
	lo := m.lo + seconds(iv.Lo)
	if lo > w.most {
		return nil
	}
	var hi *int64
	if !iv.IsOpen() {
		long := seconds(iv.Hi)
		hi = plus(m.hi, &long)
	}
	out := w.moment(lo, hi)
	return &out
}

// end is when a step ends; ok is false for a step the plan does not hold.
func (w *planner) end(step int) (Moment, bool) {
	if step < 1 || step > len(w.p.Steps) {
		return Moment{}, false
	}
	return w.p.Steps[step-1].End, true
}

// bakeBetween is the last bake after one step and before another.
func (w *planner) bakeBetween(after, before int) int {
	last := 0
	for _, b := range w.d.Bakes {
		if b.Step > after && b.Step < before && b.Step > last {
			last = b.Step
		}
	}
	return last
}

// limit is the number a comparison is held to, where there is one.
func limit(c *stack.Comparison) (quantity.Interval, bool) {
	if c == nil || c.Limit.Open {
		return quantity.Interval{}, false
	}
	return interval(c.Limit), true
}

// restMinutes after a bake that met the card, a film counts as ready (8-rulings.md, Clock).
const restMinutes = 30

func sooner(a, b *Moment, w *planner) *Moment { return w.pick(a, b, false) }
func later(a, b *Moment, w *planner) *Moment  { return w.pick(a, b, true) }

// pick is the later or the sooner of two moments, end by end.
func (w *planner) pick(a, b *Moment, later bool) *Moment {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	lo := min(a.lo, b.lo)
	if later {
		lo = max(a.lo, b.lo)
	}
	var hi *int64
	switch {
	case a.hi != nil && b.hi != nil:
		h := min(*a.hi, *b.hi)
		if later {
			h = max(*a.hi, *b.hi)
		}
		hi = &h
	case !later && a.hi != nil:
		hi = a.hi
	case !later:
		hi = b.hi
	}
	out := w.moment(lo, hi)
	return &out
}

// scaled is a least wait as the panel's temperature makes it. Warmth makes none
// shorter: a plan must hold by the card's hours, which the rules hold it to.
func scaled(iv quantity.Interval, factor *stack.Measure) (quantity.Interval, float64) {
	if factor == nil || factor.Open || factor.Hi == nil || factor.Lo <= 0 {
		return iv, 1
	}
	f := interval(*factor)
	f.Lo, f.Hi = max(f.Lo, 1), max(f.Hi, 1)
	return iv.Mul(f), round4((f.Lo + f.Hi) / 2)
}

func factorOf(s *stack.Slowed) *stack.Measure {
	if s == nil {
		return nil
	}
	return &s.Factor
}

// windows finds every window of every film: from what the stack compares its
// waits with, laid from the end of the film's last coat by the wall clock.
func (w *planner) windows() {
	for _, c := range w.d.Contacts {
		if !c.GapApplies {
			continue
		}
		laid := w.laid(c.Lower, c.Zone, c.Step)
		end, ok := w.end(laid)
		if !ok {
			continue
		}
		base := Window{Film: c.LowerName, FilmStep: laid, Step: c.Step, Zones: []string{c.Zone}, Abraded: c.Abraded, Factor: 1, Source: c.WindowGiven}
		var bake *Moment
		if c.Baked {
			if at, ok := w.end(c.BakeStep); ok {
				bake = w.after(at, quantity.Exactly(restMinutes))
			}
		}
		win := base
		win.For, win.Never = "recoat", c.WindowShut
		if iv, ok := limit(c.RecoatLeast); ok {
			iv, win.Factor = scaled(iv, &c.Factor)
			win.Opens = w.after(end, iv)
			if bake != nil {
				win.Opens, win.Baked = sooner(win.Opens, bake, w), true
			}
		}
		if iv, ok := limit(c.RecoatMost); ok {
			win.Shuts = w.after(end, iv)
		}
		w.add(win)
		from, begins := limit(c.DeadStart)
		to, ends := limit(c.DeadEnd)
		if begins && ends {
			win := base
			win.For, win.Source = "dead time", c.DeadStart.Source
			win.Shuts, win.Opens = w.after(end, from), w.after(end, to)
			w.add(win)
		}
		if iv, ok := limit(c.FillAfter); ok {
			win := base
			win.For, win.Source = "fill", c.FillAfter.Source
			iv, win.Factor = scaled(iv, factorOf(c.FillSlowed))
			win.Opens = w.after(end, iv)
			if bake != nil {
				win.Opens, win.Baked = sooner(win.Opens, bake, w), true
			}
			w.add(win)
		}
	}
	for _, a := range w.d.Abrasions {
		w.ready("sand", a.Layer, a.SurfaceName, a.Zone, a.Step, a.SandAfter, a.SandSlowed, a.SandAfterBaked)
	}
	for _, m := range w.d.Masks {
		w.ready("tape", m.Layer, m.Name, m.Zone, m.Step, m.TapeAfter, m.TapeSlowed, false)
	}
	for _, p := range w.d.Polishes {
		w.polish(p)
	}
	sort.SliceStable(w.p.Windows, func(i, j int) bool {
		a, b := w.p.Windows[i], w.p.Windows[j]
		if a.Step != b.Step {
			return a.Step < b.Step
		}
		return a.FilmStep < b.FilmStep
	})
}

// ready is a window that only opens.
func (w *planner) ready(what, layer, name, zone string, step int, c *stack.Comparison, slow *stack.Slowed, baked bool) {
	iv, ok := limit(c)
	laid := w.laid(layer, zone, step)
	end, held := w.end(laid)
	if !ok || !held {
		return
	}
	win := Window{For: what, Film: name, FilmStep: laid, Step: step, Zones: []string{zone}, Source: c.Source}
	iv, win.Factor = scaled(iv, factorOf(slow))
	win.Opens = w.after(end, iv)
	if baked {
		if at, ok := w.end(w.bakeBetween(laid, step)); ok {
			win.Opens, win.Baked = sooner(win.Opens, w.after(at, quantity.Exactly(restMinutes)), w), true
		}
	}
	w.add(win)
}

// polish opens when the film is hard enough and the last bake has cooled.
func (w *planner) polish(p stack.Polish) {
	laid := w.laid(p.Layer, p.Zone, p.Step)
	end, ok := w.end(laid)
	if !ok {
		return
	}
	win := Window{For: "polish", Film: p.Name, FilmStep: laid, Step: p.Step, Zones: []string{p.Zone}, Factor: 1, Source: "none"}
	if iv, ok := limit(p.PolishAfter); ok {
		win.Source = p.PolishAfter.Source
		iv, win.Factor = scaled(iv, factorOf(p.PolishSlowed))
		win.Opens = w.after(end, iv)
	}
	if iv, ok := limit(p.SinceBake); ok {
		if at, ok := w.end(w.bakeBetween(laid, p.Step)); ok {
			win.Opens, win.Baked = later(win.Opens, w.after(at, iv), w), true
		}
	}
	if win.Opens != nil {
		w.add(win)
	}
}

// add puts a window on the plan; those that differ in the zone alone are one.
func (w *planner) add(win Window) {
	win.Planned = w.p.Steps[win.Step-1].Start
	if win.For == "recoat" && win.Shuts != nil {
		last := win.Shuts.Earliest
		win.Last = &last
		slack := round4(float64(win.Shuts.lo-win.Planned.lo) / 3600)
		win.Slack = &slack
	}
	id := win.For + " " + win.Film + " " + fmt.Sprint(win.FilmStep, " ", win.Step, " ", win.Abraded, win.Baked, win.Never, win.Factor, win.Source, stamp(win.Opens), stamp(win.Shuts))
	if i, ok := w.known[id]; ok {
		have := &w.p.Windows[i]
		for _, z := range have.Zones {
			if z == win.Zones[0] {
				return
			}
		}
		have.Zones = append(have.Zones, win.Zones[0])
		return
	}
	w.known[id] = len(w.p.Windows)
	w.p.Windows = append(w.p.Windows, win)
}

func stamp(m *Moment) string {
	if m == nil {
		return "-"
	}
	out := m.Earliest + "/"
	if m.Latest != nil {
		out += *m.Latest
	}
	return strings.TrimSpace(out)
}

// Time is the earliest of a moment as a wall clock in UTC, which here stands for no zone.
func (p *Plan) Time(m Moment) time.Time { return p.at(m.lo) }

func (p *Plan) at(t int64) time.Time {
	return p.midnight.Add(time.Duration(t%secondsADay)*time.Second).AddDate(0, 0, int(t/secondsADay))
}
