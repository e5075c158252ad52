package passage

import (
	"maps"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

// moment is a time in the score.
type moment = musicxml.Time

// A state is what is in force at one moment of the score.
type state struct {
	drawn     map[Division]registration
	order     []Division // the divisions in the order in which they were first named
	couplings []Coupling // never changed in place
	rh, lh    Division   // where the hands play
	rhAt      moment     // since when
	lhAt      moment
	told      bool // some text has said where the hands play
	feetOff   bool // "manuals only"
	hasGreat  bool // some text of the score names the Great
	lang      string
	numbers   map[int]division.Role // what the score says that its numbered manuals are

	texts    int    // how many have been carried
	reducing bool   // the text reduces what is drawn
	now      moment // the time of the text that is being carried
}

func newState(lang string) *state {
	unnamed := Division{Of: Both}
	return &state{drawn: map[Division]registration{}, rh: unnamed, lh: unnamed, lang: lang}
}

func (s *state) clone() *state {
	c := *s
	c.drawn, c.order = maps.Clone(s.drawn), slices.Clone(s.order)
	return &c
}

// at is where a line plays.
func (s *state) at(line Line) Division {
	switch line {
	case Feet:
		return Pedal
	case LH:
		return s.lh
	}
	return s.rh
}

// came is when a line came to where it plays.
func (s *state) came(line Line) moment {
	switch line {
	case RH:
		return s.rhAt
	case LH:
		return s.lhAt
	}
	return moment{}
}

// apart reports whether the hands play in different places.
func (s *state) apart() bool { return s.rh != s.lh }

// here is the place where the lines play, that of the first where they differ.
func (s *state) here(lines []Line) Division {
	if len(lines) == 0 {
		return s.rh
	}
	return s.at(lines[0])
}

// change gives a division a new registration.
func (s *state) change(d Division, r registration) {
	if _, known := s.drawn[d]; !known {
		s.order = append(s.order, d)
	}
	s.drawn[d] = r
}

// move sends lines to a division.
func (s *state) move(lines []Line, d Division) {
	for _, line := range lines {
		for _, hand := range handsIn(line) {
			s.told = s.told || hand != Feet
			if hand == RH && s.rh != d {
				s.rh, s.rhAt = d, s.now
			}
			if hand == LH && s.lh != d {
				s.lh, s.lhAt = d, s.now
			}
		}
	}
	s.change(d, s.drawn[d])
}

// key tells states apart: two with the same key ask for the same.
func (s *state) key(ownPedal bool) string {
	var b strings.Builder
	place := func(d Division) {
		b.WriteString(string(d.Role))
		b.WriteByte('/')
		b.WriteString(string(d.Of))
		b.WriteByte(';')
	}
	place(s.rh)
	place(s.lh)
	for _, d := range s.order {
		r := s.drawn[d]
		if r.silent() {
			continue
		}
		place(d)
		for _, voices := range [][]direction.Voice{r.voices, r.without, r.prepared} {
			for _, v := range voices {
				b.WriteString(v.String())
				b.WriteByte(',')
			}
			b.WriteByte('|')
		}
		b.WriteString(r.box + "|" + r.level + "|" + string(r.role))
		if r.trem {
			b.WriteByte('~')
		}
	}
	for _, c := range s.couplings {
		place(c.From)
		place(c.To)
		b.WriteByte(byte('2' + c.Octave))
	}
	if s.feetOff && !ownPedal {
		b.WriteByte('0')
	}
	return b.String()
}

// silent reports whether nothing is asked of a division.
func (r registration) silent() bool {
	return len(r.voices) == 0 && len(r.without) == 0 && len(r.prepared) == 0 && r.box == "" && r.level == "" && r.role == "" && !r.trem
}

// carry applies one statement. hands are the lines that the text is for; a
// statement without a division means the place where they play.
func (s *state) carry(st direction.Statement, hands []Line) {
	here := s.here(hands)
	d := s.place(st.Division, here)
	r := s.drawn[d]
	switch st.Verb {
	case direction.Set:
		if r.setAt == s.now && r.drawnAt != s.texts && r.hasAll(st.Voices) {
			break // a text beside the one that listed the stops names some of them
		}
		voices := st.Voices
		if s.reducing {
			voices = r.leftOf(voices)
		}
		r = r.set(voices)
		r.drawnAt, r.setAt = s.texts, s.now
		s.change(d, r)
	case direction.Add:
		r = r.add(st.Voices)
		r.drawnAt = s.texts
		s.change(d, r)
	case direction.Off:
		if st.All {
			r.voices, r.without, r.before = nil, nil, nil
		}
		if st.Division == division.None && !st.All {
			s.putAway(st.Voices, d)
		}
		r = r.off(st.Voices)
		r.drawnAt = s.texts
		s.change(d, r)
	case direction.Prep:
		s.change(d, r.prepare(st.Voices))
	case direction.Couple:
		if pedal := s.drawn[Pedal]; st.To == division.Pedal && pedal.role == Solo && pedal.drawnAt != s.texts {
			pedal.role = "" // "Ped. solo" was the pedal alone
			s.change(Pedal, pedal)
		}
		s.couple(Coupling{From: d, To: s.coupledTo(st.To, d, here), Octave: st.Octave})
	case direction.Uncouple:
		s.uncouple(st, d, here)
	case direction.Box:
		if st.Division == division.None {
			d = s.boxAt(here)
		}
		r = s.drawn[d]
		r.box = st.State
		s.change(d, r)
	case direction.Level:
		r.level, r.levelAt = st.State, s.now
		s.change(d, r)
	case direction.Trem:
		r.trem = st.State == "on"
		s.change(d, r)
	case direction.Lead:
		r.role = Role(st.State)
		s.change(d, r)
	}
}

// putAway puts in the reeds or mixtures of all that sounds with a manual, where
// the text names no division: "ôtez les Anches" after they were called for on
// the Positif, the Grand-Orgue and the Pédale. In English it is the division
// played, if it has any (common practice).
func (s *state) putAway(voices []direction.Voice, here Division) {
	called := func(d Division, v direction.Voice) bool {
		return slices.ContainsFunc(s.drawn[d].called, func(w direction.Voice) bool { return w.Group == v.Group })
	}
	for _, v := range voices {
		if !isCalled(v) || here == Pedal || (s.lang == "en" || s.lang == "") && (called(here, v) || slices.ContainsFunc(s.drawn[here].voices, func(w direction.Voice) bool { return matches(v, w) })) {
			continue
		}
		for _, d := range s.order {
			sounds := d == Pedal || slices.ContainsFunc(s.couplings, func(c Coupling) bool { return c.To == here && (c.From == d || c.From == every) })
			if d == here || !sounds || !called(d, v) {
				continue
			}
			r := s.drawn[d].off([]direction.Voice{v})
			r.drawnAt = s.texts
			s.change(d, r)
		}
	}
}

// place is the division that a statement means.
func (s *state) place(r division.Role, here Division) Division {
	switch r {
	case division.None:
		return here
	case division.Pedal:
		return Pedal
	}
	if told := s.numbers[r.Number()]; told != division.None {
		r = told
	}
	return Division{Role: r}
}

// restore brings an earlier state back. Divisions that nothing was drawn on
// then keep what they have.
func (s *state) restore(was *state) {
	now := *s
	*s = *was.clone()
	s.texts, s.now = now.texts, now.now
	s.rhAt, s.lhAt = s.now, s.now
	for _, d := range now.order {
		if r := s.drawn[d]; r.silent() {
			s.change(d, now.drawn[d])
		}
	}
}

// boxAt is the division whose box a text without a division means: that of the
// place itself where it may have one, else of what is coupled there, else the
// Swell's.
func (s *state) boxAt(here Division) Division {
	mayHave := func(d Division) bool {
		switch d.Role {
		case division.Swell, division.Choir, division.Positive, division.Solo, division.Echo:
			return true
		}
		return false
	}
	swell := Division{Role: division.Swell}
	switch {
	case mayHave(here) || s.drawn[here].box != "":
		return here
	case here.Role == division.None:
		return here
	}
	for _, c := range s.couplings {
		if c.To == here && (mayHave(c.From) || c.From.Role.Number() > here.Role.Number() && here.Role.Number() > 0) {
			return c.From
		}
	}
	if here.Role.Number() > 0 {
		return here
	}
	return swell
}

// coupledTo is the keyboard that a coupler sounds from: a coupler without a
// keyboard goes to where the hands play, or to the Great.
func (s *state) coupledTo(to division.Role, from, here Division) Division {
	if to != division.None {
		return s.place(to, here)
	}
	if here != from && here != Pedal {
		return here
	}
	if here == Pedal && s.rh != from {
		return s.rh
	}
	return Division{Role: division.Great}
}

func (s *state) couple(c Coupling) {
	if c.From == Pedal && c.To == Pedal && c.Octave == 0 {
		c.From = s.manualForPedal()
	}
	if c.From == c.To && c.Octave == 0 || slices.Contains(s.couplings, c) || len(s.couplings) >= maxVoices {
		return
	}
	s.couplings = append(slices.Clone(s.couplings), c)
}

// manualForPedal is the manual that "Tirasse" or "Pedalkoppel" alone brings
// down: the one that the hands play.
func (s *state) manualForPedal() Division {
	if s.lh.Role != division.None {
		return s.lh
	}
	return Division{Role: division.Great}
}

func (s *state) uncouple(st direction.Statement, from, here Division) {
	s.couplings = slices.DeleteFunc(slices.Clone(s.couplings), func(c Coupling) bool {
		if st.All || st.Division == division.Every && st.To == division.Every {
			return true
		}
		fromFits := st.Division == division.Every || st.Division == division.None || c.From == from
		toFits := st.To == division.None && (c.To != Pedal || here == Pedal) || st.To != division.None && c.To == s.place(st.To, here) || st.To == division.Every
		return fromFits && toFits && (st.Octave == 0 || c.Octave == st.Octave)
	})
}

// rest lets boxes that were moving come to rest.
func (s *state) rest() {
	for d, r := range s.drawn {
		switch r.box {
		case "opening":
			r.box = "open"
		case "closing":
			r.box = "shut"
		default:
			continue
		}
		s.drawn[d] = r
	}
}
