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

// phraseAt is the phrase of a line in which a note is struck.
func phraseAt(notes []passage.Pressed, span passage.Span, n passage.Pressed) phrase {
	for _, ph := range phrases(notes, span) {
		for _, m := range ph.notes {
			if m.Note == n.Note {
				return ph
			}
		}
	}
	return phrase{notes: []passage.Pressed{n}, start: n.Note.Onset}
}
