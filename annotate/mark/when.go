package mark

import (
	"sort"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
)

// changeTime is where a change of stops is marked: at the rest that ends where
// the passage begins, if every line that it concerns rests then, else at the
// passage's first note.
func changeTime(s *resolve.Setting, lines []*resolve.Line, l *passage.Layout) musicxml.Time {
	start := s.Passage.Start
	if start.IsZero() || len(lines) == 0 {
		return start
	}
	var at musicxml.Time
	for i, line := range lines {
		rest, ok := restBefore(l, line.Asked.Line, start)
		if !ok {
			return start
		}
		if i == 0 || at.Less(rest) {
			at = rest
		}
	}
	return at
}

// restBefore is where the line's rest begins that ends at the moment; ok is
// false if the line plays up to it, or if the rest is so long that a mark at
// its start would stand too far from the change: more than a measure.
func restBefore(l *passage.Layout, line passage.Line, t musicxml.Time) (at musicxml.Time, ok bool) {
	hands := []passage.Line{line}
	if line == passage.Both {
		hands = []passage.Line{passage.RH, passage.LH}
	}
	for _, h := range hands {
		staff := l.Of(h)
		if staff == nil {
			return at, false
		}
		found := false
		notes := staff.Part.Notes
		// No note crosses a barline, and a rest of more than a measure does not count.
		from := t
		if m := staff.Part.MeasureAt(t); m != nil && m.Index > 0 {
			from = staff.Part.Measures[m.Index-1].Start
		}
		for _, n := range notes[sort.Search(len(notes), func(i int) bool { return !notes[i].Onset.Less(from) }):] {
			if n.Staff != staff.Number || n.Cue || n.Grace {
				continue
			}
			end := n.Onset.Add(n.Duration)
			if n.Rest && end == t {
				found = true
				if at.Less(n.Onset) {
					at = n.Onset
				}
			}
			if !n.Rest && n.Onset.Less(t) && !end.Less(t) {
				return at, false
			}
			if t.Less(n.Onset) {
				break
			}
		}
		if !found {
			return at, false
		}
	}
	if m := l.Of(hands[0]).Part.MeasureAt(t); m != nil && m.Start.Sub(at).Cmp(m.End.Sub(m.Start)) > 0 {
		return at, false
	}
	return at, true
}
