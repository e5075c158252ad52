package musicxml

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

const numberedDir = "testdata/scores"

// numbered are the one-feature files, as testdata/scores/INDEX.tsv lists them.
func numbered(t testing.TB) map[string][]byte {
	t.Helper()
	index, err := os.ReadFile(filepath.Join(numberedDir, "INDEX.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for line := range strings.Lines(string(index)) {
		name, sentence, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if !ok || !strings.HasSuffix(sentence, ".") {
			t.Errorf("INDEX.tsv: %q has no sentence", name)
		}
		data, err := os.ReadFile(filepath.Join(numberedDir, name))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = data
	}
	return files
}

func TestEveryNumberedFileIsInTheIndex(t *testing.T) {
	files := numbered(t)
	entries, err := os.ReadDir(numberedDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if _, ok := files[e.Name()]; !ok && e.Name() != "INDEX.tsv" && !strings.HasSuffix(e.Name(), ".golden") {
			t.Errorf("%s is not in INDEX.tsv", e.Name())
		}
	}
}

func TestNoEditsChangeNoByte(t *testing.T) {
	for name, data := range numbered(t) {
		d, err := Read(name, data)
		if err != nil {
			t.Error(err)
			continue
		}
		same, err := d.Apply(nil)
		if err != nil || !bytes.Equal(same, data) {
			t.Errorf("%s: the bytes differ (%v)", name, err)
		}
	}
}

// TestNumbered holds what is read of each file against its golden file.
func TestNumbered(t *testing.T) {
	for name, data := range numbered(t) {
		t.Run(name, func(t *testing.T) {
			d, err := Read(name, data)
			if err != nil {
				t.Fatal(err)
			}
			got := describe(d)
			golden := filepath.Join(numberedDir, name+".golden")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// describe writes all that the model says of a document, one thing a line.
func describe(d *Document) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	s := d.Score()
	line("score version %s timewise %v title %q subtitle %q", s.Version, s.Timewise, s.Title, s.Subtitle)
	for _, c := range s.Creators {
		line("creator %q %q", c.Type, c.Name)
	}
	for _, r := range s.Rights {
		line("rights %q", r)
	}
	for _, r := range s.Software {
		line("software %q", r)
	}
	for _, c := range s.Credits {
		line("credit page %d %q %s %q at %s,%s", c.Page, c.Types, c.Justify, c.Text, tenths(c.X), tenths(c.Y))
	}
	for _, g := range s.Groups {
		line("group %q parts %d to %d", g.Name, g.First, g.Last)
	}
	for _, p := range s.Parts {
		line("part %s %q %q instruments %q groups %q staves %d", p.ID, p.Name, p.Abbreviation, p.Instruments, p.Groups, p.Staves)
		describePart(p, line)
	}
	line("order %v", s.Order())
	for _, f := range d.Findings() {
		line("finding %s %s", f.ID, f)
	}
	return b.String()
}

func tenths(f *float64) string {
	if f == nil {
		return "-"
	}
	return fmt.Sprint(*f)
}

func describePart(p *Part, line func(string, ...any)) {
	for _, c := range p.Clefs {
		line("  clef %v staff %d %s%d octave %d", c.Time, c.Staff, c.Sign, c.Line, c.OctaveChange)
	}
	for _, k := range p.Keys {
		line("  key %v staff %d fifths %d %s", k.Time, k.Staff, k.Fifths, k.Mode)
	}
	for _, x := range p.Transposes {
		line("  transpose %v staff %d diatonic %d chromatic %d octave %d", x.Time, x.Staff, x.Diatonic, x.Chromatic, x.OctaveChange)
	}
	for _, o := range p.OctaveShifts {
		line("  octave shift %v to %v staff %d %s %d", o.Start, o.End, o.Staff, o.Type, o.Size)
	}
	for _, h := range p.Hairpins {
		line("  %s %v to %v staff %d", h.Type, h.Start, h.End, h.Staff)
	}
	for _, x := range p.Tempos {
		line("  tempo %v %v", x.Time, x.Quarter)
	}
	for _, g := range p.DirectionGroups() {
		line("  directions %v staff %d %s dynamics %q text %q", g.Time, g.Staff, g.Placement, g.Dynamics, g.Text)
	}
	for _, m := range p.Measures {
		line("  measure %q %v to %v from beat %s time %s/%s%s", m.Number, m.Start, m.End, m.Beat.Printed(), m.Signature.Beats, m.Signature.BeatType, measureFlags(m))
		for _, n := range p.Notes {
			if n.Measure == m {
				line("    note %v +%v %s beat %s staff %d voice %s%s", n.Onset, n.Duration, key(n), n.Place().Beat.Printed(), n.Staff, n.Voice, noteFlags(n))
			}
		}
		for _, dir := range p.Directions {
			if dir.Measure == m {
				line("    direction %v beat %s staff %d %s %q", dir.Time, m.Place(dir.Time).Beat.Printed(), dir.Staff, dir.Placement, dir.Text)
			}
		}
	}
}

func key(n *Note) string {
	switch {
	case n.HasPitch:
		return fmt.Sprintf("%s %d", n.Pitch, n.Pitch.MIDI())
	case n.Rest:
		return "rest"
	}
	return "unpitched"
}

// A mark is a word that is written if something holds.
type mark struct {
	word string
	set  bool
}

func words(flags ...mark) string {
	s := ""
	for _, f := range flags {
		if f.set {
			s += " " + f.word
		}
	}
	return s
}

func noteFlags(n *Note) string {
	return words(mark{"grace", n.Grace}, mark{"cue", n.Cue}, mark{"chord", n.Chord}, mark{"whole-measure", n.MeasureRest}, mark{"hidden", n.Hidden},
		mark{"tie-start", n.TieStart}, mark{"tie-stop", n.TieStop}, mark{"slur-start", n.SlurStarts > 0}, mark{"slur-stop", n.SlurStops > 0},
		mark{"fermata", n.Fermata}, mark{"breath", n.BreathMark}, mark{"heel", n.Heel}, mark{"toe", n.Toe}, mark{"lyric", n.HasLyric})
}

func measureFlags(m *Measure) string {
	return words(mark{"implicit", m.Implicit}, mark{"senza-misura", m.Signature.SenzaMisura}, mark{"new-page", m.NewPage}, mark{"new-system", m.NewSystem},
		mark{"barline-" + m.Barline, m.Barline != ""}, mark{"repeat-start", m.RepeatStart}, mark{fmt.Sprintf("repeat-end-%d", m.Times), m.RepeatEnd},
		mark{fmt.Sprint("ending-start", m.EndingStart), m.EndingStart != nil}, mark{fmt.Sprint("ending-stop", m.EndingStop), m.EndingStop != nil},
		mark{"segno", m.Segno}, mark{"coda", m.Coda}, mark{"da-capo", m.DaCapo}, mark{"dal-segno", m.DalSegno}, mark{"to-coda", m.ToCoda}, mark{"fine", m.Fine})
}

// TestTimewise holds the timewise file against the partwise one of the same music.
func TestTimewise(t *testing.T) {
	files := numbered(t)
	var told []string
	for _, name := range []string{"20-partwise.musicxml", "21-timewise.musicxml"} {
		d, err := Read(name, files[name])
		if err != nil {
			t.Fatal(err)
		}
		told = append(told, strings.Replace(describe(d), "timewise true", "timewise false", 1))
	}
	if diff := cmp.Diff(told[0], told[1]); diff != "" {
		t.Error(diff)
	}
	if !slices.Contains(strings.Fields(told[0]), `"2a"`) {
		t.Error("the measure 2a is not there")
	}
}
