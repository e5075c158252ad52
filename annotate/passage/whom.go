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
type spoken struct {
	sends, unnamed, draws int
	lent                  map[division.Role]bool // what is coupled to a manual that one of the texts sends the line to
}

func companyOf(l *Layout, now []*Text, next func(*Staff, moment) moment) *company {
	c := &company{layout: l, next: next, hands: map[Line]*spoken{RH: {}, LH: {}, Both: {}, Feet: {}}}
	sentTo := map[*Staff]map[division.Role]bool{}
	for _, x := range now {
		if to := x.goesTo(); to != division.None && x.Staff != nil {
			if sentTo[x.Staff] == nil {
				sentTo[x.Staff] = map[division.Role]bool{}
			}
			sentTo[x.Staff][to] = true
		}
	}
	for _, x := range now {
		if x.Staff == nil {
			continue
		}
		c.hands[x.Staff.Line].lend(x, sentTo[x.Staff])
	}
	for _, x := range now {
		if x.Staff == nil {
			continue
		}
		of := c.hands[x.Staff.Line]
		if x.sendsHands() && !c.onlyLends(x) {
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

// lend notes what a text couples to a manual to which a text at its staff
// sends: "Full Swell" beside "Gt. Diaps., Sw. to Gt." only says what is drawn.
func (of *spoken) lend(x *Text, sentTo map[division.Role]bool) {
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Couple && sentTo[st.To] && st.Division != st.To {
			if of.lent == nil {
				of.lent = map[division.Role]bool{}
			}
			of.lent[st.Division] = true
		}
	}
}

// onlyLends reports whether a text draws what another text beside it, or above it
// where it stands between the staves, couples to the manual that is played.
func (c *company) onlyLends(x *Text) bool {
	to := x.sendsTo()
	if to == division.None || x.Staff == nil {
		return false
	}
	return c.hands[x.Staff.Line].lent[to] || x.Staff.Line == LH && x.Placement == "above" && c.hands[RH].lent[to]
}

// speaksTo reports whether a text at the other hand's staff says where that
// plays, or what, where this one says what its own hand plays.
func (c *company) speaksTo(line Line, x *Text) bool {
	of := c.hands[line]
	return of.sends > 0 || of.unnamed > 0 && x.drawsWhereItPlays()
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
	return x.drawsChorus() || beginsSection(x.Staff.Part, x.Time) || to == division.Great && x.drawsPrincipals() && !single(x.Staff.sounding(x.reach(c)))
}

// reach is the music that a text at one hand's staff is about: up to the next
// text for the hand, and no more than a few measures.
func (t *Text) reach(c *company) Span {
	end := c.next(t.Staff, t.Time)
	if m := t.Staff.Part.MeasureAt(t.Time); m != nil {
		const measures = 8
		if last := t.Staff.Part.Measures[min(m.Index+measures, len(t.Staff.Part.Measures)-1)].End; last.Less(end) {
			end = last
		}
	}
	return Span{t.Time, end}
}

// drawsPrincipals reports whether a text draws the principals of 8′, the ground
// of a chorus, and says of nothing that it leads.
func (t *Text) drawsPrincipals() bool {
	draws := false
	for _, st := range t.Reading.Statements {
		if st.Verb == direction.Lead {
			return false
		}
		draws = draws || st.Verb == direction.Set && slices.ContainsFunc(st.Voices, func(v direction.Voice) bool {
			return v.Group == direction.Principal && v.Pitch == eightFeet
		})
	}
	return draws
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
	span := x.reach(c)
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
