package mark

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// An octave line stands over notes whose pitch data are the keys played and
// whose heads are printed elsewhere. The schema of MusicXML 4.0 says of
// octave-shift: "a treble clef line noted with 8va will be indicated with an
// octave-shift down from the pitch data indicated in the notes".

// widest is how many octaves a line can stand for: size 22 is three.
const widest = 3

// drawn is an octave line that was added, by the measures that it touches.
type drawn struct {
	part        *musicxml.Part
	first, last int // measures
	number      int
}

// drawLines draws octave lines over shifts of one staff.
func (w *writer) drawLines(shifts []*Shift) error {
	if len(shifts) == 0 {
		return nil
	}
	staff := shifts[0].Staff
	notes := notesOn(staff)
	of := map[*musicxml.Note]*Shift{}
	for _, s := range shifts {
		for _, n := range s.Notes {
			of[n.Note] = s
		}
	}
	// A line of the score's own that stands over moved notes is drawn anew.
	var redrawn []musicxml.OctaveShift
	for _, o := range linesOver(staff) {
		if slices.ContainsFunc(shifts, func(s *Shift) bool { return of[s.Notes[0].Note] == s && overlaps(o, s) }) {
			redrawn = append(redrawn, o)
			for _, el := range lineElements(staff, o) {
				if !w.takeOut(el) {
					return fmt.Errorf("an octave line of the score at %s cannot be drawn anew", staff.Part.Place(o.Start))
				}
			}
		}
	}
	var run []*musicxml.Note
	by, under := 0, (*Shift)(nil)
	flush := func() error {
		defer func() { run = nil }()
		if by == 0 || len(run) == 0 {
			return nil
		}
		return w.drawLine(staff, run, by)
	}
	for _, n := range notes {
		octaves := displaced(redrawn, n.Onset)
		s := of[n]
		if s != nil {
			octaves += s.Octave
		}
		if len(run) > 0 && (octaves != by || s != under) {
			if err := flush(); err != nil {
				return err
			}
		}
		by, under = octaves, s
		if octaves != 0 {
			run = append(run, n)
		}
	}
	return flush()
}

// canStandUnderLine reports whether an octave line can stand over a shift:
// none of the staff's notes begins beneath it that does not move, and with the
// lines that the score has there it is not too wide.
func canStandUnderLine(s *Shift, notes []*musicxml.Note) bool {
	if !alone(s, notes) {
		return false
	}
	for _, o := range linesOver(s.Staff) {
		by := displaced([]musicxml.OctaveShift{o}, o.Start) + s.Octave
		if overlaps(o, s) && (by > widest || by < -widest) {
			return false
		}
	}
	return true
}

// notesOn are the notes of a staff that have a head on it, by onset.
func notesOn(staff *passage.Staff) []*musicxml.Note {
	var out []*musicxml.Note
	for _, n := range staff.Part.Notes {
		if n.Staff == staff.Number && n.HasPitch {
			out = append(out, n)
		}
	}
	return out
}

// alone reports whether nothing but the shift's own notes begins under a line
// over it.
func alone(s *Shift, notes []*musicxml.Note) bool {
	own := map[*musicxml.Note]bool{}
	for _, n := range s.Notes {
		own[n.Note] = true
	}
	for i := sort.Search(len(notes), func(i int) bool { return !notes[i].Onset.Less(s.start()) }); i < len(notes) && notes[i].Onset.Less(s.end); i++ {
		if !own[notes[i]] {
			return false
		}
	}
	return true
}

// linesOver are the octave lines that the score has on a staff.
func linesOver(staff *passage.Staff) []musicxml.OctaveShift {
	var out []musicxml.OctaveShift
	for _, o := range staff.Part.OctaveShifts {
		if o.Staff == staff.Number {
			out = append(out, o)
		}
	}
	return out
}

func overlaps(o musicxml.OctaveShift, s *Shift) bool {
	return o.Start.Less(s.end) && s.start().Less(o.End)
}

// displaced is how many octaves the keys lie above the printed heads at a
// moment, by the lines given.
func displaced(lines []musicxml.OctaveShift, t musicxml.Time) int {
	by := 0
	for _, o := range lines {
		if t.Less(o.Start) || !t.Less(o.End) {
			continue
		}
		octaves := (o.Size - 1) / 7 // of 8, 15, 22
		if o.Type == "up" {
			octaves = -octaves
		}
		by += octaves
	}
	return by
}

// lineElements are the elements that draw an octave line: the directions of
// its start, its end and what goes on between, or of a direction that holds
// more only the <direction-type>.
func lineElements(staff *passage.Staff, o musicxml.OctaveShift) []musicxml.Element {
	var out []musicxml.Element
	for _, d := range staff.Part.Directions {
		if d.Shift == nil || d.Staff != o.Staff || d.Shift.Number != o.Number || d.Time.Less(o.Start) || o.End.Less(d.Time) {
			continue
		}
		ends := d.Shift.Type == "stop" && d.Time == o.End || d.Shift.Type == "continue"
		if d != o.Direction && !ends {
			continue
		}
		types := slices.Collect(d.Elem.All("direction-type"))
		if len(types) == 1 && !d.Elem.Child("sound").Exists() {
			out = append(out, d.Elem)
			continue
		}
		for _, t := range types {
			if t.Child("octave-shift").Exists() {
				out = append(out, t)
			}
		}
	}
	return out
}

// drawLine draws one line over notes of a staff.
func (w *writer) drawLine(staff *passage.Staff, notes []*musicxml.Note, octaves int) error {
	kind, placement := "down", "above"
	if octaves < 0 {
		kind, placement, octaves = "up", "below", -octaves
	}
	first, last := notes[0], notes[0]
	var end musicxml.Time
	for _, n := range notes {
		if e := n.End(); end.Less(e) {
			end = e
		}
		if n.Measure.Index > last.Measure.Index || n.Measure == last.Measure && n.Span().Start > last.Span().Start {
			last = n
		}
	}
	size := 1 + 7*octaves
	line := drawn{staff.Part, first.Measure.Index, last.Measure.Index, 1}
	line.number = w.freeNumber(line)
	w.lines = append(w.lines, line)
	// Some readers heed a line only if it has its number, though 1 is implied.
	shift := func(kind string) *etree.Element {
		return newElement("octave-shift", "", "type", kind, "size", strconv.Itoa(size), "number", strconv.Itoa(line.number))
	}
	if err := w.insertAt(Octave, staff, first.Onset, placement, shift(kind)); err != nil {
		return err
	}
	// The end stands behind all the notes in the file, also where another voice
	// holds out longer than the last of them.
	span := last.Elem.Span()
	stop := w.direction(Octave, staff, placement, shift("stop"), offsetAfter(last, end))
	w.ends = append(w.ends, musicxml.Edit{
		Span: musicxml.Span{Start: span.End, End: span.End},
		Text: w.spaceBefore(span.Start) + stop,
	})
	return nil
}

// freeNumber is the lowest number that no octave line of the part has in the
// measures of the line.
func (w *writer) freeNumber(line drawn) int {
	used := map[int]bool{}
	for _, l := range w.lines {
		if l.part == line.part && l.first <= line.last && line.first <= l.last {
			used[l.number] = true
		}
	}
	for _, o := range line.part.OctaveShifts {
		first, last := line.part.MeasureAt(o.Start), line.part.MeasureAt(o.End)
		if first.Index <= line.last && line.first <= last.Index && !w.away[o.Direction.Elem] {
			used[o.Number] = true
		}
	}
	for n := 1; ; n++ {
		if !used[n] {
			return n
		}
	}
}

// offsetAfter is what <offset> says, right after a note, for a moment: "" for
// when the note ends.
func offsetAfter(n *musicxml.Note, t musicxml.Time) string {
	gap := t.Sub(n.End())
	if gap.IsZero() || n.Duration.IsZero() {
		return ""
	}
	el := n.Elem.Child("duration")
	if !el.Exists() {
		return ""
	}
	divisions, err := musicxml.ParseTime(el.Text())
	if err != nil {
		return ""
	}
	offset := gap.Mul(divisions).Div(n.Duration)
	if offset.Den() != 1 {
		return ""
	}
	return offset.Decimal()
}

// canKeep reports whether an instruction can hold an element: it may not hold
// the end of one, nor a character that the file's encoding lacks.
func (w *writer) canKeep(el musicxml.Element) bool {
	span := el.Span()
	text := w.doc.Text()[span.Start:span.End]
	return !strings.Contains(text, "?>") && w.doc.CanHold(text)
}
