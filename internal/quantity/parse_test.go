package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var inf = math.Inf(1)

func TestParseReadsWhatASheetMayWrite(t *testing.T) {
	tests := []struct {
		name string
		dim  Dimension
		text string
		want Interval // canonical
		unit string
	}{
		{"one number means exactly that", Time, "15 min", Exactly(15), "min"},
		{"a space before the unit is optional", Time, "15min", Exactly(15), "min"},
		{"seconds are a sixtieth of a minute", Time, "90 s", Exactly(1.5), "s"},
		{"hours", Time, "1.5 h", Exactly(90), "h"},
		{"one day", Time, "1 day", Exactly(1440), "days"},
		{"days", Time, "7 days", Exactly(10080), "days"},
		{"one week", Time, "1 week", Exactly(10080), "weeks"},
		{"weeks", Time, "2 weeks", Exactly(20160), "weeks"},
		{"case does not matter", Time, "15 MIN", Exactly(15), "min"},
		{"a decimal that no float holds is still 138 minutes", Time, "2.3 h", Exactly(138), "h"},
		{"a decimal may begin with its point", Film, ".5 mil", Exactly(0.5), "mil"},
		{"a range with a bare dash", Film, "2-3 mil", Interval{2, 3}, "mil"},
		{"a range with a spaced dash", Film, "2 - 3 mil", Interval{2, 3}, "mil"},
		{"a range with to", Film, "2 to 3 mil", Interval{2, 3}, "mil"},
		{"a range with To", Film, "2 To 3 mil", Interval{2, 3}, "mil"},
		{"a range with an en dash", Film, "2–3 mil", Interval{2, 3}, "mil"},
		{"a range with a spaced en dash", Film, "2 – 3 mil", Interval{2, 3}, "mil"},
		{"the unit on both ends", Time, "1 h - 72 h", Interval{60, 4320}, "h"},
		{"the unit on the lower end alone", Time, "1 h - 72", Interval{60, 4320}, "h"},
		{"mixed units keep the upper end's", Time, "30 min - 7 days", Interval{30, 10080}, "days"},
		{"mixed units without spaces", Time, "30min-7days", Interval{30, 10080}, "days"},
		{"a range of one value", Film, "2-2 mil", Exactly(2), "mil"},
		{"up to begins at zero", Time, "up to 72 h", Interval{0, 4320}, "h"},
		{"at least has no upper end", Time, "at least 24 h", Interval{1440, inf}, "h"},
		{"At Least in capitals", Time, "At Least 24 h", Interval{1440, inf}, "h"},
		{"to any has no upper end", Time, "30 min - any", Interval{30, inf}, "min"},
		{"to any in words", Time, "30 min to any", Interval{30, inf}, "min"},
		{"any alone is open", Time, "any", Open, ""},
		{"overnight is 12 to 16 hours", Time, "overnight", Interval{720, 960}, "h"},
		{"same day is up to 8 hours", Time, "Same day", Interval{0, 480}, "h"},
		{"zero is a number", Time, "0 min", Exactly(0), "min"},
		{"a window from zero", Time, "0 - 4 h", Interval{0, 240}, "h"},

		{"25.4 µm are one mil", Film, "25.4 µm", Exactly(1), "µm"},
		{"um", Film, "25.4 um", Exactly(1), "µm"},
		{"micron", Film, "25.4 micron", Exactly(1), "µm"},
		{"microns", Film, "25.4 microns", Exactly(1), "µm"},
		{"a Greek mu looks the same", Film, "25.4 μm", Exactly(1), "µm"},
		{"a fluid tip in mm", Film, "2.54 mm", Exactly(100), "mm"},
		{"a thickness in inches", Film, "0.25 in", Exactly(250), "in"},

		{"20 °C", Temperature, "20 C", Exactly(20), "°C"},
		{"with the degree sign", Temperature, "20 °C", Exactly(20), "°C"},
		{"68 °F are 20 °C", Temperature, "68 F", Exactly(20), "°F"},
		{"77 °F are 25 °C", Temperature, "68-77 °F", Interval{20, 25}, "°F"},
		{"below zero", Temperature, "-5 C", Exactly(-5), "°C"},
		{"with a true minus sign", Temperature, "−5 C", Exactly(-5), "°C"},
		{"a range across zero", Temperature, "-5 - 10 C", Interval{-5, 10}, "°C"},
		{"a range below zero", Temperature, "-10--5 C", Interval{-10, -5}, "°C"},
		{"-40 is the same in both", Temperature, "-40 F", Exactly(-40), "°F"},
		{"up to a temperature begins at absolute zero", Temperature, "up to 95 F", Interval{-273.15, 35}, "°F"},
		{"at least a temperature", Temperature, "at least 50 F", Interval{10, inf}, "°F"},

		{"a difference of 9 °F is 5 °C", TempMargin, "9 F", Exactly(5), "°F"},
		{"a difference of 3 °C", TempMargin, "3 C", Exactly(3), "°C"},

		{"square feet", Area, "14 ft2", Exactly(14), "ft2"},
		{"sqft", Area, "14 sqft", Exactly(14), "ft2"},
		{"144 square inches are a square foot", Area, "144 in2", Exactly(1), "in2"},
		{"929.0304 cm² are a square foot", Area, "929.0304 cm2", Exactly(1), "cm2"},
		{"0.09290304 m² are a square foot", Area, "0.09290304 m2", Exactly(1), "m2"},

		{"a gallon is 3.785411784 L", Volume, "1 gal", Exactly(3.785411784), "gal"},
		{"four quarts to the gallon", Volume, "4 qt", Exactly(3.785411784), "qt"},
		{"eight pints to the gallon", Volume, "8 pt", Exactly(3.785411784), "pt"},
		{"128 fluid ounces to the gallon", Volume, "128 floz", Exactly(3.785411784), "fl oz"},
		{"fluid ounces as printed", Volume, "128 fl oz", Exactly(3.785411784), "fl oz"},
		{"millilitres", Volume, "250 mL", Exactly(0.25), "mL"},
		{"cubic centimetres", Volume, "250 cc", Exactly(0.25), "mL"},
		{"litres", Volume, "1 l", Exactly(1), "L"},

		{"g/L", Concentration, "420 g/L", Exactly(420), "g/L"},
		{"g/mL", Concentration, "0.88 g/mL", Exactly(880), "g/mL"},
		{"psi", Pressure, "26-29 psi", Interval{26, 29}, "psi"},
		{"a share", Share, "45 %", Exactly(45), "%"},
		{"a share without its space", Share, "45%", Exactly(45), "%"},
		{"up to a share", Share, "up to 80 %", Interval{0, 80}, "%"},
		{"coverage in metric", Coverage, "7.9 m2/L", Exactly(7.9), "m2/L"},

		{"a plain number of coats", Count, "2", Exactly(2), ""},
		{"a range of coats", Count, "2-3", Interval{2, 3}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q, err := Parse(tt.dim, tt.text)
			if err != nil {
				t.Fatalf("Parse(%q): %v", tt.text, err)
			}
			if q.Interval != tt.want || q.Unit != tt.unit {
				t.Errorf("Parse(%q) = %v %q, want %v %q", tt.text, q.Interval, q.Unit, tt.want, tt.unit)
			}
			if !q.Written || q.Dim != tt.dim || q.Text != tt.text {
				t.Errorf("Parse(%q) does not say what it is: %+v", tt.text, q)
			}
		})
	}
}

func TestParseReadsAConditionAsAnOpenWait(t *testing.T) {
	for text, until := range map[string]string{
		"until matte": "matte", "Until Matte": "matte", "until dry to touch": "dry to touch",
	} {
		q, err := Parse(Time, text)
		if err != nil {
			t.Fatalf("Parse(%q): %v", text, err)
		}
		if q.Until != until || q.Interval != Open || !q.Written {
			t.Errorf("Parse(%q) = %+v, want a wait until %q, open", text, q, until)
		}
	}
}

func TestParseTypicalAloneReadsNever(t *testing.T) {
	q, err := ParseTypical(Time, "never")
	if err != nil || !q.Never || !q.Written {
		t.Errorf("ParseTypical(never) = %+v, %v", q, err)
	}
	if _, err := Parse(Time, "never"); err == nil {
		t.Error("a sheet may not write never")
	}
}

// Each kind of mistake, with words that its message must have: what is wrong,
// and what would be right.
func TestParseSaysWhatIsWrongAndWhatWouldBeRight(t *testing.T) {
	tests := []struct {
		name    string
		dim     Dimension
		text    string
		problem string
		want    string
	}{
		{"a bare number", Time, "15", `"15" has no unit`, `"15 min"`},
		{"a bare range", Film, "2-3", `has no unit`, `mil`},
		{"a bare zero", Time, "0", `has no unit`, `min`},
		{"a bare number to any", Time, "30 - any", `has no unit`, `min`},
		{"a misspelt unit", Time, "15 mim", `unknown unit, "mim"`, `did you mean "min"?`},
		{"a unit in full", Time, "15 minutes", `unknown unit, "minutes"`, `did you mean "min"?`},
		{"hours in full", Time, "2 hours", `unknown unit`, `did you mean "h"?`},
		{"mils", Film, "2 mils", `unknown unit`, `did you mean "mil"?`},
		{"a unit like no other", Time, "3 fortnights", `unknown unit, "fortnights"`, `s, min, h, days or weeks`},
		{"a unit with a raised two", Area, "14 ft²", `unknown unit`, `did you mean "ft2"?`},
		{"a film where a time is due", Time, "5 mil", `is a film or thickness, and a time is wanted`, `"15 min"`},
		{"a time where a film is due", Film, "5 min", `is a time, and a film or thickness is wanted`, `mil`},
		{"a temperature where an area is due", Area, "70 F", `is a temperature, and an area is wanted`, `ft2`},
		{"overnight where a film is due", Film, "overnight", `is a time`, `mil`},
		{"a condition where a film is due", Film, "until matte", `is a wait`, `mil`},
		{"a negative time", Time, "-5 min", `is negative`, `"15 min"`},
		{"a negative upper end", Time, "5 - -3 min", `is negative`, `"15 min"`},
		{"a negative share", Share, "-5 %", `is negative`, `%`},
		{"a negative difference", TempMargin, "-3 C", `is negative`, `"3 C"`},
		{"a range that runs backwards", Time, "72 h - 1 h", `runs backwards`, `"1 h - 72 h"`},
		{"backwards in mixed units", Time, "2 h - 30 min", `runs backwards`, `"30 min - 2 h"`},
		{"backwards below zero", Temperature, "-5 - -10 C", `runs backwards`, `"-10 °C - -5 °C"`},
		{"not a number", Time, "NaN min", `is not a number`, `"15 min"`},
		{"infinity", Time, "inf h", `is without end`, `"15 min"`},
		{"Infinity", Time, "Infinity h", `is without end`, `"15 min"`},
		{"overflow of the number", Time, "1e999 h", `is too large`, `"15 min"`},
		{"overflow of an exponent that would take a year to write out", Time, "1e999999999 h", `is too large`, `"15 min"`},
		{"overflow by the unit", Time, "999999999999 weeks", `is too large`, `"15 min"`},
		{"too small", Film, "1e-300 mil", `is too small`, `mil`},
		{"colder than cold", Temperature, "-300 C", `colder than anything can be`, `°F`},
		{"nothing", Time, "", `nothing is written`, `"15 min"`},
		{"only a space", Time, "  ", `nothing is written`, `"15 min"`},
		{"no number", Time, "soon", `has no number`, `"15 min"`},
		{"a unit alone", Time, "min", `has no number`, `"15 min"`},
		{"a thousands comma", Area, "1,000 ft2", `comma`, `1000`},
		{"a decimal comma", Film, "1,5 mil", `comma`, `1.5`},
		{"a fraction", Film, "1/4 in", `fraction`, `0.25 in`},
		{"a fraction of a time", Time, "1/2 h", `fraction`, `1.5 h`},
		{"a fraction behind a number", Time, "1 1/2 h", `fraction`, `1.5 h`},
		{"a fraction of one character", Time, "½ h", `fraction`, `1.5 h`},
		{"a fraction of one character behind a number", Film, "1½ mil", `fraction`, `decimal`},
		{"a long dash", Time, "1—72 h", `not the plain one`, `write "1-72 h"`},
		{"a long dash between units", Time, "1 h — 72 h", `not the plain one`, `write "1 h - 72 h"`},
		{"a minus for a dash", Time, "1 − 72 h", `not the plain one`, `write "1 - 72 h"`},
		{"a hyphen that does not break", Time, "1‑72 h", `not the plain one`, `write "1-72 h"`},
		{"degrees of no scale", Temperature, "60° - 95°", `whether °F or °C`, `"72 F"`},
		{"degrees of no scale in words", Temperature, "72 degrees", `whether °F or °C`, `"72 F"`},
		{"two units", Time, "1 h 30 min", `two units`, `90 min`},
		{"two points", Film, "1.2.3 mil", `does not read`, `mil`},
		{"two numbers", Film, "1 2 mil", `two numbers`, `mil`},
		{"three ends", Film, "1-2-3 mil", `more than two ends`, `mil`},
		{"up to a range", Time, "up to 24-72 h", `two ends`, `"15 min"`},
		{"at least any", Time, "at least any", `has no number`, `"15 min"`},
		{"an open lower end", Time, "any - 3 h", `has no number`, `"15 min"`},
		{"half a range", Time, "3 h -", `has no number`, `"15 min"`},
		{"another condition", Time, "until lunch", `no condition`, `"until matte"`},
		{"never", Time, "never", `may not stand here`, `"15 min"`},
		{"a plain number with a unit", Count, "2 coats", `a plain number is wanted`, `2-3`},
		{"far too long", Time, strings.Repeat("1", 500) + " h", `too long`, `"15 min"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q, err := Parse(tt.dim, tt.text)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("Parse(%q) = %+v, %v; want an *Error", tt.text, q, err)
			}
			if q != (Quantity{}) {
				t.Errorf("Parse(%q) gives %+v beside its error", tt.text, q)
			}
			if e.Text != tt.text {
				t.Errorf("the error's text is %q, want %q", e.Text, tt.text)
			}
			if !strings.Contains(e.Problem, tt.problem) {
				t.Errorf("problem %q does not say %q", e.Problem, tt.problem)
			}
			if !strings.Contains(e.Want, tt.want) {
				t.Errorf("want %q does not say %q", e.Want, tt.want)
			}
		})
	}
}

func TestErrorsShowControlCharactersAndCutLongTexts(t *testing.T) {
	_, err := Parse(Time, "5\x1b[31m parsecs")
	if err == nil || strings.ContainsRune(err.Error(), '\x1b') {
		t.Errorf("a control character reaches the message: %q", err)
	}
	_, err = Parse(Time, strings.Repeat("parsec ", 20))
	if err == nil || len(err.Error()) > 300 {
		t.Errorf("a long text is repeated whole: %q", err)
	}
}

func TestParseMixReadsPartsByVolume(t *testing.T) {
	tests := []struct {
		text                    string
		parts                   int
		base, hardener, reducer float64
		share                   float64 // reducer ÷ (base + hardener)
	}{
		{"1", 1, 1, 0, 0, 0},
		{"4:1", 2, 4, 1, 0, 0},
		{"4:1:1", 3, 4, 1, 1, 0.2},
		{"2:1:0.5", 3, 2, 1, 0.5, 0.5 / 3},
		{"1:0:1", 3, 1, 0, 1, 1},
		{"4 : 1", 2, 4, 1, 0, 0},
		{"4:0", 2, 4, 0, 0, 0},
		{"4:1 + 10 %", 2, 4, 1, 0.5, 0.1}, // 10 % of 5 parts
		{"4:1+10%", 2, 4, 1, 0.5, 0.1},
		{"1 + 50 %", 1, 1, 0, 0.5, 0.5},
	}
	for _, tt := range tests {
		m, err := ParseMix(tt.text)
		if err != nil {
			t.Errorf("ParseMix(%q): %v", tt.text, err)
			continue
		}
		if m.Parts != tt.parts || m.Base != tt.base || m.Hardener != tt.hardener || m.Reducer != tt.reducer || !m.Written {
			t.Errorf("ParseMix(%q) = %+v", tt.text, m)
		}
		if got := m.ReducerShare(); math.Abs(got-tt.share) > 1e-12 {
			t.Errorf("reducer share of %q is %v, want %v", tt.text, got, tt.share)
		}
	}
	m, err := ParseMix("2 %")
	if err != nil || m.Parts != 0 || m.Paste.Interval != Exactly(2) || !m.Paste.Written {
		t.Errorf(`ParseMix("2 %%") = %+v, %v; want a paste hardener's share by weight`, m, err)
	}
	m, err = ParseMix("1-3 %")
	if err != nil || m.Paste.Interval != (Interval{1, 3}) {
		t.Errorf(`ParseMix("1-3 %%") = %+v, %v`, m, err)
	}
}

func TestParseMixSaysWhatIsWrong(t *testing.T) {
	for text, problem := range map[string]string{
		"":               "nothing is written",
		"4:1:1:1":        "more than three parts",
		"0:0:0":          "nothing in it",
		"0":              "nothing in it",
		"0:1":            "no base",
		"4:":             "empty part",
		"4:-1":           "negative",
		"4-1":            "no mix",
		"NaN:1":          "no mix",
		"inf:1":          "no mix",
		"1e999:1":        "too large",
		"1e-9:1":         "too small",
		"1E-2180":        "too small", // nothing, to a float
		"four to one":    "no mix",
		"4:1:1 + 10 %":   "reducer twice",
		"4:1 + ten":      "no share of reducer",
		"4:1 + 10":       "no share of reducer",
		"4:1 + 5-10 %":   "as a range",
		"4:1:10 %":       `has no + before its share of reducer; write "4:1 + 10 %"`,
		"4:1 plus 10 %":  `write "4:1 + 10 %"`,
		"4:1 10%":        `write "4:1 + 10 %"`,
		"1 plus 10 %":    `write "1 + 10 %"`,
		"4:1:5-10 %":     "no mix",
		"-2 %":           "negative",
		"at least 2 %":   "no upper end",
		"4:1 by weight":  "no mix",
		"1:0x10":         "no mix",
		"4:1 + 10 % + 1": "no share of reducer",
	} {
		m, err := ParseMix(text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Error(), problem) || e.Want == "" {
			t.Errorf("ParseMix(%q) = %+v, %v; want a problem with %q", text, m, err, problem)
		}
	}
}

func TestParseAbrasiveReadsEachSystem(t *testing.T) {
	tests := []struct {
		text    string
		name    string
		system  System
		number  int
		bare    bool
		microns Interval
	}{
		// Medians: ISO 6344 / FEPA and CAMI as in testdata/reference.
		{"P80", "P80", FEPA, 80, false, Exactly(201)},
		{"p80", "P80", FEPA, 80, false, Exactly(201)},
		{"P 80", "P80", FEPA, 80, false, Exactly(201)},
		{"80", "P80", FEPA, 80, true, Exactly(201)},
		{"80 grit", "80 grit", CAMI, 80, false, Exactly(192)},
		{"80grit", "80 grit", CAMI, 80, false, Exactly(192)},
		{"400 grit", "400 grit", CAMI, 400, false, Exactly(22)},
		{"P400", "P400", FEPA, 400, false, Exactly(35)},
		{"P5000", "P5000", FEPA, 5000, false, Exactly(4)},
		{"fine pad", "fine pad", Pad, 0, false, Interval{46.2, 58.5}},
		{"Very Fine Pad", "very fine pad", Pad, 0, false, Interval{35, 46.2}},
		{"ultra fine pad", "ultra fine pad", Pad, 0, false, Interval{18.3, 21.8}},
	}
	for _, tt := range tests {
		a, err := ParseAbrasive(tt.text)
		want := Abrasive{tt.text, tt.name, tt.system, tt.number, tt.bare, tt.microns}
		if err != nil || a != want {
			t.Errorf("ParseAbrasive(%q) = %+v, %v; want %+v", tt.text, a, err, want)
		}
	}
}

func TestParseAbrasiveNamesTheNearestGrades(t *testing.T) {
	tests := []struct {
		text string
		want string
	}{
		{"P110", "P100 and P120"},
		{"P90", "P80 and P100"},
		{"P70", "P60 and P80"},
		{"110", "P100 and P120"},
		{"P9999", "P4000 and P5000"},
		{"P0", "P12 and P16"},
		{"110 grit", "100 grit and 120 grit"},
		{"1500 grit", "600 grit, 1000 grit and P1500"},
		{"", `"P80"`},
		{"coarse", `"P80"`},
		{"P80.5", `"P80"`},
		{"P-80", `"P80"`},
		{"P99999999999999999999", `"P80"`},
		{"medium pad", `"very fine pad"`},
		{"very fine", `"very fine pad"`},
	}
	for _, tt := range tests {
		a, err := ParseAbrasive(tt.text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Want, tt.want) {
			t.Errorf("ParseAbrasive(%q) = %+v, %v; want %q named", tt.text, a, err, tt.want)
		}
	}
}

func TestParseAbrasiveRangeReadsCoarseFirst(t *testing.T) {
	tests := []struct{ text, coarse, fine string }{
		{"P80-P180", "P80", "P180"},
		{"P80 - P600", "P80", "P600"},
		{"P80 to P600", "P80", "P600"},
		{"P80–P600", "P80", "P600"},
		{"P80-180", "P80", "P180"},
		{"80-180 grit", "80 grit", "180 grit"},
		{"80 grit - 180", "80 grit", "180 grit"},
		{"80-P180", "P80", "P180"},
		{"80-180", "P80", "P180"},
		{"P80", "P80", "P80"},
		{"very fine pad", "very fine pad", "very fine pad"},
		{"P320 - very fine pad", "P320", "very fine pad"},
	}
	for _, tt := range tests {
		r, err := ParseAbrasiveRange(tt.text)
		if err != nil || r.Coarse.Name != tt.coarse || r.Fine.Name != tt.fine || !r.Written || r.Text != tt.text {
			t.Errorf("ParseAbrasiveRange(%q) = %+v, %v; want %s to %s", tt.text, r, err, tt.coarse, tt.fine)
		}
	}
	for text, problem := range map[string]string{
		"P180-P80":           "runs backwards",
		"P80-P110":           "no grade",
		"P80-P120-P180":      "more than two ends",
		"P80-":               "nothing is written",
		"up to P80":          "no abrasive grade",
		"P110-180":           "no grade",
		"110-180 grit":       "no grade",
		"80 grit - 185":      "no grade",
		"P80 - 100 mil":      "no abrasive grade",
		"very fine pad - P8": "no grade",
	} {
		r, err := ParseAbrasiveRange(text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Problem, problem) {
			t.Errorf("ParseAbrasiveRange(%q) = %+v, %v; want a problem with %q", text, r, err, problem)
		}
	}
}

func TestNearestCoarserNeverGivesAFinerGrade(t *testing.T) {
	for microns, want := range map[float64]string{
		201: "P80", 192: "P80", 35: "P400", 34: "P400", 2000: "P12", 0: "P5000", 7: "P3000",
	} {
		if got := NearestCoarser(microns).Name; got != want {
			t.Errorf("NearestCoarser(%v) = %s, want %s", microns, got, want)
		}
	}
}

func TestToMayBeInCapitals(t *testing.T) {
	for _, text := range []string{"1 TO 2 mil", "1 To 2 MIL", "1 mil tO 2 mil"} {
		if q, err := Parse(Film, text); err != nil || q.Interval != (Interval{1, 2}) {
			t.Errorf("Parse(%q) = %v, %v", text, q.Interval, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"15 min", "2-3 mil", "1 h - 72 h", "30 min - 7 days", "up to 72 h", "at least 24 h", "30 min - any", "any",
		"until matte", "overnight", "-5 - 10 C", "P80", "80 grit", "P80-P180", "4:1 + 10 %", "2:1:0.5", "2 %", "1e999 h", "−5 C",
	} {
		for d := range dimensions {
			f.Add(uint8(d), s)
		}
	}
	f.Fuzz(func(t *testing.T, d uint8, text string) {
		dim := dimensions[int(d)%len(dimensions)]
		q, err := Parse(dim, text)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Problem == "" || e.Want == "" {
				t.Fatalf("Parse(%v, %q): %#v is no *Error with both its halves", dim, text, err)
			}
		} else {
			sound(t, dim, text, q)
		}
		if m, err := ParseMix(text); err == nil && m.Parts > 0 && (m.Base <= 0 || m.Hardener < 0 || m.Reducer < 0) {
			t.Fatalf("ParseMix(%q) = %+v", text, m)
		}
		if r, err := ParseAbrasiveRange(text); err == nil && r.Coarse.Microns.Lo < r.Fine.Microns.Lo {
			t.Fatalf("ParseAbrasiveRange(%q) = %+v", text, r)
		}
	})
}

// sound holds a quantity to the package's promise, and its printed form to
// reading back as the same.
func sound(t *testing.T, dim Dimension, text string, q Quantity) {
	t.Helper()
	if math.IsNaN(q.Lo) || math.IsNaN(q.Hi) || q.Lo > q.Hi || math.IsInf(q.Lo, 0) {
		t.Fatalf("Parse(%v, %q) = %v", dim, text, q.Interval)
	}
	if q.Lo < 0 && dim != Temperature {
		t.Fatalf("Parse(%v, %q) is negative: %v", dim, text, q.Interval)
	}
	printed := q.String()
	again, err := Parse(dim, printed)
	if err != nil {
		t.Fatalf("Parse(%v, %q) prints as %q, which does not read: %v", dim, text, printed, err)
	}
	if again.String() != printed {
		t.Fatalf("Parse(%v, %q) prints as %q, and that as %q", dim, text, printed, again.String())
	}
}

func BenchmarkParse(b *testing.B) {
	// History, two shared cores: with a regexp and exact fractions throughout
	// 7.0 µs for one number and 13 µs for a mixed range; whole numbers where
	// they are exact, 1.6 µs and 2.7 µs.
	for _, tt := range []struct {
		name string
		dim  Dimension
		text string
	}{{"one number", Time, "15 min"}, {"mixed range", Time, "30 min - 7 days"}, {"fahrenheit", Temperature, "68-77 F"}} {
		b.Run(tt.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(tt.dim, tt.text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The quick way and the exact one must agree to the last bit.
func TestReadingQuicklyIsReadingExactly(t *testing.T) {
	for _, dim := range dimensions {
		for _, u := range units[dim] {
			rapid.Check(t, func(t *rapid.T) {
				figure := rapid.StringMatching(`-?([0-9]{1,9}|[0-9]{0,6}\.[0-9]{1,6})`).Draw(t, "figure")
				quick, ok := u.quickly(figure)
				if !ok {
					return
				}
				exact := rat(figure)
				exact.Sub(exact, u.offset)
				exact.Mul(exact, u.mul)
				exact.Quo(exact, u.div)
				if f, _ := exact.Float64(); f != quick {
					t.Fatalf("%s %s is %v exactly and %v quickly", figure, u.name, f, quick)
				}
			})
		}
	}
}
