package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"pgregory.net/rapid"
)

// TestRandomEdits makes random edits in random files and takes them out again
// by the places that they must have come to.
func TestRandomEdits(t *testing.T) {
	files := numbered(t)
	var names []string
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "file")
		d, err := Read(name, files[name])
		if err != nil {
			t.Fatal(err)
		}
		var elements []Element
		elements = slices.AppendSeq(elements, d.Root().Inside())
		taken := map[Span]bool{}
		var edits []Edit
		for range rapid.IntRange(1, 12).Draw(t, "edits") {
			e := rapid.SampledFrom(elements).Draw(t, "element")
			text := rapid.StringMatching(`[a-zé′"'\]&<> \n]{0,8}`).Draw(t, "text")
			switch s, inner := e.Span(), e.Inner(); rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				edits = append(edits, Edit{Span{s.Start, s.Start}, "<!--x--><y z=\"" + Escape(text) + "\"/>"})
			case 1:
				edits = append(edits, Edit{Span{s.End, s.End}, "<?y z?>"})
			case 2:
				if !hasChildren(e) && !inner.IsEmpty() && !taken[inner] {
					taken[inner] = true
					edits = append(edits, Edit{inner, Escape(text)})
				}
			}
		}
		out, err := d.Apply(edits)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Read(name, out)
		if err != nil {
			var e *Error
			if errors.As(err, &e) && e.ID != "xml-syntax" && e.ID != "edit-malformed" {
				return // a duration was replaced by a word, which is no matter of splicing
			}
			t.Fatal(err)
		}
		if back := undo(again.Text(), d, edits); back != d.Text() {
			t.Fatalf("undone:\n%s\noriginal:\n%s", back, d.Text())
		}
	})
}

// undo takes edits out of a text, the last first, by counting up how far each
// has moved.
func undo(text string, d *Document, edits []Edit) string {
	edits, _ = d.arrange(edits)
	for i := len(edits) - 1; i >= 0; i-- {
		at := edits[i].Span.Start
		for _, e := range edits[:i] {
			at += len(e.Text) - e.Span.Len()
		}
		text = text[:at] + d.Text()[edits[i].Span.Start:edits[i].Span.End] + text[at+len(edits[i].Text):]
	}
	return text
}

func readSmall(t *testing.T, encoding string) *Document {
	t.Helper()
	d, err := Read("small.musicxml", []byte(strings.Replace(small, "UTF-8", encoding, 1)))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestRefusedEdits(t *testing.T) {
	d := readSmall(t, "UTF-8")
	n := len(d.Text())
	for name, edits := range map[string][]Edit{
		"before the start":      {{Span{-1, 0}, ""}},
		"behind the end":        {{Span{n, n + 1}, ""}},
		"backwards":             {{Span{9, 8}, ""}},
		"overlapping":           {{Span{100, 120}, "x"}, {Span{110, 130}, "y"}},
		"the same twice":        {{Span{100, 120}, "x"}, {Span{100, 120}, "x"}},
		"into a replacement":    {{Span{100, 120}, "x"}, {Span{110, 110}, "y"}},
		"not UTF-8":             {{Span{200, 200}, "\xff"}},
		"not well-formed":       {{Span{200, 200}, "<"}},
		"text outside":          {{Span{n, n}, "x"}},
		"another root":          {{Span{strings.Index(d.Text(), "score-partwise"), strings.Index(d.Text(), "score-partwise") + 14}, "x"}},
		"before the first line": {{Span{0, 0}, "<!-- x -->"}},
	} {
		var e *Error
		if out, err := d.Apply(edits); !errors.As(err, &e) || out != nil || !strings.HasPrefix(e.ID, "edit-") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestInsideACharacter(t *testing.T) {
	d, err := Read("a.xml", []byte(inMeasure("<x>é</x>")))
	if err != nil {
		t.Fatal(err)
	}
	at := strings.Index(d.Text(), "é") + 1
	if _, err := d.Apply([]Edit{{Span{at, at}, "x"}}); err == nil {
		t.Error("an edit inside a character is made")
	}
}

func TestOrderOfInsertions(t *testing.T) {
	d := readSmall(t, "UTF-8")
	words := d.Root().Find("words")
	s := words.Span()
	out, err := d.Apply([]Edit{{Span{s.End, s.End}, "<words>d</words>"}, {s, "<words>c</words>"}, {Span{s.Start, s.Start}, "<words>a</words>"}, {Span{s.Start, s.Start}, "<words>b</words>"}})
	if err != nil {
		t.Fatal(err)
	}
	if want := "<words>a</words><words>b</words><words>c</words><words>d</words></direction-type>"; !strings.Contains(string(out), want) {
		t.Errorf("no %s in\n%s", want, out)
	}
}

func TestCharactersThatTheEncodingLacks(t *testing.T) {
	for _, c := range []struct{ encoding, put, want string }{
		{"UTF-8", "8′ é", "8′ é"},
		{"ISO-8859-1", "8′ é", "8&#8242; \xe9"},
		{"ISO-8859-1", "’", "&#8217;"},
		{"Windows-1252", "8′ ’é", "8&#8242; \x92\xe9"},
		{"US-ASCII", "é", "&#233;"},
		{"ISO-8859-2", "éů", "\xe9\xf9"},
		{"KOI8-R", "é щ", "&#233; \xdd"},
	} {
		d := readSmall(t, c.encoding)
		inner := d.Root().Find("words").Inner()
		out, err := d.Apply([]Edit{{inner, c.put}})
		if err != nil || !bytes.Contains(out, []byte("<words>"+c.want+"</words>")) {
			t.Errorf("%s in %s: %v\n%s", c.put, c.encoding, err, out)
			continue
		}
		again, err := Read("small.musicxml", out)
		if err != nil || again.Score().Parts[0].Directions[0].Text != c.put {
			t.Errorf("%s in %s is not read again: %v", c.put, c.encoding, err)
		}
	}
	d := readSmall(t, "ISO-8859-1")
	s := d.Root().Find("words").Span()
	for _, put := range []string{"<!--′-->", "<?a ′?>", "<words><![CDATA[′]]></words>", "<w′/>"} {
		if out, err := d.Apply([]Edit{{Span{s.Start, s.Start}, put}}); err == nil {
			t.Errorf("%s is written:\n%s", put, out)
		}
	}
}

func TestEscape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plain := rapid.String().Draw(t, "plain")
		clean := strings.Map(func(r rune) rune {
			if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
				return 0xFFFD
			}
			return r
		}, plain)
		doc := etree.NewDocument()
		if err := doc.ReadFromString("<x>" + Escape(plain) + "</x>"); err != nil || doc.Root().Text() != clean {
			t.Fatalf("%q is read as %q (%v)", plain, doc.Root().Text(), err)
		}
		d, err := Read("x", []byte(inMeasure(fmt.Sprintf(`<x y="%s">.%s.</x>`, Escape(strings.ReplaceAll(plain, "\t", " ")), Escape(plain)))))
		if err != nil {
			t.Fatal(err)
		}
		x := d.Root().Find("x")
		if x.Text() != "."+clean+"." || strings.ReplaceAll(x.Attr("y"), "\n", " ") != strings.NewReplacer("\t", " ", "\n", " ").Replace(clean) {
			t.Fatalf("%q is read as %q and %q", plain, x.Text(), x.Attr("y"))
		}
	})
}

// TestArchiveEntries changes the score in an archive and holds all else against
// what it was.
func TestArchiveEntries(t *testing.T) {
	name := "56-compressed-rich.mxl"
	d, err := Read(name, numbered(t)[name])
	if err != nil {
		t.Fatal(err)
	}
	inner := d.Root().Find("words").Inner()
	out, err := d.Apply([]Edit{{inner, "Gt. 8′"}})
	if err != nil {
		t.Fatal(err)
	}
	again, err := Read(name, out)
	if err != nil || again.Score().Parts[0].Directions[0].Text != "Gt. 8′" {
		t.Fatalf("not read again: %v", err)
	}
	old, now := d.archive.reader, again.archive.reader
	if old.Comment != now.Comment || len(old.File) != len(now.File) {
		t.Fatal("the comment or the number of entries differ")
	}
	for i, f := range old.File {
		g := now.File[i]
		if f.Name != g.Name || f.Method != g.Method || !f.Modified.Equal(g.Modified) || f.ExternalAttrs != g.ExternalAttrs {
			t.Errorf("the header of %s differs", f.Name)
		}
		if a, b := rawEntry(t, f), rawEntry(t, g); f != d.archive.score && !bytes.Equal(a, b) {
			t.Errorf("%s is not copied as it is stored", f.Name)
		}
	}
	if now.File[0].Name != "mimetype" {
		t.Error("mimetype is not first")
	}
}

func rawEntry(t *testing.T, f *zip.File) []byte {
	t.Helper()
	r, err := f.OpenRaw()
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
