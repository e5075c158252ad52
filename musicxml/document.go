package musicxml

import (
	"sync"
	"sync/atomic"

	"github.com/beevik/etree"
)

// A Document is a MusicXML file: the decoded text of its score, the tree of elements with their places in that text, and the music. It does not
// change after it has been read, and may be used by several goroutines.
type Document struct {
	name    string   // as given to Read
	inner   string   // what messages call the score file: name, or name/entry of an archive
	archive *archive // nil unless the file is compressed

	codec codec
	bom   []byte
	text  string

	tree  *etree.Document
	spans []elementSpan
	procs []procInst

	score    *Score
	findings []Finding

	linesOnce sync.Once
	lines     []int32
	bytesOnce sync.Once
	textAt    []int        // offsets in the text, columnStep apart
	bytesAt   []int        // bytes of the file before each of them, 0 first
	steps     atomic.Int64 // taken to elements without the index
	indexed   atomic.Bool
	indexOnce sync.Once
	index     map[*etree.Element]int32
}

// Read reads a MusicXML file: plain XML, or a compressed score (.mxl), told
// apart by content. The name serves only for messages. The data must not change
// while the Document is in use. An error is always an [*Error].
func Read(name string, data []byte) (*Document, error) {
	d := &Document{name: name, inner: name}
	if err := d.read(data); err != nil {
		return nil, err
	}
	return d, nil
}

func (d *Document) read(data []byte) error {
	if len(data) > MaxFileBytes {
		return d.plainError("limit", "the file is larger than 256 MiB", "")
	}
	if len(data) == 0 {
		return d.plainError("empty", "the file is empty", brokenRemedy)
	}
	if isArchive(data) {
		a, file, err := openArchive(d.name, data)
		if err != nil {
			return err
		}
		d.archive, data = a, file
		d.inner = d.name + "/" + a.entryName()
	}
	dec, found, err := decodeFile(d.inner, data)
	if err != nil {
		return err
	}
	d.codec, d.bom, d.text, d.findings = dec.codec, dec.bom, dec.text, found
	b := newTreeBuilder(d.text)
	if err := scan(d.text, b); err != nil {
		return d.syntaxError(err)
	}
	b.finish()
	d.tree, d.spans, d.procs = b.tree, b.spans, b.procs
	return d.readScore()
}

// syntaxError gives what the scanner found its place in the file.
func (d *Document) syntaxError(s *syntaxError) *Error {
	p := d.Position(s.offset)
	return &Error{ID: s.id, File: p.File, Line: p.Line, Column: p.Column, Text: s.text, Remedy: s.remedy}
}

// plainError is one about the file as a whole.
func (d *Document) plainError(id, text, remedy string) *Error {
	return &Error{ID: id, File: d.inner, Text: text, Remedy: remedy}
}

// Name is the name that the document was read under.
func (d *Document) Name() string { return d.name }

// Score is the music.
func (d *Document) Score() *Score { return d.score }

// Findings are what the reader tolerated, in the order of the file.
func (d *Document) Findings() []Finding { return d.findings }

// Text is the decoded text of the score file, without byte order mark. All
// offsets and spans refer to it.
func (d *Document) Text() string { return d.text }

// Root is the root element. The tree holds all elements, attributes, text,
// comments and processing instructions, but not the white space between
// elements. It must not be changed.
func (d *Document) Root() *etree.Element { return d.tree.Root() }

// Span is where an element stands: from the < of its start tag to the end of
// its end tag. The element must be of this document; for another one Span
// gives the empty span at 0.
func (d *Document) Span(el *etree.Element) Span {
	if s := d.elementSpan(el); s != nil {
		return Span{int(s.start), int(s.end)}
	}
	return Span{}
}

// Inner is what stands between the tags of an element; for an empty-element
// tag (<x/>) it is the empty span at its end.
func (d *Document) Inner(el *etree.Element) Span {
	if s := d.elementSpan(el); s != nil {
		return Span{int(s.innerStart), int(s.innerEnd)}
	}
	return Span{}
}

// Archived reports whether the file is a compressed score (.mxl).
func (d *Document) Archived() bool { return d.archive != nil }

// elementSpan looks an element up: at first by going to it from the root, and
// when that has been done so often that an index would have been cheaper, in an
// index, which a large score takes megabytes for.
func (d *Document) elementSpan(el *etree.Element) *elementSpan {
	if !d.indexed.Load() {
		i, steps := d.ordinal(el)
		if d.steps.Add(int64(steps)) < int64(4*len(d.spans)) {
			if i < 0 {
				return nil
			}
			return &d.spans[i]
		}
		d.indexed.Store(true)
	}
	d.indexOnce.Do(func() {
		d.index = make(map[*etree.Element]int32, len(d.spans))
		next := int32(0)
		var walk func(e *etree.Element)
		walk = func(e *etree.Element) {
			d.index[e] = next
			next++
			for _, t := range e.Child {
				if c, ok := t.(*etree.Element); ok {
					walk(c)
				}
			}
		}
		walk(d.Root())
	})
	if i, ok := d.index[el]; ok {
		return &d.spans[i]
	}
	return nil
}

// ordinal finds an element's place in d.spans without the index, and says how
// many steps that took; it is -1 for an element of another document.
func (d *Document) ordinal(el *etree.Element) (at, steps int) {
	var path []*etree.Element
	for root := d.Root(); el != root; el = el.Parent() {
		if el == nil {
			return -1, len(path)
		}
		path = append(path, el)
	}
	for i := len(path) - 1; i >= 0; i-- {
		at++
		before := path[i].Parent().Child[:path[i].Index()]
		steps += 1 + len(before)
		for _, t := range before {
			if _, ok := t.(*etree.Element); ok {
				at += int(d.spans[at].size)
			}
		}
	}
	return at, steps
}

// place is where an element of this document starts.
func (d *Document) place(el *etree.Element) Position {
	at, _ := d.ordinal(el)
	return d.Position(int(d.spans[at].start))
}

// An Instruction is a processing instruction.
type Instruction struct {
	Span   Span
	Target string
	Inst   string         // what stands after the target
	Parent *etree.Element // nil outside of the root element
	Next   *etree.Element // the next element beside it; nil if there is none
}

// Instructions are the processing instructions with one target, in document
// order.
func (d *Document) Instructions(target string) []Instruction {
	var found []Instruction
	root := d.Root()
	// From the last to the first, so that of many in a row each need look only
	// as far as the one after it.
	for i, after := len(d.procs)-1, (*procInst)(nil); i >= 0; i-- {
		p := &d.procs[i]
		if p.token.Target != target {
			continue
		}
		in := Instruction{Span: p.at, Target: target, Inst: p.token.Inst, Parent: p.token.Parent()}
		limit := len(in.Parent.Child)
		if after != nil && after.token.Parent() == in.Parent {
			limit = after.token.Index()
			in.Next = found[len(found)-1].Next
		}
		for _, t := range in.Parent.Child[p.token.Index()+1 : limit] {
			if e, ok := t.(*etree.Element); ok {
				in.Next = e
				break
			}
		}
		if in.Parent != root && in.Parent.Parent() == nil {
			in.Parent = nil
		}
		found = append(found, in)
		after = p
	}
	for i, j := 0, len(found)-1; i < j; i, j = i+1, j-1 {
		found[i], found[j] = found[j], found[i]
	}
	return found
}
