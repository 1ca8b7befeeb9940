package generate_test

import (
	"fmt"
	"slices"
	"testing"

	"guidecoat/internal/generate"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// read reads and builds a generated sheet, and fails the test where that cannot be done.
func read(t *testing.T, seed uint64, o generate.Options) (*sheet.Sheet, *stack.Document) {
	t.Helper()
	text := generate.Sheet(seed, o)
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "made-up.toml", []byte(text))
	for _, p := range problems {
		t.Fatalf("seed %d cannot be read: line %d: %s\n%s", seed, p.Place.Line, p.Message, text)
	}
	d, problems := stack.Build(s)
	for _, p := range problems {
		t.Fatalf("seed %d cannot be built: line %d: %s\n%s", seed, p.Place.Line, p.Message, text)
	}
	return s, d
}

func TestEveryGeneratedSheetCanBeReadAndBuilt(t *testing.T) {
	verbs, kinds, helpers, substrates := map[string]int{}, map[string]int{}, map[string]int{}, map[string]int{}
	cuts, zones := 0, map[int]int{}
	for seed := range uint64(500) {
		_, d := read(t, seed, generate.Options{})
		for _, s := range d.Steps {
			verbs[s.Do]++
			helpers[s.WithKind]++
		}
		for _, l := range d.Layers {
			kinds[l.Kind]++
		}
		own := 0
		for _, z := range d.Zones {
			substrates[z.Substrate]++
			if z.Parent != "" {
				cuts++
			} else {
				own++
			}
		}
		zones[own]++
	}
	for _, v := range sheet.Verbs() {
		if verbs[v.Do] < 20 {
			t.Errorf("%s is done %d times in 500 sheets", v.Do, verbs[v.Do])
		}
	}
	for _, k := range trade.Kinds().Names("film", "finish", "substrate") {
		if kinds[k] < 5 {
			t.Errorf("%s lies in %d layers of 500 sheets", k, kinds[k])
		}
	}
	for _, k := range []string{"wax and grease remover", "waterborne cleaner", "plastic cleaner", "lacquer thinner", "soap and water", "alcohol wipe", "acid wash", "conversion coating", "neutralizer"} {
		if helpers[k] < 5 {
			t.Errorf("%s is used %d times in 500 sheets", k, helpers[k])
		}
	}
	if cuts < 100 || len(zones) < 4 {
		t.Errorf("%d cuts; sheets by their number of zones: %v", cuts, zones)
	}
}

func TestTheSameSeedGivesTheSameBytesAndAnotherSeedOthers(t *testing.T) {
	seen := map[string]bool{}
	for seed := range uint64(1000) {
		text := generate.Sheet(seed, generate.Options{})
		if text != generate.Sheet(seed, generate.Options{}) {
			t.Fatalf("seed %d gives two sheets", seed)
		}
		if seen[text] {
			t.Fatalf("seed %d gives the sheet of another seed", seed)
		}
		seen[text] = true
	}
}

func TestASheetHasTheStepsAndZonesItWasAskedFor(t *testing.T) {
	for _, steps := range []int{1, 10, 100, 1000} {
		for _, zones := range []int{1, 10, 50} {
			t.Run(fmt.Sprintf("%d steps, %d zones", steps, zones), func(t *testing.T) {
				s, d := read(t, 7, generate.Options{Steps: steps, Zones: zones})
				if len(s.Steps) != steps {
					t.Errorf("it has %d steps", len(s.Steps))
				}
				own := slices.DeleteFunc(slices.Clone(d.Zones), func(z stack.Zone) bool { return z.Parent != "" })
				if len(own) != zones {
					t.Errorf("it begins with %d zones", len(own))
				}
			})
		}
	}
}
