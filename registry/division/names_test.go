package division

import "testing"

func TestRoleOf(t *testing.T) {
	tests := []struct {
		name, lang string
		want       Role
	}{
		{"Great", "en", Great}, {"Gt.", "en", Great}, {"Swell", "", Swell}, {"Sw.", "", Swell}, {"Choir", "en", Choir},
		{"Hauptwerk", "", Great}, {"HW", "de", Great}, {"Hoofdwerk", "", Great}, {"Grand-Orgue", "", Great}, {"Grand Orgue", "fr", Great},
		{"G.O.", "fr", Great}, {"G. O.", "fr", Great}, {"Grand'Organo", "it", Great}, {"Grand’Organo", "it", Great}, {"Organo Mayor", "es", Great},
		{"Récit", "fr", Swell}, {"Recit expressif", "fr", Swell}, {"Schwellwerk", "de", Swell}, {"Zwelwerk", "nl", Swell}, {"Espressivo", "it", Swell},
		{"Positif", "fr", Positive}, {"Rückpositiv", "de", Positive}, {"Rueckpositiv", "de", Positive}, {"Rugwerk", "nl", Positive}, {"Cadereta", "es", Positive},
		{"Oberwerk", "de", Ober}, {"Bovenwerk", "nl", Ober}, {"Brustwerk", "de", Brust}, {"Borstwerk", "nl", Brust},
		{"BW", "de", Brust}, {"BW", "nl", Ober}, {"P.", "fr", Positive}, {"P.", "de", Pedal},
		{"Pédale", "fr", Pedal}, {"Pedaal", "", Pedal}, {"Bombarde", "fr", Bombarde}, {"Fernwerk", "de", Echo}, {"Écho", "fr", Echo},
		{"Positif de dos", "fr", Positive}, {"Hauptwerk (Werck)", "de", Great}, {"I. Manual", "de", "man1"}, {"Man. III", "", "man3"},
		{"2e clavier", "fr", "man2"}, {"II", "", "man2"}, {"Kitchen", "", None}, {"", "", None}, {"8", "", None},
	}
	for _, test := range tests {
		got, ok := RoleOf(test.name, test.lang)
		if got != test.want || ok != (test.want != None) {
			t.Errorf("RoleOf(%q, %q) = %v, %v; want %v", test.name, test.lang, got, ok, test.want)
		}
	}
}

func TestLookup(t *testing.T) {
	tests := []struct {
		words []string
		lang  string
		want  Role
		n     int
	}{
		{[]string{"Gt.", "Diap."}, "en", Great, 1},
		{[]string{"Gd", "Orgue", "et"}, "fr", Great, 2},
		{[]string{"G.", "O.", "Montre"}, "fr", Great, 2},
		{[]string{"Positif", "de", "dos"}, "fr", Positive, 3},
		{[]string{"Récit", "Hautbois"}, "fr", Swell, 1},
		{[]string{"Clavier", "de", "Bombarde:"}, "fr", Bombarde, 3},
		{[]string{"So", "leise"}, "de", None, 0},
		{[]string{"So.", "Tuba"}, "en", Solo, 1},
		{[]string{"GO"}, "fr", Great, 1},
		{[]string{"sw"}, "en", None, 0},
		{[]string{"II.", "Man."}, "de", "man2", 2},
		{[]string{"Man.", "II"}, "de", "man2", 2},
		{[]string{"III"}, "", "man3", 1},
		{[]string{"Man."}, "", None, 0},
		{[]string{"PED"}, "fr", Pedal, 1},
		{nil, "", None, 0},
	}
	for _, test := range tests {
		got, n := Lookup(test.words, test.lang)
		if got != test.want || n != test.n {
			t.Errorf("Lookup(%q, %q) = %v, %d; want %v, %d", test.words, test.lang, got, n, test.want, test.n)
		}
	}
}

func TestAbbreviation(t *testing.T) {
	for _, test := range []struct {
		role Role
		lang string
		want string
	}{
		{Great, "en", "Gt."}, {Great, "fr", "G.O."}, {Great, "de", "HW"}, {Swell, "en", "Sw."}, {Swell, "fr", "R."}, {Swell, "de", "SW"},
		{Choir, "en", "Ch."}, {Choir, "fr", "Ch."}, {Positive, "fr", "Pos."}, {Pedal, "en", "Ped."}, {Pedal, "fr", "Péd."}, {Pedal, "nl", "Ped."},
		{Solo, "en", "Solo"}, {Ober, "en", "OW"}, {Manual(3), "de", "III"}, {Great, "", "Gt."}, {Great, "es", "O.M."},
	} {
		if got := Abbreviation(test.role, test.lang); got != test.want {
			t.Errorf("Abbreviation(%v, %q) = %q, want %q", test.role, test.lang, got, test.want)
		}
	}
}

// Every name and every short form is found again in its own language.
func TestEveryNameIsFound(t *testing.T) {
	for _, r := range rows() {
		if got, ok := RoleOf(r.name, r.lang); !ok || got != r.role {
			t.Errorf("RoleOf(%q, %q) = %v, want %v", r.name, r.lang, got, r.role)
		}
		for _, short := range r.shorts {
			if got, ok := RoleOf(short, r.lang); !ok || !got.Named() {
				t.Errorf("RoleOf(%q, %q) = %v, want a role", short, r.lang, got)
			}
		}
		if r.source == "" {
			t.Errorf("%q has no source", r.name)
		}
	}
}
