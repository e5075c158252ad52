package sheet

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestUnregistered: a keyboard that is played although the score never says
// with what is named on the sheet, so that the player does not sit before silence.
func TestUnregistered(t *testing.T) {
	score, err := os.ReadFile("testdata/ten-bars.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	lines := "rh Great, lh Great, feet Pedal"
	passages := func(drawn string) []given {
		var out []given
		for range 5 {
			out = append(out, given{lines: lines, drawn: drawn})
		}
		return out
	}
	for drawn, want := range map[string][]row{
		"Great Open Diapason 8": {
			{"Great", "Open Diapason 8"}, {"Pedal", "as you like: the score names no stops for it"}, {"Hands", "both on Gt."},
		},
		"Great Open Diapason 8, Pedal Trumpet 8": {
			{"Great", "Open Diapason 8"}, {"Pedal", "Trumpet 8"}, {"Hands", "both on Gt."},
		},
	} {
		s := newSheet(planned(t, testOrgan(t, smallOrgan), score, passages(drawn)...), Options{})
		if diff := cmp.Diff(want, s.startRows(s.entries[0])); diff != "" {
			t.Errorf("%s: %s", drawn, diff)
		}
	}
}
