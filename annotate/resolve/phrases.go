package resolve

import (
	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// restToMove is how long a rest has to be, in quarter notes, for the player to
// find another octave in it (common practice).
var restToMove = musicxml.Whole(1)

// A phrase is a stretch of a line that is played in one octave: between two
// rests that are long enough to move in, or from one fermata or breath mark to
// the next. It ends under no slur and in no tie.
type phrase struct {
	notes []passage.Pressed
	start musicxml.Time // when its first key goes down

	known map[passage.Span][]struck // see keys
}

// span is the phrase from its first note to the end of its last.
func (ph *phrase) span() passage.Span {
	return passage.Span{Start: ph.start, End: ph.notes[len(ph.notes)-1].Note.End()}
}

// keys are the keys that the phrase presses in a span. They are remembered: each
// run of a long phrase that is not on the keyboard asks for them.
func (ph *phrase) keys(in passage.Span) []struck {
	keys, ok := ph.known[in]
	if !ok {
		if ph.known == nil {
			ph.known = map[passage.Span][]struck{}
		}
		keys = struckKeys([]*passage.Played{{Notes: ph.notes}}, in)
		ph.known[in] = keys
	}
	return keys
}

// phrases divides what a line strikes in a span into phrases.
func phrases(notes []passage.Pressed, span passage.Span) []phrase {
	var out []phrase
	slurs := 0
	var end musicxml.Time // of all that sounds so far
	ends := false         // a fermata or breath mark stands at the last note
	for _, n := range notes {
		if !n.StruckIn(span) {
			continue
		}
		at := n.Note.Onset
		rests := end.Less(at) && !at.Sub(end).Less(restToMove)
		tied := n.Note != n.Struck
		if len(out) == 0 || slurs <= 0 && !tied && !at.Less(end) && (rests || ends) {
			out = append(out, phrase{start: at})
			slurs = 0
		}
		last := &out[len(out)-1]
		last.notes = append(last.notes, n)
		slurs += n.Note.SlurStarts - n.Note.SlurStops
		if e := n.Note.End(); end.Less(e) {
			end = e
		}
		ends = n.Note.Fermata || n.Note.BreathMark
	}
	return out
}

// phrasesByNote are the phrases of a line by the notes that are struck in them.
func phrasesByNote(notes []passage.Pressed, span passage.Span) map[*musicxml.Note]*phrase {
	all := phrases(notes, span)
	at := map[*musicxml.Note]*phrase{}
	for i := range all {
		for _, n := range all[i].notes {
			if at[n.Note] == nil {
				at[n.Note] = &all[i]
			}
		}
	}
	return at
}
