package organfile

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/registry"
	"stopgap/registry/stopname"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Files that are broken on purpose: every finding, in one line each.
func TestBrokenFiles(t *testing.T) {
	files, err := filepath.Glob("../../testdata/organs/broken/*.yaml")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d broken files, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, findings := Read(filepath.Base(file), data)
		var b strings.Builder
		for _, f := range findings {
			b.WriteString(f.String() + "\n")
		}
		if b.Len() == 0 {
			t.Errorf("%s: nothing found", file)
		}
		golden := strings.TrimSuffix(file, ".yaml") + ".golden"
		if *update {
			if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if b.String() != string(want) {
			t.Errorf("%s:\n%swant\n%s", filepath.Base(file), b.String(), want)
		}
	}
}

// An organ file as the documentation shows it.
const documented = `
name: St Wystan, Marlow Green
action: mechanical            # or electric; sets couplers_carry (mechanical true, electric false) unless that is given
pedalboard: {compass: C2-F4}
keyboards:                    # bottom to top
  - {name: Choir, compass: C2-G6}
  - {name: Great, compass: C2-G6}
  - {name: Swell, compass: C2-G6}
divisions:
  - name: Great               # played from the keyboard of that name; keyboard: says another
    stops:
      - Open Diapason 8
      - Stopped Diapason 8
      - Principal 4
      - Fifteenth 2
      - {stop: Trumpet 8, level: -2}     # dB against what is usual for the name
  - name: Swell
    enclosed: true
    stops: [Lieblich Gedackt 8, Salicional 8, {stop: Voix Celeste 8, compass: C3-}, Gemshorn 4, Fifteenth 2, Oboe 8]
  - name: Choir
    stops: [Dulciana 8, Claribel Flute 8, Flute 4, Piccolo 2, Clarinet 8]
  - name: Pedal
    stops: [Open Diapason 16, Bourdon 16, Bass Flute 8]
couplers: [Swell to Great, Swell to Choir, Choir to Great, Swell to Pedal, Great to Pedal, Choir to Pedal, Swell Octave, Swell Unison Off]
tremulants: [Swell]
pistons: {general: 4}
`

func TestDocumentedFile(t *testing.T) {
	o, findings := Read("organ.yaml", []byte(documented))
	if o == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	if got := o.Totals(); got.Stops != 19 || len(o.Couplers) != 8 || o.Pistons.General != 4 || o.Lang != "en" || !o.CouplersCarry {
		t.Errorf("%+v, %d couplers, %+v, %q", got, len(o.Couplers), o.Pistons, o.Lang)
	}
	if s := o.Division("Great").Stop("Trumpet 8"); s.Level != -2 {
		t.Errorf("Trumpet at %g dB", s.Level)
	}
}

// Primes and other marks that knobs bear need no quotation marks.
func TestPrimesOnKnobs(t *testing.T) {
	o, findings := Read("primes.yaml", []byte(`
name: Primes
keyboards: [{name: Hauptwerk, compass: C2-G6}]
divisions:
  - name: Hauptwerk
    stops: [Gedackt 8', Flöte 4', Nasat 2 2/3', Mixtur 4f. 1 1/3', Trompete 8′]
  - name: Fernwerk
    keyboard: Hauptwerk
    stops:
      - Viole d'Orchestre 8'
      - Prinzipal 8 Fuß
      - Zimbel 3fach
`))
	if o == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	want := "8 4 2 2/3 1 1/3 8 8 8  "
	got := ""
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			got += s.Pitch.String() + " "
		}
	}
	if got != want {
		t.Errorf("pitches %q, want %q", got, want)
	}
}

const small = `
name: Small
keyboards: [{name: Great, compass: C2-G6}]
pedalboard: {compass: C2-F4}
divisions:
  - {name: Great, stops: [Open Diapason 8, Twelfth, "Mixture 15.19.22 III"]}
couplers: [Great to Pedal]
`

func TestPullDownPedals(t *testing.T) {
	o, findings := Read("small.yaml", []byte(small))
	if o == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	if o.Pedalboard.Name != "Pedal" || o.Division("Pedal") == nil || o.Couplers[0].To.Keyboard != o.Pedalboard {
		t.Errorf("the pull-down pedals are %+v", o.Pedalboard)
	}
	s := o.Divisions[0].Stops
	if s[1].Pitch.String() != "2 2/3" || s[2].Ranks != 3 || len(s[2].Composition) != 3 {
		t.Errorf("stops %+v, %+v", s[1], s[2])
	}
	if got := o.Totals(); got != (registry.Totals{Stops: 3, Ranks: 5, Pipes: 5 * 56}) {
		t.Errorf("totals %+v", got)
	}
}

func TestCouplersCarryByAction(t *testing.T) {
	for text, want := range map[string]bool{"": true, "action: mechanical\n": true, "action: electric\n": false, "action: electric\ncouplers_carry: true\n": true, "couplers_carry: false\n": false} {
		o, findings := Read("small.yaml", []byte(small+text))
		if o == nil {
			t.Fatal(findings)
		}
		if o.CouplersCarry != want {
			t.Errorf("with %q couplers carry on: %v", text, o.CouplersCarry)
		}
	}
}

func TestEverythingAnOrganCanHave(t *testing.T) {
	data, err := os.ReadFile("../../testdata/organs/everything.yaml")
	if err != nil {
		t.Fatal(err)
	}
	o, findings := Read("everything.yaml", data)
	if o == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	stop := func(division, text string) *registry.Stop {
		s := o.Division(division).Stop(text)
		if s == nil {
			t.Fatalf("no stop %q in %s", text, division)
		}
		return s
	}
	if s := stop("Swell", "Voix Céleste 8"); s.Compass.String() != "C3-C7" || s.Pipes != 61 || s.Known.Family != stopname.Celeste {
		t.Errorf("Voix Céleste: %v, %d pipes", s.Compass, s.Pipes)
	}
	if s := stop("Swell", "Trumpet 8"); s.Pipes != 73 || s.Box() == nil || s.Box().Strength != 12 || s.Box().Positions != 8 {
		t.Errorf("Trumpet: %d pipes, box %+v", s.Pipes, s.Box())
	}
	if s := stop("Solo", "Tuba 8"); s.Box() != nil {
		t.Error("the Tuba stands outside the box")
	}
	if a, b := stop("Solo", "Flute 8").Box(), stop("Swell", "Trumpet 8").Box(); a != b {
		t.Error("Solo and Swell share a box")
	}
	if s := stop("Pedal", "Bass Flute 8"); s.From != stop("Pedal", "Bourdon 16") || s.Ranks != 0 {
		t.Errorf("Bass Flute is from %v", s.From)
	}
	if s := stop("Pedal", "Trumpet 8"); s.From != stop("Swell", "Trumpet 8") || s.Box() == nil {
		t.Errorf("pedal Trumpet is from %v", s.From)
	}
	if s := stop("Great", "Cornet Treble V"); s.Half != registry.TrebleHalf || s.Compass.String() != "C4-C7" || s.Ranks != 5 || s.Side != "right" {
		t.Errorf("Cornet: %v %v", s.Half, s.Compass)
	}
	if s := stop("Great", "Kyrie 8"); s.Known.Family != stopname.Reed || s.Known.How != stopname.Unknown || s.Use != "solo" || s.Level != -2.5 {
		t.Errorf("Kyrie: %+v", s)
	}
	if d := o.Division("Echo"); d.Keyboard != nil {
		t.Error("the Echo floats")
	}
	if d := o.Division("Bombarde"); d.Keyboard != o.Keyboard("Great") {
		t.Error("the Bombarde is played from the Great")
	}
	if c := o.Keyboard("Old").Compass; c.Keys() != 45 {
		t.Errorf("a short octave of %d keys", c.Keys())
	}
	if !o.Couplers[len(o.Couplers)-1].Permanent || o.Pistons.Divisional["Swell"] != 5 || !o.Crescendo {
		t.Error("couplers, pistons or crescendo are not as written")
	}
}

func TestWriteIsStable(t *testing.T) {
	for _, file := range []string{"../../testdata/organs/everything.yaml"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		o, findings := Read(file, data)
		if o == nil {
			t.Fatal(findings)
		}
		first := Write(o)
		again, findings := Read(file, first)
		if again == nil {
			t.Fatalf("%v\n%s", findings, first)
		}
		if second := Write(again); !bytes.Equal(first, second) {
			t.Errorf("%s becomes\n%s\nand then\n%s", file, first, second)
		}
	}
}

// Whatever the texts are, what is written is read back as it was.
func TestAnyTextIsReadBack(t *testing.T) {
	oneLine := func(s string) string {
		return oneLine(strings.Map(func(c rune) rune {
			if c >= 0x7F && c < 0xA0 {
				return -1 // commands of terminals, which no text has
			}
			return c
		}, s))
	}
	rapid.Check(t, func(t *rapid.T) {
		o, _ := Read("small.yaml", []byte(small))
		text := rapid.OneOf(rapid.StringMatching(`[ -~]{1,20}`), rapid.StringN(1, 12, 40))
		o.Name = oneLine(text.Draw(t, "name"))
		o.Note = oneLine(text.Draw(t, "note"))
		s := o.Divisions[0].Stops[0]
		s.Note = oneLine(text.Draw(t, "note of a stop"))
		if o.Name == "" {
			o.Name = "x"
		}
		data := Write(o)
		again, findings := Read("again.yaml", data)
		if again == nil {
			t.Fatalf("%v\n%s", findings, data)
		}
		if again.Name != o.Name || again.Note != o.Note || again.Divisions[0].Stops[0].Note != s.Note {
			t.Fatalf("%q, %q, %q became %q, %q, %q\n%s", o.Name, o.Note, s.Note, again.Name, again.Note, again.Divisions[0].Stops[0].Note, data)
		}
	})
}

// No file makes the reader fail otherwise than by findings, and what it
// accepts it can write, and reads the same again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(small))
	for _, pattern := range []string{"../../testdata/organs/*.yaml", "../../testdata/organs/broken/*.yaml", "../shelf/organs/*.yaml"} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			if data, err := os.ReadFile(file); err == nil {
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		o, findings := Read("fuzz.yaml", data)
		for _, finding := range findings {
			if finding.ID == "" || finding.Text == "" || strings.Contains(finding.String(), "\n") {
				t.Errorf("finding %+v", finding)
			}
		}
		if (o == nil) != Failed(findings) {
			t.Fatalf("organ %v, findings %v", o != nil, findings)
		}
		if o == nil {
			return
		}
		first := Write(o)
		again, findings := Read("again.yaml", first)
		if again == nil {
			t.Fatalf("%v\n%s", findings, first)
		}
		if second := Write(again); !bytes.Equal(first, second) {
			t.Fatalf("first\n%s\nthen\n%s", first, second)
		}
	})
}

// Line ends and byte order marks of any editor make no difference.
func TestLineEndsAndByteOrderMarks(t *testing.T) {
	want, _ := Read("organ.yaml", []byte(documented))
	for _, text := range []string{strings.ReplaceAll(documented, "\n", "\r\n"), "\ufeff" + documented} {
		o, findings := Read("organ.yaml", []byte(text))
		if o == nil || !bytes.Equal(Write(o), Write(want)) {
			t.Errorf("%v", findings)
		}
	}
}

func TestTwoDivisionsOnThePedalboard(t *testing.T) {
	o, findings := Read("pedals.yaml", []byte(`
name: Pedals
keyboards: [{name: Hauptwerk, compass: C2-F6}]
pedalboard: {compass: C2-D4}
divisions:
  - {name: Hauptwerk, stops: [Prinzipal 8]}
  - {name: Großpedal, stops: [Posaune 16]}
  - {name: Kleinpedal, stops: [Gedacktbaß 8]}
  - {name: Echo, keyboard: Großpedal, stops: [Nachthorn 2]}
`))
	if o == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	for _, d := range o.Divisions[1:] {
		if d.Keyboard != o.Pedalboard {
			t.Errorf("%s is played from %+v", d.Name, d.Keyboard)
		}
	}
	if again, _ := Read("again.yaml", Write(o)); again == nil || !bytes.Equal(Write(again), Write(o)) {
		t.Error("the file changes when it is written")
	}
}

func TestExtendedStopIsOfItsPipes(t *testing.T) {
	o, findings := Read("extended.yaml", []byte(strings.Replace(small, "Twelfth,", "Bourdon 16, {stop: Flute 4, extends: Bourdon 16}, {stop: Flute 2, extends: Bourdon 16, kind: open flute},", 1)))
	if o == nil {
		t.Fatal(findings)
	}
	for text, want := range map[string]string{"Flute 4": stopname.KindStoppedFlute, "Flute 2": stopname.KindOpenFlute} {
		if s := o.Divisions[0].Stop(text); s.Known.Subfamily != want {
			t.Errorf("%s is a %s, want %s", text, s.Known.Subfamily, want)
		}
	}
}
