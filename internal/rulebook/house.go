package rulebook

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// House is a shop's own rules: read, checked and compiled apart from ours, so
// that they can neither change nor silence them. It is safe for use by many
// goroutines.
type House struct {
	rules map[string]*Rule
	names []string // sorted
	judge *judge
	guard guard
	apart *asker // asks the rules in a process of its own; nil: they are asked here
}

// Names are the names of the shop's rules, sorted.
func (h *House) Names() []string { return slices.Clone(h.names) }

// Rule is what a person reads about a rule of the shop's.
func (h *House) Rule(name string) (Rule, bool) {
	r, ok := h.rules[name]
	if !ok {
		return Rule{}, false
	}
	return *r, true
}

// Rules are the shop's rules by name.
func (h *House) Rules() []Rule {
	out := make([]Rule, 0, len(h.names))
	for _, n := range h.names {
		out = append(out, *h.rules[n])
	}
	return out
}

// Bounds on what a shop's folder may hold: far over any real one.
const (
	houseFileMost  = 1 << 20
	houseFilesMost = 1000
)

var ruleName = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// LoadHouse reads a folder of the shop's own rules: every .rego file under it
// is one rule, those ending in _test.rego are tests and left alone. A rule
// stands in package guidecoat.house["NAME"], or in one of ours or the shop's own
// families instead of house; its name may not be that of a rule of ours.
//
// Everything wrong with the files is told at once, as a *RulesError: METADATA
// as strict as for our own rules, a misspelt field, a built-in that may not be
// called, a rule of ours that it would silence.
func (b *Book) LoadHouse(dir string) (*House, error) {
	files, err := readHouse(dir)
	if err != nil {
		return nil, err
	}
	h, err := b.houseOf(files)
	if err != nil {
		return nil, err
	}
	if start := b.apart.Load(); start != nil && *start != nil && len(h.names) > 0 {
		h.apart = newAsker(*start, files)
	}
	return h, nil
}

// Close ends the process in which the shop's rules are asked, if there is one,
// and whatever it is asking. Asked again, the rules get another.
func (h *House) Close() {
	if h.apart != nil {
		h.apart.close()
	}
}

// houseOf makes a house of the files of its rules.
func (b *Book) houseOf(files []houseFile) (*House, error) {
	h := &House{rules: map[string]*Rule{}, guard: defaultGuard()}
	modules, err := b.shared()
	if err != nil {
		return nil, err
	}
	var problems []sheet.Problem
	families := map[string]string{}
	for _, f := range files {
		if strings.HasSuffix(f.Name, "_test.rego") {
			continue
		}
		m, r, faults := b.readHouseRule(f)
		problems = append(problems, faults...)
		if m == nil {
			continue
		}
		if other, ok := h.rules[r.Name]; ok {
			problems = append(problems, problem(f.Name, m.Package.Location.Row, m.Package.Location.Col,
				"there is a rule %q already, in %s; one file is one rule", r.Name, other.File))
			continue
		}
		h.rules[r.Name] = r
		families[r.Name] = r.Family
		modules[f.Name] = m
	}
	h.names = slices.Sorted(maps.Keys(h.rules))
	problems = append(problems, b.checkHouseCovers(h)...)
	if len(problems) > 0 {
		return nil, rulesError(problems)
	}
	data, _, err := b.data()
	if err != nil {
		return nil, err
	}
	covers := map[string][]string{}
	for _, r := range h.rules {
		covers[r.Name] = r.Covers
	}
	h.judge = newJudge(data, covers, h.names)
	if h.judge.compiler, err = compile(modules, capabilitiesOnce()); err != nil {
		return nil, err
	}
	schema, err := b.inputShape()
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if _, ok := modules[f.Name]; ok {
			problems = append(problems, misspelt(h.judge.compiler, f.Name, schema)...)
		}
	}
	return h, rulesError(problems)
}

// houseFile is one file of the shop's folder.
type houseFile struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

func readHouse(dir string) ([]houseFile, error) {
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return nil, &RulesError{[]sheet.Problem{problem(filepath.ToSlash(dir), 1, 1, "the folder of the shop's own rules cannot be read: check the name behind rules")}}
	}
	var files []houseFile
	err = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return fmt.Errorf("reading the shop's rules: %w", err)
		}
		if d.IsDir() {
			if p != dir && strings.HasPrefix(d.Name(), ".") {
				return fs.SkipDir
			}
			return nil
		}
		if filepath.Ext(p) != ".rego" {
			return nil
		}
		name := filepath.ToSlash(p)
		if len(files) == houseFilesMost {
			return &RulesError{[]sheet.Problem{problem(filepath.ToSlash(dir), 1, 1, "there are more than %d rule files here", houseFilesMost)}}
		}
		info, err := d.Info()
		if err == nil && info.Size() > houseFileMost {
			return &RulesError{[]sheet.Problem{problem(name, 1, 1, "this file is larger than a rule can be (%d KB)", houseFileMost>>10)}}
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return fmt.Errorf("reading the shop's rules: %w", err)
		}
		files = append(files, houseFile{name, string(text)})
		return nil
	})
	sort.Slice(files, func(i, j int) bool { return files[i].Name < files[j].Name })
	return files, err
}

// readHouseRule reads one file. The module is nil when there is no use in going
// on with it.
func (b *Book) readHouseRule(f houseFile) (*ast.Module, *Rule, []sheet.Problem) {
	m, err := parseModule(f.Name, f.Text)
	if err != nil {
		var re *RulesError
		if errors.As(err, &re) {
			return nil, nil, re.Problems
		}
		return nil, nil, []sheet.Problem{problem(f.Name, 1, 1, "%v", err)}
	}
	var problems []sheet.Problem
	at := func(l *ast.Location, format string, args ...any) {
		problems = append(problems, problem(f.Name, l.Row, l.Col, format, args...))
	}
	family, name, ok := packageName(m.Package.Path)
	switch {
	case !ok:
		at(m.Package.Location, "the package is %s; that of a shop's rule is guidecoat.house[\"NAME\"]", shortPath(m.Package.Path))
		return nil, nil, problems
	case family == "lib":
		at(m.Package.Location, "the library guidecoat.lib is the program's; a shop's rule stands in guidecoat.house[\"NAME\"]")
		return nil, nil, problems
	case !ruleName.MatchString(name):
		at(m.Package.Location, "%q is no name of a rule: small letters, figures and hyphens, such as \"no-chrome-trim-sanding\"", name)
		return nil, nil, problems
	}
	if e, ok := b.rules[name]; ok {
		at(m.Package.Location, "there is a rule %q already, in the family %s; give the shop's another name", name, e.family)
	}
	if !slices.ContainsFunc(m.Rules, func(r *ast.Rule) bool { return r.Head.Ref().String() == "verdict" || r.Head.Name == "verdict" }) {
		at(m.Package.Location, "this rule gives no verdict: write 'verdict contains v if { ... }'")
	}
	r := &Rule{Name: name, Family: family, File: f.Name, House: true}
	for _, p := range readMetadata(r, f.Text) {
		problems = append(problems, problem(f.Name, p.line, p.column, "%s", p.message))
	}
	for _, p := range refusedCalls(m) {
		problems = append(problems, problem(f.Name, p.line, p.column, "%s", p.message))
	}
	if path.Base(f.Name) == "rule.rego" {
		beside := filepath.Dir(filepath.FromSlash(f.Name))
		r.Breaks, r.Holds = textOf(filepath.Join(beside, "breaks.toml")), textOf(filepath.Join(beside, "holds.toml"))
	}
	return m, r, problems
}

func textOf(file string) string {
	info, err := os.Stat(file)
	if err != nil || info.Size() > houseFileMost {
		return ""
	}
	text, err := os.ReadFile(file)
	if err != nil {
		return ""
	}
	return string(text)
}

// shortPath is a package as its line has it.
func shortPath(p ast.Ref) string { return strings.TrimPrefix(p.String(), "data.") }

// packageName takes guidecoat.FAMILY["NAME"] apart.
func packageName(p ast.Ref) (family, name string, ok bool) {
	if len(p) != 4 {
		return "", "", false
	}
	var parts [3]string
	for i, t := range p[1:] {
		s, ok := t.Value.(ast.String)
		if !ok {
			return "", "", false
		}
		parts[i] = string(s)
	}
	return parts[1], parts[2], parts[0] == "guidecoat"
}

func (b *Book) checkHouseCovers(h *House) []sheet.Problem {
	var problems []sheet.Problem
	covers := map[string][]string{}
	for _, r := range h.rules {
		covers[r.Name] = r.Covers
	}
	for _, name := range h.names {
		r := h.rules[name]
		for _, c := range r.Covers {
			if _, ours := b.rules[c]; ours {
				problems = append(problems, problem(r.File, r.Line, 1, "covers names %q: a shop's rule cannot silence one of the program's; cap or switch it off in the house file's [grades]", c))
			} else if _, ok := h.rules[c]; !ok {
				problems = append(problems, problem(r.File, r.Line, 1, "covers names %q, and the shop has no such rule", c))
			}
		}
		if ring := ringFrom(name, covers); ring != nil {
			problems = append(problems, problem(r.File, r.Line, 1, "these silence one another, so that none would speak: %s", listed(ring)))
		}
	}
	return problems
}

// raise asks each of the shop's rules alone, each with its own deadline and
// under guard.
func (h *House) raise(ctx context.Context, doc *stack.Document) ([]verdict, []Broke, error) {
	var verdicts []verdict
	var broke []Broke
	hear := func(name string, said ast.Value, fault error) {
		vs, bs := heard(said, fault, h.rules[name].Family, name)
		// Nobody but us checks a shop's rule: what it offers must be right.
		for _, v := range vs {
			if b := (Broke{name, fmt.Sprint(v.oddEdit)}); v.oddEdit != nil && !slices.Contains(bs, b) {
				bs = append(bs, b)
			}
		}
		verdicts, broke = append(verdicts, vs...), append(broke, bs...)
	}
	if h.apart != nil {
		words, err := h.apart.raise(ctx, doc, h.names, h.guard)
		if err != nil {
			return nil, nil, err
		}
		for _, w := range words {
			hear(w.rule, w.said, w.fault)
		}
		return uncovered(verdicts, h.judge.covers), broke, nil
	}
	input, err := toValue(doc)
	if err != nil {
		return nil, nil, err
	}
	for _, name := range h.names {
		said, fault := h.askOne(ctx, name, input)
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		hear(name, said, fault)
	}
	return uncovered(verdicts, h.judge.covers), broke, nil
}

// askOne asks one of the shop's rules under guard.
func (h *House) askOne(ctx context.Context, name string, input ast.Value) (ast.Value, error) {
	refs := []ast.Ref{verdictsOf(h.rules[name].Family, name)}
	if _, err := h.judge.query(ctx, refs); err != nil {
		return nil, err
	}
	var said ast.Value
	err := h.guard.run(ctx, name, func(ctx context.Context) (err error) {
		said, err = h.judge.askOne(ctx, refs[0], input)
		return err
	})
	if err != nil && topdown.IsCancel(err) {
		err = errors.New("it was stopped")
	}
	return said, err
}
