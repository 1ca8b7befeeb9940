package stack

import (
	"fmt"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// vocs sets the VOC of every product as applied, and of every topcoat system
// where the region takes base and clear as one, beside the region's figure.
// cups are the laying steps' by step; layers and contacts are finished. A
// region that is not written has none.
func (d *Document) vocs(s *sheet.Sheet, cups map[int]*cup, l limits) []Voc {
	m := &vocMaker{d: d, cups: cups, region: d.Booth.Region, seen: map[string]int{}}
	if m.region == "" {
		return []Voc{}
	}
	systems := m.systems()
	inSystem := map[string]bool{}
	for _, sys := range systems {
		for _, layer := range sys.layers() {
			inSystem[layer.ID] = true
		}
	}
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.Do == "clean" && st.WithCard != "" {
			m.cleaner(st, s.Cards[st.WithCard], l)
		}
		for _, layer := range d.Layers {
			switch {
			case layer.Step != st.N || layer.Existing || layer.Substrate:
			case !inSystem[layer.ID]:
				m.product(layer)
			}
		}
		for _, sys := range systems {
			if sys.clear.Step == st.N {
				m.system(sys)
			}
		}
	}
	return m.out
}

type vocMaker struct {
	d      *Document
	cups   map[int]*cup
	region string
	out    []Voc
	seen   map[string]int // where in out a product or system is already
}

// topcoat is a system of base, mid coats and clear in some zone.
type topcoat struct {
	base  Layer
	mids  []Layer
	clear Layer
}

func (t topcoat) layers() []Layer {
	return append(append([]Layer{t.base}, t.mids...), t.clear)
}

// systems are the topcoat systems of the sheet, each once, in order of their
// clears: the base and mid coats that lie under a clear with nothing but color
// and clear between. There are none where the region takes each by itself.
func (m *vocMaker) systems() []topcoat {
	if _, ok := trade.VOCSystemLimit(m.region, 0); !ok {
		return nil
	}
	var out []topcoat
	seen := map[string]bool{}
	for _, c := range m.d.Contacts {
		clear := m.d.LayersByID[c.Upper]
		if clear.Traits.Class != "clear" {
			continue
		}
		// From the clear down: the coats of color, each product once.
		var stages []Layer
		had := map[string]bool{}
		for i := len(c.Films) - 1; i >= 0; i-- {
			layer := m.d.LayersByID[c.Films[i]]
			if layer.Existing || layer.Substrate || (layer.Traits.Class != "clear" && !coatOfSystem(layer.Kind)) {
				break
			}
			if layer.Traits.Class != "clear" && !had[layer.Card] {
				had[layer.Card] = true
				stages = append([]Layer{layer}, stages...)
			}
		}
		if len(stages) == 0 {
			continue
		}
		t := topcoat{base: stages[0], mids: stages[1:], clear: clear}
		var ids []string
		for _, layer := range t.layers() {
			ids = append(ids, layer.ID)
		}
		if key := strings.Join(ids, "\n"); !seen[key] {
			seen[key] = true
			out = append(out, t)
		}
	}
	return out
}

// coatOfSystem: a color that is meant to be cleared.
func coatOfSystem(kind string) bool {
	return kind == "solvent basecoat" || kind == "waterborne basecoat" || kind == "mid coat"
}

// applied is the VOC of a layer as applied, over all its cups; ok is false
// where any is not known.
func (m *vocMaker) applied(layer Layer) (iv quantity.Interval, ok bool) {
	for i, step := range layer.Steps {
		c := m.cups[step]
		if c == nil {
			return quantity.Open, false
		}
		one, known := c.voc()
		if !known {
			return quantity.Open, false
		}
		if i == 0 {
			iv = one
		} else {
			iv = iv.Hull(one)
		}
	}
	return iv, len(layer.Steps) > 0
}

// product sets one product beside its own figure. A base or a clear that has
// no system here stands alone against the topcoat's.
func (m *vocMaker) product(layer Layer) {
	row, ok := trade.VOCLimit(m.region, layer.Kind)
	if !ok && (coatOfSystem(layer.Kind) || layer.Traits.Class == "clear") {
		row, ok = trade.VOCSystemLimit(m.region, 0)
	}
	if !ok {
		return
	}
	iv, known := m.applied(layer)
	m.add(fmt.Sprintf("%s %v", layer.Card, iv), layer.Name, layer.Steps, []string{layer.ID}, iv, known, row, layer.Place)
}

// system sets a topcoat system beside its figure.
func (m *vocMaker) system(t topcoat) {
	row, ok := trade.VOCSystemLimit(m.region, len(t.mids))
	if !ok {
		return
	}
	known := true
	part := func(layer Layer) quantity.Interval {
		iv, ok := m.applied(layer)
		known = known && ok
		return iv
	}
	base, clear := part(t.base), part(t.clear)
	var mids []quantity.Interval
	names, cards := []string{t.base.Name}, []string{t.base.Card}
	for _, mid := range t.mids {
		mids = append(mids, part(mid))
		names, cards = append(names, mid.Name), append(cards, mid.Card)
	}
	var steps []int
	var ids []string
	for _, layer := range t.layers() {
		steps, ids = append(steps, layer.Steps...), append(ids, layer.ID)
	}
	iv := quantity.Open
	if known {
		iv = trade.VOCSystem(base, mids, clear)
	}
	key := fmt.Sprintf("%s under %s %v", strings.Join(cards, ", "), t.clear.Card, iv)
	m.add(key, strings.Join(names, ", ")+" under "+t.clear.Name, steps, ids, iv, known, row, t.base.Place)
}

// cleaner sets a cleaner's own VOC beside its figure.
func (m *vocMaker) cleaner(st *sheet.Step, card *sheet.Card, l limits) {
	if card == nil {
		return
	}
	row, ok := trade.VOCLimit(m.region, card.Kind)
	if !ok {
		return
	}
	known := card.VOC.Written && !card.VOC.IsOpen()
	m.add("cleaner "+card.Name, viewCard(card, l).shown, []int{st.N}, nil, card.VOC.Interval, known, row, st.Place)
}

// add writes a figure down, or only the steps where it stands already.
func (m *vocMaker) add(key, name string, steps []int, layers []string, iv quantity.Interval, known bool, row trade.VOCRow, place sheet.Place) {
	if i, done := m.seen[key]; done {
		v := &m.out[i]
		v.Steps, v.Layers = union(v.Steps, steps), union(v.Layers, layers)
		return
	}
	m.seen[key] = len(m.out)
	limit := number{iv: quantity.Exactly(row.Limit), dim: quantity.Concentration, unit: "g/L", source: "limit", ok: true}
	m.out = append(m.out, Voc{
		ID: stepID(steps[0]), Steps: union(nil, steps), Layers: union(nil, layers), Name: name,
		Region: m.region, Binds: row.Binds, Category: row.Category,
		Compared: *compare("most", iv, !known, "g/L", limit), Source: row.Citation(), Place: place,
	})
}

// union is a with what of b it lacks, never nil.
func union[T comparable](a, b []T) []T {
	out := append([]T{}, a...)
	for _, x := range b {
		has := false
		for _, y := range out {
			has = has || x == y
		}
		if !has {
			out = append(out, x)
		}
	}
	return out
}
