// Package direction reads registration directions: what a printed text asks
// of the organ, in the normal form that is the same for every language.
package direction

import (
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// A Statement is one thing that a direction asks for.
type Statement struct {
	Verb     Verb
	Division division.Role // what the statement is about; for couplers, the source
	To       division.Role // couplers only: the keyboard that it sounds from
	Octave   int           // couplers only: 0, 1 (written 4) or -1 (written 16)
	Hand     Hand          // Play only
	Voices   []Voice       // Set, Add, Off, Prep
	All      bool          // Off: everything of the division; Uncouple: every coupler
	State    string        // Box, Level, Trem, Role: the word after the colon; Play feet: "none" or "pedal"
}

// A Verb is what a statement does.
type Verb string

// The verbs of the normal form.
const (
	Set      Verb = "set"
	Add      Verb = "add"
	Off      Verb = "off"
	Prep     Verb = "prep"
	Couple   Verb = "couple"
	Uncouple Verb = "uncouple"
	Box      Verb = "box"
	Level    Verb = "level"
	Play     Verb = "play"
	Trem     Verb = "trem"
	Lead     Verb = "role"
)

// A Hand is who plays.
type Hand string

// The hands of the normal form; AnyHand where the text only names a division.
const (
	RH      Hand = "rh"
	LH      Hand = "lh"
	Both    Hand = "both"
	Feet    Hand = "feet"
	AnyHand Hand = "?"
)

// A Voice is one stop, or one group of stops, that is asked for.
type Voice struct {
	Group    Group
	Pitch    pitch.Feet // zero for "*", every pitch that the group has
	Name     string     // as printed, "" where the text gives only the group
	Strength string     // "", "soft" or "loud"
	Except   []Group    // families that a group leaves out
	Or       []Voice    // alternatives that the text offers, in its order
}

// A Group is a tone family, or a word for several stops at once.
type Group string

// The seven families, and the group words.
const (
	Principal  Group = "principal"
	Flute      Group = "flute"
	String     Group = "string"
	Celeste    Group = "celeste"
	Reed       Group = "reed"
	Mixture    Group = "mixture"
	Cornet     Group = "cornet"
	Foundation Group = "foundation"
	Any        Group = "any"
	ChorusTo   Group = "chorus to" // its Pitch is the highest of the chorus
	Plenum     Group = "plenum"
	Grandjeu   Group = "grandjeu"
	Full       Group = "full"
	Tutti      Group = "tutti"
)
