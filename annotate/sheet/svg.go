package sheet

import (
	"encoding/xml"
	"fmt"
	"html/template"
	"strings"
)

// A drawing is an SVG picture in the making. Its colours are those of the page
// (style.css names them by class), so that it follows dark and light and
// prints black on white.
type drawing struct {
	b             strings.Builder
	width, height float64
}

// newDrawing begins a picture with its title and its text alternative. The id
// sets it apart from the other pictures of the page.
func newDrawing(id, title, text string, width, height float64) *drawing {
	d := &drawing{width: width, height: height}
	d.printf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-t %s-d">`, num(width), num(height), id, id)
	d.printf(`<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`+"\n", id, escape(title), id, escape(text))
	return d
}

func (d *drawing) printf(format string, args ...any) { fmt.Fprintf(&d.b, format, args...) }

// done is the picture as part of a page. All text in it has been escaped.
func (d *drawing) done() template.HTML { return template.HTML(d.b.String() + "</svg>") }

func (d *drawing) rect(class string, x, y, w, h float64) {
	d.printf(`<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`+"\n", class, num(x), num(y), num(max(0, w)), num(max(0, h)))
}

func (d *drawing) line(class string, x1, y1, x2, y2 float64) {
	d.printf(`<path class="%s" d="M%s %sL%s %s"/>`+"\n", class, num(x1), num(y1), num(x2), num(y2))
}

func (d *drawing) path(class, path string) { d.printf(`<path class="%s" d="%s"/>`+"\n", class, path) }

// text writes at a place; class may say "end" or "mid" for where the place
// stands in the text.
func (d *drawing) text(class string, x, y float64, text string) {
	d.printf(`<text class="%s" x="%s" y="%s">%s</text>`+"\n", class, num(x), num(y), escape(text))
}

// titled opens a group that shows a text under the pointer.
func (d *drawing) titled(text string) { d.printf("<g><title>%s</title>\n", escape(text)) }

func (d *drawing) close() { d.printf("</g>\n") }

// num writes a coordinate with one decimal at most.
func num(x float64) string {
	s := fmt.Sprintf("%.1f", x)
	return strings.TrimSuffix(s, ".0")
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}

// fit shortens a text to a width, at so many units a letter; "" where not even
// a few letters fit.
func fit(text string, width, letter float64) string {
	room := int(width / letter)
	runes := []rune(text)
	switch {
	case len(runes) <= room:
		return text
	case room < 4:
		return ""
	}
	return strings.TrimRight(string(runes[:room-1]), " ,") + "…"
}
