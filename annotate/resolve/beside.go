package resolve

import (
	"slices"

	"stopgap/annotate/passage"
)

// beside is what it costs to give a part beside those already chosen, in the
// order of the passage; ok is false where it can't be done: a keyboard is
// played in one octave at a time, two registrations on one host are drawn
// together or one joins the other, and a division that lends stops may not be
// played as well, nor lend to two.
func beside(p *passage.Passage, parts []*Part, o *Part) (cost int, ok bool) {
	merged := 0
	for _, q := range parts {
		if q.Host == o.Host && q.draws() && o.draws() {
			switch {
			case inHalves(q, o): // each hand has its own half of the keyboard
			case together(p, q, o):
				merged = costMerged
			default:
				return 0, false
			}
		}
		if q.Host != nil && q.Host == o.Host && q.played && o.played && (len(q.ask.voice) == 0 || len(o.ask.voice) == 0) {
			merged = costMerged // two manuals are asked for, whatever is drawn on them
		}
		if q.Host != nil && q.Host == o.Host && q.played && o.played && q.Octave != o.Octave {
			return 0, false
		}
		if len(q.Lending) == 0 && len(o.Lending) == 0 {
			continue
		}
		if lendsFrom(p, q, o) || lendsFrom(p, o, q) {
			return 0, false
		}
		cost += already(q, o) + already(o, q)
		for _, a := range q.Lending {
			for _, b := range o.Lending {
				if a.From == b.From {
					return 0, false
				}
			}
		}
	}
	return cost + merged, true
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
		for _, c := range q.Stops() {
			eight := c.Path == nil && c.Stop.Pitch == feet8
			unison, more = unison || eight, more || !eight
		}
		more = more || q.doubledBy() != nil
	}
	return hands && unison && (!p.ask.solo || pick.off || !more)
}
