package sheet

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
)

// An entry is one place of the sheet: what is done there, or how everything
// stands where one may start again. The first is what is set before the first
// note.
type entry struct {
	at      musicxml.Time
	place   musicxml.Place
	page    string   // "" where the score has no pages
	turn    bool     // the page begins here
	marks   []string // the rehearsal marks here
	cue     string
	back    *musicxml.Place // where the music goes on from here, if it jumps
	again   bool            // it jumps back: a repeat or da capo
	to      *state
	moves   []move
	piston  int  // the general that does the knobs, 0 for by hand
	setting int  // index of the passage that begins here; -1 for a jump, or where only to start again
	hurried bool // by hand, and with less time than that takes
	free    int  // milliseconds for the change

	texts   []asked
	reasons []reason
}

// asked is a text of the score that asks for something.
type asked struct {
	at   musicxml.Place
	text string
}

// A reason is why a line is given something else than what is asked for.
type reason struct {
	at      musicxml.Place
	setting *resolve.Setting
	line    *resolve.Line
	text    string
}

// A move is one thing that changes: a knob, a box, or where somebody plays.
type move struct {
	knob  knob
	on    bool // of a knob
	box   *registry.Division
	shows string // of a box: where it goes
	line  passage.Line
	from  place
	to    place
}

// isKnob reports whether the move is one that a piston can do.
func (m move) isKnob() bool { return m.knob != knob{} }

// startsAgain reports whether one may start again here, so that everything is
// told that stands.
func (e *entry) startsAgain() bool { return e.turn || len(e.marks) > 0 }

// knobs are the entry's moves that a piston can do.
func (e *entry) knobs() int {
	n := 0
	for _, m := range e.moves {
		if m.isKnob() {
			n++
		}
	}
	return n
}

// findEntries walks through the score as it is played: what is moved between
// two passages that follow one another, and at every jump.
func (s *sheet) findEntries() []*entry {
	p := s.plan
	var all []*entry
	said, played := reasonsSaid{}, map[passage.Line]bool{}
	linear, jumps := s.transitions()
	for i, setting := range p.Settings {
		t := setting.Passage.Start
		e := &entry{at: t, place: setting.Passage.From, to: s.states[i], setting: i, free: s.moments.millisecondsFree(t)}
		switch {
		case i == 0:
			e.moves = movesBetween(p.Organ, &state{}, s.states[0])
		case linear(t):
			e.moves = movesBetween(p.Organ, s.states[i-1], s.states[i])
		}
		e.reasons = s.reasonsOf(setting, said)
		entering := !slices.ContainsFunc(e.reasons, func(r reason) bool { return played[r.line.Asked.Line] })
		for _, line := range setting.Lines {
			played[line.Asked.Line] = true
			if line.Asked.Line == passage.Both {
				played[passage.RH], played[passage.LH] = true, true
			}
		}
		if i > 0 && len(e.moves)+len(e.reasons) == 0 {
			continue
		}
		e.texts = asking(setting, p.Asked.Lang)
		if i > 0 && len(e.moves) == 0 && entering {
			// What comes in here was drawn before: that is where its reason belongs.
			last := all[len(all)-1]
			last.reasons = append(last.reasons, e.reasons...)
			last.texts = append(last.texts, e.texts...)
			continue
		}
		all = append(all, e)
	}
	for _, j := range jumps {
		from, to := s.standing(j.At, false), s.standing(j.Back, true)
		moves := movesBetween(p.Organ, from, to)
		if len(moves) == 0 {
			continue
		}
		e := &entry{
			at: j.At, place: s.moments.lastPlace(j.At), to: to, moves: moves, setting: -1,
			free: s.moments.millisecondsFree(j.At), again: !j.At.Less(j.Back),
		}
		back := s.moments.part.Place(j.Back)
		e.back = &back
		all = append(all, e)
	}
	all = s.addStarts(all)
	slices.SortStableFunc(all, func(a, b *entry) int {
		if c := a.at.Cmp(b.at); c != 0 {
			return c
		}
		switch { // a jump leaves before the next passage begins
		case a.back != nil && b.back == nil:
			return -1
		case a.back == nil && b.back != nil:
			return 1
		}
		return 0
	})
	for i, e := range all {
		if i == 0 {
			continue
		}
		e.cue = s.moments.cue(e.at)
		if e.back == nil {
			e.page = s.moments.page(e.at)
		}
	}
	return all
}

// addStarts adds the places where one starts again: rehearsal marks and pages.
func (s *sheet) addStarts(all []*entry) []*entry {
	entryAt := func(t musicxml.Time) *entry {
		for _, e := range all {
			if e.at == t && e.back == nil {
				return e
			}
		}
		e := &entry{at: t, place: s.moments.part.Place(t), to: s.standing(t, true), setting: -1}
		all = append(all, e)
		return e
	}
	end := s.plan.Settings[len(s.plan.Settings)-1].Passage.End
	for _, mark := range s.moments.marks {
		if !mark.at.IsZero() && mark.at.Less(end) {
			e := entryAt(mark.at)
			e.marks = append(e.marks, mark.text)
		}
	}
	for _, t := range s.moments.pageTurns() {
		if t.Less(end) {
			entryAt(t).turn = true
		}
	}
	return all
}

// standing is how the console stands at a moment: after what begins there, or
// before.
func (s *sheet) standing(t musicxml.Time, after bool) *state {
	st := s.states[0]
	for i, setting := range s.plan.Settings {
		if start := setting.Passage.Start; start.Less(t) || after && start == t {
			st = s.states[i]
		}
	}
	return st
}

// transitions says of a moment whether the music before it is ever played on
// into it, and lists the jumps, each once.
func (s *sheet) transitions() (linear func(musicxml.Time) bool, jumps []passage.Return) {
	part := s.moments.part
	on := map[int]bool{} // measures that are reached from the one before
	order := s.Score.Order()
	for i := 1; i < len(order); i++ {
		from, to := order[i-1], order[i]
		if from >= len(part.Measures) || to >= len(part.Measures) {
			continue
		}
		if to == from+1 {
			on[to] = true
			continue
		}
		j := passage.Return{At: part.Measures[from].End, Back: part.Measures[to].Start}
		if !slices.Contains(jumps, j) {
			jumps = append(jumps, j)
		}
	}
	return func(t musicxml.Time) bool {
		m := part.MeasureAt(t)
		return m == nil || m.Start != t || on[m.Index]
	}, jumps
}

// movesBetween lists what is done to get from one state to another: knobs in
// the order of the console, boxes, then hands and feet.
func movesBetween(o *registry.Organ, a, b *state) []move {
	var moves []move
	for _, d := range o.Divisions {
		for _, on := range []bool{true, false} {
			for _, s := range d.Stops {
				if k := (knob{stop: s}); b.out[k] == on && a.out[k] != on {
					moves = append(moves, move{knob: k, on: on})
				}
			}
		}
	}
	for _, k := range knobsOf(o) {
		if k.stop == nil && a.out[k] != b.out[k] {
			moves = append(moves, move{knob: k, on: b.out[k]})
		}
	}
	for _, d := range o.Divisions {
		if x, y := a.boxes[d], b.boxes[d]; x != y && y != "" && (y != "open" || x != "opening") && (y != "shut" || x != "closing") {
			moves = append(moves, move{box: d, shows: y})
		}
	}
	for _, line := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		x, was := a.hands[line]
		y, is := b.hands[line]
		if !is || x == y || was && y.keyboard == nil {
			continue
		}
		if line == passage.Feet && !was && y.octave == 0 {
			continue // there is only one pedalboard
		}
		moves = append(moves, move{line: line, from: x, to: y})
	}
	return joinHands(moves)
}

// joinHands makes one move of two hands that go to the same place.
func joinHands(moves []move) []move {
	for i, m := range moves {
		if m.line != passage.RH {
			continue
		}
		for k, n := range moves {
			if n.line == passage.LH && n.to == m.to && (n.from.octave == m.from.octave) {
				moves[i].line = passage.Both
				return slices.Delete(moves, k, k+1)
			}
		}
	}
	return moves
}

// reasonsSaid are the reasons that have been told already, by who plays.
type reasonsSaid map[passage.Line]map[string]bool

// first reports whether a reason is told for the first time.
func (said reasonsSaid) first(line passage.Line, text string) bool {
	new := !said[line][text]
	for _, l := range []passage.Line{line, passage.RH, passage.LH} {
		if l != line && line != passage.Both {
			continue
		}
		if said[l] == nil {
			said[l] = map[string]bool{}
		}
		said[l][text] = true
	}
	return new
}

// reasonsOf are the reasons of a setting that have not been said before: what
// comes back is not explained again.
func (s *sheet) reasonsOf(setting *resolve.Setting, said reasonsSaid) []reason {
	var out []reason
	add := func(line *resolve.Line, text string) {
		out = append(out, reason{setting.Passage.From, setting, line, text})
	}
	for _, line := range setting.Lines {
		if len(line.Changed) > 0 || line.Part != nil && line.Part.Asked.Proposed {
			if text := s.why(line); text != "" && said.first(line.Asked.Line, text) {
				add(line, text)
			}
		}
		if line.Asked.Line != passage.Feet {
			continue
		}
		for _, f := range setting.Follows {
			if c, _, _ := s.plan.Coupled(setting, f.Coupling); c != nil {
				add(line, (knob{coupler: c}).name()+onOff(f.On)+" is not printed: the pedal follows the hands.")
			}
		}
	}
	return out
}
