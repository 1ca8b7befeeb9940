package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Findings do not change the exit status of a handout: it judges nothing, it teaches.
func TestAHandoutOfABadSheetIsWrittenAllTheSame(t *testing.T) {
	out := filepath.Join(t.TempDir(), "page.html")
	status, said, errs := run(t, examples(t), "handout", "--out", out, "bad/filler-over-etch.toml")
	if status != exitClean || said != "" || errs != "" {
		t.Fatalf("status %d, %q, %q", status, said, errs)
	}
	page, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<!DOCTYPE html>", "<bdi>Door, filler over etch primer</bdi>", "Filler on acid primer", "Mon 2 Mar 08:00"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page has no %q", want)
		}
	}
	_, said, _ = run(t, examples(t), "handout", "bad/filler-over-etch.toml")
	if said != string(page) {
		t.Error("the page on the terminal is not the one in the file")
	}
}

func TestAHandoutTakesItsHoursFromTheClocksFlags(t *testing.T) {
	status, page, errs := run(t, examples(t), "handout", "--from", "2026-07-06 06:00", "--day", "06:00-14:00", "good/door-bare-steel.toml")
	if status != exitClean {
		t.Fatalf("status %d: %s", status, errs)
	}
	for _, want := range []string{"Mon 6 Jul 06:00 2026 (as asked)", "06:00 to 14:00, every day of the week"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %q", want)
		}
	}
}

func TestAHandoutThatCannotBeMadeWritesNoFile(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const good = "format = 1\n[sheet]\ntitle = \"Good\"\n[panel]\nsubstrate = \"mild steel\"\n"
	file("good.toml", good)
	file("broken.toml", "format = 1\n[sheet]\ntitle = \"Broken\"\n[panel]\nsubstrate = \"mild steal\"\n")
	if err := os.MkdirAll(filepath.Join(dir, "rules", "our-rule"), 0o755); err != nil {
		t.Fatal(err)
	}
	file("rules/our-rule/rule.rego", "package guidecoat.house[\"our-rule\"]\n")
	for _, test := range []struct {
		name   string
		args   []string
		status int
		want   string
	}{
		{"a sheet with an error", []string{"broken.toml"}, exitUnreadable, "mild steal"},
		{"no such sheet", []string{"none.toml"}, exitUnreadable, "there is no such file"},
		{"a folder", []string{"."}, exitUnreadable, "folder"},
		{"rules that cannot be read", []string{"--rules", filepath.Join(dir, "rules"), "good.toml"}, exitUnreadable, "METADATA"},
		{"no sheet", nil, exitWrong, "takes one sheet"},
		{"a working day that is none", []string{"--day", "never", "good.toml"}, exitWrong, "--day"},
		{"an hour that is none", []string{"--from", "noon", "good.toml"}, exitWrong, "--from"},
		{"a date that is none", []string{"--today", "soon", "good.toml"}, exitWrong, "--today"},
	} {
		out := filepath.Join(dir, "page.html")
		file("page.html", "what was there")
		status, said, errs := run(t, dir, append([]string{"handout", "--out", out}, test.args...)...)
		if status != test.status || said != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s: status %d, %q on the terminal, and the errors %q", test.name, status, said, errs)
		}
		if kept, err := os.ReadFile(out); err != nil || string(kept) != "what was there" {
			t.Errorf("%s: the file that was there is now %q, %v", test.name, kept, err)
		}
	}
}
