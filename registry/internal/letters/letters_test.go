package letters

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFold(t *testing.T) {
	for word, want := range map[string]string{
		"Flöte": "flote", "Floete": "flote", "FLÖTE": "flote", "Flo\u0308te": "flote", "Subbaß": "subbass",
		"Chœur": "chour", "Choeur": "chour", "Aeoline": "aoline", "Äoline": "aoline", "d’amour": "damour", "Fl?te": "fl?te", "8": "8",
	} {
		if got := Fold(word); got != want {
			t.Errorf("Fold(%q) = %q, want %q", word, got, want)
		}
	}
}

func TestFoldTwiceIsFoldOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[A-Za-zäöüÄÖÜßéèêœ' -]{0,20}`).Draw(t, "word")
		once := Fold(s)
		for _, r := range once {
			if (r < 'a' || r > 'z') && (r < '0' || r > '9') {
				t.Fatalf("Fold(%q) = %q", s, once)
			}
		}
	})
}

func TestRepair(t *testing.T) {
	for text, want := range map[string]string{"FlÃ»te": "Flûte", "Flûte": "Flûte", "RÃ©cit": "Récit", "Ãlter": "Ãlter"} {
		if got := Repair(text); got != want {
			t.Errorf("Repair(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, test := range []struct {
		a, b string
		want int
	}{{"diapason", "diapsaon", 1}, {"oboe", "oboe", 0}, {"", "ab", 2}, {"gamba", "gamben", 2}, {"abcdefgh", "zzzzzzzz", 4}} {
		if got := Distance(test.a, test.b, 3); got != test.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", test.a, test.b, got, test.want)
		}
	}
}
