package sheet

import (
	"fmt"
	"strings"
	"testing"
)

// broken is a sheet that is no TOML; what is wrong stands in ⟦ ⟧.
func TestWhatIsNoTOMLIsToldInWordsForAPainter(t *testing.T) {
	for _, test := range []struct {
		name, text string
		key, says  string
	}{
		{"a quantity without quotes", "[[step]]\nfor = ⟦15 min⟧\n", "step[1].for", `for = "15 min"`},
		{"a quantity without quotes and blanks", "[[step]]\nfor = ⟦15min⟧\n", "step[1].for", `for = "15min"`},
		{"a range without quotes", "film = ⟦2-3 mil⟧\n", "film", `film = "2-3 mil"`},
		{"a mix without quotes", "mix = ⟦4:1⟧\n", "mix", `mix = "4:1"`},
		{"a word without quotes", "do = ⟦sand⟧\n", "do", `do = "sand"`},
		{"a word without quotes and a note behind", "do = ⟦sand⟧ # first\n", "do", `do = "sand"`},
		{"a grade without quotes", "grit = ⟦P80⟧\n", "grit", `grit = "P80"`},
		{"yes for true", "wet = ⟦yes⟧\n", "wet", "wet = true"},
		{"True in capitals", "wet = ⟦True⟧\n", "wet", "wet = true"},
		{"nothing behind the equals sign", "do ⟦=⟧ \n", "do", "nothing is written after do ="},
		{"a colon for the equals sign", "do⟦:⟧ \"sand\"\n", "do", `not a colon: do = "sand"`},
		{"a key alone", "d⟦o⟧\n", "", "here stands a key and no ="},
		{"a missing closing quote", "do = \"san⟦d⟧\ngrit = \"P80\"\n", "do", "its closing quote is missing"},
		{"a missing opening quote", "do = ⟦sand\"⟧\n", "do", `do = "sand"`},
		{"curly quotes", "do = ⟦“⟧sand”\n", "do", "curly"},
		{"a comma at the end of a line", "do = \"sand\"⟦,⟧\n", "do", "a comma ends this line"},
		{"two values on a line", "do = \"sand\" ⟦g⟧rit = \"P80\"\n", "do", "a line holds one key and its value"},
		{"a table that is not closed", "[pane⟦l⟧\n", "", "is not closed; write [panel]"},
		{"a list of tables that is half closed", "[[step⟦]⟧\n", "", "is not closed; write [[step]]"},
		{"a list of tables that is half opened", "[step]⟦]⟧\n", "", "not right; write [[step]]"},
		{"a table that is not opened", "panel⟦]⟧\n", "", "not right; write [panel]"},
		{"a table in round brackets", "⟦(⟧panel)\n", "", "not right; write [panel]"},
		{"a header with blanks between its brackets", "[ ⟦[⟧ step ] ]\n", "", "not right; write [[step]]"},
		{"a card that is not closed", "[product.paste ⟦#⟧ grey\n", "", "is not closed; write [product.paste]"},
		{"a table of another name that is not closed", "[pain⟦t⟧\n", "", "this table's name is not closed"},
		{"a key and a value with nothing between", "[[step]]\ncoats ⟦2⟧\n", "", "stands =: coats = 2"},
		{"a list that is not opened", "wear = ⟦\"gloves\", \"apron\"]⟧\n", "wear", `square brackets: wear = ["gloves", "apron"]`},
		{"a list of one that is not opened", "measure = ⟦\"film\"]⟧\n", "measure", `square brackets: measure = ["film"]`},
		{"a list that is not closed", "wear = ⟦[\"gloves\"⟧", "wear", `the ] that closes this list is missing: wear = ["gloves"]`},
		{"a list that is not closed, with lines behind", "[[step]]\nwear = ⟦[\"gloves\", \"apron\"⟧ # both\ndo = \"tack\"\n", "step[1].wear", `the ] that closes this list is missing: wear = ["gloves", "apron"]`},
		{"a list that is not closed before a table", "[sheet]\nshelf = ⟦[\"cards.toml\",⟧\n\n[booth]\nair = \"72 F\"\n", "sheet.shelf", `is missing: shelf = ["cards.toml"]`},
		{"a list over several lines that is not closed", "[[step]]\nwear = ⟦[⟧\n  \"gloves\",\n  \"apron\"\ndo = \"tack\"\n", "step[1].wear", "it stands after the last entry"},
		{"a list of words without quotes", "[[step]]\nwear = ⟦[gloves, eye protection]⟧\n", "step[1].wear", `every entry of a list stands between two quotes, and gloves and eye protection do not: wear = ["gloves", "eye protection"]`},
		{"a list of one word without quotes", "measure = ⟦[film]⟧ # all over\n", "measure", `and film does not: measure = ["film"]`},
		{"an entry without its opening quote", "wear = ⟦[\"apron\", gloves\"]⟧\n", "wear", `and gloves" does not: wear = ["apron", "gloves"]`},
		{"an entry without its closing quote", "wear = ⟦[\"apron, \"gloves\"]⟧\n", "wear", `and "apron does not: wear = ["apron", "gloves"]`},
		{"a file without its opening quote", "[sheet]\nshelf = ⟦[../cards.toml\"]⟧\n", "sheet.shelf", `shelf = ["../cards.toml"]`},
		{"a list over several lines with a word without quotes", "wear = [\n  \"apron\",\n  ⟦g⟧loves,\n]\n", "wear", `and gloves does not: "gloves"`},
		{"a list that goes on below, with a word without quotes", "wear = ⟦[gloves,⟧\n  \"apron\",\n]\n", "wear", `and gloves does not: "gloves"`},
		{"a list in round brackets", "wear = ⟦(\"gloves\", \"apron\")⟧\n", "wear", `square brackets: wear = ["gloves", "apron"]`},
		{"a list in braces", "wear = ⟦{\"gloves\", \"apron\"}⟧\n", "wear", `square brackets: wear = ["gloves", "apron"]`},
		{"a list without brackets", "wear = ⟦\"gloves\", \"apron\"⟧\n", "wear", `square brackets: wear = ["gloves", "apron"]`},
		{"a table in braces that is not closed", "[product.a]\nbake = ⟦{metal = \"140 F\"⟧\ncoats = 2\nflash = \"10 min\"\n", "product.a.bake", `the } that closes this one is missing: bake = {metal = "140 F"}`},
		{"a table in braces that is not closed after a comma", "bake = ⟦{metal = \"140 F\",⟧\ncoats = 2\nflash = \"10 min\"\n", "bake", `is missing: bake = {metal = "140 F"}`},
		{"quantities without quotes in braces", "bake = ⟦{metal = 140 F, for = \"30 min\"}⟧ # booth\n", "bake", `bake = {metal = "140 F", for = "30 min"}`},
		{"a colon in braces", "recoat = ⟦{paint: \"1 h\", filler: 2 h}⟧\n", "recoat", `recoat = {paint = "1 h", filler = "2 h"}`},
		{"a quote before a table's name", "\"[sheet⟦]⟧\n", "", "a quote stands beside this table's name; write [sheet]"},
		{"a name with a blank in it", "[product.grey ⟦p⟧aste]\n", "", `stands in quotes: [product."grey paste"]`},
		{"a name with a blank in it, and a use", "[product.grey ⟦p⟧aste.as.thin]\n", "", `stands in quotes: [product."grey paste".as.thin]`},
		{"a name with an accent", "[product.gr⟦ü⟧n]\n", "", `stands in quotes: [product."grün"]`},
		{"a name that is missing", "[product.⟦]⟧\n", "", "write [product.NAME]"},
		{"a step with a number", "[[step ⟦1⟧]]\n", "", "every step is headed [[step]], with no number"},
		{"a table that there is none of", "[grey ⟦p⟧aste]\n", "", `a card [product."grey epoxy"]`},
		{"a colon before a whole number", "[[step]]\ncoats⟦:⟧ 2\n", "step[1].coats", "not a colon: coats = 2"},
		{"a colon before a date", "[sheet]\ndate⟦:⟧ 2026-03-02\n", "sheet.date", "not a colon: date = 2026-03-02"},
		{"a colon before the format", "format⟦:⟧ 1\n", "format", "not a colon: format = 1"},
		{"a colon before true", "[[step]]\nwet⟦:⟧ \"true\"\n", "step[1].wet", "not a colon: wet = true"},
		{"a date in words", "[sheet]\ndate = ⟦2 March 2026⟧\n", "sheet.date", "in figures: date = 2026-03-02"},
		{"half a coat", "[[step]]\ncoats = ⟦1/2⟧\n", "step[1].coats", "a whole number without quotes is wanted here, such as coats = 2"},
		{"two equals signs", "[booth]\nair =⟦=⟧ \"72 F\"\n", "booth.air", `one =: air = "72 F"`},
		{"entries without a comma between", "wear = [\"gloves\" ⟦\"⟧apron\"]\n", "wear", "stands a comma"},
		{"a table in braces without commas", "bake = {metal = \"140 F\" ⟦f⟧or = \"30 min\"}\n", "bake", "stands a comma"},
		{"a backslash in a text", "says = \"see C:⟦\\s⟧heets\"\n", "says", "a backslash"},
		{"an impossible date", "date = ⟦2026-02-30⟧\n", "date", "no date"},
		{"a date in another order", "date = ⟦2.3.2026⟧\n", "date", "year, month and day"},
		{"a dash before a line", "- ⟦d⟧o = \"sand\"\n", "", "a step begins with [[step]]"},
		{"a line of prose", "first ⟦w⟧e sand\n", "", "here stands a key and no ="},
		{"a key twice", "[booth]\nair = \"72 F\"\n⟦air⟧ = \"70 F\"\n", "booth.air", "the key air stands twice in one table; the first is on line 2"},
		{"a step whose header is forgotten", "[[step]]\ndo = \"sand\"\nwear = \"gloves\"\n\n⟦do⟧ = \"tack\"\nwear = \"gloves\"\n", "step[1].do", "a step does one thing, and this one has do on line 2 already; a line [[step]] may be missing above"},
		{"a table twice", "[booth]\nair = \"72 F\"\n⟦[booth]⟧\npanel = \"70 F\"\n", "booth", "the table booth stands twice; the first is on line 1"},
		{"steps in single brackets", "[step]\ndo = \"tack\"\n⟦[step]⟧\ndo = \"tack\"\n", "step", "write [[step]] with two brackets, here and on line 1"},
		{"a control character", "do = \"sa⟦\x01⟧nd\"\n", "do", "control character"},
		{"a number that begins with a zero", "coats = ⟦02⟧\n", "coats", "does not begin with a zero"},
		{"a number that is too large", "coats = ⟦9⟧9999999999999999999\n", "coats", "too large"},
	} {
		t.Run(test.name, func(t *testing.T) {
			text, places := marked(test.text)
			s, problems := ReadText(options(t), "door.toml", []byte(text))
			var told []string
			for _, p := range problems {
				told = append(told, fmt.Sprintf("%d:%d-%d:%d %s: %s", p.Place.Line, p.Place.Column, p.Place.EndLine, p.Place.EndColumn, p.Key, p.Message))
			}
			if s != nil || len(problems) != 1 {
				t.Fatalf("%d problems: %s", len(problems), strings.Join(told, "\n"))
			}
			p := problems[0]
			want := places[0]
			want.File = "door.toml"
			if p.Place != want {
				t.Errorf("%s\nstands at %+v\n   want at %+v", told[0], p.Place, want)
			}
			if p.Key != test.key || !strings.Contains(p.Message, test.says) {
				t.Errorf("%s\nshould be %s and say %s", told[0], test.key, test.says)
			}
		})
	}
}

func TestEveryLineThatIsNoTOMLIsToldAtOnce(t *testing.T) {
	text, places := marked(`format = 1
[booth]
air = ⟦72 F⟧
panel = "70 F"
where ⟦:⟧ "booth"
[panel]
substrate = ⟦mild steel⟧
[[step]]
do = "sand"
grit = ⟦P80⟧
`)
	_, problems := ReadText(options(t), "door.toml", []byte(text))
	if len(problems) != len(places) {
		t.Fatalf("%d problems, want %d: %v", len(problems), len(places), problems)
	}
	for i, p := range problems {
		places[i].File = "door.toml"
		if p.Place != places[i] {
			t.Errorf("%s stands at %+v, want %+v", p.Message, p.Place, places[i])
		}
	}
}

func TestAFileThatIsNoTextIsToldWhereItStopsBeingOne(t *testing.T) {
	for _, test := range []struct {
		name, text   string
		line, column int
		says         string
	}{
		{"a byte that is not UTF-8", "format = 1\n[sheet]\ntitle = \"T\xfcr\"\n", 3, 11, "not UTF-8"},
		{"a byte that is not UTF-8 behind letters of two bytes", "a = \"\u00fc\u00fc\xfc\"", 1, 8, "not UTF-8"},
		{"a NUL", "format = 1\n[sheet]\ntitle = \"T\x00r\"\n", 3, 11, "a NUL stands here"},
		{"UTF-16", "\xff\xfef\x00o\x00r\x00", 1, 1, "saved as UTF-16"},
		{"too large", "format = 1\n#" + strings.Repeat("a", MaxFileSize), 1, 1, "larger than 1 MiB"},
		{"a text too deep", "a = " + strings.Repeat("[", 100000), 1, 0, "deep in one another"},
		{"tables in braces too deep", "a = " + strings.Repeat("{a=", 50) + "1" + strings.Repeat("}", 50), 1, 0, "deep in one another"},
		{"a key too deep", strings.Repeat("a.", 100) + "a = 1", 1, 2*maxDepth + 1, "deep in one another"},
		{"a key too long", strings.Repeat("a", 5000) + " = 1", 1, 1, "longer than any"},
		{"line ends of CR alone", "format = 1\r[sheet]\rtitle = \"A door\"\r", 1, 1, "end in CR alone"},
		{"an empty file", "", 1, 1, "not a process sheet"},
		{"another program's file", "[package]\nname = \"x\"\n", 1, 1, "not a process sheet"},
		{"a shelf", "format = 1\n[product.a]\nkind = \"epoxy primer\"\n", 1, 1, "this is a shelf of product cards, not a process sheet"},
		{"a house file", "[house]\nregion = \"us\"\n", 1, 1, "this is a house file, not a process sheet"},
	} {
		s, problems := ReadText(options(t), "door.toml", []byte(test.text))
		if s != nil || len(problems) != 1 {
			t.Errorf("%s: %d problems: %v", test.name, len(problems), problems)
			continue
		}
		p := problems[0]
		if p.Place.Line != test.line || test.column > 0 && p.Place.Column != test.column || !strings.Contains(p.Message, test.says) || p.Place.File != "door.toml" {
			t.Errorf("%s: %d:%d %s", test.name, p.Place.Line, p.Place.Column, p.Message)
		}
	}
}

func TestALineAsLongAsAFileIsNotSaidInFull(t *testing.T) {
	_, problems := ReadText(options(t), "door.toml", []byte("wear = ["+strings.Repeat("gloves, ", 10000)+"]\n"))
	if len(problems) != 1 || len(problems[0].Message) > 600 {
		t.Errorf("%d problems, %d characters", len(problems), len(problems[0].Message))
	}
}
