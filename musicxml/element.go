package musicxml

import (
	"iter"
	"strings"
)

// An Element is an element of a score, as it stands in the text. It holds
// nothing but its place: its name, attributes and text are read there when they
// are asked for, since a score has hundreds of thousands of elements of which
// few are asked for twice. The zero Element is none. Elements can be compared.
type Element struct {
	doc *Document
	at  int32 // in doc.nodes
}

// A node is where an element stands in the text. Nodes are in document order,
// so that the descendants of an element follow it.
type node struct {
	start, nameEnd, innerStart, innerEnd, end int32
	size                                      int32 // the element and its descendants
	up                                        int32 // the element that it stands in, -1 for the root
}

// An Attribute is one of an element. Its name has no prefix.
type Attribute struct{ Name, Value string }

// Exists reports whether there is such an element.
func (e Element) Exists() bool { return e.doc != nil }

func (e Element) node() *node { return &e.doc.nodes[e.at] }

// Span is where the element stands: from the < of its start tag to the end of
// its end tag; the empty span at 0 for none.
func (e Element) Span() Span {
	if !e.Exists() {
		return Span{}
	}
	n := e.node()
	return Span{int(n.start), int(n.end)}
}

// Inner is what stands between the tags of the element; for an empty-element
// tag (<x/>) it is the empty span at its end.
func (e Element) Inner() Span {
	n := e.node()
	return Span{int(n.innerStart), int(n.innerEnd)}
}

// isEmptyTag reports whether the element is an empty-element tag.
func (e Element) isEmptyTag() bool {
	n := e.node()
	return n.innerStart == n.end
}

// Tag is the element's name without prefix.
func (e Element) Tag() string {
	n := e.node()
	_, tag := splitName(e.doc.text[n.start+1 : n.nameEnd])
	return tag
}

// splitName divides a name into prefix and the rest.
func splitName(name string) (space, tag string) {
	i := strings.IndexByte(name, ':')
	if i <= 0 || i == len(name)-1 || strings.IndexByte(name[i+1:], ':') >= 0 {
		return "", name
	}
	return name[:i], name[i+1:]
}

// Children are the elements directly inside.
func (e Element) Children() iter.Seq[Element] {
	return func(yield func(Element) bool) {
		if !e.Exists() {
			return
		}
		nodes := e.doc.nodes
		end := e.at + nodes[e.at].size
		for i := e.at + 1; i < end; i += nodes[i].size {
			if !yield(Element{e.doc, i}) {
				return
			}
		}
	}
}

// All are the elements of one name directly inside.
func (e Element) All(tag string) iter.Seq[Element] {
	return func(yield func(Element) bool) {
		for c := range e.Children() {
			if c.Tag() == tag && !yield(c) {
				return
			}
		}
	}
}

// Child is the first element of a name directly inside; none if there is none.
func (e Element) Child(tag string) Element {
	for c := range e.Children() {
		if c.Tag() == tag {
			return c
		}
	}
	return Element{}
}

// Inside are all elements inside, at any depth, in document order.
func (e Element) Inside() iter.Seq[Element] {
	return func(yield func(Element) bool) {
		end := e.at + e.node().size
		for i := e.at + 1; i < end; i++ {
			if !yield(Element{e.doc, i}) {
				return
			}
		}
	}
}

// Find is the first element of a name inside, at any depth; none if there is
// none.
func (e Element) Find(tag string) Element {
	for c := range e.Inside() {
		if c.Tag() == tag {
			return c
		}
	}
	return Element{}
}

// next is the element that follows beside this one; none if it is the last.
func (e Element) next() Element {
	n := e.node()
	after := e.at + n.size
	if nodes := e.doc.nodes; int(after) < len(nodes) && nodes[after].up == n.up {
		return Element{e.doc, after}
	}
	return Element{}
}

// eachAttribute goes through the attributes as they stand in the text.
func (e Element) eachAttribute(visit func(name, raw string) (more bool)) {
	n := e.node()
	// That the tag is well-formed has been seen to when the text was read.
	rest := skipSpace(e.doc.text[n.nameEnd:n.innerStart])
	for rest != "" && rest[0] != '>' && rest[0] != '/' {
		equals := strings.IndexByte(rest, '=')
		name := rest[:nameLength(rest)]
		rest = skipSpace(rest[equals+1:])
		end := strings.IndexByte(rest[1:], rest[0]) + 1
		if !visit(name, rest[1:end]) {
			return
		}
		rest = skipSpace(rest[end+1:])
	}
}

func skipSpace(s string) string {
	for s != "" && class[s[0]]&classSpace != 0 {
		s = s[1:]
	}
	return s
}

// Attr is the value of an attribute without prefix, empty if it is not there.
func (e Element) Attr(name string) string { return e.AttrOr(name, "") }

// AttrOr is the value of an attribute without prefix, or what counts if it is
// not there.
func (e Element) AttrOr(name, without string) string {
	value := without
	e.eachAttribute(func(is, raw string) bool {
		if is != name {
			return true
		}
		value = e.doc.resolved(raw, true)
		return false
	})
	return value
}

// Attributes are all the attributes, in the order of the file.
func (e Element) Attributes() []Attribute {
	var out []Attribute
	e.eachAttribute(func(name, raw string) bool {
		_, name = splitName(name)
		out = append(out, Attribute{name, e.doc.resolved(raw, true)})
		return true
	})
	return out
}

// Text is the text directly inside, without comments; where there are elements
// as well, without white space that stands alone between them.
func (e Element) Text() string {
	n := e.node()
	if n.size == 1 {
		if raw := e.doc.text[n.innerStart:n.innerEnd]; strings.IndexByte(raw, '<') < 0 {
			return e.doc.resolved(raw, false)
		}
	}
	var b strings.Builder
	from := n.innerStart
	for c := range e.Children() {
		e.doc.addText(&b, e.doc.text[from:c.node().start], true)
		from = c.node().end
	}
	e.doc.addText(&b, e.doc.text[from:n.innerEnd], n.size > 1)
	return b.String()
}

// addText adds the text of a stretch without elements.
func (d *Document) addText(b *strings.Builder, raw string, between bool) {
	for raw != "" {
		switch {
		case strings.HasPrefix(raw, "<!--"):
			_, raw, _ = strings.Cut(raw[len("<!--"):], "-->")
		case strings.HasPrefix(raw, "<![CDATA["):
			var inner string
			inner, raw, _ = strings.Cut(raw[len("<![CDATA["):], "]]>")
			b.WriteString(normalise(inner))
		case strings.HasPrefix(raw, "<?"):
			_, raw, _ = strings.Cut(raw, "?>")
		default:
			end := strings.IndexByte(raw[1:], '<') + 1
			if end == 0 {
				end = len(raw)
			}
			if text := raw[:end]; !between || strings.Trim(text, whiteSpace) != "" {
				b.WriteString(d.resolved(text, false))
			}
			raw = raw[end:]
		}
	}
}

// resolved is what a stretch of text or the value of an attribute stands for.
// That it can be resolved has been seen to when the text was read.
func (d *Document) resolved(raw string, inAttribute bool) string {
	plain := true
	for i := 0; i < len(raw) && plain; i++ {
		plain = raw[i] != '&' && raw[i] != '\r' && (raw[i] >= ' ' || !inAttribute)
	}
	if plain {
		return raw
	}
	s := scanner{entities: d.entities}
	s.entities.expanded = 0
	text, _ := s.resolve(raw, 0, inAttribute)
	return text
}
