package stoplist

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"stopgap/registry"
	"stopgap/registry/organfile"
	"stopgap/registry/shelf"
)

func organ(t *testing.T, text string) *registry.Organ {
	t.Helper()
	o, findings := organfile.Read("test.yaml", []byte(text))
	if o == nil {
		t.Fatal(findings)
	}
	return o
}

// TestSideBySide sets an English and a French organ beside one another.
func TestSideBySide(t *testing.T) {
	a := organ(t, `
name: The English One
source: invented
language: en
action: electric
pedalboard: {compass: C2-F4}
keyboards: [{name: Great, compass: C2-G6}, {name: Swell, compass: C2-G6}]
divisions:
  - {name: Great, stops: [Open Diapason I 8, Open Diapason II 8, Nazard 2 2/3, Fifteenth 2, Mixture III]}
  - {name: Swell, enclosed: true, stops: [Lieblich Gedackt 8, Oboe 8]}
  - {name: Pedal, stops: [Bourdon 16]}
couplers: [Swell to Great, Swell to Pedal, Swell Octave]
tremulants: [Swell]
pistons: {general: 4}
`)
	b := organ(t, `
name: The French One
source: invented
language: fr
action: mechanical
pedalboard: {compass: C2-D4}
keyboards: [{name: Grand-Orgue, compass: C2-F6}, {name: Positif, compass: C2-F6}]
divisions:
  - {name: Grand-Orgue, stops: [Montre 8, Doublette 2, Plein jeu IV, Trompette 8]}
  - {name: Positif, stops: [Bourdon 8, Cromorne 8]}
  - {name: Pédale, stops: [Soubasse 16, Flûte 8]}
couplers: [Positif to Grand-Orgue]
`)
	var out bytes.Buffer
	if err := SideBySide(&out, a, b, 80); err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/side-by-side.txt", out.Bytes())
}

// TestSideBySideHasEveryKnob: every stop and coupler of every two organs
// stands on their comparison, and an organ lacks nothing that it has.
func TestSideBySideHasEveryKnob(t *testing.T) {
	first, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range shelf.Names() {
		o, err := shelf.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := SideBySide(&out, first, o, 120); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(out.String()), " ")
		for _, d := range o.Divisions {
			for _, s := range d.Stops {
				if word := strings.Fields(s.Text)[0]; !strings.Contains(text, word) {
					t.Errorf("%s: %s is not there", name, s.Text)
				}
			}
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if utf8.RuneCountInString(line) > 130 {
				t.Errorf("%s: %q", name, line)
			}
		}
	}
	var out bytes.Buffer
	if err := SideBySide(&out, first, first, 0); err != nil {
		t.Fatal(err)
	}
	if strings.Count(out.String(), "  nothing\n") != 2 || strings.Contains(out.String(), "–") {
		t.Errorf("an organ differs from itself:\n%s", out.String())
	}
}
