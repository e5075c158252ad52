package passage

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"stopgap/musicxml"
)

// A sketch is a score in a few lines, from which a test makes MusicXML:
//
//	part Organ: G F P        its name, and what each staff holds (see staffMusic)
//	part Soprano: g lyrics   with what is said of the part: lyrics, abbr=…, sound=…, midi=…, group=…
//	measures 8
//	rest 1.2 3-4             staff 2 of part 1 rests in measures 3 to 4
//	sign 4 repeat-end ending-1
//	text 1.1 3.2 above: Gt. Diapasons 8    at staff 1 of part 1, measure 3, beat 2; \n parts lines
//	dynamic 1.1 3 below: p
//	hairpin 1.1 3-5: crescendo
//	credit left 10: Sw. Oboe 8             its place (left, center, right, foot) and font size
//	title A Sketch
//	lang 1.1 1 de: Ruhig                   a text whose language the file gives
type sketch struct {
	title    string
	parts    []*sketchPart
	measures int
	credits  []string
	signs    map[int][]string
	timewise bool
}

type sketchPart struct {
	name, abbr, sound, midi, group string
	staves                         []string
	lyrics                         bool
	rests                          map[[2]int]bool // staff and measure
	directions                     map[int][]string
}

// staffMusic is what the letters of a staff mean: its clef, with its octave
// change, and its notes for one measure of 4/4 in turn, "+" joining chords. A
// letter of a staff is followed by what <staff-type> it is, if any.
var staffMusic = map[string]struct {
	clef  string
	notes []string
}{
	"G":  {"G", []string{"C5+E5 D5+F5 E5+G5 C5+E5", "D5+F5 B4+D5 C5+E5 C5+G5"}},       // chords in the treble
	"g":  {"G", []string{"C5 D5 E5 F5", "G5 F5 E5 D5"}},                               // a melody
	"F":  {"F", []string{"C3+G3 B2+G3 C3+E3 G2+D3", "F3+A3 G3+B3 C3+E4 C3+G3"}},       // chords in the bass
	"f":  {"F", []string{"C3 E3 G3 C4", "F3 A3 C4 A3"}},                               // a left hand's line
	"P":  {"F", []string{"C2 G2 C3 G2", "F2 F2 C2 D3"}},                               // a pedal line
	"P1": {"F", []string{"C1 G1 C2 G1", "F1 F1 C1 D2"}},                               // a pedal line an octave low
	"P8": {"F-1", []string{"C1 G1 C2 G1", "F1 F1 C1 D2"}},                             // the same under an F clef with an 8 below
	"P=": {"F-1", []string{"C2 G2 C3 G2", "F2 F2 C2 D3"}},                             // the keys under such a clef
	"PG": {"G", []string{"C4 G3 C4 G3", "F3 F3 C4 D4"}},                               // a tune for the feet in a G clef
	"PC": {"C", []string{"C4 G3 C4 G3", "F3 F3 C4 D4"}},                               // and in a C clef
	"PT": {"F", []string{"C2^ G2^ C3 G2", "F2 F2 C2 D3"}},                             // a pedal line with toe marks
	"B":  {"F", []string{"C2 C5 C3 C5", "F2 F5 C2 D5"}},                               // a bass beyond every pedalboard
	"S":  {"F", []string{"C3+E4 B3+D4 C4+E4 B3+D4/C2 G2 C3 G2", "F3+A3 F3+A3/F2 C2"}}, // chords over a pedal line, two voices
	"s":  {"F", []string{"C2+G3+E4 G2+D4 C2+C4 G2+D4", "F2+A3 C2+A3 D2+F3 C2+G3"}},    // the same in one voice
	"c":  {"G", []string{"c:C5 c:D5 c:E5 c:F5"}},                                      // cues
}

// parseSketch reads a sketch.
func parseSketch(t testing.TB, text string) *sketch {
	t.Helper()
	s := &sketch{measures: 4, signs: map[int][]string{}}
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		word, rest, _ := strings.Cut(line, " ")
		head, body, _ := strings.Cut(rest, ": ")
		f := strings.Fields(head)
		body = strings.ReplaceAll(body, `\n`, "\n")
		switch word {
		case "":
		case "part":
			name, staves, ok := strings.Cut(line, ":")
			if !ok {
				t.Fatalf("no staves: %s", line)
			}
			p := &sketchPart{name: strings.TrimSpace(strings.TrimPrefix(name, "part")), rests: map[[2]int]bool{}, directions: map[int][]string{}}
			for _, w := range strings.Fields(staves) {
				key, value, has := strings.Cut(w, "=")
				value = strings.ReplaceAll(value, "_", " ")
				switch {
				case w == "lyrics":
					p.lyrics = true
				case has && key == "abbr":
					p.abbr = value
				case has && key == "sound":
					p.sound = value
				case has && key == "midi":
					p.midi = value
				case has && key == "group":
					p.group = value
				default:
					p.staves = append(p.staves, w)
				}
			}
			s.parts = append(s.parts, p)
		case "measures":
			s.measures, _ = strconv.Atoi(rest)
		case "title":
			s.title = rest
		case "timewise":
			s.timewise = true
		case "credit":
			s.credits = append(s.credits, creditXML(f, body))
		case "sign":
			n, _ := strconv.Atoi(f[0])
			s.signs[n] = append(s.signs[n], f[1:]...)
		case "rest":
			p, staff := s.staff(t, f[0])
			from, to := span(f[1])
			for m := from; m <= to; m++ {
				p.rests[[2]int{staff, m}] = true
			}
		case "text", "dynamic", "lang", "rehearsal", "hidden":
			p, staff := s.staff(t, f[0])
			measure, beat, _ := strings.Cut(f[1], ".") // 3.2.5 is measure 3, beat 2½
			m, _ := strconv.Atoi(measure)
			placement := ""
			lang := ""
			for _, w := range f[2:] {
				if w == "above" || w == "below" {
					placement = w
				} else {
					lang = w
				}
			}
			inner := fmt.Sprintf("<words>%s</words>", escaped(body))
			switch word {
			case "dynamic":
				inner = fmt.Sprintf("<dynamics><%s/></dynamics>", body)
			case "lang":
				inner = fmt.Sprintf("<words xml:lang=%q>%s</words>", lang, escaped(body))
			case "rehearsal":
				inner = fmt.Sprintf("<rehearsal>%s</rehearsal>", escaped(body))
			case "hidden":
				inner = fmt.Sprintf("<other-direction print-object=\"no\">%s</other-direction>", escaped(body))
			}
			p.directions[m] = append(p.directions[m], directionXML(inner, staff, beat, placement))
		case "hairpin":
			p, staff := s.staff(t, f[0])
			from, to := span(f[1])
			p.directions[from] = append(p.directions[from], directionXML(fmt.Sprintf("<wedge type=%q/>", body), staff, "", ""))
			p.directions[to] = append(p.directions[to], directionXML(`<wedge type="stop"/>`, staff, "4.9", ""))
		default:
			t.Fatalf("what is this? %s", line)
		}
	}
	return s
}

func (s *sketch) staff(t testing.TB, id string) (*sketchPart, int) {
	t.Helper()
	part, staff, _ := strings.Cut(id, ".")
	p, _ := strconv.Atoi(part)
	n, _ := strconv.Atoi(staff)
	if p < 1 || p > len(s.parts) {
		t.Fatalf("no part %s", id)
	}
	return s.parts[p-1], max(1, n)
}

func span(text string) (from, to int) {
	a, b, ok := strings.Cut(text, "-")
	from, _ = strconv.Atoi(a)
	if to, _ = strconv.Atoi(b); !ok {
		to = from
	}
	return from, to
}

func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text))
	return b.String()
}

// directionXML is a direction at a beat, an offset from the start of its measure.
func directionXML(inner string, staff int, beat, placement string) string {
	offset := ""
	if b, err := strconv.ParseFloat(beat, 64); err == nil && b > 1 {
		offset = fmt.Sprintf("<offset>%d</offset>", int((b-1)*2))
	}
	if placement != "" {
		placement = fmt.Sprintf(" placement=%q", placement)
	}
	return fmt.Sprintf("<direction%s><direction-type>%s</direction-type>%s<staff>%d</staff></direction>\n", placement, inner, offset, staff)
}

func creditXML(f []string, text string) string {
	place, size := "left", "10"
	if len(f) > 0 {
		place = f[0]
	}
	if len(f) > 1 {
		size = f[1]
	}
	y, justify := "1500", place
	if place == "foot" {
		y, justify = "60", "center"
	}
	kind := ""
	if len(f) > 2 {
		kind = "<credit-type>" + f[2] + "</credit-type>"
	}
	return fmt.Sprintf("<credit page=\"1\">%s<credit-words default-y=%q justify=%q font-size=%q>%s</credit-words></credit>\n", kind, y, justify, size, escaped(text))
}

// musicXML writes the sketch out.
func (s *sketch) musicXML() []byte {
	var b strings.Builder
	root := "score-partwise"
	if s.timewise {
		root = "score-timewise"
	}
	fmt.Fprintf(&b, "<%s version=\"4.0\">\n", root)
	if s.title != "" {
		fmt.Fprintf(&b, "<work><work-title>%s</work-title></work>\n", escaped(s.title))
	}
	for _, c := range s.credits {
		b.WriteString(c)
	}
	b.WriteString("<part-list>\n")
	group := ""
	for i, p := range s.parts {
		if p.group != group && group != "" {
			b.WriteString("<part-group number=\"1\" type=\"stop\"/>\n")
		}
		if p.group != group && p.group != "" {
			fmt.Fprintf(&b, "<part-group number=\"1\" type=\"start\"><group-name>%s</group-name></part-group>\n", escaped(p.group))
		}
		group = p.group
		fmt.Fprintf(&b, "<score-part id=\"P%d\"><part-name>%s</part-name>", i+1, escaped(p.name))
		if p.abbr != "" {
			fmt.Fprintf(&b, "<part-abbreviation>%s</part-abbreviation>", escaped(p.abbr))
		}
		if p.sound != "" || p.midi != "" {
			fmt.Fprintf(&b, "<score-instrument id=\"P%d-I1\"><instrument-name></instrument-name>", i+1)
			if p.sound != "" {
				fmt.Fprintf(&b, "<instrument-sound>%s</instrument-sound>", p.sound)
			}
			b.WriteString("</score-instrument>")
		}
		if p.midi != "" {
			fmt.Fprintf(&b, "<midi-instrument id=\"P%d-I1\"><midi-program>%s</midi-program></midi-instrument>", i+1, p.midi)
		}
		b.WriteString("</score-part>\n")
	}
	if group != "" {
		b.WriteString("<part-group number=\"1\" type=\"stop\"/>\n")
	}
	b.WriteString("</part-list>\n")
	if s.timewise {
		for m := 1; m <= s.measures; m++ {
			fmt.Fprintf(&b, "<measure number=\"%d\">\n", m)
			for i, p := range s.parts {
				fmt.Fprintf(&b, "<part id=\"P%d\">\n", i+1)
				s.measure(&b, p, m)
				b.WriteString("</part>\n")
			}
			b.WriteString("</measure>\n")
		}
	} else {
		for i, p := range s.parts {
			fmt.Fprintf(&b, "<part id=\"P%d\">\n", i+1)
			for m := 1; m <= s.measures; m++ {
				fmt.Fprintf(&b, "<measure number=\"%d\">\n", m)
				s.measure(&b, p, m)
				b.WriteString("</measure>\n")
			}
			b.WriteString("</part>\n")
		}
	}
	fmt.Fprintf(&b, "</%s>\n", root)
	return []byte(b.String())
}

// measure writes the music of one measure of a part.
func (s *sketch) measure(b *strings.Builder, p *sketchPart, m int) {
	if m == 1 {
		fmt.Fprintf(b, "<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>%d</staves>\n", len(p.staves))
		for i, letter := range p.staves {
			letter, _, _ = strings.Cut(letter, "/")
			clef, change, _ := strings.Cut(staffMusic[letter].clef, "-")
			fmt.Fprintf(b, "<clef number=\"%d\"><sign>%s</sign>", i+1, clef)
			if change != "" {
				b.WriteString("<clef-octave-change>-1</clef-octave-change>")
			}
			b.WriteString("</clef>")
		}
		for i, letter := range p.staves {
			if _, kind, ok := strings.Cut(letter, "/"); ok {
				fmt.Fprintf(b, "<staff-details number=\"%d\"><staff-type>%s</staff-type></staff-details>", i+1, kind)
			}
		}
		b.WriteString("</attributes>\n")
	}
	var left, right, sounds string
	for _, sign := range s.signs[m] {
		switch {
		case sign == "repeat-start":
			left += `<repeat direction="forward"/>`
		case sign == "repeat-end":
			right += `<repeat direction="backward"/>`
		case sign == "double":
			right = `<bar-style>light-light</bar-style>` + right
		case strings.HasPrefix(sign, "ending-"):
			left = fmt.Sprintf(`<ending number=%q type="start"/>`, sign[7:]) + left
			right = fmt.Sprintf(`<ending number=%q type="stop"/>`, sign[7:]) + right
		case sign == "dacapo", sign == "fine":
			sounds += fmt.Sprintf("<sound %s=\"yes\"/>", sign)
		case sign == "segno", sign == "dalsegno", sign == "tocoda", sign == "coda":
			sounds += fmt.Sprintf("<sound %s=\"x\"/>", sign)
		case strings.HasPrefix(sign, "tempo-"):
			sounds += fmt.Sprintf("<sound tempo=%q/>", sign[6:])
		}
	}
	if left != "" {
		fmt.Fprintf(b, "<barline location=\"left\">%s</barline>\n", left)
	}
	b.WriteString(sounds)
	for _, d := range p.directions[m] {
		b.WriteString(d)
	}
	first := true
	for i, letter := range p.staves {
		letter, _, _ = strings.Cut(letter, "/")
		bars := staffMusic[letter].notes
		bar := bars[(m-1)%len(bars)]
		if p.rests[[2]int{i + 1, m}] {
			bar = "r"
		}
		for v, voice := range strings.Split(bar, "/") {
			if !first {
				b.WriteString("<backup><duration>8</duration></backup>\n")
			}
			first = false
			notes := strings.Fields(voice)
			for _, n := range notes {
				s.chord(b, p, n, 8/len(notes), 4*i+v+1, i+1)
			}
		}
	}
	if right != "" {
		fmt.Fprintf(b, "<barline location=\"right\">%s</barline>\n", right)
	}
}

func (s *sketch) chord(b *strings.Builder, p *sketchPart, text string, duration, voice, staff int) {
	for i, n := range strings.Split(text, "+") {
		cue := ""
		if bare, ok := strings.CutPrefix(n, "c:"); ok {
			n, cue = bare, "<cue/>"
		}
		n, toe := strings.CutSuffix(n, "^")
		b.WriteString("<note>" + cue)
		if i > 0 {
			b.WriteString("<chord/>")
		}
		if n == "r" {
			b.WriteString("<rest/>")
		} else {
			fmt.Fprintf(b, "<pitch><step>%c</step><octave>%s</octave></pitch>", n[0], n[1:])
		}
		fmt.Fprintf(b, "<duration>%d</duration><voice>%d</voice><staff>%d</staff>", duration, voice, staff)
		if toe {
			b.WriteString("<notations><technical><toe/></technical></notations>")
		}
		if p.lyrics && n != "r" {
			b.WriteString("<lyric><text>la</text></lyric>")
		}
		b.WriteString("</note>\n")
	}
}

// score reads the sketch as the tool reads a file.
func (s *sketch) score(t testing.TB) *musicxml.Score {
	t.Helper()
	doc, err := musicxml.Read("sketch.musicxml", s.musicXML())
	if err != nil {
		t.Fatal(err)
	}
	return doc.Score()
}
