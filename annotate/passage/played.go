package passage

import (
	"slices"
	"sort"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// play gives the passage's lines their notes, joins the hands where they play
// in one place, and settles what each line is for.
func (p *Passage) play(l *Layout) {
	var lines []*Played
	for _, line := range p.Lines {
		if line.Line == Feet && p.FeetOff && l.Shared != nil {
			continue
		}
		line.Notes = l.NotesOf(line.Line, p.Span)
		if len(line.Notes) > 0 {
			lines = append(lines, line)
		}
	}
	if len(lines) >= 2 && lines[0].Line == RH && lines[1].Line == LH && lines[0].Division == lines[1].Division {
		both := *lines[0]
		both.Line = Both
		both.Notes = append(slices.Clone(lines[0].Notes), lines[1].Notes...)
		sortNotes(both.Notes)
		lines = append([]*Played{&both}, lines[2:]...)
	}
	if len(lines) > 0 && lines[0].Line == RH && l.Of(RH) != nil && l.Of(RH).Line == Both {
		lines[0].Line = Both
	}
	p.Lines = lines
	p.settleRoles()
	p.keepSounding()
	for _, line := range p.Lines {
		if a := p.Asked(line.Division); a != nil && (a.Box == "opening" || a.Box == "closing" || l.swells(line.Line, p.Span)) {
			a.Swells = true
		}
	}
}

// swells reports whether a hairpin moves the line during the span.
func (l *Layout) swells(line Line, span Span) bool {
	for _, h := range handsIn(line) {
		s := l.Of(h)
		if s == nil {
			continue
		}
		all := s.Part.Directions
		for i := sort.Search(len(all), func(i int) bool { return !all[i].Time.Less(span.Start) }); i < len(all) && all[i].Time.Less(span.End); i++ {
			for _, w := range all[i].Wedges {
				if all[i].Staff == s.Number && (w.Type == "crescendo" || w.Type == "diminuendo") {
					return true
				}
			}
		}
	}
	return false
}

// handsIn are the hands, or the feet, that a line is made of.
func handsIn(line Line) []Line {
	if line == Both {
		return []Line{RH, LH}
	}
	return []Line{line}
}

// keepSounding leaves in Drawn what can be heard: the divisions that a line
// plays, and those that are coupled to one.
func (p *Passage) keepSounding() {
	heard := map[Division]bool{}
	for _, line := range p.Lines {
		heard[line.Division] = true
	}
	for changed := true; changed; {
		changed = false
		for _, c := range p.Couplings {
			if heard[c.To] && !heard[c.From] {
				heard[c.From], changed = true, true
			}
		}
	}
	every := heard[Division{Role: division.Every}]
	p.Drawn = slices.DeleteFunc(p.Drawn, func(a *Asked) bool { return !heard[a.Division] && !every })
	p.Couplings = slices.DeleteFunc(p.Couplings, func(c Coupling) bool { return !heard[c.To] && c.To.Role != division.Every })
	for _, line := range p.Lines {
		if p.Asked(line.Division) == nil {
			p.Drawn = append(p.Drawn, &Asked{Division: line.Division})
		}
	}
}

// NotesOf is what a line plays during the span: every note that begins in it,
// and those that sound on into its start.
func (l *Layout) NotesOf(line Line, span Span) []Pressed {
	s := l.Of(line)
	if s == nil && line == Feet {
		s = l.Shared
	}
	if s == nil || line == LH && s.Line == Both {
		return nil
	}
	var out []Pressed
	for _, n := range s.sounding(span) {
		if s == l.Shared && l.byFeet(n) != (line == Feet) {
			continue
		}
		out = append(out, Pressed{Key: s.Key(n), Note: n, Staff: s, Struck: s.struck(n)})
	}
	sortNotes(out)
	return out
}

func sortNotes(notes []Pressed) {
	sort.SliceStable(notes, func(i, j int) bool {
		if c := notes[i].Note.Onset.Cmp(notes[j].Note.Onset); c != 0 {
			return c < 0
		}
		return notes[i].Key < notes[j].Key
	})
}

// settleRoles decides what each line is for where no text says it: a lone
// voice over chords is a solo, two lone voices over a pedal are a trio, and
// the feet have the bass unless what they draw can only be a solo.
func (p *Passage) settleRoles() {
	var hands []*Played
	for _, line := range p.Lines {
		if line.Line == Feet {
			if line.Role == "" {
				line.Role = Bass
				if a := p.Asked(Pedal); a != nil && soloPedal(a.Voices) && !p.coupledToPedal() {
					line.Role = Solo
				}
			}
		} else {
			hands = append(hands, line)
		}
	}
	led := slices.ContainsFunc(p.Lines, func(x *Played) bool { return x.Role == Solo })
	for _, line := range hands {
		if line.Role != "" {
			continue
		}
		switch {
		case led:
			line.Role = Accompaniment
		case len(hands) == 2 && monophonic(line.Notes):
			line.Role = Solo
		case len(hands) == 2 && (monophonic(hands[0].Notes) || monophonic(hands[1].Notes)):
			line.Role = Accompaniment
		default:
			line.Role = Chorus
		}
	}
}

func (p *Passage) coupledToPedal() bool {
	return slices.ContainsFunc(p.Couplings, func(c Coupling) bool { return c.To == Pedal })
}

// soloPedal reports whether a pedal registration leads: nothing at 16′ or
// below, and either one reed or only pitches above 8′.
func soloPedal(voices []direction.Voice) bool {
	if len(voices) == 0 {
		return false
	}
	reeds, high := 0, 0
	for _, v := range voices {
		if v.Pitch.IsZero() || v.Pitch.Cmp(pitch.Foot(16)) >= 0 {
			return false
		}
		if v.Group == direction.Reed {
			reeds++
		}
		if v.Pitch.Cmp(pitch.Foot(8)) < 0 {
			high++
		}
	}
	return high == len(voices) || reeds == len(voices) && reeds == 1
}

// monophonic reports whether no two notes sound at once.
func monophonic(notes []Pressed) bool {
	for i := 1; i < len(notes); i++ {
		if notes[i].Note.Onset.Less(notes[i-1].Note.Onset.Add(notes[i-1].Note.Duration)) && notes[i].Key != notes[i-1].Key && !notes[i].Note.Grace {
			return false
		}
	}
	return len(notes) > 0
}
