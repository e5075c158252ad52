package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What a file of up to 8 MiB may take, whatever is in it: time on the
// processors, since the tests may have to share them, and memory.
const (
	hostileTime   = 10 * time.Second
	hostileMemory = 512 << 20
)

// hostileBytes is how large the files of TestHostile are: 8 MiB where
// STOPGAP_HOSTILE is "full", else so large that time by
// their square would tell.
func hostileBytes() int {
	if os.Getenv("STOPGAP_HOSTILE") == "full" {
		return 8 << 20
	}
	return 1 << 20
}

const (
	hostileHead = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list><part id="P1">`
	hostileTail = `</part></score-partwise>`

	threeStaves = `<attributes><divisions>4</divisions><staves>3</staves><clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef><clef number="3"><sign>F</sign></clef></attributes>`
	twoStaves   = `<attributes><divisions>4</divisions><staves>2</staves><clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef></attributes>`
	noteRH      = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><staff>1</staff></note>`
	noteLH      = `<note><pitch><step>C</step><octave>3</octave></pitch><duration>4</duration><staff>2</staff></note>`
	noteFeet    = `<note><pitch><step>C</step><octave>2</octave></pitch><duration>4</duration><staff>3</staff></note>`
	backOne     = `<backup><duration>4</duration></backup>`
	noteHigh    = `<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><staff>3</staff></note>`
	allPlay     = noteRH + backOne + noteLH + backOne + noteFeet
)

// pedalSolos are directions by which the feet lead, and one by which they do not.
var pedalSolos = []string{"Ped. 4 ft. reed solo", "Ped. Bourdon 16", "Ped. Nazard 2 2/3 solo", "Ped. Clarion 4"}

func says(words string, staff int) string {
	return fmt.Sprintf(`<direction><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, words, staff)
}

// hostileScores are scores of one thing without end: what stands before, what
// is repeated, and what stands after.
var hostileScores = []struct {
	name, before string
	unit         func(i int) string
	after        string
}{
	{"empty directions", hostileHead + `<measure>` + threeStaves + allPlay, func(int) string { return `<direction/>` }, `</measure>` + hostileTail},
	{"directions at one moment", hostileHead + `<measure>` + threeStaves, func(int) string { return says("Gt. Flute 8", 1) }, allPlay + `</measure>` + hostileTail},
	{"different directions at one moment", hostileHead + `<measure>` + threeStaves, func(i int) string { return says(asksFor[i%20].text, 1+i/20%3) }, allPlay + `</measure>` + hostileTail},
	{"a direction at every note", hostileHead + `<measure>` + threeStaves, func(i int) string { return says("Gt. Flute 8", 1) + noteRH }, `</measure>` + hostileTail},
	{"another direction at every note", hostileHead + `<measure>` + threeStaves, func(i int) string { return says(asksFor[i%20].text, asksFor[i%20].staff) + allPlay }, `</measure>` + hostileTail},
	{"another direction in every measure", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		return `<measure>` + says(asksFor[i%20].text, asksFor[i%20].staff) + allPlay + `</measure>`
	}, hostileTail},
	{"directions for staves that rest", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		return `<measure>` + says(asksFor[i%20].text, asksFor[i%20].staff) + `<forward><duration>4</duration></forward></measure>`
	}, hostileTail},
	{"stops without end", hostileHead + `<measure>` + threeStaves + `<direction><direction-type><words>Gt. Flute 8`, func(i int) string { return fmt.Sprintf(", Flute %d", i) }, `</words></direction-type></direction>` + allPlay + `</measure>` + hostileTail},
	{"stops added without end", hostileHead + `<measure>` + threeStaves, func(i int) string { return says(fmt.Sprintf("add Gt. Stop%d 8", i), 1) + allPlay }, `</measure>` + hostileTail},
	{"couplers to and fro", hostileHead + `<measure>` + threeStaves, func(i int) string {
		return says([]string{"Sw. to Gt.", "Gt. to Sw.", "Ch. to Gt. 4", "Gt. to Ped. off"}[i%4], 1) + allPlay
	}, `</measure>` + hostileTail},
	{"feet on and off in the bass staff", hostileHead + `<measure>` + twoStaves, func(i int) string { return says([]string{"Ped.", "Man."}[i%2], 2) + noteLH }, `</measure>` + hostileTail},
	{"a chord without end", hostileHead + `<measure>` + twoStaves + says("Ped.", 2) + noteLH, func(i int) string {
		return fmt.Sprintf(`<note><chord/><pitch><step>%c</step><octave>%d</octave></pitch><duration>4</duration><staff>2</staff></note>`, "CDEFGAB"[i%7], 2+i%3)
	}, `</measure>` + hostileTail},
	{"short notes over a long one", hostileHead + `<measure>` + twoStaves + strings.Replace(noteLH, ">4<", ">4000000<", 1) + `<backup><duration>4000000</duration></backup>`, func(i int) string { return says([]string{"Gt. Flute 8", "Sw. Oboe 8"}[i%2], 1) + noteRH }, `</measure>` + hostileTail},
	{"dynamics without end", hostileHead + `<measure>` + threeStaves, func(i int) string {
		return `<direction><direction-type><dynamics>` + []string{"<pp/>", "<ff/>", "<mf/>"}[i%3] + `</dynamics></direction-type><staff>1</staff></direction>` + allPlay
	}, `</measure>` + hostileTail},
	{"hairpins without end", hostileHead + `<measure>` + threeStaves + says("Sw. Oboe 8", 1), func(i int) string {
		return `<direction><direction-type><wedge type="` + []string{"crescendo", "stop"}[i%2] + `"/></direction-type><staff>1</staff></direction>` + noteRH
	}, `</measure>` + hostileTail},
	{"notes off the keyboard", hostileHead + `<measure>` + threeStaves, func(i int) string { return strings.ReplaceAll(allPlay, "<octave>", fmt.Sprintf("<octave>%d", i%2)) }, `</measure>` + hostileTail},
	{"a tempo at every note", hostileHead + `<measure>` + threeStaves, func(i int) string {
		return fmt.Sprintf(`<direction><sound tempo="%d"/></direction>`, 60+i%50) + strings.ReplaceAll(allPlay, "<octave>", fmt.Sprintf("<octave>%d", i%2))
	}, `</measure>` + hostileTail},
	{"clefs under a solo", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		clef := fmt.Sprintf(`<attributes><clef number="3"><sign>%c</sign><line>%d</line></clef></attributes>`, "FC"[i%2], 3+i%2)
		return `<measure>` + clef + says(pedalSolos[i%4], 3) + noteRH + backOne + noteLH + backOne + noteHigh + `</measure>`
	}, hostileTail},
	{"octave lines under a solo", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		line := `<direction><direction-type><octave-shift type="%s" size="8"/></direction-type><staff>3</staff></direction>`
		return `<measure>` + says(pedalSolos[i%4], 3) + noteRH + backOne + noteLH + backOne + fmt.Sprintf(line, "down") + noteHigh + fmt.Sprintf(line, "stop") + `</measure>`
	}, hostileTail},
	{"three notes for two feet", hostileHead + `<measure>` + threeStaves, func(int) string {
		third := strings.Replace(noteFeet, "<note>", "<note><chord/>", 1)
		return noteFeet + strings.Replace(third, ">C<", ">E<", 1) + strings.Replace(third, ">C<", ">G<", 1) + noteFeet
	}, `</measure>` + hostileTail},
	{"a fermata at every note of a solo", hostileHead + `<measure>` + threeStaves + says(pedalSolos[0], 3), func(int) string {
		return strings.Replace(noteHigh, `</note>`, `<notations><fermata/></notations></note>`, 1) + noteFeet
	}, `</measure>` + hostileTail},
	{"as before without end", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		return `<measure>` + says([]string{"as before", "Sw. Oboe 8", "Gt. Diapasons 8", "come prima"}[i%4], 1) + allPlay + `</measure>`
	}, hostileTail},
	{"texts not understood", hostileHead + `<measure>` + threeStaves, func(i int) string { return says(fmt.Sprintf("Gt. Gedxckt%d 8, Prxncipal", i), 1) + noteRH }, `</measure>` + hostileTail},
	{"endings", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		return fmt.Sprintf(`<measure><barline location="left"><ending number="%d" type="start"/></barline>%s%s<barline location="right"><ending number="%d" type="stop"/><repeat direction="backward"/></barline></measure>`, 1+i%2, says("Gt. Flute 8", 1), allPlay, 1+i%2)
	}, hostileTail},
	{"da capo in every measure", hostileHead + `<measure>` + threeStaves + allPlay + `</measure>`, func(i int) string {
		return `<measure>` + says("Gt. Flute 8", 1) + allPlay + `<sound dacapo="yes"/></measure>`
	}, hostileTail},
	{"headings", strings.Replace(hostileHead, `<part-list>`, "", 1)[:30], func(i int) string {
		return fmt.Sprintf(`<credit page="1"><credit-words>Sw. Flute 8, %d</credit-words></credit>`, i)
	}, hostileHead[30:] + `<measure>` + threeStaves + allPlay + `</measure>` + hostileTail},
	{"a heading without end", hostileHead[:30] + `<credit page="1"><credit-words>`, func(i int) string { return "Gt. Flute 8, " }, `</credit-words></credit>` + hostileHead[30:] + `<measure>` + threeStaves + allPlay + `</measure>` + hostileTail},
	{"a title without end", hostileHead[:30] + `<work><work-title>`, func(i int) string { return "Gt. Flute 8, " }, `</work-title></work>` + hostileHead[30:] + `<measure>` + threeStaves + allPlay + `</measure>` + hostileTail},
	{"a measure number without end", hostileHead + `<measure>` + threeStaves + allPlay + `</measure><measure number="`, func(i int) string { return "12345678" }, `">` + strings.Repeat(says("Ch. Nazard 2 2/3", 1)+allPlay+says("Ch. Larigot 1 1/3", 1)+allPlay, 50) + `</measure>` + hostileTail},
	{"marks of an earlier run", hostileHead + `<measure>` + threeStaves, func(i int) string { return `<?stopgap stops?>` + says("[Gt. Flute 8]", 1) + noteRH }, `</measure>` + hostileTail},
	{"octaves of an earlier run", hostileHead + `<measure>` + threeStaves, func(i int) string { return strings.Replace(noteFeet, "<octave>", "<?stopgap octave 1?><octave>", 1) }, `</measure>` + hostileTail},
	{"marks without instructions", hostileHead + `<measure>` + threeStaves, func(i int) string {
		return strings.Replace(says([]string{"[Gt. Flute 8]", "[Ped. Trumpet 8, play an octave higher]", "[loco]", "[Ch. to Gt.]"}[i%4], 1+i%3), "<words>", `<words font-style="italic">`, 1) + allPlay
	}, `</measure>` + hostileTail},
	{"instructions that end nothing", hostileHead + `<measure>` + threeStaves + allPlay, func(i int) string { return `<?stopgap was </measure>?>` }, `</measure>` + hostileTail},
}

// TestHostile gives the command files that are made to exhaust it. Each is
// read, or refused with one line and nothing written, in little time and
// memory.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	for _, c := range hostileScores {
		t.Run(c.name, func(t *testing.T) {
			var b strings.Builder
			b.WriteString(c.before)
			for i := 0; b.Len() < hostileBytes()-len(c.after)-len(c.unit(i)); i++ {
				b.WriteString(c.unit(i))
			}
			b.WriteString(c.after)
			runHostile(t, []byte(b.String()))
		})
	}
}

// TestUnseenCharacters: what a terminal would take for a command is not printed,
// wherever in a score it stands; what programs read has it.
func TestUnseenCharacters(t *testing.T) {
	const unseen = "\u009b31m\u202e\u200b\ufeff"
	score := strings.Replace(hostileHead, ">Organ<", ">Organ "+unseen+"<", 1) + `<measure number="1` + unseen + `">` + threeStaves +
		says("R.H. Ch. Nazard 2 2/3"+unseen, 1) + says("Gt. Flute 8, Zephyr"+unseen, 2) + allPlay + `</measure>` + hostileTail
	file := filepath.Join(t.TempDir(), "score.xml")
	write(t, file, []byte(score))
	for _, args := range [][]string{{"read", file}, {"plan", file}, {"check", file}, {"annotate", "--force", "-o", file + ".out", file}, {"plan", "--pin", "1" + unseen + " rh = Solo", file}} {
		var out, stderr bytes.Buffer
		run(&console{out: &out, err: &stderr, width: 80}, args)
		if text := out.String() + stderr.String(); strings.ContainsAny(text, "\u009b\u202e\u200b\ufeff") || len(text) < 50 {
			t.Errorf("%v: %q", args, text)
		}
	}
	var out bytes.Buffer
	if run(&console{out: &out, err: &out}, []string{"plan", "--format", "json", file}); !strings.Contains(out.String(), `\u202e`) && !strings.Contains(out.String(), "\u202e") {
		t.Error("the text in JSON is not the score's")
	}
}

// TestLargest marks a score of 64 MiB and 20,000 measures, and takes the marks
// out again.
func TestLargest(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	text := longScore{measures: 20_000, every: 10}.text()
	comment := fmt.Sprintf("<!-- %s -->", strings.Repeat("x", max(0, (64<<20-len(text))/20_000-9)))
	text = bytes.ReplaceAll(text, []byte("</measure>"), []byte(comment+"</measure>"))
	if len(text) < 63<<20 {
		t.Fatalf("only %d MiB", len(text)>>20)
	}
	dir := t.TempDir()
	score, marked, back := filepath.Join(dir, "score.xml"), filepath.Join(dir, "marked.xml"), filepath.Join(dir, "back.xml")
	write(t, score, text)
	for _, args := range [][]string{{"annotate", "-q", "-o", marked, score}, {"strip", "-q", "-o", back, marked}} {
		if took := measured(t, command(t, args...)); took.status != exitDone {
			t.Fatalf("%s: status %d", args[0], took.status)
		} else {
			t.Logf("%s: %v, %d MiB for a file of %d MiB", args[0], took.busy.Round(time.Millisecond), took.bytes>>20, len(text)>>20)
		}
	}
	got, err := os.ReadFile(marked)
	if err != nil || bytes.Equal(got, text) {
		t.Errorf("nothing is marked (%v)", err)
	}
	if got, err = os.ReadFile(back); err != nil || !bytes.Equal(got, text) {
		t.Errorf("taking the marks out does not give the bytes back (%v)", err)
	}
}

// TestHostileArchives does the same with compressed scores.
func TestHostileArchives(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	container := `<container><rootfiles><rootfile full-path="score.xml"/></rootfiles></container>`
	packed := func(write func(w *zip.Writer)) []byte {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		f, err := w.Create("META-INF/container.xml")
		if err != nil {
			t.Fatal(err)
		}
		f.Write([]byte(container))
		write(w)
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	fill := func(w *zip.Writer, name string, unit []byte, times int) {
		f, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		for range times {
			f.Write(unit)
		}
	}
	spaces := bytes.Repeat([]byte(" "), 1<<20)
	for name, data := range map[string][]byte{
		"a bomb": packed(func(w *zip.Writer) { fill(w, "score.xml", spaces, 1024) }),
		"a bomb beside the score": packed(func(w *zip.Writer) {
			fill(w, "score.xml", longScore{measures: 2, every: 1}.text(), 1)
			fill(w, "other.xml", spaces, 1024)
		}),
		"files without end": packed(func(w *zip.Writer) {
			for i := range 20_000 {
				fill(w, fmt.Sprint(i), nil, 1)
			}
		}),
	} {
		t.Run(name, func(t *testing.T) { runHostile(t, data) })
	}
}

// TestHostileOrgans checks organ files that are made to exhaust the command,
// and plans a score on them.
func TestHostileOrgans(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	const head = "name: x\npedalboard: {compass: C2-F4}\nkeyboards: [{name: Great, compass: C2-G6}, {name: Swell, compass: C2-G6}]\n"
	without := func(unit string) string { return strings.Repeat(unit, (1<<20-len(head))/len(unit)-20) }
	for name, organ := range map[string]string{
		"brackets":                    "name: " + without("["),
		"dashes":                      without("- "),
		"anchors":                     "name: " + without("&a "),
		"a name without end":          "name: " + without("x"),
		"a stop without end":          head + "divisions: [{name: Great, stops: [" + without("Gross ") + "]}]",
		"stops without end":           head + "divisions:\n- name: Great\n  stops:\n" + without("  - Flute 8\n"),
		"stops of which nothing left": head + "divisions:\n- name: Great\n  stops: [" + strings.Repeat("?", 250) + " 8]\n",
		"keys without end":            without("key: x\n"),
		"a very large organ":          largeOrgan(),
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "organ.yaml")
			write(t, file, []byte(organ))
			for _, args := range [][]string{{"organ", "check", file}, {"plan", "--format", "json", "--organ", file, "../../testdata/chorale-prelude.musicxml"}} {
				var stdout, stderr bytes.Buffer
				cmd := command(t, args...)
				cmd.Stdout, cmd.Stderr = &stdout, &stderr
				took := measured(t, cmd)
				if strings.Contains(stderr.String(), "please report") || took.status == exitBad && strings.Count(stderr.String(), "\n") > 250 {
					t.Errorf("%s: status %d, %.400q", args[0], took.status, stderr.String())
				}
				if took.busy > hostileTime || took.bytes > hostileMemory || stdout.Len()+stderr.Len() > 1<<20 {
					t.Errorf("%s: %v, %d MiB, %d KiB printed", args[0], took.busy.Round(time.Millisecond), took.bytes>>20, (stdout.Len()+stderr.Len())>>10)
				}
				t.Logf("%s: status %d, %v, %d MiB", args[0], took.status, took.busy.Round(time.Millisecond), took.bytes>>20)
			}
		})
	}
}

// largeOrgan is an organ file of seven manuals, each with forty stops in two
// of every kind and coupled to all others at three pitches.
func largeOrgan() string {
	manuals := []string{"Choir", "Great", "Swell", "Solo", "Echo", "Bombarde", "Positive"}
	stops := []string{
		"Bourdon 16", "Open Diapason 8", "Stopped Diapason 8", "Harmonic Flute 8", "Viola 8", "Gamba 8", "Dulciana 8", "Voix Celeste 8", "Principal 4", "Flute 4",
		"Twelfth 2 2/3", "Nazard 2 2/3", "Fifteenth 2", "Piccolo 2", "Tierce 1 3/5", "Double Trumpet 16", "Trumpet 8", "Oboe 8", "Clarinet 8", "Clarion 4",
	}
	var b strings.Builder
	b.WriteString("name: x\npedalboard: {compass: C2-F4}\nkeyboards:\n")
	for _, m := range manuals {
		fmt.Fprintf(&b, "  - {name: %s, compass: C2-G6}\n", m)
	}
	b.WriteString("divisions:\n  - {name: Pedal, stops: [Open Diapason 16, Bourdon 16, Trombone 16]}\n")
	for _, m := range manuals {
		fmt.Fprintf(&b, "  - name: %s\n    enclosed: true\n    stops:\n", m)
		for _, s := range stops {
			at := strings.IndexAny(s, "12458")
			name, feet := s[:at-1], s[at:]
			fmt.Fprintf(&b, "      - %s I %s\n      - %s II %s\n", name, feet, name, feet)
		}
	}
	b.WriteString("couplers:\n")
	for _, m := range manuals {
		fmt.Fprintf(&b, "  - %s to Pedal\n", m)
		for _, other := range manuals {
			if other != m {
				fmt.Fprintf(&b, "  - %s to %s\n  - %s to %s 4\n  - %s to %s 16\n", m, other, m, other, m, other)
			}
		}
	}
	return b.String()
}

// runHostile marks a file, and shows its plan.
func runHostile(t *testing.T, data []byte) {
	t.Helper()
	dir := t.TempDir()
	score, out := filepath.Join(dir, "score"), filepath.Join(dir, "out")
	write(t, score, data)
	for _, args := range [][]string{
		{"annotate", "--originals", "replace", "-o", out, score},
		{"plan", "--format", "json", "-o", out, "--force", score},
		{"check", score},
		{"read", score},
	} {
		var stdout, stderr bytes.Buffer
		cmd := command(t, args...)
		cmd.Stdout, cmd.Stderr = &stdout, &stderr
		took := measured(t, cmd)
		if took.status == exitBad && strings.Count(stderr.String(), "\n") != 1 || strings.Contains(stderr.String(), "please report") {
			t.Errorf("%s: status %d, %.400q", args[0], took.status, stderr.String())
		}
		if _, err := os.Stat(out); args[0] == "annotate" && (err == nil) != (took.status == exitDone) {
			t.Errorf("%s: status %d, and the output: %v", args[0], took.status, err)
		}
		if took.busy > hostileTime || took.bytes > hostileMemory {
			t.Errorf("%s: %v, %d MiB for a file of %d KiB", args[0], took.busy.Round(time.Millisecond), took.bytes>>20, len(data)>>10)
		}
		if stdout.Len() > 64<<20 {
			t.Errorf("%s printed %d MiB", args[0], stdout.Len()>>20)
		}
		t.Logf("%s: status %d, %v, %d MiB; %.200q", args[0], took.status, took.busy.Round(time.Millisecond), took.bytes>>20, strings.TrimSpace(stderr.String()))
	}
}
