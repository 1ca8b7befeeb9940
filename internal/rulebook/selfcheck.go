package rulebook

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/topdown"

	"guidecoat/internal/sheet"
)

// The files of a rule's folder, all of them and no others.
var ruleFiles = []string{"breaks.toml", "holds.toml", "rule.rego", "rule_test.rego"}

// titleMost is how long a title may be: a line of a terminal, indented.
const titleMost = 76

// CheckRule is what a rule must fulfil to stand in the rulebook beside giving
// right verdicts: a whole folder, sound METADATA, no field, limit or bare
// number that the stack and the limits do not know, and tests that pass, enter
// every verdict body and stop short of each. It gives every fault, in order.
// What its two sheets do is judged with CheckSheets.
func (b *Book) CheckRule(ctx context.Context, name string) ([]sheet.Problem, error) {
	e, ok := b.rules[name]
	if !ok {
		return nil, fmt.Errorf("%w named %q", ErrNoRule, name)
	}
	c := ruleCheck{b: b, e: e, dir: path.Dir(e.file)}
	r, err := b.Rule(name)
	c.take(err)
	m, err := b.parse(e.file)
	c.take(err)
	if m != nil && c.ok() {
		c.metadata(r)
		c.asOPAHasIt(r)
		c.literals(m, r)
	}
	if c.ok() {
		c.tests(ctx)
	}
	c.folder()
	var re *RulesError
	if err := rulesError(c.problems); errors.As(err, &re) {
		return re.Problems, c.err
	}
	return nil, c.err
}

type ruleCheck struct {
	b        *Book
	e        *entry
	dir      string
	problems []sheet.Problem
	err      error
}

func (c *ruleCheck) ok() bool { return len(c.problems) == 0 && c.err == nil }

func (c *ruleCheck) at(file string, line int, format string, args ...any) {
	c.problems = append(c.problems, problem(file, max(line, 1), 1, format, args...))
}

func (c *ruleCheck) take(err error) {
	var re *RulesError
	switch {
	case errors.As(err, &re):
		c.problems = append(c.problems, re.Problems...)
	case err != nil && c.err == nil:
		c.err = err
	}
}

func (c *ruleCheck) folder() {
	have := map[string]bool{}
	files, err := fs.ReadDir(c.b.files, c.dir)
	c.take(err)
	for _, f := range files {
		have[f.Name()] = true
		if !slices.Contains(ruleFiles, f.Name()) {
			c.at(path.Join(c.dir, f.Name()), 1, "a rule's folder holds %s and nothing else", listed(ruleFiles))
		}
	}
	for _, f := range ruleFiles {
		if !have[f] {
			c.at(path.Join(c.dir, f), 1, "rule %s has no %s", c.e.name, f)
		}
	}
	if !ruleName.MatchString(c.e.name) {
		c.at(c.e.file, 1, "%q is no name of a rule: small letters, figures and hyphens", c.e.name)
	}
}

// metadata checks what METADATA names against what there is.
func (c *ruleCheck) metadata(r Rule) {
	limits, err := c.b.LimitNames()
	c.take(err)
	for _, l := range r.Limits {
		if !slices.Contains(limits, l) {
			c.at(r.File, r.Line, "METADATA names the limit %q, and there is none in limits.json%s", l, orNear(l, limits))
		}
	}
	for _, o := range r.Covers {
		if c.b.Family(o) == "" {
			c.at(r.File, r.Line, "covers names %q, and there is no such rule%s", o, orNear(o, c.b.names))
		}
	}
	if len(r.Title) > titleMost {
		c.at(r.File, r.Line, "the title is %d characters long; it stands on one line, so %d at most", len(r.Title), titleMost)
	}
}

func orNear(word string, known []string) string {
	if near := nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}

// asOPAHasIt holds what we read as METADATA to what OPA's own reader takes for
// the package's annotations: whoever asks a stock OPA reads the same.
func (c *ruleCheck) asOPAHasIt(r Rule) {
	text, err := fs.ReadFile(c.b.files, c.e.file)
	c.take(err)
	m, err := ast.ParseModuleWithOpts(c.e.file, string(text), ast.ParserOptions{ProcessAnnotation: true, RegoVersion: ast.RegoV1})
	if err != nil {
		c.take(compileError(err))
		return
	}
	for _, a := range m.Annotations {
		if a.Scope == "package" && a.Title == r.Title && paragraphs(strings.TrimSpace(a.Description)) == r.Description {
			return
		}
	}
	c.at(r.File, r.Line, "OPA does not take this block for the package's METADATA")
}

// literals checks what a rule writes out: limits it reads and does not name,
// numbers that should be limits, grades graver than its METADATA's.
func (c *ruleCheck) literals(m *ast.Module, r Rule) {
	ast.WalkRefs(m, func(ref ast.Ref) bool {
		if len(ref) > 2 && ref[0].Equal(ast.InputRootDocument) && ref[1].Equal(ast.StringTerm("limits")) {
			name, ok := ref[2].Value.(ast.String)
			switch {
			case !ok:
				c.at(r.File, ref[2].Location.Row, "a limit is read by its name, not picked by a value")
			case !slices.Contains(r.Limits, string(name)):
				c.at(r.File, ref[2].Location.Row, "this reads the limit %q, and METADATA does not name it", string(name))
			}
		}
		return false
	})
	// minus also takes sets apart and finds the last of a list: only a number in it shows.
	comparing := words("lt lte gt gte equal eq neq minus")
	arithmetic := map[string]string{"plus": "+", "mul": "*", "div": "/", "rem": "%"}
	operands := func(terms []*ast.Term) {
		name := terms[0].String()
		if op, ok := arithmetic[name]; ok {
			c.at(r.File, terms[0].Location.Row, "arithmetic (%s) is worked out in the stack: a rule compares and picks", op)
			return
		}
		if !comparing[name] {
			return
		}
		for _, t := range terms[1:] {
			if n, ok := t.Value.(ast.Number); ok && n != "0" && n != "1" {
				c.at(r.File, t.Location.Row, "%s is compared with bare: every number a rule compares with is a named limit", n)
			}
		}
	}
	ast.WalkExprs(m, func(x *ast.Expr) bool {
		if terms, ok := x.Terms.([]*ast.Term); ok && x.IsCall() {
			operands(terms)
		}
		return false
	})
	ast.WalkTerms(m, func(t *ast.Term) bool {
		switch v := t.Value.(type) {
		case ast.Call:
			operands(v)
		case ast.String:
			if g := string(v); rank(g) > rank(r.Grade) && t.Location != nil {
				c.at(r.File, t.Location.Row, "this gives %q, and METADATA says that %q is the gravest it can give", g, r.Grade)
			}
		}
		return false
	})
}

// tests runs the rule's own tests and follows which verdict bodies they enter
// and which they stop short of.
func (c *ruleCheck) tests(ctx context.Context) {
	file := path.Join(c.dir, "rule_test.rego")
	if _, err := fs.Stat(c.b.files, file); err != nil {
		return // folder tells
	}
	rule, err := c.b.parse(c.e.file)
	c.take(err)
	test, err := c.b.parse(file)
	c.take(err)
	if !c.ok() {
		return
	}
	want := rulePackage(c.e.family, c.e.name+"_test")
	if !test.Package.Path.Equal(want) {
		c.at(file, test.Package.Location.Row, "the package is %s; that of these tests is %s", shortPath(test.Package.Path), shortPath(want))
		return
	}
	c.alone(rule)
	c.alone(test)
	compiler, err := c.b.testCompiler()
	if err != nil {
		// Some file does not build: told of the one whose fault it is.
		modules, err := c.b.shared()
		c.take(err)
		c.take(c.b.ofRules([]string{c.e.name}, modules))
		if !c.ok() {
			return
		}
		modules[file] = test
		compiler, err = compile(modules, testCapabilities())
		c.take(err)
	}
	shape, err := c.b.inputShape()
	c.take(err)
	if !c.ok() {
		return
	}
	c.problems = append(c.problems, misspelt(compiler, c.e.file, shape)...)
	c.problems = append(c.problems, strangeInputs(compiler, file, shape)...)
	if c.ok() {
		c.run(ctx, compiler, rule, test)
	}
}

// testCompiler has compiled every rule with its tests, once.
func (b *Book) testCompiler() (*ast.Compiler, error) {
	b.tests.once.Do(func() {
		modules, err := b.shared()
		if err == nil {
			err = b.ofRules(b.names, modules)
		}
		for _, name := range b.names {
			file := path.Join(path.Dir(b.rules[name].file), "rule_test.rego")
			if _, missing := fs.Stat(b.files, file); missing != nil || err != nil {
				continue
			}
			modules[file], err = b.parse(file)
		}
		if err == nil {
			b.tests.compiler, err = compile(modules, testCapabilities())
		}
		b.tests.err = err
	})
	return b.tests.compiler, b.tests.err
}

// alone tells where a module leans on another rule: each must stand by itself.
func (c *ruleCheck) alone(m *ast.Module) {
	own := rulePackage(c.e.family, c.e.name)
	ast.WalkRefs(m, func(r ast.Ref) bool {
		if len(r) < 3 || !r[0].Equal(ast.DefaultRootDocument) || !r[1].Equal(ast.StringTerm("guidecoat")) ||
			r[2].Equal(ast.StringTerm("lib")) || r.HasPrefix(own) || r.Equal(m.Package.Path) {
			return false
		}
		line := 1
		if l := r[0].Location; l != nil {
			line = l.Row
		}
		c.at(m.Package.Location.File, line, "%s is another rule's: a rule reads its own package and guidecoat.lib", shortPath(r))
		return false
	})
}

// run runs each test and follows it through the rule.
func (c *ruleCheck) run(ctx context.Context, compiler *ast.Compiler, rule, test *ast.Module) {
	data, _, err := c.b.data()
	c.take(err)
	if !c.ok() {
		return
	}
	store := inmem.NewFromASTObject(data)
	all := cover.New()
	stopped := map[int]bool{} // by line of the verdict's head: a test looked at it and it stayed silent
	ran := 0
	for _, r := range test.Rules {
		name, line := r.Head.Ref().String(), r.Location.Row
		switch {
		case strings.HasPrefix(name, "todo_"):
			c.at(test.Package.Location.File, line, "test %s is left for later", name)
			continue
		case !strings.HasPrefix(name, "test_"):
			continue
		}
		bodies := &bodies{file: c.e.file, spoke: map[int]bool{}}
		rs, err := rego.New(
			rego.ParsedQuery(ast.NewBody(ast.NewExpr(ast.NewTerm(test.Package.Path.Append(ast.StringTerm(name)))))),
			rego.Compiler(compiler), rego.Store(store), rego.SetRegoVersion(ast.RegoV1), rego.StrictBuiltinErrors(true),
			rego.QueryTracer(all), rego.QueryTracer(bodies),
		).Eval(ctx)
		switch {
		case err != nil:
			c.at(test.Package.Location.File, line, "test %s broke: %s", name, evalFault(err))
		case !rs.Allowed():
			c.at(test.Package.Location.File, line, "test %s does not pass", name)
		}
		ran++
		for line := range bodies.asked(rule) {
			if !bodies.spoke[line] {
				stopped[line] = true
			}
		}
	}
	if ran == 0 && c.ok() {
		c.at(test.Package.Location.File, 1, "there is no test here")
	}
	if !c.ok() {
		return
	}
	report := all.Report(map[string]*ast.Module{c.e.file: rule})
	if f := report.Files[c.e.file]; f != nil {
		for _, n := range f.NotCovered {
			c.at(c.e.file, n.Start.Row, "no test comes here")
		}
	}
	lines := []int{}
	for _, r := range rule.Rules {
		if r.Head.Ref().String() == "verdict" && r.Head.RuleKind() == ast.MultiValue {
			lines = append(lines, r.Location.Row)
		}
	}
	sort.Ints(lines)
	for _, l := range lines {
		if !stopped[l] {
			c.at(c.e.file, l, "no test stops short of this verdict")
		}
	}
}

// bodies is a tracer that tells which verdict bodies of a file were looked at
// in one test and which gave something.
type bodies struct {
	file   string
	looked bool
	spoke  map[int]bool
}

func (*bodies) Enabled() bool               { return true }
func (*bodies) Config() topdown.TraceConfig { return topdown.TraceConfig{} }
func (b *bodies) TraceEvent(e topdown.Event) {
	r, ok := e.Node.(*ast.Rule)
	if !ok || r.Location == nil || r.Location.File != b.file {
		return
	}
	b.looked = true
	if e.Op == topdown.ExitOp {
		b.spoke[r.Location.Row] = true
	}
}

// asked are the lines of the verdict bodies that a test looked at: all of the
// rule's once it asked for its verdict, as what the index passes over is looked
// at too.
func (b *bodies) asked(rule *ast.Module) map[int]bool {
	out := map[int]bool{}
	if !b.looked {
		return out
	}
	for _, r := range rule.Rules {
		if r.Head.Ref().String() == "verdict" {
			out[r.Location.Row] = true
		}
	}
	return out
}

// Judged is what one of a rule's sheets gave.
type Judged struct {
	Result   Result
	Problems []sheet.Problem // why the sheet could not be read
}

// CheckSheets holds what a rule's two sheets gave to what they are there for:
// breaks.toml breaks exactly this rule, at its grade, and no other at fails or
// risk; holds.toml does not break it, nor any other at fails or risk.
func (b *Book) CheckSheets(name string, breaks, holds Judged) ([]sheet.Problem, error) {
	r, err := b.Rule(name)
	if err != nil {
		return nil, err
	}
	c := ruleCheck{b: b, e: b.rules[name], dir: path.Dir(r.File)}
	for file, j := range map[string]Judged{"breaks.toml": breaks, "holds.toml": holds} {
		file = path.Join(c.dir, file)
		for _, p := range j.Problems {
			c.at(file, p.Place.Line, "this sheet cannot be read: %s: %s", p.Key, p.Message)
		}
		for _, p := range append(slices.Clone(j.Result.Broke), j.Result.oddEdits...) {
			c.at(file, 1, "rule %s broke on it: %s", p.Rule, p.Message)
		}
		for _, f := range j.Result.Findings {
			if f.Rule != name && rank(f.Grade) > rank("advice") {
				c.at(file, f.Line, "it breaks %s too (%s): %s", f.Rule, f.Grade, f.Message)
			}
		}
	}
	if r.Breaks != "" && len(breaks.Problems) == 0 {
		gravest := ""
		for _, f := range breaks.Result.Findings {
			if f.Rule == name && rank(f.Grade) > rank(gravest) {
				gravest = f.Grade
			}
		}
		switch file := path.Join(c.dir, "breaks.toml"); {
		case gravest == "":
			c.at(file, 1, "it does not break %s", name)
		case gravest != r.Grade:
			c.at(file, 1, "it breaks %s at %s; the rule's grade is %s", name, gravest, r.Grade)
		}
	}
	for _, f := range holds.Result.Findings {
		if f.Rule == name {
			c.at(path.Join(c.dir, "holds.toml"), f.Line, "it breaks %s, and must not: %s", name, f.Message)
		}
	}
	var re *RulesError
	if err := rulesError(c.problems); errors.As(err, &re) {
		return re.Problems, nil
	}
	return nil, nil
}
