// Package passage finds what a score asks of the organ: which staves are the
// organ's and whose, what the registration directions say, and what is asked
// of each line at every moment, carried forward from direction to direction.
package passage

import (
	"strings"

	"stopgap/registry/division"
)

// A Line is what one hand, both hands or the feet play.
type Line string

// The lines.
const (
	RH   Line = "rh"
	LH   Line = "lh"
	Both Line = "both"
	Feet Line = "feet"
)

// A Division is a place that a score asks a line to play: a division by its
// role, or, where no text ever names one, the unnamed place of a line ("Cornet"
// for the right hand and "Cromorne" for the left are two such places).
type Division struct {
	Role division.Role
	Of   Line // for a place without a name: whose it is
}

// Pedal is the place of the feet.
var Pedal = Division{Role: division.Pedal}

// every stands for all divisions that can be coupled to a place.
var every = Division{Role: division.Every}

// String is the role's word in the normal form, "?" where there is no name.
func (d Division) String() string { return d.Role.String() }

// Name is the division in an organist's words: "Great", "Manual II", "all
// divisions"; "no manual named" for a place without a name.
func (d Division) Name() string {
	switch {
	case d.Role == division.Every:
		return "all divisions"
	case d.Role == division.None:
		return "no manual named"
	case d.Role.Number() > 0:
		return "Manual " + strings.Split("I II III IV V", " ")[d.Role.Number()-1]
	}
	return strings.ToUpper(string(d.Role[:1])) + string(d.Role[1:])
}
