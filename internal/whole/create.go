package whole

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// New is a file that is not there yet.
type New struct {
	Name string // in its folder
	Text []byte
}

// Exists is that some of the files were there before. Nothing was written.
type Exists struct{ Names []string }

func (e *Exists) Error() string { return "some of the files are there already" }

// Create puts new files into a folder, which is made if it is not there, with
// the folders above it. Nothing that is there is touched: if one of the files
// is, or anything else of its name, the error is an *Exists and none is
// written. So it is on any other fault, which is an *Error; and the folders
// that were made are taken away again.
//
// The texts are brought to the disk first, in a hidden folder beside, and then
// given their names; a run that is killed may leave that folder, or some of the
// files, each whole.
func Create(dir string, files []New) error {
	return create(dir, files, os.Link)
}

// create is Create with the naming handed in, so that a test can break it.
func create(dir string, files []New, link func(from, to string) error) (err error) {
	if exist := thereOf(dir, files); exist != nil {
		return &Exists{exist}
	}
	made, err := makeFolders(dir)
	if err != nil {
		return because(err)
	}
	var named []string
	defer func() {
		if err == nil {
			return
		}
		for _, path := range named {
			_ = os.Remove(path)
		}
		for _, path := range made {
			_ = os.Remove(path) // only if empty
		}
	}()
	beside, err := os.MkdirTemp(dir, ".new-*")
	if err != nil {
		return because(err)
	}
	// Runs before the folders are taken away.
	defer func() { _ = os.RemoveAll(beside) }()
	for _, f := range files {
		if err := writeNew(filepath.Join(beside, f.Name), f.Text); err != nil {
			return because(err)
		}
	}
	for _, f := range files {
		to := filepath.Join(dir, f.Name)
		err := link(filepath.Join(beside, f.Name), to)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			// Some disks give a file one name only.
			err = writeNew(to, f.Text)
		}
		if errors.Is(err, fs.ErrExist) {
			return &Exists{[]string{f.Name}}
		}
		if err != nil {
			return because(err)
		}
		named = append(named, to)
	}
	return nil
}

// thereOf are the names that are taken already, by whatever it be.
func thereOf(dir string, files []New) []string {
	var names []string
	for _, f := range files {
		if _, err := os.Lstat(filepath.Join(dir, f.Name)); err == nil {
			names = append(names, f.Name)
		}
	}
	return names
}

// makeFolders makes a folder and those above it that are not there, and gives
// what it made, the lowest first.
func makeFolders(dir string) (made []string, err error) {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append(made, at)
		if at == filepath.Dir(at) {
			break
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		for _, path := range made {
			_ = os.Remove(path)
		}
		return nil, err
	}
	return made, nil
}

// writeNew writes a file that is not there to the disk, or nothing.
func writeNew(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		_ = os.Remove(path)
	}
	return err
}
