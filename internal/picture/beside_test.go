package picture

import (
	"strings"
	"testing"

	"guidecoat/internal/printable"
)

func TestTwoDrawingsStandSideBySideWhereThereIsRoom(t *testing.T) {
	got := Beside("ab\nc\n", "123\n4\n5\n", 20)
	if want := "ab   123\nc    4\n     5\n"; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestTwoDrawingsStandUnderEachOtherWhereThereIsNoRoom(t *testing.T) {
	left, right := strings.Repeat("x", 10)+"\n", strings.Repeat("y", 10)+"\n"
	if got, want := Beside(left, right, 23), left[:10]+"   "+right; got != want {
		t.Errorf("with just room enough:\n%s", got)
	}
	if got, want := Beside(left, right, 22), left+"\n"+right; got != want {
		t.Errorf("with a column too few:\n%s", got)
	}
}

func TestWideCharactersCountAsTheTerminalCountsThem(t *testing.T) {
	got := Beside("膜膜\nx\n", "1\n2\n", 8)
	if want := "膜膜   1\nx      2\n"; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestADrawingWithNothingBesideItStandsAlone(t *testing.T) {
	if got := Beside("", "1\n", 80); got != "1\n" {
		t.Errorf("%q", got)
	}
	if got := Beside("1\n", "\n", 80); got != "1\n" {
		t.Errorf("%q", got)
	}
}

func TestTwoSectionsFitEightyColumns(t *testing.T) {
	for _, name := range examples() {
		s := example(t, name)
		half := Terminal(s.columns, TerminalOptions{Columns: Half(80), Bare: true})
		both := Beside(half, half, 80)
		if strings.Count(both, "\n") != strings.Count(half, "\n") {
			t.Errorf("%s: two halves do not stand side by side", name)
		}
		for _, l := range strings.Split(both, "\n") {
			if n := printable.Width(l); n > 80 {
				t.Errorf("%s: %d columns: %s", name, n, l)
			}
		}
	}
}

func TestASectionKeepsToAnyWidth(t *testing.T) {
	for _, columns := range []int{24, 38, 59, 60, 72, 80, 132} {
		for _, name := range examples() {
			for _, ascii := range []bool{false, true} {
				for _, l := range strings.Split(Terminal(example(t, name).columns, TerminalOptions{Columns: columns, ASCII: ascii}), "\n") {
					if n := printable.Width(l); n > columns {
						t.Errorf("%s in %d columns: %d taken: %s", name, columns, n, l)
					}
				}
			}
		}
	}
}
