package resolve

import (
	"testing"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry/division"
	"stopgap/registry/organfile"
)

const composersOrgan = `
name: The Composer's
source: invented
language: fr
action: mechanical
pedalboard: {compass: C2-D4}
keyboards: [{name: Grand-Orgue, compass: C2-F6}, {name: Positif, compass: C2-F6}, {name: Récit, compass: C2-F6}]
divisions:
  - {name: Grand-Orgue, stops: [Montre 8, Bourdon 8, Trompette 8]}
  - {name: Positif, stops: [Bourdon 8, Cromorne 8]}
  - {name: Récit, enclosed: true, stops: [Flûte 8, Hautbois 8, Trompette 8, Clairon 4]}
  - {name: Pédale, stops: [Flûte 16, Bombarde 16]}
couplers: []
`

// TestOriginalOf: what a voice was on the composer's organ, by division, name
// and pitch.
func TestOriginalOf(t *testing.T) {
	o, findings := organfile.Read("composer.yaml", []byte(composersOrgan))
	if o == nil {
		t.Fatal(findings)
	}
	for _, test := range []struct {
		text  string
		role  division.Role // where the text names none
		want  string
		on    string
		boxed bool
	}{
		{"R. Hautbois 8", "", "Hautbois 8", "Récit", true},
		{"R. Hautbois", "", "Hautbois 8", "Récit", true},
		{"G.O. Trompette 8", "", "Trompette 8", "Grand-Orgue", false},
		{"R. Trompette 8", "", "Trompette 8", "Récit", true},
		{"R. Anches", "", "Hautbois 8, Trompette 8, Clairon 4", "Récit", true},
		{"Cromorne 8", division.None, "Cromorne 8", "Positif", false},
		{"Ped. Flûte 16", "", "Flûte 16", "Pédale", false},
		{"Pos. Oboe 8", "", "Cromorne 8", "Positif", false},     // a reed at the pitch, though another
		{"Pos. Nasard 2 2/3", "", "", "Positif", false},         // there is none
		{"Clavier de Bombarde: Trompette 8", "", "", "", false}, // there is no such division
		{"II. Trompette 8", "", "Trompette 8", "", false},       // whichever the second manual is, below
		{"Voix humaine 8", division.None, "", "Positif", false}, // of another kind: no reed will do where the text names no division
		{"R. Trompette harmonique 8", "", "Trompette 8", "Récit", true},
	} {
		r := direction.Read(test.text, direction.Context{Lang: "fr"})
		if len(r.Statements) == 0 || len(r.Statements[0].Voices) == 0 {
			t.Errorf("%q asks for no voice", test.text)
			continue
		}
		st := r.Statements[0]
		got := OriginalOf(o, passage.Division{Role: st.Division}, st.Voices[0], "fr", FromBottom)
		if test.text == "II. Trompette 8" {
			if got.Division != o.Division("Positif") {
				t.Errorf("%q is on %v", test.text, got.Division)
			}
			continue
		}
		if stopTexts(got.Stops) != test.want || got.Boxed != test.boxed {
			t.Errorf("%q was %q (in a box: %v), want %q (%v)", test.text, stopTexts(got.Stops), got.Boxed, test.want, test.boxed)
		}
		if test.want != "" && (got.Division.Name != test.on || got.Loudness == 0) {
			t.Errorf("%q was on %s, of loudness %d", test.text, got.Division.Name, got.Loudness)
		}
	}
}

// TestOriginalSentence: the reasons tell how the composer's stop differs.
func TestOriginalSentence(t *testing.T) {
	o, _ := organfile.Read("composer.yaml", []byte(composersOrgan))
	here, findings := organfile.Read("here.yaml", []byte(`
name: Here
source: invented
language: fr
action: mechanical
keyboards: [{name: Grand-Orgue, compass: C2-F6}]
divisions: [{name: Grand-Orgue, stops: [Hautbois 8, Trompette 8, Montre 8]}]
couplers: []
`))
	if here == nil {
		t.Fatal(findings)
	}
	d := here.Divisions[0]
	swell, great := o.Division("Récit"), o.Division("Grand-Orgue")
	for _, test := range []struct {
		original Original
		given    string
		want     string
	}{
		{Original{swell, swell.Stops[1:2], 3, true}, "Hautbois 8", "the Hautbois 8 was the Récit's Hautbois 8, of middling strength and in a swell box; the Hautbois 8 here is in no box."},
		{Original{great, great.Stops[0:1], d.Stop("Montre 8").Known.Loudness, false}, "Montre 8", ""},
		{Original{}, "Montre 8", ""},
	} {
		pick := Pick{Voice: direction.Voice{Name: test.given}, Stops: []Chosen{{Stop: d.Stop(test.given)}}}
		if got := test.original.sentence(pick); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}
