package starter

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/sheet"
	"guidecoat/policies"
)

// tried are values of every form that TOML has, right for some keys and wrong
// for others.
var tried = []string{
	`true`, `false`, `0`, `1`, `2`, `12`, `80`, `-1`, `101`, `1961`, `100000`, `1.0`, `1.5`, `180.0`, `inf`, `nan`,
	`2026-03-02`, `2026-03-02T10:00:00`, `2026-03-02T10:00:00Z`, `10:00:00`,
	`""`, `" "`, `"a"`, `"panel"`, `"1"`, `"2-3"`, `"0.5"`, `"2026-03-02"`, `"none"`, `"BOOTH"`, `" prep  bay "`, `"us"`, `"substrate"`, `"Mild-Steel"`,
	`"electrocoat"`, `"etch primer"`, `"tack cloth"`, `"grey-epoxy"`, `"P80"`, `"180 grit"`, `"fine pad"`, `"fine"`, `"P80-P180"`, `"P180-P80"`, `"4:1"`, `"4:1 + 10 %"`, `"2 %"`, `"200 %"`,
	`"2 mil"`, `"3-2 mil"`, `"1.4 mm"`, `"70 F"`, `"-500 F"`, `"15 min"`, `"up to 2 h"`, `"30 min - any"`, `"any"`, `"overnight"`, `"until matte"`, `"28 psi"`, `"45 %"`, `"14 ft2"`, `"1 qt"`, `"420 g/L"`, `"1e99 h"`,
	`"sander"`, `"DA"`, `"gloves"`, `"film"`, `"stack-too-thick"`, `"first"`, `"cabinet"`, `"primed"`, `"metallic"`, `"lamp"`, `"hvlp"`, `"acid"`,
	`[]`, `["a"]`, `[1]`, `[true]`, `[""]`, `["gloves", "apron"]`, `["e-coat"]`, `["mild steel", "aluminum"]`, `["panel"]`, `["film", "color"]`, `[["a"]]`, `[{}]`,
	`{}`, `{a = 1}`, `{kind = "e-coat"}`, `{kind = "e-coat", film = "2 mil", condition = "sound"}`, `[{kind = "e-coat"}, "factory finish"]`, `{number = "T-1", issued = 2026-03-02}`,
	`{paint = "1 h - 72 h"}`, `{metal = "140 F", for = "30 min"}`, `[{to = "e-coat", call = "rub"}]`, `{to = "e-coat", area = "2 in2"}`, `{off = true, reason = "a"}`, `{off = false, reason = "a"}`, `{off = true}`,
}

// Reasons for which the program refuses what a schema cannot: they are those of
// testdata/schema/beyond.json, by a part of what the program says.
var beyondASchema = []string{
	// Names and films.
	"there is no zone", "cuts no zone", "nothing is left to do", "there is no card", "no step is called", "there is no step", "cuts to nothing", "cannot stop at",
	"neither a film nor a call", "it has one use only", "is a helper, never a film, and", "nothing is done to a surface with that by", "is for do = ",
	// Files.
	"there is no shelf", "the shelf ", "folder of rules",
	// Sizes.
	"runs backwards", "more than there can be", "less than one coat", "too large", "colder than anything", "this limit is a ratio", "this limit is one number",
	// JSON has no dates, and a 1.0 is whole to it.
	"a date stands without quotes", "a date stands here", "a date with a time of day stands here", "a time of day stands here", "a number with a point stands here",
	// The rules of a shop's own.
	"there is no rule",
}

// Each key of each table gets each value. What the program reads the schema lets
// through; what it refuses the schema refuses, or has a reason not to.
func TestTheProgramAndTheSchemasAgreeOnEveryKeyAndEveryFormOfValue(t *testing.T) {
	schemas := compiled(t)
	rules, err := sheet.RulesIn(policies.Files)
	if err != nil {
		t.Fatal(err)
	}
	reader := sheet.NewReader(sheet.Options{Root: t.TempDir(), NoHouse: true, Rules: rules})
	defer func() { _ = reader.Close() }()
	counts, used := map[string]int{}, map[string]bool{}
	// unseen tells of a problem that no schema sees.
	unseen := func(p sheet.Problem) bool {
		return slices.ContainsFunc(beyondASchema, func(known string) bool {
			used[known] = used[known] || strings.Contains(p.Message, known)
			return strings.Contains(p.Message, known)
		})
	}
	agree := func(kind string, parts ...string) {
		text := []byte(strings.Join(parts, ""))
		var problems []sheet.Problem
		switch kind {
		case "sheet":
			_, problems = reader.ReadText("door.toml", text)
		case "shelf":
			problems = reader.Check(sheet.IsShelf, "shelf.toml", text)
		case "house":
			problems = reader.Check(sheet.IsHouse, "guidecoat.toml", text)
		}
		err := refusal(t, schemas[kind], text)
		switch {
		case len(problems) == 0 && err != nil:
			t.Errorf("the program reads this, and the schema refuses it: %v\n%s", err, text)
		case len(problems) == 0:
			counts["both read"]++
		case err != nil:
			counts["both refuse"]++
		case !slices.ContainsFunc(problems, unseen):
			t.Errorf("the schema lets this through, and the program says: %s: %s\n%s", problems[0].Key, problems[0].Message, text)
		default:
			counts["beyond the schema"]++
		}
	}
	// table tries every value in a table's every key; before and after stand
	// around it, and what the table needs stands in it.
	table := func(kind, before, header string, keys []sheet.Key, after string) {
		for _, k := range keys {
			var needs strings.Builder
			for _, other := range keys {
				if other.Required && other.Name != k.Name && other.Name != "do" {
					fmt.Fprintf(&needs, "%s = %s\n", other.Name, other.Example)
				}
			}
			for _, value := range tried {
				agree(kind, before, header, needs.String(), k.Name, " = ", value, "\n", after)
			}
		}
	}
	const (
		format = "format = 1\n"
		title  = "[sheet]\ntitle = \"Door\"\n"
		panel  = "[panel]\nsubstrate = \"mild steel\"\ncarries = [\"e-coat\", \"factory finish\"]\n"
		card   = "[product.grey-epoxy]\nkind = \"epoxy primer\"\n"
	)
	fields := func(keys []sheet.Key, name string) []sheet.Key {
		f := fieldsOf(keys, name)
		if len(f) == 0 {
			t.Errorf("%s has no keys", name)
		}
		return f
	}
	root := sheet.SheetKeys()
	table("sheet", format, "[sheet]\n", fields(root, "sheet"), panel+card)
	table("sheet", format+title, "[booth]\n", fields(root, "booth"), panel+card)
	table("sheet", format+title, "[panel]\n", fields(root, "panel"), card)
	table("sheet", format+title+panel+card, "[[zone]]\n", fields(root, "zone"), "")
	table("sheet", format+title+panel+card, "[[waiver]]\n", fields(root, "waiver"), "[[step]]\ndo = \"tack\"\ncall = \"first\"\n")
	for _, v := range sheet.Verbs() {
		keys := sheet.KeysOf(v.Do)
		for i, k := range keys {
			if slices.Contains(k.Takes, sheet.TakesHelper) {
				keys = slices.Clone(keys)
				keys[i].Example = `"` + sheet.HelpersFor(v.Do)[0] + `"`
			}
		}
		var others []sheet.Key
		for _, k := range keys {
			if k.Name != "do" {
				others = append(others, k)
			}
		}
		table("sheet", format+title+panel+card, "[[step]]\ndo = \""+v.Do+"\"\n", others, "")
	}
	table("shelf", format, "[shelf]\n", fields(sheet.ShelfKeys(), "shelf"), card)
	table("shelf", format, "[product.grey-epoxy]\n", sheet.CardKeys(), "")
	for _, name := range []string{"data_sheet", "bake", "recoat"} {
		table("shelf", format+card, "[product.grey-epoxy."+name+"]\n", fields(sheet.CardKeys(), name), "")
	}
	table("shelf", format+card, "[product.grey-epoxy.as.other]\n", fields(sheet.CardKeys(), "as"), "")
	table("house", "", "[house]\n", fields(sheet.HouseKeys(), "house"), "")
	for _, header := range []string{"[limits]\nbare_steel_open", "[limits]\nlead_year", "[grades]\nstack-too-thick", "[grades]\nskin-unprotected", "[grades]\nour-own"} {
		for _, value := range tried {
			agree("house", header, " = ", value, "\n")
		}
	}
	for _, kind := range []string{"sheet", "shelf", "house"} {
		keys := map[string][]sheet.Key{"sheet": root, "shelf": sheet.ShelfKeys(), "house": sheet.HouseKeys()}[kind]
		rest := map[string]string{"sheet": title + panel, "shelf": card, "house": ""}[kind]
		for _, k := range keys {
			if strings.Contains(rest, "["+k.Name) {
				continue
			}
			for _, value := range tried {
				begin := format
				if k.Name == "format" {
					begin = ""
				}
				agree(kind, begin, k.Name, " = ", value, "\n", rest)
			}
		}
	}
	t.Log(counts)
	for _, known := range beyondASchema {
		if !used[known] {
			t.Errorf("no value is refused with %q", known)
		}
	}
	for what, least := range map[string]int{"both read": 2000, "both refuse": 10000} {
		if counts[what] < least {
			t.Errorf("%s %d", what, counts[what])
		}
	}
}
