package mark

import (
	"slices"
	"strconv"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// An Unsigned mark is a direction that looks like one of the tool's, in square
// brackets and italics, but has no processing instruction before it: another
// program has written the file anew and dropped them, or an editor's hand put
// it there. Which of the two shows when the tool would write the same there.
type Unsigned struct {
	Direction *musicxml.Direction
	Text      string
}

// FindUnsigned lists the directions of the organ's staves that may be marks
// without their instructions.
func FindUnsigned(l *passage.Layout) []Unsigned {
	var out []Unsigned
	seen := map[*musicxml.Part]bool{}
	for _, s := range l.Staves {
		if seen[s.Part] {
			continue
		}
		seen[s.Part] = true
		for _, d := range s.Part.Directions {
			text := oneSpace(d.Text)
			if d.Kind != musicxml.KindWords || !strings.HasPrefix(text, "[") || !strings.HasSuffix(text, "]") || len(text) < 3 {
				continue
			}
			if l.StaffOf(s.Part, d.Staff) != nil && !slices.ContainsFunc(d.Pieces, func(p musicxml.TextPiece) bool { return !p.Italic }) {
				out = append(out, Unsigned{d, text})
			}
		}
	}
	return out
}

func oneSpace(s string) string { return strings.Join(strings.Fields(s), " ") }

// Written are marks that the tool would write, by where they stand and what
// they say.
type Written map[writtenAt]bool

type writtenAt struct {
	part           string
	staff, measure int
	text           string
}

// Add adds marks.
func (w Written) Add(marks []Mark) {
	for _, m := range marks {
		w[writtenAt{m.Staff.Part.ID, m.Staff.Number, m.Staff.Part.Place(m.Time).Index, oneSpace(m.Text)}] = true
	}
}

// Has reports whether one of the marks is the unsigned one: the same text at
// the same staff in the same measure.
func (w Written) Has(u Unsigned) bool {
	d := u.Direction
	return w[writtenAt{d.Part.ID, d.Staff, d.Place().Index, u.Text}]
}

// TakeOut lists the edits that take out unsigned marks, and what came with
// them: octave lines go, and notes that were moved go back. Stems, clefs and
// accidentals of a passage that was written out are set as its old octave
// needs them; what they were is not kept anywhere.
func TakeOut(doc *musicxml.Document, l *passage.Layout, marks []Unsigned) ([]musicxml.Edit, error) {
	w := &writer{doc: doc, away: map[musicxml.Element]bool{}, forGood: true}
	for _, u := range marks {
		w.takeOut(u.Direction.Elem)
		octave, written := octaveOf(u.Text)
		if octave == 0 {
			continue
		}
		for _, notes := range movedBy(l, u, marks) {
			if !written && !underLine(notes, octave) {
				continue // in words only: the notes stand where they stood
			}
			if err := w.moveBack(notes, octave, written); err != nil {
				return nil, err
			}
		}
	}
	return append(w.ends, w.edits...), nil
}

// moveBack brings notes of one staff back to their octave.
func (w *writer) moveBack(notes []passage.Pressed, octave int, written bool) error {
	back := &Shift{Octave: -octave, Staff: notes[0].Staff}
	for _, n := range notes {
		back.add(n)
	}
	if written {
		w.writeOut(back)
	} else if err := w.linesBack(back); err != nil {
		return err
	}
	for _, n := range notes {
		if err := w.moveNote(n.Note, -octave); err != nil {
			return err
		}
	}
	return nil
}

// octaveOf reads how many octaves away a mark says that its passage is
// played, or written; 0 if it says nothing of the kind.
func octaveOf(text string) (octave int, written bool) {
	best := ""
	for key, value := range words() {
		name, isWritten := strings.CutPrefix(key[0], "written-")
		by := map[string]int{"up": 1, "up2": 2, "down": -1, "down2": -2}[name]
		if by != 0 && strings.HasSuffix(text, value+"]") && len(value) > len(best) {
			best, octave, written = value, by, isWritten
		}
	}
	return octave, written
}

// playersOfMark are those whose notes a mark of another octave is for: the
// feet, the hand that it names, or both hands.
func playersOfMark(l *passage.Layout, u Unsigned) []passage.Line {
	own := l.StaffOf(u.Direction.Part, u.Direction.Staff)
	if own != nil && (own.Line == passage.Feet || own == l.Shared) {
		return []passage.Line{passage.Feet}
	}
	for key, value := range words() {
		line := passage.Line(key[0])
		if (line == passage.RH || line == passage.LH) && strings.HasPrefix(u.Text, "["+value+" ") {
			return []passage.Line{line}
		}
	}
	return []passage.Line{passage.RH, passage.LH}
}

// movedBy are the notes that a mark of another octave is for, by staff: up to
// the next mark that ends it, of another octave or back.
func movedBy(l *passage.Layout, u Unsigned, marks []Unsigned) [][]passage.Pressed {
	loco := map[string]bool{}
	for key, value := range words() {
		if key[0] == "loco" {
			loco[value+"]"] = true
		}
	}
	span := passage.Span{Start: u.Direction.Time}
	if m := u.Direction.Part.Measures; len(m) > 0 {
		span.End = m[len(m)-1].End
	}
	for _, v := range marks {
		d := v.Direction
		if d.Part != u.Direction.Part || d.Staff != u.Direction.Staff || !span.Start.Less(d.Time) || !d.Time.Less(span.End) {
			continue
		}
		octave, _ := octaveOf(v.Text)
		if octave != 0 || loco[v.Text[strings.LastIndexAny(v.Text, "[ ")+1:]] {
			span.End = d.Time
		}
	}
	at := map[*passage.Staff]int{}
	var out [][]passage.Pressed
	for _, player := range playersOfMark(l, u) {
		for _, n := range l.NotesOf(player, span) {
			if !span.Contains(n.Note.Onset) {
				continue
			}
			i, ok := at[n.Staff]
			if !ok {
				i = len(out)
				at[n.Staff], out = i, append(out, nil)
			}
			out[i] = append(out[i], n)
		}
	}
	return out
}

// underLine reports whether an octave line stands over some of the notes that
// goes the way of the mark.
func underLine(notes []passage.Pressed, octave int) bool {
	lines := linesOver(notes[0].Staff)
	return slices.ContainsFunc(notes, func(n passage.Pressed) bool { return displaced(lines, n.Note.Onset)*octave > 0 })
}

// linesBack takes out the octave lines over notes that move back, makes those
// that were drawn for a line of the score's as well what that was, and draws
// the one that the move had made idle.
func (w *writer) linesBack(s *Shift) error {
	lines := linesOver(s.Staff)
	for _, o := range lines {
		if !overlaps(o, s) {
			continue
		}
		by := displaced([]musicxml.OctaveShift{o}, o.Start) + s.Octave
		for _, el := range lineElements(s.Staff, o) {
			if line := el.Find("octave-shift"); by == 0 || !line.Exists() {
				w.takeOut(el)
			} else {
				w.resize(line, by)
			}
		}
	}
	var bare []*musicxml.Note
	for _, n := range s.Notes {
		if displaced(lines, n.Note.Onset) == 0 {
			bare = append(bare, n.Note)
		} else if len(bare) > 0 {
			if err := w.drawLine(s.Staff, bare, s.Octave); err != nil {
				return err
			}
			bare = nil
		}
	}
	if len(bare) > 0 {
		return w.drawLine(s.Staff, bare, s.Octave)
	}
	return nil
}

// resize makes an octave line one of so many octaves.
func (w *writer) resize(line musicxml.Element, octaves int) {
	kind := line.Attr("type")
	if kind == "up" || kind == "down" {
		if kind = "down"; octaves < 0 {
			kind = "up"
		}
	}
	number := line.AttrOr("number", "1")
	size := strconv.Itoa(1 + 7*max(octaves, -octaves))
	w.replace(line, xml(newElement("octave-shift", "", "type", kind, "size", size, "number", number)))
}
