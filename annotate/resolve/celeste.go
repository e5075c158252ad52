package resolve

import (
	"stopgap/registry"
	"stopgap/registry/stopname"
)

// celeste: the undulating rank with the unison that it beats against.
func (e *expansion) celeste() {
	p := e.w.pitch
	if p.IsZero() {
		p = feet8
	}
	s, _ := nearest(e.d, func(s *registry.Stop) (int, bool) {
		d, ok := distance(e.w.kind, s.Known.Subfamily, e.w.family, s.Known.Family)
		return d, ok && s.Known.Family == stopname.Celeste && s.Pitch == p
	})
	if s != nil {
		e.stops = append(e.stops, s)
		if partner := e.partner(s); partner != nil {
			e.stops = append(e.stops, partner)
		}
		return
	}
	// The softest string, as a celeste would be.
	s, _ = nearest(e.d, func(s *registry.Stop) (int, bool) {
		return s.Known.Loudness, s.Known.Family == stopname.String && s.Pitch == p
	})
	if s != nil {
		e.stops = append(e.stops, s)
		e.lack(missCeleste, "the %s has no celeste; %s alone does not beat", e.d.Name, s.Text)
	}
}

// partner is the unison that a celeste beats against: a string, or a flute
// for a flute celeste, as loud as it if there are several. A stop of two ranks
// beats with itself.
func (e *expansion) partner(celeste *registry.Stop) *registry.Stop {
	families := []stopname.Family{stopname.String, stopname.Flute}
	switch {
	case celeste.Ranks >= 2:
		return nil
	case celeste.Known.Subfamily == stopname.KindFluteCeleste:
		families = []stopname.Family{stopname.Flute, stopname.String}
	case celeste.Known.Subfamily == stopname.KindPrincipalCeleste:
		families = []stopname.Family{stopname.Principal}
	}
	for _, f := range families {
		s, _ := nearest(e.d, func(s *registry.Stop) (int, bool) {
			louder := s.Known.Loudness - celeste.Known.Loudness
			return max(louder, -louder), s.Known.Family == f && s.Pitch == celeste.Pitch
		})
		if s != nil {
			return s
		}
	}
	return nil
}
