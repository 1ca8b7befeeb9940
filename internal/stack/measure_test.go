package stack

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"guidecoat/internal/quantity"
)

// amount reads a quantity that a test writes.
func amount(t *testing.T, dim quantity.Dimension, text string) quantity.Quantity {
	t.Helper()
	q, err := quantity.Parse(dim, text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// cardNumber is a number as a card would give it.
func cardNumber(t *testing.T, dim quantity.Dimension, text string) number {
	t.Helper()
	q := amount(t, dim, text)
	return number{iv: q.Interval, dim: dim, unit: q.Unit, source: "card", ok: true}
}

func TestMeasuresReadAsAPainterWritesThem(t *testing.T) {
	for _, tc := range []struct {
		name string
		dim  quantity.Dimension
		text string
		want string
	}{
		{"one number", quantity.Time, "25.6 h", "25.6 h"},
		{"a range", quantity.Film, "1-3 mil", "1 - 3 mil"},
		{"no upper end", quantity.Time, "at least 24 h", "at least 24 h"},
		{"no lower end", quantity.Time, "up to 72 h", "up to 72 h"},
		{"the unit it was written in", quantity.Film, "50 um", "50 µm"},
		{"one day", quantity.Time, "1 day", "1 day"},
		{"seven days", quantity.Time, "7 days", "7 days"},
		{"a temperature", quantity.Temperature, "72 F", "72 °F"},
		{"a warmest temperature", quantity.Temperature, "up to 95 F", "up to 95 °F"},
		{"a share", quantity.Share, "45 %", "45 %"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			q := amount(t, tc.dim, tc.text)
			if got := measure(q.Interval, tc.dim, q.Unit); got.Text != tc.want {
				t.Errorf("got %q, want %q", got.Text, tc.want)
			}
		})
	}
}

func TestAMeasureHoldsTheCanonicalUnitAndShowsTheWritten(t *testing.T) {
	// 25.6 h is 25.6 × 60 = 1536 min.
	m := measure(quantity.Exactly(1536), quantity.Time, "h")
	if m.Lo != 1536 || m.Hi == nil || *m.Hi != 1536 || m.Open {
		t.Errorf("canonical %+v", m)
	}
	if m.Shown.Lo != 25.6 || *m.Shown.Hi != 25.6 || m.Shown.Unit != "h" {
		t.Errorf("shown %+v", m.Shown)
	}
	// A third of a mil: nine digits in the document, four for people.
	m = measure(quantity.Exactly(1.0/3), quantity.Film, "mil")
	if m.Lo != 0.333333333 || m.Shown.Lo != 0.3333 || m.Text != "0.3333 mil" {
		t.Errorf("rounded %+v", m)
	}
}

func TestWhatNobodyWroteIsOpen(t *testing.T) {
	for _, m := range []Measure{
		openMeasure(quantity.Time, "h"),
		measure(quantity.Open, quantity.Time, "h"),
	} {
		if !m.Open || m.Lo != 0 || m.Hi != nil || m.Text != "not written" || m.Shown.Unit != "h" {
			t.Errorf("%+v", m)
		}
	}
	if m := measure(quantity.Interval{Lo: 60, Hi: math.Inf(1)}, quantity.Time, "h"); m.Open || m.Hi != nil {
		t.Errorf("at least an hour is not open: %+v", m)
	}
}

func TestAMarginOfTemperaturesIsADifference(t *testing.T) {
	// 5 °F of margin is 5 ÷ 1.8 = 2.78 °C, never −15 °C (NIST SP 811 app. B, read).
	m := marginMeasure(quantity.Exactly(5/1.8), "°F")
	if m.Shown.Lo != 5 || m.Text != "5 °F" || m.Lo != 2.77777778 {
		t.Errorf("%+v", m)
	}
	// A panel colder than the dew point: −2 to 3 °C.
	if m := marginMeasure(quantity.Interval{Lo: -2, Hi: 3}, "°C"); m.Text != "-2 to 3 °C" {
		t.Errorf("text %q", m.Text)
	}
}

func TestGradesAreShownAsGrades(t *testing.T) {
	for _, tc := range []struct {
		text   string
		lo, hi float64 // of the grade
		unit   string
		micron float64 // the coarser end; ISO 6344 / FEPA medians (read; P240 and P320 decimals from memory)
	}{
		{"P180", 180, 180, "P", 82},
		{"80 grit", 80, 80, "grit", 192}, // CAMI median (read)
		{"fine pad", 240, 320, "P", 58.5},
	} {
		t.Run(tc.text, func(t *testing.T) {
			a, err := quantity.ParseAbrasive(tc.text)
			if err != nil {
				t.Fatal(err)
			}
			m := gradeMeasure(a)
			if m.Shown.Lo != tc.lo || *m.Shown.Hi != tc.hi || m.Shown.Unit != tc.unit || *m.Hi != tc.micron || m.Text != tc.text {
				t.Errorf("%+v, shown %v", m, *m.Shown.Hi)
			}
		})
	}
	if m := gradeMeasure(quantity.Abrasive{}); !m.Open {
		t.Errorf("no grade: %+v", m)
	}
}

// end is an upper end for comparing; −1 where it is open.
func end(v *float64) float64 {
	if v == nil {
		return -1
	}
	return *v
}

func TestComparisonsPairTheirEndsExtremely(t *testing.T) {
	const open = -1
	for _, tc := range []struct {
		name, sense     string
		dim             quantity.Dimension
		measured, limit string
		lo, hi          float64
	}{
		{"half the least", "least", quantity.Time, "30 min", "1 h", 0.5, 0.5},
		// 10 to 20 over 5 to 8: 10/8 and 20/5.
		{"ranges on both sides", "most", quantity.Film, "10-20 mil", "5-8 mil", 1.25, 4},
		{"at least 96 h against a most of 72 h", "most", quantity.Time, "at least 96 h", "72 h", 1.33333333, open},
		{"units of one dimension meet", "most", quantity.Time, "1 day", "24 h", 1, 1},
		{"micron and mil meet", "least", quantity.Film, "50.8 um", "2 mil", 1, 1},
		{"zero against a least of zero is met", "least", quantity.Time, "0 min", "0 min", 1, 1},
		{"something against a most of zero is far over", "most", quantity.Share, "10 %", "0 %", beyond, beyond},
		{"a limit with no upper end is its lower", "least", quantity.Time, "1 h", "at least 2 h", 0.5, 0.5},
		// In kelvin: 59 °F is 15 °C, 288.15 K; 68 °F is 293.15 K.
		{"temperatures in kelvin", "least", quantity.Temperature, "59 F", "68 F", 0.982943885, 0.982943885},
		{"below freezing does not turn a ratio round", "least", quantity.Temperature, "-10 C", "5 C", 0.946072263, 0.946072263},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := amount(t, tc.dim, tc.measured)
			c := compare(tc.sense, m.Interval, false, m.Unit, cardNumber(t, tc.dim, tc.limit))
			if math.Abs(c.Over.Lo-tc.lo) > 1e-8*math.Max(1, tc.lo) || math.Abs(end(c.Over.Hi)-tc.hi) > 1e-8*math.Max(1, tc.hi) {
				t.Errorf("over %v to %v, want %v to %v", c.Over.Lo, end(c.Over.Hi), tc.lo, tc.hi)
			}
		})
	}
}

func TestAComparisonShowsBothSidesInOneUnit(t *testing.T) {
	limit := cardNumber(t, quantity.Time, "72 h")
	c := compare("most", quantity.Exactly(5*1440), false, "days", limit)
	if c.Measured.Text != "120 h" || c.Limit.Text != "72 h" {
		t.Errorf("a card's unit: %q against %q", c.Measured.Text, c.Limit.Text)
	}
	limit.source = "typical"
	c = compare("most", quantity.Exactly(5*1440), false, "days", limit)
	if c.Measured.Text != "5 days" || c.Limit.Text != "3 days" {
		t.Errorf("the sheet's unit: %q against %q", c.Measured.Text, c.Limit.Text)
	}
	// 4 in² would be 0.02778 ft²; 2 ft² are 288 in².
	spot := cardNumber(t, quantity.Area, "4 in2")
	spot.source = "limit"
	if c := compare("most", quantity.Exactly(2), false, "ft2", spot); c.Measured.Text != "288 in2" || c.Limit.Text != "4 in2" {
		t.Errorf("a spot: %q against %q", c.Measured.Text, c.Limit.Text)
	}
	// A sum of waits in several units has none of its own.
	hour := cardNumber(t, quantity.Time, "1 h")
	hour.source = "limit"
	if c := compare("least", quantity.Exactly(25), false, "", hour); c.Measured.Text != "25 min" || c.Limit.Text != "60 min" {
		t.Errorf("short spans: %q against %q", c.Measured.Text, c.Limit.Text)
	}
	if c := compare("least", quantity.Exactly(25*60), false, "", hour); c.Measured.Text != "25 h" || c.Limit.Text != "1 h" {
		t.Errorf("long spans: %q against %q", c.Measured.Text, c.Limit.Text)
	}
}

func TestNothingIsBrokenByWhatNobodyWrote(t *testing.T) {
	limit := cardNumber(t, quantity.Time, "72 h")
	c := compare("most", quantity.Exactly(99999), true, "h", limit)
	if !c.Open || c.Over.Lo != 0 || c.Over.Hi != nil || !c.Measured.Open {
		t.Errorf("%+v", c)
	}
	if c := compare("most", quantity.Exactly(1), false, "h", number{}); c != nil {
		t.Errorf("no limit: %+v", c)
	}
	limit.never = true
	if c := compare("least", quantity.Exactly(1), false, "h", limit); c != nil {
		t.Errorf("never: %+v", c)
	}
}

func TestANegativeMarginStaysUnderItsLimit(t *testing.T) {
	limit := number{iv: quantity.Exactly(3), dim: quantity.TempMargin, unit: "°C", source: "limit", ok: true}
	// −3 to 6 °C over 3 °C: −1 to 2.
	c := compare("least", quantity.Interval{Lo: -3, Hi: 6}, false, "°F", limit)
	if c.Over.Lo != -1 || *c.Over.Hi != 2 {
		t.Errorf("over %v to %v", c.Over.Lo, *c.Over.Hi)
	}
	// The sheet's unit, as a difference: 3 × 1.8 = 5.4 °F.
	if c.Limit.Text != "5.4 °F" {
		t.Errorf("limit %q", c.Limit.Text)
	}
}

// broken is what a rule makes of a comparison: policies/lib, broken(c).
func broken(c *Comparison) string {
	hi := math.Inf(1)
	if c.Over.Hi != nil {
		hi = *c.Over.Hi
	}
	switch {
	case c.Open:
		return ""
	case c.Sense == "least" && hi < 1, c.Sense == "most" && c.Over.Lo > 1 && c.Over.Hi != nil:
		return "will"
	case c.Sense == "least" && c.Over.Lo < 1, c.Sense == "most" && (c.Over.Lo > 1 || c.Over.Hi != nil && hi > 1):
		return "may"
	}
	return ""
}

func TestABreachIsCertainOnlyAtEveryPairingOfEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) quantity.Interval {
			lo := float64(rapid.IntRange(0, 60).Draw(t, name))
			return quantity.Interval{Lo: lo, Hi: lo + float64(rapid.IntRange(0, 30).Draw(t, name+" wide"))}
		}
		m, l := draw("measured"), draw("limit")
		sense := rapid.SampledFrom([]string{"least", "most"}).Draw(t, "sense")
		openEnd := rapid.Bool().Draw(t, "no upper end")
		if openEnd {
			m.Hi = math.Inf(1)
		}
		c := compare(sense, m, false, "min", number{iv: l, dim: quantity.Time, unit: "min", source: "card", ok: true})
		every, some := true, false
		for _, x := range []float64{m.Lo, m.Hi} {
			if math.IsInf(x, 1) {
				every = false // an open end breaks nothing
				continue
			}
			for _, y := range []float64{l.Lo, l.Hi} {
				over := sense == "least" && x < y || sense == "most" && x > y
				every, some = every && over, some || over
			}
		}
		want := ""
		if !isOpen(m, quantity.Time) {
			switch {
			case every:
				want = "will"
			case some:
				want = "may"
			}
		}
		// "at least 10" against a most of 5-20 is over one end only, and the open end is not told apart.
		if openEnd && sense == "most" && m.Lo > l.Lo && m.Lo <= l.Hi {
			return
		}
		if got := broken(c); got != want {
			t.Fatalf("%v held to %s %v: %q, want %q (over %v to %v)", m, sense, l, got, want, c.Over.Lo, end(c.Over.Hi))
		}
	})
}
