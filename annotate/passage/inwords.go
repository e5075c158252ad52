package passage

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry/division"
)

// groupWords are what an organist calls the group words of the normal form,
// where the score does not name them; %s is the pitch.
var groupWords = map[direction.Group]string{
	direction.Foundation: "foundations",
	direction.Plenum:     "principal chorus with mixtures",
	direction.Grandjeu:   "grand jeu",
	direction.Full:       "full",
	direction.Tutti:      "full organ",
}

// InWords is a voice as the score calls it, with its pitch: "Open Diapason 8",
// "soft 8 ft.", "full without reeds", "Oboe 8 or Clarinet 8".
func InWords(v direction.Voice) string {
	name, pitch := v.Name, v.Pitch.String()
	if v.Pitch.IsZero() {
		pitch = ""
	}
	var text string
	switch {
	case v.Group == direction.ChorusTo && name != "":
		text = "to " + name
	case v.Group == direction.ChorusTo:
		text = "chorus to " + pitch + " ft."
	case name != "":
		text = strings.TrimSpace(name + " " + pitch)
	case v.Group == direction.Any && pitch == "":
		text = "stops"
	case v.Group == direction.Any:
		text = pitch + " ft."
	case groupWords[v.Group] != "":
		text = strings.TrimSpace(groupWords[v.Group] + " " + pitch)
	case pitch == "":
		text = string(v.Group) + "s"
	default:
		text = string(v.Group) + " " + pitch
	}
	if v.Strength != "" {
		text = v.Strength + " " + text
	}
	var except []string
	for _, g := range v.Except {
		except = append(except, string(g)+"s")
	}
	if len(except) > 0 {
		text += " without " + strings.Join(except, " and ")
	}
	for _, or := range v.Or {
		text += " or " + InWords(or)
	}
	return text
}

// VoicesInWords are voices as the score calls them, pitches of one kind
// together: "foundations 8, 4, Anches 8, 4". It is "" for none.
func VoicesInWords(voices []direction.Voice) string {
	var out []string
	for i, v := range voices {
		text := InWords(v)
		if i > 0 && oneKind(voices[i-1], v) {
			text = v.Pitch.String()
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// oneKind reports whether two voices differ only in their pitch.
func oneKind(a, b direction.Voice) bool {
	if a.Pitch.IsZero() || b.Pitch.IsZero() || a.Group == direction.Any || a.Group == direction.ChorusTo || len(a.Or) > 0 {
		return false
	}
	a.Pitch = b.Pitch
	return sameVoice(a, b)
}

// InWords is what is asked of a division: "Flute 8, Nazard 2 2/3; box shut".
// It is "" where nothing is.
func (a *Asked) InWords() string {
	var parts []string
	if len(a.Voices) > 0 {
		parts = append(parts, VoicesInWords(a.Voices))
	}
	if len(a.Without) > 0 {
		parts = append(parts, "without "+VoicesInWords(a.Without))
	}
	if len(a.Prepared) > 0 {
		parts = append(parts, "prepared: "+VoicesInWords(a.Prepared))
	}
	if a.Tremming {
		parts = append(parts, "tremulant")
	}
	if a.Box != "" {
		parts = append(parts, "box "+a.Box)
	}
	return strings.Join(parts, "; ")
}

// String is a coupler as it stands on a knob: "Swell to Great",
// "Swell to Great 4", "Swell Octave".
func (c Coupling) String() string {
	octave := map[int]string{1: " 4", -1: " 16"}[c.Octave]
	switch {
	case c.From == c.To && c.Octave > 0:
		return c.From.Name() + " Octave"
	case c.From == c.To && c.Octave < 0:
		return c.From.Name() + " Sub Octave"
	case c.To.Role == division.None:
		return fmt.Sprintf("%s to the manual that is played%s", c.From.Name(), octave)
	}
	return c.From.Name() + " to " + c.To.Name() + octave
}
