package musicxml

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
	"unsafe"

	"golang.org/x/net/html/charset"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/ianaindex"
)

// A codec turns the bytes of a file into text and back, exactly.
type codec interface {
	// name is what messages call the encoding.
	name() string
	// decode gives the text of data, which has no byte order mark. If a byte
	// stands for nothing it gives the offset of that byte.
	decode(data []byte) (text string, bad int, ok bool)
	// encode gives the bytes of a text, all of whose characters came from
	// decode or passed canEncode.
	encode(text string) ([]byte, error)
	// canEncode reports whether a character can be put into a file in this encoding.
	canEncode(r rune) bool
}

// A decoded file.
type decoded struct {
	codec codec
	bom   []byte // the byte order mark, which is not part of the text
	text  string
}

// decodeFile finds the encoding by the byte order mark, by the first bytes,
// and by the XML declaration, in this order, as appendix F of the XML
// recommendation has it.
func decodeFile(file string, data []byte) (decoded, []Finding, *Error) {
	var found []Finding
	bom, c := sniff(data)
	if c == nil {
		declared := declaredEncoding(data)
		switch strings.ToLower(declared) {
		case "", "utf-8", "utf8":
			c = utf8Codec{}
		case "utf-16", "utf16", "utf-16le", "utf-16be", "ucs-2", "iso-10646-ucs-2", "unicode":
			// The declaration itself was readable as single bytes, so this is
			// not UTF-16: programs that build the file as text in memory write this.
			found = append(found, Finding{ID: "encoding-mismatch", File: file, Line: 1, Column: 1,
				Text:   fmt.Sprintf("the file says that its encoding is %s, but it is UTF-8", shorten(declared)),
				Remedy: "it is read as UTF-8"})
			c = utf8Codec{}
		default:
			var err *Error
			if c, err = namedCodec(file, declared); err != nil {
				return decoded{}, nil, err
			}
		}
	}
	d := decoded{codec: c, bom: bom}
	text, bad, ok := c.decode(data[len(bom):])
	if start := bytes.TrimLeft(data, whiteSpace); !ok && len(bom) == 0 && len(start) > 0 && start[0] != '<' && start[0] != 0 {
		return d, nil, &Error{ID: "not-xml", File: file, Line: 1, Column: 1, Text: notXML, Remedy: notXMLRemedy}
	}
	if !ok {
		line, column := bytePosition(c, data, len(bom)+bad)
		return d, nil, &Error{ID: "encoding-invalid", File: file, Line: line, Column: column,
			Text:   fmt.Sprintf("the bytes here are not %s, which is the encoding of the file", c.name()),
			Remedy: "export the score again, or correct the encoding in its first line"}
	}
	d.text = text
	if _, plain := c.(utf8Codec); !plain {
		if back, err := c.encode(text); err != nil || !bytes.Equal(back, data[len(bom):]) {
			return d, nil, &Error{ID: "encoding-inexact", File: file, Line: 1, Column: 1,
				Text:   fmt.Sprintf("the encoding %s cannot be read and written back without a change", c.name()),
				Remedy: "save the score as UTF-8"}
		}
	}
	return d, found, nil
}

// sniff finds a byte order mark, or UTF-16 without one. A nil codec means
// that the declaration decides.
func sniff(data []byte) (bom []byte, c codec) {
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		return data[:3], utf8Codec{}
	case bytes.HasPrefix(data, []byte("\xFF\xFE\x00\x00")), bytes.HasPrefix(data, []byte("\x00\x00\xFE\xFF")):
		return data[:4], utf32Codec{}
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return data[:2], utf16Codec{big: true}
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return data[:2], utf16Codec{}
	case bytes.HasPrefix(data, []byte("\x00<\x00")):
		return nil, utf16Codec{big: true}
	case bytes.HasPrefix(data, []byte("<\x00")) && len(data) > 3 && data[3] == 0:
		return nil, utf16Codec{}
	}
	return nil, nil
}

// declaredEncoding is what the XML declaration says, empty if it says nothing.
func declaredEncoding(data []byte) string {
	data = leadingSpace(data)
	if !bytes.HasPrefix(data, []byte("<?xml")) {
		return ""
	}
	head := data[:min(len(data), 1024)]
	end := bytes.Index(head, []byte("?>"))
	if end < 0 {
		return ""
	}
	return declarationValue(string(head[:end]), "encoding")
}

// declarationValue finds name="value" in an XML declaration.
func declarationValue(declaration, name string) string {
	for rest := declaration; ; {
		_, after, ok := strings.Cut(rest, name)
		if !ok {
			return ""
		}
		rest = after
		after = strings.TrimLeft(after, " \t\r\n")
		if !strings.HasPrefix(after, "=") {
			continue
		}
		after = strings.TrimLeft(after[1:], " \t\r\n")
		if after == "" || after[0] != '"' && after[0] != '\'' {
			continue
		}
		value, _, ok := strings.Cut(after[1:], after[:1])
		if ok {
			return value
		}
	}
}

// namedCodec is the codec of a declared encoding other than UTF-8 and UTF-16.
func namedCodec(file, declared string) (codec, *Error) {
	refuse := func(why string) *Error {
		return &Error{ID: "encoding-unknown", File: file, Line: 1, Column: 1,
			Text:   fmt.Sprintf("the encoding %q %s", shorten(declared), why),
			Remedy: "save the score as UTF-8"}
	}
	switch strings.ToLower(declared) {
	case "us-ascii", "ascii", "ansi_x3.4-1968":
		return asciiCodec{}, nil
	case "iso-8859-1", "iso8859-1", "iso_8859-1", "latin1", "latin-1", "l1":
		return latin1Codec(), nil
	case "macroman", "mac-roman":
		declared = "macintosh"
	}
	e, name := charset.Lookup(declared)
	if e == nil {
		e, _ = ianaindex.IANA.Encoding(declared) // knows the code pages of DOS, too
	}
	switch {
	case e == nil:
		return nil, refuse("is not known")
	case e == encoding.Replacement, name == "iso-2022-jp", name == "x-user-defined", strings.HasPrefix(name, "utf-16"):
		return nil, refuse("cannot be read and written back without a change")
	}
	return textCodec{label: declared, e: e, strict: e}, nil
}

// utf8Codec is UTF-8, where text and bytes are the same.
type utf8Codec struct{}

func (utf8Codec) name() string { return "UTF-8" }

func (utf8Codec) decode(data []byte) (string, int, bool) {
	if utf8.Valid(data) {
		// The text is the file itself, not a copy of it: both last as long.
		return unsafe.String(unsafe.SliceData(data), len(data)), 0, true
	}
	for i := 0; ; {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			return "", i, false
		}
		i += n
	}
}

func (utf8Codec) encode(text string) ([]byte, error) {
	// The bytes are the text itself, not a copy of it: see Document.Apply.
	return unsafe.Slice(unsafe.StringData(text), len(text)), nil
}

func (utf8Codec) canEncode(rune) bool { return true }

// asciiCodec is UTF-8 whose other characters must be references.
type asciiCodec struct{ utf8Codec }

func (asciiCodec) name() string { return "US-ASCII" }

func (c asciiCodec) decode(data []byte) (string, int, bool) {
	for i, b := range data {
		if b >= utf8.RuneSelf {
			return "", i, false
		}
	}
	return string(data), 0, true
}

func (asciiCodec) canEncode(r rune) bool { return r < utf8.RuneSelf }

// utf16Codec is UTF-16 in either byte order.
type utf16Codec struct{ big bool }

func (utf16Codec) name() string { return "UTF-16" }

func (c utf16Codec) unit(data []byte) uint16 {
	if c.big {
		return uint16(data[0])<<8 | uint16(data[1])
	}
	return uint16(data[1])<<8 | uint16(data[0])
}

func (c utf16Codec) decode(data []byte) (string, int, bool) {
	var b strings.Builder
	b.Grow(len(data) / 2)
	for i := 0; i < len(data); i += 2 {
		if i+2 > len(data) {
			return "", i, false
		}
		r := rune(c.unit(data[i:]))
		if utf16.IsSurrogate(r) {
			if i+4 > len(data) {
				return "", i, false
			}
			if r = utf16.DecodeRune(r, rune(c.unit(data[i+2:]))); r == utf8.RuneError {
				return "", i, false
			}
			i += 2
		}
		b.WriteRune(r)
	}
	return b.String(), 0, true
}

func (c utf16Codec) encode(text string) ([]byte, error) {
	out := make([]byte, 0, 2*len(text))
	put := func(u uint16) {
		if c.big {
			out = append(out, byte(u>>8), byte(u))
		} else {
			out = append(out, byte(u), byte(u>>8))
		}
	}
	for _, r := range text {
		if r < 0x10000 {
			put(uint16(r))
			continue
		}
		high, low := utf16.EncodeRune(r)
		put(uint16(high))
		put(uint16(low))
	}
	return out, nil
}

func (utf16Codec) canEncode(rune) bool { return true }

// utf32Codec refuses UTF-32, which no notation program writes.
type utf32Codec struct{ utf8Codec }

func (utf32Codec) name() string { return "UTF-8 or UTF-16" }

func (utf32Codec) decode([]byte) (string, int, bool) { return "", 0, false }

// textCodec is an encoding of one byte or a few for each character.
type textCodec struct {
	label  string
	e      encoding.Encoding // for what stands in the file
	strict encoding.Encoding // for what is put into it
}

// latin1Codec reads the bytes 80 to 9F, which are control characters in
// Latin-1, as Windows-1252, since that is what they are wherever they occur
// (typographic quotes, mostly); it never puts one in.
func latin1Codec() codec {
	return textCodec{label: "ISO-8859-1", e: charmap.Windows1252, strict: charmap.ISO8859_1}
}

func (c textCodec) name() string { return shorten(c.label) }

func (c textCodec) decode(data []byte) (string, int, bool) {
	text, err := c.e.NewDecoder().Bytes(data)
	if err != nil {
		return "", 0, false
	}
	if i := bytes.IndexRune(text, utf8.RuneError); i >= 0 {
		prefix, err := c.e.NewEncoder().Bytes(text[:i])
		if err != nil {
			return "", 0, false
		}
		return "", commonLength(prefix, data), false
	}
	return string(text), 0, true
}

// commonLength is how many bytes two texts begin with in common.
func commonLength(a, b []byte) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

func (c textCodec) encode(text string) ([]byte, error) {
	return c.e.NewEncoder().Bytes([]byte(text))
}

func (c textCodec) canEncode(r rune) bool {
	if r < utf8.RuneSelf {
		return true
	}
	b, err := c.strict.NewEncoder().Bytes([]byte(string(r)))
	if err != nil {
		return false
	}
	back, err := c.e.NewDecoder().Bytes(b)
	return err == nil && string(back) == string(r)
}
