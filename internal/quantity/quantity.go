// Package quantity reads and writes the numbers of a process sheet: a number
// or a range, with its unit. It knows units and intervals and nothing about
// paint.
//
// Every quantity is an interval. What nobody wrote is the zero Quantity
// (Written is false); a range without an upper end has Hi = +Inf. The package
// promises that a quantity it returns is never negative (temperatures apart),
// never backwards, never NaN.
package quantity

import "math"

// Interval is a closed range Lo..Hi in one unit. Hi is +Inf where the upper
// end is open. The zero Interval is exactly zero.
type Interval struct{ Lo, Hi float64 }

// Exactly returns the interval holding v alone.
func Exactly(v float64) Interval { return Interval{v, v} }

// Open is what nobody stated: zero to no upper end.
var Open = Interval{0, math.Inf(1)}

// Dimension says what a quantity measures, and so which units it may carry.
type Dimension int

// The dimensions, each with the canonical unit its Interval is held in.
const (
	Time          Dimension = iota + 1 // minutes
	Film                               // mil (also thicknesses, fluid tips, scratch depth)
	Temperature                        // °C
	TempMargin                         // °C, a difference: 5 °F is 2.8 °C
	Area                               // ft²
	Volume                             // L
	Concentration                      // g/L (VOC and density)
	Pressure                           // psi
	Share                              // %
	Coverage                           // m²/L
	Particle                           // µm, median particle of an abrasive
	Count                              // plain number (coats, ratios)
)

// Quantity is one written quantity.
type Quantity struct {
	Interval           // in the dimension's canonical unit
	Dim      Dimension // what it measures
	Unit     string    // the unit it was written in, in its printed spelling ("h", "°F", "mil", "µm")
	Text     string    // as written
	Until    string    // for a wait that is a condition ("matte", "dry to touch"); the interval is then Open
	Written  bool      // false for the zero value: nobody wrote it
	Never    bool      // "never", as a kind's typical numbers have it
}

// Error says what is wrong with a written quantity and what would be right,
// in words for a painter.
type Error struct {
	Text    string // what was written
	Problem string // what is wrong, e.g. `"15" has no unit`
	Want    string // what would be accepted, e.g. `write a time such as "15 min" or "1 h - 72 h"`
}

func (e *Error) Error() string { return e.Problem + "; " + e.Want }
