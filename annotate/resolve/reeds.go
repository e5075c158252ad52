package resolve

import (
	"strings"

	"stopgap/registry"
	"stopgap/registry/stopname"
)

// reeds: the chorus reeds. The French Anches are all that stands on the reed
// chest, with the mixtures and what is at 2′ and above.
func (e *expansion) reeds(lang string) {
	at := func(s *registry.Stop) bool { return e.w.pitch.IsZero() || s.Pitch == e.w.pitch }
	n := e.take(func(s *registry.Stop) bool { return chorusReed(s) && at(s) && s.Known.Subfamily != stopname.KindOboe })
	if n == 0 {
		n = e.take(func(s *registry.Stop) bool { return chorusReed(s) && at(s) })
	}
	if n == 0 {
		e.lack(missChorusReeds, "the %s has no chorus reeds", e.d.Name)
	}
	if n > 0 && e.w.pitch.IsZero() && !e.w.pedal {
		e.unison("reed")
	}
	if strings.HasPrefix(plainWord(e.w.voice.Name), "anch") && lang == "fr" && e.w.pitch.IsZero() && !e.w.pedal {
		e.take(func(s *registry.Stop) bool {
			return s.Known.Family == stopname.Mixture || s.Pitch == feet2 && s.Known.Family == stopname.Principal
		})
	}
}

// unison draws an 8′ flue where stops of a group are drawn that leave a hole
// there: 16′ and 4′ without the 8′ between them (common practice).
func (e *expansion) unison(group string) {
	for _, s := range e.stops {
		if s.Pitch == feet8 {
			return
		}
	}
	for _, family := range []stopname.Family{stopname.Principal, stopname.Flute, stopname.String} {
		for _, s := range inOrder(e.d) {
			if s.Pitch == feet8 && s.Known.Family == family && s.Use == "" && !isBass(s) && s.Known.Subfamily != stopname.KindSoftPrincipal {
				e.stops = append(e.stops, s)
				e.lack(0, "the %s has no %s at 8′, so %s gives the unison", e.d.Name, group, s.Text)
				return
			}
		}
	}
}
