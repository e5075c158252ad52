package resolve

import (
	"fmt"
	"math"

	"stopgap/registry"
	"stopgap/registry/sound"
	"stopgap/registry/stopname"
)

// warmed lists pairs of flues at the pitch of a solo whose own family cannot
// be had, where the two come nearer to its sound than either alone: a
// principal with a flute to warm it. Both stand on the host, or one or both are
// lent by one path; and of the places that they come from none has the family.
func (re reach) warmed(w wanted, single []fit) []fit {
	if !w.solo || w.use != colour || w.family == stopname.NoFamily {
		return nil
	}
	var flues []fit
	has := map[*Path]bool{} // the family, by path; nil for the host
	for _, f := range single {
		if len(f.pick.Stops) > 1 {
			continue // with its bass: the stop alone is listed too
		}
		c := f.pick.Stops[0]
		switch c.Stop.Known.Family {
		case w.family:
			has[c.Path] = true
		case stopname.Principal, stopname.Flute, stopname.String:
			flues = append(flues, f)
		}
	}
	if has[nil] {
		return nil
	}
	var out []fit
	for i, a := range flues {
		for _, b := range flues[i+1:] {
			x, y := a.pick.Stops[0], b.pick.Stops[0]
			if x.Stop.Known.Family == y.Stop.Known.Family || has[x.Path] || has[y.Path] || x.Path != y.Path && x.Path != nil && y.Path != nil {
				continue
			}
			if a.cost > b.cost {
				x, y = y, x
			}
			near, ok := distance(w.kind, x.Stop.Known.Subfamily, w.family, x.Stop.Known.Family)
			if !ok {
				continue
			}
			if least := near + costOtherName + costWarm; least >= min(a.cost, b.cost) {
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

// pairKey is two stops, each so many octaves above its own pitch, against a voice.
type pairKey struct {
	voice soundKey
	stop  *registry.Stop
	shift int
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
	key := pairKey{soundKey{w.voice.Group, w.voice.Name, w.pitch, w.pedal, w.original, x.Stop, given[0].Octave}, y.Stop, given[1].Octave}
	if known, ok := re.r.pairs[key]; ok {
		return known
	}
	asked := re.r.soundAsked(w.voice, w.pedal, w.original)
	d := sound.Between(sound.HearKey(given, at), sound.HearKey([]sound.Drawn{{Stop: asked}}, at))
	phon, colour := sound.Tenths(math.Abs(d.Loudness)), sound.Tenths(d.Colour)
	cost := min(costSoundAtMost, (costLoudness*phon+costColour*colour)/10)
	re.r.pairs[key] = cost
	return cost
}
