// Package stoplist sets organs out for reading, as organ histories print
// them: by division, with what each knob is, compasses, couplers and totals.
package stoplist

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Write writes the stop list of the organ, in lines of at most width
// characters where words allow (80 where width is 0).
func Write(w io.Writer, o *registry.Organ, width int) error {
	if width <= 0 {
		width = 80
	}
	p := &page{width: width}
	p.heading(o)
	number := 0
	for _, d := range o.Divisions {
		p.division(o, d, &number)
	}
	p.couplers(o)
	p.accessories(o)
	p.compasses(o)
	p.totals(o)
	_, err := io.WriteString(w, p.b.String())
	return err
}

type page struct {
	b     strings.Builder
	width int
}

func (p *page) line(format string, args ...any) { fmt.Fprintf(&p.b, format+"\n", args...) }

// wrapped writes text in lines, those after the first indented.
func (p *page) wrapped(first, text string, indent int) {
	line := first
	room := p.width - utf8.RuneCountInString(first)
	empty := true
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		if !empty && n+1 > room {
			p.line("%s", strings.TrimRight(line, " "))
			line, room, empty = strings.Repeat(" ", indent), p.width-indent, true
		}
		if !empty {
			line, room = line+" ", room-1
		}
		line, room, empty = line+word, room-n, false
	}
	p.line("%s", strings.TrimRight(line, " "))
}

func (p *page) heading(o *registry.Organ) {
	p.line("%s", o.Name)
	var parts []string
	for _, s := range []string{o.Builder, o.Year} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	if len(parts) > 0 {
		p.line("%s", strings.Join(parts, ", "))
	}
	if o.Note != "" {
		p.line("")
		p.wrapped("", o.Note, 0)
	}
	if o.Source != "" {
		p.line("")
		p.wrapped("Source: ", o.Source, 0)
	}
}

func (p *page) division(o *registry.Organ, d *registry.Division, number *int) {
	if len(d.Stops) == 0 {
		return
	}
	p.line("")
	title := d.Name
	for i, kb := range o.Keyboards {
		if kb == d.Keyboard && len(o.Keyboards) > 1 {
			title += fmt.Sprintf(", manual %s", pitch.Numeral(i+1))
		}
	}
	if d.Keyboard == nil {
		title += ", floating"
	}
	if d.Enclosed {
		title += ", enclosed"
		if d.Box.Name != d.Name {
			title += " with the " + d.Box.Name
		}
	}
	if o.HasTremulant(d) {
		title += ", tremulant"
	}
	t := d.Totals()
	p.line("%s  (%s)", strings.ToUpper(title[:len(d.Name)])+title[len(d.Name):], counted(t))
	if d.Note != "" {
		p.wrapped("  ", d.Note, 2)
	}
	name, length := columns(o)
	for _, s := range d.Stops {
		*number++
		head := fmt.Sprintf("%4d  %s  %s  ", *number, pad(s.Name, name), padLeft(length, lengthText(s)))
		p.wrapped(head, understood(s), utf8.RuneCountInString(head))
	}
}

// columns are how wide names and pitches are, on the whole organ.
func columns(o *registry.Organ) (name, length int) {
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			name = max(name, utf8.RuneCountInString(s.Name))
			length = max(length, utf8.RuneCountInString(lengthText(s)))
		}
	}
	return name, length
}

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

func padLeft(n int, s string) string {
	return strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s))) + s
}

// lengthText is the pitch and the ranks as the knob has them; in parentheses
// the pitch that is taken where the knob has none.
func lengthText(s *registry.Stop) string {
	if rest, ok := strings.CutPrefix(s.Text, s.Name); ok && strings.TrimSpace(rest) != "" {
		return strings.Trim(rest, " ,")
	}
	switch written := stopname.Dissect(s.Text).Pitch; {
	case s.Pitch.IsZero():
		return ""
	case !written.IsZero():
		return s.Pitch.String()
	}
	return "(" + s.Pitch.String() + ")"
}

// understood says how the name was understood, and what the file adds to it.
func understood(s *registry.Stop) string {
	var parts []string
	switch k := s.Known; {
	case k.How == stopname.Unknown && k.Family == stopname.NoFamily:
		parts = append(parts, "name not known")
	case k.How == stopname.Unknown:
		parts = append(parts, k.Subfamily+" (as the file says)")
	case k.How == stopname.ByParts:
		parts = append(parts, fmt.Sprintf("%s (by its parts: %s)", k.Subfamily, k.Reason))
	default:
		parts = append(parts, k.Subfamily)
	}
	if s.Half != registry.Whole {
		parts = append(parts, s.Half.String()+" half")
	}
	if c, d := s.Compass, s.Division.Compass; s.Half == registry.Whole && !c.Equal(d) {
		switch {
		case c.High == d.High:
			parts = append(parts, fmt.Sprintf("from %v", c.Low))
		case c.Low == d.Low:
			parts = append(parts, fmt.Sprintf("up to %v", c.High))
		default:
			parts = append(parts, c.String())
		}
	}
	switch {
	case s.From == nil:
	case s.From.Division == s.Division:
		parts = append(parts, "extends "+s.From.Text)
	default:
		parts = append(parts, "from the "+s.From.Division.Name+" "+s.From.Text)
	}
	if len(s.Composition) > 0 && s.Ranks == 0 || s.Ranks > 1 && !strings.Contains(s.Text, pitch.Numeral(s.Ranks)) {
		parts = append(parts, fmt.Sprintf("%d ranks", s.Ranks))
	}
	if s.Outside {
		parts = append(parts, "outside the box")
	}
	if s.Ventil {
		parts = append(parts, "on a ventil")
	}
	if s.Level != 0 {
		parts = append(parts, fmt.Sprintf("%+g dB", s.Level))
	}
	for _, more := range []string{s.Use, s.Side, s.Note} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	return strings.Join(parts, "; ")
}

func counted(t registry.Totals) string {
	s := number(t.Stops, "stop")
	if t.Ranks != t.Stops {
		s += ", " + number(t.Ranks, "rank")
	}
	return s
}

func number(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (p *page) couplers(o *registry.Organ) {
	if len(o.Couplers) == 0 {
		return
	}
	p.line("")
	p.line("COUPLERS")
	for _, c := range o.Couplers {
		text := c.Text
		if c.Permanent {
			text += "; always on"
		}
		if c.Remark != "" {
			text += "; " + c.Remark
		}
		p.wrapped("      ", text, 6)
	}
	if o.CouplersCarry {
		p.wrapped("      ", "Couplers carry on what is coupled to the keyboard that they take from.", 6)
	} else {
		p.wrapped("      ", "Couplers do not carry on what is coupled to the keyboard that they take from.", 6)
	}
}

func (p *page) accessories(o *registry.Organ) {
	var all []string
	if n := o.Pistons.General; n > 0 {
		all = append(all, number(n, "general piston"))
	}
	for _, d := range o.Divisions {
		if n := o.Pistons.Divisional[d.Name]; n > 0 {
			all = append(all, number(n, "piston")+" for "+d.Name)
		}
	}
	seen := map[*registry.Box]bool{}
	for _, d := range o.Divisions {
		if d.Box == nil || seen[d.Box] {
			continue
		}
		seen[d.Box] = true
		text := "swell box of the " + d.Box.Name
		if d.Box.Positions > 0 {
			text += fmt.Sprintf(" in %d positions", d.Box.Positions)
		}
		if d.Box.Strength > 0 {
			text += fmt.Sprintf(", %g dB between shut and open", d.Box.Strength)
		}
		all = append(all, text)
	}
	if o.Crescendo {
		all = append(all, "crescendo pedal")
	}
	if len(all) == 0 {
		return
	}
	p.line("")
	p.line("ACCESSORIES")
	for _, text := range all {
		p.wrapped("      ", text, 6)
	}
}

func (p *page) compasses(o *registry.Organ) {
	p.line("")
	p.line("COMPASS")
	for i := len(o.Keyboards) - 1; i >= 0; i-- {
		p.keyboard(o.Keyboards[i])
	}
	if o.Pedalboard != nil {
		p.keyboard(o.Pedalboard)
	}
	p.wrapped("      ", string(o.Action)+" action", 6)
}

func (p *page) keyboard(kb *registry.Keyboard) {
	text := fmt.Sprintf("%s: %v, %d notes", kb.Name, kb.Compass, kb.Compass.Keys())
	if kb.Divided > 0 {
		text += fmt.Sprintf(", stops divide at %v", kb.Divided)
	}
	p.wrapped("      ", text, 6)
}

func (p *page) totals(o *registry.Organ) {
	t := o.Totals()
	p.line("")
	p.line("TOTAL")
	p.wrapped("      ", fmt.Sprintf("%s, %s, %s", number(t.Stops, "stop"), number(t.Ranks, "rank"), number(t.Pipes, "pipe")), 6)
	var parts, unknown []string
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			switch {
			case s.Known.How == stopname.ByParts:
				parts = append(parts, s.Name)
			case s.Known.How == stopname.Unknown:
				unknown = append(unknown, s.Name)
			}
		}
	}
	if len(parts) > 0 {
		p.wrapped("      ", "Understood by the parts of their names: "+strings.Join(parts, ", "), 6)
	}
	if len(unknown) > 0 {
		p.wrapped("      ", "Names not known: "+strings.Join(unknown, ", "), 6)
	}
}
