package musicxml

import (
	"strings"
)

// readPiece reads words, a rehearsal mark or credit words.
func readPiece(el Element) TextPiece {
	p := TextPiece{Text: el.Text(), Elem: el}
	for _, a := range el.Attributes() {
		switch a.Name {
		case "font-style":
			p.Italic = a.Value == "italic"
		case "font-weight":
			p.Bold = a.Value == "bold"
		case "font-family":
			p.FontFamily = a.Value
		case "font-size":
			if f := number(a.Value); f != nil {
				p.FontSize = *f
			}
		case "enclosure":
			if a.Value != "none" {
				p.Enclosure = a.Value
			}
		case "justify":
			p.Justify = a.Value
		case "lang":
			p.Lang = a.Value
		case "default-x":
			p.X = number(a.Value)
		case "default-y":
			p.Y = number(a.Value)
		case "relative-x":
			p.RelX = number(a.Value)
		case "relative-y":
			p.RelY = number(a.Value)
		}
	}
	return p
}

// joinPieces joins the runs of one text as they are printed: directly behind
// one another, or on a new line where a run gives itself another height.
func joinPieces(pieces []TextPiece) string {
	if len(pieces) == 1 {
		return pieces[0].Text
	}
	var b strings.Builder
	var y *float64
	for i, p := range pieces {
		if i > 0 && p.Y != nil && y != nil && *p.Y != *y && !strings.HasSuffix(b.String(), "\n") && !strings.HasPrefix(p.Text, "\n") {
			b.WriteByte('\n')
		}
		if p.Y != nil {
			y = p.Y
		}
		b.WriteString(p.Text)
	}
	return b.String()
}
