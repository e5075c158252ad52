package musicxml

import (
	"bytes"
	"strings"
	"testing"
)

// TestPositions looks for a word in the bytes of files in several encodings
// and with several line ends.
func TestPositions(t *testing.T) {
	files := numbered(t)
	for _, c := range []struct {
		file, word   string
		line, column int
	}{
		{"02-doctype.musicxml", "<direction-type>", 10, 36},
		{"02-doctype.musicxml", " 8</words>", 10, 69}, // the û before it is two bytes
		{"04-utf-8-bom.musicxml", "<score-partwise", 3, 1},
		{"04-utf-8-bom.musicxml", "version=", 1, 10}, // the mark is three bytes of the first line
		{"05-utf-16-le.musicxml", " 8</words>", 10, 135},
		{"06-utf-16-be.musicxml", "version=", 1, 15},
		{"07-utf-16-no-bom.musicxml", "version=", 1, 13},
		{"08-latin-1.musicxml", " 8</words>", 10, 68},
		{"11-crlf.musicxml", "<direction-type>", 10, 36},
		{"12-cr.musicxml", "<direction-type>", 10, 36},
		{"64-one-line.musicxml", "<part ", 1, 275},
		{"72-shift-jis.musicxml", "</words>", 10, 67},
	} {
		d, err := Read(c.file, files[c.file])
		if err != nil {
			t.Error(err)
			continue
		}
		p := d.Position(strings.Index(d.Text(), c.word))
		if p.Line != c.line || p.Column != c.column {
			t.Errorf("%s: %q stands at %v, not at %d:%d", c.file, c.word, p, c.line, c.column)
		}
		// The place must hold in the bytes themselves.
		lines := bytes.Split(bytes.ReplaceAll(files[c.file], []byte("\r"), []byte("\n")), []byte("\n"))
		if strings.Contains(c.file, "crlf") || strings.Contains(c.file, "utf-16") {
			continue
		}
		if at := lines[p.Line-1][p.Column-1:]; !bytes.HasPrefix(at, []byte(c.word)) {
			t.Errorf("%s: at %v stands %q", c.file, p, at)
		}
	}
}

func TestPositionInAnArchive(t *testing.T) {
	d, err := Read("a.mxl", numbered(t)["56-compressed-rich.mxl"])
	if err != nil {
		t.Fatal(err)
	}
	if p := d.Position(0).String(); p != "a.mxl/scores/Prélude.musicxml:1:1" {
		t.Error(p)
	}
}

func TestPositionOutOfBounds(t *testing.T) {
	d := readSmall(t, "UTF-8")
	if p := d.Position(-5); p.Line != 1 || p.Column != 1 {
		t.Error(p)
	}
	if p := d.Position(1 << 30); p.Line != strings.Count(small, "\n")+1 || p.Column != 1 {
		t.Error(p)
	}
}

func TestInstructions(t *testing.T) {
	d, err := Read("16", numbered(t)["16-comments.musicxml"])
	if err != nil {
		t.Fatal(err)
	}
	type found struct{ inst, parent, next, text string }
	var got []found
	for _, in := range d.Instructions("app") {
		f := found{inst: in.Inst, text: d.Text()[in.Span.Start:in.Span.End]}
		if in.Parent.Exists() {
			f.parent = in.Parent.Tag()
		}
		if in.Next.Exists() {
			f.next = in.Next.Tag()
		}
		got = append(got, f)
	}
	want := []found{
		{"one", "", "score-partwise", "<?app one?>"}, {"two", "measure", "direction", "<?app two?>"}, {"", "measure", "note", "<?app?>"},
		{"three", "note", "pitch", "<?app three?>"}, {"last", "", "", "<?app last?>"},
	}
	if len(got) != len(want) {
		t.Fatalf("got %q", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("got %q, want %q", got[i], want[i])
		}
	}
	if n := len(d.Instructions("nobody")); n != 0 {
		t.Errorf("%d of another target", n)
	}
}

// TestEveryPosition holds each position of files in all encodings against
// one that is counted from the start of the file.
func TestEveryPosition(t *testing.T) {
	files := numbered(t)
	long := inMeasure("<x>" + strings.Repeat("Flûte 8′ 𝄐 ", 1500) + "</x>")
	utf16, _ := utf16Codec{big: true}.encode(long)
	files["a long line in UTF-16"] = append([]byte("\xFE\xFF"), utf16...)
	files["a long line in UTF-8"] = []byte(long)
	for name, data := range files {
		d, err := Read(name, data)
		if err != nil {
			t.Error(err)
			continue
		}
		line, column := 1, 1+len(d.bom)
		for at, r := range d.Text() {
			if p := d.Position(at); p.Line != line || p.Column != column {
				t.Errorf("%s: byte %d stands at %v, not at %d:%d", name, at, p, line, column)
				break
			}
			encoded, err := d.codec.encode(string(r))
			if err != nil {
				t.Fatal(err)
			}
			column += len(encoded)
			if r == '\n' || r == '\r' && !strings.HasPrefix(d.Text()[at:], "\r\n") {
				line, column = line+1, 1
			}
		}
	}
}
