package draft

import (
	"math"
	"strconv"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// step is one step of a sheet that is being drafted.
type step struct {
	why  []string // comment lines above it
	do   string
	keys []key // in the order they are written, between do and then_wait
	call string
	on   []string // zones; nil is all
	wait float64  // then_wait, min; 0 is not written
	says string
	wear []string
}

// key is one key of a step with its value as TOML.
type key struct{ name, value string }

// text adds a key with a text.
func (s step) text(name, value string) step {
	if value == "" {
		return s
	}
	return s.raw(name, sheet.Quote(value))
}

// raw adds a key with a value that is TOML already.
func (s step) raw(name, value string) step {
	s.keys = append(s.keys[:len(s.keys):len(s.keys)], key{name, value})
	return s
}

// write puts the step down as a person would write it.
func (s step) write(b *strings.Builder) {
	b.WriteByte('\n')
	for _, line := range s.why {
		comment(b, line)
	}
	b.WriteString("[[step]]\n")
	line := func(name, value string) { b.WriteString(name + " = " + value + "\n") }
	line("do", sheet.Quote(s.do))
	rest := s.keys
	if len(rest) > 0 && rest[0].name == "product" {
		line(rest[0].name, rest[0].value)
		rest = rest[1:]
	}
	if s.call != "" {
		line("call", sheet.Quote(s.call))
	}
	switch len(s.on) {
	case 0:
	case 1:
		line("on", sheet.Quote(s.on[0]))
	default:
		line("on", list(s.on))
	}
	for _, k := range rest {
		line(k.name, k.value)
	}
	if s.wait > 0 {
		line("then_wait", sheet.Quote(span(s.wait)))
	}
	if s.says != "" {
		line("says", sheet.Quote(s.says))
	}
	if len(s.wear) > 0 {
		line("wear", list(s.wear))
	}
}

// comment writes words as comment lines of no more than 90 columns.
func comment(b *strings.Builder, words string) {
	for _, l := range printable.Wrap(printable.Visible(words), 88) {
		b.WriteString(strings.TrimRight("# "+l, " ") + "\n")
	}
}

// list is an array of texts.
func list(texts []string) string {
	all := make([]string, len(texts))
	for i, t := range texts {
		all[i] = sheet.Quote(t)
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// span writes a time of so many minutes in the unit a painter would use.
func span(minutes float64) string {
	unit := "min"
	switch {
	case minutes >= 72*60 && math.Mod(minutes, 24*60) == 0:
		unit = "days"
	case minutes >= 60 && math.Mod(minutes, 30) == 0:
		unit = "h"
	}
	return quantity.Format(quantity.Exactly(minutes), quantity.Time, unit)
}

// whole is a wait that is no shorter than so many minutes, as it is read off a
// clock: to five minutes up to two hours, to half an hour beyond.
func whole(minutes float64) float64 {
	to := 5.0
	if minutes > 120 {
		to = 30
	}
	// A number off a card comes through unit conversions; a trillionth over is not over.
	return math.Ceil(minutes/to-1e-9) * to
}

func itoa(n int) string { return strconv.Itoa(n) }
