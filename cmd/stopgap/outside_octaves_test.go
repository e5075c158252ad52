package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// octaveScores marks the demonstration scores for organs on which their tunes
// move by an octave, and each score that has an organ of its own for that.
func octaveScores(t *testing.T, way string) []markedScore {
	t.Helper()
	t.Setenv("STOPGAP_ORGAN", "")
	testdata := filepath.Join("..", "..", "testdata")
	organs := map[string][]string{
		"chorale-prelude.musicxml":     {"demonstration", "village-two-manuals"},
		"pedal-tune-fits.musicxml":     {"demonstration", "merseburg-dom-1855", "village-two-manuals"},
		"pedal-tune-too-high.musicxml": {"demonstration", "merseburg-dom-1855", "canterbury-st-stephen-walker-1879"},
	}
	own, err := filepath.Glob(filepath.Join(testdata, "organs", "numbered", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, organ := range own {
		name := strings.TrimSuffix(filepath.Base(organ), ".yaml") + ".musicxml"
		organs[filepath.Join("annotate", name)] = []string{organ}
	}
	var scores []markedScore
	for file, on := range organs {
		path := filepath.Join(testdata, file)
		input, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, organ := range on {
			output := mustRun(t, "annotate", "-q", "-o", "-", "--organ", organ, "--pedal-marks", way, path)
			scores = append(scores, markedScore{filepath.Base(file) + " on " + filepath.Base(organ), input, output})
		}
	}
	return scores
}

// TestOctavePassagesAreEngraved: in an independent reader the notes of a
// passage in another octave are played an octave away, or two; under an octave
// line their heads stand where they stood, written out they have moved along.
// Nothing else moves.
func TestOctavePassagesAreEngraved(t *testing.T) {
	nodePackage(t, "verovio")
	for _, way := range []string{"line", "written", "words"} {
		t.Run(way, func(t *testing.T) {
			scores := octaveScores(t, way)
			seen := importAll(t, scores)
			moved, unmoved := 0, 0
			for _, score := range scores {
				before, after := seen["before "+score.name], seen["after "+score.name]
				if !after.Loaded || len(after.Staves) != len(before.Staves) {
					t.Errorf("%s: %d staves before, %d after (loaded: %v)", score.name, len(before.Staves), len(after.Staves), after.Loaded)
					continue
				}
				for warning := range more(tally(before.Warnings), tally(after.Warnings)) {
					t.Errorf("%s: new warning: %s", score.name, warning)
				}
				writtenOut := way == "written" || strings.Contains(string(score.after), "written an octave") // where no line can stand
				for i, staff := range before.Staves {
					for k, was := range staff {
						is := after.Staves[i][k]
						by := is.Key - was.Key
						switch {
						case by%12 != 0:
							t.Errorf("%s, staff %d, note %d: %s is played as %d, not %d", score.name, i+1, k+1, was.Head, is.Key, was.Key)
						case by == 0 && is.Head == was.Head:
							unmoved++
						case way == "words":
							t.Errorf("%s, staff %d, note %d: %v has become %v", score.name, i+1, k+1, was, is)
						case !writtenOut && is.Head != was.Head:
							t.Errorf("%s, staff %d, note %d: the head of %s stands at %s", score.name, i+1, k+1, was.Head, is.Head)
						case writtenOut && !headMoved(was, is):
							t.Errorf("%s, staff %d, note %d: %v has become %v", score.name, i+1, k+1, was, is)
						default:
							moved++
						}
					}
				}
			}
			t.Logf("%d scores: %d notes in another octave, %d where they were", len(scores), moved, unmoved)
			if moved == 0 && way != "words" {
				t.Error("nothing has moved")
			}
		})
	}
}

// headMoved reports whether a head has moved by as many octaves as its key,
// or stands where an octave line of the score had shown it.
func headMoved(was, is engraved) bool {
	if was.Head[:1] != is.Head[:1] {
		return false
	}
	octaves := int(is.Head[1]) - int(was.Head[1])
	return 12*octaves == is.Key-was.Key || octaves == 0
}
