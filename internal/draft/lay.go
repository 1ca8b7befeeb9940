package draft

import (
	"fmt"
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// coat is one way of laying a product: so many coats of such a wet film.
type coat struct {
	p       *product
	aim     string  // "middle" or "least" of the card's film, "light" coats, or "fill"
	step    step    // without zones, call and wait
	minutes float64 // from the first coat to the end of the last
	film    float64 // dry, mil; 0 of a filler
}

// What is worn, by what is done. A drafted step never writes less; the rules of
// the people family judge it like any other sheet's.
var (
	wearSpray   = []string{"supplied-air respirator", "gloves", "eye protection", "coverall"}
	wearSpread  = []string{"cartridge respirator", "gloves", "eye protection", "coverall"}
	wearWipe    = []string{"gloves", "eye protection"}
	wearDust    = []string{"particulate respirator", "gloves", "eye protection"}
	wearOldDust = []string{"supplied-air respirator", "gloves", "eye protection", "coverall"}
	wearAcid    = []string{"gloves", "face shield", "eye protection", "apron"}
	wearWeld    = []string{"gloves", "eye protection", "face shield", "hearing protection", "coverall"}
	wearBlast   = []string{"blast hood", "gloves", "coverall", "hearing protection"}
)

// Rounding of a wet film: what a comb reads.
var combSteps = map[string]float64{"mil": 0.5, "µm": 10}

// coatsOf are the ways a product can be laid as its card has it: the fewest
// coats that bring the film to the middle of its range, none wetter than the card
// allows; to the least of it too where film or litres are to be saved; and in
// light coats over what solvent softens.
func (s *searcher) coatsOf(p *product) []coat {
	if p.class() == "filler" {
		return s.fills(p)
	}
	film, okFilm := either(p.card.Film, p.typ.Film)
	solids, okSolids := either(p.card.VolumeSolids, p.typ.VolumeSolids)
	if !okFilm || !okSolids || film.Hi <= 0 {
		return nil
	}
	gun := trade.SolidsInGun(solids.Interval, p.card.Mix.ReducerShare()).Lo / 100
	if gun <= 0 {
		return nil
	}
	type aimed struct {
		name       string
		dry, light float64 // light: no coat wetter; 0 where the card alone says
	}
	aims := []aimed{{"middle", aim(film.Interval), 0}}
	if s.wish.Least == LeastFilm || s.wish.Least == LeastLitres {
		aims = append(aims, aimed{"least", film.Lo, 0})
	}
	if p.kind.Has("epoxy") && s.softens() {
		aims = append(aims, aimed{"light", aim(film.Interval), s.limit("light_coat")})
	}
	var all []coat
	for _, a := range aims {
		if a.dry <= 0 {
			continue
		}
		if c, ok := s.coated(p, a.name, a.dry, a.light, film, gun); ok {
			all = append(all, c)
		}
	}
	return all
}

// aim is the film a painter aims for: the middle of its range.
func aim(film quantity.Interval) float64 {
	if film.IsOpen() {
		return film.Lo
	}
	return film.Mid()
}

// softens says whether the panel carries something that solvent softens.
func (s *searcher) softens() bool {
	for _, c := range s.base.Panel.Carries {
		if k := trade.KindOf(c.Kind); k != nil && k.Has("reversible") {
			return true
		}
	}
	return false
}

// coated lays a dry film in the fewest coats that are none too wet.
func (s *searcher) coated(p *product, aim string, dry, light float64, film quantity.Quantity, gun float64) (coat, bool) {
	unit := "mil"
	if film.Unit == "µm" {
		unit = "µm"
	}
	most := math.Inf(1)
	if p.card.WetMax.Written {
		most = p.card.WetMax.Hi
	}
	fewest, highest := 1, 6
	if p.card.Coats.Written {
		fewest = max(1, int(math.Ceil(p.card.Coats.Lo)))
		if !p.card.Coats.IsOpen() {
			highest = max(fewest, int(p.card.Coats.Hi))
		}
	}
	if light > 0 {
		most, highest = math.Min(most, light), 6
	}
	// Short of the wettest coat the card allows where so many coats come near the
	// aim, at it where they do not, and else whatever is within the card's film.
	for _, try := range []struct{ share, near float64 }{{0.9, 0.85 * dry}, {1, 0.85 * dry}, {1, 0}} {
		for n := fewest; n <= highest; n++ {
			wet, laid, ok := combed(dry/gun/float64(n), try.share*most, unit)
			laid *= gun * float64(n)
			if ok && laid >= math.Max(film.Lo, try.near)*(1-1e-9) && laid <= film.Hi*(1+1e-9) {
				return s.sprayed(p, aim, n, quantity.FormatNumber(wet)+" "+unit, laid, unit), true
			}
		}
	}
	return coat{}, false
}

// combed is a wet film (mil) as a comb reads it, rounded up but not over the
// most: in the unit it is written in, and in mil.
func combed(wet, most float64, unit string) (shown, mil float64, ok bool) {
	in, ok := quantity.Convert(wet, quantity.Film, unit)
	if !ok {
		return 0, 0, false
	}
	comb := combSteps[unit]
	shown = math.Ceil(in/comb-1e-9) * comb
	if cap, ok := quantity.Convert(most, quantity.Film, unit); ok && !math.IsInf(most, 1) {
		shown = math.Min(shown, math.Floor(cap/comb+1e-9)*comb)
	}
	mil, ok = quantity.ToCanonical(shown, quantity.Film, unit)
	return shown, mil, ok && shown > 0
}

// sprayed is the step that lays so many coats.
func (s *searcher) sprayed(p *product, aim string, n int, wet string, laid float64, unit string) coat {
	st := step{do: "spray", wear: wearSpray}.text("product", p.name).text("as", p.use).raw("coats", itoa(n)).text("wet_film", wet)
	c := coat{p: p, aim: aim, film: laid}
	if n > 1 {
		flash, _ := either(p.card.Flash, p.typ.Flash)
		switch {
		case flash.Until != "":
			st = st.text("between", "until "+flash.Until)
		case flash.Written:
			between := whole(s.temper.slowed(p, flash.Lo))
			st = st.text("between", span(between))
			c.minutes += between * float64(n-1)
		}
	}
	st = s.cup(p, st)
	stood := 0.0
	if p.card.Induction.Written {
		stood = whole(s.temper.stood(p, p.card.Induction.Lo))
		st = st.text("stood", span(stood))
	}
	// Warm air halves a pot life; whether one cup is enough is the rulebook's word.
	if pot, ok := minutes(p.card.PotLife, p.typ.PotLife); ok && c.minutes > 0 && stood+c.minutes > pot/2 {
		st = st.raw("fresh_cup", "true")
	}
	film, _ := either(p.card.Film, p.typ.Film)
	dry := quantity.Format(quantity.Exactly(laid), quantity.Film, unit)
	st.why = []string{fmt.Sprintf("%s, %s: %s dry in all; %s wants %s.", s.shown(p), p.kind.Name, dry, from(p.card.Film), quantity.Format(film.Interval, quantity.Film, unit))}
	if p.class() == "color" {
		st.why = append(st.why, "More coats, each with its flash, where it does not hide.")
	}
	c.step = st
	return c
}

// from names where a number comes from.
func from(a sheet.Amount) string {
	if a.Written {
		return "its card"
	}
	return "its kind (typical, its card is silent)"
}

// cup writes what is in the cup: the card's mix, and the first of the
// hardeners and reducers that belong with it.
func (s *searcher) cup(p *product, st step) step {
	mix := p.card.Mix
	if !mix.Written {
		return st
	}
	st = st.text("mix", mix.Text)
	if mix.Hardener > 0 && len(p.card.Hardener.Values) > 0 {
		st = st.text("hardener", p.card.Hardener.Values[0])
	}
	if mix.Reducer > 0 && len(p.card.Reducer.Values) > 0 {
		st = st.text("reducer", p.card.Reducer.Values[0])
	}
	return st
}

// fills is a filler spread as thick as the dent is deep.
func (s *searcher) fills(p *product) []coat {
	st := step{do: "spread", wear: wearSpread}.text("product", p.name).text("thickness", s.deep())
	if p.card.Mix.Written {
		st = st.text("mix", p.card.Mix.Text)
	}
	st.why = []string{fmt.Sprintf("%s, %s: as thick as the dent is deep, worked tight and proud of the panel.", s.shown(p), p.kind.Name)}
	return []coat{{p: p, aim: "fill", step: st}}
}

// shown is what the shop calls a product.
func (s *searcher) shown(p *product) string {
	name := p.name
	if p.card.Label.Written && p.card.Label.Value != "" {
		name = p.card.Label.Value
	}
	if p.use != "" {
		name += " as " + p.use
	}
	return name
}
