package trade

import "guidecoat/internal/quantity"

// Sizes: 1 US gal is 231 in³ and 3.785411784 L; spread 1 mil thick it covers
// 231 ÷ 0.001 ÷ 144 = 1604.17 ft².
const (
	// Ft2MilPerGallon is the area, ft², that a gallon of solids covers at 1 mil.
	Ft2MilPerGallon = 231 / 0.144
	// LitresPerMilFt2 is the volume, L, of a film of 1 mil on 1 ft².
	LitresPerMilFt2 = 3.785411784 / Ft2MilPerGallon
	// MicronsPerMil is exact.
	MicronsPerMil = 25.4
)

// hundred makes a share of 1 of one in %.
var hundred = quantity.Exactly(100)

// SolidsInGun is the share of solids by volume, %, of what is in the gun: the
// card's figure for base and hardener mixed, divided by 1 + r, where r is
// reducer over base and hardener.
func SolidsInGun(solids quantity.Interval, r float64) quantity.Interval {
	return solids.Scale(1 / (1 + max(0, r)))
}

// DryFilm is the dry film that a wet film leaves, in its unit: wet × solids (%
// by volume, in the gun). MIL-HDBK-1110 2.1.5.
func DryFilm(wet, solids quantity.Interval) quantity.Interval {
	return wet.Mul(solids).Div(hundred)
}

// WetFilm is the wet film that leaves a dry one, in its unit; open where the
// solids could be nothing. MIL-HDBK-1110 2.1.5, turned round.
func WetFilm(dry, solids quantity.Interval) quantity.Interval {
	if solids.Hi <= 0 {
		return quantity.Open
	}
	return dry.Div(solids).Scale(100)
}

// SpreadingRate is the area, ft²/gal, that a gallon with so many % solids
// covers at a dry film in mil, nothing lost: 1604.17 × solids ÷ film. The unit
// is ft²/gal and not the canonical m²/L; see SpreadingRateMetric. Open where
// the film could be nothing.
func SpreadingRate(solids, dry quantity.Interval) quantity.Interval {
	if dry.Hi <= 0 {
		return quantity.Open
	}
	return solids.Scale(Ft2MilPerGallon / 100).Div(dry)
}

// SpreadingRateMetric is the same in m²/L for a dry film in µm: 10 × solids ÷
// film.
func SpreadingRateMetric(solids, dryMicrons quantity.Interval) quantity.Interval {
	if dryMicrons.Hi <= 0 {
		return quantity.Open
	}
	return solids.Scale(10).Div(dryMicrons)
}

// PracticalRate is a spreading rate less a loss in %.
func PracticalRate(theoretical, loss quantity.Interval) quantity.Interval {
	return theoretical.Mul(hundred.SubClamped(loss)).Div(hundred)
}

// PaintNeeded is the volume, L, to mix for a dry film in mil on an area in ft²:
// the film's own volume over the solids in the gun (%), the transfer of the gun
// (%), and what is not left in cup and gun (100 − waste, %). Open where any of
// these could be nothing.
func PaintNeeded(dry, area, solids, transfer, waste quantity.Interval) quantity.Interval {
	kept := hundred.SubClamped(waste)
	if solids.Hi <= 0 || transfer.Hi <= 0 || kept.Hi <= 0 {
		return quantity.Open
	}
	return dry.Mul(area).Scale(LitresPerMilFt2 * 100 * 100 * 100).Div(solids).Div(transfer).Div(kept)
}

// Cups parts a volume by a mix: how much base, hardener and reducer to pour,
// in the volume's unit. A mix without parts by volume is all base.
func Cups(volume quantity.Interval, mix quantity.Mix) (base, hardener, reducer quantity.Interval) {
	all := mix.Base + mix.Hardener + mix.Reducer
	if all <= 0 {
		return volume, quantity.Interval{}, quantity.Interval{}
	}
	return volume.Scale(mix.Base / all), volume.Scale(mix.Hardener / all), volume.Scale(mix.Reducer / all)
}
