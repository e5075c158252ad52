package passage

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/direction"
)

// someTexts are directions of every kind, in several languages.
var someTexts = []string{
	"Gt. Open Diapason 8", "Sw. Oboe 8", "Ch. Clarinet 8", "Sw. Salicional 8, Voix Celeste 8", "Full Sw.", "Gt. Full Organ", "Tutti", "Gt. to Fifteenth, Sw. to Gt.",
	"add Reeds", "add Principal 4", "Trumpet off", "4 ft. off", "without 16 ft.", "Sw.", "Gt.", "Ch.", "R.H. Ch.", "L.H. Sw. Dulciana 8", "both hands Gt.", "Both hands", "Solo Tuba",
	"Ped. Bourdon 16", "Ped. 4 ft. reed solo", "Ped.", "Man.", "Sw. to Ped.", "Gt. to Ped. off", "all couplers off", "box closed", "open box gradually", "close box", "tremulant",
	"Prepare Sw. Oboe 8", "as before", "as at the beginning", "Gt. as before", "reduce to 8 ft.", "solo", "Sw. pp", "III pp", "II/I", "I. Man. (Hauptwerk)", "II (REC)",
	"G.O. Fonds 8, 4, Anches préparées", "Anches G.O.", "ôtez les Anches", "Ajoutez les Fonds du G.O.", "Tirasse", "sans Péd.", "comme au début", "Récit: Hautbois 8 (boîte fermée)",
	"HW: Prinzipal 8', Oktave 4'", "RP Gedackt 8'", "Zungen ab", "Tutti ab", "Koppeln ab", "wie vorher", "à deux claviers et pédale", "Cornet", "Cromorne", "Bourdon 16",
}

// idleTexts ask for nothing.
var idleTexts = []string{"poco rit.", "Allegro", "espressivo", "a tempo", "rall. molto", "langsam", "sehr ruhig", "Tempo as before"}

var someParts = [][]string{
	{"Organ: G F P"}, {": G F P"}, {"Orgue: g F P"}, {"Orgel: G F", "Pedal: P"}, {"Organ: G S"}, {"Organ: G s"}, {"Man. I: g", "Man. II: f", "Ped.: P"},
	{"Organ: g", "Pedal: P"}, {"Organ: G G F P"}, {"Récit: G F", "Grand-Orgue: G F", "Pédale: P"}, {"Organ: f"}, {"Soprano: g lyrics", "Organ: G F P8"}, {"Organ: c G F P"},
}

// drawSketch makes a random score as lines of a sketch.
func drawSketch(t *rapid.T) []string {
	parts := rapid.SampledFrom(someParts).Draw(t, "parts")
	measures := rapid.IntRange(1, 12).Draw(t, "measures")
	lines := []string{fmt.Sprintf("measures %d", measures)}
	var staves []string
	for i, p := range parts {
		lines = append(lines, "part "+p)
		_, music, _ := strings.Cut(p, ":")
		for n := range strings.Fields(strings.ReplaceAll(music, "lyrics", "")) {
			staves = append(staves, fmt.Sprintf("%d.%d", i+1, n+1))
		}
	}
	at := func() string {
		return fmt.Sprintf("%s %d.%d", rapid.SampledFrom(staves).Draw(t, "staff"), rapid.IntRange(1, measures).Draw(t, "measure"), rapid.IntRange(1, 4).Draw(t, "beat"))
	}
	for range rapid.IntRange(0, 12).Draw(t, "texts") {
		placement := rapid.SampledFrom([]string{"", " above", " below"}).Draw(t, "placement")
		lines = append(lines, fmt.Sprintf("text %s%s: %s", at(), placement, rapid.SampledFrom(someTexts).Draw(t, "text")))
	}
	for range rapid.IntRange(0, 3).Draw(t, "dynamics") {
		lines = append(lines, fmt.Sprintf("dynamic %s: %s", at(), rapid.SampledFrom([]string{"pp", "p", "mf", "f", "ff", "sf", "fp"}).Draw(t, "dynamic")))
	}
	for range rapid.IntRange(0, 3).Draw(t, "signs") {
		sign := rapid.SampledFrom([]string{"repeat-start", "repeat-end", "ending-1", "ending-2", "dacapo", "fine", "segno", "dalsegno", "tocoda", "coda", "double", "tempo-60"}).Draw(t, "sign")
		lines = append(lines, fmt.Sprintf("sign %d %s", rapid.IntRange(1, measures).Draw(t, "measure"), sign))
	}
	if rapid.Bool().Draw(t, "rests") {
		m := rapid.IntRange(1, measures).Draw(t, "measure")
		lines = append(lines, fmt.Sprintf("rest %s %d-%d", rapid.SampledFrom(staves).Draw(t, "staff"), m, measures))
	}
	if rapid.Bool().Draw(t, "head") {
		lines = append(lines, "credit left 10: "+rapid.SampledFrom(someTexts).Draw(t, "text")+`\n`+rapid.SampledFrom(someTexts).Draw(t, "text"))
	}
	return lines
}

func readSketch(t *rapid.T, tb testing.TB, lines []string) *Score {
	s, err := Read(parseSketch(tb, strings.Join(lines, "\n")).score(tb), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestPassagesCoverTheScore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := readSketch(rt, t, drawSketch(rt))
		checkPassages(rt, s)
	})
}

type fataler interface {
	Fatalf(format string, args ...any)
}

// checkPassages checks what must always hold of the passages of a score.
func checkPassages(t fataler, s *Score) {
	if len(s.Layout.Staves) == 0 {
		if len(s.Passages) > 0 {
			t.Fatalf("passages without staves")
		}
		return
	}
	var at moment
	heard := map[any]bool{}
	for i, p := range s.Passages {
		switch {
		case p.Start != at:
			t.Fatalf("passage %d starts at %v, not %v", i, p.Start, at)
		case !p.Start.Less(p.End):
			t.Fatalf("passage %d is empty: %v to %v", i, p.Start, p.End)
		}
		at = p.End
		drawn := map[Division]bool{}
		for _, a := range append(append([]*Asked{}, p.Drawn...), p.Waiting...) {
			if drawn[a.Division] {
				t.Fatalf("passage %d: %v twice", i, a.Division)
			}
			drawn[a.Division] = true
		}
		for _, line := range p.Lines {
			if p.Asked(line.Division) == nil || line.Role == "" || len(line.Notes) == 0 {
				t.Fatalf("passage %d: %s has no division, role or notes", i, line.Line)
			}
			for _, n := range line.Notes {
				if !n.Note.Onset.Less(p.End) || !p.Contains(n.Note.Onset) && !p.Start.Less(n.Note.End()) {
					t.Fatalf("passage %d: a note that does not sound in it", i)
				}
				heard[n.Note] = true
			}
		}
		for _, x := range p.Texts {
			if p.Start.Less(x.Time) {
				t.Fatalf("passage %d: %q stands further on", i, x.Text)
			}
		}
		for _, x := range p.Restated {
			if !p.Contains(x.Time) {
				t.Fatalf("passage %d: %q stands elsewhere", i, x.Text)
			}
		}
	}
	if end := endOf(s.Layout); at != end {
		t.Fatalf("the passages end at %v, the score at %v", at, end)
	}
	for _, st := range s.Layout.Staves {
		for _, n := range st.notes().notes {
			if !heard[n] && n.Onset.Less(at) {
				t.Fatalf("nobody plays the note at %v in %s", n.Onset, st.ID())
			}
		}
	}
	for _, r := range s.Returns {
		if r.From == nil || r.To == nil || !r.Back.Less(r.At) {
			t.Fatalf("a return from %v to %v", r.At, r.Back)
		}
	}
}

func TestReadingTwiceIsTheSame(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lines := drawSketch(rt)
		if a, b := passagesText(readSketch(rt, t, lines)), passagesText(readSketch(rt, t, lines)); a != b {
			rt.Fatalf("%s\nand then\n%s", a, b)
		}
	})
}

func TestTimewiseIsTheSame(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lines := drawSketch(rt)
		if a, b := passagesText(readSketch(rt, t, lines)), passagesText(readSketch(rt, t, append(lines, "timewise"))); a != b {
			rt.Fatalf("%s\nand timewise\n%s", a, b)
		}
	})
}

func TestIdleTextsChangeNothing(t *testing.T) {
	for _, text := range idleTexts {
		if r := direction.Read(text, direction.Context{}); len(r.Statements) > 0 {
			t.Fatalf("%q asks for %s", text, r.NormalForm())
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		lines := drawSketch(rt)
		if !strings.Contains(strings.Join(lines, "\n"), "Organ: ") {
			lines = append(lines, "credit left 10: Sw. Oboe 8, Gt. Diapason 8") // so that the language is settled
		}
		staff := "1.1"
		if strings.Contains(lines[1], "lyrics") {
			staff = "2.1"
		}
		// A place of its own, so that it joins no other text.
		idle := fmt.Sprintf("text %s %d.1.5 above: %s", staff, rapid.IntRange(1, 2).Draw(rt, "measure"), rapid.SampledFrom(idleTexts).Draw(rt, "idle"))
		before, after := readSketch(rt, t, lines), readSketch(rt, t, append(lines, idle))
		if before.Lang != after.Lang {
			rt.Skip("the text settled the language")
		}
		if a, b := passagesText(before), passagesText(after); a != b {
			rt.Fatalf("%s\nwith %s\n%s", a, idle, b)
		}
	})
}
