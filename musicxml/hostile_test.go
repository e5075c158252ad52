package musicxml

import (
	"errors"
	"strings"
	"testing"
)

// TestLargeAndOdd reads files of some megabytes that repeat one thing, and
// uses what it reads. What takes time by the square of its length would not end
// before the test is given up; how long each takes, the tests of the command
// measure, on the processor.
func TestLargeAndOdd(t *testing.T) {
	const (
		part    = `<score-partwise><part-list><score-part id="P"><part-name/></score-part></part-list><part id="P">`
		partEnd = `</part></score-partwise>`
		inside  = part + `<measure number="1">`
		end     = `</measure>` + partEnd
		words   = `<direction><direction-type><words>Gt.</words></direction-type>`
	)
	for _, c := range []struct {
		name, before, unit, after string
		id                        string // of the error; empty if the file is read
	}{
		{"directions", inside, `<direction/>`, end, ""},
		{"directions with words", inside, words + `</direction>`, end, ""},
		{"directions that no slot reaches", inside, `<forward><duration>1</duration></forward>` + words + `<offset>0.37</offset></direction>`, end, ""},
		{"directions earlier and earlier", inside, words + `<offset>-1</offset></direction>`, end, ""},
		{"notes without duration", inside, `<note/>`, end, ""},
		{"chord notes", inside, `<note><chord/><duration>1</duration></note>`, end, ""},
		{"grace notes", inside, `<note><grace/></note>`, end, ""},
		{"hairpins", inside, `<direction><direction-type><wedge type="crescendo"/></direction-type></direction>`, end, ""},
		{"octave lines", inside, `<direction><direction-type><octave-shift type="up" number="7"/></direction-type></direction>`, end, ""},
		{"instructions", inside, `<?app x?>`, end, ""},
		{"repeats", part, `<measure><barline><repeat direction="backward" times="99999"/></barline></measure>`, partEnd, ""},
		{"endings", part, `<measure><barline><ending number="1-100" type="start"/></barline></measure>`, partEnd, ""},
		{"da capos", part, `<measure><sound dacapo="yes" dalsegno="a" segno="a" tocoda="b"/></measure>`, partEnd, ""},
		{"time signatures of no sense", inside, `<attributes><time><beats>x</beats><beat-type>0</beat-type></time></attributes>`, end, ""},
		{"part groups", `<score-partwise><part-list>`, `<part-group type="start"><group-name>x</group-name></part-group>`, `<score-part id="P"/></part-list><part id="P"/></score-partwise>`, ""},
		{"references", inside + `<x y="`, `&#97;`, `"/>` + end, ""},
		{"a long attribute", inside + `<x y="`, `abcdefgh`, `"/>` + end, ""},
		{"a long word", inside + `<direction><direction-type><words>`, `Gt. Flute 8 `, `</words></direction-type></direction>` + end, ""},
		{"measures", part, `<measure/>`, partEnd, "limit"},
		{"parts", `<score-partwise>`, `<part id="§"><measure/></part>`, `</score-partwise>`, "limit"},
		{"new parts in every measure", `<score-timewise>`, `<measure><part id="§"/></measure>`, `</score-timewise>`, "limit"},
		{"words in one direction", inside + `<direction><direction-type>`, `<words>x</words>`, `</direction-type></direction>` + end, "limit"},
		{"lines that go nowhere", inside, "\r\n", "", "xml-syntax"},
	} {
		t.Run(c.name, func(t *testing.T) {
			count := (1 << 20) / len(c.unit)
			switch {
			case c.id == "limit":
				count = maxMeasures + 1
			case testing.Short():
				count /= 10
			case c.name == "directions":
				count = 1_000_000
			}
			var b strings.Builder
			b.WriteString(c.before)
			for i := range count {
				b.WriteString(strings.Replace(c.unit, "§", string(rune('0'+i%10))+strings.Repeat("i", i%5000/10), 1))
			}
			b.WriteString(c.after)
			d, err := Read("large", []byte(b.String()))
			var e *Error
			if c.id != "" {
				if !errors.As(err, &e) || e.ID != c.id {
					t.Errorf("got %v, want %s", err, c.id)
				}
			} else if err != nil {
				t.Errorf("refused: %v", err)
			} else {
				useAll(d)
			}
		})
	}
}

// useAll does with a document what a marker of scores does.
func useAll(d *Document) {
	d.Score().Order()
	d.Instructions("app")
	var edits []Edit
	for _, p := range d.Score().Parts {
		for _, g := range p.DirectionGroups() {
			_ = p.Place(g.Time)
			if a, err := p.Anchor(g.Staff, g.Time); err == nil {
				edits = append(edits, a.Edit("<direction><direction-type><words>x</words></direction-type></direction>"))
			}
			d.Position(g.Directions[0].Span().Start)
		}
		for _, n := range p.Notes {
			p.Anchor(n.Staff, n.Onset)
		}
	}
	d.Apply(edits)
}
