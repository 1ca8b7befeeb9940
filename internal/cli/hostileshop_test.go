package cli

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"guidecoat/internal/printable"
	"guidecoat/internal/sheet"
)

// hostileShop is a shop in which every text that its files may set holds an
// attack: title and author, zones and calls, cards and what stands on the cans,
// what waivers and the house say, and the names of the files themselves. The
// fields are taken from the tables of keys, so that a key which comes new is
// attacked without a word here.
//
// Each text has a word of its own, by which it is told from the others.
type hostileShop struct {
	attack string
	few    bool     // four steps in place of some thirty
	fields []string // the paths of the keys that hold an attack, in their order
	t      testing.TB
}

// says is the text of a field: the attack, the field's word, and the attack's
// end, for much turns on what a text begins and ends with.
func (s *hostileShop) says(word string) string {
	end, _ := utf8.DecodeLastRuneInString(s.attack)
	return s.attack + " " + word + string(end)
}

func (s *hostileShop) quoted(word string) string { return rawText(s.says(word)) }

// rawText is a text as TOML writes it, with everything as it is that may be: a
// sheet may hold it so.
func rawText(text string) string {
	return escapedBy(text, func(r rune) bool { return r < 0x20 || r == 0x7f }, `\U%08x`)
}

// hostileTakes are what a key may take that a shop words as it likes.
var hostileTakes = []sheet.Takes{sheet.TakesText, sheet.TakesName, sheet.TakesZone, sheet.TakesCall, sheet.TakesProduct, sheet.TakesFile}

// worded tells whether a key's value is the shop's own words.
func worded(k sheet.Key) bool {
	return slices.ContainsFunc(k.Takes, func(t sheet.Takes) bool { return slices.Contains(hostileTakes, t) })
}

// keys are the lines of a table: the values given, an attack wherever the shop
// may word as it likes, and an example where something must stand.
func (s *hostileShop) keys(path string, keys []sheet.Key, given map[string]string) []string {
	var lines []string
	unused := maps.Clone(given)
	for _, k := range keys {
		at := path + "." + k.Name
		value, ok := given[k.Name]
		delete(unused, k.Name)
		switch {
		case value == "-": // may not stand here
			continue
		case ok:
			if worded(k) && strings.Contains(value, `"`) && k.Name != "do" {
				s.fields = append(s.fields, at)
			}
			for _, f := range k.Fields {
				if worded(f) && strings.Contains(value, f.Name+" = ") {
					s.fields = append(s.fields, at+"."+f.Name)
				}
			}
		case slices.Contains(k.Takes, sheet.TakesTable) && len(k.Fields) > 0 && !slices.Contains(k.Takes, sheet.TakesQuantity) && !slices.Contains(k.Takes, sheet.TakesKind):
			inner := s.keys(at, k.Fields, nil)
			if len(inner) == 0 {
				continue
			}
			value = "{" + strings.Join(inner, ", ") + "}"
		case slices.Contains(k.Takes, sheet.TakesText), slices.Contains(k.Takes, sheet.TakesName):
			value = s.quoted(strings.ReplaceAll(strings.NewReplacer("[", "", "]", "", ".", "-").Replace(at), "_", "-"))
			s.fields = append(s.fields, at)
		case k.Required:
			value = k.Example
		default:
			continue
		}
		lines = append(lines, k.Name+" = "+value)
	}
	for name := range unused {
		s.t.Errorf("%s has no key %s", path, name)
	}
	return lines
}

func (s *hostileShop) table(header, path string, keys []sheet.Key, given map[string]string) string {
	return header + "\n" + strings.Join(s.keys(path, keys, given), "\n") + "\n\n"
}

func fieldsOf(keys []sheet.Key, name string) []sheet.Key {
	for _, k := range keys {
		if k.Name == name {
			return k.Fields
		}
	}
	return nil
}

// fileName is the attack as a file may be called, as much of it as a name
// holds: of the sheet's its beginning, of a shelf's its end.
func (s *hostileShop) fileName(word, extension string) string {
	attack := []rune(strings.NewReplacer("/", "∕", "\x00", "").Replace(s.attack))
	const most = 180 // bytes
	for len(string(attack)) > most {
		if strings.Contains(word, "shelf") {
			attack = attack[1:]
		} else {
			attack = attack[:len(attack)-1]
		}
	}
	return word + " " + string(attack) + extension
}

// card is a product card with its name, and a second use.
func (s *hostileShop) card(name, kind string, more map[string]string) string {
	given := map[string]string{"kind": strconv.Quote(kind), "as": "-"}
	maps.Copy(given, more)
	var own []sheet.Key
	for _, k := range sheet.CardKeys() {
		if k.Name != "as" {
			own = append(own, k)
		}
	}
	delete(given, "as")
	return s.table("[product."+s.quoted(name)+"]", "product."+name, own, given)
}

// filmCard has the numbers that the bench and the clock need.
var filmCard = map[string]string{
	"mix": `"4:1:1"`, "volume_solids": `"45 %"`, "voc": `"420 g/L"`, "film": `"1.5-3 mil"`, "recoat": `"12 h - 48 h"`, "flash": `"15 min"`,
	"pot_life": `"1 h"`, "coats": `"2-3"`,
}

func (s *hostileShop) cards() string {
	film := maps.Clone(filmCard)
	film["hardener"], film["reducer"] = "["+s.quoted("hardener")+", "+s.quoted("unknown-hardener")+"]", s.quoted("reducer")
	text := s.card("primer", "epoxy primer", film) +
		s.card("clear", "urethane clear", film) +
		s.card("filler", "body filler", map[string]string{"mix": `"2 %"`, "hardener": "-", "reducer": "-"}) +
		s.card("seam", "seam sealer", map[string]string{"hardener": "-", "reducer": "-"}) +
		s.card("hardener", "hardener", map[string]string{"hazards": `["isocyanate"]`, "hardener": "-", "reducer": "-"}) +
		s.card("reducer", "reducer", map[string]string{"voc": `"860 g/L"`, "hardener": "-", "reducer": "-"}) +
		s.card("additive", "fisheye additive", map[string]string{"hardener": "-", "reducer": "-"})
	for _, verb := range sheet.Verbs() {
		if kinds := sheet.HelpersFor(verb.Do); kinds != nil {
			text += s.card("for-"+verb.Do, kinds[0], map[string]string{"hardener": "-", "reducer": "-"})
		}
	}
	var use []sheet.Key
	for _, k := range sheet.CardKeys() {
		if k.Name == "as" {
			use = k.Fields
		}
	}
	return text + s.table("[product."+s.quoted("primer")+".as."+s.quoted("use")+"]", "product.as", use, map[string]string{
		"kind": `"epoxy sealer"`, "hardener": s.quoted("hardener"), "reducer": s.quoted("reducer")})
}

// steps are one step of each verb, and some more that go wrong in ways of
// their own.
func (s *hostileShop) steps() string {
	var b strings.Builder
	n := 0
	step := func(do string, more map[string]string) {
		n++
		given := map[string]string{"do": strconv.Quote(do), "except": "-"}
		keys := sheet.KeysOf(do)
		for _, k := range keys {
			switch k.Name {
			case "on":
				given["on"] = "[" + s.quoted("zone") + ", " + `"panel"` + "]"
			case "with":
				given["with"] = s.quoted("for-" + do)
			case "product":
				given["product"] = s.quoted(map[string]string{"spread": "filler", "caulk": "seam"}[do])
			case "as":
				given["as"] = "-"
			case "fades":
				given["fades"] = "[" + s.quoted("zone") + "]"
			case "over":
				given["over"] = "[" + s.quoted("zone") + "]"
			case "cuts_to":
				given["cuts_to"] = "-"
			case "for":
				given["for"] = `"30 min"`
			case "hardener":
				given["hardener"] = s.quoted("unknown-hardener")
			case "additive":
				given["additive"] = s.quoted("additive")
			}
		}
		maps.Copy(given, more)
		b.WriteString(s.table("[[step]]", fmt.Sprintf("step[%d]", n), keys, given))
	}
	lay := func(product string) map[string]string {
		return map[string]string{"product": s.quoted(product), "coats": "2", "wet_film": `"6 mil"`, "between": `"5 min"`, "then_wait": `"1 h"`}
	}
	if s.few {
		step("clean", nil)
		step("sand", map[string]string{"grit": `"P180"`, "wear": `["particulate respirator", "gloves"]`})
		step("clean", nil)
		more := lay("primer")
		more["wet_film"] = `"3 mil"`
		step("spray", more)
		return b.String()
	}
	// What is laid first, so that the rest has something to go wrong on.
	step("sand", map[string]string{"grit": `"P36"`, "cuts_to": "[{to = \"e-coat\", call = " + s.quoted("cut") + "}]"})
	step("spray", lay("primer"))
	step("spray", map[string]string{"product": s.quoted("primer"), "as": s.quoted("use"), "on": s.quoted("cut")})
	for _, verb := range sheet.Verbs() {
		more := map[string]string{}
		switch verb.Do {
		case "spray", "brush":
			more = lay("clear")
		case "strip":
			more["down_to"] = `"e-coat"`
			more["on"] = s.quoted("cut")
		case "scuff":
			more["pad"] = `"fine pad"`
		}
		step(verb.Do, more)
	}
	step("sand", map[string]string{"grit": `"P80"`, "cuts_to": "[{to = " + s.quoted("step2-call") + ", call = " + s.quoted("deep cut") + "}]", "on": "\"panel\""})
	step("spray", lay("clear"))
	return b.String()
}

// write puts the shop into a folder and names its sheet, from there. The shop's
// own rules are found from the folder that the process works in.
func (s *hostileShop) write(dir string) (sheetName string) {
	s.t.Helper()
	const rules = "rules"
	shelf, own := s.fileName("shelf", ".toml"), s.fileName("own-shelf", ".toml")
	root := sheet.SheetKeys()
	waiver := func(rule string, more map[string]string) string {
		given := map[string]string{"rule": strconv.Quote(rule), "step": "-", "zone": "-", "until": "2026-04-01"}
		maps.Copy(given, more)
		return s.table("[[waiver]]", "waiver", fieldsOf(root, "waiver"), given)
	}
	text := "format = 1\n\n" +
		s.table("[sheet]", "sheet", fieldsOf(root, "sheet"), map[string]string{"shelf": "[" + rawText(own) + "]", "date": "2026-03-02", "ends_as": `"primed"`}) +
		s.table("[booth]", "booth", fieldsOf(root, "booth"), map[string]string{"air": `"72 F"`, "panel": `"70 F"`, "humidity": `"45 %"`, "region": `"quebec"`}) +
		s.table("[panel]", "panel", fieldsOf(root, "panel"), map[string]string{"substrate": `"mild steel"`, "area": `"14 ft2"`, "carries": `["e-coat", "factory finish"]`, "year": "1961"}) +
		s.table("[[zone]]", "zone", fieldsOf(root, "zone"), map[string]string{"name": s.quoted("zone"), "area": `"2 ft2"`, "role": `"repair"`}) +
		s.steps() +
		waiver("scratch-too-coarse", nil) +
		waiver("isocyanate-without-supplied-air", map[string]string{"step": s.quoted("step2-call")}) +
		waiver("coats-too-close", map[string]string{"zone": s.quoted("zone")})
	house := s.table("[house]", "house", fieldsOf(sheet.HouseKeys(), "house"), map[string]string{"shelf": "[" + rawText(shelf) + "]", "rules": strconv.Quote(rules)}) +
		"[grades]\n\"value-assumed\" = {" + strings.Join(s.keys("grades", sheet.GradeKeys(), map[string]string{"off": "true"}), ", ") + "}\n"
	files := map[string]string{
		s.fileName("sheet", ".toml"): text,
		sheet.HouseFile:              house,
		shelf:                        "format = 1\n" + s.table("[shelf]", "shelf", fieldsOf(sheet.ShelfKeys(), "shelf"), nil) + s.cards(),
		own:                          "format = 1\n" + s.card("spare", "lacquer topcoat", map[string]string{"hardener": "-", "reducer": "-"}),
		rules + "/own.rego":          s.rule(),
	}
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			s.t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			s.t.Fatal(err)
		}
	}
	return "./" + s.fileName("sheet", ".toml")
}

// rule is a rule of the shop's own that speaks of every contact, its words
// hostile too.
func (s *hostileShop) rule() string {
	// YAML has no pairs of surrogates.
	line := func(word string) string { return escapedText(s.says(word), `\U%08x`) }
	message, err := json.Marshal(s.says("rule-message"))
	if err != nil {
		s.t.Fatal(err)
	}
	return `# METADATA
# title: ` + line("rule-title") + `
# description: ` + line("rule-why") + `
# custom:
#   grade: fails
#   defect: ` + line("rule-defect") + `
#   remedy: ` + line("rule-remedy") + `
#   safety:
#     signal: NOTICE
#     text: ` + line("rule-safety") + `
#   source: [` + line("rule-source") + `]
#   limits: []
package guidecoat.house["our-rule"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	v := lib.verdict(lib.at_contact(c), lib.plain("fails"), ` + string(printable.EscapedJSON(message)) + `, [])
}
`
}

// escapedText is a text in quotes, in ASCII alone, its other characters as an
// escape of a language.
func escapedText(text, escape string) string {
	return escapedBy(text, func(r rune) bool { return r < 0x20 || r >= 0x7f }, escape)
}

// escapedBy is a text in quotes, some of its characters as an escape.
func escapedBy(text string, escaped func(rune) bool, escape string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case escaped(r):
			fmt.Fprintf(&b, escape, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// spoiled is a table in which every key that takes more than plain words holds
// what it does not take: the attack; and a key that nobody knows.
func (s *hostileShop) spoiled(header string, keys []sheet.Key, given map[string]string) string {
	var b strings.Builder
	b.WriteString(header + "\n")
	for _, k := range keys {
		value, ok := given[k.Name]
		switch {
		case ok:
		case slices.Contains(k.Takes, sheet.TakesText), slices.Contains(k.Takes, sheet.TakesName):
			continue
		default:
			value = s.quoted(k.Name)
			s.fields = append(s.fields, header+"."+k.Name)
		}
		b.WriteString(k.Name + " = " + value + "\n")
	}
	b.WriteString(s.quoted("unknown") + " = 1\n\n")
	return b.String()
}

// writeSpoiled puts a shop into a folder in which nothing can be read, for what
// stands in it is hostile, and names its sheet.
func (s *hostileShop) writeSpoiled(dir string) (sheetName string) {
	s.t.Helper()
	root := sheet.SheetKeys()
	card := "[product." + s.quoted("card") + "]"
	var b strings.Builder
	b.WriteString("format = 1\n" + s.quoted("unknown") + " = 1\n\n" +
		s.spoiled("[sheet]", fieldsOf(root, "sheet"), nil) +
		s.spoiled("[booth]", fieldsOf(root, "booth"), nil) +
		s.spoiled("[panel]", fieldsOf(root, "panel"), nil) +
		s.spoiled("[[zone]]", fieldsOf(root, "zone"), map[string]string{"name": s.quoted("zone")}) +
		s.spoiled("[[zone]]", fieldsOf(root, "zone"), map[string]string{"name": s.quoted("zone")}) +
		s.spoiled("[["+s.quoted("table")+"]]", nil, nil) +
		s.spoiled(card, sheet.CardKeys(), map[string]string{"as": "{}"}))
	for _, v := range sheet.Verbs() {
		b.WriteString(s.spoiled("[[step]]", sheet.KeysOf(v.Do), map[string]string{"do": strconv.Quote(v.Do), "call": s.quoted("call")}))
	}
	b.WriteString(s.spoiled("[[step]]", nil, map[string]string{"do": s.quoted("verb")}) +
		s.spoiled("[[waiver]]", fieldsOf(root, "waiver"), nil))
	limits := "[limits]\n" + s.quoted("limit") + " = " + s.quoted("limit") + "\nbare_steel_open = " + s.quoted("limit") + "\n\n"
	grades := "[grades]\n" + s.quoted("rule") + " = " + s.quoted("grade") + "\nstack-too-thick = " + s.quoted("grade") + "\n"
	name := s.fileName("sheet", ".toml")
	for file, text := range map[string]string{
		name:            b.String(),
		sheet.HouseFile: s.spoiled("[house]", fieldsOf(sheet.HouseKeys(), "house"), nil) + limits + grades,
	} {
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
			s.t.Fatal(err)
		}
	}
	return "./" + name
}
