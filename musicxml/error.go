package musicxml

import (
	"fmt"
	"strings"
)

// A Finding is something that the reader has to say about a file: what is
// wrong at which place, and what to do. Line and Column count from 1, in the
// bytes of the file as it is stored; they are 0 where no place can be named.
type Finding struct {
	ID      string // stable, for programs: "xml-syntax"
	File    string // for a compressed score "name.mxl/inner name.xml"
	Line    int
	Column  int
	Part    string // the part's id, if there is one
	Measure string // the measure's number as the file has it, if there is one
	Text    string // one plain sentence without full stop
	Remedy  string // what to do, without full stop; may be empty
}

// An Error is the finding for which a file is refused.
type Error Finding

// Error is one line: "file:line:column: sentence; remedy".
func (e *Error) Error() string { return Finding(*e).String() }

// String is one line: "file:line:column: sentence; remedy".
func (f Finding) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Column)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if f.Part != "" || f.Measure != "" {
		var where []string
		if f.Part != "" {
			where = append(where, "part "+shorten(f.Part))
		}
		if f.Measure != "" {
			where = append(where, "measure "+shorten(f.Measure))
		}
		b.WriteString(strings.Join(where, ", ") + ": ")
	}
	b.WriteString(f.Text)
	if f.Remedy != "" {
		b.WriteString("; " + f.Remedy)
	}
	return b.String()
}

// shorten makes a text from a file fit for a one-line message.
func shorten(s string) string {
	const most = 60
	var b strings.Builder
	for i, r := range s {
		if i >= most {
			b.WriteString("…")
			break
		}
		if r < ' ' || r == 0x7f || r == 0xfffd {
			r = ' '
		}
		b.WriteRune(r)
	}
	return b.String()
}
