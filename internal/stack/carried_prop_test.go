package stack_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// amount is a written amount that may be a range, with one value out of it.
type amount struct {
	lo, hi, inside int
	unit           string
}

func (a amount) ranged() string {
	if a.lo == a.hi {
		return fmt.Sprintf("%d %s", a.lo, a.unit)
	}
	return fmt.Sprintf("%d - %d %s", a.lo, a.hi, a.unit)
}

func (a amount) exact() string { return fmt.Sprintf("%d %s", a.inside, a.unit) }

func drawAmount(t *rapid.T, least, most int, unit string) amount {
	lo := rapid.IntRange(least, most).Draw(t, "lo")
	hi := lo
	if rapid.Bool().Draw(t, "ranged") {
		hi = rapid.IntRange(lo, most).Draw(t, "hi")
	}
	return amount{lo, hi, rapid.IntRange(lo, hi).Draw(t, "inside"), unit}
}

// process is a sheet made at random: its text with its ranges, and the same
// with one value in the place of each.
type process struct {
	ranged, exact string
	steps         int
}

// drawProcess makes a sheet that reads: any zones, any steps in any order.
func drawProcess(t *rapid.T) process {
	var ranged, exact strings.Builder
	p := process{}
	both := func(format string, args ...any) {
		one := func(pick func(amount) string) string {
			out := make([]any, len(args))
			for i, a := range args {
				if a, ok := a.(amount); ok {
					out[i] = pick(a)
					continue
				}
				out[i] = a
			}
			return fmt.Sprintf(format, out...)
		}
		ranged.WriteString(one(amount.ranged))
		exact.WriteString(one(amount.exact))
	}
	both("format = 1\n[sheet]\ntitle = \"at random\"\n[booth]\npanel = \"%s\"\nhumidity = \"50 %%\"\n[panel]\nsubstrate = \"mild steel\"\narea = \"12 ft2\"\n", drawAmount(t, 50, 90, "F"))
	if rapid.Bool().Draw(t, "carries") {
		both("carries = [\"e-coat\", {kind = \"factory finish\", film = \"%s\"}]\n", drawAmount(t, 3, 6, "mil"))
	}
	zones := []string{"panel"}
	for i := range rapid.IntRange(0, 2).Draw(t, "zones") {
		name := fmt.Sprintf("zone %d", i+1)
		zones = append(zones, name)
		both("[[zone]]\nname = %q\narea = \"%d ft2\"\n", name, i+2)
	}
	p.steps = rapid.IntRange(1, 14).Draw(t, "steps")
	for n := 1; n <= p.steps; n++ {
		do := rapid.SampledFrom([]string{"spray", "spray", "spray", "sand", "sand", "block", "cut", "clean", "wait", "wait", "bake", "spread", "strip", "store", "polish"}).Draw(t, "do")
		both("[[step]]\n")
		switch do {
		case "spray":
			product := rapid.SampledFrom([]string{"grey-epoxy", "build-2k", "silver-base", "glass-clear"}).Draw(t, "product")
			both("do = \"spray\"\nproduct = %q\ncoats = %d\n", product, rapid.IntRange(1, 3).Draw(t, "coats"))
			if rapid.Bool().Draw(t, "wet") {
				both("wet_film = \"%s\"\n", drawAmount(t, 1, 6, "mil"))
			}
		case "spread":
			both("do = \"spread\"\nproduct = \"dent-filler\"\nthickness = \"%s\"\n", drawAmount(t, 1, 3, "mm"))
		case "sand", "block", "cut":
			verb := do
			if do == "cut" {
				verb = "sand"
			}
			both("do = %q\ngrit = %q\n", verb, rapid.SampledFrom([]string{"P80", "P180", "P320", "P600"}).Draw(t, "grit"))
			if rapid.Bool().Draw(t, "off") {
				both("takes_off = \"%s\"\n", drawAmount(t, 0, 3, "mil"))
			}
			if do == "cut" {
				both("cuts_to = {to = \"substrate\", call = \"cut %d\", area = \"%d in2\"}\n", n, rapid.IntRange(1, 20).Draw(t, "cut"))
			}
		case "clean":
			both("do = \"clean\"\nwith = \"wax and grease remover\"\n")
		case "wait", "store":
			both("do = %q\nfor = \"%s\"\n", do, drawAmount(t, 1, 2000, "min"))
		case "bake":
			both("do = \"bake\"\nmetal = \"%s\"\nfor = \"%s\"\n", drawAmount(t, 130, 150, "F"), drawAmount(t, 20, 60, "min"))
		case "strip":
			both("do = \"strip\"\ntool = %q\n", rapid.SampledFrom([]string{"sander", "strip disc", "chemical stripper"}).Draw(t, "tool"))
		case "polish":
			both("do = \"polish\"\n")
		}
		if rapid.Bool().Draw(t, "waits") {
			both("then_wait = \"%s\"\n", drawAmount(t, 0, 3000, "min"))
		}
		if rapid.Bool().Draw(t, "somewhere") {
			both("on = [%q]\n", rapid.SampledFrom(zones).Draw(t, "on"))
		}
	}
	p.ranged, p.exact = ranged.String(), exact.String()
	return p
}

// built reads and carries out a sheet; ok is false where it is no sheet, as when
// a cut is named that goes through nothing.
func built(t *rapid.T, text string) (*stack.Document, bool) {
	r := sheet.NewReader(sheet.Options{NoHouse: true})
	defer r.Close()
	s, problems := r.ReadText("sheet.toml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("the sheet does not read: line %d: %s\n%s", problems[0].Place.Line, problems[0].Message, text)
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 && d != nil {
		t.Fatalf("a document beside problems")
	}
	return d, d != nil
}

func TestWhateverTheSheetItsStackIsSound(t *testing.T) {
	cans := cards(t)
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcess(t)
		d, ok := built(t, p.ranged+cans)
		if !ok {
			t.Fatalf("every step of these sheets can be carried out\n%s", p.ranged)
		}
		contacts := map[string]stack.Contact{}
		for _, c := range d.Contacts {
			if _, twice := contacts[c.ID]; twice {
				t.Fatalf("two contacts %s", c.ID)
			}
			contacts[c.ID] = c
		}
		for _, l := range d.Layers {
			if l.Step > 0 {
				for _, z := range l.Zones {
					if _, ok := contacts[z+"/"+l.ID]; !ok {
						t.Errorf("%s was laid on %s and has no contact there", l.ID, z)
					}
				}
			}
			for _, z := range keys(l.FilmLeft) {
				sound(t, l.ID+" left in "+z, l.FilmLeft[z])
				if left, laid := l.FilmLeft[z], l.FilmLaid; left.Hi != nil && laid.Hi != nil && *left.Hi > *laid.Hi*(1+1e-6) {
					t.Errorf("more of %s is left in %s than was laid: %s of %s", l.ID, z, left.Text, laid.Text)
				}
			}
		}
		step := map[string]int{}
		for _, l := range d.Layers {
			step[l.ID] = l.Step
		}
		for _, c := range d.Contacts {
			if c.Films[len(c.Films)-1] != c.Lower {
				t.Errorf("%s: the top of %v is not %s", c.ID, c.Films, c.Lower)
			}
			for i := 1; i < len(c.Films); i++ {
				if step[c.Films[i-1]] > step[c.Films[i]] {
					t.Errorf("%s: films out of order: %v", c.ID, c.Films)
				}
			}
			sound(t, c.ID+" gap", c.Gap)
			sound(t, c.ID+" lower left", c.LowerLeft)
		}
		area := 0.0
		for _, z := range d.Zones {
			sound(t, z.Name+" area", z.Area)
			area += z.Area.Lo
			if z.Layers[len(z.Layers)-1] != z.Ending {
				t.Errorf("%s ends in %s over %v", z.Name, z.Ending, z.Layers)
			}
		}
		if math.Abs(area-12) > 1e-6 {
			t.Errorf("zones of 12 ft² add up to %v", area)
		}
		for i, s := range d.Steps {
			sound(t, s.ID+" start", s.Start)
			if i > 0 && s.Start.Lo < d.Steps[i-1].End.Lo {
				t.Errorf("step %d starts before step %d ends", s.N, s.N-1)
			}
		}
		for _, x := range d.Exposures {
			if x.ToStep > 0 && x.ToStep <= x.FromStep {
				t.Errorf("%s ends before it begins", x.ID)
			}
		}
		again, _ := built(t, p.ranged+cans)
		one, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		two, _ := again.JSON()
		if !bytes.Equal(one, two) {
			t.Error("one sheet gives two documents")
		}
	})
}

func keys(m map[string]stack.Measure) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	return out
}

// sound: a measure is never negative, never backwards.
func sound(t *rapid.T, what string, m stack.Measure) {
	if m.Lo < 0 || m.Hi != nil && *m.Hi < m.Lo {
		t.Errorf("%s is %v to %v", what, m.Lo, m.Hi)
	}
}

// The answer for one value out of every range lies inside the answer for the
// ranges, wherever the ranges do not decide which steps make one layer.
func TestRangesHoldTheAnswerForEveryValueInThem(t *testing.T) {
	cans := cards(t)
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcess(t)
		wide, ok := built(t, p.ranged+cans)
		narrow, ok2 := built(t, p.exact+cans)
		if !ok || !ok2 || len(wide.Contacts) != len(narrow.Contacts) {
			t.Skip("other layers")
		}
		for i := range wide.Contacts {
			w, n := &wide.Contacts[i], &narrow.Contacts[i]
			if w.ID != n.ID {
				t.Skip("other layers")
			}
			inside(t, w.ID+" gap", w.Gap, n.Gap)
			inside(t, w.ID+" effective gap", w.GapEffective, n.GapEffective)
			inside(t, w.ID+" factor", w.Factor, n.Factor)
			inside(t, w.ID+" left", w.LowerLeft, n.LowerLeft)
			if w.OpenTime != nil {
				inside(t, w.ID+" open", *w.OpenTime, *n.OpenTime)
			}
			for k := range w.Beneath {
				inside(t, w.ID+" age beneath", w.Beneath[k].Age, n.Beneath[k].Age)
			}
		}
		for i := range wide.Layers {
			w, n := wide.Layers[i], narrow.Layers[i]
			inside(t, w.ID+" film", w.FilmLaid, n.FilmLaid)
			for _, z := range keys(w.FilmLeft) {
				inside(t, w.ID+" left in "+z, w.FilmLeft[z], n.FilmLeft[z])
			}
		}
		for i := range wide.Steps {
			inside(t, wide.Steps[i].ID+" start", wide.Steps[i].Start, narrow.Steps[i].Start)
		}
		for i := range wide.Exposures {
			inside(t, wide.Exposures[i].ID, wide.Exposures[i].Time, narrow.Exposures[i].Time)
		}
	})
}

// inside: what is known in the narrow sheet lies in what the wide one tells.
func inside(t *rapid.T, what string, wide, narrow stack.Measure) {
	if wide.Open != narrow.Open {
		t.Errorf("%s is known in one and not in the other: %s, %s", what, wide.Text, narrow.Text)
		return
	}
	near := func(v float64) float64 { return 1e-6 * math.Max(1, math.Abs(v)) }
	if narrow.Lo < wide.Lo-near(wide.Lo) {
		t.Errorf("%s: %s is under %s", what, narrow.Text, wide.Text)
	}
	if wide.Hi != nil && (narrow.Hi == nil || *narrow.Hi > *wide.Hi+near(*wide.Hi)) {
		t.Errorf("%s: %s is over %s", what, narrow.Text, wide.Text)
	}
}

// A wait more, anywhere, never makes a gap or an age shorter.
func TestMoreWaitingNeverShortensAGap(t *testing.T) {
	cans := cards(t)
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcess(t)
		at := rapid.IntRange(1, p.steps).Draw(t, "after")
		more := rapid.IntRange(1, 5000).Draw(t, "more")
		parts := strings.SplitAfterN(p.exact, "[[step]]\n", at+2)
		if len(parts) < at+2 {
			parts = append(parts, "")
			parts[at] += "[[step]]\n"
		}
		longer := strings.Join(parts[:at+1], "") + fmt.Sprintf("do = \"wait\"\nfor = \"%d min\"\n", more)
		if rest := parts[at+1]; rest != "" {
			longer += "[[step]]\n" + rest
		}
		short, ok := built(t, p.exact+cans)
		long, ok2 := built(t, longer+cans)
		if !ok || !ok2 {
			t.Skip("no sheet")
		}
		gaps := map[string]stack.Contact{}
		for _, c := range long.Contacts {
			gaps[c.Zone+strings.Join([]string{c.UpperCard, c.LowerCard}, "/")+fmt.Sprint(c.Step)] = c
		}
		for _, c := range short.Contacts {
			if c.Gap.Open || !c.GapApplies {
				continue
			}
			n := c.Step
			if n > at {
				n++
			}
			l, ok := gaps[c.Zone+strings.Join([]string{c.UpperCard, c.LowerCard}, "/")+fmt.Sprint(n)]
			if !ok {
				continue // another zone name, or coats that no longer join
			}
			if l.Gap.Lo < c.Gap.Lo {
				t.Errorf("%s: %s became %s", c.ID, c.Gap.Text, l.Gap.Text)
			}
		}
	})
}
