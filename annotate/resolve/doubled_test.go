package resolve_test

import (
	"testing"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/resolve"
)

// TestDoublingVoiceGoesBeforeThePitch: of two voices at one pitch the second
// adds colour, and is left out sooner than a note goes off the keyboard or the
// last stop of that pitch goes.
func TestDoublingVoiceGoesBeforeThePitch(t *testing.T) {
	organ := tinyOrgan(t, `Choir: Dulciana 8
		Great: Principal 4, Flute 4, Open Diapason 8
		Swell: Salicional 8
		Pedal: Bourdon 16`)
	for _, x := range []struct{ music, rh, lh string }{
		{"low solo lh", "R.H. Sw. Salicional 8", "L.H. Gt. Open Diapason 8, Stopped Diapason 8"}, // G2 an octave lower would be off the keyboard
		{"solo rh", "R.H. Gt. Stopped Diapason 8, Open Diapason 8", "L.H. Sw. Salicional 8"},
	} {
		asked := askedOf(t, []section{{music: textures[x.music], texts: []text{{"rh", x.rh}, {"lh", x.lh}}}}, "en")
		plan := resolve.Resolve(asked, organ, resolve.Options{})
		plantest.Check(t, plan)
		for _, line := range plan.Settings[0].Lines {
			if !line.PitchKept || line.Octave != 0 {
				if line.Asked.Line != "feet" {
					t.Errorf("%s: %s is not kept as printed\n%s", x.music, line.Asked.Line, plantest.Dump(plan))
				}
			}
		}
		if plan.Cost >= 300 {
			t.Errorf("%s: a doubling voice costs %d\n%s", x.music, plan.Cost, plantest.Dump(plan))
		}
	}
}
