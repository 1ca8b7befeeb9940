package main

import (
	"context"
	"fmt"
	"maps"
	"path"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
)

// witness looks, among the sheets of all rules, for one that a mutant judges
// otherwise than the rulebook does, and tells how: it shows what a test would
// have to hold to notice the mutant. It looks at rules alone, not at what
// silences what.
func (b *book) witness(ctx context.Context, mu Mutant) (string, error) {
	m, err := mu.weakened(b.modules[mu.File])
	if err != nil {
		return "", err
	}
	verdicts, with := b.verdictsOf(mu.File), b.all()
	if len(verdicts) == 1 {
		with = b.library()
	}
	was, err := b.compiled(with, b.modules[mu.File])
	if err != nil {
		return "", err
	}
	is, err := b.compiled(with, m)
	if err != nil {
		return "", err
	}
	for _, name := range slices.Sorted(maps.Keys(b.sheets)) {
		s := b.sheets[name]
		for at, input := range map[string]ast.Value{"breaks": s.breaks, "holds": s.holds} {
			for _, v := range verdicts {
				before, err := b.ask(ctx, was, v, input)
				if err != nil {
					return "", err
				}
				after, err := b.ask(ctx, is, v, input)
				switch {
				case err != nil:
					return fmt.Sprintf("%s/%s.toml: %v", name, at, err), nil
				case before.Compare(after) != 0:
					return fmt.Sprintf("%s/%s.toml: %s gives %v instead of %v", name, at, v, after, before), nil
				}
			}
		}
	}
	return "no sheet of the rulebook tells", nil
}

// verdictsOf are the verdicts a file has a say in: a rule's own, or all.
func (b *book) verdictsOf(file string) []ast.Ref {
	if path.Base(file) == "rule.rego" {
		return []ast.Ref{rulePath(file)}
	}
	var out []ast.Ref
	for _, f := range b.files() {
		if path.Base(f) == "rule.rego" {
			out = append(out, rulePath(f))
		}
	}
	return out
}
