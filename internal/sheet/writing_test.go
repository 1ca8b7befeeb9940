package sheet

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func written(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const (
	shelfOnDisk = "format = 1\n[shelf]\n[product.grey]\nkind = \"epoxy primer\"\n"
	shelfInHand = "format = 1\n[shelf]\n[product.grey]\nkind = \"urethane clear\"\n[product.odd]\nkind = \"no such kind\"\n"
	sheetOfOne  = "format = 1\n[sheet]\ntitle = \"x\"\nshelf = [\"shelf.toml\"]\n[panel]\nsubstrate = \"mild steel\"\n[[step]]\ndo = \"spray\"\nproduct = \"grey\"\n"
)

func TestATextThatIsNotYetSavedCountsBeforeTheDisk(t *testing.T) {
	dir := written(t, map[string]string{"shelf.toml": shelfOnDisk})
	var asked []string
	inHand := strings.Replace(shelfOnDisk, "epoxy primer", "urethane clear", 1)
	r := NewReader(Options{Root: dir, Text: func(path string) ([]byte, bool) {
		asked = append(asked, path)
		if filepath.Base(path) == "shelf.toml" {
			return []byte(inHand), true
		}
		return nil, false
	}})
	defer r.Close()
	s, problems := r.ReadText("door.toml", []byte(sheetOfOne))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if got := s.Cards["grey"].Kind; got != "urethane clear" {
		t.Errorf("the card is of kind %q; the text in hand has urethane clear", got)
	}
	for _, want := range []string{filepath.Join(dir, "shelf.toml"), filepath.Join(dir, HouseFile)} {
		if !slices.Contains(asked, want) {
			t.Errorf("%s was not asked for, only %q", want, asked)
		}
	}
}

func TestAShelfOrHouseFileIsCheckedByItself(t *testing.T) {
	dir := written(t, nil)
	r := NewReader(Options{Root: dir, Rules: map[string]string{"too-cold": "weather"}})
	defer r.Close()
	for _, c := range []struct {
		kind FileKind
		text string
		line int
		word string
	}{
		{IsShelf, shelfInHand, 6, "no such kind"},
		{IsHouse, "[house]\n[limits]\nno_such = \"4 h\"\n", 3, "no_such"},
		{IsHouse, "[grades]\ntoo-colt = \"risk\"\n", 2, "too-cold"},
		{IsShelf, "[shelf\n", 1, "not closed"},
	} {
		problems := r.Check(c.kind, "some.toml", []byte(c.text))
		if len(problems) != 1 || problems[0].Place.Line != c.line || !strings.Contains(problems[0].Message, c.word) {
			t.Errorf("%q: %+v; want one problem on line %d about %q", c.text, problems, c.line, c.word)
		}
	}
	if problems := r.Check(IsOther, "some.toml", []byte("[package]\n")); problems != nil {
		t.Errorf("a file of somebody else's was found wrong: %v", problems)
	}
}

func TestCardsAreInReachThoughTheSheetOrAnotherCardIsWrong(t *testing.T) {
	dir := written(t, map[string]string{"shelf.toml": shelfInHand, "house-shelf.toml": shelfOnDisk,
		HouseFile: "[house]\nshelf = [\"house-shelf.toml\"]\nregion = \"us\"\n"})
	r := NewReader(Options{Root: dir})
	defer r.Close()
	file := filepath.ToSlash(filepath.Join(dir, "door.toml"))
	cards, house := r.InReach(file, nil)
	if house == nil || house.Region != "us" || cards["grey"] == nil || cards["grey"].Kind != "epoxy primer" {
		t.Errorf("of the house alone: %v, %v", house, cards)
	}
	cards, _ = r.InReach(file, []string{"shelf.toml", "no-such.toml", "../out.toml", ""})
	if cards["grey"] == nil || cards["grey"].Kind != "urethane clear" || cards["odd"] == nil {
		t.Errorf("the sheet's shelf does not win over the house's: %v", cards)
	}
}

func TestTheHelpersOfAVerbAreHelpers(t *testing.T) {
	for _, v := range Verbs() {
		helpers := HelpersFor(v.Do)
		for _, name := range helpers {
			if k := kindNamed(name); k == nil || k.Role != "helper" {
				t.Errorf("%s takes %q, which is no helper", v.Do, name)
			}
		}
		with := slices.ContainsFunc(v.Keys, func(k Key) bool { return k.Name == "with" })
		if with != (len(helpers) > 0) {
			t.Errorf("%s has the key with: %v, and helpers %q", v.Do, with, helpers)
		}
	}
}

func TestTheNamesThatAMessageAsksAfterAreReadBack(t *testing.T) {
	for _, names := range [][]string{{"sand"}, {"grey-epoxy", "build-epoxy"}, {"wax and grease remover", "a, b or c", "panel"}} {
		if got := Meant("there is no step \"sant\"; " + didYouMean(names) + " It is one of x"); !slices.Equal(got, names) {
			t.Errorf("%q is read as %q", names, got)
		}
	}
	for _, message := range []string{"", "a step needs \"do\"", "did you mean it?", `did you mean "x`, `did you mean "x" and so on`} {
		if got := Meant(message); got != nil {
			t.Errorf("%q asks after %q", message, got)
		}
	}
}
