package musicxml

import (
	"fmt"
	"strings"
)

// direction reads a <direction>.
func (r *partReader) direction(el Element) {
	dir := &Direction{Part: r.part, Measure: r.measure, Staff: 1, Elem: el}
	dir.Time = r.cursor.Add(r.offset(el))
	var text directionText
	for c := range el.Children() {
		switch c.Tag() {
		case "direction-type":
			text.newType()
			r.directionType(dir, c, &text)
		case "staff":
			if n, ok := r.staffNumber(c.Text(), c); ok {
				dir.Staff, dir.HasStaff = n, true
				r.part.Staves = max(r.part.Staves, n)
			}
		case "voice":
			dir.Voice = strings.TrimSpace(c.Text())
		case "sound":
			at := dir.Time
			if c.Child("offset").Exists() {
				at = r.cursor.Add(r.offset(c))
			}
			r.sound(c, at)
			if f := number(c.Attr("tempo")); f != nil && *f > 0 {
				dir.Tempo = *f
			}
			if dir.Kind == 0 {
				dir.Kind = KindSound
			}
		}
	}
	dir.Text, dir.Pieces = text.text(), text.pieces
	dir.DynamicsLead = text.leads
	dir.Placement = el.Attr("placement")
	if dir.Placement == "" {
		dir.Placement = placementByHeight(dir.Pieces)
	}
	if dir.Tempo > 0 && !el.Child("sound").Exists() {
		r.part.Tempos = append(r.part.Tempos, Tempo{Time: dir.Time, Quarter: dir.Tempo})
		r.measure.tempos++
	}
	r.part.Directions = append(r.part.Directions, dir)
}

// directionType reads one <direction-type>.
func (r *partReader) directionType(dir *Direction, el Element, text *directionText) {
	for c := range el.Children() {
		if len(text.pieces)+len(text.runs) > maxPieces {
			r.fail(c, "limit", fmt.Sprintf("a direction has more than %d pieces of text", maxPieces), brokenRemedy)
			return
		}
		hidden := c.Attr("print-object") == "no" // for the computer, not for the player
		switch c.Tag() {
		case "words":
			dir.Kind |= KindWords
			if !hidden {
				text.piece(readPiece(c))
			}
		case "rehearsal":
			dir.Kind |= KindRehearsal
			if hidden {
				continue
			}
			p := readPiece(c)
			if dir.Rehearsal == "" {
				dir.Rehearsal = strings.TrimSpace(p.Text)
			}
			text.piece(p)
		case "other-direction":
			dir.Kind |= KindOther
			if !hidden {
				text.piece(readPiece(c))
			}
		case "dynamics":
			dir.Kind |= KindDynamics
			mark := dynamicsText(c)
			if dir.Dynamics == "" {
				dir.Dynamics = mark
			}
			text.dynamics(mark)
		case "wedge":
			dir.Kind |= KindWedge
			dir.Wedges = append(dir.Wedges, Wedge{Type: c.Attr("type"), Number: lineNumber(c)})
		case "octave-shift":
			dir.Kind |= KindOctaveShift
			dir.Shift = &OctaveShiftMark{Type: c.Attr("type"), Size: integer(c.Attr("size"), 8), Number: lineNumber(c)}
		case "metronome":
			dir.Kind |= KindMetronome
			if q := metronomeQuarter(c); q > 0 {
				dir.Tempo = q
			}
		case "pedal":
			dir.Kind |= KindPedal
		case "segno":
			dir.Kind |= KindSegno
			r.measure.Segno = true
		case "coda":
			dir.Kind |= KindCoda
			r.measure.Coda = true
		default:
			dir.Kind |= KindElse
		}
	}
}

// lineNumber tells lines apart that overlap: 1 to 16.
func lineNumber(el Element) int {
	if n := integer(el.Attr("number"), 1); n >= 1 && n <= 16 {
		return n
	}
	return 1
}

// dynamicsText writes what stands in a <dynamics>: "p", "ff", or the text of
// an <other-dynamics>.
func dynamicsText(el Element) string {
	var b strings.Builder
	for c := range el.Children() {
		if c.Tag() == "other-dynamics" {
			b.WriteString(strings.TrimSpace(c.Text()))
			continue
		}
		b.WriteString(c.Tag())
	}
	return b.String()
}

// beatLengths are the note values of a metronome mark in quarter notes.
var beatLengths = map[string]float64{
	"maxima": 32, "long": 16, "breve": 8, "whole": 4, "half": 2, "quarter": 1, "eighth": 0.5,
	"16th": 0.25, "32nd": 0.125, "64th": 0.0625, "128th": 0.03125,
}

// metronomeQuarter is the tempo of a metronome mark in quarter notes per
// minute, 0 if it gives none (as ♩ = ♪ does).
func metronomeQuarter(el Element) float64 {
	unit, dots, units, minute := 0.0, 0, 0, 0.0
	for c := range el.Children() {
		text := strings.TrimSpace(c.Text())
		switch c.Tag() {
		case "beat-unit":
			if units++; units == 1 {
				unit = beatLengths[text]
			}
		case "beat-unit-dot":
			if units == 1 {
				dots++
			}
		case "per-minute":
			// Often more than a number: "ca. 60", "60–72". The first number counts.
			start := strings.IndexAny(text, "0123456789")
			if start < 0 {
				continue
			}
			digits := text[start:]
			if end := strings.IndexFunc(digits, func(c rune) bool { return (c < '0' || c > '9') && c != '.' }); end >= 0 {
				digits = digits[:end]
			}
			if f := number(strings.TrimRight(digits, ".")); f != nil {
				minute = *f
			}
		}
	}
	if units != 1 {
		return 0
	}
	length := unit
	for range min(dots, 4) {
		unit /= 2
		length += unit
	}
	return length * minute
}

// placementByHeight tells above from below by default-y, which counts from
// the top line of the staff; a staff is 40 tenths high.
func placementByHeight(pieces []TextPiece) string {
	for _, p := range pieces {
		if p.Y != nil {
			if *p.Y < -20 {
				return "below"
			}
			return "above"
		}
	}
	return ""
}

// directionText joins what a direction says, as it is printed.
type directionText struct {
	pieces []TextPiece
	runs   []textRun
	fresh  bool // a new <direction-type> has begun
	leads  bool // dynamics came before any words
}

// A textRun is what joins without anything between: the words of one
// <direction-type>, or a dynamic sign.
type textRun struct {
	first, last int    // pieces
	sign        string // empty for words
}

func (d *directionText) newType() { d.fresh = true }

func (d *directionText) piece(p TextPiece) {
	if n := len(d.runs); n == 0 || d.fresh || d.runs[n-1].sign != "" {
		d.runs = append(d.runs, textRun{first: len(d.pieces)})
	}
	d.fresh = false
	d.pieces = append(d.pieces, p)
	d.runs[len(d.runs)-1].last = len(d.pieces)
}

func (d *directionText) dynamics(sign string) {
	if sign == "" {
		return
	}
	d.fresh = false
	if len(d.pieces) == 0 {
		d.leads = true
		return
	}
	d.runs = append(d.runs, textRun{sign: sign})
}

// text joins the runs: a space between two unless there is white space, a new
// line where the next gives itself another height.
func (d *directionText) text() string {
	if len(d.runs) == 1 {
		return strings.TrimSpace(joinPieces(d.pieces))
	}
	var b strings.Builder
	var y *float64
	for i, run := range d.runs {
		text := run.sign
		var own *float64
		if run.sign == "" {
			text, own = joinPieces(d.pieces[run.first:run.last]), d.pieces[run.first].Y
		}
		if i > 0 && text != "" {
			switch before := b.String(); {
			case own != nil && y != nil && *own != *y && !strings.HasSuffix(before, "\n"):
				b.WriteByte('\n')
			case !endsWhite(before) && !beginsWhite(text):
				b.WriteByte(' ')
			}
		}
		if own != nil {
			y = own
		}
		b.WriteString(text)
	}
	return strings.TrimSpace(b.String())
}

func endsWhite(s string) bool   { return s == "" || strings.ContainsAny(s[len(s)-1:], " \t\n") }
func beginsWhite(s string) bool { return s == "" || strings.ContainsAny(s[:1], " \t\n") }

// Span is where the direction stands in the text.
func (d *Direction) Span() Span { return d.Elem.Span() }
