package trade

import "math"

// The Magnus form over water of WMO-No. 8 (Guide to Instruments), annex:
// e = 6.112 exp[17.62 t ÷ (243.12 + t)] hPa.
const (
	magnusHectopascal = 6.112
	magnusA           = 17.62
	magnusB           = 243.12 // °C
)

// What the form is worked out for, °C: it has a pole at −243.12, and beyond the
// hottest there is no weather.
const (
	coldestAir = -240
	hottestDew = 1000
)

// SaturationPressure is the pressure of water vapor over water, Pa, in air at
// t °C: WMO-No. 8, annex.
func SaturationPressure(t float64) float64 {
	t = math.Max(t, coldestAir)
	return 100 * magnusHectopascal * math.Exp(magnusA*t/(magnusB+t))
}

// DewPoint is the dew point, °C, of air at t °C and a relative humidity in %:
// WMO-No. 8, annex. It rises with both. Bone-dry air has none; −243.12 °C, the
// form's own end, stands for it.
func DewPoint(t, humidity float64) float64 {
	if humidity <= 0 {
		return -magnusB
	}
	t = math.Max(t, coldestAir)
	l := math.Log(humidity/100) + magnusA*t/(magnusB+t)
	if l >= magnusA {
		return hottestDew
	}
	return math.Min(math.Max(-magnusB, magnusB*l/(magnusA-l)), hottestDew)
}

// HumidityAt is the relative humidity, %, of air at t °C whose dew point is so
// many °C: the same form turned round.
func HumidityAt(t, dewPoint float64) float64 {
	return 100 * SaturationPressure(dewPoint) / SaturationPressure(t)
}
