package stack

import (
	"math"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// boothOf is a booth that writes what is not empty.
func boothOf(t *testing.T, air, panel, humidity string) sheet.Weather {
	t.Helper()
	var w sheet.Weather
	if air != "" {
		w.Air = said(t, quantity.Temperature, air)
	}
	if panel != "" {
		w.Panel = said(t, quantity.Temperature, panel)
	}
	if humidity != "" {
		w.Humidity = said(t, quantity.Share, humidity)
	}
	return w
}

// layIn is a lay of that kind in that weather.
func layIn(t *testing.T, kind string, step *sheet.Step, booth sheet.Weather) Lay {
	t.Helper()
	var l Lay
	l.weather(step, booth, viewCard(plainCard("paint", kind), rulebookLimits()))
	return l
}

func TestTheDewPointAndTheMarginOverIt(t *testing.T) {
	// Air 20 °C at 70 %: dew point 14.36 °C (WMO-No. 8 and ASHRAE agree within 0.03, calc).
	l := layIn(t, "epoxy primer", &sheet.Step{}, boothOf(t, "20 C", "18 C", "70 %"))
	if l.DewPoint == nil || math.Abs(l.DewPoint.Lo-14.36) > 0.03 {
		t.Fatalf("dew point %+v", l.DewPoint)
	}
	// 18 − 14.36 = 3.64 °C, of 3: 1.213.
	if c := l.DewMargin; math.Abs(c.Measured.Lo-3.64) > 0.03 || math.Abs(c.Over.Lo-3.64/3) > 0.01 || c.Limit.Text != "3 °C" {
		t.Errorf("%+v", c)
	}
}

func TestAMarginOfFiveDegreesFahrenheitIsTwoPointEightCelsius(t *testing.T) {
	// A printed chart: 70 °F and 65 % give 57 °F, so no painting below 62 °F (read); the formula's 57.7 °F.
	l := layIn(t, "epoxy primer", &sheet.Step{}, boothOf(t, "70 F", "62.7 F", "65 %"))
	c := l.DewMargin
	// 62.7 − 57.7 = 5.0 °F = 2.78 °C of 3 °C (5.4 °F): under it.
	if math.Abs(*c.Measured.Shown.Hi-5) > 0.06 || c.Measured.Shown.Unit != "°F" || c.Limit.Text != "5.4 °F" || *c.Over.Hi >= 1 {
		t.Errorf("%+v", c)
	}
}

func TestRangesOfWeatherPairTheirWorstEnds(t *testing.T) {
	// Worst: panel 18 over the dew point of 25 °C at 60 %, 16.70: 1.3. Best: 22 over that of 20 °C at
	// 50 %, 9.26: 12.74 (check points, calc).
	l := layIn(t, "epoxy primer", &sheet.Step{}, boothOf(t, "20-25 C", "18-22 C", "50-60 %"))
	m := l.DewMargin.Measured
	if math.Abs(m.Lo-1.30) > 0.05 || math.Abs(*m.Hi-12.74) > 0.05 {
		t.Errorf("%+v", m)
	}
}

func TestAnOpenEndOfWeatherBreaksNothing(t *testing.T) {
	// "at least 20 C" is taken at 20, "up to 50 %" at most at 50.
	l := layIn(t, "epoxy primer", &sheet.Step{}, boothOf(t, "at least 20 C", "at least 20 C", "up to 50 %"))
	if c := l.DewMargin; c == nil || math.Abs(c.Measured.Lo-(20-9.26)) > 0.05 || c.Over.Lo < 1 {
		t.Errorf("%+v", c)
	}
}

func TestWhatTheWeatherLeavesOutIsNull(t *testing.T) {
	l := layIn(t, "epoxy primer", &sheet.Step{}, boothOf(t, "72 F", "", "50 %"))
	if l.Panel != nil || l.DewMargin != nil || l.ColdPanel != nil || l.DewPoint == nil || l.ColdAir == nil {
		t.Errorf("%+v", l)
	}
	l = layIn(t, "epoxy primer", &sheet.Step{}, sheet.Weather{})
	if l.Air != nil || l.DewPoint != nil || l.Humid != nil || l.ColdAir != nil {
		t.Errorf("%+v", l)
	}
}

func TestAStepsOwnWeatherOverridesTheBooths(t *testing.T) {
	st := &sheet.Step{Weather: sheet.Weather{Panel: said(t, quantity.Temperature, "50 F"), Where: saidText("open shop")}}
	l := layIn(t, "epoxy primer", st, boothOf(t, "72 F", "70 F", "45 %"))
	// 50 °F is 283.15 K, the typical 60 °F 288.71 K: 0.98075.
	if c := l.ColdPanel; c.Measured.Text != "50 °F" || c.Limit.Text != "60 °F" || c.Source != "typical" || *c.Over.Hi >= 1 || c.Leaned[0] != "paint.air" {
		t.Errorf("%+v", c)
	}
	if l.ColdAir.Over.Lo < 1 || weatherAt(st.Weather, boothOf(t, "72 F", "", "")).Where.Value != "open shop" {
		t.Error("the air and the place")
	}
}

func TestDampAirAgainstCardAndKind(t *testing.T) {
	if c := layIn(t, "two-part wash primer", &sheet.Step{}, boothOf(t, "", "", "80 %")).Humid; !near(c.Over.Lo, 80.0/70) || c.Source != "typical" {
		t.Errorf("%+v", c)
	}
	var l Lay
	card := plainCard("paint", "epoxy primer")
	card.Humidity = said(t, quantity.Share, "up to 85 %")
	l.weather(&sheet.Step{}, boothOf(t, "", "", "80 %"), viewCard(card, rulebookLimits()))
	if c := l.Humid; !near(c.Over.Lo, 80.0/85) || c.Source != "card" || len(c.Leaned) != 0 {
		t.Errorf("%+v", c)
	}
}

func TestTipAndPressureAgainstTheCard(t *testing.T) {
	card := plainCard("paint", "urethane surfacer")
	card.Tip = said(t, quantity.Film, "1.6-1.8 mm")
	card.Pressure = said(t, quantity.Pressure, "up to 30 psi")
	st := &sheet.Step{Tip: said(t, quantity.Film, "1.3 mm"), Pressure: said(t, quantity.Pressure, "36 psi")}
	var l Lay
	l.weather(st, sheet.Weather{}, viewCard(card, rulebookLimits()))
	if !near(l.TipLow.Over.Lo, 1.3/1.6) || !near(l.TipHigh.Over.Lo, 1.3/1.8) || l.TipLow.Limit.Text != "1.6 mm" {
		t.Errorf("tip %+v %+v", l.TipLow, l.TipHigh)
	}
	if !near(l.PressureHigh.Over.Lo, 1.2) || l.PressureLow.Over.Lo < 1 {
		t.Errorf("pressure %+v", l.PressureHigh)
	}
}
