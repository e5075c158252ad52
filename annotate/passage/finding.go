package passage

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// A Finding is something to be said of how the score was read.
type Finding struct {
	ID       string // stable: "unread-direction", "second-organ" …
	Place    musicxml.Place
	Staff    *Staff           // nil where no one staff is meant
	Elem     musicxml.Element // where it stands in the file, none if nowhere
	Text     string           // one plain sentence
	Remedies []string
}

// unread are the findings of words that look like registration and were not
// understood, with the nearest known words.
func (s *Score) unread() []Finding {
	var out []Finding
	for _, t := range s.Texts {
		for _, u := range t.Reading.Unread {
			f := Finding{ID: "unread-direction", Place: t.Place, Staff: t.Staff, Text: fmt.Sprintf("%q was not understood.", strings.Join(strings.Fields(u.Text), " "))}
			if near := s.Near(u.Text); len(near) > 0 {
				f.Remedies = []string{"Is " + orList(near) + " meant?"}
			}
			if len(t.Elems) > 0 {
				f.Elem = t.Elems[0]
			}
			out = append(out, f)
		}
	}
	return out
}

// mostNear is for how many different runs of unread words of a score the
// nearest known words are looked up, which takes a while for each.
const mostNear = 200

// Near are the known words nearest to words of a text that were not read; none
// for the many of a score that is all like that.
func (s *Score) Near(text string) []string {
	known, ok := s.near[text]
	if !ok && len(s.near) < mostNear {
		if s.near == nil {
			s.near = map[string][]string{}
		}
		known = direction.Near(text)
		s.near[text] = known
	}
	return known
}

// orList joins names: "a", "a or b", "a, b or c".
func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
