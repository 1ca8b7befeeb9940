package stack

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
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
		s, problems := r.ReadText("door.toml", []byte(changed(seed, [2]uint64{at, with}, [2]uint64{at2, with2})))
		if len(problems) == 0 && !bytes.Equal(built(t, s), built(t, s)) {
			t.Error("built twice, it is not the same")
		}
	})
}

// edgeValues are what a key may say at the edge, for values that match.
var edgeValues = []struct {
	like *regexp.Regexp
	say  []string
}{
	{regexp.MustCompile(`\d (s|min|h|days?|weeks?)\b`), []string{`"0 min"`, `"any"`, `"at least 1 min"`, `"up to 1000 weeks"`, `"100000 h"`, `"0.000001 h"`, `"1 h - 1000 days"`, `"1 s"`}},
	{regexp.MustCompile(`\d (mil|um|mm|in)\b`), []string{`"0.01 mil"`, `"1000 mil"`, `"0.0001 um"`, `"1 - 900 um"`, `"0 mil"`, `"3 mm"`}},
	{regexp.MustCompile(`\d [FC]\b`), []string{`"-40 F"`, `"200 F"`, `"31.9 F"`, `"0 C"`, `"-10 - 120 F"`}},
	{regexp.MustCompile(`\d %`), []string{`"0 %"`, `"100 %"`, `"0.001 %"`, `"1 - 99 %"`}},
	{regexp.MustCompile(`"P\d`), []string{`"P12"`, `"P5000"`, `"P40-P3000"`, `"P80"`, `"P2500"`}},
	{regexp.MustCompile(`\d (ft2|m2)`), []string{`"0.01 ft2"`, `"100000 ft2"`, `"1 m2"`}},
	{regexp.MustCompile(`\d (psi|bar)`), []string{`"1 psi"`, `"100 psi"`}},
	{regexp.MustCompile(`\d g/L`), []string{`"0 g/L"`, `"1500 g/L"`}},
	{regexp.MustCompile(`\d:\d`), []string{`"1:1"`, `"100:1"`, `"1:0:1"`, `"1:100"`, `"1"`}},
	{regexp.MustCompile(`^(true|false)$`), []string{"true", "false"}},
	{regexp.MustCompile(`^\d$`), []string{"1", "2", "9"}},
	{regexp.MustCompile(`.`), []string{`""`, `[]`, `"any"`, "0"}},
}

// changed is a made-up sheet in which, for each change, the value at one place
// is that of another place or one at the edge.
func changed(seed uint64, changes ...[2]uint64) string {
	lines := strings.Split(generate.Sheet(seed%5000, generate.Options{Steps: 3 + int(seed%17), Zones: 1 + int(seed%4)}), "\n")
	var values []int
	for i, line := range lines {
		if strings.Contains(line, " = ") && !strings.HasPrefix(line, "format") && !strings.HasPrefix(line, "do ") && !strings.HasPrefix(line, "kind ") {
			values = append(values, i)
		}
	}
	for _, c := range changes {
		to := &lines[values[c[0]%uint64(len(values))]]
		key, was, _ := strings.Cut(*to, " = ")
		with := ""
		for _, edge := range edgeValues {
			if edge.like.MatchString(was) {
				with = edge.say[c[1]%uint64(len(edge.say))]
				break
			}
		}
		for i := c[1] / 8; c[1]%3 == 0 && i < c[1]/8+uint64(len(values)); i++ {
			// The same key of another product, step or zone.
			if k, v, _ := strings.Cut(lines[values[i%uint64(len(values))]], " = "); k == key && v != was {
				with = v
				break
			}
		}
		*to = key + " = " + with
	}
	return strings.Join(lines, "\n")
}

// Where most are refused nothing is built, and the target holds nothing to anything.
func TestASheetOfChangedValuesIsOftenBuilt(t *testing.T) {
	r := sheet.NewReader(sheet.Options{Root: t.TempDir(), NoHouse: true})
	n := 0
	for seed := range uint64(300) {
		s, problems := r.ReadText("door.toml", []byte(changed(seed, [2]uint64{seed * 31, seed * 17}, [2]uint64{seed * 101, seed * 7})))
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
