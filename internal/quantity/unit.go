package quantity

import (
	"math"
	"math/big"
	"slices"
	"strings"
)

// unit is one unit of one dimension: a value v written in it is
// (v − offset) × mul ÷ div in the dimension's canonical unit. The factors are
// exact decimals, so that a value read is the float nearest the exact one.
type unit struct {
	name                string   // printed spelling
	spelled             []string // accepted spellings, lower case
	mul, div, offset    *big.Rat
	fMul, fDiv, fOffset float64
	up, down, from      int64 // mul ÷ div in lowest terms, and offset, where whole numbers hold them; else up is 0
}

// The exact factors: 1 in = 25.4 mm, so 1 mil = 25.4 µm; 1 US gal = 231 in³
// = 3.785411784 L; 1 lb = 453.59237 g; °C = (°F − 32) ÷ 1.8 (NIST SP 811
// app. B). 1 psi = 1 lbf/in² with g = 9.80665 m/s² (NIST SP 811 app. B).
const (
	litresPerGallon = "3.785411784"
	gramsPerPound   = "453.59237"
	// 0.45359237 kg × 9.80665 m/s² ÷ (0.0254 m)² = 4.4482216152605 N ÷ 6.4516e-4 m²
	newtonsPerPound = "4.4482216152605"
)

// units of each dimension; the first is the canonical one.
var units = map[Dimension][]unit{
	Time: {
		unitOf("min", "1", "1", "", "min"),
		unitOf("s", "1", "60", "", "s"),
		unitOf("h", "60", "1", "", "h"),
		unitOf("days", "1440", "1", "", "day", "days"),
		unitOf("weeks", "10080", "1", "", "week", "weeks"),
	},
	Film: {
		unitOf("mil", "1", "1", "", "mil"),
		unitOf("µm", "1", "25.4", "", "µm", "um", "micron", "microns"),
		unitOf("mm", "1000", "25.4", "", "mm"),
		unitOf("in", "1000", "1", "", "in"),
	},
	Temperature: {
		unitOf("°C", "1", "1", "", "°c", "c"),
		unitOf("°F", "1", "1.8", "32", "°f", "f"),
	},
	TempMargin: {
		unitOf("°C", "1", "1", "", "°c", "c"),
		unitOf("°F", "1", "1.8", "", "°f", "f"),
	},
	Area: {
		unitOf("ft2", "1", "1", "", "ft2", "sqft"),
		unitOf("in2", "1", "144", "", "in2"),
		unitOf("m2", "1", "0.09290304", "", "m2"),
		unitOf("cm2", "1", "929.0304", "", "cm2"),
	},
	Volume: {
		unitOf("L", "1", "1", "", "l"),
		unitOf("mL", "1", "1000", "", "ml", "cc"),
		unitOf("gal", litresPerGallon, "1", "", "gal"),
		unitOf("qt", litresPerGallon, "4", "", "qt"),
		unitOf("pt", litresPerGallon, "8", "", "pt"),
		unitOf("fl oz", litresPerGallon, "128", "", "floz", "fl oz"),
	},
	Concentration: {
		unitOf("g/L", "1", "1", "", "g/l"),
		unitOf("g/mL", "1000", "1", "", "g/ml"),
		unitOf("lb/gal", gramsPerPound, litresPerGallon, "", "lb/gal"),
	},
	Pressure: {
		unitOf("psi", "1", "1", "", "psi"),
		// 1 psi = 4.4482216152605 N ÷ 645.16 mm²: in bar ÷ 64.516, in kPa ÷ 0.64516.
		unitOf("bar", "64.516", newtonsPerPound, "", "bar"),
		unitOf("kPa", "0.64516", newtonsPerPound, "", "kpa"),
	},
	Share: {
		unitOf("%", "1", "1", "", "%"),
	},
	Coverage: {
		// 1 ft² = 0.09290304 m².
		unitOf("m2/L", "1", "1", "", "m2/l"),
		unitOf("ft2/gal", "0.09290304", litresPerGallon, "", "ft2/gal"),
	},
	Particle: {
		unitOf("µm", "1", "1", "", "µm", "um", "micron", "microns"),
	},
	Count: {
		unitOf("", "1", "1", ""),
	},
}

// dimensions in a fixed order, for messages.
var dimensions = []Dimension{
	Time, Film, Temperature, TempMargin, Area, Volume, Concentration, Pressure, Share, Coverage, Particle, Count,
}

// String names the dimension for a message: "time", "film thickness".
func (d Dimension) String() string {
	switch d {
	case Time:
		return "time"
	case Film:
		return "film or thickness"
	case Temperature:
		return "temperature"
	case TempMargin:
		return "difference of temperatures"
	case Area:
		return "area"
	case Volume:
		return "volume"
	case Concentration:
		return "weight per volume"
	case Pressure:
		return "pressure"
	case Share:
		return "share"
	case Coverage:
		return "coverage"
	case Particle:
		return "particle size"
	case Count:
		return "plain number"
	}
	return "quantity"
}

// article is the dimension's name with its article: "a time", "an area".
func (d Dimension) article() string {
	if d == Area {
		return "an area"
	}
	return "a " + d.String()
}

// Canonical is the printed spelling of the unit the dimension's intervals are
// held in ("min", "mil", "°C", "g/L" ...); "" for a plain number.
func (d Dimension) Canonical() string {
	if us := units[d]; len(us) > 0 {
		return us[0].name
	}
	return ""
}

// Units are the printed spellings of the units the dimension may be written
// in, the canonical one first.
func (d Dimension) Units() []string {
	var names []string
	for _, u := range units[d] {
		if u.name != "" {
			names = append(names, u.name)
		}
	}
	return names
}

// findUnit finds a unit of a dimension by any accepted spelling. Upper and
// lower case are one: within one dimension no two units differ by case alone.
func findUnit(dim Dimension, text string) (*unit, bool) {
	all := units[dim]
	// The printed spelling, as the program itself asks for it, needs no folding.
	for i := range all {
		if all[i].name == text {
			return &all[i], true
		}
	}
	text = plainUnit(text)
	for i := range all {
		if slices.Contains(all[i].spelled, text) || all[i].name == "" && text == "" {
			return &all[i], true
		}
	}
	return nil, false
}

// plainUnit folds case, inner spaces, and the two characters that cannot be
// told apart on paper: Greek mu for the micro sign, the ordinal º for °.
func plainUnit(text string) string {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	return lookalikes.Replace(text)
}

var lookalikes = strings.NewReplacer("μ", "µ", "º", "°")

// unitOf makes a unit of its printed spelling, its factors as exact decimals,
// and its accepted spellings.
func unitOf(name, mul, div, offset string, spelled ...string) unit {
	u := unit{name: name, spelled: spelled, mul: rat(mul), div: rat(div), offset: rat(offset)}
	u.fMul, _ = u.mul.Float64()
	u.fDiv, _ = u.div.Float64()
	u.fOffset, _ = u.offset.Float64()
	if f := new(big.Rat).Quo(u.mul, u.div); f.Num().IsInt64() && f.Denom().IsInt64() && u.offset.IsInt() {
		u.up, u.down, u.from = f.Num().Int64(), f.Denom().Int64(), u.offset.Num().Int64()
	}
	return u
}

// rat reads one of the factors below; they are constants of this file, and a
// test holds every unit to its published size.
func rat(s string) *big.Rat {
	r := new(big.Rat)
	if s != "" {
		r.SetString(s)
	}
	return r
}

// canonical is a figure (a decimal that has been checked, with its sign) of
// unit u in the canonical unit, as the float nearest the exact value.
func (u unit) canonical(figure string) float64 {
	if v, ok := u.quickly(figure); ok {
		return v
	}
	v := rat(figure)
	v.Sub(v, u.offset)
	v.Mul(v, u.mul)
	v.Quo(v, u.div)
	f, _ := v.Float64()
	return f
}

// exactFloat bounds the whole numbers that every float64 holds exactly.
const exactFloat = 1 << 53

// quickly is canonical where numerator and denominator are whole numbers that
// floats hold exactly: one division then rounds once, to the nearest.
func (u unit) quickly(figure string) (float64, bool) {
	digits, scale, negative := int64(0), int64(1), false
	pointed := false
	for i := range len(figure) {
		switch c := figure[i]; {
		case c == '-' && i == 0:
			negative = true
		case c == '.' && !pointed:
			pointed = true
		case '0' <= c && c <= '9':
			digits = digits*10 + int64(c-'0')
			if pointed {
				scale *= 10
			}
			if digits >= 1e12 || scale > 1e9 {
				return 0, false
			}
		default:
			return 0, false
		}
	}
	if u.up == 0 {
		return 0, false
	}
	if negative {
		digits = -digits
	}
	digits -= u.from * scale
	high, low := digits*u.up, scale*u.down
	if high/u.up != digits || high >= exactFloat || high <= -exactFloat || low/u.down != scale || low >= exactFloat {
		return 0, false
	}
	return float64(high) / float64(low), true
}

// ToCanonical turns v in a unit (any accepted spelling) into the dimension's
// canonical unit; false if the dimension has no such unit. An infinite v stays
// infinite.
func ToCanonical(v float64, dim Dimension, unit string) (float64, bool) {
	u, ok := findUnit(dim, unit)
	if !ok {
		return 0, false
	}
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return v, true
	}
	return (v - u.fOffset) * u.fMul / u.fDiv, true
}

// Convert turns v in the dimension's canonical unit into a unit (any accepted
// spelling); false if the dimension has no such unit. An infinite v stays
// infinite.
func Convert(v float64, dim Dimension, unit string) (float64, bool) {
	u, ok := findUnit(dim, unit)
	if !ok {
		return 0, false
	}
	return u.of(v), true
}

// of is a canonical value in the unit.
func (u *unit) of(v float64) float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	return v*u.fDiv/u.fMul + u.fOffset
}

// ConvertMargin turns a difference of temperatures in °C into a temperature
// unit: 3 °C is 5.4 °F, never 37.4 °F. False if unit is no temperature unit.
func ConvertMargin(celsius float64, unit string) (float64, bool) {
	return Convert(celsius, TempMargin, unit)
}
