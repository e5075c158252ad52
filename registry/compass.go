package registry

import "fmt"

// A Key is a key of a keyboard, or the note that it is written as: 36 is C2,
// the lowest C of manual and pedalboard alike, and 60 is C4, middle C (the
// numbering of MIDI 1.0, where middle C is 60).
type Key int

var keyNames = [...]string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"}

// String is the scientific name: "C2", "F#4".
func (k Key) String() string {
	octave, step := int(k)/12-1, int(k)%12
	if step < 0 {
		octave, step = octave-1, step+12
	}
	return fmt.Sprintf("%s%d", keyNames[step], octave)
}

// A Compass is the set of keys of a keyboard, or those on which a stop
// speaks: all from Low to High but the Missing. High below Low is empty.
type Compass struct {
	Low, High Key
	Missing   []Key // of a short octave, ascending
}

// Has reports whether the key is there.
func (c Compass) Has(k Key) bool {
	if k < c.Low || k > c.High {
		return false
	}
	for _, m := range c.Missing {
		if m == k {
			return false
		}
	}
	return true
}

// Keys counts the keys.
func (c Compass) Keys() int { return max(0, int(c.High-c.Low)+1-len(c.Missing)) }
