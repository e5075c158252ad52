package stopname

import (
	"slices"
	"testing"
)

func TestResolve(t *testing.T) {
	tests := []struct{ name, entry, family, pitch string }{
		{"Open Diapason 8", "Open Diapason", "principal", "8"},
		{"O.D.", "Open Diapason", "principal", "8"},
		{"St. Diap.", "Stopped Diapason", "flute", "8"},
		{"Stopped Diapason", "Stopped Diapason", "flute", "8"},
		{"Mixture 15.19.22 III", "Mixture", "mixture", ""},
		{"Mixture III", "Mixture", "mixture", ""},
		{"Mixture 3", "Mixture", "mixture", ""},
		{"Flautado de 13", "Flautado de 13", "principal", "8"},
		{"Open Diapason II", "Open Diapason", "principal", "8"},
		{"Open Diapason 2 8", "Open Diapason", "principal", "8"},
		{"Open Diapason 2", "Open Diapason", "principal", "8"},
		{"Fifteenth 2", "Fifteenth", "principal", "2"},
		{"Fl?te harmonique", "Flûte harmonique", "flute", "8"},
		{"FlÃ»te 8", "Flute", "flute", "8"},
		{"FLÖTE", "Flöte", "flute", "8"},
		{"Floete 4'", "Flöte", "flute", "4"},
		{"Cornet V", "Cornet", "cornet", "8"},
		{"Flauto in XII", "Flauto in XII", "flute", "2 2/3"},
		{"8' Gedackt", "Gedackt", "flute", "8"},
		{"Gedackt (Cammerton) 8", "Gedackt", "flute", "8"},
		{"Quinte 3'", "Quinte", "principal", "2 2/3"},
		{"Doublette II", "Doublette", "mixture", ""},
		{"Doublette 2", "Doublette", "principal", "2"},
		{"Dulciana", "Dulciana", "string", "8"},
		{"Dulcian 16", "Dulcian", "reed", "16"},
		{"Trompettes", "Trompette", "reed", "8"},
		{"Diap'ns", "Diapason", "principal", "8"},
		{"Voce umana", "Voce umana", "celeste", "8"},
		{"Cor anglais", "Cor Anglais", "reed", "8"},
		{"Cor de nuit", "Cor de Nuit", "flute", "8"},
		{"Sesquialtera II", "Sesquialtera", "cornet", "2 2/3"},
	}
	for _, test := range tests {
		k := Resolve(test.name, Place{})
		if fold(k.Entry) != fold(test.entry) || k.Family.String() != test.family || k.Pitch.String() != test.pitch {
			t.Errorf("Resolve(%q) = %q, %v %q; want %q, %s %q", test.name, k.Entry, k.Family, k.Pitch, test.entry, test.family, test.pitch)
		}
	}
}

func TestPlaceDecides(t *testing.T) {
	tests := []struct {
		name  string
		at    Place
		fam   Family
		pitch string
	}{
		{"Principal", Place{Lang: "en"}, Principal, "4"},
		{"Principal", Place{Lang: "de"}, Principal, "8"},
		{"Prestant", Place{Lang: "fr"}, Principal, "4"},
		{"Prestant", Place{Lang: "nl"}, Principal, "8"},
		{"Bourdon", Place{Lang: "en", Pedal: true}, Flute, "16"},
		{"Bourdon", Place{Lang: "fr"}, Flute, "8"},
		{"Violoncello", Place{Lang: "en", Pedal: true}, String, "8"},
		{"Trumpet", Place{Lang: "en", Pedal: true}, Reed, "8"},
		{"Bombarde", Place{Lang: "fr"}, Reed, "16"},
		{"Quint", Place{Lang: "en"}, Principal, "2 2/3"},
		{"Quint", Place{Lang: "en", Pedal: true}, Principal, "10 2/3"},
		{"Cornet 2", Place{Lang: "de", Pedal: true}, Reed, "2"},
	}
	for _, test := range tests {
		k := Resolve(test.name, test.at)
		if k.Family != test.fam || k.Pitch.String() != test.pitch {
			t.Errorf("Resolve(%q, %+v) = %v %s, want %v %s", test.name, test.at, k.Family, k.Pitch, test.fam, test.pitch)
		}
	}
}

func TestUnknownNamesAreRefused(t *testing.T) {
	for _, name := range []string{"Andante", "Allegro", "", "8", "Xyzzy", "Open Diapsaon", "Verse", "Trumpet Voluntary"} {
		if k := Resolve(name, Place{}); k.How != Unknown {
			t.Errorf("Resolve(%q) = %q %v, by %s", name, k.Entry, k.Family, k.How)
		}
	}
	if k := Resolve("Open Diapsaon", Place{}); len(k.Near()) == 0 || k.Near()[0] != "Open Diapason" {
		t.Errorf("nearest to Open Diapsaon: %q", k.Near())
	}
}

func TestLookup(t *testing.T) {
	tests := []struct {
		words []string
		entry string
		n     int
	}{
		{[]string{"St.", "Diap.", "and", "Flute"}, "Stopped Diapason", 2},
		{[]string{"Stopped", "Diapason", "and", "Flute"}, "Stopped Diapason", 2},
		{[]string{"Diapason", "Flute"}, "Diapason", 1},
		{[]string{"Fl.", "8"}, "Flute", 1},
		{[]string{"Op.", "5"}, "", 0},
		{[]string{"Flûte", "harmonique", "8"}, "Flûte harmonique", 2},
		{[]string{"Trem."}, "", 0},
		{[]string{"cresc."}, "", 0},
		{[]string{"Voix", "Céleste", "G."}, "Voix céleste", 2},
		{[]string{"O.D."}, "Open Diapason", 1},
		{[]string{"Lieb.", "Gdkt."}, "Lieblich Gedackt", 2},
		{[]string{"Cor", "de", "nuit"}, "Cor de nuit", 3},
		{[]string{"Vox", "Humana", "with"}, "Vox Humana", 2},
		{[]string{"Rohr-Flöte"}, "Rohrflute", 1},
		{nil, "", 0},
	}
	for _, test := range tests {
		k, n := Lookup(slices.Clone(test.words), Place{})
		if n != test.n || (n > 0 && spelling(fold(k.Entry)) != spelling(fold(test.entry))) {
			t.Errorf("Lookup(%q) = %q, %d; want %q, %d", test.words, k.Entry, n, test.entry, test.n)
		}
	}
}

func BenchmarkVocabulary(b *testing.B) {
	for b.Loop() {
		if _, err := readTable(stopsTSV, abbreviationsTSV); err != nil {
			b.Fatal(err)
		}
	}
}
