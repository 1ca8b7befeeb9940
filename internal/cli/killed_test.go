package cli

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// programIn makes the program one of its own in a folder with the example shop.
func programIn(t *testing.T, dir string) string {
	t.Helper()
	program := filepath.Join(dir, "guidecoat")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(dir, os.DirFS(examples(t))); err != nil {
		t.Fatal(err)
	}
	return program
}

// The program is killed at moments all over its run, and over and over at its
// end, where it writes: each of its files is the old one or the new one, whole.
func TestKilledAtAnyMomentEveryFileIsOldOrNew(t *testing.T) {
	sheetText, err := os.ReadFile(filepath.Join(examples(t), "bad", "filler-over-etch.toml"))
	if err != nil {
		t.Fatal(err)
	}
	report := bytes.Repeat([]byte("what was there\n"), 5000)
	known := append([]byte("format = 1\n"), bytes.Repeat([]byte("# nothing was known\n"), 5000)...)
	for _, c := range []struct {
		name  string
		args  []string
		ends  int
		files map[string][]byte // what it writes, with what is there before
	}{
		{"a report and a baseline", []string{"inspect", "--as", "json", "--out", "report.json", "--keep-baseline", "known.toml", "bad"},
			exitFindings, map[string][]byte{"report.json": report, "known.toml": known}},
		{"a mended sheet", []string{"mend", "--write", "door.toml"}, exitClean, map[string][]byte{"door.toml": sheetText}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			program := programIn(t, dir)
			lay := func() {
				for name, old := range c.files {
					if err := os.WriteFile(filepath.Join(dir, name), old, 0o600); err != nil {
						t.Fatal(err)
					}
					if err := os.Chmod(filepath.Join(dir, name), 0o600); err != nil { // one that was there keeps its own
						t.Fatal(err)
					}
				}
			}
			start := func() *exec.Cmd {
				cmd := exec.Command(program, c.args...)
				cmd.Dir = dir
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				return cmd
			}
			lay()
			begun := time.Now()
			cmd := start()
			if _ = cmd.Wait(); cmd.ProcessState.ExitCode() != c.ends {
				t.Fatalf("it ends with status %d", cmd.ProcessState.ExitCode())
			}
			lasts := time.Since(begun)
			fresh := map[string][]byte{} // as a run that is let be leaves them
			for name := range c.files {
				if fresh[name], err = os.ReadFile(filepath.Join(dir, name)); err != nil {
					t.Fatal(err)
				}
				if bytes.Equal(fresh[name], c.files[name]) {
					t.Fatalf("%s is not written", name)
				}
			}
			rounds := 16
			if testing.Short() {
				rounds = 4
			}
			wholeOld, wholeNew := 0, 0
			// Ever nearer to the moment at which it writes: before it at one end, after it at the other.
			early, late := lasts/4, 2*lasts
			for i := range rounds {
				lay()
				cmd := start()
				after := (early + late) / 2
				time.Sleep(after)
				_ = cmd.Process.Kill() // it may be done already
				_ = cmd.Wait()
				was := wholeOld
				for name, now := range fresh {
					text, err := os.ReadFile(filepath.Join(dir, name))
					if err != nil {
						t.Fatal(err)
					}
					switch {
					case bytes.Equal(text, c.files[name]):
						wholeOld++
					case bytes.Equal(text, now):
						wholeNew++
					default:
						t.Errorf("killed in round %d, %s holds %d bytes that are neither the old text nor the new one", i, name, len(text))
					}
					info, err := os.Stat(filepath.Join(dir, name))
					if err != nil || info.Mode().Perm() != 0o600 {
						t.Errorf("killed in round %d, %s has %v (%v)", i, name, info.Mode(), err)
					}
				}
				if wholeOld > was {
					early, late = after, late+late/20 // no two runs take the same time
				} else {
					early, late = early-early/20, after
				}
			}
			t.Logf("old %d times, new %d times", wholeOld, wholeNew)
			if !testing.Short() && (wholeOld == 0 || wholeNew == 0) {
				t.Error("it was never killed on both sides of its writing, so that this shows nothing")
			}
		})
	}
}

// Where a file cannot be written, that is said in words and it is as it was.
func TestWhatCannotBeWrittenIsLeftAndTold(t *testing.T) {
	commands := []struct {
		file string
		args []string
	}{
		{"door.toml", []string{"mend", "--write", "disk/door.toml"}},
		{"report.json", []string{"inspect", "--as", "json", "--out", "disk/report.json", "bad"}},
		{"known.toml", []string{"inspect", "--quiet", "--keep-baseline", "disk/known.toml", "bad"}},
	}
	// try runs each with its file on the disk, and as the user given.
	try := func(t *testing.T, dir, program, words string, as *syscall.SysProcAttr) {
		t.Helper()
		for _, c := range commands {
			at := filepath.Join(dir, "disk", c.file)
			before, err := os.ReadFile(at)
			if err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(program, c.args...)
			cmd.Dir, cmd.SysProcAttr = dir, as
			var said strings.Builder
			cmd.Stderr = &said
			err = cmd.Run()
			var exit *exec.ExitError
			if !errors.As(err, &exit) || exit.ExitCode() != exitWrong || !strings.Contains(flat(said.String()), words) {
				t.Errorf("%v: %v, it said %q", c.args, err, said.String())
			}
			if after, err := os.ReadFile(at); err != nil || !bytes.Equal(after, before) {
				t.Errorf("%v: the file is not as it was (%v)", c.args, err)
			}
			if beside, err := os.ReadDir(filepath.Dir(at)); err != nil || len(beside) != len(commands)+1 {
				t.Errorf("%v: beside it lie %v (%v)", c.args, beside, err)
			}
		}
	}
	// lay puts the files of the commands on the disk, and one that fills it.
	lay := func(t *testing.T, disk string, filling int) {
		t.Helper()
		text, err := os.ReadFile(filepath.Join(examples(t), "bad", "filler-over-etch.toml"))
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range map[string][]byte{"door.toml": text, "report.json": []byte("{}\n"), "known.toml": []byte("format = 1\n"), "filling": make([]byte, filling)} {
			if err := os.WriteFile(filepath.Join(disk, name), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Run("on a full disk", func(t *testing.T) {
		dir := t.TempDir()
		program, disk := programIn(t, dir), filepath.Join(dir, "disk")
		if err := os.Mkdir(disk, 0o755); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", disk).CombinedOutput(); err != nil {
			t.Skipf("no small disk can be made here: %v %s", err, out)
		}
		defer func() {
			if out, err := exec.Command("umount", disk).CombinedOutput(); err != nil {
				t.Errorf("%v %s", err, out)
			}
		}()
		lay(t, disk, 52<<10) // a page each for the others: it is full
		try(t, dir, program, "the disk is full", nil)
	})
	t.Run("in a read-only folder", func(t *testing.T) {
		dir, err := os.MkdirTemp("", "readonly") // whoever owns nothing has to get there
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = os.RemoveAll(dir) }()
		if err := os.Chmod(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		program, disk := programIn(t, dir), filepath.Join(dir, "disk")
		if err := os.Mkdir(disk, 0o755); err != nil {
			t.Fatal(err)
		}
		lay(t, disk, 0)
		if err := os.Chmod(disk, 0o555); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = os.Chmod(disk, 0o755) }()
		var as *syscall.SysProcAttr
		if os.Getuid() == 0 { // who may write everywhere
			const nobody = 65534
			as = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
			self, err := os.ReadFile(program)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.Remove(program); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(program, self, 0o755); err != nil {
				t.Fatal(err)
			}
		}
		try(t, dir, program, "may not be written", as)
	})
}
