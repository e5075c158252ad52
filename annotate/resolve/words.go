package resolve

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry/division"
)

// The same words get the same stops, unless something stands in the way: from
// one passage to the next, where the change shows what is given, and where they
// come back after something else. Then they are held to the way that is best
// for them by themselves, or where the plan never gives them that, to the way
// that it gives them first.

// A recurrence is how the words that a passage asks of a division stand
// among the passages.
type recurrence struct {
	neighbours int  // of the passages before and after, those that ask for the same
	returns    bool // it is asked for anew, or for the first time and anew later
}

// findRecurrences notes how the words of each passage come back, and finds the
// best way for those that do.
func (r *resolver) findRecurrences(passages []*passage.Passage) {
	clear(r.recurs)
	type run struct {
		start *passage.Asked
		p     *passage.Passage
	}
	runs := map[string][]run{}
	before := map[string]bool{}
	var last *passage.Passage
	for _, p := range passages {
		now := map[string]bool{}
		for _, a := range p.Drawn {
			if a.Division.Role == division.Every || len(a.Voices) == 0 {
				continue
			}
			key, at := r.askOf(p, a).key, fixedKey{p, a.Division}
			now[key] = true
			if !before[key] {
				runs[key] = append(runs[key], run{a, p})
				r.recurs[at] = recurrence{}
				continue
			}
			r.recurs[at] = recurrence{neighbours: 1}
			earlier := fixedKey{last, a.Division}
			x := r.recurs[earlier]
			x.neighbours++
			r.recurs[earlier] = x
		}
		before, last = now, p
	}
	for key, starts := range runs {
		if len(starts) < 2 {
			continue
		}
		for _, s := range starts {
			at := fixedKey{s.p, s.start.Division}
			x := r.recurs[at]
			x.returns = true
			r.recurs[at] = x
		}
		if _, ok := r.canon[key]; !ok {
			if parts, _ := r.options(r.askOf(starts[0].p, starts[0].start), 0, nil); len(parts) > 0 {
				r.canon[key] = parts[0]
			}
		}
	}
}

// departs is what it costs to give words that come back otherwise than they
// are held to.
func (r *resolver) departs(p *Part) int {
	if best := r.canon[p.ask.key]; best != nil && p.ask.recurs.returns && !samePlace(best, p) {
		return costTextChange
	}
	return 0
}

// settleWords holds words that come back, and are never given the way that is
// best for them, to the way that a plan gives them first. It reports whether
// there are any.
func (r *resolver) settleWords(settings []*Setting) bool {
	first := map[string]*Part{}
	var keys []string
	kept := map[string]bool{}
	for _, s := range settings {
		for _, p := range s.trial.parts {
			best := r.canon[p.ask.key]
			if best == nil || !p.ask.recurs.returns {
				continue
			}
			if first[p.ask.key] == nil {
				first[p.ask.key] = p
				keys = append(keys, p.ask.key)
			}
			kept[p.ask.key] = kept[p.ask.key] || samePlace(best, p)
		}
	}
	keys = slices.DeleteFunc(keys, func(key string) bool { return kept[key] || r.settled[key] })
	for _, key := range keys {
		r.canon[key], r.settled[key] = first[key], true
	}
	return len(keys) > 0
}
