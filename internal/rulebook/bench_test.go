package rulebook

import (
	"context"
	"encoding/json"
	"path/filepath"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// doorStack is the stack of the largest good example: bare steel to clear.
func doorStack(tb testing.TB) (*sheet.Sheet, *stack.Document) {
	tb.Helper()
	s, problems := sheet.Read(sheet.Options{Root: filepath.Join("..", "..", "specs-examples")}, filepath.Join("good", "door-bare-steel.toml"))
	if len(problems) > 0 {
		tb.Fatal(problems)
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		tb.Fatal(problems)
	}
	return s, d
}

// Two noisy cores; see the ratios, not the times. 129 rules: parsing is a fifth
// of it, the rest is OPA's compiler. The whole program over one sheet takes
// 0.3 of the wall time of a stock 'opa eval' over the same folder with its tests.
func BenchmarkCompileTheWholeRulebook(b *testing.B) {
	for b.Loop() {
		book, err := Builtin()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := book.compile(context.Background(), book.names); err != nil {
			b.Fatal(err)
		}
	}
}

// Warm, on the door (11 contacts, 24 steps): a tenth of what compiling takes;
// three quarters of it are the rules, a quarter the handing over.
func BenchmarkJudgeWarm(b *testing.B) {
	book, err := Builtin()
	if err != nil {
		b.Fatal(err)
	}
	s, d := doorStack(b)
	o := Options{Today: theDay}
	if _, err := book.Judge(context.Background(), d, s, o); err != nil {
		b.Fatal(err)
	}
	b.ResetTimer()
	for b.Loop() {
		if _, err := book.Judge(context.Background(), d, s, o); err != nil {
			b.Fatal(err)
		}
	}
}

// Straight from the fields takes an eighth of the way by JSON; before alike
// measures were shared it took a fifth.
func BenchmarkHandOverAStack(b *testing.B) {
	_, d := doorStack(b)
	b.Run("straight", func(b *testing.B) {
		for b.Loop() {
			if _, err := toValue(d); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("by way of JSON", func(b *testing.B) {
		for b.Loop() {
			raw, err := d.JSON()
			if err != nil {
				b.Fatal(err)
			}
			var v any
			if err := json.Unmarshal(raw, &v); err != nil {
				b.Fatal(err)
			}
			if _, err := ast.InterfaceToValue(v); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkAskTheRules(b *testing.B) {
	book, err := Builtin()
	if err != nil {
		b.Fatal(err)
	}
	_, d := doorStack(b)
	j, err := book.compiled(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	v, err := toValue(d)
	if err != nil {
		b.Fatal(err)
	}
	needed, err := book.needed(d)
	if err != nil {
		b.Fatal(err)
	}
	for what, names := range map[string][]string{"all": book.names, "needed": needed} {
		b.Run(what, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := book.raiseAll(context.Background(), j, names, v); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(names)), "rules")
		})
	}
}
