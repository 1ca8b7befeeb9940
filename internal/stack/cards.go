package stack

import (
	"math"
	"sort"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// cardView is a product card with the typical numbers of its kind behind it:
// what the card writes wins, and what it leaves out is told apart by source.
// A film that was there before the sheet has a view with no card: its numbers
// are its kind's.
type cardView struct {
	ref    string      // "grey-epoxy", "grey-epoxy as sealer"; the kind where there is no card
	shown  string      // what messages call it
	card   *sheet.Card // nil for what was there
	kind   *trade.Kind
	typ    trade.Typical
	limits limits
}

// viewCard is the view of a card, with its `as` applied.
func viewCard(c *sheet.Card, l limits) *cardView {
	k := trade.KindOf(c.Kind)
	v := &cardView{ref: cardRef(c), card: c, kind: k, typ: trade.TypicalOf(k), limits: l}
	v.shown = shownName(c, k)
	return v
}

// viewKind is the view of a kind that has no card.
func viewKind(kind string, l limits) *cardView {
	k := trade.KindOf(kind)
	return &cardView{ref: kind, shown: kind, kind: k, typ: trade.TypicalOf(k), limits: l}
}

// cardRef names a card and the use that is made of it.
func cardRef(c *sheet.Card) string {
	if c.Use == "" {
		return c.Name
	}
	return c.Name + " as " + c.Use
}

// shownName is the shop's own name for a product with its kind beside it, or
// the kind alone where the name says no more than that.
func shownName(c *sheet.Card, k *trade.Kind) string {
	name := c.Name
	if c.Label.Written && strings.TrimSpace(c.Label.Value) != "" {
		name = c.Label.Value
	}
	if trade.KindOf(name) == k {
		return k.Name
	}
	return name + " (" + k.Name + ")"
}

// onCard is a number as the card writes it; ok is false where it does not.
func onCard(a sheet.Amount, graced bool) number {
	if !a.Written {
		return number{}
	}
	return number{
		iv: a.Interval, dim: a.Dim, unit: a.Unit, source: "card", graced: graced,
		until: a.Until, never: a.Never, ok: a.Until == "",
	}
}

// byKind is a kind's typical number for a key.
func (v *cardView) byKind(q quantity.Quantity, key string, graced bool) number {
	if !q.Written {
		return number{}
	}
	return number{
		iv: q.Interval, dim: q.Dim, unit: q.Unit, source: "typical", graced: graced,
		leaned: []string{v.ref + "." + key},
		until:  q.Until, never: q.Never, ok: q.Until == "",
	}
}

// byLimit is a named limit that stands in for a card's number.
func (v *cardView) byLimit(name, key string, graced bool) number {
	n := v.limits.number(name)
	if !n.ok {
		return n
	}
	if n.source == "limit" {
		n.source = "typical"
	}
	n.leaned = []string{v.ref + "." + key}
	n.graced = graced
	return n
}

// number is the card's number for a key, else its kind's typical one. Keys are
// those of a card; the parts of `bake` are bake, bake.flash_first and
// bake.max_metal (see bake), and `recoat` has its own method.
func (v *cardView) number(key string) number {
	c := v.card
	if c == nil {
		c = &sheet.Card{}
	}
	either := func(a sheet.Amount, typical quantity.Quantity, graced bool) number {
		if a.Written {
			return onCard(a, graced)
		}
		return v.byKind(typical, key, graced)
	}
	none := quantity.Quantity{}
	switch key {
	case "film":
		return either(c.Film, v.typ.Film, true)
	case "wet_max":
		return either(c.WetMax, none, true)
	case "coats":
		return either(c.Coats, none, false)
	case "volume_solids":
		return either(c.VolumeSolids, v.typ.VolumeSolids, false)
	case "flash":
		return either(c.Flash, v.typ.Flash, true)
	case "flash_most":
		return v.flashMost()
	case "sand_after":
		return either(c.SandAfter, v.typ.SandAfter, true)
	case "settles":
		return either(c.Settles, v.typ.Settles, true)
	case "polish_after":
		return either(c.PolishAfter, v.typ.PolishAfter, true)
	case "fill_after":
		return either(c.FillAfter, v.typ.FillAfter, true)
	case "tape_after":
		return either(c.TapeAfter, v.typ.TapeAfter, true)
	case "pot_life":
		return either(c.PotLife, v.typ.PotLife, true)
	case "induction":
		return either(c.Induction, none, true)
	case "no_recoat":
		return v.noRecoat()
	case "reduce_up_to":
		return either(c.ReduceUpTo, none, true)
	case "voc":
		return either(c.VOC, none, false)
	case "density":
		return either(c.Density, none, false)
	case "spot_metal":
		return either(c.SpotMetal, none, false)
	case "lowest_cure":
		return either(c.LowestCure, none, false)
	case "air":
		return either(c.Air, none, false)
	case "humidity":
		return either(c.Humidity, none, false)
	case "tip":
		return either(c.Tip, none, false)
	case "pressure":
		return either(c.Pressure, none, false)
	}
	return number{}
}

// film is the least and the most dry film of the whole layer; an end that the
// range leaves open is no number.
func (v *cardView) film() (lo, hi number) {
	n := v.number("film")
	if !n.ok {
		return number{}, number{}
	}
	if n.iv.Lo > 0 {
		lo = n.least()
	}
	return lo, n.most()
}

// flash is the least wait between its own coats: the short end of what the
// card lets the shop choose from. Where that is a condition ("until matte") ok
// is false and until tells it.
func (v *cardView) flash() number { return v.number("flash").least() }

// flashMost is the longest gap after which a coat still joins the same layer.
// Base and mid coats join any time within their own window.
func (v *cardView) flashMost() number {
	if v.card != nil && v.card.FlashMost.Written {
		return onCard(v.card.FlashMost, true).most()
	}
	switch v.kind.Name {
	case "solvent basecoat", "waterborne basecoat", "mid coat":
		_, most, any, _ := v.recoat(v.kind.Name)
		if any {
			return number{iv: quantity.Open, dim: quantity.Time, source: "card", ok: true}
		}
		if most.ok {
			return most
		}
	}
	if v.typ.FlashMost.Written {
		return v.byKind(v.typ.FlashMost, "flash_most", true).most()
	}
	return v.byLimit("flash_most_typical", "flash_most", true)
}

// recoatEntry is the key of a card's recoat table for an upper film's kind.
func recoatEntry(upperKind string) string {
	if upperKind == "polyester surfacer" {
		return "polyester"
	}
	if k := trade.KindOf(upperKind); k != nil && k.Class == "filler" {
		return "filler"
	}
	return "paint"
}

// recoat is the wait before a film of the upper kind, from the least to the
// most without sanding. any says that there is no upper end; a most that is
// `never` that unsanded it takes its own coats only. given is where the window
// comes from: card, typical or none.
func (v *cardView) recoat(upperKind string) (least, most number, any bool, given string) {
	entry := recoatEntry(upperKind)
	given = "none"
	var w sheet.Window
	if v.card != nil {
		w = v.card.Recoat[entry]
		if !w.Written {
			w = v.card.Recoat["paint"]
		}
	}
	if w.Written {
		given = "card"
		least = onCard(w.Least, true).least()
		most = onCard(w.Most, true).most()
		any = w.Any
		if least.ok && (most.ok || any) {
			return least, most, any, given
		}
	}
	typical := v.byKind(v.typ.RecoatLeast, "recoat", true)
	if !least.ok && typical.ok {
		least = typical.least()
		if given == "none" {
			given = "typical"
		}
	}
	if !most.ok && !any {
		typical = v.byKind(v.typ.RecoatMost, "recoat", true)
		switch {
		case v.typ.RecoatAny:
			any = true
		case typical.never:
			most = typical
		case typical.ok && !typical.never && !(least.ok && typical.iv.Hi < least.iv.Hi):
			most = typical.most()
		}
		if given == "none" && (any || most.ok) {
			given = "typical"
		}
	}
	return least, most, any, given
}

// noRecoat is the dead time in which the film lifts if recoated. A typical one
// is overruled by a window that the card writes across it.
func (v *cardView) noRecoat() number {
	if v.card != nil && v.card.NoRecoat.Written {
		return onCard(v.card.NoRecoat, true)
	}
	dead := v.byKind(v.typ.NoRecoat, "no_recoat", true)
	if !dead.ok || v.card == nil {
		return dead
	}
	w := v.card.Recoat["paint"]
	if !w.Written {
		return dead
	}
	end := math.Inf(1) // any, or from its least on
	if !w.Any && w.Most.Written {
		end = w.Most.Hi
	}
	if w.Least.Lo < dead.iv.Hi && end > dead.iv.Lo {
		return number{}
	}
	return dead
}

// bakeNumbers is a card's bake schedule with what is usual behind it. maxMetal
// is no number where the card gives none.
type bakeNumbers struct {
	metal, time, flashFirst, maxMetal number
}

// bake is the schedule that a bake must meet to count for this film.
func (v *cardView) bake() bakeNumbers {
	var s sheet.BakeSchedule
	if v.card != nil {
		s = v.card.Bake
	}
	either := func(a sheet.Amount, limit, key string) number {
		if a.Written {
			return onCard(a, a.Dim == quantity.Time)
		}
		return v.byLimit(limit, key, false)
	}
	return bakeNumbers{
		metal:      either(s.Metal, "bake_metal_typical", "bake").least(),
		time:       either(s.For, "bake_time_typical", "bake").least(),
		flashFirst: either(s.FlashFirst, "flash_first_typical", "bake.flash_first").least(),
		maxMetal:   onCard(s.MaxMetal, false).most(),
	}
}

// defaultTimesAt is where a card's times hold if it does not say: 68-77 °F.
var defaultTimesAt = quantity.Interval{Lo: 20, Hi: 25}

// timesAt is the temperature, °C, at which the card's times hold.
func (v *cardView) timesAt() quantity.Interval {
	if v.card != nil && v.card.TimesAt.Written {
		return v.card.TimesAt.Interval
	}
	return defaultTimesAt
}

// gritBeneath is the coarsest and the finest abrasive the film wants beneath
// it. A card's range holds on metal and on films, a kind's on films only.
func (v *cardView) gritBeneath(onMetal bool) (coarse, fine number) {
	r, source := quantity.AbrasiveRange{}, "card"
	if v.card != nil {
		r = v.card.GritBeneath
	}
	var leaned []string
	if !r.Written {
		if onMetal || !v.typ.GritBeneath.Written {
			return number{}, number{}
		}
		r, source, leaned = v.typ.GritBeneath, "typical", []string{v.ref + ".grit_beneath"}
	}
	end := func(a quantity.Abrasive, microns float64) number {
		return number{
			iv: quantity.Exactly(microns), dim: quantity.Particle, unit: string(a.System), grade: a,
			source: source, leaned: leaned, ok: true,
		}
	}
	return end(r.Coarse, r.Coarse.Microns.Hi), end(r.Fine, r.Fine.Microns.Lo)
}

// wetMax is the most wet film in one coat; only a card gives it.
func (v *cardView) wetMax() number { return v.number("wet_max").most() }

// airRange is the coldest and the warmest air and panel it may be laid in.
func (v *cardView) airRange() (low, high number) {
	if v.card != nil && v.card.Air.Written {
		n := onCard(v.card.Air, false)
		low, high = n.least(), n.most()
		if n.iv.Lo <= absoluteZero {
			low = number{} // "up to 95 F" has no cold end
		}
		return low, high
	}
	return v.byLimit("temperature_low_typical", "air", false), v.byLimit("temperature_high_typical", "air", false)
}

// humidityMost is the dampest air it may be laid in.
func (v *cardView) humidityMost() number {
	if v.card != nil && v.card.Humidity.Written {
		return onCard(v.card.Humidity, false).most()
	}
	if v.hasTrait("acid") || v.hasTrait("lacquer") || v.hasTrait("waterborne") {
		return v.byLimit("humidity_typical_damp", "humidity", false)
	}
	return v.byLimit("humidity_typical", "humidity", false)
}

func (v *cardView) hasTrait(name string) bool {
	for _, t := range v.kind.Traits {
		if t == name {
			return true
		}
	}
	return false
}

// twoPart: the card's mix has a hardener share, else the kind has two parts.
// The heavy coatings are sold both ways: there a card whose mix has no
// hardener share says that this one is one-part.
func (v *cardView) twoPart() bool {
	if v.card != nil && v.card.Mix.Written {
		if v.card.Mix.Hardener > 0 || v.card.Mix.Paste.Written {
			return true
		}
		if v.kind.Class == "coating" {
			return false
		}
	}
	return v.kind.Parts == 2
}

// traits are the kind's, with what the card says of them.
func (v *cardView) traits() Traits {
	t := traitsOf(v.kind)
	t.TwoPart = v.twoPart()
	c := v.card
	if c == nil {
		return t
	}
	for _, say := range []struct {
		flag  sheet.Flag
		trait *bool
	}{
		{c.Sandable, &t.Sandable}, {c.WetSandable, &t.WetSandable}, {c.HoldsOutWater, &t.HoldsOutWater},
		{c.Weatherproof, &t.Weatherproof}, {c.Flexible, &t.Flexible}, {c.WetOnWet, &t.WetOnWet},
	} {
		if say.flag.Written {
			*say.trait = say.flag.Value
		}
	}
	t.Hazards = sorted(append(append([]string{}, v.kind.Hazards...), c.Hazards.Values...))
	return t
}

// kindTraits are the traits of a kind that has no card.
func kindTraits(kind string) Traits {
	k := trade.KindOf(kind)
	if k == nil {
		return Traits{Hazards: []string{}}
	}
	return traitsOf(k)
}

// traitsOf sets a kind's traits out one by one.
func traitsOf(k *trade.Kind) Traits {
	t := Traits{Class: k.Class, TwoPart: k.Parts == 2, Hazards: sorted(k.Hazards)}
	for _, name := range k.Traits {
		switch name {
		case "metal":
			t.Metal = true
		case "steel":
			t.Steel = true
		case "zinc":
			t.Zinc = true
		case "plastic":
			t.Plastic = true
		case "composite":
			t.Composite = true
		case "pore":
			t.Pore = true
		case "acid":
			t.Acid = true
		case "epoxy":
			t.Epoxy = true
		case "urethane":
			t.Urethane = true
		case "reversible":
			t.Reversible = true
		case "swells":
			t.Swells = true
		case "waterborne":
			t.Waterborne = true
		case "solvent":
			t.Solvent = true
		case "lacquer":
			t.Lacquer = true
		case "sandable":
			t.Sandable = true
		case "wet_sandable":
			t.WetSandable = true
		case "holds_out_water":
			t.HoldsOutWater = true
		case "weatherproof":
			t.Weatherproof = true
		case "flexible":
			t.Flexible = true
		case "wet_on_wet":
			t.WetOnWet = true
		}
	}
	return t
}

// sortedKeys are a map's keys in order.
func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
