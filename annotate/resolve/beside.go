package resolve

import (
	"maps"

	"stopgap/annotate/passage"
	"stopgap/registry/pitch"
)

// beside is what it costs to give a part beside those already chosen, in the
// order of the passage; ok is false where it can't be done: a keyboard is
// played in one octave at a time, and a division that lends stops may not be
// played as well, nor lend to two.
func beside(p *passage.Passage, parts []*Part, o *Part) (cost int, ok bool) {
	for _, q := range parts {
		if q.Host != nil && q.Host == o.Host && q.played && o.played && q.Octave != o.Octave {
			return 0, false
		}
		if lendsFrom(p, q, o) || lendsFrom(p, o, q) {
			return 0, false
		}
		for _, a := range q.Lending {
			for _, b := range o.Lending {
				if a.From == b.From {
					return 0, false
				}
			}
		}
	}
	if o.Host == nil || len(o.Picks) == 0 {
		return 0, true
	}
	owner := ownerOf(parts, o)
	switch {
	case owner == nil:
		return 0, true
	case sameStops(owner, o):
		return costMerged, true
	}
	cost = costMerged + costShared
	if loser := o; loser.ask.solo {
		if o.takesOver(owner) {
			loser = owner
		}
		if loser.ask.solo && !samePitches(owner, o) {
			cost += missSoloPitch
		}
	}
	return cost, true
}

// samePitches reports whether two parts sound the same pitches.
func samePitches(a, b *Part) bool { return maps.Equal(a.pitches(), b.pitches()) }

// pitches are the sounding ratios of the part's stops against the printed
// note, the player's octave and the couplers' counted in.
func (p *Part) pitches() map[pitch.Ratio]bool {
	out := map[pitch.Ratio]bool{}
	for n := range p.Picks {
		for _, c := range p.Picks[n].Stops {
			out[c.ratio(p.Octave)] = true
			if c.Path == nil && p.doubledBy() != nil {
				out[c.ratio(p.Octave+1)] = true
			}
		}
	}
	return out
}

// ownerOf is the part whose stops are drawn on a part's host where several
// registrations have to share it: the one that leads, else one that is played,
// else the first. It is nil where nothing was drawn there before.
func ownerOf(earlier []*Part, o *Part) *Part {
	var owner *Part
	for _, q := range earlier {
		if q.Host != o.Host || len(q.Picks) == 0 {
			continue
		}
		if owner == nil || !sameStops(owner, q) && q.takesOver(owner) {
			owner = q
		}
	}
	return owner
}

// takesOver reports whether a part's stops are drawn rather than those of the
// part that had the keyboard so far.
func (p *Part) takesOver(owner *Part) bool {
	if p.drawsNothing() != owner.drawsNothing() {
		return owner.drawsNothing()
	}
	return p.played && (!owner.played || p.ask.solo && !owner.ask.solo)
}

// lendsFrom reports whether a part borrows from a division that another part
// has for itself. One that only joins the borrower by a coupler may lend to it
// as well: what is drawn there sounds from the borrower's keyboard anyway.
func lendsFrom(p *passage.Passage, borrower, owner *Part) bool {
	for _, path := range borrower.Lending {
		if path.From != owner.Host || !owner.played && len(owner.Picks) == 0 {
			continue
		}
		if owner.played || len(path.Couplers) > 1 || !joins(p, owner, borrower) {
			return true
		}
	}
	return false
}

// joins reports whether a part sounds only from another's keyboard.
func joins(p *passage.Passage, a, b *Part) bool {
	joined := false
	for _, c := range p.Couplings {
		if c.From == a.Asked.Division {
			if c.To != b.Asked.Division {
				return false
			}
			joined = true
		}
	}
	return joined
}

// joinedRightly reports whether every manual that is coupled down for a pitch
// of the bass is played, leads nowhere, and has that pitch drawn.
func joinedRightly(parts []*Part) bool {
	for _, p := range parts {
		for _, pick := range p.Picks {
			if pick.Joined == nil {
				continue
			}
			found := false
			for _, q := range parts {
				if q.Host != pick.Joined.From || !q.played || q.ask.solo || q.Octave != 0 {
					continue
				}
				for _, c := range q.Stops() {
					found = found || c.Path == nil && c.Stop.Pitch == pick.Voice.Pitch
				}
			}
			if !found {
				return false
			}
		}
	}
	return true
}
