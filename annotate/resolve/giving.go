package resolve

import (
	"cmp"
	"slices"
)

// A giving is what all parts have in common that give the same voices by the
// same picks. They share it: nobody may change it.
type giving struct {
	picks   []Pick
	lending []Path
	sounds  []Chosen
	knobs   knobs
	stops   knobs
	cost    int // beside what the picks and the paths cost
}

// givings remembers those that have been met, as ways does the picks: nil for
// picks that do not go together.
type givings map[givingKey]*giving

// givingKey is the picks, as ways has them: so it tells the voices, the host
// and the octave as well.
type givingKey [6]*Pick

// mostGivings is how many are remembered, about a kilobyte each.
var mostGivings = 10_000

// giving is what a combination of picks comes to, by the paths that they use;
// nil where they do not go together.
func (s *sketch) giving(picks []*Pick, used []*Path) *giving {
	var key givingKey
	if s.k.swapped || len(picks) > len(key) { // swapped: the picks are not those that ways has
		return s.newGiving(picks, used)
	}
	copy(key[:], picks)
	g, ok := s.r.givings[key]
	if !ok {
		if len(s.r.givings) >= mostGivings {
			clear(s.r.givings)
		}
		g = s.newGiving(picks, used)
		s.r.givings[key] = g
	}
	return g
}

func (s *sketch) newGiving(picks []*Pick, used []*Path) *giving {
	doubling, ok := s.doubling(picks)
	if !ok || !s.resultsRightly(picks) {
		return nil
	}
	p := &Part{Host: s.host, Picks: make([]Pick, len(picks))}
	for i, pick := range picks {
		p.Picks[i] = *pick
	}
	for _, path := range used {
		p.Lending = append(p.Lending, *path)
	}
	slices.SortStableFunc(p.Lending, func(a, b Path) int {
		return cmp.Compare(s.r.board.couplerAt[a.Couplers[0]], s.r.board.couplerAt[b.Couplers[0]])
	})
	s.r.board.number(p)
	return &giving{p.Picks, p.Lending, p.sounding(), p.knobs, p.stops, doubling + s.k.lostPitches(picks)}
}
