package passage

import (
	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// findShared looks for a pedal part inside the bass staff: where no staff is
// the pedal's own, "Ped." and "Man." say where it begins and ends.
func (l *Layout) findShared(texts []*Text) {
	bass := l.Of(LH)
	if l.Of(Feet) != nil || bass == nil {
		return
	}
	var spans []Span
	var began musicxml.Time
	playing, anyOff := false, false
	for _, x := range texts {
		if x.Staff == nil || x.Source != Words {
			continue
		}
		on, off := x.feet()
		anyOff = anyOff || off
		switch {
		case off && playing:
			playing = false
			if began.Less(x.Time) {
				spans = append(spans, Span{began, x.Time})
			}
		case on && playing:
			// Said again: the feet play on, or take up the next held note.
			if began.Less(x.Time) {
				spans = append(spans, Span{began, x.Time})
			}
			began = x.Time
		case on:
			playing, began = true, x.Time
		}
	}
	if end := endOf(l); playing && began.Less(end) {
		spans = append(spans, Span{began, end})
	}
	if len(spans) == 0 {
		return
	}
	l.Shared = bass
	l.giveToFeet(spans, anyOff)
}

// feet reports whether a text brings the feet in or sends them off.
func (t *Text) feet() (on, off bool) {
	for _, st := range t.Reading.Statements {
		switch {
		case st.Verb == direction.Play && st.Hand == direction.Feet && st.State == "none":
			off = true
		case st.Verb == direction.Play && st.Hand == direction.Feet,
			(st.Verb == direction.Set || st.Verb == direction.Play || st.Verb == direction.Add) && st.Division == Pedal.Role:
			on = true
		}
	}
	return on, off
}

// giveToFeet finds the notes of the shared staff that the feet play in the
// spans: those of the lowest voice. Where no text ever says "Man.", a span
// ends where that voice falls silent, or gives way to one that the hand played.
func (l *Layout) giveToFeet(spans []Span, told bool) {
	l.feet = map[*musicxml.Note]bool{}
	all := l.Shared.notes().notes
	i := 0
	for _, sp := range spans {
		for i < len(all) && all[i].Onset.Less(sp.Start) {
			i++
		}
		end := sp.Start // of what the feet have played so far
		var line footLine
		for i < len(all) && all[i].Onset.Less(sp.End) {
			// One measure of the span at a time: voices are numbered by measure.
			first := i
			for i < len(all) && all[i].Measure == all[first].Measure && all[i].Onset.Less(sp.End) {
				i++
			}
			lowest := lowestVoice(all[first:i])
			if !told && !line.goesOn(lowest) {
				break
			}
			for _, n := range lowest {
				if !told && end.Less(n.Onset) {
					break
				}
				l.feet[n] = true
				end = later(end, n.End())
			}
			if !told && i < len(all) && end.Less(all[i].Onset) {
				break
			}
			line = lineOf(all[first:i], l.feet)
		}
		if !told && sp.Start.Less(end) && end.Less(sp.End) {
			sp.End = end
		}
		l.Spans = append(l.Spans, sp)
	}
	l.Spans = joined(l.Spans)
}

// A footLine is how a measure ends: the last key of the feet, and of the voices
// above.
type footLine struct {
	began bool
	voice string
	feet  int
	hand  []int
}

func lineOf(notes []*musicxml.Note, feet map[*musicxml.Note]bool) footLine {
	line := footLine{}
	last := map[string]int{}
	for _, n := range notes {
		if feet[n] {
			line.began, line.voice, line.feet = true, n.Voice, n.Pitch.MIDI()
		} else {
			last[n.Voice] = n.Pitch.MIDI()
		}
	}
	for _, key := range last {
		line.hand = append(line.hand, key)
	}
	return line
}

// goesOn reports whether the lowest voice of the next measure goes on from the
// feet's: it has the same number, or begins nearer to the feet's last key than
// to any of the hand's.
func (f footLine) goesOn(next []*musicxml.Note) bool {
	if !f.began || len(next) == 0 || next[0].Voice == f.voice {
		return true
	}
	first := next[0].Pitch.MIDI()
	for _, key := range f.hand {
		if abs(first-key) < abs(first-f.feet) {
			return false
		}
	}
	return true
}

func abs(n int) int { return max(n, -n) }

// lowestVoice are the notes of a measure in one staff that belong to the lowest
// voice, by onset: of two and more voices the one that lies lowest, and of two
// that lie alike the one with the longer notes; of its chords, and of a single
// voice's, the lowest note.
func lowestVoice(notes []*musicxml.Note) []*musicxml.Note {
	type sum struct {
		voice        string
		pitch, count float64
		length       musicxml.Time
	}
	var voices []*sum
	byName := map[string]*sum{}
	for _, n := range notes {
		if n.Grace {
			continue
		}
		v := byName[n.Voice]
		if v == nil {
			v = &sum{voice: n.Voice}
			voices, byName[n.Voice] = append(voices, v), v
		}
		v.pitch += float64(n.Pitch.MIDI())
		v.count++
		v.length = v.length.Add(n.Duration)
	}
	const alike = 2 // semitones
	var lowest *sum
	for _, v := range voices {
		if lowest == nil {
			lowest = v
			continue
		}
		lower := lowest.pitch/lowest.count - v.pitch/v.count
		longer := v.length.Float64()/v.count > lowest.length.Float64()/lowest.count
		if lower > alike || lower > -alike && longer {
			lowest = v
		}
	}
	var out []*musicxml.Note
	for _, n := range notes {
		if lowest == nil || n.Voice != lowest.voice || n.Grace {
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k].Onset == n.Onset {
			if n.Pitch.MIDI() < out[k].Pitch.MIDI() {
				out[k] = n
			}
			continue
		}
		out = append(out, n)
	}
	return out
}

// joined merges spans that touch.
func joined(spans []Span) []Span {
	var out []Span
	for _, s := range spans {
		if n := len(out); n > 0 && out[n-1].End == s.Start {
			out[n-1].End = s.End
			continue
		}
		out = append(out, s)
	}
	return out
}
