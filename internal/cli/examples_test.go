package cli

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/mattn/go-runewidth"

	"guidecoat/internal/raced"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/trade"
)

var refresh = flag.Bool("refresh", false, "write what the program says into the expected files; read the diff before committing it")

// run runs a command line in a folder, as a shell would.
func run(t *testing.T, dir string, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status = Main(args, Streams{In: strings.NewReader(""), Out: &o, Err: &e, Dir: dir,
		Getenv: func(string) string { return "" }, Now: func() time.Time { return time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC) }})
	return status, o.String(), e.String()
}

func examples(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../../specs-examples")
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

type judgedSheet struct {
	File     string
	Title    string
	Readable bool
	Findings []struct {
		Rule, Grade, Certainty string
		Step                   *int
		Zones                  []string
	}
}

func judgedJSON(t *testing.T, out string) []judgedSheet {
	t.Helper()
	var report struct{ Sheets []judgedSheet }
	if err := json.Unmarshal([]byte(out), &report); err != nil {
		t.Fatalf("the JSON does not read: %v\n%s", err, out)
	}
	return report.Sheets
}

// The verdicts every example is to get stand in expected.txt, one a line.
func TestTheExamplesGetTheVerdictsWrittenBesideThem(t *testing.T) {
	dir := examples(t)
	_, out, errs := run(t, dir, "inspect", "--as", "json", "good", "bad")
	if errs != "" {
		t.Fatal(errs)
	}
	var b strings.Builder
	for _, s := range judgedJSON(t, out) {
		fmt.Fprintf(&b, "%s\n", s.File)
		if !s.Readable {
			fmt.Fprintf(&b, "    unreadable\n")
		}
		for _, f := range s.Findings {
			where := strings.Join(f.Zones, ", ")
			if f.Step != nil {
				where = fmt.Sprintf("step %d, %s", *f.Step, where)
			}
			fmt.Fprintf(&b, "    %-6s %-4s %-32s %s\n", f.Grade, f.Certainty, f.Rule, strings.TrimSuffix(where, ", "))
		}
	}
	golden := filepath.Join(dir, "expected.txt")
	if *refresh {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the examples are judged otherwise than expected.txt says:\n%s", b.String())
	}
}

func TestGoodExamplesGetNoFailsAndNoRiskAndBadOnesAFinding(t *testing.T) {
	dir := examples(t)
	_, out, _ := run(t, dir, "inspect", "--as", "json", "good", "bad")
	good, bad := 0, 0
	for _, s := range judgedJSON(t, out) {
		if !s.Readable {
			t.Errorf("%s cannot be read", s.File)
		}
		worst := "advice"
		for _, f := range s.Findings {
			if f.Grade == "fails" || f.Grade == "risk" && worst != "fails" {
				worst = f.Grade
			}
		}
		switch {
		case strings.HasPrefix(s.File, "good/"):
			good++
			if worst != "advice" {
				t.Errorf("%s is a good sheet and is given %s", s.File, worst)
			}
		default:
			bad++
			if worst != "fails" {
				t.Errorf("%s is a bad sheet and nothing in it fails", s.File)
			}
		}
	}
	if good < 6 || bad < 10 {
		t.Errorf("there are %d good and %d bad examples; 6 and 10 at least are wanted", good, bad)
	}
}

func TestExitStatuses(t *testing.T) {
	dir := examples(t)
	broken := filepath.Join(t.TempDir(), "broken.toml")
	if err := os.WriteFile(broken, []byte("format = 1\n[sheet]\ntitle = \n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, tc := range map[string]struct {
		args []string
		want int
	}{
		"a good sheet":                        {[]string{"inspect", "good/door-bare-steel.toml"}, 0},
		"a good sheet stopping at risk":       {[]string{"inspect", "--stop-at", "risk", "good"}, 0},
		"a good sheet stopping at advice":     {[]string{"inspect", "--stop-at", "advice", "good"}, 1},
		"a bad sheet":                         {[]string{"inspect", "bad/water-on-steel.toml"}, 1},
		"a sheet that is no TOML":             {[]string{"inspect", broken}, 2},
		"unreadable wins over findings":       {[]string{"inspect", "bad/water-on-steel.toml", broken}, 2},
		"a file that is not there":            {[]string{"inspect", "nowhere.toml"}, 2},
		"a shelf named as a sheet":            {[]string{"inspect", "shelf.toml"}, 2},
		"a flag that does not exist":          {[]string{"inspect", "--quick"}, 3},
		"a word that is no command":           {[]string{"inspct"}, 3},
		"a grade that is none":                {[]string{"inspect", "--stop-at", "bad"}, 3},
		"a date that is none":                 {[]string{"inspect", "--today", "tomorrow", "good"}, 3},
		"a rule that does not exist":          {[]string{"why", "filler-on-acid"}, 3},
		"a rule that does":                    {[]string{"why", "filler-on-acid-primer"}, 0},
		"the rulebook":                        {[]string{"rulebook"}, 0},
		"the limits":                          {[]string{"rulebook", "--limits"}, 0},
		"the kinds":                           {[]string{"rulebook", "--kinds"}, 0},
		"the stack of a sheet":                {[]string{"stack", "good/door-bare-steel.toml"}, 0},
		"the stack as a graph":                {[]string{"stack", "--as", "dot", "good/door-bare-steel.toml"}, 0},
		"the stack of a sheet with errors":    {[]string{"stack", broken}, 2},
		"a section":                           {[]string{"section", "good/door-bare-steel.toml"}, 0},
		"a section after a step out of reach": {[]string{"section", "--after", "99", "good/door-bare-steel.toml"}, 3},
		"the version":                         {[]string{"--version"}, 0},
		"help":                                {[]string{"--help"}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			status, out, errs := run(t, dir, tc.args...)
			if status != tc.want {
				t.Errorf("%v: exit status %d, not %d\n%s%s", tc.args, status, tc.want, out, errs)
			}
			if out == "" && errs == "" {
				t.Errorf("%v says nothing at all", tc.args)
			}
			if strings.Contains(out+errs, "fault inside") {
				t.Errorf("%v: %s%s", tc.args, out, errs)
			}
		})
	}
}

func TestTheSameSheetsGiveTheSameBytesWhateverTheJobs(t *testing.T) {
	dir := examples(t)
	for _, as := range []string{"json", "sarif"} { // SARIF has the proved edits with it
		_, first, _ := run(t, dir, "inspect", "--today", "2026-03-02", "--as", as, "--jobs", "1", ".")
		for _, jobs := range []string{"1", "2", "7"} {
			if _, again, _ := run(t, dir, "inspect", "--today", "2026-03-02", "--as", as, "--jobs", jobs, "."); again != first {
				t.Errorf("--as %s --jobs %s gives other bytes", as, jobs)
			}
		}
	}
}

func TestEveryLineOfTheReportFitsEightyColumns(t *testing.T) {
	_, out, _ := run(t, examples(t), "inspect", "bad")
	for _, l := range strings.Split(out, "\n") {
		if n := len([]rune(l)); n > 80 {
			t.Errorf("%d columns: %s", n, l)
		}
	}
}

func TestAReportGoesWholeIntoAFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "report.json")
	if status, out, errs := run(t, examples(t), "inspect", "--as", "json", "--out", file, "good"); status != 0 || out != "" {
		t.Fatalf("status %d, %s%s", status, out, errs)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	judgedJSON(t, string(text))
	if status, _, errs := run(t, examples(t), "inspect", "--out", filepath.Join(t.TempDir(), "no", "such", "folder.txt"), "good"); status != 3 || !strings.Contains(errs, "could not be written") {
		t.Errorf("status %d: %s", status, errs)
	}
}

// What README.md shows must be what the program says.
func TestTheReadmeShowsWhatTheProgramSays(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	const prompt = "    $ guidecoat "
	shown := 0
	lines := strings.Split(string(text), "\n")
	for i, l := range lines {
		if !strings.HasPrefix(l, prompt) {
			continue
		}
		shown++
		var want []string
		for _, m := range lines[i+1:] {
			if m != "" && !strings.HasPrefix(m, "    ") {
				break
			}
			want = append(want, strings.TrimPrefix(m, "    "))
		}
		_, out, _ := run(t, root, strings.Fields(strings.TrimPrefix(l, prompt))...)
		if strings.TrimSpace(out) != strings.TrimSpace(strings.Join(want, "\n")) {
			t.Errorf("README.md shows something else for %q; it now says:\n%s", strings.TrimSpace(l), out)
		}
	}
	if shown == 0 {
		t.Error("README.md shows no run of the program")
	}
	// A real finding stands within the first screen.
	if first := strings.Join(lines[:min(40, len(lines))], "\n"); !strings.Contains(first, "FAILS") {
		t.Error("the first screen of README.md shows no finding")
	}
}

// A terminal of 80 columns is what a shop's computer has.
func TestWhatTeachesAndHelpsFitsEightyColumnsToo(t *testing.T) {
	commands := [][]string{{"--help"}, {"rulebook"}, {"rulebook", "--limits"}, {"rulebook", "--kinds"}}
	for _, name := range []string{"inspect", "why", "rulebook", "section", "clock", "mixes", "stack", "mend", "draft", "compare", "handout", "starter", "editor"} {
		commands = append(commands, []string{name, "--help"})
	}
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for i, rule := range book.Names() {
		if raced.On && i%20 > 0 {
			continue
		}
		commands = append(commands, []string{"why", rule})
		if i%5 == 0 || strings.HasPrefix(rule, "isocyanate") {
			commands = append(commands, []string{"why", rule, "--drill"})
		}
	}
	for _, args := range commands {
		_, out, _ := run(t, examples(t), args...)
		for _, l := range strings.Split(out, "\n") {
			if runewidth.StringWidth(l) > 80 {
				t.Errorf("%v: %d columns: %s", args, runewidth.StringWidth(l), l)
			}
		}
	}
}

func TestTheKindsAreListedWithTheirTypicalNumbers(t *testing.T) {
	_, out, _ := run(t, examples(t), "rulebook", "--kinds")
	out = flat(out)
	n := 0
	for _, role := range []string{"substrate", "finish", "film", "helper"} {
		for _, name := range trade.Kinds().Names(role) {
			for key, number := range trade.KindOf(name).Typical {
				n++
				if !strings.Contains(out, key+" "+number) {
					t.Errorf("%s: %s %s is not listed", name, key, number)
				}
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d numbers were looked for", n)
	}
}
