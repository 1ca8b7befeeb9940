package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestEveryFileIsTakenForWhatItIs(t *testing.T) {
	for _, test := range []struct {
		name, text string
		want       FileKind
	}{
		{"a sheet", good, IsSheet},
		{"a sheet with its head in dotted keys", "sheet.title = \"a\"\n", IsSheet},
		{"a sheet whose head is misspelt", "format = 1\n[shet]\n[[step]]\ndo = \"tack\"\n", IsSheet},
		{"a sheet that forgot its format and head", "[panel]\n[[step]]\ndo = \"tack\"\n", IsSheet},
		{"a sheet without steps", "format = 1\n[panel]\nsubstrate = \"mild steel\"\n", IsSheet},
		{"a sheet whose steps are in single brackets", "format = 1\n[step]\ndo = \"tack\"\n", IsSheet},
		{"a sheet that is no TOML", "format = 1\n[sheet]\ntitle = Door\n", IsSheet},
		{"a sheet that is no TOML from its first line", "format 1\n[[step]]\ndo = \"tack\"\n", IsSheet},
		{"a sheet with one key twice", "[sheet]\ntitle = \"a\"\ntitle = \"b\"\n", IsSheet},
		{"a sheet with steps twice in single brackets", "[step]\ndo = \"tack\"\n[step]\ndo = \"tack\"\n", IsSheet},
		{"a sheet with a header that is not closed", "format = 1\n[[step]\ndo = \"tack\"\n", IsSheet},
		{"a sheet in another character set", "[sheet]\ntitle = \"T\xfcr\"\n", IsSheet},
		{"a sheet in UTF-16", "\xff\xfe" + strings.Join(strings.Split("[sheet]\ntitle", ""), "\x00") + "\x00", IsSheet},
		{"a sheet with a NUL", "[sheet]\ntitle = \"a\x00\"\n", IsSheet},
		{"a sheet that is too large", "[sheet]\n" + strings.Repeat("#\n", MaxFileSize/2), IsSheet},
		{"a shelf", "format = 1\n[product.a]\nkind = \"epoxy primer\"\n", IsShelf},
		{"a shelf with a head", "[shelf]\ntitle = \"a\"\n", IsShelf},
		{"a shelf that is no TOML", "[shelf]\ntitle = a\n", IsShelf},
		{"a house file", "[house]\nregion = \"us\"\n", IsHouse},
		{"a house file that is no TOML", "[house]\nregion = us\n", IsHouse},
		{"a package of another language", "[package]\nname = \"a\"\nversion = \"1\"\n", IsOther},
		{"a list of steps of another program", "[[step]]\nrun = \"make\"\n", IsOther},
		{"another program's file that is no TOML", "[tool]\nname = a\n", IsOther},
		{"nothing", "", IsOther},
	} {
		if got := Classify([]byte(test.text)); got != test.want {
			t.Errorf("%s is taken for %v, want %v", test.name, got, test.want)
		}
	}
}

func TestTheExamplesAreTakenForWhatTheyAre(t *testing.T) {
	for _, f := range examples(t) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		want := IsSheet
		switch name := filepath.Base(f); {
		case name == HouseFile:
			want = IsHouse
		case strings.Contains(name, "shelf"):
			want = IsShelf
		}
		if got := Classify(text); got != want {
			t.Errorf("%s is taken for %v, want %v", f, got, want)
		}
	}
}
