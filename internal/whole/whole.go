// Package whole replaces files so that nothing is lost: whoever looks at the
// file, at any moment and whatever happens meanwhile, finds the old text or
// the new one, and never a part of either.
//
// It must not know what is in the files.
package whole

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// ErrChanged is that a file no longer holds what was expected of it.
var ErrChanged = errors.New("the file was changed by someone else since it was read; nothing was written")

// Error is why a file was not replaced, in words for whoever named it. The
// file that was there is as it was.
type Error struct {
	Words string
	Cause error
}

func (e *Error) Error() string { return e.Words }
func (e *Error) Unwrap() error { return e.Cause }

// mode is what a new file may be used for, before the umask.
const mode = 0o644

// Replace makes data the text of the file at path: written beside it to a new
// file, brought to the disk, and moved over it in one stroke. A run that is
// killed may leave the new file beside it, under a hidden name that ends in
// digits.
//
// With expect not nil, the file must hold just that, or the error is
// ErrChanged. It is looked at once more right before the move; a change in the
// instant between the two is not seen.
//
// A link is followed: what it leads to is replaced, and the link stays. An
// existing file keeps its permissions, and its owner where the system lets us;
// one that may not be written is not replaced either. Other names of the same
// file (hard links) keep the old text. What is no plain file, such as a
// terminal or a pipe, is written to as it is.
//
// The error is always an *Error.
func Replace(path string, data, expect []byte) error {
	return replace(path, data, expect, func(w io.Writer, data []byte) error {
		_, err := w.Write(data)
		return err
	})
}

// replace is Replace with the writing handed in, so that a test can break it.
func replace(path string, data, expect []byte, write func(io.Writer, []byte) error) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return &Error{Words: "this is a folder, and a file is wanted", Cause: syscall.EISDIR}
	case err == nil && !info.Mode().IsRegular():
		if expect != nil {
			return &Error{Words: "this is no plain file (a pipe, a device or a socket), so that it cannot be replaced", Cause: fs.ErrInvalid}
		}
		return through(path, data, write)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return because(err)
	}
	target, err := follow(path)
	if err != nil {
		return because(err)
	}
	if err := mayWrite(target); err != nil {
		return because(err)
	}
	if err := holds(target, expect); err != nil {
		return because(err)
	}
	f, err := renameio.NewPendingFile(target, renameio.WithTempDir(filepath.Dir(target)),
		renameio.WithPermissions(mode), renameio.WithExistingPermissions())
	if err != nil {
		return because(err)
	}
	// After the move there is nothing left to clean up.
	defer func() { _ = f.Cleanup() }()
	keepOwner(f.File, info)
	if err := write(f, data); err != nil {
		return because(err)
	}
	if err := f.Sync(); err != nil {
		return because(err)
	}
	if err := holds(target, expect); err != nil {
		return because(err)
	}
	if err := f.CloseAtomicallyReplace(); err != nil {
		return because(err)
	}
	// The move itself is brought to the disk. Some file systems cannot; the
	// file is whole either way.
	if dir, err := os.Open(filepath.Dir(target)); err == nil {
		_ = dir.Sync()
		_ = dir.Close()
	}
	return nil
}

// through writes to what keeps nothing, and so has nothing to lose.
func through(path string, data []byte, write func(io.Writer, []byte) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return because(err)
	}
	err = write(f, data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return because(err)
	}
	return nil
}

// follow is where a path leads after all links, even if nothing is there yet.
func follow(path string) (string, error) {
	const most = 40 // as many as the system itself would follow
	for range most {
		dir, err := filepath.EvalSymlinks(filepath.Dir(path))
		if err != nil {
			return "", err
		}
		path = filepath.Join(dir, filepath.Base(path))
		info, err := os.Lstat(path)
		if err != nil || info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", &fs.PathError{Op: "follow", Path: path, Err: syscall.ELOOP}
}

// mayWrite asks the system whether the file that is there may be written. The
// move would not ask: it needs leave for the folder only.
func mayWrite(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	return f.Close()
}

// holds tells ErrChanged unless the file holds just what is expected. Nothing
// is expected when expect is nil.
func holds(path string, expect []byte) error {
	if expect == nil {
		return nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && !bytes.Equal(text, expect) {
		return ErrChanged
	}
	return err
}

// keepOwner gives the new file to the owner of the old one, where we may.
func keepOwner(f *os.File, old fs.FileInfo) {
	if old == nil {
		return
	}
	if was, ok := old.Sys().(*syscall.Stat_t); ok {
		// The mode is set again: a change of owner may have cleared it.
		if f.Chown(int(was.Uid), int(was.Gid)) == nil {
			_ = f.Chmod(old.Mode().Perm())
		}
	}
}

// because is an error in the words of whoever named the file.
func because(err error) error {
	words := ""
	var at *fs.PathError
	switch {
	case errors.Is(err, ErrChanged):
		words = err.Error()
	case errors.Is(err, fs.ErrNotExist):
		words = "there is no such folder; check the name, or make the folder first"
	case errors.Is(err, syscall.EROFS):
		words = "the disk may only be read, not written; write to another place"
	case errors.Is(err, fs.ErrPermission):
		words = "the file or its folder may not be written; ask whoever owns it for leave to, or write to another place"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		words = "the disk is full; make room and try again (what was there is as it was)"
	case errors.Is(err, syscall.EFBIG):
		words = "the file would be larger than this system lets it be (what was there is as it was)"
	case errors.Is(err, syscall.ELOOP):
		words = "this link leads round in a circle"
	case errors.Is(err, syscall.ENOTDIR):
		words = "a part of this path is a file, and a folder is wanted"
	case errors.Is(err, syscall.ENAMETOOLONG):
		words = "the name is too long for this disk; choose a shorter one"
	case errors.As(err, &at):
		words = at.Err.Error()
	default:
		words = err.Error()
	}
	return &Error{Words: words, Cause: err}
}
