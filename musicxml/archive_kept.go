package musicxml

import (
	"archive/zip"
	"bytes"
	"slices"
)

// keptEntry is the path in a marked archive at which it holds the archive as
// it was. What a packer makes of a score, no other makes again byte for byte;
// so that the marks can be taken out without a trace, the file is kept. It
// stands where readers of compressed scores do not look for scores.
const keptEntry = "META-INF/unmarked.mxl"

// maxKept is how large a file is kept; larger ones are packed anew.
const maxKept = 64 << 20

// ApplyKeeping does as [Document.Apply]; if the file is an archive, the result
// also holds the file itself. Where later edits lead back to the score that
// was, Apply gives those bytes.
func (d *Document) ApplyKeeping(edits []Edit) ([]byte, error) {
	return d.apply(edits, true)
}

// kept is the archive that a holds, if it differs from a in nothing but the
// score, and its score is this one; nil otherwise.
func (a *archive) kept(score []byte) []byte {
	i := slices.IndexFunc(a.reader.File, func(f *zip.File) bool { return f.Name == keptEntry })
	if i < 0 || a.reader.File[i].Method != zip.Store {
		return nil
	}
	data, why := unpack(a.reader.File[i])
	if why != nil || !isArchive(data) {
		return nil
	}
	was, text, why := openArchive("", data)
	if why != nil || !bytes.Equal(text, score) || was.score.Name != a.score.Name {
		return nil
	}
	if !slices.EqualFunc(a.others(), was.others(), func(f, g *zip.File) bool {
		return f.Name == g.Name && f.CRC32 == g.CRC32 && f.UncompressedSize64 == g.UncompressedSize64
	}) {
		return nil
	}
	return data
}

// others are the entries beside the score and what is kept.
func (a *archive) others() []*zip.File {
	return slices.DeleteFunc(slices.Clone(a.reader.File), func(f *zip.File) bool { return f == a.score || f.Name == keptEntry })
}

// keep adds the archive to a new one.
func (a *archive) keep(w *zip.Writer) error {
	body, err := w.CreateHeader(&zip.FileHeader{Name: keptEntry, Method: zip.Store})
	if err != nil {
		return err
	}
	_, err = body.Write(a.data)
	return err
}
