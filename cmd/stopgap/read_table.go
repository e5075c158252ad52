package main

import (
	"bufio"
	"fmt"
	"strings"

	"stopgap/annotate/passage"
)

// A readTable writes what a score asks for, to be read: which staff is whose,
// then place by place what is printed, what it says, and what is in force.
type readTable struct {
	out       *bufio.Writer
	width     int
	numbering string // as the flag says, "" for none
	near      func(text string) []string
}

var languageNames = map[string]string{"en": "English", "fr": "French", "de": "German", "nl": "Dutch", "it": "Italian", "es": "Spanish"}

func (t *readTable) write(title string, s *passage.Score) error {
	t.near = s.Near
	if title != "" {
		t.line("%s", title)
		t.line("")
	}
	if len(s.Layout.Staves) == 0 {
		t.line("There is no organ part in this score.")
		return t.out.Flush()
	}
	t.head(s)
	for i, p := range s.Passages {
		if i == 0 && len(p.Texts)+len(p.Restated) == 0 && len(s.Passages) == 1 && !s.TwoManuals {
			t.line("")
			t.line("No direction asks for anything of the organ.")
			break
		}
		t.passage(p, i == 0)
	}
	t.returns(s)
	t.idle(s)
	return t.out.Flush()
}

// head says whose the staves are, and how the score was read.
func (t *readTable) head(s *passage.Score) {
	l := s.Layout
	for _, st := range l.Staves {
		t.row(fmt.Sprintf("%-6s%-12s", st.ID(), lineWords[st.Line]), join(st.Evidence))
	}
	for _, st := range l.Aside {
		t.row(fmt.Sprintf("%-6s%-12s", st.ID(), "nobody's"), join(st.Evidence))
	}
	if l.Shared != nil {
		t.row(fmt.Sprintf("%-6s%-12s", l.Shared.ID(), "feet"), "the lowest voice is theirs, from Ped. to Man.")
	}
	var others []string
	for _, name := range l.Others {
		if name != "" {
			others = append(others, name)
		}
	}
	if len(others) > 0 {
		t.row("Not the organ's: ", strings.Join(others, ", "))
	}
	for _, f := range s.Findings {
		if f.Staff == nil && !f.Elem.Exists() {
			t.row("", strings.Join(append([]string{f.Text}, f.Remedies...), " "))
		}
	}
	if name := languageNames[s.Lang]; name != "" {
		t.row("", "The directions are read as "+name+".")
	}
	if s.TwoManuals {
		t.row("", "It is for two manuals.")
	}
	if s.Numbering.Used {
		t.row("", numbersText(s, t.numbering))
	}
}

// passage writes what is printed at the start of a passage and what is in
// force from there on, then what is printed further on and asks for the same.
func (t *readTable) passage(p *passage.Passage, first bool) {
	t.line("")
	t.line("Measure %s, beat %s", p.From.Measure, p.From.Beat.Printed())
	if p.Resumes != nil {
		t.row("  ", fmt.Sprintf("what was in force from measure %s, beat %s on is in force again", p.Resumes.From.Measure, p.Resumes.From.Beat.Printed()))
	}
	for _, x := range p.Texts {
		t.text(x)
	}
	switch {
	case p.Resumes != nil:
	case len(p.Texts) == 0 && first:
		t.row("  ", "nothing is asked for yet")
	case len(p.Texts) == 0 && !playsFeet(p):
		t.row("  ", "the feet end here")
	}
	t.inForce(p)
	for i := 0; i < len(p.Restated); {
		at := p.Restated[i].Place
		t.line("")
		t.line("Measure %s, beat %s", at.Measure, at.Beat.Printed())
		for ; i < len(p.Restated) && p.Restated[i].Place == at; i++ {
			t.text(p.Restated[i])
		}
		t.row("  ", "nothing changes")
	}
}

// text writes one printed text, what it says, and what was not understood.
func (t *readTable) text(x *passage.Text) {
	where := string(x.Source)
	if x.Staff != nil {
		where = x.Staff.ID() + " " + lineWords[x.Staff.Line]
		if x.Source == passage.PartName {
			where = x.Staff.ID() + " part name"
		}
	}
	const column = 20
	t.row(fmt.Sprintf("  %-*s", column, where), strings.Join(strings.FieldsFunc(x.Text, func(r rune) bool { return r == '\n' || r == '\r' }), " / "))
	t.row(fmt.Sprintf("  %*s = ", column-3, ""), x.Reading.NormalForm())
	for _, u := range x.Reading.Unread {
		text := fmt.Sprintf("%q was not understood.", strings.Join(strings.Fields(u.Text), " "))
		if near := t.near(u.Text); len(near) > 0 {
			text += " Is " + orList(near) + " meant?"
		}
		t.row(fmt.Sprintf("  %*s ? ", column-3, ""), text)
	}
}

var lineNames = map[passage.Line]string{passage.RH: "R.H.", passage.LH: "L.H.", passage.Both: "Hands", passage.Feet: "Feet"}

// inForce writes where each line plays and what is drawn.
func (t *readTable) inForce(p *passage.Passage) {
	row := func(name, text string) { t.row(fmt.Sprintf("      %-10s", name), text) }
	played := map[passage.Division]bool{}
	for _, line := range p.Lines {
		a := p.Asked(line.Division)
		text := line.Division.Name()
		if said := a.InWords(); said != "" {
			text += ": " + said
		}
		notes := []string{}
		if line.Role == passage.Solo || line.Role == passage.Accompaniment {
			notes = append(notes, string(line.Role))
		}
		if a.Level != "" {
			notes = append(notes, a.Level)
		}
		if a.Swells {
			notes = append(notes, "swells")
		}
		if len(notes) > 0 {
			text += " (" + strings.Join(notes, ", ") + ")"
		}
		row(lineNames[line.Line], text)
		played[line.Division] = true
	}
	if len(p.Lines) == 0 {
		row("Hands", "nobody plays here")
	}
	if p.FeetOff && !playsFeet(p) && len(p.Lines) > 0 {
		row("Feet", "manuals only")
	}
	if len(p.Couplings) > 0 {
		var names []string
		for _, c := range p.Couplings {
			names = append(names, c.String())
		}
		row("Couplers", strings.Join(names, ", "))
	}
	rest := func(name string, all []*passage.Asked) {
		for _, a := range all {
			if said := a.InWords(); said != "" && !played[a.Division] {
				row(name, a.Division.Name()+": "+said)
				name = ""
			}
		}
	}
	rest("Coupled", p.Drawn)
	rest("Waiting", p.Waiting)
}

func playsFeet(p *passage.Passage) bool {
	for _, line := range p.Lines {
		if line.Line == passage.Feet {
			return true
		}
	}
	return false
}

// returns writes where the player goes back to something else.
func (t *readTable) returns(s *passage.Score) {
	said := false
	for _, r := range s.Returns {
		if !r.Changes {
			continue
		}
		if !said {
			t.line("")
			t.line("Going back")
			said = true
		}
		part := s.Layout.Staves[0].Part
		back := part.Place(r.Back)
		t.row(fmt.Sprintf("  %-10s", r.Sign), fmt.Sprintf("to measure %s, where what is in force from measure %s, beat %s on is in force again", back.Measure, r.To.From.Measure, r.To.From.Beat.Printed()))
	}
}

// idle lists the texts that ask for nothing.
func (t *readTable) idle(s *passage.Score) {
	var out []string
	for _, x := range s.Texts {
		if x.AsksNothing() {
			out = append(out, fmt.Sprintf("%s.%s %s", x.Place.Measure, x.Place.Beat.Printed(), strings.Join(strings.Fields(x.Text), " ")))
		}
	}
	if len(out) > 0 {
		t.line("")
		t.row("These ask for nothing of the stops: ", strings.Join(out, "; "))
	}
}

func (t *readTable) line(format string, args ...any) { fmt.Fprintf(t.out, format+"\n", args...) }

// row writes a text behind what stands in its margin, broken at the width.
func (t *readTable) row(margin, text string) {
	indent := strings.Repeat(" ", len([]rune(margin)))
	if strings.TrimSpace(margin) != "" && !strings.HasPrefix(margin, " ") && len(indent) > 18 {
		indent = "  " // a sentence, not a column
	}
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(margin))+len([]rune(line))+1+len([]rune(word)) > max(40, t.width):
			t.line("%s%s", margin, line)
			margin, line = indent, word
		default:
			line += " " + word
		}
	}
	if line != "" {
		t.line("%s%s", margin, line)
	}
}

// orList joins names: "a", "a or b", "a, b or c".
func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
