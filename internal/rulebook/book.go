package rulebook

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os/exec"
	"path"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/types"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

// Book is a rulebook: the rules of a folder laid out as policies/ is. It reads
// and compiles when first asked to, and is safe for use by many goroutines.
type Book struct {
	files fs.FS
	rules map[string]*entry // by name
	names []string          // sorted
	// proven: the project's own tests have held every rule to the schema of the
	// stack, so that compiling it to judge need not do so again, which would take
	// nearly half of the time.
	proven bool

	judges judges
	apart  atomic.Pointer[func() *exec.Cmd] // see HousesApart

	told struct { // needs
		once  sync.Once
		needs map[string][]Need
		err   error
	}

	tests struct {
		once     sync.Once
		compiler *ast.Compiler
		err      error
	}
}

// entry is one rule of a book.
type entry struct {
	name, family, file string
	once               sync.Once
	rule               Rule
	err                error
}

// RulesError tells everything wrong with the files of a rulebook.
type RulesError struct {
	Problems []sheet.Problem
}

func (e *RulesError) Error() string {
	var b strings.Builder
	for i, p := range e.Problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s:%d:%d: %s", p.Place.File, p.Place.Line, p.Place.Column, p.Message)
	}
	return b.String()
}

func rulesError(problems []sheet.Problem) error {
	if len(problems) == 0 {
		return nil
	}
	sort.SliceStable(problems, func(i, j int) bool {
		a, b := problems[i].Place, problems[j].Place
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
	return &RulesError{slices.CompactFunc(problems, func(a, b sheet.Problem) bool { return a == b })}
}

func problem(file string, line, column int, format string, args ...any) sheet.Problem {
	return sheet.Problem{
		Place:   sheet.Place{File: file, Line: line, Column: column, EndLine: line, EndColumn: column + 1},
		Message: fmt.Sprintf(format, args...),
	}
}

var builtin = sync.OnceValues(func() (*Book, error) {
	b, err := Load(policies.Files)
	if err == nil {
		b.proven = true
	}
	return b, err
})

// Builtin is the rulebook that comes with the program. It is made once and shared.
func Builtin() (*Book, error) { return builtin() }

// Load finds the rules of a folder laid out as policies/ is: FAMILY/NAME/rule.rego,
// with lib/, guidecoat.rego and the data beside the families. It reads none of
// them yet. A folder of a rule without its rule, a family nobody gathers and two
// rules of one name are errors.
func Load(files fs.FS) (*Book, error) {
	b := &Book{files: files, rules: map[string]*entry{}}
	var problems []sheet.Problem
	families, err := fs.ReadDir(files, ".")
	if err != nil {
		return nil, fmt.Errorf("reading the rulebook: %w", err)
	}
	for _, f := range families {
		if !f.IsDir() || f.Name() == "lib" {
			continue
		}
		if !slices.Contains(Families, f.Name()) {
			problems = append(problems, problem(f.Name(), 1, 1, "%q is no family; the families are %s", f.Name(), listed(Families)))
			continue
		}
		rules, err := fs.ReadDir(files, f.Name())
		if err != nil {
			return nil, fmt.Errorf("reading the rulebook: %w", err)
		}
		for _, r := range rules {
			at := path.Join(f.Name(), r.Name(), "rule.rego")
			if !r.IsDir() {
				problems = append(problems, problem(path.Join(f.Name(), r.Name()), 1, 1, "a family holds one folder a rule and nothing else"))
				continue
			}
			if _, err := fs.Stat(files, at); err != nil {
				problems = append(problems, problem(at, 1, 1, "the folder of rule %q has no rule.rego", r.Name()))
				continue
			}
			if other, ok := b.rules[r.Name()]; ok {
				problems = append(problems, problem(at, 1, 1, "there is a rule %q already: %s", r.Name(), other.file))
				continue
			}
			b.rules[r.Name()] = &entry{name: r.Name(), family: f.Name(), file: at}
		}
	}
	b.names = slices.Sorted(maps.Keys(b.rules))
	return b, rulesError(problems)
}

// Names are the names of every rule, sorted. Nothing is read for it.
func (b *Book) Names() []string { return slices.Clone(b.names) }

// Family is the family of a rule, or "" when there is no such rule.
func (b *Book) Family(name string) string {
	if e, ok := b.rules[name]; ok {
		return e.family
	}
	return ""
}

// Rule is everything a person reads about the rule of that name. Its file is
// read when first asked for. ErrNoRule is its error when there is no such rule,
// a *RulesError when its METADATA is wrong.
func (b *Book) Rule(name string) (Rule, error) {
	e, ok := b.rules[name]
	if !ok {
		return Rule{}, fmt.Errorf("%w named %q", ErrNoRule, name)
	}
	e.once.Do(func() { e.rule, e.err = b.read(e) })
	return e.rule, e.err
}

// ErrNoRule says that there is no rule of a name.
var ErrNoRule = errors.New("there is no rule")

func (b *Book) read(e *entry) (Rule, error) {
	r := Rule{Name: e.name, Family: e.family, File: e.file}
	text, err := fs.ReadFile(b.files, e.file)
	if err != nil {
		return r, fmt.Errorf("reading rule %s: %w", e.name, err)
	}
	var problems []sheet.Problem
	for _, p := range readMetadata(&r, string(text)) {
		problems = append(problems, problem(e.file, p.line, p.column, "%s", p.message))
	}
	r.Breaks = b.text(path.Join(path.Dir(e.file), "breaks.toml"))
	r.Holds = b.text(path.Join(path.Dir(e.file), "holds.toml"))
	return r, rulesError(problems)
}

func (b *Book) text(file string) string {
	text, err := fs.ReadFile(b.files, file)
	if err != nil {
		return ""
	}
	return string(text)
}

// Rules are all rules by family, in the order of Families, and by name. Every
// fault in any METADATA is told at once, as a *RulesError.
func (b *Book) Rules() ([]Rule, error) {
	rules := make([]Rule, 0, len(b.names))
	var problems []sheet.Problem
	for _, family := range Families {
		for _, name := range b.names {
			if b.rules[name].family != family {
				continue
			}
			r, err := b.Rule(name)
			var re *RulesError
			if errors.As(err, &re) {
				problems = append(problems, re.Problems...)
			} else if err != nil {
				return nil, err
			}
			rules = append(rules, r)
		}
	}
	return rules, rulesError(problems)
}

// Nearest is the rule whose name is nearest to one that is not known, or "".
func (b *Book) Nearest(name string) string { return nearest(name, b.names) }

// parse reads one Rego file of the book. Annotations are left alone: they are
// read where they are asked for.
func (b *Book) parse(file string) (*ast.Module, error) {
	text, err := fs.ReadFile(b.files, file)
	if err != nil {
		return nil, fmt.Errorf("reading the rulebook: %w", err)
	}
	return parseModule(file, string(text))
}

func parseModule(file, text string) (*ast.Module, error) {
	m, err := ast.ParseModuleWithOpts(file, text, ast.ParserOptions{Capabilities: capabilitiesOnce(), RegoVersion: ast.RegoV1})
	if err != nil {
		return nil, compileError(err)
	}
	if m == nil {
		return nil, rulesError([]sheet.Problem{problem(file, 1, 1, "there is nothing in this file")})
	}
	return m, nil
}

var capabilitiesOnce = sync.OnceValue(capabilities)

// shared are the modules every rule may lean on: the library.
func (b *Book) shared() (map[string]*ast.Module, error) {
	modules := map[string]*ast.Module{}
	lib, err := fs.Glob(b.files, "lib/*.rego")
	if err != nil {
		return nil, err
	}
	for _, file := range lib {
		if strings.HasSuffix(file, "_test.rego") {
			continue
		}
		m, err := b.parse(file)
		if err != nil {
			return nil, err
		}
		modules[file] = m
	}
	return modules, nil
}

// ofRules are the modules of the named rules, each checked to stand in the
// package of its folder.
func (b *Book) ofRules(names []string, into map[string]*ast.Module) error {
	for _, name := range names {
		e := b.rules[name]
		m, err := b.parse(e.file)
		if err != nil {
			return err
		}
		want := rulePackage(e.family, e.name)
		if !m.Package.Path.Equal(want) {
			return rulesError([]sheet.Problem{problem(e.file, m.Package.Location.Row, m.Package.Location.Col,
				"the package is %s; that of this folder is %s", shortPath(m.Package.Path), shortPath(want))})
		}
		into[e.file] = m
	}
	return nil
}

func rulePackage(family, name string) ast.Ref {
	return ast.Ref{ast.DefaultRootDocument, ast.StringTerm("guidecoat"), ast.StringTerm(family), ast.StringTerm(name)}
}

// verdictsOf is where a rule gives its verdicts.
func verdictsOf(family, name string) ast.Ref {
	return rulePackage(family, name).Append(ast.StringTerm("verdict"))
}

// judge is a book compiled, whole or in part: what it takes to have rules raise
// their verdicts.
type judge struct {
	compiler *ast.Compiler
	store    storage.Store
	covers   map[string][]string
	names    []string // the rules it has, sorted
	reads    *reads

	mu      sync.Mutex
	queries map[string]rego.PreparedEvalQuery // by what they ask, see query
}

// compiled is the judge with every rule of the book, compiled once.
func (b *Book) compiled(ctx context.Context) (*judge, error) {
	return b.judges.whole(func() (*judge, error) { return b.compile(context.WithoutCancel(ctx), b.names) })
}

// Ready compiles every rule. Whoever will judge many sheets, or wants the first
// judgement at once, calls it beforehand; nobody has to.
func (b *Book) Ready(ctx context.Context) error {
	_, err := b.compiled(ctx)
	return err
}

// ReadyFor compiles the rules that some stacks can make speak. Whoever will judge
// several calls it beforehand with as many as are at hand, so that it is done
// once for all of them; nobody has to.
func (b *Book) ReadyFor(ctx context.Context, docs []*stack.Document) error {
	var all []string
	for _, doc := range docs {
		names, err := b.needed(doc)
		if err != nil {
			return err
		}
		all = append(all, names...)
	}
	slices.Sort(all)
	_, err := b.judgeOf(ctx, slices.Compact(all))
	return err
}

// judgeOf is a judge that has at least the named rules.
func (b *Book) judgeOf(ctx context.Context, names []string) (*judge, error) {
	return b.judges.with(names, func(names []string) (*judge, error) { return b.compile(context.WithoutCancel(ctx), names) }, b.names)
}

// compile compiles the named rules.
func (b *Book) compile(_ context.Context, names []string) (*judge, error) {
	modules, err := b.modules(names)
	if err != nil {
		return nil, err
	}
	data, covers, err := b.dataFor(modules)
	if len(names) == len(b.names) {
		// Once a process at most, and what is wrong with any of it is told.
		data, covers, err = b.data()
	}
	if err != nil {
		return nil, err
	}
	j := newJudge(data, covers, names)
	c := ast.NewCompiler().WithCapabilities(capabilitiesOnce()).WithDefaultRegoVersion(ast.RegoV1)
	if !b.proven {
		if c, err = newCompiler(capabilitiesOnce()); err != nil {
			return nil, err
		}
	}
	j.reads = readsOf(modules)
	j.compiler, err = compileWith(c, modules)
	return j, err
}

func newJudge(data ast.Object, covers map[string][]string, names []string) *judge {
	return &judge{store: inmem.NewFromASTObject(data), covers: covers, names: names, queries: map[string]rego.PreparedEvalQuery{}}
}

// modules are the library and the named rules.
func (b *Book) modules(names []string) (map[string]*ast.Module, error) {
	modules, err := b.shared()
	if err != nil {
		return nil, err
	}
	return modules, b.ofRules(names, modules)
}

// gather is what puts the verdicts of all rules together for a stock OPA. This
// program asks the rules themselves.
const gather = "guidecoat.rego"

// queriesMost is how many queries a judge keeps ready.
const queriesMost = 64

// query is a query for the verdicts of the named rules, as one list in their
// order, ready to be asked many times.
func (j *judge) query(ctx context.Context, refs []ast.Ref) (rego.PreparedEvalQuery, error) {
	terms := make([]*ast.Term, len(refs))
	var key strings.Builder
	for i, ref := range refs {
		terms[i] = ast.NewTerm(ref)
		key.WriteString(ref.String())
		key.WriteByte('\n')
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if q, ok := j.queries[key.String()]; ok {
		return q, nil
	}
	q, err := rego.New(
		rego.ParsedQuery(ast.NewBody(ast.NewExpr(ast.ArrayTerm(terms...)))),
		rego.Compiler(j.compiler),
		rego.Capabilities(capabilitiesOnce()),
		rego.Store(j.store),
		rego.StrictBuiltinErrors(true),
		rego.SetRegoVersion(ast.RegoV1),
		rego.GenerateJSON(func(t *ast.Term, _ *rego.EvalContext) (any, error) { return t.Value, nil }),
	).PrepareForEval(context.WithoutCancel(ctx))
	if err != nil {
		return q, fmt.Errorf("preparing the question for %d rules: %w", len(refs), err)
	}
	if len(j.queries) < queriesMost {
		j.queries[key.String()] = q
	}
	return q, nil
}

// ask has the rules look at a stack and gives the value of each in turn. It is
// nil when one of them is undefined.
func (j *judge) ask(ctx context.Context, refs []ast.Ref, input ast.Value) ([]ast.Value, error) {
	q, err := j.query(ctx, refs)
	if err != nil {
		return nil, err
	}
	rs, err := q.Eval(ctx, rego.EvalParsedInput(input))
	if err != nil {
		return nil, err
	}
	if len(rs) == 0 || len(rs[0].Expressions) == 0 {
		return nil, nil
	}
	list, ok := rs[0].Expressions[0].Value.(*ast.Array)
	if !ok {
		return nil, nil
	}
	out := make([]ast.Value, list.Len())
	for i := range out {
		out[i] = list.Elem(i).Value
	}
	return out, nil
}

// compile compiles modules as all rules are compiled: strict, against the
// schema of the stack, with the allowed built-ins alone.
func compile(modules map[string]*ast.Module, c *ast.Capabilities) (*ast.Compiler, error) {
	compiler, err := newCompiler(c)
	if err != nil {
		return nil, err
	}
	return compileWith(compiler, modules)
}

func compileWith(compiler *ast.Compiler, modules map[string]*ast.Module) (*ast.Compiler, error) {
	compiler.Compile(modules)
	if compiler.Failed() {
		return nil, compileError(compiler.Errors)
	}
	return compiler, nil
}

// newCompiler is a compiler of rules that has compiled nothing yet.
func newCompiler(c *ast.Capabilities) (*ast.Compiler, error) {
	schemas, err := schemaSet()
	if err != nil {
		return nil, err
	}
	return ast.NewCompiler().
		WithCapabilities(c).
		WithStrict(true).
		WithSchemas(schemas).
		WithUseTypeCheckAnnotations(true).
		WithDefaultRegoVersion(ast.RegoV1), nil
}

// schemaSet is the schema of the stack as the type checker takes it.
var schemaSet = sync.OnceValues(func() (*ast.SchemaSet, error) {
	schema, err := stack.SchemaValue()
	if err != nil {
		return nil, fmt.Errorf("reading the schema of the stack: %w", err)
	}
	set := ast.NewSchemaSet()
	set.Put(ast.SchemaRootRef, schema)
	return set, nil
})

// LimitNames are the names of the limits a rule may be held to, sorted.
func (b *Book) LimitNames() ([]string, error) {
	text, err := fs.ReadFile(b.files, "limits.json")
	if err != nil {
		return nil, fmt.Errorf("reading the rulebook: %w", err)
	}
	var limits struct {
		Limits map[string]json.RawMessage `json:"limits"`
	}
	if err := json.Unmarshal(text, &limits); err != nil {
		return nil, rulesError([]sheet.Problem{problem("limits.json", 1, 1, "%v", err)})
	}
	return slices.Sorted(maps.Keys(limits.Limits)), nil
}

// inputShape is the shape of the stack with this book's limits by name.
func (b *Book) inputShape() (*form, error) {
	root, err := stackShape()
	if err != nil {
		return nil, err
	}
	names, err := b.LimitNames()
	return withLimits(root, names), err
}

// CheckFields tells every field that a rule asks for and that what it asks does
// not have, every limit and every name of another package that does not exist.
// The compiler finds those of the stack itself; this finds the rest, those
// asked inside of functions.
func (b *Book) CheckFields(ctx context.Context) error {
	modules, err := b.modules(b.names)
	if err != nil {
		return err
	}
	if modules[gather], err = b.parse(gather); err != nil {
		return err
	}
	compiler, err := compile(modules, capabilitiesOnce())
	if err != nil {
		return err
	}
	shape, err := b.inputShape()
	if err != nil {
		return err
	}
	var problems []sheet.Problem
	for _, file := range slices.Sorted(maps.Keys(compiler.Modules)) {
		problems = append(problems, misspelt(compiler, file, shape)...)
	}
	return rulesError(problems)
}

// dataFor is of the data beside the rules what some modules read, and what
// silences what.
func (b *Book) dataFor(modules map[string]*ast.Module) (ast.Object, map[string][]string, error) {
	read := false
	for _, m := range modules {
		ast.WalkRefs(m, func(r ast.Ref) bool {
			read = read || r[0].Equal(ast.DefaultRootDocument) && !(len(r) > 1 && r[1].Equal(guidecoat))
			return read
		})
	}
	if read {
		return b.data()
	}
	covers, err := b.covers()
	return ast.NewObject(), covers, err
}

var guidecoat = ast.StringTerm("guidecoat")

// covers is what silences what.
func (b *Book) covers() (map[string][]string, error) {
	text, err := fs.ReadFile(b.files, coversFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the rulebook: %w", err)
	}
	var file struct {
		Covers map[string][]string `json:"covers"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		return nil, rulesError([]sheet.Problem{problem(coversFile, 1, 1, "%v", err)})
	}
	return file.Covers, nil
}

// data is all the data beside the rules, and what silences what.
func (b *Book) data() (ast.Object, map[string][]string, error) {
	all := ast.NewObject()
	files, err := fs.Glob(b.files, "*.json")
	if err != nil {
		return nil, nil, err
	}
	for _, file := range files {
		text, err := fs.ReadFile(b.files, file)
		if err != nil {
			return nil, nil, fmt.Errorf("reading the rulebook: %w", err)
		}
		v, err := ast.ValueFromReader(strings.NewReader(string(text)))
		if err != nil {
			return nil, nil, rulesError([]sheet.Problem{problem(file, 1, 1, "this is not JSON: %v", err)})
		}
		o, ok := v.(ast.Object)
		if !ok {
			return nil, nil, rulesError([]sheet.Problem{problem(file, 1, 1, "the data must be one JSON object")})
		}
		// As a stock OPA does: what stands in the files is put together.
		merged, ok := all.Merge(o)
		if !ok {
			return nil, nil, rulesError([]sheet.Problem{problem(file, 1, 1, "another data file has the same name in it")})
		}
		all = merged
	}
	covers, err := b.covers()
	return all, covers, err
}

// compileError puts OPA's errors into words and places.
func compileError(err error) error {
	var errs ast.Errors
	var one *ast.Error
	switch {
	case errors.As(err, &errs):
	case errors.As(err, &one):
		errs = ast.Errors{one}
	default:
		return err
	}
	var problems []sheet.Problem
	for _, e := range errs {
		file, line, column := "", 1, 1
		if e.Location != nil {
			file, line, column = e.Location.File, e.Location.Row, e.Location.Col
		}
		if d, ok := e.Details.(*ast.RefErrInvalidDetail); ok && d.Pos < len(d.Ref) {
			// The field itself, not where the reference begins.
			if l := d.Ref[d.Pos].Location; l != nil && l.File == file && l.Row > 0 {
				line, column = l.Row, l.Col
			}
		}
		problems = append(problems, problem(file, max(line, 1), max(column, 1), "%s", inWords(e)))
	}
	return rulesError(problems)
}

// inWords says a compiler's error so that the one who wrote the rule knows what
// would be right.
func inWords(e *ast.Error) string {
	switch d := e.Details.(type) {
	case *ast.RefErrInvalidDetail:
		if d.Pos < len(d.Ref) {
			if field, ok := d.Ref[d.Pos].Value.(ast.String); ok {
				var known []string
				for _, v := range d.OneOf {
					if s, ok := v.(ast.String); ok {
						known = append(known, string(s))
					}
				}
				return noField(string(field), "", known)
			}
		}
	}
	if name, ok := strings.CutPrefix(e.Message, "undefined function "); ok {
		if why, known := refusal(name); known {
			return fmt.Sprintf("%s may not be called here: %s", name, why)
		}
		return fmt.Sprintf("there is no function %s", name)
	}
	if d, ok := e.Details.(*ast.UnificationErrDetail); ok && (isNull(d.Left) || isNull(d.Right)) {
		return "a field that may be null is compared with null by is_null(...)"
	}
	return strings.TrimSpace(e.Message)
}

func isNull(t types.Type) bool {
	_, ok := t.(types.Null)
	return ok
}

func noField(field, of string, known []string) string {
	s := fmt.Sprintf("there is no field %q here", field)
	if of != "" {
		s = fmt.Sprintf("there is no field %q in %s", field, of)
	}
	if near := nearest(field, known); near != "" {
		return s + fmt.Sprintf("; did you mean %q?", near)
	}
	if len(known) > 0 && len(known) <= 12 {
		sort.Strings(known)
		return s + "; there are " + listed(known)
	}
	return s + "; the fields are those of the stack's schema"
}
