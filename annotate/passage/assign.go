package passage

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

// An assigner gives each staff of an organ its line.
type assigner struct {
	layout *Layout
	score  *musicxml.Score
	asks   func(*musicxml.Part) bool
	parts  map[*Staff]*scorePart
	fixed  map[Line]bool // the lines that were given by hand

	several bool // several parts are called after manuals, so that "Grand-Orgue" is one
}

// add enters one staff, aside if nobody plays from it.
func (a *assigner) add(p *scorePart, number int, choice Choice) {
	s := &Staff{Part: p.Part, Number: number}
	if p.role != division.None && (!p.name[organKind] || a.several) {
		s.Called = p.role
	}
	if p.why != "" {
		s.Evidence = []string{p.why}
	}
	if line, flag := choice.lineOf(a.score, s); line != "" {
		s.Line, s.Evidence = line, []string{flag + " says so"}
		if a.fixed == nil {
			a.fixed = map[Line]bool{}
		}
		for _, l := range handsIn(line) {
			a.fixed[l] = true
		}
	} else if why := aside(s); why != "" && p.Staves > 1 {
		s.Evidence = []string{why}
		a.layout.Aside = append(a.layout.Aside, s)
		return
	}
	if a.parts == nil {
		a.parts = map[*Staff]*scorePart{}
	}
	a.parts[s] = p
	a.layout.Staves = append(a.layout.Staves, s)
}

// aside says why nobody plays from a staff, "" if somebody does: it is an
// ossia, or all its notes are cues.
func aside(s *Staff) string {
	switch staffType(s) {
	case "ossia":
		return "it is an ossia"
	case "cue":
		return "it shows cues"
	}
	cues := false
	for _, n := range s.Part.Notes {
		if n.Staff != s.Number || !n.HasPitch {
			continue
		}
		if !n.Cue {
			return ""
		}
		cues = true
	}
	if cues {
		return "all its notes are cues"
	}
	return ""
}

// staffType is the <staff-type> that the part's first measure gives the staff.
func staffType(s *Staff) string {
	if len(s.Part.Measures) == 0 || !s.Part.Measures[0].Elem.Exists() {
		return ""
	}
	for attributes := range s.Part.Measures[0].Elem.All("attributes") {
		for d := range attributes.All("staff-details") {
			if number := d.AttrOr("number", "1"); number != fmt.Sprint(s.Number) {
				continue
			}
			if t := d.Child("staff-type"); t.Exists() {
				return strings.TrimSpace(t.Text())
			}
		}
	}
	return ""
}

// assign gives the feet their staves, then the hands theirs.
func (a *assigner) assign() {
	var hands []*Staff
	for i, s := range a.layout.Staves {
		if s.Line != "" {
			continue
		}
		if why := a.forFeet(s, i, len(hands)); why != "" && !a.fixed[Feet] {
			s.say(Feet, why)
		} else {
			hands = append(hands, s)
		}
	}
	a.assignHands(hands)
}

// forFeet says why a staff is the feet's, "" if it is not.
func (a *assigner) forFeet(s *Staff, i, handsAbove int) string {
	p := a.parts[s]
	last := s.lastOfPart(a.layout)
	pedal := (p.name[pedalKind] || p.role == division.Pedal) && !p.name[manualKind] && !p.name[rightKind] && !p.name[leftKind]
	lowest := i == len(a.layout.Staves)-1
	switch {
	case pedal && p.Staves <= 2:
		return fmt.Sprintf("the part is called %q", p.Part.Name)
	case s.hasFeetMarks():
		return "heel and toe marks stand in it"
	case p.Staves >= 3 && last && s.Number > 2 && lowClef(s.Part, s.Number) && s.inPedalRange():
		return fmt.Sprintf("it is the lowest of %d staves, has an F clef and stays within a pedalboard's range", p.Staves)
	case p.Staves >= 3 && last && s.Number > 2 && a.pedalTexts(s):
		return fmt.Sprintf("it is the lowest of %d staves, and directions for the pedal stand at it", p.Staves)
	case p.Staves >= 3 && last && s.Number > 2 && s.clef() != "G" && s.inPedalRange():
		return fmt.Sprintf("it is the lowest of %d staves and stays within a pedalboard's range", p.Staves)
	case p.Staves == 1 && lowest && handsAbove >= 2 && !p.name[manualKind] && !p.name[leftKind] && !namedManual(p.role) && lowClef(s.Part, 1) && s.inPedalRange():
		return "it stands alone under the manuals' staves, with an F clef and a pedalboard's range"
	case p.Staves == 1 && lowest && handsAbove >= 1 && a.pedalTexts(s) && s.inPedalRange():
		return "it is the lowest staff, and directions for the pedal stand at it"
	}
	return ""
}

// namedManual reports whether a part is called after a manual.
func namedManual(r division.Role) bool { return r != division.None && r != division.Pedal }

// lastOfPart reports whether the staff is the lowest of its part that is
// played from.
func (s *Staff) lastOfPart(l *Layout) bool {
	for n := s.Number + 1; n <= s.Part.Staves; n++ {
		if !slices.ContainsFunc(l.Aside, func(x *Staff) bool { return x.Part == s.Part && x.Number == n }) {
			return false
		}
	}
	return true
}

// pedalTexts reports whether directions at the staff name the pedal and none
// names a manual.
func (a *assigner) pedalTexts(s *Staff) bool {
	pedal := false
	for _, g := range s.Part.DirectionGroups() {
		if g.Staff != s.Number || g.Text == "" {
			continue
		}
		for _, st := range direction.Read(g.Text, direction.Context{Pedal: true}).Statements {
			switch {
			case st.Division == division.Pedal, st.Verb == direction.Play && st.Hand == direction.Feet && st.State == "pedal":
				pedal = true
			case st.Verb == direction.Play, st.Verb == direction.Set && st.Division != division.None:
				return false
			}
		}
	}
	return pedal
}

// assignHands gives the manual staves to the hands.
func (a *assigner) assignHands(hands []*Staff) {
	free := func(line Line) bool { return !a.fixed[line] }
	switch {
	case len(hands) == 0:
	case !free(RH) && !free(LH):
		for _, s := range hands {
			s.Evidence = []string{"both hands have the staves that they were given"}
			a.layout.Aside = append(a.layout.Aside, s)
		}
		a.layout.Staves = slices.DeleteFunc(a.layout.Staves, func(s *Staff) bool { return s.Line == "" })
	case !free(RH):
		for _, s := range hands {
			s.say(LH, "the right hand has another")
		}
	case !free(LH):
		for _, s := range hands {
			s.say(RH, "the left hand has another")
		}
	case len(hands) == 1:
		s := hands[0]
		k := a.parts[s].name
		switch {
		case k[rightKind] && !k[leftKind]:
			s.say(RH, "the part is called %q", s.Part.Name)
		case k[leftKind] && !k[rightKind]:
			s.say(LH, "the part is called %q", s.Part.Name)
		default:
			s.say(Both, "it is the only manual staff")
		}
	case len(hands) == 2:
		upper, lower := hands[0], hands[1]
		if u, l := a.parts[upper].name, a.parts[lower].name; upper.Part != lower.Part && (u[leftKind] && !u[rightKind] || l[rightKind] && !l[leftKind]) {
			lower.say(RH, "the part is called %q", lower.Part.Name)
			upper.say(LH, "the part is called %q", upper.Part.Name)
			return
		}
		upper.say(RH, "it is the upper manual staff")
		lower.say(LH, "it is the lower manual staff")
	default:
		a.assignMany(hands)
	}
}

// assignMany gives three and more manual staves to the hands: of a part of two
// staves, the upper to the right hand and the lower to the left; of others the
// first to the right hand, the last to the left, and what stands between to
// the hand whose own staff rests more while it plays.
func (a *assigner) assignMany(hands []*Staff) {
	first, last := hands[0], hands[len(hands)-1]
	for i, s := range hands {
		own := 0
		for _, o := range hands {
			if o.Part == s.Part {
				own++
			}
		}
		k := a.parts[s].name
		switch {
		case own == 2 && s.Part.Staves <= 3:
			if i+1 < len(hands) && hands[i+1].Part == s.Part {
				s.say(RH, "it is the upper staff of its part")
			} else {
				s.say(LH, "it is the lower staff of its part")
			}
		case k[rightKind] && !k[leftKind]:
			s.say(RH, "the part is called %q", s.Part.Name)
		case k[leftKind] && !k[rightKind]:
			s.say(LH, "the part is called %q", s.Part.Name)
		case s == first:
			s.say(RH, "it is the highest manual staff")
		case s == last:
			s.say(LH, "it is the lowest manual staff")
		case together(s, last) < together(s, first):
			s.say(LH, "the left hand rests in its other staff more than the right hand does while this one is played")
		default:
			s.say(RH, "the right hand rests in its other staff while this one is played")
		}
	}
}

// together is in how many places notes of one staff begin while another sounds.
func together(s, other *Staff) int {
	n := 0
	for _, note := range s.notes().notes {
		if other.soundsAt(note.Onset) {
			n++
		}
	}
	return n
}

func (s *Staff) say(line Line, format string, args ...any) {
	s.Line = line
	if len(args) > 0 {
		format = fmt.Sprintf(format, args...)
	}
	s.Evidence = append(s.Evidence, format)
}

// inPedalRange reports whether the staff's notes could be the feet's, in the
// printed octave or in that of an exporter that writes an octave low: all but
// a few stray ones.
func (s *Staff) inPedalRange() bool {
	all := s.keys()
	if len(all) == 0 {
		return true
	}
	const highest, widest, lowestTop = 72, 40, 60 // C5; C2 to E5; C4
	stray := len(all) / 50
	low, high := all[stray], all[len(all)-1-stray]
	return high <= highest && high-low <= widest && low < lowestTop
}

// keys are the MIDI numbers of the staff's notes as the file has them, ascending.
func (s *Staff) keys() []int {
	var all []int
	for _, n := range s.notes().notes {
		all = append(all, n.Pitch.MIDI())
	}
	sort.Ints(all)
	return all
}

// hasFeetMarks reports whether heel or toe marks stand in a staff that the
// feet could play.
func (s *Staff) hasFeetMarks() bool {
	return slices.ContainsFunc(s.notes().notes, func(n *musicxml.Note) bool { return n.Heel || n.Toe }) && s.inPedalRange()
}

// clef is the sign of the staff's first clef, "" if it has none.
func (s *Staff) clef() string {
	for _, c := range s.Part.Clefs {
		if c.Staff == s.Number {
			return c.Sign
		}
	}
	return ""
}

func lowClef(p *musicxml.Part, staff int) bool {
	return (&Staff{Part: p, Number: staff}).clef() == "F"
}
