package stopname

import "stopgap/registry/pitch"

// How says by what a name was understood.
type How string

// The ways a name is understood.
const (
	ByTable How = "table" // it stands in the table, perhaps spelled otherwise or abbreviated
	ByParts How = "parts" // resolved by its parts, as the trade builds names
	Unknown How = "no"
)

// A Place is where a name stands, which settles what it means: a Bourdon is
// 16′ on the pedal, a bare Principal 4′ in English and 8′ in German.
type Place struct {
	Pedal bool
	Lang  string     // "en", "fr", "de", "nl", "it", "es"; "" where not known
	Pitch pitch.Feet // the pitch that is written beside the name, if any
}

// Known is what is known of a stop name.
type Known struct {
	Name      string // as asked, without its pitch
	Entry     string // the table's name that it was taken for; "" where Unknown
	Family    Family
	Subfamily string     // the kind within the family: "stopped flute", "solo reed" …
	Pitch     pitch.Feet // the written pitch, else the usual one for the place; zero where open (mixtures)
	Fixed     bool       // the name fixes its pitch (Fifteenth, Clarion)
	Ranks     int        // for compound stops, 0 where not given
	Loudness  int        // 1 (softest) to 6, as one stop among those of its division
	Solo      bool       // usual as a solo voice
	Chorus    bool       // usual in its family's chorus
	Beats     string     // for celestes and undulating ranks: "sharp", "flat", or ""
	How       How
	Reason    string // for ByParts: which parts decided
	Source    string
}
