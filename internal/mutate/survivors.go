package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// reasons says of each mutant that nothing notices why that is right: by its
// name, "FILE: OP: CHANGE".
type reasons map[string]string

// readReasons reads a file of reasons, each with the mutants it holds for.
func readReasons(file string) (reasons, error) {
	var f struct {
		Reason []struct {
			Because string   `toml:"because"`
			Mutants []string `toml:"mutants"`
		} `toml:"reason"`
	}
	md, err := toml.DecodeFile(file, &f)
	if err != nil {
		return nil, fmt.Errorf("reading the reasons: %w", err)
	}
	if odd := md.Undecoded(); len(odd) > 0 {
		return nil, fmt.Errorf("%s: there is no key %s", file, odd[0])
	}
	out := reasons{}
	for _, r := range f.Reason {
		if strings.TrimSpace(r.Because) == "" || len(r.Mutants) == 0 {
			return nil, fmt.Errorf("%s: a reason needs a because and the mutants it holds for", file)
		}
		for _, name := range r.Mutants {
			if _, twice := out[name]; twice {
				return nil, fmt.Errorf("%s: %q stands twice", file, name)
			}
			out[name] = r.Because
		}
	}
	return out, nil
}

// name is what a mutant is called in the file of reasons.
func (mu Mutant) name() string { return mu.File + ": " + mu.Op + ": " + mu.Change }

// faults are where reasons and outcomes part: a survivor without a reason, a
// reason for what is noticed or does not compile, a reason for what is no
// mutant of the rulebook.
func (r reasons) faults(all []Mutant, tried []outcome) []string {
	var out []string
	known := map[string]bool{}
	for _, m := range all {
		known[m.name()] = true
	}
	for name := range r {
		if !known[name] {
			out = append(out, "there is no mutant "+name+", and a reason is given for it")
		}
	}
	for _, o := range tried {
		_, excused := r[o.mutant.name()]
		switch {
		case o.fate == survived && !excused:
			out = append(out, "nothing notices "+o.mutant.String())
		case o.fate != survived && excused:
			out = append(out, fmt.Sprintf("%s is %s (%s), and a reason is given why it is not noticed", o.mutant.name(), o.fate, o.by))
		}
	}
	slices.Sort(out)
	return out
}
