package passage

import (
	"sort"
	"strings"

	"github.com/beevik/etree"

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
	Elems     []*etree.Element // the elements that it stands in, in file order
}

// AsksNothing reports whether the text is tempo, expression and the like.
func (t *Text) AsksNothing() bool { return len(t.Reading.Statements) == 0 }

// textsOf gathers the organ's texts in the order of time, headings first, and
// from the top staff down where several stand at one time.
func textsOf(score *musicxml.Score, l *Layout, ctx direction.Context) []*Text {
	texts := headTexts(score, l, ctx)
	var in []*Text
	for _, p := range score.Parts {
		for _, g := range p.DirectionGroups() {
			s := l.StaffOf(p, g.Staff)
			if s == nil || strings.TrimSpace(g.Text) == "" {
				continue
			}
			t := &Text{
				Source: Words, Staff: s, Time: g.Time, Place: p.Place(g.Time), Placement: g.Placement,
				Text: g.Text, Dynamics: g.Dynamics,
			}
			t.leadingDynamic(g)
			for _, d := range g.Directions {
				t.Elems = append(t.Elems, d.Elem)
			}
			t.Reading = direction.Read(t.Text, ctx)
			in = append(in, t)
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

// leadingDynamic takes a dynamic that stands before the words in a font of its
// own ("p", then "Sw.") for the dynamic that it is.
func (t *Text) leadingDynamic(g *musicxml.DirectionGroup) {
	if len(g.Texts) == 0 || len(g.Texts[0].Pieces) < 2 {
		return
	}
	first := g.Texts[0].Pieces[0].Text
	rest, ok := strings.CutPrefix(t.Text, first)
	if word := strings.TrimSpace(first); ok && isDynamic(word) {
		t.Dynamics, t.Text = word, strings.TrimLeft(rest, " \n")
	}
}

// isDynamic reports whether a word is a dynamic: p's, f's, or m with one.
func isDynamic(word string) bool {
	if bare := strings.TrimPrefix(word, "m"); bare != word {
		return bare == "p" || bare == "f"
	}
	return word != "" && len(word) <= 4 && (strings.Trim(word, "p") == "" || strings.Trim(word, "f") == "")
}

// headTexts are the texts that stand outside the music: credits of the first
// page, the subtitle, and part names that say what to draw.
func headTexts(score *musicxml.Score, l *Layout, ctx direction.Context) []*Text {
	var texts []*Text
	if len(l.Staves) == 0 {
		return nil
	}
	start := l.Staves[0].Part.Place(musicxml.Time{})
	seen := map[string]bool{}
	add := func(source Source, s *Staff, text string, elem *etree.Element) {
		text = strings.TrimSpace(text)
		if text == "" || seen[text] {
			return
		}
		t := &Text{Source: source, Staff: s, Place: start, Text: text, Reading: direction.Read(text, ctx)}
		if elem != nil {
			t.Elems = []*etree.Element{elem}
		}
		if !t.AsksNothing() {
			seen[text] = true
			texts = append(texts, t)
		}
	}
	for _, c := range score.Credits {
		if c.Page <= 1 && !namesPeople(c.Types) && !samePrint(c.Text, score.Title) {
			add(Heading, nil, c.Text, c.Elem)
		}
	}
	add(Subtitle, nil, score.Subtitle, nil)
	if len(l.Staves) > 1 && l.Staves[0].Part != l.Staves[len(l.Staves)-1].Part {
		for _, s := range l.Staves {
			// The name of a one-staff part may be a division or a list of
			// stops; the name of a part with all staves is the instrument.
			if s.Part.Staves <= 1 && s.Line != Feet {
				add(PartName, s, s.Part.Name, nil)
			}
		}
	}
	return texts
}

// namesPeople reports whether a credit is of a kind that never holds registration.
func namesPeople(types []string) bool {
	for _, t := range types {
		switch t {
		case "composer", "lyricist", "arranger", "rights", "page number", "title":
			return true
		}
	}
	return false
}

func samePrint(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
