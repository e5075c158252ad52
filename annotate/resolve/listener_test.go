package resolve_test

import (
	"os"
	"testing"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry/shelf"
	"stopgap/registry/sound"
)

// TestListenerHearsTheDifference: what a Listener hears of a line, given and
// asked, differs by what the plan says of it.
func TestListenerHearsTheDifference(t *testing.T) {
	data, err := os.ReadFile("../../testdata/chorale-prelude.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := musicxml.Read("chorale-prelude.musicxml", data)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := passage.Read(doc.Score(), passage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	o, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	plan := resolve.Resolve(asked, o, resolve.Options{})
	listener := plan.Listen()
	heard := 0
	for _, s := range plan.Settings {
		for _, line := range s.Lines {
			given, ok1 := listener.Given(s, line)
			wanted, ok2 := listener.Asked(s, line)
			if line.Heard == nil {
				if ok1 && ok2 {
					t.Errorf("%v, %s: both are heard, and the plan has no difference", s.Passage.From, line.Asked.Line)
				}
				continue
			}
			heard++
			d := sound.Between(given, wanted)
			got := resolve.Difference{Loudness: sound.Tenths(d.Loudness), Brightness: sound.Tenths(d.Brightness), Colour: sound.Tenths(d.Colour)}
			if !ok1 || !ok2 || got != *line.Heard {
				t.Errorf("%v, %s: %+v (%v, %v), and the plan says %+v", s.Passage.From, line.Asked.Line, got, ok1, ok2, *line.Heard)
			}
		}
	}
	if heard == 0 {
		t.Error("no line is heard")
	}
}
