package passage

import (
	"cmp"
	"slices"
	"sort"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// play gives the passage's lines their notes, joins the hands where they play
// in one place, and settles what each line is for and how loud it is.
func (p *Passage) play(l *Layout, d *dynamics) {
	var lines []*Played
	for _, line := range p.Lines {
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
	if slices.ContainsFunc(lines, func(x *Played) bool { return x.Line == Feet }) && l.Shared == nil {
		p.FeetOff = false // the pedal's own staff has notes
	}
	p.settleRoles()
	p.keepSounding()
	p.settleLevels(d)
}

// settleLevels takes how loud the lines are from the dynamics, and whether they
// swell. A dynamic counts that stands where the line came to its manual, or the
// stops were listed, or later: an older one was meant for what was before.
func (p *Passage) settleLevels(d *dynamics) {
	since := map[Division]moment{}
	hands := ""
	for _, line := range p.Lines {
		a := p.Asked(line.Division)
		if d.moves(line.Line, p.Span) || a.Box == "opening" || a.Box == "closing" {
			a.Swells = true
		}
		level, at, ok := d.levelOf(line.Line, p.Span)
		switch {
		case ok && (at.Less(line.came) || at.Less(a.listed)):
			continue
		case ok:
			line.Level = level
			if line.Line != Feet {
				hands = level
			}
		case line.Line == Feet && a.Level == "":
			// The feet have no dynamics of their own: they go with the hands.
			line.Level, a.Level = hands, hands
			continue
		}
		if before, known := since[line.Division]; ok && !at.Less(a.said) && (!known || before.Less(at)) {
			a.Level, since[line.Division] = level, at
		}
	}
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
	all := heard[every]
	p.Drawn = slices.DeleteFunc(p.Drawn, func(a *Asked) bool {
		if heard[a.Division] || all && a.Division.Role != division.None && a.Division != Pedal {
			return false
		}
		if len(a.Voices) > 0 || len(a.Prepared) > 0 || a.Box != "" {
			p.Waiting = append(p.Waiting, a)
		}
		return true
	})
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
	var out []Pressed
	for _, s := range l.stavesOf(line) {
		if line == LH && s.Line == Both {
			continue // the right hand has them
		}
		for _, n := range s.sounding(span) {
			if s == l.Shared && l.feet[n] != (line == Feet) {
				continue
			}
			on := s
			if n.Staff != s.Number {
				on = cmp.Or(l.StaffOf(s.Part, n.Staff), s)
			}
			out = append(out, Pressed{Key: s.Key(n), Note: n, Staff: on, Struck: s.struck(n)})
		}
	}
	sortNotes(out)
	return out
}

// stavesOf are the staves on which the notes of a line stand.
func (l *Layout) stavesOf(line Line) []*Staff {
	staves := l.AllOf(line)
	if line == Feet && len(staves) == 0 && l.Shared != nil {
		return []*Staff{l.Shared}
	}
	return staves
}

// Near is so much of a span that no staff of a line has more than so many notes
// in it before a moment, nor after: for what is asked at a moment, in a measure
// of any length.
func (l *Layout) Near(line Line, span Span, t musicxml.Time, most int) Span {
	for _, s := range l.stavesOf(line) {
		all := s.notes()
		i := all.from(t)
		if first := i - most; first >= 0 && span.Start.Less(all.notes[first].Onset) {
			span.Start = all.notes[first].Onset
		}
		if last := i + most; last < len(all.notes) && all.notes[last].Onset.Less(span.End) {
			span.End = all.notes[last].Onset
		}
	}
	return span
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
		if v.Pitch.IsZero() || v.Pitch.Cmp(sixteenFeet) >= 0 {
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

// monophonic reports whether no two keys are down at once.
func monophonic(notes []Pressed) bool {
	var end moment
	var last Pressed
	for _, n := range notes {
		if n.Note.Grace {
			continue
		}
		if n.Note.Onset.Less(end) && n.Key != last.Key {
			return false
		}
		if end.Less(n.Note.End()) {
			end, last = n.Note.End(), n
		}
	}
	return len(notes) > 0
}
