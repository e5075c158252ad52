// Package organfile reads and writes organ files: the stop list of one organ,
// in YAML, as an organist writes it down at the console.
//
// Reading is strict. Everything that is wrong with a file is found at once,
// each with its line and column, and with what was probably meant.
package organfile

import (
	"cmp"
	"fmt"
	"slices"
)

// A Finding is one thing that is wrong, or doubtful, in an organ file.
type Finding struct {
	ID      string // stable: "unknown-key", "doubled-stop" …
	File    string
	Line    int // from 1; 0 where the file as a whole is meant
	Column  int // from 1, in characters
	Text    string
	Remedy  string // what to do, "" where that is plain
	Warning bool   // the file can be used all the same
}

// String is one line: file, line, column, the text, the remedy.
func (f Finding) String() string {
	place := f.File
	if f.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column)
	}
	s := place + ": "
	if f.Warning {
		s += "warning: "
	}
	s += f.Text
	if f.Remedy != "" {
		s += "; " + f.Remedy
	}
	return s
}

// Failed reports whether any of the findings is an error.
func Failed(findings []Finding) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool { return !f.Warning })
}

// maxFindings is how many findings of one file are told.
const maxFindings = 200

// few puts findings in the order of the file and leaves out what is too many
// to read; the last one then says how many that are.
func few(findings []Finding) []Finding {
	sortFindings(findings)
	if len(findings) <= maxFindings {
		return findings
	}
	rest := findings[maxFindings:]
	return append(findings[:maxFindings:maxFindings], Finding{
		ID: "too-many", File: rest[0].File, Text: fmt.Sprintf("there are %d more like these", len(rest)),
		Remedy: "mend the first and check again", Warning: !Failed(rest),
	})
}

func sortFindings(findings []Finding) {
	slices.SortStableFunc(findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.ID, b.ID))
	})
}
