package plan

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// property is one content line of an iCalendar stream, its value unescaped.
type property struct{ name, value string }

// readCalendar reads a stream as RFC 5545 has it and forgives nothing: CRLF at
// every end, no line over 75 octets, no character parted by a fold, no control
// character, names of letters and dashes, and BEGIN and END that match.
func readCalendar(stream []byte) ([]property, error) {
	text := string(stream)
	if !strings.HasSuffix(text, "\r\n") {
		return nil, fmt.Errorf("the last line has no end")
	}
	raw := strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
	var whole []string
	for i, l := range raw {
		switch {
		case len(l) > 75:
			return nil, fmt.Errorf("line %d has %d octets", i+1, len(l))
		case !utf8.ValidString(l):
			return nil, fmt.Errorf("line %d parts a character", i+1)
		case strings.HasPrefix(l, " "):
			if len(whole) == 0 {
				return nil, fmt.Errorf("the first line goes on from nothing")
			}
			whole[len(whole)-1] += l[1:]
		default:
			whole = append(whole, l)
		}
	}
	var out []property
	var open []string
	for _, l := range whole {
		for _, r := range l {
			if r < 0x20 || r == 0x7f {
				return nil, fmt.Errorf("%q holds a control character", l)
			}
		}
		name, value, ok := strings.Cut(l, ":")
		if !ok || name == "" || strings.Trim(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ-") != "" {
			return nil, fmt.Errorf("%q has no name", l)
		}
		switch name {
		case "BEGIN":
			open = append(open, value)
		case "END":
			if len(open) == 0 || open[len(open)-1] != value {
				return nil, fmt.Errorf("%q ends what is not open", l)
			}
			open = open[:len(open)-1]
		case "SUMMARY", "DESCRIPTION", "X-WR-CALNAME", "PRODID":
			v, err := unescape(value)
			if err != nil {
				return nil, err
			}
			value = v
		case "DTSTART", "DTEND":
			if _, err := time.Parse("20060102T150405", value); err != nil {
				return nil, err
			}
		case "DTSTAMP":
			if _, err := time.Parse("20060102T150405Z", value); err != nil {
				return nil, err
			}
		}
		out = append(out, property{name, value})
	}
	if len(open) > 0 {
		return nil, fmt.Errorf("%v is not ended", open)
	}
	return out, nil
}

func unescape(s string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case ';', ',':
			return "", fmt.Errorf("%q holds a bare %q", s, c)
		case '\\':
			i++
			if i == len(s) || !strings.ContainsRune(`\;,nN`, rune(s[i])) {
				return "", fmt.Errorf("%q escapes what needs no escape", s)
			}
			if s[i] == 'n' || s[i] == 'N' {
				b.WriteByte('\n')
				continue
			}
			b.WriteByte(s[i])
		default:
			b.WriteByte(c)
		}
	}
	return b.String(), nil
}

func one(summary, text string) Calendar {
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	return Calendar{Name: summary, Version: "0", UID: "TL-1", Stamp: at, Events: []Event{
		{ID: "step 1", Start: at, End: at.Add(time.Hour), Summary: summary, Text: text, Busy: true},
		{ID: "shuts", Start: at, Summary: "last moment"},
	}}
}

func TestNoTextBreaksOutOfItsLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nasty := rapid.StringOfN(rapid.RuneFrom([]rune("ab;,:\\\"\r\n\t \x00\x07\x7f\u0085\u2028é漆🎨")), 0, 300, -1)
		summary, text := nasty.Draw(t, "summary"), nasty.Draw(t, "text")
		got, err := readCalendar(one(summary, text).Write())
		if err != nil {
			t.Fatal(err)
		}
		begun := 0
		for _, p := range got {
			if p.name == "BEGIN" {
				begun++
			}
			// What a reader gets is the text, its line ends made one kind and its controls left out.
			if p.name == "DESCRIPTION" && p.value != plain(text) {
				t.Fatalf("%q came back as %q", text, p.value)
			}
		}
		if begun != 3 {
			t.Fatalf("one calendar with two events has %d beginnings", begun)
		}
	})
}

func plain(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\r' || r == '\n' || r == '\u0085' || r == '\u2028':
			return '\n'
		case r < 0x20 || r == 0x7f:
			return -1
		}
		return r
	}, s)
}

func TestASheetCannotAddAnEventOfItsOwn(t *testing.T) {
	got, err := readCalendar(one("door\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:spray at once", "").Write())
	if err != nil {
		t.Fatal(err)
	}
	want := "BEGIN VERSION PRODID CALSCALE METHOD X-WR-CALNAME " +
		"BEGIN UID DTSTAMP DTSTART DTEND SUMMARY TRANSP END " +
		"BEGIN UID DTSTAMP DTSTART SUMMARY TRANSP END END"
	var names []string
	for _, p := range got {
		names = append(names, p.name)
	}
	if strings.Join(names, " ") != want {
		t.Errorf("the lines are %v", names)
	}
}

func TestTheUIDStaysAndTellsEventsApart(t *testing.T) {
	a, b := one("a", "").Write(), one("another title, another day", "").Write()
	uids := func(stream []byte) (out []string) {
		props, err := readCalendar(stream)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range props {
			if p.name == "UID" {
				out = append(out, p.value)
			}
		}
		return out
	}
	ua, ub := uids(a), uids(b)
	if len(ua) != 2 || ua[0] == ua[1] {
		t.Errorf("two events have the UIDs %v", ua)
	}
	if fmt.Sprint(ua) != fmt.Sprint(ub) {
		t.Errorf("the same events of the same sheet have %v and %v", ua, ub)
	}
}
