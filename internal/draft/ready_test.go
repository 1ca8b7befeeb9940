package draft

import (
	"strings"
	"testing"

	"guidecoat/internal/quantity"
)

func names(grades []quantity.Abrasive) string {
	var all []string
	for _, g := range grades {
		all = append(all, g.Name)
	}
	return strings.Join(all, " ")
}

// The grades are those a shop keeps; that the middle of a range is the likely
// one is common practice.
func TestTheGradeTriedFirstIsInTheMiddleOfItsRange(t *testing.T) {
	for _, c := range []struct{ coarse, fine, want string }{
		{"P80", "P180", "P120 P180"},  // steel
		{"P80", "P320", "P180 P320"},  // aluminum
		{"P320", "P800", "P500 P800"}, // under a sealer
		{"P500", "P1200", "P800 P1200"},
		{"P320", "P320", "P320"},
		{"P36", "P60", "P36"},       // coarser than the shop keeps: the range's own end
		{"P1000", "P400", ""},       // backwards: nothing
		{"P2000", "P2500", "P2000"}, // finer than the shop keeps
	} {
		if got := names(within(graded(c.coarse).Microns.Hi, graded(c.fine).Microns.Lo)); got != c.want {
			t.Errorf("%s to %s: %q, wanted %q", c.coarse, c.fine, got, c.want)
		}
	}
}

// Medians of ISO 6344: P80 201, P180 82, P240 58.5, P320 46.2, P400 35, P500
// 30.2, P800 21.8 µm; no fall is over 2.7.
func TestALadderOfGradesLeavesNoneOutThatIsNeeded(t *testing.T) {
	for _, c := range []struct{ first, last, want string }{
		{"P80", "P180", "P80 P180"},      // 2.45
		{"P80", "P240", "P80 P180 P240"}, // P80 to P240 is 3.4
		{"P80", "P500", "P80 P180 P400 P500"},
		{"P320", "P500", "P320 P500"},
		{"P320", "P320", "P320"},
		{"P320", "P180", "P180"}, // coarser than where it begins: that alone
	} {
		if got := names(ladder(graded(c.first), graded(c.last), 2.7)); got != c.want {
			t.Errorf("%s to %s: %q, wanted %q", c.first, c.last, got, c.want)
		}
	}
}

func TestAWaitIsReadOffAClockAndNeverShortened(t *testing.T) {
	for _, c := range []struct {
		minutes float64
		want    string
	}{
		{15, "15 min"}, {16, "20 min"}, {60, "1 h"}, {75.6, "80 min"}, {121, "2.5 h"}, {960, "16 h"}, {4 * 1440, "4 days"}, {60.0000000001, "1 h"},
	} {
		if got := span(whole(c.minutes)); got != c.want {
			t.Errorf("%g min: %s, wanted %s", c.minutes, got, c.want)
		}
	}
}

func TestAStepIsWrittenAsTOMLWithItsReasonAbove(t *testing.T) {
	var b strings.Builder
	step{do: "inspect", why: []string{"one\ntwo = 3"}}.raw("measure", list([]string{"film"})).write(&b)
	if got, want := b.String(), "\n# one␊two = 3\n[[step]]\ndo = \"inspect\"\nmeasure = [\"film\"]\n"; got != want {
		t.Errorf("%q, wanted %q", got, want)
	}
}
