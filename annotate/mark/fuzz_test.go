package mark

import (
	"errors"
	"testing"

	"stopgap/musicxml"
)

// FuzzStrip gives Strip scores with instructions in them as nobody writes them:
// it must not panic, and its edits must not overlap or lie out of bounds. What
// an instruction brings back may be no XML; then nothing is written.
func FuzzStrip(f *testing.F) {
	const before, after = `<score-partwise><part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list><part id="P1"><measure number="1">`, `</measure></part></score-partwise>`
	for _, inside := range []string{
		`<?stopgap stops x?><direction><direction-type><words>[a]</words></direction-type></direction>`,
		`<note><pitch><step>C</step><?stopgap octave 3?><octave>4</octave></pitch><duration>1</duration></note>`,
		`<note><pitch><step>C</step><?stopgap octave 3?><?stopgap octave 2?><octave><?stopgap was 1?>4</octave></pitch></note>`,
		`<?stopgap was <direction/>?>`,
		`<?stopgap for <stem>up</stem>?><stem><?stopgap for x?><b/></stem>`,
		`<?stopgap for?>`,
		`<?stopgap?><?stopgap clef?><attributes/><?stopgap added?><accidental>sharp</accidental>`,
		` <?stopgap loco?> <?stopgap was ` + "\r\n" + `?> `,
	} {
		f.Add(before + inside + after)
	}
	f.Fuzz(func(t *testing.T, text string) {
		doc, err := musicxml.Read("score", []byte(text))
		if err != nil {
			return
		}
		edits, _ := Strip(doc)
		_, err = doc.Apply(edits)
		var refused *musicxml.Error
		if errors.As(err, &refused) && (refused.ID == "edit-misplaced" || refused.ID == "edit-inexact") {
			t.Errorf("%v\n%q", err, text)
		}
	})
}
