package musicxml

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// A scanner reads well-formed XML 1.0 in one pass, without recursion, and
// tells a sink what it finds and where. It is a reader of its own, not
// encoding/xml, for three reasons: it must give the place of every token in
// the text; it must know the internal subset of a doctype; and strings that it
// gives are parts of the text, so that reading costs little more than looking
// at every byte once. A test holds it against encoding/xml.
type scanner struct {
	text     string
	pos      int
	sink     sink
	open     []openTag
	attrs    []attribute
	elements int
	entities entities
}

// A sink takes what a scanner finds, in document order.
type sink interface {
	// startElement may refuse an element. The attributes are only lent.
	startElement(name string, attrs []attribute, tag Span) *syntaxError
	// endElement closes the innermost open element; tag is empty, and at the
	// end of the start tag, for an element without content.
	endElement(tag Span)
	instruction(target, inst string, at Span)
}

type attribute struct{ name, value string }

type openTag struct {
	name  string
	start int
}

// A syntaxError is what is wrong with the text, and at which byte of it.
type syntaxError struct {
	id     string
	offset int
	text   string
	remedy string
}

const (
	notXML       = "this is not XML"
	notXMLRemedy = "give a MusicXML file (.musicxml, .xml or .mxl)"
)

const brokenRemedy = "export the score again from the program that it was made with"

func (s *scanner) errorf(offset int, format string, args ...any) *syntaxError {
	return &syntaxError{id: "xml-syntax", offset: offset, text: fmt.Sprintf(format, args...), remedy: brokenRemedy}
}

func limitError(offset int, format string, args ...any) *syntaxError {
	return &syntaxError{id: "limit", offset: offset, text: fmt.Sprintf(format, args...), remedy: "this is not a score that was made in earnest"}
}

// Classes of bytes.
const (
	classSpace     = 1 << iota // white space
	className                  // may stand in a name
	classStart                 // may begin a name
	classMarkup                // ends plain text, or makes it need work: & < ] CR
	classForbidden             // may not stand in XML at all
)

var class = func() (c [256]uint8) {
	for b := range c {
		switch {
		case b == ' ' || b == '\t' || b == '\n' || b == '\r':
			c[b] = classSpace
		case b < ' ':
			c[b] = classForbidden
		case b >= 'a' && b <= 'z', b >= 'A' && b <= 'Z', b == '_', b == ':', b >= utf8.RuneSelf:
			c[b] = className | classStart
		case b >= '0' && b <= '9', b == '-', b == '.':
			c[b] = className
		}
	}
	for _, b := range "&<]\r" {
		c[b] |= classMarkup
	}
	return c
}()

// scan reads the whole text, and gives the entities that it declares.
func scan(text string, into sink) (entities, *syntaxError) {
	s := &scanner{text: text, sink: into}
	for _, part := range []func() *syntaxError{s.checkCharacters, s.prolog, s.content, func() *syntaxError { return s.misc(false) }} {
		if err := part(); err != nil {
			return entities{}, err
		}
	}
	return s.entities, nil
}

// checkCharacters refuses what may not stand in XML, wherever it stands.
func (s *scanner) checkCharacters() *syntaxError {
	for i := 0; i < len(s.text); i++ {
		b := s.text[i]
		if class[b]&classForbidden != 0 {
			if b == 0 {
				return s.errorf(i, "there is a NUL byte, so this is not text")
			}
			return s.errorf(i, "the control character %#02x may not stand in XML", b)
		}
		if b == 0xEF && i+2 < len(s.text) && s.text[i+1] == 0xBF && s.text[i+2] >= 0xBE {
			return s.errorf(i, "the character U+FFF%c may not stand in XML", "EF"[s.text[i+2]-0xBE])
		}
	}
	return nil
}

// prolog reads up to the root element: XML declaration, comments, processing
// instructions, doctype.
func (s *scanner) prolog() *syntaxError {
	s.skipSpace() // of which there should be none before a declaration: see exporters.go
	rest := s.text[s.pos:]
	if strings.HasPrefix(rest, "<?xml") && len(rest) > 5 && class[rest[5]]&classSpace != 0 {
		end := strings.Index(rest, "?>")
		if end < 0 {
			return s.errorf(s.pos, "the XML declaration does not end")
		}
		s.sink.instruction("xml", strings.TrimSpace(rest[5:end]), Span{s.pos, s.pos + end + 2})
		s.pos += end + 2
	}
	return s.misc(true)
}

// misc reads what may stand before and after the root element; before it, a
// doctype too.
func (s *scanner) misc(before bool) *syntaxError {
	for {
		s.skipSpace()
		rest := s.text[s.pos:]
		var err *syntaxError
		switch {
		case rest == "" && !before:
			return nil
		case rest == "" && s.pos == 0:
			return &syntaxError{"empty", 0, "the file is empty", brokenRemedy}
		case rest == "":
			return s.errorf(s.pos, "the file ends before the score begins")
		case strings.HasPrefix(rest, "<!--"):
			err = s.comment()
		case strings.HasPrefix(rest, "<?"):
			err = s.instruction()
		case strings.HasPrefix(rest, "<!DOCTYPE") && before:
			err = s.doctype()
		case len(rest) > 1 && rest[0] == '<' && class[rest[1]]&classStart != 0 && before:
			return nil
		case before:
			return &syntaxError{"not-xml", s.pos, notXML, notXMLRemedy}
		default:
			return s.errorf(s.pos, "there is something after the end of the score")
		}
		if err != nil {
			return err
		}
	}
}

func (s *scanner) skipSpace() {
	for s.pos < len(s.text) && class[s.text[s.pos]]&classSpace != 0 {
		s.pos++
	}
}

// content reads the root element.
func (s *scanner) content() *syntaxError {
	for first := true; first || len(s.open) > 0; first = false {
		if s.pos >= len(s.text) {
			last := s.open[len(s.open)-1]
			return s.errorf(s.pos, "the file breaks off inside <%s>", shorten(last.name))
		}
		var err *syntaxError
		if s.text[s.pos] != '<' {
			err = s.characters()
		} else {
			err = s.markup()
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// markup reads what begins with '<' inside the root element.
func (s *scanner) markup() *syntaxError {
	if s.pos+1 >= len(s.text) {
		return s.errorf(s.pos, "the file breaks off inside a tag")
	}
	switch s.text[s.pos+1] {
	case '/':
		return s.endTag()
	case '?':
		return s.instruction()
	case '!':
		switch rest := s.text[s.pos:]; {
		case strings.HasPrefix(rest, "<!--"):
			return s.comment()
		case strings.HasPrefix(rest, "<![CDATA["):
			return s.cdata()
		}
		return s.errorf(s.pos, "there is a stray <!")
	}
	return s.startTag()
}

// characters reads text up to the next tag.
func (s *scanner) characters() *syntaxError {
	start := s.pos
	end := strings.IndexByte(s.text[start:], '<')
	if end < 0 {
		end = len(s.text)
	} else {
		end += start
	}
	s.pos = end
	raw := s.text[start:end]
	plain := true
	for i := 0; i < len(raw) && plain; i++ {
		plain = class[raw[i]]&classMarkup == 0
	}
	if plain {
		return nil
	}
	if i := strings.Index(raw, "]]>"); i >= 0 {
		return s.errorf(start+i, "]]> may not stand in text")
	}
	if strings.IndexByte(raw, '&') < 0 {
		return nil
	}
	_, err := s.resolve(raw, start, false)
	return err
}

// normalise makes every line end a line feed.
func normalise(raw string) string {
	if strings.IndexByte(raw, '\r') < 0 {
		return raw
	}
	return strings.ReplaceAll(strings.ReplaceAll(raw, "\r\n", "\n"), "\r", "\n")
}

func (s *scanner) cdata() *syntaxError {
	inner := s.text[s.pos+len("<![CDATA["):]
	end := strings.Index(inner, "]]>")
	if end < 0 {
		return s.errorf(s.pos, "a CDATA section does not end")
	}
	s.pos += len("<![CDATA[") + end + len("]]>")
	return nil
}

func (s *scanner) comment() *syntaxError {
	inner := s.text[s.pos+len("<!--"):]
	end := strings.Index(inner, "--")
	if end < 0 {
		return s.errorf(s.pos, "a comment does not end")
	}
	if !strings.HasPrefix(inner[end:], "-->") {
		return s.errorf(s.pos+len("<!--")+end, "-- may not stand inside a comment")
	}
	s.pos += len("<!--") + end + len("-->")
	return nil
}

func (s *scanner) instruction() *syntaxError {
	start := s.pos
	inner := s.text[start+2:]
	end := strings.Index(inner, "?>")
	if end < 0 {
		return s.errorf(start, "a processing instruction does not end")
	}
	inner = inner[:end]
	n := nameLength(inner)
	target := inner[:n]
	if n == 0 || n < len(inner) && class[inner[n]]&classSpace == 0 {
		return s.errorf(start, "a processing instruction has no name")
	}
	if strings.EqualFold(target, "xml") {
		return s.errorf(start, "an XML declaration may stand only at the very beginning")
	}
	s.pos = start + 2 + end + 2
	s.sink.instruction(target, normalise(strings.TrimLeft(inner[n:], " \t\r\n")), Span{start, s.pos})
	return nil
}
