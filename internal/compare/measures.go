package compare

import (
	"slices"
	"strconv"

	"guidecoat/internal/plan"
	"guidecoat/internal/quantity"
	"guidecoat/internal/stack"
)

// amountOf is a measure as the sheet would write it; nil where nobody knows it.
func amountOf(m *stack.Measure) *plan.Amount {
	if m == nil || m.Open {
		return nil
	}
	return &plan.Amount{Lo: m.Shown.Lo, Hi: m.Shown.Hi, Unit: m.Shown.Unit, Text: m.Text}
}

func values(old, new *stack.Measure) Values {
	return amounts(amountOf(old), amountOf(new))
}

func amounts(old, new *plan.Amount) Values {
	return Values{Old: old, New: new, Changed: textOf(old) != textOf(new)}
}

func textOf(a *plan.Amount) string {
	if a == nil {
		return ""
	}
	return a.Text
}

// named is what a thing on either side is called, and what became of it. One
// that has another name now tells both.
func named[T any](old, new *T, name func(T) string) (called, change string) {
	switch {
	case old == nil:
		return name(*new), "new"
	case new == nil:
		return name(*old), "gone"
	case name(*old) != name(*new):
		return name(*new) + ", was " + name(*old), ""
	}
	return name(*new), ""
}

// rows pairs the entries of two lists under their keys: those of the new side
// in its order, each old one that has no pair before what followed it.
func rows[T any](old, new []T, oldKey, newKey func(T) string, row func(old, new *T)) {
	at := map[string][]int{}
	for i := range old {
		k := oldKey(old[i])
		at[k] = append(at[k], i)
	}
	pairOf := make([]int, len(new))
	paired := make([]bool, len(old))
	for j := range new {
		pairOf[j] = -1
		if l := at[newKey(new[j])]; len(l) > 0 {
			pairOf[j], at[newKey(new[j])] = l[0], l[1:]
			paired[l[0]] = true
		}
	}
	told := 0
	gone := func(before int) {
		for ; told < before; told++ {
			if !paired[told] {
				row(&old[told], nil)
			}
		}
	}
	for j := range new {
		if pairOf[j] < 0 {
			row(nil, &new[j])
			continue
		}
		gone(pairOf[j])
		row(&old[pairOf[j]], &new[j])
	}
	gone(len(old))
}

// layerKey names a layer by the new sheet's number of its step. What is gone
// keeps a name that nothing on the new side has.
func (c comparer) layerKey(l stack.Layer) string {
	if l.Step == 0 {
		return "there " + l.ID
	}
	n, ok := c.toNew[l.Step]
	if !ok {
		return "gone " + l.ID
	}
	return stepKey(n)
}

func newLayerKey(l stack.Layer) string {
	if l.Step == 0 {
		return "there " + l.ID
	}
	return stepKey(l.Step)
}

func stepKey(n int) string { return "step " + strconv.Itoa(n) }

// films are the films of every zone on either side.
func (c comparer) films() []ZoneFilms {
	out := []ZoneFilms{}
	zone := func(z stack.Zone) string { return z.Name }
	rows(c.old.Doc.Zones, c.new.Doc.Zones, zone, zone, func(old, new *stack.Zone) {
		z := ZoneFilms{Films: []Measured{}}
		z.Zone, z.Change = named(old, new, zone)
		oldTotal, newTotal := totalOf(c.old.Doc, old), totalOf(c.new.Doc, new)
		z.Paint, z.Filler = values(paint(oldTotal), paint(newTotal)), values(filler(oldTotal), filler(newTotal))
		rows(layersOf(c.old.Doc, old), layersOf(c.new.Doc, new), c.layerKey, newLayerKey, func(was, is *stack.Layer) {
			m := Measured{Values: values(filmIn(was, z.Zone), filmIn(is, z.Zone))}
			m.Name, m.Change = named(was, is, func(l stack.Layer) string { return l.Name })
			// Another product in the place of one is a change, as thick as it may be.
			m.Changed = m.Changed || was == nil || is == nil || was.Name != is.Name
			z.Films = append(z.Films, m)
		})
		out = append(out, z)
	})
	return out
}

func totalOf(d *stack.Document, z *stack.Zone) *stack.Total {
	if z == nil {
		return nil
	}
	if i := slices.IndexFunc(d.Totals, func(t stack.Total) bool { return t.Zone == z.Name }); i >= 0 {
		return &d.Totals[i]
	}
	return nil
}

func paint(t *stack.Total) *stack.Measure {
	if t == nil {
		return nil
	}
	return &t.Paint
}

func filler(t *stack.Total) *stack.Measure {
	if t == nil {
		return nil
	}
	return &t.Filler
}

// layersOf are the films of a zone at the end, from the metal up, without the metal.
func layersOf(d *stack.Document, z *stack.Zone) []stack.Layer {
	var out []stack.Layer
	if z == nil {
		return nil
	}
	for _, id := range z.Layers {
		if l := d.LayersByID[id]; !l.Substrate {
			out = append(out, l)
		}
	}
	return out
}

func filmIn(l *stack.Layer, zone string) *stack.Measure {
	if l == nil {
		return nil
	}
	if m, ok := l.FilmLeft[zone]; ok {
		return &m
	}
	return nil
}

// clock is the time it takes, and the waits between films. Waits that differ
// in the zone alone are one.
func (c comparer) clock() Clock {
	out := Clock{Elapsed: values(&c.old.Doc.Sheet.Elapsed, &c.new.Doc.Sheet.Elapsed), Windows: []Window{}}
	key := func(layer func(stack.Layer) string, d *stack.Document) func(stack.Contact) string {
		return func(k stack.Contact) string {
			return k.Zone + "\x00" + layer(d.LayersByID[k.Upper]) + "\x00" + layer(d.LayersByID[k.Lower])
		}
	}
	at := map[string]int{}
	rows(timed(c.old.Doc), timed(c.new.Doc), key(c.layerKey, c.old.Doc), key(newLayerKey, c.new.Doc), func(old, new *stack.Contact) {
		here := new
		if new == nil {
			here = old
		}
		w := Window{Zones: []string{here.Zone}, Wait: values(gap(old), gap(new)), Least: values(least(old), least(new)), Most: values(most(old), most(new))}
		w.Upper, w.Change = named(old, new, func(k stack.Contact) string { return k.UpperName })
		w.Lower, _ = named(old, new, func(k stack.Contact) string { return k.LowerName })
		same := w.Upper + "\x00" + w.Lower + "\x00" + w.Wait.text() + "\x00" + w.Least.text() + "\x00" + w.Most.text()
		if i, ok := at[same]; ok {
			out.Windows[i].Zones = append(out.Windows[i].Zones, here.Zone)
			return
		}
		at[same] = len(out.Windows)
		out.Windows = append(out.Windows, w)
	})
	return out
}

func (v Values) text() string { return textOf(v.Old) + "\x00" + textOf(v.New) }

// Changed tells whether anything of a window is another now.
func (w Window) Changed() bool { return w.Wait.Changed || w.Least.Changed || w.Most.Changed }

// timed are the contacts that have a wait: of two films of the sheet.
func timed(d *stack.Document) []stack.Contact {
	var out []stack.Contact
	for _, k := range d.Contacts {
		if k.GapApplies {
			out = append(out, k)
		}
	}
	return out
}

func gap(k *stack.Contact) *stack.Measure {
	if k == nil {
		return nil
	}
	return &k.Gap
}

func least(k *stack.Contact) *stack.Measure {
	if k == nil || k.RecoatLeast == nil {
		return nil
	}
	return &k.RecoatLeast.Limit
}

func most(k *stack.Contact) *stack.Measure {
	if k == nil || k.RecoatMost == nil {
		return nil
	}
	return &k.RecoatMost.Limit
}

// voc is every cup's VOC as applied, and what stands beside a published limit.
func (c comparer) voc() []Measured {
	out := []Measured{}
	rows(c.old.Doc.Mixes, c.new.Doc.Mixes,
		func(m stack.Mix) string { return c.alignedStep(m.Step) }, func(m stack.Mix) string { return stepKey(m.Step) },
		func(old, new *stack.Mix) {
			of := func(m *stack.Mix) *stack.Measure {
				if m == nil {
					return nil
				}
				return m.Voc
			}
			m := Measured{Values: values(of(old), of(new))}
			m.Name, m.Change = named(old, new, func(m stack.Mix) string { return m.Name })
			m.Name += ", as applied"
			out = append(out, m)
		})
	rows(c.old.Doc.Vocs, c.new.Doc.Vocs,
		func(v stack.Voc) string { return v.Category + c.alignedStep(v.Steps[0]) }, func(v stack.Voc) string { return v.Category + stepKey(v.Steps[0]) },
		func(old, new *stack.Voc) {
			of := func(v *stack.Voc) *stack.Measure {
				if v == nil {
					return nil
				}
				return &v.Compared.Measured
			}
			m := Measured{Values: values(of(old), of(new))}
			m.Name, m.Change = named(old, new, func(v stack.Voc) string {
				return v.Name + ", " + v.Category + ", limit " + v.Compared.Limit.Text
			})
			out = append(out, m)
		})
	return out
}

// alignedStep is stepKey of an old step by the new sheet's numbers.
func (c comparer) alignedStep(n int) string {
	if to, ok := c.toNew[n]; ok {
		return stepKey(to)
	}
	return "gone " + strconv.Itoa(n)
}

// mixed is the volume of everything mixed, in a unit.
func (c comparer) mixed(unit string) Values {
	in := func(m *stack.Measure) *plan.Amount {
		if m == nil || m.Open || m.Hi == nil {
			return nil
		}
		lo, hi := fourDigits(m.Lo, unit), fourDigits(*m.Hi, unit)
		return &plan.Amount{Lo: lo, Hi: &hi, Unit: unit, Text: quantity.Format(quantity.Interval{Lo: m.Lo, Hi: *m.Hi}, quantity.Volume, unit)}
	}
	return amounts(in(c.old.Doc.Sheet.Litres), in(c.new.Doc.Sheet.Litres))
}

// fourDigits is a volume, L, in a unit, as every number for a painter is.
func fourDigits(litres float64, unit string) float64 {
	v, _ := quantity.Convert(litres, quantity.Volume, unit)
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return short
}

// buy is every can of either side.
func (c comparer) buy() []Bought {
	out := []Bought{}
	units := plan.Units{Metric: true, US: true}
	name := func(can plan.Can) string { return can.Name }
	rows(plan.Mixes(c.old.Doc, units).Buy, plan.Mixes(c.new.Doc, units).Buy, name, name, func(old, new *plan.Can) {
		b := Bought{}
		if old != nil {
			b.Name, b.Old = old.Name, old.Volume
		}
		if new != nil {
			b.Name, b.New = new.Name, new.Volume
		}
		if b.Old == nil && b.New == nil && old != nil && new != nil {
			b.Changed = old.Weight != new.Weight
		} else {
			b.Changed = litres(b.Old) != litres(b.New)
		}
		out = append(out, b)
	})
	return out
}

func litres(b *plan.Both) string {
	if b == nil {
		return ""
	}
	return textOf(b.Metric)
}
