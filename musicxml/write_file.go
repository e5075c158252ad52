package musicxml

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/natefinch/atomic"
)

// WriteFile writes a file whole or not at all: first into a new file beside
// it, which then takes its place, so that whatever happens either the old or
// the new one is there. An existing file is refused unless force is given; it
// keeps its permissions, and a symbolic link to it stays one. Devices and
// pipes are written to directly. Errors are always an [*Error].
func WriteFile(path string, data []byte, force bool) error {
	return WriteFileBy(path, force, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// WriteFileBy does the same with what a function writes.
func WriteFileBy(path string, force bool, write func(w io.Writer) error) error {
	refuse := func(id, text, remedy string) error {
		return &Error{ID: id, File: path, Text: text, Remedy: remedy}
	}
	const elsewhere = "see that its folder is there, may be written to and has room, or name another"
	info, err := os.Stat(path)
	exists := err == nil
	switch {
	case exists && info.IsDir():
		return refuse("write-failed", "this is a folder, not a file", "name a file")
	case exists && !info.Mode().IsRegular():
		if err := writeDirectly(path, write); err != nil {
			return refuse("write-failed", "cannot be written: "+reason(err), "")
		}
		return nil
	case exists && !force:
		return refuse("file-exists", "the file is there already", "name another, or say --force")
	case exists && info.Mode().Perm()&0o200 == 0:
		return refuse("write-failed", "the file is write-protected", "name another, or change its permissions")
	case !exists && !errors.Is(err, fs.ErrNotExist):
		return refuse("write-failed", "cannot be written: "+reason(err), elsewhere)
	}
	target := path
	if exists {
		if target, err = filepath.EvalSymlinks(path); err != nil {
			return refuse("write-failed", "cannot be written: "+reason(err), elsewhere)
		}
	}
	mode := fs.FileMode(0o666) // less what the user's umask takes away
	if exists {
		mode = info.Mode().Perm()
	}
	if err := replaceFile(target, write, mode, exists); err != nil {
		return refuse("write-failed", "cannot be written: "+reason(err), elsewhere)
	}
	return nil
}

// writeDirectly writes to a device or a pipe.
func writeDirectly(path string, write func(w io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// replaceFile writes a new file beside target and moves it there.
func replaceFile(target string, write func(w io.Writer) error, mode fs.FileMode, exists bool) (err error) {
	f, err := createBeside(target, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return err
	}
	if exists {
		if err := f.Chmod(mode); err != nil && runtime.GOOS != "windows" {
			return err
		}
	}
	// Without this a crash of the machine could leave an empty file in place.
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return atomic.ReplaceFile(f.Name(), target)
}

// createBeside makes a new file with a name of its own in the folder of target.
func createBeside(target string, mode fs.FileMode) (*os.File, error) {
	for try := 0; ; try++ {
		name := filepath.Join(filepath.Dir(target), fmt.Sprintf(".musicxml-%d-%d.tmp", os.Getpid(), try))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) || try > 1000 {
			return f, err
		}
	}
}

// reason is what the system says, without the name of the file, which stands
// before it anyhow.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err.Error()
	}
	return err.Error()
}
