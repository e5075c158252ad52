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
	notes   []*musicxml.Note
	longest musicxml.Time
	heads   map[*musicxml.Note]*musicxml.Note // of notes that a tie only holds on: the one that was struck
}

// notes are the staff's pitched notes that are played, by onset.
func (s *Staff) notes() *staffNotes {
	if s.played == nil {
		s.played = &staffNotes{}
		for _, n := range s.Part.Notes {
			if n.Staff != s.Number || !n.HasPitch || n.Cue {
				continue
			}
			s.played.notes = append(s.played.notes, n)
			if s.played.longest.Less(n.Duration) {
				s.played.longest = n.Duration
			}
		}
		sort.SliceStable(s.played.notes, func(i, j int) bool {
			return s.played.notes[i].Onset.Less(s.played.notes[j].Onset)
		})
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

// sounding are the notes that sound anywhere in the span.
func (s *Staff) sounding(span Span) []*musicxml.Note {
	all := s.notes()
	from := span.Start.Sub(all.longest)
	i := sort.Search(len(all.notes), func(i int) bool { return !all.notes[i].Onset.Less(from) })
	var out []*musicxml.Note
	for ; i < len(all.notes) && all.notes[i].Onset.Less(span.End); i++ {
		n := all.notes[i]
		if span.Contains(n.Onset) || span.Start.Less(n.Onset.Add(n.Duration)) {
			out = append(out, n)
		}
	}
	return out
}

// entry is when the staff's first note begins at or after a moment; ok is
// false if none does, or if one sounds there already.
func (s *Staff) entry(t musicxml.Time) (at musicxml.Time, ok bool) {
	if len(s.sounding(Span{t, t.Add(instant)})) > 0 {
		return t, true
	}
	all := s.notes().notes
	i := sort.Search(len(all), func(i int) bool { return !all[i].Onset.Less(t) })
	if i == len(all) {
		return t, false
	}
	return all[i].Onset, true
}

// RestsBefore reports whether the line's player has a rest that ends at the
// moment, long enough to reach for a knob: a quarter note or more.
func (l *Layout) RestsBefore(line Line, t musicxml.Time) bool {
	s := l.Of(line)
	if s == nil {
		return true
	}
	return len(s.sounding(Span{t.Sub(musicxml.Whole(1)), t})) == 0
}
