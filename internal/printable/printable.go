// Package printable makes strings fit to be printed: it shows what a terminal would
// act on, measures what it would take up, and breaks it into lines.
//
// It promises that what it gives back can do nothing but be read. It knows
// nothing of sheets.
package printable

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/mattn/go-runewidth"
)

// Visible makes control characters of a sheet's own strings visible, so that a
// terminal never acts on them: C0 controls become their control pictures
// (U+2400 on), other controls and the marks that turn or hide text become
// <U+XXXX>. Line ends and tabs count as controls too.
func Visible(s string) string {
	clean := true
	for _, r := range s {
		if Hidden(r) {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !Hidden(r):
			b.WriteRune(r)
		case r < 0x20:
			b.WriteRune(0x2400 + r)
		case r == 0x7f:
			b.WriteRune(0x2421)
		default:
			fmt.Fprintf(&b, "<U+%04X>", r)
		}
	}
	return b.String()
}

// Hidden tells of a character that Visible shows, as a terminal would act on it,
// it turns or hides the words around it, or nobody sees it.
func Hidden(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' || r == unicode.ReplacementChar ||
		unicode.Is(unicode.Co, r) || (r >= 0xfe00 && r <= 0xfe0f) || r&0xfffe == 0xfffe // no characters, and not XML's
}

// Width is how many terminal columns s takes.
func Width(s string) int { return runewidth.StringWidth(s) }

// Wrap breaks s into lines of at most columns terminal columns, at spaces; a
// word longer than a line is broken where it must be.
func Wrap(s string, columns int) []string {
	if columns < 8 {
		columns = 8
	}
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for Width(word) > columns {
			if line != "" {
				lines = append(lines, line)
				line = ""
			}
			head := runewidth.Truncate(word, columns, "")
			if head == "" { // a single character wider than the line
				_, size := utf8.DecodeRuneInString(word)
				head = word[:size]
			}
			lines = append(lines, head)
			word = word[len(head):]
		}
		switch {
		case word == "":
		case line == "":
			line = word
		case Width(line)+1+Width(word) <= columns:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Pad fills s with spaces to columns.
func Pad(s string, columns int) string {
	if n := columns - Width(s); n > 0 {
		return s + strings.Repeat(" ", n)
	}
	return s
}

// JSON writes v as indented JSON in which every text can do nothing but be
// read: what Visible would show is written as an escape. It reads back as it
// was.
func JSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(EscapedJSON(b.Bytes()))
	return err
}

// EscapedJSON is the same JSON with every character that Visible would show
// written as an escape; line ends and blanks between the values stay. The text
// is UTF-8, as encoding/json writes it.
func EscapedJSON(text []byte) []byte {
	return escaped(text, func(r rune) string {
		high, low := utf16.EncodeRune(r)
		return fmt.Sprintf(`\u%04x\u%04x`, high, low)
	})
}

// EscapedTOML is the same for TOML in which every text is a basic string, on
// one line and in double quotes.
func EscapedTOML(text []byte) []byte {
	return escaped(text, func(r rune) string { return fmt.Sprintf(`\U%08x`, r) })
}

// escaped writes what Visible would show as escapes: \uXXXX, and as wide has it
// where that is too short. C0 controls are left: the writers escape them.
func escaped(text []byte, wide func(rune) string) []byte {
	acts := func(r rune) bool { return r >= 0x7f && Hidden(r) }
	if !bytes.ContainsFunc(text, acts) {
		return text
	}
	var b bytes.Buffer
	for _, r := range string(text) {
		switch {
		case !acts(r):
			b.WriteRune(r)
		case r > 0xffff:
			b.WriteString(wide(r))
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.Bytes()
}
