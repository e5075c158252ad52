package passage

import "stopgap/musicxml"

// ending is where a numbered ending begins. Endings of one group belong to
// the same repeat; the registration at the start of each is what it was at
// the start of the first.
type ending struct {
	at    musicxml.Time
	group int
	first bool
}

func endingStarts(p *musicxml.Part) []ending {
	var out []ending
	group := 0
	inGroup := false
	for _, m := range p.Measures {
		if len(m.EndingStart) == 0 {
			continue
		}
		first := m.EndingStart[0] == 1
		if first || !inGroup {
			group++
			inGroup = true
		}
		out = append(out, ending{at: m.Start, group: group, first: first || !inGroup})
	}
	return out
}

// returnsOf lists the jumps back in the order in which the measures are played.
func returnsOf(p *musicxml.Part, order []int) []Return {
	var out []Return
	seen := map[Return]bool{}
	for i := 1; i < len(order); i++ {
		if order[i] > order[i-1] || order[i] >= len(p.Measures) || order[i-1] >= len(p.Measures) {
			continue
		}
		r := Return{At: p.Measures[order[i-1]].End, Back: p.Measures[order[i]].Start}
		if !seen[r] {
			seen[r] = true
			out = append(out, r)
		}
	}
	return out
}
