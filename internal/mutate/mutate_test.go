package main

import (
	"context"
	"flag"
	"slices"
	"strings"
	"testing"

	"guidecoat/policies"
)

var all = flag.Bool("all", false, "weaken the rulebook everywhere, not in one place of thirty")

const (
	oneIn = 30
	least = 0.95 // of all mutants are to be noticed
)

// The rulebook is weakened in the same place of each thirty; with -args -all,
// all of it. What nothing notices has to have its reason in survivors.toml, and
// what stands there has to be noticed by nothing.
func TestWhatIsWeakenedInTheRulebookIsNoticed(t *testing.T) {
	b, err := load(policies.Files)
	if err != nil {
		t.Fatal(err)
	}
	why, err := readReasons("survivors.toml")
	if err != nil {
		t.Fatal(err)
	}
	n := oneIn
	if *all {
		n = 1
	}
	every := b.mutants()
	tried, err := b.tryAll(context.Background(), picked(every, "", n))
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := table(&out, tried); err != nil {
		t.Fatal(err)
	}
	t.Logf("one in %d of %d mutants; %d survivors have their reason\n%s", n, len(every), len(why), out.String())
	for _, f := range why.faults(every, tried) {
		t.Error(f)
	}
	if share := 1 - float64(len(why))/float64(len(every)); share < least {
		t.Errorf("%.1f %% of the mutants can be noticed at most, and %.0f %% is the least", 100*share, 100*least)
	}
}

// A small rule with something of every kind to weaken.
const small = `package guidecoat.film["small"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.layers
	l.film.lo < 3
	not l.kind in {"filler", "putty"}
	v := lib.plain(grade(l))
}

grade(l) := "fails" if l.metal

grade(l) := "risk" if not l.metal

thin(l) := 0.5 if {
	l.wet
} else := 1 if {
	l.film.lo == 2
}
`

// What is weakened in it was written down by hand, by the list of ways.
func TestEveryWayToWeakenARuleIsTaken(t *testing.T) {
	m, err := parse("film/small/rule.rego", []byte(small))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, mu := range mutants("film/small/rule.rego", m) {
		got = append(got, mu.Op+": "+mu.Change)
		w, err := mu.weakened(m)
		if err != nil {
			t.Error(err)
			continue
		}
		if w.Equal(m) {
			t.Errorf("%s changes nothing", mu)
		}
	}
	for _, want := range []string{
		"drop line: lt(l.film.lo, 3)",
		`drop line: not internal.member_2(l.kind, {"filler", "putty"})`,
		"comparison: lt(l.film.lo, 3): <= for <",
		"comparison: lt(l.film.lo, 3): >= for <",
		"comparison: equal(l.film.lo, 2): != for ==",
		`negation: not internal.member_2(l.kind, {"filler", "putty"})`,
		"negation: l.metal",
		"negation: not l.metal",
		`grade: "risk" for "fails"`,
		`grade: "fails" for "risk"`,
		`grade: "advice" for "risk"`,
		"number: 4 for 3",
		"number: 2 for 3",
		"number: 0.505 for 0.5",
		"number: 0.495 for 0.5",
		"ends: l.film.lo: hi",
		"ends: l.film.lo: hi #2",
		`drop member: "filler" of {"filler", "putty"}`,
		`drop body: grade(l) := "fails" if l.metal`,
		"drop body: thin(l) := 0.5 if l.wet",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("nothing does %q", want)
		}
	}
	if t.Failed() {
		t.Logf("done is:\n%s", strings.Join(got, "\n"))
	}
	if dup := slices.Compact(slices.Sorted(slices.Values(got))); len(dup) != len(got) {
		t.Error("two mutants have one name")
	}
}

func TestAReasonIsHeldToWhatHappens(t *testing.T) {
	a := Mutant{File: "film/small/rule.rego", Op: opGrade, Change: "a"}
	b := Mutant{File: "film/small/rule.rego", Op: opGrade, Change: "b"}
	every := []Mutant{a, b}
	for name, c := range map[string]struct {
		why   reasons
		tried []outcome
		says  string
	}{
		"a survivor without one":       {reasons{}, []outcome{{a, survived, ""}}, "nothing notices policies/film/small/rule.rego:0: grade: a"},
		"one for what is noticed":      {reasons{a.name(): "x"}, []outcome{{a, noticed, "test_x"}}, "is noticed (test_x)"},
		"one for what is not compiled": {reasons{b.name(): "x"}, []outcome{{b, stillborn, "unsafe"}}, "is stillborn"},
		"one for what is no mutant":    {reasons{"film/gone/rule.rego: grade: a": "x"}, nil, "there is no mutant film/gone"},
	} {
		faults := c.why.faults(every, c.tried)
		if len(faults) != 1 || !strings.Contains(faults[0], c.says) {
			t.Errorf("%s: told %q", name, faults)
		}
	}
	if faults := (reasons{a.name(): "x"}).faults(every, []outcome{{a, survived, ""}, {b, noticed, ""}}); len(faults) != 0 {
		t.Errorf("told %q, and nothing is wrong", faults)
	}
}
