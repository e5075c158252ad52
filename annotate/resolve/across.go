package resolve

import (
	"cmp"
	"slices"

	"stopgap/annotate/passage"
)

// wildcard stands for every setting of a passage that was not kept.
const wildcard = -1

// barred is the cost of a way that may not be taken.
const barred = 2 * never

// solve picks one trial for each passage so that the whole costs least: the
// trials' own costs and those of changing from one to the next.
//
// It is dynamic programming over the trials that are kept and one wildcard
// for all others, which costs what the cheapest of them costs at least and
// from and to which changes are free. A best way that avoids the wildcards is
// the best there is; where it takes one, the search is widened there and goes
// on. bound is what no plan can go below. Of the stages of an earlier search of
// the same passages those serve again that words settled since do not touch.
func (r *resolver) solve(passages []*passage.Passage, earlier []*stage) (chosen []*Setting, stages []*stage, cost, bound int) {
	r.widened = 0
	for i, p := range passages {
		if earlier != nil && earlier[i].holds() {
			stages = append(stages, earlier[i])
			continue
		}
		out := 0
		if i+1 < len(passages) {
			out = r.moveCost[i+1]
		}
		in := r.moveCost[i]
		if i == 0 {
			in = 0
		}
		e := edges{inMove: in, outMove: out}
		if i > 0 {
			e.inStep, e.inGrows = stepsTo(passages[i-1], p), r.grows[i]
		}
		if i+1 < len(passages) {
			e.outStep, e.outGrows = stepsTo(p, passages[i+1]), r.grows[i+1]
		}
		stages = append(stages, r.stage(p, e))
	}
	for {
		path, total := r.cheapest(stages, true)
		if r.widen(stages, path) {
			continue
		}
		bound = total
		path, cost = r.cheapest(stages, false)
		for i, k := range path {
			t := stages[i].trials[k]
			chosen = append(chosen, t.desk.setting(t))
		}
		return chosen, stages, cost, bound
	}
}

// cheapest is the way through the stages that costs least, as indexes of
// trials. Ties go to the trial that comes first.
func (r *resolver) cheapest(stages []*stage, wildcards bool) (path []int, total int) {
	if len(stages) == 0 {
		return nil, 0
	}
	type state struct{ cost, from int }
	table := make([][]state, len(stages))
	var order []int // the states of the passage before, cheapest first
	for i, st := range stages {
		n := len(st.trials)
		table[i] = make([]state, n+1)
		for k := 0; k <= n; k++ {
			own := st.next
			if k < n {
				own = st.trials[k].cost
			} else if !wildcards {
				own = barred
			}
			if i == 0 {
				table[i][k] = state{own, 0}
				continue
			}
			best, from := barred+1, 0
			before := stages[i-1].trials
			for _, q := range order {
				c := table[i-1][q].cost
				if c > best {
					break
				}
				if q < len(before) && k < n {
					c += r.change(before[q], st.trials[k], i, best-c)
				}
				if c < best || c == best && q < from {
					best, from = c, q
				}
			}
			table[i][k] = state{min(own+best, barred), from}
		}
		order = order[:0]
		for k := range table[i] {
			order = append(order, k)
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Or(table[i][a].cost-table[i][b].cost, a-b) })
	}
	last, at := len(stages)-1, 0
	for k := range table[last] {
		if table[last][k].cost < table[last][at].cost {
			at = k
		}
	}
	total = table[last][at].cost
	path = make([]int, len(stages))
	for i := last; i >= 0; i-- {
		path[i] = at
		if at == len(stages[i].trials) {
			path[i] = wildcard
		}
		at = table[i][at].from
	}
	return path, total
}

// change is what it costs to go from one trial to the next, at the start of
// the passage numbered i; it is counted no further once it is over most.
func (r *resolver) change(a, b *trial, i, most int) int {
	cost := r.moveCost[i] * a.knobs.differ(b.knobs)
	if cost > most {
		return cost
	}
	if stepLost(a, b) {
		cost += costStep
	}
	// Where hand and feet change parts, what the hands have is another thing.
	if r.grows[i] && a.desk.swap == nil && b.desk.swap == nil {
		cost += costFalls * a.heard().without(b.heard())
	}
	for i, x := range a.parts {
		for k, y := range b.parts {
			if a.desk.places[i] != b.desk.places[k] {
				continue
			}
			if len(x.ask.voice) > 0 && x.ask.key == y.ask.key && !samePlace(x, y) {
				cost += costTextChange
			}
			if !x.played || !y.played {
				continue
			}
			// Where hand and feet change parts, or change back, the keyboards
			// change with them.
			if x.Host != y.Host && (a.desk.swap != nil) == (b.desk.swap != nil) {
				cost += costMapChange
			}
			if x.Octave != y.Octave && x.ask.key == y.ask.key {
				cost += costOctaveChange
			}
		}
	}
	return cost
}

// An edges is what may count where a passage begins and where it ends.
type edges struct {
	inMove, outMove   int  // what it costs to move a knob
	inStep, outStep   bool // whether a chorus goes from one division to another
	inGrows, outGrows bool // whether the score takes nothing away from the hands
}

// stepsTo reports whether a chorus goes from one division to another between
// two passages.
func stepsTo(a, b *passage.Passage) bool {
	for _, x := range a.Lines {
		for _, y := range b.Lines {
			if x.Division != y.Division && isChorus(a, x) && isChorus(b, y) {
				return true
			}
		}
	}
	return false
}

func isChorus(p *passage.Passage, line *passage.Played) bool {
	a := p.Asked(line.Division)
	return a != nil && a.Division != passage.Pedal && useOf(a, linesOn(p, a.Division)) == chorus
}

// stepLost reports whether the step from one manual to another is lost: a
// chorus that goes to another division stays on the same keyboard.
func stepLost(a, b *trial) bool {
	for i, x := range a.parts {
		for k, y := range b.parts {
			if x.Host != nil && x.Host == y.Host && x.played && y.played && x.ask.use == chorus && y.ask.use == chorus &&
				a.desk.places[i] != b.desk.places[k] {
				return true
			}
		}
	}
	return false
}
