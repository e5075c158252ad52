package resolve_test

import (
	"strings"
	"testing"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
)

// TestParsePins reads pins as players write them, and refuses what is none
// with the line that it stands on.
func TestParsePins(t *testing.T) {
	pins, err := resolve.ParsePins("\ufeff27 feet = Pedal +1: Trumpet 8\r\r\n# a remark\n\t1 rh = Great # and another\n40 lh = : Dulciana 8,  Flute  4\n3 both = -1")
	if err != nil || len(pins) != 4 {
		t.Fatalf("%v, %v", pins, err)
	}
	if p := pins[0]; p.Measure != "27" || p.Line != passage.Feet || p.Division != "Pedal" || *p.Octave != 1 || strings.Join(p.Stops, "|") != "Trumpet 8" {
		t.Errorf("got %+v", p)
	}
	if p := pins[2]; p.Division != "" || p.Octave != nil || strings.Join(p.Stops, "|") != "Dulciana 8|Flute 4" {
		t.Errorf("got %+v", p)
	}
	for text, says := range map[string]string{
		"1 rh = Great\n2 = Great": "line 2: ",
		"1 rh Great":              "does not name a measure and a line",
		"1 alto = Great":          "names no line",
		"1 rh = Great +3":         "more than two octaves",
		"1 rh =":                  "fixes nothing",
		"1 rh = Gr\x00eat":        "holds what is no text",
		"\xff\xfe1\x00":           "not text in UTF-8",
		"1 rh " + strings.Repeat("Great ", 100_000):     "…",
		strings.Repeat("1", 100_000) + " rh = Great +3": "…",
	} {
		_, err := resolve.ParsePins(text)
		if err == nil || !strings.Contains(err.Error(), says) || len(err.Error()) > 500 || strings.ContainsAny(err.Error(), "\x00\n") {
			t.Errorf("%.40q: %v, want %q", text, err, says)
		}
	}
}
