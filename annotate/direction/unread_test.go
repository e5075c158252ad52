package direction

import (
	"strings"
	"testing"
)

// TestUnread checks that what is not understood is said, where it stands, and
// that what is sure is kept.
func TestUnread(t *testing.T) {
	for _, test := range []struct{ text, normal, unread string }{
		{"Sw. Oboe, Zephyr 8 ft.", "set swell: reed 8 (Oboe)", "Zephyr 8 ft"},
		{"HW: Prinzipal 8', Xylem 4', Oktave 2'", "set great: principal 8 (Prinzipal), principal 2 (Oktave)", "Xylem 4"},
		{"Sw. Oboe, Zimbelstern", "set swell: reed 8 (Oboe)", "Zimbelstern"},
		{"Rollschweller", "none", "Rollschweller"},
		{"reduce Gt.", "none", "Gt"},
		{"Gt. to Fifteenth, wibbling", "set great: chorus to 2 (Fifteenth)", "wibbling"},
		{"add Zephyr", "none", "Zephyr"},
		{"Ajoutez Zéphyr 8", "none", "Zéphyr 8"},
		{"add Zephyr\nSw. Oboe", "set swell: reed 8 (Oboe)", "Zephyr"},
		{"add more tone", "none", ""},
		{"Andante con moto. Sw. 8 ft.", "set swell: any 8", ""},
		{"R. Hautbois, très expressif", "set swell: reed 8 (Hautbois)", ""},
		{"Verse 3. Gt. Diaps.", "set great: principal 8 (Diaps.)", ""},
		{"Wachet auf, ruft uns die Stimme", "none", ""},
	} {
		reading := Read(test.text, Context{})
		if got := reading.NormalForm(); got != test.normal {
			t.Errorf("%q\n got %s\nwant %s", test.text, got, test.normal)
		}
		var unread []string
		for _, u := range reading.Unread {
			unread = append(unread, u.Text)
			if test.text[u.Start:u.End] != u.Text {
				t.Errorf("%q: %q does not stand at %d", test.text, u.Text, u.Start)
			}
		}
		if got := strings.Join(unread, " | "); got != test.unread {
			t.Errorf("%q: %q is not read, want %q", test.text, got, test.unread)
		}
	}
}

// TestNear checks that the nearest known words are offered.
func TestNear(t *testing.T) {
	for text, want := range map[string]string{"Sw. Tremulnt, Oboe": "tremulant", "Ch. Clarbaella 8": "Clarabella", "Gt. Diaps., coupld": "coupled"} {
		reading := Read(text, Context{Lang: "en"})
		if near := Near(reading.Unread[0].Text); len(reading.Unread) != 1 || len(near) == 0 || near[0] != want {
			t.Errorf("%q: %+v, want %q to be offered", text, reading.Unread, want)
		}
	}
}

// TestRecall checks that calls for an earlier registration are told.
func TestRecall(t *testing.T) {
	for _, text := range []string{"as before", "Stops as before", "comme avant", "wie vorher", "come prima"} {
		if reading := Read(text, Context{}); !reading.Recall || len(reading.Statements) > 0 {
			t.Errorf("%q: %+v", text, reading)
		}
	}
	if Read("Sw. Oboe", Context{}).Recall {
		t.Error("Sw. Oboe recalls nothing")
	}
}

// TestLanguage checks in which language texts are read.
func TestLanguage(t *testing.T) {
	for text, want := range map[string]string{
		"Sw. Oboe": "en", "Ajoutez les Anches": "fr", "HW: Prinzipal 8', Oktave 4'": "de", "Rugwerk: Roerfluit 4'": "nl",
		"togliere il Ripieno": "it", "quitar Trompetas": "es", "Gt. Bourdon": "en",
	} {
		if got := Read(text, Context{}).Lang; got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
	if got := Read("8'", Context{Lang: "fr"}).Lang; got != "fr" {
		t.Errorf("the language of the score is not used: %q", got)
	}
}

// TestPedalStaff checks that a text at the pedal's staff means pedal stops.
func TestPedalStaff(t *testing.T) {
	if got := Read("Bourdon", Context{Pedal: true}).NormalForm(); got != "set ?: flute 16 (Bourdon)" {
		t.Errorf("got %s", got)
	}
}
