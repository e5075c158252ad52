package mark

import (
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
)

// A Shift is a run of notes of one staff that are played in another octave
// than printed. The notes that ties hold on belong to the note at which the
// key goes down, also beyond the passage.
type Shift struct {
	Octave int
	Staff  *passage.Staff
	Notes  []passage.Pressed // in time order

	line passage.Line
	end  musicxml.Time  // when the last note ends
	next *musicxml.Note // the line's first note after it, nil if there is none
}

func (s *Shift) start() musicxml.Time { return s.Notes[0].Note.Onset }

func (s *Shift) add(n passage.Pressed) {
	s.Notes = append(s.Notes, n)
	if e := n.Note.End(); s.end.Less(e) {
		s.end = e
	}
}

// longestGap is how many measures of rest an octave line may span: over more
// it ends, and the next phrase begins a new one (common practice).
const longestGap = 2

// findShifts gathers the runs of moved notes on each staff, in time order.
func (m *marker) findShifts() {
	type placed struct {
		passage.Pressed
		line   passage.Line
		octave int
	}
	type voice struct {
		line  passage.Line
		staff *passage.Staff
	}
	octaves := map[*musicxml.Note]int{} // of the notes that are struck
	notes := map[voice][]placed{}
	var order []voice
	for _, s := range m.plan.Settings {
		for _, line := range s.Lines {
			if line.Keyboard == nil {
				continue
			}
			for _, n := range line.Asked.Notes {
				if n.StruckIn(s.Passage.Span) {
					octaves[n.Struck] = line.Octave
				}
				if !s.Passage.Contains(n.Note.Onset) {
					continue
				}
				for _, player := range playersOf(line.Asked.Line) {
					if line.Asked.Line == passage.Both && n.Staff != m.plan.Asked.Layout.Of(player) {
						continue
					}
					v := voice{player, n.Staff}
					if notes[v] == nil {
						order = append(order, v)
					}
					notes[v] = append(notes[v], placed{n, player, octaves[n.Struck]})
					break
				}
			}
		}
	}
	for _, v := range order {
		var open *Shift
		for _, n := range notes[v] {
			if open != nil && (n.octave != open.Octave || restsLong(open, n.Note)) {
				open.next, open = n.Note, nil
			}
			if n.octave == 0 {
				continue
			}
			if open == nil {
				open = &Shift{Octave: n.octave, Staff: v.staff, line: v.line}
				m.shifts = append(m.shifts, open)
			}
			open.add(n.Pressed)
		}
	}
	slices.SortStableFunc(m.shifts, func(a, b *Shift) int { return a.start().Cmp(b.start()) })
}

// restsLong reports whether a note comes so long after the run that the run
// had better end.
func restsLong(s *Shift, n *musicxml.Note) bool {
	last := s.Notes[len(s.Notes)-1].Note.Measure
	if n.Measure.Index-last.Index <= longestGap {
		return false
	}
	return last.End.Sub(last.Start).Mul(musicxml.Whole(longestGap)).Less(n.Onset.Sub(s.end))
}

// within are the shifts that begin in a span.
func (m *marker) within(span passage.Span) []*Shift {
	from := sort.Search(len(m.shifts), func(i int) bool { return !m.shifts[i].start().Less(span.Start) })
	to := sort.Search(len(m.shifts), func(i int) bool { return !m.shifts[i].start().Less(span.End) })
	return m.shifts[from:to]
}

// beginning are the shifts of the lines that begin with their first notes in
// the passage.
func (m *marker) beginning(s *resolve.Setting, lines []*resolve.Line) []*Shift {
	first := firstNote(s, lines)
	var out []*Shift
	for _, sh := range m.within(s.Passage.Span) {
		if sh.start() == first && ofLines(sh, lines) {
			out = append(out, sh)
			m.marked[sh] = true
		}
	}
	return out
}

func ofLines(s *Shift, lines []*resolve.Line) bool {
	return slices.ContainsFunc(lines, func(line *resolve.Line) bool {
		return slices.Contains(playersOf(line.Asked.Line), s.line)
	})
}

// octavesGoOn marks the shifts that begin later in a passage, after a long
// rest, or on another staff: where they begin, the octave alone.
func (m *marker) octavesGoOn(s *resolve.Setting) {
	for _, sh := range m.within(s.Passage.Span) {
		if m.marked[sh] {
			continue
		}
		for _, line := range s.Lines {
			if slices.Contains(playersOf(line.Asked.Line), sh.line) {
				staff, placement := m.place(line.Asked.Division)
				m.add(Octave, staff, sh.start(), placement, octaveWord(sh.Octave, m.lang)).Shifts = []*Shift{sh}
				break
			}
		}
	}
}

// loco marks the first note after a shift that is played as printed again; in
// the words of another mark where one stands there.
func (m *marker) loco() {
	type place struct {
		staff     *passage.Staff
		time      musicxml.Time
		placement string
	}
	marks := map[place]int{}
	for i, k := range m.marks {
		if k.Kind == Stops || k.Kind == Manual {
			marks[place{k.Staff, k.Time, k.Placement}] = i
		}
	}
	shifted := map[*musicxml.Note]bool{}
	for _, sh := range m.shifts {
		shifted[sh.Notes[0].Note] = true
	}
	for _, sh := range m.shifts {
		if sh.next == nil || shifted[sh.next] {
			continue
		}
		staff, placement := m.place(passage.Division{})
		if sh.line == passage.Feet {
			staff, placement = m.place(passage.Pedal)
		}
		loco := word("loco", m.lang)
		if i, ok := marks[place{staff, sh.next.Onset, placement}]; ok {
			m.marks[i].Text = strings.TrimSuffix(m.marks[i].Text, "]") + ", " + loco + "]"
		} else {
			m.add(Loco, staff, sh.next.Onset, placement, loco)
		}
	}
}
