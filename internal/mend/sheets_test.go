package mend

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

var today = time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC)

func mender(t testing.TB, o sheet.Options) *Mender {
	t.Helper()
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	reader := sheet.NewReader(o)
	t.Cleanup(func() { _ = reader.Close() })
	return With(reader, book, today)
}

// corpus are the breaking sheets of the rulebook and the bad examples.
func corpus(t testing.TB) []string {
	t.Helper()
	breaks, err := filepath.Glob("../../policies/*/*/breaks.toml")
	if err != nil {
		t.Fatal(err)
	}
	bad, err := filepath.Glob("../../specs-examples/bad/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	if len(breaks) < 100 || len(bad) < 10 {
		t.Fatalf("%d breaking sheets, %d bad examples", len(breaks), len(bad))
	}
	return append(breaks, bad...)
}

func TestMendingEveryBreakingSheet(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	m := mender(t, sheet.Options{Root: root})
	counts := map[Outcome]int{}
	for _, path := range corpus(t) {
		name := filepath.Base(filepath.Dir(path))
		if strings.Contains(path, "specs-examples") {
			name = filepath.Base(path)
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		abs, _ := filepath.Abs(path)
		r, problems, err := m.Mend(context.Background(), abs, text)
		if err != nil || len(problems) > 0 {
			t.Fatalf("%s: %v %v", name, err, problems)
		}
		counts[r.Outcome]++
		t.Logf("%-28s %-16s edits %d, fewest %v, judged %d, film %+.1f, min %+.0f", name, r.Outcome, len(r.Edits), r.Fewest, r.Judged, r.FilmAdded, r.TimeAdded)
		for _, e := range r.Edits {
			t.Logf("      %s  <- %s", e.Does, e.Rule)
		}
		for _, l := range r.Left {
			t.Logf("      LEFT %s: %s", l.Rule, l.Why)
		}
		for _, l := range r.Decide {
			t.Logf("      DECIDE %s: %s", l.Rule, l.Message)
		}
		for _, l := range r.Advice {
			t.Logf("      ADVICE %s: %s", l.Rule, l.Message)
		}
	}
	t.Logf("%v", counts)
}
