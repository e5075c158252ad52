package resolve

import (
	"fmt"
	"slices"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// resultants give a deep voice of the pedal's bass that the organ lacks by the
// two ranks that the ear hears as one an octave below: 16′ with 10⅔′ for 32′
// (Stauff, Encyclopedia of Organ Stops, "Trombone Quint"). The upper rank comes
// to what another voice draws, or brings the lower one along.
func (re reach) resultants(w wanted) []fit {
	if w.use != bass || w.pitch.Cmp(feet8) <= 0 || isGroupWord(w.voice) || w.family == stopname.Reed || re.octave != 0 {
		return nil
	}
	var out []fit
	for _, quint := range inOrder(re.host) {
		if !isOf(quint, stopname.Principal, stopname.Flute, stopname.String) || !resultsIn(w.pitch.Octaves(1), quint.Pitch, w.pitch) {
			continue
		}
		note := fmt.Sprintf("%s with a %s gives the %s as a resultant", quint.Text, feetText(w.pitch.Octaves(1)), feetText(w.pitch))
		out = append(out, fit{Pick{Voice: w.voice, Stops: []Chosen{{Stop: quint}}, Resultant: true, Note: note}, costResultant})
		for _, base := range inOrder(re.host) {
			if base.Pitch == w.pitch.Octaves(1) && isOf(base, stopname.Principal, stopname.Flute, stopname.String) {
				note := fmt.Sprintf("%s and %s give the %s as a resultant", base.Text, quint.Text, feetText(w.pitch))
				out = append(out, fit{Pick{Voice: w.voice, Stops: []Chosen{{Stop: base}, {Stop: quint}}, Note: note}, costResultant + max(base.Known.Loudness-3, 3-base.Known.Loudness)})
			}
		}
	}
	return out
}

func resultsIn(a, b, want pitch.Feet) bool {
	f, ok := pitch.Resultant(a, b)
	return ok && f == want
}

// resultsRightly reports whether the lower rank of a resultant is drawn for
// another voice, if one relies on that.
func (s *sketch) resultsRightly(picks []*Pick) bool {
	for i, p := range picks {
		if !p.Resultant {
			continue
		}
		base := s.k.voice[i].pitch.Octaves(1)
		if !slices.ContainsFunc(picks, func(q *Pick) bool {
			return q != p && slices.ContainsFunc(q.Stops, func(c Chosen) bool { return c.Path == nil && c.Stop.Pitch == base })
		}) {
			return false
		}
	}
	return true
}
