package musicxml_test

import (
	"fmt"
	"log"
	"strings"

	"stopgap/musicxml"
)

const score = `<score-partwise version="4.0">
  <part-list>
    <score-part id="P1"><part-name>Organ</part-name></score-part>
  </part-list>
  <part id="P1">
    <measure number="12">
      <attributes><divisions>2</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes>
      <note><pitch><step>G</step><octave>4</octave></pitch><duration>1</duration></note>
      <note><pitch><step>A</step><octave>4</octave></pitch><duration>3</duration></note>
    </measure>
  </part>
</score-partwise>
`

// A direction is put before the second note; nothing else changes.
func Example() {
	doc, err := musicxml.Read("score.musicxml", []byte(score))
	if err != nil {
		log.Fatal(err)
	}
	part := doc.Score().Parts[0]
	note := part.Notes[1]
	fmt.Println(note.Pitch, "in", note.Place())

	anchor, err := part.Anchor(note.Staff, note.Onset)
	if err != nil {
		log.Fatal(err)
	}
	edit := anchor.Edit("<direction><direction-type><words>" + musicxml.Escape("Gt. & Sw.") + "</words></direction-type></direction>")
	marked, err := doc.Apply([]musicxml.Edit{edit})
	if err != nil {
		log.Fatal(err)
	}
	for line := range strings.Lines(string(marked)) {
		if !strings.Contains(score, line) {
			fmt.Print("+", line)
		}
	}
	// Output:
	// A4 in measure 12, beat 1½
	// +      <direction><direction-type><words>Gt. &amp; Sw.</words></direction-type></direction>
}
