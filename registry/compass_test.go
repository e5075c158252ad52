package registry

import (
	"testing"

	"pgregory.net/rapid"
)

// The published compasses and their numbers of keys.
func TestCompassesOfTheStandards(t *testing.T) {
	tests := []struct {
		compass string
		keys    int
		what    string
	}{
		{"C2-G4", 32, "pedalboard of the American Guild of Organists"},
		{"C2-F4", 30, "German norm (BDO), British usual, later French Romantic"},
		{"C2-D4", 27, "early Cavaillé-Coll; Malines 1864 for ordinary organs"},
		{"C2-D4 without C#2", 26, "older German without the low C#"},
		{"C2-E4", 29, "Worcester Cathedral 1842, pedal"},
		{"C2-C4", 25, "small domestic"},
		{"C2-E3 without C#2 D#2 F#2 G#2", 13, "Pirani 1779, pedal"},
		{"C2-E3 short octave", 13, "the same"},
		{"C2-C7", 61, "five octaves"},
		{"C2-A6", 58, "British 20th century"},
		{"C2-G6", 56, "German norm, Swiss usual"},
		{"C2-F6", 54, "Worcester Cathedral 1842, Great"},
		{"C3-F6", 42, "Worcester Cathedral 1842, Swell from tenor C"},
		{"C2-D6", 51, "18th century German"},
		{"C2-C6", 49, "17th and 18th century"},
		{"C2-C6 without C#2", 48, "the same without the low C#"},
		{"C2-C6 short octave", 45, "Pirani 1779"},
		{"G1-E6", 58, "old English, to E"},
		{"G1-F6", 59, "old English, to F"},
	}
	for _, test := range tests {
		c, err := ParseCompass(test.compass, nil)
		if err != nil {
			t.Errorf("%s: %v", test.compass, err)
			continue
		}
		if c.Keys() != test.keys {
			t.Errorf("%s (%s) has %d keys, want %d", test.compass, test.what, c.Keys(), test.keys)
		}
		keys := 0
		for k := Key(0); k < 128; k++ {
			if c.Has(k) {
				keys++
			}
		}
		if keys != test.keys {
			t.Errorf("%s: Has counts %d keys, want %d", test.compass, keys, test.keys)
		}
		again, err := ParseCompass(c.String(), nil)
		if err != nil || !again.Equal(c) {
			t.Errorf("%s is written as %q, which reads as %v, %v", test.compass, c.String(), again, err)
		}
	}
}

func TestOpenEnds(t *testing.T) {
	whole := Compass{Low: 36, High: 84, Missing: []Key{37, 39, 42, 44}}
	for text, want := range map[string]string{
		"C3-": "C3-C6", "-B3": "C2-B3 short octave", "C4-C5": "C4-C5", "C#2-": "D2-C6 without Eb2 F#2 G#2",
	} {
		c, err := ParseCompass(text, &whole)
		if err != nil || c.String() != want {
			t.Errorf("ParseCompass(%q) = %v, %v; want %s", text, c, err, want)
		}
	}
}

func TestBadCompasses(t *testing.T) {
	for _, text := range []string{"", "-", "C2", "C2-", "G6-C2", "H2-C4", "C2-C10", "C2-C6 shortish", "C2-C6 without", "C2-C6 without X", "C2-C6 without C8", "C2-C6 without D3 D3", "c2 to c6"} {
		if c, err := ParseCompass(text, nil); err == nil {
			t.Errorf("ParseCompass(%q) = %v, want an error", text, c)
		}
	}
}

func TestKeyNamesAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Key(rapid.IntRange(12, 119).Draw(t, "key"))
		got, err := ParseKey(k.String())
		if err != nil || got != k {
			t.Fatalf("%v reads as %v, %v", k, got, err)
		}
	})
	for name, want := range map[string]Key{"C4": 60, "c4": 60, "F#6": 90, "Gb6": 90, "B♭2": 46, "C♯2": 37} {
		if k, err := ParseKey(name); err != nil || k != want {
			t.Errorf("ParseKey(%q) = %v, %v; want %d", name, k, err, want)
		}
	}
}
