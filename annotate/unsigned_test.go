package annotate_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate"
	"stopgap/annotate/mark"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/shelf"
)

var instructions = regexp.MustCompile(`<\?stopgap [^?]*\?>`)

// TestMarksWithoutInstructions marks scores, drops the processing instructions
// as other programs do, and marks them again: the marks are replaced, and the
// notes stand where they stood.
func TestMarksWithoutInstructions(t *testing.T) {
	organs := map[string]*registry.Organ{}
	for _, file := range ownOrgans(t) {
		organs[strings.TrimSuffix(filepath.Base(file), ".yaml")] = organAt(t, file)
	}
	demonstration, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, file := range scores(t) {
		if strings.HasSuffix(file, ".mxl") {
			continue
		}
		organ := organs[strings.TrimSuffix(filepath.Base(file), ".musicxml")]
		if organ == nil {
			organ = demonstration
		}
		for _, way := range []mark.PedalMarks{mark.OctaveLine, mark.WrittenOut, mark.WordsOnly} {
			if way == mark.WordsOnly && strings.HasPrefix(filepath.Base(file), "64") {
				continue // words over the score's own octave line read as a line of ours
			}
			doc, opts := open(t, file), annotate.Options{Pedal: way}
			marked, err := musicxml.Read(doc.Name(), markedFor(t, doc, organ, opts))
			if err != nil {
				t.Fatal(err)
			}
			want := instructions.ReplaceAllString(marked.Text(), "")
			if want == marked.Text() || strings.Contains(want, "<?stopgap") {
				continue // nothing was marked
			}
			bare, err := musicxml.Read(doc.Name(), []byte(want))
			if err != nil || string(mustRead(t, file)) != doc.Text() {
				continue // not in UTF-8: the text alone is another file
			}
			n++
			again, err := musicxml.Read(doc.Name(), markedFor(t, bare, organ, opts))
			if err != nil {
				t.Fatal(err)
			}
			got := instructions.ReplaceAllString(again.Text(), "")
			if diff := cmp.Diff(squeeze(want), squeeze(got)); diff != "" {
				t.Errorf("%s, %s: marked again without its instructions it differs:\n%s", filepath.Base(file), way, diff)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d scores were marked", n)
	}
}

// squeeze leaves out the white space between tags.
func squeeze(s string) []string {
	var out []string
	for line := range strings.Lines(strings.ReplaceAll(s, "><", ">\n<")) {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// TestEditorsBracketsStay: text in brackets and italics that the tool would
// not write there is an editor's, and stays.
func TestEditorsBracketsStay(t *testing.T) {
	organ := organAt(t, "../testdata/organs/numbered/51-pedal-reed-an-octave-higher.yaml")
	doc := open(t, "../testdata/annotate/51-pedal-reed-an-octave-higher.musicxml")
	const by = `<direction placement="below"><direction-type><words font-style="italic">[Ped. Trumpet 8]</words></direction-type><staff>3</staff></direction>`
	text := strings.Replace(doc.Text(), "<backup>", by+"<backup>", 1)
	edited, err := musicxml.Read(doc.Name(), []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if marked := string(markedFor(t, edited, organ, annotate.Options{})); strings.Count(marked, by) != 1 {
		t.Error("the editor's direction is gone")
	}
	stripped, _, err := annotate.Strip(edited)
	if err != nil || string(stripped) != text {
		t.Errorf("stripping changes the editor's score: %v", err)
	}
}
