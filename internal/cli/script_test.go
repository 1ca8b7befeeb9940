package cli

import (
	"errors"
	"fmt"
	"guidecoat/internal/raced"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The test's own binary, called guidecoat, is the program: scripts and the
// tests that kill it run it as a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"guidecoat": func() { os.Exit(Main(os.Args[1:], Process())) },
	})
}

// The scripts are what a shell sees: exit statuses, both streams, the files
// that are written. Beside testscript's own commands they have
//
//	ends STATUS COMMAND...   run a command that ends with that very exit status
//	edit FILE OLD NEW        put NEW in the place of the first OLD, \n a line's end
//
// and start in a folder with the example shop.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Condition: func(name string) (bool, error) {
			if name != "raced" {
				return false, fmt.Errorf("there is no condition %q", name)
			}
			return raced.On, nil
		},
		Setup: func(env *testscript.Env) error {
			env.Setenv("NO_COLOR", "1")
			return os.CopyFS(env.WorkDir, os.DirFS(filepath.Join("..", "..", "specs-examples")))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"edit": func(ts *testscript.TestScript, neg bool, args []string) {
				if len(args) != 3 || neg {
					ts.Fatalf("usage: edit FILE OLD NEW")
				}
				lines := strings.NewReplacer(`\n`, "\n")
				text, old := ts.ReadFile(args[0]), lines.Replace(args[1])
				if !strings.Contains(text, old) {
					ts.Fatalf("%s holds no %q", args[0], old)
				}
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, old, lines.Replace(args[2]), 1)), 0o644))
			},
			"ends": func(ts *testscript.TestScript, neg bool, args []string) {
				if len(args) < 2 || neg {
					ts.Fatalf("usage: ends STATUS COMMAND...")
				}
				want, err := strconv.Atoi(args[0])
				if err != nil {
					ts.Fatalf("%q is no exit status", args[0])
				}
				err = ts.Exec(args[1], args[2:]...)
				got := 0
				var exit *exec.ExitError
				switch {
				case errors.As(err, &exit):
					got = exit.ExitCode()
				case err != nil:
					ts.Fatalf("%v", err)
				}
				if got != want {
					ts.Fatalf("it ends with status %d, not %d", got, want)
				}
			},
		},
	})
}
