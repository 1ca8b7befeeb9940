package sheet

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

// good is a sheet without errors; each case below spoils one thing in it.
const good = `format = 1

[sheet]
title = "Door"
date = 2026-03-02
work = "restoration"
ends_as = "primed"

[booth]
air = "72 F"
panel = "70 F"
humidity = "45 %"
where = "booth"
region = "us"

[panel]
part = "front door"
substrate = "mild steel"
carries = ["e-coat", {kind = "factory finish", film = "4-6 mil", condition = "sound"}]
rust = "none"
year = 1961
area = "14 ft2"

[[zone]]
name = "dent"
area = "1.5 ft2"
role = "repair"

[[zone]]
name = "seam"
area = "2 ft2"

[product.grey-epoxy]
kind = "epoxy primer"
mix = "1:1"
hardener = "epoxy-hardener"
film = "1.5-3 mil"
recoat = {paint = "1 h - 72 h", filler = "12 h - 7 days"}
data_sheet = {number = "T-1", issued = 2025-06-01}
grit_beneath = "P80-P180"
direct_to_metal = true
hazards = ["epoxy hardener"]

[product.grey-epoxy.as.sealer]
kind = "epoxy sealer"
film = "0.7-1.5 mil"

[product.paste]
kind = "body filler"
mix = "2 %"

[product.epoxy-hardener]
kind = "hardener"

[product.wipe]
kind = "wax and grease remover"

[[step]]
do = "clean"
with = "wipe"

[[step]]
do = "strip"
tool = "sander"
grit = "P80"
on = "dent"
wear = ["particulate respirator", "gloves"]

[[step]]
do = "spray"
product = "grey-epoxy"
call = "epoxy"
coats = 2
between = "20 min"
then_wait = "16 h"

[[step]]
do = "spread"
product = "paste"
on = "dent"
thickness = "2 mm"

[[step]]
do = "block"
grit = "P180"
on = "dent"
cuts_to = [{to = "epoxy primer", call = "rub-through", area = "10 in2"}]

[[step]]
do = "spray"
product = "grey-epoxy"
as = "sealer"
on = "rub-through"

[[waiver]]
rule = "stack-too-thick"
step = "epoxy"
zone = "dent"
reason = "show finish"
by = "foreman"
until = 2027-03-01
`

var knownRules = map[string]string{
	"stack-too-thick": "film", "skin-unprotected": "people", "window-missed": "clock", "tooth-too-fine": "substrate",
}

func options(t testing.TB) Options {
	t.Helper()
	return Options{Root: t.TempDir(), NoHouse: true, Rules: knownRules}
}

func TestTheGoodSheetIsGood(t *testing.T) {
	s, problems := ReadText(options(t), "door.toml", []byte(good))
	for _, p := range problems {
		t.Errorf("%d:%d %s: %s", p.Place.Line, p.Place.Column, p.Key, p.Message)
	}
	if s == nil {
		t.Fatal("it is not read")
	}
}

// marked takes the marks ⟦ and ⟧ out of a text and gives the places they
// stood at: where each problem must be told.
func marked(text string) (string, []Place) {
	var places []Place
	var clean strings.Builder
	line, column := 1, 1
	for text != "" {
		r, size := utf8.DecodeRuneInString(text)
		text = text[size:]
		switch r {
		case '⟦':
			places = append(places, Place{Line: line, Column: column, Start: clean.Len()})
		case '⟧':
			p := &places[len(places)-1]
			p.EndLine, p.EndColumn, p.End = line, column, clean.Len()
		default:
			clean.WriteRune(r)
			if column++; r == '\n' {
				line, column = line+1, 1
			}
		}
	}
	return clean.String(), places
}

// spoiled is one way to spoil the good sheet: the first of each pair is
// replaced by the second, in which the place of each problem stands in ⟦ ⟧.
type spoiled struct {
	name  string
	edits []string
	keys  []string // of the problems in the order of the text
	says  []string // a part of each problem's message
}

// spoiledSheets are the ways to spoil the good sheet.
func spoiledSheets() []spoiled {
	one := func(name, old, new, key string, says ...string) spoiled {
		return spoiled{name: name, edits: []string{old, new}, keys: []string{key}, says: says}
	}
	return []spoiled{
		// The file as a whole.
		one("no format is an error", "format = 1\n", "⟦⟧", "format", `a sheet needs "format"`),
		one("another format is an error", "format = 1", "format = ⟦2⟧", "format", "format 2 is not known"),
		one("a format in quotes is an error", "format = 1", "format = ⟦\"1\"⟧", "format", "a whole number without quotes is wanted"),
		one("an unknown table is an error with the nearest", "[booth]", "⟦[boot]⟧", "boot", `a sheet has no table "boot"; did you mean "booth"?`),
		one("an unknown key at the top is an error", "format = 1", "format = 1\n⟦titel⟧ = 1", "titel", `a sheet has no key "titel"`),
		one("no sheet table is an error", "[sheet]\ntitle = \"Door\"\ndate = 2026-03-02\nwork = \"restoration\"\nends_as = \"primed\"\n", "", "sheet", "a sheet needs a table [sheet]"),

		// [sheet]
		one("no title is an error", "[sheet]\ntitle = \"Door\"", "⟦[sheet]⟧", "sheet.title", `the sheet table needs "title"`),
		one("an empty title is an error", `"Door"`, `⟦" "⟧`, "sheet.title", "nothing is written between the quotes"),
		one("a title that is a number is an error", `"Door"`, `⟦12⟧`, "sheet.title", "a number stands here, and a text in quotes is wanted"),
		one("an unknown key is an error with the nearest", "work =", "⟦wrok⟧ =", "sheet.wrok", `did you mean "work"?`),
		one("an unknown word of work is an error with all", `"restoration"`, `⟦"racing"⟧`, "sheet.work", "it is one of restoration or collision"),
		one("a near word of a list is told", `"primed"`, `⟦"prime"⟧`, "sheet.ends_as", `did you mean "primed"?`),
		one("a date in quotes is an error", "date = 2026-03-02", `date = ⟦"2026-03-02"⟧`, "sheet.date", "a date stands without quotes: date = 2026-03-02"),
		one("a date with a time of day is an error", "date = 2026-03-02", `date = ⟦2026-03-02T10:00:00⟧`, "sheet.date", "a date with a time of day stands here"),
		one("a shelf that is not there is an error", "work =", "shelf = [⟦\"shlef.toml\"⟧]\nwork =", "sheet.shelf[1]", `there is no shelf "shlef.toml"`),
		one("a shelf from the top of the disk is an error", "work =", "shelf = ⟦\"/etc/shelf.toml\"⟧\nwork =", "sheet.shelf", "a path from the top of the disk"),
		one("a shelf that climbs out is an error", "work =", "shelf = ⟦\"../../shelf.toml\"⟧\nwork =", "sheet.shelf", "leads out of the folder"),
		one("a sheet that is its own shelf is an error", "work =", "shelf = ⟦\"door.toml\"⟧\nwork =", "sheet.shelf", "it is this very file"),
		one("a shelf with an empty name is an error", "work =", "shelf = ⟦\"\"⟧\nwork =", "sheet.shelf", "nothing is written between the quotes"),
		one("a shelf that is a number is an error", "work =", "shelf = ⟦3⟧\nwork =", "sheet.shelf", "a number stands here"),

		// [booth]
		one("a bare number where a unit is due is an error", `air = "72 F"`, `air = ⟦72⟧`, "booth.air", `"72" has no unit; write a temperature in °F or °C`),
		one("the same in quotes is an error", `air = "72 F"`, `air = ⟦"72"⟧`, "booth.air", "has no unit"),
		one("an unknown unit is an error", `air = "72 F"`, `air = ⟦"72 K"⟧`, "booth.air", `unknown unit, "K"`),
		one("a unit of the wrong dimension is an error", `air = "72 F"`, `air = ⟦"72 mil"⟧`, "booth.air", "and a temperature is wanted"),
		one("a range that runs backwards is an error", `air = "72 F"`, `air = ⟦"80-70 F"⟧`, "booth.air", "runs backwards"),
		one("more than all of the air cannot be water", `humidity = "45 %"`, `humidity = ⟦"145 %"⟧`, "booth.humidity", "at most 100 %"),
		one("an unknown place of work is an error", `where = "booth"`, `where = ⟦"prep bey"⟧`, "booth.where", `did you mean "prep bay"?`),
		one("a cabinet is no place for a whole job", `where = "booth"`, `where = ⟦"cabinet"⟧`, "booth.where", "is not known here"),
		one("an unknown region is an error", `region = "us"`, `region = ⟦"uk"⟧`, "booth.region", "it is one of us, eu, quebec or none"),
		{name: "a booth that is a list is an error", edits: []string{"[booth]", "⟦[[booth]]⟧"}, keys: []string{"booth"}, says: []string{"write [booth] with single brackets"}},
		one("infinity is an error", `air = "72 F"`, `air = ⟦inf⟧`, "booth.air", `"inf" is without end; write a temperature`),
		one("what is no number is an error", `humidity = "45 %"`, `humidity = ⟦nan⟧`, "booth.humidity", `"nan" is not a number; write a share`),

		// [panel]
		one("no substrate is an error", "[panel]\npart = \"front door\"\nsubstrate = \"mild steel\"", "⟦[panel]⟧\npart = \"front door\"", "panel.substrate", `the panel table needs "substrate"`),
		one("an unknown substrate is an error with the nearest", `"mild steel"`, `⟦"mild steal"⟧`, "panel.substrate", `did you mean "mild steel"`),
		one("a film is no substrate", `"mild steel"`, `⟦"epoxy primer"⟧`, "panel.substrate", `"epoxy primer" is a film, and a substrate is wanted`),
		one("an unknown plastic is an error", `rust = "none"`, "rust = \"none\"\nplastic = ⟦\"TPQ\"⟧", "panel.plastic", `did you mean "TPO"`),
		one("an unknown degree of rust is an error", `rust = "none"`, `rust = ⟦"heavy"⟧`, "panel.rust", "it is one of none, light, pitted or holes"),
		one("a year of two figures is an error", "year = 1961", "year = ⟦61⟧", "panel.year", "four figures"),
		one("a year in quotes is an error", "year = 1961", "year = ⟦\"1961\"⟧", "panel.year", "a whole number without quotes is wanted"),
		one("an area without unit is an error", `area = "14 ft2"`, `area = ⟦"14"⟧`, "panel.area", "has no unit"),
		one("a helper is not carried", `["e-coat", `, `[⟦"tack cloth"⟧, `, "panel.carries[1]", "is a helper, never a film, and"),
		one("an unknown kind that is carried is an error", `["e-coat", `, `[⟦"ee-coat"⟧, `, "panel.carries[1]", `did you mean "e-coat"`),
		one("an unknown condition is an error", `condition = "sound"`, `condition = ⟦"flaking"⟧`, "panel.carries[2].condition", "one of sound, peeling, chalking, cracked or unknown"),
		one("a carried film without its kind is an error", `{kind = "factory finish", film`, `⟦{film = "4-6 mil", condition = "sound"}⟧]#`, "panel.carries[2].kind", `needs "kind"`),
		one("an unknown key of a carried film is an error", `condition = "sound"`, `⟦state⟧ = "sound"`, "panel.carries[2].state", `has no key "state"`),
		one("a number is not carried", `["e-coat", `, `[⟦4⟧, `, "panel.carries[1]", "a number stands here"),
		one("a negative film is an error", `"4-6 mil"`, `⟦"-4 mil"⟧`, "panel.carries[2].film", "is negative"),

		// [[zone]]
		one("a zone without a name is an error", "[[zone]]\nname = \"seam\"", "⟦[[zone]]⟧", "zone[2].name", `a zone needs "name"`),
		one("a zone named panel is an error", `name = "seam"`, `name = ⟦"panel"⟧`, "zone[2].name", "what is left of the panel"),
		one("two zones of one name are an error that tells the first", `name = "seam"`, `name = ⟦"dent"⟧`, "zone[2].name", "the first is on line 25"),
		one("zones larger than the panel are an error", `area = "2 ft2"`, `area = ⟦"13 ft2"⟧`, "zone[2].area", "the zones come to 14.5 ft2 with this one, and the panel has 14 ft2"),
		one("an unknown role is an error", `role = "repair"`, `role = ⟦"repare"⟧`, "zone[1].role", `did you mean "repair"?`),
		one("an unknown edge is an error", `role = "repair"`, "edge = ⟦\"shut\"⟧", "zone[1].edge", "it is one of panel break or open"),
		one("an unknown face is an error", `role = "repair"`, "faces = ⟦\"the street\"⟧", "zone[1].faces", "it is one of weather, inside, underside or cavity"),
		{name: "zones under single brackets are an error", edits: []string{"[[zone]]\nname = \"seam\"\narea = \"2 ft2\"\n", "", "[[zone]]", "⟦[zone]⟧", `on = "dent"` + "\nw", "w", `on = "dent"` + "\nt", "t", `on = "dent"` + "\nc", "c", `zone = "dent"` + "\n", ""},
			keys: []string{"zone"}, says: []string{"write [[zone]] with two brackets"}},

		// Cards.
		one("a card without a kind is an error", "[product.paste]\nkind = \"body filler\"", "⟦[product.paste]⟧", "product.paste.kind", `a card needs "kind"`),
		one("an unknown kind is an error with the nearest", `"body filler"`, `⟦"body filer"⟧`, "product.paste.kind", `there is no kind "body filer"; did you mean "body filler"`),
		one("a substrate is no product", `"body filler"`, `⟦"mild steel"⟧`, "product.paste.kind", "is a substrate, and a film"),
		one("an unknown key of a card is an error", `mix = "1:1"`, `⟦mixx⟧ = "1:1"`, "product.grey-epoxy.mixx", `a card has no key "mixx"; did you mean "mix"?`),
		one("a mix without base is an error", `mix = "1:1"`, `mix = ⟦"0:1"⟧`, "product.grey-epoxy.mix", "has no base in it"),
		one("a mix of four parts is an error", `mix = "1:1"`, `mix = ⟦"1:1:1:1"⟧`, "product.grey-epoxy.mix", "more than three parts"),
		one("a mix without quotes is an error", `mix = "1:1"`, `mix = ⟦1⟧`, "product.grey-epoxy.mix", `a mix stands in quotes: mix = "1"`),
		one("more paste hardener than filler is an error", `mix = "2 %"`, `mix = ⟦"200 %"⟧`, "product.paste.mix", "more than there can be"),
		one("a film of the wrong dimension is an error", `"1.5-3 mil"`, `⟦"1.5-3 h"⟧`, "product.grey-epoxy.film", "is a time, and a film or thickness is wanted"),
		one("an unknown key of a recoat table is an error", `filler = "12 h`, `⟦putty⟧ = "12 h`, "product.grey-epoxy.recoat.putty", `a recoat table has no key "putty"`),
		one("a recoat of the wrong dimension is an error", `"1 h - 72 h"`, `⟦"1 mil - 72 mil"⟧`, "product.grey-epoxy.recoat.paint", "and a time is wanted"),
		one("a recoat that runs backwards is an error", `"1 h - 72 h"`, `⟦"72 h - 1 h"⟧`, "product.grey-epoxy.recoat.paint", "runs backwards"),
		one("an unknown key of a note is an error", `issued = 2025-06-01`, `⟦isued⟧ = 2025-06-01`, "product.grey-epoxy.data_sheet.isued", `did you mean "issued"?`),
		one("a note that is a text is an error", `data_sheet = {number = "T-1", issued = 2025-06-01}`, `data_sheet = ⟦"T-1"⟧`, "product.grey-epoxy.data_sheet", "a text stands here, and a table is wanted"),
		one("an unknown grade is an error with the nearest", `"P80-P180"`, `⟦"P81-P180"⟧`, "product.grey-epoxy.grit_beneath", "P80"),
		one("a film is no metal", "direct_to_metal = true", `direct_to_metal = [⟦"e-coat"⟧]`, "product.grey-epoxy.direct_to_metal[1]", "is a finish that is there before, and a substrate is wanted"),
		one("yes in quotes for true is an error", "direct_to_metal = true", `direct_to_metal = ⟦"yes"⟧`, "product.grey-epoxy.direct_to_metal", "write direct_to_metal = true: true and false stand without quotes"),
		one("direct to metal is no number", "direct_to_metal = true", `direct_to_metal = ⟦1⟧`, "product.grey-epoxy.direct_to_metal", "a number stands here"),
		one("an unknown hazard is an error", `["epoxy hardener"]`, `[⟦"isocyanat"⟧]`, "product.grey-epoxy.hazards[1]", `did you mean "isocyanate"?`),
		one("a helper lies beneath nothing", "direct_to_metal = true", `goes_on = [⟦"tack cloth"⟧]`, "product.grey-epoxy.goes_on[1]", "is a helper, never a film"),
		one("an unknown kind beneath is an error", "direct_to_metal = true", `keep_off = [⟦"aged laquer"⟧]`, "product.grey-epoxy.keep_off[1]", `did you mean "aged lacquer"`),
		one("yes is no flag", "direct_to_metal = true", `wet_on_wet = ⟦"yes"⟧`, "product.grey-epoxy.wet_on_wet", "true or false without quotes is wanted"),
		one("an unknown effect is an error", "direct_to_metal = true", `effect = ⟦"metalic"⟧`, "product.grey-epoxy.effect", `did you mean "metallic"?`),
		one("a tip without a unit is asked for in mm", "direct_to_metal = true", `tip = ⟦"1.3-1.6"⟧`, "product.grey-epoxy.tip", `has no unit; write it in mm, such as "1.3-1.6 mm"`),
		one("a tip is named in mm", "direct_to_metal = true", `tip = ⟦"55 mil"⟧`, "product.grey-epoxy.tip", "write it in mm"),
		one("no coats are an error on a card too", "direct_to_metal = true", `coats = ⟦"0-2"⟧`, "product.grey-epoxy.coats", "less than one coat"),
		one("more solids than paint are an error", "direct_to_metal = true", `volume_solids = ⟦"120 %"⟧`, "product.grey-epoxy.volume_solids", "at most 100 %"),
		one("an unknown key of a bake is an error", "direct_to_metal = true", `bake = {⟦temp⟧ = "140 F"}`, "product.grey-epoxy.bake.temp", `a card's bake has no key "temp"`),
		one("an unknown key of another use is an error", "film = \"0.7-1.5 mil\"", "⟦flim⟧ = \"0.7-1.5 mil\"", "product.grey-epoxy.as.sealer.flim", `did you mean "film"?`),
		one("a use has no uses", "film = \"0.7-1.5 mil\"", "⟦as⟧ = {}", "product.grey-epoxy.as.sealer.as", `has no table "as"`),
		one("an unknown kind of a use is an error", `"epoxy sealer"`, `⟦"epoxi sealer"⟧`, "product.grey-epoxy.as.sealer.kind", `did you mean "epoxy sealer"`),
		one("a card that is a text is an error", "[product.paste]\nkind = \"body filler\"\nmix = \"2 %\"", "[product]\n⟦paste⟧ = \"body filler\"", "product.paste", "a card is a table of its own"),

		// Any step.
		one("a step without do is an error", "[[step]]\ndo = \"clean\"", "⟦[[step]]⟧", "step[1].do", `a step needs "do"`),
		one("an unknown verb is an error with the nearest", `do = "clean"`, `do = ⟦"claen"⟧`, "step[1].do", `there is no step "claen"; did you mean "clean"?`),
		one("an unknown verb like no other is an error with all", `do = "clean"`, `do = ⟦"xyzzy"⟧`, "step[1].do", "a step does one of strip, sand"),
		one("an unknown key of a step is an error with the nearest", `between = `, `⟦betwen⟧ = `, "step[3].betwen", `did you mean "between"?`),
		one("a key of another verb is an error that tells which", `coats = 2`, `⟦grit⟧ = "P80"`, "step[3].grit", `a step that does spray has no "grit"; that goes with strip, sand, block and scuff`),
		one("no key of its verb is an error", "[[step]]\ndo = \"block\"\ngrit = \"P180\"\n", "⟦[[step]]⟧\ndo = \"block\"\n", "step[5].grit", `a step that does block needs "grit"`),
		one("an unknown zone is an error with the nearest", "on = \"dent\"\nwear", "on = ⟦\"dint\"⟧\nwear", "step[2].on", `there is no zone "dint"; did you mean "dent"?`),
		one("an unknown zone of a list is an error at its entry", "on = \"dent\"\nwear", "on = [\"seam\", ⟦\"hood\"⟧]\nwear", "step[2].on[2]", `there is "dent", "seam" and "panel"`),
		one("an unknown zone taken out is an error", "on = \"dent\"\nwear", "except = ⟦\"dint\"⟧\nwear", "step[2].except", `there is no zone "dint"`),
		one("a step on nothing is an error", "on = \"dent\"\nwear", "on = ⟦[]⟧\nwear", "step[2].on", "names no zone"),
		one("a step that takes all out again is an error", "on = \"dent\"\nwear", "on = \"dent\"\nexcept = ⟦\"dent\"⟧\nwear", "step[2].except", "nothing is left"),
		one("a step on a cut before the cut is an error", "on = \"dent\"\nwear", "on = ⟦\"rub-through\"⟧\nwear", "step[2].on", `"rub-through" is cut only at step 5, and this is step 2`),
		one("a step on its own cut is an error", "grit = \"P180\"\non = \"dent\"", "grit = \"P180\"\non = ⟦\"rub-through\"⟧", "step[5].on", "is cut only at step 5, and this is step 5"),
		one("a cut without a name is there only after it", "on = \"dent\"\nwear", "on = ⟦\"dent cut to epoxy primer\"⟧\nwear", "step[2].on", "there is no zone"),
		one("a call of a film is no zone", "on = \"rub-through\"", "on = ⟦\"epoxy\"⟧", "step[6].on", `"epoxy" is what step 3 is called, and that step cuts no zone`),
		one("an unknown protection is an error with the nearest", `"gloves"]`, `⟦"glove"⟧]`, "step[2].wear[2]", `did you mean "gloves"?`),
		one("a wait of the wrong dimension is an error", `then_wait = "16 h"`, `then_wait = ⟦"16 F"⟧`, "step[3].then_wait", "is a temperature, and a time is wanted"),
		one("a negative wait is an error", `then_wait = "16 h"`, `then_wait = ⟦"-16 h"⟧`, "step[3].then_wait", "is negative"),
		one("a wait until anything is an error", `then_wait = "16 h"`, `then_wait = ⟦"until noon"⟧`, "step[3].then_wait", `"until matte"`),
		one("a time of day is no wait", `then_wait = "16 h"`, `then_wait = ⟦16:00:00⟧`, "step[3].then_wait", "a time of day stands here, and a quantity in quotes is wanted"),
		one("a number that overflows is an error", `then_wait = "16 h"`, `then_wait = ⟦"1e400 h"⟧`, "step[3].then_wait", "too large"),
		one("an unknown place is an error", `coats = 2`, `where = ⟦"both"⟧`, "step[3].where", `did you mean "booth"?`),
		one("a cabinet is for a blast", "grit = \"P80\"\non", "where = ⟦\"cabinet\"⟧\non", "step[2].where", "a cabinet is for a blast"),
		one("two calls of one name are an error that tells the first", "as = \"sealer\"", "as = \"sealer\"\ncall = ⟦\"epoxy\"⟧", "step[6].call", `two calls are "epoxy"; the first is on line 72`),
		one("a call and a cut of one name are an error", "as = \"sealer\"", "as = \"sealer\"\ncall = ⟦\"rub-through\"⟧", "step[6].call", `two calls are "rub-through"; the first is on line 87`),
		one("a call of a zone's name is an error", "as = \"sealer\"", "as = \"sealer\"\ncall = ⟦\"seam\"⟧", "step[6].call", `"seam" is a zone already, on line 30`),
		one("a call named panel is an error", "as = \"sealer\"", "as = \"sealer\"\ncall = ⟦\"panel\"⟧", "step[6].call", `"panel" is a zone`),
		one("a call of blanks is an error", "as = \"sealer\"", "as = \"sealer\"\ncall = ⟦\" \"⟧", "step[6].call", "cannot be referred to"),

		// strip, sand, scuff
		one("an unknown tool is an error with the nearest", `tool = "sander"`, `tool = ⟦"sandr"⟧`, "step[2].tool", `did you mean "sander"?`),
		one("media without a blast are an error", `grit = "P80"`, "⟦media⟧ = \"soda\"", "step[2].media", `"media" goes with tool = "blast"`),
		one("unknown media are an error", "tool = \"sander\"\ngrit = \"P80\"", "tool = \"blast\"\nmedia = ⟦\"sand\"⟧", "step[2].media", "it is one of grit, glass bead, soda or plastic"),
		one("a strip to a kind that nothing carries is an error", `grit = "P80"`, `down_to = ⟦"aged lacquer"⟧`, "step[2].down_to", "there is e-coat and factory finish, and the substrate"),
		one("a strip to a film that is laid later is an error", `grit = "P80"`, `down_to = ⟦"epoxy primer"⟧`, "step[2].down_to", "is carried or laid before this step"),
		one("a strip to an unknown kind is an error", `grit = "P80"`, `down_to = ⟦"e-cote"⟧`, "step[2].down_to", `did you mean "e-coat"`),
		one("an unknown grade is an error at its value", `grit = "P180"`, `grit = ⟦"P190"⟧`, "step[5].grit", `there is no grade "P190"; the nearest are P180 and P220`),
		one("a grade that is a flag is an error", `grit = "P180"`, `grit = ⟦true⟧`, "step[5].grit", "true or false stands here"),
		one("wet is no text", `grit = "P180"`, "grit = \"P180\"\nwet = ⟦\"yes\"⟧", "step[5].wet", "true or false without quotes is wanted"),
		one("a scuff needs grit or pad", "[[step]]\ndo = \"strip\"\ntool = \"sander\"\ngrit = \"P80\"", "⟦[[step]]⟧\ndo = \"scuff\"", "step[2].grit", `needs "grit" or "pad"`),
		one("a grade is no pad", "do = \"strip\"\ntool = \"sander\"\ngrit = \"P80\"", "do = \"scuff\"\npad = ⟦\"P800\"⟧", "step[2].pad", "is no pad"),
		one("a scuff cuts to nothing", "do = \"strip\"\ntool = \"sander\"\ngrit = \"P80\"", "do = \"scuff\"\ngrit = \"P800\"\n⟦cuts_to⟧ = \"e-coat\"", "step[2].cuts_to", `a step that does scuff has no "cuts_to"; that goes with sand and block`),

		// cuts_to
		one("a cut to a kind that nothing has is an error", `to = "epoxy primer"`, `to = ⟦"urethane clear"⟧`, "step[5].cuts_to[1].to", "this cuts to nothing: no urethane clear is carried or laid before this step"),
		one("a cut to a film laid later is an error", `to = "epoxy primer"`, `to = ⟦"epoxy sealer"⟧`, "step[5].cuts_to[1].to", "this cuts to nothing"),
		one("a cut to an unknown name is an error with the nearest", `to = "epoxy primer"`, `to = ⟦"epoxi"⟧`, "step[5].cuts_to[1].to", `did you mean "epoxy"`),
		one("a cut to a helper is an error", `to = "epoxy primer"`, `to = ⟦"guide coat"⟧`, "step[5].cuts_to[1].to", "is a helper, never a film"),
		one("a cut to a substrate that is not there is an error", `to = "epoxy primer"`, `to = ⟦"aluminum"⟧`, "step[5].cuts_to[1].to", "this cuts to nothing"),
		one("a cut without its end is an error", `{to = "epoxy primer", call = "rub-through", area = "10 in2"}`, `⟦{call = "rub-through", area = "10 in2"}⟧`, "step[5].cuts_to[1].to", `a cut needs "to"`),
		one("an unknown key of a cut is an error", `area = "10 in2"`, `⟦size⟧ = "10 in2"`, "step[5].cuts_to[1].size", `a cut has no key "size"`),
		one("a cut larger than the panel is an error", `area = "10 in2"`, `area = ⟦"20 ft2"⟧`, "step[5].cuts_to[1].area", "larger than the panel, which has 14 ft2"),
		one("a cut that is a number is an error", `[{to = "epoxy primer", call = "rub-through", area = "10 in2"}]`, `[{to = "epoxy primer", call = "rub-through"}, ⟦3⟧]`, "step[5].cuts_to[2]", "a number stands here"),
		one("a cut to a zone is an error", `to = "epoxy primer"`, `to = ⟦"rub-through"⟧`, "step[5].cuts_to[1].to", `"rub-through" is a zone that step 5 cuts`),
		{name: "a cut to a call that lays nothing is an error", edits: []string{"with = \"wipe\"", "with = \"wipe\"\ncall = \"first wipe\"", `to = "epoxy primer"`, `to = ⟦"first wipe"⟧`},
			keys: []string{"step[5].cuts_to[1].to"}, says: []string{`"first wipe" is what step 1 is called, and that step lays no film`}},
		{name: "a cut to a call of a later step is an error", edits: []string{"as = \"sealer\"", "as = \"sealer\"\ncall = \"seal\"", `to = "epoxy primer"`, `to = ⟦"seal"⟧`},
			keys: []string{"step[5].cuts_to[1].to"}, says: []string{`"seal" is laid only at step 6, and this is step 5`}},

		// clean and its like
		one("a wipe with an unknown name is an error with the nearest", `with = "wipe"`, `with = ⟦"wype"⟧`, "step[1].with", `there is no card and no helper kind "wype"; did you mean "wipe"?`),
		one("a wipe with a film is an error", `with = "wipe"`, `with = ⟦"grey-epoxy"⟧`, "step[1].with", `"grey-epoxy" is epoxy primer, a film`),
		one("a wipe with a film's kind is an error", `with = "wipe"`, `with = ⟦"epoxy primer"⟧`, "step[1].with", `"epoxy primer" is a film`),
		one("a wipe with an acid is another step", `with = "wipe"`, `with = ⟦"acid wash"⟧`, "step[1].with", `is for do = "treat"`),
		one("a wipe with a hardener is an error", `with = "wipe"`, `with = ⟦"epoxy-hardener"⟧`, "step[1].with", `"epoxy-hardener" is hardener, not for clean; it takes wax and grease remover`),
		one("a treatment with a cleaner is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"treat\"\nwith = ⟦\"wipe\"⟧", "step[1].with", "treat takes acid wash or conversion coating"),
		one("a polish with a cleaner is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"polish\"\nwith = ⟦\"wipe\"⟧", "step[1].with", "polish takes polishing compound"),

		// spray and its like
		one("an unknown card is an error with the nearest", "product = \"paste\"", "product = ⟦\"pastte\"⟧", "step[4].product", `there is no card "pastte"; did you mean "paste"?`),
		one("a kind is no card", "product = \"paste\"", "product = ⟦\"urethane clear\"⟧", "step[4].product", "that is a kind, and a step names a card"),
		one("a film laid with a helper is an error", "product = \"paste\"", "product = ⟦\"wipe\"⟧", "step[4].product", `"wipe" is wax and grease remover, a helper, and never a film; it is for do = "clean"`),
		one("a film laid with a hardener is an error", "product = \"paste\"", "product = ⟦\"epoxy-hardener\"⟧", "step[4].product", "a helper, and never a film"),
		one("an unknown use is an error with the nearest", `as = "sealer"`, `as = ⟦"seeler"⟧`, "step[6].as", `has no use "seeler"; did you mean "sealer"?`),
		one("an additive that is no card and no kind is an error with the nearest", "coats = 2", "additive = ⟦\"flex\"⟧", "step[3].additive", `there is no card and no helper kind "flex"; did you mean "flex additive"?`),
		one("an additive that is like none is an error", "coats = 2", "additive = ⟦\"drops of something\"⟧", "step[3].additive", "additive takes a card's name, or flex additive or fisheye additive"),
		one("a use of a card that has none is an error", "product = \"grey-epoxy\"\nas = \"sealer\"", "product = \"paste\"\nas = ⟦\"sealer\"⟧", "step[6].as", "it has one use only"),
		one("no coats are an error", "coats = 2", "coats = ⟦0⟧", "step[3].coats", "one coat or more"),
		one("coats below none are an error", "coats = 2", "coats = ⟦-1⟧", "step[3].coats", "one coat or more"),
		one("half a coat is an error", "coats = 2", "coats = ⟦1.5⟧", "step[3].coats", "a number with a point stands here, and a whole number"),
		one("coats in quotes are an error", "coats = 2", "coats = ⟦\"2\"⟧", "step[3].coats", "coats = 2"),
		one("too many coats are an error", "coats = 2", "coats = ⟦1000000⟧", "step[3].coats", "at most 100 coats"),
		one("an unknown gun is an error", "coats = 2", "gun = ⟦\"hvpl\"⟧", "step[3].gun", `did you mean "hvlp"?`),
		one("a batch of the wrong dimension is an error", "coats = 2", "batch = ⟦\"2 mil\"⟧", "step[3].batch", "a volume is wanted"),
		one("a fade in an unknown zone is an error", "coats = 2", "fades = [⟦\"dint\"⟧]", "step[3].fades[1]", `there is no zone "dint"`),
		one("a fade that is true in quotes is an error", "coats = 2", "fades = ⟦\"True\"⟧", "step[3].fades", "write fades = true"),
		one("a fade that is a number is an error", "coats = 2", "fades = ⟦1⟧", "step[3].fades", "a number stands here"),
		one("a thickness left out is an error", "[[step]]\ndo = \"spread\"\nproduct = \"paste\"\non = \"dent\"\nthickness = \"2 mm\"", "⟦[[step]]⟧\ndo = \"spread\"\nproduct = \"paste\"\non = \"dent\"", "step[4].thickness", `a step that does spread needs "thickness"`),
		one("a thickness in hours is an error", `thickness = "2 mm"`, `thickness = ⟦"2 h"⟧`, "step[4].thickness", "a film or thickness is wanted"),
		one("a mix in the cup of nothing is an error", "coats = 2", "mix = ⟦\"0:0\"⟧", "step[3].mix", "has nothing in it"),

		// the rest of the verbs
		one("tape over an unknown zone is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"mask\"\nover = ⟦\"dint\"⟧", "step[1].over", `did you mean "dent"?`),
		{name: "a bake needs its heat and time", edits: []string{"[[step]]\ndo = \"clean\"\nwith = \"wipe\"", "⟦[[step]]⟧\ndo = \"bake\""}, keys: []string{"step[1].for", "step[1].metal"}, says: []string{`needs "for"`, `needs "metal"`}},
		one("a bake by an unknown heater is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"bake\"\nmetal = \"140 F\"\nfor = \"30 min\"\nby = ⟦\"oven\"⟧", "step[1].by", "it is one of booth or lamp"),
		one("a wait needs its time", "[[step]]\ndo = \"clean\"\nwith = \"wipe\"", "⟦[[step]]⟧\ndo = \"wait\"", "step[1].for", `a step that does wait needs "for"`),
		one("metalwork needs its time", "[[step]]\ndo = \"clean\"\nwith = \"wipe\"", "⟦[[step]]⟧\ndo = \"metalwork\"", "step[1].for", `needs "for"`),
		one("a store needs its time", "[[step]]\ndo = \"clean\"\nwith = \"wipe\"", "⟦[[step]]⟧\ndo = \"store\"", "step[1].for", `needs "for"`),
		one("an inspection needs what is measured", "[[step]]\ndo = \"clean\"\nwith = \"wipe\"", "⟦[[step]]⟧\ndo = \"inspect\"", "step[1].measure", `needs "measure"`),
		one("an inspection of nothing is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"inspect\"\nmeasure = ⟦[]⟧", "step[1].measure", "nothing is measured"),
		one("an unknown measure is an error", "do = \"clean\"\nwith = \"wipe\"", "do = \"inspect\"\nmeasure = [\"film\", ⟦\"dewpoint\"⟧]", "step[1].measure[2]", `did you mean "dew point"?`),
		{name: "steps under single brackets are an error", edits: []string{good[strings.Index(good, "[[step]]"):], "⟦[step]⟧\ndo = \"tack\"\n"}, keys: []string{"step"}, says: []string{"write [[step]] with two brackets"}},

		// waivers
		one("a waiver without its rule is an error", "[[waiver]]\nrule = \"stack-too-thick\"", "⟦[[waiver]]⟧", "waiver[1].rule", `a waiver needs "rule"`),
		one("a waiver of an unknown rule is an error with the nearest", `"stack-too-thick"`, `⟦"stack-to-thick"⟧`, "waiver[1].rule", `there is no rule "stack-to-thick"; did you mean "stack-too-thick"?`),
		one("a waiver at an unknown call is an error", `step = "epoxy"`, `step = ⟦"epoxi"⟧`, "waiver[1].step", `no step is called "epoxi"; did you mean "epoxy"?`),
		one("a waiver past the last step is an error", `step = "epoxy"`, `step = ⟦7⟧`, "waiver[1].step", "there is no step 7; the sheet has 6"),
		one("a waiver at step nothing is an error", `step = "epoxy"`, `step = ⟦"0"⟧`, "waiver[1].step", "there is no step 0"),
		one("a waiver at a cut is an error that tells what to write", `step = "epoxy"`, `step = ⟦"rub-through"⟧`, "waiver[1].step", `write zone = "rub-through"`),
		one("a waiver in an unknown zone is an error", `zone = "dent"`, `zone = ⟦"dint"⟧`, "waiver[1].zone", `did you mean "dent"?`),
		one("a waiver until a text is an error", `until = 2027-03-01`, `until = ⟦"next year"⟧`, "waiver[1].until", "a date without quotes is wanted"),
		one("an unknown key of a waiver is an error", `reason = `, `⟦why⟧ = `, "waiver[1].why", `a waiver has no key "why"`),

		// Several at once.
		{name: "all the errors of a file are told at once, by place", edits: []string{
			`air = "72 F"`, `air = ⟦"72"⟧`, `"mild steel"`, `⟦"mild steal"⟧`, `kind = "body filler"`, `kind = ⟦"body filer"⟧`,
			`do = "clean"`, `do = ⟦"claen"⟧`, `grit = "P180"`, `grit = ⟦"P190"⟧`, `"stack-too-thick"`, `⟦"no-such"⟧`},
			keys: []string{"booth.air", "panel.substrate", "product.paste.kind", "step[1].do", "step[5].grit", "waiver[1].rule"},
			says: []string{"no unit", "mild steel", "body filler", "clean", "P180", "no rule"}},
		{name: "a card that cannot be read spoils no other line", edits: []string{"kind = \"epoxy primer\"\nmix", "kind = ⟦\"epoxi primer\"⟧\nmix"},
			keys: []string{"product.grey-epoxy.kind"}, says: []string{"epoxy primer"}},
	}
}

func TestEveryErrorOfASheetIsToldWhereItStands(t *testing.T) {
	for _, test := range spoiledSheets() {
		t.Run(test.name, func(t *testing.T) {
			text := good
			for i := 0; i < len(test.edits); i += 2 {
				if !strings.Contains(text, test.edits[i]) {
					t.Fatalf("the good sheet has no %q", test.edits[i])
				}
				text = strings.Replace(text, test.edits[i], test.edits[i+1], 1)
			}
			text, places := marked(text)
			s, problems := ReadText(options(t), "door.toml", []byte(text))
			if s != nil {
				t.Error("the sheet is read")
			}
			told := make([]string, len(problems))
			for i, p := range problems {
				told[i] = fmt.Sprintf("%d:%d-%d:%d %s: %s", p.Place.Line, p.Place.Column, p.Place.EndLine, p.Place.EndColumn, p.Key, p.Message)
			}
			if len(problems) != len(test.keys) {
				t.Fatalf("%d problems, want %d:\n%s", len(problems), len(test.keys), strings.Join(told, "\n"))
			}
			for i, p := range problems {
				want := Place{File: "door.toml", Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
				if len(places) > 0 {
					want = places[min(i, len(places)-1)]
					want.File = "door.toml"
				}
				if p.Place != want {
					t.Errorf("%s\nstands at %+v\n   want at %+v", told[i], p.Place, want)
				}
				if p.Key != test.keys[i] {
					t.Errorf("%s: the key is not %s", told[i], test.keys[i])
				}
				if !strings.Contains(p.Message, test.says[i]) {
					t.Errorf("%s\nshould say %s", told[i], test.says[i])
				}
			}
		})
	}
}

func TestCardsUnderDoubleBracketsAreToldHowACardIsHeaded(t *testing.T) {
	text, places := marked("format = 1\nsheet.title = \"Door\"\npanel.substrate = \"mild steel\"\n⟦[[product]]⟧\nname = \"paste\"\nkind = \"body filler\"\n[[step]]\ndo = \"tack\"\n")
	_, problems := ReadText(options(t), "door.toml", []byte(text))
	if len(problems) != 1 || problems[0].Place.Line != places[0].Line || problems[0].Place.Column != 1 || !strings.Contains(problems[0].Message, "headed [product.NAME], in single brackets") {
		t.Error(told(problems))
	}
}
