package sheet

import (
	"maps"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// A state is how the console stands.
type state struct {
	out   map[knob]bool
	boxes map[*registry.Division]string // "shut", "half", "open", "opening", "closing"; none where the score leaves it to the player
	hands map[passage.Line]place        // of RH, LH and Feet, once they have played
}

// A knob is what is drawn or put in: a stop, a coupler or a tremulant.
type knob struct {
	stop      *registry.Stop
	coupler   *registry.Coupler
	tremulant *registry.Division
}

// A place is where a hand or the feet play.
type place struct {
	keyboard *registry.Keyboard
	octave   int // how far from what is printed
}

// knobsOf are the knobs of an organ in the order of the console: the stops of
// each division, then the couplers, then the tremulants. Couplers that are
// always on have none.
func knobsOf(o *registry.Organ) []knob {
	var all []knob
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			all = append(all, knob{stop: s})
		}
	}
	for _, c := range o.Couplers {
		if !c.Permanent {
			all = append(all, knob{coupler: c})
		}
	}
	for _, d := range o.Tremulants {
		all = append(all, knob{tremulant: d})
	}
	return all
}

// drawn reports whether a setting has the knob out.
func (k knob) drawn(s *resolve.Setting) bool {
	switch {
	case k.stop != nil:
		return s.Drawn.Stops[k.stop]
	case k.coupler != nil:
		return s.Drawn.Couplers[k.coupler]
	}
	for _, d := range s.Tremulants {
		if d == k.tremulant {
			return true
		}
	}
	return false
}

// statesOf says how the console stands in every passage. A setting tells only
// of what is heard; a knob that is not heard stays as it is, and is moved
// ahead of its next use where there is most time, before the first note if it
// has not been heard yet. So nothing is pushed in only to be drawn again.
func statesOf(p *resolve.Plan, m *moments) []*state {
	states := make([]*state, len(p.Settings))
	ears := make([]*audible, len(p.Settings))
	for i, s := range p.Settings {
		states[i] = &state{out: map[knob]bool{}, boxes: map[*registry.Division]string{}, hands: map[passage.Line]place{}}
		ears[i] = audibleIn(p.Organ, s)
	}
	for _, k := range knobsOf(p.Organ) {
		last := -1 // the last passage in which it counts
		for i, s := range p.Settings {
			if !ears[i].counts(k) {
				continue
			}
			on := k.drawn(s)
			from := 0
			if last >= 0 {
				was := states[last].out[k]
				if from = last + 1; on != was {
					from = m.roomiest(p, last+1, i)
				}
				set(states[last+1:from], k, was)
			}
			set(states[from:i+1], k, on)
			last = i
		}
		if last >= 0 {
			set(states[last+1:], k, states[last].out[k])
		}
	}
	for i, s := range p.Settings {
		states[i].place(p.Organ, s, states[max(0, i-1)])
	}
	prepare(p, m, states, ears)
	return states
}

func set(states []*state, k knob, on bool) {
	if !on {
		return
	}
	for _, s := range states {
		s.out[k] = true
	}
}

// place says where boxes stand and hands play, going on from the state before
// where the setting says nothing.
func (st *state) place(o *registry.Organ, s *resolve.Setting, before *state) {
	for d, box := range before.boxes {
		st.boxes[d] = box
		switch box {
		case "opening":
			st.boxes[d] = "open"
		case "closing":
			st.boxes[d] = "shut"
		}
	}
	for _, d := range o.Divisions {
		if box := s.Boxes[d]; box != "" {
			st.boxes[d] = box
		}
	}
	maps.Copy(st.hands, before.hands)
	for _, line := range s.Lines {
		if line.Keyboard == nil {
			continue
		}
		at := place{line.Keyboard, line.Octave}
		if line.Asked.Line == passage.Both {
			st.hands[passage.RH], st.hands[passage.LH] = at, at
		} else {
			st.hands[line.Asked.Line] = at
		}
	}
}

// prepare takes what comes in later to where it is needed before the first
// note: the hand or foot that has not played yet; and moves the box of a
// division while that is not heard.
func prepare(p *resolve.Plan, m *moments, states []*state, ears []*audible) {
	for _, line := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		for i, st := range states {
			if at, ok := st.hands[line]; ok {
				for _, earlier := range states[:i] {
					earlier.hands[line] = place{keyboard: at.keyboard}
				}
				break
			}
		}
	}
	for _, d := range p.Organ.Divisions {
		for i := 1; i < len(states); i++ {
			box := states[i].boxes[d]
			if box == states[i-1].boxes[d] || box != "shut" && box != "half" && box != "open" {
				continue
			}
			first := i
			for first > 0 && !ears[first-1].divisions[d] {
				first--
			}
			from := first
			if first > 0 {
				from = m.roomiest(p, first, i)
			}
			for _, earlier := range states[from:i] {
				earlier.boxes[d] = box
			}
		}
	}
}

// audible is what can be heard in a setting: what its lines play, and what is
// coupled to that.
type audible struct {
	keyboards map[*registry.Keyboard]bool // that a line plays
	divisions map[*registry.Division]bool
}

func audibleIn(o *registry.Organ, s *resolve.Setting) *audible {
	a := &audible{keyboards: map[*registry.Keyboard]bool{}, divisions: map[*registry.Division]bool{}}
	// Octave and Unison Off do not change which divisions a keyboard reaches.
	all := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	for _, d := range o.Divisions {
		for _, stop := range d.Stops {
			all.Stops[stop] = true
		}
	}
	for c, on := range s.Drawn.Couplers {
		if on && !c.Within() {
			all.Couplers[c] = true
		}
	}
	for _, line := range s.Lines {
		if line.Keyboard == nil || a.keyboards[line.Keyboard] {
			continue
		}
		a.keyboards[line.Keyboard] = true
		for _, d := range o.Divisions {
			if d.Keyboard == line.Keyboard {
				a.divisions[d] = true
			}
		}
		for _, sound := range o.Sounding(all, line.Keyboard) {
			a.divisions[sound.Stop.Division] = true
		}
	}
	return a
}

// counts reports whether it makes a difference to what is heard how the knob
// stands.
func (a *audible) counts(k knob) bool {
	switch {
	case k.stop != nil:
		return a.divisions[k.stop.Division]
	case k.tremulant != nil:
		return a.divisions[k.tremulant]
	case k.coupler.Within():
		return a.divisions[k.coupler.From]
	}
	// A division without stops may still pass on what is coupled to it.
	to := k.coupler.To
	return len(a.keyboards) > 0 && (a.keyboards[to.Keyboard] || a.divisions[to] || len(to.Stops) == 0)
}
