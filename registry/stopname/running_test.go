package stopname

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestFringe checks that no name that Lookup finds is cut off by Begins and
// Continues.
func TestFringe(t *testing.T) {
	table := vocabulary()
	rapid.Check(t, func(t *rapid.T) {
		entry := table.entries[rapid.IntRange(0, len(table.entries)-1).Draw(t, "entry")]
		words := strings.Fields(entry.name)
		if _, n := Lookup(words, Place{}); n == 0 {
			return
		}
		for i, w := range words {
			if i == 0 && !Begins(w) || i > 0 && !Continues(w) {
				t.Fatalf("%q of %q is cut off", w, entry.name)
			}
		}
	})
	for _, text := range []string{"O. D.", "Op. Diap.", "St. Diap.", "Diap'ns", "V. d. G.", "Flûtes", "Quintad.", "15th", "Wald Flöte", "Lieb. Ged."} {
		words := strings.Fields(text)
		for i, w := range words {
			if i == 0 && !Begins(w) || i > 0 && !Continues(w) {
				t.Errorf("%q of %q is cut off", w, text)
			}
		}
	}
	for _, w := range []string{"when", "xylem", "Ziemlich"} {
		if Begins(w) {
			t.Errorf("a name may begin with %q", w)
		}
	}
}

func TestLanguages(t *testing.T) {
	for name, want := range map[string]string{"Hautbois": "fr", "Roerfluit": "nl", "Nachthorn": "de"} {
		if langs := Languages(name); !slices.Contains(langs, want) || slices.Contains(langs, "it") {
			t.Errorf("%s is %v, not %s", name, langs, want)
		}
	}
}
