//go:build !unix || aix || solaris || illumos

package main

import "os"

// columnsOf is not known here.
func columnsOf(*os.File) (n int, ok bool) { return 0, false }

// isTerminal reports whether a file is a terminal and not a file or pipe.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
