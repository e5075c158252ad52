package resolve

import "stopgap/registry"

// paths are the ways by which other divisions can lend stops to the host: a
// coupler, at pitch or an octave off, or one at pitch together with an octave
// coupler and Unison Off of the division that lends.
func (r *resolver) paths(host *registry.Division) []*Path {
	if known, ok := r.lends[host]; ok {
		return known
	}
	var out []*Path
	for _, c := range r.organ.Couplers {
		if c.To != host || c.Within() || c.From.Keyboard == nil && c.Octave != 0 || c.Note != registry.EveryNote {
			continue
		}
		out = append(out, &Path{From: c.From, Couplers: []*registry.Coupler{c}, Octave: c.Octave})
		off := r.unisonOff(c.From)
		if c.Octave != 0 || off == nil {
			continue
		}
		for _, up := range r.organ.Couplers {
			if up.From == c.From && up.Within() && !up.UnisonOff && up.Octave != 0 {
				out = append(out, &Path{From: c.From, Couplers: []*registry.Coupler{c, up, off}, Octave: up.Octave})
			}
		}
	}
	r.lends[host] = out
	return out
}

func (r *resolver) unisonOff(d *registry.Division) *registry.Coupler {
	for _, c := range r.organ.Couplers {
		if c.UnisonOff && c.From == d {
			return c
		}
	}
	return nil
}

// cost is what it costs to lend by the path.
func (p *Path) cost() int {
	if len(p.Couplers) > 1 {
		return costLend + costUnisonOff
	}
	return costLend
}

// mostPaths is by how many paths a part may borrow.
const mostPaths = 2

// with are the paths used when those of a pick are added; ok is false where
// that is more than can be lent, or one division would lend in two ways.
func with(used []*Path, pick *Pick) (all []*Path, cost int, ok bool) {
	all = used
next:
	for _, c := range pick.Stops {
		if c.Path == nil {
			continue
		}
		for _, u := range all {
			if u == c.Path {
				continue next
			}
			if u.From == c.Path.From {
				return nil, 0, false
			}
		}
		if len(all) == mostPaths {
			return nil, 0, false
		}
		all = append(all[:len(all):len(all)], c.Path)
		cost += c.Path.cost()
	}
	return all, cost, true
}
