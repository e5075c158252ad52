package resolve

import (
	"math"
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// never is a bound that nothing reaches.
const never = math.MaxInt / 4

// An ask is what a passage asks of one division, made ready for resolving.
type ask struct {
	asked     *passage.Asked
	lines     []*passage.Played // those that play on it; none if it is only coupled to others
	use       use
	solo      bool
	fixed     bool // other divisions are coupled to it, or it is coupled to others
	voice     []wanted
	struck    []struck // the keys that the lines press
	softened  bool     // a loud pedal that gives way to soft hands
	anyOctave bool     // for a remedy: whatever the line is for
	swapped   bool     // the feet take it from a hand
	brief     bool     // for a bar or two, before and after which the line plays on
	key       string   // the same for the same words on the same division
}

func (r *resolver) askOf(p *passage.Passage, a *passage.Asked) *ask {
	k := &ask{asked: a, lines: linesOn(p, a.Division)}
	k.use = useOf(a, k.lines)
	for _, line := range k.lines {
		k.solo = k.solo || line.Role == passage.Solo
	}
	if a.Division == passage.Pedal && r.swapIn[p] != nil {
		k.swapped, k.use = true, colour
	}
	k.struck, k.brief = struckKeys(k.lines, p.Span), r.brief[fixedKey{p, a.Division}]
	for _, c := range p.Couplings {
		k.fixed = k.fixed || c.To == a.Division || c.From == a.Division
	}
	var key strings.Builder
	key.WriteString(a.Division.String() + string(a.Division.Of))
	voices := a.Voices
	if a.Division == passage.Pedal && r.softPedal[p] {
		voices, k.softened = softPedalVoices, true
	}
	for _, v := range voices {
		k.voice = append(k.voice, r.want(v, a, k.use, k.solo))
		key.WriteString("|" + v.String())
	}
	k.key = key.String()
	return k
}

// softPedalVoices are what is left of a loud pedal under soft hands: 16′ with 8′.
var softPedalVoices = []direction.Voice{
	{Group: direction.Any, Pitch: feet16, Strength: "soft"},
	{Group: direction.Any, Pitch: feet8, Strength: "soft"},
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

// options lists the ways in which the organ can give what is asked of one
// division, cheapest first: those that cost at most slack more than the
// cheapest. cut is what the cheapest way that is left out costs at least.
func (r *resolver) options(k *ask, slack int) (parts []*Part, cut int) {
	cut = never
	least := never
	var plans []*sketch
	for _, host := range r.hosts(k.asked.Division) {
		for _, octave := range r.octaves(k) {
			for _, paths := range r.lendings(host) {
				s := r.sketch(k, host, octave, paths)
				if s == nil {
					continue
				}
				plans = append(plans, s)
				least = min(least, s.least)
			}
		}
	}
	for _, s := range plans {
		if s.least > least+slack {
			cut = min(cut, s.least)
			continue
		}
		found, c := s.parts(least + slack)
		parts, cut = append(parts, found...), min(cut, c)
	}
	if len(parts) == 0 && cut < never {
		return r.options(k, cut-least) // what a part costs beyond its voices is more than the slack
	}
	sort.SliceStable(parts, func(i, j int) bool { return parts[i].Cost < parts[j].Cost })
	return parts, cut
}

// A sketch is one host, octave and set of lenders for an ask, with the ways
// of giving each voice.
type sketch struct {
	r      *resolver
	k      *ask
	host   *registry.Division
	octave int
	paths  []Path
	base   int     // what the host, the octave and the lenders cost
	fits   [][]fit // for each voice, cheapest first
	least  int     // no part of the sketch costs less
}

// sketch makes a sketch; nil where the feet would take a hand's part without
// having all its keys and pitches.
func (r *resolver) sketch(k *ask, host *registry.Division, octave int, paths []Path) *sketch {
	s := &sketch{r: r, k: k, host: host, octave: octave, paths: paths}
	s.base = r.hostCost(k, host)
	if octave != 0 {
		s.base += costOctave * max(octave, -octave)
		if k.asked.Division != passage.Pedal {
			s.base += costHandOctave
		}
		if k.brief {
			s.base += costBriefOctave
		}
	}
	for _, p := range paths {
		s.base += costLend
		if len(p.Couplers) > 1 {
			s.base += costUnisonOff
		}
	}
	if k.asked.Swells && !host.Enclosed && len(k.lines) > 0 {
		s.base += costNotEnclosed
	}
	if k.asked.Tremming && !r.organ.HasTremulant(host) {
		s.base += costNoTremulant
	}
	off := s.offKeys()
	if k.swapped && off > 0 {
		return nil
	}
	s.base += off
	s.least = s.base
	re := reach{r: r, host: host, octave: octave, paths: paths}
	for _, w := range k.voice {
		f := re.fits(w)
		if k.swapped {
			f = slices.DeleteFunc(f, func(f fit) bool { return f.pick.Missing })
		}
		if len(f) == 0 {
			return nil
		}
		s.fits = append(s.fits, f)
		s.least += f[0].cost
	}
	return s
}

// parts lists the combinations of fits up to a limit of cost; cut is what the
// cheapest one beyond it costs at least.
func (s *sketch) parts(limit int) (out []*Part, cut int) {
	cut = never
	rest := make([]int, len(s.fits)+1)
	for i := len(s.fits) - 1; i >= 0; i-- {
		rest[i] = rest[i+1] + s.fits[i][0].cost
	}
	picks := make([]Pick, len(s.fits))
	taken := map[*registry.Stop]int{}
	var choose func(i, cost int)
	choose = func(i, cost int) {
		if i == len(s.fits) {
			if p := s.part(picks, cost); p != nil {
				if p.Cost > limit {
					cut = min(cut, p.Cost)
				} else {
					out = append(out, p)
				}
			}
			return
		}
		for _, f := range s.fits[i] {
			if cost+f.cost+rest[i+1] > limit {
				cut = min(cut, cost+f.cost+rest[i+1])
				return
			}
			if len(f.pick.Stops) <= 2 && !isGroupWord(f.pick.Voice) && slices.ContainsFunc(f.pick.Stops, func(c Chosen) bool { return taken[c.Stop] > 0 }) {
				continue // one stop cannot be two voices
			}
			for _, c := range f.pick.Stops {
				taken[c.Stop]++
			}
			picks[i] = f.pick
			choose(i+1, cost+f.cost)
			for _, c := range f.pick.Stops {
				taken[c.Stop]--
			}
		}
	}
	choose(0, s.base)
	return out, cut
}

// part makes a part of a combination; nil where a lender would lend nothing.
func (s *sketch) part(picks []Pick, cost int) *Part {
	p := &Part{Asked: s.k.asked, Host: s.host, Octave: s.octave, Picks: append([]Pick(nil), picks...), Lending: s.paths, Cost: cost, played: len(s.k.lines) > 0, ask: s.k}
	lends := map[*registry.Division]bool{}
	for _, c := range p.Stops() {
		if c.Path != nil {
			lends[c.Path.From] = true
		}
	}
	for _, path := range s.paths {
		if !lends[path.From] {
			return nil
		}
	}
	p.Cost += s.silentKeys(p)
	if best := s.r.canon[s.k.key]; best != nil && !samePlace(best, p) {
		p.Cost += costTextChange
	}
	return p
}

// samePlace reports whether two parts give the same stops from the same host.
func samePlace(a, b *Part) bool {
	return a.Host == b.Host && a.Octave == b.Octave && sameStops(a, b)
}

func sameStops(a, b *Part) bool {
	as, bs := a.Stops(), b.Stops()
	if len(as) != len(bs) {
		return false
	}
	set := map[*registry.Stop]bool{}
	for _, c := range as {
		set[c.Stop] = true
	}
	for _, c := range bs {
		if !set[c.Stop] {
			return false
		}
	}
	return true
}

// hosts are the divisions that may give what is asked of d, in the order of
// the organ: any with a manual of its own, or the pedal's.
func (r *resolver) hosts(d passage.Division) []*registry.Division {
	var out []*registry.Division
	for _, h := range r.organ.Divisions {
		if h.Keyboard != nil && h.Keyboard.Pedal == (d == passage.Pedal) {
			out = append(out, h)
		}
	}
	return out
}

// octaves are how far the player may move what is asked: only one colour that
// leads, and that no coupler joins to other lines.
func (r *resolver) octaves(k *ask) []int {
	if k.anyOctave {
		return []int{0, -1, 1, -2, 2}
	}
	if !k.solo && !k.swapped || k.use != colour || k.fixed || len(k.voice) == 0 {
		return []int{0}
	}
	for _, w := range k.voice {
		if isGroupWord(w.voice) {
			return []int{0}
		}
	}
	return []int{0, 1, -1, 2}
}

// lendings are the sets of at most two paths by which other divisions can
// lend stops to the host.
func (r *resolver) lendings(host *registry.Division) [][]Path {
	if known, ok := r.lends[host]; ok {
		return known
	}
	var single []Path
	for _, c := range r.organ.Couplers {
		if c.To != host || c.Within() || c.From.Keyboard == nil && c.Octave != 0 || c.Note != registry.EveryNote {
			continue
		}
		single = append(single, Path{From: c.From, Couplers: []*registry.Coupler{c}, Octave: c.Octave})
		off := r.unisonOff(c.From)
		if c.Octave != 0 || off == nil {
			continue
		}
		for _, up := range r.organ.Couplers {
			if up.From == c.From && up.Within() && !up.UnisonOff && up.Octave != 0 {
				single = append(single, Path{From: c.From, Couplers: []*registry.Coupler{c, up, off}, Octave: up.Octave})
			}
		}
	}
	out := [][]Path{nil}
	for i, p := range single {
		out = append(out, []Path{p})
		for _, q := range single[i+1:] {
			if q.From != p.From {
				out = append(out, []Path{p, q})
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

// hostCost is what it costs to play what is asked of a division on that host.
func (r *resolver) hostCost(k *ask, host *registry.Division) int {
	d := k.asked.Division
	rank, elsewhere := rankChorus, elsewhereChorus
	switch {
	case k.use == colour && k.solo:
		rank, elsewhere = rankSolo, elsewhereSolo
	case k.use == colour:
		rank, elsewhere = rankAccompaniment, elsewhereAccompaniment
	}
	switch r.prefer {
	case PreferManual:
		rank, elsewhere = preferredTimes*rank, preferredTimes*elsewhere
	case PreferColour:
		rank, elsewhere = rank/preferredTimes, elsewhere/preferredTimes
	}
	switch {
	case d == passage.Pedal:
		return 0
	case d.Role == division.None:
		return min(2, standInRank(division.Great, host.Role))
	case d.Role.Number() > 0:
		if home := r.numbered(d.Role.Number()); home == host {
			return 0
		} else if home != nil {
			return elsewhere + rank*2
		}
		return rank * 2
	case host.Role == d.Role:
		return 0
	}
	cost := rank * standInRank(d.Role, host.Role)
	if r.has(d.Role) {
		cost += elsewhere
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
