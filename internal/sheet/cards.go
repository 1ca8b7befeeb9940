package sheet

import (
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
)

var (
	cardSpec   = newKeySet(cardKeys)
	useSpec    = newKeySet(useKeys)
	noteSpec   = newKeySet(noteFields)
	recoatSpec = newKeySet(cardSpec.byName["recoat"].Fields)
	bakeSpec   = newKeySet(cardSpec.byName["bake"].Fields)
)

// namedCard is a card as its file has it: read, and as plain values to tell
// whether two files say the same.
type namedCard struct {
	card   *Card
	values map[string]any
	at     Place // of its header
}

// readCards reads the cards of a file's [product] tables. What a name's card
// could not be read into is still there, so that a step that names it is not
// at fault too.
func readCards(root table, own bool) map[string]namedCard {
	cards := map[string]namedCard{}
	v, n, k, ok := root.get("product")
	if !ok {
		return cards
	}
	m, isTable := v.(map[string]any)
	if !isTable {
		if n.Form == FormTables {
			root.d.say(headOf(n.Entry(1)), n.Path(), "a card is headed [product.NAME], in single brackets and with its name")
		} else {
			root.wrongForm(n, k)
		}
		return cards
	}
	for _, c := range n.Children {
		v, ok := m[c.Name].(map[string]any)
		if !ok {
			root.d.say(headOf(c), c.Path(), "a card is a table of its own; write [product.NAME] and its keys beneath")
			cards[c.Name] = namedCard{card: &Card{Name: c.Name, Own: own}, at: root.d.x.Place(headOf(c))}
			continue
		}
		t := table{d: root.d, n: c, v: v, spec: cardSpec}
		if strings.TrimSpace(c.Name) == "" {
			root.d.say(headOf(c), c.Path(), "this card has no name; write [product.NAME]")
			continue
		}
		card := readCard(t, c.Name, own)
		cards[c.Name] = namedCard{card: card, values: v, at: root.d.x.Place(headOf(c))}
	}
	return cards
}

func readCard(t table, name string, own bool) *Card {
	t.check("a card")
	card := &Card{Name: name, Own: own}
	fillCard(card, t)
	uses, ok := t.sub("as", newKeySet(nil))
	if !ok {
		return card
	}
	card.Uses = map[string]*Card{}
	for _, n := range uses.n.Children {
		v, ok := uses.v[n.Name].(map[string]any)
		if !ok {
			t.d.say(headOf(n), n.Path(), "another use of a can is a table of its own; write [product.%s.as.NAME] and its keys beneath", quoteKey(name))
			continue
		}
		use := table{d: t.d, n: n, v: v, spec: useSpec}
		use.check("another use of a can")
		// The main card's keys, under the use's own.
		whole := *card
		whole.Use, whole.Uses = n.Name, nil
		whole.Keys = maps.Clone(card.Keys)
		delete(whole.Keys, "as")
		fillCard(&whole, use)
		card.Uses[n.Name] = &whole
	}
	return card
}

// into is a key and where its value goes.
type into[T any] struct {
	name string
	to   *T
}

// fillCard puts what a table writes onto a card, and leaves the rest as it is.
func fillCard(c *Card, t table) {
	c.Place = t.place()
	if c.Keys == nil {
		c.Keys = map[string]Place{}
	}
	maps.Copy(c.Keys, t.keyPlaces())

	if t.written("kind") {
		c.Kind = t.kind("kind").Value
	}
	if t.written("label") {
		c.Label = t.text("label")
	}
	for _, k := range []into[Amount]{
		{"reduce_up_to", &c.ReduceUpTo}, {"induction", &c.Induction}, {"pot_life", &c.PotLife}, {"volume_solids", &c.VolumeSolids},
		{"voc", &c.VOC}, {"density", &c.Density}, {"film", &c.Film}, {"wet_max", &c.WetMax}, {"coats", &c.Coats},
		{"flash", &c.Flash}, {"flash_most", &c.FlashMost}, {"no_recoat", &c.NoRecoat}, {"fill_after", &c.FillAfter},
		{"tape_after", &c.TapeAfter}, {"spot_metal", &c.SpotMetal}, {"lowest_cure", &c.LowestCure}, {"sand_after", &c.SandAfter},
		{"settles", &c.Settles}, {"polish_after", &c.PolishAfter}, {"times_at", &c.TimesAt}, {"air", &c.Air},
		{"humidity", &c.Humidity}, {"tip", &c.Tip}, {"pressure", &c.Pressure},
	} {
		if t.written(k.name) {
			*k.to = t.amount(k.name)
		}
	}
	for _, k := range []into[Flag]{
		{"wet_on_wet", &c.WetOnWet}, {"sandable", &c.Sandable}, {"wet_sandable", &c.WetSandable},
		{"holds_out_water", &c.HoldsOutWater}, {"weatherproof", &c.Weatherproof}, {"flexible", &c.Flexible},
	} {
		if t.written(k.name) {
			*k.to = t.flag(k.name)
		}
	}
	for _, k := range []into[Texts]{{"hardener", &c.Hardener}, {"reducer", &c.Reducer}, {"hazards", &c.Hazards}} {
		if t.written(k.name) {
			*k.to = t.texts(k.name)
		}
	}
	for _, k := range []into[Texts]{{"goes_on", &c.GoesOn}, {"keep_off", &c.KeepOff}} {
		if t.written(k.name) {
			*k.to = t.kinds(k.name)
		}
	}
	for _, k := range []into[SheetNote]{{"data_sheet", &c.DataSheet}, {"safety_sheet", &c.SafetySheet}} {
		if note, ok := t.sub(k.name, noteSpec); ok {
			note.check("this note of a data sheet")
			*k.to = SheetNote{Number: note.text("number"), Issued: note.day("issued"), Checked: note.day("checked"), Written: true, Place: t.d.x.Place(note.n.Value)}
		}
	}
	if t.written("mix") {
		c.Mix = t.mix("mix")
	}
	if t.written("effect") {
		c.Effect = t.word("effect")
	}
	if t.written("grit_beneath") {
		c.GritBeneath = t.grades("grit_beneath")
	}
	if t.written("recoat") {
		c.Recoat = readRecoat(t)
	}
	if bake, ok := t.sub("bake", bakeSpec); ok {
		bake.check("a card's bake")
		c.Bake = BakeSchedule{Metal: bake.amount("metal"), For: bake.amount("for"), FlashFirst: bake.amount("flash_first"),
			MaxMetal: bake.amount("max_metal"), Written: true, Place: t.d.x.Place(bake.n.Value)}
	}
	if t.written("direct_to_metal") {
		c.DirectToMetal, c.DirectTo = Flag{}, Texts{}
		switch {
		case t.n.Get("direct_to_metal").Form == FormFlag:
			c.DirectToMetal = t.flag("direct_to_metal")
		case !t.isQuotedFlag("direct_to_metal"):
			c.DirectTo = t.kinds("direct_to_metal")
		}
	}
}

// readRecoat reads a recoat window, or a table of them by what goes on.
func readRecoat(t table) map[string]Window {
	_, n, _, ok := t.get("recoat")
	if !ok {
		return nil
	}
	windows := map[string]Window{}
	if n.Form != FormTable && n.Form != FormInline {
		if w := window(t.amount("recoat")); w.Written {
			windows["paint"] = w
		}
		return windows
	}
	by, ok := t.sub("recoat", recoatSpec)
	if !ok {
		return nil
	}
	by.check("a recoat table")
	for _, name := range recoatSpec.names() {
		if w := window(by.amount(name)); w.Written {
			windows[name] = w
		}
	}
	return windows
}

// window takes a written time apart into a least and a most wait. One number
// is the least, and the most is then not given; nor is it by a condition, or
// by "at least".
func window(a Amount) Window {
	if !a.Written {
		return Window{}
	}
	w := Window{Written: true, Place: a.Place}
	folded := foldWord(a.Text)
	end := func(v float64, unit string) Amount {
		q := quantity.Quantity{Interval: quantity.Exactly(v), Dim: quantity.Time, Unit: unit, Written: true}
		q.Text = quantity.Format(q.Interval, quantity.Time, unit)
		return Amount{Quantity: q, Place: a.Place}
	}
	switch {
	case a.Until != "" || folded == "overnight" || a.IsExact():
		w.Least = a
	case folded == "any":
		w.Least, w.Any = end(0, a.Unit), true
	case a.IsOpen():
		w.Least = end(a.Lo, a.Unit)
		w.Any = strings.HasSuffix(folded, "any")
	default:
		w.Least, w.Most = end(a.Lo, lowUnit(a)), end(a.Hi, a.Unit)
	}
	return w
}

// lowUnit is the unit that a range's lower end is written in: "min" of
// "30 min - 7 days".
func lowUnit(a Amount) string {
	for _, dash := range []string{" to ", "–", "-"} {
		if low, _, ok := strings.Cut(a.Text, dash); ok {
			if q, err := quantity.Parse(quantity.Time, low); err == nil {
				return q.Unit
			}
		}
	}
	return a.Unit
}

// merged puts the cards of one list of shelves together. Two files of one
// list may define one name only if they say the same.
func merged(shelves []*shelf) (map[string]*Card, []Problem) {
	cards := map[string]*Card{}
	from := map[string]namedCard{}
	var problems []Problem
	for _, s := range shelves {
		for _, name := range slices.Sorted(maps.Keys(s.cards)) {
			c := s.cards[name]
			first, twice := from[name]
			if twice && first.at.File != c.at.File && !reflect.DeepEqual(first.values, c.values) {
				problems = append(problems, Problem{Place: c.at, Key: join("product", name, 0),
					Message: quoted(name) + " stands on two shelves of one list, and not alike: here and in " + first.at.File + ", line " + strconv.Itoa(first.at.Line) +
						"; keep one of them, or write both alike"})
				continue
			}
			from[name] = c
			cards[name] = c.card
		}
	}
	return cards, problems
}
