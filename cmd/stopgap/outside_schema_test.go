package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestMarkedScoresKeepToTheSchema: what was valid MusicXML before it was marked
// is valid after, and taking the marks out gives the input.
func TestMarkedScoresKeepToTheSchema(t *testing.T) {
	xmllint := outside(t, "xmllint")
	schema, err := filepath.Abs(filepath.Join("..", "..", "testdata", "musicxml-4.0"))
	if err != nil {
		t.Fatal(err)
	}
	// validate returns what xmllint has against each of the files.
	validate := func(files ...string) map[string]string {
		args := append([]string{"--nonet", "--noent", "--noout", "--schema", filepath.Join(schema, "musicxml.xsd")}, files...)
		run := exec.Command(xmllint, args...)
		run.Env = append(os.Environ(), "XML_CATALOG_FILES="+filepath.Join(schema, "catalog.xml"))
		out, _ := run.CombinedOutput() // its status is not 0 when a file is not valid
		found := map[string]string{}
		for _, file := range files {
			if !strings.Contains(string(out), file+" validates\n") {
				found[file] = "no word of it"
			}
		}
		for line := range strings.Lines(string(out)) {
			if file, what, ok := strings.Cut(line, ".musicxml:"); ok {
				found[file+".musicxml"] = what
			}
		}
		return found
	}
	marks := [][]string{{"--pedal-marks", "line"}, {"--pedal-marks", "written"}, {"--pedal-marks", "words"}, {"--originals", "replace"}}
	for _, how := range marks {
		t.Run(strings.TrimLeft(strings.Join(how, " "), "-"), func(t *testing.T) {
			dir := t.TempDir()
			var before, after []string
			scores := markedScores(t, how...)
			if how[0] == "--pedal-marks" {
				scores = append(scores, octaveScores(t, how[1])...)
			}
			for i, score := range scores {
				name := fmt.Sprintf("%d.%s", i, strings.TrimSuffix(score.name, filepath.Ext(score.name)))
				in, out := filepath.Join(dir, name+".before.musicxml"), filepath.Join(dir, name+".after.musicxml")
				write(t, in, score.before)
				write(t, out, score.after)
				before, after = append(before, in), append(after, out)
				if got := mustRun(t, "strip", "-q", "-o", "-", out); !bytes.Equal(got, score.before) {
					t.Errorf("%s: taking the marks out does not give the input", score.name)
				}
			}
			was, is := validate(before...), validate(after...)
			for i, file := range after {
				if was[before[i]] == "" && is[file] != "" {
					t.Errorf("%s: %s", filepath.Base(file), is[file])
				}
			}
			t.Logf("%d scores, %d of them valid before, %d after", len(after), len(before)-len(was), len(after)-len(is))
		})
	}
}
