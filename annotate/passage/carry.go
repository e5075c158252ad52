package passage

import (
	"slices"
	"sort"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

// Options are what the player says about how the score is to be read.
type Options struct {
	Staves Choice
	Lang   string // language of the registration; "" finds it in the texts
}

// Read finds what the score asks of the organ. A score without an organ part
// gives a Score without staves.
func Read(score *musicxml.Score, opts Options) (*Score, error) {
	lang := opts.Lang
	if lang == "" {
		lang = languageOf(score)
	}
	ctx := direction.Context{Lang: lang}
	l, err := FindStaves(score, opts.Staves, func(p *musicxml.Part) bool { return asksOrgan(p, ctx) })
	if err != nil {
		return nil, err
	}
	s := &Score{Layout: l, Lang: lang}
	if len(l.Staves) == 0 {
		return s, nil
	}
	s.Texts = textsOf(score, l, ctx)
	l.findShared(s.Texts)
	s.Returns = returnsOf(l.Staves[0].Part, score.Order())
	s.Passages = passagesOf(l, s.Texts, lang)
	return s, nil
}

// asksOrgan reports whether a part holds a direction that only an organ can
// follow: a named division, a coupler, a swell box, or feet.
func asksOrgan(p *musicxml.Part, ctx direction.Context) bool {
	for _, g := range p.DirectionGroups() {
		for _, st := range direction.Read(g.Text, ctx).Statements {
			switch st.Verb {
			case direction.Couple, direction.Uncouple, direction.Box, direction.Prep:
				return true
			case direction.Play:
				if st.Hand == direction.Feet || st.Division != division.None {
					return true
				}
			default:
				if st.Division != division.None || len(st.Voices) > 1 {
					return true
				}
			}
		}
	}
	return false
}

// passagesOf carries the directions forward and cuts the score where what is
// asked changes.
func passagesOf(l *Layout, texts []*Text, lang string) []*Passage {
	end := endOf(l)
	st := newState()
	st.lang = lang
	saved := map[int]*state{} // what was in force where the first ending begins
	var passages []*Passage
	var open *Passage
	var openState *state
	begin := func(t musicxml.Time, read []*Text) {
		if open != nil && open.Start == t {
			open.Texts = append(open.Texts, read...)
		} else {
			if open != nil {
				open.End = t
			}
			open = &Passage{Span: Span{Start: t, End: end}, Texts: read}
			passages = append(passages, open)
		}
		openState = st.clone()
		open.fill(openState)
	}
	endings := endingStarts(l.Staves[0].Part)
	times := changeTimes(texts, endings, l)
	for _, t := range times {
		restored := false
		for _, e := range endings {
			if e.at != t {
				continue
			}
			if e.first {
				saved[e.group] = st.clone()
			} else if before := saved[e.group]; before != nil {
				st, restored = before.clone(), true
			}
		}
		var read []*Text
		atHead := t.IsZero()
		var now []*Text
		for _, x := range texts {
			if x.Time == t && !x.AsksNothing() {
				now = append(now, x)
			}
		}
		for _, x := range now {
			st.text(x, now, l, func(s *Staff) musicxml.Time { return nextText(texts, s, t, end) })
			read = append(read, x)
		}
		if atHead {
			st.settle()
		}
		if open == nil || len(read) > 0 || restored || feetEdge(l, t) {
			begin(t, read)
		}
	}
	for _, p := range passages {
		p.From, p.To = placeOf(l, p.Start), placeOf(l, p.End)
		p.play(l)
	}
	return passages
}

// text carries a whole text.
func (s *state) text(x *Text, now []*Text, l *Layout, next func(*Staff) musicxml.Time) {
	hands := s.handsOf(x, now, l, next)
	if len(hands) == 1 && hands[0] != Feet && x.drawsUnnamed() {
		s.own(hands[0])
	}
	for _, st := range x.Reading.Statements {
		if st.Verb == direction.Play && (st.Hand == direction.RH || st.Hand == direction.LH) {
			hands = []Line{Line(st.Hand)}
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
	if d := x.sendsTo(); d != division.None && x.Staff != nil && x.Staff.Line != Feet && x.Source == Words {
		s.move(hands, Division{Role: d})
	}
}

// join brings in a division that stops are added on while nobody can hear it:
// French scores ask so for the Grand-Orgue's stops when the hands are on the
// coupled Positif, and mean that the hands go there with what they had coupled
// (common practice).
func (s *state) join(st direction.Statement, hands []Line) {
	d := Division{Role: st.Division}
	if s.lang != "fr" || st.Division == division.None || d == Pedal || s.heard(d) {
		return
	}
	from := s.here(hands)
	if from == Pedal {
		from = s.at[RH]
	}
	for _, c := range s.couplings {
		if c.To == from && c.From != d {
			s.couple(Coupling{From: c.From, To: d, Octave: c.Octave})
		}
	}
	if from.Role != division.None {
		s.couple(Coupling{From: from, To: d})
	}
	s.move([]Line{RH, LH}, d)
}

// heard reports whether a division sounds from a place where somebody plays.
func (s *state) heard(d Division) bool {
	for _, at := range s.at {
		if at == d {
			return true
		}
	}
	return slices.ContainsFunc(s.couplings, func(c Coupling) bool {
		return (c.From == d || c.From.Role == division.Every) && c.To != d
	})
}

// drawsUnnamed reports whether the text draws something without naming a division.
func (t *Text) drawsUnnamed() bool {
	return slices.ContainsFunc(t.Reading.Statements, func(st direction.Statement) bool {
		return st.Verb == direction.Set && st.Division == division.None
	})
}

// sendsTo is the one manual division that a text draws stops on, or gives a
// dynamic or a role, without saying who plays it; None where there are
// several, or none.
func (t *Text) sendsTo() division.Role {
	to := division.None
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

// handsOf says whom a text is for, from where it stands: at the pedal staff
// for the feet; between the manual staves, or above them while the hands play
// together, for both; else for the hand whose staff it is.
func (s *state) handsOf(x *Text, now []*Text, l *Layout, next func(*Staff) musicxml.Time) []Line {
	both := []Line{RH, LH}
	if x.Staff == nil {
		return both
	}
	switch x.Staff.Line {
	case Feet:
		return []Line{Feet}
	case Both:
		return both
	}
	own := []Line{x.Staff.Line}
	if x.Source == PartName || s.apart {
		return own
	}
	for _, y := range now {
		if y != x && y.Staff != nil && y.Staff != x.Staff && y.Staff.Line != Feet && y.sendsHands() {
			return own
		}
	}
	other := l.Of(RH)
	if x.Staff.Line == RH {
		other = l.Of(LH)
	}
	if other == nil {
		return own
	}
	if x.Staff.Line == LH && x.Placement == "below" {
		return own
	}
	// Where the other hand rests and gets a text of its own before it comes in,
	// this one is not for it.
	if entry, ok := other.entry(x.Time); ok && x.Time.Less(entry) && !entry.Less(next(other)) {
		return own
	}
	return both
}

// settle decides where the hands play when the head of the score lists
// divisions and nothing at the first note says which one is played.
func (s *state) settle() {
	if s.told || s.at[RH].Role != division.None {
		return
	}
	var manuals []Division
	for _, d := range s.order {
		if d.Role != division.None && d != Pedal && len(s.drawn[d].Voices) > 0 {
			manuals = append(manuals, d)
		}
	}
	if len(manuals) == 0 {
		return
	}
	start := manuals[0]
	if great := (Division{Role: division.Great}); slices.Contains(manuals, great) {
		start = great
	}
	for _, line := range []Line{RH, LH} {
		if u := s.at[line]; len(s.of(u).Voices) == 0 {
			s.at[line] = start
		}
	}
	s.apart = s.at[RH] != s.at[LH]
}

// nextText is when the next text that draws stops or sends hands stands at a
// staff after the moment, or the end.
func nextText(texts []*Text, s *Staff, t, end musicxml.Time) musicxml.Time {
	for _, x := range texts {
		if x.Staff == s && t.Less(x.Time) && (x.sendsHands() || x.drawsUnnamed()) {
			return x.Time
		}
	}
	return end
}

// fill writes what is in force into the passage.
func (p *Passage) fill(s *state) {
	p.Lines, p.Drawn, p.FeetOff = nil, nil, s.feetOff
	p.Couplings = slices.Clone(s.couplings)
	for _, line := range []Line{RH, LH, Feet} {
		p.Lines = append(p.Lines, &Played{Line: line, Division: s.at[line], Role: s.leads[s.at[line]]})
	}
	for _, d := range s.order {
		a := *s.drawn[d]
		p.Drawn = append(p.Drawn, &a)
	}
}

func endOf(l *Layout) musicxml.Time {
	var end musicxml.Time
	for _, s := range l.Staves {
		if m := s.Part.Measures; len(m) > 0 && end.Less(m[len(m)-1].End) {
			end = m[len(m)-1].End
		}
	}
	return end
}

func placeOf(l *Layout, t musicxml.Time) musicxml.Place { return l.Staves[0].Part.Place(t) }

// changeTimes are the moments at which what is asked may change, ascending,
// the start of the score always among them.
func changeTimes(texts []*Text, endings []ending, l *Layout) []musicxml.Time {
	set := map[musicxml.Time]bool{{}: true}
	for _, x := range texts {
		if !x.AsksNothing() {
			set[x.Time] = true
		}
	}
	for _, e := range endings {
		set[e.at] = true
	}
	for _, sp := range l.Spans {
		set[sp.Start], set[sp.End] = true, true
	}
	var times []musicxml.Time
	end := endOf(l)
	for t := range set {
		if t.Less(end) {
			times = append(times, t)
		}
	}
	sort.Slice(times, func(i, j int) bool { return times[i].Less(times[j]) })
	return times
}

// feetEdge reports whether the feet begin or end at t in a shared staff.
func feetEdge(l *Layout, t musicxml.Time) bool {
	return slices.ContainsFunc(l.Spans, func(s Span) bool { return s.Start == t || s.End == t })
}
