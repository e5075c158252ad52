package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// explain gives every line its reason, as an organist would say it, and says
// what has changed.
func (r *resolver) explain(s *Setting) {
	for _, line := range s.Lines {
		if line.Keyboard != nil {
			line.PitchKept, line.lost = r.keepsPitch(s, line)
		}
		line.Changed = r.changed(line)
		line.Why = r.why(s, line)
	}
}

// compare says how the lines of a setting and of its alternatives sound against
// what is asked.
func (r *resolver) compare(s *Setting) {
	for _, line := range s.Lines {
		line.Heard = r.hear(s, line)
	}
	for _, alt := range s.Alternatives {
		r.compare(alt)
	}
}

func (r *resolver) changed(line *Line) []string {
	var out []string
	p := line.Part
	if p == nil || p.Host == nil {
		return nil
	}
	if p.soft {
		out = append(out, "stops")
	}
	for _, pick := range p.Picks {
		if len(out) == 0 && (!pick.Same && p.Octave == 0 || pick.Note != "") {
			out = append(out, "stops")
			break
		}
	}
	if r.moved(p) || p.By != "" {
		out = append(out, "keyboard")
	}
	if p.Octave != 0 {
		out = append(out, "octave")
	}
	if len(p.Lending) > 0 || p.doubledBy() != nil {
		out = append(out, "couplers")
	}
	if p.By != "" {
		out = append(out, "hand")
	}
	return out
}

func (r *resolver) why(s *Setting, line *Line) string {
	p := line.Part
	switch {
	case p == nil || p.Host == nil:
		return fmt.Sprintf("%s has no keyboard for this line.", r.organ.Name)
	case len(line.Changed) == 0 && len(p.Asked.Voices) == 0:
		return "The score asks for no stops here."
	case p.Asked.Proposed:
		return r.notes(s, p)
	case len(line.Changed) == 0 && !p.Shared:
		return "Everything that is asked for is there."
	}
	if text := r.notes(s, p); text != "" {
		return text
	}
	return "It is given as near to what is printed as can be."
}

// notes are the reasons of a part in one sentence.
func (r *resolver) notes(s *Setting, p *Part) string {
	var notes []string
	if p.Asked.Proposed {
		notes = append(notes, fmt.Sprintf("the score names no stops; these are proposed for %s", p.Asked.Level))
	}
	if p.Shared {
		notes = append(notes, "there is no other keyboard, so it shares the sound of the other line")
	}
	switch {
	case p.By == passage.Feet:
		notes = append(notes, "the feet take this hand's notes, at their pitch, while the hand has the pedal's tune")
	case p.By != "":
		notes = append(notes, fmt.Sprintf("the %s takes the tune on the %s, and the feet take its notes", handName(p.By), p.Host.Name))
	case r.moved(p):
		asked := p.Asked.Division.Role
		home := r.byRole(asked)
		switch {
		case home == nil || home.Role != asked && asked.Number() == 0:
			notes = append(notes, fmt.Sprintf("the %s stands in for the %s", p.Host.Name, divisionWord(p.Asked.Division, r.lang)))
		case s.lentTo(home, p) != nil:
			notes = append(notes, fmt.Sprintf("the %s is needed for what it lends to the %s, so the %s takes its part", home.Name, s.lentTo(home, p).Host.Name, p.Host.Name))
		default:
			notes = append(notes, fmt.Sprintf("the %s has what the %s lacks", p.Host.Name, home.Name))
		}
	}
	for _, pick := range p.Picks {
		switch {
		case pick.Missing:
			notes = append(notes, VoiceText(pick.Voice)+" has to be left out")
		case pick.Note != "":
			notes = append(notes, pick.Note)
		}
	}
	for _, path := range p.Lending {
		var names []string
		for _, c := range p.Stops() {
			if c.Path != nil && c.Path.From == path.From {
				names = append(names, c.Stop.Text)
			}
		}
		verb := "is"
		if len(names) > 1 {
			verb = "are"
		}
		notes = append(notes, fmt.Sprintf("%s %s coupled in from the %s", strings.Join(names, " and "), verb, path.From.Name))
	}
	if p.soft {
		notes = append(notes, "the hands have gone to a soft manual, so the loud pedal stops come off")
	}
	switch what := stopNames(p); {
	case p.Octave == 0 || p.drawsNothing():
	case slices.ContainsFunc(p.Picks, func(x Pick) bool { return x.off }):
		notes = append(notes, fmt.Sprintf("it is played %s %s, so that its keys are there", octaves(p.Octave), upOrDown(p.Octave)))
	case what == "":
		notes = append(notes, fmt.Sprintf("played %s %s it sounds at the pitch that is asked for", octaves(p.Octave), upOrDown(p.Octave)))
	default:
		notes = append(notes, fmt.Sprintf("%s played %s %s sounds at the pitch that is asked for", what, octaves(p.Octave), upOrDown(p.Octave)))
	}
	if len(notes) == 0 {
		return ""
	}
	text := strings.Join(notes, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// lentTo is the other part to which a division lends stops, nil if it lends none.
func (s *Setting) lentTo(d *registry.Division, but *Part) *Part {
	for _, q := range s.Parts {
		if q != but && slices.ContainsFunc(q.Lending, func(p Path) bool { return p.From == d }) {
			return q
		}
	}
	return nil
}

func handName(line passage.Line) string {
	if line == passage.RH {
		return "right hand"
	}
	return "left hand"
}

// lowerFirst makes the first letter small, unless the sentence begins with a
// name, such as a stop's.
func lowerFirst(s string) string {
	if strings.HasPrefix(s, "The ") || strings.HasPrefix(s, "There ") {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// whyNot says what an alternative does otherwise, and what that costs it.
func (r *resolver) whyNot(s, alt *Setting) string {
	var out []string
	for i, p := range alt.Parts {
		if i < len(s.Parts) && samePlace(s.Parts[i], p) && slices.Equal(s.Parts[i].knobs, p.knobs) {
			continue
		}
		if p.Host == nil {
			continue
		}
		text := fmt.Sprintf("%s on the %s", stopNames(p), p.Host.Name)
		if len(p.Stops()) == 0 {
			text = "the " + p.Host.Name
		}
		if p.Octave != 0 {
			text += ", " + octaves(p.Octave) + " " + upOrDown(p.Octave)
		}
		if why := r.notes(alt, p); why != "" {
			text += " (" + lowerFirst(strings.TrimSuffix(why, ".")) + ")"
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "The same stops by another way."
	}
	text := strings.Join(out, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// divisionWord is what a division of the score is called in the score's
// language.
func divisionWord(d passage.Division, lang string) string {
	if n := d.Role.Number(); n > 0 {
		return "manual " + division.Abbreviation(d.Role, lang)
	}
	for _, l := range []string{lang, "en"} {
		if names := division.Names(d.Role, l); len(names) > 0 {
			return names[0]
		}
	}
	return d.String()
}

func octaves(n int) string {
	switch n {
	case 1, -1:
		return "an octave"
	case 2, -2:
		return "two octaves"
	}
	return fmt.Sprintf("%d octaves", max(n, -n))
}

func upOrDown(n int) string {
	if n > 0 {
		return "higher"
	}
	return "lower"
}

func stopNames(p *Part) string {
	var names []string
	for _, c := range p.Stops() {
		names = append(names, c.Stop.Text)
	}
	return strings.Join(names, " and ")
}

// StopsInOrder lists what is drawn on a division, in the order of the knobs.
func (s *Setting) StopsInOrder(d *registry.Division) []*registry.Stop {
	var out []*registry.Stop
	for _, st := range d.Stops {
		if s.Drawn.Stops[st] {
			out = append(out, st)
		}
	}
	return out
}

// CouplersInOrder lists the couplers that are on, in the order of the organ.
func (s *Setting) CouplersInOrder(o *registry.Organ) []*registry.Coupler {
	var out []*registry.Coupler
	for _, c := range o.Couplers {
		if s.Drawn.Couplers[c] {
			out = append(out, c)
		}
	}
	return out
}
