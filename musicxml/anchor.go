package musicxml

import (
	"fmt"
	"sort"
	"strings"
	"sync"
)

// An Anchor is a place in the text where a new direction can be put so that
// it has a wanted time. [Anchor.Edit] puts it there.
type Anchor struct {
	Pos    int    // offset in Document.Text
	Indent string // the line end and white space that elements here are preceded by; empty in a file without them
	Unit   string // by how much more an element is indented than the one it is in
	Offset string // what <offset> must say, in divisions; empty if the direction needs none

	last bool // Pos is at the end of the measure, not before an element
}

// Edit inserts an element, or several, at the anchor. The text must be XML
// that begins and ends with a tag or a processing instruction, without white
// space around it. [Document.Remove] is the inverse.
func (a Anchor) Edit(text string) Edit {
	if a.last {
		return Edit{Span{a.Pos, a.Pos}, a.Indent + text}
	}
	return Edit{Span{a.Pos, a.Pos}, text + a.Indent}
}

// slots are the places of a measure where a direction can be put, made when
// they are first asked for.
type slots struct {
	once   sync.Once
	byTime []slot             // the best of each time, sorted by time
	notes  map[staffTime]slot // before the notes of a staff that start at a time
}

// A slot is a place between two elements of a measure.
type slot struct {
	time    Time // from the start of the measure
	quarter Time // how long one division is there
	pos     int
	like    int // where an element begins whose indentation fits
	rank    int // lower is better
	last    bool
}

type staffTime struct {
	staff int
	time  Time
}

// Ranks of slots.
const (
	beforeNote = iota
	beforeForward
	beforeRest // of the measure's elements: backup, barline, harmony…
	atEnd
	beforeHead // attributes, print and the left barline
)

// Anchor finds where a direction for a staff and a moment is put in: before a
// note of that staff which starts then and its grace notes, else before a note
// of another staff, else between other elements, else before the moment and
// with an <offset>. The direction must name its staff unless the part has only
// one. A moment that ends one measure and starts the next belongs to the next;
// the end of the part can be had too.
func (p *Part) Anchor(staff int, t Time) (Anchor, error) {
	m := p.MeasureAt(t)
	if m == nil || !m.Elem.Exists() || !t.Valid() || t.Less(m.Start) || m.End.Less(t) {
		return Anchor{}, &Error{ID: "no-place", File: p.doc.inner, Part: p.ID, Text: fmt.Sprintf("the part has no measure at %s quarter notes", t)}
	}
	m.slots.once.Do(m.findSlots)
	local := t.Sub(m.Start)
	s, offset, ok := m.slots.find(staff, local)
	if !ok {
		return Anchor{}, &Error{ID: "no-place", File: p.doc.inner, Part: p.ID, Measure: m.Number,
			Text: fmt.Sprintf("a direction cannot be put at beat %s, since the part's divisions do not reach it", m.Place(t).Beat.Mixed())}
	}
	if m.Elem.isEmptyTag() {
		return Anchor{}, &Error{ID: "no-place", File: p.doc.inner, Part: p.ID, Measure: m.Number, Text: "the measure is an empty tag, into which nothing can be put"}
	}
	a := Anchor{Pos: s.pos, Offset: offset, last: s.last, Indent: p.doc.indentBefore(s.like)}
	if outer := p.doc.indentBefore(m.Elem.Span().Start); outer != "" {
		a.Unit, _ = strings.CutPrefix(a.Indent, outer)
	}
	return a, nil
}

// find gives the slot for a staff and a time from the start of the measure,
// and the offset that is needed from there: at the time itself if there is a
// slot, else the nearest from which whole divisions reach it, else the nearest
// from which a decimal number of them does.
func (s *slots) find(staff int, at Time) (found slot, offset string, ok bool) {
	if n, ok := s.notes[staffTime{staff, at}]; ok {
		return n, "", true
	}
	before := sort.Search(len(s.byTime), func(i int) bool { return at.Less(s.byTime[i].time) }) - 1
	const far = 50 // slots; looking further would not help
	for _, whole := range []bool{true, false} {
		for k := range min(2*far, 2*len(s.byTime)) {
			// The last before the time, and further and further away on both sides.
			i := before - k/2
			if k%2 == 1 {
				i = before + 1 + k/2
			}
			if i < 0 || i >= len(s.byTime) {
				continue
			}
			gap := at.Sub(s.byTime[i].time).Div(s.byTime[i].quarter)
			switch text := gap.Decimal(); {
			case gap.IsZero():
				return s.byTime[i], "", true
			case gap.Den() == 1 || !whole && gap.Valid() && !strings.Contains(text, "/"):
				return s.byTime[i], text, true
			}
		}
	}
	return slot{}, "", false
}

// findSlots goes through the measure as the reader does and keeps the places
// where a direction can stand. It stands in no chord, and before the grace
// notes that lead to a note.
func (m *Measure) findSlots() {
	d := m.Part.doc
	f := slotFinder{best: map[Time]slot{}, notes: map[staffTime]slot{}}
	// The reader that gave the notes their times gives the places theirs.
	r := newPartReader(d, &Part{})
	r.quarter, r.quiet = m.quarter, true
	r.measure = &Measure{Part: r.part, Signature: m.Signature}
	last := m.Elem.Inner().Start
	for el := range m.Elem.Children() {
		last = el.Span().Start
		f.before(el, slot{time: r.cursor, quarter: r.quarter, pos: last, like: last})
		switch el.Tag() {
		case "note", "backup", "forward", "attributes":
			r.element(el)
		}
	}
	inner := d.text[:m.Elem.Inner().End]
	end := len(strings.TrimRight(inner, whiteSpace))
	f.offer(slot{time: r.cursor, quarter: r.quarter, pos: end, like: last, last: true}, atEnd)
	m.slots.notes = f.notes
	for _, s := range f.best {
		m.slots.byTime = append(m.slots.byTime, s)
	}
	sort.Slice(m.slots.byTime, func(i, j int) bool { return m.slots.byTime[i].time.Less(m.slots.byTime[j].time) })
}

// A slotFinder keeps the best slot of each time.
type slotFinder struct {
	best  map[Time]slot
	notes map[staffTime]slot
	grace int // where the grace notes begin that lead to the next note; 0 for none
}

// before considers the place before an element.
func (f *slotFinder) before(el Element, s slot) {
	switch el.Tag() {
	case "direction", "sound", "harmony", "figured-bass":
		return // may stand between a grace note and its note, or in a chord
	case "note":
		f.beforeNote(el, s)
		return
	}
	f.grace = 0
	rank := beforeRest
	switch {
	case el.Tag() == "forward":
		rank = beforeForward
	case el.Tag() == "attributes", el.Tag() == "print", el.Tag() == "barline" && el.Attr("location") == "left":
		rank = beforeHead
	}
	f.offer(s, rank)
}

func (f *slotFinder) beforeNote(el Element, s slot) {
	staff := 1
	for c := range el.Children() {
		switch c.Tag() {
		case "chord":
			return
		case "grace":
			if f.grace == 0 {
				f.grace = s.pos
			}
			return
		case "staff":
			staff = integer(c.Text(), 1)
		}
	}
	if f.grace != 0 {
		s.pos, s.like, f.grace = f.grace, f.grace, 0
	}
	f.offer(s, beforeNote)
	key := staffTime{staff, s.time}
	if _, ok := f.notes[key]; !ok {
		f.notes[key] = s
	}
}

func (f *slotFinder) offer(s slot, rank int) {
	s.rank = rank
	if old, ok := f.best[s.time]; !ok || rank < old.rank {
		f.best[s.time] = s
	}
}

// indentBefore is the line end and white space before an element that starts
// at pos, empty if other text stands before it on its line.
func (d *Document) indentBefore(pos int) string {
	start := pos
	for start > 0 && (d.text[start-1] == ' ' || d.text[start-1] == '\t') {
		start--
	}
	switch {
	case start == 0:
		return ""
	case d.text[start-1] == '\n':
		start--
		if start > 0 && d.text[start-1] == '\r' {
			start--
		}
	case d.text[start-1] == '\r':
		start--
	default:
		return ""
	}
	return d.text[start:pos]
}
