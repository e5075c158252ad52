package main

import (
	"os"
	"strconv"
)

// isTerminal reports whether a file is a terminal and not a file or pipe.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// terminalWidth is how many columns to write: those that COLUMNS names, else
// an ordinary page's.
func terminalWidth(*os.File) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 40 {
		return n
	}
	return 80
}
