package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// gather is the file that puts the verdicts of all rules together.
const gather = "guidecoat.rego"

// book is a rulebook taken apart: what it takes to judge by one file of it
// that was weakened.
type book struct {
	rules   *rulebook.Book
	modules map[string]*ast.Module // every file but tests, by path
	tests   map[string]*ast.Module // every file of tests, by path
	store   storage.Store
	sheets  map[string]ruleSheets // by name of the rule
}

// ruleSheets is a rule's two sheets as the rules read them.
type ruleSheets struct {
	breaks, holds ast.Value
	grade         string // the gravest it gives, which breaks must give
}

func load(files fs.FS) (*book, error) {
	rules, err := rulebook.Load(files)
	if err != nil {
		return nil, err
	}
	b := &book{rules: rules, modules: map[string]*ast.Module{}, tests: map[string]*ast.Module{}, sheets: map[string]ruleSheets{}}
	data := map[string]any{}
	err = fs.WalkDir(files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(files, p)
		if err != nil {
			return err
		}
		switch {
		case path.Ext(p) == ".json":
			// The files name different things, as the program checks.
			return json.Unmarshal(text, &data)
		case path.Ext(p) != ".rego":
			return nil
		}
		m, err := parse(p, text)
		if err != nil {
			return err
		}
		if strings.HasSuffix(p, "_test.rego") {
			b.tests[p] = m
		} else {
			b.modules[p] = m
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	b.store = inmem.NewFromObject(data)
	for _, name := range rules.Names() {
		if b.sheets[name], err = b.sheetsOf(name); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// parse reads a module for all cores to share: an object of it sorts its keys
// when it is first compared, which two may not do at a time.
func parse(file string, text []byte) (*ast.Module, error) {
	m, err := ast.ParseModuleWithOpts(file, string(text), ast.ParserOptions{RegoVersion: ast.RegoV1})
	if err != nil {
		return nil, err
	}
	ast.WalkTerms(m, func(t *ast.Term) bool {
		if o, ok := t.Value.(ast.Object); ok {
			o.Compare(ast.NewObject())
		}
		return false
	})
	return m, nil
}

// sheetsOf builds a rule's two sheets, and looks at how the rule as it stands
// judges them.
func (b *book) sheetsOf(name string) (s ruleSheets, err error) {
	r, err := b.rules.Rule(name)
	if err != nil {
		return s, err
	}
	s.grade = r.Grade
	if s.breaks, err = built(name+"/breaks.toml", r.Breaks); err != nil {
		return s, err
	}
	s.holds, err = built(name+"/holds.toml", r.Holds)
	return s, err
}

// built is the stack of a sheet as the rules read it.
func built(file, text string) (ast.Value, error) {
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, file, []byte(text))
	if len(problems) > 0 {
		return nil, fmt.Errorf("%s cannot be read: %s", file, problems[0].Message)
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil, fmt.Errorf("%s cannot be built: %s", file, problems[0].Message)
	}
	text2, err := d.JSON()
	if err != nil {
		return nil, err
	}
	return ast.ValueFromReader(strings.NewReader(string(text2)))
}

// files lists the files that can be weakened, sorted.
func (b *book) files() []string { return slices.Sorted(maps.Keys(b.modules)) }

// mutants lists every mutant of the rulebook.
func (b *book) mutants() []Mutant {
	var out []Mutant
	for _, f := range b.files() {
		out = append(out, mutants(f, b.modules[f])...)
	}
	return out
}

// Outcomes of a mutant.
const (
	noticed   = "noticed"
	survived  = "survived"
	stillborn = "stillborn" // it does not compile: no one could have written it
)

// try judges by the weakened file alone: the library with it, and what stands
// to notice it. A rule has its own tests and its two sheets; the library its own
// tests and then those of every rule. It tells who noticed.
func (b *book) try(ctx context.Context, mu Mutant) (outcome, by string, err error) {
	m, err := mu.weakened(b.modules[mu.File])
	if err != nil {
		return "", "", err
	}
	for _, look := range b.looks(mu.File) {
		by, err := look(ctx, m)
		switch {
		case err != nil:
			return stillborn, err.Error(), nil
		case by != "":
			return noticed, by, nil
		}
	}
	return survived, "", nil
}

// look tries one weakened module. It tells who noticed, "" for nobody; the
// error says that the module does not compile.
type look func(ctx context.Context, m *ast.Module) (by string, err error)

func (b *book) looks(file string) []look {
	dir := path.Dir(file)
	switch {
	case file == gather:
		return []look{b.byTests(b.all(), "guidecoat_test.rego")}
	case dir == "lib":
		var own, others []string
		for _, t := range slices.Sorted(maps.Keys(b.tests)) {
			if path.Dir(t) == "lib" {
				own = append(own, t)
			} else if t != "guidecoat_test.rego" {
				others = append(others, t)
			}
		}
		return []look{b.byTests(b.library(), own...), b.byTests(b.all(), others...)}
	}
	name := path.Base(dir)
	return []look{b.byRule(path.Join(dir, "rule_test.rego"), rulePath(file), b.sheets[name])}
}

// rulePath is where a rule's verdicts stand.
func rulePath(file string) ast.Ref {
	dir := path.Dir(file)
	return ast.MustParseRef(fmt.Sprintf("data.guidecoat.%s[%q].verdict", path.Dir(dir), path.Base(dir)))
}

func (b *book) library() map[string]*ast.Module {
	out := map[string]*ast.Module{}
	for f, m := range b.modules {
		if path.Dir(f) == "lib" {
			out[f] = m
		}
	}
	return out
}

func (b *book) all() map[string]*ast.Module { return maps.Clone(b.modules) }

// compiled compiles modules with those tests. What only a strict compiler
// refuses, such as a name that nothing reads any more, is a fault a person can
// make, and compiles.
func (b *book) compiled(modules map[string]*ast.Module, m *ast.Module, tests ...string) (*ast.Compiler, error) {
	modules = maps.Clone(modules)
	modules[m.Package.Location.File] = m
	for _, t := range tests {
		modules[t] = b.tests[t]
	}
	c := ast.NewCompiler().WithDefaultRegoVersion(ast.RegoV1)
	if c.Compile(modules); c.Failed() {
		return nil, c.Errors
	}
	return c, nil
}

func (b *book) byTests(with map[string]*ast.Module, tests ...string) look {
	return func(ctx context.Context, m *ast.Module) (string, error) {
		c, err := b.compiled(with, m, tests...)
		if err != nil {
			return "", err
		}
		return b.failing(ctx, c, tests), nil
	}
}

// byRule looks at a rule by its own tests, and then by its two sheets.
func (b *book) byRule(tests string, verdict ast.Ref, s ruleSheets) look {
	return func(ctx context.Context, m *ast.Module) (string, error) {
		c, err := b.compiled(b.library(), m, tests)
		if err != nil {
			return "", err
		}
		if by := b.failing(ctx, c, []string{tests}); by != "" {
			return by, nil
		}
		if by := b.wrongSheet(ctx, c, verdict, s); by != "" {
			return by, nil
		}
		return "", nil
	}
}

// failing is the first test that does not pass, or "".
func (b *book) failing(ctx context.Context, c *ast.Compiler, tests []string) string {
	for _, file := range tests {
		t := b.tests[file]
		for _, r := range t.Rules {
			name := r.Head.Ref().String()
			if !strings.HasPrefix(name, "test_") {
				continue
			}
			v, err := b.ask(ctx, c, t.Package.Path.Append(ast.StringTerm(name)), nil)
			if err != nil || v == nil || v.Compare(ast.Boolean(true)) != 0 {
				return file + ": " + name
			}
		}
	}
	return ""
}

// wrongSheet is the sheet of a rule that is not judged as it has to be, or "".
func (b *book) wrongSheet(ctx context.Context, c *ast.Compiler, verdict ast.Ref, s ruleSheets) string {
	if got, err := b.gravest(ctx, c, verdict, s.breaks); err != nil || got != s.grade {
		return "breaks.toml"
	}
	if got, err := b.gravest(ctx, c, verdict, s.holds); err != nil || got != "" {
		return "holds.toml"
	}
	return ""
}

// gravest is the gravest grade a rule gives a stack, "" where it is silent.
func (b *book) gravest(ctx context.Context, c *ast.Compiler, verdict ast.Ref, input ast.Value) (string, error) {
	v, err := b.ask(ctx, c, verdict, input)
	if err != nil {
		return "", err
	}
	set, ok := v.(ast.Set)
	if !ok {
		return "", fmt.Errorf("%s is no set", verdict)
	}
	worst := ""
	set.Foreach(func(t *ast.Term) {
		o, _ := t.Value.(ast.Object)
		if o == nil {
			return
		}
		if g := o.Get(ast.StringTerm("grade")); g != nil {
			grade, _ := g.Value.(ast.String)
			if worst == "" || rulebook.AtLeast(string(grade), worst) {
				worst = string(grade)
			}
		}
	})
	return worst, nil
}

// ask is the value at a path; nil where it is undefined.
func (b *book) ask(ctx context.Context, c *ast.Compiler, ref ast.Ref, input ast.Value) (ast.Value, error) {
	options := []func(*rego.Rego){
		rego.ParsedQuery(ast.NewBody(ast.NewExpr(ast.NewTerm(ref)))),
		rego.Compiler(c), rego.Store(b.store), rego.StrictBuiltinErrors(true), rego.SetRegoVersion(ast.RegoV1),
		rego.GenerateJSON(func(t *ast.Term, _ *rego.EvalContext) (any, error) { return t.Value, nil }),
	}
	if input != nil {
		options = append(options, rego.ParsedInput(input))
	}
	rs, err := rego.New(options...).Eval(ctx)
	if err != nil || len(rs) == 0 || len(rs[0].Expressions) == 0 {
		return nil, err
	}
	v, _ := rs[0].Expressions[0].Value.(ast.Value)
	return v, nil
}
