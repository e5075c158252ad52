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
	Lang       string // language of the names on the knobs: "en", "de" …; "" if it can't be told
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
	Crescendo     bool // has a crescendo pedal or roller
}

// An Action is how key and pallet are joined.
type Action string

// The actions; electric stands for every action without a rigid link.
const (
	Mechanical Action = "mechanical"
	Electric   Action = "electric"
)

// Pistons counts what can change several stops at once: 4 general pistons are
// numbered 1 to 4.
type Pistons struct {
	General    int
	Divisional map[string]int // by division name
}

// A Keyboard is a manual or the pedalboard.
type Keyboard struct {
	Name    string // the pedalboard has the name of its division
	Pedal   bool
	Compass Compass
	Divided Key // lowest key of the treble half of divided stops; 0 where none are
}

// A Division is a chest of stops that one keyboard plays.
type Division struct {
	Name     string // as called in the organ file
	Role     division.Role
	Keyboard *Keyboard // nil for a floating division, which only couplers play
	Compass  Compass   // keys of the keyboard for which the chest has pipes
	Enclosed bool
	Box      *Box    // nil unless Enclosed
	Stops    []*Stop // in the order of the knobs
	Note     string
}

// A Box is a swell box, which may hold several divisions.
type Box struct {
	Name      string  // of the division that it is named after
	Positions int     // how many positions it stays in, 0 for a balanced pedal
	Strength  float64 // dB between shut and open, 0 where not known
}

// A Stop is one knob.
type Stop struct {
	Text        string // as it stands on the knob and in plans: "Open Diapason 8"
	Division    *Division
	Name        string     // without the pitch
	Pitch       pitch.Feet // zero for a mixture without a footage
	Ranks       int        // of a compound stop, else 1; 0 where it borrows all its pipes
	Composition []pitch.Feet
	Known       stopname.Known
	Compass     Compass // keys of the division's keyboard on which it speaks
	Half        Half
	Pipes       int     // of one rank, counted from the lowest key of Compass
	Level       float64 // dB against what is usual for the name
	Use         string  // "", "solo", "never in chorus"
	Side        string  // of the console: "", "left", "right"
	Note        string

	// From is the stop whose pipes this one uses, nil where it has its own:
	// of another division (borrowed, duplexed), or of its own at another pitch
	// (extended).
	From *Stop
	// Ventil: the stop stands on a wind chest that a pedal shuts off (the
	// jeux de combinaison of French organs), so it can be drawn in advance.
	Ventil bool
	// Outside: the stop stands outside the box of its enclosed division.
	Outside bool
}

// Box is the swell box that the stop stands in, nil where it stands open.
func (s *Stop) Box() *Box {
	if s.Outside {
		return nil
	}
	if s.From != nil {
		return s.From.Box()
	}
	return s.Division.Box
}

// IsMutation reports whether the stop sounds at a mutation's pitch; compound
// stops are not mutations.
func (s *Stop) IsMutation() bool {
	return s.Pitch.IsMutation() && s.Known.Family != stopname.Mixture && s.Known.Family != stopname.Cornet
}

// A Half is the part of the keyboard that a divided stop serves.
type Half uint8

// A whole stop, or the bass or treble half of a divided one.
const (
	Whole Half = iota
	BassHalf
	TrebleHalf
)

// String is the half's word in organ files, "" for Whole.
func (h Half) String() string { return [...]string{"", "bass", "treble"}[h%3] }

// A Coupler makes what is drawn on From sound from the keys of To's keyboard
// as well. Octave, Sub Octave and Unison Off have From equal to To.
type Coupler struct {
	Text      string // as in the organ file: "Swell to Great", "Swell Octave"
	From, To  *Division
	Octave    int  // 0 at pitch, 1 an octave higher, -1 an octave lower
	UnisonOff bool // silences From at its own pitch
	Note      CouplerNote
	Permanent bool // always on: it has no knob
	Remark    string
}

// Within reports whether the coupler belongs to one division: Octave, Sub
// Octave, Unison Off.
func (c *Coupler) Within() bool { return c.From == c.To }

// A CouplerNote says which of the keys held a coupler takes.
type CouplerNote uint8

// Every key, or only the highest (a melody coupler) or the lowest (a bass
// coupler).
const (
	EveryNote CouplerNote = iota
	HighestNote
	LowestNote
)

// Division returns the division of that name, nil if there is none.
func (o *Organ) Division(name string) *Division {
	for _, d := range o.Divisions {
		if d.Name == name {
			return d
		}
	}
	return nil
}

// Keyboard returns the keyboard of that name, the pedalboard included; nil if
// there is none.
func (o *Organ) Keyboard(name string) *Keyboard {
	for _, kb := range o.Keyboards {
		if kb.Name == name {
			return kb
		}
	}
	if o.Pedalboard != nil && o.Pedalboard.Name == name {
		return o.Pedalboard
	}
	return nil
}

// Stop returns the stop with that text in the division, nil if there is none.
func (d *Division) Stop(text string) *Stop {
	for _, s := range d.Stops {
		if s.Text == text {
			return s
		}
	}
	return nil
}

// HasTremulant reports whether the division has a tremulant.
func (o *Organ) HasTremulant(d *Division) bool {
	for _, t := range o.Tremulants {
		if t == d {
			return true
		}
	}
	return false
}

// Totals are what organ histories print under a stop list.
type Totals struct {
	Stops int // knobs; the halves of divided stops count one each
	Ranks int // rows of pipes; a borrowed or extended stop adds none
	Pipes int
}

// Totals counts the division.
func (d *Division) Totals() Totals {
	var t Totals
	for _, s := range d.Stops {
		t.Stops++
		if s.Known.Subfamily == stopname.KindPercussion {
			continue // bells are no rows of pipes
		}
		t.Ranks += s.Ranks
		t.Pipes += s.Ranks * s.Pipes
	}
	return t
}

// Totals counts the organ.
func (o *Organ) Totals() Totals {
	var t Totals
	for _, d := range o.Divisions {
		of := d.Totals()
		t.Stops += of.Stops
		t.Ranks += of.Ranks
		t.Pipes += of.Pipes
	}
	return t
}
