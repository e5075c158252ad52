package passage

import (
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// A company is what stands at one moment and what is known of the music around
// it, by which it is decided whom a text is for.
type company struct {
	layout *Layout
	next   func(*Staff, moment) moment // when the next text for a hand stands at a staff
	hands  map[Line]*spoken
}

// spoken counts the texts of a moment at a line's own staff that send it
// somewhere, that draw stops without naming a division, and that draw what it
// plays.
type spoken struct{ sends, unnamed, draws int }

func companyOf(l *Layout, now []*Text, next func(*Staff, moment) moment) *company {
	c := &company{layout: l, next: next, hands: map[Line]*spoken{RH: {}, LH: {}, Both: {}, Feet: {}}}
	for _, x := range now {
		if x.Staff == nil {
			continue
		}
		of := c.hands[x.Staff.Line]
		if x.sendsHands() {
			of.sends++
		}
		if x.drawsUnnamed() {
			of.unnamed++
		}
		if x.drawsWhereItPlays() {
			of.draws++
		}
	}
	return c
}

// text carries a whole text.
func (s *state) text(x *Text, c *company) {
	s.texts++
	s.now = x.Time
	if x.Source == PartName {
		s.partName(x)
		return
	}
	if on, _ := x.feet(); on && x.Source == Words {
		s.feetOff = false
	}
	hands := s.handsOf(x, c)
	if x.drawsUnnamed() && len(hands) == 1 && hands[0] != Feet {
		s.own(hands[0], c.hands[other(hands[0])].draws > 0)
	}
	explicit := false
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Play {
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
	if d := x.sendsTo(); d != division.None && x.Staff != nil && x.Staff.Line != Feet {
		s.move(hands, s.place(d, Division{}))
	}
}

// partName carries the name of a staff's part: what it draws is for that
// staff, at a place of its own where it names none.
func (s *state) partName(x *Text) {
	hands := handsIn(x.Staff.Line)
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
	if st.Division == division.None || st.Division == division.Pedal || x.Reading.Ahead {
		return lines, explicit
	}
	if !explicit && x.Source != Words {
		return lines, explicit // a heading that names a division only lists it
	}
	s.move(lines, s.place(st.Division, Division{}))
	return lines, explicit
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

// drawsUnnamed reports whether the text draws something without naming a division.
func (t *Text) drawsUnnamed() bool {
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Set && st.Division == division.None
	})
}

// sendsTo is the one manual division that a text draws stops on, or gives a
// dynamic or a role, without saying who plays it; None where there are
// several, or none, or where the stops are only prepared.
func (t *Text) sendsTo() division.Role {
	to := division.None
	if t.Source != Words || t.Reading.Ahead {
		return to
	}
	lends := t.lends()
	for _, st := range t.Reading.Statements {
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

// sendsHands reports whether a text says where hands play.
func (t *Text) sendsHands() bool {
	if t.sendsTo() != division.None {
		return true
	}
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Play && st.Hand != direction.Feet
	})
}

// forHand reports whether a text says what a hand plays or where.
func (t *Text) forHand() bool { return t.sendsHands() || t.drawsUnnamed() }

// goesTo is the manual that a text sends whoever it is for to, None if none.
func (t *Text) goesTo() division.Role {
	if d := t.sendsTo(); d != division.None {
		return d
	}
	for _, st := range t.Reading.Statements {
		if st.Verb == direction.Play && st.Hand == direction.AnyHand && st.Division != division.Pedal {
			return st.Division
		}
	}
	return division.None
}

// speaksTo reports whether a text at the other hand's staff says where that
// plays, or what, where this one says what its own hand plays.
func (c *company) speaksTo(line Line, x *Text) bool {
	of := c.hands[line]
	return of.sends > 0 || of.unnamed > 0 && x.drawsWhereItPlays()
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

// other is the other hand.
func other(line Line) Line {
	if line == RH {
		return LH
	}
	return RH
}

// handsOf says whom a text is for, from where it stands: at the pedal staff
// for the feet; between the manual staves, or above them while the hands play
// together, for both; else for the hand whose staff it is.
func (s *state) handsOf(x *Text, c *company) []Line {
	both := []Line{RH, LH}
	if x.Staff == nil {
		return both
	}
	line := x.Staff.Line
	switch {
	case line == Feet:
		return []Line{Feet}
	case line == Both:
		return both
	case x.Staff == c.layout.Shared && x.Placement == "below" && s.forFeet(x, c):
		return []Line{Feet}
	}
	own := []Line{line}
	sibling := c.layout.Of(other(line))
	if sibling == nil || c.speaksTo(other(line), x) || line == LH && x.Placement == "below" {
		return own
	}
	// Where the other hand rests and gets a text of its own before it comes in,
	// this one is not for it.
	if entry, ok := sibling.entry(x.Time); ok && x.Time.Less(entry) && !entry.Less(c.next(sibling, x.Time)) {
		return own
	}
	if s.apart() {
		if s.comeTogether(x, c) {
			return both
		}
		return own
	}
	if s.parts(x, sibling, c) {
		return own
	}
	return both
}

// forFeet reports whether a text under the staff that the feet share with the
// left hand is for the feet: it draws 16′ or lower without naming a division,
// where the feet play.
func (s *state) forFeet(x *Text, c *company) bool {
	low := false
	for _, st := range x.Reading.Statements {
		if st.Division != division.None || st.Verb == direction.Play {
			return false
		}
		for _, v := range st.Voices {
			low = low || !v.Pitch.IsZero() && v.Pitch.Cmp(sixteenFeet) >= 0
		}
	}
	spans := c.layout.Spans
	i := sort.Search(len(spans), func(i int) bool { return x.Time.Less(spans[i].End) })
	return low && i < len(spans) && spans[i].Contains(x.Time)
}

// comeTogether reports whether a text at one hand's staff brings the hands
// together again on a manual: it stands between the staves, or it sends to
// another manual with the sound of a chorus, or where a section begins.
func (s *state) comeTogether(x *Text, c *company) bool {
	if x.Staff.Line == RH && x.Placement == "below" {
		return true
	}
	to := x.goesTo()
	if to == division.None || s.at(x.Staff.Line) == s.place(to, Division{}) {
		return false
	}
	return x.drawsChorus() || beginsSection(x.Staff.Part, x.Time)
}

// drawsChorus reports whether a text draws what both hands play on: a chorus,
// or one manual with another coupled to it.
func (t *Text) drawsChorus() bool {
	for _, st := range t.Reading.Statements {
		if st.Verb == direction.Couple && st.To != division.Pedal && st.To != st.Division {
			return true
		}
		for _, v := range st.Voices {
			switch v.Group {
			case direction.ChorusTo, direction.Plenum, direction.Full, direction.Tutti, direction.Grandjeu, direction.Foundation, direction.Mixture:
				if st.Verb == direction.Set && st.Division != division.Pedal {
					return true
				}
			}
		}
	}
	return false
}

// beginsSection reports whether a section begins at the moment: behind a
// double bar, at a rehearsal mark or at a new tempo.
func beginsSection(p *musicxml.Part, t moment) bool {
	if m := p.MeasureAt(t); m != nil && m.Start == t && m.Index > 0 {
		for _, style := range []string{m.BarlineLeft, p.Measures[m.Index-1].Barline} {
			if strings.HasPrefix(style, "light-") || strings.HasPrefix(style, "heavy") {
				return true
			}
		}
	}
	if i := sort.Search(len(p.Tempos), func(i int) bool { return !p.Tempos[i].Time.Less(t) }); i < len(p.Tempos) && p.Tempos[i].Time == t {
		return true
	}
	i := sort.Search(len(p.Directions), func(i int) bool { return !p.Directions[i].Time.Less(t) })
	for ; i < len(p.Directions) && p.Directions[i].Time == t; i++ {
		if p.Directions[i].Rehearsal != "" {
			return true
		}
	}
	return false
}

// parts reports whether a text at one hand's staff takes that hand away from
// the other, which goes on where it is: it draws a solo stop on another
// manual, and the hand has a single voice while the other plays chords.
func (s *state) parts(x *Text, sibling *Staff, c *company) bool {
	at := s.at(x.Staff.Line)
	if x.Placement == "below" && x.Staff.Line == RH || len(s.drawn[at].voices) == 0 {
		return false
	}
	if to := x.goesTo(); to == division.None || s.place(to, Division{}) == at || !x.drawsSolo() {
		return false
	}
	end := c.next(x.Staff, x.Time)
	if m := x.Staff.Part.MeasureAt(x.Time); m != nil {
		const measures = 8
		if last := x.Staff.Part.Measures[min(m.Index+measures, len(x.Staff.Part.Measures)-1)].End; last.Less(end) {
			end = last
		}
	}
	span := Span{x.Time, end}
	mine, theirs := x.Staff.sounding(span), sibling.sounding(span)
	return len(theirs) > 0 && single(mine) && !single(theirs)
}

// drawsSolo reports whether a text draws what leads: what it calls a solo, or
// one reed or cornet that organs have for solos and not in the chorus.
func (t *Text) drawsSolo() bool {
	for _, st := range t.Reading.Statements {
		switch {
		case st.Verb == direction.Lead && st.State == string(Solo):
			return true
		case st.Verb == direction.Set && len(st.Voices) <= 2 && slices.ContainsFunc(st.Voices, func(v direction.Voice) bool { return isSoloStop(v, t.Reading.Lang) }):
			return true
		}
	}
	return false
}

func isSoloStop(v direction.Voice, lang string) bool {
	if v.Group != direction.Reed && v.Group != direction.Cornet || v.Pitch.IsZero() || v.Name == "" {
		return false
	}
	k := stopname.Resolve(v.Name, stopname.Place{Lang: lang, Pitch: v.Pitch})
	return k.Solo && !k.Chorus
}

// single reports whether no two notes sound at once.
func single(notes []*musicxml.Note) bool {
	var end moment
	last := -1
	for _, n := range notes {
		if n.Grace {
			continue
		}
		if n.Onset.Less(end) && n.Pitch.MIDI() != last {
			return false
		}
		if end.Less(n.End()) {
			end, last = n.End(), n.Pitch.MIDI()
		}
	}
	return len(notes) > 0
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
