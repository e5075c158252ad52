package musicxml

import (
	"sort"
	"sync"
)

// A Document is a MusicXML file: the decoded text of its score, the places of
// the elements in that text, and the music. It does not change after it has been
// read, and may be used by several goroutines.
type Document struct {
	name    string   // as given to Read
	inner   string   // what messages call the score file: name, or name/entry of an archive
	archive *archive // nil unless the file is compressed

	codec codec
	bom   []byte
	text  string

	nodes    []node // of the elements, the root first
	procs    []procInst
	entities entities // that the text may refer to

	score    *Score
	findings []Finding

	linesOnce sync.Once
	lines     []int32
	bytesOnce sync.Once
	textAt    []int // offsets in the text, columnStep apart
	bytesAt   []int // bytes of the file before each of them, 0 first
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
	list := newNodeList(d.text)
	entities, wrong := scan(d.text, list)
	if wrong != nil {
		return d.syntaxError(wrong)
	}
	d.nodes, d.procs, d.entities = list.nodes, list.procs, entities
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

// Root is the root element.
func (d *Document) Root() Element { return Element{d, 0} }

// Archived reports whether the file is a compressed score (.mxl).
func (d *Document) Archived() bool { return d.archive != nil }

// An Instruction is a processing instruction.
type Instruction struct {
	Span   Span
	Target string
	Inst   string  // what stands after the target
	Parent Element // none outside of the root element
	Next   Element // the next element beside it, if there is one
}

// Instructions are the processing instructions with one target, in document
// order.
func (d *Document) Instructions(target string) []Instruction {
	var found []Instruction
	for i := range d.procs {
		p := &d.procs[i]
		if p.target != target {
			continue
		}
		in := Instruction{Span: p.at, Target: target, Inst: p.inst}
		after := sort.Search(len(d.nodes), func(i int) bool { return int(d.nodes[i].start) > p.at.Start })
		up := int32(after) - 1 // the element that begins last before it, or one around that
		for up >= 0 && int(d.nodes[up].end) <= p.at.Start {
			up = d.nodes[up].up
		}
		if up >= 0 {
			in.Parent = Element{d, up}
		}
		if after < len(d.nodes) && d.nodes[after].up == up {
			in.Next = Element{d, int32(after)}
		}
		found = append(found, in)
	}
	return found
}
