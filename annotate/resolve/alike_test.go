package resolve_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// alikeOrgan has seven manuals, and on each of them as many stops of every kind
// as are asked for, which differ in nothing but their number.
func alikeOrgan(t testing.TB, each int) *registry.Organ {
	kinds := []string{
		"Open Diapason%s 8", "Stopped Diapason%s 8", "Salicional%s 8", "Principal%s 4", "Flute%s 4", "Fifteenth%s 2", "Bourdon%s 16",
		"Trumpet%s 8", "Clarion%s 4", "Oboe%s 8", "Mixture%s 19.22 II",
	}
	deep := []string{"Open Wood%s 16", "Bourdon%s 16", "Principal%s 8", "Flute%s 8", "Trombone%s 16", "Trumpet%s 8", "Clarion%s 4"}
	numbers := []string{"", " II", " III", " IV"}
	all := func(kinds []string) string {
		var stops []string
		for _, kind := range kinds {
			for _, number := range numbers[:each] {
				stops = append(stops, fmt.Sprintf(kind, number))
			}
		}
		return strings.Join(stops, ", ")
	}
	var list strings.Builder
	var couplers []string
	for _, name := range []string{"Choir", "Great", "Swell", "Positive", "Solo", "Bombarde", "Echo"} {
		fmt.Fprintf(&list, "%s [C2-C7]: %s\n", name, all(kinds))
		couplers = append(couplers, name+" to Pedal")
		if name != "Great" {
			couplers = append(couplers, name+" to Great")
		}
	}
	fmt.Fprintf(&list, "Pedal [C2-G4]: %s\ncouplers: %s\norgan: action: electric", all(deep), strings.Join(couplers, ", "))
	return tinyOrgan(t, list.String())
}

// TestManyStopsOfAKind: on the largest organs thousands of ways are as good as
// one another. Not all of them are looked at; the plan still gives everything
// that is asked for.
func TestManyStopsOfAKind(t *testing.T) {
	sections := []section{
		{music: textures["trio"], texts: []text{{"rh", "Gt. Open Diapason 8, Flute 4"}, {"lh", "Ch. Stopped Diapason 8, Flute 4"}, {"feet", "Ped. 16, 8"}}},
		{music: textures["chorus"], texts: []text{{"rh", "G.P.R. Fonds et Anches 8, 4"}, {"feet", "Ped. Fonds et Anches 16, 8, 4"}}},
		{music: textures["chorus"], texts: []text{{"rh", "Récit Fonds 8, Anches"}}},
	}
	plan := resolve.Resolve(askedOf(t, sections, "fr"), alikeOrgan(t, 4), resolve.Options{})
	for _, b := range plantest.Broken(plan) {
		t.Error(b)
	}
	for _, s := range plan.Settings {
		for _, line := range s.Lines {
			if line.Part == nil || len(line.Sounds) == 0 {
				t.Errorf("%s is silent\n%s", line.By, plantest.Dump(plan))
			}
		}
	}
	for _, line := range plan.Settings[0].Lines {
		if len(line.Changed) > 0 {
			t.Errorf("%s is not played as it is printed\n%s", line.By, plantest.Dump(plan))
		}
	}
}

// TestFewPartsOfMany: however few of the ways are looked at that are as good as
// one another, there is a plan, it claims no more than is so, and it costs no
// less than the one that is found among all.
func TestFewPartsOfMany(t *testing.T) {
	rapidly(t, 300, func(t *rapid.T) {
		list, asked, sections, opts := drawCase(t)
		organ := list.read(t)
		all := resolve.Resolve(asked, organ, opts)
		restore := resolve.LookAtFew(rapid.IntRange(1, 3).Draw(t, "parts"))
		defer restore()
		few := resolve.Resolve(asked, organ, opts)
		if few.Cost < all.Cost || few.Bound > all.Cost {
			t.Errorf("cost %d, bound %d, and among all parts %d\n%s\n%s\n%s", few.Cost, few.Bound, all.Cost, list, told(sections), plantest.Dump(few))
		}
	})
}
