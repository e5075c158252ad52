package resolve

import (
	"slices"
	"sort"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// keptSettings is how many ways of playing one passage are kept for the
// search across passages and as alternatives.
const keptSettings = 6

// settingsFor lists the best ways of playing a passage, cheapest first; there
// is always at least one, be it that nothing is drawn.
func (r *resolver) settingsFor(p *passage.Passage) []*Setting {
	var options [][]*Part
	for _, a := range p.Drawn {
		if a.Division.Role == division.Every {
			continue
		}
		opts := r.optionsFor(p, a)
		if len(opts) == 0 {
			opts = []*Part{{Asked: a, Cost: costMissingUnison, played: len(linesOn(p, a.Division)) > 0}}
		}
		options = append(options, opts)
	}
	j := &joint{r: r, p: p, options: options}
	j.bounds()
	j.choose(0, nil, 0)
	sort.SliceStable(j.found, func(a, b int) bool { return j.found[a].Cost < j.found[b].Cost })
	if len(j.found) == 0 {
		j.found = []*Setting{r.setting(p, firstOf(options))}
	}
	return j.found
}

func firstOf(options [][]*Part) []*Part {
	var parts []*Part
	for _, o := range options {
		parts = append(parts, o[0])
	}
	return parts
}

// joint is the search for the best parts of one passage together: branch and
// bound, the sum of the cheapest options still open being the bound.
type joint struct {
	r       *resolver
	p       *passage.Passage
	options [][]*Part
	rest    []int // cost of the cheapest options from each depth on
	found   []*Setting
}

func (j *joint) bounds() {
	j.rest = make([]int, len(j.options)+1)
	for i := len(j.options) - 1; i >= 0; i-- {
		j.rest[i] = j.rest[i+1] + j.options[i][0].Cost
	}
}

func (j *joint) limit() int {
	if len(j.found) < keptSettings {
		return int(^uint(0) >> 1)
	}
	return j.found[len(j.found)-1].Cost
}

func (j *joint) choose(depth int, parts []*Part, cost int) {
	if cost+j.rest[depth] >= j.limit() {
		return
	}
	if depth == len(j.options) {
		s := j.r.setting(j.p, parts)
		j.found = append(j.found, s)
		sort.SliceStable(j.found, func(a, b int) bool { return j.found[a].Cost < j.found[b].Cost })
		if len(j.found) > keptSettings {
			j.found = j.found[:keptSettings]
		}
		return
	}
	for _, o := range j.options[depth] {
		extra, ok := clash(parts, o)
		if !ok {
			continue
		}
		j.choose(depth+1, append(slices.Clone(parts), o), cost+o.Cost+extra)
	}
}

// clash reports what it costs to give a part beside those already chosen, or
// that it can't be done: a division that lends stops may not be played or lend
// others besides.
func clash(parts []*Part, o *Part) (cost int, ok bool) {
	for _, q := range parts {
		if q.Host == o.Host && q.Host != nil {
			if q.Octave != o.Octave && q.played && o.played {
				return 0, false
			}
			if !sameStops(q, o) {
				cost += costShared
			}
		}
		for _, p := range q.Lending {
			if p.From == o.Host || lendsOther(o, p) {
				return 0, false
			}
		}
		for _, p := range o.Lending {
			if p.From == q.Host {
				return 0, false
			}
		}
	}
	return cost, true
}

func lendsOther(o *Part, p Path) bool {
	for _, q := range o.Lending {
		if q.From == p.From {
			return true
		}
	}
	return false
}

func sameStops(a, b *Part) bool {
	as, bs := a.Stops(), b.Stops()
	if len(as) == 0 || len(bs) == 0 {
		return true
	}
	set := map[*registry.Stop]bool{}
	for _, c := range as {
		set[c.Stop] = true
	}
	for _, c := range bs {
		if !set[c.Stop] {
			return false
		}
	}
	return len(as) == len(bs)
}

// acrossPassages picks one setting for each passage so that the whole costs
// least: the settings' own costs and those of changing between them. It is
// exact over the settings kept.
func (r *resolver) acrossPassages(kept [][]*Setting) ([]*Setting, int) {
	if len(kept) == 0 {
		return nil, 0
	}
	cost := make([][]int, len(kept))
	from := make([][]int, len(kept))
	for i, row := range kept {
		cost[i], from[i] = make([]int, len(row)), make([]int, len(row))
		for k, s := range row {
			cost[i][k] = s.Cost
			if i == 0 {
				continue
			}
			best := -1
			for q, prev := range kept[i-1] {
				c := cost[i-1][q] + changeCost(prev, s)
				if best < 0 || c < best {
					best, from[i][k] = c, q
				}
			}
			cost[i][k] += best
		}
	}
	last, at := len(kept)-1, 0
	for k := range kept[last] {
		if cost[last][k] < cost[last][at] {
			at = k
		}
	}
	total := cost[last][at]
	out := make([]*Setting, len(kept))
	for i := last; i >= 0; i-- {
		out[i] = kept[i][at]
		at = from[i][at]
	}
	return out, total
}

// changeCost is what it costs to go from one setting to the next: a division
// of the score that moves to another home, and stops and couplers to move.
func changeCost(a, b *Setting) int {
	cost := 0
	for _, x := range a.Parts {
		for _, y := range b.Parts {
			if x.Asked.Division == y.Asked.Division && x.Host != y.Host && len(x.Asked.Voices) > 0 && len(y.Asked.Voices) > 0 {
				cost += costMapChange
			}
		}
	}
	moved := 0
	for s := range a.Drawn.Stops {
		if !b.Drawn.Stops[s] {
			moved++
		}
	}
	for s := range b.Drawn.Stops {
		if !a.Drawn.Stops[s] {
			moved++
		}
	}
	return cost + costMoveStop*moved
}
