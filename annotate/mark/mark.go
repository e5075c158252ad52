// Package mark writes a plan into the score: in square brackets and italics,
// as editions show what an editor added, and only where what is given differs
// from what is printed.
package mark

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/division"
)

// A Kind is what a mark is about.
type Kind string

// The kinds of marks.
const (
	Stops   Kind = "stops"
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
	Shift     *Shift           // the passage that is moved by octaves, for Octave
	Replaces  []*etree.Element // the printed directions that it stands for
}

// A Shift is a run of notes that are played in another octave.
type Shift struct {
	Octave int
	Notes  []passage.Pressed
}

// PedalMarks is how a pedal passage in another octave is written.
type PedalMarks string

// An octave line over unmoved noteheads, the notes written out, or words only.
const (
	OctaveLine PedalMarks = "line"
	WrittenOut PedalMarks = "written"
	WordsOnly  PedalMarks = "words"
)

// marker collects the marks of a plan.
type marker struct {
	plan  *resolve.Plan
	lang  string
	marks []Mark
	last  map[passage.Division]string // what the last mark said of each division
	shift map[passage.Division]*Shift // the passage that goes on in another octave
	moved map[passage.Line]int        // the octave each line is in
}

// Of lists the marks of a plan in the order of time.
func Of(plan *resolve.Plan) []Mark {
	m := &marker{plan: plan, lang: plan.Asked.Lang, last: map[passage.Division]string{}, shift: map[passage.Division]*Shift{}, moved: map[passage.Line]int{}}
	noCoupler := map[string]bool{}
	for i, s := range plan.Settings {
		m.octaves(i, s)
		for _, part := range s.Parts {
			m.part(s, part)
		}
		m.follows(s)
		m.couplers(s, noCoupler)
		m.problems(s)
	}
	return m.marks
}

func (m *marker) add(k Kind, staff *passage.Staff, t musicxml.Time, placement, text string, shift *Shift) {
	if staff != nil {
		m.marks = append(m.marks, Mark{Kind: k, Staff: staff, Time: t, Placement: placement, Text: "[" + text + "]", Shift: shift})
	}
}

// part marks what is given for one division, where it differs from what is
// printed and from what the last mark said.
func (m *marker) part(s *resolve.Setting, p *resolve.Part) {
	d := p.Asked.Division
	lines := linesOn(s, p)
	if len(lines) == 0 && len(p.Asked.Voices) == 0 {
		return
	}
	text := m.describe(s, p, lines)
	if text == m.last[d] {
		// What goes on in the other octave belongs to the same passage there.
		if going := m.shift[d]; going != nil {
			for _, line := range lines {
				going.Notes = append(going.Notes, m.shifted(s, line)...)
			}
		}
		return
	}
	m.shift[d] = nil
	m.last[d] = text
	if text == "" {
		return
	}
	kind := Stops
	var shift *Shift
	if p.Octave != 0 {
		kind = Octave
		shift = &Shift{Octave: p.Octave}
		m.shift[d] = shift
		for _, line := range lines {
			shift.Notes = append(shift.Notes, m.shifted(s, line)...)
		}
	}
	when := s.Passage.Start
	if kind == Stops && !m.plan.Moved(p) {
		when = changeTime(s, lines, m.plan.Asked.Layout)
	}
	staff, placement := m.place(d)
	m.add(kind, staff, when, placement, text, shift)
	if staff != nil {
		m.marks[len(m.marks)-1].Replaces = asking(s, d)
	}
}

// asking are the printed directions at the start of a passage that ask for
// stops on the division and on no other.
func asking(s *resolve.Setting, d passage.Division) []*etree.Element {
	var out []*etree.Element
	for _, t := range s.Passage.Texts {
		only := t.Source == passage.Words
		for _, st := range t.Reading.Statements {
			if st.Division != d.Role && st.Division != division.None || st.Verb != direction.Set && st.Verb != direction.Play {
				only = false
			}
		}
		if only {
			out = append(out, t.Elems...)
		}
	}
	return out
}

// describe is the text of a part's mark, "" where everything is as printed.
func (m *marker) describe(s *resolve.Setting, p *resolve.Part, lines []*resolve.Line) string {
	if p.Host == nil {
		if p.Asked.Division == passage.Pedal && len(lines) > 0 {
			return word("nopedal", m.lang)
		}
		return ""
	}
	moved := m.plan.Moved(p)
	if !moved && !p.Changes() {
		return ""
	}
	if p.Asked.Division.Role == division.None && len(p.Asked.Voices) == 0 {
		return ""
	}
	var b strings.Builder
	if (moved || p.Asked.Division.Role == division.None || handsApart(s)) && len(lines) == 1 {
		if h := hand(lines[0].Asked.Line, m.lang); h != "" {
			b.WriteString(h + " ")
		}
	}
	b.WriteString(Abbreviation(p.Host))
	var own []string
	lent := map[*registry.Division][]string{}
	var lenders []resolve.Path
	for _, c := range p.Stops() {
		if c.Path == nil {
			own = append(own, c.Stop.Text)
			continue
		}
		if lent[c.Path.From] == nil {
			lenders = append(lenders, *c.Path)
		}
		lent[c.Path.From] = append(lent[c.Path.From], c.Stop.Text)
	}
	if len(own) > 0 {
		b.WriteString(" " + strings.Join(own, ", "))
	}
	for i, path := range lenders {
		var couplers []string
		for _, c := range path.Couplers {
			couplers = append(couplers, Coupler(c))
		}
		sep := " + "
		if len(own) == 0 && i == 0 {
			sep = ": "
		}
		b.WriteString(sep + Abbreviation(path.From) + " " + strings.Join(lent[path.From], ", ") + " (" + strings.Join(couplers, ", ") + ")")
	}
	for _, pick := range p.Picks {
		if pick.Joined != nil {
			b.WriteString(", " + Coupler(pick.Joined))
		}
	}
	var missing []string
	for _, pick := range p.Picks {
		if pick.Missing {
			missing = append(missing, resolve.VoiceText(pick.Voice))
		}
	}
	if len(missing) > 0 {
		b.WriteString(", " + word("without", m.lang) + " " + strings.Join(missing, ", "))
	}
	switch {
	case p.Octave == 1:
		b.WriteString(", " + word("up", m.lang))
	case p.Octave > 1:
		b.WriteString(", " + word("up2", m.lang))
	case p.Octave < 0:
		b.WriteString(", " + word("down", m.lang))
	}
	return b.String()
}

// octaves marks where a line that was moved comes back to its own octave.
func (m *marker) octaves(i int, s *resolve.Setting) {
	for _, line := range s.Lines {
		before := m.moved[line.Asked.Line]
		m.moved[line.Asked.Line] = line.Octave
		if before != 0 && line.Octave == 0 && i > 0 {
			staff, placement := m.place(line.Asked.Division)
			if line.Part != nil && line.Part.Changes() {
				continue // the mark of the new stops says it by saying nothing of an octave
			}
			m.add(Loco, staff, s.Passage.Start, placement, word("loco", m.lang), nil)
		}
	}
}

// shifted are the notes of a moved line whose pitch data are to move: those
// that begin in the passage.
func (m *marker) shifted(s *resolve.Setting, line *resolve.Line) []passage.Pressed {
	var out []passage.Pressed
	for _, n := range line.Asked.Notes {
		if s.Passage.Contains(n.Note.Onset) {
			out = append(out, n)
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
		if given == nil {
			given = &registry.Coupler{From: from, To: to, Octave: f.Coupling.Octave}
		}
		if given.From == nil || given.To == nil {
			continue
		}
		text := Coupler(given)
		if !f.On {
			text += " " + word("pushed", m.lang)
		}
		texts = append(texts, text)
	}
	if len(texts) > 0 {
		staff, placement := m.place(passage.Pedal)
		m.add(Coupled, staff, s.Passage.Start, placement, strings.Join(texts, ", "), nil)
	}
}

// couplers marks couplers that are not the ones printed, and those that are
// asked for and not there.
func (m *marker) couplers(s *resolve.Setting, said map[string]bool) {
	for _, c := range s.Passage.Couplings {
		given, from, to := m.plan.Coupled(s, c)
		if to == nil || from == nil || from == to {
			continue
		}
		text := ""
		switch {
		case slices.Contains(s.Follows, resolve.Follow{Coupling: c, On: true}):
		case given == nil:
			text = word("without", m.lang) + " " + Coupler(&registry.Coupler{From: from, To: to, Octave: c.Octave})
		case !m.plan.Named(c.From, from) || !m.plan.Named(c.To, to):
			text = Coupler(given)
		}
		if text == "" || said[text] {
			continue
		}
		said[text] = true
		staff, placement := m.place(c.To)
		m.add(Coupled, staff, s.Passage.Start, placement, text, nil)
	}
}

// problems flags the notes that are not on their keyboard.
func (m *marker) problems(s *resolve.Setting) {
	for _, p := range s.Problems {
		if p.Code == resolve.OffCompass && p.First != nil {
			placement := "above"
			if p.Line == passage.Feet {
				placement = "below"
			}
			m.add(Compass, p.First.Staff, p.First.Note.Onset, placement, word("off", m.lang), nil)
		}
	}
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
