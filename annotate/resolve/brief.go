package resolve

import (
	"stopgap/annotate/passage"
)

// briefMeasures is how long a line has to go on in another octave to be worth
// the change: an octave change is never for a bar or two (common practice).
const briefMeasures = 2

// findBrief notes where a line is asked for the same for only a bar or two,
// and plays something else before or after, so that it had better not change
// its octave there.
func (r *resolver) findBrief(passages []*passage.Passage) {
	type run struct {
		key         string
		passages    []*passage.Passage
		first, last int // measures
		notes       int
	}
	type place struct {
		division passage.Division
		line     passage.Line
	}
	open := map[place]*run{}
	total := map[passage.Line]int{}
	var runs []*run
	var places []place
	for _, p := range passages {
		for _, line := range p.Lines {
			a := p.Asked(line.Division)
			if a == nil {
				continue
			}
			at, key := place{line.Division, line.Line}, r.askOf(p, a).key
			now := open[at]
			if now == nil || now.key != key {
				now = &run{key: key, first: -1}
				open[at] = now
				runs, places = append(runs, now), append(places, at)
			}
			now.passages = append(now.passages, p)
			for _, n := range line.Notes {
				if !n.StruckIn(p.Span) {
					continue
				}
				if now.first < 0 {
					now.first = n.Note.Measure.Index
				}
				now.last = max(now.last, n.Note.Measure.Index)
				now.notes++
				total[line.Line]++
			}
		}
	}
	for i, x := range runs {
		if x.last-x.first < briefMeasures && x.notes < total[places[i].line] {
			for _, p := range x.passages {
				r.brief[fixedKey{p, places[i].division}] = true
			}
		}
	}
}
