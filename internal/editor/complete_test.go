package editor

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"guidecoat/internal/printable"
	"guidecoat/internal/sheet"
)

// head is the beginning of a sheet that uses the example shop's shelf.
const head = `format = 1
[sheet]
title = "Try"
[panel]
substrate = "mild steel"
carries = ["e-coat"]
[[zone]]
name = "dent"
area = "1 ft2"
[product.own-clear]
kind = "urethane clear"
label = "Own clear"
mix = "2:1"
[[step]]
do = "sand"
grit = "P80"
cuts_to = [{to = "substrate", call = "rub"}]
[[step]]
do = "spray"
product = "grey-epoxy"
call = "epoxy"
`

func (c *client) completed(name, text string) (string, []completionItem) {
	c.tb.Helper()
	clean, where := marked(c.tb, text)
	uri := c.open(name, clean)
	var list completionList
	c.call("textDocument/completion", at(uri, where), &list)
	return clean, list.Items
}

func labels(items []completionItem) []string {
	var all []string
	for _, i := range items {
		all = append(all, i.Label)
	}
	return all
}

func TestWhatMayStandAtTheCursorIsOffered(t *testing.T) {
	c := connect(t, shop(t))
	for _, x := range []struct {
		what, text  string
		first       string   // the label offered first, "" for any
		has, hasNot []string // labels
	}{
		{"the keys of a step's verb that are not written yet", head + "then_" + cursor + "\n",
			"", []string{"then_wait", "coats", "wet_film", "wear", "[[step]]"}, []string{"do", "product", "call", "cuts_to", "grit"}},
		{"a required key before others", "format = 1\n[[step]]\ndo = \"spread\"\n" + cursor, "product", []string{"thickness", "says"}, []string{"do", "wet_film"}},
		{"the keys of every verb where none is written", "format = 1\n[[step]]\n" + cursor, "do", []string{"product", "grit", "with"}, []string{"name"}},
		{"verbs", head + "[[step]]\ndo = \"" + cursor + "\"\n", "strip", []string{"spray", "blow_off", "inspect"}, []string{"call"}},
		{"verbs without a quote", head + "[[step]]\ndo = s" + cursor + "\n", "", []string{"spray"}, nil},
		{"films to spray: primers before fillers, no helpers", head + "[[step]]\ndo = \"spray\"\nproduct = \"" + cursor + "\"\n",
			"", []string{"grey-epoxy", "own-clear", "gloss-clear"}, []string{"degreaser", "slow-reducer", "epoxy-hardener"}},
		{"helpers to clean with", head + "[[step]]\ndo = \"clean\"\nwith = \"" + cursor + "\"\n",
			"", []string{"degreaser", "water-wash", "wax and grease remover"}, []string{"grey-epoxy", "polishing compound"}},
		{"zones, with those cut before", head + "on = [\"" + cursor + "\"]\n", "", []string{"dent", "panel", "rub"}, []string{"epoxy"}},
		{"zones that the list does not have yet", head + "on = [\"dent\", \"" + cursor + "\"]\n", "", []string{"panel", "rub"}, []string{"dent"}},
		{"no zone that is only cut later", strings.Replace(head, "[[step]]\n", "[[step]]\ndo = \"tack\"\non = \""+cursor+"\"\n[[step]]\n", 1),
			"", []string{"dent", "panel"}, []string{"rub"}},
		{"protection", head + "wear = [\"gloves\", \"" + cursor, "supplied-air respirator", []string{"apron"}, []string{"gloves"}},
		{"kinds by their own and everyday names", head + "[product.x]\nkind = \"" + cursor + "\"\n", "", []string{"one-part acid primer", "etch primer", "wax and grease remover"}, []string{"mild steel"}},
		{"substrates", "format = 1\n[panel]\nsubstrate = \"" + cursor + "\"\n", "", []string{"mild steel", "aluminium"}, []string{"e-coat", "epoxy primer"}},
		{"what a panel may carry", "format = 1\n[panel]\ncarries = [\"e-coat\", \"" + cursor + "\"]\n", "", []string{"factory finish", "epoxy primer"}, []string{"mild steel", "e-coat"}},
		{"keys in braces that are not written yet", "format = 1\n[panel]\ncarries = [{kind = \"e-coat\", " + cursor + "}]\n", "", []string{"film", "condition"}, []string{"kind", "[booth]"}},
		{"a word of a closed list in braces", "format = 1\n[panel]\ncarries = [{kind = \"e-coat\", condition = \"" + cursor + "\"}]\n", "sound", []string{"chalking"}, nil},
		{"where a cut may end", head + "[[step]]\ndo = \"sand\"\ngrit = \"P80\"\ncuts_to = [{to = \"" + cursor + "\"}]\n", "", []string{"substrate", "epoxy", "e-coat"}, []string{"rub"}},
		{"units behind a number", head + "then_wait = \"24 " + cursor + "\"\n", "min", []string{"h", "days"}, []string{"mil"}},
		{"units behind a range", head + "then_wait = \"1 h - 72" + cursor + "\"\n", "", []string{"h"}, nil},
		{"units of film", head + "wet_film = \"2.5 m" + cursor + "\"\n", "mil", []string{"µm"}, []string{"h"}},
		{"habits where a wait is asked for", head + "then_wait = \"" + cursor + "\"\n", "16 h", []string{"overnight", "until matte"}, nil},
		{"abrasives", head + "[[step]]\ndo = \"sand\"\ngrit = \"P" + cursor + "\"\n", "", []string{"P80", "P320", "fine pad"}, nil},
		{"pads alone where a pad is asked for", head + "[[step]]\ndo = \"scuff\"\npad = \"" + cursor + "\"\n", "", []string{"fine pad"}, []string{"P80"}},
		{"the card's own mix", head + "[[step]]\ndo = \"spray\"\nproduct = \"own-clear\"\nmix = \"" + cursor + "\"\n", "2:1", nil, nil},
		{"another use of the can", head + "as = \"" + cursor + "\"\n", "sealer", nil, nil},
		{"true and false without quotes", head + "fresh_cup = " + cursor + "\n", "true", []string{"false"}, nil},
		{"rules in a waiver", head + "[[waiver]]\nrule = \"" + cursor + "\"\n", "", []string{"stack-too-thick", "water-on-bare-steel"}, nil},
		{"calls in a waiver", head + "[[waiver]]\nstep = \"" + cursor + "\"\n", "epoxy", nil, nil},
		{"shelves beside the sheet", "format = 1\n[sheet]\nshelf = [\"" + cursor + "\"]\n", "shelf.toml", []string{"guidecoat.toml"}, nil},
		{"tables that are not there yet", "format = 1\n[sheet]\ntitle = \"x\"\n\n[" + cursor, "", []string{"[panel]", "[[step]]", "[booth]"}, []string{"[sheet]"}},
		{"the beginning of a sheet in an empty file", cursor, "", []string{"format", "[sheet]", "[[step]]"}, nil},
		{"the keys of a card", "format = 1\n[shelf]\n[product.x]\nkind = \"epoxy primer\"\n" + cursor + "\n", "", []string{"film", "recoat", "data_sheet"}, []string{"kind", "do"}},
		{"the keys of a bake schedule", "format = 1\n[shelf]\n[product.x]\nbake = {metal = \"140 F\", " + cursor + "}\n", "", []string{"for", "flash_first"}, []string{"metal"}},
		{"nothing inside a note", head + "# then_" + cursor + "\n", "", nil, []string{"then_wait", "do"}},
		{"nothing where a value follows", head + "mix = " + cursor + " \"1:1\"\n", "", nil, []string{"1:1"}},
		{"nothing in another program's file", "[package]\nname = \"" + cursor + "\"\n", "", nil, []string{"dent"}},
		{"a key whose line is half typed, behind a list that is left open", head + "wear = [\"gloves\",\nthen_" + cursor + "\nsays = \"x\"\n", "", []string{"then_wait", "coats"}, []string{"says"}},
		{"a value though the line above is broken", head + "coats = = 2\nwet_film = \"\n[[step]]\ndo = \"clean\"\nwith = \"" + cursor + "\n", "", []string{"degreaser"}, nil},
	} {
		t.Run(x.what, func(t *testing.T) {
			name := strings.ReplaceAll(x.what, " ", "-") + ".toml"
			_, items := c.completed(name, x.text)
			got := labels(items)
			if x.first != "" && (len(got) == 0 || got[0] != x.first) {
				t.Errorf("first comes %.1q, not %q", got, x.first)
			}
			for _, want := range x.has {
				if !slices.Contains(got, want) {
					t.Errorf("%q is not among %q", want, got)
				}
			}
			for _, not := range x.hasNot {
				if slices.Contains(got, not) {
					t.Errorf("%q is offered: %q", not, got)
				}
			}
		})
	}
}

func TestWhatIsChosenIsWrittenWithTheRightQuotes(t *testing.T) {
	c := connect(t, shop(t))
	for _, x := range []struct{ what, text, choose, want string }{
		{"between quotes", "do = \"sp" + cursor + "\"", "spray", "do = \"spray\""},
		{"in the middle of a word", "do = \"s" + cursor + "and\"", "spray", "do = \"spray\""},
		{"behind a quote that nobody closes", "do = \"sp" + cursor, "spray", "do = \"spray\""},
		{"without a quote", "do = sp" + cursor, "spray", "do = \"spray\""},
		{"behind nothing", "do = " + cursor, "spray", "do = \"spray\""},
		{"in single quotes", "do = '" + cursor + "'", "spray", "do = 'spray'"},
		{"a unit behind a blank", "do = \"wait\"\nfor = \"1 h - 24 d" + cursor + "\"", "h", "do = \"wait\"\nfor = \"1 h - 24 h\""},
		{"an amount without a quote", "do = \"wait\"\nfor = 24" + cursor, "24 h", "do = \"wait\"\nfor = \"24 h\""},
		{"a unit behind a sign of two units", "do = \"wait\"\nsays = \"🎨\"\nfor = \"1 – 2 " + cursor + "\"", "h", "do = \"wait\"\nsays = \"🎨\"\nfor = \"1 – 2 h\""},
		{"a unit that nobody closes", "do = \"wait\"\nfor = \"24 " + cursor, "h", "do = \"wait\"\nfor = \"24 h\""},
		{"a unit", "do = \"wait\"\nfor = \"24" + cursor + "\"", "h", "do = \"wait\"\nfor = \"24 h\""},
		{"in a list with an entry behind it", "do = \"tack\"\nwear = [\"gl" + cursor + ", \"apron\"]", "gloves", "do = \"tack\"\nwear = [\"gloves\", \"apron\"]"},
		{"a key before its sign", "do = \"tack\"\nth" + cursor + " = \"1 h\"", "then_wait", "do = \"tack\"\nthen_wait = \"1 h\""},
		{"a key with a place to type in", "do = \"tack\"\nth" + cursor, "then_wait", "do = \"tack\"\nthen_wait = \"${1:16 h}\""},
		{"a flag", "do = \"rinse\"\n[[step]]\ndo = \"sand\"\nwet = t" + cursor, "true", "do = \"rinse\"\n[[step]]\ndo = \"sand\"\nwet = true"},
		{"a header", "do = \"tack\"\n[[st" + cursor + "]]", "[[step]]", "do = \"tack\"\n[[step]]"},
		{"a header that is not closed", "do = \"tack\"\n[[st" + cursor, "[[step]]", "do = \"tack\"\n[[step]]"},
		{"with letters of two units before it", "do = \"tack\"\nwear = [\"🎨𝒳\", \"gl" + cursor + "\"]", "gloves", "do = \"tack\"\nwear = [\"🎨𝒳\", \"gloves\"]"},
	} {
		t.Run(x.what, func(t *testing.T) {
			const before = "format = 1\r\n[[step]]\r\n"
			clean, items := c.completed(strings.ReplaceAll(x.what, " ", "-")+".toml", before+strings.ReplaceAll(x.text, "\n", "\r\n"))
			i := slices.Index(labels(items), x.choose)
			if i < 0 {
				t.Fatalf("%q is not offered, but %q", x.choose, labels(items))
			}
			got := strings.TrimPrefix(apply(t, clean, []textEdit{*items[i].TextEdit}), before)
			if want := strings.ReplaceAll(x.want, "\n", "\r\n"); got != want {
				t.Errorf("it reads %q, not %q", got, want)
			}
		})
	}
}

// A card may be called anything. What is chosen is that card, and the list shows
// nothing that acts on who reads it.
func TestANameOfAnySignsIsOfferedAndReadsBackAsItWas(t *testing.T) {
	names := []string{"a \"b\" c", `a\b`, "a\nb", "\x1b[31mred", "${1:x} $0 }", "\u202eevil", "it's", "[x](command:x)", "<b>"}
	var cards strings.Builder
	for _, name := range names {
		cards.WriteString("[product." + sheet.Quote(name) + "]\nkind = \"epoxy primer\"\n")
	}
	c := connect(t, nil)
	for _, quote := range []string{"", `"`, "'"} {
		before := "format = 1\n" + cards.String() + "[[step]]\ndo = \"spray\"\nproduct = "
		clean, items := c.completed("door"+fmt.Sprint(len(quote), quote == "'")+".toml", before+quote+cursor+quote+"\n")
		offered := map[string]bool{}
		for _, item := range items {
			if item.Label != printable.Visible(item.Label) || item.Detail != printable.Visible(item.Detail) {
				t.Errorf("%q is shown as it is", item.Label)
			}
			text := apply(t, clean, []textEdit{*item.TextEdit})
			var read struct{ Step []struct{ Product string } }
			if err := toml.Unmarshal([]byte(text), &read); err != nil {
				t.Errorf("with %q behind %q it is no TOML: %v", item.Label, quote, err)
				continue
			}
			offered[read.Step[0].Product] = true
		}
		for _, name := range names {
			if unfit := quote == "'" && strings.ContainsAny(name, "'\n\x1b"); offered[name] == unfit {
				t.Errorf("behind %q, %q is offered: %v", quote, name, offered[name])
			}
		}
	}
}

func TestAClientThatKnowsNoPlacesToTypeInGetsNone(t *testing.T) {
	c := dial(t, shop(t), Options{})
	c.initialize([]byte(`{"capabilities": {}}`))
	_, items := c.completed("x.toml", head+cursor)
	for _, i := range items {
		if i.InsertTextFormat != 0 || strings.Contains(i.TextEdit.NewText, "$") {
			t.Errorf("%s is written as %q", i.Label, i.TextEdit.NewText)
		}
	}
	if len(items) == 0 {
		t.Error("nothing was offered")
	}
}

func TestRulesThatWereFoundComeFirstInAWaiver(t *testing.T) {
	c := connect(t, shop(t))
	text := example(t, "bad/water-on-steel.toml")
	uri := c.open("door.toml", text)
	c.diagnosed(uri, 1)
	// Judged again with the waiver's table begun: it can be read, and has findings.
	text += "\n[[waiver]]\nrule = \"stack-too-thick\"\nreason = \"x\"\n"
	c.change(uri, 2, text)
	c.diagnosed(uri, 2)
	lines := strings.Split(text, "\n")
	var list completionList
	c.call("textDocument/completion", at(uri, position{uint32(len(lines) - 3), 8}), &list)
	if len(list.Items) == 0 || !strings.HasPrefix(list.Items[0].Detail, "found on this sheet") {
		t.Errorf("first come %.3q", labels(list.Items))
	}
	if !slices.Contains(labels(list.Items), "water-on-bare-steel") {
		t.Errorf("what was found is not offered: %q", labels(list.Items))
	}
}

func TestLimitsAndGradesOfAHouseFileAreOffered(t *testing.T) {
	c := connect(t, shop(t))
	for _, x := range []struct{ text, want string }{
		{"[house]\n[limits]\n" + cursor, "bare_steel_open"},
		{"[house]\n[limits]\nbare_steel_open = \"4 " + cursor + "\"\n", "h"},
		{"[house]\n[grades]\nwater" + cursor, "water-on-bare-steel"},
		{"[house]\n[grades]\nwater-on-bare-steel = \"" + cursor + "\"\n", "advice"},
		{"[house]\n[grades]\nwater-on-bare-steel = {off = true, " + cursor + "}\n", "reason"},
		{"[house]\n" + cursor, "region"},
		{"[house]\nshelf = \"" + cursor + "\"\n", "shelf.toml"},
		{"[" + cursor + "\n", "[limits]"},
	} {
		clean, where := marked(t, x.text)
		uri := c.open("guidecoat.toml", clean)
		var list completionList
		c.call("textDocument/completion", at(uri, where), &list)
		if !slices.Contains(labels(list.Items), x.want) {
			t.Errorf("%q: %q is not among %q", x.text, x.want, labels(list.Items))
		}
		c.notify("textDocument/didClose", at(uri, where))
	}
}
