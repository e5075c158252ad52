package passage

import (
	"os"
	"path/filepath"
	"testing"

	"stopgap/musicxml"
)

// FuzzRead reads any bytes as a score: whatever they are, reading what is
// asked must neither panic nor leave gaps.
func FuzzRead(f *testing.F) {
	files, _ := filepath.Glob("testdata/carry/*.txtar")
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(sketchOf(f, string(text)).musicXML())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := musicxml.Read("fuzz.musicxml", data)
		if err != nil {
			return
		}
		s, err := Read(doc.Score(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkPassages(t, s)
		s.Propose()
		checkPassages(t, s)
		if len(s.Layout.Staves) > 0 {
			id := s.Layout.Staves[len(s.Layout.Staves)-1].ID()
			for _, c := range []Choice{{Pedal: id}, {RH: id}, {LH: id, RH: id}} {
				chosen, err := Read(doc.Score(), Options{Staves: c})
				if err != nil {
					t.Fatal(err)
				}
				checkPassages(t, chosen)
			}
		}
	})
}

// FuzzTexts puts any texts into a score, where programs put them.
func FuzzTexts(f *testing.F) {
	for i, text := range someTexts {
		f.Add("Organ", text, someTexts[(i+7)%len(someTexts)], someTexts[(i+19)%len(someTexts)], "Man. I")
	}
	f.Fuzz(func(t *testing.T, name, credit, first, second, third string) {
		s := &sketch{measures: 4, signs: map[int][]string{2: {"repeat-end", "ending-1"}, 3: {"ending-2"}}}
		words := func(text string) string { return "<words>" + escaped(text) + "</words>" }
		s.credits = []string{creditXML([]string{"left", "10"}, credit)}
		s.parts = []*sketchPart{
			{name: name, staves: []string{"G", "S"}, directions: map[int][]string{
				1: {directionXML(words(first), 1, "", "above")},
				2: {directionXML(words(second), 2, "2", "below"), directionXML(words(first), 1, "3", "")},
				3: {directionXML(words(third), 2, "", "above")},
			}},
			{name: third, staves: []string{"P"}, directions: map[int][]string{2: {directionXML(words(third), 1, "", "")}}},
		}
		doc, err := musicxml.Read("fuzz.musicxml", s.musicXML())
		if err != nil {
			return
		}
		read, err := Read(doc.Score(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkPassages(t, read)
	})
}
