package resolve

import "slices"

// keep adds a trial to those kept, in the order of cost, unless it costs too
// much or one of them is better whatever stands before and after. What takes
// longest to find out is counted last.
func (st *stage) keep(t *trial) {
	for _, count := range []func(*trial){func(*trial) {}, t.desk.listen, t.desk.drowned} {
		count(t)
		if st.beaten(t) {
			return
		}
		if t.cost > st.bar() {
			st.next = min(st.next, t.cost)
			return
		}
	}
	at, _ := slices.BinarySearchFunc(st.trials, t, func(a, b *trial) int {
		if a.cost <= b.cost {
			return -1 // behind those that cost the same
		}
		return 1
	})
	st.trials = slices.Insert(st.trials, at, t.clone())
	if len(st.trials) > mostTrials {
		st.next = min(st.next, st.trials[mostTrials].cost)
		st.trials = st.trials[:mostTrials]
	}
}

// beaten reports whether one of the trials kept is better than t whatever
// stands before and after: it costs less by at least what it takes to go from
// one to the other, at both ends of the passage. The first three are kept all
// the same, as something to fall back on, unless they are played alike.
func (st *stage) beaten(t *trial) bool {
	first := len(st.trials) < keepAtLeast || t.cost < st.trials[keepAtLeast-1].cost
	// What was better than the last one is mostly better than the next, too.
	if !first && st.better < len(st.trials) && st.beats(st.trials[st.better], t) {
		return true
	}
	compared := 0
	defer func() { st.nodes += compared * (len(t.knobs) + 4) / wordsPerNode }()
	for i, k := range st.trials {
		if k.cost > t.cost {
			break
		}
		compared++
		if (!first || alike(k, t)) && st.beats(k, t) {
			st.better = i
			return true
		}
	}
	return false
}

// alike reports whether two trials are played in the same way, whatever each
// stop is drawn for.
func alike(a, b *trial) bool {
	return a.desk == b.desk && a.knobs.differ(b.knobs) == 0 && slices.EqualFunc(a.parts, b.parts, func(x, y *Part) bool {
		return x.Host == y.Host && (!x.played || x.Octave == y.Octave)
	})
}

// others are so many of the cheapest trials beside one that are played
// otherwise than it and than one another, looked for far and wide if they are
// wanted anyway.
func (st *stage) others(than *trial, most int, anyway bool) []*trial {
	out := []*trial{than}
	for _, t := range st.trials {
		if len(out) <= most && !slices.ContainsFunc(out, func(k *trial) bool { return alike(k, t) }) {
			out = append(out, t)
		}
	}
	if len(out) <= most && anyway && st.far < marginAny && st.nodes < nodesToFallBack {
		st.far *= 2
		st.searchAgain()
		return st.others(than, most, anyway)
	}
	return out[1:]
}

func (st *stage) beats(k, t *trial) bool {
	less := t.cost - k.cost
	return less >= 0 && st.apart(k, t, less) <= less
}

// apart is the most that it can cost more to come to a from the passage before,
// and to go on from it to the next, than to come to b and go on from that; it
// is counted no further once it is over most.
func (st *stage) apart(a, b *trial, most int) int {
	if a.desk != b.desk {
		return never // who plays what is not the same
	}
	cost := (st.inMove + st.outMove) * a.knobs.differ(b.knobs)
	if cost > most {
		return cost
	}
	step := false // the way up or down to another manual may differ
	for i, x := range a.parts {
		y := b.parts[i]
		if len(x.ask.voice) > 0 && !samePlace(x, y) {
			n := x.ask.recurs.neighbours
			if a.desk.swap != nil {
				n = 2
			}
			cost += n * costTextChange
		}
		if !x.played {
			continue
		}
		if x.Host != y.Host {
			cost += 2 * costMapChange
			step = step || x.ask.use == chorus
		}
		if x.Octave != y.Octave {
			cost += 2 * costOctaveChange
		}
	}
	if step && st.inStep {
		cost += costStep
	}
	if step && st.outStep {
		cost += costStep
	}
	if cost > most {
		return cost
	}
	if st.inGrows {
		cost += costFalls * b.heard().without(a.heard())
	}
	if st.outGrows {
		cost += costFalls * a.heard().without(b.heard())
	}
	return cost
}

// sift leaves only what is within the limit, and what no cheaper trial beats.
func (st *stage) sift() {
	all, limit := st.trials, st.limit()
	st.trials = nil
	st.better = 0
	for _, t := range all {
		switch {
		case t.cost > limit:
			st.next = min(st.next, t.cost)
		case !st.beaten(t):
			st.trials = append(st.trials, t)
		}
	}
}
