package stack

import (
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// weatherAt is what the surroundings are during a step: what it says of them
// itself, else the booth's.
func weatherAt(own, booth sheet.Weather) sheet.Weather {
	w := booth
	if own.Air.Written {
		w.Air = own.Air
	}
	if own.Panel.Written {
		w.Panel = own.Panel
	}
	if own.Humidity.Written {
		w.Humidity = own.Humidity
	}
	if own.Where.Written {
		w.Where = own.Where
	}
	return w
}

// amountMeasure is a written amount as a measure, null where it is not written.
func amountMeasure(a sheet.Amount) *Measure {
	if !a.Written {
		return nil
	}
	m := measure(a.Interval, a.Dim, a.Unit)
	return &m
}

// weather fills in what a lay meets: temperatures, humidity, dew point, and
// the gun's tip and pressure beside the card's.
func (l *Lay) weather(st *sheet.Step, booth sheet.Weather, v *cardView) {
	w := weatherAt(st.Weather, booth)
	l.Air, l.Panel, l.Humidity = amountMeasure(w.Air), amountMeasure(w.Panel), amountMeasure(w.Humidity)
	if dew, ok := dewPoint(w); ok {
		m := measure(dew, quantity.Temperature, w.Air.Unit)
		l.DewPoint = &m
		if w.Panel.Written {
			panel := closed(w.Panel.Interval)
			margin := quantity.Interval{Lo: panel.Lo - dew.Hi, Hi: panel.Hi - dew.Lo}
			l.DewMargin = compare("least", margin, false, w.Panel.Unit, v.limits.number("dew_margin"))
		}
	}
	low, high := v.airRange()
	if w.Air.Written {
		l.ColdAir = compare("least", w.Air.Interval, false, w.Air.Unit, low)
		l.HotAir = compare("most", w.Air.Interval, false, w.Air.Unit, high)
	}
	if w.Panel.Written {
		l.ColdPanel = compare("least", w.Panel.Interval, false, w.Panel.Unit, low)
		l.HotPanel = compare("most", w.Panel.Interval, false, w.Panel.Unit, high)
	}
	if w.Humidity.Written {
		l.Humid = compare("most", w.Humidity.Interval, false, w.Humidity.Unit, v.humidityMost())
	}
	if st.Tip.Written {
		tip := v.number("tip")
		l.TipLow = compare("least", st.Tip.Interval, false, st.Tip.Unit, tip.least())
		l.TipHigh = compare("most", st.Tip.Interval, false, st.Tip.Unit, tip.most())
	}
	if st.Pressure.Written {
		pressure := v.number("pressure")
		l.PressureLow = compare("least", st.Pressure.Interval, false, st.Pressure.Unit, pressure.least())
		l.PressureHigh = compare("most", st.Pressure.Interval, false, st.Pressure.Unit, pressure.most())
	}
}

// dewPoint is the dew point of the air, °C. It rises with both temperature and
// humidity, so that its ends come of theirs. It is not told where either is
// not written.
func dewPoint(w sheet.Weather) (quantity.Interval, bool) {
	if !w.Air.Written || !w.Humidity.Written {
		return quantity.Interval{}, false
	}
	air, damp := closed(w.Air.Interval), closed(w.Humidity.Interval)
	if air.Lo <= absoluteZero {
		return quantity.Interval{}, false
	}
	return quantity.Interval{
		Lo: trade.DewPoint(air.Lo, damp.Lo),
		Hi: trade.DewPoint(air.Hi, math.Min(damp.Hi, 100)),
	}, true
}

// closed puts the end that is written in for one that is open: an open end
// breaks nothing.
func closed(iv quantity.Interval) quantity.Interval {
	if iv.IsOpen() {
		iv.Hi = iv.Lo
	}
	if iv.Lo <= absoluteZero {
		iv.Lo = iv.Hi
	}
	return iv
}
