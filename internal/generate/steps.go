package generate

import (
	"fmt"
	"slices"

	"guidecoat/internal/trade"
)

// most films in one zone before it is stripped: a long sheet goes over its
// panel again and again.
const mostFilms = 24

// act writes what a painter does next: most often what leads to the next film,
// now and then anything at all. It writes no step after the last.
func (m *maker) act(last int) {
	do := func(f func()) {
		if m.steps < last {
			f()
		}
	}
	if deepest(m.zones) > mostFilms || m.steps == 0 && m.likely(0.4) {
		do(func() { m.strip("substrate", nil) })
	}
	if m.likely(0.35) {
		do(m.anything)
		return
	}
	if m.careful() {
		do(func() { m.clean(m.some()) })
	}
	on := m.some()
	if m.careful() {
		do(func() { m.abrade(on) })
		if m.likely(0.3) {
			do(func() { m.abrade(on) })
		}
	}
	if m.likely(0.5) {
		do(func() { m.plain(m.pick("blow_off", "tack"), on) })
	}
	if m.careful() {
		do(func() { m.clean(on) })
	}
	do(func() { m.lay(m.next(on), on) })
	if m.likely(0.15) {
		do(func() { m.lay(m.next(on), on) })
	}
}

// anything writes one step of any verb.
func (m *maker) anything() {
	on := m.some()
	switch do := m.pick("strip", "abrade", "abrade", "clean", "tack", "blow_off", "treat", "rinse", "neutralize", "mask", "solder",
		"lay", "lay", "bake", "wait", "metalwork", "store", "polish", "inspect"); do {
	case "strip":
		downTo := "substrate"
		if kinds := kindsIn(m.reached(on)); len(kinds) > 0 && m.likely(0.3) {
			downTo = kinds[m.IntN(len(kinds))]
		}
		m.strip(downTo, on)
	case "abrade":
		m.abrade(on)
	case "clean":
		m.clean(on)
	case "lay":
		films := trade.Kinds().Names("film")
		kind := films[m.IntN(len(films))]
		for kind == "body solder" {
			kind = films[m.IntN(len(films))]
		}
		m.lay(kind, on)
	case "treat":
		m.begin("treat", on)
		m.key("with", m.helper(m.pick("acid wash", "conversion coating")))
		m.end("gloves", "eye protection", "apron")
	case "neutralize":
		m.begin("neutralize", on)
		m.key("with", m.helper("neutralizer"))
		m.end("gloves", "eye protection")
	case "rinse":
		m.begin("rinse", on)
		m.maybe(0.6, "dried_within", m.lasting(8))
		m.end()
	case "mask":
		m.begin("mask", nil)
		if over := m.some(); len(over) > 0 {
			m.keys("over", over...)
		}
		m.end()
	case "solder":
		m.begin("solder", on)
		m.end("gloves", "eye protection")
		for _, z := range m.reached(on) {
			z.films = append(z.films, film{kind: "body solder"})
		}
	case "bake":
		m.begin("bake", on)
		m.key("metal", m.between(115, 185, "F"))
		m.key("for", m.lasting(35))
		m.maybe(0.4, "by", m.pick("booth", "lamp"))
	case "wait", "store", "metalwork":
		m.begin(do, on)
		switch {
		case m.likely(0.1):
			m.key("for", m.pick("overnight", "same day"))
		default:
			m.key("for", m.lasting([]float64{20, 90, 600, 1500, 12000}[m.IntN(5)]))
		}
		if do == "metalwork" && m.likely(0.3) {
			m.say("welding = true\n")
		}
		if m.likely(0.4) {
			m.key("where", m.pick("booth", "prep bay", "open shop", "outdoors"))
		}
		m.own(0.2)
	case "polish":
		m.begin("polish", on)
		m.maybe(0.5, "with", "polishing compound")
		m.maybe(0.4, "takes_off", m.between(0.05, 0.5, "mil"))
		m.end("eye protection")
	case "inspect":
		m.begin("inspect", on)
		m.keys("measure", m.pick("film", "profile", "dew point", "temperature", "adhesion", "solvent rub"),
			m.pick("lead", "chromate", "moisture", "plastic type", "substrate", "filler depth", "color"))
		m.end()
	default:
		m.plain(do, on)
	}
}

// begin opens a step.
func (m *maker) begin(do string, on []string) {
	m.steps++
	m.say("\n[[step]]\n")
	m.key("do", do)
	switch {
	case len(on) == 1 && m.likely(0.5):
		m.key("on", on[0])
	case len(on) > 0:
		m.keys("on", on...)
	}
}

// own writes what a step has of its own: its place and weather, with a chance of p.
func (m *maker) own(p float64) {
	if m.likely(p) {
		m.weather(0.7)
	}
}

// end closes a step with what any may have, and what is worn for it.
func (m *maker) end(wear ...string) {
	if m.likely(0.15) {
		m.key("for", m.lasting(25))
	}
	m.maybe(0.1, "where", m.pick("booth", "prep bay", "open shop", "outdoors"))
	if len(wear) > 0 && m.careful() {
		m.keys("wear", wear...)
	}
	m.maybe(0.1, "says", "As the shop does it.")
}

// plain writes a step that needs nothing but its verb.
func (m *maker) plain(do string, on []string) {
	m.begin(do, on)
	m.end()
}

func (m *maker) clean(on []string) {
	m.begin("clean", on)
	m.key("with", m.helper(m.pick("wax and grease remover", "wax and grease remover", "wax and grease remover", "waterborne cleaner",
		"plastic cleaner", "lacquer thinner", "soap and water", "alcohol wipe")))
	m.maybe(0.8, "then_wait", m.lasting([]float64{5, 15, 60, 900}[m.IntN(4)]))
	m.end("gloves", "eye protection")
}

// strip takes films off.
func (m *maker) strip(downTo string, on []string) {
	tool := m.pick("strip disc", "sander", "sander", "grinder", "wire wheel", "razor", "blast", "chemical stripper")
	m.begin("strip", on)
	m.key("tool", tool)
	switch tool {
	case "sander", "grinder":
		m.maybe(0.8, "grit", m.pick("P36", "P80", "P120", "80 grit"))
	case "blast":
		m.maybe(0.8, "media", m.pick("grit", "glass bead", "soda", "plastic"))
		m.maybe(0.6, "profile", m.between(0.8, 3, "mil"))
		m.maybe(0.2, "where", "cabinet")
	}
	if downTo != "substrate" || m.likely(0.3) {
		m.key("down_to", downTo)
	}
	wear := []string{"particulate respirator", "gloves", "eye protection"}
	switch tool {
	case "blast":
		wear[0] = "blast hood"
	case "chemical stripper":
		wear[0] = "apron"
	}
	if m.careful() {
		m.keys("wear", wear...)
	}
	for _, z := range m.reached(on) {
		if i := z.uppermost(downTo); downTo == "substrate" || i >= 0 {
			z.films = z.films[:i+1]
		}
	}
}

var grits = []string{"P36", "P80", "P120", "P180", "P220", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1500", "P2000", "P3000"}

// grit is a grade for a film of a kind: what the trade takes for it, when the
// step is done with care.
func (m *maker) grit(kind string) string {
	if !m.careful() {
		return m.pick(append([]string{"80 grit", "180 grit", "400 grit", "180", "400"}, grits...)...)
	}
	class := ""
	if k := trade.KindOf(kind); k != nil {
		class = k.Class
	}
	switch class {
	case "color", "clear":
		return m.pick("P800", "P1000", "P1500", "P2000")
	case "filler":
		return m.pick("P80", "P120", "P180", "P320")
	case "primer", "surfacer", "sealer":
		return m.pick("P180", "P320", "P400", "P500", "P600")
	}
	return m.pick("P80", "P120", "P180")
}

// abrade writes a sand, block or scuff, with its cuts.
func (m *maker) abrade(on []string) {
	zones := m.reached(on)
	top := zones[m.IntN(len(zones))].top()
	do := m.pick("sand", "block", "scuff")
	m.begin(do, on)
	if do == "scuff" && m.likely(0.6) {
		m.key("pad", m.pick("fine pad", "very fine pad", "ultra fine pad"))
	} else {
		m.key("grit", m.grit(top))
	}
	m.maybe(0.5, "tool", m.pick("sander", "grinder", "hand", "block", "file", "belt sander"))
	if !m.careful() {
		m.say("wet = true\n")
	}
	m.maybe(0.4, "takes_off", m.between(0.1, 1.5, "mil"))
	if do == "block" && m.likely(0.5) {
		m.say("guide_coat = true\n")
	}
	if do != "scuff" && m.likely(0.15) {
		m.cuts(zones)
	}
	wear := []string{"particulate respirator", "gloves"}
	if m.likely(0.15) {
		wear = append(wear, "extraction")
	}
	m.end(wear...)
}

// cuts writes where an abrasion goes through, and splits those places off.
func (m *maker) cuts(zones []*zone) {
	targets := beneath(zones)
	if len(targets) == 0 || len(m.zones) > 60 {
		return
	}
	m.Shuffle(len(targets), func(i, j int) { targets[i], targets[j] = targets[j], targets[i] })
	var parts []string
	for _, to := range targets[:1+m.IntN(min(2, len(targets)))] {
		word := ""
		switch {
		case m.likely(0.2):
			parts = append(parts, fmt.Sprintf("%q", to))
		default:
			part := fmt.Sprintf("{to = %q", to)
			if m.likely(0.8) {
				m.calls++
				word = fmt.Sprintf("rub-through %d", m.calls)
				part += fmt.Sprintf(", call = %q", word)
			}
			if m.likely(0.6) {
				part += fmt.Sprintf(", area = %q", m.between(1, 20, "in2"))
			}
			parts = append(parts, part+"}")
		}
		for _, z := range zones {
			if i := z.cutTo(to); i < len(z.films)-1 {
				m.zones = append(m.zones, &zone{word: word, parent: z, substrate: z.substrate, films: slices.Clone(z.films[:i+1])})
			}
		}
	}
	list := parts[0]
	for _, p := range parts[1:] {
		list += ", " + p
	}
	m.say("cuts_to = [%s]\n", list)
}

// next is the kind that a painter would lay next on what is on top there.
func (m *maker) next(on []string) string {
	zones := m.reached(on)
	z := zones[m.IntN(len(zones))]
	after := map[string][]string{
		"":         {"epoxy primer", "epoxy primer", "epoxy primer", "one-part acid primer", "two-part wash primer", "body filler", "rust converter", "weld-through primer", "adhesion promoter", "urethane surfacer", "waterborne primer"},
		"promoter": {"urethane surfacer", "urethane sealer", "solvent basecoat", "plastic repair filler"},
		"primer":   {"body filler", "fiber filler", "epoxy surfacer", "urethane surfacer", "polyester surfacer", "seam sealer", "chip guard", "urethane sealer", "solvent basecoat", "waterborne primer"},
		"filler":   {"finishing putty", "one-part putty", "polyester surfacer", "urethane surfacer", "epoxy primer", "epoxy surfacer"},
		"seam":     {"epoxy primer", "urethane surfacer", "chip guard", "bed liner"},
		"surfacer": {"urethane sealer", "epoxy sealer", "solvent basecoat", "waterborne basecoat", "single-stage urethane", "urethane surfacer", "lacquer primer"},
		"sealer":   {"solvent basecoat", "waterborne basecoat", "single-stage urethane", "single-stage enamel", "lacquer topcoat"},
		"color":    {"urethane clear", "urethane clear", "one-part clear", "mid coat", "solvent basecoat"},
		"clear":    {"urethane clear", "solvent basecoat", "urethane surfacer"},
		"coating":  {"urethane sealer", "solvent basecoat", "cavity wax"},
		"finish":   {"epoxy primer", "urethane surfacer", "finishing putty", "solvent basecoat", "urethane sealer", "underbody coating", "waterborne primer"},
	}
	class := ""
	if len(z.films) > 0 {
		if k := trade.KindOf(z.top()); k != nil {
			class = k.Class
		}
	}
	return m.pick(after[class]...)
}

// lay lays a film of a kind.
func (m *maker) lay(kind string, on []string) {
	c := m.card(kind)
	k := trade.KindOf(kind)
	call, ref := "", c.name
	switch k.Class {
	case "filler":
		m.begin("spread", on)
		m.key("product", c.name)
		m.key("thickness", m.between(0.3, 5, "mm"))
		m.maybe(0.6, "mix", m.pick("1.5 %", "2 %", "2.5 %", "4 %"))
	case "seam":
		m.begin("caulk", on)
		m.key("product", c.name)
	default:
		call = m.gun(c, k, on)
		if c.sealer && m.likely(0.5) {
			m.key("as", "sealer")
			kind, ref = "epoxy sealer", c.name+" as sealer"
		}
	}
	if m.careful() {
		m.key("then_wait", m.lasting([]float64{15, 45, 120, 1000, 1500, 4000}[m.IntN(6)]))
	} else {
		m.maybe(0.7, "then_wait", m.pick("until matte", "until dry to touch", "overnight", "5 min", "same day", "20 days"))
	}
	m.own(0.1)
	m.end("supplied-air respirator", "gloves", "eye protection", "coverall")
	for _, z := range m.reached(on) {
		// Laid on itself it may be more coats of one layer: no name of its own is leant on then.
		if n := len(z.films); n > 0 && z.films[n-1].card == ref {
			z.films[n-1].call = ""
			continue
		}
		z.films = append(z.films, film{kind, ref, call})
	}
}

// gun writes a spray or a brush, and gives the name it was called by.
func (m *maker) gun(c *card, k *trade.Kind, on []string) (call string) {
	do := "spray"
	if m.likely(0.1) {
		do = "brush"
	}
	m.begin(do, on)
	m.key("product", c.name)
	if m.likely(0.3) {
		m.calls++
		call = fmt.Sprintf("film %d", m.calls)
		m.key("call", call)
	}
	coats := 1 + m.IntN(3)
	m.say("coats = %d\n", coats)
	if m.likely(0.8) {
		m.key("wet_film", m.between(1.5, 6, "mil"))
	}
	if coats > 1 {
		m.maybe(0.8, "between", m.lasting([]float64{4, 12, 25, 80}[m.IntN(4)]))
	}
	if m.likely(0.35) {
		m.key("mix", m.mix(k))
	}
	if k.Parts == 2 && m.likely(0.3) {
		m.key("hardener", m.pick(m.hardener(k), "another hardener"))
	}
	if m.likely(0.25) {
		m.key("reducer", m.pick(m.reducer(), m.helper("lacquer thinner"), "retarder"))
	}
	m.maybe(0.2, "additive", m.pick("flex additive", "fisheye additive", "hardener"))
	m.maybe(0.25, "stood", m.lasting(20))
	m.maybe(0.2, "batch", m.between(0.2, 2, "L"))
	if m.likely(0.1) {
		m.say("fresh_cup = true\n")
	}
	if m.likely(0.1) {
		m.say("fades = true\n")
	}
	if do == "spray" {
		m.maybe(0.3, "gun", m.pick("hvlp", "conventional", "airless"))
		m.maybe(0.3, "tip", m.between(1, 2.2, "mm"))
		m.maybe(0.2, "pressure", m.between(15, 60, "psi"))
	}
	return call
}

// some names a few zones, or none for all.
func (m *maker) some() []string {
	if len(m.zones) == 1 || m.likely(0.55) {
		return nil
	}
	var out []string
	for range 1 + m.IntN(2) {
		z := m.zones[m.IntN(len(m.zones))]
		if z.word != "" && !slices.Contains(out, z.word) {
			out = append(out, z.word)
		}
	}
	return out
}

// reached are the zones a step on some words works on: those named, and those
// cut from them.
func (m *maker) reached(on []string) []*zone {
	if len(on) == 0 {
		return m.zones
	}
	in := map[*zone]bool{}
	var out []*zone
	for _, z := range m.zones {
		if slices.Contains(on, z.word) || in[z.parent] {
			in[z] = true
			out = append(out, z)
		}
	}
	return out
}

// top is the kind on top of a zone.
func (z *zone) top() string {
	if n := len(z.films); n > 0 {
		return z.films[n-1].kind
	}
	return z.substrate
}

// uppermost is the number of the uppermost film of a kind, or -1.
func (z *zone) uppermost(kind string) int {
	for i := len(z.films) - 1; i >= 0; i-- {
		if z.films[i].kind == kind {
			return i
		}
	}
	return -1
}

// cutTo is the number of the film that a cut goes down to, -1 the metal; that
// of the top where the zone has no such film.
func (z *zone) cutTo(to string) int {
	if to == "substrate" {
		return -1
	}
	for i := len(z.films) - 1; i >= 0; i-- {
		if z.films[i].kind == to || z.films[i].call == to {
			return i
		}
	}
	return len(z.films) - 1
}

func deepest(zones []*zone) int {
	most := 0
	for _, z := range zones {
		most = max(most, len(z.films))
	}
	return most
}

// kindsIn are the kinds of the films that lie in some zones.
func kindsIn(zones []*zone) []string {
	var out []string
	for _, z := range zones {
		for _, f := range z.films {
			if !slices.Contains(out, f.kind) {
				out = append(out, f.kind)
			}
		}
	}
	return out
}

// beneath are what an abrasion of some zones can go through to: kinds, calls
// and the substrate, each under the top of at least one of them.
func beneath(zones []*zone) []string {
	var out []string
	add := func(to string) {
		if to != "" && !slices.Contains(out, to) {
			out = append(out, to)
		}
	}
	for _, z := range zones {
		if len(z.films) == 0 {
			continue
		}
		add("substrate")
		for _, f := range z.films[:len(z.films)-1] {
			if f.kind != z.top() {
				add(f.kind)
			}
			add(f.call)
		}
	}
	return out
}
