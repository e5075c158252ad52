package passage

import (
	"fmt"
	"sort"
	"strings"

	"stopgap/musicxml"
	"stopgap/registry"
)

// A Staff is one staff of the organ's and who plays from it.
type Staff struct {
	Part     *musicxml.Part
	Number   int // within the part, from 1
	Line     Line
	KeyShift int      // octaves from the pitch in the file up to the key that is printed
	Evidence []string // why it is taken for this line, in words

	played *staffNotes
}

// ID names the staff as --pedal-staff, --rh and --lh do: part and staff, "P1.3".
func (s *Staff) ID() string { return fmt.Sprintf("%s.%d", s.Part.ID, s.Number) }

// Key is the key that a note on this staff asks for.
func (s *Staff) Key(n *musicxml.Note) registry.Key {
	return registry.Key(n.Pitch.MIDI() + 12*s.KeyShift)
}

// A Layout is which staves of a score are the organ's, and whose.
type Layout struct {
	Staves []*Staff // in score order
	// Shared is the bass staff that also holds the pedal part, nil where the
	// pedal has a staff of its own or there is none; Spans says where the feet
	// play in it.
	Shared *Staff
	Spans  []Span
	Others []string // names of the parts that are not the organ's
}

// A Span is a stretch of time, from Start up to but not including End.
type Span struct{ Start, End musicxml.Time }

// Contains reports whether the moment lies in the span.
func (s Span) Contains(t musicxml.Time) bool { return !t.Less(s.Start) && t.Less(s.End) }

// Choice names staves by hand; empty fields leave the choice to the evidence.
type Choice struct{ Pedal, RH, LH string }

// Of returns the staff that the line plays from, nil if none; a hand that
// shares the one manual staff gets that.
func (l *Layout) Of(line Line) *Staff {
	for _, s := range l.Staves {
		if s.Line == line {
			return s
		}
	}
	if line == RH || line == LH {
		for _, s := range l.Staves {
			if s.Line == Both {
				return s
			}
		}
	}
	return nil
}

// StaffOf returns the organ staff that stands in the part under the number, nil if none.
func (l *Layout) StaffOf(p *musicxml.Part, number int) *Staff {
	for _, s := range l.Staves {
		if s.Part == p && s.Number == number {
			return s
		}
	}
	return nil
}

// HasPedal reports whether the feet play anywhere.
func (l *Layout) HasPedal() bool { return l.Of(Feet) != nil || l.Shared != nil }

// FindStaves decides which staves are the organ's and who plays from each.
// asks tells whether a part holds directions that only an organ can follow,
// which decides about parts whose names say nothing.
func FindStaves(score *musicxml.Score, choice Choice, asks func(*musicxml.Part) bool) (*Layout, error) {
	l := &Layout{}
	var organ []*musicxml.Part
	kinds := map[*musicxml.Part]map[kind]bool{}
	for _, p := range score.Parts {
		kinds[p] = kindsOf(p)
	}
	named := false
	for _, p := range score.Parts {
		k := kinds[p]
		if k[organKind] || ((k[pedalKind] || k[manualKind]) && !k[singerKind] && !k[instrumentKind]) {
			named = true
		}
	}
	chosen := func(p *musicxml.Part) bool {
		for _, id := range []string{choice.Pedal, choice.RH, choice.LH} {
			if part, _, ok := splitStaffID(score, id); ok && part == p {
				return true
			}
		}
		return false
	}
	for i, p := range score.Parts {
		if chosen(p) || isOrgan(score, i, kinds, named, asks) {
			organ = append(organ, p)
		} else {
			l.Others = append(l.Others, strings.TrimSpace(p.Name))
		}
	}
	// A part that only serves the organ's neighbours (a lone pedal line under a
	// string quartet) is no organ: some hand or foot of an organ must be meant.
	for _, p := range organ {
		for n := 1; n <= max(1, p.Staves); n++ {
			l.Staves = append(l.Staves, &Staff{Part: p, Number: n})
		}
	}
	if len(l.Staves) == 0 {
		return l, choiceErrors(score, choice)
	}
	l.assign(kinds)
	if err := l.apply(score, choice); err != nil {
		return nil, err
	}
	for _, s := range l.Staves {
		if s.Line == Feet {
			s.findKeyShift()
		}
	}
	return l, nil
}

// isOrgan weighs one part. A name decides where it says something; a part
// whose name is empty or a program's filler is the organ's if no part is
// named for the organ and it looks like one, or stands under a hand's staff.
func isOrgan(score *musicxml.Score, i int, kinds map[*musicxml.Part]map[kind]bool, named bool, asks func(*musicxml.Part) bool) bool {
	p := score.Parts[i]
	k := kinds[p]
	switch {
	case k[organKind]:
		return true
	case k[singerKind] || k[instrumentKind]:
		// "Solo", "Bass" or "Flûtes 16, 8" may name a hand's registration.
		return named && asks(p) && !isLyric(p)
	case k[pedalKind], k[manualKind]:
		return true
	case k[rightKind], k[leftKind]:
		return true
	case k[pianoKind]:
		return !named && asks(p)
	}
	if named {
		// An unnamed staff between or under named ones belongs with them.
		return asks(p)
	}
	switch {
	case p.Staves >= 3:
		return true
	case p.Staves == 2:
		return len(score.Parts) <= 3 || asks(p)
	}
	return asks(p) || neighbourHasManuals(score, i, kinds)
}

// neighbourHasManuals reports whether the part stands right under an unnamed
// two-stave part, as a pedal part without a name does.
func neighbourHasManuals(score *musicxml.Score, i int, kinds map[*musicxml.Part]map[kind]bool) bool {
	if i == 0 || i != len(score.Parts)-1 {
		return false
	}
	above := score.Parts[i-1]
	return above.Staves == 2 && lowClef(score.Parts[i], 1) && !kinds[above][pianoKind]
}

// isLyric reports whether somebody sings from the part.
func isLyric(p *musicxml.Part) bool {
	for _, n := range p.Notes {
		if n.Elem != nil && n.Elem.SelectElement("lyric") != nil {
			return true
		}
	}
	return false
}

// assign gives each staff its line.
func (l *Layout) assign(kinds map[*musicxml.Part]map[kind]bool) {
	var hands []*Staff
	for i, s := range l.Staves {
		k := kinds[s.Part]
		last := s.Number == max(1, s.Part.Staves)
		switch {
		case k[pedalKind] && !k[manualKind] && s.Part.Staves <= 1:
			s.say(Feet, "the part is called %q", s.Part.Name)
		case s.Part.Staves >= 3 && last && lowClef(s.Part, s.Number) && s.inPedalRange():
			s.say(Feet, "it is the lowest of %d staves, has an F clef and stays within a pedalboard's range", s.Part.Staves)
		case s.Part.Staves == 1 && i > 0 && i == len(l.Staves)-1 && len(hands) >= 2 && !k[manualKind] && lowClef(s.Part, 1) && s.inPedalRange():
			s.say(Feet, "it stands alone under the manuals' staves, with an F clef and a pedalboard's range")
		case s.hasFeetMarks():
			s.say(Feet, "heel and toe marks stand in it")
		default:
			hands = append(hands, s)
		}
	}
	for i, s := range hands {
		k := kinds[s.Part]
		switch {
		case len(hands) == 1:
			s.say(Both, "it is the only manual staff")
		case k[rightKind] && !k[leftKind] && s.Part.Staves <= 1, i == 0:
			s.say(RH, "it is the upper manual staff")
		default:
			s.say(LH, "it is the lower manual staff")
		}
	}
	if len(hands) >= 3 && l.Of(Feet) == nil {
		// Three one-staff hands and no pedal by name: the lowest, if it can be.
		if s := hands[len(hands)-1]; lowClef(s.Part, s.Number) && s.inPedalRange() {
			s.Evidence = nil
			s.say(Feet, "it is the lowest staff, with an F clef and a pedalboard's range")
		}
	}
}

func (s *Staff) say(line Line, format string, args ...any) {
	s.Line = line
	s.Evidence = append(s.Evidence, fmt.Sprintf(format, args...))
}

// inPedalRange reports whether the staff's notes could all be the feet's, in
// the printed octave or in that of an exporter that writes an octave low.
func (s *Staff) inPedalRange() bool {
	low, high, ok := s.rangeOf()
	if !ok {
		return true
	}
	return high <= 72 && high-low <= 40 && low < 60
}

// rangeOf is the lowest and highest MIDI number in the staff as the file has it.
func (s *Staff) rangeOf() (low, high int, ok bool) {
	for _, n := range s.notes().notes {
		m := n.Pitch.MIDI()
		if !ok || m < low {
			low = m
		}
		if !ok || m > high {
			high = m
		}
		ok = true
	}
	return low, high, ok
}

// findKeyShift tells whether the file has the pedal an octave lower than the
// keys: some exporters give the pedal staff an F clef with
// <clef-octave-change>-1 and write what a 16′ stop sounds. Clef and range
// together decide; no pedalboard goes below C2 (see the compass standards in
// registry), so notes below it cannot be keys.
func (s *Staff) findKeyShift() {
	low, high, ok := s.rangeOf()
	if !ok {
		return
	}
	const lowestKey, highestKey = 36, 67 // C2, and G4 of the 32-key pedalboard
	switch octaveClef := s.octaveClef(); {
	case octaveClef == -1 && (low < lowestKey || high+12 <= highestKey):
		s.KeyShift = 1
		s.Evidence = append(s.Evidence, "its clef is an F clef with an 8 below and the pitches lie an octave low, so the keys are an octave above the pitches in the file")
	case octaveClef == 0 && low < lowestKey && low >= lowestKey-12 && high+12 <= highestKey && belowShare(s, lowestKey) > 0.2:
		s.KeyShift = 1
		s.Evidence = append(s.Evidence, "its pitches lie below every pedalboard, so the keys are an octave above the pitches in the file")
	}
}

func belowShare(s *Staff, key int) float64 {
	below, all := 0, 0
	for _, n := range s.notes().notes {
		all++
		if n.Pitch.MIDI() < key {
			below++
		}
	}
	return float64(below) / float64(max(1, all))
}

// octaveClef is the octave change of the staff's first F clef, 0 if plain.
func (s *Staff) octaveClef() int {
	for _, c := range s.Part.Clefs {
		if c.Staff == s.Number && c.Sign == "F" {
			return c.OctaveChange
		}
	}
	return 0
}

func (s *Staff) hasFeetMarks() bool {
	for _, n := range s.notes().notes {
		if n.Heel || n.Toe {
			return s.inPedalRange()
		}
	}
	return false
}

func lowClef(p *musicxml.Part, staff int) bool {
	for _, c := range p.Clefs {
		if c.Staff == staff {
			return c.Sign == "F"
		}
	}
	return false
}

// apply carries out what the player chose by hand.
func (l *Layout) apply(score *musicxml.Score, choice Choice) error {
	for _, c := range []struct {
		flag, id string
		line     Line
	}{{"--pedal-staff", choice.Pedal, Feet}, {"--rh", choice.RH, RH}, {"--lh", choice.LH, LH}} {
		if c.id == "" {
			continue
		}
		part, number, ok := splitStaffID(score, c.id)
		if !ok {
			return unknownStaff(score, c.flag, c.id)
		}
		for _, s := range l.Staves {
			switch {
			case s.Part == part && s.Number == number:
				s.Line, s.Evidence = c.line, []string{c.flag + " says so"}
			case s.Line == c.line:
				s.Line = map[Line]Line{Feet: LH, RH: LH, LH: RH}[c.line]
			case s.Line == Both && c.line != Feet:
				s.Line = map[Line]Line{RH: LH, LH: RH}[c.line]
			}
		}
	}
	return nil
}

func choiceErrors(score *musicxml.Score, choice Choice) error {
	for flag, id := range map[string]string{"--pedal-staff": choice.Pedal, "--rh": choice.RH, "--lh": choice.LH} {
		if _, _, ok := splitStaffID(score, id); id != "" && !ok {
			return unknownStaff(score, flag, id)
		}
	}
	return nil
}

func unknownStaff(score *musicxml.Score, flag, id string) error {
	var ids []string
	for _, p := range score.Parts {
		for n := 1; n <= max(1, p.Staves); n++ {
			ids = append(ids, fmt.Sprintf("%s.%d", p.ID, n))
		}
	}
	sort.Strings(ids)
	return fmt.Errorf("%s %s: the score has no such staff; it has %s", flag, id, strings.Join(ids, ", "))
}

// splitStaffID reads "P1.3"; a part's ID alone means its first staff.
func splitStaffID(score *musicxml.Score, id string) (*musicxml.Part, int, bool) {
	if id == "" {
		return nil, 0, false
	}
	for _, p := range score.Parts {
		if p.ID == id {
			return p, 1, true
		}
		for n := 1; n <= max(1, p.Staves); n++ {
			if id == fmt.Sprintf("%s.%d", p.ID, n) {
				return p, n, true
			}
		}
	}
	return nil, 0, false
}
