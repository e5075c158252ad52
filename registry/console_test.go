package registry_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/registry"
	"stopgap/registry/organfile"
)

// console is an organ at which the tests sit.
const console = `
name: Trial
keyboards:
  - {name: Choir, compass: C2-G6}
  - {name: Great, compass: C2-F6}
  - {name: Swell, compass: C2-C7}
pedalboard: {compass: C2-F4}
divisions:
  - {name: Great, stops: [Open Diapason 8, Principal 4]}
  - name: Swell
    enclosed: true
    stops: [Oboe 4, Stopped Diapason 8, {stop: Voix Céleste 8, compass: C3-}, {stop: Trumpet 8, pipes: 73}]
  - {name: Choir, stops: [Dulciana 8]}
  - {name: Pedal, stops: [Bourdon 16]}
  - {name: Echo, keyboard: floating, stops: [Vox Humana 8]}
couplers:
  - Swell to Great
  - Swell to Great 4
  - Swell to Great 16
  - Great to Pedal
  - Swell to Pedal
  - Swell to Choir Melody
  - Great to Swell
  - Echo to Swell
  - Swell Octave
  - Swell Sub Octave
  - Swell Unison Off
`

// draw opens the organ and draws stops ("Swell: Oboe 4") and couplers.
func draw(t interface{ Fatalf(string, ...any) }, carry bool, knobs ...string) (*registry.Organ, registry.Drawn) {
	o, findings := organfile.Read("trial.yaml", []byte(console))
	if o == nil {
		t.Fatalf("%v", findings)
	}
	o.CouplersCarry = carry
	d := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
knobs:
	for _, knob := range knobs {
		for _, c := range o.Couplers {
			if c.Text == knob {
				d.Couplers[c] = true
				continue knobs
			}
		}
		division, stop, _ := strings.Cut(knob, ": ")
		s := o.Division(division).Stop(stop)
		if s == nil {
			t.Fatalf("no knob %q", knob)
		}
		d.Stops[s] = true
	}
	return o, d
}

// hear writes down what sounds from a keyboard: "Swell Oboe 4 -1".
func hear(o *registry.Organ, d registry.Drawn, keyboard string) string {
	var all []string
	for _, s := range o.Sounding(d, o.Keyboard(keyboard)) {
		all = append(all, fmt.Sprintf("%s %s %+d", s.Stop.Division.Name, s.Stop.Text, s.Octave))
	}
	return strings.Join(all, ", ")
}

func TestSounding(t *testing.T) {
	tests := []struct {
		name     string
		carry    bool
		knobs    []string
		keyboard string
		want     string
	}{
		{"own stops", false, []string{"Great: Open Diapason 8", "Swell: Oboe 4"}, "Great", "Great Open Diapason 8 +0"},
		{"coupled", false, []string{"Great: Open Diapason 8", "Swell: Oboe 4", "Swell to Great"}, "Great", "Great Open Diapason 8 +0, Swell Oboe 4 +0"},
		{"coupled at 4", false, []string{"Swell: Oboe 4", "Swell to Great 4"}, "Great", "Swell Oboe 4 +1"},
		{"coupled at 16 and 4", false, []string{"Swell: Oboe 4", "Swell to Great 4", "Swell to Great 16"}, "Great", "Swell Oboe 4 -1, Swell Oboe 4 +1"},

		// The three worked facts on intramanual couplers.
		{"an Oboe 4 with Sub Octave and Unison Off is an Oboe 8", false, []string{"Swell: Oboe 4", "Swell Sub Octave", "Swell Unison Off"}, "Swell", "Swell Oboe 4 -1"},
		{"an 8 with Sub Octave is 16 and 8", false, []string{"Swell: Stopped Diapason 8", "Swell Sub Octave"}, "Swell", "Swell Stopped Diapason 8 -1, Swell Stopped Diapason 8 +0"},
		{"Unison Off alone is silence", false, []string{"Swell: Stopped Diapason 8", "Swell Unison Off"}, "Swell", ""},

		{"the octave without the unison, under the feet", false, []string{"Swell: Trumpet 8", "Pedal: Bourdon 16", "Swell Octave", "Swell Unison Off", "Swell to Pedal"}, "Pedal", "Swell Trumpet 8 +1, Pedal Bourdon 16 +0"},
		{"Swell Octave holds on the Great too", false, []string{"Swell: Trumpet 8", "Swell Octave", "Swell to Great"}, "Great", "Swell Trumpet 8 +0, Swell Trumpet 8 +1"},
		{"couplers carry on", true, []string{"Swell: Oboe 4", "Great: Principal 4", "Swell to Great", "Great to Pedal"}, "Pedal", "Great Principal 4 +0, Swell Oboe 4 +0"},
		{"couplers do not carry on", false, []string{"Swell: Oboe 4", "Great: Principal 4", "Swell to Great", "Great to Pedal"}, "Pedal", "Great Principal 4 +0"},
		{"octaves add up along the way", true, []string{"Swell: Oboe 4", "Swell to Great 16", "Great to Pedal"}, "Pedal", "Swell Oboe 4 -1"},
		{"a circle ends", true, []string{"Swell: Oboe 4", "Great: Principal 4", "Swell to Great", "Great to Swell"}, "Swell", "Great Principal 4 +0, Swell Oboe 4 +0"},
		{"a stop sounds once, by the shortest way", true, []string{"Swell: Oboe 4", "Swell to Great", "Great to Pedal", "Swell to Pedal"}, "Pedal", "Swell Oboe 4 +0"},
		{"a floating division", false, []string{"Echo: Vox Humana 8", "Echo to Swell"}, "Swell", "Echo Vox Humana 8 +0"},
		{"nothing drawn", true, []string{"Swell to Great", "Great to Pedal"}, "Pedal", ""},
	}
	for _, test := range tests {
		o, d := draw(t, test.carry, test.knobs...)
		if got := hear(o, d, test.keyboard); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

func TestShortestWayIsNamed(t *testing.T) {
	o, d := draw(t, true, "Swell: Oboe 4", "Swell to Great", "Great to Pedal", "Swell to Pedal")
	s := o.Sounding(d, o.Pedalboard)
	if len(s) != 1 || len(s[0].Via) != 1 || s[0].Via[0].Text != "Swell to Pedal" {
		t.Errorf("Oboe on the pedal: %+v", s)
	}
}

func TestMelodyCoupler(t *testing.T) {
	o, d := draw(t, false, "Swell: Oboe 4", "Swell to Choir Melody")
	s := o.Sounding(d, o.Keyboard("Choir"))
	if len(s) != 1 || s[0].Note != registry.HighestNote {
		t.Errorf("melody coupler: %+v", s)
	}
}

func TestPipeOf(t *testing.T) {
	tests := []struct {
		knobs    []string
		keyboard string
		key      string
		pipe     string // "" for silence
	}{
		{[]string{"Swell: Oboe 4"}, "Swell", "C2", "C2"},
		{[]string{"Swell: Oboe 4"}, "Swell", "C7", "C7"},
		{[]string{"Swell: Voix Céleste 8"}, "Swell", "B2", ""}, // from tenor C
		{[]string{"Swell: Voix Céleste 8"}, "Swell", "C3", "C3"},
		{[]string{"Swell: Oboe 4", "Swell Octave", "Swell Unison Off"}, "Swell", "C6", "C7"},
		{[]string{"Swell: Oboe 4", "Swell Octave", "Swell Unison Off"}, "Swell", "C#6", ""},       // the chest ends
		{[]string{"Swell: Trumpet 8", "Swell Octave", "Swell Unison Off"}, "Swell", "C7", "C8"},   // 73 pipes
		{[]string{"Swell: Oboe 4", "Swell Sub Octave", "Swell Unison Off"}, "Swell", "B2", ""},    // nothing below
		{[]string{"Swell: Oboe 4", "Swell Sub Octave", "Swell Unison Off"}, "Swell", "C3", "C2"},  //
		{[]string{"Swell: Voix Céleste 8", "Swell to Great 4"}, "Great", "C2", "C3"},              // reached from below
		{[]string{"Swell: Oboe 4", "Swell to Great", "Great to Pedal"}, "Pedal", "F4", "F4"},      //
		{[]string{"Swell: Oboe 4", "Swell to Great"}, "Great", "F#6", ""},                         // not on the Great
		{[]string{"Swell: Trumpet 8", "Swell to Great 4", "Great to Pedal"}, "Pedal", "F4", "F5"}, //
		{[]string{"Swell: Trumpet 8", "Swell to Pedal", "Swell Octave", "Swell Unison Off"}, "Pedal", "C2", "C3"},
	}
	for _, test := range tests {
		o, d := draw(t, true, test.knobs...)
		kb := o.Keyboard(test.keyboard)
		key, err := registry.ParseKey(test.key)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, s := range o.Sounding(d, kb) {
			if pipe, ok := s.PipeOf(kb, key); ok {
				got += pipe.String()
			}
		}
		if got != test.pipe {
			t.Errorf("%v: %s on the %s speaks %q, want %q", test.knobs, test.key, test.keyboard, got, test.pipe)
		}
	}
}

// A carried coupler can't press a key that the keyboard between lacks.
func TestCarriedCouplerNeedsTheKeyBetween(t *testing.T) {
	o, d := draw(t, true, "Swell: Trumpet 8", "Swell to Great", "Great to Pedal")
	o.Keyboard("Great").Compass.High = 60 // C4
	kb := o.Pedalboard
	s := o.Sounding(d, kb)
	if _, ok := s[0].PipeOf(kb, 60); !ok {
		t.Error("C4 is on the Great, and the Swell is silent")
	}
	if _, ok := s[0].PipeOf(kb, 62); ok {
		t.Error("D4 is not on the Great, and the Swell sounds through it")
	}
}

func TestDividedStops(t *testing.T) {
	o, findings := organfile.Read("divided.yaml", []byte(`
name: Divided
keyboards: [{name: Órgano Mayor, compass: C2-C6 short octave, divided: C4}]
divisions:
  - name: Órgano Mayor
    stops:
      - Flautado de 13
      - {stop: Bajoncillo 4, half: bass}
      - {stop: Clarín 8, half: treble}
`))
	if o == nil {
		t.Fatal(findings)
	}
	all := registry.Drawn{Stops: map[*registry.Stop]bool{}}
	for _, s := range o.Divisions[0].Stops {
		all.Stops[s] = true
	}
	kb := o.Keyboards[0]
	for key, want := range map[registry.Key]int{36: 2, 37: 0, 38: 2, 59: 2, 60: 2, 84: 2, 85: 0} {
		n := 0
		for _, s := range o.Sounding(all, kb) {
			if _, ok := s.RatioAt(kb, key); ok {
				n++
			}
		}
		if n != want {
			t.Errorf("%v speaks from %d stops, want %d", key, n, want)
		}
	}
}

func TestTwoDivisionsOnOneKeyboardAndPermanentCouplers(t *testing.T) {
	o, findings := organfile.Read("shared.yaml", []byte(`
name: Shared
keyboards: [{name: Great, compass: C2-G6}, {name: Bombarde, compass: C2-G6}]
divisions:
  - {name: Great, stops: [Principal 8]}
  - {name: Solo, keyboard: Great, stops: [Tuba 8]}
  - {name: Bombarde, stops: [Bombarde 16]}
couplers: [{coupler: Bombarde to Great, permanent: true}]
`))
	if o == nil {
		t.Fatal(findings)
	}
	all := registry.Drawn{Stops: map[*registry.Stop]bool{}}
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			all.Stops[s] = true
		}
	}
	if got, want := hear(o, all, "Great"), "Great Principal 8 +0, Solo Tuba 8 +0, Bombarde Bombarde 16 +0"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Whatever is drawn: every sound is a stop that is drawn, at most once at each
// octave, and comes by couplers that are drawn and lead to the keyboard; and
// drawing more stops takes nothing away.
func TestSoundingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d := draw(t, rapid.Bool().Draw(t, "carry"))
		var stops []*registry.Stop
		for _, division := range o.Divisions {
			for _, s := range division.Stops {
				stops = append(stops, s)
				d.Stops[s] = rapid.Bool().Draw(t, s.Text)
			}
		}
		for _, c := range o.Couplers {
			d.Couplers[c] = rapid.Bool().Draw(t, c.Text)
		}
		boards := append([]*registry.Keyboard{o.Pedalboard}, o.Keyboards...)
		kb := rapid.SampledFrom(boards).Draw(t, "keyboard")
		sounds := o.Sounding(d, kb)
		seen := map[string]bool{}
		for _, s := range sounds {
			name := fmt.Sprint(s.Stop.Division.Name, s.Stop.Text, s.Octave)
			if seen[name] {
				t.Fatalf("%s sounds twice", name)
			}
			seen[name] = true
			if !d.Stops[s.Stop] {
				t.Fatalf("%s is not drawn", name)
			}
			at, octave := kb, 0
			for i, c := range s.Via {
				if !d.Couplers[c] {
					t.Fatalf("%s comes by %s, which is not drawn", name, c.Text)
				}
				octave += c.Octave
				if c.Within() {
					if i != len(s.Via)-1 {
						t.Fatalf("%s: %s in mid-way", name, c.Text)
					}
					continue
				}
				if c.To.Keyboard != at {
					t.Fatalf("%s: %s does not lead to it", name, c.Text)
				}
				at = c.From.Keyboard
			}
			if octave != s.Octave {
				t.Fatalf("%s: the couplers move it by %d", name, octave)
			}
			if !o.CouplersCarry && len(s.Via) > 2 {
				t.Fatalf("%s comes by %d couplers that do not carry", name, len(s.Via))
			}
			for _, k := range []registry.Key{0, kb.Compass.Low, 60, kb.Compass.High, 127} {
				if pipe, ok := s.PipeOf(kb, k); ok && (pipe != k+registry.Key(12*s.Octave) || !kb.Compass.Has(k)) {
					t.Fatalf("%s: %v speaks %v", name, k, pipe)
				}
			}
		}
		before := len(sounds)
		d.Stops[rapid.SampledFrom(stops).Draw(t, "one more")] = true
		if after := len(o.Sounding(d, kb)); after < before {
			t.Fatalf("a stop more, and %d sounds became %d", before, after)
		}
	})
}
