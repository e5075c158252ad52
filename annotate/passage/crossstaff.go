package passage

import "stopgap/musicxml"

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
	var out map[*musicxml.Note]int
	for _, m := range p.Measures {
		notes := p.NotesBetween(m.Start, m.End)
		if len(notes) > manyNotes {
			continue
		}
		var strays []*musicxml.Note
		for _, n := range notes {
			if home := homes[n.Voice]; home != 0 && n.Staff != home && n.Sounds() {
				strays = append(strays, n)
			}
		}
		for _, n := range strays {
			if home := homes[n.Voice]; joins(notes, n, home) {
				if out == nil {
					out = map[*musicxml.Note]int{}
				}
				out[n] = home
			}
		}
	}
	return out
}

// manyNotes is how many notes a measure may have to be looked at for notes
// that cross: more than any music has.
const manyNotes = 2000

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

// joins reports whether a voice has notes or rests on its own staff in the
// measure, and none of them sounds with the note.
func joins(notes []*musicxml.Note, stray *musicxml.Note, home int) bool {
	found := false
	for _, n := range notes {
		if n.Voice != stray.Voice || n.Staff != home || n.Grace {
			continue
		}
		if n.Onset.Less(stray.End()) && stray.Onset.Less(n.End()) {
			return false
		}
		found = true
	}
	return found
}
