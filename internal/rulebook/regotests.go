package rulebook

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"

	"guidecoat/internal/sheet"
)

// TestResult is what became of one Rego test.
type TestResult struct {
	Rule   string `json:"rule"` // the rule it stands beside, "" where it stands beside none
	Test   string `json:"test"`
	File   string `json:"file"`
	Line   int    `json:"line"`
	Passed bool   `json:"passed"`
	Left   bool   `json:"left"`   // named todo_test_: left for later
	Fault  string `json:"fault"`  // why it did not pass, "" where it did or was only not fulfilled
	Output string `json:"output"` // what it printed
}

// testDeadline is how long one Rego test may take.
const testDeadline = 5 * time.Second

// RunTests runs the Rego tests of a folder of the shop's own rules, each against
// the same compiler, built-ins and schema that judge with those rules. The
// rules are checked as LoadHouse does first. Results are by file and line.
func (b *Book) RunTests(ctx context.Context, dir string) ([]TestResult, error) {
	if _, err := b.LoadHouse(dir); err != nil {
		return nil, err
	}
	files, err := readHouse(dir)
	if err != nil {
		return nil, err
	}
	modules, err := b.shared()
	if err != nil {
		return nil, err
	}
	var problems []sheet.Problem
	for _, f := range files {
		m, err := parseModule(f.Name, f.Text)
		var re *RulesError
		switch {
		case errors.As(err, &re):
			problems = append(problems, re.Problems...)
			continue
		case err != nil:
			return nil, err
		}
		for _, p := range refusedCalls(m) {
			problems = append(problems, problem(f.Name, p.line, p.column, "%s", p.message))
		}
		if strings.HasSuffix(f.Name, "_test.rego") {
			if family, _, ok := packageName(m.Package.Path); !ok || family == "lib" {
				problems = append(problems, problem(f.Name, m.Package.Location.Row, m.Package.Location.Col,
					"the package is %s; that of a rule's tests is guidecoat.house[\"NAME_test\"]", shortPath(m.Package.Path)))
			}
		}
		modules[f.Name] = m
	}
	if err := rulesError(problems); err != nil {
		return nil, err
	}
	// One test of a shop's may hang like one of its rules.
	g := defaultGuard()
	g.deadline = testDeadline * time.Duration(len(files)+1)
	var results []TestResult
	err = g.run(ctx, dir, func(ctx context.Context) (err error) {
		results, err = b.runTests(ctx, modules)
		return err
	})
	return results, err
}

// runTests runs every test in modules.
func (b *Book) runTests(ctx context.Context, modules map[string]*ast.Module) ([]TestResult, error) {
	compiler, err := newCompiler(testCapabilities())
	if err != nil {
		return nil, err
	}
	data, _, err := b.data()
	if err != nil {
		return nil, err
	}
	store := inmem.NewFromASTObject(data)
	txn, err := store.NewTransaction(ctx)
	if err != nil {
		return nil, fmt.Errorf("running the rules' tests: %w", err)
	}
	defer store.Abort(ctx, txn)
	found, err := tester.NewRunner().
		SetCompiler(compiler.WithEnablePrintStatements(true)).
		SetStore(store).
		SetModules(modules).
		CapturePrintOutput(true).
		RaiseBuiltinErrors(true).
		SetTimeout(testDeadline).
		SetParallel(1).
		RunTests(ctx, txn)
	if err != nil {
		return nil, compileError(err)
	}
	results := []TestResult{}
	for r := range found {
		t := TestResult{Test: r.Name, Passed: r.Pass(), Left: r.Skip, Output: strings.TrimSpace(string(r.Output))}
		if r.Location != nil {
			t.File, t.Line = r.Location.File, r.Location.Row
		}
		if p, err := ast.ParseRef(r.Package); err == nil {
			if _, name, ok := packageName(p); ok {
				t.Rule = strings.TrimSuffix(name, "_test")
			}
		}
		if r.Error != nil {
			t.Fault = evalFault(r.Error)
		}
		results = append(results, t)
	}
	slices.SortFunc(results, func(x, y TestResult) int {
		if c := strings.Compare(x.File, y.File); c != 0 {
			return c
		}
		if x.Line != y.Line {
			return x.Line - y.Line
		}
		return strings.Compare(x.Test, y.Test)
	})
	return results, nil
}
