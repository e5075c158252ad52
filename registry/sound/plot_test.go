package sound

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/registry/stopname"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file in testdata, or writes it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); d != "" {
		t.Errorf("%s (-want +got):\n%s", name, d)
	}
}

func TestGoldenFigures(t *testing.T) {
	for name, k := range map[string]stopname.Known{
		"open-diapason": openDiapason, "stopped-diapason": stoppedDiapason, "clarinet": clarinet, "cornet": cornetV, "voix-celeste": named("Voix Celeste 8"),
	} {
		var b bytes.Buffer
		if err := Of(k, Options{}).Figures().WriteText(&b); err != nil {
			t.Fatal(err)
		}
		golden(t, name+".txt", b.Bytes())
	}
}

func TestGoldenPlots(t *testing.T) {
	var b bytes.Buffer
	if err := Plot(&b, "Open Diapason 8", Of(openDiapason, Options{})); err != nil {
		t.Fatal(err)
	}
	golden(t, "open-diapason.svg", b.Bytes())
	b.Reset()
	if err := PlotBox(&b, "A swell box", UsualStrength); err != nil {
		t.Fatal(err)
	}
	golden(t, "box.svg", b.Bytes())
}

// TestPlotsAreWellFormed: every kind of stop gives XML with a title and a
// text alternative, whatever its name holds.
func TestPlotsAreWellFormed(t *testing.T) {
	tenor := Of(openDiapason, Options{Low: 96, High: 100})
	silent := Of(stopname.Known{Name: "Bells", Subfamily: stopname.KindPercussion}, Options{})
	stops := []*Stop{tenor, silent, Of(cornetV, Options{}), Of(mixtureIII, Options{}), Of(bourdon, Options{}), Of(named("Contra Bourdon 32"), Options{})}
	for _, k := range kinds {
		stops = append(stops, Of(k, Options{}))
	}
	for _, s := range stops {
		var b bytes.Buffer
		if err := Plot(&b, `Flûte <"à"> & 8′`, s); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Errorf("a figure is not a number in %s", text)
		}
		seen := map[string]bool{}
		d := xml.NewDecoder(&b)
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%v in %s", err, text)
			}
			if e, ok := token.(xml.StartElement); ok {
				seen[e.Name.Local] = true
			}
		}
		if !seen["title"] || !seen["desc"] {
			t.Error("no title or no description")
		}
		if err := s.Figures().WriteText(io.Discard); err != nil {
			t.Error(err)
		}
	}
	var b bytes.Buffer
	for _, strength := range []float64{0, 3, 40} {
		if err := PlotBox(&b, "Box", strength); err != nil || strings.Contains(b.String(), "NaN") {
			t.Errorf("strength %v: %v", strength, err)
		}
	}
}
