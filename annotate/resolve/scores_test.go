package resolve_test

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/organfile"
	"stopgap/registry/shelf"
)

// A section is four bars of 4/4 in a tiny score, with the directions that
// stand at its first note.
type section struct {
	music music
	texts []text
	rest  bool // the last bar of the section before is a rest for all
}

// music is what each staff plays, as notes separated by spaces and repeated
// until the section is full: "C4 E4 G4" are half notes, "C4*1" is a quarter,
// "C3+E3+G3*4" a chord of a whole note, "-" a rest. An empty staff rests; a
// score in which the feet never play has two staves.
type music struct{ RH, LH, Feet string }

// A text is a direction at a staff: "rh", "between" (below the upper staff),
// "lh", "feet"; "head" is a heading on the first page. dyn, cresc and dim are
// dynamics and hairpins at the upper staff.
type text struct{ at, words string }

const (
	beatsInBar = 4
	barsInAll  = 4
)

// tinyScore writes sections as MusicXML.
func tinyScore(sections []section) []byte {
	var b strings.Builder
	feet := false
	for _, s := range sections {
		feet = feet || s.music.Feet != ""
		for _, x := range s.texts {
			feet = feet || x.at == "feet"
		}
	}
	staves := 2
	if feet {
		staves = 3
	}
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0">`)
	for _, s := range sections {
		for _, x := range s.texts {
			if x.at == "head" {
				fmt.Fprintf(&b, `<credit page="1"><credit-words>%s</credit-words></credit>`, escaped(x.words))
			}
		}
	}
	b.WriteString(`<part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list><part id="P1">`)
	measure := 0
	for i, s := range sections {
		bars := barsInAll
		rests := i+1 < len(sections) && sections[i+1].rest
		for bar := range bars {
			measure++
			fmt.Fprintf(&b, `<measure number="%d">`, measure)
			if measure == 1 {
				fmt.Fprintf(&b, `<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>%d</staves>`, staves)
				for n := 1; n <= staves; n++ {
					sign, line := "F", 4
					if n == 1 {
						sign, line = "G", 2
					}
					fmt.Fprintf(&b, `<clef number="%d"><sign>%s</sign><line>%d</line></clef>`, n, sign, line)
				}
				b.WriteString(`</attributes>`)
			}
			if bar == 0 {
				for _, x := range s.texts {
					b.WriteString(x.xml())
				}
			}
			for n, line := range []string{s.music.RH, s.music.LH, s.music.Feet}[:staves] {
				if n > 0 {
					b.WriteString(`<backup><duration>16</duration></backup>`)
				}
				if rests && bar == bars-1 {
					line = ""
				}
				writeBar(&b, line, bar, n+1)
			}
			b.WriteString(`</measure>`)
		}
	}
	b.WriteString(`</part></score-partwise>`)
	return []byte(b.String())
}

func (x text) xml() string {
	staff, placement := 1, "above"
	switch x.at {
	case "head":
		return ""
	case "between":
		placement = "below"
	case "lh":
		staff = 2
	case "feet":
		staff, placement = 3, "below"
	case "dyn":
		return fmt.Sprintf(`<direction placement="below"><direction-type><dynamics><%s/></dynamics></direction-type><staff>1</staff></direction>`, x.words)
	case "cresc", "dim":
		kind := map[string]string{"cresc": "crescendo", "dim": "diminuendo"}[x.at]
		return fmt.Sprintf(`<direction placement="below"><direction-type><wedge type="%s"/></direction-type><staff>1</staff></direction>`, kind)
	}
	return fmt.Sprintf(`<direction placement="%s"><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, placement, escaped(x.words), staff)
}

func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		panic(err)
	}
	return b.String()
}

// writeBar writes one bar of a line that begins again and again.
func writeBar(b *strings.Builder, line string, bar, staff int) {
	type chord struct {
		keys  []registry.Key
		beats int
	}
	var chords []chord
	total := 0
	for _, token := range strings.Fields(line) {
		c := chord{beats: 2}
		names, beats, ok := strings.Cut(token, "*")
		if ok {
			n, err := strconv.Atoi(beats)
			if err != nil || n < 1 || n > beatsInBar {
				panic("no such length: " + token)
			}
			c.beats = n
		}
		if names != "-" {
			for _, name := range strings.Split(names, "+") {
				k, err := registry.ParseKey(name)
				if err != nil {
					panic(err)
				}
				c.keys = append(c.keys, k)
			}
		}
		chords = append(chords, c)
		total += c.beats
	}
	if total == 0 {
		fmt.Fprintf(b, `<note><rest measure="yes"/><duration>16</duration><voice>%d</voice><staff>%d</staff></note>`, staff, staff)
		return
	}
	at, from, to := 0, bar*beatsInBar, (bar+1)*beatsInBar
	for i := 0; at < to; i = (i + 1) % len(chords) {
		c := chords[i]
		start, end := max(at, from), min(at+c.beats, to)
		at += c.beats
		if start >= end {
			continue
		}
		duration := 4 * (end - start)
		if len(c.keys) == 0 {
			fmt.Fprintf(b, `<note><rest/><duration>%d</duration><voice>%d</voice><staff>%d</staff></note>`, duration, staff, staff)
		}
		for n, k := range c.keys {
			b.WriteString(`<note>`)
			if n > 0 {
				b.WriteString(`<chord/>`)
			}
			fmt.Fprintf(b, `%s<duration>%d</duration><voice>%d</voice><staff>%d</staff></note>`, pitchXML(k), duration, staff, staff)
		}
	}
}

func pitchXML(k registry.Key) string {
	name := k.String()
	step, octave := name[:1], name[len(name)-1:]
	alter := ""
	switch name[1] {
	case '#':
		alter = `<alter>1</alter>`
	case 'b':
		alter = `<alter>-1</alter>`
	}
	return fmt.Sprintf(`<pitch><step>%s</step>%s<octave>%s</octave></pitch>`, step, alter, octave)
}

// askedOf reads a score that a test wrote.
func askedOf(t testing.TB, sections []section, lang string) *passage.Score {
	t.Helper()
	asked, err := readAsked(tinyScore(sections), lang)
	if err != nil {
		t.Fatal(err)
	}
	return asked
}

func readAsked(file []byte, lang string) (*passage.Score, error) {
	doc, err := musicxml.Read("tiny.musicxml", file)
	if err != nil {
		return nil, err
	}
	return passage.Read(doc.Score(), passage.Options{Lang: lang})
}

// shelfOrgan is an embedded organ.
func shelfOrgan(t testing.TB, name string) *registry.Organ {
	t.Helper()
	o, err := shelf.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// tinyOrgan reads a short stop list, one division a line from the lowest
// manual up: "Swell [box, tremulant]: Oboe 8, {stop: Voix Celeste 8, compass:
// C3-}". A line "couplers:" lists the couplers; "organ:" gives keys of the
// organ file, such as "action: electric".
func tinyOrgan(t testing.TB, list string) *registry.Organ {
	t.Helper()
	file := organFile(list)
	o, findings := organfile.Read("tiny.yaml", []byte(file))
	if o == nil {
		t.Fatalf("%v\n%s", findings, file)
	}
	return o
}

// organFile writes a short stop list as an organ file.
func organFile(list string) string {
	var keyboards, divisions, rest strings.Builder
	var tremulants []string
	pedal := ""
	for line := range strings.Lines(list) {
		line = strings.TrimSpace(line)
		head, stops, ok := strings.Cut(line, ":")
		if !ok {
			continue
		}
		stops = strings.TrimSpace(stops)
		name, marks, _ := strings.Cut(strings.TrimSuffix(head, "]"), "[")
		name = strings.TrimSpace(name)
		switch name {
		case "couplers":
			fmt.Fprintf(&rest, "couplers: [%s]\n", stops)
			continue
		case "organ":
			for key := range strings.SplitSeq(stops, ";") {
				fmt.Fprintln(&rest, strings.TrimSpace(key))
			}
			continue
		}
		fmt.Fprintf(&divisions, "  - name: %s\n", name)
		compass := "C2-G6"
		floating, isPedal := false, strings.HasPrefix(name, "Ped") || strings.HasPrefix(name, "Péd")
		if isPedal {
			compass = "C2-F4"
		}
		for mark := range strings.SplitSeq(marks, ",") {
			switch mark = strings.TrimSpace(mark); {
			case mark == "":
			case mark == "box":
				divisions.WriteString("    enclosed: true\n")
			case mark == "tremulant":
				tremulants = append(tremulants, name)
			case mark == "floating":
				divisions.WriteString("    keyboard: floating\n")
				floating = true
			case strings.HasPrefix(mark, "divided "):
				compass += ", divided: " + strings.TrimPrefix(mark, "divided ")
			case strings.Contains(mark, ":"):
				fmt.Fprintf(&divisions, "    %s\n", mark)
			default:
				compass = mark
			}
		}
		fmt.Fprintf(&divisions, "    stops: [%s]\n", stops)
		switch {
		case floating:
		case isPedal:
			pedal = fmt.Sprintf("pedalboard: {compass: %s}\n", compass)
		default:
			fmt.Fprintf(&keyboards, "  - {name: %s, compass: %s}\n", name, compass)
		}
	}
	file := "name: Test organ\n" + pedal + "keyboards:\n" + keyboards.String() + "divisions:\n" + divisions.String() + rest.String()
	if len(tremulants) > 0 {
		file += "tremulants: [" + strings.Join(tremulants, ", ") + "]\n"
	}
	return file
}
