package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stopgap/musicxml"
)

// maxPinBytes is the greatest file of pins that is read.
const maxPinBytes = 1 << 20

// readScore reads a score from a file, or from standard input for "-".
func (c *console) readScore(name string) (*musicxml.Document, error) {
	text, err := c.readFile(name, musicxml.MaxFileBytes)
	if err != nil {
		return nil, err
	}
	makeRoom(len(text))
	return musicxml.Read(called(name), text)
}

// called is what messages call a file.
func called(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// about says which file an error is about, unless the error does.
func about(name string, err error) error {
	var e *musicxml.Error
	if errors.As(err, &e) {
		return err
	}
	return fmt.Errorf("%s: %w", called(name), err)
}

// readFile reads a file of at most so many bytes, or standard input for "-".
func (c *console) readFile(name string, most int64) ([]byte, error) {
	if name == "-" {
		return readAll(c.in, called(name), 0, most)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fileError(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fileError(err)
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s: this is a folder, not a file", name)
	}
	return readAll(f, name, info.Size(), most)
}

// readAll reads to the end, which must come after at most so many bytes. What
// the system says of the size of a file is only where to begin: devices and
// pipes have none, and a file may grow.
func readAll(r io.Reader, name string, size, most int64) ([]byte, error) {
	tooLarge := fmt.Errorf("%s: the file is larger than %s, the most that is read", name, megabytes(most))
	if size > most {
		return nil, tooLarge
	}
	var text bytes.Buffer
	text.Grow(int(size) + bytes.MinRead)
	if _, err := text.ReadFrom(io.LimitReader(r, most+1)); err != nil {
		return nil, fileError(err)
	}
	if int64(text.Len()) > most {
		return nil, tooLarge
	}
	return text.Bytes(), nil
}

func megabytes(n int64) string { return fmt.Sprintf("%d MiB", n>>20) }

// eachLine reads standard input line by line, without the line ends. A line
// that is longer than any text may be is an error.
func (c *console) eachLine(do func(line string)) error {
	in := bufio.NewScanner(c.in)
	in.Buffer(nil, maxLineBytes)
	for in.Scan() {
		do(in.Text())
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return fmt.Errorf("standard input: a line is longer than %s, the most that is read", megabytes(maxLineBytes))
	}
	if in.Err() != nil {
		return fmt.Errorf("standard input: %v", in.Err())
	}
	return nil
}

// maxLineBytes is the longest line of standard input that is read: a direction
// of 1 MiB, and what stands for its line breaks.
const maxLineBytes = 4 << 20

// fileError says in plain words why a file could not be opened.
func fileError(err error) error {
	var pe *fs.PathError
	if !errors.As(err, &pe) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file", pe.Path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: this file may not be read", pe.Path)
	}
	return fmt.Errorf("%s: %v", pe.Path, pe.Err)
}

// annotatedName is NAME.annotated.EXT, beside the input or in a folder.
func annotatedName(name, dir string) string {
	ext := filepath.Ext(name)
	out := strings.TrimSuffix(name, ext) + ".annotated" + ext
	if dir != "" {
		out = filepath.Join(dir, filepath.Base(out))
	}
	return out
}

// sameFile reports whether two paths lead to one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// writeScore writes a score where it belongs. The file that was read is never
// overwritten unless forced.
func (c *console) writeScore(from, to string, data []byte, force bool) error {
	return c.writeBy(from, to, force, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// writeBy does the same with what a function writes. Nothing large is gathered
// in memory first.
func (c *console) writeBy(from, to string, force bool, write func(w io.Writer) error) error {
	if to == "-" {
		if err := write(c.out); err != nil {
			return outputError(err)
		}
		return nil
	}
	if from != "-" && sameFile(from, to) && !force {
		return fmt.Errorf("%s: this is the score itself; --force lets it be overwritten", to)
	}
	return musicxml.WriteFileBy(to, force, write)
}
