package sound

import (
	"slices"
	"strings"
	"testing"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// written are the pitches that a stop has at a key, in feet.
func written(s *Stop, key int) string {
	var feet []string
	for _, p := range s.pipes(key) {
		feet = append(feet, pitch.FeetSounding(p.ratio).String())
	}
	return strings.Join(feet, ", ")
}

func TestCompositions(t *testing.T) {
	for _, c := range []struct {
		knob string
		key  int
		want string
	}{
		{"Mixture III", 36, "2, 1 1/3, 1"},
		{"Mixture III", 47, "2, 1 1/3, 1"},
		{"Mixture III", 48, "2 2/3, 2, 1 1/3"},
		{"Mixture III", 84, "4, 2 2/3, 2"},
		{"Mixture II", 36, "2, 1 1/3"},
		{"Mixture 1 1/3 III", 36, "1 1/3, 1, 2/3"},
		{"Mixture 1 1/3 III", 48, "2, 1 1/3, 1"},
		{"Cymbale III", 36, "1/2, 1/3, 1/4"},
		{"Cornet V", 60, "2 2/3, 2, 1 3/5, 4, 8"},
		{"Cornet IV", 60, "2 2/3, 2, 1 3/5, 4"},
		{"Cornet III", 60, "2 2/3, 2, 1 3/5"},
		{"Sesquialtera II", 60, "2 2/3, 1 3/5"},
		{"Tertian II", 60, "1 3/5, 1 1/3"},
		{"Resultant Bass 32", 36, "16, 10 2/3"},
		{"Open Diapason 8", 36, "8"},
	} {
		if got := written(Of(named(c.knob), Options{}), c.key); got != c.want {
			t.Errorf("%s at %s: %s, want %s", c.knob, keyName(c.key), got, c.want)
		}
	}
}

func TestGivenCompositions(t *testing.T) {
	ranks := []pitch.Feet{pitch.FeetOf(4, 3), pitch.Foot(1), pitch.FeetOf(2, 3)} // 19.22.26
	s := Of(mixtureIII, Options{Ranks: ranks})
	for key, want := range map[int]string{36: "1 1/3, 1, 2/3", 48: "2, 1 1/3, 1", 84: "2 2/3, 2, 1 1/3"} {
		if got := written(s, key); got != want {
			t.Errorf("19.22.26 at %s: %s, want %s", keyName(key), got, want)
		}
	}
	s = Of(mixtureIII, Options{Sections: []Section{{From: 36, Ranks: ranks}, {From: 61, Ranks: ranks[:1]}}})
	for key, want := range map[int]string{36: "1 1/3, 1, 2/3", 60: "1 1/3, 1, 2/3", 61: "1 1/3", 84: "1 1/3"} {
		if got := written(s, key); got != want {
			t.Errorf("with given breaks at %s: %s, want %s", keyName(key), got, want)
		}
	}
}

// TestBreaksNeverSinkAnOctave: played an octave higher no rank of the usual
// compositions sounds lower than before.
func TestBreaksNeverSinkAnOctave(t *testing.T) {
	for _, row := range known().compounds {
		k := stopname.Known{Name: strings.SplitN(string(row.name), "|", 2)[0], Family: stopname.Mixture, Subfamily: row.of}
		for _, ranks := range []int{2, 3, 4, 5, 6} {
			k.Ranks = ranks
			s := Of(k, Options{})
			for key := 36; key <= 84; key++ {
				low, high := pitches(s, key), pitches(s, key+12)
				for i := range min(len(low), len(high)) {
					if high[i] < low[i]-1e-9 {
						t.Fatalf("%s of %d ranks: at %s %s, at %s %s", row.name, ranks, keyName(key), written(s, key), keyName(key+12), written(s, key+12))
					}
				}
			}
		}
	}
}

func pitches(s *Stop, key int) (at []float64) {
	for _, p := range s.pipes(key) {
		at = append(at, p.pitchAt(key))
	}
	slices.Sort(at)
	return at
}

func TestCompoundKeepsItsLevel(t *testing.T) {
	two, five := mixtureIII, mixtureIII
	two.Ranks, five.Ranks = 2, 5
	a, b := Of(two, Options{}), Of(five, Options{})
	if a.level != b.level {
		t.Errorf("two ranks are %v dB, five %v: the class is the stop's, not the rank's", a.level, b.level)
	}
}
