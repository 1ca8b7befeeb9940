package stack

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"guidecoat/internal/generate"
	"guidecoat/internal/sheet"
)

// FuzzBuild holds building to its promises on every text that is a sheet: no
// panic, a document or problems and never both, the same bytes twice, and no
// number that JSON has no word for.
func FuzzBuild(f *testing.F) {
	for _, pattern := range []string{"../../specs-examples/*/*.toml", "../../policies/*/*/breaks.toml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatalf("%s: %v", pattern, err)
		}
		for i, name := range names {
			if i%4 != 0 {
				continue // a text to begin with is gone over before any is changed
			}
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	for seed := range uint64(12) {
		f.Add([]byte(generate.Sheet(seed, generate.Options{Steps: 3 + int(seed)%8, Zones: 1 + int(seed)%3})))
	}
	r := sheet.NewReader(sheet.Options{Root: f.TempDir(), NoHouse: true})
	f.Fuzz(func(t *testing.T, text []byte) {
		s, problems := r.ReadText("door.toml", text)
		if len(problems) > 0 {
			return
		}
		once := built(t, s)
		if twice := built(t, s); !bytes.Equal(once, twice) {
			t.Error("built twice, it is not the same")
		}
	})
}

func built(t *testing.T, s *sheet.Sheet) []byte {
	t.Helper()
	d, problems := Build(s)
	if (d == nil) == (len(problems) == 0) {
		t.Fatalf("a document: %v, and %d problems", d != nil, len(problems))
	}
	if d == nil {
		return nil
	}
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// FuzzValues builds sheets that read well but for what their keys say: values
// of a made-up sheet change places, or give way to one at the edge of what can
// be said. A change of letters seldom leaves a sheet; this mostly does.
func FuzzValues(f *testing.F) {
	for seed := range uint64(60) {
		f.Add(seed, seed*31, seed*17, seed*101, seed*7)
	}
	r := sheet.NewReader(sheet.Options{Root: f.TempDir(), NoHouse: true})
	f.Fuzz(func(t *testing.T, seed, at, with, at2, with2 uint64) {
		s, problems := r.ReadText("door.toml", []byte(generate.Changed(seed, [2]uint64{at, with}, [2]uint64{at2, with2})))
		if len(problems) == 0 && !bytes.Equal(built(t, s), built(t, s)) {
			t.Error("built twice, it is not the same")
		}
	})
}

// Where most are refused nothing is built, and the target holds nothing to anything.
func TestASheetOfChangedValuesIsOftenBuilt(t *testing.T) {
	r := sheet.NewReader(sheet.Options{Root: t.TempDir(), NoHouse: true})
	n := 0
	for seed := range uint64(300) {
		s, problems := r.ReadText("door.toml", []byte(generate.Changed(seed, [2]uint64{seed * 31, seed * 17}, [2]uint64{seed * 101, seed * 7})))
		if len(problems) > 0 {
			continue
		}
		if built(t, s) != nil {
			n++
		}
	}
	if n < 100 {
		t.Errorf("%d of 300 are built", n)
	}
}
