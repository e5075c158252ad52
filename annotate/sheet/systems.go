package sheet

import (
	"strconv"

	"stopgap/musicxml"
)

// The pictures of the whole piece run along the measures and are broken into
// systems, as a score is.
const (
	pictureWidth    = 1040.0 // units; a landscape page
	labelWidth      = 86.0
	narrowestBar    = 22.0
	mostBarsNarrow  = 1000 // above, the systems get longer and the bars narrower
	systemsAtMost   = 24
	systemGap       = 30.0
	barNumbersEvery = 5
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
	return s
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

// ruler draws the bar numbers and barlines of a system, from y down to bottom.
func (s *systems) ruler(d *drawing, system int, y, bottom float64) {
	first, last := system*s.per, min((system+1)*s.per, len(s.part.Measures))
	every := barNumbersEvery
	for s.barWidth()*float64(every) < narrowestBar*2 {
		every *= 2
	}
	right := 0.0
	for i := first; i < last; i++ {
		x := labelWidth + float64(i-first)*s.barWidth()
		n, err := strconv.Atoi(s.part.Measures[i].Number)
		shown := i == first || err == nil && n%every == 0
		if s.barWidth() >= 6 || shown {
			d.line("bar", x, y, x, bottom)
		}
		if shown && x >= right {
			label := s.part.Measures[i].Number
			d.text("small", x+2, y-4, label)
			right = x + 8 + 7*float64(len(label))
		}
	}
	d.line("bar", labelWidth+float64(last-first)*s.barWidth(), y, labelWidth+float64(last-first)*s.barWidth(), bottom)
}

// starts draws the rehearsal marks and page turns of a system.
func (s *systems) starts(d *drawing, system int, y float64, entries []*entry) {
	for _, e := range entries {
		if !e.startsAgain() {
			continue
		}
		if at, x := s.at(e.at, false); at == system {
			d.text("mark", x+2, y, e.heading())
		}
	}
}
