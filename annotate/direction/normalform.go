package direction

import (
	"strconv"
	"strings"

	"stopgap/registry/division"
)

// Nothing is the normal form of a text that asks for nothing of the organ.
const Nothing = "none"

// NormalForm writes the reading one way whatever the text's language: the
// statements in the order of the text, "none" where there are none.
func (r Reading) NormalForm() string { return NormalForm(r.Statements) }

// NormalForm writes statements in the normal form.
func NormalForm(statements []Statement) string {
	if len(statements) == 0 {
		return Nothing
	}
	parts := make([]string, len(statements))
	for i, s := range statements {
		parts[i] = s.String()
	}
	return strings.Join(parts, "; ")
}

// String is the statement in the normal form: "set swell: reed 8 (Oboe)".
func (s Statement) String() string {
	switch s.Verb {
	case Couple, Uncouple:
		if s.All {
			return string(s.Verb) + " all"
		}
		return string(s.Verb) + " " + s.Division.String() + ">" + s.To.String() + couplerPitch(s.Octave)
	case Play:
		if s.State != "" {
			return "play " + string(s.Hand) + ": " + s.State
		}
		return "play " + string(s.Hand) + ": " + s.Division.String()
	case Box, Level, Trem, Lead:
		return string(s.Verb) + " " + s.Division.String() + ": " + s.State
	}
	if s.All {
		return string(s.Verb) + " " + s.Division.String() + ": all"
	}
	voices := make([]string, len(s.Voices))
	for i, v := range s.Voices {
		voices[i] = v.String()
	}
	return string(s.Verb) + " " + s.Division.String() + ": " + strings.Join(voices, ", ")
}

// couplerPitch is how a coupler's octave is written: " 4" an octave higher,
// " 16" an octave lower, as on the knobs.
func couplerPitch(octave int) string {
	switch octave {
	case 1:
		return " 4"
	case -1:
		return " 16"
	}
	return ""
}

// String is the voice in the normal form: "flute 8 (Gedackt)", "any 16 soft",
// "full * except reed", "reed 8 (Oboe) | reed 8 (Clarinet)".
func (v Voice) String() string {
	var b strings.Builder
	b.WriteString(string(v.Group))
	if v.Pitch.IsZero() {
		b.WriteString(" *")
	} else {
		b.WriteString(" " + v.Pitch.String())
	}
	if v.Name != "" {
		b.WriteString(" (" + v.Name + ")")
	}
	if v.Strength != "" {
		b.WriteString(" " + v.Strength)
	}
	for _, g := range v.Except {
		b.WriteString(" except " + string(g))
	}
	for _, alternative := range v.Or {
		b.WriteString(" | " + alternative.String())
	}
	return b.String()
}

// roles are the divisions that the normal form knows by name.
var roles = func() map[string]division.Role {
	m := map[string]division.Role{"?": division.None, "*": division.Every}
	for _, r := range []division.Role{
		division.Great, division.Swell, division.Choir, division.Positive, division.Solo,
		division.Echo, division.Brust, division.Ober, division.Bombarde, division.Pedal,
	} {
		m[string(r)] = r
	}
	for n := 1; n <= 5; n++ {
		m["man"+strconv.Itoa(n)] = division.Manual(n)
	}
	return m
}()
