package musicxml

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A randomScore is a score as lists of elements, which can be written
// partwise and timewise.
type randomScore struct {
	parts [][]string // of each part the content of its measures
	newl  string     // line end and indentation between elements; may be empty
}

func drawScore(t *rapid.T) randomScore {
	s := randomScore{newl: rapid.SampledFrom([]string{"", "\n", "\n      ", "\r\n\t", "\r  "}).Draw(t, "between elements")}
	measures := rapid.IntRange(1, 4).Draw(t, "measures")
	beats := rapid.IntRange(2, 5).Draw(t, "beats")
	for range rapid.IntRange(1, 3).Draw(t, "parts") {
		divisions := rapid.SampledFrom([]int{1, 2, 3, 4, 6, 8, 480}).Draw(t, "divisions")
		staves := rapid.IntRange(1, 3).Draw(t, "staves")
		var part []string
		for m := range measures {
			w := measureWriter{t: t, between: s.newl}
			if m == 0 {
				w.add("<attributes><divisions>%d</divisions><time><beats>%d</beats><beat-type>4</beat-type></time><staves>%d</staves></attributes>", divisions, beats, staves)
			} else if rapid.IntRange(0, 4).Draw(t, "change") == 0 {
				divisions = rapid.SampledFrom([]int{1, 2, 3, 4, 12}).Draw(t, "new divisions")
				w.add("<print new-system=\"yes\"/>")
				w.add("<attributes><divisions>%d</divisions></attributes>", divisions)
			}
			for staff := 1; staff <= staves; staff++ {
				w.voice(staff, divisions, beats*divisions)
			}
			if rapid.Bool().Draw(t, "barline") {
				w.add("<barline location=\"right\"><bar-style>light-light</bar-style></barline>")
			}
			part = append(part, w.b.String())
		}
		s.parts = append(s.parts, part)
	}
	return s
}

// A measureWriter writes one measure.
type measureWriter struct {
	t       *rapid.T
	b       strings.Builder
	between string
}

func (w *measureWriter) add(format string, args ...any) {
	fmt.Fprintf(&w.b, w.between+format, args...)
}

// voice fills a staff with notes of a total length, and goes back.
func (w *measureWriter) voice(staff, divisions, total int) {
	used := 0
	for used < total {
		length := min(rapid.IntRange(1, 2*divisions).Draw(w.t, "length"), total-used)
		kind := rapid.IntRange(0, 11).Draw(w.t, "kind")
		note := fmt.Sprintf("<duration>%d</duration><voice>%d</voice><staff>%d</staff></note>", length, staff, staff)
		pitch := fmt.Sprintf("<pitch><step>%c</step><octave>4</octave></pitch>", 'A'+kind%7)
		switch kind {
		case 0:
			w.add("<note><rest/>" + note)
		case 1:
			w.add("<forward><duration>%d</duration></forward>", length)
		case 2:
			w.add("<note>" + pitch + note)
			w.add("<note><chord/>" + pitch + note)
		case 3:
			w.add("<note><grace/>%s<staff>%d</staff></note>", pitch, staff)
			w.add("<note><grace/><chord/>%s<staff>%d</staff></note>", pitch, staff)
			w.add("<note>" + pitch + note)
		case 4:
			w.add("<direction><direction-type><words>Gt.</words></direction-type><offset>%d</offset><staff>%d</staff></direction>", rapid.IntRange(-2, 4).Draw(w.t, "offset"), staff)
			w.add("<note>" + pitch + note)
		case 5:
			w.add("<!-- comment --><harmony/>")
			w.add("<note>" + pitch + note)
		default:
			w.add("<note>" + pitch + note)
		}
		used += length
		if kind == 11 && rapid.Bool().Draw(w.t, "short") {
			break
		}
	}
	if used > 0 {
		w.add("<backup><duration>%d</duration></backup>", used)
	}
}

func (s randomScore) head(root string) *strings.Builder {
	var b strings.Builder
	fmt.Fprintf(&b, "<%s version=\"3.0\"><part-list>", root)
	for i := range s.parts {
		fmt.Fprintf(&b, "<score-part id=\"P%d\"><part-name>Organ</part-name></score-part>", i)
	}
	b.WriteString("</part-list>")
	return &b
}

func (s randomScore) partwise() []byte {
	b := s.head("score-partwise")
	for i, part := range s.parts {
		fmt.Fprintf(b, "<part id=\"P%d\">", i)
		for m, content := range part {
			fmt.Fprintf(b, "\n<measure number=\"%d\">%s\n</measure>", m+1, content)
		}
		b.WriteString("</part>")
	}
	b.WriteString("</score-partwise>")
	return []byte(b.String())
}

func (s randomScore) timewise() []byte {
	b := s.head("score-timewise")
	for m := range s.parts[0] {
		fmt.Fprintf(b, "<measure number=\"%d\">", m+1)
		for i, part := range s.parts {
			fmt.Fprintf(b, "\n<part id=\"P%d\">%s\n</part>", i, part[m])
		}
		b.WriteString("</measure>")
	}
	b.WriteString("</score-timewise>")
	return []byte(b.String())
}

// TestRandomTimewise reads random scores in both forms.
func TestRandomTimewise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScore(t)
		a, err := Read("random", s.partwise())
		if err != nil {
			t.Fatal(err)
		}
		b, err := Read("random", s.timewise())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(describe(a), strings.Replace(describe(b), "timewise true", "timewise false", 1)); diff != "" {
			t.Fatal(diff)
		}
	})
}

// TestRandomAnchors puts directions at random moments of random scores: read
// again each has exactly its time and staff, no note has moved, and taking
// them out gives the file back.
func TestRandomAnchors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScore(t)
		data := s.partwise()
		if rapid.Bool().Draw(t, "timewise") {
			data = s.timewise()
		}
		d, err := Read("random", data)
		if err != nil {
			t.Fatal(err)
		}
		if err := checkAnchors(d, 5); err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		for pi, p := range d.Score().Parts {
			m := rapid.SampledFrom(p.Measures).Draw(t, "measure")
			quarters := int64(m.End.Sub(m.Start).Float64())
			at := m.Start.Add(Whole(rapid.Int64Range(0, quarters).Draw(t, "quarter")))
			if rapid.IntRange(0, 3).Draw(t, "anywhere") == 0 {
				at = m.Start.Add(m.End.Sub(m.Start).Mul(NewTime(int64(rapid.IntRange(0, 24).Draw(t, "of 24")), 24)))
			}
			staff := rapid.IntRange(1, p.Staves).Draw(t, "staff")
			a, err := p.Anchor(staff, at)
			if err != nil {
				if at.Sub(p.MeasureAt(at).Start).Den() == 1 {
					t.Fatal(err) // all divisions reach whole quarters
				}
				continue
			}
			offset := ""
			if a.Offset != "" {
				offset = "<offset>" + a.Offset + "</offset>"
			}
			out, err := d.Apply([]Edit{a.Edit(fmt.Sprintf("<direction><direction-type><words>here</words></direction-type>%s<staff>%d</staff></direction>", offset, staff))})
			if err != nil {
				t.Fatal(err)
			}
			again, err := Read("random", out)
			if err != nil {
				t.Fatal(err)
			}
			found := false
			for _, dir := range again.Score().Parts[pi].Directions {
				if dir.Text == "here" {
					found = true
					if dir.Time != at || dir.Staff != staff {
						t.Fatalf("wanted %v on staff %d, got %v on %d\n%s", at, staff, dir.Time, dir.Staff, out)
					}
				}
			}
			if !found {
				t.Fatalf("lost\n%s", out)
			}
		}
	})
}
