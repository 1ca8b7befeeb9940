package whole

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// put writes a file for a test, in the plainest way.
func put(t *testing.T, path, text string, mode fs.FileMode) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), mode); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, mode); err != nil { // past the umask
		t.Fatal(err)
	}
}

// want checks a file's text, and that nothing else was left in its folder.
func want(t *testing.T, path, text string, names ...string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != text {
		t.Errorf("%s holds %.40q, not %.40q", filepath.Base(path), got, text)
	}
	if len(names) == 0 {
		names = []string{filepath.Base(path)}
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	var there []string
	for _, e := range entries {
		there = append(there, e.Name())
	}
	if strings.Join(there, " ") != strings.Join(names, " ") {
		t.Errorf("the folder holds %q, not %q", there, names)
	}
}

func TestANewFileIsWritten(t *testing.T) {
	at := filepath.Join(t.TempDir(), "new.txt")
	if err := Replace(at, []byte("new"), nil); err != nil {
		t.Fatal(err)
	}
	want(t, at, "new")
}

func TestAnExistingFileKeepsItsPermissions(t *testing.T) {
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o664, 0o755} {
		at := filepath.Join(t.TempDir(), "old.txt")
		put(t, at, "old", mode)
		if err := Replace(at, []byte("new"), nil); err != nil {
			t.Fatal(err)
		}
		want(t, at, "new")
		info, err := os.Stat(at)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != mode {
			t.Errorf("the permissions became %v; they were %v", info.Mode().Perm(), mode)
		}
	}
}

func TestAnExistingFileKeepsItsOwner(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only the superuser can give a file away to see that it stays given")
	}
	at := filepath.Join(t.TempDir(), "old.txt")
	put(t, at, "old", 0o640)
	if err := os.Chown(at, 4321, 4322); err != nil {
		t.Skip(err)
	}
	if err := Replace(at, []byte("new"), nil); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(at)
	if err != nil {
		t.Fatal(err)
	}
	if s := info.Sys().(*syscall.Stat_t); s.Uid != 4321 || s.Gid != 4322 || info.Mode().Perm() != 0o640 {
		t.Errorf("the file is of %d:%d with %v", s.Uid, s.Gid, info.Mode().Perm())
	}
}

func TestALinkStaysAndWhatItLeadsToIsReplaced(t *testing.T) {
	dir := t.TempDir()
	for _, sub := range []string{"a", "b"} {
		if err := os.Mkdir(filepath.Join(dir, sub), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	real := filepath.Join(dir, "b", "real.txt")
	put(t, real, "old", 0o600)
	links := [][2]string{
		{filepath.Join("..", "b", "real.txt"), filepath.Join(dir, "a", "first")}, // relative to itself
		{"first", filepath.Join(dir, "a", "second")},                             // a link to a link
		{filepath.Join(dir, "a"), filepath.Join(dir, "folder")},                  // and a folder that is one
	}
	for _, l := range links {
		if err := os.Symlink(l[0], l[1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := Replace(filepath.Join(dir, "folder", "second"), []byte("new"), []byte("old")); err != nil {
		t.Fatal(err)
	}
	want(t, real, "new")
	want(t, filepath.Join(dir, "a", "second"), "new", "first", "second")
	for _, l := range links {
		if to, err := os.Readlink(l[1]); err != nil || to != l[0] {
			t.Errorf("the link %s leads to %q (%v), not %q", l[1], to, err, l[0])
		}
	}
}

func TestALinkToNothingMakesWhatItLeadsTo(t *testing.T) {
	dir := t.TempDir()
	if err := os.Symlink("real.txt", filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	if err := Replace(filepath.Join(dir, "link"), []byte("new"), nil); err != nil {
		t.Fatal(err)
	}
	want(t, filepath.Join(dir, "real.txt"), "new", "link", "real.txt")
}

func TestWhatIsExpectedMustBeThere(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "sheet.toml")
	put(t, at, "old", 0o644)
	if err := Replace(at, []byte("new"), []byte("older")); !errors.Is(err, ErrChanged) {
		t.Errorf("a changed file was not told: %v", err)
	}
	want(t, at, "old")
	if err := Replace(at, []byte("new"), []byte("")); !errors.Is(err, ErrChanged) {
		t.Errorf("a file that is no longer empty was not told: %v", err)
	}
	if err := Replace(filepath.Join(dir, "gone"), []byte("new"), []byte("old")); !errors.Is(err, ErrChanged) {
		t.Errorf("a file that is gone was not told: %v", err)
	}
	want(t, at, "old")
	if err := Replace(at, []byte("new"), []byte("old")); err != nil {
		t.Error(err)
	}
	want(t, at, "new")
}

func TestAChangeWhileWritingIsSeen(t *testing.T) {
	at := filepath.Join(t.TempDir(), "sheet.toml")
	put(t, at, "old", 0o644)
	err := replace(at, []byte("new"), []byte("old"), func(w io.Writer, data []byte) error {
		put(t, at, "from elsewhere", 0o644)
		_, err := w.Write(data)
		return err
	})
	if !errors.Is(err, ErrChanged) {
		t.Errorf("the change was not told: %v", err)
	}
	want(t, at, "from elsewhere")
}

func TestAWriterThatFailsHalfWayLeavesTheOldFile(t *testing.T) {
	at := filepath.Join(t.TempDir(), "sheet.toml")
	put(t, at, "old", 0o644)
	err := replace(at, []byte("new and longer"), nil, func(w io.Writer, data []byte) error {
		if _, err := w.Write(data[:5]); err != nil {
			t.Fatal(err)
		}
		return &fs.PathError{Op: "write", Path: at, Err: syscall.ENOSPC}
	})
	var told *Error
	if !errors.As(err, &told) || !strings.Contains(told.Words, "the disk is full") || !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("told: %v", err)
	}
	want(t, at, "old")
}

// A disk of 64 KiB that is really full, where this machine lets us make one.
func TestAFullDiskLeavesTheOldFile(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %v %s", err, out)
	}
	defer func() {
		if out, err := exec.Command("umount", dir).CombinedOutput(); err != nil {
			t.Errorf("%v %s", err, out)
		}
	}()
	at := filepath.Join(dir, "report.json")
	put(t, at, "old", 0o644)
	err := Replace(at, bytes.Repeat([]byte("x"), 1<<20), nil)
	if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("told: %v", err)
	}
	want(t, at, "old")
	if err := Replace(at, []byte("new"), nil); err != nil {
		t.Errorf("with room again: %v", err)
	}
	want(t, at, "new")
}

// asNobody runs this test again as a user who owns nothing, as the superuser
// may write everywhere.
func asNobody(t *testing.T) bool {
	t.Helper()
	if os.Getuid() != 0 {
		return false
	}
	self, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "nobody")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = os.RemoveAll(dir) }()
	const nobody = 65534
	if err := os.Chown(dir, nobody, nobody); err != nil {
		t.Skip(err)
	}
	bin := filepath.Join(dir, "test")
	put(t, bin, string(self), 0o755)
	cmd := exec.Command(bin, "-test.run", "^"+t.Name()+"$", "-test.v")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "TMPDIR="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	out, err := cmd.CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("--- PASS")) {
		t.Errorf("as nobody: %v\n%s", err, out)
	}
	return true
}

func TestAFolderThatMayNotBeWrittenLeavesTheOldFile(t *testing.T) {
	if asNobody(t) {
		return
	}
	dir := filepath.Join(t.TempDir(), "kept")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(dir, "sheet.toml")
	put(t, at, "old", 0o644)
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = os.Chmod(dir, 0o755) }()
	for _, name := range []string{"sheet.toml", "new.toml"} {
		err := Replace(filepath.Join(dir, name), []byte("new"), nil)
		if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "may not be written") {
			t.Errorf("%s: told: %v", name, err)
		}
	}
	want(t, at, "old")
}

func TestAFileThatMayNotBeWrittenIsNotReplaced(t *testing.T) {
	if asNobody(t) {
		return
	}
	at := filepath.Join(t.TempDir(), "sheet.toml")
	put(t, at, "old", 0o444)
	if err := Replace(at, []byte("new"), nil); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("told: %v", err)
	}
	want(t, at, "old")
}

func TestWhatIsNoPlainFileIsWrittenThroughOrRefused(t *testing.T) {
	dir := t.TempDir()
	if err := Replace(dir, []byte("new"), nil); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
	before, err := os.Stat(os.DevNull)
	if err != nil {
		t.Skip(err)
	}
	if err := Replace(os.DevNull, []byte("new"), nil); err != nil {
		t.Error(err)
	}
	after, err := os.Stat(os.DevNull)
	if err != nil || after.Mode() != before.Mode() {
		t.Fatalf("the null device became %v (%v)", after, err)
	}
	if _, err := os.Stat("/dev/full"); err == nil {
		if err := Replace("/dev/full", []byte("new"), nil); !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("the full device: %v", err)
		}
	}
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	if err := Replace(pipe, []byte("new"), []byte("old")); err == nil {
		t.Error("a pipe was taken for a file that could have changed")
	}
	got := make(chan string)
	go func() {
		text, _ := os.ReadFile(pipe)
		got <- string(text)
	}()
	if err := Replace(pipe, []byte("through"), nil); err != nil {
		t.Error(err)
	}
	if text := <-got; text != "through" {
		t.Errorf("the pipe gave %q", text)
	}
}

func TestPlacesThatCannotBeAreToldInWords(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "file"), "old", 0o644)
	if err := os.Symlink("loop", filepath.Join(dir, "loop")); err != nil {
		t.Fatal(err)
	}
	for path, words := range map[string]string{
		filepath.Join(dir, "nowhere", "x.txt"):         "no such folder",
		filepath.Join(dir, "file", "x.txt"):            "a folder is wanted",
		filepath.Join(dir, "loop"):                     "round in a circle",
		filepath.Join(dir, strings.Repeat("long", 99)): "too long",
	} {
		if err := Replace(path, []byte("new"), nil); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%.60s: told %v, not %q", path, err, words)
		}
	}
	want(t, filepath.Join(dir, "file"), "old", "file", "loop")
}

// A process that replaces one file over and over is killed at moments all over
// its work; the file is always whole.
func TestKilledAtAnyMomentTheFileIsOldOrNew(t *testing.T) {
	if at := os.Getenv("WHOLE_TEST_REPLACES"); at != "" {
		for {
			for _, text := range texts {
				if err := Replace(at, text, nil); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	dir := t.TempDir()
	at := filepath.Join(dir, "report.json")
	put(t, at, string(texts[0]), 0o640)
	rounds := 40
	if testing.Short() {
		rounds = 8
	}
	seen := map[byte]int{}
	for i := range rounds {
		cmd := exec.Command(os.Args[0], "-test.run", "^TestKilledAtAnyMomentTheFileIsOldOrNew$")
		cmd.Env = append(os.Environ(), "WHOLE_TEST_REPLACES="+at)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i+3) * 3 * time.Millisecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait() // it was killed
		text, err := os.ReadFile(at)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(text, texts[0]) && !bytes.Equal(text, texts[1]) {
			t.Fatalf("killed in round %d, the file holds %d bytes that are neither text", i, len(text))
		}
		seen[text[0]]++
		info, err := os.Stat(at)
		if err != nil || info.Mode().Perm() != 0o640 {
			t.Fatalf("killed in round %d, the file has %v (%v)", i, info.Mode(), err)
		}
	}
	t.Logf("the file held the old text %d times and the new one %d times", seen['o'], seen['n'])
}

var texts = [][]byte{bytes.Repeat([]byte("old "), 1<<16), bytes.Repeat([]byte("new "), 1<<17)}
