package mark

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// Target is the target of the processing instructions by which the tool finds
// its own marks again.
const Target = "stopgap"

// Options say how the marks are written.
type Options struct {
	Pedal PedalMarks // "" is OctaveLine
	Organ string     // name of the organ, kept with each mark

	// Replace lets printed directions give way to the marks that stand for
	// them; they are kept in the processing instructions.
	Replace bool
}

// Edits turns marks into edits of the document.
func Edits(doc *musicxml.Document, marks []Mark, opts Options) ([]musicxml.Edit, error) {
	w := &writer{doc: doc, opts: opts, away: map[*etree.Element]bool{}}
	for _, m := range marks {
		if err := w.mark(m); err != nil {
			return nil, err
		}
		if opts.Replace {
			for _, el := range m.Replaces {
				w.putAway(el)
			}
		}
	}
	return w.edits, nil
}

type writer struct {
	doc   *musicxml.Document
	opts  Options
	edits []musicxml.Edit
	away  map[*etree.Element]bool // directions already put away
}

func (w *writer) mark(m Mark) error {
	words := `<words font-style="italic">` + musicxml.Escape(m.Text) + `</words>`
	if err := w.insertAt(m.Kind, m.Staff, m.Time, m.Placement, words); err != nil {
		return err
	}
	if m.Shift == nil || w.opts.Pedal == WordsOnly || len(m.Shift.Notes) == 0 {
		return nil
	}
	if w.opts.Pedal != WrittenOut {
		if err := w.octaveLine(m); err != nil {
			return err
		}
	}
	for _, n := range m.Shift.Notes {
		if err := w.moveNote(n, m.Shift.Octave); err != nil {
			return err
		}
	}
	return nil
}

// octaveLine draws a line over the moved notes, whose heads stay where they
// are: a shift of type "down" stands over pitch data an octave higher than
// printed (MusicXML 4.0, octave-shift).
func (w *writer) octaveLine(m Mark) error {
	kind, size := "down", 8
	if m.Shift.Octave < 0 {
		kind = "up"
	}
	if m.Shift.Octave > 1 {
		size = 15
	}
	placement := map[string]string{"down": "above", "up": "below"}[kind]
	first, last := m.Shift.Notes[0], m.Shift.Notes[0]
	for _, n := range m.Shift.Notes {
		if last.Note.Onset.Add(last.Note.Duration).Less(n.Note.Onset.Add(n.Note.Duration)) || !n.Note.Onset.Less(last.Note.Onset) {
			last = n
		}
	}
	start := fmt.Sprintf(`<octave-shift type="%s" size="%d"/>`, kind, size)
	if err := w.insertAt(Octave, m.Staff, first.Note.Onset, placement, start); err != nil {
		return err
	}
	stop := fmt.Sprintf(`<octave-shift type="stop" size="%d"/>`, size)
	end := w.doc.Span(last.Note.Elem)
	space := w.spaceBefore(end.Start)
	w.edits = append(w.edits, musicxml.Edit{
		Span: musicxml.Span{Start: end.End, End: end.End},
		Text: space + w.direction(Octave, m.Staff, placement, stop, ""),
	})
	return nil
}

// insertAt puts a direction where it belongs to the staff at that time.
func (w *writer) insertAt(kind Kind, staff *passage.Staff, t musicxml.Time, placement, content string) error {
	a, err := staff.Part.Anchor(staff.Number, t)
	if err != nil {
		return err
	}
	direction := w.direction(kind, staff, placement, content, a.Offset)
	edit := a.Edit(direction)
	if !strings.HasPrefix(edit.Text, direction) {
		w.edits = append(w.edits, edit) // behind the last element of its measure
		return nil
	}
	// What is written before an element repeats the space that stands before
	// it, so that the mark and the element stand alike, and taking out the
	// mark with the space before it gives the file back.
	space := w.spaceBefore(a.Pos)
	at := a.Pos - len(space)
	w.edits = append(w.edits, musicxml.Edit{
		Span: musicxml.Span{Start: at, End: at},
		Text: space + direction,
	})
	return nil
}

func (w *writer) direction(kind Kind, staff *passage.Staff, placement, content, offset string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<?%s %s?>", Target, strings.TrimSpace(string(kind)+" "+instructionText(w.opts.Organ)))
	fmt.Fprintf(&b, `<direction placement="%s"><direction-type>%s</direction-type>`, placement, content)
	if offset != "" {
		b.WriteString("<offset>" + offset + "</offset>")
	}
	if staff.Part.Staves > 1 {
		fmt.Fprintf(&b, "<staff>%d</staff>", staff.Number)
	}
	b.WriteString("</direction>")
	return b.String()
}

// instructionText keeps the end of a processing instruction out of its text.
func instructionText(s string) string { return strings.ReplaceAll(s, "?>", "? >") }

// spaceBefore is the white space that stands right before an offset.
func (w *writer) spaceBefore(at int) string {
	text := w.doc.Text()
	start := at
	for start > 0 && strings.IndexByte(" \t\r\n", text[start-1]) >= 0 {
		start--
	}
	return text[start:at]
}

// moveNote moves a note's pitch data by octaves and notes what it was.
func (w *writer) moveNote(n passage.Pressed, octaves int) error {
	el := n.Note.Elem.FindElement("pitch/octave")
	if el == nil {
		return fmt.Errorf("a note without an octave cannot be moved")
	}
	inner, outer := w.doc.Inner(el), w.doc.Span(el)
	was := w.doc.Text()[inner.Start:inner.End]
	old, err := strconv.Atoi(strings.TrimSpace(was))
	if err != nil {
		return fmt.Errorf("the octave %q is not a number", was)
	}
	w.edits = append(w.edits,
		musicxml.Edit{Span: musicxml.Span{Start: outer.Start, End: outer.Start}, Text: fmt.Sprintf("<?%s octave %s?>", Target, was)},
		musicxml.Edit{Span: inner, Text: strconv.Itoa(old + octaves)})
	return nil
}

// putAway takes a printed direction out of the score and keeps it, whole, in a
// processing instruction. A direction that holds more than words (a dynamic, a
// tempo) stays, and so does one that an instruction cannot hold.
func (w *writer) putAway(el *etree.Element) {
	span := w.doc.Span(el)
	text := w.doc.Text()[span.Start:span.End]
	if w.away[el] || el.Tag != "direction" || !onlyWords(el) || strings.Contains(text, "?>") {
		return
	}
	w.away[el] = true
	w.edits = append(w.edits, musicxml.Edit{Span: span, Text: "<?" + Target + " was " + text + "?>"})
}

func onlyWords(direction *etree.Element) bool {
	for _, c := range direction.ChildElements() {
		switch c.Tag {
		case "direction-type":
			for _, t := range c.ChildElements() {
				if t.Tag != "words" && t.Tag != "rehearsal" && t.Tag != "other-direction" {
					return false
				}
			}
		case "offset", "staff", "voice":
		default:
			return false
		}
	}
	return true
}
