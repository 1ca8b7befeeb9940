package cli

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// namesIn are the names in a folder, sorted.
func namesIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestAStarterIsAShopWhoseFirstSheetPasses(t *testing.T) {
	for _, where := range []string{".", "new shop/upstairs"} {
		dir := t.TempDir()
		status, out, errs := run(t, dir, "starter", where)
		if status != exitClean || errs != "" {
			t.Fatalf("%s: %d %s", where, status, errs)
		}
		names := namesIn(t, filepath.Join(dir, where))
		if want := []string{"first-sheet.toml", "guidecoat.toml", "house.schema.json", "sheet.schema.json", "shelf.schema.json", "shelf.toml"}; !slices.Equal(names, want) {
			t.Errorf("%s: it holds %q", where, names)
		}
		for _, name := range names {
			if !strings.Contains(out, name) {
				t.Errorf("%s: it does not tell of %s:\n%s", where, name, out)
			}
		}
		status, out, errs = run(t, dir, "inspect", "--stop-at", "advice", where)
		if status != exitClean || errs != "" || !strings.Contains(out, "1 sheet: no fault found") {
			t.Errorf("%s: %d %s\n%s", where, status, errs, out)
		}
		for _, command := range []string{"section", "clock", "mixes", "stack"} {
			if status, _, errs := run(t, dir, command, filepath.Join(where, "first-sheet.toml")); status != exitClean {
				t.Errorf("%s: %d %s", command, status, errs)
			}
		}
	}
}

// What the first sheet's comment says to try.
func TestTheFirstSheetFailsWhereItsCommentSaysToBreakIt(t *testing.T) {
	dir := t.TempDir()
	if status, _, errs := run(t, dir, "starter"); status != exitClean {
		t.Fatal(errs)
	}
	path := filepath.Join(dir, "first-sheet.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for spoil, rule := range map[[2]string]string{
		{`"supplied-air respirator", `, ""}:                 "isocyanate-without-supplied-air",
		{"\ngrit      = \"P600\"", "\ngrit      = \"P80\""}: "scratch-too-coarse",
	} {
		spoiled := strings.ReplaceAll(string(text), spoil[0], spoil[1])
		if spoiled == string(text) {
			t.Fatalf("the first sheet has no %q", spoil[0])
		}
		if err := os.WriteFile(path, []byte(spoiled), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, out, _ := run(t, dir, "inspect"); !strings.Contains(out, rule) {
			t.Errorf("without %q it does not say %s:\n%s", spoil[0], rule, out)
		}
	}
}

func TestAStarterOfSchemasAloneIsThree(t *testing.T) {
	dir := t.TempDir()
	if status, _, errs := run(t, dir, "starter", "--schemas"); status != exitClean {
		t.Fatal(errs)
	}
	if names := namesIn(t, dir); !slices.Equal(names, []string{"house.schema.json", "sheet.schema.json", "shelf.schema.json"}) {
		t.Errorf("it holds %q", names)
	}
	// They go beside what a shop has already.
	status, _, errs := run(t, dir, "starter")
	if status != exitWrong || !strings.Contains(errs, "nothing was written, for . has sheet.schema.json, shelf.schema.json, house.schema.json already") {
		t.Errorf("%d %s", status, errs)
	}
	if names := namesIn(t, dir); len(names) != 3 {
		t.Errorf("it holds %q", names)
	}
}

func TestAStarterNeverOverwrites(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "shelf.toml")
	if err := os.WriteFile(path, []byte("# ours\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, errs := run(t, dir, "starter")
	if status != exitWrong || out != "" || !strings.Contains(errs, "nothing was written, for . has shelf.toml already; name another folder") {
		t.Errorf("%d %q %q", status, out, errs)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "# ours\n" {
		t.Errorf("%v: %q", err, text)
	}
	if names := namesIn(t, dir); !slices.Equal(names, []string{"shelf.toml"}) {
		t.Errorf("it holds %q", names)
	}
	for _, where := range []string{"shelf.toml", "shelf.toml/in", "", " ", "a\x00b"} {
		if status, _, errs := run(t, dir, "starter", where); status != exitWrong || errs == "" {
			t.Errorf("%q: %d %q", where, status, errs)
		}
	}
	if status, _, errs := run(t, dir, "starter", "a", "b"); status != exitWrong || errs == "" {
		t.Errorf("two folders: %d %q", status, errs)
	}
}
