package musicxml

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"io"
	"strings"
	"testing"
)

// packedAs packs a score as some program might: with another compression, extra
// fields and times, or a few bytes before the archive's end.
func packedAs(t *testing.T, level int, h zip.FileHeader, score string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return flate.NewWriter(out, level) })
	for _, e := range [][2]string{{"mimetype", "application/vnd.recordare.musicxml"}, {"META-INF/container.xml", goodContainer}, {"score.xml", score}, {"cover.png", "not a picture"}} {
		h := h
		h.Name = e[0]
		f, err := w.CreateHeader(&h)
		if err != nil {
			t.Fatal(err)
		}
		f.Write([]byte(e[1]))
	}
	w.SetComment("made by hand")
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestArchiveIsGivenBack marks archives and takes the marks out: what comes
// back is the archive, however it was packed.
func TestArchiveIsGivenBack(t *testing.T) {
	score := inMeasure(strings.Repeat(plainNote, 50))
	for name, data := range map[string][]byte{
		"stored":       packedAs(t, 0, zip.FileHeader{Method: zip.Store}, score),
		"fast":         packedAs(t, flate.BestSpeed, zip.FileHeader{Method: zip.Deflate}, score),
		"small":        packedAs(t, flate.BestCompression, zip.FileHeader{Method: zip.Deflate, Extra: []byte{0xfe, 0xca, 0, 0}}, score),
		"huffman only": packedAs(t, flate.HuffmanOnly, zip.FileHeader{Method: zip.Deflate, ExternalAttrs: 0o644 << 16}, score),
		"after junk":   append([]byte("PK\x03\x04 junk"), packedAs(t, 6, zip.FileHeader{Method: zip.Deflate}, score)...),
	} {
		t.Run(name, func(t *testing.T) {
			d, err := Read("a.mxl", data)
			if err != nil {
				t.Fatal(err)
			}
			end := d.Root().Inner().End
			marked, err := d.ApplyKeeping([]Edit{{Span{end, end}, "<?mark?>"}})
			if err != nil {
				t.Fatal(err)
			}
			m, err := Read("a.mxl", marked)
			if err != nil {
				t.Fatal(err)
			}
			mark := m.Instructions("mark")[0].Span
			if back, err := m.Apply([]Edit{{mark, ""}}); err != nil || !bytes.Equal(back, data) {
				t.Errorf("the archive does not come back (%v)", err)
			}
			// An edit that leads elsewhere keeps nothing.
			other, err := m.Apply([]Edit{{mark, "<!-- else -->"}})
			if err != nil || bytes.Contains(other, []byte(keptEntry)) {
				t.Errorf("what was kept is still there (%v)", err)
			}
			// Nor does what was kept come back where another entry has changed.
			changed, err := Read("a.mxl", withEntry(t, marked, "cover.png", "another picture"))
			if err != nil {
				t.Fatal(err)
			}
			back, err := changed.Apply([]Edit{{mark, ""}})
			if err != nil {
				t.Fatal(err)
			}
			if b, err := Read("a.mxl", back); err != nil || b.Text() != d.Text() || bytes.Equal(back, data) || bytes.Contains(back, []byte(keptEntry)) {
				t.Errorf("the other entry is lost, or what was kept is not (%v)", err)
			}
		})
	}
}

// withEntry is an archive with another text in one of its entries.
func withEntry(t *testing.T, data []byte, name, text string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range r.File {
		if f.Name != name {
			if err := w.Copy(f); err != nil {
				t.Fatal(err)
			}
			continue
		}
		e, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		e.Write([]byte(text))
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
