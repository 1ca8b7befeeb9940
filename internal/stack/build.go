package stack

import (
	"fmt"
	"sort"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// What one sheet may come to. A sheet beyond it is a slip of the pen, or made
// to use a machine up; no panel has so many places or films.
const (
	maxZones    = 2000
	maxFilms    = 400     // in one zone
	maxContacts = 100_000 // films laid on films, over all zones
	maxActs     = 250_000 // touches, abrasions and the like, over all zones
	mostBeneath = 40      // films of this sheet that a contact tells of beneath it, the uppermost
	mostAbove   = 64      // layers that a contact tells of above it, the lowest
)

// builder carries one sheet out.
type builder struct {
	s     *sheet.Sheet
	lim   limits
	doc   *Document
	clock *clock
	cups  []*cup      // by step index; nil where the step lays no product
	views []*cardView // by step index; nil where the step lays nothing

	byRef      map[string]*cardView
	zones      []*zone // in the order they come to be; a cut zone after the one it was cut from
	byName     map[string]*zone
	byCall     map[string][]*zone // the zones that a call cut
	layers     []*layer
	byID       map[string]*layer
	callOf     map[string]*layer // the layer that a step's call lays
	row        *row
	lays       []*laying
	bakes      []*bakeRun
	rooms      map[string]int // where metalwork was last done, where a step says where
	depths     []*depth
	exposures  []exposed
	conditions []string // of the open gaps, by index of the document's contacts
	inspect    map[string]bool
	acts       int
	ages       map[ageKey]Beneath // of the films beneath the contacts made at a position
	agesAt     int

	problems []sheet.Problem
	stopped  bool // a bound was passed: nothing more is carried out
}

// row is the layer that the next step may go on with.
type row struct {
	layer *layer
	zones map[*zone]bool // of its last step
}

// Build carries a checked sheet out on paper and returns the document of facts
// that rules read. The problems are those that only the bookkeeping can find: a
// cut to a film that nothing reached lies over, a strip down to a kind that is
// not carried, a zone named before the cut that makes it, a sheet beyond all
// bounds. A sheet with problems gets no document.
func Build(s *sheet.Sheet) (*Document, []sheet.Problem) {
	b := &builder{
		s: s, lim: limitsOf(s), doc: &Document{Stack: 1},
		cups: make([]*cup, len(s.Steps)), views: make([]*cardView, len(s.Steps)),
		byRef: map[string]*cardView{}, byName: map[string]*zone{}, byCall: map[string][]*zone{},
		byID: map[string]*layer{}, callOf: map[string]*layer{}, rooms: map[string]int{}, inspect: map[string]bool{},
	}
	for i := range s.Steps {
		st := &s.Steps[i]
		switch {
		case st.Card != nil:
			b.views[i] = b.view(st.Card)
			b.cups[i] = cupOf(s, st, b.views[i])
		case st.Do == "solder":
			b.views[i] = viewKind("body solder", b.lim)
		}
	}
	b.clock = newClock(s, b.cups)
	b.begin()
	for i := range s.Steps {
		if b.stopped {
			break
		}
		b.step(&s.Steps[i])
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	b.end()
	return b.doc, nil
}

// view is the view of a card, one for each reference.
func (b *builder) view(c *sheet.Card) *cardView {
	ref := cardRef(c)
	if v, ok := b.byRef[ref]; ok {
		return v
	}
	v := viewCard(c, b.lim)
	b.byRef[ref] = v
	return v
}

func (b *builder) problem(at sheet.Place, key, format string, args ...any) {
	b.problems = append(b.problems, sheet.Problem{Place: at, Key: key, Message: fmt.Sprintf(format, args...)})
}

// stop gives up on a sheet beyond a bound.
func (b *builder) stop(st *sheet.Step, format string, args ...any) {
	if !b.stopped {
		b.problem(st.Place, stepKey(st, ""), format, args...)
	}
	b.stopped = true
}

// count keeps the acts on surfaces within bounds.
func (b *builder) count(st *sheet.Step, n int) {
	b.acts += n
	if b.acts > maxActs {
		b.stop(st, "with this step the sheet does more than %d things to its zones, counted zone by zone; split it into several sheets", maxActs)
	}
}

// stepKey is a step's key as problems name it: step[3].on.
func stepKey(st *sheet.Step, key string) string {
	if key == "" {
		return fmt.Sprintf("step[%d]", st.N)
	}
	return fmt.Sprintf("step[%d].%s", st.N, key)
}

// keyPlace is where a step writes a key, else where the step stands.
func keyPlace(st *sheet.Step, key string, value sheet.Place) sheet.Place {
	if value.Line > 0 {
		return value
	}
	if p, ok := st.Keys[key]; ok {
		return p
	}
	return st.Place
}

// slug writes a kind's name as an id has it.
func slug(kind string) string { return strings.ReplaceAll(kind, " ", "-") }

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// begin makes the zones as the panel comes in: those the sheet writes, then
// the rest of the panel, which is the zone `panel`, unless the areas leave none.
func (b *builder) begin() {
	p := &b.s.Panel
	rest, restOK := p.Area.Interval, p.Area.Written
	for i := range b.s.Zones {
		z := &b.s.Zones[i]
		if !z.Area.Written {
			// It may have any part of the panel.
			rest.Lo = 0
			continue
		}
		rest = rest.SubClamped(z.Area.Interval)
	}
	for i := range b.s.Zones {
		z := &b.s.Zones[i]
		b.beginZone(z, z.Name, z.Area.Interval, z.Area.Written, orElse(z.Area.Unit, p.Area.Unit))
	}
	if b.s.HasRest() {
		b.beginZone(nil, "panel", rest, restOK, p.Area.Unit)
	}
}

// beginZone makes one zone with what it carries. written is nil for the rest
// of the panel; what a zone does not write is the panel's.
func (b *builder) beginZone(written *sheet.Zone, name string, area quantity.Interval, areaOK bool, unit string) {
	p := &b.s.Panel
	substrate, plastic, rust, faces := p.Substrate.Value, p.Plastic.Value, p.Rust.Value, p.Faces.Value
	carries := p.Carries
	at, groundAt, suffix := p.Place, p.Place, ""
	z := &zone{id: len(b.zones), area: area, areaOK: areaOK, unit: unit, inspected: map[string]bool{}, where: placeOf(b.s.Booth)}
	ownGround, ownFilms := "", ""
	if w := written; w != nil {
		at, suffix = w.Place, " ("+w.Name+")"
		z.facts.Role, z.facts.Edge = w.Role.Value, w.Edge.Value
		for _, own := range []struct {
			from sheet.Text
			to   *string
		}{{w.Plastic, &plastic}, {w.Rust, &rust}, {w.Faces, &faces}} {
			if own.from.Written {
				*own.to = own.from.Value
			}
		}
		if w.Substrate.Written {
			substrate, ownGround, groundAt = w.Substrate.Value, suffix, w.Place
		}
		if w.CarriesWritten {
			carries, ownFilms = w.Carries, suffix
		}
	}
	z.facts.Name, z.facts.Place = name, at
	z.facts.Substrate, z.facts.Plastic = substrate, orElse(plastic, "unknown")
	z.facts.Olefin = isOlefin(z.facts.Plastic)
	z.facts.Rust, z.facts.Faces, z.facts.Edge = orElse(rust, "none"), orElse(faces, "weather"), orElse(z.facts.Edge, "panel break")
	z.facts.Carried = []string{}
	z.rust.Rust = z.facts.Rust

	ground := b.existing("0:"+slug(substrate)+ownGround, substrate, sheet.Amount{}, "", groundAt, name, true)
	z.push(&film{layer: ground, contact: -1})
	for i, c := range carries {
		l := b.existing(fmt.Sprintf("0.%d:%s%s", i+1, slug(c.Kind), ownFilms), c.Kind, c.Film, orElse(c.Condition, "sound"), c.Place, name, false)
		z.push(&film{layer: l, contact: -1, left: leftOf(l.was, l.FilmAssumed), known: l.wasKnown, leaned: existingLeaned(l)})
		z.facts.Carried = append(z.facts.Carried, l.ID)
	}
	if len(carries) > 0 {
		z.soiledBy = "carried"
	}
	top := z.topFilm()
	z.virgin = top.Substrate && (top.Traits.Plastic || top.Traits.Composite) || top.Existing && top.Kind == "gelcoat"
	z.top = &surface{place: top.Place}
	b.zones = append(b.zones, z)
	b.byName[name] = z
}

func isOlefin(plastic string) bool {
	switch strings.ToUpper(plastic) {
	case "TPO", "PP", "PE", "EPDM":
		return true
	}
	return false
}

// existing is the substrate, or a finish that was there, shared by the zones
// that do not write their own.
func (b *builder) existing(id, kind string, written sheet.Amount, condition string, at sheet.Place, in string, substrate bool) *layer {
	if l, ok := b.byID[id]; ok {
		l.Zones = append(l.Zones, in)
		return l
	}
	v := viewKind(kind, b.lim)
	l := &layer{view: v, home: map[string]*zone{}, inBakes: map[string]bool{}, mayBeIn: map[string]bool{}, left: map[string]Measure{}}
	l.Layer = Layer{
		ID: id, Kind: kind, Name: kind, Traits: v.traits(), Zones: []string{in}, Existing: !substrate, Substrate: substrate,
		Condition: condition, Place: at, FilmLaid: openMeasure(quantity.Film, "mil"), LaidAt: measure(quantity.Interval{}, quantity.Time, "min"),
	}
	if !substrate {
		typical := v.number("film")
		switch {
		case written.Written:
			l.was, l.unit = written.Interval, written.Unit
		case typical.ok && !typical.iv.IsOpen():
			l.was, l.unit, l.FilmAssumed = typical.iv, typical.unit, true
		default:
			l.was, l.FilmAssumed = quantity.Open, true
		}
		l.wasKnown = !isOpen(l.was, quantity.Film)
		if l.wasKnown {
			l.FilmLaid = measure(l.was, quantity.Film, l.unit)
		}
	}
	l.unit = orElse(l.unit, "mil")
	b.layers = append(b.layers, l)
	b.byID[id] = l
	return l
}

func existingLeaned(l *layer) []string {
	if !l.FilmAssumed {
		return nil
	}
	return l.view.number("film").leaned
}

// named finds what a name in `on`, `except` or `over` stands for at this
// moment: a zone, or every zone that a call has cut.
func (b *builder) named(name string) []*zone {
	if z, ok := b.byName[name]; ok && z.call == "" {
		return []*zone{z}
	}
	if zs := b.byCall[name]; len(zs) > 0 {
		return zs
	}
	if z, ok := b.byName[name]; ok {
		return []*zone{z}
	}
	return nil
}

// reach lists the zones a step works on, in order. A name reaches the zones
// cut from its own too, unless a nearer name is excepted; no `on` is everything.
func (b *builder) reach(st *sheet.Step) []*zone {
	says := b.said(st, "on", st.On)
	for _, name := range st.Except.Values {
		for _, z := range b.named(name) {
			says[z] = false
		}
	}
	return b.spread(says, len(st.On.Values) == 0)
}

// said are the zones that the names of a step's key stand for; a name that
// stands for none is a problem.
func (b *builder) said(st *sheet.Step, key string, names sheet.Texts) map[*zone]bool {
	says := map[*zone]bool{}
	for i, name := range names.Values {
		found := b.named(name)
		if len(found) == 0 {
			b.noZone(st, key, name, textPlace(names, i))
		}
		for _, z := range found {
			says[z] = true
		}
	}
	return says
}

// spread lists the zones that are said, or whose nearest ancestor that is
// spoken of is said; all tells what holds where none is.
func (b *builder) spread(says map[*zone]bool, all bool) []*zone {
	in := make([]bool, len(b.zones))
	var out []*zone
	for i, z := range b.zones {
		yes, spoken := says[z]
		switch {
		case spoken:
			in[i] = yes
		case z.parent != nil:
			in[i] = in[z.parent.id]
		default:
			in[i] = all
		}
		if in[i] {
			out = append(out, z)
		}
	}
	return out
}

// noZone says that a name stands for no zone at this step.
func (b *builder) noZone(st *sheet.Step, key, name string, at sheet.Place) {
	at = keyPlace(st, key, at)
	for i := range b.s.Steps[st.N-1:] {
		later := &b.s.Steps[st.N-1+i]
		if cutsCall(later, name) {
			b.problem(at, stepKey(st, key), "step %d works on %q, but that place is only cut in step %d; name it from the step after the cut on", st.N, name, later.N)
			return
		}
	}
	if name == "panel" {
		b.problem(at, stepKey(st, key), "there is no zone \"panel\": the areas of the zones add up to the whole panel, so that nothing is left over; name the zones, or give the panel a larger area")
		return
	}
	for i := range b.s.Steps[:st.N-1] {
		earlier := &b.s.Steps[i]
		if cutsCall(earlier, name) {
			b.problem(at, stepKey(st, key), "step %d works on %q, but step %d cuts through nothing there: what it names is on top already; drop the cut, or name the zone itself", st.N, name, earlier.N)
			return
		}
	}
	b.problem(at, stepKey(st, key), "there is no zone or cut called %q at step %d; the zones are %s", name, st.N, b.zoneWords())
}

func cutsCall(st *sheet.Step, call string) bool {
	for i := range st.CutsTo {
		if st.CutsTo[i].Call == call {
			return true
		}
	}
	return false
}

// zoneWords names the first zones there are.
func (b *builder) zoneWords() string {
	var names []string
	for i, z := range b.zones {
		if i == 8 {
			names = append(names, "...")
			break
		}
		names = append(names, fmt.Sprintf("%q", z.facts.Name))
	}
	return strings.Join(names, ", ")
}

func textPlace(t sheet.Texts, i int) sheet.Place {
	if i < len(t.Places) {
		return t.Places[i]
	}
	return t.Place
}

func zoneNames(zs []*zone) []string {
	out := make([]string, 0, len(zs))
	for _, z := range zs {
		out = append(out, z.facts.Name)
	}
	return out
}

// placeOf is where a step is done: "booth" where nobody says.
func placeOf(w sheet.Weather) string { return orElse(w.Where.Value, "booth") }

// step carries one step out on every zone it reaches.
func (b *builder) step(st *sheet.Step) {
	zs := b.reach(st)
	if len(zs) == 0 {
		if len(b.problems) == 0 {
			b.problem(keyPlace(st, "except", st.Except.Place), stepKey(st, "except"), "step %d reaches no zone at all: everything it could work on is excepted", st.N)
		}
		return
	}
	b.stepFacts(st, zs)
	b.during(st, zs)
	keep := false
	switch st.Do {
	case "strip":
		b.strip(zs, st)
	case "sand", "block", "scuff":
		b.abrade(zs, st)
	case "clean", "tack", "blow_off":
		keep = true
		b.touch(zs, st)
	case "treat", "rinse", "neutralize":
		b.touch(zs, st)
	case "mask":
		b.mask(zs, st)
	case "solder", "spray", "brush", "spread", "caulk":
		keep = true
		b.lay(zs, st)
	case "bake":
		b.bake(zs, st)
	case "metalwork", "store":
		b.soil(zs, st)
	case "polish":
		b.polish(zs, st)
	case "wait":
		keep = true
	case "inspect":
		keep = true
		for _, m := range st.Measure.Values {
			b.inspect[m] = true
			for _, z := range zs {
				z.inspected[m] = true
			}
		}
	}
	if !keep {
		b.row = nil
	}
	where := placeOf(b.clock.weather[st.N-1])
	for _, z := range zs {
		z.where = where
	}
}

// stepFacts is what the document says of a step before it is carried out.
func (b *builder) stepFacts(st *sheet.Step, zs []*zone) {
	d := Step{
		ID: stepID(st.N), N: st.N, Do: st.Do, Call: st.Call, Name: "step " + stepID(st.N), Zones: zoneNames(zs),
		Start: b.since(startOf(st.N)), End: b.since(doneOf(st.N)),
		Where: placeOf(b.clock.weather[st.N-1]), Tool: st.Tool.Value, Media: st.Media.Value, Wet: st.Wet.Value, GuideCoat: st.GuideCoat.Value,
		WithKind: st.WithKind, With: orElse(st.With.Value, st.WithKind), Welding: st.Welding.Value,
		Measures: sorted(st.Measure.Values), Wear: sorted(st.Wear.Values), Inspected: inspectedInAll(zs), Place: st.Place,
	}
	if st.Call != "" {
		d.Name += fmt.Sprintf(" (%q)", st.Call)
	}
	for _, w := range st.Wear.Values {
		d.Extraction = d.Extraction || w == "extraction"
	}
	if g := gradeOf(st); g.Written {
		d.Grade, d.BareGrade, d.GradeNumber = g.Name, g.Bare, g.Number
	}
	switch st.Do {
	case "sand", "block", "scuff":
		d.Dusty = !st.Wet.Value
	case "strip":
		d.Dusty = dustyTool(st.Tool.Value)
	}
	switch c := b.s.Cards[st.WithCard]; {
	case st.WithCard != "" && c != nil:
		d.Hazards = b.view(c).traits().Hazards
	case st.WithKind != "":
		d.Hazards = kindTraits(st.WithKind).Hazards
	}
	b.doc.Steps = append(b.doc.Steps, d)
}

// since is how long the sheet has run at a position, as the clock counts it.
func (b *builder) since(pos int) Measure { return measure(b.clock.sum(0, pos), quantity.Time, "") }

// inspectedInAll is every measure taken in every one of some zones.
func inspectedInAll(zs []*zone) []string {
	out := []string{}
	for m := range zs[0].inspected {
		in := true
		for _, z := range zs[1:] {
			in = in && z.inspected[m]
		}
		if in {
			out = append(out, m)
		}
	}
	sort.Strings(out)
	return out
}

// gradeOf is the abrasive a step works with: its grit, else its pad.
func gradeOf(st *sheet.Step) sheet.Grade {
	if st.Grit.Written {
		return st.Grit
	}
	return st.Pad
}

func gritOf(st *sheet.Step) Grit {
	g := gradeOf(st)
	return Grit{
		Step: st.N, Do: st.Do, Tool: st.Tool.Value, Name: g.Name, Pad: g.System == quantity.Pad, Wet: st.Wet.Value,
		Known: g.Written, Microns: gradeMeasure(g.Abrasive),
	}
}

// dustyTool: a stripping tool that makes dust.
func dustyTool(tool string) bool { return tool != "chemical stripper" && tool != "razor" }

// work notes on the step what it abrades, takes off or welds.
func (b *builder) work(z *zone, f *film) {
	s := &b.doc.Steps[len(b.doc.Steps)-1]
	s.Worked = append(s.Worked, workedOn(z, f))
}

func workedOn(z *zone, f *film) Worked {
	return Worked{Zone: z.facts.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Existing: f.Existing, Hazards: f.hazards()}
}

// during notes a step on every surface it happens beside. Only acts that throw
// something into the air or move the panel are noted.
func (b *builder) during(st *sheet.Step, zs []*zone) {
	switch st.Do {
	case "strip", "sand", "block", "scuff", "solder", "spray", "brush", "metalwork", "store", "polish":
	default:
		return
	}
	reached := make([]bool, len(b.zones))
	for _, z := range zs {
		reached[z.id] = true
	}
	where := placeOf(b.clock.weather[st.N-1])
	kind := ""
	if v := b.views[st.N-1]; v != nil {
		kind = v.kind.Name
	}
	b.count(st, len(b.zones))
	for i, z := range b.zones {
		z.top.during = append(z.top.during, During{Step: st.N, Do: st.Do, SamePlace: reached[i] || z.where == where, Reaches: reached[i], ProductKind: kind})
	}
}

// beginning tells the first abrasion or film of bare plastic, fiberglass or
// gelcoat, and what washed it before.
func (b *builder) beginning(z *zone, st *sheet.Step, act, id string) {
	if !z.virgin {
		return
	}
	z.virgin = false
	f := z.topFilm()
	b.doc.Beginnings = append(b.doc.Beginnings, Beginning{
		ID: id, Zone: z.facts.Name, Step: st.N, Act: act, Layer: f.ID, Kind: f.Kind, Name: f.Name, Soap: z.soap, Cleaner: z.cleaner, Place: st.Place,
	})
}

// actID is the id of what a step does to a zone: ZONE/3.
func actID(z *zone, st *sheet.Step) string { return z.facts.Name + "/" + stepID(st.N) }

// removal is what one act takes off, mil, and whether the sheet says so.
func removal(z *zone, st *sheet.Step) (quantity.Interval, bool) {
	if st.TakesOff.Written {
		return st.TakesOff.Interval, true
	}
	edge := z.facts.Role == "edge"
	if st.Do == "polish" {
		return trade.CompoundRemoval(edge), false
	}
	return trade.Removal(gradeOf(st).Abrasive, st.Tool.Value, edge), false
}
