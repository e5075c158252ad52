package resolve_test

import (
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/organfile"
)

// rapidly checks a property in n random cases, or in as many as -rapid.checks
// says if that is given.
func rapidly(t *testing.T, n int, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks")
	before := checks.Value.String()
	if before == checks.DefValue {
		if testing.Short() {
			n /= 10
		}
		if err := flag.Set("rapid.checks", fmt.Sprint(n)); err != nil {
			t.Fatal(err)
		}
		defer func() {
			if err := flag.Set("rapid.checks", before); err != nil {
				t.Fatal(err)
			}
		}()
	}
	rapid.Check(t, property)
}

var (
	manualStops = []string{
		"Open Diapason 8", "Stopped Diapason 8", "Gamba 8", "Dulciana 8", "Principal 4", "Flute 4",
		"Nazard 2 2/3", "Twelfth 2 2/3", "Fifteenth 2", "Piccolo 2", "Tierce 1 3/5", "Mixture III",
		"Trumpet 8", "Oboe 8", "Clarinet 8", "Clarion 4", "Bourdon 16", "{stop: Voix Celeste 8, compass: C3-}",
		"Vox Humana 8", "Cornet V", "Gedackt 8", "Lieblich Gedackt 8", "Octave 4", "{stop: Salicional 8, compass: C3-}", "Harmonic Flute 8", "Contra Fagotto 16",
	}
	pedalStops = []string{
		"Open Diapason 16", "Bourdon 16", "Bass Flute 8", "Principal 8", "Choral Bass 4", "Flute 4",
		"Trombone 16", "Trumpet 8", "Schalmey 4", "Mixture IV",
	}
	manualNames = []string{"Choir", "Great", "Swell"}
)

// A randomOrgan is a stop list that can be changed and read again.
type randomOrgan struct {
	divisions []randomDivision // the last is the pedal, if there is one
	couplers  []string
	action    string
}

type randomDivision struct {
	name, marks string
	stops       []string
}

func (o randomOrgan) String() string {
	var b strings.Builder
	for _, d := range o.divisions {
		fmt.Fprintf(&b, "%s [%s]: %s\n", d.name, d.marks, strings.Join(d.stops, ", "))
	}
	fmt.Fprintf(&b, "couplers: %s\norgan: action: %s", strings.Join(o.couplers, ", "), o.action)
	return b.String()
}

// read makes the organ.
func (o randomOrgan) read(t fataler) *registry.Organ {
	organ, findings := organfile.Read("random.yaml", []byte(organFile(o.String())))
	if organ == nil {
		t.Fatalf("%v\n%s", findings, o)
	}
	return organ
}

// A fataler is a testing.T or a rapid.T.
type fataler interface {
	Fatalf(format string, args ...any)
}

// drawOrgan draws an organ with so many stops and couplers.
func drawOrgan(t *rapid.T, stops, couplers int) randomOrgan {
	o := randomOrgan{action: rapid.SampledFrom([]string{"mechanical", "electric"}).Draw(t, "action")}
	manuals := rapid.IntRange(1, 3).Draw(t, "manuals")
	for _, name := range rapid.Permutation(manualNames).Draw(t, "names")[:manuals] {
		marks := rapid.SampledFrom([]string{"", "box", "box, tremulant", "C2-F6", "C3-G6"}).Draw(t, "marks")
		o.divisions = append(o.divisions, randomDivision{name: name, marks: marks})
	}
	if rapid.IntRange(0, 5).Draw(t, "pedal") > 0 {
		o.divisions = append(o.divisions, randomDivision{name: "Pedal", marks: rapid.SampledFrom([]string{"C2-F4", "C2-D4", "C2-G3"}).Draw(t, "board")})
	}
	for range stops {
		d := &o.divisions[rapid.IntRange(0, len(o.divisions)-1).Draw(t, "division")]
		pool := manualStops
		if d.name == "Pedal" {
			pool = pedalStops
		}
		s := rapid.SampledFrom(pool).Draw(t, "stop")
		if !contains(d.stops, s) {
			d.stops = append(d.stops, s)
		}
	}
	for i := range o.divisions {
		if d := &o.divisions[i]; len(d.stops) == 0 {
			d.stops = []string{map[bool]string{true: "Bourdon 16", false: "Stopped Diapason 8"}[d.name == "Pedal"]}
		}
	}
	if all := o.everyCoupler(); len(all) > 0 {
		o.couplers = rapid.Permutation(all).Draw(t, "couplers")[:min(couplers, len(all))]
	}
	return o
}

// everyCoupler lists couplers that the organ could have.
func (o randomOrgan) everyCoupler() []string {
	var all []string
	for i, a := range o.divisions {
		if a.name == "Pedal" {
			continue
		}
		for k, b := range o.divisions {
			if i < k {
				all = append(all, a.name+" to "+b.name)
			} else if i > k {
				all = append(all, a.name+" to "+b.name, a.name+" to "+b.name+" 4", a.name+" to "+b.name+" 16")
			}
		}
		all = append(all, a.name+" Octave", a.name+" Unison Off")
	}
	return all
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// textures are the kinds of music that random scores have.
var textures = map[string]music{
	"hymn":         {RH: "E4+G4+C5*1 F4+A4+C5*1 D4+G4+B4*2", LH: "C3+G3*1 F3+C4*1 G3*2", Feet: "C2*1 F2*1 G2*2"},
	"solo rh":      {RH: "C5*1 D5*1 E5*2 G5*1 F5*1 E5*2", LH: "C4+E4+G4*4 B3+F4+G4*4", Feet: "C3*4 G2*4"},
	"solo lh":      {RH: "E4+G4+C5*4 F4+G4+B4*4", LH: "G3*1 A3*1 C4*2 E4*1 D4*1 C4*2", Feet: "C3*4 G2*4"},
	"low solo lh":  {RH: "E4+G4+C5*4 F4+G4+B4*4", LH: "C3*1 E3*1 G2*2 C3*4", Feet: "C2*4 G2*4"},
	"trio":         {RH: "C5*1 E5*1 G5*2 F5*2 D5*2", LH: "G4*2 C4*2 A3*1 B3*1 G3*2", Feet: "C3*2 E3*2 F3*2 G3*2"},
	"chorus":       {RH: "C5+E5+G5*2 D5+F5+A5*2", LH: "C4+E4+G4*2 D4+F4*2", Feet: "C2*2 D2*2"},
	"pedal tune":   {RH: "C5+E5*1 D5+F5*1 E5+G5*2", LH: "C4+G4*2 G3+C4*2", Feet: "C3*1 D3*1 E3*1 F3*1 G3*2 C3*2"},
	"high pedal":   {RH: "C5+E5*1 D5+F5*1 E5+G5*2", LH: "C4+G4*2 G3+C4*2", Feet: "G3*1 A3*1 C4*1 D4*1 E4*2 C4*2"},
	"manuals only": {RH: "C5+E5*1 D5+F5*1 E5+G5*2", LH: "C4*1 D4*1 E4*2"},
}

var textureNames = []string{"hymn", "solo rh", "solo lh", "low solo lh", "trio", "chorus", "pedal tune", "high pedal", "manuals only"}

// drawSections draws a score of so many sections, asking for single stops and
// group words on divisions that an organ may or may not have.
func drawSections(t *rapid.T, n int) []section {
	var out []section
	for i := range n {
		s := section{
			music: textures[rapid.SampledFrom(textureNames).Draw(t, "texture")],
			rest:  rapid.Bool().Draw(t, "rest"),
		}
		if i > 0 && rapid.Bool().Draw(t, "same music") {
			s.music = out[i-1].music
		}
		right, left := rapid.SampledFrom(manualNames).Draw(t, "right"), rapid.SampledFrom(manualNames).Draw(t, "left")
		switch rapid.IntRange(0, 3).Draw(t, "hands") {
		case 0:
			s.texts = append(s.texts, text{"rh", fmt.Sprintf("R.H. %s %s", short(right), drawVoices(t, manualStops))})
			s.texts = append(s.texts, text{"lh", fmt.Sprintf("L.H. %s %s", short(left), drawVoices(t, manualStops))})
		case 1:
			s.texts = append(s.texts, text{"rh", fmt.Sprintf("%s %s", short(right), drawVoices(t, manualStops))})
			if rapid.Bool().Draw(t, "coupled") && right != left {
				s.texts = append(s.texts, text{"between", fmt.Sprintf("%s to %s", short(left), short(right))})
			}
		case 2:
			s.texts = append(s.texts, text{"rh", fmt.Sprintf("%s %s", short(right), rapid.SampledFrom([]string{"Foundations", "to 15th", "Diapasons", "Reeds", "Full"}).Draw(t, "group"))})
		case 3:
			if i > 0 {
				s.texts = append(s.texts, text{"rh", fmt.Sprintf("both hands on %s", short(right))})
			}
		}
		switch rapid.IntRange(0, 3).Draw(t, "feet") {
		case 0:
			s.texts = append(s.texts, text{"feet", "Ped. " + drawVoices(t, pedalStops)})
		case 1:
			s.texts = append(s.texts, text{"feet", "Ped. 16, 8"})
		case 2:
			s.texts = append(s.texts, text{"feet", fmt.Sprintf("%s to Ped.", short(right))})
		}
		if len(s.texts) > 0 && rapid.IntRange(0, 5).Draw(t, "more") == 0 {
			s.texts = append(s.texts, text{"between", rapid.SampledFrom([]string{"Trem.", "box closed", "Sw. to Gt.", "add Reeds", "Gt. to Ped. off"}).Draw(t, "also")})
		}
		out = append(out, s)
	}
	return out
}

func short(division string) string {
	return map[string]string{"Choir": "Ch.", "Great": "Gt.", "Swell": "Sw."}[division]
}

func drawVoices(t *rapid.T, pool []string) string {
	var out []string
	for range rapid.IntRange(1, 2).Draw(t, "voices") {
		s := rapid.SampledFrom(pool).Draw(t, "voice")
		s = strings.TrimPrefix(s, "{stop: ")
		s, _, _ = strings.Cut(s, ",")
		if !contains(out, s) {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

// drawScore draws sections and reads them.
func drawScore(t *rapid.T, n int) (*passage.Score, []section) {
	sections := drawSections(t, n)
	asked, err := readAsked(tinyScore(sections), "en")
	if err != nil {
		t.Fatalf("%v", err)
	}
	return asked, sections
}

// told is a score in words, for a failure.
func told(sections []section) string {
	var b strings.Builder
	for i, s := range sections {
		fmt.Fprintf(&b, "%d. %v\n", i+1, s.music)
		for _, x := range s.texts {
			fmt.Fprintf(&b, "   %s: %s\n", x.at, x.words)
		}
	}
	return b.String()
}

// clone is a copy that can be changed.
func (o randomOrgan) clone() randomOrgan {
	o.divisions = slices.Clone(o.divisions)
	for i := range o.divisions {
		o.divisions[i].stops = slices.Clone(o.divisions[i].stops)
	}
	return o
}

// pool are the stops that a division may have.
func (d randomDivision) pool() []string {
	if d.name == "Pedal" {
		return pedalStops
	}
	return manualStops
}
