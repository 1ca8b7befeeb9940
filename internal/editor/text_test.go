package editor

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"pgregory.net/rapid"

	"guidecoat/internal/sheet"
)

// anyText is a text of letters of one, two, three and four bytes, line ends of
// every sort, marks, and bytes that are no UTF-8.
var anyText = rapid.Custom(func(t *rapid.T) []byte {
	parts := rapid.SliceOf(rapid.SampledFrom([]string{
		"a", "step", " ", "ß", "µ", "界", "\u2028", "🎨", "𝒳", "e\u0301", "\ufeff", "\ufffd", "\n", "\r\n", "\r", "\xff", "\xc3", "\xf0\x9f", "\xed\xa0\x80", "\x00", "\t",
	})).Draw(t, "parts")
	return []byte(strings.Join(parts, ""))
})

// reckoned is where an offset stands, reckoned by the standard library: lines
// split off, and the rest encoded in UTF-16.
func reckoned(b []byte, offset int) position {
	before := string(b[:offset])
	if strings.HasSuffix(before, "\r") && offset < len(b) && b[offset] == '\n' {
		before = before[:len(before)-1] // between the two halves of a line's end
	}
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(before, "\r\n", "\n"), "\r", "\n"), "\n")
	return position{uint32(len(lines) - 1), uint32(len(utf16.Encode([]rune(lines[len(lines)-1]))))}
}

func TestPositionsAreThoseOfUTF16(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyText.Draw(t, "text")
		text := newText(b)
		for offset := 0; ; {
			got, want := text.position(offset), reckoned(b, offset)
			if got != want {
				t.Fatalf("%q: offset %d stands at %v, not at %v", b, offset, got, want)
			}
			back := text.offset(got)
			if between := back < offset && b[back] == '\r'; back != offset && !between {
				t.Fatalf("%q: %v is offset %d, not %d", b, got, back, offset)
			}
			if offset == len(b) {
				break
			}
			_, size := utf8.DecodeRune(b[offset:])
			offset += size
		}
	})
}

func TestAnyPositionIsAnOffsetBetweenCharacters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyText.Draw(t, "text")
		text := newText(b)
		p := position{rapid.Uint32().Draw(t, "line"), rapid.Uint32().Draw(t, "character")}
		if rapid.Bool().Draw(t, "near") {
			p = position{p.Line % 5, p.Character % 7}
		}
		offset := text.offset(p)
		if offset < 0 || offset > len(b) {
			t.Fatalf("%v is offset %d of %d", p, offset, len(b))
		}
		if got := text.offset(text.position(offset)); got != offset {
			t.Fatalf("%q: %v is offset %d, and that is not between characters (%d)", b, p, offset, got)
		}
	})
}

func TestLinesAndColumnsOfSheetsAreTheSameOffsets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyText.Draw(t, "text")
		x, _ := sheet.NewIndex("x.toml", b)
		text := newText(b)
		line, column := rapid.IntRange(-1, 6).Draw(t, "line"), rapid.IntRange(-1, 9).Draw(t, "column")
		if line < 1 {
			return // the index puts those behind a mark, and no place has them
		}
		if got, want := text.at(line, column), x.Offset(line, column); got != want {
			t.Fatalf("%q: line %d, column %d is offset %d, not %d", b, line, column, got, want)
		}
	})
}

func TestWhatIsTOMLIsIndexedAsItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole sheets, with lines knocked out of them: what is left of their
		// other lines must still be found.
		lines := strings.SplitAfter(head, "\n")
		broken := rapid.IntRange(0, len(lines)-2).Draw(t, "line")
		how := rapid.SampledFrom([]string{"wear = [\n", "x = \"\n", "x\n", "x =\n", "[\n", "[[step\n", "says = \"\"\"\n", "= 5\n", "a = {b = \n", "\xff\n", "'''\n", "cuts_to = [{to = \"x\"\n"}).Draw(t, "how")
		text := strings.Join(lines[:broken], "") + how + strings.Join(lines[broken:], "")
		x := indexed("x.toml", []byte(text))
		for i, line := range lines {
			key, value, found := strings.Cut(strings.TrimSuffix(line, "\n"), " = ")
			if !found || strings.HasPrefix(value, "[") {
				continue
			}
			at := len(strings.Join(lines[:i], ""))
			if i >= broken {
				at += len(how)
			}
			n := x.At(at)
			if n.Name != key || string(x.Slice(n.Value)) != value {
				t.Fatalf("with %q before line %d, line %d (%q) is read as %q = %q", how, broken+1, i+1, line, n.Name, x.Slice(n.Value))
			}
		}
	})
}

func TestAnySpotOfAnyTextIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom([]string{
			"[[step]]", "[product.x]", "do", "=", "\"", "'", "\"\"\"", "'''", "[", "]", "{", "}", ",", " ", "\n", "\r\n", "#", "\\", "a", "grey-epoxy", "24 h", ".", "🎨", "\xff", "\ufeff",
		}), 0, 60).Draw(t, "parts")
		b := []byte(strings.Join(parts, ""))
		x := indexed("x.toml", b)
		for offset := 0; offset <= len(b); offset++ {
			s := spotAt(x, b, offset)
			if s.start < 0 || s.start > s.end || s.end > len(b) || s.place != nowhere && (offset < s.start || offset > s.end) {
				t.Fatalf("%q: at %d the word is %d to %d (%v)", b, offset, s.start, s.end, s.place)
			}
			if s.place == inValue && len(s.path) == 0 {
				t.Fatalf("%q: at %d a value stands behind no key", b, offset)
			}
			if s.place != nowhere && bytes.ContainsAny(b[s.start:s.end], "\n") && s.quote == 0 {
				t.Fatalf("%q: at %d the word %q goes over a line's end", b, offset, b[s.start:s.end])
			}
		}
	})
}
