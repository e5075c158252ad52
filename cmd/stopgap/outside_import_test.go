package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/beevik/etree"
)

// An imported score is what testdata/outside/import.mjs tells of it.
type imported struct {
	Name        string
	Loaded      bool
	Measures    int
	Warnings    []string
	Texts       []string
	OctaveLines int
	Pitches     map[int]int
	Staves      [][]engraved
}

// An engraved note is where verovio draws the head and which key it plays.
type engraved struct {
	Head string // "c3"
	Key  int    // MIDI
}

// TestMarkedScoresImport: an independent reader takes every marked score
// without a warning that it does not have of the score itself, renders the
// directions and octave lines that were added, and plays the keys that the
// pitch data say.
func TestMarkedScoresImport(t *testing.T) {
	nodePackage(t, "verovio")
	scores := markedScores(t)
	seen := importAll(t, scores)
	added := 0
	for _, score := range scores {
		before, after := seen["before "+score.name], seen["after "+score.name]
		if !after.Loaded || after.Measures == 0 || after.Measures != before.Measures {
			t.Errorf("%s: %d measures before, %d after (loaded: %v)", score.name, before.Measures, after.Measures, after.Loaded)
			continue
		}
		for warning := range more(tally(before.Warnings), tally(after.Warnings)) {
			t.Errorf("%s: new warning: %s", score.name, warning)
		}
		from, to := parse(t, score.before), parse(t, score.after)
		texts := more(tally(wordsOf(from)), tally(wordsOf(to)))
		drawn := more(tally(before.Texts), tally(after.Texts))
		for text, n := range texts {
			added += n
			if drawn[text] != n {
				t.Errorf("%s: %q was added %d times and is rendered %d times", score.name, text, n, drawn[text])
			}
		}
		if want, got := octaveLines(to)-octaveLines(from), after.OctaveLines-before.OctaveLines; got != want {
			t.Errorf("%s: %d octave lines were added, and %d more are rendered", score.name, want, got)
		}
		for _, way := range [][2]map[int]int{
			{more(keysOf(from), keysOf(to)), more(before.Pitches, after.Pitches)},
			{more(keysOf(to), keysOf(from)), more(after.Pitches, before.Pitches)},
		} {
			if !maps.Equal(way[0], way[1]) {
				t.Errorf("%s: the keys that changed are %v in the pitch data and %v as played", score.name, way[0], way[1])
			}
		}
	}
	t.Logf("%d scores, %d added texts found again", len(scores), added)
}

// importAll has verovio import scores, before and after they were marked; the
// keys are "before NAME" and "after NAME".
func importAll(t *testing.T, scores []markedScore) map[string]imported {
	t.Helper()
	node, modules := outside(t, "node", "nodejs"), nodePackage(t, "verovio")
	dir := t.TempDir()
	type file struct {
		Name string `json:"name"`
		File string `json:"file"`
	}
	var files []file
	for i, score := range scores {
		for side, data := range map[string][]byte{"before": score.before, "after": score.after} {
			name := filepath.Join(dir, fmt.Sprintf("%d.%s.musicxml", i, side))
			if err := forVerovio(parse(t, data)).WriteToFile(name); err != nil {
				t.Fatal(err)
			}
			files = append(files, file{side + " " + score.name, name})
		}
	}
	input, err := json.Marshal(files)
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, filepath.Join("..", "..", "testdata", "outside", "import.mjs"), modules)
	run.Stdin, run.Stderr = bytes.NewReader(input), os.Stderr
	output, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []imported
	if err := json.Unmarshal(output, &all); err != nil {
		t.Fatal(err)
	}
	seen := map[string]imported{}
	for _, score := range all {
		seen[score.Name] = score
	}
	return seen
}

// forVerovio is the score alone, as UTF-8; of a timewise score, which verovio
// does not read, it makes a partwise one.
func forVerovio(doc *etree.Document) *etree.Document {
	root := doc.Root()
	alone := etree.NewDocument()
	alone.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	alone.SetRoot(root)
	if root.Tag != "score-timewise" {
		return alone
	}
	root.Tag = "score-partwise"
	parts := map[string]*etree.Element{}
	for _, measure := range root.SelectElements("measure") {
		root.RemoveChild(measure)
		for _, part := range measure.SelectElements("part") {
			id := part.SelectAttrValue("id", "")
			if parts[id] == nil {
				parts[id] = root.CreateElement("part")
				parts[id].CreateAttr("id", id)
			}
			whole := parts[id].CreateElement("measure")
			whole.Attr = slices.Clone(measure.Attr)
			for _, child := range slices.Clone(part.Child) {
				whole.AddChild(child)
			}
		}
	}
	return alone
}

// wordsOf are the texts of a score's directions, without white space.
func wordsOf(doc *etree.Document) []string {
	var texts []string
	for _, direction := range doc.FindElements("//direction") {
		var text strings.Builder
		for _, words := range direction.FindElements("direction-type/words") {
			text.WriteString(words.Text())
		}
		if text.Len() > 0 {
			texts = append(texts, strings.Map(func(r rune) rune {
				if unicode.IsSpace(r) {
					return -1
				}
				return r
			}, text.String()))
		}
	}
	return texts
}

// octaveLines is how many octave lines start in a score.
func octaveLines(doc *etree.Document) int {
	n := 0
	for _, shift := range doc.FindElements("//octave-shift") {
		if kind := shift.SelectAttrValue("type", ""); kind == "up" || kind == "down" {
			n++
		}
	}
	return n
}

// keysOf counts the notes by MIDI key, those that a tie holds on too, as
// verovio's timemap has them.
func keysOf(doc *etree.Document) map[int]int {
	keys := map[int]int{}
	for _, note := range doc.FindElements("//note") {
		pitch := note.SelectElement("pitch")
		if pitch == nil {
			continue
		}
		var octave, alter int
		fmt.Sscan(pitch.SelectElement("octave").Text(), &octave)
		if a := pitch.SelectElement("alter"); a != nil {
			fmt.Sscan(a.Text(), &alter)
		}
		step := strings.Index("C D EF G A B", pitch.SelectElement("step").Text())
		keys[12*(octave+1)+step+alter]++
	}
	return keys
}

func tally(texts []string) map[string]int {
	n := map[string]int{}
	for _, text := range texts {
		n[text]++
	}
	return n
}

// more is what b has beyond a.
func more[K comparable](a, b map[K]int) map[K]int {
	over := map[K]int{}
	for k, n := range b {
		if n > a[k] {
			over[k] = n - a[k]
		}
	}
	return over
}
