// Package musicxml is the score: its bytes, an index into them, and the music
// that they hold, as far as an annotator needs it. It knows nothing of organs.
//
// [Read] takes the bytes of a MusicXML file (1.0 to 4.0, partwise or timewise,
// plain or compressed) and gives a [Document]. The Document keeps the text as
// it is; what is to be written is a list of [Edit]s, spliced into that text by
// [Document.Apply], so that nothing else in the file changes. [Document.Score]
// is the music: parts, measures, notes and directions, each with its exact
// time and with the element that it was read from.
package musicxml
