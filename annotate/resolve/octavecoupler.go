package resolve

import (
	"fmt"
	"slices"

	"stopgap/registry"
	"stopgap/registry/pitch"
)

// octaveCoupler is the coupler by which a division sounds an octave higher as
// well on its own keyboard, nil if it has none.
func (r *resolver) octaveCoupler(d *registry.Division) *registry.Coupler {
	for _, c := range r.organ.Couplers {
		if c.From == d && c.Within() && !c.UnisonOff && c.Octave == 1 && c.Note == registry.EveryNote {
			return c
		}
	}
	return nil
}

// doubled gives a voice that the host lacks by its octave coupler, from a stop
// an octave below that is drawn for another voice: 8′ and 4′ from an 8′.
func (re reach) doubled(w wanted) []fit {
	if w.use == bass || w.pitch.IsZero() || w.pitch.IsMutation() || w.pitch.Cmp(feet8) >= 0 || re.octave != 0 || isGroupWord(w.voice) {
		return nil
	}
	c := re.r.octaveCoupler(re.host)
	if c == nil {
		return nil
	}
	note := fmt.Sprintf("the %s has no %s; its octave coupler gives the %s", re.host.Name, VoiceText(w.voice), feetText(w.pitch))
	return []fit{{Pick{Voice: w.voice, Doubled: c, Note: note}, costDoubled}}
}

// doubling is what it costs that the octave coupler, if one is drawn for a
// voice, gives it from a stop that is drawn for another, rather than from the
// stop that is asked for. ok is false where none of those comes near to the
// voice, and where the coupler brings a stop of the host at a pitch that is not
// asked for.
func (s *sketch) doubling(picks []*Pick) (cost int, ok bool) {
	if !slices.ContainsFunc(picks, func(p *Pick) bool { return p.Doubled != nil }) {
		return 0, true
	}
	asked := map[pitch.Feet]bool{}
	for _, w := range s.k.voice {
		asked[w.pitch] = !isGroupWord(w.voice)
	}
	brought := map[*registry.Stop]bool{}
	for _, p := range picks {
		for _, c := range p.Stops {
			if c.Path != nil {
				continue
			}
			if c.Stop.Pitch.IsZero() || !asked[c.Stop.Pitch.Octaves(1)] {
				return 0, false
			}
			brought[c.Stop] = true
		}
	}
	for i, p := range picks {
		if p.Doubled == nil {
			continue
		}
		least := never
		for _, x := range s.r.fitting(s.k.voice[i], s.host, 1) {
			if brought[x.stop] {
				least = min(least, x.cost)
			}
		}
		if least == never {
			return 0, false
		}
		cost += least
	}
	return cost, true
}

// doubledBy is the octave coupler that is drawn for a voice, nil if none is.
func (p *Part) doubledBy() *registry.Coupler {
	for n := range p.Picks {
		if c := p.Picks[n].Doubled; c != nil {
			return c
		}
	}
	return nil
}
