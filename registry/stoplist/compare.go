package stoplist

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"stopgap/registry"
	"stopgap/registry/stopname"
)

// A Likeness says how near another organ comes to a stop.
type Likeness string

// From the nearest to none.
const (
	Same      Likeness = "same"      // the same kind of stop at the same pitch, in the division of the same role
	Elsewhere Likeness = "elsewhere" // the same, in another division
	Alike     Likeness = "alike"     // another kind of the family at the same pitch
	Missing   Likeness = "missing"
)

// A Match is what one organ has for a stop of the other.
type Match struct {
	Stop     *registry.Stop
	Like     Likeness
	With     *registry.Stop // nil where Missing
	Division *registry.Division
}

// A Comparison is what the second organ has for each stop of the first, in
// the order of its knobs, and what it has besides.
type Comparison struct {
	A, B    *registry.Organ
	Matches []Match
	Besides []*registry.Stop // of B, that no stop of A was matched with
}

// Compare compares what can be drawn: with which stops of b those of a could
// be played.
func Compare(a, b *registry.Organ) Comparison {
	c := Comparison{A: a, B: b}
	used := map[*registry.Stop]bool{}
	for _, d := range a.Divisions {
		for _, s := range d.Stops {
			m := match(s, b, used)
			if m.With != nil {
				used[m.With] = true
			}
			c.Matches = append(c.Matches, m)
		}
	}
	for _, d := range b.Divisions {
		for _, s := range d.Stops {
			if !used[s] {
				c.Besides = append(c.Besides, s)
			}
		}
	}
	return c
}

// match takes the best stop of b; among equals one that no other stop has
// taken, and then the first.
func match(s *registry.Stop, b *registry.Organ, used map[*registry.Stop]bool) Match {
	best, bestScore := Match{Stop: s, Like: Missing, Division: s.Division}, 0
	for _, d := range b.Divisions {
		for _, t := range d.Stops {
			if t.Known.Family != s.Known.Family || t.Known.Family == stopname.NoFamily || t.Pitch != s.Pitch {
				continue
			}
			score, like := 2, Alike
			if t.Known.Subfamily == s.Known.Subfamily {
				score, like = 8, Elsewhere
			}
			if d.Role == s.Division.Role {
				score += 4
				if like == Elsewhere {
					like = Same
				}
			}
			if !used[t] {
				score++
			}
			if score > bestScore {
				best.With, best.Like, bestScore = t, like, score
			}
		}
	}
	return best
}

// Count is how many stops of A have each likeness in B.
func (c Comparison) Count() map[Likeness]int {
	n := map[Likeness]int{}
	for _, m := range c.Matches {
		n[m.Like]++
	}
	return n
}

// Write writes the comparison, one line for each stop of A by division.
func (c Comparison) Write(w io.Writer, width int) error {
	p := &page{width: max(width, 60)}
	p.wrapped("", fmt.Sprintf("%s, as far as %s has its stops", c.A.Name, c.B.Name), 0)
	longest := 0
	for _, m := range c.Matches {
		longest = max(longest, utf8.RuneCountInString(m.Stop.Text))
	}
	var last *registry.Division
	for _, m := range c.Matches {
		if m.Division != last {
			last = m.Division
			p.line("")
			p.line("%s", strings.ToUpper(last.Name))
		}
		head := "  " + pad(m.Stop.Text, longest) + "  "
		p.wrapped(head, m.describe(), utf8.RuneCountInString(head))
	}
	if len(c.Besides) > 0 {
		p.line("")
		p.line("BESIDES, %s HAS", strings.ToUpper(c.B.Name))
		last = nil
		var texts []string
		flush := func() {
			if last != nil {
				p.wrapped("  "+last.Name+": ", strings.Join(texts, ", "), 4)
			}
			texts = nil
		}
		for _, s := range c.Besides {
			if s.Division != last {
				flush()
				last = s.Division
			}
			texts = append(texts, s.Text)
		}
		flush()
	}
	n := c.Count()
	p.line("")
	p.wrapped("", fmt.Sprintf("Of %d stops %d are there in the same division, %d in another, %d only as another kind of the family, and %d are missing.",
		len(c.Matches), n[Same], n[Elsewhere], n[Alike], n[Missing]), 0)
	_, err := io.WriteString(w, p.b.String())
	return err
}

func (m Match) describe() string {
	if m.With == nil {
		return "missing"
	}
	name := m.With.Division.Name + " " + m.With.Text
	switch m.Like {
	case Same, Elsewhere:
		return name
	}
	return fmt.Sprintf("%s (%s for %s)", name, m.With.Known.Subfamily, m.Stop.Known.Subfamily)
}
