package resolve

import (
	"cmp"
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// A sketch is one host and octave for an ask, with the ways of giving each
// voice there: on the host itself, and by every path that can lend to it.
type sketch struct {
	r      *resolver
	k      *ask
	host   *registry.Division
	octave int
	base   int     // what the host and the octave cost
	fits   [][]fit // for each voice, cheapest first; what paths cost is not in them
	rest   []int   // what the voices from each one on cost at least
	number int     // among the sketches of the ask
}

// sketch makes a sketch; nil where the feet would take a hand's part without
// having all its keys.
func (r *resolver) sketch(k *ask, host *registry.Division, octave int) *sketch {
	s := &sketch{r: r, k: k, host: host, octave: octave}
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
	return s
}

// fill finds the ways of giving each voice; ok is false where the feet would
// take a hand's part without having all its pitches.
func (s *sketch) fill() (ok bool) {
	if s.rest != nil {
		return len(s.fits) == len(s.k.voice)
	}
	s.rest = make([]int, len(s.k.voice)+1)
	for i := range s.k.voice {
		f := s.r.ways.of(&s.k.voice[i], s.host, s.octave)
		if s.k.swapped {
			f = slices.DeleteFunc(slices.Clone(f), func(f fit) bool { return f.pick.lost() || f.pick.Joined != nil })
		}
		if len(f) == 0 {
			return false
		}
		s.fits = append(s.fits, f)
	}
	for i := len(s.fits) - 1; i >= 0; i-- {
		s.rest[i] = s.rest[i+1] + s.fits[i][0].cost
	}
	return true
}

// mostParts is how many ways of giving what is asked are looked at on one host
// in one octave: where an organ has a dozen stops of a kind, thousands are as
// good as one another.
var mostParts = 1000

// A cut is what the ways that are left out cost at least.
type cut struct {
	far   int // those that cost more than they might
	alike int // those of a host that has mostParts which cost no more
}

// options lists the ways in which the organ can give what is asked of one
// division, cheapest first: those that cost at most slack more than the
// cheapest, and that do as the pins say.
func (r *resolver) options(k *ask, slack int, pins []*fixed) ([]*Part, cut) {
	o := &optionSearch{r: r, k: k, slack: slack, pins: pins, least: never, cut: cut{never, never}}
	for _, s := range r.sketches(k, pins) {
		if slices.ContainsFunc(pins, func(f *fixed) bool { return !f.place(s.host, s.octave) }) {
			continue
		}
		o.bar = never
		if o.over(s.base) {
			continue
		}
		if !s.fill() {
			continue
		}
		o.s = s
		o.picks = make([]*Pick, len(s.fits))
		o.choose(0, s.base, nil)
		o.cheapest()
		o.found, o.here = append(o.found, o.here...), o.here[:0]
	}
	return o.result()
}

// sketches are the hosts and octaves for an ask, the cheapest first, the octave
// that a pin asks for among them.
func (r *resolver) sketches(k *ask, pins []*fixed) []*sketch {
	// Those of an ask that this one is a changed copy of are others.
	if len(pins) == 0 && len(k.sketches) > 0 && k.sketches[0].k == k {
		return k.sketches
	}
	var out []*sketch
	octaves := k.octaves()
	for _, f := range pins {
		if o := f.pin.Octave; o != nil && !slices.Contains(octaves, *o) {
			octaves = append(slices.Clone(octaves), *o)
		}
	}
	for _, host := range r.hosts(k.asked.Division) {
		for _, octave := range octaves {
			if s := r.sketch(k, host, octave); s != nil {
				s.number = len(out)
				out = append(out, s)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *sketch) int { return cmp.Compare(a.base, b.base) })
	if len(pins) == 0 {
		k.sketches = out
	}
	return out
}

// An optionSearch goes through the sketches of an ask by branch and bound.
type optionSearch struct {
	r     *resolver
	k     *ask
	s     *sketch
	slack int
	pins  []*fixed
	picks []*Pick
	least int // of the parts found
	cut   cut
	found []numbered
	here  []numbered // of the sketch at hand
	bar   int        // what they may cost at most, once there are mostParts
}

type numbered struct {
	part   *Part
	sketch int
}

func (o *optionSearch) limit() int { return min(o.least+o.slack, never) }

// over reports whether a cost is too much, and notes that something of that
// cost is left out then.
func (o *optionSearch) over(cost int) bool {
	switch {
	case cost > o.limit():
		o.cut.far = min(o.cut.far, cost)
	case cost > o.bar:
		o.cut.alike = min(o.cut.alike, cost)
	default:
		return false
	}
	return true
}

// choose goes on to the voice numbered i, with the paths used so far.
func (o *optionSearch) choose(i, cost int, used []*Path) {
	s := o.s
	if i == len(s.fits) {
		if slices.ContainsFunc(o.pins, func(f *fixed) bool { return !f.whole(o.picks) }) {
			return
		}
		o.add(s.part(o.picks, used, cost))
		return
	}
	for n := range s.fits[i] {
		f := &s.fits[i][n]
		if o.over(cost + f.cost + s.rest[i+1]) {
			return // the fits are sorted: what follows costs no less
		}
		if s.drawnAlready(&f.pick, o.picks[:i]) {
			continue // one stop cannot be two voices
		}
		if slices.ContainsFunc(o.pins, func(p *fixed) bool { return !p.draws(&f.pick) }) {
			continue
		}
		paths, more, ok := with(used, &f.pick)
		if !ok {
			continue
		}
		if o.over(cost + f.cost + more + s.rest[i+1]) {
			continue
		}
		o.picks[i] = &f.pick
		o.choose(i+1, cost+f.cost+more, paths)
	}
}

func (o *optionSearch) add(p *Part) {
	if p == nil || o.over(p.Cost) {
		return
	}
	o.least = min(o.least, p.Cost)
	if o.here = append(o.here, numbered{p, o.s.number}); len(o.here) >= 2*mostParts {
		o.cheapest()
	}
}

// cheapest leaves of the parts of the sketch at hand only the cheapest, if
// there are too many.
func (o *optionSearch) cheapest() {
	if len(o.here) <= mostParts || o.k.everyPart {
		return
	}
	slices.SortStableFunc(o.here, func(a, b numbered) int { return cmp.Compare(a.part.Cost, b.part.Cost) })
	o.cut.alike = min(o.cut.alike, o.here[mostParts].part.Cost)
	o.here = o.here[:mostParts]
	o.bar = o.here[mostParts-1].part.Cost - 1
}

// result are the parts found that are within the slack of the cheapest, in
// the order of cost, and in that of hosts and octaves where they cost the same.
func (o *optionSearch) result() ([]*Part, cut) {
	slices.SortStableFunc(o.found, func(a, b numbered) int {
		return cmp.Or(cmp.Compare(a.part.Cost, b.part.Cost), cmp.Compare(a.sketch, b.sketch))
	})
	var parts []*Part
	for _, f := range o.found {
		if f.part.Cost > o.limit() {
			o.cut.far = min(o.cut.far, f.part.Cost)
			break
		}
		parts = append(parts, f.part)
	}
	return parts, o.cut
}

// drawnAlready reports whether a pick of a stop or two, for the voice after
// those of earlier picks, would draw what these draw.
func (s *sketch) drawnAlready(p *Pick, earlier []*Pick) bool {
	if len(p.Stops) > 2 || isGroupWord(s.k.voice[len(earlier)].voice) {
		return false
	}
	for i, q := range earlier {
		if isGroupWord(s.k.voice[i].voice) {
			continue // "Voix céleste, Salicional": the string beats and is named as well
		}
		for _, c := range q.Stops {
			if slices.ContainsFunc(p.Stops, func(x Chosen) bool { return x.Stop == c.Stop }) {
				return true
			}
		}
	}
	return false
}

// lostPitches is what it costs beside the picks that a pitch is not had at all
// for which several voices are asked, or that a solo has it in another octave.
func (k *ask) lostPitches(picks []*Pick) int {
	cost := 0
	for i, w := range k.voice {
		if !w.shared {
			continue
		}
		first, kept, sounds, off, alone := true, false, false, false, 0
		for n, other := range k.voice {
			if !other.shared || other.pitch != w.pitch {
				continue
			}
			first = first && n >= i
			alone = max(alone, other.alone())
			sounds = sounds || !picks[n].lost()
			kept = kept || !picks[n].lost() && !picks[n].off
			off = off || picks[n].off
		}
		switch {
		case !first || kept && !off:
		case !sounds:
			cost += alone
		default:
			cost += missSoloPitch
		}
	}
	return cost
}

// drawsNothing reports whether no stop and no coupler is drawn for a part.
func (p *Part) drawsNothing() bool {
	return !slices.ContainsFunc(p.Picks, func(x Pick) bool { return len(x.Stops) > 0 || x.Joined != nil })
}

// part makes a part of a combination; nil where the picks do not go together.
func (s *sketch) part(picks []*Pick, used []*Path, cost int) *Part {
	g := s.giving(picks, used)
	if g == nil {
		return nil
	}
	p := &Part{
		Asked: s.k.asked, Host: s.host, Octave: s.octave, Picks: g.picks, Lending: g.lending, Cost: cost + g.cost,
		played: len(s.k.lines) > 0, soft: s.k.softened, ask: s.k, knobs: g.knobs, stops: g.stops, sounds: g.sounds,
	}
	p.Cost += s.silentKeys(p) + s.detour(p)
	if p.played && len(p.Picks) > 0 && !s.k.fed && p.drawsNothing() {
		p.Cost += missAll
	}
	p.Cost += s.r.departs(p)
	return p
}

// detour is what it costs to play from another keyboard than the one that is
// named while that one's own stops are coupled to it.
func (s *sketch) detour(p *Part) int {
	d := s.k.asked.Division
	if !p.played || len(p.Lending) == 0 || d == passage.Pedal || d.Role == division.None {
		return 0
	}
	home := s.r.byRole(d.Role)
	if home == nil || home == s.host || d.Role.Number() == 0 && home.Role != d.Role {
		return 0
	}
	for i := range p.Lending {
		if p.Lending[i].From == home {
			return costDetour
		}
	}
	return 0
}
