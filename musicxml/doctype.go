package musicxml

import "strings"

// doctype reads a doctype declaration with its internal subset, of which only
// the general entities matter here. The subset stays in the file as it is;
// nothing that it or the doctype names is ever fetched.
func (s *scanner) doctype() *syntaxError {
	start := s.pos
	if s.entities.doctype {
		return s.errorf(start, "the file has two doctypes")
	}
	s.entities.doctype = true
	s.pos += len("<!DOCTYPE")
	head := s.pos
	for s.pos < len(s.text) {
		switch b := s.text[s.pos]; b {
		case '"', '\'':
			if !s.skipQuoted(b) {
				return s.errorf(start, "the doctype does not end")
			}
		case '[':
			s.noteExternal(s.text[head:s.pos])
			s.pos++
			if err := s.subset(start); err != nil {
				return err
			}
		case '<':
			return s.errorf(s.pos, "a < stands in the doctype")
		case '>':
			s.noteExternal(s.text[head:s.pos])
			s.pos++
			return nil
		default:
			s.pos++
		}
	}
	return s.errorf(start, "the doctype does not end")
}

// noteExternal sees whether the head of a doctype names an external subset.
func (s *scanner) noteExternal(head string) {
	words := strings.Fields(head)
	if len(words) > 1 && (words[1] == "PUBLIC" || words[1] == "SYSTEM") {
		s.entities.external = true
	}
}

// skipQuoted goes past a quoted string.
func (s *scanner) skipQuoted(quote byte) bool {
	end := strings.IndexByte(s.text[s.pos+1:], quote)
	if end < 0 {
		return false
	}
	s.pos += end + 2
	return true
}

// subset reads an internal subset up to and with its ].
func (s *scanner) subset(start int) *syntaxError {
	for s.pos < len(s.text) {
		rest := s.text[s.pos:]
		switch {
		case rest[0] == ']':
			s.pos++
			return nil
		case strings.HasPrefix(rest, "<!--"):
			end := strings.Index(rest[4:], "-->")
			if end < 0 {
				return s.errorf(s.pos, "a comment does not end")
			}
			s.pos += 4 + end + 3
		case strings.HasPrefix(rest, "<?"):
			end := strings.Index(rest, "?>")
			if end < 0 {
				return s.errorf(s.pos, "a processing instruction does not end")
			}
			s.pos += end + 2
		case strings.HasPrefix(rest, "<!ENTITY"):
			if err := s.entityDeclaration(); err != nil {
				return err
			}
		case strings.HasPrefix(rest, "<!"):
			if !s.skipDeclaration() {
				return s.errorf(start, "the doctype does not end")
			}
		case rest[0] == '%':
			// A parameter entity may declare anything; none is fetched.
			s.entities.external = true
			s.pos++
		case rest[0] == '<':
			return s.errorf(s.pos, "a tag stands in the doctype")
		default:
			s.pos++
		}
	}
	return s.errorf(start, "the doctype does not end")
}

// skipDeclaration goes past a declaration that does not matter here.
func (s *scanner) skipDeclaration() bool {
	for s.pos < len(s.text) {
		switch b := s.text[s.pos]; b {
		case '"', '\'':
			if !s.skipQuoted(b) {
				return false
			}
		case '>':
			s.pos++
			return true
		default:
			s.pos++
		}
	}
	return false
}

// entityDeclaration reads <!ENTITY name "value">, and the forms that name
// another file.
func (s *scanner) entityDeclaration() *syntaxError {
	start := s.pos
	if !s.skipDeclaration() {
		return s.errorf(start, "an entity declaration does not end")
	}
	declaration := strings.TrimLeft(s.text[start+len("<!ENTITY"):s.pos-1], " \t\r\n")
	if strings.HasPrefix(declaration, "%") {
		s.entities.external = true // a parameter entity: see subset
		return nil
	}
	n := nameLength(declaration)
	name := declaration[:n]
	definition := strings.Trim(declaration[n:], " \t\r\n")
	if n == 0 || definition == "" {
		return s.errorf(start, "an entity declaration is malformed")
	}
	if _, again := s.entities.declared[name]; again {
		return nil
	}
	if len(s.entities.declared) >= maxEntities {
		return limitError(start, "the doctype declares more than %d entities", maxEntities)
	}
	e := entity{external: true}
	if quote := definition[0]; quote == '"' || quote == '\'' {
		value, _, _ := strings.Cut(definition[1:], string(quote))
		if len(value) > maxEntityText {
			return limitError(start, "the entity %s is longer than %d bytes", shorten(name), maxEntityText)
		}
		e = entity{value: literalValue(value)}
	}
	if s.entities.declared == nil {
		s.entities.declared = map[string]entity{}
	}
	s.entities.declared[name] = e
	return nil
}

// literalValue resolves the character references of an entity's literal, as
// XML does when it is declared, and normalises its line ends.
func literalValue(literal string) string {
	literal = normalise(literal)
	var b strings.Builder
	for i := 0; i < len(literal); {
		if strings.HasPrefix(literal[i:], "&#") {
			if end := strings.IndexByte(literal[i:], ';'); end > 0 {
				if r, ok := characterReference(literal[i+2 : i+end]); ok {
					b.WriteRune(r)
					i += end + 1
					continue
				}
			}
		}
		b.WriteByte(literal[i])
		i++
	}
	return b.String()
}
