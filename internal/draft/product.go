package draft

import (
	"math"
	"sort"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// product is one use of one card of the shelf, with the typical numbers of its
// kind behind it.
type product struct {
	name, use string // what a step writes
	ref       string // "grey-epoxy", "grey-epoxy as sealer"
	card      *sheet.Card
	kind      *trade.Kind
	typ       trade.Typical
}

// productsOf are the uses of all cards that are films, sorted by reference.
func productsOf(s *sheet.Sheet) []*product {
	var all []*product
	add := func(name, use string, c *sheet.Card) {
		k := trade.KindOf(c.Kind)
		if k == nil || k.Role != "film" {
			return
		}
		p := &product{name: name, use: use, ref: name, card: c, kind: k, typ: trade.TypicalOf(k)}
		if use != "" {
			p.ref += " as " + use
		}
		all = append(all, p)
	}
	for _, name := range s.CardNames {
		c := s.Cards[name]
		add(name, "", c)
		for use, as := range c.Uses {
			add(name, use, as)
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].ref < all[j].ref })
	return all
}

func (p *product) class() string { return p.kind.Class }

// either is the card's number, else its kind's. It is not ok where neither has
// one, or where it may never be or is a condition.
func either(a sheet.Amount, typical quantity.Quantity) (quantity.Quantity, bool) {
	q := a.Quantity
	if !a.Written {
		q = typical
	}
	return q, q.Written && !q.Never && q.Until == ""
}

// minutes is the least of a time, of card or kind.
func minutes(a sheet.Amount, typical quantity.Quantity) (float64, bool) {
	q, ok := either(a, typical)
	return q.Lo, ok
}

// group is the entry of a `recoat` table that holds for a product that goes on.
func (p *product) group() string {
	switch {
	case p.class() == "filler":
		return "filler"
	case p.kind.Name == "polyester surfacer":
		return "polyester"
	}
	return "paint"
}

// least is the shortest wait before another product goes on this one unsanded.
func (p *product) least(up *product) (float64, bool) {
	wait, ok := 0.0, false
	if w, written := p.card.Recoat[up.group()]; written && w.Least.Written {
		wait, ok = w.Least.Lo, true
	} else if w, written := p.card.Recoat["paint"]; written && w.Least.Written {
		wait, ok = w.Least.Lo, true
	} else if p.typ.RecoatLeast.Written && !p.typ.RecoatLeast.Never {
		wait, ok = p.typ.RecoatLeast.Lo, true
	}
	if up.group() != "paint" {
		if fill, written := minutes(p.card.FillAfter, p.typ.FillAfter); written {
			wait, ok = math.Max(wait, fill), true
		}
	}
	return wait, ok
}

// sandable says whether the film is made to be sanded, and after how long.
func (p *product) sandable() (float64, bool) {
	if p.card.Sandable.Written {
		if !p.card.Sandable.Value {
			return 0, false
		}
	} else if !p.kind.Has("sandable") {
		return 0, false
	}
	return minutes(p.card.SandAfter, p.typ.SandAfter)
}

// settles is how long it goes on shrinking; 0 where it does not.
func (p *product) settles() float64 {
	wait, ok := minutes(p.card.Settles, p.typ.Settles)
	if !ok {
		return 0
	}
	return wait
}

// rests is how long it is left alone when it is the last film: until it can be
// sanded, taped and coated.
func (p *product) rests() float64 {
	wait := 0.0
	if w, ok := p.sandable(); ok {
		wait = w
	}
	if w, ok := minutes(p.card.TapeAfter, p.typ.TapeAfter); ok {
		wait = math.Max(wait, w)
	}
	if w, ok := p.least(p); ok {
		wait = math.Max(wait, w)
	}
	return wait
}

// grits is the range of abrasives it wants beneath it.
func (p *product) grits() (quantity.AbrasiveRange, bool) {
	if p.card.GritBeneath.Written {
		return p.card.GritBeneath, true
	}
	return p.typ.GritBeneath, p.typ.GritBeneath.Written
}

// holdsOutWater is the card's word, else the kind's.
func (p *product) holdsOutWater() bool {
	if p.card.HoldsOutWater.Written {
		return p.card.HoldsOutWater.Value
	}
	return p.kind.Has("holds_out_water")
}

// weatherproof is the card's word, else the kind's.
func (p *product) weatherproof() bool {
	if p.card.Weatherproof.Written {
		return p.card.Weatherproof.Value
	}
	return p.kind.Has("weatherproof")
}

// porous says whether the film drinks.
func (p *product) porous() bool { return p.kind.Has("pore") }

// hasEffect says whether a color looks as an ending wants it.
func (p *product) hasEffect(e Ending) bool {
	lively := p.card.Effect.Value == "metallic" || p.card.Effect.Value == "pearl"
	if e == Metallic {
		return lively
	}
	return p.card.Effect.Value == "" || p.card.Effect.Value == "solid"
}

// temper makes a card's times those of the job's own weather: never shorter
// than the card's, longer in the cold (trade.TimeFactor).
type temper struct{ panel, air quantity.Quantity }

// slowed is a drying time at the panel's temperature.
func (t temper) slowed(p *product, minutes float64) float64 {
	if p.kind.Has("waterborne") {
		return minutes
	}
	return minutes * t.factor(p, t.panel)
}

// stood is an induction at the air's temperature.
func (t temper) stood(p *product, minutes float64) float64 { return minutes * t.factor(p, t.air) }

func (t temper) factor(p *product, at quantity.Quantity) float64 {
	if !at.Written || at.IsOpen() {
		return 1
	}
	times := p.card.TimesAt.Quantity
	if !p.card.TimesAt.Written {
		times = timesAt
	}
	return math.Max(1, trade.TimeFactorFrom(times.Interval, at.Interval).Hi)
}

// timesAt is where a card's times hold if it does not say (1-sheet.md).
var timesAt = func() quantity.Quantity {
	q, err := quantity.Parse(quantity.Temperature, "68-77 F")
	if err != nil {
		panic(err)
	}
	return q
}()
