package musicxml

import (
	"fmt"
	"slices"
)

// align finds how long each measure is, which is the same in all the parts,
// and where it starts. A measure is as long as the notes, rests and forwards
// in it reach in any part; if there is nothing in it, as its time signature
// says.
func (d *Document) align() error {
	parts := d.score.Parts
	count := 0
	for _, p := range parts {
		count = max(count, len(p.Measures))
	}
	start := Time{}
	for i := range count {
		length, numbered := measureLength(parts, i)
		end := start.Add(length)
		for _, p := range parts {
			if i >= len(p.Measures) {
				continue
			}
			m := p.Measures[i]
			m.Start, m.End = start, end
			if m.Number == "" {
				m.Number = numbered.number(i)
			}
			if !end.Valid() {
				return &Error{ID: "absurd-time", File: d.inner, Part: p.ID, Measure: m.Number, Text: "the times in this score are beyond reckoning", Remedy: brokenRemedy}
			}
		}
		start = end
	}
	for _, p := range parts {
		if n := len(p.Measures); n < count && n > 0 {
			d.note(p.Measures[n-1].Elem, Finding{ID: "part-shorter", Part: p.ID, Measure: p.Measures[n-1].Number,
				Text: fmt.Sprintf("the part ends with this measure, others go on for %d more", count-n), Remedy: "it is silent from here"})
		}
		countBeats(p.Measures)
	}
	return nil
}

// number is that of the measure, or its place where it has none.
func (m *Measure) number(index int) string {
	if m != nil && m.Number != "" {
		return m.Number
	}
	return fmt.Sprint(index + 1)
}

// measureLength is the length of the measure with index i, and one of the
// measures with that index that has a number.
func measureLength(parts []*Part, i int) (length Time, numbered *Measure) {
	var rest, nominal Time
	implicit := false
	for _, p := range parts {
		if i >= len(p.Measures) {
			continue
		}
		m := p.Measures[i]
		length, rest, nominal = later(length, m.reach), later(rest, m.restReach), later(nominal, m.Signature.Length())
		implicit = implicit || m.Implicit
		if numbered == nil && m.Number != "" {
			numbered = m
		}
	}
	switch {
	case !length.IsZero() && implicit:
		// In a pickup a rest for the whole measure may be as long as a full one.
		return length, numbered
	case !rest.IsZero():
		return later(length, rest), numbered
	case length.IsZero():
		return nominal, numbered
	}
	return length, numbered
}

func later(t, u Time) Time {
	if t.Less(u) {
		return u
	}
	return t
}

// Length is how long a full measure is, 0 if there is no time signature.
func (s Signature) Length() Time {
	var sum Time
	if s.SenzaMisura {
		return sum
	}
	for _, f := range s.Parts {
		sum = sum.Add(NewTime(4*int64(f.Beats), int64(f.BeatType)))
	}
	return sum
}

// Unit is how long one beat is: the denominator of the time signature (an
// eighth in 6/8), a quarter note if there is none.
func (s Signature) Unit() Time {
	if len(s.Parts) == 0 || s.SenzaMisura {
		return Whole(1)
	}
	return NewTime(4, int64(s.Parts[0].BeatType))
}

// countBeats finds the beat that each measure starts on. An incomplete first
// measure is a pickup, whose last beat is the last of a full one; a measure
// that completes the one before it goes on counting.
func countBeats(measures []*Measure) {
	var counted Time // how much of a full measure is over
	for i, m := range measures {
		length, full := m.End.Sub(m.Start), m.Signature.Length()
		switch {
		case i == 0 && isPickup(measures):
			counted = full.Sub(length)
		case i == 0 || !counted.Less(full) || full.Less(counted.Add(length)) || m.Signature.Unit() != measures[i-1].Signature.Unit():
			counted = Time{}
		}
		m.Beat = Whole(1).Add(counted.Div(m.Signature.Unit()))
		counted = counted.Add(length)
	}
}

// isPickup tells an incomplete first measure that is a pickup from one that is
// split: that is completed by the next.
func isPickup(measures []*Measure) bool {
	if len(measures) < 2 {
		return false
	}
	first, next := measures[0], measures[1]
	length, full := first.End.Sub(first.Start), first.Signature.Length()
	if !length.Less(full) {
		return false
	}
	split := !first.Implicit && next.Implicit && length.Add(next.End.Sub(next.Start)) == full
	return !split
}

// finish makes all times count from the start of the part, and puts notes and
// directions in order.
func (p *Part) finish() {
	clef, key, transpose, tempo := 0, 0, 0, 0
	shift := func(t *Time, m *Measure) { *t = t.Add(m.Start) }
	for _, m := range p.Measures {
		notes := p.Notes[m.firstNote:m.lastNote]
		for _, n := range notes {
			shift(&n.Onset, m)
			if m.End.Less(n.Onset) {
				n.Onset = m.End // behind a rest that is longer than the measure
			}
			if n.MeasureRest || m.End.Less(n.End()) {
				n.Duration = m.End.Sub(n.Onset)
			}
		}
		byOnset := func(a, b *Note) int { return a.Onset.Cmp(b.Onset) }
		if !slices.IsSortedFunc(notes, byOnset) {
			slices.SortStableFunc(notes, byOnset)
		}
		for _, dir := range p.Directions[m.firstDirection:m.lastDirection] {
			shift(&dir.Time, m)
		}
		for ; m.clefs > 0; m.clefs-- {
			shift(&p.Clefs[clef].Time, m)
			clef++
		}
		for ; m.keys > 0; m.keys-- {
			shift(&p.Keys[key].Time, m)
			key++
		}
		for ; m.transposes > 0; m.transposes-- {
			shift(&p.Transposes[transpose].Time, m)
			transpose++
		}
		for ; m.tempos > 0; m.tempos-- {
			shift(&p.Tempos[tempo].Time, m)
			tempo++
		}
	}
	sortByTime(p.Directions, func(d *Direction) Time { return d.Time })
	sortByTime(p.Clefs, func(c Clef) Time { return c.Time })
	sortByTime(p.Keys, func(k Key) Time { return k.Time })
	sortByTime(p.Transposes, func(t Transpose) Time { return t.Time })
	sortByTime(p.Tempos, func(t Tempo) Time { return t.Time })
	p.pairLines()
}

// sortByTime sorts what is mostly in order already; what is at one time stays
// in file order.
func sortByTime[T any](all []T, at func(T) Time) {
	byTime := func(a, b T) int { return at(a).Cmp(at(b)) }
	if !slices.IsSortedFunc(all, byTime) {
		slices.SortStableFunc(all, byTime)
	}
}
