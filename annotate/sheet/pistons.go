package sheet

import (
	"slices"
	"sort"

	"stopgap/registry"
)

// pistons is which changes go on the general pistons.
type pistons struct {
	generals []general
	byHand   []*entry // the changes of knobs for which there is none
}

// A general is one piston and what is set on it.
type general struct {
	number int
	sets   *state
	uses   []*entry // where it is pressed
}

// How long a change by hand takes: about a second for each knob (common
// practice).
const millisecondsAKnob = 1000

// missing is how much time a change by hand lacks, in milliseconds.
func (e *entry) missing() int {
	return max(0, e.knobs()*millisecondsAKnob-e.free)
}

// assignPistons sets on the generals what would else have to be drawn with the
// least time. A general sets the whole console but the boxes, so it serves
// wherever the same setting comes back: the worth of one is the time that it
// saves at all its places together, and the best few are simply the best. It
// is nil where the organ has no generals or there is nothing to change.
func assignPistons(o *registry.Organ, entries []*entry) *pistons {
	for _, e := range entries[1:] {
		e.hurried = e.missing() > 0
	}
	if o.Pistons.General <= 0 {
		return nil
	}
	type worth struct {
		general
		missing, knobs int
	}
	knobs := knobsOf(o)
	var all []*worth
	at := map[string]*worth{} // by how the knobs stand
	for _, e := range entries[1:] {
		if e.knobs() == 0 {
			continue
		}
		stands := e.to.stands(knobs)
		w := at[stands]
		if w == nil {
			w = &worth{general: general{sets: e.to}}
			at[stands], all = w, append(all, w)
		}
		w.missing += e.missing()
		w.knobs += e.knobs()
		w.uses = append(w.uses, e)
	}
	if len(all) == 0 {
		return nil
	}
	best := slices.Clone(all)
	sort.SliceStable(best, func(i, j int) bool {
		if best[i].missing != best[j].missing {
			return best[i].missing > best[j].missing
		}
		return best[i].knobs > best[j].knobs
	})
	chosen := map[*worth]bool{}
	for _, w := range best[:min(len(best), o.Pistons.General)] {
		chosen[w] = true
	}
	out := &pistons{}
	if first := entries[0]; len(best) < o.Pistons.General && at[first.to.stands(knobs)] == nil {
		first.piston = 1
		out.generals = append(out.generals, general{1, first.to, []*entry{first}})
	}
	for _, w := range all { // numbered in the order in which they are first pressed
		if !chosen[w] {
			out.byHand = append(out.byHand, w.uses...)
			continue
		}
		w.number = len(out.generals) + 1
		out.generals = append(out.generals, w.general)
		for _, e := range w.uses {
			e.piston, e.hurried = w.number, false
		}
	}
	sort.SliceStable(out.byHand, func(i, j int) bool { return out.byHand[i].at.Less(out.byHand[j].at) })
	return out
}

// stands is the same where all knobs stand alike.
func (st *state) stands(knobs []knob) string {
	out := make([]byte, (len(knobs)+7)/8)
	for i, k := range knobs {
		if st.out[k] {
			out[i/8] |= 1 << (i % 8)
		}
	}
	return string(out)
}
