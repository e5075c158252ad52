package passage

import (
	"sort"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// A Source is where in the file a text stands.
type Source string

// The places where programs put registration.
const (
	Words    Source = "words"     // a direction in the music
	Heading  Source = "heading"   // a credit on the first page
	Subtitle Source = "subtitle"  // the movement's or work's title lines
	PartName Source = "part name" // the name of a part
)

// A Text is one printed direction, joined as it is read, and what it says.
type Text struct {
	Source    Source
	Staff     *Staff // nil for a heading
	Time      musicxml.Time
	Place     musicxml.Place
	Placement string // "above", "below" or ""
	Text      string
	Dynamics  string // a dynamic that stands with the words: "p", "ff"
	Reading   direction.Reading
	Elems     []musicxml.Element // the elements that it stands in, in file order
}

// AsksNothing reports whether the text is tempo, expression and the like.
func (t *Text) AsksNothing() bool {
	return len(t.Reading.Statements) == 0 && t.recalls() == noRecall
}

// A textReader reads the texts of one score. The same text is read once.
type textReader struct {
	lang string
	read map[readKey]direction.Reading
}

type readKey struct {
	text  string
	pedal bool
}

func newTextReader(lang string) *textReader {
	return &textReader{lang: lang, read: map[readKey]direction.Reading{}}
}

// reading is what a text says at the staff, which is nil for a heading.
func (r *textReader) reading(text string, s *Staff) direction.Reading {
	key := readKey{text, s != nil && s.Line == Feet}
	known, ok := r.read[key]
	if !ok {
		known = direction.Read(text, direction.Context{Lang: r.lang, Pedal: key.pedal})
		r.read[key] = known
	}
	return known
}

// textsOf gathers the organ's texts in the order of time, headings first, and
// from the top staff down where several stand at one time. What stands beside
// them of dynamics goes into d.
func (r *textReader) textsOf(score *musicxml.Score, l *Layout, d *dynamics) []*Text {
	texts := r.headTexts(score, l)
	var in []*Text
	seen := map[*musicxml.Part]bool{}
	for _, s := range l.Staves {
		if seen[s.Part] {
			continue
		}
		seen[s.Part] = true
		for _, g := range s.Part.DirectionGroups() {
			at := l.StaffOf(s.Part, g.Staff)
			if at == nil {
				continue
			}
			t := r.text(g, at)
			d.add(g, t)
			if t.Text != "" {
				in = append(in, t)
			}
		}
	}
	order := map[*Staff]int{}
	for i, s := range l.Staves {
		order[s] = i
	}
	sort.SliceStable(in, func(i, j int) bool {
		if c := in[i].Time.Cmp(in[j].Time); c != 0 {
			return c < 0
		}
		return order[in[i].Staff] < order[in[j].Staff]
	})
	return append(texts, in...)
}

// text is what stands at one place.
func (r *textReader) text(g *musicxml.DirectionGroup, s *Staff) *Text {
	t := &Text{
		Source: Words, Staff: s, Time: g.Time, Place: s.Part.Place(g.Time), Placement: g.Placement,
		Text: strings.TrimSpace(g.Text), Dynamics: g.Dynamics,
	}
	t.dynamicsApart(g)
	for _, d := range g.Directions {
		t.Elems = append(t.Elems, d.Elem)
	}
	if t.Text != "" {
		t.Reading = r.reading(t.Text, s)
	}
	return t
}

// dynamicsApart takes a dynamic that stands in a font of its own before the
// words ("p", then "Sw."), or in a direction of its own beside them, for the
// dynamic that it is.
func (t *Text) dynamicsApart(g *musicxml.DirectionGroup) {
	var b strings.Builder
	rest := g.Text
	for _, d := range g.Texts {
		i := strings.Index(rest, d.Text)
		if i < 0 || len(d.Pieces) == 0 {
			return
		}
		b.WriteString(rest[:i])
		rest = rest[i+len(d.Text):]
		text, first := d.Text, d.Pieces[0].Text
		word := strings.TrimSpace(first)
		switch {
		case !isDynamic(word):
		case strings.TrimSpace(text) == word && len(g.Texts) > 1:
			t.Dynamics, text = word, ""
			rest = strings.TrimLeft(rest, " \n")
		case len(d.Pieces) > 1 && strings.HasPrefix(text, first):
			t.Dynamics, text = word, strings.TrimLeft(text[len(first):], " \n")
		case strings.TrimSpace(text) == word:
			t.Dynamics = word
		}
		b.WriteString(text)
	}
	t.Text = strings.TrimSpace(b.String() + rest)
}

// isDynamic reports whether a word is a dynamic: p's, f's, or m with one.
func isDynamic(word string) bool {
	if bare := strings.TrimPrefix(word, "m"); bare != word {
		return bare == "p" || bare == "f"
	}
	return word != "" && len(word) <= 4 && (strings.Trim(word, "p") == "" || strings.Trim(word, "f") == "")
}
