package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

func TestProgressIsOneLineThatIsTakenBack(t *testing.T) {
	var out bytes.Buffer
	var now time.Duration
	g := &progress{to: &out, say: sheetsDone, since: func() time.Duration { return now }}
	for i := range 1000 {
		now = time.Duration(i) * 10 * time.Millisecond // ten seconds in all
		g.set(i+1, 1000)
	}
	g.done()
	lines := strings.Split(out.String(), "\r")
	// Nothing in the first second, then ten times a second, then blanks and nothing.
	if lines[0] != "" || lines[1] != "judged 101 of 1,000" || lines[len(lines)-1] != "" || strings.TrimSpace(lines[len(lines)-2]) != "" {
		t.Errorf("it begins %q and ends %q", lines[:3], lines[len(lines)-2:])
	}
	if n := len(lines) - 3; n != 90 {
		t.Errorf("it is written %d times", n)
	}
	for _, l := range lines[1 : len(lines)-2] {
		if !regexp.MustCompile(`^judged [0-9,]+ of 1,000 *$`).MatchString(l) || len(l) > len(lines[len(lines)-2]) {
			t.Errorf("the line says %q, and %q takes it back", l, lines[len(lines)-2])
		}
	}
}

func TestShortWorkShowsNoProgress(t *testing.T) {
	var out bytes.Buffer
	g := &progress{to: &out, say: sheetsDone, since: func() time.Duration { return 900 * time.Millisecond }}
	for i := range 5 {
		g.set(i+1, 5)
	}
	g.done()
	if out.Len() > 0 {
		t.Errorf("it wrote %q", out.String())
	}
}

func TestProgressIsSilentWhereItIsNotWanted(t *testing.T) {
	for name, tc := range map[string]struct {
		terminal, quiet bool
		term            string
		want            bool
	}{
		"a terminal": {terminal: true, term: "xterm", want: true}, "a pipe": {term: "xterm"},
		"with --quiet": {terminal: true, quiet: true, term: "xterm"}, "a dumb terminal": {terminal: true, term: "dumb"},
	} {
		p := &program{Streams: Streams{Err: &bytes.Buffer{}, ErrTerminal: tc.terminal, Getenv: func(string) string { return tc.term }}}
		g := p.progress(tc.quiet, shareDone("drawing"))
		if (g != nil) != tc.want {
			t.Errorf("%s: shown %v", name, g != nil)
		}
		g.set(1, 2) // nothing is shown by a nil one, and it does no harm
		g.done()
	}
}

func TestProgressNeverGoesBack(t *testing.T) {
	var out bytes.Buffer
	now := 2 * time.Second
	g := &progress{to: &out, say: shareDone("drawing"), since: func() time.Duration { now += time.Second; return now }}
	for _, n := range []int{3, 2, 4} {
		g.set(n, 4)
	}
	if got := out.String(); got != "\rdrawing: 75 %\rdrawing: 100 %" {
		t.Errorf("it wrote %q", got)
	}
}

// However many are judged at a time, and however often a file is named, the
// report is the same bytes, in the order of the command line.
func TestAFolderIsReportedTheSameAtAnyNumberOfJobs(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	shelf, err := os.ReadFile(filepath.Join(examples(t), "shelf.toml"))
	if err != nil {
		t.Fatal(err)
	}
	write("shelf.toml", string(shelf))
	for _, example := range []string{"bad/water-on-steel.toml", "good/aluminum-hood.toml"} {
		text, err := os.ReadFile(filepath.Join(examples(t), example))
		if err != nil {
			t.Fatal(err)
		}
		for i := range 6 {
			write(fmt.Sprintf("sheets/%d-%s", i, filepath.Base(example)), strings.ReplaceAll(string(text), "../shelf.toml", "../shelf.toml"))
		}
	}
	write("sheets/3-broken.toml", "[sheet]\ntitle = \n")
	write("sheets/4-other.toml", "x = 1\n")
	want := ""
	for _, jobs := range []string{"1", "2", "7"} {
		status, out, errs := run(t, dir, "inspect", "--jobs", jobs, "--as", "json", "sheets/5-water-on-steel.toml", "sheets", "sheets/4-other.toml", "sheets")
		if status != exitUnreadable || errs != "" {
			t.Fatalf("status %d: %s", status, errs)
		}
		if want == "" {
			want = out
			var files []string
			for _, s := range judgedJSON(t, out) {
				files = append(files, filepath.Base(s.File))
			}
			if len(files) != 14 || files[0] != "5-water-on-steel.toml" || files[1] != "0-aluminum-hood.toml" || files[13] != "4-other.toml" {
				t.Errorf("the order is %v", files)
			}
		}
		if out != want {
			t.Errorf("with --jobs %s it is another report", jobs)
		}
	}
	// No sheet at all, though there is TOML.
	write("none/a.toml", "x = 1\n")
	if status, out, errs := run(t, dir, "inspect", "sheets", "none"); status != exitUnreadable || out != "" || !strings.Contains(errs, "no process sheet was found under none") {
		t.Errorf("status %d, %q %q", status, out, errs)
	}
}
