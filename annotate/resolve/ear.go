package resolve

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry/sound"
)

// An ear hears registrations of one line. What it is played from is made ready
// once, each stop is computed once for each octave and box, and what has been
// heard of late is known: a setting and its alternatives are asked the same
// and mostly give much the same.
type ear struct {
	passage *sound.Passage
	stops   map[sound.Drawn]sound.Sound
	sum     sound.Sound // for sums of what is drawn together
	lately  []registration
}

type registration struct {
	drawn []sound.Drawn
	heard sound.Heard
}

// earsKept is how many ears are kept, and how many registrations one knows:
// enough for the lines of one passage and for its alternatives.
const earsKept = 8

// ear is that for a line, kept from the last time where it can be.
func (r *resolver) ear(line *passage.Played) *ear {
	if known := r.ears[line]; known != nil {
		return known
	}
	if len(r.ears) >= earsKept {
		clear(r.ears)
	}
	e := &ear{passage: sound.NewPassage(soundNotes(line.Notes, 0)), stops: map[sound.Drawn]sound.Sound{}}
	e.sum = e.passage.Line(0)
	r.ears[line] = e
	return e
}

// heard is what is heard of stops that are drawn together, their octaves
// against the printed notes.
func (e *ear) heard(drawn []sound.Drawn) sound.Heard {
	for _, known := range e.lately {
		if slices.Equal(known.drawn, drawn) {
			return known.heard
		}
	}
	e.sum.Silence() // what is added is of the same line
	for _, d := range drawn {
		one, ok := e.stops[d]
		if !ok {
			one = e.passage.Sound(0, d)
			e.stops[d] = one
		}
		e.sum.Add(one)
	}
	if len(e.lately) >= earsKept {
		e.lately = e.lately[1:]
	}
	heard := e.sum.Heard()
	e.lately = append(e.lately, registration{drawn, heard})
	return heard
}
