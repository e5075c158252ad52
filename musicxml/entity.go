package musicxml

import (
	"html"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Entities are the internal general entities that a doctype declares. None is
// ever fetched from anywhere.
type entities struct {
	doctype  bool
	external bool              // the doctype names an external subset, which may declare more
	declared map[string]entity // the first declaration of a name holds
	expanded int               // bytes that references have stood for so far
}

type entity struct {
	value    string // the literal, character references in it resolved
	external bool
}

// resolve gives the text that raw stands for: references resolved, line ends
// normalised, in an attribute white space made spaces. The offset is where
// raw stands in the text.
func (s *scanner) resolve(raw string, offset int, inAttribute bool) (string, *syntaxError) {
	var b strings.Builder
	b.Grow(len(raw))
	for i := 0; i < len(raw); {
		switch c := raw[i]; {
		case c == '&':
			text, n, err := s.reference(raw[i:], offset+i)
			if err != nil {
				return "", err
			}
			b.WriteString(text)
			i += n
		case c == '\r':
			if i++; i < len(raw) && raw[i] == '\n' {
				i++
			}
			if inAttribute {
				b.WriteByte(' ')
			} else {
				b.WriteByte('\n')
			}
		case inAttribute && c < ' ':
			b.WriteByte(' ')
			i++
		default:
			b.WriteByte(c)
			i++
		}
	}
	return b.String(), nil
}

// reference resolves the reference that raw begins with, and gives its length.
func (s *scanner) reference(raw string, offset int) (string, int, *syntaxError) {
	end := strings.IndexByte(raw, ';')
	if end < 0 || end == 1 {
		return "", 0, s.errorf(offset, "an & stands where no entity follows (a plain & is written &amp;)")
	}
	name := raw[1:end]
	if name[0] == '#' {
		r, ok := characterReference(name[1:])
		if !ok {
			return "", 0, s.errorf(offset, "&%s; is not a character", shorten(name))
		}
		return string(r), end + 1, nil
	}
	if nameLength(name) != len(name) {
		return "", 0, s.errorf(offset, "an & stands where no entity follows (a plain & is written &amp;)")
	}
	text, err := s.entity(name, offset, nil)
	return text, end + 1, err
}

// characterReference reads what stands between &# and ;.
func characterReference(digits string) (rune, bool) {
	base := 10
	if strings.HasPrefix(digits, "x") {
		digits, base = digits[1:], 16
	}
	n, err := strconv.ParseUint(digits, base, 32)
	r := rune(n)
	switch {
	case err != nil, n > utf8.MaxRune, !utf8.ValidRune(r), r == 0xFFFE, r == 0xFFFF:
		return 0, false
	case r < ' ' && r != '\t' && r != '\n' && r != '\r':
		return 0, false
	}
	return r, true
}

var predefined = map[string]string{"amp": "&", "lt": "<", "gt": ">", "apos": "'", "quot": `"`}

// entity is the text of a named entity. Within are the names of the entities
// that it is being spelt out in.
func (s *scanner) entity(name string, offset int, within []string) (string, *syntaxError) {
	if text, ok := predefined[name]; ok {
		return text, nil
	}
	e, ok := s.entities.declared[name]
	switch {
	case ok && e.external:
		return "", &syntaxError{"xml-entity", offset, "the entity &" + shorten(name) + "; stands in another file, which is never fetched", "replace it by its text"}
	case !ok && s.entities.external:
		// The doctypes of MusicXML declare the ISO Latin 1 and 2 entities (&eacute;).
		if text := html.UnescapeString("&" + name + ";"); !strings.HasPrefix(text, "&") {
			return text, nil
		}
		fallthrough
	case !ok:
		return "", &syntaxError{"xml-entity", offset, "the entity &" + shorten(name) + "; is declared nowhere", "replace it by its text"}
	}
	for _, outer := range within {
		if outer == name {
			return "", &syntaxError{"xml-entity", offset, "the entity &" + shorten(name) + "; stands inside itself", "replace it by its text"}
		}
	}
	// Counted at every level, and an empty one as one byte, so that entities
	// which multiply one another end here also when they stand for nothing.
	if s.entities.expanded += 1 + len(e.value); s.entities.expanded > maxExpandedText {
		return "", limitError(offset, "the entities of the file stand for more than %d bytes", maxExpandedText)
	}
	return s.spellOut(e.value, offset, append(within, name))
}

// spellOut resolves the references in the value of an entity.
func (s *scanner) spellOut(value string, offset int, within []string) (string, *syntaxError) {
	if strings.IndexByte(value, '<') >= 0 {
		return "", &syntaxError{"xml-entity", offset, "the entity &" + shorten(within[len(within)-1]) + "; stands for more than plain text", "replace it by what it stands for"}
	}
	if strings.IndexByte(value, '&') < 0 {
		return value, nil
	}
	var b strings.Builder
	for i := 0; i < len(value); {
		if value[i] != '&' {
			b.WriteByte(value[i])
			i++
			continue
		}
		end := strings.IndexByte(value[i:], ';')
		if end < 2 {
			return "", s.errorf(offset, "an entity of the doctype has a stray & in it")
		}
		name := value[i+1 : i+end]
		i += end + 1
		if r, ok := strings.CutPrefix(name, "#"); ok {
			c, ok := characterReference(r)
			if !ok {
				return "", s.errorf(offset, "&%s; is not a character", shorten(name))
			}
			b.WriteRune(c)
			continue
		}
		text, err := s.entity(name, offset, within)
		if err != nil {
			return "", err
		}
		b.WriteString(text)
		if b.Len() > maxEntityText {
			return "", limitError(offset, "an entity stands for more than %d bytes", maxEntityText)
		}
	}
	return b.String(), nil
}
