package resolve

import (
	"fmt"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// instead lists what can be drawn on the host so that a line is not silent
// where nothing that is asked for can be had: a flue by itself. The voice
// counts as left out, which costs so much.
func (re reach) instead(w wanted, missing int) []fit {
	if w.fed || w.solo && w.use == colour && !w.pitch.IsZero() && !isGroupWord(w.voice) {
		return nil // it sounds by a coupler, or otherOctave is for it
	}
	ground := w.pitch
	switch {
	case !ground.IsZero() && !ground.IsMutation():
	case w.pedal:
		ground = feet16
	default:
		ground = feet8
	}
	var out []fit
	for _, s := range inOrder(re.host) {
		if s.Use != "" || isBass(s) || !isOf(s, stopname.Principal, stopname.Flute, stopname.String) || s.Pitch.IsZero() || s.Pitch.IsMutation() {
			continue
		}
		near, ok := distance(w.kind, s.Known.Subfamily, w.family, s.Known.Family)
		if !ok || near > otherFamily {
			near = otherFamily
		}
		cost := missing + costInstead + near + costInsteadOctave*octavesBetween(ground, s.Pitch.Octaves(re.octave))
		note := fmt.Sprintf("%s is not to be had, so %s plays for it", VoiceText(w.voice), s.Text)
		out = append(out, fit{Pick{Voice: w.voice, Stops: []Chosen{{Stop: s}}, Instead: true, Note: note}, cost})
	}
	return out
}

// octavesBetween is how many octaves, rounded up, two pitches are apart.
func octavesBetween(a, b pitch.Feet) int {
	if a.Cmp(b) < 0 {
		a, b = b, a
	}
	n := 0
	for ; b.Cmp(a) < 0 && n < 8; n++ {
		b = b.Octaves(-1)
	}
	return n
}

// lost reports whether a voice is left out, be it that another stop plays for it.
func (p Pick) lost() bool { return p.Missing || p.Instead }
