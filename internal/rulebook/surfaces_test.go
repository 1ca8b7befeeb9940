package rulebook_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Each sheet of these archives says in its first line what one rule finds in it
// and in which zones; 'may' where it is not certain. A sheet for each branch of
// each rule about bare surfaces and pores, through cuts, strips, zones and
// cards, beside what stops just short of it.
func TestEveryBranchOfTheSurfaceRulesSpeaksWhereItShould(t *testing.T) {
	for _, name := range []string{"metal.txtar", "pores.txtar"} {
		for _, a := range archive(t, "surfaces", name) {
			t.Run(a.name, func(t *testing.T) {
				t.Parallel()
				rule, _, _ := strings.Cut(a.name, "/")
				want := a.expected(t, rule)
				got := []string{}
				for _, f := range findingsOf(t, a.text) {
					if f.Rule != rule {
						continue
					}
					line := f.Grade
					if f.Certainty == "may" {
						line += " may"
					}
					got = append(got, fmt.Sprintf("%s in %s", line, strings.Join(f.Zones, ", ")))
				}
				slices.Sort(got)
				if !slices.Equal(got, want) {
					t.Errorf("want %q\n got %q", want, got)
				}
			})
		}
	}
}
