package resolve_test

import (
	"slices"
	"strings"
	"testing"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/resolve"
)

// TestSharedKeyboard: what is drawn where two registrations have to be had from
// one manual.
func TestSharedKeyboard(t *testing.T) {
	for _, x := range []struct {
		name, organ, music string
		texts              []text
		drawn              string // on the manual
		shares             string // the lines that sound like another
	}{
		{
			"a division that only sounds by a coupler is drawn beside the one that is played",
			"Great: Open Diapason 8, Oboe 8, Flute 4", "chorus",
			[]text{{"rh", "Sw. Oboe 8, Gt. Open Diapason 8"}, {"lh", "Sw. to Gt."}},
			"Open Diapason 8, Oboe 8", "",
		},
		{
			"the solo's own stops are drawn, and the accompaniment sounds like them",
			"Great: Dulciana 8, Oboe 8, Flute 4", "solo rh",
			[]text{{"rh", "R.H. Sw. Oboe 8, Flute 4"}, {"lh", "L.H. Ch. Dulciana 8"}},
			"Oboe 8, Flute 4", "lh",
		},
		{
			"two registrations that come to the same stops are both had",
			"Great: Stopped Diapason 8, Flute 4", "solo rh",
			[]text{{"rh", "R.H. Sw. Stopped Diapason 8"}, {"lh", "L.H. Ch. Lieblich Gedackt 8"}},
			"Stopped Diapason 8", "",
		},
		{
			"what takes the place of both is drawn as the one that loses least by it",
			"Great: Stopped Diapason 8, Flute 4, Fifteenth 2", "solo lh",
			[]text{{"rh", "R.H. Ch. Stopped Diapason 8"}, {"lh", "L.H. Gt. Stopped Diapason 8, Flute 4"}},
			"Stopped Diapason 8, Flute 4", "rh",
		},
	} {
		organ := tinyOrgan(t, x.organ)
		plan := resolve.Resolve(askedOf(t, []section{{music: textures[x.music], texts: x.texts}}, "en"), organ, resolve.Options{})
		plantest.Check(t, plan)
		s := plan.Settings[0]
		var drawn, shares []string
		for _, st := range s.StopsInOrder(organ.Divisions[0]) {
			drawn = append(drawn, st.Text)
		}
		for _, line := range s.Lines {
			if line.Part != nil && line.Part.Host != nil && line.Part.Shared {
				shares = append(shares, string(line.Asked.Line))
			}
		}
		slices.Sort(shares)
		if strings.Join(drawn, ", ") != x.drawn || strings.Join(shares, ", ") != x.shares {
			t.Errorf("%s:\n%s", x.name, plantest.Dump(plan))
		}
	}
}
