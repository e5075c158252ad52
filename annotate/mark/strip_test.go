package mark

import (
	"strings"
	"testing"

	"stopgap/musicxml"
)

// TestStripKeepsLineEnds: a direction that was put away comes back with the
// line ends of its file.
func TestStripKeepsLineEnds(t *testing.T) {
	for name, end := range map[string]string{"LF": "\n", "CRLF": "\r\n", "CR": "\r"} {
		t.Run(name, func(t *testing.T) {
			const before, after = `<score-partwise version="4.0">|<part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list>|<part id="P1"><measure number="1">|`, `</measure></part>|</score-partwise>|`
			const direction = `<direction>|  <direction-type><words>Gt. Flute 8</words></direction-type>|</direction>|`
			lines := func(text string) string { return strings.ReplaceAll(text, "|", end) }
			doc, err := musicxml.Read("score", []byte(lines(before+"<?"+Target+" was "+direction+"?>"+after)))
			if err != nil {
				t.Fatal(err)
			}
			edits, _ := Strip(doc)
			got, err := doc.Apply(edits)
			if err != nil {
				t.Fatal(err)
			}
			if want := lines(before + direction + after); string(got) != want {
				t.Errorf("got  %q\nwant %q", got, want)
			}
		})
	}
}
