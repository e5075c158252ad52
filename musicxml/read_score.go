package musicxml

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A measureSource is where the music of one measure of one part stands.
type measureSource struct {
	measure Element // has the number; none where the part is silent
	music   Element // has the notes: the same in a partwise score, the <part> in a timewise one
}

// readScore makes the music of the elements.
func (d *Document) readScore() error {
	root := d.Root()
	s := &Score{Version: root.AttrOr("version", "1.0"), Timewise: root.Tag() == "score-timewise"}
	d.score = s
	var heads []Element // the first <part> of each id, in file order
	var tooMuch *Error
	count := 0 // of measures, of all the parts together
	music := map[string][]measureSource{}
	add := func(part, measure, holder Element, index int) {
		id := part.Attr("id")
		if _, known := music[id]; !known {
			heads = append(heads, part)
		}
		if count += 1 + max(0, index-len(music[id])); count > maxMeasures || len(heads) > maxParts {
			tooMuch = d.elementError(part, "limit", fmt.Sprintf("the score has more than %d parts, or they have more than %d measures", maxParts, maxMeasures))
			return
		}
		for s.Timewise && len(music[id]) < index {
			music[id] = append(music[id], measureSource{}) // the part is silent there
		}
		music[id] = append(music[id], measureSource{measure, holder})
	}
	measures := 0
	for el := range root.Children() {
		if tooMuch != nil {
			break
		}
		switch el.Tag() {
		case "part":
			if tooMuch = d.longID(el); tooMuch != nil {
				continue
			}
			if id := el.Attr("id"); music[id] == nil {
				heads, music[id] = append(heads, el), []measureSource{}
			}
			for m := range el.All("measure") {
				add(el, m, m, 0)
			}
		case "measure":
			for p := range el.All("part") {
				if tooMuch == nil {
					tooMuch = d.longID(p)
				}
				if tooMuch == nil {
					add(p, el, p, measures)
				}
			}
			measures++
		default:
			d.readHeader(el)
		}
	}
	if tooMuch == nil && (len(heads) > maxParts || len(s.Parts) > maxParts) {
		tooMuch = d.elementError(root, "limit", fmt.Sprintf("the score has more than %d parts", maxParts))
	}
	if tooMuch != nil {
		return tooMuch
	}
	d.placeParts(heads, music)
	for _, p := range s.Parts {
		if err := newPartReader(d, p).read(music[p.ID]); err != nil {
			return err
		}
	}
	if err := d.align(); err != nil {
		return err
	}
	for _, p := range s.Parts {
		p.finish()
	}
	s.Title, s.Subtitle = s.title(), s.subtitle()
	if err := d.longText(); err != nil {
		return err
	}
	return nil
}

// longText refuses texts that no player could read.
func (d *Document) longText() *Error {
	refuse := func(el Element, what string) *Error {
		return d.elementError(el, "limit", fmt.Sprintf("%s is longer than %d MiB", what, maxWords>>20))
	}
	for i := range d.score.Credits {
		if c := &d.score.Credits[i]; len(c.Text) > maxWords {
			return refuse(c.Elem, "this heading")
		}
	}
	for _, p := range d.score.Parts {
		if len(p.Name) > maxWords || len(p.Abbreviation) > maxWords {
			return refuse(p.Elem, "the name of this part")
		}
		for _, g := range p.DirectionGroups() {
			if len(g.Text) > maxWords {
				return refuse(g.Texts[0].Elem, "this direction, with those beside it,")
			}
		}
	}
	return nil
}

// longID refuses a part with an id of no sense.
func (d *Document) longID(part Element) *Error {
	if len(part.Attr("id")) <= maxNumber {
		return nil
	}
	return d.elementError(part, "limit", fmt.Sprintf("the id of this part is longer than %d characters", maxNumber))
}

// elementError refuses the file for an element.
func (d *Document) elementError(el Element, id, text string) *Error {
	p := d.Position(el.Span().Start)
	return &Error{ID: id, File: p.File, Line: p.Line, Column: p.Column, Text: text, Remedy: brokenRemedy}
}

// readHeader reads a child of the root that is not music.
func (d *Document) readHeader(el Element) {
	s := d.score
	switch el.Tag() {
	case "work":
		s.WorkNumber, s.WorkTitle = childText(el, "work-number"), childText(el, "work-title")
	case "movement-number":
		s.MovementNumber = strings.TrimSpace(el.Text())
	case "movement-title":
		s.MovementTitle = strings.TrimSpace(el.Text())
	case "identification":
		for c := range el.Children() {
			text := strings.TrimSpace(c.Text())
			switch {
			case c.Tag() == "creator" && text != "":
				s.Creators = append(s.Creators, Creator{Type: c.Attr("type"), Name: text})
			case c.Tag() == "rights" && text != "":
				s.Rights = append(s.Rights, text)
			case c.Tag() == "encoding":
				for e := range c.All("software") {
					s.Software = append(s.Software, strings.TrimSpace(e.Text()))
				}
			}
		}
	case "credit":
		s.Credits = append(s.Credits, readCredit(el))
	case "part-list":
		d.readPartList(el)
	}
}

func readCredit(el Element) Credit {
	c := Credit{Page: 1, Elem: el}
	if n, err := strconv.Atoi(el.AttrOr("page", "1")); err == nil {
		c.Page = n
	}
	for e := range el.Children() {
		switch e.Tag() {
		case "credit-type":
			c.Types = append(c.Types, strings.TrimSpace(e.Text()))
		case "credit-words":
			if len(c.Words) < maxPieces {
				c.Words = append(c.Words, readPiece(e))
			}
		}
	}
	if len(c.Words) > 0 {
		c.X, c.Y, c.Justify = c.Words[0].X, c.Words[0].Y, c.Words[0].Justify
	}
	c.Text = strings.TrimSpace(joinPieces(c.Words))
	return c
}

// readPartList makes the parts in the order in which the list has them.
func (d *Document) readPartList(list Element) {
	s := d.score
	var open []PartGroup
	for el := range list.Children() {
		switch el.Tag() {
		case "part-group":
			number := el.AttrOr("number", "1")
			if el.Attr("type") != "stop" {
				// One of the same number can only be new if the old one is over.
				open = slices.DeleteFunc(open, func(g PartGroup) bool { return g.Number == number })
				if len(open) == maxOpenGroups {
					continue
				}
				open = append(open, PartGroup{Number: number, Name: displayName(el, "group-name"), Abbreviation: displayName(el, "group-abbreviation"), First: len(s.Parts)})
				continue
			}
			for i := len(open) - 1; i >= 0; i-- {
				if open[i].Number == number {
					g := open[i]
					open = append(open[:i], open[i+1:]...)
					if g.Last = len(s.Parts) - 1; g.Last >= g.First {
						s.Groups = append(s.Groups, g)
					}
					break
				}
			}
		case "score-part":
			p := d.newPart(el.Attr("id"))
			p.Elem = el
			p.Name, p.Abbreviation = displayName(el, "part-name"), displayName(el, "part-abbreviation")
			for _, g := range open {
				if g.Name != "" {
					p.Groups = append(p.Groups, g.Name)
				}
			}
			for i := range el.All("score-instrument") {
				for _, tag := range []string{"instrument-name", "instrument-sound"} {
					if text := childText(i, tag); text != "" {
						p.Instruments = append(p.Instruments, text)
					}
				}
			}
		}
	}
}

func (d *Document) newPart(id string) *Part {
	p := &Part{Score: d.score, ID: id, Index: len(d.score.Parts), Staves: 1, doc: d}
	d.score.Parts = append(d.score.Parts, p)
	return p
}

// displayName is the text of an element such as <part-name>; if it is empty,
// that of <part-name-display>.
func displayName(el Element, tag string) string {
	if text := childText(el, tag); text != "" {
		return text
	}
	var b strings.Builder
	if display := el.Child(tag + "-display"); display.Exists() {
		for c := range display.Children() {
			switch c.Tag() {
			case "display-text":
				b.WriteString(c.Text())
			case "accidental-text":
				b.WriteString(accidentalSigns[strings.TrimSpace(c.Text())])
			}
		}
	}
	return strings.TrimSpace(b.String())
}

var accidentalSigns = map[string]string{"flat": "♭", "sharp": "♯", "natural": "♮", "double-sharp": "𝄪", "flat-flat": "𝄫"}

// placeParts makes the parts agree with the music that is there: a part that
// the list lacks is added, and one that has no music is left out.
func (d *Document) placeParts(heads []Element, music map[string][]measureSource) {
	s := d.score
	listed := map[string]bool{}
	kept := s.Parts[:0]
	before := make([]int, len(s.Parts)+1) // how many of the parts before this one are kept
	for i, p := range s.Parts {
		before[i+1] = len(kept)
		if _, ok := music[p.ID]; !ok || listed[p.ID] {
			d.note(p.Elem, Finding{ID: "part-without-music", Part: p.ID, Text: fmt.Sprintf("the part list names the part %s, of which there is no music", shorten(p.ID)), Remedy: "it is left out"})
			continue
		}
		listed[p.ID] = true
		p.Index = len(kept)
		kept = append(kept, p)
		before[i+1] = len(kept)
	}
	s.Parts = kept
	s.Groups = slices.DeleteFunc(s.Groups, func(g PartGroup) bool { return before[g.First] == before[g.Last+1] })
	for i := range s.Groups {
		g := &s.Groups[i]
		g.First, g.Last = before[g.First], before[g.Last+1]-1
	}
	for _, el := range heads {
		if id := el.Attr("id"); !listed[id] {
			d.newPart(id)
			d.note(el, Finding{ID: "part-not-listed", Part: id, Text: fmt.Sprintf("the part list lacks the part %s", shorten(id)), Remedy: "it is read all the same"})
		}
	}
}

// note adds a finding about an element, whose place it gets.
func (d *Document) note(el Element, f Finding) {
	if len(d.findings) >= maxFindings {
		return
	}
	f.File = d.inner
	if el.Exists() {
		p := d.Position(el.Span().Start)
		f.Line, f.Column = p.Line, p.Column
	}
	d.findings = append(d.findings, f)
}

// childText is the text of the first element of a name directly inside.
func childText(el Element, tag string) string {
	if c := el.Child(tag); c.Exists() {
		return strings.TrimSpace(c.Text())
	}
	return ""
}

// number reads a decimal attribute such as default-y; nil if it is none.
func number(s string) *float64 {
	if s == "" {
		return nil
	}
	f, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	return &f
}
