package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"time"
	"unicode/utf8"
)

// Event is one entry of a calendar. Times are wall clock, without a time zone.
type Event struct {
	// ID tells it from every other event of the calendar; UID and ID together make a UID that stays the same.
	ID         string
	Start, End time.Time // End not after Start: a moment
	Summary    string
	Text       string
	// Busy: somebody has to be there; a wait or a window leaves the day free.
	Busy bool
}

// Calendar is a set of events of one sheet.
type Calendar struct {
	Name    string
	Version string    // of the program
	UID     string    // what tells this sheet from others
	Stamp   time.Time // written as the moment the calendar was made, so that the same plan is the same bytes
	Events  []Event
}

const icalWall = "20060102T150405"

// Write is the calendar as iCalendar (RFC 5545): lines end in CRLF and are
// folded at 75 octets (3.1), text is escaped (3.3.11), and times are of the
// 'floating' form (3.3.5), which means the same hour on any wall.
func (c Calendar) Write() []byte {
	var b strings.Builder
	line := func(name, value string) { fold(&b, name+":"+value) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", escape("-//guidecoat//clock "+c.Version+"//EN"))
	line("CALSCALE", "GREGORIAN")
	line("METHOD", "PUBLISH")
	line("X-WR-CALNAME", escape(c.Name))
	for _, e := range c.Events {
		line("BEGIN", "VEVENT")
		line("UID", uid(c.UID, e.ID))
		line("DTSTAMP", c.Stamp.Format(icalWall)+"Z")
		line("DTSTART", e.Start.Format(icalWall))
		if e.End.After(e.Start) {
			line("DTEND", e.End.Format(icalWall))
		}
		line("SUMMARY", escape(e.Summary))
		if e.Text != "" {
			line("DESCRIPTION", escape(e.Text))
		}
		if e.Busy {
			line("TRANSP", "OPAQUE")
		} else {
			line("TRANSP", "TRANSPARENT")
		}
		line("END", "VEVENT")
	}
	line("END", "VCALENDAR")
	return []byte(b.String())
}

// uid is the same for the same event of the same sheet, and holds nothing of
// what the sheet says. A zero byte parts the two, as no text of a sheet holds one.
func uid(sheet, event string) string {
	sum := sha256.Sum256([]byte(sheet + "\x00" + event))
	return hex.EncodeToString(sum[:16]) + "@guidecoat"
}

// escape makes text of a value (RFC 5545, 3.3.11). Line ends of any kind become
// \n; other control characters, which no text may hold, are left out.
func escape(s string) string {
	var b strings.Builder
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n")
	for _, r := range s {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n' || r == '\r' || r == '\u0085' || r == '\u2028' || r == '\u2029':
			b.WriteString(`\n`)
		case r < 0x20 || r >= 0x7f && r < 0xa0:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// fold writes one content line in pieces of at most 75 octets, and never parts
// a character (RFC 5545, 3.1).
func fold(b *strings.Builder, s string) {
	room := 75
	for len(s) > room {
		cut := room
		for cut > 1 && !utf8.RuneStart(s[cut]) {
			cut--
		}
		b.WriteString(s[:cut] + "\r\n ")
		s, room = s[cut:], 74
	}
	b.WriteString(s + "\r\n")
}
