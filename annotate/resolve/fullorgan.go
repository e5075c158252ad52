package resolve

import (
	"slices"

	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// plenum: principals and mixtures over any 8′ flue. Mixtures never stand on
// flutes alone.
func (e *expansion) plenum() {
	e.chorusTo(feet2)
	ground := false
	for _, s := range e.stops {
		ground = ground || s.Known.Family == stopname.Principal
	}
	if !ground {
		e.lack(missChorusMixture, "the %s has no principal chorus", e.d.Name)
		return
	}
	if e.take(func(s *registry.Stop) bool { return s.Known.Family == stopname.Mixture }) == 0 {
		e.lack(missChorusMixture, "the %s has no mixture", e.d.Name)
	}
}

// grandjeu: the classical French Grand jeu of reeds, Cornet and Prestant.
func (e *expansion) grandjeu() {
	if e.take(func(s *registry.Stop) bool { return chorusReed(s) && s.Pitch.Cmp(feet8) <= 0 }) == 0 {
		e.lack(missChorusReeds, "the %s has no chorus reeds", e.d.Name)
	}
	e.take(func(s *registry.Stop) bool { return s.Known.Subfamily == stopname.KindCornet })
	e.takeAt(feet4, stopname.Principal)
}

// full: the division's chorus with mixtures and chorus reeds, never every
// stop. Manual 16′ is weight and comes only with the tutti, but for the 16′
// reed of a Full Swell.
func (e *expansion) full(tutti bool) {
	e.take(func(s *registry.Stop) bool {
		deep := s.Pitch.Cmp(feet8) > 0 && !e.w.pedal && !tutti
		switch s.Known.Family {
		case stopname.Principal:
			return !deep && s.Known.Subfamily != stopname.KindSoftPrincipal
		case stopname.Mixture:
			return true
		case stopname.Flute:
			return !deep && !s.Pitch.IsMutation() && s.Pitch.Cmp(feet4) >= 0 && (s.Known.Loudness >= 3 || e.w.pedal)
		case stopname.Reed:
			return chorusReed(s) && (!deep || e.d.Role == division.Swell)
		}
		return false
	})
	if len(e.stops) == 0 {
		e.all()
	}
	if at := e.ground(); !e.hasAt(at) && e.takeAt(at, stopname.Flute) == 0 && e.takeAt(at, stopname.Principal) == 0 && e.takeAt(at, stopname.String) == 0 {
		e.lack(missChorusUnison, "the %s has no flue at %s", e.d.Name, feetText(at))
	}
	if !e.w.pedal && !excepts(e.w.voice, stopname.Reed) && !e.has(stopname.Reed) && !(tutti && e.r.lentReeds(e.d)) {
		e.lack(missChorusReeds, "the %s has no chorus reeds, so the colour of the reeds is missing", e.d.Name)
	}
}

// lentReeds reports whether another division brings its chorus reeds to the
// keyboard of one where the whole organ is coupled.
func (r *resolver) lentReeds(to *registry.Division) bool {
	return slices.ContainsFunc(r.organ.Couplers, func(c *registry.Coupler) bool {
		return c.To == to && c.From != to && c.Octave == 0 && slices.ContainsFunc(c.From.Stops, chorusReed)
	})
}
