// Package mark writes a plan into the score: in square brackets and italics,
// as editions show what an editor added, and only where what is given differs
// from what is printed.
package mark

import (
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
)

// A Kind is what a mark is about.
type Kind string

// The kinds of marks.
const (
	Stops   Kind = "stops"
	Manual  Kind = "manual" // a hand moves to another manual, or back; hand and feet change parts
	Coupled Kind = "coupler"
	Octave  Kind = "octave"
	Loco    Kind = "loco"
	Compass Kind = "compass"
)

// A Mark is one annotation in the score.
type Mark struct {
	Kind      Kind
	Staff     *passage.Staff
	Time      musicxml.Time
	Placement string             // "above" or "below"
	Text      string             // with its brackets
	Shifts    []*Shift           // what is played in another octave from here on, for Octave
	Replaces  []musicxml.Element // the printed directions that it stands for
}

// PedalMarks is how a passage in another octave is written.
type PedalMarks string

// An octave line over unmoved noteheads, the notes written out, or words only.
const (
	OctaveLine PedalMarks = "line"
	WrittenOut PedalMarks = "written"
	WordsOnly  PedalMarks = "words"
)

// Of lists the marks of a plan in the order of time, with passages in another
// octave marked in one way; "" is OctaveLine.
func Of(plan *resolve.Plan, way PedalMarks) []Mark {
	m := &marker{
		plan: plan, lang: plan.Asked.Lang, way: way,
		said: map[passage.Division]saying{}, given: map[passage.Division]*resolve.Part{}, at: map[passage.Line]whereabouts{},
		couplersSaid: map[string]bool{}, marked: map[*run]bool{}, runOf: map[*musicxml.Note]*run{},
	}
	m.findRuns()
	for _, s := range plan.Settings {
		for _, part := range s.Parts {
			m.part(s, part)
		}
		m.octavesGoOn(s)
		m.follows(s)
		m.couplers(s)
		m.compass(s)
	}
	m.loco()
	m.returns()
	slices.SortStableFunc(m.marks, func(a, b Mark) int { return a.Time.Cmp(b.Time) })
	return m.marks
}

// marker collects the marks of a plan.
type marker struct {
	plan  *resolve.Plan
	lang  string
	way   PedalMarks
	marks []Mark

	said         map[passage.Division]saying
	given        map[passage.Division]*resolve.Part // what was given last
	at           map[passage.Line]whereabouts
	couplersSaid map[string]bool
	runs         []*run // in time order
	marked       map[*run]bool
	runOf        map[*musicxml.Note]*run
}

// whereabouts is where a hand or the feet were last.
type whereabouts struct {
	asked    passage.Division
	keyboard string
	by       passage.Line // who plays the line for it, where hand and feet have changed parts
}

// A saying is what the last mark said of a division, as long as it is still so.
type saying struct {
	text  string
	drawn string // what is drawn on its host
}

func (m *marker) add(k Kind, staff *passage.Staff, t musicxml.Time, placement, text string) *Mark {
	if staff == nil {
		return &Mark{}
	}
	m.marks = append(m.marks, Mark{Kind: k, Staff: staff, Time: t, Placement: placement, Text: "[" + text + "]"})
	return &m.marks[len(m.marks)-1]
}

// part marks what is given for one division, where it differs from what is
// printed and from what the last mark said, and where its hands move.
func (m *marker) part(s *resolve.Setting, p *resolve.Part) {
	d := p.Asked.Division
	lines := linesOn(s, p)
	if len(lines) == 0 && len(p.Asked.Voices) == 0 {
		return
	}
	played := m.havePlayed(lines)
	goes, moves := m.goes(lines)
	differs, anew := m.differs(p, lines), asksAnew(s, d)
	runs := m.beginning(s, lines)
	written := m.writtenOut(s, lines)
	text := m.describe(p, lines, goes || handsApart(s), written)
	before, now := m.said[d], saying{m.describe(p, nil, false, written), drawnOn(s, p.Host)}
	switch {
	case differs && (now != before || goes && anew), !differs && before.text != "" && !anew:
		if change := m.delta(s, m.given[d], p); change != "" && !goes && len(runs) == 0 {
			text = change
		}
	case len(runs) > 0:
		text = octaveWord(p.Octave, written, m.lang)
	case goes:
		text = m.whereTo(p, lines)
	default:
		text = ""
	}
	m.given[d] = p
	if m.said[d] = now; !differs {
		delete(m.said, d)
	}
	if text == "" {
		return
	}
	staff, placement := m.place(d)
	when, kind := s.Passage.Start, Stops
	switch {
	case len(runs) > 0:
		kind, when = Octave, runs[0].start
	case moves:
		kind, when = Manual, firstNote(s, lines)
		staff, placement = m.beside(lines, staff, placement)
	case p.Host != nil && !goes && played:
		when = changeTime(s, lines, m.plan.Asked.Layout)
	}
	mark := m.add(kind, staff, when, placement, text)
	if len(runs) == 0 {
		if same := m.standing(mark); same != nil {
			m.marks = m.marks[:len(m.marks)-1] // two divisions that one manual stands in for
			mark = same
		}
	}
	mark.Shifts = append(mark.Shifts, m.shiftsOf(runs)...)
	if differs {
		for _, el := range asking(s, d) {
			if !slices.Contains(mark.Replaces, el) {
				mark.Replaces = append(mark.Replaces, el)
			}
		}
	}
}

// standing is a mark that says the same at the same place as the last one that
// was added, nil if there is none.
func (m *marker) standing(added *Mark) *Mark {
	const near = 12 // more marks than there are at one moment
	for i := len(m.marks) - 2; i >= 0 && i >= len(m.marks)-near; i-- {
		if x := &m.marks[i]; x.Text == added.Text && x.Kind == added.Kind && x.Staff == added.Staff && x.Time == added.Time && x.Placement == added.Placement {
			return x
		}
	}
	return nil
}

// saidBeside reports whether a mark at the moment says the text among others.
func (m *marker) saidBeside(staff *passage.Staff, t musicxml.Time, text string) bool {
	const near = 12
	for i := len(m.marks) - 1; i >= 0 && i >= len(m.marks)-near; i-- {
		if x := &m.marks[i]; x.Staff == staff && x.Time == t && (strings.Contains(x.Text, ", "+text+"]") || strings.Contains(x.Text, ", "+text+",")) {
			return true
		}
	}
	return false
}

// drawnOn lists what is drawn on a division.
func drawnOn(s *resolve.Setting, d *registry.Division) string {
	var names []string
	if d != nil {
		for _, st := range s.StopsInOrder(d) {
			names = append(names, st.Text)
		}
	}
	return strings.Join(names, ",")
}

// goes notes where the lines are, and reports whether one of them is elsewhere
// than the print sends it, or has come back from there; and whether it was in
// another place before, so that it moves.
func (m *marker) goes(lines []*resolve.Line) (goes, moves bool) {
	for _, line := range lines {
		if line.Keyboard == nil || len(line.Asked.Notes) == 0 {
			continue
		}
		now := whereabouts{asked: line.Asked.Division, keyboard: line.Keyboard.Name}
		if line.By != line.Asked.Line {
			now.by = line.By
		}
		for _, player := range playersOf(line.Asked.Line) {
			was, known := m.at[player]
			m.at[player] = now
			switch strays := m.plan.Moved(line.Part) || now.by != ""; {
			case !known || was.asked != now.asked:
				goes = goes || strays
			default:
				goes = goes || was != now
			}
			moves = moves || goes && known
		}
	}
	return goes, moves
}

// havePlayed reports whether the lines have played before, so that what is
// drawn for them now is a change.
func (m *marker) havePlayed(lines []*resolve.Line) bool {
	for _, line := range lines {
		for _, player := range playersOf(line.Asked.Line) {
			if _, known := m.at[player]; known {
				return true
			}
		}
	}
	return false
}

func playersOf(line passage.Line) []passage.Line {
	if line == passage.Both {
		return []passage.Line{passage.RH, passage.LH}
	}
	return []passage.Line{line}
}

// firstNote is where the first of the lines begins to play in the passage.
func firstNote(s *resolve.Setting, lines []*resolve.Line) musicxml.Time {
	first, found := s.Passage.Start, false
	for _, line := range lines {
		for _, n := range line.Asked.Notes {
			if n.StruckIn(s.Passage.Span) && (!found || n.Note.Onset.Less(first)) {
				first, found = n.Note.Onset, true
			}
		}
	}
	return first
}

// place is where the marks of a division stand: manuals above the top staff,
// the pedal below its own.
func (m *marker) place(d passage.Division) (*passage.Staff, string) {
	l := m.plan.Asked.Layout
	if d == passage.Pedal {
		if s := l.Of(passage.Feet); s != nil {
			return s, "below"
		}
		if l.Shared != nil {
			return l.Shared, "below"
		}
	}
	if s := l.Of(passage.RH); s != nil {
		return s, "above"
	}
	if len(l.Staves) > 0 {
		return l.Staves[0], "above"
	}
	return nil, ""
}

// beside is where the move of a hand is marked: at its note, so the left
// hand's at the left hand's staff.
func (m *marker) beside(lines []*resolve.Line, staff *passage.Staff, placement string) (*passage.Staff, string) {
	if len(lines) != 1 || lines[0].Asked.Line != passage.LH {
		return staff, placement
	}
	switch s := m.plan.Asked.Layout.Of(passage.LH); s {
	case nil:
		return staff, placement
	case m.plan.Asked.Layout.Shared:
		return s, "above"
	default:
		return s, "below"
	}
}

// handsApart reports whether the hands play on different divisions, so that a
// mark has to say whose it is.
func handsApart(s *resolve.Setting) bool {
	hands := 0
	for _, line := range s.Lines {
		if line.Asked.Line == passage.RH || line.Asked.Line == passage.LH {
			hands++
		}
	}
	return hands == 2
}

func linesOn(s *resolve.Setting, p *resolve.Part) []*resolve.Line {
	var out []*resolve.Line
	for _, line := range s.Lines {
		if line.Part == p {
			out = append(out, line)
		}
	}
	return out
}

// follows marks the couplers to the pedal that go on or off with the hands,
// which the print does not say.
func (m *marker) follows(s *resolve.Setting) {
	var texts []string
	for _, f := range s.Follows {
		given, from, to := m.plan.Coupled(s, f.Coupling)
		if from == nil || to == nil {
			continue
		}
		text := couplerText(from, to, f.Coupling.Octave)
		if given != nil {
			text = Coupler(given)
		}
		if !f.On {
			text += " " + word("pushed", m.lang)
		}
		texts = append(texts, text)
	}
	if len(texts) > 0 {
		staff, placement := m.place(passage.Pedal)
		m.add(Coupled, staff, s.Passage.Start, placement, strings.Join(texts, ", "))
	}
}

// couplers marks couplers that are not the ones printed, and those that are
// asked for and not there.
func (m *marker) couplers(s *resolve.Setting) {
	for _, c := range s.Passage.Couplings {
		given, from, to := m.plan.Coupled(s, c)
		if to == nil || from == nil || from == to {
			continue
		}
		text := ""
		switch {
		case slices.Contains(s.Follows, resolve.Follow{Coupling: c, On: true}):
		case given == nil:
			text = word("without", m.lang) + " " + couplerText(from, to, c.Octave)
		case !m.plan.Named(c.From, from) || !m.plan.Named(c.To, to):
			text = Coupler(given)
		}
		if text == "" || m.couplersSaid[text] {
			continue
		}
		m.couplersSaid[text] = true
		staff, placement := m.place(c.To)
		if m.saidBeside(staff, s.Passage.Start, text) {
			continue
		}
		m.add(Coupled, staff, s.Passage.Start, placement, text)
	}
}

// compass flags the notes that are not on their keyboard: at each run of them,
// and once a measure.
func (m *marker) compass(s *resolve.Setting) {
	type place struct {
		line    passage.Line
		measure int
	}
	seen := map[place]bool{}
	for _, p := range s.Problems {
		if p.Code != resolve.OffCompass || p.First == nil {
			continue
		}
		at := place{p.Line, p.First.Note.Measure.Index}
		if seen[at] {
			continue
		}
		seen[at] = true
		text, placement := word("off", m.lang), "above"
		if p.Line == passage.Feet {
			text, placement = word("offpedal", m.lang), "below"
		}
		m.add(Compass, p.First.Staff, p.First.Note.Onset, placement, text)
	}
}
