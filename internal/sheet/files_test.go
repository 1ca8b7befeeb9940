package sheet

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// bench is a folder of files, by their names.
func bench(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// door is a sheet that lays one card from its shelves.
func door(shelves string) string {
	return `format = 1
[sheet]
title = "Door"
shelf = [` + shelves + `]
[panel]
substrate = "mild steel"
[[step]]
do = "spray"
product = "grey"
`
}

func card(name, kind string) string {
	return "format = 1\n[product." + name + "]\nkind = \"" + kind + "\"\n"
}

// told are problems as one line each.
func told(problems []Problem) []string {
	lines := []string{}
	for _, p := range problems {
		lines = append(lines, fmt.Sprintf("%s:%d:%d %s: %s", p.Place.File, p.Place.Line, p.Place.Column, p.Key, p.Message))
	}
	return lines
}

func TestTheLaterShelfWins(t *testing.T) {
	for _, test := range []struct {
		name  string
		files map[string]string
		kind  string
		label string
	}{
		{"the sheet's shelf over the house's", map[string]string{
			"guidecoat.toml": "[house]\nshelf = \"house.toml\"\n", "house.toml": card("grey", "lacquer primer"),
			"door.toml": door(`"own.toml"`), "own.toml": card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
		{"the house's where the sheet's has none", map[string]string{
			"guidecoat.toml": "[house]\nshelf = \"house.toml\"\n", "house.toml": card("grey", "lacquer primer"),
			"door.toml": door(""),
		}, "lacquer primer", ""},
		{"the sheet's own card over both", map[string]string{
			"guidecoat.toml": "[house]\nshelf = \"house.toml\"\n", "house.toml": card("grey", "lacquer primer"),
			"door.toml": door(`"own.toml"`) + "[product.grey]\nkind = \"urethane sealer\"\nlabel = \"own\"\n", "own.toml": card("grey", "epoxy primer"),
		}, "urethane sealer", "own"},
		{"two shelves of one list that say the same", map[string]string{
			"door.toml": door(`"a.toml", "b.toml"`), "a.toml": card("grey", "epoxy primer"), "b.toml": "# alike\n" + card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
		{"one shelf named twice", map[string]string{
			"door.toml": door(`"a.toml", "./a.toml"`), "a.toml": card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
		{"a shelf in the folder above, inside the working directory", map[string]string{
			"sheets/door.toml": door(`"../a.toml"`), "a.toml": card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
		{"a house file in the folder above", map[string]string{
			"sheets/vans/door.toml": door(""), "guidecoat.toml": "[house]\nshelf = \"shop/a.toml\"\n", "shop/a.toml": card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
		{"the nearest house file", map[string]string{
			"sheets/door.toml": door(""), "guidecoat.toml": "[house]\nshelf = \"nowhere.toml\"\n",
			"sheets/guidecoat.toml": "[house]\nshelf = \"a.toml\"\n", "sheets/a.toml": card("grey", "epoxy primer"),
		}, "epoxy primer", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir := bench(t, test.files)
			name := "door.toml"
			for f := range test.files {
				if filepath.Base(f) == "door.toml" {
					name = f
				}
			}
			s, problems := Read(Options{Root: dir}, name)
			if s == nil {
				t.Fatal(told(problems))
			}
			if c := s.Steps[0].Card; c.Kind != test.kind || c.Label.Value != test.label {
				t.Errorf("it lays %s %q, want %s %q", c.Kind, c.Label.Value, test.kind, test.label)
			}
		})
	}
}

func TestEveryFileOfASheetIsNamedFromWhereItWasCalled(t *testing.T) {
	dir := bench(t, map[string]string{
		"sheets/door.toml": door(`"../a.toml"`), "a.toml": card("grey", "epoxy primer"),
		"guidecoat.toml": "[house]\nshelf = \"b.toml\"\nregion = \"eu\"\nrules = \"rules\"\n[limits]\nbare_steel_open = \"4 h\"\nflash_half = 0.4\n[grades]\nwindow-missed = \"risk\"\nstack-too-thick = {off = true, reason = \"show cars\"}\n",
		"b.toml":         card("red", "single-stage enamel"), "rules/a.rego": "package a\n",
	})
	s, problems := Read(Options{Root: dir, Rules: knownRules}, "sheets/door.toml")
	if s == nil {
		t.Fatal(told(problems))
	}
	if want := []string{"a.toml", "b.toml", "guidecoat.toml", "sheets/door.toml"}; !reflect.DeepEqual(s.Files, want) {
		t.Errorf("its files are %v, want %v", s.Files, want)
	}
	h := s.House
	if h.File != "guidecoat.toml" || h.Rules != "rules" || s.Region != "eu" || !reflect.DeepEqual(h.Shelf, []string{"b.toml"}) {
		t.Errorf("the house is %+v, the region %q", h, s.Region)
	}
	if len(h.Limits) != 2 || h.Limits[0].Name != "bare_steel_open" || h.Limits[0].Text != "4 h" || h.Limits[0].Place.Line != 6 || h.Limits[1].Text != "0.4" {
		t.Errorf("the limits are %+v", h.Limits)
	}
	if len(h.Grades) != 2 || !h.Grades[0].Off || h.Grades[0].Reason != "show cars" || h.Grades[0].Rule != "stack-too-thick" || h.Grades[1].Grade != "risk" {
		t.Errorf("the grades are %+v", h.Grades)
	}
	// By an absolute path the files are named from the top.
	s, problems = Read(Options{Root: dir, Rules: knownRules}, filepath.Join(dir, "sheets", "door.toml"))
	if s == nil {
		t.Fatal(told(problems))
	}
	if want := filepath.ToSlash(filepath.Join(dir, "a.toml")); s.Files[0] != want {
		t.Errorf("its first file is %s, want %s", s.Files[0], want)
	}
}

func TestTheSheetsRegionWinsOverTheHouses(t *testing.T) {
	for _, test := range []struct{ name, booth, want string }{
		{"none written", "", "eu"},
		{"its own", "booth.region = \"us\"\n", "us"},
		{"none on purpose", "booth.region = \"none\"\n", ""},
	} {
		dir := bench(t, map[string]string{"guidecoat.toml": "[house]\nregion = \"eu\"\n",
			"door.toml": "format = 1\nsheet.title = \"a\"\npanel.substrate = \"mild steel\"\n" + test.booth + "[[step]]\ndo = \"tack\"\n"})
		s, problems := Read(Options{Root: dir}, "door.toml")
		if s == nil {
			t.Fatal(test.name, told(problems))
		}
		if s.Region != test.want {
			t.Errorf("%s: the region is %q, want %q", test.name, s.Region, test.want)
		}
	}
}

func TestTheHouseFileIsLookedForNoFurtherThanTheWorkingDirectory(t *testing.T) {
	dir := bench(t, map[string]string{"guidecoat.toml": "this is no TOML", "shop/sheets/door.toml": door("") + "[product.grey]\nkind = \"epoxy primer\"\n"})
	if s, problems := Read(Options{Root: filepath.Join(dir, "shop")}, "sheets/door.toml"); s == nil || s.House != nil {
		t.Error(told(problems))
	}
	// For a sheet that lies elsewhere there is no such bound.
	if s, problems := Read(Options{Root: t.TempDir()}, filepath.Join(dir, "shop", "sheets", "door.toml")); s != nil || !strings.Contains(problems[0].Place.File, "guidecoat.toml") {
		t.Error(told(problems))
	}
	// A folder that the user has named holds for what is in it.
	if s, problems := Read(Options{Root: t.TempDir(), Folders: []string{dir}}, filepath.Join(dir, "shop", "sheets", "door.toml")); s != nil || !strings.Contains(problems[0].Place.File, "guidecoat.toml") {
		t.Error(told(problems))
	}
	if s, problems := Read(Options{Root: dir, NoHouse: true}, "shop/sheets/door.toml"); s == nil {
		t.Error(told(problems))
	}
}

func TestAFileAmongTheNamedFoldersIsReadFromItsOwn(t *testing.T) {
	dir := bench(t, map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer")})
	file := filepath.Join(dir, "door.toml")
	if s, problems := Read(Options{Root: t.TempDir(), Folders: []string{file}}, file); s == nil {
		t.Error(told(problems))
	}
}

func TestAHouseFileMayBeNamed(t *testing.T) {
	elsewhere := bench(t, map[string]string{"shop.toml": "[house]\nshelf = \"a.toml\"\n", "a.toml": card("grey", "epoxy primer")})
	dir := bench(t, map[string]string{"guidecoat.toml": "this is no TOML", "door.toml": door("")})
	named := filepath.Join(elsewhere, "shop.toml")
	s, problems := Read(Options{Root: dir, House: named}, "door.toml")
	if s == nil || s.House == nil || s.House.File != filepath.ToSlash(named) {
		t.Fatal(told(problems))
	}
	_, problems = Read(Options{Root: dir, House: "no-such.toml"}, "door.toml")
	if len(problems) == 0 || problems[0].Place.File != "no-such.toml" && !strings.Contains(strings.Join(told(problems), "\n"), "no-such.toml:1:1 : the house file cannot be read: there is no such file") {
		t.Error(told(problems))
	}
}

// spoiledFiles are files that go together, with what is wrong in them.
type spoiledFiles struct {
	name  string
	files map[string]string
	want  []string // each problem: its place and key, and a part of what it says
}

func filesOfAShop() []spoiledFiles {
	return []spoiledFiles{
		{"a card of a shelf", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxi primer")},
			[]string{`a.toml:3:8 product.grey.kind|did you mean "epoxy primer"`}},
		{"a shelf without its format", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": "[product.grey]\nkind = \"epoxy primer\"\n"},
			[]string{`a.toml:1:1 format|a shelf needs "format"`}},
		{"a shelf that is no TOML", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer") + "film = 2 mil\n"},
			[]string{`a.toml:4:8 product.grey.film|film = "2 mil"`}},
		{"a shelf that names shelves", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": "format = 1\nshelf.shelf = \"a.toml\"\nproduct.grey.kind = \"epoxy primer\"\n"},
			[]string{`a.toml:2:7 shelf.shelf|names no other shelves`, `a.toml:2:7 shelf.shelf|has no key "shelf"`}},
		{"a sheet named as a shelf", map[string]string{"door.toml": door(`"b.toml"`), "b.toml": door("")},
			[]string{"b.toml:1:1 |this is a process sheet, and a shelf is wanted"}},
		{"a step on a shelf", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer") + "[steps]\n"},
			[]string{`a.toml:4:1 steps|a shelf has no table "steps"`}},
		{"two shelves of one list that differ", map[string]string{"door.toml": door(`"a.toml", "b.toml"`), "a.toml": card("grey", "epoxy primer"), "b.toml": "\n" + card("grey", "epoxy sealer")},
			[]string{"b.toml:3:1 product.grey|not alike: here and in a.toml, line 2"}},
		{"two shelves of the house that differ", map[string]string{"door.toml": door(""), "guidecoat.toml": "[house]\nshelf = [\"a.toml\", \"b.toml\"]\n", "a.toml": card("grey", "epoxy primer"), "b.toml": card("grey", "epoxy sealer")},
			[]string{"b.toml:2:1 product.grey|not alike: here and in a.toml, line 2"}},
		{"a shelf that is not there, with the nearest that is", map[string]string{"door.toml": door(`"shlef.toml"`), "shelf.toml": card("grey", "epoxy primer")},
			[]string{`door.toml:4:10 sheet.shelf[1]|there is no shelf "shlef.toml" in the folder of this file; did you mean "shelf.toml"?`}},
		{"a folder for a shelf", map[string]string{"door.toml": door(`"shelf.toml"`), "shelf.toml/a.toml": card("grey", "epoxy primer")},
			[]string{`door.toml:4:10 sheet.shelf[1]|this is a folder, and a file is wanted`}},
		{"a shelf of the house that is not there", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house]\nshelf = \"gone.toml\"\n"},
			[]string{`guidecoat.toml:2:9 house.shelf|there is no shelf "gone.toml"`}},
		{"a house file that is no TOML", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house\n"},
			[]string{"guidecoat.toml:1:6 |is not closed"}},
		{"an unknown table of the house", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limit]\n"},
			[]string{`guidecoat.toml:1:1 limit|did you mean "limits"?`}},
		{"an unknown key of the house", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "house.regoin = \"us\"\n"},
			[]string{`guidecoat.toml:1:7 house.regoin|did you mean "region"?`}},
		{"an unknown limit", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limits]\nbare_steel_opne = \"4 h\"\n"},
			[]string{`guidecoat.toml:2:1 limits.bare_steel_opne|did you mean "bare_steel_open"`}},
		{"a limit of the wrong dimension", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limits]\nbare_steel_open = \"4 mil\"\n"},
			[]string{`guidecoat.toml:2:19 limits.bare_steel_open|and a time is wanted`}},
		{"a limit without its unit", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limits]\nbare_steel_open = 4\n"},
			[]string{`guidecoat.toml:2:19 limits.bare_steel_open|4 has no unit`}},
		{"a waiver of people rules for longer", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limits]\npeople_waiver = \"91 days\"\n"},
			[]string{`guidecoat.toml:2:17 limits.people_waiver|may be waived for 90 days at most; a house may shorten that`}},
		{"a limit that is true", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[limits]\nbare_steel_open = true\n"},
			[]string{`guidecoat.toml:2:19 limits.bare_steel_open|a limit is one quantity`}},
		{"a grade of an unknown rule", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nwindow-mised = \"risk\"\n"},
			[]string{`guidecoat.toml:2:1 grades.window-mised|did you mean "window-missed"?`}},
		{"an unknown grade", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nwindow-missed = \"risky\"\n"},
			[]string{`guidecoat.toml:2:17 grades.window-missed|did you mean "risk"?`}},
		{"a rule of people that is off", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nskin-unprotected = {off = true, reason = \"hot\"}\n"},
			[]string{`guidecoat.toml:2:20 grades.skin-unprotected|guards people`}},
		{"a rule that is off for no reason", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nwindow-missed = {off = true, reason = \" \"}\n"},
			[]string{`guidecoat.toml:2:17 grades.window-missed|only for a reason`}},
		{"a rule that is not off after all", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nwindow-missed = {off = false, reason = \"a\"}\n"},
			[]string{`guidecoat.toml:2:17 grades.window-missed|switches nothing off`}},
		{"a grade that is a number", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[grades]\nwindow-missed = 2\n"},
			[]string{`guidecoat.toml:2:17 grades.window-missed|write a grade`}},
		{"a folder of rules that is not there", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house]\nrules = \"rules\"\n"},
			[]string{`guidecoat.toml:2:9 house.rules|there is no such folder`}},
		{"a file for a folder of rules", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house]\nrules = \"a.toml\"\n"},
			[]string{`guidecoat.toml:2:9 house.rules|a folder is wanted`}},
		{"a folder of rules outside", map[string]string{"door.toml": door(`"a.toml"`), "a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house]\nrules = \"..\"\n"},
			[]string{`guidecoat.toml:2:9 house.rules|leads out of the folder`}},
		{"the errors of sheet, shelf and house at once", map[string]string{"door.toml": door(`"a.toml"`) + "coats = 0\n", "a.toml": card("grey", "epoxi primer"), "guidecoat.toml": "[limit]\n"},
			[]string{"door.toml:10:9 step[1].coats|one coat or more", "a.toml:3:8 product.grey.kind|epoxy primer", "guidecoat.toml:1:1 limit|limits"}},
	}
}

func TestWhatIsWrongInOtherFilesIsToldThere(t *testing.T) {
	for _, test := range filesOfAShop() {
		t.Run(test.name, func(t *testing.T) {
			s, problems := Read(Options{Root: bench(t, test.files), Rules: knownRules}, "door.toml")
			lines := told(problems)
			if s != nil || len(problems) != len(test.want) {
				t.Fatalf("%d problems, want %d:\n%s", len(problems), len(test.want), strings.Join(lines, "\n"))
			}
			for i, want := range test.want {
				at, says, _ := strings.Cut(want, "|")
				if !strings.HasPrefix(lines[i], at+": ") || !strings.Contains(lines[i], says) {
					t.Errorf("%s\nshould stand at %s and say %s", lines[i], at, says)
				}
			}
		})
	}
}

// Where the house names rules of its own, only they can tell what a name is.
func TestANameOfARuleIsLeftToTheHouseThatHasItsOwn(t *testing.T) {
	dir := bench(t, map[string]string{
		"guidecoat.toml": "[house]\nrules = \"rules\"\n[grades]\nour-own = \"risk\"\n", "rules/a.rego": "package a\n",
		"door.toml": door("") + "[product.grey]\nkind = \"epoxy primer\"\n[[waiver]]\nrule = \"our-own\"\nreason = \"a\"\n",
	})
	s, problems := Read(Options{Root: dir, Rules: knownRules}, "door.toml")
	if s == nil || s.House.Grades[0].Rule != "our-own" || s.Waivers[0].Rule.Place.Line != 13 {
		t.Fatal(told(problems))
	}
	p := UnknownRule(s.Waivers[0].Rule.Place, "waiver[1].rule", "window-mised", knownRules)
	if !strings.Contains(p.Message, `did you mean "window-missed"?`) || p.Place.Line != 13 {
		t.Errorf("%+v", p)
	}
}

func TestTheNamesOfRulesAreNotCheckedWhereNobodyGivesThem(t *testing.T) {
	text := door("") + "[product.grey]\nkind = \"epoxy primer\"\n[[waiver]]\nrule = \"any-name\"\n"
	if s, problems := ReadText(Options{Root: t.TempDir()}, "door.toml", []byte(text)); s == nil {
		t.Error(told(problems))
	}
}

// A sheet may be named from anywhere: what the shop has written beside it holds.
func TestASheetOutsideTheWorkingFolderBelongsToTheShopAboveIt(t *testing.T) {
	dir := bench(t, map[string]string{
		"shop/guidecoat.toml":           "[house]\nshelf = [\"shelf.toml\"]\nregion = \"eu\"\n",
		"shop/shelf.toml":               card("grey", "epoxy primer"),
		"shop/sheets/door.toml":         door(""),
		"shop/sheets/named.toml":        door(`"../shelf.toml"`),
		"shop/sheets/out.toml":          door(`"../../stray.toml"`),
		"shop/second/guidecoat.toml":    "[house]\nshelf = [\"own.toml\"]\n",
		"shop/second/own.toml":          card("grey", "epoxy sealer"),
		"shop/second/sheets/door.toml":  door(""),
		"stray.toml":                    card("grey", "epoxy primer"),
		"elsewhere/no-sheet-lies-here.": "",
	})
	elsewhere := filepath.Join(dir, "elsewhere")
	for name, kind := range map[string]string{"shop/sheets/door.toml": "epoxy primer", "shop/sheets/named.toml": "epoxy primer", "shop/second/sheets/door.toml": "epoxy sealer"} {
		for _, file := range []string{filepath.Join(dir, name), filepath.Join("..", name)} {
			s, problems := Read(Options{Root: elsewhere}, file)
			if s == nil {
				t.Errorf("%s: %v", file, told(problems))
				continue
			}
			if got := s.Cards["grey"].Kind; got != kind || s.House == nil {
				t.Errorf("%s: the card is of the kind %q, house %v", file, got, s.House)
			}
		}
	}
	if s, problems := Read(Options{Root: elsewhere}, filepath.Join(dir, "shop", "sheets", "out.toml")); s != nil || !strings.Contains(problems[0].Message, "this leads out of the folder") {
		t.Error(told(problems))
	}
	// No house file is looked for where none is wanted, or another is named.
	if s, _ := Read(Options{Root: elsewhere, NoHouse: true}, filepath.Join(dir, "shop", "sheets", "door.toml")); s != nil {
		t.Error("a house file is read though none is wanted")
	}
	// From below its folder it is not read, as the working folder is the bound; that is said.
	_, problems := Read(Options{Root: filepath.Join(dir, "shop", "sheets")}, "door.toml")
	if len(problems) != 1 || !strings.Contains(problems[0].Message, `the house file "../guidecoat.toml" lies above the working folder, and is not read from here`) {
		t.Error(told(problems))
	}
}

func TestNoLinkLeadsOut(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need rights there")
	}
	outside := bench(t, map[string]string{"secret.toml": card("grey", "epoxy primer"), "door.toml": door("") + "[product.grey]\nkind = \"epoxy primer\"\n", "guidecoat.toml": "[limit]\n", "rules/a.rego": ""})
	link := func(dir, name, to string) {
		t.Helper()
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	const leads = "this is a link that leads out of the folder"
	for _, test := range []struct {
		name string
		make func(dir string)
		want string
	}{
		{"a shelf that is a link out", func(dir string) { link(dir, "a.toml", filepath.Join(outside, "secret.toml")) }, leads},
		{"a shelf that is a link out by dots", func(dir string) {
			rel, _ := filepath.Rel(dir, filepath.Join(outside, "secret.toml"))
			link(dir, "a.toml", rel)
		}, leads},
		{"a link to itself", func(dir string) { link(dir, "a.toml", "a.toml") }, "cannot be read"},
		{"a house file that is a link out", func(dir string) {
			link(dir, "guidecoat.toml", filepath.Join(outside, "guidecoat.toml"))
			if err := os.WriteFile(filepath.Join(dir, "a.toml"), []byte(card("grey", "epoxy primer")), 0o644); err != nil {
				t.Fatal(err)
			}
		}, leads},
	} {
		dir := bench(t, map[string]string{"door.toml": door(`"a.toml"`)})
		test.make(dir)
		s, problems := Read(Options{Root: dir}, "door.toml")
		if s != nil || len(problems) != 1 || !strings.Contains(problems[0].Message, test.want) {
			t.Errorf("%s: %v", test.name, told(problems))
		}
	}
	// A folder that is a link out, and a sheet that is one.
	dir := bench(t, map[string]string{"door.toml": door(`"there/secret.toml"`)})
	link(dir, "there", outside)
	link(dir, "linked.toml", filepath.Join(outside, "door.toml"))
	for _, name := range []string{"door.toml", "linked.toml", "there/door.toml"} {
		if s, problems := Read(Options{Root: dir}, name); s != nil || !strings.Contains(problems[0].Message, leads) {
			t.Errorf("%s: %v", name, told(problems))
		}
	}
	// A link that stays inside is followed.
	dir = bench(t, map[string]string{"door.toml": door(`"a.toml"`), "real.toml": card("grey", "epoxy primer")})
	link(dir, "a.toml", "real.toml")
	if s, problems := Read(Options{Root: dir}, "door.toml"); s == nil {
		t.Error(told(problems))
	}
}

func TestPathsThatNoSheetShouldWriteAreRefused(t *testing.T) {
	dir := bench(t, map[string]string{"in/door.toml": "", "shelf.toml": card("grey", "epoxy primer")})
	for _, path := range []string{
		"../shelf.toml", "../in/../../x/shelf.toml", "/etc/passwd", `C:\shelf.toml`, `c:/shelf.toml`, `\\\\server\\share\\a.toml`, "a/../../shelf.toml", "..", "../..", "~/shelf.toml", "file:///shelf.toml", "a\\u0000b.toml", ".", "",
	} {
		text := strings.Replace(door(`"@"`), "@", strings.ReplaceAll(path, `C:\`, `C:\\`), 1)
		s, problems := ReadText(Options{Root: filepath.Join(dir, "in")}, "door.toml", []byte(text))
		if s != nil || len(problems) != 1 || !strings.HasPrefix(problems[0].Key, "sheet.shelf") {
			t.Errorf("%q: %v", path, told(problems))
		}
	}
}

func TestAFileThatCannotBeReadIsToldInOneLine(t *testing.T) {
	dir := bench(t, map[string]string{"large.toml": "#" + strings.Repeat("a", MaxFileSize), "folder/a.toml": ""})
	tests := []struct{ name, want string }{
		{"none.toml", "there is no such file"},
		{"folder", "this is a folder"},
		{"large.toml", "larger than 1 MiB"},
		{"none/none.toml", "there is no such file"},
		{"a\x00b.toml", "cannot be read"},
	}
	if runtime.GOOS == "linux" {
		tests = append(tests, struct{ name, want string }{"/dev/zero", "no plain file"}, struct{ name, want string }{"/dev/null", "no plain file"})
	}
	for _, test := range tests {
		s, problems := Read(Options{Root: dir}, test.name)
		if s != nil || len(problems) != 1 || !strings.Contains(problems[0].Message, test.want) || problems[0].Place.Line != 1 || problems[0].Place.File != filepath.ToSlash(test.name) {
			t.Errorf("%s: %v", test.name, told(problems))
		}
		if !strings.ContainsRune(test.name, 0) {
			name := test.name
			if !filepath.IsAbs(name) {
				name = filepath.Join(dir, name)
			}
			if _, err := ReadFile(name); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("%s by itself: %v", test.name, err)
			}
		}
	}
	if _, err := ReadFile("a\x00b"); err == nil {
		t.Error("a name with a NUL is read")
	}
	if text, err := ReadFile("../../testdata/sheet/full.toml"); err != nil || len(text) == 0 {
		t.Error(err)
	}
}

// The text comes from memory, the shelf from the disk.
func TestASheetInMemoryFindsItsShelves(t *testing.T) {
	dir := bench(t, map[string]string{"sheets/door.toml": "not yet saved", "sheets/a.toml": card("grey", "epoxy primer")})
	s, problems := ReadText(Options{Root: dir}, "sheets/door.toml", []byte(door(`"a.toml"`)))
	if s == nil {
		t.Fatal(told(problems))
	}
}

func TestOneReaderServesManySheetsAtOnce(t *testing.T) {
	files := map[string]string{"a.toml": card("grey", "epoxy primer"), "guidecoat.toml": "[house]\nregion = \"us\"\n"}
	for i := range 40 {
		files[fmt.Sprintf("sheets/%02d.toml", i)] = door(`"../a.toml"`)
	}
	r := NewReader(Options{Root: bench(t, files)})
	defer func() { _ = r.Close() }()
	sheets := make([]*Sheet, 40)
	var wg sync.WaitGroup
	for i := range sheets {
		wg.Add(1)
		go func() {
			defer wg.Done()
			s, problems := r.Read(fmt.Sprintf("sheets/%02d.toml", i))
			if s == nil {
				t.Error(told(problems))
				return
			}
			sheets[i] = s
		}()
	}
	wg.Wait()
	for i, s := range sheets {
		if s == nil {
			continue
		}
		if s.Steps[0].Card != sheets[0].Steps[0].Card {
			t.Errorf("sheet %d has read the shelf again", i)
		}
	}
}

// crowd is a text of tables that each have as many keys as they may.
func crowd(head string) string {
	var b strings.Builder
	b.WriteString(head)
	for table := 0; ; table++ {
		fmt.Fprintf(&b, "[t%d]\n", table)
		for key := range maxKeys {
			if b.Len() > MaxFileSize-20 {
				return b.String()
			}
			fmt.Fprintf(&b, "%x=1\n", key)
		}
	}
}

// What a sheet may not hold without end is told, and told soon.
func TestNoTextTakesLong(t *testing.T) {
	if testing.Short() {
		t.Skip("reads a score of texts of a MiB")
	}
	head := "format = 1\nsheet.title = \"a\"\npanel.substrate = \"mild steel\"\n"
	fill := func(line string) string {
		return head + strings.Repeat(line, (MaxFileSize-len(head))/len(line))
	}
	numbered := func(format string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := 0; b.Len() < MaxFileSize-200; i++ {
			fmt.Fprintf(&b, format, i, i)
		}
		return b.String()
	}
	for _, test := range []struct{ name, text, says string }{
		{"steps without end", fill("[[step]]\ndo=\"tack\"\n"), "a sheet may have 5000"},
		{"zones without end", numbered("[[zone]]\nname=\"%d\" # %d\n"), "a sheet may have 200"},
		{"unknown keys without end", numbered("[booth%d]\n[panel.x%d]\n"), "no table of a sheet has more"},
		{"unknown keys of steps", numbered("[[step]]\ndo=\"tack\"\nzone%d=%d\n"), ""},
		{"cuts without end", head + "[[step]]\ndo = \"sand\"\ngrit = \"P80\"\ncuts_to = [" + strings.Repeat(`"substrate",`, 80000) + "]\n", "a sheet may cut in 100 places"},
		{"zones of a step without end", head + "[[step]]\ndo = \"tack\"\non = [" + strings.Repeat(`"panel",`, 100000) + "]\n", ""},
		{"unknown zones of a step", head + "[[step]]\ndo = \"tack\"\non = [" + strings.Repeat(`"dent","hood",`, 70000) + "]\n", "there is no zone"},
		{"a name of cuts of cuts", head + "[[step]]\ndo = \"tack\"\non = \"" + strings.Repeat("panel cut to ", 70000) + "\"\n", "there is no zone"},
		{"a name of calls of calls", head + "[[step]]\ndo = \"tack\"\non = \"" + strings.Repeat("panel (", 100000) + strings.Repeat(")", 100000) + "\"\n", "there is no zone"},
		{"cards without end", numbered("[product.a%d]\nkind=\"epoxy primer\"#%d\n"), "no table of a sheet has more"},
		{"uses without end", numbered("[product.a.as.u%d]\nfilm=\"%d mil\"\n"), "no table of a sheet has more"},
		{"tables beside tables", numbered("[a%d.b%d]\n"), "no table of a sheet has more"},
		{"dotted keys", numbered("a.b.c.d%d=%d\n"), "no table of a sheet has more"},
		{"many tables of many keys", crowd(head), ""},
		{"a list without end", head + "x = [" + strings.Repeat("1,", 400000) + "]\n", ""},
		{"a text without end", head + "x = \"" + strings.Repeat("a", 900000) + "\"\n", ""},
		{"a long quantity", head + "[booth]\nair = \"" + strings.Repeat("9", 900000) + " F\"\n", "too long"},
		{"a large exponent", head + "[booth]\nair = \"1e-999999999 F\"\n", ""},
		{"waivers without end", numbered("[[waiver]]\nrule=\"window-missed\"\nstep=\"%d\"#%d\n"), ""},
		{"keys that repeat", fill("a=1\n"), "no table of a sheet has more"},
		{"lines that are no TOML", fill("do = sand\n"), "in quotes"},
	} {
		start := time.Now()
		_, problems := ReadText(options(t), "door.toml", []byte(test.text))
		took := time.Since(start)
		// No clock is asserted: a bomb runs into the time limit of the whole test.
		t.Logf("%s: %v, %d problems", test.name, took.Round(time.Millisecond), len(problems))
		if test.says != "" && !strings.Contains(strings.Join(told(problems), "\n"), test.says) {
			t.Errorf("%s: %d problems, none says %q, the first is %v", test.name, len(problems), test.says, told(problems[:min(len(problems), 1)]))
		}
		if len(problems) > mostProblems {
			t.Errorf("%s: %d problems", test.name, len(problems))
		}
	}
}

func TestForAShelfThatIsNotThereOnlyShelvesAreOffered(t *testing.T) {
	shelf := card("grey", "epoxy primer")
	for _, test := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"not the sheet itself", map[string]string{"door.toml": door(`"doors.toml"`)}, "in the folder of this file"},
		{"no other sheet", map[string]string{"door.toml": door(`"fenders.toml"`), "fender.toml": door("")}, "in the folder of this file"},
		{"not the house file", map[string]string{"door.toml": door(`"guidecoats.toml"`), "guidecoat.toml": "[house]\n"}, "in the folder of this file"},
		{"a shelf behind nearer sheets", map[string]string{"door.toml": door(`"cards-1.toml"`), "cards-2.toml": door(""), "cards-3.toml": door(""), "cards-4.toml": door(""), "cards-mix.toml": shelf},
			`did you mean "cards-mix.toml"?`},
		{"a shelf in a folder, by its whole name", map[string]string{"door.toml": door(`"mix/shlef.toml"`), "mix/shelf.toml": shelf}, `did you mean "mix/shelf.toml"?`},
		{"for the house, too", map[string]string{"door.toml": door(""), "guidecoat.toml": "house.shelf = \"doors.toml\"\n"}, "in the folder of this file"},
	} {
		_, problems := Read(Options{Root: bench(t, test.files)}, "door.toml")
		if len(problems) == 0 || !strings.HasSuffix(problems[0].Message, test.want) {
			t.Errorf("%s: %v", test.name, told(problems))
		}
	}
}
