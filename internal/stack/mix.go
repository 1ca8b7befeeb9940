package stack

import (
	"math"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// cup is what one laying step mixes: the product, and what goes in with it.
type cup struct {
	step    *sheet.Step
	view    *cardView
	mix     quantity.Mix // what is in the cup; not Written where neither step nor card says
	written string       // step | card | none: who says so
	// What goes in beside the product: what the step names, else, where there
	// is a share for it, whatever the card lists.
	hardeners, reducers, additives []part
}

// part is a hardener, reducer or additive: a card, or a name without one.
type part struct {
	name string
	card *sheet.Card
	kind string // helper kind, "" where it is not known
}

// cupOf reads the cup of a laying step.
func cupOf(s *sheet.Sheet, st *sheet.Step, v *cardView) *cup {
	c := &cup{step: st, view: v, written: "none"}
	switch {
	case st.Mix.Written:
		c.mix, c.written = st.Mix.Mix, "step"
	case v.card != nil && v.card.Mix.Written:
		c.mix, c.written = v.card.Mix.Mix, "card"
	}
	var listed sheet.Card
	if v.card != nil {
		listed = *v.card
	}
	hardened := c.mix.Hardener > 0 || (!c.mix.Written && v.twoPart())
	c.hardeners = partsOf(s, st.Hardener, st.HardenerCard, st.HardenerKind, listed.Hardener, hardened)
	c.reducers = partsOf(s, st.Reducer, st.ReducerCard, st.ReducerKind, listed.Reducer, c.mix.Reducer > 0)
	c.additives = partsOf(s, st.Additive, st.AdditiveCard, st.AdditiveKind, sheet.Texts{}, false)
	return c
}

// partsOf is the part the step names; where it names none and there is a
// share for one, those that the card lists.
func partsOf(s *sheet.Sheet, named sheet.Text, card *sheet.Card, kind string, listed sheet.Texts, share bool) []part {
	if named.Written {
		if card != nil {
			kind = card.Kind
		}
		return []part{{name: named.Value, card: card, kind: kind}}
	}
	if !share {
		return nil
	}
	var out []part
	for _, name := range listed.Values {
		p := part{name: name, card: s.Cards[name]}
		if p.card != nil {
			p.kind = p.card.Kind
		} else if k := trade.KindOf(name); k != nil && k.Role == "helper" {
			p.kind = k.Name
		}
		out = append(out, p)
	}
	return out
}

// hazards of a part: its card's and its kind's.
func (p part) hazards() []string {
	var out []string
	if k := trade.KindOf(p.kind); k != nil {
		out = append(out, k.Hazards...)
	}
	if p.card != nil {
		out = append(out, p.card.Hazards.Values...)
	}
	return out
}

// hazards of everything in the cup. A hardener in a color or clear whose kind
// is one-part is taken for isocyanate where no card says what is in it: an
// activated basecoat or a hardened enamel is isocyanate work.
func (c *cup) hazards() []string {
	all := c.view.traits().Hazards
	said := false
	for _, list := range [][]part{c.hardeners, c.reducers, c.additives} {
		for _, p := range list {
			all = append(all, p.hazards()...)
		}
	}
	for _, p := range c.hardeners {
		said = said || (p.card != nil && p.card.Hazards.Written)
	}
	class := c.view.kind.Class
	if c.view.kind.Parts == 1 && c.hardened() && !said && (class == "color" || class == "clear") {
		all = append(all, "isocyanate")
	}
	return sorted(all)
}

// poisons are those of its hazards that stay in the film once it is dry:
// pigment does, whichever can of the cup it came in.
func (c *cup) poisons() []string {
	var out []string
	for _, h := range c.hazards() {
		if h == "chromate" || h == "lead" {
			out = append(out, h)
		}
	}
	return out
}

// hardened: a hardener goes into this cup.
func (c *cup) hardened() bool { return c.mix.Hardener > 0 || c.step.Hardener.Written }

// solids is the volume solids, %, of what is in the gun.
func (c *cup) solids() (iv quantity.Interval, leaned []string, ok bool) {
	n := c.view.number("volume_solids")
	if !n.ok || n.iv.IsOpen() {
		return quantity.Interval{}, nil, false
	}
	return trade.SolidsInGun(n.iv, c.mix.ReducerShare()), n.leaned, true
}

// coats of the step; one where none is written, and for what is spread.
func (c *cup) coats() int {
	if c.step.Coats.Written && c.step.Coats.Value > 1 {
		return c.step.Coats.Value
	}
	return 1
}

// stepFilm is what one laying step puts down, in mil.
type stepFilm struct {
	wet, coat, dry quantity.Interval // one coat wet and dry, and all of them dry
	unit           string            // the unit the sheet wrote it in
	written        bool              // a wet film or a thickness is written
	known          bool              // and its dry film can be told
	coats          int
	leaned         []string
}

// film is what the step puts down: wet film times the solids in the gun, or
// the thickness that is spread.
func (c *cup) film() stepFilm {
	f := stepFilm{wet: quantity.Open, coat: quantity.Open, dry: quantity.Open, coats: c.coats()}
	if t := c.step.Thickness; t.Written {
		f.wet, f.coat, f.dry = t.Interval, t.Interval, t.Interval
		f.unit, f.written, f.known = t.Unit, true, true
		return f
	}
	w := c.step.WetFilm
	if !w.Written {
		return f
	}
	f.wet, f.unit, f.written = w.Interval, w.Unit, true
	if solids, leaned, ok := c.solids(); ok {
		f.coat = trade.DryFilm(w.Interval, solids)
		f.dry = f.coat.Scale(float64(f.coats))
		f.leaned, f.known = leaned, true
	}
	return f
}

// layerFilm is the dry film of a layer that one or more steps lay, in mil.
type layerFilm struct {
	iv      quantity.Interval
	unit    string
	known   bool
	assumed bool     // the card's or kind's film stands in for what is not written
	leaned  []string // typical numbers it rests on
	coats   int
}

// filmOfLayer puts the films of the steps that make one layer together. Where
// any of them does not say how wet it goes on, the whole layer is taken to
// have the film its card gives, and never less than what is written of it.
func filmOfLayer(v *cardView, steps []stepFilm) layerFilm {
	f := layerFilm{known: true}
	for _, st := range steps {
		f.coats += st.coats
		if f.unit == "" {
			f.unit = st.unit
		}
		if !st.known {
			f.known = false
			continue
		}
		f.iv = f.iv.Add(st.dry)
		f.leaned = append(f.leaned, st.leaned...)
	}
	if f.known {
		f.leaned = sorted(f.leaned)
		return f
	}
	said := f.iv
	n := v.number("film")
	if !n.ok {
		return layerFilm{iv: quantity.Open, unit: f.unit, coats: f.coats}
	}
	if n.source == "card" || f.unit == "" {
		f.unit = n.unit
	}
	return layerFilm{
		iv: n.iv.Max(said), unit: f.unit, known: true, assumed: true,
		leaned: sorted(append(f.leaned, n.leaned...)), coats: f.coats,
	}
}

// shareOf is the part of the layer's film that one of its steps lays: what it
// says, else its coats' share of the whole.
func (f layerFilm) shareOf(st stepFilm) (iv quantity.Interval, known bool) {
	if st.known && !f.assumed {
		return st.dry, true
	}
	if !f.known || f.coats == 0 {
		return quantity.Open, false
	}
	return f.iv.Scale(float64(st.coats) / float64(f.coats)), true
}

// measure is the layer's film as the document carries it.
func (f layerFilm) measure() Measure {
	if !f.known {
		return openMeasure(quantity.Film, f.unit)
	}
	return measure(f.iv, quantity.Film, f.unit)
}

// against sets the film laid beside the card's range. There is nothing to
// compare where that range itself stands in for the film. Half as much again
// as the most is what splits acid and wash primer.
func (f layerFilm) against(v *cardView) (thin, thick, half *Comparison) {
	if !f.known || f.assumed {
		return nil, nil, nil
	}
	lo, hi := v.film()
	lean := func(n number) number {
		n.leaned = append(append([]string{}, n.leaned...), f.leaned...)
		return n
	}
	thin = compare("least", f.iv, false, f.unit, lean(lo))
	thick = compare("most", f.iv, false, f.unit, lean(hi))
	if v.hasTrait("acid") && hi.ok {
		times := v.limits.interval("thick_half").Lo
		over := lean(hi).scaled(times)
		over.graced = false
		half = compare("most", f.iv, false, f.unit, over)
	}
	return thin, thick, half
}

// film fills in what a lay's coats are: wet and dry, against the card's most
// and against what counts as light.
func (l *Lay) film(f stepFilm, v *cardView) {
	l.Coats = f.coats
	l.Coat, l.CoatDry = openMeasure(quantity.Film, f.unit), openMeasure(quantity.Film, f.unit)
	if f.written {
		l.Coat = measure(f.wet, quantity.Film, f.unit)
	}
	if f.known {
		l.CoatDry = measure(f.coat, quantity.Film, f.unit)
	}
	if !f.written || l.Do == "spread" {
		return
	}
	l.WetMax = compare("most", f.wet, false, f.unit, v.wetMax())
	l.LightCoat = compare("most", f.wet, false, f.unit, v.limits.number("light_coat"))
}

// between is the wait between coats of one step as the clock counts it: what
// is written, else the flash. Where that is a condition its end is open.
func (c *cup) between() (iv quantity.Interval, leaned []string) {
	if c.step.Between.Written {
		return c.step.Between.Interval, nil
	}
	f := c.view.number("flash")
	switch {
	case f.until != "":
		return quantity.Open, f.leaned
	case f.ok:
		return f.iv, f.leaned
	}
	return quantity.Interval{}, nil
}

// lasts is how long the laying takes, from the first coat to the end of the
// last: what is written, and the waits between its coats.
func (c *cup) lasts() (iv quantity.Interval, leaned []string) {
	if c.step.For.Written {
		iv = c.step.For.Interval
	}
	if n := c.coats(); n > 1 {
		wait, lean := c.between()
		iv, leaned = iv.Add(wait.Scale(float64(n-1))), lean
	}
	return iv, leaned
}

// inAir is a card's time as it holds in the air of the step.
func (c *cup) inAir(n number, air sheet.Amount) number {
	if !n.ok || !air.Written {
		return n
	}
	n.iv = n.iv.Mul(trade.TimeFactorFrom(c.view.timesAt(), closed(air.Interval)))
	return n
}

// pot sets the time from mixing to the end of the last coat beside the pot
// life in this air; a fresh cup a coat has to last for one coat alone.
func (c *cup) pot(air sheet.Amount) *Comparison {
	if !c.view.twoPart() && !c.hardened() {
		return nil
	}
	time, leaned := c.lasts()
	if c.step.FreshCup.Value {
		time, leaned = quantity.Interval{}, nil
		if c.step.For.Written {
			time = c.step.For.Interval.Scale(1 / float64(c.coats()))
		}
	}
	unit := c.step.Between.Unit
	if c.step.Stood.Written {
		time = time.Add(closed(c.step.Stood.Interval))
		unit = c.step.Stood.Unit
	}
	if c.step.For.Written {
		unit = c.step.For.Unit
	}
	life := c.inAir(c.view.number("pot_life"), air)
	life.leaned = append(append([]string{}, life.leaned...), leaned...)
	return compare("most", time, false, unit, life)
}

// induction sets the time the cup stood beside the stand its card asks for in
// this air. due is that stand, null where the card asks for none.
func (c *cup) induction(air sheet.Amount) (compared *Comparison, due *Measure) {
	n := c.inAir(c.view.number("induction").least(), air)
	if !n.ok || n.iv.Hi == 0 {
		return nil, nil
	}
	m := n.measure()
	if c.step.Stood.Written {
		compared = compare("least", c.step.Stood.Interval, false, c.step.Stood.Unit, n)
	}
	return compared, &m
}

// voc is the VOC of the cup as applied, g/L: that of base and hardener, and of
// the reducer at its share. A reducer whose own is not given counts with its
// whole density. ok is false where any part is not known.
func (c *cup) voc() (iv quantity.Interval, ok bool) {
	n := c.view.number("voc")
	if !n.ok || n.iv.IsOpen() {
		return quantity.Open, false
	}
	r := c.mix.ReducerShare()
	if r == 0 {
		return n.iv, true
	}
	reducer, ok := vocOfReducers(c.reducers)
	if !ok {
		return quantity.Open, false
	}
	return trade.VOCAsApplied(n.iv, r, reducer), true
}

// vocOfReducers is the VOC of whichever of the reducers is used.
func vocOfReducers(list []part) (iv quantity.Interval, ok bool) {
	for i, p := range list {
		if p.card == nil {
			return quantity.Open, false
		}
		own := p.card.VOC
		if !own.Written {
			own = p.card.Density
		}
		if !own.Written || own.IsOpen() {
			return quantity.Open, false
		}
		if i == 0 {
			iv = own.Interval
		} else {
			iv = iv.Hull(own.Interval)
		}
	}
	return iv, len(list) > 0
}

// reduced sets the reducer's share, in % of base and hardener, beside the most
// the card lets in: what it says, else the share in its own mix.
func (c *cup) reduced() *Comparison {
	if !c.mix.Written {
		return nil
	}
	most := c.view.number("reduce_up_to").most()
	if !most.ok && c.view.card != nil && c.view.card.Mix.Written {
		own := c.view.card.Mix.Mix
		if own.Parts == 3 || own.Reducer > 0 {
			most = number{
				iv: quantity.Exactly(100 * own.ReducerShare()), dim: quantity.Share, unit: "%",
				source: "card", graced: true, ok: true,
			}
		}
	}
	return compare("most", quantity.Exactly(100*c.mix.ReducerShare()), false, "%", most)
}

// ratioOff is how far the step's hardener is off the card's, in %, either way.
func (c *cup) ratioOff() *Comparison {
	card := c.view.card
	if !c.step.Mix.Written || c.mix.Base == 0 || card == nil || !card.Mix.Written || card.Mix.Base == 0 || card.Mix.Hardener == 0 {
		return nil
	}
	off := 100 * math.Abs((c.mix.Hardener/c.mix.Base)/(card.Mix.Hardener/card.Mix.Base)-1)
	return compare("most", quantity.Exactly(off), false, "%", c.view.limits.number("ratio_tolerance"))
}

// known tells whether the part the step names is among those its card lists.
func known(named sheet.Text, listed sheet.Texts) string {
	if !named.Written || len(listed.Values) == 0 {
		return ""
	}
	for _, name := range listed.Values {
		if strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(named.Value)) {
			return "listed"
		}
	}
	return "foreign"
}

// kindOfAll is the one kind that all parts are of, or "".
func kindOfAll(list []part) string {
	kind := ""
	for i, p := range list {
		if i > 0 && p.kind != kind {
			return ""
		}
		kind = p.kind
	}
	return kind
}

// cupUse is what the stack knows of a cup beyond its step and card.
type cupUse struct {
	layer string            // id of the layer it makes
	area  quantity.Interval // of all zones it is laid on, ft²; Open where one is not known
	film  layerFilm         // of the whole layer
	air   sheet.Amount      // of the step
	where string
}

// facts is everything the document says of the cup.
func (c *cup) facts(use cupUse) Mix {
	st, v := c.step, c.view
	m := Mix{
		ID: stepID(st.N), Step: st.N, Card: v.ref, Name: v.shown, Kind: v.kind.Name, Traits: v.traits(),
		Layer: use.layer, Sprayed: st.Do == "spray", Brushed: st.Do == "brush", Where: use.where, Wear: sorted(st.Wear.Values),
		Written: c.written, TwoPart: v.twoPart(),
		BaseParts: round9(c.mix.Base), HardenerParts: round9(c.mix.Hardener), ReducerParts: round9(c.mix.Reducer),
		RatioOff: c.ratioOff(), Reduced: c.reduced(),
		HardenerName: st.Hardener.Value, ReducerName: st.Reducer.Value, AdditiveName: st.Additive.Value,
		HardenerKind: kindOfAll(c.hardeners), ReducerKind: kindOfAll(c.reducers), AdditiveKind: kindOfAll(c.additives),
		CardHardeners: []string{}, CardReducers: []string{},
		Hazards: c.hazards(), StoodWritten: st.Stood.Written,
		Pot: c.pot(use.air), Place: st.Place,
	}
	if st.Mix.Written {
		m.StepMix = st.Mix.Text
	}
	if card := v.card; card != nil {
		if card.Mix.Written {
			m.CardMix = card.Mix.Text
		}
		m.CardHardeners, m.CardReducers = texts(card.Hardener), texts(card.Reducer)
		m.HardenerKnown, m.ReducerKnown = known(st.Hardener, card.Hardener), known(st.Reducer, card.Reducer)
	}
	for _, h := range m.Hazards {
		switch h {
		case "isocyanate":
			m.Isocyanate = true
		case "flammable":
			m.Flammable = true
		case "chromate":
			m.Chromate = true
		case "epoxy hardener":
			m.EpoxyHardener = true
		}
	}
	m.Induction, m.InductionDue = c.induction(use.air)
	if p := c.mix.Paste; p.Written {
		paste := measure(p.Interval, quantity.Share, p.Unit)
		m.Paste = &paste
		m.PasteLow = compare("least", p.Interval, false, p.Unit, v.limits.number("paste_low"))
		m.PasteHigh = compare("most", p.Interval, false, p.Unit, v.limits.number("paste_high"))
	}
	m.Solids = openMeasure(quantity.Share, "%")
	if solids, _, ok := c.solids(); ok {
		m.Solids = measure(solids, quantity.Share, "%")
	}
	if iv, ok := c.voc(); ok {
		voc := measure(iv, quantity.Concentration, v.number("voc").unit)
		m.Voc = &voc
	}
	c.volumes(&m, use)
	return m
}

// volumes fills in how much the cup has to hold, its parts, and the batch
// beside it.
func (c *cup) volumes(m *Mix, use cupUse) {
	m.NeededCups = []Cup{}
	film, solids, leaned, ok := c.poured(use.film)
	if !ok {
		return
	}
	needed := c.needed(film, solids, use.area)
	if needed.IsOpen() {
		return
	}
	unit := c.step.Batch.Unit
	if unit == "" {
		unit = "L"
		if needed.Hi < 1 {
			unit = "mL"
		}
	}
	volume := measure(needed, quantity.Volume, unit)
	m.Needed = &volume
	m.NeededCups = c.parts(needed, unit)
	m.BatchEnough = enough(needed.Hi, unit)
	// The area cancels out: a range of areas leaves this as sure as one area does.
	if voc, ok := c.voc(); ok {
		one := c.needed(film, solids, quantity.Exactly(1))
		m.VocPerArea = perArea(voc.Mul(one).Scale(1 / squareMetresPerFt2))
	}
	if c.step.Batch.Written {
		m.Batch = compare("least", c.step.Batch.Interval, false, unit, number{
			iv: needed, dim: quantity.Volume, unit: unit, source: "sheet", ok: true, leaned: leaned,
		})
	}
}

// squareMetresPerFt2 is exact: 0.3048² m².
const squareMetresPerFt2 = 0.09290304

// perArea is a mass per area, g/m².
func perArea(iv quantity.Interval) *Measure {
	hi := significant(iv.Hi, 4)
	return &Measure{
		Lo: round9(iv.Lo), Hi: upper(iv.Hi),
		Shown: Shown{Lo: significant(iv.Lo, 4), Hi: &hi, Unit: "g/m2"},
		Text:  quantity.Format(iv, quantity.Count, "") + " g/m2",
	}
}

// enough is a volume (L) rounded up to two digits of a unit, as a sheet would
// write a batch.
func enough(litres float64, unit string) string {
	v, ok := quantity.Convert(litres, quantity.Volume, unit)
	if !ok || v <= 0 || math.IsInf(v, 1) {
		return ""
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	up := math.Ceil(v/step-1e-9) * step
	return quantity.FormatNumber(up) + " " + unit
}

// poured is the film (mil) that the cup is for and how much of it (%) is what
// comes out of the cup: all of the wet film where the sheet writes that, so that
// the solids play no part; else the solids of the dry film of the layer.
func (c *cup) poured(layer layerFilm) (film, solids quantity.Interval, leaned []string, ok bool) {
	if f := c.film(); f.written {
		film = f.wet
		if c.step.Do != "spread" {
			film = film.Scale(float64(f.coats))
		}
		return film, quantity.Exactly(100), nil, true
	}
	film, known := layer.shareOf(c.film())
	solids, leaned, ok = c.solids()
	return film, solids, append(append([]string{}, leaned...), layer.leaned...), known && ok
}

// needed is the volume in the cup for a film (mil) over an area (ft²): what is
// poured, over the share that lands and what stays in cup and gun. A gun that
// is not written is taken for HVLP, which wastes least: no batch is called
// short that is not short with any gun. Open where film or area are.
func (c *cup) needed(film, solids, area quantity.Interval) quantity.Interval {
	if film.IsOpen() || area.IsOpen() {
		return quantity.Open
	}
	lands := quantity.Exactly(100)
	switch {
	case c.step.Do == "brush":
		lands = c.view.limits.interval("transfer_brush")
	case c.step.Do != "spray":
	case c.step.Gun.Value == "conventional":
		lands = c.view.limits.interval("transfer_conventional")
	case c.step.Gun.Value == "airless":
		lands = c.view.limits.interval("transfer_airless")
	default:
		lands = c.view.limits.interval("transfer_hvlp")
	}
	return trade.PaintNeeded(film, area, solids, lands, c.view.limits.interval("cup_waste"))
}

// parts are the volumes to measure out.
func (c *cup) parts(needed quantity.Interval, unit string) []Cup {
	base, hardener, reducer := trade.Cups(needed, c.mix)
	out := []Cup{{Part: "base", Name: canName(c.view.card), Volume: measure(base, quantity.Volume, unit)}}
	if c.mix.Hardener > 0 {
		out = append(out, Cup{Part: "hardener", Name: partNames(c.hardeners, "hardener"), Volume: measure(hardener, quantity.Volume, unit)})
	}
	if c.mix.Reducer > 0 {
		out = append(out, Cup{Part: "reducer", Name: partNames(c.reducers, "reducer"), Volume: measure(reducer, quantity.Volume, unit)})
	}
	if p := c.mix.Paste; p.Written {
		m := openMeasure(quantity.Volume, unit)
		m.Text = measure(p.Interval, quantity.Share, p.Unit).Text + " by weight"
		out = append(out, Cup{Part: "paste", Name: partNames(c.hardeners, "paste hardener"), Volume: m})
	}
	return out
}

// canName is what it says on the can.
func canName(card *sheet.Card) string {
	if card == nil {
		return ""
	}
	if card.Label.Written && card.Label.Value != "" {
		return card.Label.Value
	}
	return card.Name
}

// partNames are the names of the parts, any of which may be used.
func partNames(list []part, otherwise string) string {
	var names []string
	for _, p := range list {
		if p.card != nil {
			names = append(names, canName(p.card))
		} else if p.name != "" {
			names = append(names, p.name)
		}
	}
	if len(names) == 0 {
		return otherwise
	}
	return strings.Join(names, " or ")
}

// texts is a copy of a written list, never nil.
func texts(t sheet.Texts) []string { return append([]string{}, t.Values...) }

// stepID is a step's id in the document.
func stepID(n int) string { return strconv.Itoa(n) }
