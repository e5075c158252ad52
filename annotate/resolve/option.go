package resolve

import (
	"sort"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// keptOptions bounds how many ways of giving one division are kept for the
// joint search: the cheapest for each host and octave first.
const keptOptions = 14

// optionsFor lists the ways in which the organ can give what is asked of one
// division in a passage, cheapest first.
func (r *resolver) optionsFor(p *passage.Passage, a *passage.Asked) []*Part {
	lines := linesOn(p, a.Division)
	role := passage.Chorus
	for _, line := range lines {
		if line.Role == passage.Solo || role == passage.Chorus {
			role = line.Role
		}
	}
	var out []*Part
	for _, host := range r.hosts(a.Division) {
		for _, octave := range r.octaves(a, role) {
			for _, paths := range r.lendings(host) {
				part := r.part(a, role, lines, host, octave, paths)
				if part != nil {
					out = append(out, part)
				}
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Cost < out[j].Cost })
	return diverse(out, keptOptions)
}

// diverse keeps the cheapest few for each host, so that the joint search has
// somewhere to turn when two divisions want the same one.
func diverse(parts []*Part, limit int) []*Part {
	perHost := map[*registry.Division]int{}
	var out []*Part
	for _, p := range parts {
		if perHost[p.Host] >= 3 || len(out) >= limit {
			continue
		}
		perHost[p.Host]++
		out = append(out, p)
	}
	return out
}

// hosts are the divisions that may give what is asked of d, in the order of
// the organ: any with a manual of its own, or the pedal's.
func (r *resolver) hosts(d passage.Division) []*registry.Division {
	var out []*registry.Division
	for _, h := range r.organ.Divisions {
		if h.Keyboard == nil || h.Keyboard.Pedal != (d == passage.Pedal) {
			continue
		}
		out = append(out, h)
	}
	return out
}

// octaves are how far the player may move what is asked: a solo whose pitch
// would else be lost, or a pedal line.
func (r *resolver) octaves(a *passage.Asked, role passage.Role) []int {
	if role != passage.Solo || len(a.Voices) == 0 {
		return []int{0}
	}
	for _, v := range a.Voices {
		if isGroupWord(v) {
			return []int{0}
		}
	}
	if a.Division == passage.Pedal {
		return []int{0, 1, -1, 2}
	}
	return []int{0, 1, -1}
}

// lendings are the sets of paths by which other divisions can lend stops to
// the host: none, one coupler, or one division through its own octave coupler
// with Unison Off.
func (r *resolver) lendings(host *registry.Division) [][]Path {
	out := [][]Path{nil}
	for _, c := range r.organ.Couplers {
		if c.To != host || c.From == host || c.UnisonOff {
			continue
		}
		out = append(out, []Path{{From: c.From, Couplers: []*registry.Coupler{c}, Octave: c.Octave}})
		if c.Octave != 0 {
			continue
		}
		for _, up := range r.organ.Couplers {
			if up.From != c.From || up.To != c.From || up.UnisonOff || up.Octave == 0 {
				continue
			}
			if off := r.unisonOff(c.From); off != nil {
				out = append(out, []Path{{From: c.From, Couplers: []*registry.Coupler{c, up, off}, Octave: up.Octave}})
			}
		}
	}
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

// part works out one way: the best stops for every voice within reach, and
// the cost of it all. It returns nil where a lender lends nothing.
func (r *resolver) part(a *passage.Asked, role passage.Role, lines []*passage.Played, host *registry.Division, octave int, paths []Path) *Part {
	part := &Part{Asked: a, Host: host, Octave: octave, played: len(lines) > 0}
	within := reach{host: host, paths: paths, octave: octave}
	part.Cost = r.hostCost(a.Division, host) + costOctave*abs(octave)
	taken := map[*registry.Stop]bool{}
	lends := map[*registry.Division]bool{}
	for _, v := range a.Voices {
		pick, cost := within.choose(want(v, a, role, r.lang), taken)
		part.Picks = append(part.Picks, pick)
		part.Cost += cost
		for _, c := range pick.Stops {
			taken[c.Stop] = true
			if c.Path != nil {
				lends[c.Path.From] = true
			}
		}
	}
	for _, p := range paths {
		if !lends[p.From] {
			return nil
		}
		part.Lending = append(part.Lending, p)
		part.Cost += costLend
		if len(p.Couplers) > 1 {
			part.Cost += costUnisonOff
		}
	}
	if a.Swells && !host.Enclosed {
		part.Cost += costNotEnclosed
	}
	for _, line := range lines {
		part.Cost += r.keyCost(line, part)
	}
	return part
}

// hostCost is what it costs to play the division asked for on that host.
func (r *resolver) hostCost(d passage.Division, host *registry.Division) int {
	if d == passage.Pedal || d.Role == division.None {
		return 0
	}
	if n := d.Role.Number(); n > 0 {
		if r.numbered(n) == host {
			return 0
		}
		return costManualElsewhere
	}
	if host.Role == d.Role {
		return 0
	}
	cost := costManualRank * standInRank(d.Role, host.Role)
	if r.has(d.Role) {
		cost += costManualElsewhere
	}
	return cost
}

func (r *resolver) has(role division.Role) bool {
	for _, d := range r.organ.Divisions {
		if d.Role == role && d.Keyboard != nil {
			return true
		}
	}
	return false
}

// keyCost counts the notes that are not on the keyboard, and those on which a
// stop does not speak.
func (r *resolver) keyCost(line *passage.Played, part *Part) int {
	cost := 0
	for _, n := range line.Notes {
		key := n.Key + registry.Key(12*part.Octave)
		if !part.Host.Keyboard.Compass.Has(key) {
			cost += costOffKey
			continue
		}
		for _, c := range part.Stops() {
			if c.Path == nil && !c.Stop.Compass.Has(key) {
				cost += costOffStop
			}
		}
	}
	return cost
}

func linesOn(p *passage.Passage, d passage.Division) []*passage.Played {
	var out []*passage.Played
	for _, line := range p.Lines {
		if line.Division == d {
			out = append(out, line)
		}
	}
	return out
}

// asksGroup reports whether any voice is a group word.
func asksGroup(voices []direction.Voice) bool {
	for _, v := range voices {
		if isGroupWord(v) {
			return true
		}
	}
	return false
}
