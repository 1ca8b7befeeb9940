package whole

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

var three = []New{{"a.txt", []byte("first")}, {"b.txt", []byte("second")}, {"c.txt", []byte("third")}}

// inside are the names in a folder; nil if there is none.
func inside(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestNewFilesAreAllWritten(t *testing.T) {
	for name, dir := range map[string]string{
		"into a folder that is there":    t.TempDir(),
		"into a new folder":              filepath.Join(t.TempDir(), "shop"),
		"into new folders in each other": filepath.Join(t.TempDir(), "over", "there", "shop"),
	} {
		if err := Create(dir, three); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, f := range three {
			want(t, filepath.Join(dir, f.Name), string(f.Text), "a.txt", "b.txt", "c.txt")
		}
	}
}

func TestADiskThatGivesAFileOneNameGetsTheFilesToo(t *testing.T) {
	dir := t.TempDir()
	oneName := func(string, string) error { return &os.LinkError{Op: "link", Err: syscall.EPERM} }
	if err := create(dir, three, oneName); err != nil {
		t.Fatal(err)
	}
	for _, f := range three {
		want(t, filepath.Join(dir, f.Name), string(f.Text), "a.txt", "b.txt", "c.txt")
	}
}

func TestNothingThatIsThereIsTouchedAndNothingIsWrittenBesideIt(t *testing.T) {
	for name, there := range map[string]func(path string) error{
		"a file":            func(path string) error { return os.WriteFile(path, []byte("kept"), 0o644) },
		"an empty file":     func(path string) error { return os.WriteFile(path, nil, 0o644) },
		"a folder":          func(path string) error { return os.Mkdir(path, 0o755) },
		"a link to nothing": func(path string) error { return os.Symlink("nowhere", path) },
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, "b.txt")
		if err := there(path); err != nil {
			t.Fatal(err)
		}
		before, err := os.Lstat(path)
		if err != nil {
			t.Fatal(err)
		}
		var exists *Exists
		if err := Create(dir, three); !errors.As(err, &exists) || !slices.Equal(exists.Names, []string{"b.txt"}) {
			t.Errorf("%s: told %v", name, err)
		}
		after, err := os.Lstat(path)
		if err != nil || after.Mode() != before.Mode() || after.Size() != before.Size() || !os.SameFile(before, after) {
			t.Errorf("%s is touched: %v, %v", name, after, err)
		}
		if got := inside(t, dir); !slices.Equal(got, []string{"b.txt"}) {
			t.Errorf("%s: the folder holds %q", name, got)
		}
	}
}

// Somebody makes one of the files between the look and the naming.
func TestAFileThatComesMeanwhileIsKeptAndTheOthersAreTakenBack(t *testing.T) {
	for name, one := range map[string]error{"on a disk with links": nil, "on a disk without": syscall.EPERM} {
		dir := filepath.Join(t.TempDir(), "shop")
		link := func(from, to string) error {
			if filepath.Base(to) == "c.txt" {
				put(t, to, "kept", 0o644)
			}
			if one != nil {
				return one
			}
			return os.Link(from, to)
		}
		var exists *Exists
		if err := create(dir, three, link); !errors.As(err, &exists) || !slices.Equal(exists.Names, []string{"c.txt"}) {
			t.Errorf("%s: told %v", name, err)
		}
		want(t, filepath.Join(dir, "c.txt"), "kept", "c.txt")
	}
}

func TestAFullDiskGetsNoneOfTheFiles(t *testing.T) {
	disk := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", disk).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %v %s", err, out)
	}
	defer func() {
		if out, err := exec.Command("umount", disk).CombinedOutput(); err != nil {
			t.Errorf("%v %s", err, out)
		}
	}()
	err := Create(filepath.Join(disk, "new", "shop"), append(three, New{"d.txt", bytes.Repeat([]byte("x"), 1<<20)}))
	if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("told %v", err)
	}
	if got := inside(t, disk); got != nil {
		t.Errorf("left behind: %q", got)
	}
}

func TestAFolderThatMayNotBeWrittenGetsNoneOfTheFiles(t *testing.T) {
	if asNobody(t) {
		return
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = os.Chmod(dir, 0o755) }()
	for _, at := range []string{dir, filepath.Join(dir, "new")} {
		if err := Create(at, three); !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "may not be written") {
			t.Errorf("told %v", err)
		}
	}
	if got := inside(t, dir); got != nil {
		t.Errorf("left behind: %q", got)
	}
}

func TestAFileInTheFoldersPlaceIsTold(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	put(t, file, "kept", 0o644)
	for _, at := range []string{file, filepath.Join(file, "shop")} {
		if err := Create(at, three); err == nil || !strings.Contains(err.Error(), "a folder is wanted") {
			t.Errorf("told %v", err)
		}
	}
	want(t, file, "kept")
}
