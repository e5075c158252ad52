package passage

import (
	"fmt"
	"strings"
	"testing"
)

// staffCases are scores with who is to play each staff; what is not named is
// none of the organ's. "=" behind a line means that the keys are an octave
// above the pitches in the file.
var staffCases = []struct {
	name, score string
	choice      Choice
	want        string
}{
	{"one part of three staves", "part Organ: G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"in German", "part Orgel: G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"without a name", "part : G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"with a program's name", "part MusicXML Part: G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"with a program's name and number", "part Instrument 1: G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"called Piano, with three staves", "part Piano: G F P sound=keyboard.piano", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"called Piano, whose lowest staff is no pedal's", "part Piano: G G B sound=keyboard.piano", Choice{}, ""},
	{"two staves without a name", "part : G F", Choice{}, "P1.1 rh, P1.2 lh"},
	{"a piano", "part Piano: G F sound=keyboard.piano", Choice{}, ""},
	{"called Piano, with directions for an organ", "part Piano: G F\ntext 1.1 1: Gt. Diapasons 8, Sw. to Gt.", Choice{}, "P1.1 rh, P1.2 lh"},
	{"called Piano under a title for the organ", "part Piano: G F\ntitle Fuge für Orgel", Choice{}, "P1.1 rh, P1.2 lh"},
	{"four staves: three manuals", "part Organ: G G F P\nrest 1.2 1-2", Choice{}, "P1.1 rh, P1.2 rh, P1.3 lh, P1.4 feet"},
	{"four staves, the left hand goes up", "part Organ: G G F P\nrest 1.3 1-4", Choice{}, "P1.1 rh, P1.2 lh, P1.3 lh, P1.4 feet"},
	{"manuals and pedal", "part Organ: G F\npart Pedal: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"manuals and pedal in French", "part Orgue: G F\npart Péd.: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"manuals and pedal in Dutch", "part Manuaal: G F\npart Pedaal: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"manuals and pedal in Italian", "part Organo: G F\npart Pedaliera: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"manuals without a name over a pedal", "part : G F\npart Pedal: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"manuals called Piano over a pedal", "part Piano: G F\npart Pedal: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"a pedal without a name", "part Organ: G F\npart : P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"nothing has a name", "part : G F\npart : P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"the same with a program's names", "part Part 1: G F\npart Part 2: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"an abbreviation alone", "part : G F abbr=Org.\npart : P abbr=Ped.", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet"},
	{"a pedal of two staves", "part Organ: G F\npart Pedal: f P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 feet, P2.2 feet"},
	{"three parts of one staff", "part Man. I: g\npart Man. II: f\npart Pedal: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"three parts called Organ", "part Organ: g\npart Organ: f\npart Organ: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"three parts after their divisions", "part Rückpositiv: g\npart Hauptwerk: f\npart Pedal: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"three parts after numbers", "part I: g\npart II: f\npart Ped.: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"three parts in a group", "part I: g group=Orgel\npart II: f group=Orgel\npart P: P group=Orgel", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"English divisions", "part Choir: g\npart Swell: f\npart Pedal: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"parts that are named after their stops", "part Cornet: g\npart Cromorne: f\npart Pédale de Flûtes 16, 8: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"hands by name", "part R.H.: g\npart L.H.: f\npart Ped.: P", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"the left hand printed first", "part Linke Hand: f\npart Rechte Hand: g", Choice{}, "P1.1 lh, P2.1 rh"},
	{"two parts of one staff", "part Organ: g\npart Pedal: P", Choice{}, "P1.1 both, P2.1 feet"},
	{"one staff", "part Organo: f", Choice{}, "P1.1 both"},
	{"three parts without names under a title", "part : g\npart : f\npart : P\ntitle Trio for Organ", Choice{}, "P1.1 rh, P2.1 lh, P3.1 feet"},
	{"three parts without names or title", "part : g\npart : g\npart : f", Choice{}, ""},
	{"two manuals of two staves each", "part Récit: G F\npart Grand-Orgue: G F\npart Pédale: P", Choice{}, "P1.1 rh, P1.2 lh, P2.1 rh, P2.2 lh, P3.1 feet"},
	{"by its sound", "part : G F sound=keyboard.organ.pipe", Choice{}, "P1.1 rh, P1.2 lh"},
	{"by its sound, beside another keyboard", "part Piano: G F sound=keyboard.piano\npart : G F P sound=keyboard.organ", Choice{}, "P2.1 rh, P2.2 lh, P2.3 feet"},
	{"by its MIDI program", "part Part 1: G F midi=20\npart Part 2: G midi=74", Choice{}, "P1.1 rh, P1.2 lh"},
	{"a chorale on an organ", "part Soprano: g midi=20\npart Bass: f midi=20", Choice{}, "P1.1 rh, P2.1 lh"},
	{"a choir", "part Soprano: g lyrics midi=20\npart Bass: f lyrics midi=20", Choice{}, ""},
	{"a choir with organ", "part Soprano: g lyrics\npart Bass: f lyrics\npart Organ: G F", Choice{}, "P3.1 rh, P3.2 lh"},
	{"a choir called Choir", "part Choir: G F lyrics\npart Organ: G F P", Choice{}, "P2.1 rh, P2.2 lh, P2.3 feet"},
	{"a choir called Choir, without its words", "part Choir: G F\npart Organ: G F P", Choice{}, "P2.1 rh, P2.2 lh, P2.3 feet"},
	{"a soloist called Solo", "part Solo: g\npart Organ: G F P", Choice{}, "P2.1 rh, P2.2 lh, P2.3 feet"},
	{"a trumpet with organ", "part Trumpet: g\npart Organ: G F P\ntext 1.1 1: mf", Choice{}, "P2.1 rh, P2.2 lh, P2.3 feet"},
	{"strings", "part Violin: g\npart Viola: g\npart Cello: f", Choice{}, ""},
	{"strings and a bass instrument under the organ", "part Violin: g\npart Organ: G F\npart Violoncello: f", Choice{}, "P2.1 rh, P2.2 lh"},
	{"continuo for the organ", "part Violino: g\npart Organo e Violone: f", Choice{}, "P2.1 both"},
	{"a harpsichord", "part Cembalo: G F", Choice{}, ""},
	{"an ossia over the organ", "part Organ: c/ossia G F P", Choice{}, "P1.2 rh, P1.3 lh, P1.4 feet; aside P1.1"},
	{"cues over the organ", "part Organ: c G F P", Choice{}, "P1.2 rh, P1.3 lh, P1.4 feet; aside P1.1"},
	{"two organs", "part Organ I: G F P\npart Organ II: G F P", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet; second-organ"},
	{"two organs, the second chosen", "part Organ I: G F P\npart Organ II: G F P", Choice{RH: "P2.1"}, "P2.1 rh, P2.2 lh, P2.3 feet; second-organ"},
	{"pedal an octave low under its clef", "part Organ: G F P8", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet="},
	{"the clef, but the keys", "part Organ: G F P=", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"pedal an octave low without the clef", "part Organ: G F P1", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet="},
	{"a tune for the feet in a G clef", "part Organ: G F PG\ntext 1.3 1: Ped. 4 ft. reed solo", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"a tune for the feet in a C clef", "part Organ: G F PC", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"a third staff that is no pedal's", "part Organ: G G B", Choice{}, "P1.1 rh, P1.2 rh, P1.3 lh"},
	{"toes", "part Organ: G PT", Choice{}, "P1.1 both, P1.2 feet"},
	{"a pedal of rests", "part Organ: G F P\nrest 1.3 1-4", Choice{}, "P1.1 rh, P1.2 lh, P1.3 feet"},
	{"the pedal chosen", "part Organ: G F P", Choice{Pedal: "P1.2"}, "P1.1 rh, P1.2 feet, P1.3 lh"},
	{"the pedal chosen of two staves", "part Organ: G F", Choice{Pedal: "P1.2"}, "P1.1 both, P1.2 feet"},
	{"hands chosen crossed", "part Organ: G F P", Choice{RH: "P1.2", LH: "P1.1"}, "P1.1 lh, P1.2 rh, P1.3 feet"},
	{"one staff chosen for both hands", "part Organ: G F P", Choice{RH: "P1.1", LH: "P1.1"}, "P1.1 both, P1.3 feet; aside P1.2"},
	{"a part that says nothing, chosen", "part Violin: g\npart Cello: f", Choice{RH: "P1", LH: "P2.1"}, "P1.1 rh, P2.1 lh"},
}

func TestStaves(t *testing.T) {
	for _, c := range staffCases {
		t.Run(c.name, func(t *testing.T) {
			s, err := Read(parseSketch(t, c.score).score(t), Options{Staves: c.choice})
			if err != nil {
				t.Fatal(err)
			}
			if got := layoutText(s); got != c.want {
				t.Errorf("%s\n got %s\nwant %s", c.score, got, c.want)
			}
			for _, staff := range append(s.Layout.Staves, s.Layout.Aside...) {
				if len(staff.Evidence) == 0 {
					t.Errorf("%s has no evidence", staff.ID())
				}
			}
		})
	}
}

// layoutText is a layout in one line.
func layoutText(s *Score) string {
	var staves, aside, findings []string
	for _, st := range s.Layout.Staves {
		text := fmt.Sprintf("%s %s", st.ID(), st.Line)
		if st.KeyShift != 0 {
			text += strings.Repeat("=", max(0, st.KeyShift))
		}
		staves = append(staves, text)
	}
	for _, st := range s.Layout.Aside {
		aside = append(aside, st.ID())
	}
	for _, f := range s.Findings {
		findings = append(findings, f.ID)
	}
	out := strings.Join(staves, ", ")
	if len(aside) > 0 {
		out += "; aside " + strings.Join(aside, ", ")
	}
	if len(findings) > 0 {
		out += "; " + strings.Join(findings, ", ")
	}
	return out
}

func TestChoiceErrors(t *testing.T) {
	score := parseSketch(t, "part Organ: G F P").score(t)
	for _, c := range []struct {
		choice Choice
		want   string
	}{
		{Choice{Pedal: "P9.9"}, "--pedal-staff P9.9: the score has no such staff; it has P1.1, P1.2, P1.3"},
		{Choice{RH: "P1.0"}, "--rh P1.0: the score has no such staff; it has P1.1, P1.2, P1.3"},
		{Choice{Pedal: "P1.1", LH: "P1.1"}, "--lh P1.1: --pedal-staff names the same staff"},
	} {
		_, err := Read(score, Options{Staves: c.choice})
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %s", c.choice, err, c.want)
		}
	}
}
