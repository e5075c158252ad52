package musicxml

import (
	"bytes"
	"errors"
	"fmt"
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
			if err := checkModel(p); err != nil {
				t.Fatal(err)
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

// checkModel checks what others rely on: measures join, notes are in order and
// inside their measures, staves exist.
func checkModel(p *Part) error {
	end := Time{}
	for _, m := range p.Measures {
		if m.Start != end || m.End.Less(m.Start) || m.Beat.Less(Whole(1)) {
			return fmt.Errorf("measure %s from %v to %v, beat %v, follows %v", m.Number, m.Start, m.End, m.Beat, end)
		}
		end = m.End
	}
	last := Time{}
	for _, n := range p.Notes {
		if n.Onset.Less(last) || n.Onset.Less(n.Measure.Start) || n.Measure.End.Less(n.End()) || n.Duration.Sign() < 0 || n.Staff < 1 || n.Staff > p.Staves {
			return fmt.Errorf("a note of staff %d from %v to %v, in a measure from %v to %v, after one at %v", n.Staff, n.Onset, n.End(), n.Measure.Start, n.Measure.End, last)
		}
		last = n.Onset
	}
	last = Whole(-1 << 60)
	for _, d := range p.Directions {
		if d.Time.Less(last) || !d.Time.Valid() {
			return fmt.Errorf("a direction at %v after one at %v", d.Time, last)
		}
		last = d.Time
	}
	return nil
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
