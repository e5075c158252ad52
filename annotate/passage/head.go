package passage

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

// headTexts are the texts that stand outside the music: credits of the first
// page, the subtitle, and part names that say what to draw.
func (r *textReader) headTexts(score *musicxml.Score, l *Layout) []*Text {
	if len(l.Staves) == 0 {
		return nil
	}
	var texts []*Text
	start := l.Staves[0].Part.Place(musicxml.Time{})
	seen := map[string]bool{}
	add := func(t *Text, elem musicxml.Element) {
		t.Place = start
		if elem.Exists() {
			t.Elems = []musicxml.Element{elem}
		}
		seen[t.Text] = true
		texts = append(texts, t)
	}
	largest := largestLine(score)
	for i := range score.Credits {
		c := &score.Credits[i]
		if c.Text == "" || c.Page > 1 || seen[c.Text] || namesPeople(c.Types) || isTitle(score, c) {
			continue
		}
		t := &Text{Source: Heading, Text: c.Text, Reading: r.reading(c.Text, nil)}
		if slices.Contains(c.Types, "subtitle") {
			t.Source = Subtitle
		}
		if twoManuals(c.Text) || t.registers(c, c == largest) {
			add(t, c.Elem)
		}
	}
	for _, s := range l.Staves {
		if t := r.partName(s, len(l.Staves)); t != nil {
			add(t, musicxml.Element{})
		}
	}
	return texts
}

// partName is the name of a staff's part, if that says what to draw or where
// to play: "Flûtes 16, 8", "Récit". It is nil where it says only who plays.
func (r *textReader) partName(s *Staff, staves int) *Text {
	name := strings.TrimSpace(s.Part.Name)
	if name == "" || staves < 2 || s.Part.Staves > 2 || s.Number > 1 {
		return nil // the name of a part with all staves is the instrument
	}
	k := kindsOf(name)
	if (k[organKind] || k[pianoKind]) && s.Called == division.None {
		return nil
	}
	t := &Text{Source: PartName, Staff: s, Text: name, Reading: r.reading(name, s)}
	said := 0
	for _, st := range t.Reading.Statements {
		switch {
		case st.Verb == direction.Play && st.Hand == direction.Feet:
		case st.Verb == direction.Play && st.Division == division.None, st.Division == division.Pedal && st.Verb == direction.Play:
		default:
			said++
		}
	}
	if said == 0 {
		return nil
	}
	return t
}

// registers weighs whether a text outside the music is a registration, and not
// a line of verse or of the title that has a stop's or a division's name in
// it. Stops with their feet, several of them, divisions, couplers and hands
// speak for it; words that were not understood, and a place where other things
// stand, against it.
func (t *Text) registers(c *musicxml.Credit, largest bool) bool {
	points := 0
	divisions, voices, footed, calls := false, 0, false, false
	for _, st := range t.Reading.Statements {
		switch st.Verb {
		case direction.Couple, direction.Uncouple, direction.Box, direction.Trem:
			calls = true
		case direction.Play:
			calls = calls || st.Hand != direction.AnyHand && st.Division != division.None
		default:
			divisions = divisions || st.Division != division.None
			voices += len(st.Voices)
			for _, v := range st.Voices {
				footed = footed || !v.Pitch.IsZero() && hasFeet(t.Text)
			}
		}
	}
	for _, sure := range []bool{divisions, voices > 1, len(t.Reading.Statements) > 1, calls, calls, footed} {
		if sure {
			points++
		}
	}
	if footed && marksFeet(t.Text) {
		points++
	}
	points -= len(t.Reading.Unread)
	if !footed && !strings.ContainsAny(t.Text, ".:;") && len(strings.Fields(t.Text)) > 2*(voices+len(t.Reading.Statements)) {
		return false // more words than a registration needs for what it says
	}
	if lines := strings.Count(c.Text, "\n"); c.Justify == "right" || c.Justify == "center" && lines == 0 || isFooter(c) || largest {
		points--
	}
	return points >= 2
}

// hasFeet reports whether a text has a number in it.
func hasFeet(text string) bool { return strings.ContainsAny(text, "0123456789") }

// marksFeet reports whether a number in a text is marked as feet: 8', 8 ft.
func marksFeet(text string) bool {
	for i, c := range text {
		if c < '0' || c > '9' {
			continue
		}
		rest := strings.TrimLeft(text[i+1:], "0123456789 /½⅓⅔⅖⅗⅘⅕⅐")
		for _, mark := range []string{"'", "′", "’", "´", "‘", "ft", "Fu", "fu", "pi", "p.", "vo", "vt"} {
			if strings.HasPrefix(rest, mark) {
				return true
			}
		}
	}
	return false
}

// isFooter reports whether a credit stands at the foot of the page.
func isFooter(c *musicxml.Credit) bool {
	const foot = 200 // tenths from the lower edge
	return c.Y != nil && *c.Y < foot
}

// namesPeople reports whether a credit is of a kind that never holds registration.
func namesPeople(types []string) bool {
	for _, t := range types {
		switch t {
		case "composer", "lyricist", "arranger", "rights", "page number", "title", "part name":
			return true
		}
	}
	return false
}

// isTitle reports whether a credit is the title or a name: it says what the
// header says.
func isTitle(score *musicxml.Score, c *musicxml.Credit) bool {
	for _, known := range []string{score.Title, score.WorkTitle, score.MovementTitle} {
		if samePrint(c.Text, known) {
			return true
		}
	}
	return slices.ContainsFunc(score.Creators, func(people musicxml.Creator) bool { return samePrint(c.Text, people.Name) })
}

// largestLine is the credit of one line that is printed in larger letters than
// all else on the first page, as a title is; nil if none is.
func largestLine(score *musicxml.Score) *musicxml.Credit {
	var largest *musicxml.Credit
	alone, n := false, 0
	for i := range score.Credits {
		c := &score.Credits[i]
		if c.Page > 1 || c.Text == "" {
			continue
		}
		n++
		switch {
		case largest == nil || fontSize(c) > fontSize(largest):
			largest, alone = c, true
		case fontSize(c) == fontSize(largest):
			alone = false
		}
	}
	if n < 2 || !alone || strings.Contains(largest.Text, "\n") {
		return nil
	}
	return largest
}

func fontSize(c *musicxml.Credit) float64 {
	size := 0.0
	for _, w := range c.Words {
		size = max(size, w.FontSize)
	}
	return size
}

func samePrint(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

//go:embed twomanuals.tsv
var twoManualsTSV string

// manualWords are the words of "for two manuals": what counts two, and what
// manuals are called.
var manualWords = sync.OnceValue(func() (words struct{ two, manuals map[string]bool }) {
	words.two, words.manuals = map[string]bool{}, map[string]bool{}
	for line := range strings.Lines(twoManualsTSV) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 4 || f[0][0] == '#' {
			continue
		}
		switch f[1] {
		case "two":
			words.two[f[0]] = true
		case "manuals":
			words.manuals[f[0]] = true
		}
	}
	return words
})

// twoManuals reports whether a text asks for two manuals: "à deux claviers et
// pédale", "a 2 Clav. e Ped.".
func twoManuals(text string) bool {
	if len(text) > 200 {
		return false
	}
	words := foldedWords(strings.ReplaceAll(text, ".", " "))
	for i := 1; i < len(words); i++ {
		if manualWords().manuals[words[i]] && manualWords().two[words[i-1]] {
			return true
		}
	}
	return false
}
