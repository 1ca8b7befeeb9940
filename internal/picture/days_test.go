package picture

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"guidecoat/internal/plan"
)

const eight, seventeen = 8 * 3600, 17 * 3600

// monday is the midnight of the day the plans of these tests begin.
var monday = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC).Unix()

func TestTimeNeverRunsBackOnTheAxis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var times []int64
		at := monday + eight
		for range rapid.IntRange(1, 30).Draw(t, "n") {
			at += rapid.Int64Range(0, 5*dayLong).Draw(t, "later")
			times = append(times, at)
		}
		opens := rapid.Int64Range(0, 12*3600).Draw(t, "opens")
		shuts := rapid.Int64Range(opens+60, dayLong).Draw(t, "shuts")
		a := axisOf(slices.Clone(times), [2]int64{opens, shuts}, 100, 700)
		last := 100.0
		for at := times[0] - 2*dayLong; at < times[len(times)-1]+2*dayLong; at += 977 {
			x := a.of(at)
			if x < last-1e-9 || x > 700+1e-9 {
				t.Fatalf("%d lies at %v, what is before it at %v", at-monday, x, last)
			}
			last = x
		}
		if last < 700-1e-6 {
			t.Fatalf("the axis ends at %v", last)
		}
	})
}

func TestWorkingHoursAreEvenAndNightsNarrow(t *testing.T) {
	a := axisOf([]int64{monday + eight, monday + dayLong + eight + 3600}, [2]int64{eight, seventeen}, 0, 1000)
	hour := a.of(monday+eight+3600) - a.of(monday+eight)
	for h := int64(8); h < 17; h++ {
		if got := a.of(monday+(h+1)*3600) - a.of(monday+h*3600); got < hour*0.999 || got > hour*1.001 {
			t.Errorf("the hour from %d is %v wide, the first %v", h, got, hour)
		}
	}
	night := a.of(monday+dayLong+eight) - a.of(monday+seventeen)
	if night <= 0 || night > 2*hour {
		t.Errorf("the night is %v wide, an hour %v", night, hour)
	}
	if len(a.breaks) != 0 {
		t.Errorf("there is a break: %v", a.breaks)
	}
}

func TestDaysOnWhichNothingHappensAreABreakThatSaysHowMany(t *testing.T) {
	a := axisOf([]int64{monday + eight, monday + 3000*dayLong + eight + 60}, [2]int64{eight, seventeen}, 0, 1000)
	if len(a.days) != 2 || len(a.breaks) != 1 || a.breaks[0].days != 2999 {
		t.Fatalf("days %v, breaks %v", a.days, a.breaks)
	}
	if b := a.breaks[0]; b.from >= b.to || b.to > a.days[1].opens || b.from < a.days[0].shut {
		t.Errorf("the break lies at %v", b)
	}
}

func TestAMidnightEndsADayAndBeginsNone(t *testing.T) {
	if a := axisOf([]int64{monday + eight, monday + dayLong}, [2]int64{eight, seventeen}, 0, 1000); len(a.days) != 1 {
		t.Errorf("work until midnight takes %d days", len(a.days))
	}
	if a := axisOf([]int64{monday, monday + 3600}, [2]int64{0, dayLong}, 0, 1000); len(a.days) != 1 || a.days[0].midnight != monday {
		t.Errorf("work from midnight on takes the days %v", a.days)
	}
}

func TestAShopThatNeverShutsHasNoNight(t *testing.T) {
	a := axisOf([]int64{monday, monday + 2*dayLong - 60}, [2]int64{0, dayLong}, 0, 960)
	if x := a.of(monday + dayLong); x < 479.9 || x > 480.1 {
		t.Errorf("midnight lies at %v", x)
	}
}

func moment(earliest string, latest ...string) plan.Moment {
	m := plan.Moment{Earliest: "2026-03-" + earliest + ":00"}
	if len(latest) > 0 {
		l := "2026-03-" + latest[0] + ":00"
		m.Latest = &l
	}
	return m
}

func exactly(t string) plan.Moment { return moment(t, t) }

// shop is a plan of one step and what windows it makes use of.
func shop(start, end plan.Moment, windows ...plan.Window) *plan.Plan {
	return &plan.Plan{Title: "door", From: "2026-03-02T08:00:00", Day: [2]string{"08:00", "17:00"}, Windows: windows,
		Steps: []plan.Planned{
			{Step: 1, Name: "step 1", Do: "spray", What: "epoxy", Start: exactly("02T08:00"), End: exactly("02T08:20")},
			{Step: 2, Name: "step 2", Do: "spray", What: "sealer", Zones: []string{"panel"}, Start: start, End: end},
			{Step: 3, Name: "step 3", Do: "inspect", Start: exactly("06T09:00"), End: exactly("06T09:00")},
		}}
}

// filledWith finds what is drawn with a fill in the chart, as spans of x.
func filledWith(d *drawing, fill *hatch) [][2]float64 {
	chart := 0 // the key repeats every fill: it comes after the last words of the rows
	for i, it := range d.items {
		if it.words == "step, surely going on" {
			chart = i - 1
		}
	}
	var out [][2]float64
	for _, it := range d.items[:chart] {
		if it.fill == fill {
			lo, hi := it.paths[0][0].x, it.paths[0][0].x
			for _, p := range it.paths[0] {
				lo, hi = min(lo, p.x), max(hi, p.x)
			}
			out = append(out, [2]float64{lo, hi})
		}
	}
	return out
}

func near(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }

func TestWhatIsSureIsSolidAndWhatIsNotIsHatched(t *testing.T) {
	p := shop(moment("03T10:00", "03T12:00"), moment("03T13:00", "03T16:00"))
	d := drawDays(p, SVGOptions{})
	x := axisIn(p, d)
	sure, perhaps := filledWith(d, fillAct), filledWith(d, fillPerhaps)
	at := func(h int64) float64 { return x.of(monday + dayLong + h*3600) }
	if len(perhaps) != 1 || !near(perhaps[0][0], at(10)) || !near(perhaps[0][1], at(16)) {
		t.Errorf("hatched is %v, want from %v to %v", perhaps, at(10), at(16))
	}
	if !slices.ContainsFunc(sure, func(s [2]float64) bool { return near(s[0], at(12)) && near(s[1], at(13)) }) {
		t.Errorf("solid is %v, want from %v to %v among it", sure, at(12), at(13))
	}

	p = shop(moment("03T10:00", "03T14:00"), moment("03T11:00", "03T15:00"))
	d = drawDays(p, SVGOptions{})
	if sure := filledWith(d, fillAct); len(sure) != 2 { // steps 1 and 3
		t.Errorf("of a step that may be over before it begins at the latest, something is solid: %v", sure)
	}

	p = shop(exactly("03T10:00"), moment("03T11:00"))
	d = drawDays(p, SVGOptions{})
	x = axisIn(p, d)
	if perhaps := filledWith(d, fillPerhaps); !slices.ContainsFunc(perhaps, func(s [2]float64) bool { return s[1] > x.of(monday+dayLong+11*3600)+15 }) {
		t.Errorf("a step without an end has no arrow: %v", perhaps)
	}
}

// axisIn is the axis a plan is drawn on, found again from the same times.
func axisIn(p *plan.Plan, d *drawing) *axis {
	inner := d.width - 2*margin
	words := min(inner*0.42, 330)
	w := &daysDrawer{drawing: d, p: p}
	return axisOf(w.times(), [2]int64{eight, seventeen}, margin+words+12, margin+inner-24)
}

func TestAWindowIsDrawnFromItsOpeningToItsShuttingWithItsLastMoment(t *testing.T) {
	opens, shuts := exactly("02T09:20"), exactly("04T12:00")
	last, slack := "2026-03-04T12:00:00", -21.0
	win := plan.Window{For: "recoat", Film: "epoxy", FilmStep: 1, Step: 2, Zones: []string{"panel"}, Opens: &opens, Shuts: &shuts, Last: &last, Slack: &slack, Factor: 1, Source: "card"}
	p := shop(exactly("05T09:00"), exactly("05T09:20"), win)
	d := drawDays(p, SVGOptions{})
	x := axisIn(p, d)
	from, to := x.of(monday+9*3600+20*60), x.of(monday+2*dayLong+12*3600)
	if open := filledWith(d, fillOpen); len(open) != 1 || !near(open[0][0], from) || !near(open[0][1], to) {
		t.Errorf("the window is drawn %v, want from %v to %v", open, from, to)
	}
	flags := func(d *drawing) (at []float64) {
		for _, it := range d.items {
			if it.fill != nil && it.fill.ground == danger && !it.fill.patterned() {
				at = append(at, it.paths[0][0].x)
			}
		}
		return at
	}
	if got := flags(d); len(got) != 2 || !near(got[0], to) { // the other is in the key
		t.Errorf("flags stand at %v, want one at %v", got, to)
	}
	words := ""
	for _, it := range d.items {
		words += it.words + " "
	}
	for _, want := range []string{"next film on epoxy of step 1", "last moment before a scuff is due Wed 4 Mar 12:00", "the plan comes 21 h after it", "by its card"} {
		if !strings.Contains(strings.Join(strings.Fields(words), " "), want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}

	p.Windows[0].Abraded = true
	if got := flags(drawDays(p, SVGOptions{})); len(got) != 1 {
		t.Errorf("a window that no longer binds has a flag: %v", got)
	}
}

func TestDeadTimeIsNotDrawnAsAWindow(t *testing.T) {
	from, to := exactly("02T12:00"), exactly("04T08:20")
	p := shop(exactly("05T09:00"), exactly("05T09:20"), plan.Window{For: "dead time", Film: "epoxy", FilmStep: 1, Step: 2, Shuts: &from, Opens: &to, Factor: 1, Source: "card"})
	d := drawDays(p, SVGOptions{})
	x := axisIn(p, d)
	if dead := filledWith(d, fillDead); len(dead) != 1 || !near(dead[0][0], x.of(monday+12*3600)) || !near(dead[0][1], x.of(monday+2*dayLong+8*3600+20*60)) {
		t.Errorf("the dead time is drawn %v", dead)
	}
	if open := filledWith(d, fillOpen); len(open) != 0 {
		t.Errorf("it is drawn as open too: %v", open)
	}
}

func TestAnyPlanIsDrawnOnItsPaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &plan.Plan{From: "2026-03-02T08:00:00", Day: [2]string{"08:00", "17:00"}}
		at := monday + eight
		draw := func(name string) plan.Moment {
			at += rapid.Int64Range(0, 40*dayLong).Draw(t, name)
			m := plan.Moment{Earliest: time.Unix(at, 0).UTC().Format("2006-01-02T15:04:05")}
			if rapid.Bool().Draw(t, name+" has a latest") {
				l := time.Unix(at+rapid.Int64Range(0, 90*dayLong).Draw(t, name+" latest"), 0).UTC().Format("2006-01-02T15:04:05")
				m.Latest = &l
			}
			return m
		}
		for i := range rapid.IntRange(0, 12).Draw(t, "steps") {
			start := draw("start")
			p.Steps = append(p.Steps, plan.Planned{Step: i + 1, Do: "spray", Start: start, End: draw("end"), Waits: rapid.Bool().Draw(t, "waits")})
			win := plan.Window{For: rapid.SampledFrom([]string{"recoat", "dead time", "sand"}).Draw(t, "for"), Film: "f", FilmStep: max(1, i), Step: i + 1,
				Abraded: rapid.Bool().Draw(t, "abraded"), Never: rapid.Bool().Draw(t, "never"), Source: "typical"}
			if rapid.Bool().Draw(t, "opens") {
				m := draw("open")
				win.Opens = &m
			}
			if rapid.Bool().Draw(t, "shuts") {
				m := draw("shut")
				win.Shuts, win.Last = &m, &m.Earliest
			}
			p.Windows = append(p.Windows, win)
		}
		for _, width := range []int{320, 800} {
			d := drawDays(p, SVGOptions{Width: width})
			for _, it := range d.items {
				for _, shape := range it.paths {
					for _, c := range shape {
						if !(c.x >= -0.01 && c.x <= d.width+0.01 && c.y >= 0 && c.y <= d.height) {
							t.Fatalf("a line goes to %v, %v of %v by %v", c.x, c.y, d.width, d.height)
						}
					}
				}
			}
		}
	})
}
