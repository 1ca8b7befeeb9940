package rulebook_test

import (
	"fmt"
	"slices"
	"testing"
)

// Each sheet of the archive says in its first line what the rules about pairs
// of films and the scratch between them find in it, at which grade; 'may'
// where it is not certain. Nothing else of the two families is to speak.
func TestEveryBranchOfThePairAndScratchRulesSpeaksWhereItShould(t *testing.T) {
	for _, a := range archive(t, "pairs", "pairs.txtar") {
		t.Run(a.name, func(t *testing.T) {
			t.Parallel()
			want := a.expected(t, "finds")
			got := []string{}
			for _, f := range findingsOf(t, a.text) {
				if f.Family != "adhesion" && f.Family != "abrasive" {
					continue
				}
				line := fmt.Sprintf("%s %s", f.Rule, f.Grade)
				if f.Certainty == "may" {
					line += " may"
				}
				got = append(got, line)
			}
			slices.Sort(want)
			slices.Sort(got)
			if got = slices.Compact(got); !slices.Equal(got, want) {
				t.Errorf("want %q\n got %q", want, got)
			}
		})
	}
}
