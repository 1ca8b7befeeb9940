package printable

import (
	"bytes"
	"encoding/json"
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

func TestJSONReadsBackAsItWasAndHoldsNothingThatActs(t *testing.T) {
	text := "a\x1b[31m\u009b31m\x7f\u202eb\u200b\u2028\U000e0041\U0010ffff\ufffe漢 é <b> \"q\" \\ \n"
	var b bytes.Buffer
	if err := JSON(&b, map[string]any{text: []string{text}, "n": 1}); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && Hidden(r) {
			t.Errorf("U+%04X stands raw in %q", r, b.String())
		}
	}
	if !strings.Contains(b.String(), "漢 é") {
		t.Errorf("what anybody may read is escaped: %s", b.String())
	}
	var back map[string]any
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if got, ok := back[text].([]any); !ok || got[0] != text {
		t.Errorf("it reads back as %q", back)
	}
	plain := []byte("{\n  \"a\": \"é\"\n}\n")
	if got := EscapedJSON(plain); !bytes.Equal(got, plain) {
		t.Errorf("harmless JSON becomes %q", got)
	}
}
