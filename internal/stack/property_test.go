package stack_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// madeAmount is a written quantity of a sheet that was made up: a range, or one
// number that lies in it.
type madeAmount struct {
	lo, hi float64
	unit   string
	part   float64 // of the way from lo to hi, where the one number lies
}

// reading is how the amounts of a sheet are written.
type reading struct {
	exact  bool // each as its one number
	longer int  // the number of the wait that is written longer, 0 for none
	by     float64
}

func (a madeAmount) text(r reading) string {
	one := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	if r.exact || a.lo == a.hi {
		v := a.lo + math.Round((a.hi-a.lo)*a.part*1000)/1000
		return one(math.Min(v, a.hi)) + " " + a.unit
	}
	return one(a.lo) + "-" + one(a.hi) + " " + a.unit
}

// madeUp is a sheet that was made up.
type madeUp struct {
	t     *rapid.T
	parts []func(reading) string
	waits int
	cuts  []string // zones that cuts made, as the stack has them
	last  string   // the product laid last
}

func (m *madeUp) say(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	m.parts = append(m.parts, func(reading) string { return text })
}

// amount makes a quantity up: whole steps of a size, from a least to a most.
func (m *madeUp) amount(key string, least, most int, size float64, unit string) {
	a := madeAmount{unit: unit, part: rapid.Float64Range(0, 1).Draw(m.t, key+" part")}
	lo := rapid.IntRange(least, most).Draw(m.t, key)
	hi := lo
	if rapid.Bool().Draw(m.t, key+" is a range") {
		hi = rapid.IntRange(lo, most).Draw(m.t, key+" most")
	}
	a.lo, a.hi = float64(lo)*size, float64(hi)*size
	m.parts = append(m.parts, func(r reading) string { return fmt.Sprintf("%s = %q\n", key, a.text(r)) })
}

// wait is a time that may be written longer.
func (m *madeUp) wait(key string) {
	m.waits++
	n := m.waits
	a := madeAmount{unit: "min", part: rapid.Float64Range(0, 1).Draw(m.t, "wait part")}
	a.lo = float64(rapid.IntRange(0, 2000).Draw(m.t, "wait"))
	a.hi = a.lo + float64(rapid.IntRange(0, 300).Draw(m.t, "wait, how much longer at most"))
	m.parts = append(m.parts, func(r reading) string {
		b := a
		if r.longer == n {
			b.lo, b.hi = b.lo+r.by, b.hi+r.by
		}
		return fmt.Sprintf("%s = %q\n", key, b.text(r))
	})
}

func (m *madeUp) maybe(what string) bool { return rapid.IntRange(0, 2).Draw(m.t, what) == 0 }

func (m *madeUp) text(r reading) string {
	var b strings.Builder
	for _, part := range m.parts {
		b.WriteString(part(r))
	}
	return b.String()
}

var products = []string{"tie", "build", "sealer", "base", "water", "gloss", "acid"}

// makeUp makes a sheet up: a panel of one to three zones, a few cards, and
// steps in any order. Coats of one card never follow each other, so that what
// is one layer does not depend on which number of a range is meant.
func makeUp(t *rapid.T) *madeUp {
	m := &madeUp{t: t}
	m.say("format = 1\n[sheet]\ntitle = \"made up\"\n[booth]\n")
	m.amount("air", 40, 100, 1, "F")
	m.amount("panel", 40, 100, 1, "F")
	m.amount("humidity", 20, 95, 1, "%")
	m.say("[panel]\nsubstrate = \"mild steel\"\narea = \"20 ft2\"\n")
	if m.maybe("carries") {
		m.say("carries = [\"e-coat\", {kind = \"factory finish\", film = \"4-5 mil\"}]\n")
	}
	zones := []string{"panel"}
	for i, n := 0, rapid.IntRange(0, 2).Draw(t, "zones"); i < n; i++ {
		name := string(rune('a' + i))
		zones = append(zones, name)
		m.say("[[zone]]\nname = %q\narea = \"%d ft2\"\n", name, rapid.IntRange(1, 8).Draw(t, "area"))
		if m.maybe("edge") {
			m.say("role = \"edge\"\n")
		}
	}
	kinds := map[string]string{
		"tie": "epoxy primer", "build": "urethane surfacer", "sealer": "urethane sealer", "base": "solvent basecoat",
		"water": "waterborne basecoat", "gloss": "urethane clear", "acid": "one-part acid primer",
	}
	for _, p := range products {
		m.say("[product.%s]\nkind = %q\n", p, kinds[p])
		if m.maybe("solids written") {
			m.amount("volume_solids", 10, 60, 1, "%")
		}
		if m.maybe("film written") {
			m.amount("film", 1, 8, 0.5, "mil")
		}
	}
	m.say("[product.dough]\nkind = \"body filler\"\n")
	m.spray(nil)
	for i, n := 0, rapid.IntRange(1, 12).Draw(t, "steps"); i < n; i++ {
		m.step(zones)
	}
	return m
}

// on names some zones, or none for all.
func (m *madeUp) on(zones []string) {
	if len(zones) == 0 || m.maybe("everywhere") {
		return
	}
	m.say("on = %q\n", rapid.SampledFrom(append(append([]string{}, zones...), m.cuts...)).Draw(m.t, "on"))
}

func (m *madeUp) spray(zones []string) {
	p := m.last
	for p == m.last {
		p = rapid.SampledFrom(products).Draw(m.t, "product")
	}
	m.last = p
	m.say("[[step]]\ndo = \"spray\"\nproduct = %q\ncoats = %d\n", p, rapid.IntRange(1, 3).Draw(m.t, "coats"))
	m.on(zones)
	if m.maybe("wet film written") {
		m.amount("wet_film", 2, 16, 0.5, "mil")
	}
	if m.maybe("between written") {
		m.amount("between", 0, 40, 1, "min")
	}
	if m.maybe("its own weather") {
		m.amount("panel", 40, 110, 1, "F")
	}
	if m.maybe("waits") {
		m.wait("then_wait")
	}
}

func (m *madeUp) step(zones []string) {
	switch do := rapid.SampledFrom([]string{
		"spray", "spray", "spray", "sand", "block", "scuff", "clean", "tack", "wait", "bake", "strip", "store", "metalwork", "polish", "spread", "rinse", "mask",
	}).Draw(m.t, "do"); do {
	case "spray":
		m.spray(zones)
	case "sand", "block":
		m.say("[[step]]\ndo = %q\ngrit = %q\n", do, rapid.SampledFrom([]string{"P80", "P180", "P320", "P500", "P1500"}).Draw(m.t, "grit"))
		m.on(zones)
		if m.maybe("takes off written") {
			m.amount("takes_off", 0, 10, 0.2, "mil")
		}
		if m.maybe("cuts") {
			m.say("cuts_to = [{to = \"substrate\"")
			if m.maybe("a call") {
				m.say(", call = \"cut %d\"", len(m.parts))
			}
			if m.maybe("an area") {
				m.say(", area = \"0.%d ft2\"", rapid.IntRange(1, 9).Draw(m.t, "tenths"))
			}
			m.say("}]\n")
			m.cuts = nil
			for _, z := range buildOf(m.t, m.text(reading{})).Zones {
				if z.Parent != "" && !strings.Contains(z.Name, "(") {
					m.cuts = append(m.cuts, z.Name)
				}
			}
		}
	case "scuff":
		m.say("[[step]]\ndo = \"scuff\"\npad = \"fine pad\"\n")
		m.on(zones)
	case "clean":
		m.say("[[step]]\ndo = \"clean\"\nwith = \"wax and grease remover\"\n")
		m.on(zones)
		if m.maybe("waits") {
			m.wait("then_wait")
		}
	case "tack", "polish", "rinse", "mask":
		m.say("[[step]]\ndo = %q\n", do)
		m.on(zones)
	case "wait", "store", "metalwork":
		m.say("[[step]]\ndo = %q\n", do)
		m.wait("for")
		if m.maybe("its own weather") {
			m.amount("panel", 20, 110, 1, "F")
		}
	case "bake":
		m.say("[[step]]\ndo = \"bake\"\n")
		m.amount("metal", 120, 160, 1, "F")
		m.wait("for")
		m.on(zones)
	case "strip":
		m.say("[[step]]\ndo = \"strip\"\ntool = %q\n", rapid.SampledFrom([]string{"sander", "strip disc", "razor", "chemical stripper"}).Draw(m.t, "tool"))
		m.on(zones)
	case "spread":
		m.say("[[step]]\ndo = \"spread\"\nproduct = \"dough\"\n")
		m.amount("thickness", 5, 80, 1, "mil")
		m.on(zones)
		m.last = "dough"
	}
}

func buildOf(t *rapid.T, text string) *stack.Document {
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "made-up.toml", []byte(text))
	for _, p := range problems {
		t.Fatalf("line %d: %s\n%s", p.Place.Line, p.Message, text)
	}
	d, problems := stack.Build(s)
	for _, p := range problems {
		t.Fatalf("line %d: %s\n%s", p.Place.Line, p.Message, text)
	}
	return d
}

var stackSchema = sync.OnceValues(func() (*jsonschema.Schema, error) {
	raw, err := jsonschema.UnmarshalJSON(bytes.NewReader(stack.Schema()))
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("stack.schema.json", raw); err != nil {
		return nil, err
	}
	return c.Compile("stack.schema.json")
})

func top(m stack.Measure) float64 {
	if m.Hi == nil {
		return math.Inf(1)
	}
	return *m.Hi
}

func TestTheStackOfAnySheetHoldsTogether(t *testing.T) {
	schema, err := stackSchema()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := makeUp(t).text(reading{})
		d := buildOf(t, text)
		noFilmIsNegative(t, d)
		layersAscend(t, d)
		areasAddUp(t, d, 20)
		layersRestOnSomething(t, d)
		out, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		again, err := buildOf(t, text).JSON()
		if err != nil || !bytes.Equal(out, again) {
			t.Fatalf("built twice, the bytes differ (%v)\n%s", err, text)
		}
		var v any
		if err := json.Unmarshal(out, &v); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	})
}

func noFilmIsNegative(t *rapid.T, d *stack.Document) {
	film := func(what string, m stack.Measure) {
		if m.Lo < 0 || top(m) < m.Lo {
			t.Fatalf("%s is %v to %v", what, m.Lo, top(m))
		}
	}
	for _, l := range d.Layers {
		film(l.ID+" laid", l.FilmLaid)
		for zone, m := range l.FilmLeft {
			film(l.ID+" left in "+zone, m)
		}
	}
	for _, a := range d.Abrasions {
		film(a.ID+" before", a.LeftBefore)
		film(a.ID+" after", a.LeftAfter)
		if top(a.LeftAfter) > top(a.LeftBefore) || a.LeftAfter.Lo > a.LeftBefore.Lo {
			t.Fatalf("%s: abrading leaves more than there was", a.ID)
		}
	}
	for _, c := range d.Contacts {
		film(c.ID+" lower left", c.LowerLeft)
	}
}

// layersAscend: from the metal up, every film was laid after the one beneath.
func layersAscend(t *rapid.T, d *stack.Document) {
	for _, z := range d.Zones {
		if len(z.Layers) == 0 || !d.LayersByID[z.Layers[0]].Substrate {
			t.Fatalf("%s does not begin with its substrate: %v", z.Name, z.Layers)
		}
		before := -1.0
		for _, id := range z.Layers {
			number, _, _ := strings.Cut(id, ":")
			n, err := strconv.ParseFloat(number, 64)
			if err != nil || n <= before {
				t.Fatalf("%s: %s lies over what was laid later: %v", z.Name, id, z.Layers)
			}
			before = n
		}
		if z.Ending != z.Layers[len(z.Layers)-1] {
			t.Fatalf("%s ends with %s, and %s is on top", z.Name, z.Ending, z.Layers[len(z.Layers)-1])
		}
	}
}

func areasAddUp(t *rapid.T, d *stack.Document, panel float64) {
	lo, hi := 0.0, 0.0
	for _, z := range d.Zones {
		lo, hi = lo+z.Area.Lo, hi+top(z.Area)
	}
	if lo > panel+1e-6 || hi < panel-1e-6 {
		t.Fatalf("the zones' areas are %v to %v together, the panel's is %v", lo, hi, panel)
	}
	for _, z := range d.Zones {
		if z.Area.Lo != top(z.Area) {
			return
		}
	}
	if math.Abs(lo-panel) > 1e-6 {
		t.Fatalf("the zones' areas are %v together, the panel's is %v", lo, panel)
	}
}

func layersRestOnSomething(t *rapid.T, d *stack.Document) {
	contacts := map[string]stack.Contact{}
	for _, c := range d.Contacts {
		if _, twice := contacts[c.ID]; twice {
			t.Fatalf("there are two contacts %s", c.ID)
		}
		contacts[c.ID] = c
	}
	for _, l := range d.Layers {
		if l.Step == 0 {
			continue
		}
		for _, zone := range l.Zones {
			c, ok := contacts[zone+"/"+l.ID]
			if !ok || c.Upper != l.ID || len(c.Films) == 0 || c.Films[len(c.Films)-1] != c.Lower {
				t.Fatalf("%s rests on nothing in %s", l.ID, zone)
			}
		}
		if len(d.ContactsByUpper[l.ID]) != len(l.Zones) {
			t.Fatalf("%s was laid in %d zones and has %d contacts", l.ID, len(l.Zones), len(d.ContactsByUpper[l.ID]))
		}
	}
}

func TestExactNumbersLieWithinWhatTheirRangesGive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := makeUp(t)
		ranges, exact := m.text(reading{}), m.text(reading{exact: true})
		d, e := buildOf(t, ranges), buildOf(t, exact)
		inside := func(what string, one, all stack.Measure) {
			// Both are rounded to nine digits.
			slack := func(v float64) float64 { return 1e-7 * math.Max(1, math.Abs(v)) }
			// The other way round a range from nothing is open where its one number is not.
			if one.Open && !all.Open {
				t.Fatalf("%s is open, and the ranges' is not\n%s", what, exact)
			}
			if one.Lo < all.Lo-slack(one.Lo) || !math.IsInf(top(all), 1) && top(one) > top(all)+slack(top(one)) {
				t.Fatalf("%s is %v to %v, and the ranges give %v to %v\n%s\n%s", what, one.Lo, top(one), all.Lo, top(all), exact, ranges)
			}
		}
		if len(d.Layers) != len(e.Layers) || len(d.Contacts) != len(e.Contacts) || len(d.Lays) != len(e.Lays) || len(d.Abrasions) != len(e.Abrasions) {
			t.Fatalf("the stacks are not alike\n%s", exact)
		}
		for i, l := range e.Layers {
			inside(l.ID+" laid", l.FilmLaid, d.Layers[i].FilmLaid)
			for zone, left := range l.FilmLeft {
				inside(l.ID+" left in "+zone, left, d.Layers[i].FilmLeft[zone])
			}
		}
		for i, c := range e.Contacts {
			inside(c.ID+" gap", c.Gap, d.Contacts[i].Gap)
			inside(c.ID+" effective gap", c.GapEffective, d.Contacts[i].GapEffective)
			for k, w := range c.AllWipes {
				inside(c.ID+" wipe", w.Age, d.Contacts[i].AllWipes[k].Age)
			}
		}
		for i, l := range e.Lays {
			if l.DewMargin != nil {
				inside("dew margin of "+l.ID, l.DewMargin.Measured, d.Lays[i].DewMargin.Measured)
			}
		}
		for i, a := range e.Abrasions {
			inside(a.ID+" left", a.LeftAfter, d.Abrasions[i].LeftAfter)
			if a.Age != nil {
				inside(a.ID+" age", *a.Age, *d.Abrasions[i].Age)
			}
		}
		for i, x := range e.Exposures {
			inside(x.ID+" time", x.Time, d.Exposures[i].Time)
		}
	})
}

func TestALongerWaitShortensNoGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := makeUp(t)
		if m.waits == 0 {
			m.say("[[step]]\ndo = \"wait\"\n")
			m.wait("for")
			m.spray(nil)
		}
		longer := reading{longer: rapid.IntRange(1, m.waits).Draw(t, "which"), by: float64(rapid.IntRange(1, 3000).Draw(t, "by"))}
		text := m.text(longer)
		d, e := buildOf(t, m.text(reading{})), buildOf(t, text)
		if len(d.Contacts) != len(e.Contacts) {
			t.Fatalf("%d contacts, and %d after a longer wait\n%s", len(d.Contacts), len(e.Contacts), text)
		}
		for i, c := range d.Contacts {
			if l := e.Contacts[i]; l.ID != c.ID || l.Gap.Open && !c.Gap.Open || l.Gap.Lo < c.Gap.Lo || top(l.Gap) < top(c.Gap) {
				t.Fatalf("%s: the gap was %s, and is %s after a longer wait\n%s", c.ID, c.Gap.Text, l.Gap.Text, text)
			}
			if l := e.Contacts[i]; l.GapEffective.Lo < c.GapEffective.Lo || top(l.GapEffective) < top(c.GapEffective) {
				t.Fatalf("%s: the gap counted as %s, and as %s after a longer wait\n%s", c.ID, c.GapEffective.Text, l.GapEffective.Text, text)
			}
		}
		if first, last := d.Steps[len(d.Steps)-1].End, e.Steps[len(e.Steps)-1].End; last.Lo < first.Lo {
			t.Fatalf("the sheet got shorter\n%s", text)
		}
	})
}
