package picture

import (
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
)

func stackOfFilms() []Column {
	return []Column{{Zone: "dent", Area: "1 ft2", Films: []Film{
		{ID: "3:filler", Name: "body filler", Class: "filler", Step: 3, Mil: 80, Text: "2 mm (78.7 mil)", Short: "2 mm", Surface: Surface{Tooth: "P80"},
			Marks: []Mark{{Contact: "dent/3:filler", Label: "FAILS: body filler lies on etch", Will: true}}},
		{ID: "2:etch", Name: "etch (one-part acid primer)", Class: "primer", Step: 2, Mil: 0.3, Text: "0.3 mil (8 µm)", Short: "0.3 mil"},
		{ID: "0:mild-steel", Name: "mild steel", Class: "substrate", Substrate: true},
	}}}
}

func TestNoFilmVanishesHoweverThin(t *testing.T) {
	got := Terminal(stackOfFilms(), TerminalOptions{})
	for _, want := range []string{"2 mm │", "body filler, step 3", "0.3 mil │", "etch (one-part acid primer), step 2", "mild steel"} {
		if !strings.Contains(got, want) {
			t.Errorf("the section does not show %q:\n%s", want, got)
		}
	}
}

func TestAFilmThickerThanTheRowsIsDrawnShortAndSaysSo(t *testing.T) {
	got := Terminal(stackOfFilms(), TerminalOptions{})
	rows := 0
	for _, l := range strings.Split(got, "\n") {
		if strings.Contains(l, "∘.∘.") {
			rows++
		}
	}
	if rows != maxRows-1 {
		t.Errorf("the filler is drawn in full:\n%s", got)
	}
	if !strings.Contains(got, "≀≀≀") || !strings.Contains(got, "drawn short") {
		t.Errorf("nothing says that the filler is drawn short:\n%s", got)
	}
}

func TestTheFailingContactIsMarkedAndLabelled(t *testing.T) {
	got := Terminal(stackOfFilms(), TerminalOptions{})
	if !strings.Contains(got, "╳╳╳") || !strings.Contains(got, "╳ FAILS: body filler lies on etch") {
		t.Errorf("the contact is not marked:\n%s", got)
	}
	cols := stackOfFilms()
	cols[0].Films[0].Marks[0].Will = false
	if got := Terminal(cols, TerminalOptions{}); strings.Contains(got, "╳") || !strings.Contains(got, "? FAILS:") {
		t.Errorf("a possible breach is drawn as a certain one:\n%s", got)
	}
}

func TestWithoutUnicodeNothingButASCIIIsDrawn(t *testing.T) {
	cols := stackOfFilms()
	cols[0].Films[0].Name, cols[0].Zone = "gr\u00e5 µm °F 膜", "d\u202ent"
	for _, r := range Terminal(cols, TerminalOptions{ASCII: true}) {
		if r > 0x7e || r < 0x20 && r != '\n' {
			t.Fatalf("%U is drawn", r)
		}
	}
}

func TestTheSectionFitsTheTerminalAndSendsNoControls(t *testing.T) {
	cols := stackOfFilms()
	cols[0].Films[0].Name = strings.Repeat("very long name ", 12) + strings.Repeat("x", 120) + "\x1b[31m\r\n\x07"
	cols[0].Zone = strings.Repeat("zone ", 30)
	cols[0].Films[1].Touched = []string{strings.Repeat("wax and grease remover ", 9)}
	for _, o := range []TerminalOptions{{}, {ASCII: true}} {
		got := Terminal(cols, o)
		for _, l := range strings.Split(got, "\n") {
			if n := runewidth.StringWidth(l); n > 80 {
				t.Errorf("%d columns: %s", n, l)
			}
		}
		if strings.ContainsAny(got, "\x1b\r\x07") {
			t.Error("a control character of the sheet reached the terminal")
		}
	}
}

func TestALongNameIsShownWhole(t *testing.T) {
	cols := stackOfFilms()
	cols[0].Films[0].Name = strings.Repeat("x", 120) + "end"
	if got := Terminal(cols, TerminalOptions{}); !strings.Contains(got, "end, step 3") && !strings.Contains(got, "xend") {
		t.Errorf("the end of the name is lost:\n%s", got)
	}
}
