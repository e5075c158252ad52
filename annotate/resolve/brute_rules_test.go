package resolve_test

// What may be given beside what, as the search that tries everything has it:
// written anew, not taken from the program.

import (
	"maps"
	"slices"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// beside reports whether a registration can be given beside others: a manual
// that lends is free of the hands, and lends to one alone; what stands on it
// for itself may only be there to join the one that it lends to; and one
// keyboard is played in one octave. Two that are asked for stops on one host
// have the same, or join one another, or both sound from one keyboard alone.
func beside(items []resolve.Item, couplings []passage.Coupling, joins map[*resolve.Part]bool, others []*resolve.Part, p *resolve.Part) bool {
	at := len(others)
	for n, q := range others {
		if p.Host != nil && p.Host == q.Host && items[n].Voices() > 0 && items[at].Voices() > 0 && !joins[p] && !joins[q] && !sameStops(p, q) {
			if items[n].Played() && items[at].Played() || doubled(p) != doubled(q) {
				return false
			}
			from, ok := soundsFrom(items, couplings, n)
			also, too := soundsFrom(items, couplings, at)
			if !ok || !too || from != also {
				return false
			}
		}
		if p.Host != nil && p.Host == q.Host && items[n].Played() && items[at].Played() && p.Octave != q.Octave {
			return false
		}
		if !lendable(items, couplings, p, at, q, n) || !lendable(items, couplings, q, n, p, at) {
			return false
		}
		for _, x := range p.Lending {
			for _, y := range q.Lending {
				if x.From == y.From {
					return false
				}
			}
		}
	}
	return true
}

// joined reports whether each manual that is coupled down to the pedal is
// played as it is printed, leads nowhere, and has its 8′ drawn; and nothing else,
// nor couplers of its own, where a solo is to have its pitch from there.
func joined(items []resolve.Item, couplings []passage.Coupling, parts []*resolve.Part) bool {
	for n, p := range parts {
		for _, pick := range p.Picks {
			if pick.Joined == nil {
				continue
			}
			eights, others := 0, 0
			for m, q := range parts {
				if q.Host != pick.Joined.From {
					continue
				}
				if items[n].Leads() && slices.ContainsFunc(couplings, func(c passage.Coupling) bool {
					return c.From == items[m].Division() || c.To == items[m].Division()
				}) {
					return false
				}
				if items[m].Leads() || q.Octave != 0 {
					if items[n].Leads() {
						return false
					}
					continue
				}
				if !items[m].Played() {
					if items[n].Leads() && len(q.Stops()) > 0 {
						return false
					}
					continue
				}
				for _, other := range q.Picks {
					for _, c := range other.Stops {
						if c.Path == nil && c.Stop.Pitch.String() == "8" {
							eights++
						} else {
							others++
						}
					}
					if other.Doubled != nil {
						others++
					}
				}
			}
			if eights == 0 || items[n].Leads() && pitch.Foot(8).Octaves(p.Octave) == pick.Voice.Pitch && others > 0 {
				return false
			}
		}
	}
	return true
}

func sameStops(p, q *resolve.Part) bool {
	drawn := func(p *resolve.Part) map[*registry.Stop]bool {
		out := map[*registry.Stop]bool{}
		for _, c := range p.Stops() {
			out[c.Stop] = true
		}
		return out
	}
	return maps.Equal(drawn(p), drawn(q)) && doubled(p) == doubled(q)
}

// doubled is the octave coupler that a part draws on its host.
func doubled(p *resolve.Part) *registry.Coupler {
	for _, pick := range p.Picks {
		if pick.Doubled != nil {
			return pick.Doubled
		}
	}
	return nil
}

// soundsFrom is the one division whose player hears an item: itself if it is
// played, else where its unison couplers lead in the end; ok is false where
// there are several, or none, or an octave coupler is on the way.
func soundsFrom(items []resolve.Item, couplings []passage.Coupling, n int) (passage.Division, bool) {
	played := map[passage.Division]bool{}
	for _, it := range items {
		played[it.Division()] = played[it.Division()] || it.Played()
	}
	if items[n].Played() {
		return items[n].Division(), true
	}
	ends, seen, ok := map[passage.Division]bool{}, map[passage.Division]bool{}, true
	var walk func(d passage.Division)
	walk = func(d passage.Division) {
		if seen[d] {
			return
		}
		seen[d] = true
		for _, c := range couplings {
			if c.From == d && c.To != d {
				ok = ok && c.Octave == 0
				ends[c.To] = ends[c.To] || played[c.To]
				walk(c.To)
			}
		}
	}
	walk(items[n].Division())
	var out []passage.Division
	for d, end := range ends {
		if end {
			out = append(out, d)
		}
	}
	if !ok || len(out) != 1 {
		return passage.Division{}, false
	}
	return out[0], true
}

func lendable(items []resolve.Item, couplings []passage.Coupling, borrower *resolve.Part, bn int, owner *resolve.Part, on int) bool {
	for _, path := range borrower.Lending {
		if path.From != owner.Host {
			continue
		}
		if items[on].Played() {
			return false
		}
		if items[on].Voices() == 0 {
			continue
		}
		owns, borrows := items[on].Division(), items[bn].Division()
		if len(path.Couplers) > 1 || !reaches(couplings, owns, borrows) {
			return false
		}
		for n := range items {
			if on := items[n].Division(); items[n].Played() && reaches(couplings, owns, on) && !reaches(couplings, borrows, on) {
				return false
			}
		}
	}
	return true
}

// reaches reports whether what is drawn on one division of the score sounds
// from the keyboard of another, by the couplers that it asks for.
func reaches(couplings []passage.Coupling, from, to passage.Division) bool {
	heard := []passage.Division{from}
	for i := 0; i < len(heard); i++ {
		if heard[i] == to {
			return true
		}
		for _, c := range couplings {
			if c.From == heard[i] && !slices.Contains(heard, c.To) {
				heard = append(heard, c.To)
			}
		}
	}
	return false
}
