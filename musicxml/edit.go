package musicxml

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// An Edit puts Text in place of what stands in Span. An empty Span makes it an
// insertion, an empty Text a deletion. Text is XML as it is to stand in the
// file; [Escape] makes it of plain text.
type Edit struct {
	Span Span
	Text string
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\r", "&#13;")

// Escape makes plain text fit to stand in XML, between tags or in an
// attribute. Characters that XML cannot hold at all become U+FFFD.
func Escape(s string) string {
	clean := func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}
	return escaper.Replace(strings.Map(clean, s))
}

const whiteSpace = " \t\r\n"

// Remove gives the edits that take out elements or processing instructions
// that [Anchor.Edit] put in, with the white space that came with them. The
// spans may come in any order and must not overlap.
func (d *Document) Remove(spans []Span) []Edit {
	spans = slices.Clone(spans)
	slices.SortFunc(spans, func(a, b Span) int { return a.Start - b.Start })
	var edits []Edit
	for i := 0; i < len(spans); {
		run := spans[i]
		// What stands beside one another, with nothing but white space between, goes together.
		for i++; i < len(spans) && strings.Trim(d.text[run.End:spans[i].Start], whiteSpace) == ""; i++ {
			run.End = spans[i].End
		}
		// At the end of a measure the white space came before, elsewhere behind.
		after := strings.TrimLeft(d.text[run.End:], whiteSpace)
		if strings.HasPrefix(after, "</") {
			run.Start = len(strings.TrimRight(d.text[:run.Start], whiteSpace))
		} else {
			run.End = len(d.text) - len(after)
		}
		edits = append(edits, Edit{Span: run})
	}
	return edits
}

// Apply gives the file with the edits made. The edits may come in any order;
// several insertions at one place are made in the order given, and before a
// replacement that begins there. Edits that overlap or lie out of bounds are
// refused, and so is a result that is no longer well-formed. Nothing else in
// the file changes: that is checked before Apply returns, by taking the edits
// out of the result again. In an encoding that lacks a character of an
// inserted text it becomes a character reference. Without edits the result is
// the input. It must not be changed while the Document is in use, since it may
// share its memory. Errors are always an [*Error].
func (d *Document) Apply(edits []Edit) ([]byte, error) {
	return d.apply(edits, false)
}

func (d *Document) apply(edits []Edit, keep bool) ([]byte, error) {
	edits, err := d.arrange(edits)
	if err != nil {
		return nil, err
	}
	if len(edits) == 0 {
		return d.unchanged()
	}
	text := splice(d.text, edits)
	if !isUndoneTo(d.text, text, edits) {
		return nil, d.plainError("edit-inexact", "taking the marks out again does not give the score back", "nothing is written; please report this")
	}
	if len(text) > maxTextBytes {
		return nil, d.plainError("limit", "the score with its marks is too large", "")
	}
	if _, err := scan(text, &wellFormed{}); err != nil {
		return nil, d.plainError("edit-malformed", fmt.Sprintf("with the marks the score is no longer well-formed: %s", err.text), "nothing is written; please report this")
	}
	file, err := d.encode(text)
	if err != nil {
		return nil, err
	}
	if d.archive != nil {
		return d.archive.replace(d.name, file, keep)
	}
	return file, nil
}

// CanHold reports whether the file's encoding has every character of a text, so
// that it may stand where no character reference can: in a processing
// instruction or a comment.
func (d *Document) CanHold(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r >= utf8.RuneSelf && !d.codec.canEncode(r) }) < 0
}

// unchanged gives the bytes that the document was read from.
func (d *Document) unchanged() ([]byte, error) {
	if d.archive != nil {
		return bytes.Clone(d.archive.data), nil
	}
	return d.encode(d.text)
}

// encode gives the bytes of a text, and makes sure that they read as it.
func (d *Document) encode(text string) ([]byte, error) {
	encoded, err := d.codec.encode(text)
	if err == nil {
		if _, plain := d.codec.(utf8Codec); !plain {
			back, _, ok := d.codec.decode(encoded)
			if !ok || back != text {
				err = fmt.Errorf("it reads back differently")
			}
		}
	}
	if err != nil {
		return nil, d.plainError("encoding-inexact", fmt.Sprintf("the marked score cannot be written in %s: %v", d.codec.name(), err), "save the score as UTF-8")
	}
	if len(d.bom) > 0 {
		encoded = append(bytes.Clone(d.bom), encoded...)
	}
	return encoded, nil
}

// arrange checks the edits, sorts them, and fits their texts to the encoding.
func (d *Document) arrange(edits []Edit) ([]Edit, error) {
	refuse := func(e Edit, why string) error {
		p := d.Position(e.Span.Start)
		return &Error{ID: "edit-misplaced", File: p.File, Line: p.Line, Column: p.Column,
			Text: "an edit here " + why, Remedy: "nothing is written; please report this"}
	}
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b Edit) int {
		if c := a.Span.Start - b.Span.Start; c != 0 {
			return c
		}
		return min(a.Span.Len(), 1) - min(b.Span.Len(), 1) // insertions first
	})
	kept := sorted[:0]
	end := 0
	for _, e := range sorted {
		s := e.Span
		switch {
		case s.Start < 0 || s.End < s.Start || s.End > len(d.text):
			return nil, refuse(e, fmt.Sprintf("is out of bounds (%d to %d of %d)", s.Start, s.End, len(d.text)))
		case s.Start < end:
			return nil, refuse(e, "overlaps another one")
		case !atRune(d.text, s.Start) || !atRune(d.text, s.End):
			return nil, refuse(e, "begins or ends inside a character")
		case !utf8.ValidString(e.Text):
			return nil, refuse(e, "is not valid text")
		}
		end = s.End
		if s.IsEmpty() && e.Text == "" || d.text[s.Start:s.End] == e.Text {
			continue
		}
		text, ok := fitEncoding(e.Text, d.codec)
		if !ok {
			return nil, refuse(e, fmt.Sprintf("has a character that %s lacks, where no character reference can stand", d.codec.name()))
		}
		kept = append(kept, Edit{s, text})
	}
	return kept, nil
}

func atRune(s string, i int) bool { return i == len(s) || utf8.RuneStart(s[i]) }

// splice makes the edits, which are sorted and do not overlap.
func splice(text string, edits []Edit) string {
	size := len(text)
	for _, e := range edits {
		size += len(e.Text) - e.Span.Len()
	}
	var b strings.Builder
	b.Grow(size)
	at := 0
	for _, e := range edits {
		b.WriteString(text[at:e.Span.Start])
		b.WriteString(e.Text)
		at = e.Span.End
	}
	b.WriteString(text[at:])
	return b.String()
}

// isUndoneTo reports whether taking the edits out of the result gives the
// original: each text must stand where it has come to, and what stands between
// and beside them must be the original's.
func isUndoneTo(original, result string, edits []Edit) bool {
	from := 0 // in the original
	for _, e := range edits {
		kept := original[from:e.Span.Start]
		rest, ok := strings.CutPrefix(result, kept)
		if !ok {
			return false
		}
		if result, ok = strings.CutPrefix(rest, e.Text); !ok {
			return false
		}
		from = e.Span.End
	}
	return result == original[from:]
}

// fitEncoding writes the characters that an encoding lacks as references. It
// is not ok where that would not be read as one: in a comment, a processing
// instruction, a CDATA section or a tag's name.
func fitEncoding(text string, c codec) (fitted string, ok bool) {
	lacking := func(r rune) bool { return r >= utf8.RuneSelf && !c.canEncode(r) }
	if strings.IndexFunc(text, lacking) < 0 {
		return text, true
	}
	var b strings.Builder
	for rest := text; rest != ""; {
		literal, n := "", 0
		for _, quoted := range [][2]string{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}} {
			if strings.HasPrefix(rest, quoted[0]) {
				n = len(rest)
				if end := strings.Index(rest, quoted[1]); end >= 0 {
					n = end + len(quoted[1])
				}
				literal = rest[:n]
			}
		}
		if literal == "" && rest[0] == '<' {
			n = 1 + nameLength(strings.TrimPrefix(rest[1:], "/"))
			literal = rest[:n]
		}
		if literal != "" {
			if strings.IndexFunc(literal, lacking) >= 0 {
				return "", false
			}
			b.WriteString(literal)
			rest = rest[n:]
			continue
		}
		r, n := utf8.DecodeRuneInString(rest)
		if lacking(r) {
			b.WriteString("&#" + strconv.Itoa(int(r)) + ";")
		} else {
			b.WriteString(rest[:n])
		}
		rest = rest[n:]
	}
	return b.String(), true
}
