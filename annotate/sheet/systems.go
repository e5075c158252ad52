package sheet

import (
	"strconv"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// The pictures of the whole piece run along the measures and are broken into
// systems, as a score is; each system is a picture by itself, so that pages can
// break between them.
const (
	pictureWidth   = 1040.0 // units; a landscape page
	labelWidth     = 86.0
	narrowestBar   = 22.0
	mostBarsNarrow = 1000 // above, the systems get longer and the bars narrower
	systemsAtMost  = 24
	headHeight     = 28.0 // for bar numbers and rehearsal marks
	numberSpace    = 30.0 // between two bar numbers at least
)

// systems lays out the measures of a score.
type systems struct {
	part  *musicxml.Part
	per   int // measures in a system
	count int
}

func newSystems(part *musicxml.Part) *systems {
	n := max(1, len(part.Measures))
	room := pictureWidth - labelWidth
	most := int(room / narrowestBar)
	if n > mostBarsNarrow {
		most = max(most, (n+systemsAtMost-1)/systemsAtMost)
	}
	s := &systems{part: part, count: (n + most - 1) / most}
	s.per = (n + s.count - 1) / s.count
	s.count = (n + s.per - 1) / s.per
	return s
}

// begin starts the picture of a system, of so many units under its head.
func (s *systems) begin(id, title, text string, system int, height float64) *drawing {
	if s.count > 1 {
		first, last := s.span(system)
		title += ", bars " + s.part.Measures[first].Number + " to " + s.part.Measures[last].Number
	}
	return newDrawing(id+strconv.Itoa(system+1), title, text, pictureWidth, headHeight+height+2)
}

// span are the indexes of a system's first and last measure.
func (s *systems) span(system int) (first, last int) {
	return system * s.per, min((system+1)*s.per, len(s.part.Measures)) - 1
}

// time is the span of a system in the music.
func (s *systems) time(system int) passage.Span {
	first, last := s.span(system)
	if last < first {
		return passage.Span{}
	}
	return passage.Span{Start: s.part.Measures[first].Start, End: s.part.Measures[last].End}
}

func (s *systems) barWidth() float64 { return (pictureWidth - labelWidth) / float64(s.per) }

// at is where a moment stands: the system and the place in it. A moment at a
// barline belongs to what follows, or with end set to what comes before.
func (s *systems) at(t musicxml.Time, end bool) (system int, x float64) {
	m := s.part.MeasureAt(t)
	if m == nil {
		return 0, labelWidth
	}
	if end && m.Start == t && m.Index > 0 {
		m = s.part.Measures[m.Index-1]
	}
	part := 1.0
	if length := m.End.Sub(m.Start); length.Sign() > 0 {
		part = min(1, max(0, t.Sub(m.Start).Float64()/length.Float64()))
	}
	return m.Index / s.per, labelWidth + (float64(m.Index%s.per)+part)*s.barWidth()
}

// A stretch is the part of a span that lies in one system.
type stretch struct {
	system   int
	from, to float64
}

// stretches cuts a span where systems end.
func (s *systems) stretches(start, end musicxml.Time) []stretch {
	if !start.Less(end) {
		return nil
	}
	first, x := s.at(start, false)
	last, to := s.at(end, true)
	var out []stretch
	for system := first; system <= last; system++ {
		right := pictureWidth
		if system == last {
			right = to
		}
		if right > x {
			out = append(out, stretch{system, x, right})
		}
		x = labelWidth
	}
	return out
}

// ruler draws the bar numbers and barlines of a system, from its head down to
// bottom, and over them the rehearsal marks and page turns.
func (s *systems) ruler(d *drawing, system int, bottom float64, entries []*entry) {
	first, last := s.span(system)
	every := 1
	for _, n := range []int{5, 10, 20, 50, 100} {
		if s.barWidth()*float64(every) < numberSpace {
			every = n
		}
	}
	right := 0.0
	for i := first; i <= last; i++ {
		x := labelWidth + float64(i-first)*s.barWidth()
		n, err := strconv.Atoi(s.part.Measures[i].Number)
		shown := (i == first || err == nil && n%every == 0) && x >= right
		if s.barWidth() >= 6 || shown {
			d.line("bar", x, headHeight, x, bottom)
		}
		if shown {
			label := s.part.Measures[i].Number
			d.text("small", x+2, headHeight-4, label)
			right = x + 8 + 7*float64(len(label))
		}
	}
	end := labelWidth + float64(last-first+1)*s.barWidth()
	d.line("bar", end, headHeight, end, bottom)
	right = 0
	for _, e := range entries {
		if !e.startsAgain() {
			continue
		}
		at, x := s.at(e.at, false)
		width := 6 * float64(len([]rune(e.heading())))
		x = min(x+2, pictureWidth-width)
		if at == system && x >= right {
			d.text("mark", x, headHeight-17, e.heading())
			right = x + 8 + width
		}
	}
}
