package mark

import (
	"slices"
	"strings"

	"stopgap/musicxml"
)

var accidentals = map[int]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// addAccidentals writes the accidentals that notes need in a measure of which
// only a part has moved: an accidental holds in its own octave.
func (w *writer) addAccidentals(s *Shift, p *page) {
	for _, m := range measuresOf(s) {
		notes := p.onStaff(m)
		moved := 0
		for _, n := range notes {
			if p.moved[n] != 0 {
				moved++
			}
		}
		if moved == len(notes) {
			continue // all accidentals have moved along
		}
		before, after := p.newSigns(m), p.newSigns(m)
		for _, n := range notes {
			needed := before.read(p.head(n, false), n)
			if after.read(p.head(n, true), n) && !needed {
				w.addAccidental(n)
				after.at[p.head(n, true)] = n.Pitch.Alter
			}
		}
	}
}

// onStaff are the notes of the staff in a measure, by onset.
func (p *page) onStaff(m *musicxml.Measure) []*musicxml.Note {
	var out []*musicxml.Note
	for _, n := range p.inMeasure(m) {
		if n.Staff == p.staff.Number {
			out = append(out, n)
		}
	}
	// In the file one voice stands behind the other; they are read together.
	slices.SortStableFunc(out, func(a, b *musicxml.Note) int { return a.Onset.Cmp(b.Onset) })
	return out
}

// signs are the accidentals in force in a measure, by where the heads stand.
type signs struct {
	key map[int]int // by step of the scale
	at  map[int]int
}

func (p *page) newSigns(m *musicxml.Measure) signs {
	s := signs{key: map[int]int{}, at: map[int]int{}}
	fifths := 0
	for _, k := range p.staff.Part.Keys {
		if (k.Staff == 0 || k.Staff == p.staff.Number) && !m.Start.Less(k.Time) {
			fifths = k.Fifths
		}
	}
	const sharps = "FCGDAEB"
	for i := range 7 {
		sharp, flat := strings.IndexByte("CDEFGAB", sharps[i]), strings.IndexByte("CDEFGAB", sharps[6-i])
		if i < fifths {
			s.key[sharp] = 1
		}
		if i < -fifths {
			s.key[flat] = -1
		}
	}
	return s
}

// read goes on by a note and reports whether it needs an accidental that it
// has not. What a tie holds on needs none.
func (s signs) read(head int, n *musicxml.Note) bool {
	in, ok := s.at[head]
	if !ok {
		in = s.key[((head%7)+7)%7]
	}
	has := n.Elem.Child("accidental").Exists()
	if has {
		s.at[head] = n.Pitch.Alter
	}
	return !has && !n.TieStop && in != n.Pitch.Alter
}

// afterAccidental are the elements of a note that come after <accidental>.
var afterAccidental = map[string]bool{
	"time-modification": true, "stem": true, "notehead": true, "notehead-text": true, "staff": true,
	"beam": true, "notations": true, "lyric": true, "play": true, "listen": true,
}

func (w *writer) addAccidental(n *musicxml.Note) {
	name, ok := accidentals[n.Pitch.Alter]
	if !ok {
		return
	}
	at := -1
	var last musicxml.Element
	for c := range n.Elem.Children() {
		if afterAccidental[c.Tag()] {
			at = c.Span().Start
			break
		}
		last = c
	}
	text := w.instruction(added) + xml(newElement("accidental", name))
	if at < 0 {
		span := last.Span()
		w.edits = append(w.edits, musicxml.Edit{Span: musicxml.Span{Start: span.End, End: span.End}, Text: w.spaceBefore(span.Start) + text})
		return
	}
	space := w.spaceBefore(at)
	at -= len(space)
	w.edits = append(w.edits, musicxml.Edit{Span: musicxml.Span{Start: at, End: at}, Text: space + text})
}
