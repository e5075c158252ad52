package musicxml

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// FuzzRead reads anything. What is refused is refused in one line; what is
// read has no byte changed by no edit, has the tree that the XML library makes
// of it, and takes directions by its anchors.
func FuzzRead(f *testing.F) {
	for _, data := range numbered(f) {
		f.Add(data)
	}
	f.Add([]byte(inDoctype(laughs(), "&l29;")))
	f.Add([]byte(inMeasure(manyDivisions())))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Read("fuzz", data)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.ID == "" || e.Text == "" || strings.ContainsAny(e.Error(), "\r\n") {
				t.Fatalf("a bad refusal: %#v", err)
			}
			return
		}
		if same, err := d.Apply(nil); err != nil || !bytes.Equal(same, data) {
			t.Fatalf("no edit changed the bytes (%v)", err)
		}
		if diff := treeDiff(d); diff != "" {
			t.Fatal(diff)
		}
		for _, p := range d.Score().Parts {
			for _, n := range p.Notes {
				if !n.Onset.Valid() || !n.End().Valid() || n.Staff < 1 || n.Staff > p.Staves {
					t.Fatalf("a bad note %+v", n)
				}
			}
			for _, g := range p.DirectionGroups() {
				_ = p.Place(g.Time).String()
			}
		}
		_ = d.Score().Order()
		if len(data) < 1<<16 {
			if err := checkAnchors(d, 3); err != nil && !isExcused(err) {
				t.Fatal(err)
			}
		}
	})
}

// isExcused tells what a score may lack: a place for a direction, or whole
// other entries in its archive.
func isExcused(err error) bool {
	var e *Error
	return errors.As(err, &e) && (e.ID == "no-place" || e.ID == "mxl-write")
}

// FuzzEscape puts any text into a score.
func FuzzEscape(f *testing.F) {
	for _, s := range []string{"8′ & <4>", "]]>", "\x00\r\n\t", "\xff", "&amp;"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if _, err := Read("x", []byte(inMeasure("<x y=\""+Escape(s)+"\">"+Escape(s)+"</x>"))); err != nil {
			t.Fatal(err)
		}
	})
}
