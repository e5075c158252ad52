package annotate_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate"
	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/mark"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/organfile"
)

// ownOrgans are the organs that belong each to one numbered score, on which it
// shows one way of playing a pedal solo, or one finding.
func ownOrgans(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../testdata/organs/numbered/*.yaml")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d organs of scores found: %v", len(files), err)
	}
	return files
}

func organAt(t testing.TB, file string) *registry.Organ {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	organ, findings := organfile.Read(filepath.Base(file), text)
	for _, f := range findings {
		t.Errorf("%s", f)
	}
	if organ == nil {
		t.FailNow()
	}
	return organ
}

// TestNumbered holds what is planned, said and marked of each score on its
// own organ, in golden files.
func TestNumbered(t *testing.T) {
	for _, file := range ownOrgans(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			organ, doc := organAt(t, file), open(t, "../testdata/annotate/"+name+".musicxml")
			r, err := annotate.Plan(doc, organ, annotate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			plantest.Check(t, r.Plan)
			var out strings.Builder
			told(&out, r)
			for _, way := range []mark.PedalMarks{mark.OctaveLine, mark.WrittenOut} {
				fmt.Fprintf(&out, "\nmarks: %s\n", way)
				edits, err := mark.Edits(doc, mark.Of(r.Plan, way), mark.Options{Organ: organ.Name})
				if err != nil {
					t.Fatal(err)
				}
				changes(&out, doc, edits)
				comesBack(t, doc, organ, annotate.Options{Pedal: way})
			}
			comesBack(t, doc, organ, annotate.Options{Pedal: mark.WordsOnly, Replace: true})
			golden := "testdata/numbered/" + name + ".golden"
			if *update {
				if err := os.WriteFile(golden, []byte(out.String()), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(mustRead(t, golden)), out.String()); diff != "" {
				t.Errorf("not as in %s (-update writes it):\n%s", golden, diff)
			}
		})
	}
}

// told writes the plan, the marks and the findings.
func told(out *strings.Builder, r *annotate.Result) {
	for _, s := range r.Plan.Settings {
		fmt.Fprintf(out, "measure %s, beat %s\n", s.Passage.From.Measure, s.Passage.From.Beat.Printed())
		for _, line := range s.Lines {
			keyboard, kept := "nothing", "pitch lost"
			if line.Keyboard != nil {
				keyboard = line.Keyboard.Name
			}
			if line.PitchKept {
				kept = "pitch kept"
			}
			var sounds []string
			for _, x := range line.Sounds {
				name := x.Stop.Text
				for _, c := range x.Via {
					name += " by " + c.Text
				}
				sounds = append(sounds, name)
			}
			fmt.Fprintf(out, "  %s by %s on %s, octave %d: %s; %s\n", line.Asked.Line, line.By, keyboard, line.Octave, strings.Join(sounds, ", "), kept)
			fmt.Fprintf(out, "    %s\n", line.Why)
		}
	}
	for _, m := range r.Marks {
		p := m.Staff.Part.Place(m.Time)
		fmt.Fprintf(out, "mark %s.%s %s %s: %s\n", p.Measure, p.Beat.Printed(), m.Staff.ID(), m.Placement, m.Text)
	}
	for _, f := range r.Findings {
		fmt.Fprintf(out, "finding %s.%s %s: %s\n", f.Place.Measure, f.Place.Beat.Printed(), f.ID, f.Text)
		for _, remedy := range f.Remedies {
			fmt.Fprintf(out, "  - %s\n", remedy)
		}
	}
}

// changes lists edits by line of the score: what goes, and what comes.
func changes(out *strings.Builder, doc *musicxml.Document, edits []musicxml.Edit) {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b musicxml.Edit) int { return a.Span.Start - b.Span.Start })
	moved := ""
	for i, e := range edits {
		was := strings.Join(strings.Fields(doc.Text()[e.Span.Start:e.Span.End]), " ")
		is := strings.Join(strings.Fields(e.Text), " ")
		line := doc.Position(e.Span.Start).Line
		if strings.HasPrefix(is, "<?stopgap octave "+was) && i+1 < len(edits) && edits[i+1].Span.Len() == 1 {
			continue // told with the octave itself
		}
		if e.Span.Len() == 1 { // an octave
			if now := was + " → " + is; now == moved {
				fmt.Fprintf(out, ", %d", line)
			} else {
				if moved != "" {
					fmt.Fprintln(out)
				}
				fmt.Fprintf(out, "octave %s: %d", now, line)
				moved = now
			}
			continue
		}
		if moved != "" {
			fmt.Fprintln(out)
			moved = ""
		}
		fmt.Fprintf(out, "%d: ", line)
		if was != "" {
			fmt.Fprintf(out, "%s → ", was)
		}
		fmt.Fprintln(out, is)
	}
	if moved != "" {
		fmt.Fprintln(out)
	}
}

// comesBack checks that marking twice is marking once, and that taking the
// marks out gives the score back, byte for byte.
func comesBack(t *testing.T, doc *musicxml.Document, organ *registry.Organ, opts annotate.Options) {
	t.Helper()
	marked := markedFor(t, doc, organ, opts)
	again, err := musicxml.Read(doc.Name(), marked)
	if err != nil {
		t.Fatalf("%s: the marked score cannot be read: %v", opts.Pedal, err)
	}
	if !bytes.Equal(markedFor(t, again, organ, opts), marked) {
		t.Errorf("%s: marking twice is not marking once", opts.Pedal)
	}
	stripped, _, err := annotate.Strip(again)
	if err != nil {
		t.Fatal(err)
	}
	if string(stripped) != doc.Text() {
		t.Errorf("%s: taking the marks out does not give the score back", opts.Pedal)
	}
}

func markedFor(t *testing.T, doc *musicxml.Document, organ *registry.Organ, opts annotate.Options) []byte {
	t.Helper()
	r, err := annotate.Plan(doc, organ, opts)
	if err != nil {
		t.Fatal(err)
	}
	data, err := r.Write(opts, organ.Name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
