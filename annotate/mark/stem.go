package mark

import (
	"slices"
	"strings"

	"stopgap/musicxml"
)

// turnStems turns the stems of moved notes that, where they stand now, would
// point the wrong way. Only stems are turned that stood as the staff has it
// before: where two voices share the staff, or the engraver had another
// reason, they stay.
func (w *writer) turnStems(s *Shift, p *page) {
	for _, m := range measuresOf(s) {
		notes := p.inMeasure(m)
		if voices(notes) > 1 {
			continue
		}
		for _, beam := range beamed(notes) {
			w.turn(beam, p)
		}
	}
}

// turn turns the stems of one note, chord or beam.
func (w *writer) turn(beam []*musicxml.Note, p *page) {
	var stems []musicxml.Element
	is := ""
	for _, n := range beam {
		if p.moved[n] == 0 || n.Grace || n.Staff != p.staff.Number {
			return
		}
		el := n.Elem.Child("stem")
		if !el.Exists() {
			continue
		}
		way := strings.TrimSpace(el.Text())
		if is != "" && way != is {
			return
		}
		is = way
		stems = append(stems, el)
	}
	was, fits := p.stemWay(beam, false), p.stemWay(beam, true)
	if is != "up" && is != "down" || was != "" && is != was || fits == "" || fits == is {
		return
	}
	for _, el := range stems {
		w.replace(el, xml(newElement("stem", fits)))
	}
}

// stemWay is which way the stem of some notes together points: by the head
// that is farthest from the middle line; "" where both ways are right.
func (p *page) stemWay(notes []*musicxml.Note, after bool) string {
	low, high := 0, 0
	for i, n := range notes {
		at := p.above(n, after)
		if i == 0 {
			low, high = at, at
		}
		low, high = min(low, at), max(high, at)
	}
	switch {
	case high > -low:
		return "down"
	case -low > high:
		return "up"
	}
	return ""
}

// measuresOf are the measures that a shift has notes in.
func measuresOf(s *Shift) []*musicxml.Measure {
	var out []*musicxml.Measure
	for _, n := range s.Notes {
		if len(out) == 0 || out[len(out)-1] != n.Note.Measure {
			out = append(out, n.Note.Measure)
		}
	}
	return out
}

// inMeasure are the notes of the staff in a measure, and of the voices that
// have notes on it, in the order of the file.
func (p *page) inMeasure(m *musicxml.Measure) []*musicxml.Note {
	all := p.staff.Part.Notes
	from, _ := slices.BinarySearchFunc(all, m.Start, func(n *musicxml.Note, t musicxml.Time) int { return n.Onset.Cmp(t) })
	here := map[string]bool{}
	var out []*musicxml.Note
	for _, n := range all[from:] {
		if m.End.Less(n.Onset) {
			break
		}
		if n.Measure == m && n.HasPitch {
			out = append(out, n)
			here[n.Voice] = here[n.Voice] || n.Staff == p.staff.Number
		}
	}
	out = slices.DeleteFunc(out, func(n *musicxml.Note) bool { return !here[n.Voice] })
	slices.SortFunc(out, func(a, b *musicxml.Note) int { return a.Span().Start - b.Span().Start })
	return out
}

func voices(notes []*musicxml.Note) int {
	seen := map[string]bool{}
	for _, n := range notes {
		seen[n.Voice] = true
	}
	return len(seen)
}

// beamed divides notes of one voice, in the order of the file, into what has
// its stems in common: beams, chords and single notes.
func beamed(notes []*musicxml.Note) [][]*musicxml.Note {
	var out [][]*musicxml.Note
	beam := -1 // the open one
	for _, n := range notes {
		switch {
		case n.Chord && len(out) > 0:
			out[len(out)-1] = append(out[len(out)-1], n)
			continue
		case n.Grace || beam < 0:
			out = append(out, []*musicxml.Note{n})
		default:
			out[beam] = append(out[beam], n)
		}
		if n.Grace {
			continue
		}
		switch beamWord(n) {
		case "begin":
			beam = len(out) - 1
		case "end", "":
			beam = -1
		}
	}
	return out
}

// beamWord is what the first beam does at a note: begin, continue, end or "".
func beamWord(n *musicxml.Note) string {
	for b := range n.Elem.All("beam") {
		if v := b.AttrOr("number", "1"); v == "1" {
			return strings.TrimSpace(b.Text())
		}
	}
	return ""
}
