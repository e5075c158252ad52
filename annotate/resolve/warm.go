package resolve

import (
	"fmt"
	"math"

	"stopgap/registry/sound"
	"stopgap/registry/stopname"
)

// warmed lists pairs of flues at the pitch of a solo whose own family cannot
// be had, where the two come nearer to its sound than either alone: a
// principal with a flute to warm it.
func (re reach) warmed(w wanted, single []fit) []fit {
	if !w.solo || w.use != colour || w.family == stopname.NoFamily {
		return nil
	}
	var flues []fit
	for _, f := range single {
		switch f.pick.Stops[0].Stop.Known.Family {
		case w.family:
			return nil
		case stopname.Principal, stopname.Flute, stopname.String:
			flues = append(flues, f)
		}
	}
	var out []fit
	for i, a := range flues {
		for _, b := range flues[i+1:] {
			x, y := a.pick.Stops[0], b.pick.Stops[0]
			if x.Stop.Known.Family == y.Stop.Known.Family {
				continue
			}
			if a.cost > b.cost {
				x, y = y, x
			}
			near, ok := distance(w.kind, x.Stop.Known.Subfamily, w.family, x.Stop.Known.Family)
			if !ok {
				continue
			}
			cost := near + costOtherName + costWarm + re.pairCost(w, x, y)
			if cost >= min(a.cost, b.cost) {
				continue
			}
			note := fmt.Sprintf("%s, with %s to warm it, keeps the pitch of the %s, though neither is a %s", x.Stop.Text, y.Stop.Text, w.called(), w.family)
			out = append(out, fit{Pick{Voice: w.voice, Stops: []Chosen{x, y}, Note: note}, cost})
		}
	}
	return out
}

// pairCost is how far two stops together are from what the voice means on an
// ordinary organ.
func (re reach) pairCost(w wanted, x, y Chosen) int {
	at := 60
	if w.pedal {
		at = 48
	}
	var given []sound.Drawn
	for _, c := range []Chosen{x, y} {
		octave := re.octave
		if c.Path != nil {
			octave += c.Path.Octave
		}
		given = append(given, sound.Drawn{Stop: re.r.soundOf(c.Stop), Octave: octave})
	}
	asked := re.r.soundAsked(w.voice, w.pedal, w.original)
	d := sound.Between(sound.HearKey(given, at), sound.HearKey([]sound.Drawn{{Stop: asked}}, at))
	phon, colour := sound.Tenths(math.Abs(d.Loudness)), sound.Tenths(d.Colour)
	return min(costSoundAtMost, (costLoudness*phon+costColour*colour)/10)
}
