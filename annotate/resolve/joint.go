package resolve

import (
	"sort"

	"stopgap/annotate/passage"
	"stopgap/registry/division"
)

// A row is the best settings of one passage, cheapest first, and what the
// cheapest of the others costs at least.
type row struct {
	settings []*Setting
	next     int
}

// settings finds the keep best ways of playing a passage; there is always at
// least one, be it that voices are left out.
func (r *resolver) settings(p *passage.Passage, keep, slack int) row {
	for {
		found := r.within(p, keep, slack)
		if len(found.settings) > 0 || found.next == never {
			return found
		}
		slack *= 2 // the cheapest parts are in one another's way
	}
}

// within is the row of a passage as it stands, and with hand and feet changing
// parts.
func (r *resolver) within(p *passage.Passage, keep, slack int) row {
	found := r.straight(p, keep, slack)
	for _, x := range r.swaps(p) {
		found = found.merge(x.back(r.straight(x.passage, keep, slack)), keep)
	}
	return found
}

// straight is the row that the parts give which cost at most slack more than
// the cheapest of their division.
func (r *resolver) straight(p *passage.Passage, keep, slack int) row {
	j := &joint{r: r, p: p, keep: keep, next: never}
	var cuts []int
	for _, a := range p.Drawn {
		if a.Division.Role == division.Every {
			continue
		}
		k := r.askOf(p, a)
		parts, cut := r.choices(p, k, slack)
		if len(parts) == 0 && k.swapped {
			return row{next: never}
		}
		if len(parts) == 0 {
			parts, cut = []*Part{{Asked: a, Cost: missBassSixteen, played: len(k.lines) > 0, ask: k}}, never
		}
		j.options = append(j.options, parts)
		cuts = append(cuts, cut)
	}
	j.rest = make([]int, len(j.options)+1)
	for i := len(j.options) - 1; i >= 0; i-- {
		j.rest[i] = j.rest[i+1] + j.options[i][0].Cost
	}
	// A setting with an option that was left out costs at least that option
	// and the cheapest of the others.
	for i, cut := range cuts {
		if cut < never {
			j.next = min(j.next, j.rest[0]-j.options[i][0].Cost+cut)
		}
	}
	j.choose(nil, 0)
	return row{j.found, j.next}
}

// joint is the search for the best parts of one passage together: branch and
// bound over the parts of each division, the sum of the cheapest parts still
// to be chosen being the bound.
type joint struct {
	r       *resolver
	p       *passage.Passage
	options [][]*Part
	rest    []int
	keep    int
	found   []*Setting
	next    int
}

// limit is the cost that a setting must stay under to be kept.
func (j *joint) limit() int {
	if len(j.found) < j.keep {
		return never
	}
	return j.found[len(j.found)-1].Cost
}

func (j *joint) choose(parts []*Part, cost int) {
	depth := len(parts)
	if depth == len(j.options) {
		if !joinedRightly(parts) {
			return
		}
		j.add(j.r.setting(j.p, parts))
		return
	}
	for _, o := range j.options[depth] {
		bound := cost + o.Cost + j.rest[depth+1]
		if bound >= j.limit() {
			j.next = min(j.next, bound)
			return // the options are sorted: what follows costs no less
		}
		extra, ok := j.clash(parts, o)
		if !ok {
			continue
		}
		if bound+extra >= j.limit() {
			j.next = min(j.next, bound+extra)
			continue
		}
		j.choose(append(parts[:depth:depth], o), cost+o.Cost+extra)
	}
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

func (j *joint) add(s *Setting) {
	at := sort.Search(len(j.found), func(i int) bool { return s.Cost < j.found[i].Cost })
	j.found = append(j.found, nil)
	copy(j.found[at+1:], j.found[at:])
	j.found[at] = s
	if len(j.found) > j.keep {
		j.next = min(j.next, j.found[j.keep].Cost)
		j.found = j.found[:j.keep]
	}
}

// clash is what it costs to give a part beside those already chosen; ok is
// false where it can't be done: a division that lends stops may not be played
// as well, nor lend to two.
func (j *joint) clash(parts []*Part, o *Part) (cost int, ok bool) {
	for _, q := range parts {
		if q.Host != nil && q.Host == o.Host {
			if q.played && o.played && q.Octave != o.Octave {
				return 0, false
			}
			if len(q.Picks) > 0 && len(o.Picks) > 0 {
				if cost += costMerged; !sameStops(q, o) {
					cost += costShared
				}
			}
		}
		if j.lendsFrom(q, o) || j.lendsFrom(o, q) {
			return 0, false
		}
		for _, p := range q.Lending {
			for _, x := range o.Lending {
				if p.From == x.From {
					return 0, false
				}
			}
		}
	}
	return cost, true
}

// lendsFrom reports whether a part borrows from a division that another part
// has for itself. One that only joins the borrower by a coupler may lend to it
// as well: what is drawn there sounds from the borrower's keyboard anyway.
func (j *joint) lendsFrom(borrower, owner *Part) bool {
	for _, p := range borrower.Lending {
		if p.From != owner.Host || !owner.played && len(owner.Picks) == 0 {
			continue
		}
		if owner.played || len(p.Couplers) > 1 || !j.joins(owner, borrower) {
			return true
		}
	}
	return false
}

// joins reports whether a part sounds only from another's keyboard.
func (j *joint) joins(a, b *Part) bool {
	joined := false
	for _, c := range j.p.Couplings {
		if c.From == a.Asked.Division {
			if c.To != b.Asked.Division {
				return false
			}
			joined = true
		}
	}
	return joined
}
