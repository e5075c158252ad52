package stoplist

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"stopgap/registry/shelf"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s:\n%s\nwant\n%s", file, got, want)
	}
}

func TestWrite(t *testing.T) {
	for _, name := range []string{"demonstration", "village-one-manual", "hamburg-st-jacobi-1693"} {
		o, err := shelf.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := Write(&b, o, 80); err != nil {
			t.Fatal(err)
		}
		golden(t, "testdata/"+name+".txt", b.Bytes())
	}
}

// Every organ can be set out, each knob is there, and at a usual width no line
// is longer than that.
func TestEveryOrganFitsThePage(t *testing.T) {
	for _, name := range shelf.Names() {
		o, err := shelf.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := Write(&b, o, 90); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > 90 {
				t.Errorf("%s: %q", name, line)
			}
		}
		for _, d := range o.Divisions {
			for _, s := range d.Stops {
				if !strings.Contains(text, s.Name) {
					t.Errorf("%s: %q is not on the list", name, s.Name)
				}
			}
		}
	}
}

func TestCompare(t *testing.T) {
	a, err := shelf.Open("village-two-manuals")
	if err != nil {
		t.Fatal(err)
	}
	b, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	c := Compare(a, b)
	if len(c.Matches) != a.Totals().Stops {
		t.Errorf("%d matches for %d stops", len(c.Matches), a.Totals().Stops)
	}
	same := Compare(a, a)
	if n := same.Count()[Same]; n != a.Totals().Stops || len(same.Besides) != 0 {
		t.Errorf("an organ against itself: %d of %d the same, %d besides", n, a.Totals().Stops, len(same.Besides))
	}
}
