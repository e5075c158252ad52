// Package sheet writes a plan for people and programs: what to set before the
// first note and what to change, as text for a terminal, as a page, and as
// data.
package sheet

import (
	"fmt"
	"io"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// Text writes the plan to be read in a terminal of the given width: the
// setting before the first note by division, then change by change.
func Text(w io.Writer, r *annotate.Result, width int) error {
	p := r.Plan
	out := &textWriter{w: w, width: max(40, width)}
	out.line("%s", title(r))
	out.line("for %s", p.Organ.Name)
	if len(p.Settings) == 0 {
		out.line("")
		out.line("The score has no organ part: nothing to register.")
		return out.err
	}
	out.line("")
	out.line("Set before the first note")
	out.setting(p, p.Settings[0])
	for i, s := range p.Settings {
		if i == 0 {
			out.reasons(s)
			continue
		}
		out.change(p, p.Settings[i-1], s)
	}
	out.findings(r.Findings)
	out.line("")
	out.line("%s", Caution)
	return out.err
}

// Caution stands under every sheet.
const Caution = "These are proposals: the player and the organ's keeper decide. Copy only music that may be copied."

func title(r *annotate.Result) string {
	if r.Score.Title == "" {
		return "Untitled score"
	}
	return r.Score.Title
}

type textWriter struct {
	w     io.Writer
	width int
	err   error
}

func (t *textWriter) line(format string, args ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.w, format+"\n", args...)
	}
}

// wrapped writes a paragraph with an indent, broken at the width.
func (t *textWriter) wrapped(first, rest, text string) {
	prefix, line := first, ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(prefix))+len([]rune(line))+1+len([]rune(word)) > t.width:
			t.line("%s%s", prefix, line)
			prefix, line = rest, word
		default:
			line += " " + word
		}
	}
	if line != "" {
		t.line("%s%s", prefix, line)
	}
}

func (t *textWriter) setting(p *resolve.Plan, s *resolve.Setting) {
	longest := len("Couplers")
	for _, d := range p.Organ.Divisions {
		longest = max(longest, len([]rune(d.Name)))
	}
	row := func(name, text string) {
		pad := strings.Repeat(" ", longest-len([]rune(name))+2)
		t.wrapped("  "+name+pad, strings.Repeat(" ", longest+4), text)
	}
	for _, d := range p.Organ.Divisions {
		if names := stopNames(s.StopsInOrder(d)); names != "" {
			if box := s.Boxes[d]; box != "" {
				names += "; box " + box
			}
			row(d.Name, names)
		}
	}
	if names := couplerNames(s.CouplersInOrder(p.Organ)); names != "" {
		row("Couplers", names)
	}
	for _, d := range s.Tremulants {
		row("Tremulant", d.Name)
	}
	for _, line := range s.Lines {
		if line.Keyboard != nil && line.Asked.Line != passage.Feet {
			row(lineName(line.Asked.Line), line.Keyboard.Name+octaveText(line.Octave))
		} else if line.Octave != 0 {
			row(lineName(line.Asked.Line), strings.TrimPrefix(octaveText(line.Octave), ", "))
		}
	}
}

func (t *textWriter) reasons(s *resolve.Setting) {
	for _, text := range s.Passage.Texts {
		t.wrapped("    asked: ", "           ", strings.ReplaceAll(text.Text, "\n", " / "))
	}
	for _, line := range s.Lines {
		if len(line.Changed) > 0 && line.Why != "" {
			t.wrapped("    "+lineName(line.Asked.Line)+": ", "      ", line.Why)
		}
	}
}

func (t *textWriter) change(p *resolve.Plan, before, s *resolve.Setting) {
	changes := Changes(p, before, s)
	if len(changes) == 0 && len(s.Passage.Texts) == 0 {
		return
	}
	t.line("")
	t.line("%s", place(s))
	if len(changes) == 0 {
		t.line("  nothing to change")
	}
	for _, c := range changes {
		t.wrapped("  ", "    ", c)
	}
	t.reasons(s)
}

func place(s *resolve.Setting) string {
	return fmt.Sprintf("Measure %s, beat %s", s.Passage.From.Measure, s.Passage.From.Beat.Printed())
}

// Changes lists what to do between two settings, as an organist writes it.
func Changes(p *resolve.Plan, a, b *resolve.Setting) []string {
	var out []string
	for _, d := range p.Organ.Divisions {
		var on, off []string
		for _, s := range d.Stops {
			switch {
			case b.Drawn.Stops[s] && !a.Drawn.Stops[s]:
				on = append(on, "+ "+s.Text)
			case a.Drawn.Stops[s] && !b.Drawn.Stops[s]:
				off = append(off, "− "+s.Text)
			}
		}
		if all := append(on, off...); len(all) > 0 {
			out = append(out, mark.Abbreviation(d)+" "+strings.Join(all, ", "))
		}
	}
	for _, c := range p.Organ.Couplers {
		switch {
		case b.Drawn.Couplers[c] && !a.Drawn.Couplers[c]:
			out = append(out, mark.Coupler(c)+" on")
		case a.Drawn.Couplers[c] && !b.Drawn.Couplers[c]:
			out = append(out, mark.Coupler(c)+" off")
		}
	}
	for _, d := range p.Organ.Divisions {
		if x, y := a.Boxes[d], b.Boxes[d]; x != y && y != "" {
			out = append(out, mark.Abbreviation(d)+" box "+y)
		}
	}
	for _, line := range b.Lines {
		was := lineBefore(a, line.Asked.Line)
		if line.Keyboard == nil {
			continue
		}
		if line.Asked.Line != passage.Feet && (was == nil || was.Keyboard != line.Keyboard) {
			out = append(out, lineName(line.Asked.Line)+" to "+line.Keyboard.Name)
		}
		if was != nil && was.Octave != line.Octave {
			if line.Octave == 0 {
				out = append(out, lineName(line.Asked.Line)+" as printed again")
			} else {
				out = append(out, lineName(line.Asked.Line)+strings.TrimPrefix(octaveText(line.Octave), ","))
			}
		}
	}
	return out
}

// lineBefore is where the same player was: a hand also counts as part of both.
func lineBefore(s *resolve.Setting, line passage.Line) *resolve.Line {
	for _, l := range s.Lines {
		if l.Asked.Line == line {
			return l
		}
	}
	for _, l := range s.Lines {
		if l.Asked.Line == passage.Both && line != passage.Feet {
			return l
		}
	}
	return nil
}

func (t *textWriter) findings(fs []annotate.Finding) {
	if len(fs) == 0 {
		return
	}
	t.line("")
	t.line("To be looked at")
	for _, f := range fs {
		t.wrapped("  ", "    ", findingText(f))
		for _, r := range f.Remedies {
			t.wrapped("    - ", "      ", r)
		}
	}
}

func findingText(f annotate.Finding) string {
	text := f.Text
	if f.Place.Measure != "" {
		text = fmt.Sprintf("Measure %s, beat %s: %s", f.Place.Measure, f.Place.Beat.Printed(), f.Text)
	}
	return text
}

func octaveText(n int) string {
	switch {
	case n == 1:
		return ", an octave higher than printed"
	case n > 1:
		return fmt.Sprintf(", %d octaves higher than printed", n)
	case n == -1:
		return ", an octave lower than printed"
	case n < -1:
		return fmt.Sprintf(", %d octaves lower than printed", -n)
	}
	return ""
}

func lineName(l passage.Line) string {
	switch l {
	case passage.RH:
		return "R.H."
	case passage.LH:
		return "L.H."
	case passage.Both:
		return "Hands"
	}
	return "Feet"
}

func stopNames(stops []*registry.Stop) string {
	var names []string
	for _, s := range stops {
		names = append(names, s.Text)
	}
	return strings.Join(names, ", ")
}

func couplerNames(couplers []*registry.Coupler) string {
	var names []string
	for _, c := range couplers {
		names = append(names, mark.Coupler(c))
	}
	return strings.Join(names, ", ")
}
