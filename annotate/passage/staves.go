package passage

import (
	"fmt"
	"slices"

	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/division"
)

// A Staff is one staff of the organ's and who plays from it.
type Staff struct {
	Part     *musicxml.Part
	Number   int // within the part, from 1
	Line     Line
	KeyShift int           // octaves from the pitch in the file up to the key that is printed
	Called   division.Role // the division that its part is called after, None if none
	Evidence []string      // why it is taken for this line, in words

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
	Aside  []*Staff // the organ's staves that nobody plays from: ossias, cues; Evidence says why
	Others []string // names of the parts that are not the organ's

	feet  map[*musicxml.Note]bool // of the shared staff: the notes that the feet play
	turns []turn
}

// A Span is a stretch of time, from Start up to but not including End.
type Span struct{ Start, End musicxml.Time }

// Contains reports whether the moment lies in the span.
func (s Span) Contains(t musicxml.Time) bool { return !t.Less(s.Start) && t.Less(s.End) }

// Of returns the staff that the line plays from, nil if none; a hand that
// shares the one manual staff gets that. Where a line has several staves it is
// the first.
func (l *Layout) Of(line Line) *Staff {
	if all := l.AllOf(line); len(all) > 0 {
		return all[0]
	}
	return nil
}

// AllOf returns the staves that the line plays from, in score order.
func (l *Layout) AllOf(line Line) []*Staff {
	var own, shared []*Staff
	for _, s := range l.Staves {
		switch {
		case s.Line == line:
			own = append(own, s)
		case s.Line == Both && (line == RH || line == LH):
			shared = append(shared, s)
		}
	}
	if len(own) > 0 {
		return own
	}
	return shared
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
// which decides about parts whose names say nothing. A choice that names a
// staff which the score has not is an error.
func FindStaves(score *musicxml.Score, choice Choice, asks func(*musicxml.Part) bool) (*Layout, []Finding, error) {
	if err := choice.check(score); err != nil {
		return nil, nil, err
	}
	f := &partFinder{score: score, choice: choice, asks: asks}
	l := &Layout{}
	parts, others := f.findParts()
	l.Others = others
	parts, findings := l.oneOrgan(score, choice, parts)
	a := &assigner{layout: l, score: score, asks: asks, several: f.calledAfterManuals()}
	for _, p := range parts {
		for n := 1; n <= max(1, p.Staves); n++ {
			a.add(p, n, choice)
		}
	}
	a.assign()
	l.findTurns()
	for _, s := range l.AllOf(Feet) {
		s.findKeyShift()
	}
	return l, findings, nil
}

// oneOrgan leaves the parts of one organ where the score has several: those of
// the one that is chosen by hand, else of the first.
func (l *Layout) oneOrgan(score *musicxml.Score, choice Choice, parts []*scorePart) ([]*scorePart, []Finding) {
	organs := organsOf(parts)
	if len(organs) < 2 {
		return parts, nil
	}
	chosen := organs[0]
	for _, organ := range organs {
		if slices.ContainsFunc(organ, func(p *scorePart) bool { return choice.names(score, p.Part) }) {
			chosen = organ
			break
		}
	}
	var findings []Finding
	for _, organ := range organs {
		if organ[0] == chosen[0] {
			continue
		}
		for _, p := range organ {
			l.Others = append(l.Others, p.Part.Name)
		}
		findings = append(findings, Finding{
			ID:       "second-organ",
			Text:     fmt.Sprintf("The score has another organ, %q; only %q is read.", organ[0].Part.Name, chosen[0].Part.Name),
			Remedies: []string{fmt.Sprintf("Name its staves to have that one: --rh %s.1", organ[0].ID)},
		})
	}
	return chosen, findings
}

// organsOf tells several organs apart: another one begins with a part that is
// called an organ and has the manuals' staves, where the one before has its own.
func organsOf(parts []*scorePart) [][]*scorePart {
	var organs [][]*scorePart
	manuals := false
	for _, p := range parts {
		whole := p.Staves >= 2 && p.name[organKind] && !p.name[pedalKind] && p.role == division.None
		if len(organs) == 0 || whole && manuals {
			organs = append(organs, nil)
			manuals = false
		}
		organs[len(organs)-1] = append(organs[len(organs)-1], p)
		manuals = manuals || p.Staves >= 2 && !p.isPedalPart()
	}
	return organs
}
