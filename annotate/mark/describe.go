package mark

import (
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/division"
)

// differs reports whether what is given for a part is to be marked at all.
func (m *marker) differs(p *resolve.Part, lines []*resolve.Line) bool {
	switch {
	case p.Host == nil:
		return p.Asked.Division == passage.Pedal && len(lines) > 0
	case swapped(lines):
		return true
	case p.Asked.Division.Role == division.None && len(p.Asked.Voices) == 0:
		return false
	}
	return m.plan.Moved(p) || p.Changes()
}

// swapped reports whether hand and feet have changed parts.
func swapped(lines []*resolve.Line) bool {
	return len(lines) == 1 && lines[0].By != lines[0].Asked.Line
}

// describe is the text of a part's mark: who, if that is wanted, where, with
// what, and in which octave, played there or written there.
func (m *marker) describe(p *resolve.Part, lines []*resolve.Line, who, written bool) string {
	if p.Host == nil {
		if p.Asked.Division == passage.Pedal && len(lines) > 0 {
			return word("nopedal", m.lang)
		}
		return ""
	}
	var b strings.Builder
	if who || m.plan.Moved(p) || p.Asked.Division.Role == division.None {
		b.WriteString(m.who(lines))
	}
	b.WriteString(Abbreviation(p.Host))
	b.WriteString(stopsText(p))
	named := len(p.Stops()) > 0
	for _, coupler := range couplersText(p) {
		b.WriteString(", " + coupler)
	}
	if missing := m.missing(p); len(missing) > 0 {
		if named {
			b.WriteString(",")
		}
		b.WriteString(" " + m.without(missing))
	}
	if p.Octave != 0 {
		b.WriteString(", " + octaveWord(p.Octave, written, m.lang))
	}
	return b.String()
}

// stopsText lists the stops of a part: its own, then those that each lending
// division gives, with the couplers.
func stopsText(p *resolve.Part) string {
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
	text := ""
	if len(own) > 0 {
		text = " " + strings.Join(own, ", ")
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
		text += sep + Abbreviation(path.From) + " " + strings.Join(lent[path.From], ", ") + " (" + strings.Join(couplers, ", ") + ")"
	}
	return text
}

// whereTo says that a hand moves, where its stops are as the last mark said or
// as printed.
func (m *marker) whereTo(p *resolve.Part, lines []*resolve.Line) string {
	if p.Host == nil {
		return ""
	}
	return m.who(lines) + Abbreviation(p.Host)
}

// who is the hand's name before what it does, "" where it is plain: both hands,
// or the feet, since the pedal's name says who plays there.
func (m *marker) who(lines []*resolve.Line) string {
	if len(lines) != 1 {
		return ""
	}
	if name := handWord(lines[0].By, m.lang); name != "" {
		return name + " "
	}
	return ""
}

// octaveWord says how many octaves away the notes are to be played, or are
// written.
func octaveWord(octave int, written bool, lang string) string {
	key := map[int]string{1: "up", 2: "up2", -1: "down", -2: "down2"}[max(-2, min(2, octave))]
	if written {
		key = "written-" + key
	}
	return word(key, lang)
}

// asking are the printed directions at the start of a passage that ask for
// stops on the division and on no other.
func asking(s *resolve.Setting, d passage.Division) []musicxml.Element {
	var out []musicxml.Element
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

// asksAnew reports whether a text at the start of the passage draws stops on
// the division, so that the print itself says what is there from now on.
func asksAnew(s *resolve.Setting, d passage.Division) bool {
	for _, t := range s.Passage.Texts {
		for _, st := range t.Reading.Statements {
			draws := st.Verb == direction.Set || st.Verb == direction.Add || st.Verb == direction.Off
			if draws && (st.Division == d.Role || st.Division == division.None) {
				return true
			}
		}
	}
	return false
}

// couplersText are the couplers that bring a manual that is played, or double
// what is drawn, each once.
func couplersText(p *resolve.Part) []string {
	var out []string
	for _, pick := range p.Picks {
		for _, c := range []*registry.Coupler{pick.Joined, pick.Doubled} {
			if c != nil && !slices.Contains(out, Coupler(c)) {
				out = append(out, Coupler(c))
			}
		}
	}
	return out
}

// missing lists what of a part is left out.
func (m *marker) missing(p *resolve.Part) []string {
	var out []string
	for _, pick := range p.Picks {
		if text := m.missingText(pick.Voice); pick.Missing && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

func (m *marker) without(missing []string) string {
	return word("without", m.lang) + " " + strings.Join(missing, ", ")
}

// missingText is a voice that is left out, as it is printed; by its pitch alone
// where the print names only a group, by its family in the score's language
// where the print leaves the name to the reader.
func (m *marker) missingText(v direction.Voice) string {
	if v.Name == "" && !v.Pitch.IsZero() {
		switch v.Group {
		case direction.Any, direction.Foundation:
			return v.Pitch.String() + "′"
		}
		if family := word(string(v.Group), m.lang); family != "" {
			return family + " " + v.Pitch.String()
		}
	}
	return resolve.VoiceText(v)
}
