package quantity

import (
	"slices"
	"testing"
	"unicode"
)

func TestEverySpellingOfAUnitIsReadAsThatUnit(t *testing.T) {
	for _, d := range dimensions {
		for _, name := range d.Units() {
			spellings := d.Spellings(name)
			if len(spellings) == 0 {
				t.Errorf("%s has no spelling for %s", d, name)
			}
			for _, s := range spellings {
				if u, ok := findUnit(d, s); !ok || u.name != name {
					t.Errorf("%q is read as %q, not %q", s, u.name, name)
				}
			}
		}
	}
}

// Every character that there is, by the folding itself.
func TestTheCharactersReadAsOneAreAllThatFoldToIt(t *testing.T) {
	want := map[rune][]rune{}
	for c := rune(0); c <= unicode.MaxRune; c++ {
		if c >= 0xD800 && c <= 0xDFFF {
			continue // no characters
		}
		if folded := []rune(plainUnit(string(c))); len(folded) == 1 && folded[0] != c {
			want[folded[0]] = append(want[folded[0]], c)
		}
	}
	for r, others := range want {
		got := Alike(r)[1:]
		if !slices.Equal(got, others) {
			t.Errorf("read as %q are %q, want %q", r, got, others)
		}
	}
	if got := Alike('5'); !slices.Equal(got, []rune{'5'}) {
		t.Errorf("read as 5 are %q", got)
	}
}

func TestEveryWaitInWordsIsRead(t *testing.T) {
	waits := Waits()
	if want := []string{"until matte", "until dry to touch", "overnight", "same day"}; !slices.Equal(waits, want) {
		t.Errorf("the waits are %q", waits)
	}
	for _, w := range waits {
		if _, err := Parse(Time, w); err != nil {
			t.Error(err)
		}
	}
}
