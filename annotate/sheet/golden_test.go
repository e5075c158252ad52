package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate/resolve"
	"stopgap/registry/sound"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// deafEar makes up what it hears, so that the golden pages do not hang on what
// is known of the sound of stops.
type deafEar struct{}

func (deafEar) Asked(_ *resolve.Setting, line *resolve.Line) (h sound.Heard, ok bool) {
	h.Phon = 60
	for i := range h.Bands {
		h.Bands[i] = float64(i%5 + 1)
	}
	return h, line.Part != nil
}

func (deafEar) Given(_ *resolve.Setting, line *resolve.Line) (h sound.Heard, ok bool) {
	h.Phon = 50 + 5*float64(len(line.Sounds))
	for i := range h.Bands {
		h.Bands[i] = float64((i + len(line.Sounds)) % 5)
	}
	return h, line.Keyboard != nil
}

// TestGolden writes one plan in every format and for every reader.
func TestGolden(t *testing.T) {
	r := tenBars(t)
	for name, write := range map[string]func(*bytes.Buffer) error{
		"player.txt":     func(b *bytes.Buffer) error { return Text(b, r, Options{}) },
		"narrow.txt":     func(b *bytes.Buffer) error { return Text(b, r, Options{Width: 44, Figures: true}) },
		"student.txt":    func(b *bytes.Buffer) error { return Text(b, r, Options{For: Student}) },
		"registrant.txt": func(b *bytes.Buffer) error { return Text(b, r, Options{For: Registrant}) },
		"student.html": func(b *bytes.Buffer) error {
			return writePage(b, newSheet(r, Options{For: Student, Figures: true}), deafEar{})
		},
		"registrant.html": func(b *bytes.Buffer) error { return writePage(b, newSheet(r, Options{For: Registrant}), deafEar{}) },
		"plan.json":       func(b *bytes.Buffer) error { return JSON(b, r, "ten-bars.musicxml") },
		"plan.csv":        func(b *bytes.Buffer) error { return CSV(b, r) },
	} {
		t.Run(name, func(t *testing.T) {
			var got bytes.Buffer
			if err := write(&got); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join("testdata", name)
			if *update {
				if err := os.WriteFile(file, got.Bytes(), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("%s (- as it is in testdata, + as it is now; -update rewrites it):\n%s", name, diff)
			}
		})
	}
}
