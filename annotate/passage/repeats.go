package passage

import "stopgap/musicxml"

// A Return is a place where the player goes back: a repeat, D.C. or D.S. What
// is asked where the music goes on is asked again.
type Return struct {
	At, Back musicxml.Time // where the player leaves off, and where the music goes on
	Sign     string        // "repeat", "D.C." or "D.S."
	From, To *Passage      // what is in force before At, and what was in force at Back
	Changes  bool          // the two ask for different things, so something is to be changed on the way
}

// jumps are the places where what is played next is not what is printed next.
type jumps struct {
	// resume gives for the start of a measure that is only reached by a jump
	// forward (a second ending, a coda) the moment at which the player jumped.
	resume map[moment]moment
	leave  map[moment]left // what was in force at the moments of resume
}

// left is what was in force where the player jumped.
type left struct {
	state   *state
	passage *Passage
}

func jumpsOf(p *musicxml.Part, order []int) jumps {
	j := jumps{resume: map[moment]moment{}, leave: map[moment]left{}}
	reached := map[int]bool{}
	linear := map[int]bool{} // the measures that are ever reached from the one before
	first := map[int]int{}   // from where others are reached first
	for i, m := range order {
		if m >= len(p.Measures) {
			continue
		}
		if i > 0 && order[i-1] == m-1 || m == 0 {
			linear[m] = true
		}
		if !reached[m] && i > 0 {
			first[m] = order[i-1]
		}
		reached[m] = true
	}
	for m, from := range first {
		if linear[m] || from >= m {
			continue
		}
		at := p.Measures[from].End
		j.resume[p.Measures[m].Start] = at
		j.leave[at] = left{}
	}
	return j
}

// returns lists the jumps back in the order in which the measures are played,
// each once.
func (w *walk) returns() []Return {
	part := w.layout.Staves[0].Part
	var out []Return
	seen := map[[2]moment]bool{}
	for i := 1; i < len(w.order); i++ {
		from, to := w.order[i-1], w.order[i]
		if to > from || from >= len(part.Measures) {
			continue
		}
		r := Return{At: part.Measures[from].End, Back: part.Measures[to].Start, Sign: "repeat"}
		if seen[[2]moment{r.At, r.Back}] || len(w.done) == 0 {
			continue
		}
		seen[[2]moment{r.At, r.Back}] = true
		if !part.Measures[from].RepeatEnd {
			r.Sign = "D.S."
			if to == 0 {
				r.Sign = "D.C."
			}
		}
		a, b := indexAt(w.done, r.At, true), indexAt(w.done, r.Back, false)
		r.From, r.To = w.done[a], w.done[b]
		r.Changes = w.keys[a] != w.keys[b]
		out = append(out, r)
	}
	return out
}
