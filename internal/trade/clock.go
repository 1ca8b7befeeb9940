package trade

import (
	"math"

	"guidecoat/internal/quantity"
)

// TimeFactor is how many times longer a drying or cure takes at t °C than at
// the card's temperature: 2^((tCard − t) ÷ 10). A rule of thumb (doubling per
// 10 °C, van 't Hoff; several texts give two to three), not a law of any one
// paint.
func TimeFactor(tCard, t float64) float64 {
	// Beyond two thousand degrees apart the power is no float; no panel is.
	return math.Exp2(math.Min(math.Max((tCard-t)/10, -200), 200))
}

// TimeFactorFrom is TimeFactor from the nearer end of where the card's times
// hold, and 1 anywhere within. Both intervals in °C; the answer's ends are
// those of the warmest and the coldest panel.
func TimeFactorFrom(timesAt, panel quantity.Interval) quantity.Interval {
	one := func(t float64) float64 {
		switch {
		case t < timesAt.Lo:
			return TimeFactor(timesAt.Lo, t)
		case t > timesAt.Hi:
			return TimeFactor(timesAt.Hi, t)
		}
		return 1
	}
	return quantity.Interval{Lo: one(panel.Hi), Hi: one(panel.Lo)}
}
