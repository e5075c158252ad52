package resolve

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/musicxml"
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
		if p.Shared && !p.Asked.Proposed {
			say(SharedKeyboard, line.Asked.Line, "Two registrations have to share the %s, so this line sounds like the other.", line.Keyboard.Name)
		} else if s.losesManual(line) {
			say(SharedKeyboard, line.Asked.Line, "The solo has to share the %s with the other hand, so it does not stand apart.", line.Keyboard.Name)
		} else if s.handsShare(line) {
			say(SharedKeyboard, line.Asked.Line, "The score gives each hand a manual, and both have to share the %s.", line.Keyboard.Name)
		}
		if len(p.Asked.Voices) > 0 && !line.PitchKept && line.Asked.Role == passage.Solo {
			s.Problems = append(s.Problems, pitchLost(s, line))
		}
		r.offCompass(s, line)
		r.feet(s, line)
	}
	for _, p := range s.Parts {
		if p.Host == nil {
			continue
		}
		for _, pick := range p.Picks {
			switch {
			case pick.Missing:
				say(VoiceMissing, lineOf(s, p), "%s: %s has to be left out.", p.Host.Name, VoiceText(pick.Voice))
			case pick.Instead:
				say(VoiceMissing, lineOf(s, p), "%s: %s has to be left out; %s plays so that the line is heard.", p.Host.Name, VoiceText(pick.Voice), pick.Stops[0].Stop.Text)
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
		if from == nil || to == nil || from == to || r.coupler(from, to, c.Octave) != nil || r.chain(s.knobs, from, to, c.Octave) != nil {
			continue
		}
		say(NoCoupler, "", "The organ has no coupler from the %s to the %s%s.", from.Name, to.Name, atOctave(c.Octave))
	}
}

// losesManual reports whether a solo is played from one keyboard with another
// line for which the score asks for something else. Of two solos it is the first.
func (s *Setting) losesManual(line *Line) bool {
	if line.Asked.Role != passage.Solo || line.Part.Asked.Proposed || len(line.Part.Asked.Voices) == 0 || line.Part.Shared {
		return false
	}
	for _, x := range s.Lines {
		if x.Keyboard != line.Keyboard || x.Asked.Division == line.Asked.Division || inHalves(line.Part, x.Part) {
			continue
		}
		return !x.Part.Shared && (x.Asked.Role != passage.Solo || line.Asked.Line == passage.RH)
	}
	return false
}

// handsShare reports whether the right hand plays from one keyboard with the
// left, though the score asks for stops on another manual for each.
func (s *Setting) handsShare(line *Line) bool {
	if line.Asked.Line != passage.RH || line.Part.Shared || line.Part.Asked.Proposed || len(line.Part.Asked.Voices) == 0 {
		return false
	}
	for _, x := range s.Lines {
		if x.Asked.Line == passage.LH && x.Keyboard == line.Keyboard && x.Asked.Division != line.Asked.Division {
			return x.Part != nil && !x.Part.Shared && len(x.Part.Asked.Voices) > 0 && !inHalves(line.Part, x.Part) && !s.losesManual(x)
		}
	}
	return false
}

// pitchLost tells of a solo whose pitch is given up: throughout, or from the
// first note on that cannot be had.
func pitchLost(s *Setting, line *Line) Problem {
	whole := s.Passage.Span
	p := Problem{Code: PitchLost, Line: line.Asked.Line, From: whole, To: whole}
	p.Text = fmt.Sprintf("The pitch that the solo asks for (%s) cannot be had on this organ.", askedText(line.Part))
	if line.Part.givesOther() && (line.lost == nil || line.lost.Note == firstStruck(line, whole)) {
		p.Text = fmt.Sprintf("What the solo asks for first (%s) is not given at its pitch; the other that the text offers is.", askedText(line.Part))
		return p
	}
	if lost := line.lost; lost != nil && lost.Note != firstStruck(line, whole) {
		p.First, p.From, p.To = lost, spanOf(*lost), spanOf(*lost)
		p.Text = fmt.Sprintf("The pitch that the solo asks for (%s) cannot be had at %s, nor perhaps at other notes after it.", askedText(line.Part), lost.Key)
	}
	for _, x := range line.Tried[:min(3, len(line.Tried))] {
		p.Text += fmt.Sprintf(" %s will not do: %s.", x.Text, x.Why)
	}
	return p
}

// givesOther reports whether a part gives all that is asked for, with one of the
// other stops that the text offers in place of the first.
func (p *Part) givesOther() bool {
	offered := false
	for _, x := range p.Picks {
		if x.lost() || x.off || x.Joined != nil {
			return false
		}
		offered = offered || len(x.Voice.Or) > 0
	}
	return offered
}

// firstStruck is the first note that a line strikes in a span.
func firstStruck(line *Line, span passage.Span) *musicxml.Note {
	for _, n := range line.Asked.Notes {
		if n.StruckIn(span) {
			return n.Note
		}
	}
	return nil
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

func keyboardName(k *registry.Keyboard) string {
	if k.Pedal {
		return "pedalboard"
	}
	if isManualWord(k.Name) {
		return k.Name
	}
	return k.Name + " manual"
}

// isManualWord reports whether a keyboard's name says already that it is a
// manual: "Manual", "II. Manual".
func isManualWord(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), "manual") || strings.HasSuffix(strings.ToLower(name), "clavier")
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
	case v.Group == direction.Any:
		text := strings.TrimSuffix("a "+v.Strength, " ") + " stop"
		if !v.Pitch.IsZero() {
			text += " at " + feetText(v.Pitch)
		}
		return text
	case v.Group == direction.Foundation && !v.Pitch.IsZero():
		return "a foundation stop at " + feetText(v.Pitch)
	case v.Group == direction.Foundation:
		name = "foundation"
	default:
		name = string(v.Group)
	}
	if v.Pitch.IsZero() {
		return name
	}
	return name + " " + v.Pitch.String()
}
