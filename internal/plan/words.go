package plan

import (
	"time"

	"guidecoat/internal/quantity"
)

// Nearest, Up and Down round a time to the minute. The opening of a window is
// rounded up and its shutting down, so that it is never said to open sooner or
// to shut later than it does.
func Nearest(t time.Time) time.Time { return t.Round(time.Minute) }
func Up(t time.Time) time.Time      { return t.Add(time.Minute - time.Second).Truncate(time.Minute) }
func Down(t time.Time) time.Time    { return t.Truncate(time.Minute) }

// Spoken is a moment for a painter: "Mon 2 Mar 08:00", both ends where they
// part, "or later" where it has no end, "not known" where there is none.
func Spoken(m *Moment, round func(time.Time) time.Time) string {
	if m == nil {
		return "not known"
	}
	if m.Latest == nil {
		return Wall(m.Earliest, round) + " or later"
	}
	if *m.Latest == m.Earliest {
		return Wall(m.Earliest, round)
	}
	a, b := Wall(m.Earliest, round), Wall(*m.Latest, round)
	if a == b {
		return a
	}
	if a[:len(a)-5] == b[:len(b)-5] && m.Earliest[:4] == (*m.Latest)[:4] {
		b = b[len(b)-5:]
	}
	return a + " to " + b
}

// Wall writes a time of the plan to the minute: "Mon 2 Mar 08:00".
func Wall(t string, round func(time.Time) time.Time) string {
	at, err := time.Parse(wallClock, t)
	if err != nil {
		return t
	}
	return round(at).Format("Mon 2 Jan 15:04")
}

// HoursLong writes hours for a painter.
func HoursLong(h float64) string {
	unit := "h"
	switch {
	case h >= 72:
		unit = "days"
	case h < 2:
		unit = "min"
	}
	return quantity.Format(quantity.Exactly(h*60), quantity.Time, unit)
}

// SourceWords says by whose numbers a window stands.
func SourceWords(source string) string {
	switch source {
	case "card":
		return " by its card"
	case "typical":
		return " by what is typical of its kind"
	}
	return " by the limits table"
}
