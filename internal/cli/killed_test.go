package cli

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// The program is killed at moments all over its run, and over and over at its
// end, where it writes: each of its files is the old one or the new one, whole.
func TestKilledAtAnyMomentEveryFileIsOldOrNew(t *testing.T) {
	dir := t.TempDir()
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
	files := map[string][]byte{"report.json": nil, "known.toml": nil} // as a run that is let be leaves them
	start := func() *exec.Cmd {
		cmd := exec.Command(program, "inspect", "--as", "json", "--out", "report.json", "--keep-baseline", "known.toml", "bad")
		cmd.Dir = dir
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return cmd
	}
	begun := time.Now()
	if cmd := start(); cmd.Wait() == nil || cmd.ProcessState.ExitCode() != exitFindings {
		t.Fatalf("it ends with status %d", cmd.ProcessState.ExitCode())
	}
	lasts := time.Since(begun)
	for name := range files {
		if files[name], err = os.ReadFile(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	old := bytes.Repeat([]byte("what was there\n"), 5000)
	rounds := 16
	if testing.Short() {
		rounds = 4
	}
	wholeOld, wholeNew := 0, 0
	for i := range rounds {
		for name := range files {
			if err := os.WriteFile(filepath.Join(dir, name), old, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chmod(filepath.Join(dir, name), 0o600); err != nil { // one that was there keeps its own
				t.Fatal(err)
			}
		}
		cmd := start()
		// From half the time a run takes to a quarter more than that.
		time.Sleep(lasts/2 + lasts*3/4*time.Duration(i)/time.Duration(rounds))
		_ = cmd.Process.Kill() // it may be done already
		_ = cmd.Wait()
		for name, now := range files {
			text, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case bytes.Equal(text, old):
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
	}
	t.Logf("old %d times, new %d times", wholeOld, wholeNew)
}
