package musicxml

import (
	"archive/zip"
	"bytes"
	"net/url"
	"strings"
)

// This file holds what the reader does about files that are not as the
// MusicXML specification has them, but are so because of a known habit of the
// programs that export them. Each habit has a function, and nothing about them
// stands elsewhere.

// backupTooFar: a voice that lacks a rest is shorter than the measure, and the
// exporter goes back by a whole measure all the same. The next voice then
// starts with the measure. To go back when nothing has been played, or by more
// than a measure, is no such habit but a broken file.
func (r *partReader) backupTooFar(el Element, by Time) Time {
	const what = "<backup> goes back beyond the start of the measure"
	full := r.measure.Signature.Length()
	if full.IsZero() {
		full = Whole(4)
	}
	if r.cursor.IsZero() || full.Less(by) {
		r.fail(el, "backup-too-far", what, brokenRemedy)
		return Time{}
	}
	r.tolerate(el, "backup-too-far", what, "the next voice is taken to start with the measure")
	return Time{}
}

// chordWithoutNote: a note of a chord whose first note is missing, mostly
// because the exporter left out a hidden one, stands by itself.
func (r *partReader) chordWithoutNote(n *Note) bool {
	if r.afterNote {
		return false
	}
	r.tolerate(n.Elem, "chord-without-note", "a <chord> follows no note in its measure", "it is taken as a note by itself")
	return true
}

// measureRest: a rest for the whole measure has in many files the length of a
// full measure, or of 4/4, whatever the measure's own length is. It moves the
// cursor as the file says, since a <backup> of the same length follows, but
// does not make the measure longer than its time signature.
func (r *partReader) measureRest(n *Note) {
	r.cursor = r.cursor.Add(n.Duration)
	length := r.cursor
	if full := r.measure.Signature.Length(); !full.IsZero() && full.Less(length) {
		length = full
	}
	r.measure.restReach = later(r.measure.restReach, length)
}

// noteValues are the lengths of note types in quarter notes.
var noteValues = map[string]Time{
	"maxima": Whole(32), "long": Whole(16), "breve": Whole(8), "whole": Whole(4), "half": Whole(2), "quarter": Whole(1),
	"eighth": NewTime(1, 2), "16th": NewTime(1, 4), "32nd": NewTime(1, 8), "64th": NewTime(1, 16), "128th": NewTime(1, 32), "256th": NewTime(1, 64),
}

// missingDuration: music recognition leaves out the <duration> of notes that
// it could not fit into the measure. The note's printed value counts.
func (r *partReader) missingDuration(n *Note) Time {
	if n.Cue {
		return Time{} // cue notes beside the music, without time of their own
	}
	value, known := noteValues[n.Type]
	if !known {
		if n.Rest && n.MeasureRest {
			value = r.measure.Signature.Length()
		}
	}
	length := value
	for dot := n.Elem.Child("dot"); dot.Exists(); dot = dot.next() {
		if dot.Tag() == "dot" {
			value = value.Mul(NewTime(1, 2))
			length = length.Add(value)
		}
	}
	if m := n.Elem.Child("time-modification"); m.Exists() {
		actual, normal := integer(childText(m, "actual-notes"), 1), integer(childText(m, "normal-notes"), 1)
		if actual > 0 && normal > 0 {
			length = length.Mul(NewTime(int64(normal), int64(actual)))
		}
	}
	r.tolerate(n.Elem, "duration-missing", "a note has no <duration>", "its printed value counts")
	return length
}

// leadingSpace: a few programs begin a file with an empty line, before which
// no XML declaration may stand. It is found behind the white space all the same.
func leadingSpace(data []byte) []byte { return bytes.TrimLeft(data, whiteSpace) }

// namedOtherwise: META-INF/container.xml spells the score's path in another
// way than the archive: as part of a URL ("%20"), from the root, in other
// case, or in UTF-8 while the archive has it in an encoding that it does not
// name, in which case the only such score is meant.
func namedOtherwise(full string, files []*zip.File) *zip.File {
	if unescaped, err := url.PathUnescape(full); err == nil {
		full = unescaped
	}
	full = strings.TrimPrefix(entryPath(full), "/")
	var unnamed []*zip.File
	for _, f := range files {
		entry := entryPath(f.Name)
		if strings.EqualFold(entry, full) {
			return f
		}
		ending := strings.ToLower(entry[strings.LastIndexByte(entry, '.')+1:])
		if f.NonUTF8 && (ending == "xml" || ending == "musicxml") {
			unnamed = append(unnamed, f)
		}
	}
	if len(unnamed) == 1 {
		return unnamed[0]
	}
	return nil
}
