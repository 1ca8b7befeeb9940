package rulebook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"sort"

	"guidecoat/internal/sheet"
)

// coversFile holds what silences what, for a stock OPA as for this program. It
// is written from the METADATA of the rules by go generate.
const coversFile = "covers.json"

// CoversJSON is what coversFile must hold: the covers of every rule that has
// any, sorted.
func (b *Book) CoversJSON() ([]byte, error) {
	rules, err := b.Rules()
	if err != nil {
		return nil, err
	}
	covers := map[string][]string{}
	for _, r := range rules {
		if len(r.Covers) > 0 {
			list := append([]string(nil), r.Covers...)
			sort.Strings(list)
			covers[r.Name] = list
		}
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetIndent("", "  ")
	if err := e.Encode(map[string]any{"covers": covers}); err != nil {
		return nil, fmt.Errorf("writing %s: %w", coversFile, err)
	}
	return out.Bytes(), nil
}

// CheckCovers tells what is wrong with what the rules silence: a rule that does
// not exist, a rule that silences itself, and rules that silence one another,
// so that nothing would speak at all.
func (b *Book) CheckCovers() error {
	rules, err := b.Rules()
	if err != nil {
		return err
	}
	covers := map[string][]string{}
	for _, r := range rules {
		covers[r.Name] = r.Covers
	}
	for _, r := range rules {
		for _, c := range r.Covers {
			if _, ok := covers[c]; !ok {
				e := problem(r.File, r.Line, 1, "covers names %q, and there is no such rule", c)
				if near := b.Nearest(c); near != "" {
					e.Message += fmt.Sprintf("; did you mean %q?", near)
				}
				return rulesError([]sheet.Problem{e})
			}
		}
		if ring := ringFrom(r.Name, covers); ring != nil {
			return rulesError([]sheet.Problem{problem(r.File, r.Line, 1, "these silence one another, so that none would speak: %s", listed(ring))})
		}
	}
	return nil
}

// ringFrom is the way from a rule back to itself, or nil.
func ringFrom(name string, covers map[string][]string) []string {
	var walk func(at string, way []string) []string
	seen := map[string]bool{}
	walk = func(at string, way []string) []string {
		for _, next := range covers[at] {
			if next == name {
				return append(way, at)
			}
			if !seen[next] {
				seen[next] = true
				if ring := walk(next, append(way, at)); ring != nil {
					return ring
				}
			}
		}
		return nil
	}
	return walk(name, nil)
}

// uncovered drops every verdict that a nearer cause silences: one whose rule
// covers its rule, on the same place, at the same or a graver grade. It is what
// policies/guidecoat.rego does, for verdicts that were not raised together.
func uncovered(verdicts []verdict, covers map[string][]string) []verdict {
	type spot struct{ rule, on string }
	gravest := map[spot]int{}
	for _, v := range verdicts {
		s := spot{v.rule, v.on}
		gravest[s] = max(gravest[s], rank(v.grade))
	}
	by := map[string][]string{} // what silences a rule
	for rule, covered := range covers {
		for _, c := range covered {
			by[c] = append(by[c], rule)
		}
	}
	kept := verdicts[:0]
	for _, v := range verdicts {
		silenced := false
		for _, cover := range by[v.rule] {
			silenced = silenced || gravest[spot{cover, v.on}] >= rank(v.grade)
		}
		if !silenced {
			kept = append(kept, v)
		}
	}
	return kept
}
