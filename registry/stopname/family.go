// Package stopname knows what the words on a stop knob mean: the tone family,
// the kind within it, and the pitch that a name alone implies.
package stopname

import "fmt"

// A Family is one of the seven tone families by which stops are compared.
type Family uint8

// The seven families. A mutation is a Flute or a Principal (or a Reed) at a
// mutation's pitch; a hybrid goes where it serves.
const (
	NoFamily Family = iota
	Principal
	Flute
	String
	Celeste
	Reed
	Mixture
	Cornet
)

var familyNames = [...]string{"", "principal", "flute", "string", "celeste", "reed", "mixture", "cornet"}

// String is the family's word in the normal form, "" for NoFamily.
func (f Family) String() string {
	if int(f) >= len(familyNames) {
		return fmt.Sprintf("Family(%d)", uint8(f))
	}
	return familyNames[f]
}

// ParseFamily reads what String writes.
func ParseFamily(s string) (Family, bool) {
	for i, name := range familyNames {
		if i > 0 && name == s {
			return Family(i), true
		}
	}
	return NoFamily, false
}
