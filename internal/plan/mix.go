package plan

import (
	"guidecoat/internal/quantity"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// Table is what the mixing bench works from: one cup a laying step, and what
// has to be bought for all of them.
type Table struct {
	Title    string `json:"title"`
	Number   string `json:"number"`
	Revision string `json:"revision"`
	Region   string `json:"region"` // whose VOC limits are shown, "" where the sheet names none
	Cups     []Cup  `json:"cups"`
	// Buy: every can of the cups that are known, in the order they are first poured.
	Buy []Can `json:"buy"`
	// Uncounted: the cups that no number could be put to, which Buy lacks.
	Uncounted []Uncounted `json:"uncounted"`
}

// Cup is what one laying step mixes.
type Cup struct {
	Step   int      `json:"step"`
	Name   string   `json:"name"` // what messages call the step
	Film   string   `json:"film"` // what messages call the product
	Kind   string   `json:"kind"`
	Zones  []string `json:"zones"`
	Area   *Both    `json:"area"` // of all its zones; null where one has none written
	Coats  int      `json:"coats"`
	Wet    *Both    `json:"wet"` // one coat
	Dry    *Both    `json:"dry"` // one coat
	AllDry *Both    `json:"all_dry"`
	// Assumed: no wet film is written, so that the film of the card or the kind stands in.
	Assumed bool `json:"assumed"`
	// Reckoned: the wet film is what leaves that dry film, and not one the sheet writes.
	Reckoned bool `json:"reckoned"`
	// Solids: volume solids in the gun, %; null where not known.
	Solids *Amount `json:"solids"`
	// Rate: area covered by a volume at the step's dry film, nothing lost (1604.17 ft² mil/gal at 100 %).
	Rate *Both `json:"rate"`
	// Real: the same less what misses the panel and what stays in cup and gun.
	Real *Both `json:"real"`
	// Lands, Waste: what Real and Pour count on, %.
	Lands *Amount `json:"lands"`
	Waste *Amount `json:"waste"`
	Gun   string  `json:"gun"`      // as written; where it is not, HVLP is counted
	Mix   string  `json:"mix"`      // as the step or the card writes it, "" where neither does
	MixOf string  `json:"mix_from"` // step | card | none: who says so
	Parts []Part  `json:"parts"`
	Pour  *Both   `json:"pour"`  // all parts together; null where not known
	Batch *Both   `json:"batch"` // what the sheet says is mixed, null where it does not
	// Voc: as applied; null where a part's is not known.
	Voc *Both `json:"voc"`
	// Given: VOC given off for each area it is laid on, g/m²; null where not known.
	Given *Amount `json:"given"`
	// Limits: the published figures that this cup, or a system it is part of, stands beside.
	Limits  []VocLimit `json:"limits"`
	Stand   *Amount    `json:"stand"`    // to stand after mixing, in this air; null where none is asked for
	PotLife *Amount    `json:"pot_life"` // from mixing, in this air; null for a one-part cup
	Hazards []string   `json:"hazards"`
	Line    int        `json:"line"`
}

// Part is one thing to pour.
type Part struct {
	Part   string `json:"part"` // base | hardener | reducer | paste
	Name   string `json:"name"`
	Volume *Both  `json:"volume"` // null for a paste, which goes in by weight
	Weight string `json:"weight"` // of a paste: "2 % by weight"
}

// VocLimit is one published figure beside what is reckoned.
type VocLimit struct {
	Steps    []int  `json:"steps"` // more than one: base and clear taken together
	Region   string `json:"region"`
	Category string `json:"category"`
	Binds    string `json:"binds"` // maker | user
	Voc      *Both  `json:"voc"`   // null where a part is not known
	Limit    Both   `json:"limit"`
	Source   string `json:"source"`
}

// Can is one product to buy.
type Can struct {
	Name   string `json:"name"`
	Steps  []int  `json:"steps"`
	Volume *Both  `json:"volume"` // null for a paste
	Weight string `json:"weight"`
}

// Uncounted is a cup that no volume can be put to, and why.
type Uncounted struct {
	Step int    `json:"step"`
	Name string `json:"name"`
	Why  string `json:"why"`
}

// Mixes is the mixing table of a sheet.
func Mixes(d *stack.Document, units Units) Table {
	t := Table{
		Title: d.Sheet.Title, Number: d.Sheet.Number, Revision: d.Sheet.Revision, Region: d.Booth.Region,
		Cups: []Cup{}, Buy: []Can{}, Uncounted: []Uncounted{},
	}
	lays := map[string]stack.Lay{}
	for _, l := range d.Lays {
		lays[l.ID] = l
	}
	areas := map[string]stack.Measure{}
	for _, z := range d.Zones {
		areas[z.Name] = z.Area
	}
	sum := map[string]quantity.Interval{}
	at := map[string]int{}
	for _, m := range d.Mixes {
		l := lays[m.ID]
		c := cupOf(d, m, l, units)
		if area, ok := areaOf(d, m, l, areas); ok {
			b := units.in(area, quantity.Area, "m2", "ft2")
			c.Area = &b
		}
		if m.Needed == nil {
			t.Uncounted = append(t.Uncounted, Uncounted{Step: m.Step, Name: m.Name, Why: whyUncounted(c, l.Do != "spread")})
		}
		for _, p := range m.NeededCups {
			name := canOf(p, m)
			c.Parts = append(c.Parts, partOf(p, name, units))
			i, seen := at[name]
			if !seen {
				i = len(t.Buy)
				at[name] = i
				t.Buy = append(t.Buy, Can{Name: name})
			}
			can := &t.Buy[i]
			can.Steps = append(can.Steps, m.Step)
			if p.Volume.Open {
				can.Weight = p.Volume.Text
				continue
			}
			sum[name] = sum[name].Add(interval(p.Volume))
			v := units.volume(sum[name])
			can.Volume = &v
		}
		t.Cups = append(t.Cups, c)
	}
	return t
}

// cupOf is everything of a cup but its parts and its area.
func cupOf(d *stack.Document, m stack.Mix, l stack.Lay, units Units) Cup {
	c := Cup{
		Step: m.Step, Film: m.Name, Kind: m.Kind, Zones: l.Zones, Coats: l.Coats, Gun: l.Gun,
		Mix: m.StepMix, MixOf: m.Written, Parts: []Part{}, Limits: []VocLimit{}, Hazards: m.Hazards, Line: m.Place.Line,
	}
	if m.Step >= 1 && m.Step <= len(d.Steps) {
		c.Name = d.Steps[m.Step-1].Name
	}
	if c.Mix == "" {
		c.Mix = m.CardMix
	}
	both := func(iv quantity.Interval, dim quantity.Dimension, metric, us string) *Both {
		b := units.in(iv, dim, metric, us)
		return &b
	}
	film := func(iv quantity.Interval) *Both {
		if l.Do == "spread" {
			return both(iv, quantity.Film, "mm", "in")
		}
		return both(iv, quantity.Film, "µm", "mil")
	}
	layer := d.LayersByID[m.Layer]
	c.Assumed = layer.FilmAssumed
	solids, solid := solidsOf(m, l)
	if solid && l.Do != "spread" {
		c.Solids = amount(solids, quantity.Share, "%")
	}
	dry, ok := dryFilm(l, layer)
	if ok {
		c.AllDry = film(dry)
		c.Dry = film(dry.Scale(1 / float64(max(1, l.Coats))))
	}
	switch {
	case known(l.Coat) && !layer.FilmAssumed:
		c.Wet = film(interval(l.Coat))
	case ok && solid:
		c.Wet, c.Reckoned = film(trade.WetFilm(dry.Scale(1/float64(max(1, l.Coats))), solids)), true
	}
	if rate, ok := rateOf(m, l, layer); ok {
		c.Rate = both(rate, quantity.Coverage, "m2/L", "ft2/gal")
	}
	if rate, ok := realRate(d, m, l); ok {
		c.Lands, c.Waste = amount(landing(d, l), quantity.Share, "%"), amount(limitOf(d, "cup_waste"), quantity.Share, "%")
		c.Real = both(rate, quantity.Coverage, "m2/L", "ft2/gal")
	}
	if m.Needed != nil {
		v := units.volume(interval(*m.Needed))
		c.Pour = &v
	}
	if m.Batch != nil && !m.Batch.Measured.Open {
		v := units.volume(interval(m.Batch.Measured))
		c.Batch = &v
	}
	voc := func(x stack.Measure) *Both {
		if x.Open {
			return nil
		}
		return both(interval(x), quantity.Concentration, "g/L", "lb/gal")
	}
	if m.Voc != nil {
		c.Voc = voc(*m.Voc)
	}
	if m.VocPerArea != nil {
		c.Given = &Amount{Lo: m.VocPerArea.Shown.Lo, Hi: m.VocPerArea.Shown.Hi, Unit: m.VocPerArea.Shown.Unit, Text: m.VocPerArea.Text}
	}
	for _, v := range d.Vocs {
		for _, step := range v.Steps {
			limit := voc(v.Compared.Limit)
			if step != m.Step || limit == nil {
				continue
			}
			c.Limits = append(c.Limits, VocLimit{
				Steps: v.Steps, Region: v.Region, Category: v.Category, Binds: v.Binds,
				Voc: voc(v.Compared.Measured), Limit: *limit, Source: v.Source,
			})
		}
	}
	if m.InductionDue != nil && !m.InductionDue.Open {
		c.Stand = amount(interval(*m.InductionDue), quantity.Time, m.InductionDue.Shown.Unit)
	}
	if m.Pot != nil && !m.Pot.Limit.Open {
		c.PotLife = amount(interval(m.Pot.Limit), quantity.Time, m.Pot.Limit.Shown.Unit)
	}
	return c
}

// solidsOf is the volume solids in the gun, %; what is spread stays as thick as it is laid.
func solidsOf(m stack.Mix, l stack.Lay) (quantity.Interval, bool) {
	if l.Do == "spread" {
		return quantity.Exactly(100), true
	}
	return interval(m.Solids), known(m.Solids) && m.Solids.Lo > 0
}

// rateOf is the area that a volume covers with nothing lost, m²/L.
func rateOf(m stack.Mix, l stack.Lay, layer stack.Layer) (quantity.Interval, bool) {
	solids, solid := solidsOf(m, l)
	dry, ok := dryFilm(l, layer)
	if !ok || !solid || dry.Lo <= 0 {
		return quantity.Open, false
	}
	microns, _ := quantity.Convert(1, quantity.Film, "µm") // of a mil
	return trade.SpreadingRateMetric(solids, dry.Scale(microns)), true
}

// realRate is the same less what misses the panel and what stays in cup and gun.
func realRate(d *stack.Document, m stack.Mix, l stack.Lay) (quantity.Interval, bool) {
	rate, ok := rateOf(m, l, d.LayersByID[m.Layer])
	if !ok {
		return quantity.Open, false
	}
	kept := quantity.Exactly(100).SubClamped(limitOf(d, "cup_waste"))
	return rate.Mul(landing(d, l)).Mul(kept).Scale(1.0 / 100 / 100), true
}

// dryFilm is what one step lays dry, mil: what it says, else its coats' share
// of the layer's film. The stack counts the cup the same way.
func dryFilm(l stack.Lay, layer stack.Layer) (quantity.Interval, bool) {
	if known(l.CoatDry) && !layer.FilmAssumed {
		return interval(l.CoatDry).Scale(float64(l.Coats)), true
	}
	if !known(layer.FilmLaid) || layer.Coats == 0 {
		return quantity.Open, false
	}
	return interval(layer.FilmLaid).Scale(float64(l.Coats) / float64(layer.Coats)), true
}

func limitOf(d *stack.Document, name string) quantity.Interval {
	return interval(d.Limits[name].Measure)
}

// landing is the share of the paint, %, that reaches the panel. A gun that is
// not written is taken for HVLP, as the stack takes it.
func landing(d *stack.Document, l stack.Lay) quantity.Interval {
	switch {
	case l.Do == "brush":
		return limitOf(d, "transfer_brush")
	case l.Do != "spray":
		return quantity.Exactly(100)
	case l.Gun == "conventional":
		return limitOf(d, "transfer_conventional")
	case l.Gun == "airless":
		return limitOf(d, "transfer_airless")
	}
	return limitOf(d, "transfer_hvlp")
}

// areaOf is what the step lays on, ft². A later cut takes its own from a zone,
// and a zone is listed as it ends; so the area is what the stack's cup covers at
// the rate that counts the losses. Both ends of it are exact, as each end of the
// cup rests on the same ends as one of the rate. Only where there is no cup are
// the zones added up, with what is cut from them later.
func areaOf(d *stack.Document, m stack.Mix, l stack.Lay, areas map[string]stack.Measure) (sum quantity.Interval, ok bool) {
	if rate, ok := realRate(d, m, l); ok && m.Needed != nil {
		needed := interval(*m.Needed)
		sq := func(squareMetres float64) float64 {
			v, _ := quantity.ToCanonical(squareMetres, quantity.Area, "m2")
			return v
		}
		return quantity.Interval{Lo: sq(needed.Lo * rate.Hi), Hi: sq(needed.Hi * rate.Lo)}, true
	}
	reached := map[string]bool{}
	for _, z := range l.Zones {
		reached[z] = true
	}
	for _, z := range d.Zones { // a zone stands after the one it was cut from
		if reached[z.Name] || z.CutStep > m.Step && reached[z.Parent] {
			reached[z.Name] = true
			a := areas[z.Name]
			if !known(a) {
				return quantity.Open, false
			}
			sum = sum.Add(interval(a))
		}
	}
	return sum, len(reached) > 0
}

// canOf is what to take off the shelf. A part that nobody named is told apart
// by the product it belongs with.
func canOf(p stack.Cup, m stack.Mix) string {
	switch p.Name {
	case "hardener", "reducer", "paste hardener":
		return p.Name + " for " + m.Name
	case "":
		return m.Name
	}
	return p.Name
}

func partOf(p stack.Cup, name string, units Units) Part {
	out := Part{Part: p.Part, Name: name}
	if p.Volume.Open {
		out.Weight = p.Volume.Text
		return out
	}
	v := units.volume(interval(p.Volume))
	out.Volume = &v
	return out
}

// whyUncounted names what is missing before a volume can be told.
func whyUncounted(c Cup, thinned bool) string {
	var why []string
	if c.Area == nil {
		why = append(why, "an area for each of its zones")
	}
	if c.AllDry == nil {
		why = append(why, "a film")
	}
	if thinned && c.Solids == nil {
		why = append(why, "its volume solids")
	}
	switch len(why) {
	case 0:
		return "not every number it needs is written"
	case 1:
		return why[0] + " is not written"
	}
	out := why[0]
	for _, w := range why[1:] {
		out += " and " + w
	}
	return out + " are not written"
}
