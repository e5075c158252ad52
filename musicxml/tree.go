package musicxml

import (
	"slices"
	"strings"

	"github.com/beevik/etree"
)

// A treeBuilder makes the etree tree of what a scanner finds, and records
// where each element stands. The tree leaves out the white space between
// elements, which only the text keeps; everything else is there.
//
// Elements and their lists of children are cut from larger pieces of memory,
// since a score has hundreds of thousands of them.
type treeBuilder struct {
	tree   *etree.Document
	spans  []elementSpan
	procs  []procInst
	open   []openElement
	tokens []etree.Token // children so far of all the open elements, innermost last
	blank  string        // white space that is kept only if no element comes beside it

	elementPool []etree.Element
	charPool    []etree.CharData
	tokenPool   []etree.Token
	attrPool    []etree.Attr
}

// An elementSpan is where an element stands in the text. They are kept in
// document order, so that descendants follow their ancestor.
type elementSpan struct {
	start, innerStart, innerEnd, end int32
	size                             int32 // the element and its descendants
}

// A procInst is a processing instruction and where it stands.
type procInst struct {
	token *etree.ProcInst
	at    Span
}

type openElement struct {
	element *etree.Element
	first   int  // of its children in tokens
	ordinal int  // of its span
	nested  bool // has child elements
	blanks  bool // has white space that was kept before the first child element came
}

const poolSize = 512

func newTreeBuilder(text string) *treeBuilder {
	// Most elements have a start and an end tag; there are some without.
	elements := strings.Count(text, "<") * 9 / 16
	b := &treeBuilder{tree: etree.NewDocument(), spans: make([]elementSpan, 0, elements+8)}
	b.open = append(b.open, openElement{element: &b.tree.Element, nested: true, ordinal: -1})
	return b
}

// finish hangs the outermost tokens into the tree.
func (b *treeBuilder) finish() { b.adopt(&b.open[0]) }

func (b *treeBuilder) startElement(name string, attrs []attribute, tag Span) *syntaxError {
	if len(b.open) == 1 {
		if err := checkRoot(name, tag.Start); err != nil {
			return err
		}
	}
	if len(b.elementPool) == 0 {
		b.elementPool = make([]etree.Element, poolSize)
	}
	e := &b.elementPool[0]
	b.elementPool = b.elementPool[1:]
	e.Space, e.Tag = splitName(name)
	if n := len(attrs); n > 0 {
		if len(b.attrPool) < n {
			b.attrPool = make([]etree.Attr, max(n, poolSize))
		}
		e.Attr = b.attrPool[:0:n]
		b.attrPool = b.attrPool[n:]
		for _, a := range attrs {
			e.CreateAttr(a.name, a.value)
		}
	}
	b.blank = ""
	b.open[len(b.open)-1].nested = true
	b.tokens = append(b.tokens, e)
	b.open = append(b.open, openElement{element: e, first: len(b.tokens), ordinal: len(b.spans)})
	b.spans = append(b.spans, elementSpan{start: int32(tag.Start), innerStart: int32(tag.End)})
	return nil
}

// splitName divides prefix and name as etree does.
func splitName(name string) (space, tag string) {
	i := strings.IndexByte(name, ':')
	if i <= 0 || i == len(name)-1 || strings.IndexByte(name[i+1:], ':') >= 0 {
		return "", name
	}
	return name[:i], name[i+1:]
}

func (b *treeBuilder) endElement(tag Span) {
	top := &b.open[len(b.open)-1]
	b.keepBlank(top)
	b.adopt(top)
	b.open = b.open[:len(b.open)-1]
	span := &b.spans[top.ordinal]
	span.innerEnd, span.end = int32(tag.Start), int32(tag.End)
	span.size = int32(len(b.spans) - top.ordinal)
}

// adopt makes the collected tokens children of their element.
func (b *treeBuilder) adopt(parent *openElement) {
	children := b.tokens[parent.first:]
	if parent.blanks && parent.nested {
		children = slices.DeleteFunc(children, isBlank)
	}
	if n := len(children); n > 0 {
		if len(b.tokenPool) < n {
			b.tokenPool = make([]etree.Token, max(n, poolSize))
		}
		parent.element.Child = b.tokenPool[:0:n]
		b.tokenPool = b.tokenPool[n:]
		for _, t := range children {
			parent.element.AddChild(t)
		}
	}
	b.tokens = b.tokens[:parent.first]
}

func isBlank(t etree.Token) bool {
	c, ok := t.(*etree.CharData)
	return ok && c.IsWhitespace() && !c.IsCData()
}

func (b *treeBuilder) text(s string, white bool) {
	if white {
		if !b.open[len(b.open)-1].nested {
			b.blank += s
		}
		return
	}
	b.keepBlank(&b.open[len(b.open)-1])
	b.addText(s)
}

// keepBlank adds white space that may turn out to stand beside text, not
// between elements.
func (b *treeBuilder) keepBlank(in *openElement) {
	if b.blank != "" && !in.nested {
		b.addText(b.blank)
		in.blanks = true
	}
	b.blank = ""
}

func (b *treeBuilder) addText(s string) {
	if len(b.charPool) == 0 {
		b.charPool = make([]etree.CharData, poolSize)
	}
	c := &b.charPool[0]
	b.charPool = b.charPool[1:]
	c.SetData(s)
	b.tokens = append(b.tokens, c)
}

func (b *treeBuilder) add(t etree.Token) {
	b.keepBlank(&b.open[len(b.open)-1])
	b.tokens = append(b.tokens, t)
}

func (b *treeBuilder) cdata(s string)     { b.add(etree.NewCData(s)) }
func (b *treeBuilder) comment(s string)   { b.add(etree.NewComment(s)) }
func (b *treeBuilder) directive(s string) { b.add(etree.NewDirective(s)) }

func (b *treeBuilder) instruction(target, inst string, at Span) {
	p := etree.NewProcInst(target, inst)
	b.procs = append(b.procs, procInst{p, at})
	b.add(p)
}

// checkRoot refuses what is XML but no score.
func checkRoot(name string, offset int) *syntaxError {
	switch name {
	case "score-partwise", "score-timewise":
		return nil
	case "opus":
		return &syntaxError{"not-musicxml", offset, "this file lists several scores (<opus>) and holds none itself", "give one of the scores that it lists"}
	case "sounds", "midi":
		return &syntaxError{"not-musicxml", offset, "this is a MusicXML file without a score (<" + name + ">)", "give a score"}
	}
	return &syntaxError{"not-musicxml", offset, "this is XML, but not a MusicXML score: it begins with <" + shorten(name) + ">", notXMLRemedy}
}

// A wellFormed sink only makes sure that the text is XML and a score.
type wellFormed struct{ depth int }

func (w *wellFormed) startElement(name string, _ []attribute, tag Span) *syntaxError {
	if w.depth++; w.depth == 1 {
		return checkRoot(name, tag.Start)
	}
	return nil
}

func (w *wellFormed) endElement(Span)               { w.depth-- }
func (*wellFormed) text(string, bool)               {}
func (*wellFormed) cdata(string)                    {}
func (*wellFormed) comment(string)                  {}
func (*wellFormed) instruction(_, _ string, _ Span) {}
func (*wellFormed) directive(string)                {}
