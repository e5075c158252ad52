package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"strings"
	"testing"
)

// FuzzArchive packs anything as a compressed score, and then changes a few
// bytes of the ZIP file: bytes alone would seldom get past its checksums. What
// is refused is refused in one line; what is read has no byte changed by no
// edit, and takes an edit without losing another entry.
func FuzzArchive(f *testing.F) {
	small := inMeasure(plainNote)
	f.Add(goodContainer, "score.xml", small, "cover.png", "x", "", true, uint(0), []byte(nil))
	f.Add(strings.Replace(goodContainer, "score.xml", "./a/b.musicxml", 1), "a/b.musicxml", small, "a/", "", "made by hand", false, uint(0), []byte(nil))
	f.Add(goodContainer, "score.xml", small, "../evil", "x", "", true, uint(0), []byte(nil))
	f.Add(goodContainer, "score.xml", small, "score.xml", small, "", true, uint(0), []byte(nil))
	f.Add(goodContainer, `a\score.xml`, utf16Of(small), "mimetype", "application/vnd.recordare.musicxml", "", false, uint(200), []byte{1})
	f.Add(goodContainer, "score.xml", small, "x", "x", "", true, uint(6), []byte{1, 8})
	f.Fuzz(func(t *testing.T, container, name, score, otherName, other, comment string, deflate bool, at uint, change []byte) {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		put := func(name, text string) {
			h := &zip.FileHeader{Name: name, Method: zip.Store}
			if deflate {
				h.Method = zip.Deflate
			}
			if e, err := w.CreateHeader(h); err == nil {
				e.Write([]byte(text))
			}
		}
		put("META-INF/container.xml", container)
		put(otherName, other)
		put(name, score)
		w.SetComment(comment)
		if w.Close() != nil {
			return
		}
		data := b.Bytes()
		copy(data[at%uint(len(data)):], change)
		d, err := Read("fuzz.mxl", data)
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
		end := d.Root().Inner().End
		out, err := d.Apply([]Edit{{Span{end, end}, "<?x?>"}})
		if err != nil {
			if !isExcused(err) {
				t.Fatal(err)
			}
			return
		}
		again, err := Read("fuzz.mxl", out)
		if err != nil || again.Archived() != d.Archived() || strings.Replace(again.Text(), "<?x?>", "", 1) != d.Text() {
			t.Fatalf("not read again as it was changed: %v", err)
		}
		if d.Archived() && len(again.archive.reader.File) != len(d.archive.reader.File) {
			t.Fatalf("%d entries became %d", len(d.archive.reader.File), len(again.archive.reader.File))
		}
	})
}
