package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"guidecoat/internal/generate"
	"guidecoat/internal/raced"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// The same sheets give the same bytes: twice, on one core and on many, and
// whatever rules are compiled when a sheet is judged.
func TestManySheetsGiveTheSameBytesHoweverManyAreJudgedAtATime(t *testing.T) {
	dir, sheets := t.TempDir(), raced.Fewer(40)+4
	for seed := range uint64(sheets) {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("s%02d.toml", seed)), []byte(generate.Sheet(seed, generate.Options{})), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, as := range []string{"text", "json", "junit", "markdown"} {
		var first string
		for _, jobs := range []string{"1", "1", "2", "7"} {
			_, out, errs := run(t, dir, "inspect", "--today", "2026-03-02", "--as", as, "--jobs", jobs)
			if errs != "" || len(out) < 10_000 {
				t.Fatalf("--as %s --jobs %s: %d bytes, and on the error stream %q", as, jobs, len(out), errs)
			}
			if first == "" {
				first = out
			}
			if out != first {
				t.Errorf("--as %s --jobs %s gives other bytes than the first time", as, jobs)
			}
		}
	}
	// One by one each says what it says among the others.
	_, all, _ := run(t, dir, "inspect", "--today", "2026-03-02", "--quiet")
	alone := ""
	for seed := range sheets {
		_, out, _ := run(t, dir, "inspect", "--today", "2026-03-02", "--quiet", fmt.Sprintf("s%02d.toml", seed))
		alone += out
	}
	if alone != all {
		t.Error("sheets judged one by one say something else than judged together")
	}
}

// A large stack is not kept beside others until all are opened: it is judged at
// once, and says the same.
func TestALargeSheetAmongTheFirstSaysWhatItSaysAlone(t *testing.T) {
	dir := t.TempDir()
	large := generate.Sheet(7, generate.Options{Steps: 120, Zones: 30})
	if d := stackOf(t, large); !(&opened{doc: d}).large() {
		t.Fatalf("%d contacts, %d touches and %d abrasions are not large", len(d.Contacts), len(d.Touches), len(d.Abrasions))
	}
	for name, text := range map[string]string{"a.toml": generate.Sheet(1, generate.Options{}), "b.toml": large, "c.toml": generate.Sheet(2, generate.Options{})} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	alone := ""
	for _, name := range []string{"a.toml", "b.toml", "c.toml"} {
		_, out, _ := run(t, dir, "inspect", "--quiet", name)
		alone += out
	}
	for _, jobs := range []string{"1", "3"} {
		if _, out, errs := run(t, dir, "inspect", "--quiet", "--jobs", jobs, "."); out != alone || errs != "" {
			t.Errorf("--jobs %s: %d bytes, and one by one %d; %s", jobs, len(out), len(alone), errs)
		}
	}
}

func stackOf(t *testing.T, text string) *stack.Document {
	t.Helper()
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "large.toml", []byte(text))
	if problems != nil {
		t.Fatal(problems)
	}
	d, problems := stack.Build(s)
	if problems != nil {
		t.Fatal(problems)
	}
	return d
}
