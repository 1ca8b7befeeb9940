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
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	for seed := range uint64(40) {
		f.Add([]byte(generate.Sheet(seed, generate.Options{Steps: 3 + int(seed)%20, Zones: 1 + int(seed)%5})))
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
