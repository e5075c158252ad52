package resolve

import (
	"slices"

	"stopgap/annotate/passage"
)

// A pairing is what it costs to give a part beside others.
type pairing struct {
	cost   int32
	merged bool // from one keyboard with another, which costs costMerged, however many they are
}

func (x pairing) whole() int {
	if x.merged {
		return int(x.cost) + costMerged
	}
	return int(x.cost)
}

// with is what it costs beside both.
func (x pairing) with(y pairing) pairing { return pairing{x.cost + y.cost, x.merged || y.merged} }

// beside is what it costs to give a part beside those already chosen, in the
// order of the passage; ok is false where it can't be done.
func beside(p *passage.Passage, parts []*Part, o *Part) (cost int, ok bool) {
	var sum pairing
	for _, q := range parts {
		x, ok := pair(p, q, o)
		if !ok {
			return 0, false
		}
		sum = sum.with(x)
	}
	return sum.whole(), true
}

// pair puts a part beside one that comes before it in the passage. It can't be
// done everywhere: a keyboard is played in one octave at a time, two
// registrations on one host are drawn together or one joins the other, and a
// division that lends stops may not be played as well, nor lend to two.
func pair(p *passage.Passage, q, o *Part) (x pairing, ok bool) {
	if q.Host != nil && q.Host == o.Host {
		if q.draws() && o.draws() {
			switch {
			case inHalves(q, o): // each hand has its own half of the keyboard
			case together(p, q, o):
				x.merged = true
			default:
				return x, false
			}
		}
		if q.played && o.played {
			if q.Octave != o.Octave {
				return x, false
			}
			// Where nothing is drawn for one, two manuals are asked for all the same.
			x.merged = x.merged || len(q.ask.voice) == 0 || len(o.ask.voice) == 0
		}
	}
	if len(q.Lending) > 0 || len(o.Lending) > 0 {
		if lendsFrom(p, q, o) || lendsFrom(p, o, q) || lendTheSame(q, o) {
			return x, false
		}
		x.cost = int32(already(q, o) + already(o, q))
	}
	return x, true
}

// lendTheSame reports whether one division lends to both.
func lendTheSame(q, o *Part) bool {
	for i := range q.Lending {
		for k := range o.Lending {
			if q.Lending[i].From == o.Lending[k].From {
				return true
			}
		}
	}
	return false
}

// lendsFrom reports whether a part borrows from a division that another part
// has for itself. One that only joins the borrower by a coupler may lend to it
// as well: what is drawn there sounds from the borrower's keyboard anyway.
func lendsFrom(p *passage.Passage, borrower, owner *Part) bool {
	for _, path := range borrower.Lending {
		if path.From != owner.Host || !owner.played && len(owner.ask.voice) == 0 {
			continue
		}
		if owner.played || len(path.Couplers) > 1 || !joins(p, owner, borrower) {
			return true
		}
	}
	return false
}

// joins reports whether a part sounds from another's keyboard, and from no
// other that is played unless that one sounds there as well.
func joins(p *passage.Passage, a, b *Part) bool {
	known, ok := a.ask.joining[b.ask]
	if !ok {
		if a.ask.joining == nil {
			a.ask.joining = map[*ask]bool{}
		}
		known = joinsIn(p, a, b)
		a.ask.joining[b.ask] = known
	}
	return known
}

// joinsIn is what joins remembers.
func joinsIn(p *passage.Passage, a, b *Part) bool {
	from, by := a.Asked.Division, b.Asked.Division
	for _, line := range p.Lines {
		if isHeard(p, from, line.Division) && !isHeard(p, by, line.Division) {
			return false
		}
	}
	return isHeard(p, from, by)
}

// isHeard reports whether a division is coupled to another, or is the same: see
// coupledTo, which tells all at once and takes longer.
func isHeard(p *passage.Passage, from, on passage.Division) bool {
	var room [8]passage.Division
	heard := append(room[:0], on)
	for i := 0; i < len(heard); i++ {
		if heard[i] == from {
			return true
		}
		for _, c := range p.Couplings {
			if c.To == heard[i] && !slices.Contains(heard, c.From) {
				heard = append(heard, c.From)
			}
		}
	}
	return false
}

// already is what it costs that a part borrows what another draws for itself
// and brings to its keyboard anyway: nothing is added by it.
func already(borrower, owner *Part) int {
	for i := range borrower.Lending {
		if borrower.Lending[i].From == owner.Host && owner.draws() {
			return costAlready * borrower.stops.shares(owner.stops)
		}
	}
	return 0
}

// joinedRightly reports whether every manual that is coupled down to the pedal
// is played as it is printed, leads nowhere, and has what it is coupled for: its
// 8′ drawn, and nothing but its 8′ where a solo is to have it at its pitch.
func joinedRightly(parts []*Part) bool {
	for _, p := range parts {
		for i := range p.Picks {
			if p.Picks[i].Joined != nil && !p.joinsRightly(&p.Picks[i], parts) {
				return false
			}
		}
	}
	return true
}

func (p *Part) joinsRightly(pick *Pick, parts []*Part) bool {
	hands, unison, more := false, false, false
	for _, q := range parts {
		if q.Host != pick.Joined.From {
			continue
		}
		if p.ask.solo && (q.ask.solo || q.ask.fixed || q.Octave != 0 || !q.played && q.draws()) {
			return false
		}
		if !q.played || q.ask.solo || q.Octave != 0 || q.joins {
			continue
		}
		hands = true
		for _, c := range q.sounding() {
			eight := c.Path == nil && c.Stop.Pitch == feet8
			unison, more = unison || eight, more || !eight
		}
		more = more || q.doubledBy() != nil
	}
	return hands && unison && (!p.ask.solo || pick.off || !more)
}
