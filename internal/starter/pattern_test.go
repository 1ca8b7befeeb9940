package starter

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"guidecoat/internal/quantity"
)

func compile(t testing.TB, patterns ...string) *regexp.Regexp {
	t.Helper()
	re, err := regexp.Compile("(?s)" + either(patterns...))
	if err != nil {
		t.Fatal(err)
	}
	return re
}

var allDimensions = []quantity.Dimension{
	quantity.Time, quantity.Film, quantity.Temperature, quantity.TempMargin, quantity.Area, quantity.Volume,
	quantity.Concentration, quantity.Pressure, quantity.Share, quantity.Coverage, quantity.Particle, quantity.Count,
}

// pieces are what quantities, mixes and grades are written of, and what they
// are not.
func pieces() []string {
	all := []string{
		" ", " ", " ", "\t", "\u00a0", "\u2003", "  ", "-", "–", "−", "to", "TO", " to ", "up to ", "Up To ", "at least ", "AT least ",
		"any", "Any", "until ", "matte", "dry to touch", "overnight", "same day", "Overnight", "never", "untİl ", ":", "+", " + ", "%",
		"0", "1", "2", "3", "10", "72", "4", "80", "180", "600", "1.5", "0.5", "1e3", "1E-2", "1e+2", "1.", ".5", ",", "/", "1e", "0080", "-5", "inf", "nan",
		"P80", "p180", "P 400", "80 grit", "120GRIT", "fine pad", "Very  Fine Pad", "ultra fine", "pad", "grit", "p",
		"µm", "μm", "ΜM", "º", "º", "K", "ſ", "x", "", "h ", "°", "sq ft",
	}
	for _, d := range allDimensions {
		for _, s := range d.Spellings() {
			all = append(all, s, strings.ToUpper(s), " "+s)
		}
	}
	return all
}

// texts are texts made of the pieces; whole sentences of them more often than
// chance would have it, and the units of one dimension more often than others.
func texts(dim quantity.Dimension) *rapid.Generator[string] {
	any := rapid.SampledFrom(pieces())
	number := rapid.SampledFrom([]string{"0", "1", "2", "15", "72", "1.5", "0.5", "1e3", "1E-2", "2e+1", "80", "180", "007"})
	separator := rapid.SampledFrom([]string{"-", " - ", "–", " to ", "\tTO\t", " – ", "- "})
	var units []string
	for _, d := range allDimensions {
		units = append(units, d.Spellings()...)
		units = append(units, d.Units()...)
	}
	unit := rapid.SampledFrom(append(units, ""))
	if own := dim.Spellings(); len(own) > 0 {
		unit = rapid.OneOf(unit, rapid.SampledFrom(own), rapid.SampledFrom(own))
	}
	space := rapid.SampledFrom([]string{"", " ", "\u00a0"})
	end := rapid.Custom(func(t *rapid.T) string {
		sign := rapid.SampledFrom([]string{"", "", "", "-", "−"}).Draw(t, "sign")
		u := unit.Draw(t, "unit")
		if rapid.Bool().Draw(t, "capitals") {
			u = strings.ToUpper(u)
		}
		return sign + number.Draw(t, "number") + space.Draw(t, "space") + u
	})
	grade := rapid.SampledFrom([]string{"P80", "p 180", "80", "80 grit", "180GRIT", "fine pad", "Ultra fine  pad", "P600", "2000", "P081", "080"})
	return rapid.OneOf(
		rapid.Custom(func(t *rapid.T) string { return strings.Join(rapid.SliceOfN(any, 1, 6).Draw(t, "pieces"), "") }),
		end,
		rapid.Custom(func(t *rapid.T) string {
			return end.Draw(t, "low") + separator.Draw(t, "separator") + rapid.OneOf(end, rapid.SampledFrom([]string{"any", "ANY"})).Draw(t, "high")
		}),
		rapid.Custom(func(t *rapid.T) string {
			return rapid.SampledFrom([]string{"up to ", "Up  to ", "at least ", " at\tleast "}).Draw(t, "words") + end.Draw(t, "end") + space.Draw(t, "after")
		}),
		rapid.SampledFrom([]string{"any", "Any ", "overnight", "Same  Day", "until matte", "UNTIL dry to touch", "until  Matte "}),
		rapid.Custom(func(t *rapid.T) string {
			parts := rapid.SliceOfN(number, 1, 4).Draw(t, "parts")
			mix := strings.Join(parts, rapid.SampledFrom([]string{":", " : ", ": "}).Draw(t, "colon"))
			if rapid.Bool().Draw(t, "plus") {
				mix += rapid.SampledFrom([]string{"+", " + "}).Draw(t, "+") + number.Draw(t, "share") + rapid.SampledFrom([]string{" %", "%", "", "-20 %"}).Draw(t, "%")
			}
			return mix
		}),
		grade,
		rapid.Custom(func(t *rapid.T) string {
			return grade.Draw(t, "coarse") + separator.Draw(t, "separator") + grade.Draw(t, "fine")
		}),
	)
}

// holdTo holds patterns to a reader: what the reader reads they let through,
// and what they let through and it does not read is refused for a reason that
// no pattern sees.
func holdTo(t *testing.T, what string, dim quantity.Dimension, patterns []string, read func(string) error, unseen ...string) {
	t.Helper()
	re := compile(t, patterns...)
	gen := texts(dim)
	readOnes, refused := 0, 0
	check := func(t rapid.TB, s string) {
		err := read(s)
		fits := re.MatchString(s)
		switch {
		case err == nil && !fits:
			t.Fatalf("%s: %q is read, and the pattern refuses it", what, s)
		case err == nil:
			readOnes++
		case fits:
			var q *quantity.Error
			if !errors.As(err, &q) || !slices.ContainsFunc(unseen, func(u string) bool { return strings.Contains(q.Problem, u) }) {
				t.Fatalf("%s: %q fits the pattern, and is refused: %v", what, s, err)
			}
		default:
			refused++
		}
	}
	const many = 50 // to a run
	rapid.Check(t, func(t *rapid.T) {
		for range many {
			check(t, gen.Draw(t, "text"))
		}
	})
	if readOnes < 100 || refused < 100 {
		t.Errorf("%s: %d texts were read and %d refused; there should be both", what, readOnes, refused)
	}
}

// What no pattern sees: how large a number is, and which of two is larger.
var ofSize = []string{"runs backwards", "is too large", "is too small to measure", "colder than anything can be", "is too long"}

func TestTheQuantitiesThatAreReadAreThoseThatFitThePatterns(t *testing.T) {
	for _, d := range allDimensions {
		t.Run(d.String(), func(t *testing.T) {
			holdTo(t, d.String(), d, quantityPatterns(d), func(s string) error { _, err := quantity.Parse(d, s); return err }, ofSize...)
		})
	}
}

func TestTheMixesGradesAndRangesThatAreReadAreThoseThatFitThePatterns(t *testing.T) {
	holdTo(t, "mix", quantity.Share, mixPatterns(), func(s string) error { _, err := quantity.ParseMix(s); return err },
		append(ofSize, "is too small", "as a range", "no share of reducer")...)
	holdTo(t, "grade", quantity.Share, gradePatterns(), func(s string) error { _, err := quantity.ParseAbrasive(s); return err })
	holdTo(t, "grades", quantity.Share, gradesPatterns(), func(s string) error { _, err := quantity.ParseAbrasiveRange(s); return err },
		"runs backwards", "there is no grade")
	holdTo(t, "grade that is no pad", quantity.Share, numberedPatterns(), func(s string) error {
		a, err := quantity.ParseAbrasive(s)
		if err == nil && a.System == quantity.Pad {
			return &quantity.Error{Problem: "a pad"}
		}
		return err
	})
}

// A limit is a quantity with an upper end.
func TestTheLimitsThatAreReadAreThoseThatFitThePatterns(t *testing.T) {
	for _, d := range allDimensions {
		holdTo(t, d.String(), d, limitPatterns(d), func(s string) error {
			q, err := quantity.Parse(d, s)
			if err == nil && (q.IsOpen() || q.Until != "") {
				return &quantity.Error{Problem: "open"}
			}
			return err
		}, ofSize...)
	}
}

// Where a key may be written in some units alone, the last unit decides.
func TestATipFitsInMillimetersAlone(t *testing.T) {
	holdTo(t, "tip", quantity.Film, quantityPatterns(quantity.Film, "mm"), func(s string) error {
		q, err := quantity.Parse(quantity.Film, s)
		if err == nil && q.Unit != "mm" && q.Unit != "" {
			return &quantity.Error{Problem: "in " + q.Unit}
		}
		return err
	}, ofSize...)
}

func TestEveryGradeFitsAndItsNeighborDoesNot(t *testing.T) {
	re := compile(t, gradePatterns()...)
	for n := range 6000 {
		for _, way := range []string{"P%d", "p %d", "%d", "%d grit", "%dGRIT"} {
			s := fmt.Sprintf(way, n)
			_, err := quantity.ParseAbrasive(s)
			if fits := re.MatchString(s); fits != (err == nil) {
				t.Errorf("%s fits: %v; %v", s, fits, err)
			}
		}
	}
	pad := compile(t, padPattern())
	for _, name := range quantity.PadNames() {
		if !pad.MatchString(name) || !pad.MatchString(strings.TrimSuffix(name, " pad")) || !re.MatchString(name) {
			t.Errorf("%s is refused", name)
		}
	}
	if pad.MatchString("P80") {
		t.Error("a grade is taken for a pad")
	}
}
