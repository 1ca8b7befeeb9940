// Package generate writes process sheets for tests and benches: the text of a
// whole sheet, its cards inside, made up from a seed.
//
// It promises that every sheet it writes can be read and built, that the same
// seed gives the same bytes on any machine, and that over many seeds every
// verb, every kind and every way to cut, zone and card a sheet is written, with
// the mistakes painters make and without. It writes only what a sheet may say:
// how a sheet is judged is nothing to it.
package generate

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"guidecoat/internal/trade"
)

// Options bounds a sheet. Zero leaves a bound to the seed.
type Options struct {
	Steps int // how many steps it has, exactly; 6 to 30 by the seed
	Zones int // how many zones it begins with, the panel among them; 1 to 4 by the seed
}

// Sheet is the text of one sheet. Every seed gives another.
func Sheet(seed uint64, o Options) string {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 0x67756964)), cards: map[string]*card{}}
	m.care = []float64{0.55, 0.8, 0.95, 1}[m.IntN(4)]
	if o.Steps == 0 {
		o.Steps = 6 + m.IntN(25)
	}
	if o.Zones == 0 {
		o.Zones = 1 + []int{0, 0, 0, 1, 1, 2, 3}[m.IntN(7)]
	}
	m.head(seed, o.Zones)
	for m.steps < o.Steps {
		m.act(o.Steps)
	}
	m.waivers()
	for _, name := range m.order {
		m.text.WriteString(m.cards[name].text)
	}
	return m.text.String()
}

// maker writes one sheet. It knows which films lie in which zone, and nothing
// else of what a stack holds, so that it never names what is not there.
type maker struct {
	*rand.Rand
	text  strings.Builder
	care  float64 // how often a step is done as the trade does it
	zones []*zone
	cards map[string]*card // by name
	order []string         // their names, as they came
	steps int
	calls int
	metal string // the panel's substrate
}

// zone is one part of the panel.
type zone struct {
	word      string // what sends a step to it; "" where it has no word of its own
	parent    *zone
	substrate string
	films     []film // from the metal up
}

// film is one film in a zone.
type film struct {
	kind, card, call string
}

// card is one product card.
type card struct {
	name, kind, text string
	sealer           bool // it may be used as a sealer too
}

// likely is true with a chance of p.
func (m *maker) likely(p float64) bool { return m.Float64() < p }

// careful is true when the step is done as the trade does it.
func (m *maker) careful() bool { return m.likely(m.care) }

func (m *maker) pick(words ...string) string { return words[m.IntN(len(words))] }

func (m *maker) say(format string, args ...any) { fmt.Fprintf(&m.text, format, args...) }

// key writes one key of the table that is open.
func (m *maker) key(name, value string) { m.say("%s = %q\n", name, value) }

func (m *maker) keys(name string, values ...string) {
	quoted := make([]string, len(values))
	for i, v := range values {
		quoted[i] = fmt.Sprintf("%q", v)
	}
	m.say("%s = [%s]\n", name, strings.Join(quoted, ", "))
}

// maybe writes a key with a chance of p.
func (m *maker) maybe(p float64, name, value string) {
	if m.likely(p) {
		m.key(name, value)
	}
}

var (
	substrates = []string{"mild steel", "mild steel", "mild steel", "mild steel", "galvanized steel", "aluminum", "stainless steel", "fiberglass", "sheet molding compound", "bare plastic", "cast iron"}
	plastics   = []string{"TPO", "PP", "PE", "EPDM", "ABS", "PC", "PUR", "nylon", "SMC", "unknown"}
	conditions = []string{"sound", "sound", "peeling", "chalking", "cracked", "unknown"}
)

// head writes everything before the steps.
func (m *maker) head(seed uint64, zones int) {
	m.say("format = 1\n\n[sheet]\n")
	m.key("title", fmt.Sprintf("Made-up sheet %d", seed))
	m.maybe(0.5, "number", fmt.Sprintf("G-%d", seed))
	if m.likely(0.7) {
		m.say("date = 2026-%02d-%02d\n", 1+m.IntN(12), 1+m.IntN(28))
	}
	m.maybe(0.7, "work", m.pick("restoration", "restoration", "collision"))
	m.maybe(0.5, "ends_as", m.pick("finished", "finished", "primed", "sealed"))

	m.say("\n[booth]\n")
	m.weather(0.95)
	m.maybe(0.7, "where", m.pick("booth", "booth", "booth", "prep bay", "open shop", "outdoors"))
	m.maybe(0.6, "region", m.pick("us", "eu", "quebec", "none"))

	m.say("\n[panel]\n")
	m.key("part", m.pick("door", "hood", "fender", "bumper", "roof"))
	m.metal = substrates[m.IntN(len(substrates))]
	panel := &zone{word: "panel", substrate: m.metal}
	m.key("substrate", panel.substrate)
	m.plastic(panel.substrate)
	m.carries(panel)
	m.maybe(0.3, "rust", m.pick("none", "light", "pitted", "holes"))
	if m.likely(0.3) {
		m.say("year = %d\n", 1935+m.IntN(90))
	}
	if m.likely(0.9) {
		m.key("area", fmt.Sprintf("%d ft2", 10+zones*3+m.IntN(10)))
	}
	m.maybe(0.15, "faces", m.pick("weather", "inside", "underside", "cavity"))
	m.zones = append(m.zones, panel)
	for i := 1; i < zones; i++ {
		m.zone(panel, i)
	}
}

// zone writes one zone of the sheet's own.
func (m *maker) zone(panel *zone, n int) {
	z := &zone{word: fmt.Sprintf("%s %d", m.pick("dent", "edge", "corner", "sill"), n), substrate: panel.substrate, films: slices.Clone(panel.films)}
	m.say("\n[[zone]]\n")
	m.key("name", z.word)
	if m.likely(0.85) {
		m.key("area", fmt.Sprintf("%.1f ft2", 0.2+2*m.Float64()))
	}
	if m.likely(0.15) {
		z.substrate = substrates[m.IntN(len(substrates))]
		m.key("substrate", z.substrate)
		m.plastic(z.substrate)
	}
	if m.likely(0.3) {
		z.films = nil
		m.carries(z)
	}
	m.maybe(0.2, "rust", m.pick("none", "light", "pitted", "holes"))
	m.maybe(0.4, "role", m.pick("repair", "blend", "edge"))
	m.maybe(0.2, "faces", m.pick("weather", "inside", "underside", "cavity"))
	m.maybe(0.3, "edge", m.pick("panel break", "open"))
	m.zones = append(m.zones, z)
}

func (m *maker) plastic(substrate string) {
	if substrate == "bare plastic" && m.likely(0.8) {
		m.key("plastic", plastics[m.IntN(len(plastics))])
	}
}

// carries writes what a zone is covered with when the sheet begins.
func (m *maker) carries(z *zone) {
	finishes := trade.Kinds().Names("finish")
	var parts []string
	for range m.IntN(3) {
		kind := finishes[m.IntN(len(finishes))]
		if m.likely(0.1) {
			kind = m.pick("single-stage enamel", "lacquer topcoat", "urethane clear", "body filler", "seam sealer", "epoxy primer")
		}
		z.films = append(z.films, film{kind: kind})
		switch {
		case m.likely(0.6):
			parts = append(parts, fmt.Sprintf("%q", kind))
		case m.likely(0.5):
			parts = append(parts, fmt.Sprintf("{kind = %q, film = %q}", kind, m.between(1, 8, "mil")))
		default:
			parts = append(parts, fmt.Sprintf("{kind = %q, condition = %q}", kind, conditions[m.IntN(len(conditions))]))
		}
	}
	if len(parts) > 0 || m.likely(0.5) {
		m.say("carries = [%s]\n", strings.Join(parts, ", "))
	}
}

// weather writes the conditions, each with a chance of p.
func (m *maker) weather(p float64) {
	good := m.careful()
	air, humidity := m.between(64, 82, "F"), m.between(30, 65, "%")
	panel := m.between(64, 80, "F")
	if !good {
		air, panel, humidity = m.between(45, 104, "F"), m.between(40, 104, "F"), m.between(20, 98, "%")
	}
	if m.likely(0.1) {
		air = m.between(15, 30, "C")
	}
	m.maybe(p, "air", air)
	m.maybe(p, "panel", panel)
	m.maybe(p, "humidity", humidity)
}

// waivers writes a few waivers, of the kinds there are.
func (m *maker) waivers() {
	if !m.likely(0.25) {
		return
	}
	for range 1 + m.IntN(2) {
		m.say("\n[[waiver]]\n")
		m.key("rule", m.pick("stack-too-thick", "film-too-thin", "wait-not-written", "no-guide-coat", "spray-without-booth", "scratch-too-coarse"))
		if m.likely(0.3) {
			m.say("step = %d\n", 1+m.IntN(m.steps))
		}
		m.maybe(0.8, "reason", "agreed for this panel")
		m.maybe(0.8, "by", "foreman")
		if m.likely(0.8) {
			m.say("until = 2026-%02d-%02d\n", 1+m.IntN(12), 1+m.IntN(28))
		}
	}
}

// between writes an amount from a least to a most: a number, a range, or one
// with an open end.
func (m *maker) between(lo, hi float64, unit string) string {
	a, b := lo+(hi-lo)*m.Float64(), lo+(hi-lo)*m.Float64()
	if a > b {
		a, b = b, a
	}
	if m.likely(0.75) {
		return fmt.Sprintf("%s %s", figures(a), unit)
	}
	return fmt.Sprintf("%s-%s %s", figures(a), figures(b), unit)
}

// figures writes a number as a painter would: few digits.
func figures(v float64) string {
	switch {
	case v >= 20:
		return fmt.Sprintf("%.0f", v)
	case v >= 2:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	}
	return fmt.Sprintf("%.2f", v)
}

// lasting writes a time of about so many minutes.
func (m *maker) lasting(minutes float64) string {
	minutes *= 0.75 + m.Float64()/2
	one := func(v float64) string {
		switch {
		case v < 100:
			return figures(v) + " min"
		case v < 48*60:
			return figures(v/60) + " h"
		}
		return figures(v/60/24) + " days"
	}
	switch {
	case m.likely(0.85):
		return one(minutes)
	case m.likely(0.6):
		return one(minutes) + " - " + one(minutes*1.3)
	case m.likely(0.5):
		return "at least " + one(minutes)
	}
	return "up to " + one(minutes)
}
