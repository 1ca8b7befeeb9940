package drill

import (
	"bytes"
	"context"
	"flag"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/raced"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// all drills every rule and not each fourth: go test ./internal/drill -args -all
var all = flag.Bool("all", false, "make a drill of every rule")

func judge(t testing.TB) (*rulebook.Book, Judge) {
	t.Helper()
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	today := time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC)
	return book, func(ctx context.Context, s *sheet.Sheet, d *stack.Document) (rulebook.Result, error) {
		return book.Judge(ctx, d, s, rulebook.Options{Today: today})
	}
}

func TestEveryRuleHasDrillsThatBreakItAndNothingElse(t *testing.T) {
	book, ask := judge(t)
	rules, err := book.Rules()
	if err != nil {
		t.Fatal(err)
	}
	changes, few, made := 0, 0, 0
	for i, r := range rules {
		if i%4 != 0 && !*all || raced.On && i%16 != 0 {
			continue
		}
		made++
		d, err := Make(context.Background(), ask, r, 1)
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		changes += d.Changes
		if d.Changes < 3 {
			few++
		}
		if string(d.Text) == r.Breaks {
			t.Errorf("%s: the drill is the rule's own sheet", r.Name)
		}
		if strings.Contains(string(d.Text), d.Sheet.Title.Value) && d.Sheet.Title.Value != "A process to look over" {
			t.Errorf("%s: the title %q may tell the fault", r.Name, d.Sheet.Title.Value)
		}
		result, err := ask(context.Background(), d.Sheet, d.Doc)
		if err != nil {
			t.Fatal(err)
		}
		hit := false
		for _, f := range result.Findings {
			if f.Rule == r.Name {
				hit = hit || f.Grade == r.Grade
			} else if f.Grade != "advice" {
				t.Errorf("%s: the drill breaks %s too", r.Name, f.Rule)
			}
		}
		if !hit {
			t.Errorf("%s: the drill does not break it", r.Name)
		}
	}
	if made < raced.Fewer(30) || changes < 5*made || few > made/20 {
		t.Errorf("%d rules, %d changes in all, %d drills with fewer than three", made, changes, few)
	}
	t.Logf("%d rules: %.1f changes a drill, %d with fewer than three", made, float64(changes)/float64(made), few)
}

func TestADrillIsTheSameForTheSameNumberAndAnotherForAnother(t *testing.T) {
	book, ask := judge(t)
	r, err := book.Rule("window-missed")
	if err != nil {
		t.Fatal(err)
	}
	made := func(n int) []byte {
		d, err := Make(context.Background(), ask, r, n)
		if err != nil {
			t.Fatal(err)
		}
		return d.Text
	}
	one := made(1)
	if !bytes.Equal(one, made(1)) {
		t.Error("made twice, it differs")
	}
	if bytes.Equal(one, made(2)) {
		t.Error("the second is the first")
	}
}

func TestWhatWasWrittenAboutTheFaultIsGone(t *testing.T) {
	got := string(bare([]byte("# the fault\nformat = 1 # here\n[sheet]\ntitle = \"Steel left # bare\"\n\n[[step]] # no\ndo = \"tack\"\nsays = \"a # b\"\n")))
	want := "format = 1\n[sheet]\ntitle = \"A process to look over\"\n\n[[step]]\ndo = \"tack\"\nsays = \"a # b\"\n"
	if got != want {
		t.Errorf("got\n%s", got)
	}
}

func TestASheetThatBreaksMoreIsNoDrill(t *testing.T) {
	book, ask := judge(t)
	r, err := book.Rule("window-missed")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"no sheet at all": "x = 1\n", "no TOML": "[", "another rule's": ""} {
		r.Breaks = text
		if text == "" {
			other, err := book.Rule("color-on-exposed-filler")
			if err != nil {
				t.Fatal(err)
			}
			r.Breaks = other.Breaks
		}
		if d, err := Make(context.Background(), ask, r, 1); err == nil {
			t.Errorf("%s: %s", name, d.Text)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	book, ask := judge(b)
	r, err := book.Rule("window-missed")
	if err != nil {
		b.Fatal(err)
	}
	for i := range b.N {
		if _, err := Make(context.Background(), ask, r, i+1); err != nil {
			b.Fatal(err)
		}
	}
}
