package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// shopFolder is a folder of a test's own with the examples' shelf and house
// file, and a bad sheet in it.
func shopFolder(t *testing.T, bad string) (dir, file string) {
	t.Helper()
	dir = t.TempDir()
	put := func(from, to string) {
		text, err := os.ReadFile(filepath.Join("../../specs-examples", from))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, to), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("shelf.toml", "shelf.toml")
	put("guidecoat.toml", "guidecoat.toml")
	put("bad/"+bad, "sheet.toml")
	return dir, filepath.Join(dir, "sheet.toml")
}

func runIn(t *testing.T, dir string, args ...string) (out, errs string, status int) {
	t.Helper()
	var o, e strings.Builder
	s := Process()
	s.Out, s.Err, s.Dir, s.Terminal, s.Asks = &o, &e, dir, false, false
	s.Getenv = func(string) string { return "" }
	status = Main(args, s)
	return o.String(), e.String(), status
}

func TestMendShowsAndWritesNothing(t *testing.T) {
	dir, file := shopFolder(t, "filler-over-etch.toml")
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out, errs, status := runIn(t, dir, "mend", "sheet.toml")
	for _, want := range []string{"mended whole with 1 edit", `-product = "etch"`, `+product = "grey-epoxy"`, "for  filler-on-acid-primer:",
		"Nothing was written; --write replaces", "Nothing here says that the work is safe"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not told in\n%s%s", want, out, errs)
		}
	}
	if status != 0 {
		t.Errorf("status %d", status)
	}
	for _, line := range strings.Split(out, "\n") {
		if len(line) > 80 {
			t.Errorf("a line of %d columns: %s", len(line), line)
		}
	}
	if after, _ := os.ReadFile(file); string(after) != string(before) {
		t.Error("the sheet was changed without --write")
	}
}

func TestMendWritesTheSheetAndHasNothingToDoAfterwards(t *testing.T) {
	dir, file := shopFolder(t, "filler-over-etch.toml")
	if err := os.Chmod(file, 0o640); err != nil {
		t.Fatal(err)
	}
	out, errs, status := runIn(t, dir, "mend", "--write", "sheet.toml")
	if status != 0 || !strings.Contains(out, "The sheet was replaced by the mended one.") {
		t.Fatalf("%d %s%s", status, out, errs)
	}
	info, err := os.Stat(file)
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v %v", info.Mode(), err)
	}
	if _, errs, status := runIn(t, dir, "inspect", "--stop-at", "risk", "sheet.toml"); status != 0 {
		t.Errorf("the mended sheet: %d %s", status, errs)
	}
	written, _ := os.ReadFile(file)
	out, _, status = runIn(t, dir, "mend", "--write", "sheet.toml")
	if status != 0 || !strings.Contains(out, "nothing to mend") {
		t.Errorf("%d %s", status, out)
	}
	if again, _ := os.ReadFile(file); string(again) != string(written) {
		t.Error("mending a second time changed the sheet")
	}
}

func TestMendLeavesToAPersonWhatProtectsOne(t *testing.T) {
	dir, file := shopFolder(t, "no-air-no-booth.toml")
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out, _, status := runIn(t, dir, "mend", "--write", "sheet.toml")
	if status != 1 || !strings.Contains(out, "what protects a person is for a person to decide and to do") {
		t.Errorf("%d %s", status, out)
	}
	after, _ := os.ReadFile(file)
	for _, worn := range []string{"wear", "respirator", "gloves", "coverall"} {
		if was, is := strings.Count(string(before), worn), strings.Count(string(after), worn); was != is {
			t.Errorf("%s stands %d times, and stood %d", worn, is, was)
		}
	}
}

func TestMendAnswersAsJSONAndAsADiff(t *testing.T) {
	dir, _ := shopFolder(t, "coarse-scratch.toml")
	out, _, _ := runIn(t, dir, "mend", "--as", "json", "sheet.toml")
	var got struct {
		Guidecoat struct{ Format int }
		Outcome   string
		Edits     []struct{ Does, Rule string }
		Decide    []struct{ Rule string }
		Left      []any
		Diff      string
		Fewest    bool
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	if got.Guidecoat.Format != 1 || got.Outcome != "whole" || len(got.Edits) != 2 || len(got.Decide) != 2 || got.Left == nil || !got.Fewest {
		t.Errorf("%+v", got)
	}
	if diff, _, _ := runIn(t, dir, "mend", "--as", "diff", "sheet.toml"); diff != got.Diff || !strings.HasPrefix(diff, "--- sheet.toml\n+++ ") {
		t.Errorf("%s", diff)
	}
}

func TestMendRefusesWhatItCannotMend(t *testing.T) {
	dir, file := shopFolder(t, "window-missed.toml")
	for name, c := range map[string]struct {
		args   []string
		status int
		says   string
	}{
		"no sheet":         {[]string{"mend"}, 3, "one sheet"},
		"no such file":     {[]string{"mend", "nowhere.toml"}, 2, "nowhere.toml"},
		"no such format":   {[]string{"mend", "--as", "sarif", "sheet.toml"}, 3, "--as"},
		"what is no sheet": {[]string{"mend", "shelf.toml"}, 2, "shelf.toml"},
	} {
		if out, errs, status := runIn(t, dir, c.args...); status != c.status || !strings.Contains(out+errs, c.says) {
			t.Errorf("%s: %d %s%s", name, status, out, errs)
		}
	}
	if os.Geteuid() == 0 {
		t.Skip("the rest needs a user who may not write everywhere")
	}
	if err := os.Chmod(file, 0o444); err != nil {
		t.Fatal(err)
	}
	if _, errs, status := runIn(t, dir, "mend", "--write", "sheet.toml"); status != 2 || !strings.Contains(errs, "was left as it was") {
		t.Errorf("%d %s", status, errs)
	}
}
