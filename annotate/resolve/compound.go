package resolve

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// compound makes up a Cornet or a Sesquialtera from single ranks of flutes (a
// Cornet is 8, 4, 2⅔, 2 and 1⅗: Wedgwood 1905, Cornet).
func (re reach) compound(w wanted) (fit, bool) {
	var ranks []pitch.Feet
	switch {
	case w.family == stopname.Cornet && w.pitch == feet8:
		ranks = []pitch.Feet{feet8, feet4, feet2and2, feet2, feet1and3}
	case w.family == stopname.Cornet && w.pitch == feet2and2:
		ranks = []pitch.Feet{feet2and2, feet1and3}
	default:
		return fit{}, false
	}
	f := fit{Pick{Voice: w.voice, Note: fmt.Sprintf("the %s is made up from single ranks", w.called())}, costMadeUp}
	for _, p := range ranks {
		one := wanted{
			voice: direction.Voice{Group: direction.Flute, Pitch: p}, family: stopname.Flute, pitch: p,
			kind: stopname.UsualKind(stopname.Flute), generic: true, name: stopname.Known{How: stopname.Unknown},
		}
		best := fit{cost: -1}
		for _, g := range re.single(one) {
			if best.cost < 0 || g.cost < best.cost {
				best = g
			}
		}
		if best.cost < 0 {
			return fit{}, false
		}
		f.pick.Stops = append(f.pick.Stops, best.pick.Stops...)
		f.cost += best.cost / 2
	}
	return f, true
}

func sameWords(a, b string) bool {
	return a != "" && strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

func feetText(f pitch.Feet) string {
	if f.IsZero() {
		return "any pitch"
	}
	return f.String() + "′"
}
