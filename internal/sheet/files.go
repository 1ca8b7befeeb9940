package sheet

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// MaxFileSize is the most bytes that a sheet, a shelf or a house file may have.
const MaxFileSize = 1 << 20

// HouseFile is the name of a house file.
const HouseFile = "guidecoat.toml"

// ReadFile reads a file that a user has named, with a bound on its size. Its
// error says in a painter's words why it cannot be read.
func ReadFile(name string) ([]byte, error) {
	if strings.ContainsRune(name, 0) {
		return nil, errors.New("this name holds a NUL; no file is called that")
	}
	info, err := os.Stat(name)
	if err != nil {
		return nil, whyUnread(err)
	}
	if err := readable(info); err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, whyUnread(err)
	}
	defer func() { _ = f.Close() }()
	return readAll(f)
}

// readable refuses what is no plain file of a sheet's size. It is asked before
// a file is opened: opening a pipe would wait for ever.
func readable(info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return errors.New("this is a folder, and a file is wanted")
	case !info.Mode().IsRegular():
		return errors.New("this is no plain file (a pipe, a device or a socket), and none is read")
	case info.Size() > MaxFileSize:
		return errors.New(tooLarge())
	}
	return nil
}

func readAll(r io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxFileSize+1))
	if err != nil {
		return nil, whyUnread(err)
	}
	if len(text) > MaxFileSize {
		return nil, errors.New(tooLarge())
	}
	return text, nil
}

func whyUnread(err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no such file; check the name and the folder: %w", fs.ErrNotExist)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("this file may not be read; ask whoever owns it for leave to: %w", fs.ErrPermission)
	case errors.As(err, &at) && strings.Contains(at.Err.Error(), "escapes"):
		return errors.New("this is a link that leads out of the folder that is being read, and such links are not followed")
	case errors.As(err, &at):
		return fmt.Errorf("this file cannot be read: %w", at.Err)
	}
	return fmt.Errorf("this file cannot be read: %w", err)
}

// plain is an error's message without the words that errors.Is is for.
func plain(err error) string {
	message := err.Error()
	for _, known := range []error{fs.ErrNotExist, fs.ErrPermission} {
		message = strings.TrimSuffix(message, ": "+known.Error())
	}
	return message
}

// folders opens files inside folders that nothing written in a sheet may lead
// out of. It is safe for concurrent use.
type folders struct {
	mu   sync.Mutex
	open map[string]*os.Root
}

func (f *folders) root(dir string) (*os.Root, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if r, ok := f.open[dir]; ok {
		return r, nil
	}
	r, err := os.OpenRoot(dir)
	if err != nil {
		return nil, whyUnread(err)
	}
	if f.open == nil {
		f.open = map[string]*os.Root{}
	}
	f.open[dir] = r
	return r, nil
}

func (f *folders) close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	var errs []error
	for dir, r := range f.open {
		errs = append(errs, r.Close())
		delete(f.open, dir)
	}
	return errors.Join(errs...)
}

// read reads the file rel under the folder base, following no link out of it.
func (f *folders) read(base, rel string) ([]byte, error) {
	root, err := f.root(base)
	if err != nil {
		return nil, err
	}
	info, err := root.Stat(rel)
	if err != nil {
		return nil, whyUnread(err)
	}
	if err := readable(info); err != nil {
		return nil, err
	}
	file, err := root.Open(rel)
	if err != nil {
		return nil, whyUnread(err)
	}
	defer func() { _ = file.Close() }()
	return readAll(file)
}

func (f *folders) isDir(base, rel string) error {
	root, err := f.root(base)
	if err != nil {
		return err
	}
	info, err := root.Stat(rel)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such folder")
	case err != nil:
		return whyUnread(err)
	case !info.IsDir():
		return errors.New("this is a file, and a folder is wanted")
	}
	return nil
}

// nearShelves are the names of the shelves in the folder of rel that are most
// like it.
func (f *folders) nearShelves(base, rel string) []string {
	root, err := f.root(base)
	if err != nil {
		return nil
	}
	dir, err := root.Open(filepath.Dir(rel))
	if err != nil {
		return nil
	}
	defer func() { _ = dir.Close() }()
	const most = 500 // names looked at; this is only a hint
	names, _ := dir.Readdirnames(most)
	var like []string
	for _, n := range names {
		if strings.EqualFold(filepath.Ext(n), ".toml") {
			like = append(like, n)
		}
	}
	isNone := func(name string) bool {
		text, err := f.read(base, filepath.Join(filepath.Dir(rel), name))
		return err != nil || Classify(text) != IsShelf
	}
	const goes = 20 // files opened to find one that is a shelf
	for range goes {
		near := nearest(filepath.Base(rel), like)
		none := slices.IndexFunc(near, isNone)
		if none < 0 {
			return near
		}
		like = slices.DeleteFunc(like, func(n string) bool { return n == near[none] })
	}
	return nil
}

// location is a file that is read: what it is called in reports, where it
// lies, and the folder that nothing written in it may lead out of.
type location struct {
	name string // as the user said it, with forward slashes
	abs  string
	base string // absolute; abs lies in it
}

// locate finds the folder that a sheet named by the user lies in: the working
// directory or another named folder that holds it. Any other sheet is bound to
// the nearest folder above it that has a house file, which is the shop's, and
// where there is none to its own.
func (r *Reader) locate(name string) location {
	loc, named := locate(name, r.root, r.o.Folders)
	if named || r.o.NoHouse || r.o.House != "" {
		return loc
	}
	if dir, ok := shopOf(loc.base); ok {
		loc.base = dir
	}
	return loc
}

// shopOf is the nearest folder, from this one upward, that has a house file.
func shopOf(dir string) (string, bool) {
	for {
		if info, err := os.Stat(filepath.Join(dir, HouseFile)); err == nil && info.Mode().IsRegular() {
			return dir, true
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", false
		}
		dir = up
	}
}

// unreadShop tells of a house file that lies above the folder a sheet is bound
// to, and so is not read; "" where there is none.
func (r *Reader) unreadShop(loc location) string {
	if r.o.NoHouse || r.o.House != "" {
		return ""
	}
	dir, ok := shopOf(filepath.Dir(loc.base))
	if !ok {
		return ""
	}
	if rel, err := filepath.Rel(r.root, dir); err == nil {
		dir = rel
	}
	return fmt.Sprintf("the house file %s lies above the working folder, and is not read from here: change to its folder, or name it with --house", quoted(filepath.ToSlash(filepath.Join(dir, HouseFile))))
}

// locate finds the folder that a file named by the user lies in: the first of
// the given ones that holds it, and then it is named; else its own.
func locate(name, root string, more []string) (loc location, named bool) {
	abs := name
	if !filepath.IsAbs(abs) {
		abs = filepath.Join(root, filepath.FromSlash(name))
	}
	abs = filepath.Clean(abs)
	loc = location{name: filepath.ToSlash(name), abs: abs, base: filepath.Dir(abs)}
	for _, dir := range append([]string{root}, more...) {
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(root, dir)
		}
		dir = filepath.Clean(dir)
		// A file that the user has named among the folders is no folder.
		if rel, ok := inside(dir, abs); ok && rel != "." {
			loc.base = dir
			return loc, true
		}
	}
	return loc, false
}

// inside is abs relative to dir, if it lies in it.
func inside(dir, abs string) (string, bool) {
	rel, err := filepath.Rel(dir, abs)
	if err != nil || !filepath.IsLocal(rel) {
		return "", false
	}
	return rel, true
}

// errOut says that a path written in a file leads where it may not.
var errOut = errors.New("this leads out of the folder that is being read; keep the file inside it and name it from here, such as \"shelf.toml\"")

// beside is the location of a path as it is written in a file: relative to
// that file, and inside its base.
func (l location) beside(written string) (location, error) {
	slashed := filepath.ToSlash(written)
	switch {
	case strings.TrimSpace(written) == "":
		return location{}, errors.New("nothing is written; name a file, such as \"shelf.toml\"")
	case strings.ContainsRune(written, 0):
		return location{}, errors.New("this name holds a NUL; no file is called that")
	case filepath.IsAbs(written), strings.HasPrefix(slashed, "/"), strings.HasPrefix(written, `\`), filepath.VolumeName(written) != "",
		len(written) > 1 && written[1] == ':':
		return location{}, errors.New("this is a path from the top of the disk; name the file from where this one lies, such as \"shelf.toml\"")
	}
	abs := filepath.Join(filepath.Dir(l.abs), filepath.FromSlash(slashed))
	if _, ok := inside(l.base, abs); !ok {
		return location{}, errOut
	}
	return location{name: path.Join(path.Dir(l.name), slashed), abs: abs, base: l.base}, nil
}

// rel is the location relative to its base.
func (l location) rel() string {
	if rel, ok := inside(l.base, l.abs); ok {
		return rel
	}
	return filepath.Base(l.abs)
}
