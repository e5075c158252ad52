package resolve

import (
	"math/bits"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// The search keeps few settings of each passage first and more of those where
// that turns out not to be enough, up to most.
const (
	keepFirst, keepMost   = 6, 96
	slackFirst, slackMost = 60, 960
)

// wildcard stands for every setting of a passage that was not kept.
const wildcard = -1

// barred is the cost of a way that may not be taken.
const barred = 2 * never

// solve picks one setting for each passage so that the whole costs least: the
// settings' own costs and those of changing from one to the next.
//
// It is dynamic programming over the settings that are kept and one wildcard
// for all others, which costs what the cheapest of them costs at least and
// from and to which changes are free. A best way that avoids the wildcards is
// the best there is; where it takes one, more is kept there and the search
// goes on. bound is what no plan can go below.
func (r *resolver) solve(passages []*passage.Passage) (chosen []*Setting, rows []row, cost, bound int) {
	rows = make([]row, len(passages))
	keep, slack := make([]int, len(passages)), make([]int, len(passages))
	for i := range passages {
		keep[i], slack[i] = keepFirst, slackFirst
		rows[i] = r.settings(passages[i], keep[i], slack[i])
	}
	for {
		path, total := r.cheapest(rows, true)
		more := false
		for i, k := range path {
			if k == wildcard && (keep[i] < keepMost || slack[i] < slackMost) && rows[i].next < never {
				keep[i], slack[i] = min(2*keep[i], keepMost), min(2*slack[i], slackMost)
				rows[i] = r.settings(passages[i], keep[i], slack[i])
				more = true
			}
		}
		if more {
			continue
		}
		bound = total
		path, cost = r.cheapest(rows, false)
		chosen = make([]*Setting, len(path))
		for i, k := range path {
			chosen[i] = rows[i].settings[k]
		}
		return chosen, rows, cost, bound
	}
}

// cheapest is the way through the rows that costs least, as indexes of
// settings. Ties go to the setting that comes first.
func (r *resolver) cheapest(rows []row, wildcards bool) (path []int, total int) {
	if len(rows) == 0 {
		return nil, 0
	}
	type state struct{ cost, from int }
	table := make([][]state, len(rows))
	for i, row := range rows {
		n := len(row.settings)
		table[i] = make([]state, n+1)
		for k := 0; k <= n; k++ {
			own := row.next
			if k < n {
				own = row.settings[k].Cost
			} else if !wildcards {
				own = barred
			}
			if i == 0 {
				table[i][k] = state{own, 0}
				continue
			}
			best, from := barred+1, 0
			before := rows[i-1].settings
			for q := range table[i-1] {
				c := table[i-1][q].cost
				if q < len(before) && k < n {
					c += r.change(before[q], row.settings[k], i)
				}
				if c < best {
					best, from = c, q
				}
			}
			table[i][k] = state{min(own+best, barred), from}
		}
	}
	last, at := len(rows)-1, 0
	for k := range table[last] {
		if table[last][k].cost < table[last][at].cost {
			at = k
		}
	}
	total = table[last][at].cost
	path = make([]int, len(rows))
	for i := last; i >= 0; i-- {
		path[i] = at
		if at == len(rows[i].settings) {
			path[i] = wildcard
		}
		at = table[i][at].from
	}
	return path, total
}

// change is what it costs to go from one setting to the next, at the start of
// the passage numbered i.
func (r *resolver) change(a, b *Setting, i int) int {
	cost := r.moveCost[i] * a.knobs.differ(b.knobs)
	for _, x := range a.Parts {
		for _, y := range b.Parts {
			if x.Asked.Division != y.Asked.Division || !x.played || !y.played {
				continue
			}
			if x.Host != y.Host {
				cost += costMapChange
			}
			if x.Octave != y.Octave {
				cost += costOctaveChange
			}
		}
	}
	return cost
}

// knobs is a set of drawn stops and couplers.
type knobs []uint64

func (k knobs) differ(l knobs) int {
	n := 0
	for i := range k {
		n += bits.OnesCount64(k[i] ^ l[i])
	}
	return n
}

// knobsOf are the knobs that are out.
func (r *resolver) knobsOf(d registry.Drawn) knobs {
	k := make(knobs, (r.knobCount+63)/64)
	for s, out := range d.Stops {
		if out {
			n := r.stopNumber[s]
			k[n/64] |= 1 << (n % 64)
		}
	}
	for c, out := range d.Couplers {
		if out {
			n := r.couplerNumber[c]
			k[n/64] |= 1 << (n % 64)
		}
	}
	return k
}
