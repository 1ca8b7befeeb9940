package generate

import (
	"fmt"
	"slices"
	"strings"

	"guidecoat/internal/trade"
)

// most cards of one kind on one sheet.
const mostOfAKind = 2

// card is a card of a kind: one the sheet has, or a new one.
func (m *maker) card(kind string) *card {
	n := 1 + m.IntN(mostOfAKind)
	name := fmt.Sprintf("%s-%d", strings.ReplaceAll(kind, " ", "-"), n)
	if c, ok := m.cards[name]; ok {
		return c
	}
	c := &card{name: name, kind: kind}
	m.cards[name] = c
	c.text = m.cardText(c)
	m.order = append(m.order, name)
	return c
}

// helper is what a step uses a helper by: its kind, or a card of that kind.
func (m *maker) helper(kind string) string {
	if m.likely(0.5) {
		return kind
	}
	return m.put(strings.ReplaceAll(kind, " ", "-"), kind, "")
}

// put is a card with little on it.
func (m *maker) put(name, kind, rest string) string {
	if _, ok := m.cards[name]; !ok {
		m.cards[name] = &card{name: name, kind: kind, text: fmt.Sprintf("\n[product.%s]\nkind = %q\n%s", name, kind, rest)}
		m.order = append(m.order, name)
	}
	return name
}

func (m *maker) hardener(k *trade.Kind) string {
	switch {
	case k.Has("epoxy"):
		return m.put("epoxy-hardener", "hardener", "hazards = [\"epoxy hardener\"]\n")
	case k.Has("acid"):
		return m.put("acid-activator", "hardener", "hazards = [\"acid\"]\n")
	}
	return m.put("urethane-hardener", "hardener", "hazards = [\"isocyanate\"]\n")
}

func (m *maker) reducer() string { return m.put("slow-reducer", "reducer", "voc = \"860 g/L\"\n") }

// mix is a mix that a product of a kind may be given, right or not.
func (m *maker) mix(k *trade.Kind) string {
	switch {
	case k.Class == "filler" && k.Parts == 2, k.Name == "polyester surfacer":
		return m.pick("1 %", "2 %", "3 %")
	case k.Parts == 2 && m.careful():
		return m.pick("1:1", "2:1", "4:1", "4:1:1", "2:1:0.5", "4:1 + 10 %")
	case k.Parts == 2:
		return m.pick("1", "3:1", "5:1:2", "1:0:1")
	case m.careful():
		return m.pick("1", "1:0:1", "1:0:0.5")
	}
	return m.pick("1", "4:1", "1:0:1.5")
}

// cardText writes a card. Its numbers stand about the kind's typical ones; how
// much of it the shop copied differs from card to card.
func (m *maker) cardText(c *card) string {
	k := trade.KindOf(c.kind)
	copied := []float64{0.1, 0.5, 0.85, 1}[m.IntN(4)]
	var b strings.Builder
	line := func(key, value string) {
		if value != "" && m.likely(copied) {
			fmt.Fprintf(&b, "%s = %s\n", key, value)
		}
	}
	text := func(key, value string) {
		if value != "" {
			line(key, fmt.Sprintf("%q", value))
		}
	}
	seldom := func(p float64, key, value string) {
		if m.likely(p) {
			line(key, value)
		}
	}
	fmt.Fprintf(&b, "\n[product.%s]\nkind = %q\n", c.name, c.kind)
	text("label", fmt.Sprintf("%s %d", strings.ToUpper(c.kind[:1])+c.kind[1:], 10+m.IntN(90)))
	line("data_sheet", fmt.Sprintf("{number = \"T-%d\", issued = 2024-%02d-01, checked = 202%d-0%d-01}", m.IntN(900), 1+m.IntN(12), 4+m.IntN(3), 1+m.IntN(9)))
	line("safety_sheet", fmt.Sprintf("{number = \"S-%d\"}", m.IntN(900)))
	text("mix", m.mix(k))
	if k.Parts == 2 && k.Class != "filler" {
		text("hardener", m.hardener(k))
		text("pot_life", m.about(k, "pot_life"))
	}
	text("reducer", m.reducer())
	seldom(0.6, "reduce_up_to", fmt.Sprintf("%q", m.between(5, 120, "%")))
	seldom(0.2, "induction", fmt.Sprintf("%q", m.lasting(15)))
	for _, key := range []string{"film", "flash", "sand_after", "settles", "fill_after", "tape_after", "polish_after", "volume_solids", "no_recoat"} {
		text(key, m.about(k, key))
	}
	m.recoat(k, line, text)
	text("voc", m.between(150, 700, "g/L"))
	text("wet_max", m.between(2.5, 8, "mil"))
	text("coats", m.pick("1", "1-2", "2-3"))
	if k.Class != "filler" {
		text("grit_beneath", k.Typical["grit_beneath"])
	}
	text("air", m.pick("60-95 F", "60-90 F", "15-32 C", "up to 95 F"))
	text("humidity", m.pick("up to 80 %", "up to 70 %"))
	seldom(0.5, "lowest_cure", fmt.Sprintf("%q", m.between(50, 62, "F")))
	seldom(0.3, "times_at", fmt.Sprintf("%q", m.pick("68 F", "68-77 F", "20 C")))
	seldom(0.4, "bake", fmt.Sprintf("{metal = %q, for = %q, flash_first = %q, max_metal = \"165 F\"}", m.between(130, 145, "F"), m.lasting(30), m.lasting(12)))
	seldom(0.5, "tip", fmt.Sprintf("%q", m.pick("1.2-1.4 mm", "1.3-1.6 mm", "1.6-2.2 mm")))
	seldom(0.4, "pressure", fmt.Sprintf("%q", m.pick("26-29 psi", "20-40 psi", "2 bar")))
	seldom(0.2, "flash_most", fmt.Sprintf("%q", m.lasting(60)))
	if k.Class == "color" {
		text("effect", m.pick("solid", "metallic", "pearl", "candy"))
	}
	m.habits(k, seldom)
	if k.Name == "epoxy primer" && m.likely(0.3) {
		c.sealer = true
		fmt.Fprintf(&b, "\n[product.%s.as.sealer]\nkind = \"epoxy sealer\"\nfilm = \"0.7-1.5 mil\"\nrecoat = \"30 min - 24 h\"\n", c.name)
	}
	return b.String()
}

// recoat writes a card's window.
func (m *maker) recoat(k *trade.Kind, line, text func(key, value string)) {
	switch typical := k.Typical["recoat"]; {
	case typical == "" || strings.Contains(typical, "never"):
		text("recoat", m.pick("12 h - 24 h", "8 h - any", "16 h"))
	case m.likely(0.3):
		line("recoat", fmt.Sprintf("{paint = %q, filler = %q, polyester = %q}", typical, m.pick("12 h - 7 days", "16 h - any"), m.pick("12 h - 72 h", "6 h - 48 h")))
	default:
		text("recoat", typical)
	}
}

// habits writes where a card differs from its kind, and what it may lie on.
func (m *maker) habits(k *trade.Kind, seldom func(p float64, key, value string)) {
	for _, flag := range []string{"wet_on_wet", "sandable", "wet_sandable", "holds_out_water", "weatherproof", "flexible"} {
		seldom(0.1, flag, m.pick("true", "false"))
	}
	metals := []string{"mild steel", "aluminum", "galvanized steel", "cast iron", "stainless steel"}
	some := func(of []string) string {
		i := m.IntN(len(of))
		return fmt.Sprintf("[%q, %q]", of[i], of[(i+1+m.IntN(len(of)-1))%len(of)])
	}
	switch {
	case m.likely(0.3):
		seldom(0.6, "direct_to_metal", "true")
	default:
		seldom(0.15, "direct_to_metal", some(metals))
	}
	all := trade.Kinds().Names("finish", "film")
	all = slices.DeleteFunc(all, func(kind string) bool { return kind == "body solder" })
	seldom(0.12, "goes_on", some(all))
	seldom(0.12, "keep_off", some(all))
	seldom(0.3, "spot_metal", fmt.Sprintf("%q", m.between(1, 9, "in2")))
	seldom(0.1, "hazards", fmt.Sprintf("[%q]", m.pick("isocyanate", "chromate", "lead", "fluoride", "caustic", "flammable", "silica")))
}

// about is a number near a kind's typical one, as a card writes it; "" where
// the trade has none.
func (m *maker) about(k *trade.Kind, key string) string {
	switch typical := k.Typical[key]; {
	case typical == "" || typical == "never" || strings.HasPrefix(typical, "until"):
		return ""
	case key == "volume_solids":
		return m.between(18, 60, "%")
	case key == "film" || m.likely(0.5):
		return typical
	default:
		t := trade.TypicalOf(k)
		minutes := map[string]float64{
			"flash": t.Flash.Hi, "sand_after": t.SandAfter.Hi, "settles": t.Settles.Hi, "fill_after": t.FillAfter.Hi,
			"tape_after": t.TapeAfter.Hi, "polish_after": t.PolishAfter.Hi, "pot_life": t.PotLife.Hi,
		}[key]
		if minutes == 0 {
			return typical
		}
		return m.lasting(minutes)
	}
}
