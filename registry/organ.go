// Package registry is what is known of organs: the instrument with its
// keyboards, divisions, stops and couplers, and what sounds from which key.
// It knows nothing of scores. Its sub-packages hold the pitches, the names of
// stops and divisions, the organ files, the shelf of embedded organs and the
// sound of stops.
package registry

import (
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// An Organ is one instrument, as its organ file describes it.
type Organ struct {
	Name       string
	Place      string // where it stands or stood, if said
	Builder    string
	Year       string
	Source     string // published source of the stop list, or that it is invented
	Note       string
	Action     Action
	Keyboards  []*Keyboard // the manuals, bottom to top
	Pedalboard *Keyboard   // nil where the organ has no pedals
	Divisions  []*Division // in the order of the file
	Couplers   []*Coupler
	Tremulants []*Division // the divisions that have a tremulant

	// CouplersCarry says whether a coupler between keyboards also brings what
	// is coupled to the keyboard that it takes from.
	CouplersCarry bool
	Pistons       Pistons
}

// An Action is how key and pallet are joined.
type Action string

// The actions; electric stands for every action without a rigid link.
const (
	Mechanical Action = "mechanical"
	Electric   Action = "electric"
)

// Pistons counts what can change several stops at once.
type Pistons struct {
	General    int
	Divisional map[string]int // by division name
}

// A Keyboard is a manual or the pedalboard.
type Keyboard struct {
	Name    string // the pedalboard has the name of its division
	Pedal   bool
	Compass Compass
}

// A Division is a chest of stops that one keyboard plays.
type Division struct {
	Name     string // as called in the organ file
	Role     division.Role
	Keyboard *Keyboard // nil for a floating division, which only couplers play
	Enclosed bool
	Stops    []*Stop // in the order of the knobs
}

// A Stop is one knob.
type Stop struct {
	Text     string // as it stands on the knob and in plans: "Open Diapason 8"
	Division *Division
	Name     string     // without the pitch
	Pitch    pitch.Feet // zero for a mixture without a footage
	Known    stopname.Known
	Compass  Compass // keys of the division's keyboard on which it speaks
	Half     Half
	Pipes    int     // how many keys' worth of pipes, counted from the lowest key of Compass
	Level    float64 // dB against what is usual for the name
	Use      string  // "", "solo", "never in chorus"
	Note     string
}

// A Half is the part of the keyboard that a divided stop serves.
type Half uint8

// A whole stop, or the bass or treble half of a divided one.
const (
	Whole Half = iota
	BassHalf
	TrebleHalf
)

// A Coupler makes what is drawn on From sound from the keys of To's keyboard
// as well. Octave, Sub Octave and Unison Off have From equal to To.
type Coupler struct {
	Text      string // as in the organ file: "Swell to Great", "Swell Octave"
	From, To  *Division
	Octave    int  // 0 at pitch, 1 an octave higher, -1 an octave lower
	UnisonOff bool // silences From at its own pitch
}
