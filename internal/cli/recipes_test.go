package cli

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// recipe is the script of README.md that says in a comment what it is called.
func recipe(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, block := range strings.Split(string(text), "```sh\n")[1:] {
		script, _, ended := strings.Cut(block, "```\n")
		if ended && (strings.Contains(script, "# "+name+":") || strings.HasPrefix(script, "# "+name+"\n")) {
			return script
		}
	}
	t.Fatalf("README.md has no recipe %s", name)
	return ""
}

// shop is a repository with a starter under sheets/, and the program on the
// path of the shells that run in it.
type shop struct {
	t   *testing.T
	dir string
	env []string
}

func newShop(t *testing.T) *shop {
	t.Helper()
	for _, tool := range []string{"git", "sh"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("no %s here", tool)
		}
	}
	bin := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", filepath.Join(bin, "guidecoat"), "guidecoat/cmd/guidecoat").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	s := &shop{t: t, dir: t.TempDir()}
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "GIT_") {
			s.env = append(s.env, v)
		}
	}
	s.env = append(s.env, "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"), "HOME="+bin, "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=painter", "GIT_AUTHOR_EMAIL=painter@example.invalid", "GIT_COMMITTER_NAME=painter", "GIT_COMMITTER_EMAIL=painter@example.invalid")
	s.must("git", "init", "--quiet")
	s.must("guidecoat", "starter", "sheets")
	return s
}

// try runs a program in the repository and gives its exit status.
func (s *shop) try(name string, args ...string) (status int, out string) {
	s.t.Helper()
	// The shell finds the program on the shop's own path.
	cmd := exec.Command("sh", append([]string{"-c", `exec "$@"`, "sh", name}, args...)...)
	cmd.Dir, cmd.Env = s.dir, s.env
	text, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		s.t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), string(text)
}

func (s *shop) must(name string, args ...string) string {
	s.t.Helper()
	status, out := s.try(name, args...)
	if status != 0 {
		s.t.Fatalf("%s %q: exit status %d\n%s", name, args, status, out)
	}
	return out
}

func (s *shop) read(name string) string {
	s.t.Helper()
	text, err := os.ReadFile(filepath.Join(s.dir, name))
	if err != nil {
		s.t.Fatal(err)
	}
	return string(text)
}

func (s *shop) write(name, text string) {
	s.t.Helper()
	path := filepath.Join(s.dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		s.t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o755); err != nil {
		s.t.Fatal(err)
	}
}

const firstSheet = "sheets/first-sheet.toml"

// unmasked is a sheet in which no sprayer wears supplied air.
func unmasked(sheet string) string {
	return strings.ReplaceAll(sheet, `"supplied-air respirator", `, "")
}

func TestTheRecipeForARunnerKeepsItsReportsAndHandsTheStatusOn(t *testing.T) {
	s := newShop(t)
	s.write("ci.sh", recipe(t, "ci.sh"))
	reports := map[string]string{"guidecoat.sarif": `"version": "2.1.0"`, "guidecoat.junit.xml": "<testsuites", "guidecoat.md": "## Guidecoat"}
	good := s.read(firstSheet)
	for _, test := range []struct {
		name, sheet string
		status      int
		says        string
		inReports   string
	}{
		{"a good sheet", good, exitClean, "", "first-sheet.toml"},
		{"a bad sheet", unmasked(good), exitFindings, "isocyanate-without-supplied-air", "isocyanate-without-supplied-air"},
		{"a sheet that cannot be read", good + "\n[nonsense]\n", exitUnreadable, "nonsense", "nonsense"},
	} {
		s.write(firstSheet, test.sheet)
		status, out := s.try("sh", "ci.sh")
		if status != test.status || !strings.Contains(out, test.says) {
			t.Errorf("%s: exit status %d\n%s", test.name, status, out)
		}
		for report, head := range reports {
			text := s.read(report)
			if !strings.Contains(text, head) || !strings.Contains(text, test.inReports) {
				t.Errorf("%s: %s is\n%.600s", test.name, report, text)
			}
			if err := os.Remove(filepath.Join(s.dir, report)); err != nil {
				t.Fatal(err)
			}
		}
	}
	// What is known does not stop it, and what is new does.
	s.write(firstSheet, unmasked(good))
	s.write("known.sh", recipe(t, "known.sh"))
	s.try("sh", "known.sh")
	if out := s.must("git", "diff", "--cached", "--name-only"); out != "sheets/known.toml\n" {
		t.Errorf("staged is %q", out)
	}
	if status, out := s.try("sh", "ci.sh"); status != exitClean {
		t.Errorf("with all known: exit status %d\n%s", status, out)
	}
	s.write(firstSheet, strings.Replace(unmasked(good), `between   = "12 min"`, `between   = "1 min"`, 1))
	if status, out := s.try("sh", "ci.sh"); status != exitFindings || !strings.Contains(out, "coats-too-close") {
		t.Errorf("with something new: exit status %d\n%s", status, out)
	}
}

func TestTheHookJudgesWhatIsStagedAndAllSheetsWhenAShelfChanges(t *testing.T) {
	s := newShop(t)
	// Without the hook: a sheet that was bad before it came.
	good := s.read(firstSheet)
	s.write("sheets/old one.toml", unmasked(good))
	s.write("readme.txt", "a shop\n")
	s.must("git", "add", ".")
	s.must("git", "commit", "--quiet", "-m", "start")
	s.write(".git/hooks/pre-commit", recipe(t, "pre-commit"))
	commit := func(name string, wanted bool, says string) {
		t.Helper()
		status, out := s.try("git", "commit", "--quiet", "-m", name)
		if (status == 0) != wanted || !strings.Contains(out, says) {
			t.Errorf("%s: exit status %d\n%s", name, status, out)
		}
		if !wanted {
			s.must("git", "reset", "--quiet", "--hard")
		}
	}
	add := func(name, text string) {
		t.Helper()
		s.write(name, text)
		s.must("git", "add", name)
	}

	add("readme.txt", "the shop\n")
	commit("no sheet changed", true, "")

	add(firstSheet, strings.Replace(good, `revision = "A"`, `revision = "B"`, 1))
	commit("a good sheet changed, and the bad one is not looked at", true, "")

	add(firstSheet, unmasked(good))
	commit("a sheet went bad", false, "isocyanate-without-supplied-air")

	add(firstSheet, unmasked(good))
	s.write(firstSheet, good)
	commit("a bad sheet is staged, and put right in the working folder only", false, "isocyanate-without-supplied-air")

	add(firstSheet, strings.Replace(good, `revision = "A"`, `revision = "C"`, 1))
	s.write(firstSheet, unmasked(good))
	commit("a good sheet is staged, and spoiled in the working folder only", true, "")
	s.must("git", "reset", "--quiet", "--hard")

	add("sheets/tür mit delle.toml", unmasked(good))
	commit("a bad new sheet with a name of more than letters", false, "sheets/tür mit delle.toml:")

	shelf := s.read("sheets/shelf.toml")
	add("sheets/shelf.toml", strings.Replace(shelf, "Mixing room", "The mixing room", 1))
	commit("the shelf changed, so that the bad sheet is looked at", false, "old one.toml")

	add("sheets/guidecoat.toml", s.read("sheets/guidecoat.toml")+"# more\n")
	commit("the house file changed", false, "old one.toml")

	s.must("git", "rm", "--quiet", "sheets/old one.toml")
	commit("the bad sheet goes", true, "")

	add("sheets/shelf.toml", strings.Replace(shelf, `flash         = "12 min"`, `flash         = "40 min"`, 1))
	commit("a card that makes a good sheet bad", false, "coats-too-close")

	s.must("git", "rm", "--quiet", "sheets/shelf.toml")
	commit("the shelf goes", false, "there is no shelf")

	s.must("git", "rm", "--quiet", "-r", "sheets")
	commit("all goes", true, "")
}
