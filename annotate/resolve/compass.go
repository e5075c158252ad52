package resolve

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
)

// offCompass reports each run of notes that are not on the keyboard. A key
// that is held from the passage before was told of where it was struck.
func (r *resolver) offCompass(s *Setting, line *Line) {
	for _, staff := range stavesOf(line.Asked.Notes) {
		r.offCompassOn(s, line, staff)
	}
}

// stavesOf divides notes by the staves that they stand on, so that what one
// hand plays is told apart from the other's.
func stavesOf(notes []passage.Pressed) [][]passage.Pressed {
	var staves []*passage.Staff
	var out [][]passage.Pressed
	for _, n := range notes {
		i := slices.Index(staves, n.Staff)
		if i < 0 {
			i = len(staves)
			staves, out = append(staves, n.Staff), append(out, nil)
		}
		out[i] = append(out[i], n)
	}
	return out
}

// offCompassOn reports the runs among the line's notes on one staff.
func (r *resolver) offCompassOn(s *Setting, line *Line, notes []passage.Pressed) {
	var run []passage.Pressed
	var phrases map[*musicxml.Note]*phrase // made for the first run
	flush := func() {
		if len(run) == 0 {
			return
		}
		if phrases == nil {
			phrases = phrasesByNote(notes, s.Passage.Span)
		}
		first, last := run[0], run[len(run)-1]
		s.Problems = append(s.Problems, Problem{
			Code: OffCompass, Line: line.Asked.Line, First: &first,
			From: spanOf(first), To: spanOf(last),
			Text:     offText(run, line),
			Remedies: r.compassRemedies(s, line, phrases[first.Note], run),
		})
		run = nil
	}
	for _, n := range notes {
		switch {
		case !n.StruckIn(s.Passage.Span):
		case line.Keyboard.Compass.Has(n.Key + registry.Key(12*line.Octave)):
			flush()
		default:
			run = append(run, n)
		}
	}
	flush()
}

// offText names the keys of a run as they are on the keyboard and as musicians
// write them, and says how far off they are.
func offText(run []passage.Pressed, line *Line) string {
	var keys []registry.Key
	var printed []string
	for _, n := range run {
		if k := n.Key + registry.Key(12*line.Octave); !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
		if name := noteName(n); !slices.Contains(printed, name) {
			printed = append(printed, name)
		}
	}
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.String()
	}
	var b strings.Builder
	b.WriteString(strings.Join(names, ", ") + " (printed " + strings.Join(printed, ", ") + ")")
	if first, last := run[0].Note.Measure, run[len(run)-1].Note.Measure; first != last {
		fmt.Fprintf(&b, ", to measure %s,", last.Number)
	}
	verb := "are"
	if len(keys) == 1 {
		verb = "is"
	}
	c := line.Keyboard.Compass
	fmt.Fprintf(&b, " %s not on the %s, which goes from %s to %s: %s.", verb, keyboardName(line.Keyboard), c.Low, c.High, howFar(keys, c))
	return b.String()
}

// howFar says by how many semitones keys are off a compass, or that its lowest
// octave leaves them out.
func howFar(keys []registry.Key, c registry.Compass) string {
	var over, under []int
	gaps := false
	for _, k := range keys {
		switch {
		case k > c.High:
			over = append(over, int(k-c.High))
		case k < c.Low:
			under = append(under, int(c.Low-k))
		default:
			gaps = true
		}
	}
	var out []string
	if len(over) > 0 {
		out = append(out, semitones(over)+" too high")
	}
	if len(under) > 0 {
		out = append(out, semitones(under)+" too low")
	}
	if gaps {
		out = append(out, "its lowest octave has no such keys")
	}
	return strings.Join(out, ", ")
}

// semitones is "1 semitone", "1 to 3 semitones".
func semitones(n []int) string {
	low, high := slices.Min(n), slices.Max(n)
	switch {
	case low != high:
		return fmt.Sprintf("%d to %d semitones", low, high)
	case low == 1:
		return "1 semitone"
	}
	return fmt.Sprintf("%d semitones", low)
}

// octavesPrinted is how many octaves above its key a note stands under an octave
// line of the score, less than 0 where it stands below.
func octavesPrinted(n passage.Pressed) int {
	shifts := n.Staff.Part.OctaveShifts
	const nested = 8 // more lines than are ever begun before one ends
	i := sort.Search(len(shifts), func(i int) bool { return n.Note.Onset.Less(shifts[i].Start) })
	for last := max(0, i-nested); i > last; i-- {
		s := shifts[i-1]
		if s.Staff != n.Staff.Number || !n.Note.Onset.Less(s.End) {
			continue
		}
		octaves := (s.Size - 1) / 7
		if s.Type == "down" {
			return -octaves
		}
		return octaves
	}
	return 0
}

// noteName is a note as it is printed, in the names that musicians use: C for
// C2, c for C3, c′ for middle C, B₁ for what lies below C2, with its own
// accidental.
func noteName(n passage.Pressed) string {
	p := n.Note.Pitch
	octave := p.Octave + n.Staff.KeyShift + octavesPrinted(n)
	name := string(p.Step)
	if octave >= 3 {
		name = strings.ToLower(name)
	}
	switch {
	case p.Alter > 0:
		name += strings.Repeat("♯", p.Alter)
	case p.Alter < 0:
		name += strings.Repeat("♭", -p.Alter)
	}
	switch {
	case octave > 3:
		name += strings.Repeat("′", octave-3)
	case octave < 2:
		name += string([]rune("₁₂₃₄₅₆₇₈₉")[min(9, 2-octave)-1])
	}
	return name
}
