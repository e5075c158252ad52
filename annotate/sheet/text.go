package sheet

import (
	"fmt"
	"io"
	"strings"

	"stopgap/annotate"
)

// Text writes the plan to be read in a terminal: the setting before the first
// note by division, then change by change, and how everything stands at every
// rehearsal mark and page.
func Text(w io.Writer, r *annotate.Result, opts Options) error {
	s := newSheet(r, opts)
	width := opts.Width
	if width <= 0 {
		width = 80
	}
	t := &textWriter{sheet: s, w: w, width: min(max(40, width), 110)}
	t.strong(s.title())
	t.line("on %s", s.plan.Organ.Name)
	if len(s.entries) == 0 {
		t.line("")
		t.line(nothing)
		return t.err
	}
	if opts.For == Registrant {
		t.registrant()
	} else {
		t.line("")
		t.wrapped("", "", placesExplained(s.moments.pages != nil))
		t.start()
		t.generals()
		for _, e := range s.entries[1:] {
			t.entry(e)
		}
		t.findings()
	}
	if opts.For == Student {
		t.terms()
	}
	t.line("")
	t.wrapped("", "", Caution)
	return t.err
}

func placesExplained(pages bool) string {
	if pages {
		return "“p. 2, 27.3” is page 2, bar 27, beat 3."
	}
	return "“27.3” is bar 27, beat 3."
}

type textWriter struct {
	*sheet
	w     io.Writer
	width int
	err   error
}

func (t *textWriter) line(format string, args ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.w, format+"\n", args...)
	}
}

// strong writes a heading, in bold letters where the terminal has them.
func (t *textWriter) strong(text string) {
	if t.opts.Bold {
		t.line("\x1b[1m%s\x1b[0m", text)
	} else {
		t.line("%s", text)
	}
}

// broken breaks a text into lines that fit beside their indents.
func broken(text string, first, rest int) []string {
	var lines []string
	line, room := "", first
	for _, word := range words(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > room:
			lines = append(lines, line)
			line, room = word, rest
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// words are the words of a text; a stop's pitch stays with the stop, and a sign
// with what it stands before.
func words(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if last := len(out) - 1; last >= 0 && (out[last] == "+" || out[last] == "−" || word[0] >= '0' && word[0] <= '9' && len(out[last]) < 24) {
			out[last] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// wrapped writes a paragraph with an indent, broken at the width.
func (t *textWriter) wrapped(first, rest, text string) {
	for i, line := range broken(text, t.width-len([]rune(first)), t.width-len([]rune(rest))) {
		if i == 0 {
			t.line("%s%s", first, line)
		} else {
			t.line("%s%s", rest, line)
		}
	}
}

// rows writes a table of two columns.
func (t *textWriter) rows(rows []row, indent string) {
	longest := 0
	for _, r := range rows {
		longest = max(longest, len([]rune(r.Name)))
	}
	for _, r := range rows {
		pad := strings.Repeat(" ", longest-len([]rune(r.Name))+2)
		t.wrapped(indent+r.Name+pad, indent+strings.Repeat(" ", longest+2), r.Text)
	}
}

func (t *textWriter) start() {
	first := t.entries[0]
	t.line("")
	heading := "Before the first note"
	if first.piston > 0 {
		heading += fmt.Sprintf(" (general %d)", first.piston)
	}
	t.strong(heading)
	rows := t.startRows(first)
	if len(rows) == 0 {
		t.line("  The score asks for nothing.")
	}
	t.rows(rows, "  ")
	t.asked(first)
	t.because(first)
}

// generals writes what to set on the pistons.
func (t *textWriter) generals() {
	if t.pistons == nil {
		return
	}
	t.line("")
	t.strong("Set on the general pistons")
	for _, g := range t.pistons.generals {
		t.wrapped(fmt.Sprintf("  %d  ", g.number), "     ", g.says(t.sheet))
	}
	if hand := t.pistons.byHand; len(hand) > 0 {
		t.wrapped("  by hand  ", "    ", atMoments(hand))
	}
}

// says is the whole of what is set on a general, and where it is pressed.
func (g general) says(s *sheet) string {
	var parts []string
	for _, r := range g.sets.rows(s.plan.Organ) {
		if r.Name != "Hands" {
			text, _, _ := strings.Cut(r.Text, "; box") // no piston moves a box
			if !strings.HasPrefix(text, "box ") {
				parts = append(parts, r.Name+": "+text)
			}
		}
	}
	if len(parts) == 0 {
		parts = append(parts, "nothing drawn")
	}
	return "(" + atMoments(g.uses) + ") " + strings.Join(parts, "; ")
}

func atMoments(entries []*entry) string {
	var names []string
	for _, e := range entries {
		if e.setting == 0 {
			names = append(names, "the start")
		} else {
			names = append(names, e.moment())
		}
	}
	return strings.Join(names, "; ")
}

func (t *textWriter) entry(e *entry) {
	t.line("")
	heading := e.where(!e.turn)
	if h := e.heading(); h != "" {
		heading = h + ": " + heading
	}
	t.strong(heading)
	t.asked(e)
	for _, text := range e.says(t.sheet) {
		t.wrapped("  ", "    ", text)
	}
	if e.hurried {
		t.line("  (%s)", e.hurry())
	}
	t.because(e)
	if e.startsAgain() {
		t.line("  From here all stands so:")
		t.rows(e.to.rows(t.plan.Organ), "    ")
	}
}

// hurry says why a change by hand is hard.
func (e *entry) hurry() string {
	if e.free == 0 {
		return "no hand is free"
	}
	return "little time"
}

// says is what is done at an entry: the piston with what it does, or the
// knobs; then boxes and hands.
func (e *entry) says(s *sheet) []string {
	knobs, hands := saysKnobs(e.moves), saysHands(e.moves, s.plan.Organ)
	if e.piston > 0 && len(knobs) > 0 {
		knobs = []string{fmt.Sprintf("General %d: %s", e.piston, strings.Join(knobs, "; "))}
	}
	return append(knobs, hands...)
}

// asked writes what the score asks for.
func (t *textWriter) asked(e *entry) {
	for _, x := range e.texts {
		t.wrapped("  asked  ", "         ", strings.TrimSpace(x.where(e)+" "+x.text))
	}
}

// because writes why something else is given than what is asked, and what
// comes next best.
func (t *textWriter) because(e *entry) {
	told := map[string]bool{}
	for _, r := range e.reasons {
		t.wrapped("  why    ", "         ", r.says(e, t.opts))
		for _, alt := range otherWays(t.plan.Organ, r) {
			if told[alt] {
				continue // it stands with another line that it changes
			}
			told[alt] = true
			t.wrapped("  or     ", "         ", alt)
			if t.opts.For != Student {
				break
			}
		}
	}
}

// says is a reason with whose it is, and how it sounds.
func (r reason) says(e *entry, opts Options) string {
	who := lineName(r.line.Asked.Line)
	if r.at != e.place {
		who += " from " + spot(r.at.Measure, r.at.Beat.Printed())
	}
	text := who + ": " + r.text
	if heard := heardWords(r.line.Heard); heard != "" && opts.For == Student {
		text += " It is " + heard + "."
	}
	if opts.Figures && r.line.Heard != nil {
		text += " (" + heardFigures(r.line.Heard) + ")"
	}
	return text
}

func (t *textWriter) findings() {
	if len(t.Findings) == 0 {
		return
	}
	t.line("")
	t.strong("To be looked at")
	for _, c := range cautions(t.Findings) {
		t.wrapped("  ", "    ", c.text)
		for _, r := range c.remedies {
			t.wrapped("    or: ", "        ", r)
		}
	}
}

func (t *textWriter) terms() {
	t.line("")
	t.strong("What the words mean")
	for _, term := range t.termsUsed() {
		t.wrapped("  "+term.Name+": ", "    ", term.Text)
	}
}
