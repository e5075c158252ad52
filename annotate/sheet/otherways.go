package sheet

import (
	"slices"
	"strings"

	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// otherWays are the next best ways of giving a line something else, each with
// what it gives up. A way in which the line is given the same, and others are
// not, is told with the first line of the setting only.
func otherWays(o *registry.Organ, r reason) []string {
	var out []string
	for _, alt := range r.setting.Alternatives {
		own := lineText(o, alt, r.line.Asked.Line)
		if own == lineText(o, r.setting, r.line.Asked.Line) {
			if r.line != r.setting.Lines[0] || anyLineDiffers(o, r.setting, alt) {
				continue
			}
			own = settingDifference(o, r.setting, alt)
		}
		text := alt.Why
		if text == "" {
			text = own
		}
		if text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

func anyLineDiffers(o *registry.Organ, s, alt *resolve.Setting) bool {
	return slices.ContainsFunc(s.Lines, func(l *resolve.Line) bool {
		return lineText(o, s, l.Asked.Line) != lineText(o, alt, l.Asked.Line)
	})
}

// lineText is what a line is given: the keyboard, what sounds from it, and
// the octave. "" where the setting has no such line.
func lineText(o *registry.Organ, s *resolve.Setting, of passage.Line) string {
	for _, line := range s.Lines {
		if line.Asked.Line != of || line.Keyboard == nil {
			continue
		}
		text := keyboardShort(line.Keyboard, o)
		if sounds := soundText(line); sounds != "" {
			text += " " + sounds
		}
		if line.Octave != 0 {
			text += ", " + octaveText(line.Octave)
		}
		return text
	}
	return ""
}

// soundText lists what sounds from a line's keyboard: its own stops, then
// those of each division that is coupled in.
func soundText(line *resolve.Line) string {
	var own, lent []string
	var from *registry.Division
	for _, x := range line.Sounds {
		name := x.Stop.Text
		switch x.Octave {
		case 0:
		case 1:
			name += " an octave up"
		case -1:
			name += " an octave down"
		default:
			name += " by octave couplers"
		}
		switch d := x.Stop.Division; {
		case d.Keyboard == line.Keyboard:
			own = append(own, name)
		case d != from:
			from = d
			lent = append(lent, mark.Abbreviation(d)+" "+name)
		default:
			lent[len(lent)-1] += ", " + name
		}
	}
	text := strings.Join(own, ", ")
	for _, l := range lent {
		text += " + " + l
	}
	return strings.TrimPrefix(text, " + ")
}

// settingDifference is what a whole setting would draw otherwise.
func settingDifference(o *registry.Organ, s, alt *resolve.Setting) string {
	a, b := &state{out: map[knob]bool{}}, &state{out: map[knob]bool{}}
	for _, k := range knobsOf(o) {
		a.out[k], b.out[k] = k.drawn(s), k.drawn(alt)
	}
	return strings.Join(saysKnobs(movesBetween(o, a, b)), "; ")
}
