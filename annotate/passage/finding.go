package passage

import (
	"fmt"
	"strings"

	"github.com/beevik/etree"

	"stopgap/musicxml"
)

// A Finding is something to be said of how the score was read.
type Finding struct {
	ID       string // stable: "unread-direction", "second-organ" …
	Place    musicxml.Place
	Staff    *Staff         // nil where no one staff is meant
	Elem     *etree.Element // where it stands in the file, nil if nowhere
	Text     string         // one plain sentence
	Remedies []string
}

// unread are the findings of words that look like registration and were not
// understood, with the nearest known words.
func unread(texts []*Text) []Finding {
	var out []Finding
	for _, t := range texts {
		for _, u := range t.Reading.Unread {
			f := Finding{ID: "unread-direction", Place: t.Place, Staff: t.Staff, Text: fmt.Sprintf("%q was not understood.", strings.Join(strings.Fields(u.Text), " "))}
			if len(u.Near) > 0 {
				f.Remedies = []string{"Is " + orList(u.Near) + " meant?"}
			}
			if len(t.Elems) > 0 {
				f.Elem = t.Elems[0]
			}
			out = append(out, f)
		}
	}
	return out
}

// orList joins names: "a", "a or b", "a, b or c".
func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
