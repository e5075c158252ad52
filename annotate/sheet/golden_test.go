package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// TestGolden writes one plan in every format and for every reader.
func TestGolden(t *testing.T) {
	r := tenBars(t)
	for name, write := range map[string]func(*bytes.Buffer) error{
		"player.txt":      func(b *bytes.Buffer) error { return Text(b, r, Options{}) },
		"narrow.txt":      func(b *bytes.Buffer) error { return Text(b, r, Options{Width: 44, Figures: true}) },
		"student.txt":     func(b *bytes.Buffer) error { return Text(b, r, Options{For: Student}) },
		"registrant.txt":  func(b *bytes.Buffer) error { return Text(b, r, Options{For: Registrant}) },
		"student.html":    func(b *bytes.Buffer) error { return HTML(b, r, Options{For: Student, Figures: true}) },
		"registrant.html": func(b *bytes.Buffer) error { return HTML(b, r, Options{For: Registrant}) },
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
