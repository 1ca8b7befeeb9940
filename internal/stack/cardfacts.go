package stack

import (
	"math"
	"reflect"
	"strings"
	"sync"
	"time"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// cardUse is how the steps use one card.
type cardUse struct {
	view  *cardView
	laid  bool  // as a film
	used  bool  // in any way
	steps []int // that use it, in order
}

// cardUses are the cards that the steps use, by reference, and the cards of
// the sheet itself whether used or not. A hardener or reducer counts as used
// where a step names it, or where it is the one its product's card lists.
func cardUses(s *sheet.Sheet, l limits) map[string]*cardUse {
	uses := map[string]*cardUse{}
	at := func(c *sheet.Card) *cardUse {
		ref := cardRef(c)
		if uses[ref] == nil {
			uses[ref] = &cardUse{view: viewCard(c, l)}
		}
		return uses[ref]
	}
	note := func(c *sheet.Card, step int) {
		if c == nil {
			return
		}
		u := at(c)
		u.used = true
		if n := len(u.steps); n == 0 || u.steps[n-1] != step {
			u.steps = append(u.steps, step)
		}
	}
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.WithCard != "" {
			note(s.Cards[st.WithCard], st.N)
		}
		if st.Card == nil {
			continue
		}
		note(st.Card, st.N)
		at(st.Card).laid = true
		c := cupOf(s, st, at(st.Card).view)
		for _, list := range [][]part{c.hardeners, c.reducers, c.additives} {
			for _, p := range list {
				note(p.card, st.N)
			}
		}
	}
	// The main use of a can that is used otherwise is used; a card that only
	// stands in the sheet is there to be asked about.
	for _, name := range sortedKeys(s.Cards) {
		c := s.Cards[name]
		if !c.Own {
			continue
		}
		u := at(c)
		for _, use := range sortedKeys(c.Uses) {
			if other := uses[cardRef(c.Uses[use])]; other != nil && other.used {
				u.used = true
			}
		}
	}
	return uses
}

// cardFacts is what the document says of a card; compared is filled in once
// every comparison has been made.
func cardFacts(u *cardUse, date sheet.Date, l limits) CardFacts {
	v, c := u.view, u.view.card
	f := CardFacts{
		Ref: v.ref, Name: c.Name, Use: c.Use, Label: c.Label.Value, Shown: v.shown, Kind: v.kind.Name, Traits: v.traits(),
		Own: c.Own, Laid: u.laid, Used: u.used, Steps: append([]int{}, u.steps...),
		DataSheet: sheetRecord(c.DataSheet, date, l), SafetySheet: sheetRecord(c.SafetySheet, date, l),
		GoesOn: texts(c.GoesOn), KeepOff: texts(c.KeepOff), DirectToMetal: []string{},
		HasGoesOn: c.GoesOn.Written, HasDirectList: c.DirectTo.Written, HasDirect: c.DirectTo.Written || c.DirectToMetal.Written,
		Effect: c.Effect.Value, Card: cardWritten(c), Typical: map[string]string{}, Assumed: []string{}, Compared: []string{},
		Place: c.Place,
	}
	switch {
	case c.DirectTo.Written:
		f.DirectToMetal = texts(c.DirectTo)
	case c.DirectToMetal.Value:
		f.DirectToMetal = []string{"*"}
	}
	for _, key := range sortedKeys(v.kind.Typical) {
		f.Typical[key] = v.kind.Typical[key]
		if _, said := f.Card[key]; !said {
			f.Assumed = append(f.Assumed, key)
		}
	}
	return f
}

// minutesOfYear are those of a year without a leap day.
const minutesOfYear = 365 * 24 * 60

// sheetRecord is a data sheet or safety sheet with its age at the sheet's date.
func sheetRecord(n sheet.SheetNote, date sheet.Date, l limits) SheetRecord {
	r := SheetRecord{Written: n.Written, Number: n.Number.Value, Checked: day(n.Checked)}
	looked := n.Checked
	if !looked.Written {
		looked = n.Issued
	}
	if !looked.Written || !date.Written {
		return r
	}
	age := max(0, date.Value.Sub(looked.Value).Round(time.Minute).Minutes())
	limit := l.number("sheet_stale")
	if years := limit.iv.Hi / minutesOfYear; !limit.iv.IsOpen() && years == math.Trunc(years) && !date.Value.After(looked.Value.AddDate(int(years), 0, 0)) {
		// 365 days are twelve months, and a leap day makes those no longer.
		age = min(age, limit.iv.Hi)
	}
	r.Age = compare("most", quantity.Exactly(age), false, "days", limit)
	return r
}

// day writes a date, "" where it is not written.
func day(d sheet.Date) string {
	if !d.Written {
		return ""
	}
	return d.Value.Format(time.DateOnly)
}

// cardWritten is what a card writes, as it writes it, by key.
func cardWritten(c *sheet.Card) map[string]string {
	out := map[string]string{}
	text := func(key string, t sheet.Text) {
		if t.Written {
			out[key] = t.Value
		}
	}
	list := func(key string, t sheet.Texts) {
		if t.Written {
			out[key] = strings.Join(t.Values, ", ")
		}
	}
	amount := func(key string, a sheet.Amount) {
		if a.Written {
			out[key] = a.Text
		}
	}
	flag := func(key string, f sheet.Flag) {
		if f.Written {
			out[key] = map[bool]string{true: "true", false: "false"}[f.Value]
		}
	}
	note := func(key string, n sheet.SheetNote) {
		if n.Written {
			out[key] = strings.Join(filled(n.Number.Value, "issued "+day(n.Issued), "checked "+day(n.Checked)), ", ")
		}
	}
	text("label", c.Label)
	note("data_sheet", c.DataSheet)
	note("safety_sheet", c.SafetySheet)
	if c.Mix.Written {
		out["mix"] = c.Mix.Text
	}
	list("hardener", c.Hardener)
	list("reducer", c.Reducer)
	amount("reduce_up_to", c.ReduceUpTo)
	amount("induction", c.Induction)
	amount("pot_life", c.PotLife)
	amount("volume_solids", c.VolumeSolids)
	amount("voc", c.VOC)
	amount("density", c.Density)
	amount("film", c.Film)
	amount("wet_max", c.WetMax)
	amount("coats", c.Coats)
	amount("flash", c.Flash)
	amount("flash_most", c.FlashMost)
	var windows []string
	for _, entry := range sortedKeys(c.Recoat) {
		if w := c.Recoat[entry]; w.Written {
			windows = append(windows, entry+" "+windowText(w))
		}
	}
	switch {
	case len(windows) == 1 && c.Recoat["paint"].Written:
		out["recoat"] = windowText(c.Recoat["paint"])
	case len(windows) > 0:
		out["recoat"] = strings.Join(windows, ", ")
	}
	amount("no_recoat", c.NoRecoat)
	amount("fill_after", c.FillAfter)
	amount("tape_after", c.TapeAfter)
	flag("wet_on_wet", c.WetOnWet)
	amount("spot_metal", c.SpotMetal)
	text("effect", c.Effect)
	amount("lowest_cure", c.LowestCure)
	amount("sand_after", c.SandAfter)
	amount("settles", c.Settles)
	amount("polish_after", c.PolishAfter)
	if b := c.Bake; b.Written {
		out["bake"] = strings.Join(filled(
			"metal "+b.Metal.Text, "for "+b.For.Text, "flash_first "+b.FlashFirst.Text, "max_metal "+b.MaxMetal.Text,
		), ", ")
	}
	amount("times_at", c.TimesAt)
	amount("air", c.Air)
	amount("humidity", c.Humidity)
	amount("tip", c.Tip)
	amount("pressure", c.Pressure)
	if c.GritBeneath.Written {
		out["grit_beneath"] = c.GritBeneath.Text
	}
	flag("sandable", c.Sandable)
	flag("direct_to_metal", c.DirectToMetal)
	list("direct_to_metal", c.DirectTo)
	list("goes_on", c.GoesOn)
	list("keep_off", c.KeepOff)
	flag("wet_sandable", c.WetSandable)
	flag("holds_out_water", c.HoldsOutWater)
	flag("weatherproof", c.Weatherproof)
	flag("flexible", c.Flexible)
	list("hazards", c.Hazards)
	return out
}

// filled keeps the entries that say more than their first word and a space.
func filled(entries ...string) []string {
	var out []string
	for _, e := range entries {
		if e != "" && !strings.HasSuffix(e, " ") {
			out = append(out, e)
		}
	}
	return out
}

// windowText writes a window as a card would.
func windowText(w sheet.Window) string {
	least := quantity.Format(w.Least.Interval, quantity.Time, w.Least.Unit)
	switch {
	case w.Any:
		return least + " - any"
	case w.Most.Written:
		return least + " - " + quantity.Format(w.Most.Interval, quantity.Time, w.Most.Unit)
	}
	return least
}

// noteCompared writes on every card the typical numbers that some comparison
// of the document leaned on. A comparison that is open compared nothing.
func (d *Document) noteCompared() {
	found := map[string]bool{}
	note := func(leaned []string) {
		for _, l := range leaned {
			found[l] = true
		}
	}
	// The ready-made looks hold nothing that the lists do not.
	lists := *d
	lists.LayersByID, lists.ContactsByUpper, lists.ContactsOnMetal, lists.ContactsUnderColor = nil, nil, nil, nil
	leanedIn(reflect.ValueOf(&lists).Elem(), note)
	for _, c := range d.Contacts {
		if c.WindowShut && c.WindowGiven == "typical" {
			found[c.LowerCard+".recoat"] = true
		}
	}
	// The longest reference that fits: a name may hold a point itself.
	keys := map[string][]string{}
	for _, lean := range sortedKeys(found) {
		best := ""
		for ref := range d.Cards {
			if len(ref) > len(best) && strings.HasPrefix(lean, ref+".") {
				best = ref
			}
		}
		if best != "" {
			keys[best] = append(keys[best], lean[len(best)+1:])
		}
	}
	for ref, list := range keys {
		f := d.Cards[ref]
		f.Compared = sorted(list)
		d.Cards[ref] = f
	}
}

var (
	comparisonType   = reflect.TypeFor[Comparison]()
	openField, _     = comparisonType.FieldByName("Open")
	leanedField, _   = comparisonType.FieldByName("Leaned")
	holdsComparisons sync.Map // reflect.Type → bool, so that nothing is searched in vain
)

// leanedIn calls note with what every comparison in a value leaned on that is
// not open.
func leanedIn(v reflect.Value, note func([]string)) {
	if !mayHold(v.Type()) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			leanedIn(v.Elem(), note)
		}
	case reflect.Struct:
		if v.Type() == comparisonType {
			if !v.FieldByIndex(openField.Index).Bool() {
				note(v.FieldByIndex(leanedField.Index).Interface().([]string))
			}
			return
		}
		for i := range v.NumField() {
			leanedIn(v.Field(i), note)
		}
	case reflect.Slice:
		for i := range v.Len() {
			leanedIn(v.Index(i), note)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			leanedIn(v.MapIndex(k), note)
		}
	}
}

// mayHold tells whether a comparison can stand anywhere in a value of a type.
func mayHold(t reflect.Type) bool {
	if known, ok := holdsComparisons.Load(t); ok {
		return known.(bool)
	}
	holds := t == comparisonType
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		holds = mayHold(t.Elem())
	case reflect.Struct:
		for i := 0; i < t.NumField() && !holds; i++ {
			holds = mayHold(t.Field(i).Type)
		}
	}
	holdsComparisons.Store(t, holds)
	return holds
}
