package musicxml

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"
)

// A Span is a range of bytes of [Document.Text]: from Start up to, not
// including, End.
type Span struct{ Start, End int }

// Len is the number of bytes.
func (s Span) Len() int { return s.End - s.Start }

// IsEmpty reports whether the span holds nothing: it is a place between two bytes.
func (s Span) IsEmpty() bool { return s.Start == s.End }

// A Position is a place in the file as it is stored. Line and Column count
// from 1; a column is a byte of the line, in the file's own encoding.
type Position struct {
	File   string
	Line   int
	Column int
}

// String is "file:line:column".
func (p Position) String() string { return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column) }

// Position is where a byte of [Document.Text] stands in the file. An offset
// outside of the text gives the nearest place inside.
func (d *Document) Position(offset int) Position {
	offset = max(0, min(offset, len(d.text)))
	d.linesOnce.Do(func() { d.lines = lineStarts(d.text) })
	line := sort.Search(len(d.lines), func(i int) bool { return int(d.lines[i]) > offset }) - 1
	column := 1 + d.bytesBefore(offset) - d.bytesBefore(int(d.lines[line]))
	if line == 0 {
		column += len(d.bom)
	}
	return Position{File: d.inner, Line: line + 1, Column: column}
}

// columnStep is how many bytes of text lie between two places whose offset in
// the file is kept.
const columnStep = 4096

// bytesBefore is how many bytes of the file the text up to an offset takes.
func (d *Document) bytesBefore(offset int) int {
	if _, plain := d.codec.(utf8Codec); plain {
		return offset
	}
	length := func(from, to int) int {
		for to < len(d.text) && !utf8.RuneStart(d.text[to]) {
			to-- // an offset inside a character counts as at its start
		}
		encoded, _ := d.codec.encode(d.text[min(from, to):to])
		return len(encoded)
	}
	d.bytesOnce.Do(func() {
		d.bytesAt = []int{0}
		for at := 0; at+columnStep <= len(d.text); {
			next := at + columnStep
			for next < len(d.text) && !utf8.RuneStart(d.text[next]) {
				next--
			}
			d.bytesAt = append(d.bytesAt, d.bytesAt[len(d.bytesAt)-1]+length(at, next))
			d.textAt = append(d.textAt, next)
			at = next
		}
	})
	i := sort.SearchInts(d.textAt, offset+1)
	from := 0
	if i > 0 {
		from = d.textAt[i-1]
	}
	return d.bytesAt[i] + length(from, offset)
}

// lineStarts are the offsets of the lines of a text. LF, CRLF and a CR alone
// end a line.
func lineStarts(text string) []int32 {
	starts := append(make([]int32, 0, strings.Count(text, "\n")+1), 0)
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\r':
			if i+1 < len(text) && text[i+1] == '\n' {
				i++
			}
			starts = append(starts, int32(i+1))
		case '\n':
			starts = append(starts, int32(i+1))
		}
	}
	return starts
}

// bytePosition is the line and column of a byte of a file that could not be
// decoded.
func bytePosition(c codec, data []byte, offset int) (line, column int) {
	unit, low := 1, 0
	if u, ok := c.(utf16Codec); ok {
		unit = 2
		if u.big {
			low = 1
		}
	}
	line, start := 1, 0
	for i := 0; i+unit <= offset; i += unit {
		if unit == 2 && data[i+1-low] != 0 {
			continue
		}
		switch data[i+low] {
		case '\r':
			if i+unit < len(data) && i+unit+low < len(data) && data[i+unit+low] == '\n' {
				continue
			}
			line, start = line+1, i+unit
		case '\n':
			line, start = line+1, i+unit
		}
	}
	return line, offset - start + 1
}
