package sheet

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	burnt "github.com/BurntSushi/toml"
	"pgregory.net/rapid"

	"guidecoat/internal/printable"
)

// checkPlaces holds every node below n to the text and to its decoded value,
// and counts them.
func checkPlaces(t interface {
	Helper()
	Errorf(string, ...any)
}, x *Index, n *Node, value any) int {
	t.Helper()
	count := 0
	fail := func(c *Node, format string, args ...any) {
		t.Helper()
		t.Errorf("%s: %s: "+format, append([]any{x.File, c.Path()}, args...)...)
	}
	for _, c := range n.Children {
		count++
		var v any
		switch list := value.(type) {
		case map[string]any:
			v = list[c.Name]
		case []any:
			v = list[c.N-1]
		case []map[string]any:
			v = list[c.N-1]
		}
		if !c.Key.IsZero() {
			var decoded map[string]any
			if _, err := burnt.Decode(string(x.Slice(c.Key))+" = 1", &decoded); err != nil || len(decoded) != 1 {
				fail(c, "its key reads %q", x.Slice(c.Key))
			} else if name := c.Name; c.N == 0 && decoded[name] == nil {
				fail(c, "its key reads %q", x.Slice(c.Key))
			}
		}
		switch c.Form {
		case FormTable, FormTables:
			if !c.Header.IsZero() {
				header := string(x.Slice(c.Header))
				if !strings.HasPrefix(header, "[") || !strings.HasSuffix(header, "]") || strings.ContainsAny(header, "\r\n") {
					fail(c, "its header reads %q", header)
				}
				if c.Header.Start < c.Whole.Start && !c.Parted {
					fail(c, "its header begins before it")
				}
			}
		default:
			if c.N == 0 {
				whole := string(x.Slice(c.Whole))
				if !strings.HasSuffix(whole, string(x.Slice(c.Value))) || !strings.Contains(whole, string(x.Slice(c.Key))) {
					fail(c, "its whole reads %q", whole)
				}
			}
			var decoded map[string]any
			if _, err := burnt.Decode("x = "+string(x.Slice(c.Value)), &decoded); err != nil {
				fail(c, "its value reads %q: %v", x.Slice(c.Value), err)
			} else if !same(decoded["x"], v) {
				fail(c, "its value reads %q, and is %v", x.Slice(c.Value), v)
			}
		}
		if found := x.Find(c.Path()); found != c {
			// A key may stand beside a list's entry of the same path only if
			// the file writes a table twice, which is no TOML.
			fail(c, "its path leads to %v", found)
		}
		place := x.Place(c.Whole)
		if at := x.Offset(place.Line, place.Column); at != c.Whole.Start {
			fail(c, "line %d column %d is byte %d, not %d", place.Line, place.Column, at, c.Whole.Start)
		}
		count += checkPlaces(t, x, c, v)
	}
	return count
}

// same compares decoded values; NaN is itself, and lists of tables are lists.
func same(a, b any) bool {
	switch a := a.(type) {
	case float64:
		f, ok := b.(float64)
		return ok && (a == f || a != a && f != f)
	case []any:
		bs := listOfAny(b)
		if len(a) != len(bs) {
			return false
		}
		for i := range a {
			if !same(a[i], bs[i]) {
				return false
			}
		}
		return true
	case []map[string]any:
		return same(listOfAny(a), b)
	case map[string]any:
		m, ok := b.(map[string]any)
		if !ok || len(a) != len(m) {
			return false
		}
		for k := range a {
			if !same(a[k], m[k]) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a, b)
}

func TestEveryPlaceOfTheExamplesHoldsItsKeyAndValue(t *testing.T) {
	count := 0
	for _, f := range examples(t) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		values, x, problems := decode(f, text)
		if len(problems) > 0 {
			t.Errorf("%s: %+v", f, problems)
			continue
		}
		count += checkPlaces(t, x, x.Root, values)
	}
	if count < 500 {
		t.Errorf("only %d places were looked at", count)
	}
}

// examples are the sheets, shelves and house files that the project comes with.
func examples(t testing.TB) []string {
	t.Helper()
	var all []string
	for _, pattern := range []string{"../../specs-examples/*.toml", "../../specs-examples/*/*.toml", "../../testdata/sheet/*.toml"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, found...)
	}
	if len(all) < 3 {
		t.Fatalf("only %d example files were found", len(all))
	}
	return all
}

const indexed = `format = 1
# a note
[sheet]
title = "Tür" # a title
"odd key" = 'x'

[panel]
carries = ["e-coat", {kind = "factory finish", film = "4 mil"}]
area.size = "14 ft2"

[[step]]
do = "sand"
cuts_to = [
  "substrate", # one
  {to = "body filler",
   call = "rub"},
]
says = """
Two
lines"""

[[step]]
do = "spray"

[[step.cuts_to]]
to = "e-coat"

[product.a.as.b]
kind = "epoxy sealer"
`

func TestAnIndexKnowsTheTextOfEveryPart(t *testing.T) {
	tests := []struct {
		name, path                string
		key, value, whole, header string
		line, column              int // of Whole
		endLine, endColumn        int
	}{
		{"a key of the root", "format", "format", "1", "format = 1", "", 1, 1, 1, 11},
		{"a table from its header to its last value", "sheet", "sheet", "[sheet]\ntitle = \"Tür\" # a title\n\"odd key\" = 'x'", "[sheet]\ntitle = \"Tür\" # a title\n\"odd key\" = 'x'", "[sheet]", 3, 1, 5, 16},
		{"a value with a letter of two bytes, counted as one column", "sheet.title", "title", `"Tür"`, `title = "Tür"`, "", 4, 1, 4, 14},
		{"a quoted key", `sheet."odd key"`, `"odd key"`, `'x'`, `"odd key" = 'x'`, "", 5, 1, 5, 16},
		{"an entry of a list", "panel.carries[1]", "", `"e-coat"`, `"e-coat"`, "", 8, 12, 8, 20},
		{"a table in braces in a list", "panel.carries[2]", "", `{kind = "factory finish", film = "4 mil"}`, `{kind = "factory finish", film = "4 mil"}`, "", 8, 22, 8, 63},
		{"a key of a table in braces", "panel.carries[2].film", "film", `"4 mil"`, `film = "4 mil"`, "", 8, 48, 8, 62},
		{"a dotted key", "panel.area.size", "size", `"14 ft2"`, `area.size = "14 ft2"`, "", 9, 1, 9, 21},
		{"an entry on its own line, with a note behind it", "step[1].cuts_to[1]", "", `"substrate"`, `"substrate"`, "", 14, 3, 14, 14},
		{"a table in braces over two lines", "step[1].cuts_to[2]", "", "{to = \"body filler\",\n   call = \"rub\"}", "{to = \"body filler\",\n   call = \"rub\"}", "", 15, 3, 16, 17},
		{"a key in it", "step[1].cuts_to[2].call", "call", `"rub"`, `call = "rub"`, "", 16, 4, 16, 16},
		{"a text over lines ends where its quotes do", "step[1].says", "says", "\"\"\"\nTwo\nlines\"\"\"", "says = \"\"\"\nTwo\nlines\"\"\"", "", 18, 1, 20, 9},
		{"a table that ends with a table of its own", "step[2]", "step", "", "[[step]]\ndo = \"spray\"\n\n[[step.cuts_to]]\nto = \"e-coat\"", "[[step]]", 22, 1, 26, 14},
		{"a list of tables in a step", "step[2].cuts_to[1].to", "to", `"e-coat"`, `to = "e-coat"`, "", 26, 1, 26, 14},
		{"a table that only its deeper one makes", "product.a", "a", "", "[product.a.as.b]\nkind = \"epoxy sealer\"", "", 28, 1, 29, 22},
		{"the deeper one", "product.a.as.b", "b", "", "[product.a.as.b]\nkind = \"epoxy sealer\"", "[product.a.as.b]", 28, 1, 29, 22},
	}
	for _, lineEnd := range []string{"\n", "\r\n"} {
		for _, mark := range []string{"", "\xef\xbb\xbf"} {
			x, err := NewIndex("a.toml", []byte(mark+strings.ReplaceAll(indexed, "\n", lineEnd)))
			if err != nil {
				t.Fatal(err)
			}
			for _, test := range tests {
				n := x.Find(test.path)
				if n == nil {
					t.Errorf("%s: there is no %s", test.name, test.path)
					continue
				}
				check := func(what string, s Span, want string) {
					t.Helper()
					if got := strings.ReplaceAll(string(x.Slice(s)), lineEnd, "\n"); got != want {
						t.Errorf("%s: the %s reads %q, want %q", test.name, what, got, want)
					}
				}
				if !n.Key.IsZero() || test.key != "" {
					check("key", n.Key, test.key)
				}
				if test.value != "" {
					check("value", n.Value, test.value)
				}
				check("whole", n.Whole, test.whole)
				if test.header != "" {
					check("header", n.Header, test.header)
				}
				if p := x.Place(n.Whole); p.Line != test.line || p.Column != test.column || p.EndLine != test.endLine || p.EndColumn != test.endColumn {
					t.Errorf("%s: stands at %d:%d to %d:%d, want %d:%d to %d:%d", test.name,
						p.Line, p.Column, p.EndLine, p.EndColumn, test.line, test.column, test.endLine, test.endColumn)
				}
				if n.Path() != test.path {
					t.Errorf("%s: calls itself %s, want %s", test.name, n.Path(), test.path)
				}
			}
		}
	}
}

func TestAnIndexFindsWhatACursorStandsIn(t *testing.T) {
	x, err := NewIndex("a.toml", []byte(indexed))
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct{ name, before, path string }{
		{"in a key", "itle = ", "sheet.title"},
		{"in a value", "ür", "sheet.title"},
		{"just behind a value", " # a title", "sheet.title"},
		{"in a header", "heet]", "sheet"},
		{"in an entry of a list", "-coat\", {", "panel.carries[1]"},
		{"deep in a table in braces", "mil\"}]", "panel.carries[2].film"},
		{"at a brace, before any key", "{kind", "panel.carries[2]"},
		{"in a step between its keys", "\n  \"substrate\"", "step[1].cuts_to"},
		{"in a note before any table", "a note", ""},
	}
	for _, test := range tests {
		at := strings.Index(indexed, test.before)
		if at < 0 {
			t.Fatalf("%s: there is no %q", test.name, test.before)
		}
		if got := x.At(at).Path(); got != test.path {
			t.Errorf("%s: stands in %q, want %q", test.name, got, test.path)
		}
	}
}

func TestATableThatGoesOnElsewhereIsParted(t *testing.T) {
	x, err := NewIndex("a.toml", []byte("[[step]]\ndo = \"sand\"\n\n[booth]\nair = \"72 F\"\n\n[[step.cuts_to]]\nto = \"substrate\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	n := x.Find("step[1]")
	if !n.Parted || string(x.Slice(n.Whole)) != "[[step]]\ndo = \"sand\"" {
		t.Errorf("the step is %q, parted %v", x.Slice(n.Whole), n.Parted)
	}
	if got := x.Find("step[1].cuts_to[1].to"); got == nil {
		t.Error("its cut is not found")
	}
}

func TestAnIndexOfABrokenTextHoldsWhatCameBefore(t *testing.T) {
	x, err := NewIndex("a.toml", []byte("[sheet]\ntitle = \"a\"\nwork = \n[panel]\n"))
	// [sheet] and its newline are 8 bytes, the title's line 12, `work = ` 7.
	if err == nil || err.Start != 27 {
		t.Fatalf("the fault is %+v, want one at byte 27", err)
	}
	if x.Find("sheet.title") == nil || x.Find("panel") != nil {
		t.Error("it should hold the title and not the panel")
	}
}

func TestPositionAndOffsetAreEachOthersInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.StringOfN(rapid.SampledFrom([]rune("aé漢😀 \t\"=")), 0, 12, -1)
		text := strings.Join(rapid.SliceOfN(line, 1, 8).Draw(t, "lines"), rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end"))
		if rapid.Bool().Draw(t, "mark") {
			text = "\xef\xbb\xbf" + text
		}
		x, _ := NewIndex("a.toml", []byte(text))
		for i := bom([]byte(text)); i <= len(text); i++ {
			if i < len(text) && !utf8.RuneStart(text[i]) {
				continue
			}
			line, column := x.Position(i)
			if at := x.Offset(line, column); at != i {
				t.Fatalf("byte %d is line %d column %d, and that is byte %d", i, line, column, at)
			}
			if want := 1 + bytes.Count([]byte(text[:i]), []byte("\n")); line != want {
				t.Fatalf("byte %d is on line %d, want %d", i, line, want)
			}
		}
	})
}

func TestAQuotedTextReadsBackAndHoldsNothingThatActs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\"\\\n\t\r\x00\x1b\x7f\u0085\u009b\u202e\u200b\ufeff\ufffe\U000e0041é漢")))).Draw(t, "text")
		quoted := Quote(text)
		for _, r := range quoted {
			if printable.Hidden(r) {
				t.Fatalf("U+%04X stands raw in %q", r, quoted)
			}
		}
		values, _, problems := decode("a.toml", []byte("a = "+quoted+"\n"+quoteKey(text)+" = 1\n"))
		if text != "a" && (problems != nil || values["a"] != text || values[text] != int64(1)) {
			t.Fatalf("%s reads back as %q: %v", quoted, values, problems)
		}
	})
}
