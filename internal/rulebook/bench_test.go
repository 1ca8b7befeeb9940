package rulebook

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/generate"
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
// of it, the rest is OPA's compiler. A process that judges one sheet compiles
// only the rules it needs: BenchmarkCompileWhatASheetNeeds.
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

// The library and the six rules that the door needs: a sixth of the whole.
func BenchmarkCompileWhatASheetNeeds(b *testing.B) {
	book := builtinBook(b)
	_, d := doorStack(b)
	for b.Loop() {
		needed, err := book.needed(d)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := book.compile(context.Background(), needed); err != nil {
			b.Fatal(err)
		}
	}
}

// Warm, on the door (11 contacts, 24 steps). Asking all rules took five times
// as long as asking the six that it needs; the rest is the handing over.
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

// The time to judge goes with the contacts: µs/contact stays level or falls as
// steps and zones grow. A rise is a rule that searches the whole stack for each
// of its contacts.
func BenchmarkGrowth(b *testing.B) {
	book := builtinBook(b)
	if err := book.Ready(context.Background()); err != nil {
		b.Fatal(err)
	}
	for _, zones := range []int{1, 10, 50} {
		for _, steps := range []int{10, 100, 1000} {
			b.Run(fmt.Sprintf("%d-zones-%d-steps", zones, steps), func(b *testing.B) {
				text := generate.Sheet(7, generate.Options{Steps: steps, Zones: zones})
				s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "made-up.toml", []byte(text))
				if len(problems) > 0 {
					b.Fatal(problems)
				}
				var contacts int
				var reading, building time.Duration
				for b.Loop() {
					began := time.Now()
					sheet.ReadText(sheet.Options{NoHouse: true}, "made-up.toml", []byte(text))
					reading += time.Since(began)
					began = time.Now()
					d, problems := stack.Build(s)
					if len(problems) > 0 {
						b.Fatal(problems)
					}
					building += time.Since(began)
					contacts = len(d.Contacts)
					if _, err := book.Judge(context.Background(), d, s, Options{Today: theDay}); err != nil {
						b.Fatal(err)
					}
				}
				per := func(d time.Duration) float64 {
					return float64(d.Microseconds()) / float64(b.N) / float64(max(contacts, 1))
				}
				b.ReportMetric(float64(contacts), "contacts")
				b.ReportMetric(per(reading), "µs-reading/contact")
				b.ReportMetric(per(building), "µs-building/contact")
				b.ReportMetric(per(b.Elapsed()-reading-building), "µs-judging/contact")
			})
		}
	}
}

// floor is three headline checks as one would write them by hand in Go, with
// the words they are told in: what judging could cost at the least.
func floor(d *stack.Document) []string {
	fillers := map[string]bool{"body filler": true, "fiber filler": true, "finishing putty": true, "one-part putty": true, "plastic repair filler": true}
	var out []string
	for i := range d.Contacts {
		c := &d.Contacts[i]
		if fillers[c.UpperKind] && c.LowerTraits.Acid && c.CardSays != "allows" {
			out = append(out, fmt.Sprintf("%s lies on %s", c.UpperName, c.LowerName))
		}
		if w := c.RecoatLeast; c.GapApplies && !c.BakedFull && w != nil && !w.Open && w.Over.Lo < 1 {
			out = append(out, fmt.Sprintf("%s goes on %s after %s; it wants %s", c.UpperName, c.LowerName, w.Measured.Text, w.Limit.Text))
		}
		if c.Tooth != nil && (c.Tooth.By == "none" || c.Tooth.By == "strip disc") {
			out = append(out, fmt.Sprintf("%s goes on %s that has no tooth", c.UpperName, c.LowerName))
		}
	}
	return out
}

// What the same three checks cost as rules, and all that a stack needs, each
// beside the floor in one run. The rest is the handing over of the stack, and
// the evaluation of Rego: a rule is text that a shop can read, change and add
// to, and that a stock OPA evaluates.
func BenchmarkBesideTheFloor(b *testing.B) {
	book := builtinBook(b)
	whole, err := book.compiled(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	three := []string{"filler-on-acid-primer", "recoated-too-soon", "smooth-bare-metal"}
	var docs []*stack.Document
	for seed := range uint64(20) {
		docs = append(docs, stackOf("made-up.toml", generate.Sheet(seed, generate.Options{})))
	}
	var inGo, handing, asRules, all time.Duration
	for b.Loop() {
		for _, d := range docs {
			began := time.Now()
			for range 100 {
				floor(d)
			}
			inGo += time.Since(began) / 100
			began = time.Now()
			v, err := toValueOf(d, whole.reads.of(book.filesOf(three)))
			if err != nil {
				b.Fatal(err)
			}
			handing += time.Since(began)
			began = time.Now()
			if _, _, err := book.raiseAll(context.Background(), whole, three, v); err != nil {
				b.Fatal(err)
			}
			asRules += time.Since(began)
			began = time.Now()
			if _, _, err := book.raise(context.Background(), d); err != nil {
				b.Fatal(err)
			}
			all += time.Since(began)
		}
	}
	b.ReportMetric(float64(asRules)/float64(inGo), "three-rules/floor")
	b.ReportMetric(float64(handing)/float64(inGo), "handing-over/floor")
	b.ReportMetric(float64(all)/float64(inGo), "all-needed/floor")
}
