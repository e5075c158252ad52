package main

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"golang.org/x/net/html/charset"
	xunicode "golang.org/x/text/encoding/unicode"
)

// The tests in outside_*_test.go look at what the command writes through programs
// that are not ours: xmllint with the MusicXML schema, verovio, Chromium with
// axe-core. Where such a program is missing the test is skipped by name, or
// fails if STOPGAP_OUTSIDE is "required". STOPGAP_NODE_MODULES is the folder in
// which the packages verovio and axe-core stand.

// outside returns the path of a program that is not ours.
func outside(t *testing.T, names ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("too long")
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	missing(t, names[0]+" is not installed")
	return ""
}

// nodePackage returns the folder of Node.js packages if it holds the one named.
func nodePackage(t *testing.T, name string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("too long")
	}
	modules := os.Getenv("STOPGAP_NODE_MODULES")
	if _, err := os.Stat(filepath.Join(modules, name)); modules == "" || err != nil {
		missing(t, "the Node.js package "+name+" is not in STOPGAP_NODE_MODULES")
	}
	return modules
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("STOPGAP_OUTSIDE") == "required" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// mustRun carries out a command line, which must succeed, and returns what it
// prints.
func mustRun(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, stderr bytes.Buffer
	if status := run(&console{in: strings.NewReader(""), out: &out, err: &stderr}, args); status != exitDone {
		t.Fatalf("stopgap %s: status %d\n%s", strings.Join(args, " "), status, stderr.Bytes())
	}
	return out.Bytes()
}

// A markedScore is a score of testdata before and after it was marked, each as
// the XML of the score itself (taken out of an .mxl), in its own encoding.
type markedScore struct {
	name          string
	before, after []byte
}

// markedScores marks every score of testdata, and of the folder MUSICXML_CORPUS
// if there is one, on the demonstration organ or as the arguments say.
func markedScores(t *testing.T, args ...string) []markedScore {
	t.Helper()
	t.Setenv("STOPGAP_ORGAN", "")
	var scores []markedScore
	testdata := filepath.Join("..", "..", "testdata")
	patterns := []string{
		filepath.Join(testdata, "*.musicxml"),
		filepath.Join(testdata, "annotate", "*.musicxml"),
		filepath.Join(testdata, "annotate", "*.mxl"),
	}
	if corpus := os.Getenv("MUSICXML_CORPUS"); corpus != "" {
		patterns = append(patterns, filepath.Join(corpus, "*.musicxml"), filepath.Join(corpus, "*.mxl"))
	}
	for _, pattern := range patterns {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.Contains(file, ".annotated.") {
				continue
			}
			input, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			output := mustRun(t, append([]string{"annotate", "-q", "-o", "-", file}, args...)...)
			scores = append(scores, markedScore{filepath.Base(file), scoreXML(t, input), scoreXML(t, output)})
		}
	}
	if len(scores) == 0 {
		t.Fatal("there are no scores in testdata")
	}
	return scores
}

// scoreXML takes the score out of an .mxl; anything else is the score.
func scoreXML(t *testing.T, data []byte) []byte {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return data
	}
	read := func(name string) []byte {
		f, err := archive.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		text, err := io.ReadAll(f)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	container := parse(t, read("META-INF/container.xml"))
	return read(container.FindElement("//rootfile").SelectAttrValue("full-path", ""))
}

// parse reads XML in any of the encodings that scores come in, apart from the
// command's own reader.
func parse(t *testing.T, data []byte) *etree.Document {
	t.Helper()
	doc := etree.NewDocument()
	doc.ReadSettings.Permissive = true // leaves a document's own entities alone
	doc.ReadSettings.CharsetReader = charset.NewReaderLabel
	if len(data) > 1 && (data[0] == 0xFE && data[1] == 0xFF || data[0] == 0xFF && data[1] == 0xFE) {
		text, err := xunicode.UTF16(xunicode.BigEndian, xunicode.UseBOM).NewDecoder().Bytes(data)
		if err != nil {
			t.Fatal(err)
		}
		data = text
		doc.ReadSettings.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	}
	if err := doc.ReadFromBytes(data); err != nil {
		t.Fatal(err)
	}
	return doc
}

func write(t *testing.T, file string, data []byte) {
	t.Helper()
	if err := os.WriteFile(file, data, 0o666); err != nil {
		t.Fatal(err)
	}
}
