package musicxml

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
)

// TestCorpus reads all the scores under the folder that MUSICXML_CORPUS names,
// and the numbered files in any case. Of each it checks that no edit changes no
// byte, that its tree is that of the XML library, and that directions put in
// by anchors have their time and staff and can be taken out again. A file that
// is refused is only reported.
func TestCorpus(t *testing.T) {
	read, refused := 0, 0
	for _, dir := range []string{numberedDir, os.Getenv("MUSICXML_CORPUS")} {
		if dir == "" {
			continue
		}
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !isScoreName(path) {
				return err
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			d, err := Read(path, data)
			if err != nil {
				refused++
				t.Log(err)
				return nil
			}
			read++
			for _, f := range d.Findings() {
				t.Log(f)
			}
			if same, err := d.Apply(nil); err != nil || !bytes.Equal(same, data) {
				t.Errorf("%s: no edit changed the bytes (%v)", path, err)
			}
			if diff := treeDiff(d); diff != "" {
				t.Errorf("%s: the tree differs from the library's: %s", path, diff)
			}
			for _, p := range d.Score().Parts {
				if err := checkModel(p); err != nil {
					t.Errorf("%s: %v", path, err)
				}
			}
			if err := checkAnchors(d, 40); err != nil {
				t.Errorf("%s: %v", path, err)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d scores read, %d refused", read, refused)
}

func isScoreName(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".xml", ".mxl", ".musicxml":
		return true
	}
	return false
}

// checkAnchors puts a direction before some of the notes of a document and at
// the end of its parts, reads the result, and takes them out again.
func checkAnchors(d *Document, most int) error {
	type wanted struct {
		part, staff int
		time        Time
	}
	var edits []Edit
	want := map[string]wanted{}
	for pi, p := range d.Score().Parts {
		step := max(1, len(p.Notes)/most)
		for i := 0; i < len(p.Notes); i += step {
			n := p.Notes[i]
			for _, w := range []wanted{{pi, n.Staff, n.Onset}, {pi, 1, n.Onset}, {pi, p.Staves, n.End()}, {pi, n.Staff, n.Onset.Add(n.Duration.Mul(NewTime(1, 2)))}} {
				if p.Measures[len(p.Measures)-1].End.Less(w.time) {
					continue
				}
				a, err := p.Anchor(w.staff, w.time)
				if err != nil {
					if w.time == n.Onset {
						return err
					}
					continue
				}
				text := fmt.Sprintf("check %d", len(want))
				want[text] = w
				offset := ""
				if a.Offset != "" {
					offset = "<offset>" + a.Offset + "</offset>"
				}
				edits = append(edits, a.Edit(fmt.Sprintf("<?check?>%s<direction><direction-type><words>%s</words></direction-type>%s<staff>%d</staff></direction>", a.Indent, text, offset, w.staff)))
			}
		}
	}
	if len(edits) == 0 {
		return nil
	}
	marked, err := d.Apply(edits)
	if err != nil {
		return err
	}
	again, err := Read(d.Name(), marked)
	if err != nil {
		return err
	}
	var out []Span
	for pi, p := range again.Score().Parts {
		for _, dir := range p.Directions {
			if w, ok := want[dir.Text]; ok {
				if got := (wanted{pi, dir.Staff, dir.Time}); got != w {
					return fmt.Errorf("%s stands at %v, not at %v", dir.Text, got, w)
				}
				delete(want, dir.Text)
				out = append(out, dir.Span())
			}
		}
		if n, m := len(p.Notes), len(d.Score().Parts[pi].Notes); n != m {
			return fmt.Errorf("%d notes became %d", m, n)
		}
		for i, n := range p.Notes {
			if m := d.Score().Parts[pi].Notes[i]; n.Onset != m.Onset || n.Duration != m.Duration {
				return fmt.Errorf("note %d moved from %v to %v", i, m.Onset, n.Onset)
			}
		}
	}
	if len(want) > 0 {
		return fmt.Errorf("%d directions are lost", len(want))
	}
	for _, in := range again.Instructions("check") {
		out = append(out, in.Span)
	}
	if d.Archived() {
		if back := splice(again.Text(), mustArrange(again, again.Remove(out))); back != d.Text() {
			return fmt.Errorf("taking the directions out does not give the score back")
		}
		return nil
	}
	back, err := again.Apply(again.Remove(out))
	if err != nil {
		return err
	}
	original, _ := d.Apply(nil)
	if !bytes.Equal(back, original) {
		return fmt.Errorf("taking the directions out does not give the file back")
	}
	return nil
}

func mustArrange(d *Document, edits []Edit) []Edit {
	edits, err := d.arrange(edits)
	if err != nil {
		panic(err)
	}
	return edits
}

// treeDiff compares a document's tree with that which the XML library makes of
// the same text, leaving out white space between elements.
func treeDiff(d *Document) string {
	lib := etree.NewDocument()
	lib.ReadSettings.PreserveCData = true
	if err := lib.ReadFromString(d.Text()); err != nil {
		return "" // the library does not read it: entities of a doctype
	}
	return elementDiff(d, d.Root(), lib.Root())
}

func elementDiff(d *Document, a Element, b *etree.Element) string {
	n := a.node()
	if name := d.text[n.start+1 : n.nameEnd]; name != b.FullTag() {
		return fmt.Sprintf("<%s> against <%s>", name, b.FullTag())
	}
	if s := a.Span(); !strings.HasPrefix(d.Text()[s.Start:], "<"+b.FullTag()) || !strings.HasSuffix(d.Text()[:s.End], ">") {
		return fmt.Sprintf("the span of <%s> is %q", b.Tag, d.Text()[s.Start:s.End])
	}
	attributes := a.Attributes()
	if len(attributes) != len(b.Attr) {
		return fmt.Sprintf("<%s> with %d attributes against %d", b.Tag, len(attributes), len(b.Attr))
	}
	spaces := strings.NewReplacer("\n", " ", "\t", " ", "\r", " ")
	for i, x := range attributes {
		y := b.Attr[i]
		// The library itself divides ":x" in two ways.
		if strings.TrimPrefix(x.Name, ":") != strings.TrimPrefix(y.Key, ":") || spaces.Replace(x.Value) != spaces.Replace(y.Value) {
			return fmt.Sprintf("<%s %s=%q> against %s=%q", b.Tag, x.Name, x.Value, y.Key, y.Value)
		}
		if y.Space == "" && y.FullKey() == y.Key && a.Attr(y.Key) != x.Value {
			return fmt.Sprintf("<%s>: the attribute %s is %q, not %q", b.Tag, y.Key, a.Attr(y.Key), x.Value)
		}
	}
	nested := len(b.ChildElements()) > 0
	text := ""
	for _, t := range b.Child {
		if c, ok := t.(*etree.CharData); ok && (c.IsCData() || !nested || strings.Trim(c.Data, whiteSpace) != "") {
			text += c.Data
		}
	}
	if a.Text() != text {
		return fmt.Sprintf("<%s> has the text %q against %q", b.Tag, a.Text(), text)
	}
	children := slices.Collect(a.Children())
	if len(children) != len(b.ChildElements()) {
		return fmt.Sprintf("<%s> has %d elements in it against %d", b.Tag, len(children), len(b.ChildElements()))
	}
	for i, c := range b.ChildElements() {
		if children[i].Tag() != c.Tag {
			return fmt.Sprintf("<%s> against <%s>", children[i].Tag(), c.Tag)
		}
		if diff := elementDiff(d, children[i], c); diff != "" {
			return diff
		}
		if i > 0 && children[i-1].next() != children[i] {
			return fmt.Sprintf("what follows <%s> is not <%s>", children[i-1].Tag(), c.Tag)
		}
	}
	return ""
}

func hasChildren(e Element) bool {
	for range e.Children() {
		return true
	}
	return false
}
