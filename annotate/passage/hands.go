package passage

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
)

// text carries a whole text.
func (s *state) text(x *Text, c *company) {
	s.texts++
	s.now = x.Time
	if x.Source == PartName {
		s.partName(x, c.layout)
		return
	}
	if on, _ := x.feet(); on && x.Source == Words {
		s.feetOff = false
	}
	hands := s.handsOf(x, c)
	if x.drawsUnnamed() && len(hands) == 1 && hands[0] != Feet {
		s.own(hands[0], c.hands[other(hands[0])].draws > 0)
	}
	if at := s.here(hands).Role; x.isTutti() && at.Number() == 0 && (at != division.None || s.hasGreat && !s.apart()) && at != division.Pedal && at != division.Great {
		// The whole organ is played from the main manual, wherever the hands were
		// (common practice).
		hands = []Line{RH, LH}
		s.move(hands, s.place(division.Great, Division{}))
	}
	explicit := false
	if s.reducing = x.Reading.Reduce; s.reducing && x.drawsOnManual() {
		s.leaveTutti()
	}
	for i, st := range x.Reading.Statements {
		if st.Verb == direction.Play {
			if x.ahead(i) {
				continue
			}
			hands, explicit = s.play(st, x, hands)
			if explicit && len(hands) == 1 && x.drawsUnnamed() {
				s.own(hands[0], true)
			}
			continue
		}
		if st.Verb == direction.Add {
			s.join(st, hands)
		}
		if st.Verb != direction.Lead {
			s.carry(st, hands)
		}
	}
	// Who leads is said of what the text draws, before or after it.
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Lead {
			s.carry(st, hands)
		}
	}
	// "Gt. Diaps." in the music sends the hands to the Great; a list of several
	// divisions, or one at the head, only says what is drawn.
	if d := x.sendsTo(); d != division.None && x.Staff != nil && x.Staff.Line != Feet && !c.onlyLends(x) {
		s.move(hands, s.place(d, Division{}))
	}
}

// partName carries the name of a staff's part: what it draws is for that
// staff, and the others of the part, at a place of its own where it names none.
func (s *state) partName(x *Text, l *Layout) {
	hands := handsIn(x.Staff.Line)
	for _, line := range []Line{RH, LH} {
		if st := l.Of(line); st != nil && st != x.Staff && st.Part == x.Staff.Part && x.Staff.Line != Feet && !slices.Contains(hands, line) {
			hands = append(hands, line)
		}
	}
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Play && st.Division != division.None && st.Division != division.Pedal {
			s.move(hands, s.place(st.Division, Division{}))
		}
	}
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Play {
			continue
		}
		if st.Division == division.None && len(hands) == 1 && hands[0] != Feet {
			s.own(hands[0], true)
		}
		s.carry(st, hands)
		if st.Verb == direction.Set && st.Division != division.None && st.Division != division.Pedal {
			s.move(hands, s.place(st.Division, Division{}))
		}
	}
}

// play carries who plays where, and returns the lines that the rest of the
// text is for; explicit if the text itself names them.
func (s *state) play(st direction.Statement, x *Text, hands []Line) (lines []Line, explicit bool) {
	if st.Hand == direction.Feet {
		s.feetOff = st.State == "none"
		return hands, false
	}
	lines, explicit = hands, true
	switch st.Hand {
	case direction.RH:
		lines = []Line{RH}
	case direction.LH:
		lines = []Line{LH}
	case direction.Both:
		lines = []Line{RH, LH}
		if st.Division == division.None && x.Staff != nil {
			s.move(lines, s.at(x.Staff.Line)) // the hands come together
		}
	default:
		explicit = false
	}
	if st.Division == division.None && explicit && st.Hand != direction.Both {
		st.Division = x.onlyManual() // "m.d. Cornet R."
	}
	if st.Division == division.None || st.Division == division.Pedal {
		return lines, explicit
	}
	if !explicit && x.Source != Words {
		return lines, explicit // a heading that names a division only lists it
	}
	d := s.place(st.Division, Division{})
	s.move(lines, d)
	if r := s.drawn[d]; st.Hand == direction.Both && r.role != "" {
		r.role = "" // who led there led alone
		s.change(d, r)
	}
	return lines, explicit
}

// leaveTutti ends a tutti that is reduced to something else: what its manual had
// before is drawn there again.
func (s *state) leaveTutti() {
	for _, d := range s.order {
		if r := s.drawn[d]; r.isTutti() {
			r.voices, r.before = r.before, nil
			s.change(d, r)
		}
	}
}

// join brings in a division that stops are added on while nobody can hear it:
// French scores ask so for the Grand-Orgue's stops when the hands are on the
// coupled Positif, and mean that the hands go there with what they had coupled
// (common practice).
func (s *state) join(st direction.Statement, hands []Line) {
	d := s.place(st.Division, Division{})
	if s.lang != "fr" || st.Division == division.None || d == Pedal || s.heard(d) {
		return
	}
	from := s.here(hands)
	if from == Pedal {
		from = s.rh
	}
	for _, c := range s.couplings {
		if c.To == from && c.From != d {
			s.couple(Coupling{From: c.From, To: d, Octave: c.Octave})
		}
	}
	if from.Role != division.None {
		s.couple(Coupling{From: from, To: d})
	}
	s.move([]Line{Both}, d)
}

// heard reports whether a division sounds from a place where somebody plays.
func (s *state) heard(d Division) bool {
	if s.rh == d || s.lh == d {
		return true
	}
	return slices.ContainsFunc(s.couplings, func(c Coupling) bool {
		return (c.From == d || c.From.Role == division.Every) && c.To != d
	})
}

// own gives a hand an unnamed place of its own: where nothing named one yet,
// or where it alone gets other stops while the hands are on one manual.
func (s *state) own(line Line, alone bool) {
	at := s.at(line)
	if at.Role == division.None && at.Of != line || alone && !s.apart() {
		s.move([]Line{line}, Division{Of: line})
	}
}

// names reports whether the text is about a division.
func (t *Text) names(d division.Role) bool {
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool { return st.Division == d })
}

// drawsUnnamed reports whether the text draws something without naming a division.
func (t *Text) drawsUnnamed() bool {
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Set && st.Division == division.None
	})
}

// drawsOnManual reports whether the text draws something on a manual.
func (t *Text) drawsOnManual() bool {
	atFeet := t.Staff != nil && t.Staff.Line == Feet
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Set && st.Division != division.Pedal && !(st.Division == division.None && atFeet)
	})
}

// ahead reports whether a statement of the text makes something ready for later.
func (t *Text) ahead(i int) bool { return i < len(t.Reading.Ahead) && t.Reading.Ahead[i] }

// sendsTo is the one manual division that a text draws stops on, or gives a
// dynamic or a role, without saying who plays it; None where there are
// several, or none, or where the stops are only prepared.
func (t *Text) sendsTo() division.Role {
	to := division.None
	if t.Source != Words {
		return to
	}
	lends := t.lends()
	for i, st := range t.Reading.Statements {
		if t.ahead(i) {
			continue
		}
		switch st.Verb {
		case direction.Play:
			if st.Hand != direction.Feet {
				return division.None
			}
		case direction.Set, direction.Lead, direction.Level:
			switch {
			case st.Division == division.None:
				return division.None
			case st.Division == division.Pedal || st.Division == to || lends[st.Division]:
			case to != division.None:
				return division.None
			default:
				to = st.Division
			}
		}
	}
	return to
}

// lends are the manual divisions that a text couples to another manual: those
// only lend their stops.
func (t *Text) lends() map[division.Role]bool {
	lends := map[division.Role]bool{}
	for _, st := range t.Reading.Statements {
		if st.Verb == direction.Couple && st.To != division.Pedal && st.To != st.Division && st.To != division.None {
			lends[st.Division] = true
		}
	}
	return lends
}

// isTutti reports whether a text of the music asks for the whole organ without
// saying from where it is played.
func (t *Text) isTutti() bool {
	tutti := false
	for i, st := range t.Reading.Statements {
		switch {
		case t.Source != Words || t.ahead(i) || st.Verb == direction.Play && st.Hand != direction.Feet:
			return false
		case st.Verb == direction.Set && st.Division != division.None && st.Division != division.Pedal:
			return false
		case st.Verb == direction.Set && st.Division == division.None:
			tutti = tutti || slices.ContainsFunc(st.Voices, func(v direction.Voice) bool { return v.Group == direction.Tutti })
		}
	}
	return tutti
}

// onlyManual is the one manual that a text draws on where it names one hand and
// no place for it, None if there is no such manual.
func (t *Text) onlyManual() division.Role {
	only := division.None
	for i, st := range t.Reading.Statements {
		switch {
		case st.Verb == direction.Play && i > 0, st.Verb == direction.Couple:
			return division.None
		case st.Verb != direction.Set || st.Division == division.Pedal:
		case st.Division == division.None, only != division.None && only != st.Division:
			return division.None
		default:
			only = st.Division
		}
	}
	return only
}

// sendsHands reports whether a text says where hands play.
func (t *Text) sendsHands() bool {
	if t.sendsTo() != division.None {
		return true
	}
	for i, st := range t.Reading.Statements {
		if st.Verb == direction.Play && st.Hand != direction.Feet && !t.ahead(i) {
			return true
		}
	}
	return false
}

// forHand reports whether a text says what a hand plays or where.
func (t *Text) forHand() bool { return t.sendsHands() || t.drawsUnnamed() }

// goesTo is the manual that a text sends whoever it is for to, None if none.
func (t *Text) goesTo() division.Role {
	if d := t.sendsTo(); d != division.None {
		return d
	}
	for i, st := range t.Reading.Statements {
		if st.Verb == direction.Play && st.Hand == direction.AnyHand && st.Division != division.Pedal && !t.ahead(i) {
			return st.Division
		}
	}
	return division.None
}

// drawsWhereItPlays reports whether a text draws stops for the hand that it
// stands at, rather than only naming a manual, or listing several.
func (t *Text) drawsWhereItPlays() bool {
	if t.drawsUnnamed() {
		return true
	}
	to := t.sendsTo()
	return to != division.None && slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Set && st.Division == to
	})
}

// settle decides where the hands play when the head of the score lists
// divisions and nothing at the first note says which one is played: the Great
// if it is among them, else the first; on two manuals the first two.
func (s *state) settle(twoManuals bool) {
	if s.told || s.rh.Role != division.None {
		return
	}
	var manuals []Division
	for _, d := range s.order {
		if d.Role != division.None && d != Pedal && len(s.drawn[d].voices) > 0 {
			manuals = append(manuals, d)
		}
	}
	if len(manuals) == 0 {
		return
	}
	if twoManuals && len(manuals) > 1 {
		s.rh, s.lh = manuals[0], manuals[1]
		return
	}
	start := manuals[0]
	if great := (Division{Role: division.Great}); slices.Contains(manuals, great) {
		start = great
	}
	if len(s.drawn[s.rh].voices) == 0 {
		s.rh = start
	}
	if len(s.drawn[s.lh].voices) == 0 {
		s.lh = start
	}
}
