package musicxml

import (
	"fmt"
	"sort"
)

// A Place is a moment as a musician names it. Beats are counted in the
// denominator of the time signature: quarters in 4/4, halves in 2/2, eighths
// in 6/8; the first is 1, halfway to the next is 1½. In a pickup they are
// those at the end of a full measure: a pickup of one quarter in 4/4 is beat 4.
// Without a time signature a beat is a quarter note.
type Place struct {
	Measure string // the file's own number
	Index   int    // of the measure in the part
	Beat    Time
}

// String is "measure 12, beat 2½".
func (p Place) String() string {
	return fmt.Sprintf("measure %s, beat %s", p.Measure, p.Beat.Printed())
}

// MeasureAt is the measure that a moment falls in: the one that starts with it
// rather than the one that ends. Before the first and after the last measure
// it gives these; for a part without measures nil.
func (p *Part) MeasureAt(t Time) *Measure {
	if len(p.Measures) == 0 {
		return nil
	}
	i := sort.Search(len(p.Measures), func(i int) bool { return t.Less(p.Measures[i].Start) }) - 1
	i = max(i, 0)
	// An empty measure starts where it ends, with the next one: a moment is in
	// the last that starts there.
	return p.Measures[i]
}

// NotesBetween are the notes and rests that begin at from or later and before
// to, in the order of Part.Notes.
func (p *Part) NotesBetween(from, to Time) []*Note {
	first := sort.Search(len(p.Notes), func(i int) bool { return !p.Notes[i].Onset.Less(from) })
	last := sort.Search(len(p.Notes), func(i int) bool { return !p.Notes[i].Onset.Less(to) })
	return p.Notes[first:max(first, last)]
}

// Place is where a moment of the part is.
func (p *Part) Place(t Time) Place {
	m := p.MeasureAt(t)
	if m == nil {
		return Place{Beat: Whole(1).Add(t)}
	}
	return m.Place(t)
}

// Place is where a moment is, counted from this measure.
func (m *Measure) Place(t Time) Place {
	return Place{Measure: m.Number, Index: m.Index, Beat: m.Beat.Add(t.Sub(m.Start).Div(m.Signature.Unit()))}
}

// Place is where the note stands, in the measure that the file has it in.
func (n *Note) Place() Place { return n.Measure.Place(n.Onset) }

// Place is where the direction stands. One at the end of a measure stands at
// the start of the next.
func (d *Direction) Place() Place { return d.Part.Place(d.Time) }
