package mark

import (
	"strings"

	"stopgap/musicxml"
)

// Strip lists the edits that take the tool's marks out of a document again,
// and how many marks there were.
func Strip(doc *musicxml.Document) (edits []musicxml.Edit, marks int) {
	text := doc.Text()
	done := 0 // up to where the text is dealt with
	for _, in := range doc.Instructions(Target) {
		if in.Span.Start < done {
			continue // inside something that goes as a whole
		}
		// As it stands in the file: a parser would make every line end a LF.
		inst := strings.TrimSuffix(strings.TrimPrefix(text[in.Span.Start:in.Span.End], "<?"+Target), "?>")
		kind, rest, _ := strings.Cut(strings.TrimLeft(inst, " \t\r\n"), " ")
		edit := musicxml.Edit{Span: in.Span}
		switch {
		case kind == wasThere:
			edit.Text = rest
		case kind == instead && in.Next.Exists():
			edit.Span.End, edit.Text = in.Next.Span().End, rest
		case kind == wasOctave && in.Next.Exists() && in.Next.Tag() == "octave":
			edits = append(edits, edit)
			edit = musicxml.Edit{Span: in.Next.Inner(), Text: rest}
		default:
			for edit.Span.Start > done && strings.IndexByte(" \t\r\n", text[edit.Span.Start-1]) >= 0 {
				edit.Span.Start--
			}
			if in.Next.Exists() && isAdded(in.Next) {
				edit.Span.End = in.Next.Span().End
			}
			if !in.Next.Exists() || hasWords(in.Next) {
				marks++
			}
		}
		done = edit.Span.End
		edits = append(edits, edit)
	}
	return edits, marks
}

// hasWords reports whether an element is a direction with words.
func hasWords(direction musicxml.Element) bool {
	for t := range direction.All("direction-type") {
		if t.Child("words").Exists() {
			return true
		}
	}
	return false
}

// isAdded reports whether an element is of the kind that the tool adds.
func isAdded(el musicxml.Element) bool {
	switch el.Tag() {
	case "direction", "attributes", "accidental":
		return true
	}
	return false
}
