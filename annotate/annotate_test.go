package annotate_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate"
	"stopgap/annotate/mark"
	"stopgap/musicxml"
	"stopgap/registry/shelf"
)

var update = flag.Bool("update", false, "write testdata/marks.golden")

// scores are the project's own scores: the demonstrations and the numbered ones.
func scores(t *testing.T) []string {
	t.Helper()
	var files []string
	for _, pattern := range []string{"../testdata/*.musicxml", "../testdata/annotate/*.m*xml", "../testdata/annotate/*.mxl"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 40 {
		t.Fatalf("only %d scores found", len(files))
	}
	return files
}

func open(t *testing.T, file string) *musicxml.Document {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := musicxml.Read(filepath.Base(file), data)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestMarks holds the marks of every score on the demonstration organ, so that
// a change of judgement shows where it tells.
func TestMarks(t *testing.T) {
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, file := range scores(t) {
		r, err := annotate.Plan(open(t, file), organ, annotate.Options{Propose: true})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		fmt.Fprintf(&out, "%s\n", filepath.Base(file))
		for _, m := range r.Marks {
			p := m.Staff.Part.Place(m.Time)
			fmt.Fprintf(&out, "  %s.%s %s %s: %s\n", p.Measure, p.Beat.Printed(), m.Staff.ID(), m.Placement, m.Text)
		}
		for _, f := range r.Findings {
			fmt.Fprintf(&out, "  %s.%s %s: %s\n", f.Place.Measure, f.Place.Beat.Printed(), f.ID, f.Text)
		}
	}
	const golden = "testdata/marks.golden"
	if *update {
		if err := os.MkdirAll("testdata", 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(out.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), out.String()); diff != "" {
		t.Errorf("marks differ (-update writes them):\n%s", diff)
	}
}

// TestInputMinusMarks holds the promise that taking the marks out gives the
// score back, and that marking twice is marking once, on organs of several
// kinds and in every way of writing the marks.
func TestInputMinusMarks(t *testing.T) {
	ways := []annotate.Options{
		{Propose: true},
		{Propose: true, Pedal: mark.WrittenOut},
		{Pedal: mark.WordsOnly, Replace: true},
	}
	for i, name := range []string{shelf.Default(), "village-one-manual", "north-german-baroque", "french-symphonic"} {
		opts := ways[i%len(ways)]
		for _, file := range scores(t) {
			doc := open(t, file)
			marked := write(t, doc, name, opts)
			again, err := musicxml.Read(filepath.Base(file), marked)
			if err != nil {
				t.Fatalf("%s on %s: the marked score cannot be read: %v", file, name, err)
			}
			if twice := write(t, again, name, opts); !bytes.Equal(marked, twice) {
				t.Errorf("%s on %s: marking twice is not marking once", file, name)
			}
			stripped, _, err := annotate.Strip(again)
			if err != nil {
				t.Fatalf("%s on %s: %v", file, name, err)
			}
			if !bytes.Equal(stripped, mustRead(t, file)) {
				t.Errorf("%s on %s: stripping does not give the score back", file, name)
			}
		}
	}
}

// TestNothingIsMarkedTwice holds that no mark stands twice at one place, on an
// organ whose one manual stands in for all.
func TestNothingIsMarkedTwice(t *testing.T) {
	organ, err := shelf.Open("village-one-manual")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range scores(t) {
		r, err := annotate.Plan(open(t, file), organ, annotate.Options{})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		seen := map[string]bool{}
		for _, m := range r.Marks {
			place := fmt.Sprintf("%v %s %s %s", m.Time, m.Staff.ID(), m.Placement, m.Text)
			if seen[place] {
				t.Errorf("%s: %s stands twice", filepath.Base(file), place)
			}
			seen[place] = true
		}
	}
}

func write(t *testing.T, doc *musicxml.Document, name string, opts annotate.Options) []byte {
	t.Helper()
	organ, err := shelf.Open(name)
	if err != nil {
		t.Fatal(err)
	}
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

func mustRead(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
