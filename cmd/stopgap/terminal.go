package main

import (
	"os"
	"strconv"
)

// usualWidth is how many columns are written where the terminal says nothing
// else.
const usualWidth = 80

// terminalWidth is how many columns to write: those that COLUMNS names, else
// those of the terminal, else an ordinary page's.
func terminalWidth(f *os.File) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 40 {
		return n
	}
	if n, ok := columnsOf(f); ok && n >= 40 {
		return n
	}
	return usualWidth
}
