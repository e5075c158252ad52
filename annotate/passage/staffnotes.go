package passage

import (
	"cmp"
	"slices"
	"sort"

	"stopgap/musicxml"
)

// staffNotes are the pitched notes of one staff by onset, so that what sounds
// in a span is found without going through the whole part.
type staffNotes struct {
	notes []*musicxml.Note
	// latest is a tree over the notes, its root at 1 and the children of i at
	// 2i and 2i+1; each holds when the last of the notes under it ends.
	latest []musicxml.Time
	leaves int
	heads  map[*musicxml.Note]*musicxml.Note // of notes that a tie only holds on: the one that was struck
}

// notes are the staff's pitched notes that are played, by onset.
func (s *Staff) notes() *staffNotes {
	if s.played == nil {
		s.played = &staffNotes{}
		crosses := crossing(s.Part)
		for _, n := range s.Part.Notes {
			staff := n.Staff
			if home, ok := crosses[n]; ok {
				staff = home
			}
			if staff == s.Number && n.Sounds() && !n.Hidden { // what is not printed is for the computer
				s.played.notes = append(s.played.notes, n)
			}
		}
		sort.SliceStable(s.played.notes, func(i, j int) bool {
			return s.played.notes[i].Onset.Less(s.played.notes[j].Onset)
		})
		s.played.plant()
		s.played.tie()
	}
	return s.played
}

// tie follows the ties from each note to those that it is held on in.
func (s *staffNotes) tie() {
	s.heads = map[*musicxml.Note]*musicxml.Note{}
	last := map[int][]*musicxml.Note{} // by key: the notes that a tie begins at, newest last
	for _, n := range s.notes {
		key := n.Pitch.MIDI()
		if n.TieStop {
			for _, from := range slices.Backward(last[key]) {
				if from.End() == n.Onset && from != n {
					s.heads[n] = cmp.Or(s.heads[from], from)
					break
				}
			}
		}
		if n.TieStart && !n.Grace {
			if last[key] = append(last[key], n); len(last[key]) > voicesTied {
				last[key] = last[key][1:]
			}
		}
	}
}

// voicesTied is how many voices may hold one key at once and still be told apart.
const voicesTied = 4

// struck is the note at which the key goes down: the first of those tied.
func (s *Staff) struck(n *musicxml.Note) *musicxml.Note {
	return cmp.Or(s.notes().heads[n], n)
}

func (a *staffNotes) plant() {
	for a.leaves = 1; a.leaves < len(a.notes); a.leaves *= 2 {
	}
	a.latest = make([]musicxml.Time, 2*a.leaves)
	for i, n := range a.notes {
		a.latest[a.leaves+i] = n.End()
	}
	for i := a.leaves - 1; i > 0; i-- {
		a.latest[i] = later(a.latest[2*i], a.latest[2*i+1])
	}
}

func later(a, b musicxml.Time) musicxml.Time {
	if a.Less(b) {
		return b
	}
	return a
}

// from is the index of the first note that begins at the moment or after it.
func (a *staffNotes) from(t musicxml.Time) int {
	return sort.Search(len(a.notes), func(i int) bool { return !a.notes[i].Onset.Less(t) })
}

// held visits the notes before index end that sound beyond the moment, in
// order, until visit returns false.
func (a *staffNotes) held(end int, t musicxml.Time, visit func(*musicxml.Note) bool) {
	var walk func(node, first, size int) bool
	walk = func(node, first, size int) bool {
		if first >= end || !t.Less(a.latest[node]) {
			return true
		}
		if size == 1 {
			return visit(a.notes[first])
		}
		return walk(2*node, first, size/2) && walk(2*node+1, first+size/2, size/2)
	}
	walk(1, 0, a.leaves)
}

// sounding are the notes that sound anywhere in the span.
func (s *Staff) sounding(span Span) []*musicxml.Note {
	all := s.notes()
	first := all.from(span.Start)
	var out []*musicxml.Note
	all.held(first, span.Start, func(n *musicxml.Note) bool {
		out = append(out, n)
		return true
	})
	for ; first < len(all.notes) && all.notes[first].Onset.Less(span.End); first++ {
		out = append(out, all.notes[first])
	}
	return out
}

// soundsAt reports whether a note sounds at the moment.
func (s *Staff) soundsAt(t musicxml.Time) bool {
	all := s.notes()
	i := all.from(t)
	if i < len(all.notes) && all.notes[i].Onset == t {
		return true
	}
	return s.heldAt(t)
}

// heldAt reports whether a note that began earlier sounds on at the moment.
func (s *Staff) heldAt(t musicxml.Time) bool {
	all := s.notes()
	found := false
	all.held(all.from(t), t, func(*musicxml.Note) bool {
		found = true
		return false
	})
	return found
}

// entry is when the staff's first note begins at or after a moment, which is
// the moment itself if one sounds then; ok is false if none does.
func (s *Staff) entry(t musicxml.Time) (at musicxml.Time, ok bool) {
	if s.soundsAt(t) {
		return t, true
	}
	all := s.notes()
	if i := all.from(t); i < len(all.notes) {
		return all.notes[i].Onset, true
	}
	return t, false
}

// RestsBefore reports whether the line's player has a rest that ends at the
// moment, long enough to reach for a knob: a quarter note or more.
func (l *Layout) RestsBefore(line Line, t musicxml.Time) bool {
	before := Span{t.Sub(musicxml.Whole(1)), t}
	for _, s := range l.AllOf(line) {
		if len(s.sounding(before)) > 0 {
			return false
		}
	}
	return true
}
