package resolve

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
)

// Codes of problems. They are stable: scripts may rely on them.
const (
	PitchLost      = "pitch-lost"      // a solo's pitch cannot be had
	VoiceMissing   = "voice-missing"   // a voice that is asked for is left out
	OffCompass     = "off-compass"     // a note is not on the keyboard
	NoPedals       = "no-pedals"       // the organ has no pedalboard
	NoCoupler      = "no-coupler"      // the organ has no such coupler
	NoTremulant    = "no-tremulant"    // the division has no tremulant
	NoBox          = "no-box"          // the division is not in a swell box
	SharedKeyboard = "shared-keyboard" // two lines have to share one keyboard and its stops
)

// problems finds what cannot be played as asked in a setting.
func (r *resolver) problems(s *Setting) {
	whole := s.Passage.Span
	say := func(code string, line passage.Line, format string, args ...any) {
		s.Problems = append(s.Problems, Problem{Code: code, Line: line, From: whole, To: whole, Text: fmt.Sprintf(format, args...)})
	}
	for _, line := range s.Lines {
		p := line.Part
		if p == nil || p.Host == nil {
			if line.Asked.Line == passage.Feet {
				say(NoPedals, line.Asked.Line, "The organ has no pedalboard, and the pedal part begins here.")
			}
			continue
		}
		if p.Shared {
			say(SharedKeyboard, line.Asked.Line, "Two registrations have to share the %s, so this line sounds like the other.", line.Keyboard.Name)
		}
		if len(p.Asked.Voices) > 0 && !line.PitchKept && line.Asked.Role == passage.Solo {
			say(PitchLost, line.Asked.Line, "The pitch that the solo asks for (%s) cannot be had on this organ.", askedText(p))
		}
		r.offCompass(s, line)
		r.feet(s, line)
	}
	for _, p := range s.Parts {
		if p.Host == nil {
			continue
		}
		for _, pick := range p.Picks {
			if pick.Missing {
				say(VoiceMissing, lineOf(s, p), "%s has to be left out.", VoiceText(pick.Voice))
			}
		}
		if p.Asked.Tremming && !r.organ.HasTremulant(p.Host) {
			say(NoTremulant, lineOf(s, p), "The %s has no tremulant.", p.Host.Name)
		}
		if p.Asked.Box != "" && !p.Host.Enclosed {
			say(NoBox, lineOf(s, p), "The %s is not in a swell box.", p.Host.Name)
		}
	}
	for _, c := range s.Passage.Couplings {
		from, to := r.ends(s, c)
		if from == nil || to == nil || from == to || r.coupler(from, to, c.Octave) != nil || r.chain(s, from, to, c.Octave) != nil {
			continue
		}
		say(NoCoupler, "", "The organ has no coupler from the %s to the %s%s.", from.Name, to.Name, atOctave(c.Octave))
	}
}

func atOctave(n int) string {
	switch n {
	case 1:
		return " an octave higher"
	case -1:
		return " an octave lower"
	}
	return ""
}

func lineOf(s *Setting, p *Part) passage.Line {
	for _, line := range s.Lines {
		if line.Part == p {
			return line.Asked.Line
		}
	}
	return ""
}

// offCompass reports each run of notes that are not on the keyboard.
func (r *resolver) offCompass(s *Setting, line *Line) {
	var run []passage.Pressed
	flush := func() {
		if len(run) == 0 {
			return
		}
		first, last := run[0], run[len(run)-1]
		s.Problems = append(s.Problems, Problem{
			Code: OffCompass, Line: line.Asked.Line, First: &first,
			From: passage.Span{Start: first.Note.Onset, End: first.Note.Onset.Add(first.Note.Duration)},
			To:   passage.Span{Start: last.Note.Onset, End: last.Note.Onset.Add(last.Note.Duration)},
			Text: offText(run, line),
		})
		run = nil
	}
	for _, n := range line.Asked.Notes {
		if line.Keyboard.Compass.Has(n.Key + registry.Key(12*line.Octave)) {
			flush()
			continue
		}
		if n.Note.TieStop && len(run) == 0 && n.Note.Onset.Less(s.Passage.Start) {
			continue // flagged where it was struck
		}
		run = append(run, n)
	}
	flush()
}

func offText(run []passage.Pressed, line *Line) string {
	seen := map[string]bool{}
	var names []string
	for _, n := range run {
		if k := n.Key + registry.Key(12*line.Octave); !seen[k.String()] {
			seen[k.String()] = true
			names = append(names, k.String())
		}
	}
	c := line.Keyboard.Compass
	verb := "are"
	if len(names) == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%s %s not on the %s, which goes from %s to %s.", strings.Join(names, ", "), verb, keyboardName(line.Keyboard), c.Low, c.High)
}

func keyboardName(k *registry.Keyboard) string {
	if k.Pedal {
		return "pedalboard"
	}
	return k.Name + " manual"
}

// askedText lists the voices of a part as the text has them.
func askedText(p *Part) string {
	var out []string
	for _, v := range p.Asked.Voices {
		out = append(out, VoiceText(v))
	}
	return strings.Join(out, ", ")
}

// VoiceText is a voice as an organist would write it: "Nazard 2 2/3", "reed 4",
// "a stop at 16′".
func VoiceText(v direction.Voice) string {
	name := v.Name
	switch {
	case name != "":
	case v.Group == direction.Any && !v.Pitch.IsZero():
		return "a stop at " + feetText(v.Pitch)
	case v.Group == direction.Foundation:
		name = "foundation stops"
	default:
		name = string(v.Group)
	}
	if v.Pitch.IsZero() {
		return name
	}
	return name + " " + v.Pitch.String()
}
