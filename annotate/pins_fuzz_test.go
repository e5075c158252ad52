package annotate_test

import (
	"os"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry/shelf"
)

// FuzzPins reads any text as a file of pins. What is refused is refused in one
// line that is not too long to read; a plan with the others keeps all promises.
func FuzzPins(f *testing.F) {
	const file = "../testdata/chorale-prelude.musicxml"
	data, err := os.ReadFile(file)
	if err != nil {
		f.Fatal(err)
	}
	doc, err := musicxml.Read(file, data)
	if err != nil {
		f.Fatal(err)
	}
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		f.Fatal(err)
	}
	for _, text := range []string{
		"27 feet = Pedal +1: Trumpet 8", "1 rh = Great\n1 lh = Swell: Salicional 8", "# all\r\n\ufeff17 feet = Swell -1", "3 feet = : Bourdon 16, Bass Flute 8\n28 both = Great",
		"0 rh = Great -2", "1 lh = +1", "28 both = Choir: Clarinet 8", "17 lh = 0", "x y = z", "3 feet = Pedal +1: Trumpet 8\n3 feet = Pedal",
	} {
		f.Add(text)
	}
	oneGoodLine := func(t *testing.T, err error) {
		if text := err.Error(); strings.ContainsAny(text, "\r\n") || len(text) > 2000 {
			t.Fatalf("a bad refusal: %.300q", text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		pins, err := resolve.ParsePins(text)
		if err != nil {
			oneGoodLine(t, err)
			return
		}
		if len(pins) > 20 {
			return
		}
		opts := annotate.Options{Propose: true, Resolve: resolve.Options{Pins: pins}}
		if _, err := annotate.Plan(doc, organ, opts); err != nil {
			oneGoodLine(t, err)
			return
		}
		for _, broken := range faults(doc, data, organ, opts) {
			if !strings.HasPrefix(broken, "promise 3:") { // a pin may give a pitch up
				t.Error(broken)
			}
		}
	})
}
