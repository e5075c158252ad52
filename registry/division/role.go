// Package division knows what the divisions of an organ are called, in every
// language that organ music is printed in, and what each is for.
package division

import "strconv"

// A Role is what a division is by its function, whatever it is called:
// Hauptwerk, Hoofdwerk and Grand-Orgue are all Great. A numbered manual keeps
// its number (Man1 … Man5), since which keyboard that is depends on the
// country and on the organ.
type Role string

// The roles of the normal form.
const (
	None     Role = "" // the text names no division; written "?"
	Great    Role = "great"
	Swell    Role = "swell"
	Choir    Role = "choir"
	Positive Role = "positive"
	Solo     Role = "solo"
	Echo     Role = "echo"
	Brust    Role = "brust"
	Ober     Role = "ober"
	Bombarde Role = "bombarde"
	Pedal    Role = "pedal"
	Every    Role = "*" // every division that can be coupled there
)

// Manual returns the role of the manual numbered n, 1 to 5.
func Manual(n int) Role { return Role("man" + strconv.Itoa(n)) }

// Number is the n of Man-n, 0 for a role that is not a numbered manual.
func (r Role) Number() int {
	if len(r) == 4 && r[:3] == "man" && r[3] >= '1' && r[3] <= '5' {
		return int(r[3] - '0')
	}
	return 0
}

// String is the role's word in the normal form; "?" for None.
func (r Role) String() string {
	if r == None {
		return "?"
	}
	return string(r)
}
