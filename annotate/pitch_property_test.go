package annotate_test

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate"
	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/organfile"
)

// A frequency is exact: 2 to the power of class/12, times ratio, against C0.
// Notes an octave apart have the same class.
type frequency struct {
	class int
	ratio string
}

// sounding is where a key sounds when a rank of so many feet speaks on it.
func sounding(midi int, ratio *big.Rat) frequency {
	class, octave := (midi%12+12)%12, midi/12
	if midi < 0 && class != 0 {
		octave--
	}
	f := new(big.Rat).Set(ratio)
	for ; octave > 0; octave-- {
		f.Mul(f, big.NewRat(2, 1))
	}
	for ; octave < 0; octave++ {
		f.Mul(f, big.NewRat(1, 2))
	}
	return frequency{class, f.RatString()}
}

// octavesUp is a rank's ratio moved by octaves.
func octavesUp(r *big.Rat, n int) *big.Rat {
	out := new(big.Rat).Set(r)
	for ; n > 0; n-- {
		out.Mul(out, big.NewRat(2, 1))
	}
	for ; n < 0; n++ {
		out.Mul(out, big.NewRat(1, 2))
	}
	return out
}

// TestPitchIsKeptNoteByNote draws scores and organs, marks the scores in each
// way, reads them again, and works out for each note what sounds when the key
// that the marked score names is pressed, from the organ's stops and couplers
// and not from the plan's own word: where the plan says that a line's pitch is
// kept, it is the set of frequencies that the score asks for, and where the
// plan says that it is not, some note of the line sounds otherwise. The heads
// stay where they are under octave lines.
func TestPitchIsKeptNoteByNote(t *testing.T) {
	notes, moved, lost := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		organ, told := drawOrgan(t)
		text := drawScore(t)
		doc, err := musicxml.Read("score", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, way := range []mark.PedalMarks{mark.OctaveLine, mark.WrittenOut} {
			opts := annotate.Options{Pedal: way}
			r, err := annotate.Plan(doc, organ, opts)
			if err != nil {
				t.Fatal(err)
			}
			data, err := r.Write(opts, organ.Name)
			if err != nil {
				t.Fatalf("%s: %v", way, err)
			}
			again, err := musicxml.Read("marked", data)
			if err != nil {
				t.Fatalf("%s: %v\n%s", way, err, data)
			}
			back, _, err := annotate.Strip(again)
			if err != nil || string(back) != text {
				t.Fatalf("%s: the marks do not come out again: %v", way, err)
			}
			c := &keptChecker{t: t, before: doc.Score().Parts[0], after: again.Score().Parts[0], organ: organ, told: told}
			c.plan(r.Plan)
			notes, moved, lost = notes+c.notes, moved+c.moved, lost+c.lost
			if way == mark.OctaveLine {
				c.heads(r.Marks)
			}
		}
	})
	t.Logf("%d notes struck, %d of them moved by octaves, %d lines without their pitch", notes, moved, lost)
	if moved == 0 || lost == 0 {
		t.Error("the drawn scores show nothing")
	}
}

type keptChecker struct {
	t             *rapid.T
	before, after *musicxml.Part
	organ         *registry.Organ
	told          string
	notes         int
	moved         int
	lost          int
}

// key is the key that the marked score names for a note.
func (c *keptChecker) key(n *musicxml.Note) int {
	i := slices.Index(c.before.Notes, n)
	m := c.after.Notes[i]
	if m.Pitch.Step != n.Pitch.Step || m.Pitch.Alter != n.Pitch.Alter || m.Onset != n.Onset || m.Duration != n.Duration {
		c.t.Fatalf("note %d is another in the marked score", i)
	}
	return m.Pitch.MIDI()
}

func (c *keptChecker) plan(plan *resolve.Plan) {
	for _, s := range plan.Settings {
		for _, line := range s.Lines {
			if line.Keyboard == nil {
				continue
			}
			asked, known := askedOf(s.Passage, line.Asked.Division)
			kept, any := true, false
			for _, n := range line.Asked.Notes {
				if !n.StruckIn(s.Passage.Span) {
					continue
				}
				c.notes, any = c.notes+1, true
				key := c.key(n.Note)
				if by := key - n.Note.Pitch.MIDI(); by != 12*line.Octave {
					c.t.Fatalf("%s in measure %s is moved by %d semitones, and the plan says %d octaves\n%s", n.Key, n.Note.Measure.Number, by, line.Octave, c.told)
				}
				if line.Octave != 0 {
					c.moved++
				}
				if !known {
					continue
				}
				var want []frequency
				for _, ratio := range asked {
					want = append(want, sounding(n.Note.Pitch.MIDI(), ratio))
				}
				kept = kept && sameFrequencies(want, c.given(s, line, key))
			}
			if known && any && kept != line.PitchKept {
				c.t.Fatalf("measure %s: the plan says of %s that its pitch is kept: %v, and it is: %v\n%s", s.Passage.From.Measure, line.Asked.Line, line.PitchKept, kept, c.told)
			}
			if known && any && !kept {
				c.lost++
			}
		}
	}
}

// given is what sounds when a key of the line's keyboard is pressed, by the
// organ's own couplers.
func (c *keptChecker) given(s *resolve.Setting, line *resolve.Line, key int) []frequency {
	var out []frequency
	for _, x := range c.organ.Sounding(s.Drawn, line.Keyboard) {
		pipe := registry.Key(key)
		ok := line.Keyboard.Compass.Has(pipe)
		for i, k := range x.Via {
			pipe += registry.Key(12 * k.Octave)
			if next := i + 1; next < len(x.Via) && k.From != k.To && x.Via[next].From != x.Via[next].To && k.From.Keyboard != nil {
				ok = ok && k.From.Keyboard.Compass.Has(pipe)
			}
		}
		if ok && x.Stop.HasPipe(pipe) {
			ratio := new(big.Rat).Quo(big.NewRat(8, 1), feet(x.Stop.Pitch.String()))
			out = append(out, sounding(key, octavesUp(ratio, x.Octave)))
		}
	}
	return out
}

// feet reads "8" and "2 2/3".
func feet(text string) *big.Rat {
	sum := new(big.Rat)
	for part := range strings.FieldsSeq(text) {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			panic(text)
		}
		sum.Add(sum, r)
	}
	return sum
}

// askedOf are the ratios that a division is asked for, with those of what the
// score couples to it.
func askedOf(p *passage.Passage, d passage.Division) (out []*big.Rat, known bool) {
	seen := map[string]bool{}
	var visit func(d passage.Division, octave int) bool
	visit = func(d passage.Division, octave int) bool {
		if key := fmt.Sprint(d, octave); seen[key] {
			return true
		} else {
			seen[key] = true
		}
		if a := p.Asked(d); a != nil {
			for _, v := range a.Voices {
				switch v.Group {
				case "principal", "flute", "string", "reed", "any":
				default:
					return false
				}
				if v.Pitch.IsZero() {
					return false
				}
				out = append(out, octavesUp(new(big.Rat).Quo(big.NewRat(8, 1), feet(v.Pitch.String())), octave))
			}
		}
		for _, c := range p.Couplings {
			if c.To == d && !visit(c.From, octave+c.Octave) {
				return false
			}
		}
		return true
	}
	known = visit(d, 0)
	return out, known && len(out) > 0
}

func sameFrequencies(a, b []frequency) bool {
	set := func(list []frequency) map[frequency]bool {
		out := map[frequency]bool{}
		for _, f := range list {
			out[f] = true
		}
		return out
	}
	x, y := set(a), set(b)
	if len(x) != len(y) {
		return false
	}
	for f := range x {
		if !y[f] {
			return false
		}
	}
	return true
}

// heads checks that under octave lines the heads stand where they stood.
func (c *keptChecker) heads(marks []mark.Mark) {
	written := map[*musicxml.Note]bool{}
	for _, m := range marks {
		for _, s := range m.Shifts {
			for _, n := range s.Notes {
				written[n.Note] = s.WrittenOut
			}
		}
	}
	for i, n := range c.before.Notes {
		if !n.HasPitch || written[n] {
			continue
		}
		if was, is := headAt(c.before, n), headAt(c.after, c.after.Notes[i]); was != is {
			c.t.Fatalf("the head of %s in measure %s has moved by %d steps\n%s", n.Pitch, n.Measure.Number, is-was, c.told)
		}
	}
}

// headAt is where a head is printed, in steps above C0.
func headAt(p *musicxml.Part, n *musicxml.Note) int {
	steps := 7*n.Pitch.Octave + strings.IndexByte("CDEFGAB", n.Pitch.Step)
	for _, o := range p.OctaveShifts {
		if o.Staff != n.Staff || n.Onset.Less(o.Start) || !n.Onset.Less(o.End) {
			continue
		}
		by := map[int]int{8: 7, 15: 14, 22: 21}[o.Size]
		if o.Type == "up" {
			by = -by
		}
		steps -= by
	}
	return steps
}

// drawOrgan draws an organ of one to three manuals and a pedalboard.
func drawOrgan(t *rapid.T) (*registry.Organ, string) {
	manuals := []string{"Choir", "Great", "Swell"}[:rapid.IntRange(1, 3).Draw(t, "manuals")]
	some := func(of []string, label string) string {
		n := rapid.IntRange(1, min(5, len(of))).Draw(t, label)
		return strings.Join(rapid.Permutation(of).Draw(t, label+" stops")[:n], ", ")
	}
	compass := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
	var b strings.Builder
	fmt.Fprintf(&b, "name: Drawn\nsource: drawn\naction: %s\n", rapid.SampledFrom([]string{"mechanical", "electric"}).Draw(t, "action"))
	fmt.Fprintf(&b, "pedalboard: {compass: %s}\nkeyboards:\n", compass("pedalboard", "C2-F4", "C2-G4", "C2-D4", "C2-C4", "C2-D4 short octave", "C2-E3"))
	for _, m := range manuals {
		fmt.Fprintf(&b, "  - {name: %s, compass: %s}\n", m, compass(m, "C2-G6", "C2-F6", "C2-C7", "C3-F6"))
	}
	b.WriteString("divisions:\n")
	for _, m := range manuals {
		stops := some([]string{"Open Diapason 8", "Stopped Diapason 8", "Gedackt 8", "Flute 4", "Principal 4", "Trumpet 8", "Clarion 4", "Oboe 8", "Fifteenth 2", "Bourdon 16", "{stop: Salicional 8, compass: C3-}"}, m)
		fmt.Fprintf(&b, "  - {name: %s, stops: [%s]}\n", m, stops)
	}
	fmt.Fprintf(&b, "  - {name: Pedal, stops: [%s]}\n", some([]string{"Bourdon 16", "Bass Flute 8", "Trumpet 8", "Posaune 16", "Choral Bass 4", "{stop: Zink 2, family: reed, kind: chorus reed}", "Clarion 4"}, "Pedal"))
	var couplers []string
	for _, m := range manuals {
		for _, c := range []string{m + " to Pedal", m + " Octave", m + " Unison Off"} {
			if rapid.Bool().Draw(t, c) {
				couplers = append(couplers, c)
			}
		}
	}
	if len(manuals) > 1 && rapid.Bool().Draw(t, "manual coupler") {
		couplers = append(couplers, manuals[1]+" to "+manuals[0])
	}
	fmt.Fprintf(&b, "couplers: [%s]\n", strings.Join(couplers, ", "))
	organ, findings := organfile.Read("drawn.yaml", []byte(b.String()))
	if organ == nil {
		t.Fatalf("%v\n%s", findings, b.String())
	}
	return organ, b.String()
}

// drawScore draws a score of three staves with a pedal tune.
func drawScore(t *rapid.T) string {
	measures := rapid.IntRange(3, 8).Draw(t, "measures")
	low := rapid.IntRange(36, 60).Draw(t, "lowest of the tune")
	high := low + rapid.IntRange(2, 14).Draw(t, "range of the tune")
	two := rapid.IntRange(0, 3).Draw(t, "second voice") == 0
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list><part id="P1">`)
	turn := rapid.IntRange(1, measures).Draw(t, "measure of the second text")
	for m := 1; m <= measures; m++ {
		fmt.Fprintf(&b, `<measure number="%d">`, m)
		if m == 1 {
			b.WriteString(`<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>3</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef><clef number="3"><sign>F</sign><line>4</line></clef></attributes>`)
			words(&b, 1, "R.H. "+rapid.SampledFrom([]string{"Gt. Stopped Diapason 8", "Sw. Flute 4 solo", "Gt. Open Diapason 8, Principal 4", "Ch. Salicional 8"}).Draw(t, "right hand"))
			words(&b, 2, "L.H. "+rapid.SampledFrom([]string{"Sw. Gedackt 8", "Ch. Flute 8", "Gt. Stopped Diapason 8"}).Draw(t, "left hand"))
			words(&b, 3, "Ped. "+rapid.SampledFrom([]string{"Clarion 4 solo", "Bourdon 16, Flute 8", "Trumpet 8 solo", "4 ft. reed solo"}).Draw(t, "pedal"))
		} else if m == turn {
			words(&b, 3, "Ped. "+rapid.SampledFrom([]string{"Bourdon 16", "Clarion 4 solo", "Choral Bass 4 solo"}).Draw(t, "pedal after"))
		}
		drawVoice(t, &b, 1, 1, 67, 79)
		b.WriteString(`<backup><duration>8</duration></backup>`)
		drawVoice(t, &b, 2, 5, 50, 62)
		b.WriteString(`<backup><duration>8</duration></backup>`)
		drawVoice(t, &b, 3, 9, low, high)
		if two {
			b.WriteString(`<backup><duration>8</duration></backup>`)
			drawVoice(t, &b, 3, 10, max(36, low-5), max(36, high-5))
		}
		b.WriteString(`</measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	return b.String()
}

func words(b *strings.Builder, staff int, text string) {
	fmt.Fprintf(b, `<direction placement="below"><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, text, staff)
}

// drawVoice draws one measure of a voice, with ties, rests, chords and grace
// notes.
func drawVoice(t *rapid.T, b *strings.Builder, staff, voice, low, high int) {
	for left := 8; left > 0; {
		d := min(left, rapid.SampledFrom([]int{1, 2, 4, 8}).Draw(t, "duration"))
		kind := rapid.IntRange(0, 9).Draw(t, "kind")
		if kind == 0 {
			fmt.Fprintf(b, `<note><rest/><duration>%d</duration><voice>%d</voice><staff>%d</staff></note>`, d, voice, staff)
			left -= d
			continue
		}
		key := rapid.IntRange(low, high).Draw(t, "key")
		if kind == 1 {
			fmt.Fprintf(b, `<note><grace/>%s<voice>%d</voice><type>eighth</type><staff>%d</staff></note>`, pitchXML(key+1), voice, staff)
		}
		note := func(key int, chord, stop, start string, d int) {
			fmt.Fprintf(b, `<note>%s%s<duration>%d</duration>%s%s<voice>%d</voice><stem>up</stem><staff>%d</staff></note>`, chord, pitchXML(key), d, stop, start, voice, staff)
		}
		switch {
		case kind == 2 && d > 1: // tied to itself
			note(key, "", "", `<tie type="start"/>`, d/2)
			note(key, "", `<tie type="stop"/>`, "", d-d/2)
		case kind == 3:
			note(key, "", "", "", d)
			note(key+4, "<chord/>", "", "", d)
		default:
			note(key, "", "", "", d)
		}
		left -= d
	}
}

func pitchXML(key int) string {
	steps := []string{"C", "C1", "D", "D1", "E", "F", "F1", "G", "G1", "A", "A1", "B"}
	s := steps[key%12]
	alter := ""
	if len(s) > 1 {
		alter = "<alter>1</alter>"
	}
	return fmt.Sprintf("<pitch><step>%s</step>%s<octave>%d</octave></pitch>", s[:1], alter, key/12-1)
}
