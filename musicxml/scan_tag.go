package musicxml

import (
	"strings"
	"unicode/utf8"
)

func (s *scanner) startTag() *syntaxError {
	start := s.pos
	n := nameLength(s.text[start+1:])
	if n == 0 {
		return s.errorf(start, "a < stands where a tag cannot begin")
	}
	name := s.text[start+1 : start+1+n]
	s.pos = start + 1 + n
	if s.elements++; s.elements > maxElements {
		return limitError(start, "the file has more than %d elements", maxElements)
	}
	if len(s.open) >= maxDepth {
		return limitError(start, "more than %d elements stand inside one another", maxDepth)
	}
	empty, err := s.attributes(start, name)
	if err != nil {
		return err
	}
	if err := s.sink.startElement(name, s.attrs, Span{start, s.pos}); err != nil {
		return err
	}
	if empty {
		s.sink.endElement(Span{s.pos, s.pos})
		return nil
	}
	s.open = append(s.open, openTag{name, start})
	return nil
}

// attributes reads the rest of a start tag into s.attrs and says whether it
// is an empty-element tag.
func (s *scanner) attributes(start int, name string) (empty bool, err *syntaxError) {
	s.attrs = s.attrs[:0]
	for {
		before := s.pos
		s.skipSpace()
		if s.pos >= len(s.text) {
			return false, s.errorf(s.pos, "the file breaks off inside the tag <%s", shorten(name))
		}
		switch s.text[s.pos] {
		case '>':
			s.pos++
			return false, nil
		case '/':
			if s.pos+1 < len(s.text) && s.text[s.pos+1] == '>' {
				s.pos += 2
				return true, nil
			}
		}
		n := nameLength(s.text[s.pos:])
		if n == 0 || before == s.pos {
			return false, s.errorf(s.pos, "the tag <%s> is malformed", shorten(name))
		}
		at := s.pos
		key := s.text[at : at+n]
		s.pos += n
		value, err := s.attributeValue(key)
		if err != nil {
			return false, err
		}
		for _, a := range s.attrs {
			if a.name == key {
				return false, s.errorf(at, "the tag <%s> has the attribute %s twice", shorten(name), shorten(key))
			}
		}
		if len(s.attrs) >= maxAttributes {
			return false, limitError(at, "the tag <%s> has more than %d attributes", shorten(name), maxAttributes)
		}
		s.attrs = append(s.attrs, attribute{key, value})
	}
}

// attributeValue reads ="value".
func (s *scanner) attributeValue(key string) (string, *syntaxError) {
	s.skipSpace()
	if s.pos >= len(s.text) || s.text[s.pos] != '=' {
		return "", s.errorf(s.pos, "the attribute %s has no value", shorten(key))
	}
	s.pos++
	s.skipSpace()
	if s.pos >= len(s.text) || s.text[s.pos] != '"' && s.text[s.pos] != '\'' {
		return "", s.errorf(s.pos, "the value of the attribute %s is not in quotes", shorten(key))
	}
	quote := s.text[s.pos]
	s.pos++
	start := s.pos
	length := strings.IndexByte(s.text[start:], quote)
	if length < 0 {
		return "", s.errorf(start-1, "the value of the attribute %s does not end", shorten(key))
	}
	raw := s.text[start : start+length]
	s.pos = start + length + 1
	plain := true
	for i := 0; i < len(raw); i++ {
		b := raw[i]
		if b == '<' {
			return "", s.errorf(start+i, "a < may not stand in the value of the attribute %s", shorten(key))
		}
		if b == '&' || b < ' ' {
			plain = false
		}
	}
	if plain {
		return raw, nil
	}
	return s.resolve(raw, start, true)
}

func (s *scanner) endTag() *syntaxError {
	start := s.pos
	last := s.open[len(s.open)-1]
	after := start + 2 + len(last.name)
	if after >= len(s.text) || s.text[start+2:after] != last.name || class[s.text[after]]&className != 0 {
		n := nameLength(s.text[start+2:])
		if after = start + 2 + n; n == 0 || after >= len(s.text) {
			return s.errorf(start, "the file breaks off inside a tag, or the tag is malformed")
		}
		return s.errorf(start, "<%s> is closed by </%s>", shorten(last.name), shorten(s.text[start+2:after]))
	}
	s.pos = after
	s.skipSpace()
	if s.pos >= len(s.text) || s.text[s.pos] != '>' {
		return s.errorf(start, "the tag </%s> does not end", shorten(last.name))
	}
	s.pos++
	s.open = s.open[:len(s.open)-1]
	s.sink.endElement(Span{start, s.pos})
	return nil
}

// nameLength is the length of the name that s begins with, 0 if it begins
// with none.
func nameLength(s string) int {
	if s == "" || class[s[0]]&classStart == 0 {
		return 0
	}
	i, ascii := 1, s[0] < utf8.RuneSelf
	for i < len(s) && class[s[i]]&className != 0 {
		ascii = ascii && s[i] < utf8.RuneSelf
		i++
	}
	if ascii {
		return i
	}
	for j, r := range s[:i] {
		if r >= utf8.RuneSelf && !isNameRune(r, j == 0) {
			return j
		}
	}
	return i
}

// isNameRune is the production NameChar (NameStartChar if first) of XML 1.0
// beyond ASCII.
func isNameRune(r rune, first bool) bool {
	switch {
	case r == 0xB7, r >= 0x300 && r <= 0x36F, r >= 0x203F && r <= 0x2040:
		return !first
	case r >= 0xC0 && r <= 0x2FF:
		return r != 0xD7 && r != 0xF7
	case r >= 0x370 && r <= 0x1FFF:
		return r != 0x37E
	case r >= 0x200C && r <= 0x200D, r >= 0x2070 && r <= 0x218F, r >= 0x2C00 && r <= 0x2FEF,
		r >= 0x3001 && r <= 0xD7FF, r >= 0xF900 && r <= 0xFDCF, r >= 0xFDF0 && r <= 0xFFFD, r >= 0x10000 && r <= 0xEFFFF:
		return true
	}
	return false
}
