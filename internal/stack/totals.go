package stack

import (
	"guidecoat/internal/quantity"
)

// totals are what each zone carries at the end, worked out from the finished
// layers: paint apart from fillers and heavy coatings, lacquers, fillers, and
// one-part putty. views are the cards, by reference.
func (d *Document) totals(views map[string]*cardView, l limits) []Total {
	endings := map[string]Ending{}
	for _, e := range d.Endings {
		endings[e.Zone] = e
	}
	out := make([]Total, 0, len(d.Zones))
	for _, z := range d.Zones {
		out = append(out, d.total(z, endings[z.Name], views, l))
	}
	return out
}

// sums are those of the whole sheet: the time it takes, and what is mixed.
func (d *Document) sums() {
	d.Sheet.Elapsed = measure(quantity.Interval{}, quantity.Time, "h")
	if n := len(d.Steps); n > 0 {
		d.Sheet.Elapsed = d.Steps[n-1].End
	}
	var litres quantity.Interval
	for _, m := range d.Mixes {
		if m.Needed == nil {
			return
		}
		litres = litres.Add(interval(*m.Needed))
	}
	if len(d.Mixes) > 0 {
		all := measure(litres, quantity.Volume, "L")
		d.Sheet.Litres = &all
	}
}

// sum of films in mil; unknown once one of them is.
type sum struct {
	iv      quantity.Interval
	unknown bool
	any     bool
	leaned  []string
}

func (s *sum) add(iv quantity.Interval, known bool, leaned []string) {
	s.any = true
	s.iv = s.iv.Add(iv)
	s.unknown = s.unknown || !known
	s.leaned = append(s.leaned, leaned...)
}

// against sets the sum beside a limit; null where part of it is unknown or
// nothing is summed.
func (s *sum) against(limit number, unit string) *Comparison {
	if !s.any || s.unknown {
		return nil
	}
	limit.leaned = append(append([]string{}, limit.leaned...), s.leaned...)
	return compare("most", s.iv, false, unit, limit)
}

func (s *sum) measure(unit string) Measure {
	if s.unknown {
		return openMeasure(quantity.Film, unit)
	}
	return measure(s.iv, quantity.Film, unit)
}

// countsAsPaint: fillers, putties and seam sealer are counted apart, and so
// are the heavy coatings.
func countsAsPaint(layer Layer) bool {
	switch layer.Traits.Class {
	case "substrate", "filler", "seam", "coating":
		return false
	}
	switch layer.Kind {
	case "gelcoat", "underbody coating", "chip guard", "bed liner":
		return false
	}
	return true
}

func (d *Document) total(z Zone, ending Ending, views map[string]*cardView, l limits) Total {
	t := Total{ID: ending.ID, Zone: z.Name, Place: z.Place}
	var paint, lacquer, filler, plain, fiber, putty sum
	unit, fillerUnit := "", ""
	for _, id := range z.Layers {
		layer, ok := d.LayersByID[id]
		if !ok || layer.Substrate {
			continue
		}
		t.Layers++
		left, known, leaned := d.left(layer, z.Name, views)
		if countsAsPaint(layer) {
			paint.add(left, known, leaned)
			if !layer.Existing {
				t.TopStep = max(t.TopStep, layer.Step)
			}
			if unit == "" {
				unit = layer.FilmLaid.Shown.Unit
			}
			if layer.Traits.Lacquer {
				lacquer.add(left, known, leaned)
			}
		}
		if layer.Traits.Class != "filler" || layer.Existing || layer.Kind == "body solder" {
			continue
		}
		t.FillerStep = max(t.FillerStep, layer.Step)
		filler.add(left, known, leaned)
		if fillerUnit == "" {
			fillerUnit = layer.FilmLaid.Shown.Unit
		}
		switch layer.Kind {
		case "fiber filler":
			t.HasFiber = true
			fiber.add(left, known, leaned)
		case "one-part putty":
			putty.add(left, known, leaned)
			plain.add(left, known, leaned)
		default:
			plain.add(left, known, leaned)
		}
	}
	t.Paint, t.Filler = paint.measure(unit), filler.measure(fillerUnit)
	t.StackMax = paint.against(l.number("stack_max"), unit)
	t.LacquerMax = lacquer.against(l.number("lacquer_max"), unit)
	t.FillerMax = plain.against(l.number("filler_max"), fillerUnit)
	if t.HasFiber {
		t.FiberMax = filler.against(l.number("fiber_max"), fillerUnit)
	}
	t.OnePartPuttyMax = putty.against(l.number("one_part_putty_max"), fillerUnit)
	return t
}

// left is the film of a layer left in a zone. An existing film that nobody
// wrote counts at the middle of its kind's range.
func (d *Document) left(layer Layer, zone string, views map[string]*cardView) (iv quantity.Interval, known bool, leaned []string) {
	m, ok := layer.FilmLeft[zone]
	if !ok || m.Open {
		return quantity.Interval{}, false, nil
	}
	iv = interval(m)
	if layer.Existing {
		if iv.IsOpen() {
			return quantity.Interval{}, false, nil
		}
		if layer.FilmAssumed {
			iv = quantity.Exactly(iv.Mid())
		}
		return iv, true, nil
	}
	return iv, true, d.filmLeaned(layer, views[layer.Card])
}

// filmLeaned are the typical numbers that a layer's film rests on. What is
// spread is as thick as the sheet says.
func (d *Document) filmLeaned(layer Layer, v *cardView) []string {
	switch {
	case v == nil:
		return nil
	case layer.FilmAssumed:
		return v.number("film").leaned
	}
	for _, lay := range d.Lays {
		if lay.Layer == layer.ID && lay.Do == "spread" {
			return nil
		}
	}
	return v.number("volume_solids").leaned
}

// interval is a measure's interval in the canonical unit.
func interval(m Measure) quantity.Interval {
	if m.Hi == nil {
		return quantity.Interval{Lo: m.Lo, Hi: quantity.Open.Hi}
	}
	return quantity.Interval{Lo: m.Lo, Hi: *m.Hi}
}
