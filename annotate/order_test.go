package annotate_test

import (
	"fmt"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry/organfile"
)

// TestPedalSoloOrder takes from an organ, one after another, the means by which
// it gives a 4 ft. reed in the pedal: what comes next costs more each time, in
// the order in which an organist would try (common practice; the last two by
// judgement).
func TestPedalSoloOrder(t *testing.T) {
	const file = `
name: What is left
source: invented for tests
pedalboard: {compass: C2-F4}
keyboards:
  - {name: Great, compass: C2-G6}
  - {name: Swell, compass: C2-G6}
  - {name: Solo, compass: C2-G6}
divisions:
  - {name: Great, stops: [Stopped Diapason 8, Open Diapason 8]}
  - {name: Swell, stops: [Gedackt 8, Salicional 8]}
  - {name: Solo, stops: [%s]}
  - {name: Pedal, stops: [%s]}
couplers: [%s]
`
	steps := []struct {
		device                string
		solo, pedal, couplers string
		keyboard              string
		octave                int
		by                    passage.Line
		stops                 string
		couplersOn            int
	}{
		{"the stop itself", "Tuba 8, Clarion 4", "Bourdon 16, Gedackt 8, Octave 4, Trumpet 8, Clarion 4", "Solo to Pedal", "Pedal", 0, passage.Feet, "Clarion 4", 0},
		{"the family an octave higher", "Tuba 8, Clarion 4", "Bourdon 16, Gedackt 8, Octave 4, Trumpet 8", "Solo to Pedal", "Pedal", 1, passage.Feet, "Trumpet 8", 0},
		{"coupled down from a free manual", "Tuba 8, Clarion 4", "Bourdon 16, Gedackt 8, Octave 4", "Solo to Pedal", "Pedal", 0, passage.Feet, "Clarion 4", 1},
		{"taken by a hand", "Tuba 8, Clarion 4", "Bourdon 16, Gedackt 8, Octave 4", "", "Solo", 0, passage.LH, "Clarion 4", 0},
		{"the nearest family at the pitch", "Flute 8", "Bourdon 16, Gedackt 8, Octave 4", "", "Pedal", 0, passage.Feet, "Octave 4", 0},
	}
	doc := open(t, "../testdata/annotate/51-pedal-reed-an-octave-higher.musicxml")
	before := -1
	for _, step := range steps {
		organ, findings := organfile.Read("left.yaml", []byte(fmt.Sprintf(file, step.solo, step.pedal, step.couplers)))
		if organ == nil {
			t.Fatal(findings)
		}
		r, err := annotate.Plan(doc, organ, annotate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s := r.Plan.Settings[1]
		var line *resolve.Line
		for _, l := range s.Lines {
			if l.Asked.Line == passage.Feet {
				line = l
			}
		}
		var stops []string
		for _, x := range line.Part.Stops() {
			stops = append(stops, x.Stop.Text)
		}
		if got := strings.Join(stops, ", "); line.Keyboard.Name != step.keyboard || line.Octave != step.octave || line.By != step.by || got != step.stops || len(s.Drawn.Couplers) != step.couplersOn || !line.PitchKept {
			t.Errorf("%s: it is %s by %s on the %s, octave %d, with %d couplers, pitch kept: %v", step.device, got, line.By, line.Keyboard.Name, line.Octave, len(s.Drawn.Couplers), line.PitchKept)
		}
		if s.Cost <= before {
			t.Errorf("%s costs %d, no more than %d before it", step.device, s.Cost, before)
		}
		t.Logf("%s: %d", step.device, s.Cost)
		before = s.Cost
	}
}
