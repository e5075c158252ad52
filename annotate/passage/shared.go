package passage

import (
	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// findShared looks for a pedal part inside the bass staff: where no staff is
// the pedal's own, "Ped." and "Man." at the lower staff say where it begins
// and ends.
func (l *Layout) findShared(texts []*Text) {
	if l.Of(Feet) != nil {
		return
	}
	bass := l.Of(LH)
	if bass == nil {
		return
	}
	var spans []Span
	var began musicxml.Time
	playing, anyOff := false, false
	end := endOf(l)
	for _, x := range texts {
		if x.Staff == nil {
			continue
		}
		on, off := feetIn(x)
		anyOff = anyOff || off
		switch {
		case off && playing:
			playing = false
			if began.Less(x.Time) {
				spans = append(spans, Span{began, x.Time})
			}
		case on && playing:
			// Said again: the feet play on, or take up the next held note.
			spans = append(spans, Span{began, x.Time})
			began = x.Time
		case on:
			playing, began = true, x.Time
		}
	}
	if playing {
		spans = append(spans, Span{began, end})
	}
	if len(spans) == 0 {
		return
	}
	l.Shared, l.Spans = bass, spans
	if !anyOff {
		l.endAtRests()
	}
	l.Spans = joined(l.Spans)
}

// feetIn reports whether a text brings the feet in or sends them off.
func feetIn(x *Text) (on, off bool) {
	for _, st := range x.Reading.Statements {
		switch {
		case st.Verb == direction.Play && st.Hand == direction.Feet && st.State == "none":
			off = true
		case st.Verb == direction.Play && st.Hand == direction.Feet,
			(st.Verb == direction.Set || st.Verb == direction.Play) && st.Division == Pedal.Role:
			on = x.Source == Words
		}
	}
	return on, off
}

// endAtRests ends each span where the lowest voice falls silent: in scores
// that write "Ped." at each held note and never "Man.".
func (l *Layout) endAtRests() {
	for i := range l.Spans {
		sp := &l.Spans[i]
		stop := sp.Start
		voice := ""
		for _, n := range l.Shared.sounding(*sp) {
			if !sp.Contains(n.Onset) || !l.byFeet(n) {
				continue
			}
			if voice == "" {
				voice = n.Voice
			}
			if n.Voice != voice || stop.Less(n.Onset) {
				continue
			}
			if e := n.Onset.Add(n.Duration); stop.Less(e) {
				stop = e
			}
		}
		if sp.Start.Less(stop) && stop.Less(sp.End) {
			sp.End = stop
		}
	}
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

// byFeet reports whether a note of the shared staff is the feet's: in a span
// of theirs, the lowest voice, or the lowest note where one voice holds all.
func (l *Layout) byFeet(n *musicxml.Note) bool {
	for _, sp := range l.Spans {
		if sp.Contains(n.Onset) {
			return l.isLowest(n)
		}
	}
	return false
}

// isLowest reports whether nothing in the shared staff sounds below the note
// when it begins.
func (l *Layout) isLowest(n *musicxml.Note) bool {
	for _, m := range l.Shared.sounding(Span{n.Onset, n.Onset.Add(instant)}) {
		if m != n && m.Pitch.MIDI() < n.Pitch.MIDI() && !m.Grace {
			return false
		}
	}
	return true
}

// instant is shorter than any note.
var instant = musicxml.NewTime(1, 1<<20)
