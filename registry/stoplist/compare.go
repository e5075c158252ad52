package stoplist

import (
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
