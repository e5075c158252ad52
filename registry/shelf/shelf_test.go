package shelf

import (
	"bytes"
	"testing"

	"stopgap/registry/division"
	"stopgap/registry/organfile"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Every organ of the shelf passes the check, without a warning.
func TestEveryOrganPassesTheCheck(t *testing.T) {
	for _, name := range Names() {
		data, err := File(name)
		if err != nil {
			t.Fatal(err)
		}
		o, findings := organfile.Read(name+".yaml", data)
		for _, f := range findings {
			t.Errorf("%v", f)
		}
		if o == nil {
			continue
		}
		if o.Source == "" {
			t.Errorf("%s has no source", name)
		}
	}
}

// An outline says what the organ says.
func TestOutlines(t *testing.T) {
	for _, name := range Names() {
		o, err := Open(name)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Outline(name)
		if want := (organfile.Outline{Name: o.Name, Manuals: len(o.Keyboards), Stops: o.Totals().Stops}); err != nil || got != want {
			t.Errorf("%s: %+v (%v), want %+v", name, got, err, want)
		}
	}
}

// What is shown as a file can be checked and shown again, and is the same.
func TestShowCheckShowIsStable(t *testing.T) {
	for _, name := range Names() {
		o, err := Open(name)
		if err != nil {
			t.Error(err)
			continue
		}
		first := organfile.Write(o)
		again, findings := organfile.Read(name, first)
		if again == nil {
			t.Errorf("%s: %v\n%s", name, findings, first)
			continue
		}
		if second := organfile.Write(again); !bytes.Equal(first, second) {
			t.Errorf("%s changes from\n%s\nto\n%s", name, first, second)
		}
		if o.Totals() != again.Totals() {
			t.Errorf("%s: %+v became %+v", name, o.Totals(), again.Totals())
		}
	}
}

// The totals that the published descriptions print.
func TestPublishedTotals(t *testing.T) {
	tests := []struct {
		name   string
		stops  int
		source string
	}{
		{"paris-sainte-clotilde-1859", 46, "orgue-clotilde-paris.info"},
		{"paris-saint-sulpice-1862", 102, "booklet on the console, 102 knobs"},
		{"paris-saint-gervais-1768", 41, "orguesfrance.com"},
		{"paris-saint-augustin-1899", 54, "orguesfrance.com"},
		{"hamburg-st-jacobi-1693", 60, "orgeltagung-2019.gdo.de"},
		{"merseburg-dom-1855", 81, "organindex.de"},
		{"liverpool-st-georges-hall-1855", 100, "as opened in 1855 (from memory)"},
	}
	for _, test := range tests {
		o, err := Open(test.name)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := o.Totals().Stops; got != test.stops {
			t.Errorf("%s has %d stops, %s says %d", test.name, got, test.source, test.stops)
		}
	}
}

// The keyboards that the published descriptions count.
func TestPublishedKeyboards(t *testing.T) {
	tests := []struct {
		name, keyboard string
		keys           int
	}{
		{"paris-sainte-clotilde-1859", "Grand-Orgue", 54},
		{"paris-sainte-clotilde-1859", "Pédale", 27},
		{"paris-saint-sulpice-1862", "Grand-Orgue", 56},
		{"paris-saint-sulpice-1862", "Pédale", 30},
		{"paris-saint-gervais-1768", "Grand-Orgue", 51},
		{"paris-saint-gervais-1768", "Récit", 32},
		{"paris-saint-augustin-1899", "Positif", 56},
		{"paris-saint-augustin-1899", "Pédale", 30},
		{"canterbury-st-stephen-walker-1879", "Great", 54},
		{"canterbury-st-stephen-walker-1879", "Swell", 42},
		{"canterbury-st-stephen-walker-1879", "Pedal", 20},
		{"edgbaston-st-george-hill-1838", "Great", 59},
		{"edgbaston-st-george-hill-1838", "Swell", 37},
		{"kent-hutchings-plaisted-1878", "Great", 61},
		{"kent-hutchings-plaisted-1878", "Pedal", 27},
		{"liverpool-st-georges-hall-1855", "Swell", 63},
		{"liverpool-st-georges-hall-1855", "Pedal", 30},
		{"hamburg-st-jacobi-1693", "Rückpositiv", 45},
	}
	for _, test := range tests {
		o, err := Open(test.name)
		if err != nil {
			t.Error(err)
			continue
		}
		kb := o.Keyboard(test.keyboard)
		if kb == nil {
			t.Errorf("%s has no keyboard %q", test.name, test.keyboard)
			continue
		}
		if got := kb.Compass.Keys(); got != test.keys {
			t.Errorf("%s: %s has %d keys, want %d", test.name, test.keyboard, got, test.keys)
		}
	}
}

// What the demonstration organ is for: a Nazard that is not on the Choir, and
// pedal reeds at 16 and 8 but none at 4.
func TestDemonstrationOrgan(t *testing.T) {
	o, err := Open(Default())
	if err != nil {
		t.Fatal(err)
	}
	nazards, reeds := "", ""
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			if s.Known.Family == stopname.Flute && s.Pitch == pitch.FeetOf(8, 3) {
				nazards += d.Name + " "
			}
			if s.Known.Family == stopname.Reed && d.Role == division.Pedal {
				reeds += s.Pitch.String() + " "
			}
		}
	}
	if nazards != "Great " || reeds != "16 8 " || o.Pedalboard.Compass.Keys() != 30 || !o.Division("Swell").Enclosed {
		t.Errorf("nazards on %s, pedal reeds %s, %d pedals", nazards, reeds, o.Pedalboard.Compass.Keys())
	}
}
