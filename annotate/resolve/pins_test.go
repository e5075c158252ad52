package resolve_test

import (
	"strings"
	"testing"

	"stopgap/annotate/resolve"
)

// TestPinsThatExcludeOneAnother: pins that cannot be had at once are refused
// with the reason; a later one takes the place of an earlier one.
func TestPinsThatExcludeOneAnother(t *testing.T) {
	organ := tinyOrgan(t, `Choir: Dulciana 8, Flute 4
		Great: Open Diapason 8, Stopped Diapason 8, Flute 4
		Swell: Salicional 8, Oboe 8
		Pedal: Bourdon 16
		couplers: Swell to Great, Swell to Pedal`)
	solo := section{music: textures["solo rh"], texts: []text{{"rh", "R.H. Sw. Oboe 8"}, {"lh", "L.H. Ch. Dulciana 8"}}}
	asked := askedOf(t, []section{solo, {music: textures["solo rh"], texts: []text{{"feet", "Ped. Bourdon 16"}}}}, "en")
	for _, x := range []struct{ pins, why string }{
		{"1 rh = Great", ""},
		{"1 rh = Great; 1 rh = Swell", `the pins "1 rh = Great" and "1 rh = Swell" exclude one another: the same is played on the Great or on the Swell`},
		{"1 rh = Great; 5 rh = Swell", ""},
		{"1 rh = Swell +1; 1 rh = Swell 0", "exclude one another: the same is played in one octave or in another"},
		{"1 rh = : Oboe 8; 1 rh = : Salicional 8", "exclude one another: the same is played with these stops or with those"},
		{"1 rh = Swell; 1 rh = : Oboe 8", ""},
		{"1 rh = Great: Open Diapason 8; 1 lh = Great: Stopped Diapason 8", "exclude one another in measure 1: the Great sounds the same stops for both"},
		{"1 rh = Great: Open Diapason 8; 1 lh = Great: Open Diapason 8", ""},
		{"1 rh = Great +1; 1 lh = Great 0", "exclude one another in measure 1: the Great is played in one octave"},
		{"1 rh = Great: Oboe 8; 1 lh = Swell: Salicional 8", "exclude one another in measure 1: the Swell cannot lend Oboe 8 while it is played by itself"},
		{"1 rh = Choir: Oboe 8", "there is no coupler from the Swell to the Choir for Oboe 8"},
	} {
		pins, err := resolve.ParsePins(strings.ReplaceAll(x.pins, "; ", "\n"))
		if err != nil {
			t.Fatal(err)
		}
		err = resolve.CheckPins(asked, organ, resolve.Options{Pins: pins})
		switch {
		case err == nil && x.why != "":
			t.Errorf("%s is allowed", x.pins)
		case err != nil && (x.why == "" || !strings.Contains(err.Error(), x.why)):
			t.Errorf("%s: %v", x.pins, err)
		}
	}
}
