package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"stopgap/annotate"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/shelf"
)

// TestEverySheet writes every score of testdata on the demonstration organ, and
// one on every organ of the shelf, in all formats, and checks what must hold of
// every page.
func TestEverySheet(t *testing.T) {
	try := func(file, organ string) {
		t.Run(filepath.Base(file)+" on "+organ, func(t *testing.T) {
			r := planOf(t, file, organ)
			for _, reader := range []Reader{Player, Registrant, Student} {
				var page, text bytes.Buffer
				if err := HTML(&page, r, Options{For: reader}); err != nil {
					t.Fatal(err)
				}
				checkPage(t, page.String())
				if err := Text(&text, r, Options{For: reader}); err != nil {
					t.Fatal(err)
				}
				for _, line := range strings.Split(text.String(), "\n") {
					if len([]rune(line)) > 90 || strings.HasSuffix(line, " ") {
						t.Errorf("text: %q", line)
					}
				}
				if figure := regexp.MustCompile(`\bdB\b|\bphon\b|[0-9]%`).FindString(text.String()); figure != "" {
					t.Errorf("nobody asked for figures: %s", figure)
				}
			}
			var table bytes.Buffer
			if err := CSV(&table, r); err != nil {
				t.Fatal(err)
			}
		})
	}
	files, err := filepath.Glob("../../testdata/annotate/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if filepath.Ext(file) != ".md" {
			try(file, shelf.Default())
		}
	}
	for _, organ := range shelf.Names() {
		try("../../testdata/chorale-prelude.musicxml", organ)
	}
}

func planOf(t *testing.T, file, organ string) *annotate.Result {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := musicxml.Read(file, data)
	if err != nil {
		t.Fatal(err)
	}
	o, err := shelf.Open(organ)
	if err != nil {
		t.Fatal(err)
	}
	r, err := annotate.Plan(doc, o, annotate.Options{Propose: true})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// checkPage checks that a page loads nothing, that what its parts refer to is
// there, once, and that its pictures are well-formed and within their frames.
func checkPage(t *testing.T, page string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]int{}
	var refs []string
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.ElementNode {
			switch n.Data {
			case "script", "link", "iframe", "object", "embed", "img":
				t.Errorf("the page has a <%s>", n.Data)
			}
		}
		for _, a := range n.Attr {
			switch a.Key {
			case "id":
				ids[a.Val]++
			case "aria-labelledby":
				refs = append(refs, strings.Fields(a.Val)...)
			case "href":
				if !strings.HasPrefix(a.Val, "#") {
					t.Errorf("the page leads to %s", a.Val)
				}
				refs = append(refs, strings.TrimPrefix(a.Val, "#"))
			case "src", "style", "onclick":
				t.Errorf("the page has %s=%q", a.Key, a.Val)
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	for id, n := range ids {
		if n > 1 {
			t.Errorf("%d elements are called %s", n, id)
		}
	}
	for _, ref := range refs {
		if ids[ref] == 0 {
			t.Errorf("there is no %s", ref)
		}
	}
	if strings.Contains(page, "ZgotmplZ") {
		t.Error("the template has refused a value")
	}
	for _, picture := range regexp.MustCompile(`(?s)<svg.*?</svg>`).FindAllString(page, -1) {
		checkPicture(t, picture)
	}
}

func checkPicture(t *testing.T, picture string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(picture))
	var width, height float64
	title, text := false, false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Errorf("a picture is no XML: %v", err)
			return
		}
		el, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]float64{}
		for _, a := range el.Attr {
			if a.Name.Local == "viewBox" {
				fmt.Sscanf(a.Value, "0 0 %g %g", &width, &height)
			}
			var n float64
			if _, err := fmt.Sscan(a.Value, &n); err == nil {
				at[a.Name.Local] = n
			}
		}
		title, text = title || el.Name.Local == "title", text || el.Name.Local == "desc"
		if strings.Contains(picture, "NaN") || strings.Contains(picture, "Inf") {
			t.Error("a picture has a place that is no number")
			return
		}
		if el.Name.Local == "rect" && (at["x"] < 0 || at["y"] < 0 || at["x"]+at["width"] > width+0.2 || at["y"]+at["height"] > height+0.2) {
			t.Errorf("%v lies outside of %v × %v", at, width, height)
		}
	}
	if !title || !text {
		t.Error("a picture has no title or no text for those who do not see it")
	}
}

// TestPedalPicture: every note of the feet is in the picture, those that are
// moved also where they are printed, and those off the board are crossed.
func TestPedalPicture(t *testing.T) {
	r := tenBars(t)
	o := r.Plan.Organ
	s := newSheet(r, Options{})
	count := func(what string) int {
		n := 0
		for _, picture := range s.pedalPictures() {
			n += strings.Count(string(picture), `class="`+what+`"`)
		}
		return n
	}
	// Bars 1 to 3, 9 and 10 as printed; 5 to 8 an octave higher, where A4 and G4
	// are off; bar 4 rests.
	if notes, moved, printed, off := count("note"), count("moved"), count("printed"), count("off"); notes != 6 || moved != 4 || printed != 6 || off != 2 {
		t.Errorf("%d notes, %d moved from %d, %d off", notes, moved, printed, off)
	}
	o.Pedalboard.Compass.High = registry.Key(60) // C4
	if off, crosses := count("off"), count("cross"); off != 5 || crosses != 5 {
		t.Errorf("%d notes off, %d crosses", off, crosses)
	}
	if text := s.pedalText(s.pedalNotes(), o.Pedalboard); text != "The pedalboard goes from C2 to C4. The feet play from C2 to A4. Played in another octave than printed: bars 5 to 8. Not on the pedalboard: bars 6 to 8." {
		t.Error(text)
	}
}

// TestStrip: stays run on through passages in which nothing changes, and stop
// where hands, stops or the box do.
func TestStrip(t *testing.T) {
	r := tenBars(t)
	s := newSheet(r, Options{})
	o := r.Plan.Organ
	var says []string
	for _, st := range s.staysOn(o.Keyboard("Great"), deafEar{}) {
		says = append(says, st.says())
	}
	want := "bars 1 to 3 R.H., Open Diapason 8; bars 3 to 4 R.H., Stopped Diapason 8; bars 5 to 8 R.H., Open Diapason 8; bar 8 R.H., Open Diapason 8, Principal 4"
	if got := strings.Join(says, "; "); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}
