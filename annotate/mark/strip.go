package mark

import (
	"strings"

	"stopgap/musicxml"
)

// Strip lists the edits that take the tool's marks out of a document again,
// and how many there are.
func Strip(doc *musicxml.Document) (edits []musicxml.Edit, marks int) {
	text := doc.Text()
	for _, in := range doc.Instructions(Target) {
		// As it stands in the file: a parser would make every line end a LF.
		inst := strings.TrimSuffix(strings.TrimPrefix(text[in.Span.Start:in.Span.End], "<?"+Target), "?>")
		kind, rest, _ := strings.Cut(strings.TrimLeft(inst, " \t\r\n"), " ")
		switch kind {
		case "octave":
			if in.Next != nil && in.Next.Tag == "octave" {
				edits = append(edits, musicxml.Edit{Span: in.Span}, musicxml.Edit{Span: doc.Inner(in.Next), Text: rest})
				continue
			}
			fallthrough
		default:
			start := in.Span.Start
			for start > 0 && strings.IndexByte(" \t\r\n", text[start-1]) >= 0 {
				start--
			}
			end := in.Span.End
			if in.Next != nil && in.Next.Tag == "direction" {
				end = doc.Span(in.Next).End
			}
			edits = append(edits, musicxml.Edit{Span: musicxml.Span{Start: start, End: end}})
			marks++
		case "was":
			edits = append(edits, musicxml.Edit{Span: in.Span, Text: rest})
		}
	}
	return edits, marks
}
