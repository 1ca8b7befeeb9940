package cli

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The test's own program serves when it is called so: what Neovim starts is the
// command line as it is, and nothing has to be built for it.
const asEditor = "GUIDECOAT_TEST_AS_EDITOR"

func init() {
	if os.Getenv(asEditor) != "" {
		os.Exit(Main(os.Args[1:], Process()))
	}
}

func TestNeovimShowsAFindingAndItsQuickFixTakesItAway(t *testing.T) {
	nvim, err := exec.LookPath("nvim")
	if err != nil {
		t.Skip("Neovim is not on this machine (apt-get install neovim), so no real text editor was tried")
	}
	dir := t.TempDir()
	for _, name := range []string{"shelf.toml", "guidecoat.toml", "bad/water-on-steel.toml"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "specs-examples", filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	script, err := filepath.Abs(filepath.Join("..", "..", "testdata", "editor", "neovim.lua"))
	if err != nil {
		t.Fatal(err)
	}
	seen := filepath.Join(dir, "seen.txt")
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n", "-c", "luafile "+script)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), asEditor+"=1", "SERVER="+self+" editor --stdio --today 2026-03-02", "SHEET="+filepath.Join(dir, "water-on-steel.toml"), "RULE=water-on-bare-steel",
		"SEEN="+seen, "HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_STATE_HOME="+dir)
	out, err := cmd.CombinedOutput()
	b, _ := os.ReadFile(seen)
	if err != nil {
		t.Fatalf("Neovim ended with %v\nit saw:\n%s\nit printed:\n%s", err, b, out)
	}
	said := string(b)
	for _, want := range []string{
		"TOLD guidecoat water-on-bare-steel ERROR line 30\n", "HOVER Step 2 of 11: clean wipes with a cleaner.", "SYMBOLS 1\n",
		"OFFERED ", "CHANGED lines ", "GONE water-on-bare-steel left 0\n", "COMPLETED spray\n", "DONE\n",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("Neovim did not see %q:\n%s", want, said)
		}
	}
}
