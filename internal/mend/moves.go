package mend

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// handle names a step through all edits: the sheet's own are 1, 2, 3 as
// written, those that edits insert go on from there.
type handle int

// move is one edit as it will be made: placeholders filled in from the shelf.
type move struct {
	id     handle // of the step it inserts
	anchor handle // the step it stands at
	kind   string // insert | drop | set
	after  bool   // an insert stands behind its anchor
	set    []entry
	drop   []string
	film   bool // it lays a film, or another one in its place
	rank   int  // how many likelier ones the finding offered

	does    string // in words, without the step: `clean with "wax-off"`
	answers string // the message of the finding it was offered by
	rule    string
}

// same tells moves apart by what they do.
func (m move) same() string {
	return fmt.Sprint(m.anchor, m.kind, m.after, m.set, m.drop)
}

// offers are the moves that a finding offers, the likeliest first, and the
// kinds of product that it wants and nobody has on the shelf.
func (t *trial) offers(f rulebook.Finding) (moves []move, missing []string) {
	for _, e := range f.Mend {
		if e.Step > len(t.steps) || e.Step < 1 {
			continue
		}
		more, lacks := t.resolve(e)
		for i := range more {
			more[i].anchor = t.steps[e.Step-1]
			more[i].answers, more[i].rule = f.Message, f.Rule
			more[i].rank = len(moves) + i
		}
		moves = append(moves, more...)
		for _, l := range lacks {
			if !slices.Contains(missing, l) {
				missing = append(missing, l)
			}
		}
	}
	return moves, missing
}

func (t *trial) resolve(e rulebook.Edit) (moves []move, missing []string) {
	switch e.Edit {
	case "drop":
		st := t.sheet.Steps[e.Step-1]
		if !mayDrop(st) {
			return nil, nil
		}
		return []move{{kind: "drop", does: "take the step out (" + stepWords(st) + ")"}}, nil
	case "set":
		return t.setting(e)
	case "unset":
		if slices.Contains(forbidden, e.Key) {
			return nil, nil
		}
		return []move{{kind: "set", drop: []string{e.Key}, does: "leave out " + e.Key}}, nil
	}
	return t.inserting(e)
}

// mayDrop: a step that looks after a person or measures is never taken out.
func mayDrop(st sheet.Step) bool {
	switch st.Do {
	case "inspect", "mask", "tack", "blow_off", "wait", "bake":
		return false
	}
	return true
}

func stepWords(st sheet.Step) string {
	switch {
	case st.Product.Value != "":
		return st.Do + " " + st.Product.Value
	case st.With.Value != "":
		return st.Do + " with " + st.With.Value
	}
	return strings.ReplaceAll(st.Do, "_", " ")
}

// forbidden are keys that no edit writes: what protects a person is for a
// person to decide.
var forbidden = []string{"wear", "says", "call", "do"}

func (t *trial) setting(e rulebook.Edit) (moves []move, missing []string) {
	if slices.Contains(forbidden, e.Key) {
		return nil, nil
	}
	switch e.Key {
	case "product_kind":
		return t.swapping(e)
	case "with_kind":
		names, lacks := t.helpers(rulebook.WordsOf(e.Value))
		for _, n := range names {
			moves = append(moves, setMove("with", sheet.Quote(n)))
		}
		return moves, lacks
	}
	for _, v := range values(e.Value) {
		moves = append(moves, setMove(e.Key, v))
	}
	return moves, nil
}

func setMove(key, value string) move {
	return move{kind: "set", set: []entry{{key, value}}, does: "write " + key + " = " + value}
}

// bound are the keys of a step that belong to the product it lays.
var bound = []string{"as", "mix", "hardener", "reducer", "additive", "stood", "batch", "fresh_cup", "tip", "pressure"}

// swapping lays another product in a step, with the numbers of its card.
func (t *trial) swapping(e rulebook.Edit) (moves []move, missing []string) {
	st := t.sheet.Steps[e.Step-1]
	uses, lacks := t.products(rulebook.WordsOf(e.Value))
	for _, u := range uses {
		if u.card == st.Card {
			continue
		}
		set := []entry{{"product", sheet.Quote(u.name)}}
		if u.use != "" {
			set = append(set, entry{"as", sheet.Quote(u.use)})
		}
		if st.Do != "spread" && st.Do != "caulk" {
			for _, l := range laying(u.card, true) {
				if l.key != "between" || l.value != "" {
					set = append(set, l)
				}
			}
		}
		if wait := t.waitAfter(u.card, e.Step); wait.Written && (!st.ThenWait.Written || st.ThenWait.Lo < wait.Hi) {
			set = append(set, entry{"then_wait", sheet.Quote(waitText(wait))})
		}
		var drop []string
		for _, key := range slices.Concat(bound, []string{"coats", "wet_film", "between"}) {
			if _, written := st.Keys[key]; written && !slices.ContainsFunc(set, func(x entry) bool { return x.key == key }) {
				drop = append(drop, key)
			}
		}
		moves = append(moves, move{kind: "set", set: set, drop: drop, film: true,
			does: fmt.Sprintf("lay %s (%s) instead of %s", u.name, u.card.Kind, st.Product.Value)})
	}
	return moves, lacks
}

func (t *trial) inserting(e rulebook.Edit) (moves []move, missing []string) {
	base := move{kind: "insert", after: e.Where == "after"}
	do, _ := e.Set["do"].(string)
	var keys []string
	for k := range e.Set {
		if k != "product_kind" && k != "with_kind" && k != "do" && !slices.Contains(forbidden, k) {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	base.set = []entry{{"do", sheet.Quote(do)}}
	for _, k := range keys {
		if vs := values(e.Set[k]); len(vs) > 0 {
			base.set = append(base.set, entry{k, vs[0]})
		}
	}
	with := func(does string, more ...entry) move {
		m := base
		m.set = append(slices.Clone(base.set), more...)
		m.does = does
		if on, ok := e.Set["on"]; ok {
			m.does += ", on " + strings.Join(rulebook.WordsOf(on), ", ")
		}
		return m
	}
	switch {
	case e.Set["product_kind"] != nil:
		uses, lacks := t.products(rulebook.WordsOf(e.Set["product_kind"]))
		for _, u := range uses {
			moves = append(moves, t.layingMove(with, do, u, t.next(e), e.Set["then_wait"] != nil))
		}
		return moves, lacks
	case e.Set["product"] != nil:
		name, _ := e.Set["product"].(string)
		card := t.sheet.Cards[name]
		if card == nil {
			return nil, nil
		}
		return []move{t.layingMove(with, do, use{name: name, card: card}, t.next(e), e.Set["then_wait"] != nil)}, nil
	case e.Set["with_kind"] != nil:
		names, lacks := t.helpers(rulebook.WordsOf(e.Set["with_kind"]))
		for _, n := range names {
			moves = append(moves, with(do+" with "+n, entry{"with", sheet.Quote(n)}))
		}
		return moves, lacks
	}
	does := strings.ReplaceAll(do, "_", " ")
	for _, key := range []string{"with", "tool", "grit", "pad", "measure", "for"} {
		if v, ok := e.Set[key]; ok {
			does += " " + map[string]string{"with": "with ", "tool": "with the ", "grit": "with ", "pad": "with a ", "for": "for ", "measure": "the "}[key] +
				strings.Join(rulebook.WordsOf(v), ", ")
		}
	}
	if wet, _ := e.Set["wet"].(bool); wet {
		does += ", wet"
	}
	return []move{with(does)}, nil
}

// next is the first step that comes after an inserted one.
func (t *trial) next(e rulebook.Edit) int {
	if e.Where == "after" {
		return e.Step
	}
	return e.Step - 1
}

func (t *trial) layingMove(with func(string, ...entry) move, do string, u use, next int, waits bool) move {
	more := laying(u.card, false)
	if !slices.ContainsFunc(with("").set, func(x entry) bool { return x.key == "product" }) {
		more = append(more, entry{"product", sheet.Quote(u.name)})
	}
	if u.use != "" {
		more = append(more, entry{"as", sheet.Quote(u.use)})
	}
	if wait := t.waitAfter(u.card, next); !waits && wait.Written {
		more = append(more, entry{"then_wait", sheet.Quote(waitText(wait))})
	}
	m := with(fmt.Sprintf("%s %s (%s)", do, u.name, u.card.Kind), more...)
	m.film = true
	return m
}

// use is a product in one of its uses.
type use struct {
	name, use string
	card      *sheet.Card
}

// products are the products in reach of some kinds, the likeliest kind first.
func (t *trial) products(kinds []string) (uses []use, missing []string) {
	for _, kind := range kinds {
		for _, name := range t.sheet.CardNames {
			card := t.sheet.Cards[name]
			if card.Kind == kind {
				uses = append(uses, use{name, "", card})
			}
			var names []string
			for as := range card.Uses {
				names = append(names, as)
			}
			slices.Sort(names)
			for _, as := range names {
				if card.Uses[as].Kind == kind {
					uses = append(uses, use{name, as, card.Uses[as]})
				}
			}
		}
	}
	if len(uses) == 0 {
		return nil, kinds
	}
	return uses, nil
}

// helpers are the names of helpers of some kinds: cards on the shelf, else the
// kind itself, which the language lets a step name without a card.
func (t *trial) helpers(kinds []string) (names, missing []string) {
	for _, u := range first(t.products(kinds)) {
		if u.use == "" {
			names = append(names, u.name)
		}
	}
	if len(names) == 0 {
		for _, kind := range kinds {
			if k := trade.KindOf(kind); k != nil && k.Role == "helper" {
				names = append(names, kind)
			}
		}
	}
	if len(names) == 0 {
		return nil, kinds
	}
	return names, nil
}

func first(uses []use, _ []string) []use { return uses }

// laying are the keys of a step that lays a product, read off its card: coats
// and wet film for the middle of the film it wants, the flash between, the
// stand time. What the card does not say is left unwritten; all tells to give
// coats even so.
func laying(card *sheet.Card, all bool) []entry {
	var out []entry
	coats, wet := coatsFor(card)
	if coats > 1 || all {
		out = append(out, entry{"coats", strconv.Itoa(coats)})
	}
	if wet != "" {
		out = append(out, entry{"wet_film", sheet.Quote(wet)})
	}
	flash := card.Flash.Quantity
	if !flash.Written {
		flash = typical(card).Flash
	}
	if coats > 1 && flash.Written && !flash.IsOpen() {
		out = append(out, entry{"between", sheet.Quote(quantity.Format(quantity.Exactly(flash.Hi), quantity.Time, flash.Unit))})
	}
	if card.Induction.Written {
		out = append(out, entry{"stood", sheet.Quote(quantity.Format(quantity.Exactly(card.Induction.Hi), quantity.Time, card.Induction.Unit))})
	}
	return out
}

func typical(card *sheet.Card) trade.Typical {
	if k := trade.KindOf(card.Kind); k != nil {
		return k.Read()
	}
	return trade.Typical{}
}

// coatsFor is how many coats, and how wet, come to the middle of the film that
// a card wants: the fewest coats it names that stay under its wettest.
func coatsFor(card *sheet.Card) (coats int, wet string) {
	coats = 1
	least, most := 1, 8
	if card.Coats.Written {
		least = max(1, int(card.Coats.Lo))
		most = max(least, int(math.Min(card.Coats.Hi, 20)))
		coats = least
	}
	film, solids := card.Film.Quantity, card.VolumeSolids.Quantity
	if !film.Written || !solids.Written || film.IsOpen() || solids.Lo <= 0 {
		return coats, ""
	}
	gun := trade.SolidsInGun(solids.Interval, card.Mix.ReducerShare())
	each := trade.WetFilm(quantity.Exactly(film.Mid()), quantity.Exactly(gun.Mid()))
	if each.IsOpen() {
		return coats, ""
	}
	for coats < most && card.WetMax.Written && each.Mid()/float64(coats) > card.WetMax.Lo {
		coats++
	}
	w := each.Mid() / float64(coats)
	if card.WetMax.Written {
		w = math.Min(w, card.WetMax.Lo)
	}
	unit := film.Unit
	shown, ok := quantity.Convert(w, quantity.Film, unit)
	if !ok {
		return coats, ""
	}
	step := 0.1
	if shown > 20 {
		step = 5
	}
	shown = math.Floor(shown/step+1e-9) * step
	return coats, quantity.FormatNumber(shown) + " " + unit
}

// waitAfter is how long a product waits for the film that the sheet lays next,
// after the first n steps; the wait for paint where none is laid.
func (t *trial) waitAfter(card *sheet.Card, n int) quantity.Quantity {
	goes := "paint"
	for _, st := range t.sheet.Steps[min(n, len(t.sheet.Steps)):] {
		if st.Card == nil || st.Do == "mask" {
			continue
		}
		if k := trade.KindOf(st.Card.Kind); k != nil && k.Class == "filler" {
			goes = "filler"
		} else if st.Card.Kind == "polyester surfacer" {
			goes = "polyester"
		}
		break
	}
	wait := typical(card).RecoatLeast
	for _, w := range []sheet.Window{card.Recoat["paint"], card.Recoat[goes]} {
		if w.Written && w.Least.Written && !w.Least.IsOpen() {
			wait = w.Least.Quantity
		}
	}
	if goes == "filler" {
		for _, q := range []quantity.Quantity{typical(card).FillAfter, card.FillAfter.Quantity} {
			if q.Written && !q.IsOpen() && !q.Never && q.Hi > wait.Hi {
				wait = q
			}
		}
	}
	return wait
}

func waitText(q quantity.Quantity) string {
	return quantity.Format(quantity.Exactly(q.Hi), quantity.Time, q.Unit)
}

// values are the ways an offered value may be written as TOML, the likeliest
// first: a long figure as the round one next to it on either side, which is
// what a painter would write. One of the two is right, and judging tells.
func values(v any) []string {
	switch v := v.(type) {
	case bool:
		return []string{strconv.FormatBool(v)}
	case json.Number:
		return []string{v.String()}
	case float64:
		return []string{strconv.FormatFloat(v, 'f', -1, 64)}
	case int:
		return []string{strconv.Itoa(v)}
	case []any:
		words := rulebook.WordsOf(v)
		for i, w := range words {
			words[i] = sheet.Quote(w)
		}
		return []string{"[" + strings.Join(words, ", ") + "]"}
	case string:
		round := rounded(v)
		if len(round) == 0 {
			round = []string{v}
		}
		for i, r := range round {
			round[i] = sheet.Quote(r)
		}
		return round
	}
	return nil
}

// rounded is a figure of three digits and more, with its unit, rounded up and
// down to two; nothing where there is nothing to round.
func rounded(text string) []string {
	figure, unit, ok := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(figure, 64)
	if !ok || err != nil || v <= 0 || len(strings.Trim(strings.Replace(figure, ".", "", 1), "0")) < 3 {
		return nil
	}
	if unit == "h" && v < 4 {
		v, unit = v*60, "min"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	if unit == "min" && v >= 20 {
		step = 5
	}
	up, down := math.Ceil(v/step-1e-9)*step, math.Floor(v/step+1e-9)*step
	out := []string{quantity.FormatNumber(up) + " " + unit}
	if down > 0 && down != up {
		out = append(out, quantity.FormatNumber(down)+" "+unit)
	}
	return out
}
