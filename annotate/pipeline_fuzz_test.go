package annotate_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/shelf"
)

// someOrgans are organs of several kinds, small ones first: one manual, no
// pedal reeds; two manuals; divided French divisions; couplers that do not
// carry on.
func someOrgans(t testing.TB) []*registry.Organ {
	t.Helper()
	var out []*registry.Organ
	for _, name := range []string{"village-one-manual", "village-two-manuals", shelf.Default(), "paris-saint-gervais-1768", "kent-hutchings-plaisted-1878"} {
		o, err := shelf.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, o)
	}
	return out
}

// FuzzPipeline takes any bytes through the whole job: what is refused is
// refused in one line, and of what is read every promise holds that is checked
// of whole scores.
func FuzzPipeline(f *testing.F) {
	organs := someOrgans(f)
	for i, file := range seedScores(f) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, uint8(i))
	}
	f.Fuzz(func(t *testing.T, data []byte, choice uint8) {
		doc, err := musicxml.Read("fuzz", data)
		if err != nil {
			if !refusedWell(err) {
				t.Fatalf("a bad refusal: %v", err)
			}
			return
		}
		checkJob(t, doc, data, organs, choice, passage.Options{})
	})
}

// FuzzDirections puts any words into a score at any places, and marks it:
// most of what is wrong with a score's bytes is never read, but all that its
// directions say is. The words are one direction a line; the places say for
// each in which measure and at which staff it stands.
func FuzzDirections(f *testing.F) {
	organs := someOrgans(f)
	var docs []*musicxml.Document
	for _, file := range seedScores(f) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		if doc, err := musicxml.Read(file, data); err == nil {
			docs = append(docs, doc)
		}
	}
	for i, words := range []string{
		"Gt. Diapasons 8, 4\nSw. Oboe 8, box closed\nadd Reeds\nFull Sw.\nGt. to Ped.",
		"R.H. Ch. Flute 8, Nazard 2 2/3\nL.H. Sw. Celeste\nPed. 4 ft. reed solo\nPed. 16, 8",
		"G.P.R. Fonds 8\nR. Voix humaine, Tremblant\nTirasses G.R.\nAnches Péd.\nAnches R.\nTutti",
		"Rückpositiv: Quintadena 8, Cimbel\nHauptwerk: Plenum\nohne Pedal\nmit Pedal\nCornet 2 fußig im Pedal",
		"Man.\npp\ncresc.\nff\nsempre legato\nSolo (Tuba)\nreduce\nGt. to Ped. off",
	} {
		f.Add(words, "0102030405060708", uint8(3*i), uint8(i))
	}
	f.Fuzz(func(t *testing.T, words, places string, score, choice uint8) {
		doc := docs[int(score)%len(docs)]
		if len(words) > 4000 {
			return
		}
		data, err := doc.Apply(directions(doc, strings.Split(words, "\n"), places))
		if err != nil {
			return // the encoding lacks a character where no reference can stand
		}
		marked, err := musicxml.Read(doc.Name(), data)
		if err != nil {
			t.Fatal(err)
		}
		checkJob(t, marked, data, organs, choice, passage.Options{})
	})
}

// directions are edits that put each line of words at a place: two bytes of
// places, for the measure and for the part, staff and beat.
func directions(doc *musicxml.Document, lines []string, places string) []musicxml.Edit {
	var edits []musicxml.Edit
	for i, line := range lines {
		at := [2]byte{byte(i), byte(i)}
		copy(at[:], places[min(2*i, len(places)):])
		parts := doc.Score().Parts
		p := parts[int(at[1])%len(parts)]
		if strings.TrimSpace(line) == "" || len(p.Measures) == 0 {
			continue
		}
		staff := 1 + int(at[1]>>2)%p.Staves
		m := p.Measures[int(at[0])%len(p.Measures)]
		a, err := p.Anchor(staff, m.Start.Add(m.Beat.Mul(musicxml.NewTime(int64(at[1]>>5), 2))))
		if err != nil {
			continue
		}
		d := &strings.Builder{}
		d.WriteString("<direction><direction-type><words>" + musicxml.Escape(strings.ToValidUTF8(line, "?")) + "</words></direction-type>")
		if a.Offset != "" {
			d.WriteString("<offset>" + a.Offset + "</offset>")
		}
		d.WriteString("<staff>" + string(rune('0'+staff)) + "</staff></direction>")
		edits = append(edits, a.Edit(d.String()))
	}
	return edits
}

func checkJob(t *testing.T, doc *musicxml.Document, data []byte, organs []*registry.Organ, choice uint8, read passage.Options) {
	t.Helper()
	opts := ways[int(choice)%len(ways)]
	opts.Read = read
	organ := organs[int(choice/8)%len(organs)]
	for _, lost := range faults(doc, data, organ, opts) {
		t.Error(lost)
	}
}

// seedScores are scores to begin from, none too long for many tries a second.
func seedScores(f *testing.F) []string {
	f.Helper()
	var out []string
	for _, pattern := range []string{"../testdata/annotate/*.m*", "../musicxml/testdata/scores/*"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			if info, err := os.Stat(file); err == nil && info.Size() < 30_000 && isScore(file) {
				out = append(out, file)
			}
		}
	}
	if len(out) < 50 {
		f.Fatalf("only %d scores to begin from", len(out))
	}
	return out
}
