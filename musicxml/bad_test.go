package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// inMeasure is a score whose only measure holds the given elements; they begin
// on line 5, column 1.
func inMeasure(elements string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
<part-list><score-part id="P1"><part-name>Organ</part-name></score-part></part-list>
<part id="P1"><measure number="7">
` + elements + `
</measure></part></score-partwise>`
}

const plainNote = "<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>"

// inDoctype is a score with an internal subset and words.
func inDoctype(subset, words string) string {
	return "<!DOCTYPE score-partwise [" + subset + "]>\n" + strings.TrimPrefix(inMeasure("<direction><direction-type><words>"+words+"</words></direction-type></direction>"+plainNote), "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
}

func zipOf(entries ...string) string {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(entries); i += 2 {
		f, err := w.Create(entries[i])
		if err != nil {
			panic(err)
		}
		f.Write([]byte(entries[i+1]))
	}
	w.Close()
	return b.String()
}

const goodContainer = `<container><rootfiles><rootfile full-path="score.xml"/></rootfiles></container>`

func utf16Of(s string) string {
	b, _ := utf16Codec{}.encode(s)
	return "\xFF\xFE" + string(b)
}

// encrypted sets the encryption flag of all the entries.
func encrypted(archive string) string {
	b := []byte(archive)
	for i := 0; i+10 < len(b); i++ {
		switch string(b[i : i+4]) {
		case "PK\x03\x04":
			b[i+6] |= 1
		case "PK\x01\x02":
			b[i+8] |= 1
		}
	}
	return string(b)
}

func laughs() string {
	var b strings.Builder
	b.WriteString(`<!ENTITY l0 "ha">`)
	for i := 1; i < 30; i++ {
		fmt.Fprintf(&b, `<!ENTITY l%d "%s">`, i, strings.Repeat(fmt.Sprintf("&l%d;", i-1), 10))
	}
	return b.String()
}

// emptyLaughs stand for nothing, but for that many times.
func emptyLaughs() string { return strings.Replace(laughs(), `"ha"`, `""`, 1) }

func TestBadInput(t *testing.T) {
	small := inMeasure(plainNote)
	for _, c := range []struct {
		name, data string
		id         string
		line, col  int
	}{
		{"empty", "", "empty", 0, 0},
		{"only a byte order mark", "\xEF\xBB\xBF", "empty", 1, 4},
		{"only white space", " \n ", "xml-syntax", 2, 2},
		{"plain text", "Dear Sir,\n", "not-xml", 1, 1},
		{"a picture", "\x89PNG\r\n\x1a\n\x00\x00", "not-xml", 1, 1},
		{"a MIDI file", "MThd\x00\x00\x00\x06", "xml-syntax", 1, 5},
		{"HTML", "<!DOCTYPE html>\n<html><p>x<br></html>", "not-musicxml", 2, 1},
		{"another XML", "<?xml version='1.0'?>\n\n<svg/>", "not-musicxml", 3, 1},
		{"an opus", "<opus/>", "not-musicxml", 1, 1},
		{"cut off", small[:len(small)-30], "xml-syntax", 6, 1},
		{"cut off in a tag", "<score-partwise version=\"4", "xml-syntax", 1, 25},
		{"after the end", small + "<x/>", "xml-syntax", 6, 35},
		{"two roots", "<score-partwise/><score-partwise/>", "xml-syntax", 1, 18},
		{"crossed tags", inMeasure("<note><pitch></note></pitch>"), "xml-syntax", 5, 14},
		{"stray ampersand", inMeasure("<x>a & b</x>"), "xml-syntax", 5, 6},
		{"stray less-than", inMeasure("<x>a < b</x>"), "xml-syntax", 5, 6},
		{"unknown entity", inMeasure("<x>&eacute;</x>"), "xml-entity", 5, 4},
		{"no such character", inMeasure("<x>&#0;</x>"), "xml-syntax", 5, 4},
		{"a surrogate as reference", inMeasure("<x>&#xD800;</x>"), "xml-syntax", 5, 4},
		{"control character", inMeasure("<x>\x01</x>"), "xml-syntax", 5, 4},
		{"NUL", inMeasure("<x>\x00</x>"), "xml-syntax", 5, 4},
		{"not a character", inMeasure("<x>\uFFFF</x>"), "xml-syntax", 5, 4},
		{"double attribute", inMeasure(`<x a="1" a="2"/>`), "xml-syntax", 5, 10},
		{"attribute without quotes", inMeasure(`<x a=1/>`), "xml-syntax", 5, 6},
		{"attribute without value", inMeasure(`<x a/>`), "xml-syntax", 5, 5},
		{"attributes run together", inMeasure(`<x a="1"b="2"/>`), "xml-syntax", 5, 9},
		{"less-than in an attribute", inMeasure(`<x a="<"/>`), "xml-syntax", 5, 7},
		{"endless comment", inMeasure(`<!-- x`), "xml-syntax", 5, 1},
		{"dashes in a comment", inMeasure(`<!-- x -- y -->`), "xml-syntax", 5, 8},
		{"endless CDATA", inMeasure(`<x><![CDATA[ x`), "xml-syntax", 5, 4},
		{"end of CDATA in text", inMeasure(`<x>]]></x>`), "xml-syntax", 5, 4},
		{"late declaration", "<!-- x -->\n" + small, "xml-syntax", 2, 1},
		{"invalid UTF-8", inMeasure("<x>Fl\xfbte</x>"), "encoding-invalid", 5, 6},
		{"half a character in UTF-16", utf16Of("<score-partwise/>") + "\x00", "encoding-invalid", 1, 37},
		{"half a surrogate in UTF-16", utf16Of("<score-partwise>\n") + "\x00\xD8\x20\x00", "encoding-invalid", 2, 1},
		{"UTF-32", "\xFF\xFE\x00\x00<\x00\x00\x00", "encoding-invalid", 1, 5},
		{"unknown encoding", strings.Replace(small, "UTF-8", "EBCDIC-FR", 1), "encoding-unknown", 1, 1},
		{"an encoding with states", strings.Replace(small, "UTF-8", "ISO-2022-JP", 1), "encoding-unknown", 1, 1},
		{"ASCII with more", strings.Replace(inMeasure("<x>é</x>"), "UTF-8", "US-ASCII", 1), "encoding-invalid", 5, 4},
		{"entities that multiply", inDoctype(laughs(), "&l29;"), "limit", 5, 35},
		{"entities that multiply nothing", inDoctype(emptyLaughs(), "&l29;"), "limit", 5, 35},
		{"an entity in itself", inDoctype(`<!ENTITY a "&b;"><!ENTITY b "&a;">`, "&a;"), "xml-entity", 5, 35},
		{"an entity of another file", inDoctype(`<!ENTITY a SYSTEM "file:///etc/passwd">`, "&a;"), "xml-entity", 5, 35},
		{"an entity with tags", inDoctype(`<!ENTITY a "<b/>">`, "&a;"), "xml-entity", 5, 35},
		{"a huge entity", inDoctype(`<!ENTITY a "`+strings.Repeat("x", maxEntityText+1)+`">`, "&a;"), "limit", 1, 27},
		{"an endless doctype", "<!DOCTYPE score-partwise [ <!ENTITY", "xml-syntax", 1, 28},
		{"two doctypes", "<!DOCTYPE a><!DOCTYPE b><score-partwise/>", "xml-syntax", 1, 13},
		{"deep", inMeasure(strings.Repeat("<x>", maxDepth+1)), "limit", 5, 3*(maxDepth-3) + 1},
		{"a long measure number", strings.Replace(small, `number="7"`, `number="`+strings.Repeat("7", maxNumber+1)+`"`, 1), "limit", 4, 15},
		{"a long part id", strings.ReplaceAll(small, `"P1"`, `"`+strings.Repeat("P", maxNumber+1)+`"`), "limit", 4, 1},
		{"a long part id in a timewise score", `<score-timewise><part-list/><measure><part id="` + strings.Repeat("P", maxNumber+1) + `"/></measure></score-timewise>`, "limit", 1, 38},
		{"a long direction", inMeasure("<direction><direction-type><words>" + strings.Repeat("x", maxWords+1) + "</words></direction-type></direction>"), "limit", 5, 1},
		{"long directions beside one another", inMeasure(strings.Repeat("<direction><direction-type><words>"+strings.Repeat("x", maxWords/2)+"</words></direction-type></direction>", 2)), "limit", 5, 1},
		{"a long heading", strings.Replace(small, "<part-list>", "<credit><credit-words>"+strings.Repeat("x", maxWords+1)+"</credit-words></credit><part-list>", 1), "limit", 3, 1},
		{"many attributes", inMeasure("<x" + manyAttributes(maxAttributes+1) + "/>"), "limit", 5, 7894},

		{"divisions 0", inMeasure("<attributes>\n<divisions>0</divisions></attributes>"), "absurd-divisions", 6, 1},
		{"divisions negative", inMeasure("<attributes><divisions>-4</divisions></attributes>"), "absurd-divisions", 5, 13},
		{"divisions without end", inMeasure("<attributes><divisions>1" + strings.Repeat("0", 23) + "</divisions></attributes>"), "absurd-divisions", 5, 13},
		{"divisions a word", inMeasure("<attributes><divisions>many</divisions></attributes>"), "absurd-divisions", 5, 13},
		{"divisions nothing", inMeasure("<attributes><divisions/></attributes>"), "absurd-divisions", 5, 13},
		{"duration negative", inMeasure("<forward><duration>-1</duration></forward>"), "absurd-time", 5, 10},
		{"duration a word", inMeasure("<forward><duration>long</duration></forward>"), "absurd-time", 5, 10},
		{"duration NaN", inMeasure("<forward><duration>NaN</duration></forward>"), "absurd-time", 5, 10},
		{"duration without end", inMeasure("<forward><duration>1" + strings.Repeat("0", 23) + "</duration></forward>"), "absurd-time", 5, 10},
		{"durations that overflow", inMeasure(strings.Repeat("<forward><duration>9000000000000000000</duration></forward>", 2)), "absurd-time", 4, 15},
		{"divisions that overflow", inMeasure(manyDivisions()), "absurd-time", 4, 15},
		{"offset a word", inMeasure("<direction><direction-type><words>x</words></direction-type><offset>x</offset></direction>"), "absurd-time", 5, 61},
		{"backup before the measure", inMeasure("<backup><duration>1</duration></backup>"), "backup-too-far", 5, 1},
		{"backup by more than a measure", inMeasure(plainNote + "<backup><duration>5</duration></backup>"), "backup-too-far", 5, 83},
		{"octave without end", inMeasure(strings.Replace(plainNote, ">4<", ">1000000000<", 1)), "absurd-pitch", 5, 7},
		{"octave a word", inMeasure(strings.Replace(plainNote, ">4<", ">high<", 1)), "absurd-pitch", 5, 7},
		{"alteration without end", inMeasure(strings.Replace(plainNote, "<octave>", "<alter>1e99</alter><octave>", 1)), "absurd-pitch", 5, 28},
		{"a million staves", inMeasure("<attributes><staves>1000000</staves></attributes>"), "limit", 5, 13},
		{"staff a million", inMeasure("<note><rest/><duration>4</duration><staff>1000000</staff></note>"), "limit", 5, 36},

		{"broken archive", "PK\x03\x04", "mxl-broken", 0, 0},
		{"cut off archive", zipOf("META-INF/container.xml", goodContainer, "score.xml", small)[:300], "mxl-broken", 0, 0},
		{"archive without container", zipOf("score.xml", small), "mxl-container", 0, 0},
		{"empty archive", zipOf(), "mxl-container", 0, 0},
		{"container names nothing", zipOf("META-INF/container.xml", "<container/>", "score.xml", small), "mxl-container", 0, 0},
		{"container names a picture", zipOf("META-INF/container.xml", strings.Replace(goodContainer, "/>", ` media-type="image/png"/>`, 1), "score.xml", small), "mxl-container", 0, 0},
		{"container names what is not there", zipOf("META-INF/container.xml", goodContainer, "other.xml", small), "mxl-container", 0, 0},
		{"container is not XML", zipOf("META-INF/container.xml", "score.xml", "score.xml", small), "not-xml", 1, 1},
		{"score in archive is broken", zipOf("META-INF/container.xml", goodContainer, "score.xml", "<score-partwise>\n"), "xml-syntax", 2, 1},
		{"archive in archive", zipOf("META-INF/container.xml", goodContainer, "score.xml", zipOf("a", "b")), "not-xml", 1, 1},
		{"path out of the archive", zipOf("META-INF/container.xml", goodContainer, "score.xml", small, "../evil", "x"), "mxl-path", 0, 0},
		{"path with backslashes out of it", zipOf("META-INF/container.xml", goodContainer, "score.xml", small, `a\..\..\evil`, "x"), "mxl-path", 0, 0},
		{"path from the root", zipOf("META-INF/container.xml", goodContainer, "score.xml", small, "/etc/evil", "x"), "mxl-path", 0, 0},
		{"entry twice", zipOf("META-INF/container.xml", goodContainer, "score.xml", small, "score.xml", small), "mxl-duplicate", 0, 0},
		{"encrypted", encrypted(zipOf("META-INF/container.xml", goodContainer, "score.xml", small)), "mxl-encrypted", 0, 0},
		{"bomb", zipOf("META-INF/container.xml", goodContainer, "score.xml", "<score-partwise>"+strings.Repeat(" ", 40<<20)+"</score-partwise>"), "limit", 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read("a.xml", []byte(c.data))
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, not an *Error", err)
			}
			if e.ID != c.id || e.Line != c.line || e.Column != c.col {
				t.Errorf("got %s at %d:%d (%v), want %s at %d:%d", e.ID, e.Line, e.Column, e, c.id, c.line, c.col)
			}
			if msg := e.Error(); strings.ContainsAny(msg, "\n\r\x00") || len(msg) > 400 || !strings.HasPrefix(msg, "a.xml") {
				t.Errorf("the message is no good line: %q", msg)
			}
			if strings.HasPrefix(e.ID, "absurd") && (e.Part != "P1" || e.Measure != "7") {
				t.Errorf("the error has part %q, measure %q", e.Part, e.Measure)
			}
		})
	}
}

func manyAttributes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, " a%d=''", i)
	}
	return b.String()
}

// manyDivisions are primes one after another, so that the common denominator
// of the times grows without end.
func manyDivisions() string {
	var b strings.Builder
	for _, p := range []int{1000003, 1000033, 1000037, 1000039, 1000081} {
		fmt.Fprintf(&b, "<attributes><divisions>%d</divisions></attributes><forward><duration>1</duration></forward>", p)
	}
	return b.String()
}

// TestCutOffAnywhere cuts files off at every byte: none may panic, and none but
// the whole file may be read.
func TestCutOffAnywhere(t *testing.T) {
	files := numbered(t)
	for _, name := range []string{"17-internal-subset.musicxml", "16-comments.musicxml", "05-utf-16-le.musicxml", "56-compressed-rich.mxl"} {
		data := files[name]
		whole := bytes.TrimRight(data, "\n\x00")
		for n := range len(data) {
			_, err := Read(name, data[:n])
			var e *Error
			if err != nil && !errors.As(err, &e) {
				t.Fatalf("%s cut off at %d: %v", name, n, err)
			}
			if err == nil && n < len(whole) && !strings.Contains(name, "comments") {
				t.Errorf("%s cut off at %d is read", name, n)
			}
		}
	}
}
