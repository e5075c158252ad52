package stopname

import (
	"strings"
	"testing"
)

func TestDissect(t *testing.T) {
	tests := []struct {
		text, name, pitch string
		ranks             int
		composition       string
	}{
		{"Open Diapason 8", "Open Diapason", "8", 0, ""},
		{"OPEN DIAPASON 8 FT", "OPEN DIAPASON", "8", 0, ""},
		{"Open Diap: 8'", "Open Diap", "8", 0, ""},
		{"Subbaß16'", "Subbaß", "16", 0, ""},
		{"Nasat 2 2/3′", "Nasat", "2 2/3", 0, ""},
		{"Quinte 22/3", "Quinte", "2 2/3", 0, ""},
		{"Quint 10⅔", "Quint", "10 2/3", 0, ""},
		{"8' Gedackt", "Gedackt", "8", 0, ""},
		{"Mixture 15.19.22 III", "Mixture", "", 3, "2 1 1/3 1"},
		{"Mixture (15.19.22)", "Mixture", "", 3, "2 1 1/3 1"},
		{"Furniture 19:22:26", "Furniture", "", 3, "1 1/3 1 2/3"},
		{"Sesquialtera 2 2/3 + 1 3/5", "Sesquialtera", "", 2, "2 2/3 1 3/5"},
		{"Mixture III", "Mixture", "", 3, ""},
		{"Mixture, 3 ranks", "Mixture", "", 3, ""},
		{"Mixtur 4-5f. 1 1/3'", "Mixtur", "1 1/3", 5, ""},
		{"Scharff 3f", "Scharff", "", 3, ""},
		{"Zimbel 1/2' 3f", "Zimbel", "1/2", 3, ""},
		{"Plein jeu harmonique III-VI", "Plein jeu harmonique", "", 6, ""},
		{"Cornet V rgs 8'", "Cornet", "8", 5, ""},
		{"Mixtuur III-IV sterk", "Mixtuur", "", 4, ""},
		{"Lleno 4 hileras", "Lleno", "", 4, ""},
		{"Unda maris II", "Unda maris", "", 2, ""},
		{"Open Diapason II", "Open Diapason II", "", 0, ""},
		{"Open Diapason 2", "Open Diapason 2", "", 0, ""},
		{"Open Diapason 2 8", "Open Diapason 2", "8", 0, ""},
		{"Open Diapason No. 1 8", "Open Diapason No. 1", "8", 0, ""},
		{"Principal 8' II", "Principal II", "8", 0, ""},
		{"Octave 2", "Octave", "2", 0, ""},
		{"Fifteenth 2", "Fifteenth", "2", 0, ""},
		{"Flautado de 13", "Flautado de 13", "", 0, ""},
		{"Flauto in XII", "Flauto in XII", "", 0, ""},
		{"1re Trompette 8", "1re Trompette", "8", 0, ""},
		{"Trompette 8' (en chamade)", "Trompette (en chamade)", "8", 0, ""},
		{"Tromba 8 soprani", "Tromba soprani", "8", 0, ""},
		{"Bourdon 8f.", "Bourdon", "8", 0, ""},
		{"Flûte 8 pi.", "Flûte", "8", 0, ""},
		{"", "", "", 0, ""},
		{"8", "8", "", 0, ""},
	}
	for _, test := range tests {
		name, p, ranks, c := Split(test.text)
		var composition []string
		for _, f := range c {
			composition = append(composition, f.String())
		}
		if name != test.name || p.String() != test.pitch || ranks != test.ranks || strings.Join(composition, " ") != test.composition {
			t.Errorf("Split(%q) = %q, %q, %d, %q; want %q, %q, %d, %q", test.text, name, p, ranks, composition, test.name, test.pitch, test.ranks, test.composition)
		}
	}
}

// Whatever stands on a knob, resolving it ends, says how, and says the same
// again.
func FuzzResolve(f *testing.F) {
	for _, text := range []string{"Open Diapason 8", "Mixture 15.19.22 III", "St. Diap.", "Lieblichflöte 8'", "Trompette 8' (en chamade)", "Fl?te", "FlÃ»te", "Mixtur IV-VI 1 1/3'", "O.D. I 8", "⅔", "II/I", "Contra-Doppel-Gross-Klein-Flötenbaß 16'"} {
		f.Add(text, "de", true)
		f.Add(text, "", false)
	}
	f.Fuzz(func(t *testing.T, text, lang string, pedal bool) {
		at := Place{Pedal: pedal, Lang: lang}
		k := Resolve(text, at)
		switch k.How {
		case ByTable:
			if k.Entry == "" {
				t.Errorf("%q is of the table, under no name", text)
			}
		case ByParts:
			if k.Reason == "" {
				t.Errorf("%q is resolved without a reason", text)
			}
		case Unknown:
			if k.Family != NoFamily {
				t.Errorf("%q is not known, but a %v", text, k.Family)
			}
		default:
			t.Errorf("%q is known by %q", text, k.How)
		}
		if k.Ranks < 0 || k.Ranks > 20 || k.Loudness < 0 || k.Loudness > 6 {
			t.Errorf("%q: %d ranks, loudness %d", text, k.Ranks, k.Loudness)
		}
		if again := Resolve(text, at); again.Entry != k.Entry || again.Pitch != k.Pitch || again.Family != k.Family {
			t.Errorf("%q is once %+v and once %+v", text, k, again)
		}
		words := strings.Fields(text)
		if _, n := Lookup(words, at); n < 0 || n > len(words) {
			t.Errorf("%q: Lookup took %d of %d words", text, n, len(words))
		}
	})
}

// TestLongNames: what repeats a part of a name without end is no name, and is
// not looked into.
func TestLongNames(t *testing.T) {
	for _, part := range []string{"Gross", "I ", "Fl. ", "O. D. ", "?", "(", "4' ", "a "} {
		text := "Gt. " + strings.Repeat(part, 200_000)
		if k := Resolve(text, Place{}); k.How != Unknown || len(k.Near()) > 0 {
			t.Errorf("%q without end is %v", part, k.How)
		}
		Dissect(text)
	}
	// As many letters lost as a name may have.
	if k := Resolve(strings.Repeat("?", maxName), Place{}); k.How != Unknown {
		t.Errorf("a name of which nothing is left is %s", k.Entry)
	}
}
