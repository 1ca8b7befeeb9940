package handout

import (
	"bytes"
	"fmt"
	"html/template"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"guidecoat/internal/generate"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// What a string of a sheet tries: to end a tag, an attribute, a style, a
// script or a drawing, to run, to color a terminal, to turn its neighbours.
const hostile = "</script></style></svg></title><script>alert(1)</script><img src=x onerror=alert(1)>" +
	"\"' onload='x' javascript:alert(1) {{.Title}} <!-- ]]> &lt;b&gt; \x1b[31mred\x1b]8;;http://evil.example\x07 \u202egnol\u2066 \u200b\ufeff https://evil.example/"

// asTOML writes a string as TOML reads it back.
func asTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// hostileSheet puts the string, told apart by a number, into every field that
// takes any words, and says which numbers must be found on the page.
func hostileSheet() (text string, shown []string) {
	n := 0
	h := func() string {
		n++
		mark := fmt.Sprintf("H%02d", n)
		shown = append(shown, mark)
		return asTOML(mark + hostile)
	}
	zone, call, product, hardener, reducer, additive, cut, use := h(), h(), h(), h(), h(), h(), h(), h()
	return `format = 1
[sheet]
title = ` + h() + `
number = ` + h() + `
revision = ` + h() + `
author = ` + h() + `
[booth]
air = "72 F"
region = "us"
[panel]
part = ` + h() + `
substrate = "mild steel"
area = "14 ft2"
[[zone]]
name = ` + zone + `
area = "2 ft2"
[product.` + product + `]
kind = "epoxy primer"
label = ` + h() + `
data_sheet = {number = ` + h() + `}
safety_sheet = {number = ` + h() + `}
mix = "1:1:0.1"
hardener = ` + hardener + `
reducer = ` + reducer + `
[product.` + product + `.as.` + use + `]
kind = "epoxy sealer"
[product.` + additive + `]
kind = "fisheye additive"
[[step]]
do = "spray"
call = ` + call + `
product = ` + product + `
on = ` + zone + `
wet_film = "3 mil"
hardener = ` + h() + `
reducer = ` + h() + `
additive = ` + additive + `
says = ` + h() + `
fades = [` + zone + `]
[[step]]
do = "sand"
grit = "P80"
cuts_to = {to = "substrate", call = ` + cut + `, area = "3 in2"}
except = "panel"
[[step]]
do = "spray"
product = ` + product + `
as = ` + use + `
on = ` + cut + `
[[step]]
do = "mask"
on = ` + zone + `
over = ["panel"]
[[waiver]]
rule = "smooth-bare-metal"
reason = ` + h() + `
by = ` + h() + `
`, shown
}

// harmless: the page has the elements, attributes and characters that the
// layout gave it, and none that a string brought along.
func harmless(t *testing.T, page []byte) {
	t.Helper()
	sound(t, page)
	for _, r := range string(page) {
		if r < 0x20 && r != '\n' || r == 0x7f || r == 0x202e || r == 0x2066 || r == 0x200b || r == 0xfeff {
			t.Fatalf("the page holds %U", r)
		}
	}
	doc := parse(t, page)
	known := map[string]bool{}
	for _, name := range strings.Fields("html head meta title style body a header div p h1 bdi dl dt dd nav ul li main section h2 h3 table caption thead tbody tr th td small " +
		"button span ol b br figure figcaption svg desc defs pattern rect path circle text article footer script") {
		known[name] = true
	}
	for _, e := range all(doc) {
		if !known[e.Data] {
			t.Errorf("there is a <%s>", e.Data)
		}
	}
	for d := range doc.Descendants() {
		if d.Type == html.CommentNode {
			t.Errorf("there is a comment: %q", d.Data)
		}
	}
}

func TestNoStringOfASheetCanDoAnythingOnThePage(t *testing.T) {
	written, shown := hostileSheet()
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "<script>alert(1)</script>\x1b.toml", []byte(written))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	in := input(t, s)
	in.Judged.File = s.File
	in.Whose = "WH" + hostile
	in.Version = "VE" + hostile
	in.Judged.Result.Off = append(in.Judged.Result.Off, rulebook.Off{Rule: "OR" + hostile, Reason: "OF" + hostile})
	shown = append(shown, "WH", "VE", "OR", "OF")
	f := rulebook.Finding{Rule: "FR" + hostile, Family: "FF", Grade: "fails", Certainty: "will", Zones: []string{"FZ" + hostile}, File: "FI" + hostile, Line: 1,
		Message: "FM" + hostile, Why: "FY" + hostile, Remedy: "FD" + hostile, Defect: "FE" + hostile, Leaned: []string{"FL" + hostile},
		Safety: rulebook.Safety{Signal: "FS" + hostile, Text: "FT" + hostile}, Source: []string{"FO" + hostile}}
	in.Judged.Result.Findings = append(in.Judged.Result.Findings, f)
	shown = append(shown, "FR", "FZ", "FI", "FM", "FY", "FD", "FE", "FL", "FS", "FT", "FO")
	page := write(t, in)
	harmless(t, page)
	got := text(parse(t, page))
	for _, mark := range shown {
		if !strings.Contains(got, mark+"</script>") {
			t.Errorf("%s is nowhere on the page as it is written", mark)
		}
	}
	if !strings.Contains(got, "␛[31mred") || !strings.Contains(got, "<U+202E>gnol") {
		t.Error("control characters are not made visible")
	}
}

// Whatever reaches the template is said, a number, or a drawing that escapes
// its own strings.
func TestEveryTextOfTheViewIsMadeVisible(t *testing.T) {
	trusted := []reflect.Type{reflect.TypeFor[template.HTML](), reflect.TypeFor[template.CSS](), reflect.TypeFor[template.JS]()}
	html := map[string]bool{"figure.SVGs": true, "figure.Same": true, "view.Style": true, "view.Script": true}
	seen := map[reflect.Type]bool{}
	var look func(typ reflect.Type, at string)
	look = func(typ reflect.Type, at string) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Slice:
			look(typ.Elem(), at)
		case reflect.Struct:
			if seen[typ] {
				return
			}
			seen[typ] = true
			for i := range typ.NumField() {
				look(typ.Field(i).Type, typ.Name()+"."+typ.Field(i).Name)
			}
		case reflect.Int, reflect.Bool:
		default:
			for _, tr := range trusted {
				if typ == tr && html[at] {
					return
				}
			}
			if typ != reflect.TypeFor[said]() {
				t.Errorf("%s is a %s", at, typ)
			}
		}
	}
	look(reflect.TypeFor[view](), "view")
	if len(seen) < 10 {
		t.Errorf("only %d types were looked at", len(seen))
	}
}

func TestGeneratedSheetsBecomeSoundPages(t *testing.T) {
	for seed := range uint64(12) {
		s := readText(t, generate.Sheet(seed, generate.Options{}))
		page := write(t, input(t, s))
		sound(t, page)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
		if !bytes.Equal(page, write(t, input(t, s))) {
			t.Errorf("seed %d gives other bytes the second time", seed)
		}
	}
}
