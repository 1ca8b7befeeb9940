package handout

import (
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/plan"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// What each kind of step says in plain words, where the sheet says nothing.
func TestAStepWithoutSaysIsToldInPlainWords(t *testing.T) {
	const head = `format = 1
[sheet]
title = "Words"
[panel]
substrate = "mild steel"
area = "10 ft2"
carries = ["e-coat", "factory finish"]
[product.prime]
kind = "epoxy primer"
label = "Prime 1"
[product.fill]
kind = "body filler"
[product.wipe]
kind = "wax and grease remover"
label = "Wipe 7"
[[step]]
do = "spray"
product = "prime"
`
	for _, test := range []struct{ step, title, plain string }{
		{"do = \"strip\"\ntool = \"sander\"\ngrit = \"P80\"", "Strip with a sander", "Take it down to the mild steel with a sander and P80."},
		{"do = \"strip\"\ntool = \"blast\"\nmedia = \"glass bead\"\nprofile = \"1 mil\"", "Blast", "Take it down to the mild steel by blasting with glass bead, to a profile of 1 mil."},
		{"do = \"strip\"\ntool = \"razor\"\ndown_to = \"e-coat\"", "Strip with a razor", "Take it down to the e-coat with a razor."},
		{"do = \"sand\"\ngrit = \"P180\"\nwet = true\ntool = \"hand\"\ntakes_off = \"0.3 mil\"", "Sand with P180", "Sand wet with P180 on the hand, taking off 0.3 mil."},
		{"do = \"block\"\ngrit = \"P320\"\nguide_coat = true", "Block with P320", "Block with P320, over a guide coat, until the last of it is gone."},
		{"do = \"block\"\ngrit = \"P320\"\nwet = false\ncuts_to = {to = \"substrate\", call = \"rub\", area = \"3 in2\"}", "Block with P320",
			"Block dry with P320, through to the mild steel over 3 in2 (from here on called rub)."},
		{"do = \"scuff\"\npad = \"fine pad\"", "Scuff with fine pad", ""},
		{"do = \"clean\"\nwith = \"wipe\"", "Wipe with Wipe 7", "Wipe with Wipe 7 (wax and grease remover)."},
		{"do = \"clean\"\nwith = \"alcohol wipe\"", "Wipe with alcohol wipe", ""},
		{"do = \"tack\"", "Tack off", "Take the dust off with a tack cloth."},
		{"do = \"blow_off\"", "Blow off", "Blow the dust off."},
		{"do = \"treat\"\nwith = \"acid wash\"", "Treat with acid wash", "Treat the bare metal with acid wash."},
		{"do = \"rinse\"\ndried_within = \"5 min\"", "Rinse", "Rinse with water, and have it dry within 5 min."},
		{"do = \"neutralize\"\nwith = \"neutralizer\"", "Neutralize with neutralizer", ""},
		{"do = \"spray\"\nproduct = \"prime\"\ncoats = 2\nwet_film = \"3 mil\"\nbetween = \"20 min\"", "Spray Prime 1", "Spray 2 coats of Prime 1 (epoxy primer), 3 mil wet each, 20 min between coats."},
		{"do = \"brush\"\nproduct = \"prime\"\nwet_film = \"3 mil\"", "Brush Prime 1", "Brush 1 coat of Prime 1 (epoxy primer), 3 mil wet."},
		{"do = \"spread\"\nproduct = \"fill\"\nthickness = \"2 mm\"", "Spread fill", "Spread fill (body filler) 2 mm thick."},
		{"do = \"bake\"\nmetal = \"140 F\"\nfor = \"30 min\"\nby = \"lamp\"", "Bake at 140 F", "Bring the metal itself to 140 F and hold it there 30 min under the lamp."},
		{"do = \"wait\"\nfor = \"overnight\"", "Wait overnight", "Leave it overnight."},
		{"do = \"store\"\nfor = \"3 days\"", "Store 3 days", "Take the panel off the line for 3 days."},
		{"do = \"metalwork\"\nfor = \"1 h\"\nwelding = true", "Metalwork", "Work the metal, welding."},
		{"do = \"polish\"\nwith = \"polishing compound\"\ntakes_off = \"0.2 mil\"", "Polish with polishing compound", "Polish the last film with polishing compound, taking off 0.2 mil."},
		{"do = \"inspect\"\nmeasure = [\"film\", \"color\"]", "Stop and measure: film, color", "Measure film, color, and write it down before going on."},
	} {
		s := readText(t, head+"[[step]]\n"+test.step+"\n")
		in := input(t, s)
		v, err := newView(in)
		if err != nil {
			t.Fatal(err)
		}
		got := v.Steps[1]
		if string(got.Title) != test.title || string(got.Plain) != test.plain {
			t.Errorf("%s\nis %q: %q, want %q: %q", test.step, got.Title, got.Plain, test.title, test.plain)
		}
	}
}

func TestEveryVerbOfTheSheetHasItsWords(t *testing.T) {
	for _, v := range sheet.Verbs() {
		if verbs[v.Do] == "" {
			t.Errorf("%s has no word", v.Do)
		}
	}
	if len(verbs) != len(sheet.Verbs()) {
		t.Errorf("there are words for %d verbs, and the sheet has %d", len(verbs), len(sheet.Verbs()))
	}
}

func TestWhatTheSheetSaysComesFirstInItsOwnLines(t *testing.T) {
	s := readText(t, "format = 1\n[sheet]\ntitle = \"Lines\"\n[panel]\nsubstrate = \"aluminum\"\n[[step]]\ndo = \"tack\"\nsays = \"\"\"First this,\nthen that.\n\"\"\"\n")
	doc := parse(t, write(t, input(t, s)))
	one := byID(t, doc, "step-1")
	if said := byClass(one, "says"); len(said) != 1 || len(all(said[0], "br")) != 1 || text(said[0]) != "First this, then that." {
		t.Errorf("the step says %q", text(one))
	}
}

// Every hazard that a card may write, and every one that a kind has.
func TestEveryHazardHasItsCaution(t *testing.T) {
	var words []string
	for _, k := range sheet.CardKeys() {
		if k.Name == "hazards" {
			words = k.Words
		}
	}
	if len(words) < 10 {
		t.Fatalf("the card's hazards are %v", words)
	}
	for _, role := range []string{"substrate", "finish", "film", "helper"} {
		for _, name := range trade.Kinds().Names(role) {
			words = append(words, trade.KindOf(name).Hazards...)
		}
	}
	for _, w := range append(words, dust, oldPaint, stripper, welding, solder, neutralizer, heat) {
		c, ok := cautions[w]
		if !ok {
			t.Errorf("%s has no caution", w)
			continue
		}
		if !slices.Contains(signals, c.signal) || c.name == "" || !strings.HasSuffix(c.text, ".") || c.short == "" || len(c.source) == 0 {
			t.Errorf("the caution of %s lacks something: %+v", w, c)
		}
	}
}

func TestAStepMindsWhatIsInItsCupOnItsRagAndInItsDust(t *testing.T) {
	s := readText(t, `format = 1
[sheet]
title = "Hazards"
[panel]
substrate = "mild steel"
carries = ["aged enamel"]
[product.old]
kind = "epoxy primer"
mix = "1:1"
hazards = ["chromate"]
[[step]]
do = "sand"
grit = "P80"
[[step]]
do = "strip"
tool = "chemical stripper"
[[step]]
do = "clean"
with = "wax and grease remover"
[[step]]
do = "spray"
product = "old"
[[step]]
do = "sand"
grit = "P320"
[[step]]
do = "sand"
grit = "P320"
wet = true
[[step]]
do = "metalwork"
for = "1 h"
welding = true
[[step]]
do = "tack"
[[step]]
do = "solder"
[[step]]
do = "neutralize"
with = "neutralizer"
[[step]]
do = "bake"
metal = "140 F"
for = "30 min"
`)
	v, err := newView(input(t, s))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"WARNING Dust, WARNING Old paint", "WARNING Stripper", "DANGER Flammable", "DANGER Flammable, WARNING Chromate, WARNING Epoxy hardener", "WARNING Chromate, WARNING Dust", "", "WARNING Welding", "",
		"WARNING Body solder", "WARNING Neutralizer", "CAUTION Heat",
	}
	for i, st := range v.Steps {
		var got []string
		for _, c := range st.Cautions {
			name, _, _ := strings.Cut(string(c.Text), ":")
			got = append(got, string(c.Word)+" "+name)
		}
		if strings.Join(got, ", ") != want[i] {
			t.Errorf("step %d minds %q, want %q", i+1, strings.Join(got, ", "), want[i])
		}
	}
}

func TestALessonPartsWhatHappensFromWhatItLooksLikeAndHowToTell(t *testing.T) {
	for _, test := range []struct{ why, mechanism, look, tell string }{
		{"Acid is left. It eats on.\n\nIt looks like a plate. In the shop: knock on it.", "Acid is left. It eats on.", "It looks like a plate.", "In the shop: knock on it."},
		{"Solvent is shut in. You see craters.\nIn the shop: use a glass. Others differ.", "Solvent is shut in.", "You see craters.", "In the shop: use a glass. Others differ."},
		{"Nobody can tell which. In the shop: ask.", "Nobody can tell which.", "", "In the shop: ask."},
		{"A cup that is off looks like any other. What looks right is not.", "A cup that is off looks like any other. What looks right is not.", "", ""},
		{"In the shop: ask. It looks like nothing.", "", "", "In the shop: ask. It looks like nothing."},
		{"", "", "", ""},
	} {
		m, l, tl := lesson(test.why)
		for i, got := range [][]said{m, l, tl} {
			var words []string
			for _, s := range got {
				words = append(words, string(s))
			}
			if want := []string{test.mechanism, test.look, test.tell}[i]; strings.Join(words, " ") != want {
				t.Errorf("%q: part %d is %q, want %q", test.why, i+1, words, want)
			}
		}
	}
}

// Every rule tells how to know its fault in the shop, and no word of it is lost
// on the page.
func TestEveryRuleOfTheBookHasItsLesson(t *testing.T) {
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	rules, err := book.Rules()
	if err != nil {
		t.Fatal(err)
	}
	looks := 0
	for _, r := range rules {
		m, l, tl := lesson(r.Description)
		if len(m) == 0 || len(tl) == 0 {
			t.Errorf("%s: what happens is %q, how to tell is %q", r.Name, m, tl)
		}
		if len(l) > 0 {
			looks++
		}
		var words []string
		for _, s := range slices.Concat(m, l, tl) {
			words = append(words, strings.Fields(string(s))...)
		}
		if !slices.Equal(words, strings.Fields(r.Description)) {
			t.Errorf("%s: the lesson says %q", r.Name, words)
		}
	}
	if looks < len(rules)*8/10 {
		t.Errorf("only %d of %d rules say what is seen", looks, len(rules))
	}
}

func TestAWindowIsToldWithHowThePlanStandsToIt(t *testing.T) {
	at := func(s string) *plan.Moment { return &plan.Moment{Earliest: s, Latest: &s} }
	last, early, late := "2026-03-05T11:00:00", 46.0, -3.0
	recoat := plan.Window{For: "recoat", Film: "Prime", FilmStep: 2, Step: 5, Zones: []string{"dent"}, Opens: at("2026-03-02T12:00:00"), Shuts: at(last),
		Planned: *at("2026-03-03T13:00:00"), Factor: 1, Source: "card"}
	with := func(change func(*plan.Window)) plan.Window {
		w := recoat
		change(&w)
		return w
	}
	for _, test := range []struct {
		name        string
		w           plan.Window
		opens, says string
	}{
		{"in time", with(func(w *plan.Window) { w.Last, w.Slack = &last, &early }), "from Mon 2 Mar 12:00|until Thu 5 Mar 11:00", "46 h before the last moment, Thu 5 Mar 11:00|by its card"},
		{"too late", with(func(w *plan.Window) { w.Last, w.Slack = &last, &late }), "from Mon 2 Mar 12:00|until Thu 5 Mar 11:00", "3 h after the last moment, Thu 5 Mar 11:00: a scuff is due|by its card"},
		{"abraded", with(func(w *plan.Window) { w.Abraded = true }), "from Mon 2 Mar 12:00|until Thu 5 Mar 11:00", "abraded before, so that the shutting no longer binds|by its card"},
		{"never open", with(func(w *plan.Window) { w.Never, w.Opens, w.Shuts = true, nil, nil }), "never, unabraded", "by its card"},
		{"no end", with(func(w *plan.Window) { w.Shuts = nil; w.Source = "typical" }), "from Mon 2 Mar 12:00|no last moment given", "by what is typical of its kind"},
		{"no window", with(func(w *plan.Window) { w.Source = "none" }), "no window given", "neither its card nor its kind gives one"},
		{"cold and baked", with(func(w *plan.Window) { w.Factor, w.Baked, w.Shuts = 1.5, true, nil }), "from Mon 2 Mar 12:00|no last moment given",
			"by its card|the least wait is 1.5 times as long at this panel temperature|a bake counted"},
		{"dead time", with(func(w *plan.Window) { w.For = "dead time" }), "dead: lifts if recoated|from Thu 5 Mar 11:00|until Mon 2 Mar 12:00", "by its card"},
		{"ready to sand", with(func(w *plan.Window) { w.For = "sand" }), "ready to sand|from Mon 2 Mar 12:00", "by its card"},
	} {
		got := windowOf(&test.w)
		join := func(list []said) string {
			var out []string
			for _, s := range list {
				out = append(out, string(s))
			}
			return strings.Join(out, "|")
		}
		if join(got.Opens) != test.opens || join(got.Says) != test.says {
			t.Errorf("%s: %q, %q; want %q, %q", test.name, join(got.Opens), join(got.Says), test.opens, test.says)
		}
	}
}
