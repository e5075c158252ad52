package passage

import (
	"slices"
	"sort"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// Options are what the player says about how the score is to be read.
type Options struct {
	Staves Choice
	Lang   string // language of the registration; "" finds it in the texts
}

// Read finds what the score asks of the organ. A score without an organ part
// gives a Score without staves. Its time grows with the notes and texts, not
// with their product.
func Read(score *musicxml.Score, opts Options) (*Score, error) {
	lang := opts.Lang
	if lang == "" {
		lang = languageOf(score)
	}
	r := newTextReader(lang)
	l, findings, err := FindStaves(score, opts.Staves, r.asksOrgan)
	if err != nil {
		return nil, err
	}
	s := &Score{Layout: l, Lang: lang, Findings: findings}
	if len(l.Staves) == 0 {
		return s, nil
	}
	d := newDynamics(l)
	s.Texts = r.textsOf(score, l, d)
	d.settle()
	s.dynamics = d
	l.findShared(s.Texts)
	s.Findings = append(s.Findings, s.unread()...)
	s.Numbering = numberingOf(s.Texts)
	w := &walk{score: s, layout: l, dynamics: d, order: score.Order(), lang: lang}
	w.passages()
	s.Passages = w.done
	s.Returns = w.returns()
	return s, nil
}

// asksOrgan reports whether a part holds a direction that only an organ can
// follow: a named division, a coupler, a swell box, or feet.
func (r *textReader) asksOrgan(p *musicxml.Part) bool {
	for _, g := range p.DirectionGroups() {
		if g.Text == "" {
			continue
		}
		for _, st := range r.reading(g.Text, nil).Statements {
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

var sixteenFeet, eightFeet = pitch.Foot(16), pitch.Foot(8)

// A walk goes once through the score, carries the directions forward and cuts
// the score where what is asked changes.
type walk struct {
	score    *Score
	layout   *Layout
	dynamics *dynamics
	order    []int // the measures as they are played
	lang     string

	end      moment
	state    *state
	memory   memory
	forHands map[*Staff][]moment // when texts for a hand stand at each staff
	jumps    jumps

	done []*Passage
	open *Passage
	key  string // of the open passage
	keys []string
}

func (w *walk) passages() {
	w.end = endOf(w.layout)
	w.state = newState(w.lang)
	w.state.numbers = w.score.Numbering.Manuals
	w.jumps = jumpsOf(w.layout.Staves[0].Part, w.order)
	w.forHands = map[*Staff][]moment{}
	var asking []*Text
	for _, x := range w.score.Texts {
		if x.Time.Sign() <= 0 && twoManuals(x.Text) && !x.names(division.Manual(2)) {
			w.score.TwoManuals = true
			w.state.rh, w.state.lh = Division{Of: RH}, Division{Of: LH}
		}
		if x.AsksNothing() {
			continue
		}
		asking = append(asking, x)
		w.state.hasGreat = w.state.hasGreat || x.names(division.Great)
		if x.Staff != nil && x.forHand() {
			w.forHands[x.Staff] = append(w.forHands[x.Staff], x.Time)
		}
	}
	next := 0
	for _, t := range w.times(asking) {
		var now []*Text
		for next < len(asking) && !t.Less(asking[next].Time) {
			now = append(now, asking[next])
			next++
		}
		w.step(t, now)
	}
	for _, p := range w.done {
		p.From, p.To = placeOf(w.layout, p.Start), placeOf(w.layout, p.End)
		p.play(w.layout, w.dynamics)
	}
}

// times are the moments at which what is asked may change, ascending, the
// start of the score always among them.
func (w *walk) times(asking []*Text) []moment {
	times := []moment{{}}
	for _, x := range asking {
		times = append(times, x.Time)
	}
	for t := range w.jumps.leave {
		times = append(times, t)
	}
	for t := range w.jumps.resume {
		times = append(times, t)
	}
	for _, sp := range w.layout.Spans {
		times = append(times, sp.Start, sp.End)
	}
	times = append(times, w.layout.turnTimes()...)
	times = slices.DeleteFunc(times, func(t moment) bool { return t.Sign() < 0 || !t.Less(w.end) })
	sort.Slice(times, func(i, j int) bool { return times[i].Less(times[j]) })
	return slices.Compact(times)
}

// step carries the texts of one moment.
func (w *walk) step(t moment, now []*Text) {
	w.state.now = t
	if _, leaves := w.jumps.leave[t]; leaves {
		w.jumps.leave[t] = left{w.state.clone(), w.open}
	}
	var resumed *Passage
	if from, ok := w.jumps.resume[t]; ok {
		if was := w.jumps.leave[from]; was.state != nil {
			w.state.restore(was.state)
			resumed = was.passage
		}
	}
	if len(now) > 0 {
		w.state.rest()
	}
	c := companyOf(w.layout, now, w.nextForHand)
	for _, x := range now {
		w.state.texts++
		if x.recalls() != noRecall {
			w.state.now = x.Time
			w.state.recall(x, &w.memory)
		}
		w.state.text(x, c)
	}
	if t.IsZero() {
		w.state.settle(w.score.TwoManuals)
	}
	w.turn(t)
	key := w.state.key(w.layout.Of(Feet) != nil)
	w.memory.keep(w.state, key)
	if w.open != nil && key == w.key && !w.feetEdge(t) {
		w.open.Restated = append(w.open.Restated, now...)
		return
	}
	if w.open != nil {
		w.open.End = t
	}
	w.open = &Passage{Span: Span{Start: t, End: w.end}, Texts: now}
	if resumed != nil && key != w.key {
		w.open.Resumes = resumed
	}
	w.state.fill(w.open)
	w.key = key
	w.done, w.keys = append(w.done, w.open), append(w.keys, key)
}

// nextForHand is when the next text that draws stops or sends hands stands at
// a staff after the moment, or the end.
func (w *walk) nextForHand(s *Staff, t moment) moment {
	times := w.forHands[s]
	if i := sort.Search(len(times), func(i int) bool { return t.Less(times[i]) }); i < len(times) {
		return times[i]
	}
	return w.end
}

// feetEdge reports whether the feet begin or end at t in a shared staff.
func (w *walk) feetEdge(t moment) bool {
	spans := w.layout.Spans
	i := sort.Search(len(spans), func(i int) bool { return !spans[i].End.Less(t) })
	return i < len(spans) && (spans[i].End == t || spans[i].Start == t) || i+1 < len(spans) && spans[i+1].Start == t
}

func placeOf(l *Layout, t moment) musicxml.Place { return l.Staves[0].Part.Place(t) }

// indexAt is which of the passages is in force at a moment, or right before it.
func indexAt(passages []*Passage, t moment, before bool) int {
	i := sort.Search(len(passages), func(i int) bool { return t.Less(passages[i].Start) }) - 1
	if before && i > 0 && passages[i].Start == t {
		i--
	}
	return max(0, i)
}

// passageAt is the passage in force at a moment, or right before it.
func passageAt(passages []*Passage, t moment, before bool) *Passage {
	return passages[indexAt(passages, t, before)]
}

// fill writes what is in force into the passage.
func (s *state) fill(p *Passage) {
	p.FeetOff = s.feetOff
	p.Couplings = slices.Clone(s.couplings)
	// Each list in one piece of memory, since a score may have thousands.
	lines, asked := [...]Line{RH, LH, Feet}, make([]Asked, len(s.order))
	played := make([]Played, len(lines))
	p.Lines, p.Drawn = make([]*Played, len(lines)), make([]*Asked, len(asked))
	for i, line := range lines {
		played[i] = Played{Line: line, Division: s.at(line), Role: s.drawn[s.at(line)].role, came: s.came(line)}
		p.Lines[i] = &played[i]
	}
	for i, d := range s.order {
		r := s.drawn[d]
		asked[i] = Asked{ // voices are never changed in place
			Division: d, Voices: slices.Clip(r.voices), Without: r.without, Prepared: r.prepared,
			Box: r.box, Tremming: r.trem, Level: r.level, said: r.levelAt, listed: r.setAt,
		}
		p.Drawn[i] = &asked[i]
	}
	s.tutti(p)
}

// tutti draws the whole organ for whoever plays where everything is drawn: all
// that can be coupled there, and to the pedal. It holds as long as somebody
// plays there; then what was drawn before is in force again.
func (s *state) tutti(p *Passage) {
	for _, line := range p.Lines {
		d := line.Division
		r := s.drawn[d]
		if !r.isTutti() {
			continue
		}
		for _, c := range []Coupling{{From: every, To: d}, {From: every, To: Pedal}} {
			if !slices.Contains(p.Couplings, c) {
				p.Couplings = append(p.Couplings, c)
			}
		}
		if pedal := s.drawn[Pedal]; d == Pedal || pedal.drawnAt > r.drawnAt {
			continue
		}
		full := direction.Voice{Group: direction.Full}
		for _, v := range r.voices {
			if v.Group == direction.Tutti {
				full.Except = v.Except
			}
		}
		if a := p.Asked(Pedal); a != nil {
			a.Voices, a.Without = []direction.Voice{full}, r.without
		} else {
			p.Drawn = append(p.Drawn, &Asked{Division: Pedal, Voices: []direction.Voice{full}, Without: r.without})
		}
	}
}

func endOf(l *Layout) moment {
	var end moment
	for _, s := range l.Staves {
		if m := s.Part.Measures; len(m) > 0 {
			end = later(end, m[len(m)-1].End)
		}
	}
	return end
}
