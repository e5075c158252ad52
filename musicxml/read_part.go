package musicxml

import (
	"fmt"
	"strconv"
	"strings"
)

// A partReader reads the measures of one part. Times are at first counted from
// the start of the measure; align and finish make them count from the start of
// the part, once it is known how long the measures are in all the parts.
type partReader struct {
	d    *Document
	part *Part

	quarter   Time // how long one division is; a file without <divisions> counts in quarter notes
	signature Signature
	measure   *Measure
	cursor    Time // from the start of the measure
	onset     Time // of the last note that was not one of a chord
	afterNote bool // there was one in this measure
	sinceNote int  // how many directions there were when it ended; those after it may stand within its chord
	quiet     bool // only wants to know the times: the part has been read before

	clefs    map[int]Clef // in force, by staff
	notePool []Note
	scratch  Note
	err      *Error
}

func newPartReader(d *Document, part *Part) *partReader {
	return &partReader{d: d, part: part, quarter: Whole(1), clefs: map[int]Clef{}}
}

func (r *partReader) read(sources []measureSource) error {
	measures := make([]Measure, len(sources))
	r.part.Measures = make([]*Measure, len(sources))
	for i, src := range sources {
		m := &measures[i]
		*m = Measure{Part: r.part, Index: i, Times: 2, Signature: r.signature, Elem: src.music, quarter: r.quarter}
		r.part.Measures[i], r.measure = m, m
		r.cursor, r.afterNote = Time{}, false
		r.sinceNote = len(r.part.Directions)
		if !src.measure.Exists() {
			continue
		}
		m.Number = strings.TrimSpace(src.measure.Attr("number"))
		if len(m.Number) > maxNumber {
			m.Number = shorten(m.Number)
			return r.fail(src.measure, "limit", fmt.Sprintf("the number of this measure is longer than %d characters", maxNumber), brokenRemedy)
		}
		m.Implicit = src.measure.Attr("implicit") == "yes"
		m.firstNote, m.firstDirection = len(r.part.Notes), len(r.part.Directions)
		for el := range src.music.Children() {
			r.element(el)
		}
		m.lastNote, m.lastDirection = len(r.part.Notes), len(r.part.Directions)
		if r.err != nil {
			return r.err
		}
		if !r.cursor.Valid() || !m.reach.Valid() {
			return r.fail(src.measure, "absurd-time", "the times in this measure are beyond reckoning", brokenRemedy)
		}
	}
	return nil
}

// element reads one child of a measure.
func (r *partReader) element(el Element) {
	if r.err != nil {
		return
	}
	switch el.Tag() {
	case "note":
		r.note(el)
	case "backup":
		r.backup(el)
	case "forward":
		r.sinceNote = len(r.part.Directions)
		r.move(r.duration(el))
	case "attributes":
		r.attributes(el)
	case "direction":
		r.direction(el)
	case "sound":
		r.sound(el, r.cursor.Add(r.offset(el)))
	case "barline":
		r.barline(el)
	case "print":
		m := r.measure
		m.NewPage = m.NewPage || el.Attr("new-page") == "yes"
		m.NewSystem = m.NewSystem || el.Attr("new-system") == "yes"
	}
}

// move moves the cursor and notes how far it came.
func (r *partReader) move(by Time) {
	r.cursor = r.cursor.Add(by)
	if r.measure.reach.Less(r.cursor) {
		r.measure.reach = r.cursor
	}
}

func (r *partReader) backup(el Element) {
	r.sinceNote = len(r.part.Directions)
	by := r.duration(el)
	to := r.cursor.Sub(by)
	if to.Sign() < 0 {
		to = r.backupTooFar(el, by)
	}
	r.cursor = to
}

// duration is the <duration> of an element in quarter notes, 0 if it has none.
func (r *partReader) duration(el Element) Time {
	c := el.Child("duration")
	if !c.Exists() {
		return Time{}
	}
	text := c.Text()
	t, ok := smallNumber(text)
	if !ok {
		var err error
		if t, err = ParseTime(text); err != nil || t.Sign() < 0 {
			r.fail(c, "absurd-time", fmt.Sprintf("%q is not a duration", shorten(text)), brokenRemedy)
			return Time{}
		}
	}
	return t.Mul(r.quarter)
}

// smallNumber reads the digits that nearly all numbers of a score are.
func smallNumber(text string) (Time, bool) {
	if len(text) == 0 || len(text) > 9 {
		return Time{}, false
	}
	n := int64(0)
	for i := 0; i < len(text); i++ {
		c := text[i] - '0'
		if c > 9 {
			return Time{}, false
		}
		n = 10*n + int64(c)
	}
	return Whole(n), true
}

// offset is the <offset> of a direction or sound in quarter notes.
func (r *partReader) offset(el Element) Time {
	c := el.Child("offset")
	if !c.Exists() {
		return Time{}
	}
	t, err := ParseTime(c.Text())
	if err == nil {
		t = t.Mul(r.quarter)
	}
	if err != nil || !t.Valid() {
		r.fail(c, "absurd-time", fmt.Sprintf("%q is not an offset", shorten(c.Text())), brokenRemedy)
		return Time{}
	}
	return t
}

func (r *partReader) attributes(el Element) {
	p := r.part
	timed := false
	for c := range el.Children() {
		switch c.Tag() {
		case "divisions":
			r.divisions(c)
		case "staves":
			if n, ok := r.staffNumber(c.Text(), c); ok {
				p.Staves = max(p.Staves, n)
			}
		case "time":
			if !timed { // of several, for different staves, the first
				r.time(c)
				timed = true
			}
		case "clef":
			r.clef(c)
		case "key":
			r.key(c)
		case "transpose":
			p.Transposes = append(p.Transposes, Transpose{
				Staff: r.staffAttribute(c, 0), Diatonic: integer(childText(c, "diatonic"), 0), Chromatic: integer(childText(c, "chromatic"), 0),
				OctaveChange: integer(childText(c, "octave-change"), 0), Time: r.cursor})
			r.measure.transposes++
		}
	}
}

// clef notes a change of clef; one that repeats the clef in force is none.
func (r *partReader) clef(el Element) {
	clef := Clef{Staff: r.staffAttribute(el, 1), Sign: childText(el, "sign"), Time: r.cursor, Elem: el}
	clef.Line = integer(childText(el, "line"), 0)
	clef.OctaveChange = integer(childText(el, "clef-octave-change"), 0)
	if old, ok := r.clefs[clef.Staff]; ok && old.Sign == clef.Sign && old.Line == clef.Line && old.OctaveChange == clef.OctaveChange {
		return
	}
	r.clefs[clef.Staff] = clef
	r.part.Clefs = append(r.part.Clefs, clef)
	r.measure.clefs++
}

// key notes a change of key signature; one that repeats the one in force is none.
func (r *partReader) key(el Element) {
	key := Key{Staff: r.staffAttribute(el, 0), Fifths: integer(childText(el, "fifths"), 0), Mode: childText(el, "mode"), Time: r.cursor}
	if n := len(r.part.Keys); n > 0 {
		if old := r.part.Keys[n-1]; old.Staff == key.Staff && old.Fifths == key.Fifths && old.Mode == key.Mode {
			return
		}
	}
	r.part.Keys = append(r.part.Keys, key)
	r.measure.keys++
}

func (r *partReader) divisions(el Element) {
	text := strings.TrimSpace(el.Text())
	t, err := ParseTime(text)
	if err != nil || t.Sign() <= 0 || Whole(maxDivisions).Less(t) {
		r.fail(el, "absurd-divisions", fmt.Sprintf("a quarter note cannot be divided into %q", shorten(text)), brokenRemedy)
		return
	}
	r.quarter = Whole(1).Div(t)
}

// staffNumber reads the number of a staff, from 1.
func (r *partReader) staffNumber(text string, el Element) (int, bool) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < 1 {
		return 1, false
	}
	if n > maxStaves {
		r.fail(el, "limit", fmt.Sprintf("a part cannot have %d staves", n), brokenRemedy)
		return 1, false
	}
	return n, true
}

func (r *partReader) staffAttribute(el Element, without int) int {
	if n, ok := r.staffNumber(el.Attr("number"), el); ok {
		return n
	}
	return without
}

// time reads a time signature. One that cannot be understood counts as none.
func (r *partReader) time(el Element) {
	s := Signature{Symbol: el.Attr("symbol"), SenzaMisura: el.Child("senza-misura").Exists()}
	var beats []string
	var types []string
	for c := range el.Children() {
		text := strings.TrimSpace(c.Text())
		switch c.Tag() {
		case "beats":
			beats = append(beats, text)
		case "beat-type":
			types = append(types, text)
		}
	}
	for i := 0; i < len(beats) && i < len(types); i++ {
		kind := integer(types[i], 0)
		for _, summand := range strings.Split(beats[i], "+") {
			n := integer(strings.TrimSpace(summand), 0)
			if n < 1 || kind < 1 || n > 1000 || kind > 1024 {
				s.Parts = nil
				r.tolerate(el, "time-signature", fmt.Sprintf("the time signature %s/%s cannot be understood", shorten(beats[i]), shorten(types[i])), "beats are counted in quarter notes")
				break
			}
			s.Parts = append(s.Parts, Fraction{n, kind})
		}
	}
	s.Beats, s.BeatType = strings.Join(beats, "+"), ""
	if len(types) > 0 {
		s.BeatType = types[0]
	}
	r.signature = s
	if r.cursor.IsZero() {
		r.measure.Signature = s
	}
}

func (r *partReader) barline(el Element) {
	m := r.measure
	style := childText(el, "bar-style")
	left := el.Attr("location") == "left"
	if left {
		m.BarlineLeft = style
	} else if style != "" {
		m.Barline = style
	}
	for c := range el.Children() {
		switch c.Tag() {
		case "repeat":
			if c.Attr("direction") == "forward" {
				m.RepeatStart = true
				continue
			}
			m.RepeatEnd = true
			if n := integer(c.Attr("times"), 0); n > 0 {
				m.Times = min(n, maxPlayed)
			}
		case "ending":
			numbers := endingNumbers(c.Attr("number"))
			if c.Attr("type") == "start" {
				m.EndingStart = numbers
			} else {
				m.EndingStop = numbers
			}
		case "segno":
			m.Segno = true
		case "coda":
			m.Coda = true
		}
	}
	m.Segno = m.Segno || el.Attr("segno") != ""
	m.Coda = m.Coda || el.Attr("coda") != ""
}

// endingNumbers reads "1", "1, 2", "1.2", "1-3".
func endingNumbers(text string) []int {
	var numbers []int
	from := -1
	field := func(s string) {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > 100 {
			return
		}
		for from > 0 && from < n-1 {
			from++
			numbers = append(numbers, from)
		}
		numbers = append(numbers, n)
		from = -1
	}
	start := 0
	for i := 0; i <= len(text); i++ {
		if i < len(text) && text[i] >= '0' && text[i] <= '9' {
			continue
		}
		field(text[start:i])
		start = i + 1
		if i < len(text) && text[i] == '-' && len(numbers) > 0 {
			from = numbers[len(numbers)-1]
		}
	}
	return numbers
}

// sound reads what a <sound> says about playing.
func (r *partReader) sound(el Element, at Time) {
	m := r.measure
	for _, a := range el.Attributes() {
		yes := a.Value == "yes"
		switch a.Name {
		case "tempo":
			if f := number(a.Value); f != nil && *f > 0 {
				r.part.Tempos = append(r.part.Tempos, Tempo{Time: at, Quarter: *f})
				m.tempos++
			}
		case "dacapo":
			m.DaCapo = m.DaCapo || yes
		case "dalsegno":
			m.DalSegno = true
		case "segno":
			m.Segno = true
		case "coda":
			m.Coda = true
		case "tocoda":
			m.ToCoda = true
		case "fine":
			m.Fine = true
		case "forward-repeat":
			m.ForwardRepeat = m.ForwardRepeat || yes
		}
	}
}

// fail refuses the file for an element; the first failure counts.
func (r *partReader) fail(el Element, id, text, remedy string) *Error {
	if r.err == nil {
		r.err = r.d.elementError(el, id, text)
		r.err.Part, r.err.Remedy = r.part.ID, remedy
		if r.measure != nil {
			r.err.Measure = r.measure.Number
		}
	}
	return r.err
}

// tolerate notes a finding about an element of the measure being read.
func (r *partReader) tolerate(el Element, id, text, remedy string) {
	if r.quiet {
		return
	}
	r.d.note(el, Finding{ID: id, Part: r.part.ID, Measure: r.measure.Number, Text: text, Remedy: remedy})
}

// integer reads a small whole number.
func integer(text string, without int) int {
	n, err := strconv.Atoi(strings.TrimPrefix(strings.TrimSpace(text), "+"))
	if err != nil || n > 1<<20 || n < -1<<20 {
		return without
	}
	return n
}
