package editor

import (
	"strings"
	"testing"
)

func (c *client) hovered(name, text string) (string, hoverResult) {
	c.tb.Helper()
	clean, where := marked(c.tb, text)
	uri := c.open(name, clean)
	var got *hoverResult
	c.call("textDocument/hover", at(uri, where), &got)
	if got == nil {
		return clean, hoverResult{}
	}
	return clean, *got
}

func TestWhatStandsUnderTheCursorIsTold(t *testing.T) {
	c := connect(t, shop(t))
	door := example(t, "bad/water-on-steel.toml")
	in := func(text, at string) string { // the cursor within a piece of a text
		before, after, found := strings.Cut(text, at)
		if !found {
			t.Fatalf("there is no %q in the text", at)
		}
		half := len(at) / 2
		return before + at[:half] + cursor + at[half:] + after
	}
	for _, x := range []struct {
		what, text string
		says       []string
		not        []string
	}{
		{"a kind", "format = 1\n[panel]\nsubstrate = \"mild steel\"\ncarries = [\"epoxy pri" + cursor + "mer\"]\n",
			[]string{"epoxy primer: a film, primer, two parts.", "Also called: ", "recoat = 1 h - 72 h", "epoxy hardener", "safety data sheet", "common practice"}, nil},
		{"a kind by an everyday name", "format = 1\n[panel]\nsubstrate = \"bare st" + cursor + "eel\"\n", []string{"mild steel: a substrate."}, nil},
		{"a product in a step", in(door, `"grey-epoxy"`), []string{"grey-epoxy is epoxy primer, on the can: Grey epoxy 20.", `film = "1.5-3 mil"`, `as = sealer`, "Beneath this step in panel, from the top:\n  mild steel"}, []string{"kind ="}},
		{"what is usual and not on a product's card", "format = 1\n[panel]\nsubstrate = \"mild steel\"\n[product.x]\nkind = \"epoxy primer\"\nmix = \"1:1\"\n[[step]]\ndo = \"spray\"\nproduct = \"" + cursor + "x\"\n",
			[]string{`mix = "1:1"`, "Not on the card, so taken from what is usual for epoxy primer:", "pot_life = 8 h"}, []string{"mix = 1"}},
		{"the films beneath a later step", in(door, `"gloss-clear"`), []string{"from the top:\n  River blue base (solvent basecoat)", "(step 9)\n  Sealer U grey", "\n  mild steel"}, nil},
		{"a step's verb, with what the rulebook found", in(door, `"clean"`), []string{"Step 2 of 11: clean wipes with a cleaner.", "FAILS water-wash wets bare mild steel", "Why: ", "Do: ", "CAUTION: "}, nil},
		{"a step's header", in(door, "[[step]]"), []string{"Step 1 of 11: sand abrades the top film.", "Beneath this step in panel"}, nil},
		{"a key", in(door, "then_wait"), []string{"then_wait: time after it, before the next step.", `then_wait = "16 h"`}, nil},
		{"a key with a closed list", in(door, "ends_as"), []string{"One of: finished, primed, sealed."}, nil},
		{"a table", in(door, "[booth]"), []string{"booth: conditions that hold unless a step says otherwise."}, nil},
		{"a wait in other units", in(door, `"24 h"`), []string{"24 h is 1440 min, or 1 day"}, nil},
		{"a film in other units", in(door, `"2.5 mil"`), []string{"2.5 mil is 63.5 µm"}, nil},
		{"a temperature in other units", in(door, `"72 F"`), []string{"22.22 °C"}, nil},
		{"an abrasive", in(door, `"P80"`), []string{"P80: median particle 201 µm"}, nil},
		{"an abrasive of the other scale", "format = 1\n[[step]]\ndo = \"sand\"\ngrit = \"320 g" + cursor + "rit\"\n", []string{"320 grit: median particle 3", "works about like P"}, nil},
		{"a mix", "format = 1\n[[step]]\ndo = \"spray\"\nmix = \"4:1" + cursor + ":1\"\n", []string{"base 66.67 %, hardener 16.67 %, reducer 16.67 % of the cup", "Reducer is 20 % of base and hardener"}, nil},
		{"a rule in a waiver", head + "[[waiver]]\nrule = \"water-on-" + cursor + "bare-steel\"\n", []string{"water-on-bare-steel: ", "fails at the gravest", "Do: ", "Source: "}, nil},
		{"a shelf", "format = 1\n[sheet]\nshelf = \"she" + cursor + "lf.toml\"\n", []string{"shelf.toml has", "grey-epoxy"}, nil},
		{"another use of a can", head + "as = \"sea" + cursor + "ler\"\n", []string{"grey-epoxy used as sealer:", `film = "0.7-1.5 mil"`}, nil},
		{"a zone", strings.Replace(head, "call = \"epoxy\"", "on = \"de"+cursor+"nt\"", 1), []string{"Zone dent, when the sheet is done, from the top:\n  Grey epoxy 20"}, nil},
		{"a call where a cut may end", head + "[[step]]\ndo = \"sand\"\ngrit = \"P80\"\ncuts_to = \"epo" + cursor + "xy\"\n", []string{`"epoxy" is step 2.`}, nil},
		{"a card's header", "format = 1\n[shelf]\n[product.ab" + cursor + "c]\nkind = \"body filler\"\n", []string{"abc is body filler."}, nil},
		{"a limit of the house", "[house]\n[limits]\nbare_steel_" + cursor + "open = \"6 h\"\n", []string{"bare_steel_open: ", "Usual: ", "Source: "}, nil},
		{"a rule of the house's grades", "[house]\n[grades]\nwater-on-bare" + cursor + "-steel = \"risk\"\n", []string{"water-on-bare-steel: "}, nil},
		{"a product though the sheet is half typed", in(strings.Replace(door, "humidity = \"45 %\"", "humidity = \"45", 1), `"river-blue"`), []string{"river-blue is solvent basecoat"}, nil},
		{"nothing in a note", "# grey-ep" + cursor + "oxy\n" + door, nil, []string{"a", "e"}},
		{"no control characters of the sheet's own", "format = 1\n[shelf]\n[product.\"a\\u001b[31mb\"]\nlabel = \"x" + cursor + "\\u001b]0;\\u0007\"\nkind = \"epoxy\"\n", nil, []string{"\x1b", "\x07"}},
	} {
		t.Run(x.what, func(t *testing.T) {
			name := strings.ReplaceAll(x.what, " ", "-") + ".toml"
			if strings.Contains(x.text, "[house]") {
				name = "guidecoat.toml"
			}
			clean, where := marked(t, x.text)
			uri := c.open(name, clean)
			c.diagnosed(uri, 1)
			var got *hoverResult
			c.call("textDocument/hover", at(uri, where), &got)
			c.notify("textDocument/didClose", at(uri, where))
			said := ""
			if got != nil {
				said = got.Contents.Value
				if got.Contents.Kind != "plaintext" {
					t.Errorf("it is of the kind %s", got.Contents.Kind)
				}
			}
			for _, want := range x.says {
				if !strings.Contains(said, want) {
					t.Errorf("it does not say %q:\n%s", want, said)
				}
			}
			for _, not := range x.not {
				if strings.Contains(said, not) {
					t.Errorf("it says %q:\n%s", not, said)
				}
			}
		})
	}
}

func TestTheWordUnderTheCursorIsMarked(t *testing.T) {
	c := connect(t, shop(t))
	clean, got := c.hovered("x.toml", "format = 1\n[panel]\npart = \"🎨\"\nsubstrate = \"mild "+cursor+"steel\"\n")
	if word := clean[len("format = 1\n[panel]\npart = \"🎨\"\nsubstrate = \""):][:10]; word != "mild steel" || got.Range != (span{position{3, 13}, position{3, 23}}) {
		t.Errorf("marked is %+v", got.Range)
	}
}
