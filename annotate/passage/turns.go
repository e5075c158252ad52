package passage

import (
	"slices"
	"sort"

	"stopgap/registry/division"
)

// A turn is where a hand that plays from several staves goes over to one whose
// part is called after another manual ("Récit", "Positif").
type turn struct {
	at    moment
	line  Line
	place Division
}

// findTurns lists the turns of all hands, by time.
func (l *Layout) findTurns() {
	for _, line := range []Line{RH, LH} {
		staves := l.AllOf(line)
		if len(staves) < 2 || !slices.ContainsFunc(staves, func(s *Staff) bool { return s.Called != division.None }) {
			continue
		}
		var all []turn
		for _, s := range staves {
			if s.Called == division.None {
				continue
			}
			for _, n := range s.notes().notes {
				all = append(all, turn{n.Onset, line, Division{Role: s.Called}})
			}
		}
		sort.SliceStable(all, func(i, j int) bool { return all[i].at.Less(all[j].at) })
		var last turn
		for _, t := range all {
			if t.place == last.place || t.at == last.at && last.line != "" {
				continue
			}
			l.turns = append(l.turns, t)
			last = t
		}
	}
	sort.SliceStable(l.turns, func(i, j int) bool { return l.turns[i].at.Less(l.turns[j].at) })
}

func (l *Layout) turnTimes() []moment {
	var times []moment
	for _, t := range l.turns {
		times = append(times, t.at)
	}
	return times
}

// turn sends the hands that go over to another staff at the moment.
func (w *walk) turn(t moment) {
	turns := w.layout.turns
	i := sort.Search(len(turns), func(i int) bool { return !turns[i].at.Less(t) })
	for ; i < len(turns) && turns[i].at == t; i++ {
		w.state.move([]Line{turns[i].line}, turns[i].place)
	}
}
