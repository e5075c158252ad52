// Package mark writes a plan into the score: in square brackets and italics,
// as editions show what an editor added, and only where what is given differs
// from what is printed.
package mark

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
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
	Placement string           // "above" or "below"
	Text      string           // with its brackets
	Shifts    []*Shift         // what is played in another octave from here on, for Octave
	Replaces  []*etree.Element // the printed directions that it stands for
}

// PedalMarks is how a passage in another octave is written.
type PedalMarks string

// An octave line over unmoved noteheads, the notes written out, or words only.
const (
	OctaveLine PedalMarks = "line"
	WrittenOut PedalMarks = "written"
	WordsOnly  PedalMarks = "words"
)

// Of lists the marks of a plan in the order of time.
func Of(plan *resolve.Plan) []Mark {
	m := &marker{
		plan: plan, lang: plan.Asked.Lang,
		said: map[passage.Division]string{}, at: map[passage.Line]whereabouts{},
		couplersSaid: map[string]bool{}, marked: map[*Shift]bool{},
	}
	m.findShifts()
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
	slices.SortStableFunc(m.marks, func(a, b Mark) int { return a.Time.Cmp(b.Time) })
	return m.marks
}

// marker collects the marks of a plan.
type marker struct {
	plan  *resolve.Plan
	lang  string
	marks []Mark

	said         map[passage.Division]string // what the last mark said of each division
	at           map[passage.Line]whereabouts
	couplersSaid map[string]bool
	shifts       []*Shift // in time order
	marked       map[*Shift]bool
}

// whereabouts is where a hand or the feet were last.
type whereabouts struct {
	asked    passage.Division
	keyboard string
	by       passage.Line
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
	lines := linesOn(s, p)
	if len(lines) == 0 && len(p.Asked.Voices) == 0 {
		return
	}
	goes := m.goes(lines)
	text, differs := m.describe(p, lines, goes || handsApart(s)), m.differs(p, lines)
	before := m.said[p.Asked.Division]
	shifts := m.beginning(s, lines)
	switch {
	case differs && text != before, !differs && before != "" && !asksAnew(s, p.Asked.Division) && text != before:
		m.said[p.Asked.Division] = text
	case len(shifts) > 0:
		text = octaveWord(p.Octave, m.lang)
	case goes:
		text = m.whereTo(p, lines)
	default:
		text = ""
	}
	if !differs {
		delete(m.said, p.Asked.Division)
	}
	if text == "" {
		return
	}
	staff, placement := m.place(p.Asked.Division, lines)
	when, kind := s.Passage.Start, Stops
	switch {
	case len(shifts) > 0:
		kind, when = Octave, shifts[0].start()
	case goes:
		kind, when = Manual, firstNote(s, lines)
	case p.Host != nil:
		when = changeTime(s, lines, m.plan.Asked.Layout)
	}
	mark := m.add(kind, staff, when, placement, text)
	mark.Shifts = shifts
	if differs {
		mark.Replaces = asking(s, p.Asked.Division)
	}
}

// goes notes where the lines are, and reports whether one of them is elsewhere
// than the print sends it, or has come back from there.
func (m *marker) goes(lines []*resolve.Line) bool {
	goes := false
	for _, line := range lines {
		if line.Keyboard == nil || len(line.Asked.Notes) == 0 {
			continue
		}
		now := whereabouts{line.Asked.Division, line.Keyboard.Name, line.By}
		for _, player := range playersOf(line.Asked.Line) {
			was, known := m.at[player]
			m.at[player] = now
			strays := m.plan.Moved(line.Part) || line.By != line.Asked.Line
			switch {
			case !known || was.asked != now.asked:
				goes = goes || strays
			default:
				goes = goes || was.keyboard != now.keyboard || was.by != now.by
			}
		}
	}
	return goes
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
// the pedal below its own, and what is the left hand's alone at its staff.
func (m *marker) place(d passage.Division, lines []*resolve.Line) (*passage.Staff, string) {
	l := m.plan.Asked.Layout
	if d == passage.Pedal {
		if s := l.Of(passage.Feet); s != nil {
			return s, "below"
		}
		if l.Shared != nil {
			return l.Shared, "below"
		}
	}
	if len(lines) == 1 && lines[0].Asked.Line == passage.LH {
		if s := l.Of(passage.LH); s != nil && s == l.Shared {
			return s, "above"
		} else if s != nil {
			return s, "below"
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
		staff, placement := m.place(passage.Pedal, nil)
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
		staff, placement := m.place(c.To, nil)
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
