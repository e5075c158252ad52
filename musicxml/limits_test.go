package musicxml

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestLimitsAsDocumented holds the table of README.md against the limits.
func TestLimitsAsDocumented(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if MaxFileBytes != maxTextBytes {
		t.Error("README.md says that the file and its text may be as large")
	}
	want := map[string]string{
		"score | size of the file, and of its text unpacked and decoded": mebibytes(maxTextBytes),
		"score | elements":                                                    thousands(maxElements),
		"score | elements inside one another":                                 thousands(maxDepth),
		"score | attributes of one element":                                   thousands(maxAttributes),
		"score | entities that the doctype declares":                          thousands(maxEntities),
		"score | what one entity stands for":                                  fmt.Sprintf("%d KiB", maxEntityText>>10),
		"score | what all entities of the file stand for":                     mebibytes(maxExpandedText),
		"score | parts":                                                       thousands(maxParts),
		"score | measures, of all parts together":                             thousands(maxMeasures),
		"score | staves of one part":                                          thousands(maxStaves),
		"score | pieces of text in one direction":                             thousands(maxPieces),
		"score | text at one place of a staff, in a heading or a part's name": mebibytes(maxWords),
		"score | a measure's number, a part's id":                             thousands(maxNumber) + " bytes",
		"score | divisions of a quarter note":                                 thousands(maxDivisions),
		"score | octave of a note":                                            thousands(maxOctave),
		"compressed score | files in it":                                      thousands(maxArchiveEntries),
		fmt.Sprintf("compressed score | how far the score is packed, if it is larger than %s", mebibytes(smallArchiveEntry)): fmt.Sprintf("%d to 1", maxArchiveRatio),
		"compressed score | size of the file that is kept in the marked one":                                                 mebibytes(maxKept),
	}
	for line := range strings.Lines(string(text)) {
		if cells := strings.Split(strings.Trim(line, "| \n"), " | "); len(cells) == 3 && (cells[0] == "score" || cells[0] == "compressed score") {
			what := cells[0] + " | " + cells[1]
			if want[what] != cells[2] {
				t.Errorf("%s: README.md says %s, not %q", what, cells[2], want[what])
			}
			delete(want, what)
		}
	}
	for what, most := range want {
		t.Errorf("README.md lacks %s: %s", what, most)
	}
}

func mebibytes(n int) string { return fmt.Sprintf("%d MiB", n>>20) }

// thousands writes a number as a table for people has it: 10,000.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
