package annotate_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/sheet"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/shelf"
)

// ways are the ways of marking that a score is tried with; each score gets
// them in turn, organ by organ.
var ways = []annotate.Options{
	{Propose: true, Pedal: mark.OctaveLine},
	{Propose: true, Pedal: mark.WrittenOut},
	{Propose: true, Pedal: mark.WordsOnly, Replace: true},
	{Propose: false, Pedal: mark.OctaveLine, Replace: true},
	{Propose: true, Pedal: mark.WrittenOut, Replace: true},
}

// TestFidelity marks every score of testdata, and of the folder that
// MUSICXML_CORPUS names, for every organ of the shelf: what every plan
// promises, and that nothing of the file is lost. A file that is refused is
// only reported.
func TestFidelity(t *testing.T) {
	var organs []*registry.Organ
	for _, name := range shelf.Names() {
		o, err := shelf.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		organs = append(organs, o)
	}
	marked, refused := 0, 0
	programs := map[string]int{}
	for _, dir := range []string{"../testdata", "../musicxml/testdata/scores", os.Getenv("MUSICXML_CORPUS")} {
		if dir == "" {
			continue
		}
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !isScore(path) {
				return err
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			doc, err := musicxml.Read(path, data)
			if err != nil {
				refused++
				t.Log(err)
				return nil
			}
			marked++
			programs[program(doc)]++
			// Where it is to be short, each score is marked for one organ, all in turn.
			given, asking := organs, organs[:3]
			if testing.Short() {
				given, asking = organs[marked%len(organs):][:1], organs[marked%3:][:1]
			}
			for i, organ := range given {
				for _, lost := range faults(doc, data, organ, ways[(i+marked)%len(ways)]) {
					t.Errorf("%s on %s: %s", path, organ.Name, lost)
				}
			}
			asks, opts := asOrganScore(t, doc)
			for i, organ := range asking {
				o := ways[(i+marked)%len(ways)]
				o.Read = opts
				for _, lost := range faults(read(t, path, asks), asks, organ, o) {
					t.Errorf("%s, with directions, on %s: %s", path, organ.Name, lost)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d scores marked, %d refused", marked, refused)
	for name, n := range programs {
		t.Logf("%5d from %s", n, name)
	}
}

// asOrganScore puts directions for an organ into a score, whatever it is for,
// and takes its first staff for the right hand's and its last for the feet's:
// marks of every kind then stand in files from every program.
func asOrganScore(t *testing.T, doc *musicxml.Document) ([]byte, passage.Options) {
	t.Helper()
	parts := doc.Score().Parts
	first, last := parts[0], parts[len(parts)-1]
	var edits []musicxml.Edit
	put := func(p *musicxml.Part, staff int, at musicxml.Time, words string) {
		a, err := p.Anchor(staff, at)
		if err != nil {
			return // the measure is empty, or the divisions do not reach the moment
		}
		edits = append(edits, a.Edit(fmt.Sprintf("<direction><direction-type><words>%s</words></direction-type>%s<staff>%d</staff></direction>", words, offsetOf(a), staff)))
	}
	for i, m := range last.Measures {
		switch i % 3 {
		case 0:
			put(last, last.Staves, m.Start, "Ped. 4 ft. reed solo")
		case 1:
			put(first, 1, m.Start.Add(m.Beat), "R.H. Ch. Nazard 2 2/3, Flute 8")
		case 2:
			put(last, last.Staves, m.Start.Add(m.Beat.Mul(musicxml.NewTime(1, 3))), "Ped. Bourdon 16, Sw. to Ped.")
			put(first, 1, m.Start, "Gt. Diapasons 8, 4, Sw. Reeds 16, 8, 4, Sw. to Gt.")
		}
	}
	data, err := doc.Apply(edits)
	if err != nil {
		t.Fatal(err)
	}
	staves := passage.Choice{Pedal: fmt.Sprintf("%s.%d", last.ID, last.Staves)}
	if first != last || last.Staves > 1 {
		staves.RH = first.ID + ".1"
	}
	return data, passage.Options{Staves: staves}
}

func offsetOf(a musicxml.Anchor) string {
	if a.Offset == "" {
		return ""
	}
	return "<offset>" + a.Offset + "</offset>"
}

func read(t *testing.T, name string, data []byte) *musicxml.Document {
	t.Helper()
	doc, err := musicxml.Read(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func isScore(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".xml", ".mxl", ".musicxml":
		return true
	}
	return false
}

// program is the program that a score says it was exported by, without version.
func program(doc *musicxml.Document) string {
	if el := doc.Root().Child("identification").Child("encoding").Child("software"); el.Exists() {
		return strings.TrimRight(strings.Fields(el.Text() + " -")[0], ",.0123456789")
	}
	return "unknown programs"
}

// faults marks a score for an organ and lists what is not as it is promised:
// of the plan; of the file, which without edits is unchanged, and from which
// taking out the marks gives what was read; and of the marks, which are the
// same when the marked score is marked again.
func faults(doc *musicxml.Document, data []byte, organ *registry.Organ, opts annotate.Options) (found []string) {
	say := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	if same, err := doc.Apply(nil); err != nil || !bytes.Equal(same, data) {
		say("no edit changed the bytes (%v)", err)
	}
	r, err := annotate.Plan(doc, organ, opts)
	if err != nil {
		say("cannot be planned: %v", err)
		return found
	}
	found = append(found, plantest.Broken(r.Plan)...)
	for _, write := range []func() error{
		func() error { return sheet.JSON(io.Discard, r, doc.Name()) },
		func() error { return sheet.CSV(io.Discard, r) },
	} {
		if err := write(); err != nil {
			say("the plan cannot be written: %v", err)
		}
	}
	original, n, err := annotate.Strip(doc)
	if isBrokenArchive(err) {
		return found
	}
	if err != nil {
		say("cannot be stripped: %v", err)
		return found
	}
	if n == 0 && len(doc.Instructions(mark.Target)) == 0 && !bytes.Equal(original, data) {
		say("there was nothing to strip, and the bytes changed")
	}
	marked, err := r.Write(opts, organ.Name)
	if isBrokenArchive(err) {
		return found
	}
	if err != nil {
		say("cannot be written: %v", err)
		return found
	}
	again, err := musicxml.Read(doc.Name(), marked)
	if err != nil {
		say("the marked score cannot be read: %v", err)
		return found
	}
	back, n, err := annotate.Strip(again)
	switch {
	case err != nil:
		say("the marked score cannot be stripped: %v", err)
	case !bytes.Equal(back, original):
		say("taking out %d marks does not give the bytes back%s", n, firstDifference(back, original))
	}
	if n < len(r.Marks) {
		say("of %d marks only %d were found again", len(r.Marks), n)
	}
	twice, err := annotate.Plan(again, organ, opts)
	if err != nil {
		say("the marked score cannot be planned: %v", err)
		return found
	}
	if a, b := plantest.Dump(r.Plan), plantest.Dump(twice.Plan); a != b {
		say("the marked score gets another plan%s", firstDifference([]byte(b), []byte(a)))
	}
	switch second, err := twice.Write(opts, organ.Name); {
	case err != nil:
		say("cannot be marked twice: %v", err)
	case !bytes.Equal(second, marked):
		say("marking twice is not marking once%s", firstDifference(second, marked))
	}
	return found
}

// isBrokenArchive reports whether another file in a compressed score than the
// score itself cannot be copied: it can be read, but nothing is written.
func isBrokenArchive(err error) bool {
	var e *musicxml.Error
	return errors.As(err, &e) && e.ID == "mxl-write"
}

func firstDifference(got, want []byte) string {
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	around := func(b []byte) []byte { return b[max(0, i-40):min(len(b), i+80)] }
	return fmt.Sprintf(": %q where %q was, at byte %d", around(got), around(want), i)
}

// refusedWell reports whether an error says in one line what is wrong.
func refusedWell(err error) bool {
	var e *musicxml.Error
	return errors.As(err, &e) && e.ID != "" && e.Text != "" && !strings.ContainsAny(e.Error(), "\r\n")
}
