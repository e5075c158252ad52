package mark

import (
	"fmt"
	"strconv"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// writeOut makes the print fit notes that move to another octave: a clef with
// fewer ledger lines where there would be many, the stems as they stand on the
// staff there, and the accidentals that the other octave needs. The octave
// lines of the score stay, over heads that have moved; one that the move makes
// idle goes, and the heads under it stay.
func (w *writer) writeOut(s *Shift) {
	p := newPage(s)
	if !w.forGood {
		w.dropIdleLines(s, p)
	}
	if s.home {
		w.chooseClefs(s, p)
	}
	w.turnStems(s, p)
	w.addAccidentals(s, p)
}

// moveNote moves a note's pitch data by octaves and notes what it was.
func (w *writer) moveNote(n *musicxml.Note, octaves int) error {
	el := n.Elem.Find("octave")
	if !el.Exists() {
		return fmt.Errorf("a note without an octave cannot be moved")
	}
	inner, outer := el.Inner(), el.Span()
	was := w.doc.Text()[inner.Start:inner.End]
	old, err := strconv.Atoi(strings.TrimSpace(el.Text()))
	if err != nil || strings.Contains(was, "?>") {
		return fmt.Errorf("the octave %q is not a number", was)
	}
	if !w.forGood {
		w.edits = append(w.edits, musicxml.Edit{Span: musicxml.Span{Start: outer.Start, End: outer.Start}, Text: fmt.Sprintf("<?%s %s %s?>", Target, wasOctave, was)})
	}
	w.edits = append(w.edits, musicxml.Edit{Span: inner, Text: strconv.Itoa(old + octaves)})
	return nil
}

// A page is where the heads of a staff stand, before a shift is written out
// and after.
type page struct {
	staff  *passage.Staff
	clefs  []musicxml.Clef        // of the staff, by time
	lines  []musicxml.OctaveShift // of the score
	kept   []musicxml.OctaveShift // those that stay
	moved  map[*musicxml.Note]int // by octaves
	chosen []clefChange           // by time
}

// A clefChange is a clef from a moment on that is not the printed one.
type clefChange struct {
	time musicxml.Time
	clef clef
}

func newPage(s *Shift) *page {
	p := &page{staff: s.Staff, lines: linesOver(s.Staff), moved: map[*musicxml.Note]int{}}
	p.kept = p.lines
	for _, c := range s.Staff.Part.Clefs {
		if c.Staff == s.Staff.Number {
			p.clefs = append(p.clefs, c)
		}
	}
	for _, n := range s.Notes {
		p.moved[n.Note] = s.Octave
	}
	return p
}

// head is where a note's head stands, in steps above C0.
func (p *page) head(n *musicxml.Note, after bool) int {
	steps := 7*n.Pitch.Octave + strings.IndexByte("CDEFGAB", n.Pitch.Step)
	if after {
		return steps + 7*(p.moved[n]-displaced(p.kept, n.Onset))
	}
	return steps - 7*displaced(p.lines, n.Onset)
}

// dropIdleLines takes out the octave lines of the score over notes that all
// move to where their heads are printed.
func (w *writer) dropIdleLines(s *Shift, p *page) {
	p.kept = nil
	notes := notesOn(s.Staff)
	for _, o := range p.lines {
		idle := overlaps(o, s) && displaced([]musicxml.OctaveShift{o}, o.Start)+s.Octave == 0
		for _, n := range notes {
			if !n.Onset.Less(o.Start) && n.Onset.Less(o.End) {
				idle = idle && p.moved[n] != 0
			}
		}
		elements := lineElements(s.Staff, o)
		for _, el := range elements {
			idle = idle && w.canKeep(el)
		}
		if !idle {
			p.kept = append(p.kept, o)
			continue
		}
		for _, el := range elements {
			w.takeOut(el)
		}
	}
}

// clefAt is the clef that a note is read in.
func (p *page) clefAt(t musicxml.Time, after bool) clef {
	c := p.printed(t)
	if !after {
		return c
	}
	for _, change := range p.chosen {
		if !t.Less(change.time) {
			c = change.clef
		}
	}
	return c
}

// printed is the clef that the score has at a moment; a staff without one has
// that of a treble staff.
func (p *page) printed(t musicxml.Time) clef {
	c := trebleClef
	for _, k := range p.clefs {
		if t.Less(k.Time) {
			break
		}
		c = clefOf(k)
	}
	return c
}

// above is how many steps a head stands above the middle line.
func (p *page) above(n *musicxml.Note, after bool) int {
	return p.head(n, after) - p.clefAt(n.Onset, after).middle()
}
