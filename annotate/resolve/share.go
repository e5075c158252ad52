package resolve

import (
	"cmp"
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Two registrations that have to be had from one keyboard sound alike. So
// beside the ways of giving it, each may join what another draws on a host: it
// draws nothing itself, and what it loses thereby is judged by the stops that
// the other really draws.

// joiners are the ways of joining what another registration of the passage
// draws, one for each host and octave that the pins allow.
func (r *resolver) joiners(p *passage.Passage, k *ask, pins []*fixed) []*Part {
	if k.swapped || len(k.voice) == 0 || !sharesOrgan(p, k.asked.Division) {
		return nil
	}
	var out []*Part
	for _, s := range r.sketches(k, pins) {
		if !slices.ContainsFunc(pins, func(f *fixed) bool { return !f.place(s.host, s.octave) || len(f.stops) > 0 }) {
			out = append(out, s.joiner())
		}
	}
	slices.SortStableFunc(out, func(a, b *Part) int { return cmp.Compare(a.Cost, b.Cost) })
	return out
}

// sharesOrgan reports whether stops are asked for elsewhere in the passage
// that could stand on the same host.
func sharesOrgan(p *passage.Passage, d passage.Division) bool {
	return slices.ContainsFunc(p.Drawn, func(a *passage.Asked) bool {
		return a.Division != d && a.Division.Role != division.Every && len(a.Voices) > 0 && (a.Division == passage.Pedal) == (d == passage.Pedal)
	})
}

// joiner is the part that draws nothing and joins another on the host.
func (s *sketch) joiner() *Part {
	p := &Part{Asked: s.k.asked, Host: s.host, Octave: s.octave, joins: true, played: len(s.k.lines) > 0, ask: s.k, soft: s.k.softened}
	s.r.board.number(p)
	p.Cost = s.base + costMerged + costShared + s.r.departs(p)
	return p
}

// draws reports whether a part draws what is asked, rather than joining another.
func (p *Part) draws() bool { return p.Host != nil && !p.joins && len(p.Picks) > 0 }

// shared is what the parts that join others lose by it; ok is false where one
// joins and nothing is drawn there. What is known already is not found out
// again, unless known is nil.
func (r *resolver) shared(parts []*Part, known map[joining]int) (cost int, ok bool) {
	for _, p := range parts {
		if !p.joins {
			continue
		}
		j, few := joiningOf(parts, p)
		lost, found := known[j]
		if !found || !few {
			drawn := drawnOn(parts, p.Host)
			if len(drawn) == 0 {
				return 0, false
			}
			_, lost = r.joined(p, drawn)
			if few && known != nil {
				known[j] = lost
			}
		}
		cost += lost
	}
	return cost, true
}

// A joining is a part that joins others, and those whose stops it joins: one,
// or two.
type joining struct{ joiner, first, second *Part }

// joiningOf are the parts of a joining; few is false where there are more than
// two to join.
func joiningOf(parts []*Part, joiner *Part) (j joining, few bool) {
	j.joiner = joiner
	for _, q := range parts {
		switch {
		case q.Host != joiner.Host || !q.draws():
		case j.first == nil:
			j.first = q
		case j.second == nil:
			j.second = q
		default:
			return j, false
		}
	}
	return j, true
}

// drawnOn are the stops that parts draw for a host, its own and those that are
// lent to it.
func drawnOn(parts []*Part, host *registry.Division) []Chosen {
	var out []Chosen
	for _, p := range parts {
		if p.Host == host && p.draws() {
			out = append(out, p.sounding()...)
		}
	}
	return out
}

// sounding are a part's stops, and what its octave coupler brings of them if one
// is drawn for a voice.
func (p *Part) sounding() []Chosen {
	if p.sounds != nil {
		return p.sounds
	}
	out := p.Stops()
	if c := p.doubledBy(); c != nil {
		up := &Path{From: p.Host, Couplers: []*registry.Coupler{c}, Octave: 1}
		for _, x := range out {
			if x.Path == nil {
				out = append(out, Chosen{x.Stop, up})
			}
		}
	}
	p.sounds = out
	return out
}

// joined is what a part that joins others has of what it is asked for, voice
// by voice, among the stops that they draw, and what it costs that these are
// others than it would have had itself. A solo loses its pitch also where
// others sound with it.
func (r *resolver) joined(p *Part, drawn []Chosen) (picks []Pick, lost int) {
	exact, known := true, true
	asked, given := map[pitch.Ratio]bool{}, map[pitch.Ratio]bool{}
	for _, w := range p.ask.voice {
		pick, cost := r.amongDrawn(w, p.Octave, drawn)
		picks, lost = append(picks, pick), lost+cost
		exact = exact && !pick.lost() && !pick.off
		if ratios := passage.Ratios([]direction.Voice{w.voice}); ratios == nil {
			known = false
		} else {
			asked[ratios[0]] = true
		}
	}
	all := make([]*Pick, len(picks))
	for i := range picks {
		all[i] = &picks[i]
	}
	lost += p.ask.lostPitches(all)
	for _, c := range drawn {
		given[c.ratio(p.Octave)] = true
	}
	if p.ask.solo && exact && known && !sameRatios(asked, given) {
		lost += missSoloPitch
	}
	return picks, lost
}

// amongDrawn is what comes nearest to a voice among stops that are drawn, and
// what it costs that nothing nearer is.
func (r *resolver) amongDrawn(w wanted, octave int, drawn []Chosen) (Pick, int) {
	if isGroupWord(w.voice) {
		return groupAmong(w, octave, drawn)
	}
	best, least := Pick{Voice: w.voice, Missing: true}, w.missing()
	foreign := otherFamily
	if w.solo {
		foreign = costForeign
	}
	try := func(w wanted, off, more int) {
		for _, c := range drawn {
			shift := octave
			if c.Path != nil {
				shift += c.Path.Octave
			}
			if c.Stop.Pitch.IsZero() || c.Stop.Pitch.Octaves(shift) != w.pitch {
				continue
			}
			x := fittingStop{cost: foreign}
			for _, f := range r.fitting(w, c.Stop.Division, shift) {
				if f.stop == c.Stop && f.cost < x.cost {
					x = f
				}
			}
			if off != 0 {
				x.note = offPitch(c.Stop, off, w)
			}
			if x.cost+more < least {
				same := x.same && shift == 0 && c.Path == nil && off == 0
				best, least = Pick{Voice: best.Voice, Stops: []Chosen{c}, Note: x.note, Same: same, off: off != 0}, x.cost+more
			}
		}
	}
	try(w, 0, 0)
	for _, v := range w.voice.Or {
		try(r.want(v, w.asked(), w.use, w.solo), 0, 0)
	}
	if w.solo && w.use == colour {
		for _, off := range []int{-1, 1, -2, 2} {
			at, more := w, costOtherPitch*max(off, -off)
			at.pitch = w.pitch.Octaves(off)
			if !w.shared {
				more += missSoloPitch
			}
			try(at, off, more)
		}
	}
	return best, least
}

// groupAmong is what belongs to a group word among stops that are drawn: those
// at its pitch, or its ground, or of its family where that is what it means.
func groupAmong(w wanted, octave int, drawn []Chosen) (Pick, int) {
	pick := Pick{Voice: w.voice}
	ground := w.pitch
	if ground.IsZero() {
		if ground = feet8; w.pedal {
			ground = feet16
		}
	}
	found := false
	for _, c := range drawn {
		switch w.family {
		case stopname.Mixture, stopname.Reed, stopname.Celeste, stopname.Cornet:
			found = found || c.Stop.Known.Family == w.family
		default:
			found = found || c.ratio(octave) == ground.Ratio() || w.voice.Group == direction.ChorusTo && c.ratio(octave) == feet8.Ratio()
		}
	}
	if !found {
		pick.Missing = true
		return pick, w.alone()
	}
	pick.Stops = drawn
	return pick, 0
}

// leads is the part of those that draw on a host that settles what else is
// there for it, a tremulant: the one that leads, else one that is played.
func leads(parts []*Part, host *registry.Division) *Part {
	var first *Part
	for _, p := range parts {
		if p.Host != host || !p.draws() {
			continue
		}
		if first == nil || p.played && (!first.played || p.ask.solo && !first.ask.solo) {
			first = p
		}
	}
	return first
}

// together reports whether the stops of two parts can both be drawn on one
// host: they are the same, or one of them sounds only where the other is
// played, or both only from one and the same keyboard.
func together(p *passage.Passage, a, b *Part) bool {
	if sameStops(a, b) {
		return true
	}
	if a.played && b.played || a.doubledBy() != b.doubledBy() {
		return false
	}
	to := a.soundsFrom(p)
	return to != (passage.Division{}) && to == b.soundsFrom(p)
}

// soundsFrom is the one division from whose keyboard a part sounds: its own if
// it is played, else that to which the score couples it.
func (x *Part) soundsFrom(p *passage.Passage) passage.Division {
	if x.played {
		return x.Asked.Division
	}
	if x.ask.end == nil {
		end := soleEnd(p, x.Asked.Division)
		x.ask.end = &end
	}
	return *x.ask.end
}

// soleEnd is the one division that is played to which the score couples
// another, at the unison, be it by way of others; the zero Division where there
// is none or there are several.
func soleEnd(p *passage.Passage, from passage.Division) passage.Division {
	var end passage.Division
	seen := map[passage.Division]bool{from: true}
	for open := []passage.Division{from}; len(open) > 0; open = open[1:] {
		for _, c := range p.Couplings {
			if c.From != open[0] || c.To == c.From {
				continue
			}
			if c.Octave != 0 {
				return passage.Division{}
			}
			if len(linesOn(p, c.To)) > 0 {
				if end != (passage.Division{}) && end != c.To {
					return passage.Division{}
				}
				end = c.To
			}
			if !seen[c.To] {
				seen[c.To] = true
				open = append(open, c.To)
			}
		}
	}
	return end
}
