package musicxml

// What is beyond these is refused, with a message that names the limit. They
// are far above any score: a score of 20,000 measures and 64 MiB is read.
const (
	MaxFileBytes  = 256 << 20 // the file as it is stored
	maxTextBytes  = 256 << 20 // the score's text, unpacked and decoded
	maxDepth      = 500       // elements inside elements; MusicXML needs fewer than 20
	maxElements   = 16 << 20
	maxAttributes = 1000 // of one element

	maxEntities     = 1000    // declared in the doctype
	maxEntityText   = 1 << 16 // bytes that one entity stands for, all that it names spelt out
	maxExpandedText = 8 << 20 // bytes that all entities of a file stand for together

	maxArchiveEntries = 10_000
	maxArchiveRatio   = 250     // unpacked bytes for each packed one: a score packs 10 to 60 to one
	smallArchiveEntry = 1 << 20 // below this the ratio does not matter

	maxFindings   = 200     // kept of one file
	maxParts      = 2000    // of a score
	maxMeasures   = 500_000 // of all the parts together
	maxNumber     = 1000    // bytes of a measure's number or a part's id: messages repeat them
	maxOpenGroups = 20      // of parts, inside one another
	maxPieces     = 1 << 17 // of text in one direction or credit
	maxWords      = 2 << 20 // bytes of text at one place of a staff, in a credit or a part's name
	maxStaves     = 100     // of one part
	maxDivisions  = 1 << 30 // per quarter note
	maxOctave     = 20      // of a pitch, either way
	maxPlayed     = 1 << 17 // measures in the order played, repeats written out
)
