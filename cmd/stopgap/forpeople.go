package main

import (
	"io"
	"strings"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
)

// unseen reports whether a character of a score or an organ file is not to be
// printed for people: a terminal may take it for a command, or turn the rest
// of the line round. XML allows them all.
func unseen(c rune) bool {
	switch {
	case c >= 0x7F && c < 0xA0: // commands of terminals
		return true
	case c >= 0x202A && c <= 0x202E, c >= 0x2066 && c <= 0x2069: // that turn text round
		return true
	case c >= 0x200B && c <= 0x200F, c == 0x2028, c == 0x2029, c == 0xFEFF: // without a width, or ending a line
		return true
	}
	return false
}

// forPeople is a writer of text that people read, without the characters that
// are not to be seen.
func forPeople(w io.Writer) io.Writer {
	return transform.NewWriter(w, runes.Remove(runes.Predicate(unseen)))
}

// seen is what remains of a line of text.
func seen(text string) string {
	return strings.Map(func(c rune) rune {
		if unseen(c) {
			return -1
		}
		return c
	}, text)
}
