package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// An archive is a compressed score: a ZIP file whose META-INF/container.xml
// names the score file in it.
type archive struct {
	data   []byte
	reader *zip.Reader
	score  *zip.File
}

// isArchive tells a ZIP file by its first bytes.
func isArchive(data []byte) bool {
	return bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06"))
}

const archiveRemedy = "export the score again, or give it as plain .musicxml"

// openArchive finds the score in a compressed file and unpacks it.
func openArchive(name string, data []byte) (*archive, []byte, *Error) {
	refuse := func(id, format string, args ...any) (*archive, []byte, *Error) {
		return nil, nil, &Error{ID: id, File: name, Text: fmt.Sprintf(format, args...), Remedy: archiveRemedy}
	}
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return refuse("mxl-broken", "the compressed score is broken or cut off: %v", err)
	}
	if len(r.File) > maxArchiveEntries {
		return refuse("limit", "the compressed score holds more than %d files", maxArchiveEntries)
	}
	entries := map[string]*zip.File{}
	for _, f := range r.File {
		entry := entryPath(f.Name)
		if escapesArchive(entry) {
			return refuse("mxl-path", "the compressed score holds a file whose path leaves it: %s", shorten(f.Name))
		}
		if _, twice := entries[entry]; twice {
			return refuse("mxl-duplicate", "the compressed score holds the file %s twice", shorten(f.Name))
		}
		entries[entry] = f
	}
	container := entries["META-INF/container.xml"]
	for i := 0; container == nil && i < len(r.File); i++ {
		if strings.EqualFold(entryPath(r.File[i].Name), "META-INF/container.xml") {
			container = r.File[i]
		}
	}
	if container == nil {
		return refuse("mxl-container", "the compressed score has no META-INF/container.xml, which says where the score is")
	}
	listing, why := unpack(container)
	if why != nil {
		why.File = name
		return nil, nil, why
	}
	full, listed, why := rootFile(name, listing)
	if why != nil {
		return nil, nil, why
	}
	if !listed {
		return refuse("mxl-container", "META-INF/container.xml names no MusicXML file")
	}
	score := entries[entryPath(full)]
	if score == nil {
		score = namedOtherwise(full, r.File)
	}
	if score == nil {
		return refuse("mxl-container", "META-INF/container.xml names the score %s, which is not in the file", shorten(full))
	}
	text, why := unpack(score)
	if why != nil {
		why.File = name
		return nil, nil, why
	}
	return &archive{data, r, score}, text, nil
}

// entryPath writes the path of an entry as ZIP has it: some programs write
// backslashes, or a leading "./".
func entryPath(name string) string {
	name = strings.ReplaceAll(name, `\`, "/")
	return strings.TrimPrefix(name, "./")
}

// escapesArchive reports whether an entry's path leads out of the archive.
func escapesArchive(entry string) bool {
	if strings.HasPrefix(entry, "/") || len(entry) > 1 && entry[1] == ':' {
		return true
	}
	clean := path.Clean(entry)
	return clean == ".." || strings.HasPrefix(clean, "../") || strings.Contains("/"+entry+"/", "/../")
}

// entryName is the score's path in the archive.
func (a *archive) entryName() string { return shorten(a.score.Name) }

// unpack gives the content of an entry.
func unpack(f *zip.File) ([]byte, *Error) {
	refuse := func(id, format string, args ...any) ([]byte, *Error) {
		return nil, &Error{ID: id, Text: fmt.Sprintf("%s in the compressed score ", shorten(f.Name)) + fmt.Sprintf(format, args...), Remedy: archiveRemedy}
	}
	if f.Flags&1 != 0 {
		return refuse("mxl-encrypted", "is encrypted")
	}
	most := f.CompressedSize64*maxArchiveRatio + smallArchiveEntry
	if most > maxTextBytes || f.CompressedSize64 > MaxFileBytes {
		most = maxTextBytes
	}
	if f.UncompressedSize64 > most {
		return refuse("limit", "unpacks to more than a score can be")
	}
	r, err := f.Open()
	if err != nil {
		return refuse("mxl-broken", "cannot be unpacked: %v", err)
	}
	defer r.Close()
	var b bytes.Buffer
	b.Grow(int(f.UncompressedSize64))
	if _, err := io.Copy(&b, io.LimitReader(r, int64(most)+1)); err != nil {
		return refuse("mxl-broken", "cannot be unpacked: %v", err)
	}
	if uint64(b.Len()) > most {
		return refuse("limit", "unpacks to more than a score can be")
	}
	return b.Bytes(), nil
}

// rootFile reads META-INF/container.xml: the score is the first rootfile
// whose media type is MusicXML's or which gives none.
func rootFile(name string, listing []byte) (full string, ok bool, _ *Error) {
	inner := name + "/META-INF/container.xml"
	dec, _, err := decodeFile(inner, listing)
	if err != nil {
		return "", false, err
	}
	c := containerReader{}
	if _, err := scan(dec.text, &c); err != nil {
		d := Document{name: name, inner: inner, codec: dec.codec, bom: dec.bom, text: dec.text}
		return "", false, d.syntaxError(err)
	}
	return c.full, c.found, nil
}

// A containerReader is a sink that keeps the first fitting <rootfile>.
type containerReader struct {
	wellFormed
	full  string
	found bool
}

func (c *containerReader) startElement(name string, attrs []attribute, _ Span) *syntaxError {
	if _, tag := splitName(name); tag != "rootfile" || c.found {
		return nil
	}
	full, media := "", ""
	for _, a := range attrs {
		switch a.name {
		case "full-path":
			full = a.value
		case "media-type":
			media = a.value
		}
	}
	switch strings.ToLower(strings.TrimSpace(media)) {
	case "", "application/vnd.recordare.musicxml+xml", "application/vnd.recordare.musicxml", "text/xml", "application/xml":
		c.full, c.found = full, full != ""
	}
	return nil
}

// copyEntry copies an entry as it is stored. Folders, which hold nothing but
// which some programs compress, are made anew.
func copyEntry(w *zip.Writer, f *zip.File) error {
	if !strings.HasSuffix(f.Name, "/") {
		return w.Copy(f)
	}
	h := f.FileHeader
	h.CompressedSize64, h.UncompressedSize64, h.CRC32 = 0, 0, 0
	_, err := w.CreateHeader(&h)
	return err
}

// replace gives the archive with another score file in it: the archive that it
// holds if that has this score, else a new one, with this one in it if it is to
// be kept. The other entries are copied as they are stored.
func (a *archive) replace(name string, score []byte, keep bool) ([]byte, error) {
	if was := a.kept(score); was != nil {
		return was, nil
	}
	failed := func(err error) ([]byte, error) {
		return nil, &Error{ID: "mxl-write", File: name, Text: fmt.Sprintf("the compressed score cannot be written: %v", err), Remedy: archiveRemedy}
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	if err := w.SetComment(a.reader.Comment); err != nil {
		return failed(err)
	}
	for _, f := range a.reader.File {
		if f.Name == keptEntry && f != a.score {
			continue // what was kept is of another score
		}
		if f != a.score {
			if err := copyEntry(w, f); err != nil {
				return failed(fmt.Errorf("%s in it is broken: %w", shorten(f.Name), err))
			}
			continue
		}
		h := f.FileHeader
		h.CompressedSize64, h.UncompressedSize64, h.CRC32 = 0, 0, 0
		if h.Method != zip.Store {
			h.Method = zip.Deflate
		}
		body, err := w.CreateHeader(&h)
		if err != nil {
			return failed(err)
		}
		if _, err := body.Write(score); err != nil {
			return failed(err)
		}
	}
	if keep && len(a.data) <= maxKept {
		if err := a.keep(w); err != nil {
			return failed(err)
		}
	}
	if err := w.Close(); err != nil {
		return failed(err)
	}
	// The verification of the text above holds for what is stored only if it
	// unpacks to the same.
	if _, again, err := openArchive(name, b.Bytes()); err != nil || !bytes.Equal(again, score) {
		return failed(errors.New("it does not unpack to what was put in"))
	}
	return b.Bytes(), nil
}
