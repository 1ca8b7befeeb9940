package main

import (
	"fmt"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// The ways a rule is weakened. Each is done alone.
const (
	opDropLine   = "drop line"   // an expression is taken out of a body
	opDropBody   = "drop body"   // one of several bodies of a name is taken away
	opCompare    = "comparison"  // < becomes <= or >=, == becomes !=, and so on
	opNegate     = "negation"    // not is added or taken away
	opGrade      = "grade"       // fails, risk and advice; will and may
	opNumber     = "number"      // a number goes up and down: a whole one by 1, any other by 1 %
	opEnds       = "ends"        // lo and hi change places
	opDropMember = "drop member" // a word is taken out of a set or list of words
)

// Ops are the ways a rule is weakened, in the order they are reported.
var ops = []string{opDropLine, opDropBody, opCompare, opNegate, opGrade, opNumber, opEnds, opDropMember}

// Mutant is one file of the rulebook with one thing in it weakened.
type Mutant struct {
	File string // below policies/
	Op   string // one of ops
	// Change says what was weakened, as Rego writes it. Where a file holds the
	// same change more than once, those after the first end in " #2", " #3" ...,
	// so that file, op and change name the mutant, whatever lines move.
	Change string
	Line   int
	nth    int // among the sites of the file
}

func (m Mutant) String() string {
	return fmt.Sprintf("policies/%s:%d: %s: %s", m.File, m.Line, m.Op, m.Change)
}

// site is a place in a module that can be weakened; change does it, in the
// module that was walked.
type site struct {
	op, text string
	line     int
	change   func()
}

// mutants lists every way to weaken a module, in the order of its text.
func mutants(file string, m *ast.Module) []Mutant {
	var out []Mutant
	seen := map[string]int{}
	for i, s := range sites(m.Copy()) {
		change := shortened(s.text)
		key := s.op + change
		seen[key]++
		if n := seen[key]; n > 1 {
			change = fmt.Sprintf("%s #%d", change, n)
		}
		out = append(out, Mutant{file, s.op, change, s.line, i})
	}
	return out
}

// changeMost is how long a change is told in a line of a list.
const changeMost = 110

func shortened(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > changeMost {
		return string(r[:changeMost-1]) + "…"
	}
	return s
}

// weakened is a copy of a module with the mutant's one change made.
func (mu Mutant) weakened(m *ast.Module) (*ast.Module, error) {
	c := m.Copy()
	all := sites(c)
	if mu.nth >= len(all) {
		return nil, fmt.Errorf("%s has no site %d", mu.File, mu.nth)
	}
	all[mu.nth].change()
	// A set or an object that holds what was changed goes by stale hashes until
	// it is made anew.
	same := func(x any) (any, error) { return x, nil }
	if _, err := ast.Transform(ast.NewGenericTransformer(same), c); err != nil {
		return nil, fmt.Errorf("weakening %s: %w", mu, err)
	}
	if c.Equal(m) {
		return nil, fmt.Errorf("%s changes nothing", mu)
	}
	return c, nil
}

type walker struct {
	module *ast.Module
	sites  []site
}

func sites(m *ast.Module) []site {
	w := &walker{module: m}
	named := map[string]int{}
	for _, r := range m.Rules {
		named[r.Head.Ref().String()]++
	}
	for i, r := range m.Rules {
		if named[r.Head.Ref().String()] > 1 || r.Else != nil {
			w.add(opDropBody, head(r), r.Location, func() { w.dropRule(i) })
		}
		w.rule(r)
		for at := r; at.Else != nil; at = at.Else {
			w.add(opDropBody, "else "+head(at.Else), at.Else.Location, func() { at.Else = at.Else.Else })
			w.rule(at.Else)
		}
	}
	return w.sites
}

// dropRule takes a rule's first body away; what stood in its else takes its place.
func (w *walker) dropRule(i int) {
	if next := w.module.Rules[i].Else; next != nil {
		w.module.Rules[i] = next
		return
	}
	w.module.Rules = append(w.module.Rules[:i:i], w.module.Rules[i+1:]...)
}

func head(r *ast.Rule) string { return r.Head.String() + " if " + r.Body.String() }

func (w *walker) add(op, text string, at *ast.Location, change func()) {
	line := 0
	if at != nil {
		line = at.Row
	}
	w.sites = append(w.sites, site{op, text, line, change})
}

func (w *walker) rule(r *ast.Rule) {
	w.body(&r.Body)
	for _, a := range r.Head.Args {
		w.term(a)
	}
	w.term(r.Head.Key)
	w.term(r.Head.Value)
}

func (w *walker) body(b *ast.Body) {
	for i, e := range *b {
		w.dropped(b, i, e)
		w.expr(e)
	}
}

// dropped takes an expression out. A body of one is left true.
func (w *walker) dropped(b *ast.Body, i int, e *ast.Expr) {
	if t, ok := e.Terms.(*ast.Term); ok && t.Equal(ast.BooleanTerm(true)) {
		return
	}
	if _, ok := e.Terms.(*ast.SomeDecl); ok && len(*b) > 1 {
		return // without it the names it gives are nobody's
	}
	w.add(opDropLine, e.String(), e.Location, func() {
		if len(*b) == 1 {
			*b = ast.NewBody(ast.NewExpr(ast.BooleanTerm(true)).SetLocation(e.Location))
			return
		}
		left := append(ast.Body{}, (*b)[:i]...)
		*b = append(left, (*b)[i+1:]...)
	})
}

// flips gives, for a comparison, what it is weakened to: the same but for the
// very limit, and the contrary.
var flips = map[string][]string{
	"lt":    {"lte", "gte"},
	"lte":   {"lt", "gt"},
	"gt":    {"gte", "lte"},
	"gte":   {"gt", "lt"},
	"equal": {"neq"},
	"neq":   {"equal"},
}

var signs = map[string]string{"lt": "<", "lte": "<=", "gt": ">", "gte": ">=", "equal": "==", "neq": "!="}

// comparison adds the flips of a call whose first term is an operator.
func (w *walker) comparison(terms []*ast.Term, text string, at *ast.Location) bool {
	name := terms[0].String()
	for _, to := range flips[name] {
		w.add(opCompare, fmt.Sprintf("%s: %s for %s", text, signs[to], signs[name]), at, func() {
			terms[0] = ast.NewTerm(ast.Ref{ast.VarTerm(to)}).SetLocation(terms[0].Location)
		})
	}
	return len(flips[name]) > 0
}

func (w *walker) expr(e *ast.Expr) {
	switch t := e.Terms.(type) {
	case []*ast.Term:
		name := t[0].String()
		flipped := w.comparison(t, e.String(), e.Location)
		if !flipped && name != "assign" && name != "eq" {
			w.negated(e)
		}
		for _, x := range t[1:] {
			w.term(x)
		}
	case *ast.Term:
		if !t.Equal(ast.BooleanTerm(true)) {
			w.negated(e)
		}
		w.term(t)
	case *ast.SomeDecl:
		for _, s := range t.Symbols {
			if c, ok := s.Value.(ast.Call); ok { // some x in xs
				for _, x := range c[1:] {
					w.term(x)
				}
			}
		}
	case *ast.Every:
		w.term(t.Domain)
		w.body(&t.Body)
	}
}

func (w *walker) negated(e *ast.Expr) {
	w.add(opNegate, e.String(), e.Location, func() { e.Negated = !e.Negated })
}

// words that stand for one another where a verdict's gravity is told.
var graver = map[string][]string{
	"fails": {"risk"}, "risk": {"fails", "advice"}, "advice": {"risk"},
	"will": {"may"}, "may": {"will"},
}

var ends = map[string]string{"lo": "hi", "hi": "lo", "low": "high", "high": "low"}

func (w *walker) term(t *ast.Term) {
	if t == nil {
		return
	}
	switch v := t.Value.(type) {
	case ast.String:
		for _, to := range graver[string(v)] {
			w.add(opGrade, fmt.Sprintf("%q for %q", to, string(v)), t.Location, func() { t.Value = ast.String(to) })
		}
	case ast.Number:
		for _, to := range moved(v) {
			w.add(opNumber, fmt.Sprintf("%s for %s", to, v), t.Location, func() { t.Value = to })
		}
	case ast.Ref:
		for i, x := range v {
			s, ok := x.Value.(ast.String)
			if to := ends[string(s)]; ok && to != "" && i > 0 {
				w.add(opEnds, fmt.Sprintf("%s: %s", v, to), t.Location, func() { x.Value = ast.String(to) })
				continue
			}
			if !ok {
				w.term(x)
			}
		}
	case ast.Call:
		w.comparison(v, v.String(), t.Location)
		for _, x := range v[1:] {
			w.term(x)
		}
	case *ast.Array:
		w.members(t, arrayTerms(v), func(left []*ast.Term) ast.Value { return ast.NewArray(left...) })
	case ast.Set:
		w.members(t, v.Slice(), func(left []*ast.Term) ast.Value { return ast.NewSet(left...) })
	case ast.Object:
		v.Foreach(func(_, x *ast.Term) { w.term(x) })
	case *ast.ArrayComprehension:
		w.body(&v.Body)
		w.term(v.Term)
	case *ast.SetComprehension:
		w.body(&v.Body)
		w.term(v.Term)
	case *ast.ObjectComprehension:
		w.body(&v.Body)
		w.term(v.Key)
		w.term(v.Value)
	}
}

func arrayTerms(a *ast.Array) []*ast.Term {
	out := make([]*ast.Term, a.Len())
	for i := range out {
		out[i] = a.Elem(i)
	}
	return out
}

// members takes words out of a set or list that is of words alone, and looks
// into any other.
func (w *walker) members(t *ast.Term, all []*ast.Term, made func([]*ast.Term) ast.Value) {
	words := len(all) > 1
	for _, x := range all {
		_, ok := x.Value.(ast.String)
		words = words && ok
	}
	for i, x := range all {
		if !words {
			w.term(x)
			continue
		}
		w.add(opDropMember, fmt.Sprintf("%s of %s", x, t), x.Location, func() {
			left := append([]*ast.Term{}, all[:i]...)
			t.Value = made(append(left, all[i+1:]...))
		})
	}
}

// moved gives a number a little up and down: a whole one, which counts or
// picks, by one; any other by a hundredth. Nothing counts below nothing.
func moved(n ast.Number) []ast.Number {
	if i, ok := n.Int(); ok {
		if i == 0 {
			return []ast.Number{"1"}
		}
		return []ast.Number{ast.Number(fmt.Sprint(i + 1)), ast.Number(fmt.Sprint(i - 1))}
	}
	f, ok := n.Float64()
	if !ok {
		return nil
	}
	return []ast.Number{ast.Number(fmt.Sprint(f * 1.01)), ast.Number(fmt.Sprint(f * 0.99))}
}
