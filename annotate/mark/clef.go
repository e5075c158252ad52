package mark

import (
	"strconv"

	"github.com/beevik/etree"

	"stopgap/musicxml"
)

// A clef is a sign on a line.
type clef struct {
	sign   string // G, F, C; anything else is read as G
	line   int    // from the bottom, from 1
	octave int    // octaves that the notes sound from where the clef stands
}

var (
	trebleClef = clef{sign: "G", line: 2}
	bassClef   = clef{sign: "F", line: 4}
)

func clefOf(c musicxml.Clef) clef {
	k := clef{c.Sign, c.Line, c.OctaveChange}
	if k.line == 0 {
		k.line = map[string]int{"F": 4, "C": 3}[k.sign]
	}
	if k.line == 0 {
		k.line = 2
	}
	return k
}

// middle is the note on the middle line, in steps above C0.
func (c clef) middle() int {
	sign := map[string]int{"F": 7*3 + 3, "C": 7 * 4}[c.sign] // F3, C4
	if sign == 0 {
		sign = 7*4 + 4 // G4
	}
	return sign + 2*(3-c.line) + 7*c.octave
}

// ledgers is how many ledger lines a head needs.
func (c clef) ledgers(head int) int {
	steps := head - c.middle()
	if steps < 0 {
		steps = -steps
	}
	return max(0, (steps-4)/2)
}

func (c clef) element(staff, staves int) *etree.Element {
	el := newElement("clef", "")
	if staves > 1 {
		el.CreateAttr("number", strconv.Itoa(staff))
	}
	return holding(el, newElement("sign", c.sign), newElement("line", strconv.Itoa(c.line)))
}

// A clef is changed where the notes would need as many ledger lines as this,
// on average, or one of them as many as that (common practice: organists read
// the pedal in the bass clef up to its highest notes, which need three).
const (
	ledgersOnAverage = 2
	ledgersAtMost    = 4
)

// chooseClefs changes the clef for the moved notes where they would stand on
// many ledger lines, and brings it back after them. Where a clef cannot be put
// in, all stays in the clef that is printed.
func (w *writer) chooseClefs(s *Shift, p *page) {
	segments := p.segments(s)
	for _, g := range segments {
		p.chosen = append(p.chosen, clefChange{g.from, g.best})
	}
	changes := false
	for _, g := range segments {
		changes = changes || g.best != g.printed
	}
	end := p.printed(s.end)
	last := segments[len(segments)-1].best
	back := changes && last != end && !p.clefChangesAt(s.end).Exists() && p.goesOn(s.end)
	places := make([]musicxml.Anchor, len(segments)+1)
	for i, t := range append(times(segments), s.end) {
		a, err := s.Staff.Part.Anchor(s.Staff.Number, t)
		if i == len(segments) && !back {
			break
		}
		if err != nil || a.Offset != "" {
			changes = false
		}
		places[i] = a
	}
	if !changes {
		p.chosen = nil
		return
	}
	staves := s.Staff.Part.Staves
	put := func(a musicxml.Anchor, c clef) {
		w.insert(a, w.instruction("clef")+xml(holding(newElement("attributes", ""), c.element(s.Staff.Number, staves))))
	}
	in := p.printed(s.start())
	if p.clefChangesAt(s.start()).Exists() {
		in = clef{} // what stood before does not matter: the clef changes here
	}
	for i, g := range segments {
		el := p.clefChangesAt(g.from)
		switch {
		case el.Exists() && g.best != g.printed:
			w.replace(el, xml(g.best.element(s.Staff.Number, staves)))
		case !el.Exists() && g.best != in:
			put(places[i], g.best)
		}
		in = g.best
	}
	if back {
		put(places[len(segments)], end)
	}
	p.chosen = append(p.chosen, clefChange{s.end, end})
}

// A segment is what of a shift stands in one printed clef.
type segment struct {
	from          musicxml.Time
	printed, best clef
}

func times(segments []segment) []musicxml.Time {
	var out []musicxml.Time
	for _, g := range segments {
		out = append(out, g.from)
	}
	return out
}

// segments finds for each printed clef over the shift the one that the moved
// notes are best read in.
func (p *page) segments(s *Shift) []segment {
	from := []musicxml.Time{s.start()}
	for _, c := range p.clefs {
		if s.start().Less(c.Time) && c.Time.Less(s.end) {
			from = append(from, c.Time)
		}
	}
	var out []segment
	for i, t := range from {
		var heads []int
		for _, n := range s.Notes {
			if !n.Note.Onset.Less(t) && (i+1 == len(from) || n.Note.Onset.Less(from[i+1])) {
				heads = append(heads, p.head(n.Note, true))
			}
		}
		c := p.printed(t)
		out = append(out, segment{t, c, bestClef(c, heads)})
	}
	return out
}

// bestClef is the clef itself unless the heads stand far off its staff and
// another of the two usual clefs has fewer ledger lines.
func bestClef(c clef, heads []int) clef {
	sum, most := ledgers(c, heads)
	if sum < ledgersOnAverage*len(heads) && most < ledgersAtMost || len(heads) == 0 {
		return c
	}
	best := c
	for _, k := range []clef{bassClef, trebleClef} {
		if n, _ := ledgers(k, heads); n < sum {
			best, sum = k, n
		}
	}
	return best
}

func ledgers(c clef, heads []int) (sum, most int) {
	for _, h := range heads {
		n := c.ledgers(h)
		sum, most = sum+n, max(most, n)
	}
	return sum, most
}

// clefChangesAt is the element that changes the clef at a moment, none if none does.
func (p *page) clefChangesAt(t musicxml.Time) musicxml.Element {
	for _, c := range p.clefs {
		if c.Time == t {
			return c.Elem
		}
	}
	return musicxml.Element{}
}

// goesOn reports whether the staff has anything to read from a moment on.
func (p *page) goesOn(t musicxml.Time) bool {
	for _, n := range p.staff.Part.Notes {
		if n.Staff == p.staff.Number && !n.Onset.Less(t) {
			return true
		}
	}
	return false
}
