package printable

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestVisibleShowsWhatATerminalWouldActOn(t *testing.T) {
	for in, want := range map[string]string{
		"blue base, P80, 20 µm": "blue base, P80, 20 µm",
		"\x1b[31m":              "␛[31m",
		"a\r\n\tb":              "a␍␊␉b",
		"\x7f":                  "␡",
		"\u0085":                "<U+0085>",
		"a\u202eb":              "a<U+202E>b",
		"\u200b":                "<U+200B>",
		"\ufffe":                "<U+FFFE>",
	} {
		if got := Visible(in); got != want {
			t.Errorf("Visible(%q) is %q, not %q", in, got, want)
		}
	}
}

func TestWrapLosesNothingAndFitsTheColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`([a-zµ膜]{1,30} {0,2}){0,12}`).Draw(t, "words")
		columns := rapid.IntRange(8, 90).Draw(t, "columns")
		lines := Wrap(words, columns)
		for _, l := range lines {
			if Width(l) > columns {
				t.Fatalf("%d columns of %d: %q", Width(l), columns, l)
			}
		}
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := squeeze(strings.Join(lines, "")), squeeze(words); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}
