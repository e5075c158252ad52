package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stopgap/musicxml"
)

// readScore reads a score from a file, or from standard input for "-".
func (c *console) readScore(name string) (*musicxml.Document, error) {
	if name == "-" {
		text, err := io.ReadAll(io.LimitReader(c.in, musicxml.MaxFileBytes+1))
		if err != nil {
			return nil, fmt.Errorf("standard input: %v", err)
		}
		return musicxml.Read("standard input", text)
	}
	info, err := os.Stat(name)
	if err != nil {
		return nil, fileError(err)
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s: this is a folder, not a score", name)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, fileError(err)
	}
	return musicxml.Read(name, text)
}

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
	if to == "-" {
		_, err := c.out.Write(data)
		return err
	}
	if from != "-" && sameFile(from, to) && !force {
		return fmt.Errorf("%s: this is the score itself; --force lets it be overwritten", to)
	}
	return musicxml.WriteFile(to, data, force)
}
