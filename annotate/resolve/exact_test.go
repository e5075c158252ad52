package resolve_test

import (
	"testing"

	"stopgap/annotate/resolve"
)

// TestExactMatchChangesNothing: what is there where it is asked for is drawn,
// and costs nothing, also where a soft solo is asked for over a louder stop.
func TestExactMatchChangesNothing(t *testing.T) {
	organ := tinyOrgan(t, `Choir: Dulciana 8, Gamba 8, Stopped Diapason 8
		Great: Open Diapason 8, Gamba 8, Dulciana 8
		Pedal: Bourdon 16`)
	for _, solo := range []string{"Dulciana 8", "Gamba 8", "Stopped Diapason 8"} {
		asked := askedOf(t, []section{{music: textures["solo rh"], texts: []text{
			{"rh", "R.H. Ch. " + solo}, {"lh", "L.H. Gt. Open Diapason 8"}, {"feet", "Ped. Bourdon 16"},
		}}}, "en")
		plan := resolve.Resolve(asked, organ, resolve.Options{})
		if plan.Cost != 0 {
			t.Errorf("%s: the plan costs %d, though all is there", solo, plan.Cost)
		}
		for _, p := range plan.Settings[0].Parts {
			if p.Changes() {
				t.Errorf("%s: what is asked of the %v is given otherwise", solo, p.Asked.Division)
			}
		}
	}
}
