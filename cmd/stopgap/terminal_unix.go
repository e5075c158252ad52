//go:build unix && !aix && !solaris && !illumos

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// columnsOf is how wide a terminal is; ok is false for a file or pipe.
func columnsOf(f *os.File) (n int, ok bool) {
	size, err := unix.IoctlGetWinsize(int(f.Fd()), unix.TIOCGWINSZ)
	if err != nil {
		return 0, false
	}
	return int(size.Col), true
}

// isTerminal reports whether a file is a terminal and not a file or pipe.
func isTerminal(f *os.File) bool {
	_, ok := columnsOf(f)
	return ok
}
