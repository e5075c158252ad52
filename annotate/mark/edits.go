package mark

import (
	"sort"
	"strconv"
	"strings"
	"unicode"

	"github.com/beevik/etree"
	"golang.org/x/text/unicode/norm"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// Target is the target of the processing instructions by which the tool finds
// its own marks again.
const Target = "stopgap"

// What a processing instruction of the tool says first, where it does not
// stand before a mark.
const (
	wasOctave = "octave" // the octave that the next element, <octave>, held
	wasThere  = "was"    // what stood here
	instead   = "for"    // what the next element stands in place of
	added     = "added"  // the next element was not there
)

// Options say how the marks are written.
type Options struct {
	Organ string // name of the organ, kept with each mark

	// Replace lets printed directions give way to the marks that stand for
	// them; they are kept in the processing instructions.
	Replace bool
}

// Edits turns marks into edits of the document.
func Edits(doc *musicxml.Document, marks []Mark, opts Options) ([]musicxml.Edit, error) {
	w := &writer{doc: doc, opts: opts, organ: instructionText(opts.Organ), away: map[musicxml.Element]bool{}}
	for _, m := range marks {
		words := newElement("words", m.Text, "font-style", "italic")
		if err := w.insertAt(m.Kind, m.Staff, m.Time, m.Placement, words); err != nil {
			return nil, err
		}
		if opts.Replace {
			for _, el := range m.Replaces {
				w.putAway(el)
			}
		}
	}
	for _, on := range byStaff(marks) {
		if err := w.shifts(on); err != nil {
			return nil, err
		}
	}
	return append(w.ends, w.edits...), nil
}

// byStaff are the shifts of the marks, those of each staff together.
func byStaff(marks []Mark) [][]*Shift {
	var out [][]*Shift
	at := map[*passage.Staff]int{}
	for _, m := range marks {
		for _, s := range m.Shifts {
			i, ok := at[s.Staff]
			if !ok {
				i = len(out)
				at[s.Staff] = i
				out = append(out, nil)
			}
			out[i] = append(out[i], s)
		}
	}
	return out
}

type writer struct {
	doc   *musicxml.Document
	opts  Options
	organ string
	edits []musicxml.Edit
	ends  []musicxml.Edit           // ends of octave lines, which stand before what begins there
	away  map[musicxml.Element]bool // what is put away already
	lines []drawn                   // octave lines that were added

	// forGood leaves no instructions: what is changed cannot be brought back.
	forGood bool
}

// shifts writes what moves on one staff: under octave lines, which leave the
// noteheads where they are printed, or written out.
func (w *writer) shifts(on []*Shift) error {
	var under []*Shift
	for _, s := range on {
		if !s.WrittenOut {
			under = append(under, s)
		} else {
			w.writeOut(s)
		}
	}
	if err := w.drawLines(under); err != nil {
		return err
	}
	for _, s := range on {
		for _, n := range s.Notes {
			if err := w.moveNote(n.Note, s.Octave); err != nil {
				return err
			}
		}
	}
	return nil
}

// insertAt puts a direction where it belongs to the staff at that time.
func (w *writer) insertAt(kind Kind, staff *passage.Staff, t musicxml.Time, placement string, content *etree.Element) error {
	a, err := anchorNear(staff, t)
	if err != nil {
		return err
	}
	w.insert(a, w.direction(kind, staff, placement, content, a.Offset))
	return nil
}

// anchorNear is where a direction is put in for a moment, or, where the part
// has no place for it (its divisions do not reach the moment, or the measure
// is an empty tag), for the nearest moment before that a note of the part
// begins with or a measure, else for the next.
func anchorNear(staff *passage.Staff, t musicxml.Time) (musicxml.Anchor, error) {
	p := staff.Part
	a, err := p.Anchor(staff.Number, t)
	if err == nil {
		return a, nil
	}
	m := p.MeasureAt(t)
	if m == nil {
		return a, err
	}
	var moments []musicxml.Time
	for i := sort.Search(len(p.Notes), func(i int) bool { return t.Less(p.Notes[i].Onset) }) - 1; i >= 0 && !p.Notes[i].Onset.Less(m.Start); i-- {
		moments = append(moments, p.Notes[i].Onset)
	}
	for i := m.Index; i >= 0; i-- {
		moments = append(moments, p.Measures[i].Start)
	}
	for _, later := range p.Measures[m.Index+1:] {
		moments = append(moments, later.Start)
	}
	for _, near := range moments {
		if b, e := p.Anchor(staff.Number, near); e == nil {
			return b, nil
		}
	}
	return a, err
}

// insert puts an element with its instruction at an anchor. What is written
// before an element repeats the space that stands before it, so that both
// stand alike, and taking it out with the space before it gives the file back.
func (w *writer) insert(a musicxml.Anchor, text string) {
	edit := a.Edit(text)
	if strings.HasPrefix(edit.Text, text) {
		space := w.spaceBefore(a.Pos)
		at := a.Pos - len(space)
		edit = musicxml.Edit{Span: musicxml.Span{Start: at, End: at}, Text: space + text}
	}
	w.edits = append(w.edits, edit)
}

// direction is a <direction> of one <direction-type>, with its instruction.
func (w *writer) direction(kind Kind, staff *passage.Staff, placement string, content *etree.Element, offset string) string {
	el := holding(newElement("direction", "", "placement", placement), holding(newElement("direction-type", ""), content))
	if offset != "" {
		el.AddChild(newElement("offset", offset))
	}
	// Some readers move the heads under an octave line only if it names its
	// staff, though the part has but one.
	if staff.Part.Staves > 1 || content.Tag == "octave-shift" {
		el.AddChild(newElement("staff", strconv.Itoa(staff.Number)))
	}
	return w.instruction(string(kind)) + xml(el)
}

// instruction is the processing instruction before an element that is added.
func (w *writer) instruction(kind string) string {
	if w.forGood {
		return ""
	}
	return "<?" + Target + " " + strings.TrimSpace(kind+" "+w.organ) + "?>"
}

// instructionText makes a name fit for a processing instruction in any
// encoding: an instruction can hold no character references.
func instructionText(s string) string {
	plain := strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Mn, r):
			return -1
		case r > unicode.MaxASCII:
			return '_'
		case r < ' ':
			return ' '
		}
		return r
	}, norm.NFD.String(s))
	return strings.ReplaceAll(plain, "?>", "? >")
}

// spaceBefore is the white space that stands right before an offset.
func (w *writer) spaceBefore(at int) string {
	text := w.doc.Text()
	start := at
	for start > 0 && strings.IndexByte(" \t\r\n", text[start-1]) >= 0 {
		start--
	}
	return text[start:at]
}

// putAway takes a printed direction out of the score and keeps it, whole, in a
// processing instruction. A direction that holds more than words (a dynamic, a
// tempo) stays, and so does one that an instruction cannot hold.
func (w *writer) putAway(el musicxml.Element) {
	if el.Tag() == "direction" && onlyWords(el) {
		w.takeOut(el)
	}
}

// takeOut keeps an element in a processing instruction in its place; ok is
// false where an instruction cannot hold it.
func (w *writer) takeOut(el musicxml.Element) (ok bool) {
	span := el.Span()
	text := w.doc.Text()[span.Start:span.End]
	if !w.canKeep(el) {
		return false
	}
	switch {
	case w.away[el]:
	case w.forGood:
		space := len(w.spaceBefore(span.Start))
		w.edits = append(w.edits, musicxml.Edit{Span: musicxml.Span{Start: span.Start - space, End: span.End}})
	default:
		w.edits = append(w.edits, musicxml.Edit{Span: span, Text: "<?" + Target + " " + wasThere + " " + text + "?>"})
	}
	w.away[el] = true
	return true
}

// replace puts another element in the place of one, which is kept in a
// processing instruction; ok is false where an instruction cannot hold it.
func (w *writer) replace(el musicxml.Element, with string) (ok bool) {
	span := el.Span()
	text := w.doc.Text()[span.Start:span.End]
	if !w.canKeep(el) || w.away[el] {
		return false
	}
	w.away[el] = true
	if !w.forGood {
		with = "<?" + Target + " " + instead + " " + text + "?>" + with
	}
	w.edits = append(w.edits, musicxml.Edit{Span: span, Text: with})
	return true
}

func onlyWords(direction musicxml.Element) bool {
	for c := range direction.Children() {
		switch c.Tag() {
		case "direction-type":
			for t := range c.Children() {
				if t.Tag() != "words" && t.Tag() != "rehearsal" && t.Tag() != "other-direction" {
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
