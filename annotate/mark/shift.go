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
	Octave     int
	Staff      *passage.Staff
	Notes      []passage.Pressed // in time order
	WrittenOut bool              // the heads move, rather than stand under an octave line

	home bool          // the notes stand on their player's own staff
	end  musicxml.Time // when the last note ends
}

func (s *Shift) start() musicxml.Time { return s.Notes[0].Note.Onset }

func (s *Shift) add(n passage.Pressed) {
	s.Notes = append(s.Notes, n)
	if e := n.Note.End(); s.end.Less(e) {
		s.end = e
	}
}

// A run is what a player plays in one other octave without a break: a shift,
// or several where the notes go over to another staff.
type run struct {
	player passage.Line
	octave int
	shifts []*Shift
	start  musicxml.Time
	last   *musicxml.Measure // in which its last note stands
	end    musicxml.Time
	next   *musicxml.Note // the player's first note after it, nil if there is none
}

func (r *run) add(n passage.Pressed, home bool) {
	i := slices.IndexFunc(r.shifts, func(s *Shift) bool { return s.Staff == n.Staff })
	if i < 0 {
		i = len(r.shifts)
		r.shifts = append(r.shifts, &Shift{Octave: r.octave, Staff: n.Staff, home: home})
	}
	r.shifts[i].add(n)
	r.last = n.Note.Measure
	if e := n.Note.End(); r.end.Less(e) {
		r.end = e
	}
}

// longestGap is how many measures of rest an octave line may span: over more
// it ends, and the next phrase begins a new one (common practice).
const longestGap = 2

// goesOn reports whether a note in the same octave comes soon enough after the
// run to belong to it.
func (r *run) goesOn(n *musicxml.Note) bool {
	if n.Measure.Index-r.last.Index <= longestGap {
		return true
	}
	return !r.last.End.Sub(r.last.Start).Mul(musicxml.Whole(longestGap)).Less(n.Onset.Sub(r.end))
}

// placed is a note with the octave in which it is played.
type placed struct {
	passage.Pressed
	octave int
}

// playerNotes are what each player plays, in time order, with its octave: that
// in which the key went down.
func (m *marker) playerNotes() map[passage.Line][]placed {
	layout := m.plan.Asked.Layout
	octaves := map[*musicxml.Note]int{} // by the notes that are struck
	out := map[passage.Line][]placed{}
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
				player := line.Asked.Line
				if player == passage.Both {
					player = passage.RH
					if n.Staff == layout.Of(passage.LH) && n.Staff != layout.Of(passage.RH) {
						player = passage.LH
					}
				}
				out[player] = append(out[player], placed{n, octaves[n.Struck]})
			}
		}
	}
	return out
}

// findRuns gathers what is played in another octave.
func (m *marker) findRuns() {
	layout := m.plan.Asked.Layout
	all := m.playerNotes()
	for _, player := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		home := layout.Of(player)
		if player == passage.Feet && home == nil {
			home = layout.Shared
		}
		var open *run
		for _, n := range all[player] {
			if open != nil && (n.octave != open.octave || !open.goesOn(n.Note)) {
				open.next, open = n.Note, nil
			}
			if n.octave == 0 {
				continue
			}
			if open == nil {
				open = &run{player: player, octave: n.octave, start: n.Note.Onset}
				m.runs = append(m.runs, open)
			}
			open.add(n.Pressed, n.Staff == home)
			m.runOf[n.Note] = open
		}
	}
	slices.SortStableFunc(m.runs, func(a, b *run) int { return a.start.Cmp(b.start) })
	notesOf := map[*passage.Staff][]*musicxml.Note{}
	for _, r := range m.runs {
		written := m.way == WrittenOut || m.way != WordsOnly && len(r.shifts) > 1
		for _, s := range r.shifts {
			if notesOf[s.Staff] == nil {
				notesOf[s.Staff] = notesOn(s.Staff)
			}
			written = written || m.way != WordsOnly && !canStandUnderLine(s, notesOf[s.Staff])
		}
		for _, s := range r.shifts {
			s.WrittenOut = written
		}
	}
}

// within are the runs that begin in a span.
func (m *marker) within(span passage.Span) []*run {
	from := sort.Search(len(m.runs), func(i int) bool { return !m.runs[i].start.Less(span.Start) })
	to := sort.Search(len(m.runs), func(i int) bool { return !m.runs[i].start.Less(span.End) })
	return m.runs[from:to]
}

// beginning are the runs of the lines that begin with their first notes in
// the passage.
func (m *marker) beginning(s *resolve.Setting, lines []*resolve.Line) []*run {
	first := firstNote(s, lines)
	var out []*run
	for _, r := range m.within(s.Passage.Span) {
		if r.start == first && slices.ContainsFunc(lines, func(line *resolve.Line) bool { return slices.Contains(playersOf(line.Asked.Line), r.player) }) {
			out = append(out, r)
			m.marked[r] = true
		}
	}
	return out
}

// shiftsOf are the shifts of runs, as far as the notes are to be moved.
func (m *marker) shiftsOf(runs []*run) []*Shift {
	var out []*Shift
	for _, r := range runs {
		if m.way != WordsOnly {
			out = append(out, r.shifts...)
		}
	}
	return out
}

// writtenOut reports whether the notes of lines that are moved in a passage
// are written out there.
func (m *marker) writtenOut(s *resolve.Setting, lines []*resolve.Line) bool {
	for _, line := range lines {
		for _, n := range line.Asked.Notes {
			if r := m.runOf[n.Note]; r != nil && n.StruckIn(s.Passage.Span) {
				return r.shifts[0].WrittenOut
			}
		}
	}
	return false
}

// octavesGoOn marks the runs that begin later in a passage, after a long rest:
// where they begin, the octave alone.
func (m *marker) octavesGoOn(s *resolve.Setting) {
	for _, r := range m.within(s.Passage.Span) {
		if m.marked[r] {
			continue
		}
		staff, placement := m.placeOf(r.player)
		m.add(Octave, staff, r.start, placement, octaveWord(r.octave, r.shifts[0].WrittenOut, m.lang)).Shifts = m.shiftsOf([]*run{r})
	}
}

// placeOf is where a player's marks stand.
func (m *marker) placeOf(player passage.Line) (*passage.Staff, string) {
	if player == passage.Feet {
		return m.place(passage.Pedal)
	}
	return m.place(passage.Division{})
}

// loco marks the first note after a run that is played as printed again; in
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
	for _, r := range m.runs {
		if r.next == nil || m.runOf[r.next] != nil {
			continue
		}
		staff, placement := m.placeOf(r.player)
		loco := word("loco", m.lang)
		if i, ok := marks[place{staff, r.next.Onset, placement}]; ok {
			m.marks[i].Text = strings.TrimSuffix(m.marks[i].Text, "]") + ", " + loco + "]"
		} else {
			m.add(Loco, staff, r.next.Onset, placement, loco)
		}
	}
}
