package compare

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// written reads steps from words: "spray grey (epoxy) on dent: 2 mil".
func written(lines ...string) []Step {
	out := make([]Step, len(lines))
	for i, l := range lines {
		s := Step{N: i + 1}
		l, text, _ := strings.Cut(l, ": ")
		l, zone, on := strings.Cut(l, " on ")
		if on {
			s.Zones = []string{zone}
		}
		l, call, called := strings.Cut(l, " (")
		if called {
			s.Call = strings.TrimSuffix(call, ")")
		}
		s.Do, s.Product, _ = strings.Cut(l, " ")
		s.Keys = []Key{{"all", l + call + zone + text}}
		out[i] = s
	}
	return out
}

func paired(old, new []Step) string {
	var out []string
	for _, p := range align(old, new) {
		mark := ""
		if p.moved {
			mark = "~"
		}
		out = append(out, fmt.Sprintf("%d-%s%d", old[p.old].N, mark, new[p.new].N))
	}
	return strings.Join(out, " ")
}

func TestStepsAreFoundAgain(t *testing.T) {
	old := written("clean degreaser", "sand: P80", "spray grey (epoxy): 2 mil", "sand: P320", "tack", "spray blue (color): 3 mil", "spray gloss (clear): 2 coats")
	for name, tc := range map[string]struct {
		new  []Step
		want string
	}{
		"nothing changed": {old, "1-1 2-2 3-3 4-4 5-5 6-6 7-7"},
		"a step put in":   {written("clean degreaser", "rinse", "sand: P80", "spray grey (epoxy): 2 mil", "sand: P320", "tack", "spray blue (color): 3 mil", "spray gloss (clear): 2 coats"), "1-1 2-3 3-4 4-5 5-6 6-7 7-8"},
		"a step taken out and the ones around it rewritten": {written("clean degreaser", "sand: P120", "spray grey (epoxy): 3 mil", "tack", "spray blue (color): 2 mil", "spray gloss (clear): 3 coats"),
			"1-1 2-2 3-3 5-4 6-5 7-6"},
		"a product changed":          {written("clean degreaser", "sand: P80", "spray white (epoxy): 2 mil", "sand: P320", "tack", "spray red (color): 3 mil", "spray gloss (clear): 2 coats"), "1-1 2-2 3-3 4-4 5-5 6-6 7-7"},
		"a call that moved":          {written("spray gloss (clear): 2 coats", "clean degreaser", "sand: P80", "spray grey (epoxy): 2 mil", "sand: P320", "tack", "spray blue (color): 3 mil"), "7-~1 1-2 2-3 3-4 4-5 5-6 6-7"},
		"another verb of the sort":   {written("clean degreaser", "block: P80", "brush grey (epoxy): 2 mil", "scuff: pad", "tack", "spray blue (color): 3 mil", "spray gloss (clear): 2 coats"), "1-1 2-2 3-3 4-4 5-5 6-6 7-7"},
		"nothing left":               {nil, ""},
		"another verb is no rewrite": {written("bake", "store"), ""},
	} {
		if got := paired(old, tc.new); got != tc.want {
			t.Errorf("%s: %q, not %q", name, got, tc.want)
		}
	}
}

// Whatever is done to a sheet: a step is in one pair at most, pairs that are
// not moved keep the order, and steps of different sorts are never paired.
func TestAnAlignmentIsOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.SampledFrom([]string{"sand: P80", "sand: P320", "tack", "tack on dent", "spray grey: 2", "spray grey on dent: 2", "spray blue: 3", "clean wax", "bake"})
		calls := 0
		sheet := rapid.Map(rapid.SliceOfN(word, 0, 30), func(lines []string) []Step {
			steps := written(lines...)
			for i := range steps {
				if calls++; calls%5 == 0 {
					steps[i].Call = fmt.Sprint("call ", i)
				}
			}
			return steps
		})
		old, new := sheet.Draw(t, "old"), sheet.Draw(t, "new")
		olds, last := map[int]bool{}, -1
		for i, p := range align(old, new) {
			if olds[p.old] {
				t.Fatalf("old step %d is in two pairs", p.old)
			}
			olds[p.old] = true
			if i > 0 && p.new <= align(old, new)[i-1].new {
				t.Fatal("the pairs are not in the order of the new sheet")
			}
			if old[p.old].family() != new[p.new].family() {
				t.Fatalf("%+v is taken for %+v", new[p.new], old[p.old])
			}
			if !p.moved {
				if p.old < last {
					t.Fatal("the pairs cross")
				}
				last = p.old
			}
		}
	})
}

// Steps put in and taken out at random: those that are left unchanged, with a
// call of their own, are all found again.
func TestWhatIsUnchangedAndCalledIsAlwaysFoundAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 25).Draw(t, "steps")
		var old, new []Step
		want := 0
		for i := range n {
			s := Step{N: i + 1, Do: rapid.SampledFrom([]string{"spray", "sand", "clean"}).Draw(t, "do"), Call: fmt.Sprint("call ", i)}
			s.Keys = []Key{{"call", s.Call}}
			old = append(old, s)
			for rapid.IntRange(0, 3).Draw(t, "put in") == 0 {
				new = append(new, Step{Do: rapid.SampledFrom([]string{"spray", "sand", "tack"}).Draw(t, "do")})
			}
			if rapid.IntRange(0, 4).Draw(t, "taken out") > 0 {
				want++
				new = append(new, s)
			}
		}
		found := 0
		for _, p := range align(old, new) {
			if old[p.old].Call == new[p.new].Call {
				found++
			}
		}
		if found != want {
			t.Fatalf("%d of %d are found again", found, want)
		}
	})
}

// Sheets too long for a table of both are parted at what stands there once.
func TestVeryLongSheetsAreAlignedWithinBounds(t *testing.T) {
	const n = 20000
	var old, new []string
	for i := range n {
		old = append(old, fmt.Sprintf("spray p%d: %d", i, i))
		switch {
		case i%1000 == 500: // taken out
		case i%1000 == 700: // rewritten
			new = append(new, fmt.Sprintf("spray p%d: thicker", i))
		default:
			new = append(new, fmt.Sprintf("spray p%d: %d", i, i))
		}
	}
	a, b := written(old...), written(new...)
	pairs := align(a, b)
	if len(pairs) != n-n/1000 {
		t.Errorf("%d pairs, not %d", len(pairs), n-n/1000)
	}
	if i := slices.IndexFunc(pairs, func(p pair) bool { return a[p.old].Product != b[p.new].Product }); i >= 0 {
		t.Errorf("step %d is taken for step %d", pairs[i].new, pairs[i].old)
	}
	// Nothing in common and nothing there once: no table is made.
	same := func(word string) []Step { return written(strings.Split(strings.Repeat(word+"\n", 5000), "\n")...) }
	if got := align(same("spray a: 1"), same("spray b: 2")); len(got) > 1 {
		t.Errorf("%d pairs of rewritten sheets", len(got))
	}
}
