package passage

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
)

// state is what is in force at one moment of the score.
type state struct {
	drawn     map[Division]*Asked
	order     []Division // the divisions in the order in which they were first named
	couplings []Coupling
	at        map[Line]Division // where each hand plays
	apart     bool              // the hands were sent to different places
	told      bool              // some text has said where the hands play
	leads     map[Division]Role
	feetOff   bool
	lang      string
}

func newState() *state {
	unnamed := Division{Of: Both}
	return &state{
		drawn: map[Division]*Asked{},
		at:    map[Line]Division{RH: unnamed, LH: unnamed, Feet: Pedal},
		leads: map[Division]Role{},
	}
}

func (s *state) clone() *state {
	c := *s
	c.drawn = map[Division]*Asked{}
	for d, a := range s.drawn {
		copied := *a
		copied.Voices, copied.Prepared = slices.Clone(a.Voices), slices.Clone(a.Prepared)
		c.drawn[d] = &copied
	}
	c.order, c.couplings = slices.Clone(s.order), slices.Clone(s.couplings)
	c.at, c.leads = map[Line]Division{}, map[Division]Role{}
	for k, v := range s.at {
		c.at[k] = v
	}
	for k, v := range s.leads {
		c.leads[k] = v
	}
	return &c
}

// of returns what is asked of a division, made if it is new.
func (s *state) of(d Division) *Asked {
	a := s.drawn[d]
	if a == nil {
		a = &Asked{Division: d}
		s.drawn[d] = a
		s.order = append(s.order, d)
	}
	return a
}

// carry applies one statement. hands are the lines that the text is for; a
// statement without a division means the place where they play.
func (s *state) carry(st direction.Statement, hands []Line) {
	here := s.here(hands)
	d := s.resolve(st.Division, here)
	switch st.Verb {
	case direction.Set:
		a := s.of(d)
		a.Voices = slices.Clone(st.Voices)
		a.Tremming = false
		delete(s.leads, d) // what led before leads no longer
		if len(st.Voices) > 0 && st.Voices[0].Group == direction.Tutti {
			s.tutti(d)
		}
	case direction.Add:
		a := s.of(d)
		for _, v := range st.Voices {
			if !slices.ContainsFunc(a.Voices, func(w direction.Voice) bool { return sameVoice(v, w) }) {
				a.Voices = append(a.Voices, v)
			}
		}
	case direction.Off:
		a := s.of(d)
		if st.All {
			a.Voices = nil
		}
		for _, v := range st.Voices {
			a.Voices = without(a.Voices, v)
		}
	case direction.Prep:
		a := s.of(d)
		a.Prepared = append(a.Prepared, st.Voices...)
	case direction.Couple:
		s.couple(Coupling{From: d, To: s.coupledTo(st.To, d, here), Octave: st.Octave})
	case direction.Uncouple:
		s.uncouple(st, d, here)
	case direction.Box:
		s.of(d).Box = st.State
	case direction.Level:
		s.of(d).Level = st.State
	case direction.Trem:
		s.of(d).Tremming = st.State == "on"
	case direction.Lead:
		s.leads[d] = Role(st.State)
	case direction.Play:
		s.play(st, hands)
	}
}

// here is the place where the lines play, that of the first where they differ.
func (s *state) here(hands []Line) Division {
	if len(hands) == 0 {
		return s.at[RH]
	}
	return s.at[hands[0]]
}

func (s *state) resolve(r division.Role, here Division) Division {
	switch r {
	case division.None:
		return here
	case division.Pedal:
		return Pedal
	}
	return Division{Role: r}
}

// coupledTo is the keyboard that a coupler sounds from: a coupler without a
// keyboard goes to where the hands play, or to the Great.
func (s *state) coupledTo(to division.Role, from, here Division) Division {
	if to != division.None {
		return s.resolve(to, here)
	}
	if here != from && here != Pedal {
		return here
	}
	if here == Pedal && s.at[RH] != from {
		return s.at[RH]
	}
	return Division{Role: division.Great}
}

func (s *state) couple(c Coupling) {
	if c.From == Pedal && c.To == Pedal && c.Octave == 0 {
		c.From = s.manualForPedal()
	}
	if c.From == c.To && c.Octave == 0 {
		return
	}
	if !slices.Contains(s.couplings, c) {
		s.couplings = append(s.couplings, c)
	}
}

// manualForPedal is the manual that "Tirasse" or "Pedalkoppel" alone brings
// down: the one that the hands play.
func (s *state) manualForPedal() Division {
	if d := s.at[LH]; d.Role != division.None {
		return d
	}
	return Division{Role: division.Great}
}

func (s *state) uncouple(st direction.Statement, from, here Division) {
	s.couplings = slices.DeleteFunc(s.couplings, func(c Coupling) bool {
		if st.All || st.Division == division.Every && st.To == division.Every {
			return true
		}
		fromFits := st.Division == division.Every || st.Division == division.None || c.From == from
		toFits := st.To == division.None && c.To != Pedal || c.To == s.resolve(st.To, here) || st.To == division.Every
		return fromFits && toFits && (st.Octave == 0 || c.Octave == st.Octave)
	})
}

// tutti draws the whole organ for whoever plays on d: everything that can be
// coupled there, and to the pedal.
func (s *state) tutti(d Division) {
	every := Division{Role: division.Every}
	s.couple(Coupling{From: every, To: d})
	s.couple(Coupling{From: every, To: Pedal})
	full := direction.Voice{Group: direction.Full}
	if d != Pedal {
		s.of(Pedal).Voices = []direction.Voice{full}
	}
}

func (s *state) play(st direction.Statement, hands []Line) {
	if st.Hand == direction.Feet {
		s.feetOff = st.State == "none"
		return
	}
	lines := hands
	switch st.Hand {
	case direction.RH:
		lines = []Line{RH}
	case direction.LH:
		lines = []Line{LH}
	case direction.Both:
		lines = []Line{RH, LH}
	}
	if st.Division == division.None || st.Division == division.Pedal {
		if len(lines) == 1 && st.Hand != direction.AnyHand {
			s.own(lines[0])
		}
		return
	}
	s.move(lines, Division{Role: st.Division})
}

// move sends lines to a division.
func (s *state) move(lines []Line, d Division) {
	for _, line := range lines {
		if line == RH || line == LH {
			s.at[line] = d
			s.told = true
		}
	}
	s.apart = s.at[RH] != s.at[LH]
	s.of(d)
}

// own gives a hand an unnamed place of its own, where nothing named one yet.
func (s *state) own(line Line) {
	if s.at[line].Role == division.None && s.at[line].Of != line {
		s.move([]Line{line}, Division{Of: line})
	}
}

// sameVoice reports whether two voices ask for the same thing.
func sameVoice(a, b direction.Voice) bool {
	return a.Group == b.Group && a.Pitch == b.Pitch && a.Name == b.Name && a.Strength == b.Strength
}

// without takes a voice out of those that are drawn. A group word that is
// only partly taken out keeps the rest: Full without reeds.
func without(drawn []direction.Voice, v direction.Voice) []direction.Voice {
	var out []direction.Voice
	for _, w := range drawn {
		samePitch := v.Pitch.IsZero() || w.Pitch == v.Pitch
		switch {
		case samePitch && (v.Group == direction.Any || v.Group == w.Group ||
			v.Group == direction.Foundation && (w.Group == direction.Principal || w.Group == direction.Flute || w.Group == direction.String)):
			continue
		case isGroup(w.Group) && w.Pitch.IsZero() && !isGroup(v.Group) && v.Pitch.IsZero():
			w.Except = append(slices.Clone(w.Except), v.Group)
		}
		out = append(out, w)
	}
	return out
}

func isGroup(g direction.Group) bool {
	switch g {
	case direction.Foundation, direction.Any, direction.ChorusTo, direction.Plenum, direction.Grandjeu, direction.Full, direction.Tutti:
		return true
	}
	return false
}
