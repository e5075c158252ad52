package passage

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"stopgap/annotate/direction"
)

var update = flag.Bool("update", false, "write what is read into testdata/carry")

// TestCarry reads the sketches of testdata/carry and compares what is in force
// in each passage. Each file says in its first lines what it shows; score is a
// sketch (see sketch_test.go), want is what is read.
func TestCarry(t *testing.T) {
	files, err := filepath.Glob("testdata/carry/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Read(parseSketch(t, string(archive.Files[0].Data)).score(t), Options{})
			if err != nil {
				t.Fatal(err)
			}
			got := passagesText(s)
			if *update {
				archive.Files = append(archive.Files[:1], txtar.File{Name: "want", Data: []byte(got)})
				if err := os.WriteFile(file, txtar.Format(archive), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if len(archive.Files) < 2 {
				t.Fatal("no want; run with -update and look at it")
			}
			if diff := cmp.Diff(string(archive.Files[1].Data), got); diff != "" {
				t.Errorf("%s", diff)
			}
		})
	}
}

// sketchOf is the sketch of a file of testdata/carry.
func sketchOf(tb testing.TB, text string) *sketch {
	return parseSketch(tb, string(txtar.Parse([]byte(text)).Files[0].Data))
}

// passagesText is what is in force in each passage, a line each.
func passagesText(s *Score) string {
	var b strings.Builder
	if s.Lang != "" && s.Lang != "en" {
		fmt.Fprintf(&b, "language %s\n", s.Lang)
	}
	if s.TwoManuals {
		b.WriteString("two manuals\n")
	}
	if n := s.Numbering; n.Used {
		fmt.Fprintf(&b, "numbering %s %s (%s)\n", n.Order, n, n.Why)
	}
	if l := s.Layout; l.Shared != nil {
		fmt.Fprintf(&b, "feet in %s:", l.Shared.ID())
		for _, sp := range l.Spans {
			fmt.Fprintf(&b, " %s–%s", momentText(s, sp.Start), momentText(s, sp.End))
		}
		b.WriteByte('\n')
	}
	for _, p := range s.Passages {
		fmt.Fprintf(&b, "%s", momentText(s, p.Start))
		for _, x := range p.Texts {
			fmt.Fprintf(&b, " %q", x.Text)
		}
		for _, x := range p.Restated {
			fmt.Fprintf(&b, " again %s %q", momentText(s, x.Time), x.Text)
		}
		if p.Resumes != nil {
			fmt.Fprintf(&b, " resumes %s", momentText(s, p.Resumes.Start))
		}
		if p.FeetOff {
			b.WriteString(" manuals only")
		}
		b.WriteByte('\n')
		seen := map[Division]bool{}
		for _, line := range p.Lines {
			fmt.Fprintf(&b, "  %-4s %-13s %s%s\n", line.Line, line.Role, line.Level, askedText(p.Asked(line.Division), line.Level))
			seen[line.Division] = true
		}
		for _, a := range p.Drawn {
			if !seen[a.Division] {
				fmt.Fprintf(&b, "  +    %s\n", askedText(a, ""))
			}
		}
		for _, a := range p.Waiting {
			fmt.Fprintf(&b, "  waiting %s\n", askedText(a, ""))
		}
		for _, c := range p.Couplings {
			fmt.Fprintf(&b, "  couple %s>%s", c.From, c.To)
			if c.Octave != 0 {
				fmt.Fprintf(&b, " %+d", c.Octave)
			}
			b.WriteByte('\n')
		}
	}
	for _, r := range s.Returns {
		fmt.Fprintf(&b, "%s %s to %s, in force from %s to that from %s, changes %v\n", r.Sign, momentText(s, r.At), momentText(s, r.Back), momentText(s, r.From.Start), momentText(s, r.To.Start), r.Changes)
	}
	for _, f := range s.Findings {
		fmt.Fprintf(&b, "%s: %s %s\n", f.ID, f.Text, strings.Join(f.Remedies, " "))
	}
	return b.String()
}

func momentText(s *Score, t moment) string {
	p := placeOf(s.Layout, t)
	if p.Beat.String() == "1" {
		return p.Measure
	}
	return p.Measure + "." + p.Beat.Decimal()
}

func askedText(a *Asked, level string) string {
	var b strings.Builder
	if level != "" {
		b.WriteByte(' ')
	}
	b.WriteString(a.Division.String())
	if a.Division.Of != "" {
		b.WriteString(" of " + string(a.Division.Of))
	}
	list := func(name string, voices []direction.Voice) {
		if len(voices) == 0 {
			return
		}
		b.WriteString(name)
		for i, v := range voices {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(v.String())
		}
	}
	list(": ", a.Voices)
	list("; without ", a.Without)
	list("; prepared ", a.Prepared)
	if a.Box != "" {
		b.WriteString("; box " + a.Box)
	}
	if a.Tremming {
		b.WriteString("; tremulant")
	}
	if a.Level != level {
		b.WriteString("; level " + a.Level)
	}
	if a.Swells {
		b.WriteString("; swells")
	}
	return b.String()
}
