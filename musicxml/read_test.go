package musicxml

import (
	"bytes"
	"strings"
	"testing"
)

const small = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <part-list>
    <score-part id="P1"><part-name>Organ</part-name></score-part>
  </part-list>
  <part id="P1">
    <measure number="1">
      <attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>
      <note><pitch><step>C</step><octave>4</octave></pitch><duration>8</duration><voice>1</voice><staff>1</staff></note>
      <backup><duration>8</duration></backup>
      <note><rest/><duration>3</duration><voice>2</voice><staff>2</staff></note>
      <direction placement="below"><direction-type><words>Ped.</words></direction-type><offset>1</offset><staff>2</staff></direction>
      <note><pitch><step>F</step><alter>1</alter><octave>2</octave></pitch><duration>5</duration><voice>2</voice><staff>2</staff></note>
    </measure>
  </part>
</score-partwise>
`

func TestReadSmall(t *testing.T) {
	d, err := Read("small.musicxml", []byte(small))
	if err != nil {
		t.Fatal(err)
	}
	p := d.Score().Parts[0]
	if p.Name != "Organ" || p.Staves != 2 || len(p.Notes) != 3 || len(p.Directions) != 1 {
		t.Fatalf("part %+v", p)
	}
	if n := p.Notes[2]; n.Onset != NewTime(3, 2) || n.Duration != NewTime(5, 2) || n.Pitch.MIDI() != 42 || n.Place().Beat.Printed() != "2½" {
		t.Errorf("note %+v", n)
	}
	if dir := p.Directions[0]; dir.Time != Whole(2) || dir.Staff != 2 || dir.Text != "Ped." {
		t.Errorf("direction %+v", dir)
	}
	same, err := d.Apply(nil)
	if err != nil || !bytes.Equal(same, []byte(small)) {
		t.Errorf("no edits changed the file: %v", err)
	}
	a, err := p.Anchor(2, NewTime(3, 2))
	if err != nil {
		t.Fatal(err)
	}
	marked, err := d.Apply([]Edit{a.Edit("<direction><direction-type><words>8 ft.</words></direction-type><staff>2</staff></direction>")})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Replace(small, "      <note><pitch><step>F", "      <direction><direction-type><words>8 ft.</words></direction-type><staff>2</staff></direction>\n      <note><pitch><step>F", 1)
	if string(marked) != want {
		t.Errorf("got\n%s", marked)
	}
}
