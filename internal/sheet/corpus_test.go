package sheet

import (
	"bufio"
	"bytes"
	"io/fs"
	"strings"
	"testing"

	burnt "github.com/BurntSushi/toml"
	tomltest "github.com/toml-lang/toml-test/v2"
)

// corpus is the TOML organisation's list of files for TOML 1.1.
func corpus(t testing.TB) (valid, invalid map[string][]byte) {
	t.Helper()
	files := tomltest.TestCases()
	list, err := fs.ReadFile(files, "files-toml-1.1.0")
	if err != nil {
		t.Fatal(err)
	}
	valid, invalid = map[string][]byte{}, map[string][]byte{}
	for lines := bufio.NewScanner(bytes.NewReader(list)); lines.Scan(); {
		name := lines.Text()
		if !strings.HasSuffix(name, ".toml") {
			continue
		}
		text, err := fs.ReadFile(files, name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(name, "invalid/") {
			invalid[name] = text
		} else {
			valid[name] = text
		}
	}
	if len(valid) < 150 || len(invalid) < 350 {
		t.Fatalf("the corpus has %d valid and %d invalid files; it should have more", len(valid), len(invalid))
	}
	return valid, invalid
}

func TestEveryInvalidFileOfTheCorpusIsRefusedWithAPlace(t *testing.T) {
	_, invalid := corpus(t)
	for name, text := range invalid {
		s, problems := ReadText(Options{Root: t.TempDir(), NoHouse: true}, name, text)
		if s != nil || len(problems) == 0 {
			t.Errorf("%s is read", name)
			continue
		}
		_, _, faults := decode(name, text)
		if len(faults) == 0 {
			t.Errorf("%s is taken for TOML", name)
		}
		lines := 1 + bytes.Count(text, []byte("\n"))
		for _, p := range problems {
			if p.Place.File != name || p.Place.Line < 1 || p.Place.Line > lines || p.Place.Column < 1 || p.Message == "" {
				t.Errorf("%s: the problem %+v has no place in its %d lines", name, p, lines)
			}
			if p.Place.Start < 0 || p.Place.End < p.Place.Start || p.Place.End > len(text) {
				t.Errorf("%s: the problem's bytes %d to %d are not in its %d", name, p.Place.Start, p.Place.End, len(text))
			}
		}
	}
}

func TestEveryValidFileOfTheCorpusIsTOMLAndNoSheet(t *testing.T) {
	valid, _ := corpus(t)
	for name, text := range valid {
		if _, _, faults := decode(name, text); len(faults) > 0 {
			t.Errorf("%s is refused as TOML: %+v", name, faults)
		}
		if s, problems := ReadText(Options{Root: t.TempDir(), NoHouse: true}, name, text); s != nil || len(problems) == 0 {
			t.Errorf("%s is taken for a sheet", name)
		}
	}
}

// Each place of an index holds what it says: a key's text is that key, a
// value's text is that value.
func TestEveryPlaceOfTheCorpusHoldsItsKeyAndValue(t *testing.T) {
	valid, _ := corpus(t)
	checked := 0
	for name, text := range valid {
		for _, variant := range [][]byte{
			text,
			append([]byte("\xef\xbb\xbf"), text...),
			bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\n"), []byte("\r\n")),
		} {
			if bytes.HasPrefix(text, []byte("\xef\xbb\xbf")) {
				variant = text
			}
			var values map[string]any
			if _, err := burnt.Decode(string(variant[bom(variant):]), &values); err != nil {
				continue // a lone CR made it something else
			}
			x, err := NewIndex(name, variant)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			checked += checkPlaces(t, x, x.Root, values)
		}
	}
	if checked < 3000 {
		t.Errorf("only %d places were looked at", checked)
	}
}
