package sheet

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// What one sheet may hold. Beyond, it was not written by a painter, and
// building its stack would not end.
const (
	MaxSteps = 5000
	MaxZones = 200
	MaxCoats = 100
	MaxCuts  = 100 // at one step
)

// RestZone is the name of what is left of the panel beside its zones, and of
// the whole of it where there are none.
const RestZone = "panel"

var (
	rootSpec    = newKeySet(rootKeys)
	sheetSpec   = newKeySet(rootSpec.byName["sheet"].Fields)
	boothSpec   = newKeySet(rootSpec.byName["booth"].Fields)
	panelSpec   = newKeySet(rootSpec.byName["panel"].Fields)
	zoneSpec    = newKeySet(rootSpec.byName["zone"].Fields)
	waiverSpec  = newKeySet(rootSpec.byName["waiver"].Fields)
	carriedSpec = newKeySet(carriesKey.Fields)
)

// reading is one sheet on its way to being read.
type reading struct {
	r     *Reader
	d     *doc
	s     *Sheet
	names *names
	// zoneNodes are where the zones of s stand.
	zoneNodes []*Node
	more      []Problem // of other files
	files     map[string]bool
}

func (r *Reader) read(loc location, text []byte) (*Sheet, []Problem) {
	values, x, problems := decode(loc.name, text)
	return r.readDecoded(loc, values, x, problems)
}

// readDecoded reads a sheet from what decode made of its text.
func (r *Reader) readDecoded(loc location, values map[string]any, x *Index, problems []Problem) (*Sheet, []Problem) {
	if problems != nil {
		return nil, sorted(loc.name, problems)
	}
	if what := classify(x, values); what == IsShelf || what == IsHouse {
		return nil, []Problem{{Place: top(loc.name), Message: "this is " + what.String() + ", not a process sheet; a sheet has a [sheet] table and its steps, each under [[step]]"}}
	} else if what == IsOther && x.Root.Get("step") == nil && x.Root.Get("panel") == nil {
		return nil, []Problem{{Place: top(loc.name), Message: "this is not a process sheet; one begins with format = 1, and has a [sheet] table, a [panel] table and its steps, each under [[step]]"}}
	}
	rd := &reading{r: r, d: &doc{loc: loc, x: x}, s: &Sheet{File: loc.name}, files: map[string]bool{loc.name: true}}
	rd.read(table{d: rd.d, n: x.Root, v: values, spec: rootSpec})
	problems = append(rd.d.problems, rd.more...)
	if len(problems) > 0 {
		return nil, sorted(loc.name, problems)
	}
	rd.s.Files = slices.Sorted(maps.Keys(rd.files))
	return rd.s, nil
}

func (rd *reading) read(root table) {
	s := rd.s
	root.check("a sheet")
	root.format()
	rd.names = newNames(rd)

	head := rd.head(root)
	if booth, ok := root.sub("booth", boothSpec); ok {
		booth.check("the booth table")
		s.Booth = weather(booth)
		s.Booth.Place = booth.place()
		s.Region = region(booth.word("region").Value)
	}
	if s.Booth.Where.Value == "" {
		s.Booth.Where.Value = "booth"
	}
	rd.panel(root)
	rd.zones(root)
	rd.cards(root, head)
	if s.House != nil && !rd.regionWritten(root) {
		s.Region = s.House.Region
	}
	rd.steps(root)
	rd.waivers(root)
}

func (rd *reading) regionWritten(root table) bool {
	booth := root.n.Get("booth")
	return booth.Get("region") != nil
}

func (rd *reading) head(root table) table {
	s := rd.s
	s.Work, s.EndsAs = works[0], endings[0]
	t, ok := root.sub("sheet", sheetSpec)
	if !ok {
		return table{d: root.d, n: root.n, spec: sheetSpec}
	}
	t.check("the sheet table")
	s.Place = t.place()
	s.Title, s.Number, s.Revision, s.Author = t.text("title"), t.text("number"), t.text("revision"), t.text("author")
	s.Date = t.day("date")
	if work := t.word("work"); work.Written {
		s.Work = work.Value
	}
	if ends := t.word("ends_as"); ends.Written {
		s.EndsAs = ends.Value
	}
	return t
}

// weather reads what a table says of its surroundings.
func weather(t table) Weather {
	return Weather{Air: t.amount("air"), Panel: t.amount("panel"), Humidity: t.amount("humidity"), Where: t.word("where"), Place: t.place()}
}

func (rd *reading) panel(root table) {
	p := &rd.s.Panel
	t, ok := root.sub("panel", panelSpec)
	if ok {
		t.check("the panel table")
		*p = Panel{
			Part: t.text("part"), Substrate: t.kind("substrate"), Plastic: t.word("plastic"), Rust: t.word("rust"),
			Area: t.amount("area"), Faces: t.word("faces"), Place: t.place(),
			Year: t.whole("year", "write the year with its four figures, such as 1961", "write the year with its four figures, such as 1961"),
		}
		p.Carries, p.CarriesWritten = carries(t)
	}
	// What stands where nothing is written: Value alone, Written is false.
	if p.Plastic.Value == "" {
		p.Plastic.Value = "unknown"
	}
	if p.Rust.Value == "" {
		p.Rust.Value = "none"
	}
	if p.Faces.Value == "" {
		p.Faces.Value = faces[0]
	}
	rd.names.carried(p.Substrate.Value, p.Carries)
}

// carries reads what a panel or zone carries, from the metal upward.
func carries(t table) ([]Carried, bool) {
	items, _, ok := t.items("carries")
	if !ok {
		return nil, t.written("carries")
	}
	k := t.spec.byName["carries"]
	all := []Carried{}
	for _, it := range items {
		c := Carried{Condition: conditions[0], Place: t.d.x.Place(it.n.Value)}
		switch v := it.v.(type) {
		case string:
			kind, ok := t.kindOf(v, it.n.Value, it.n.Path(), carriedRoles)
			if !ok {
				continue
			}
			c.Kind = kind.Name
		case map[string]any:
			film := table{d: t.d, n: it.n, v: v, spec: carriedSpec}
			film.check("a film that is carried")
			c.Kind = film.kind("kind").Value
			c.Film = film.amount("film")
			if condition := film.word("condition"); condition.Written {
				c.Condition = condition.Value
			}
			c.Place = t.d.x.Place(it.n.Whole)
			if c.Kind == "" {
				continue
			}
		default:
			t.wrongForm(it.n, k)
			continue
		}
		all = append(all, c)
	}
	return all, true
}

func (rd *reading) zones(root table) {
	items := root.subs("zone")
	if len(items) > MaxZones {
		rd.d.say(headOf(items[MaxZones].n), items[MaxZones].n.Path(), "this is zone %d of %d, and a sheet may have %d; write two sheets", MaxZones+1, len(items), MaxZones)
		items = items[:MaxZones]
	}
	for _, it := range items {
		t := table{d: rd.d, n: it.n, v: it.v.(map[string]any), spec: zoneSpec}
		t.check("a zone")
		z := Zone{
			Name: t.text("name").Value, Area: t.amount("area"), Substrate: t.kind("substrate"), Plastic: t.word("plastic"),
			Rust: t.word("rust"), Faces: t.word("faces"), Role: t.word("role"), Edge: t.word("edge"), Place: t.place(),
		}
		z.Carries, z.CarriesWritten = carries(t)
		rd.names.carried(z.Substrate.Value, z.Carries)
		if n := t.n.Get("name"); z.Name != "" {
			rd.names.zone(z.Name, n)
		}
		rd.s.Zones = append(rd.s.Zones, z)
		rd.zoneNodes = append(rd.zoneNodes, it.n)
	}
	rd.areas()
	rd.names.rest = rd.s.HasRest()
}

// areas holds the zones' areas to the panel's.
func (rd *reading) areas() {
	panel := rd.s.Panel.Area
	if !panel.Written || panel.IsOpen() {
		return
	}
	sum := 0.0
	for i, z := range rd.s.Zones {
		if !z.Area.Written {
			continue
		}
		sum += z.Area.Lo
		if sum > panel.Hi*(1+areaSlack) {
			unit := panel.Unit
			rd.d.sayAt(z.Area.Place, rd.zoneNodes[i].Get("area").Path(),
				"the zones come to "+quantity.Format(quantity.Exactly(sum), quantity.Area, unit)+" with this one, and the panel has "+panel.Text+"; make the zones smaller or the panel's area larger")
			return
		}
	}
}

// areaSlack is how far areas may part and still be the same: the rounding of
// sums, and of unlike units.
const areaSlack = 1e-6

// HasRest tells whether there is a zone `panel`: the whole panel where no
// zones are written, else what they leave over. Zones whose areas certainly
// add up to the panel's leave none.
func (s *Sheet) HasRest() bool {
	if len(s.Zones) == 0 {
		return true
	}
	panel := s.Panel.Area
	if !panel.Written || panel.IsOpen() {
		return true
	}
	sum := 0.0
	for _, z := range s.Zones {
		if !z.Area.Written {
			return true
		}
		sum += z.Area.Lo
	}
	return sum < panel.Hi*(1-areaSlack)
}

// cards gathers every card in reach: the house's shelf, then the sheet's, then
// the sheet's own; a later name wins.
func (rd *reading) cards(root, head table) {
	s := rd.s
	s.Cards = map[string]*Card{}
	if h := rd.r.houseFor(rd.d.loc); h != nil {
		rd.more = append(rd.more, h.problems...)
		s.House = h.house
		for f := range h.files {
			rd.files[f] = true
		}
		cards, _ := merged(h.shelves) // a clash is among the house's problems
		maps.Copy(s.Cards, cards)
		rd.names.unsure = rd.names.unsure || len(h.problems) > 0
	}
	before := len(rd.d.problems)
	shelves, problems := rd.r.shelvesOf(head, "shelf", rd.files)
	rd.more = append(rd.more, problems...)
	cards, clash := merged(shelves)
	rd.more = append(rd.more, clash...)
	maps.Copy(s.Cards, cards)
	rd.names.unsure = rd.names.unsure || len(problems) > 0 || len(rd.d.problems) > before
	for name, c := range readCards(root, true) {
		s.Cards[name] = c.card
	}
	s.CardNames = slices.Sorted(maps.Keys(s.Cards))
}

func (rd *reading) waivers(root table) {
	for _, it := range root.subs("waiver") {
		t := table{d: rd.d, n: it.n, v: it.v.(map[string]any), spec: waiverSpec}
		t.check("a waiver")
		w := Waiver{Rule: t.text("rule"), Reason: t.text("reason"), By: t.text("by"), Until: t.day("until"), Zone: t.text("zone"), Place: t.place()}
		w.Reason.Value = strings.TrimSpace(w.Reason.Value)
		w.By.Value = strings.TrimSpace(w.By.Value)
		if rules := rd.r.o.Rules; w.Rule.Written && rules != nil {
			if _, known := rules[w.Rule.Value]; !known && (rd.s.House == nil || rd.s.House.Rules == "") {
				rd.d.sayAt(w.Rule.Place, t.key("rule"), unknownRule(w.Rule.Value, rules))
			}
		}
		w.Step, w.StepN = rd.waivedStep(t)
		if w.Zone.Written {
			w.Zone.Value = rd.names.anyZone(w.Zone.Value, t.n.Get("zone"))
		}
		rd.s.Waivers = append(rd.s.Waivers, w)
	}
}

// waivedStep reads the step of a waiver: a call, or a number with or without
// quotes.
func (rd *reading) waivedStep(t table) (Text, int) {
	v, n, k, ok := t.get("step")
	if !ok {
		return Text{}, 0
	}
	text, isText := asText(v)
	if _, fraction := v.(float64); !isText || fraction {
		t.wrongForm(n, k)
		return Text{}, 0
	}
	step := Text{Value: text, Written: true, Place: t.d.x.Place(n.Value)}
	if c, ok := rd.names.calls[text]; ok && c.step > 0 {
		if c.cut {
			t.d.say(n.Value, n.Path(), "%s is a zone that step %d cuts; write zone = %s, or step = %d", quoted(text), c.step, quoted(text), c.step)
			return Text{}, 0
		}
		return step, c.step
	}
	steps := len(rd.s.Steps)
	if i, err := strconv.Atoi(text); err == nil {
		if i >= 1 && i <= steps {
			return step, i
		}
		t.d.say(n.Value, n.Path(), "there is no step %s; the sheet has %d", text, steps)
		return Text{}, 0
	}
	t.d.say(n.Value, n.Path(), "no step is called %s; %s", quoted(text), among(text, rd.names.stepCalls(), 6, "no step has a call, so write its number, from 1"))
	return Text{}, 0
}

// kindNamed is a kind by any of its names; nil where there is none.
func kindNamed(name string) *trade.Kind {
	k, ok := trade.Kinds().Lookup(name)
	if !ok {
		return nil
	}
	return k
}
