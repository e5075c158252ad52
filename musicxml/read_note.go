package musicxml

import (
	"fmt"
	"strings"
)

// note reads a note or rest and moves the cursor past it.
func (r *partReader) note(el Element) {
	n := r.newNote()
	*n = Note{Part: r.part, Measure: r.measure, Staff: 1, Elem: el}
	var duration Element
	for c := range el.Children() {
		switch c.Tag() {
		case "pitch":
			r.pitch(n, c)
		case "rest":
			n.Rest = true
			n.MeasureRest = c.Attr("measure") == "yes"
		case "grace":
			n.Grace = true
		case "cue":
			n.Cue = true
		case "chord":
			n.Chord = true
		case "duration":
			duration = c
		case "voice":
			n.Voice = strings.TrimSpace(c.Text())
		case "type":
			n.Type = strings.TrimSpace(c.Text())
		case "staff":
			if number, ok := r.staffNumber(c.Text(), c); ok {
				n.Staff = number
				r.part.Staves = max(r.part.Staves, number)
			}
		case "tie":
			switch c.Attr("type") {
			case "start":
				n.TieStart = true
			case "stop":
				n.TieStop = true
			}
		case "lyric":
			n.HasLyric = true
		case "notations":
			readNotations(n, c)
		}
	}
	n.Hidden = el.Attr("print-object") == "no"
	switch {
	case n.Grace: // has no duration of its own; some exporters write one
		n.Onset = r.cursor
		r.sinceNote = len(r.part.Directions) // the chord before has ended
		return
	case !duration.Exists():
		n.Duration = r.missingDuration(n)
	default:
		n.Duration = r.duration(el)
	}
	if n.Chord && r.chordWithoutNote(n) {
		n.Chord = false
	}
	if n.Chord {
		n.Onset = r.onset
		r.withinChord()
		return
	}
	n.Onset = r.cursor
	r.onset, r.afterNote = n.Onset, true
	if n.MeasureRest {
		r.measureRest(n)
		return
	}
	r.move(n.Duration)
	r.sinceNote = len(r.part.Directions)
}

// withinChord moves directions that stand between the notes of a chord to where
// the chord begins.
func (r *partReader) withinChord() {
	back := r.cursor.Sub(r.onset)
	for ; r.sinceNote < len(r.part.Directions); r.sinceNote++ {
		d := r.part.Directions[r.sinceNote]
		d.Time = d.Time.Sub(back)
	}
}

// newNote gives the memory for a note, which is the part's unless the reader
// only wants to know the times.
func (r *partReader) newNote() *Note {
	if r.quiet {
		return &r.scratch
	}
	if len(r.notePool) == 0 {
		r.notePool = make([]Note, 128)
	}
	n := &r.notePool[0]
	r.notePool = r.notePool[1:]
	r.part.Notes = append(r.part.Notes, n)
	return n
}

// pitch reads a pitch. What is no pitch at all is a finding, a number beyond
// any instrument is an error.
func (r *partReader) pitch(n *Note, el Element) {
	var step, octave string
	for c := range el.Children() {
		switch c.Tag() {
		case "step":
			step = strings.TrimSpace(c.Text())
		case "octave":
			octave = strings.TrimSpace(c.Text())
		case "alter":
			n.Pitch.Alter = r.alter(c)
		}
	}
	if len(step) != 1 || step[0] < 'A' || step[0] > 'G' {
		r.tolerate(el, "pitch-unreadable", fmt.Sprintf("%q is not the name of a note", shorten(step)), "the note is left out of account")
		return
	}
	t, err := ParseTime(octave)
	switch {
	case octave == "":
		r.tolerate(el, "pitch-unreadable", "a note has no octave", "the note is left out of account")
		return
	case err != nil || t.Den() != 1 || t.Num() > maxOctave || t.Num() < -maxOctave:
		r.fail(el, "absurd-pitch", fmt.Sprintf("%q is not an octave", shorten(octave)), brokenRemedy)
		return
	}
	n.Pitch.Step, n.Pitch.Octave, n.HasPitch = step[0], int(t.Num()), true
}

// alter reads an alteration in semitones. An organ has no quarter tones.
func (r *partReader) alter(el Element) int {
	text := strings.TrimSpace(el.Text())
	if text == "" {
		return 0
	}
	t, err := ParseTime(text)
	if err != nil || Whole(12).Less(t) || t.Less(Whole(-12)) {
		r.fail(el, "absurd-pitch", fmt.Sprintf("%q is not an alteration", shorten(text)), brokenRemedy)
		return 0
	}
	if t.Den() != 1 {
		r.tolerate(el, "quarter-tone", fmt.Sprintf("the note is altered by %s semitones", t.Decimal()), "it is taken as the nearest key towards the natural note")
	}
	return int(t.Num() / t.Den())
}

func readNotations(n *Note, el Element) {
	for c := range el.Children() {
		switch c.Tag() {
		case "tied":
			// Only what is drawn; <tie> says what sounds. Files of some
			// exporters have only this one.
			switch c.Attr("type") {
			case "start":
				n.TieStart = true
			case "stop":
				n.TieStop = true
			}
		case "slur":
			switch c.Attr("type") {
			case "start":
				n.SlurStarts++
			case "stop":
				n.SlurStops++
			}
		case "fermata":
			n.Fermata = true
		case "technical":
			for t := range c.Children() {
				n.Heel = n.Heel || t.Tag() == "heel"
				n.Toe = n.Toe || t.Tag() == "toe"
			}
		case "articulations":
			for a := range c.Children() {
				n.BreathMark = n.BreathMark || a.Tag() == "breath-mark" || a.Tag() == "caesura"
			}
		}
	}
}

// semitones are the steps above C, from A to G.
var semitones = [...]int{9, 11, 0, 2, 4, 5, 7}

// MIDI is the key's number, C4 being 60.
func (p Pitch) MIDI() int {
	if p.Step < 'A' || p.Step > 'G' {
		return 12 * (p.Octave + 1)
	}
	return 12*(p.Octave+1) + semitones[p.Step-'A'] + p.Alter
}

// String is the pitch as scientific notation has it: "C4", "F#3", "Bb2".
func (p Pitch) String() string {
	sign := "#"
	if p.Alter < 0 {
		sign = "b"
	}
	return string(rune(p.Step)) + strings.Repeat(sign, max(p.Alter, -p.Alter)) + fmt.Sprint(p.Octave)
}

// End is when the note ends.
func (n *Note) End() Time { return n.Onset.Add(n.Duration) }

// Span is where the note stands in the text.
func (n *Note) Span() Span { return n.Elem.Span() }

// Sounds reports whether the note is played on a key: it has a pitch and is
// not a cue for another player.
func (n *Note) Sounds() bool { return n.HasPitch && !n.Cue }
