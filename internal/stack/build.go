package stack

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// What one sheet may come to: a sheet beyond it is a slip, or a trap.
const (
	maxZones    = 2000
	maxContacts = 200000
)

// builder carries one sheet out.
type builder struct {
	s             *sheet.Sheet
	lim           limits
	clock         *clock
	views         []*cardView // by step index; nil where the step lays nothing
	byRef         map[string]*cardView
	doc           *Document
	problems      []sheet.Problem
	zones         []*place
	byName        map[string]*place
	byCall        map[string][]*place // zones a call cut
	layers        []*layer
	layerBy       map[string]*layer
	current       map[string]*layer // card ref → layer that a next step may go on with
	lastLaid      *layer
	openExposure  map[*place]int // index of the running exposure
	relied        map[string]int // LAYER/ZONE → step that came sooner than the film allows unbaked
	bakes         []*bakeRun
	contactAt     map[string]int // contact id → index
	workedSince   map[string]bool
	metalworkAt   map[string]int // place → clock position of the last metalwork's end
	metalworkStep map[string]int
	cupStep       map[int]string
	inspects      map[string]bool
	pending       []*pending
	metals        []metalContact
	sandedAt      map[string]int // ZONE/LAYER → first step that sands it
}

type bakeRun struct {
	step, start, end int
	st               *sheet.Step
	zones            map[string]bool
}

// Build carries a checked sheet out on paper. The problems are those that only
// the bookkeeping can find; a sheet with problems has no document.
func Build(s *sheet.Sheet) (*Document, []sheet.Problem) {
	b := &builder{
		s: s, lim: limitsOf(s), byRef: map[string]*cardView{}, byName: map[string]*place{}, byCall: map[string][]*place{},
		layerBy: map[string]*layer{}, openExposure: map[*place]int{}, relied: map[string]int{}, contactAt: map[string]int{},
		metalworkAt: map[string]int{}, metalworkStep: map[string]int{}, inspects: map[string]bool{},
	}
	b.doc = emptyDocument()
	b.views = make([]*cardView, len(s.Steps))
	for i := range s.Steps {
		if c := s.Steps[i].Card; c != nil {
			b.views[i] = b.view(c)
		}
	}
	b.clock = clockOf(s, b.views)
	b.begin()
	for i := range s.Steps {
		b.step(&s.Steps[i])
		if len(b.problems) > 0 && (len(b.zones) > maxZones || len(b.doc.Contacts) > maxContacts) {
			break
		}
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	b.end()
	return b.doc, nil
}

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

func slug(s string) string { return strings.ReplaceAll(strings.ToLower(s), " ", "-") }

// begin makes the zones as the panel comes in.
func (b *builder) begin() {
	s := b.s
	type part struct {
		z    *sheet.Zone
		name string
	}
	var parts []part
	rest := true
	area, areaKnown := s.Panel.Area.Interval, s.Panel.Area.Written
	left, leftKnown := area, areaKnown
	for i := range s.Zones {
		z := &s.Zones[i]
		parts = append(parts, part{z, z.Name})
		if z.Area.Written && leftKnown {
			left = left.SubClamped(z.Area.Interval)
		} else if !z.Area.Written {
			leftKnown = false
		}
	}
	if len(parts) > 0 && areaKnown && leftKnown && left.Hi <= area.Hi*1e-9 {
		rest = false
	}
	if rest {
		parts = append(parts, part{nil, "panel"})
	}
	for _, p := range parts {
		pl := &place{order: len(b.zones), inspected: map[string]bool{}, bakedAt: map[string]int{}}
		pl.Name = p.name
		pl.Layers = []string{}
		pl.Carried = []string{}
		sub, plastic, rust, faces := s.Panel.Substrate, s.Panel.Plastic, s.Panel.Rust, s.Panel.Faces
		carries := s.Panel.Carries
		own := false
		pl.Place = s.Panel.Place
		pl.areaIv, pl.areaOpen, pl.areaUnit = left, !leftKnown, s.Panel.Area.Unit
		if len(s.Zones) == 0 {
			pl.areaIv, pl.areaOpen = area, !areaKnown
		}
		if z := p.z; z != nil {
			pl.Place = z.Place
			pl.Role, pl.Edge = z.Role.Value, z.Edge.Value
			if z.Substrate.Written {
				sub, own = z.Substrate, true
			}
			if z.Plastic.Written {
				plastic = z.Plastic
			}
			if z.Rust.Written {
				rust = z.Rust
			}
			if z.Faces.Written {
				faces = z.Faces
			}
			if z.CarriesWritten {
				carries, own = z.Carries, true
			}
			pl.areaIv, pl.areaOpen, pl.areaUnit = z.Area.Interval, !z.Area.Written, z.Area.Unit
			if pl.areaUnit == "" {
				pl.areaUnit = s.Panel.Area.Unit
			}
		}
		pl.Substrate = sub.Value
		pl.Plastic = orElse(plastic.Value, "unknown")
		pl.Olefin = isOlefin(pl.Plastic)
		pl.Rust = orElse(rust.Value, "none")
		pl.Faces = orElse(faces.Value, "weather")
		pl.Edge = orElse(pl.Edge, "panel break")
		pl.hasRust = pl.Rust != "none"
		pl.rust.Rust = pl.Rust
		pl.substrateKind = sub.Value
		suffix := ""
		if own {
			suffix = " (" + p.name + ")"
		}
		ground := b.existing("0:"+slug(sub.Value)+suffix, sub.Value, quantity.Quantity{}, "sound", pl, true)
		pl.films = append(pl.films, &film{layer: ground})
		for i, c := range carries {
			id := fmt.Sprintf("0.%d:%s%s", i+1, slug(c.Kind), suffix)
			l := b.existing(id, c.Kind, c.Film.Quantity, c.Condition, pl, false)
			pl.films = append(pl.films, &film{layer: l, left: l.film, known: !l.leftOpen, leftMid: l.film.Mid()})
			pl.Carried = append(pl.Carried, id)
			if trade.KindOf(c.Kind).Class == "filler" {
				pl.filled = true
			}
		}
		if len(carries) > 0 {
			pl.soiled = "carried"
		}
		pl.top = &surface{place: pl.Place, lastAbrPos: -1}
		b.zones = append(b.zones, pl)
		b.byName[pl.Name] = pl
		b.expose(pl, 0, 0)
	}
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func isOlefin(p string) bool {
	switch strings.ToUpper(p) {
	case "TPO", "PP", "PE", "EPDM":
		return true
	}
	return false
}

// existing is a film, or the substrate, that was there before the sheet.
func (b *builder) existing(id, kind string, filmQ quantity.Quantity, condition string, pl *place, substrate bool) *layer {
	if l, ok := b.layerBy[id]; ok {
		l.Zones = append(l.Zones, pl.Name)
		if !substrate {
			l.left[pl.Name] = l.film
		}
		return l
	}
	v := viewKind(kind, b.lim)
	l := &layer{view: v, left: map[string]quantity.Interval{}, lays: map[string]int{}}
	l.ID, l.Kind, l.Name, l.Traits = id, kind, kind, v.traits()
	l.Existing, l.Substrate, l.Condition = !substrate, substrate, condition
	l.Zones, l.Steps, l.Fades, l.StrippedLater = []string{pl.Name}, []int{}, []string{}, []string{}
	l.Place = pl.Place
	if !substrate {
		switch {
		case filmQ.Written:
			l.film, l.unit = filmQ.Interval, filmQ.Unit
		case v.typ.Film.Written && !v.typ.Film.IsOpen():
			l.film, l.unit, l.assumed = v.typ.Film.Interval, v.typ.Film.Unit, true
			l.leaned = []string{v.ref + ".film"}
		default:
			l.film, l.unit, l.leftOpen = quantity.Open, "mil", true
		}
		l.left[pl.Name] = l.film
	}
	b.layers = append(b.layers, l)
	b.layerBy[id] = l
	return l
}

// reach lists the zones a step reaches, in order.
func (b *builder) reach(st *sheet.Step) []*place {
	except := map[string]bool{}
	for _, n := range st.Except.Values {
		for _, z := range b.named(n) {
			except[z.Name] = true
		}
	}
	in := map[string]bool{}
	all := len(st.On.Values) == 0
	if !all {
		for i, n := range st.On.Values {
			found := b.named(n)
			if len(found) == 0 {
				at := st.On.Place
				if i < len(st.On.Places) {
					at = st.On.Places[i]
				}
				b.problem(at, fmt.Sprintf("step[%d].on", st.N), "there is no zone or cut called %q at this step; a cut makes its zone only from its own step on", n)
			}
			for _, z := range found {
				in[z.Name] = true
			}
		}
	}
	var out []*place
	for _, z := range b.zones {
		if (all || in[z.Name]) && !except[z.Name] {
			out = append(out, z)
		}
	}
	return out
}

// named is a zone by its name with the zones cut from it, or the zones a call cut.
func (b *builder) named(name string) []*place {
	var roots []*place
	if z, ok := b.byName[name]; ok {
		roots = append(roots, z)
	}
	roots = append(roots, b.byCall[name]...)
	var out []*place
	seen := map[string]bool{}
	var walk func(*place)
	walk = func(z *place) {
		if seen[z.Name] {
			return
		}
		seen[z.Name] = true
		out = append(out, z)
		for _, c := range z.cuts {
			walk(c)
		}
	}
	for _, z := range roots {
		walk(z)
	}
	return out
}

func zoneNames(zs []*place) []string {
	out := make([]string, 0, len(zs))
	for _, z := range zs {
		out = append(out, z.Name)
	}
	return out
}

// step carries one step out on every zone it reaches.
func (b *builder) step(st *sheet.Step) {
	zs := b.reach(st)
	if len(b.problems) > 0 && len(zs) == 0 {
		return
	}
	b.recordStep(st, zs)
	switch st.Do {
	case "strip":
		for _, z := range zs {
			b.strip(z, st)
		}
	case "sand", "block", "scuff":
		b.abrade(zs, st)
	case "clean", "tack", "blow_off", "treat", "rinse", "neutralize":
		for _, z := range zs {
			b.touch(z, st)
		}
	case "mask":
		b.mask(zs, st)
	case "solder":
		b.lay(zs, st)
	case "spray", "brush", "spread", "caulk":
		b.lay(zs, st)
	case "bake":
		b.bake(zs, st)
	case "metalwork", "store":
		for _, z := range zs {
			b.soil(z, st)
		}
	case "polish":
		for _, z := range zs {
			b.polish(z, st)
		}
	case "inspect":
		for _, m := range st.Measure.Values {
			b.inspects[m] = true
			for _, z := range zs {
				z.inspected[m] = true
			}
		}
	}
	b.during(st, zs)
	if st.Do != "spray" && st.Do != "brush" && st.Do != "spread" && st.Do != "caulk" {
		switch st.Do {
		case "wait", "tack", "clean", "inspect":
		default:
			b.lastLaid = nil
		}
	}
}

func stepName(st *sheet.Step) string {
	if st.Call != "" {
		return fmt.Sprintf("step %d (%s)", st.N, st.Call)
	}
	return fmt.Sprintf("step %d", st.N)
}

func (b *builder) recordStep(st *sheet.Step, zs []*place) {
	at := b.clock.steps[st.N]
	w := weatherAt(st.Weather, b.s.Booth)
	d := Step{
		ID: strconv.Itoa(st.N), N: st.N, Do: st.Do, Call: st.Call, Name: stepName(st), Zones: zoneNames(zs),
		Start: measureTime(b.clock.total(0, at.start)), End: measureTime(b.clock.total(0, at.end)),
		Where: placeOf(w), Tool: st.Tool.Value, Media: st.Media.Value, Wet: st.Wet.Value, GuideCoat: st.GuideCoat.Value,
		With: st.With.Value, WithKind: st.WithKind, Welding: st.Welding.Value,
		Measures: sortedCopy(st.Measure.Values), Wear: append([]string{}, st.Wear.Values...), Place: st.Place,
		Worked: []Worked{}, Hazards: []string{},
	}
	for _, wear := range st.Wear.Values {
		if wear == "extraction" {
			d.Extraction = true
		}
	}
	if g := gradeOf(st); g.Written {
		d.Grade, d.BareGrade, d.GradeNumber = g.Name, g.Bare, g.Number
	}
	switch st.Do {
	case "sand", "block", "scuff":
		d.Dusty = !st.Wet.Value
	case "strip":
		d.Dusty = st.Tool.Value != "chemical stripper" && st.Tool.Value != "razor"
	}
	counts := map[string]int{}
	for _, z := range zs {
		for m := range z.inspected {
			counts[m]++
		}
	}
	d.Inspected = []string{}
	for m, n := range counts {
		if n == len(zs) {
			d.Inspected = append(d.Inspected, m)
		}
	}
	sort.Strings(d.Inspected)
	hazards := map[string]bool{}
	if st.WithCard != "" {
		if c := b.s.Cards[st.WithCard]; c != nil {
			for _, h := range b.view(c).traits().Hazards {
				hazards[h] = true
			}
		}
	} else if st.WithKind != "" {
		for _, h := range kindTraits(st.WithKind).Hazards {
			hazards[h] = true
		}
	}
	for h := range hazards {
		d.Hazards = append(d.Hazards, h)
	}
	sort.Strings(d.Hazards)
	b.doc.Steps = append(b.doc.Steps, d)
}

func sortedCopy(words []string) []string {
	out := append([]string{}, words...)
	sort.Strings(out)
	return out
}

func measureTime(iv quantity.Interval) Measure {
	if iv == (quantity.Interval{}) {
		return measure(iv, quantity.Time, "min")
	}
	return measure(iv, quantity.Time, "")
}

func gradeOf(st *sheet.Step) sheet.Grade {
	if st.Grit.Written {
		return st.Grit
	}
	return st.Pad
}

func (b *builder) work(st *sheet.Step, z *place, f *film) {
	s := &b.doc.Steps[len(b.doc.Steps)-1]
	s.Worked = append(s.Worked, Worked{Zone: z.Name, Layer: f.ID, Kind: f.Kind, Name: f.Name, Existing: f.Existing, Hazards: append([]string{}, f.Traits.Hazards...)})
}
