package passage

import (
	"slices"
	"sort"

	"stopgap/musicxml"
)

// crossing finds the notes that stand on another staff than their player's:
// where a voice that belongs to one staff goes over to the next for some notes
// of a measure and comes back. The value is the staff that the voice belongs
// to. A voice belongs to a staff that has two thirds of its notes.
//
// Programs that number the voices of each staff from 1 are not taken in: there
// the notes on the other staff sound while those on the first do.
func crossing(p *musicxml.Part) map[*musicxml.Note]int {
	if p.Staves < 2 {
		return nil
	}
	homes := homesOf(p)
	if len(homes) == 0 {
		return nil
	}
	out := map[*musicxml.Note]int{}
	for _, m := range p.Measures {
		notes := p.NotesBetween(m.Start, m.End)
		if !slices.ContainsFunc(notes, func(n *musicxml.Note) bool { home := homes[n.Voice]; return home != 0 && n.Staff != home }) {
			continue // as in nearly every measure
		}
		atHome := map[string]*homeNotes{} // by voice, as the notes come, which is by onset
		for _, n := range notes {
			if home := homes[n.Voice]; home != 0 && n.Staff == home && !n.Grace {
				if atHome[n.Voice] == nil {
					atHome[n.Voice] = &homeNotes{}
				}
				atHome[n.Voice].add(n)
			}
		}
		for _, n := range notes {
			if home := homes[n.Voice]; home != 0 && n.Staff != home && n.Sounds() && atHome[n.Voice].leaveRoomFor(n) {
				out[n] = home
			}
		}
	}
	return out
}

// homeNotes are the notes and rests of a voice on its own staff in a measure:
// where each begins, and where the last of those up to it ends.
type homeNotes struct{ begin, end []musicxml.Time }

func (h *homeNotes) add(n *musicxml.Note) {
	end := n.End()
	if k := len(h.end); k > 0 {
		end = later(h.end[k-1], end)
	}
	h.begin, h.end = append(h.begin, n.Onset), append(h.end, end)
}

// leaveRoomFor reports whether there are any, and none of them sounds with the
// note.
func (h *homeNotes) leaveRoomFor(n *musicxml.Note) bool {
	if h == nil {
		return false
	}
	before := sort.Search(len(h.begin), func(i int) bool { return !h.begin[i].Less(n.End()) })
	return before == 0 || !n.Onset.Less(h.end[before-1])
}

// homesOf are the staves that the voices of a part belong to.
func homesOf(p *musicxml.Part) map[string]int {
	count := map[string]map[int]int{}
	total := map[string]int{}
	for _, n := range p.Notes {
		if !n.Sounds() || n.Voice == "" {
			continue
		}
		if count[n.Voice] == nil {
			count[n.Voice] = map[int]int{}
		}
		count[n.Voice][n.Staff]++
		total[n.Voice]++
	}
	homes := map[string]int{}
	for voice, staves := range count {
		for staff, n := range staves {
			if 3*n >= 2*total[voice] && len(staves) > 1 {
				homes[voice] = staff
			}
		}
	}
	return homes
}
