package sound

import (
	"bytes"
	"fmt"
	"testing"
)

// TestSameOnEveryMachine holds figures in tenths, as costs use them. The file
// was written on one machine; others, which fuse multiplication and addition
// or have other logarithms, must give the same.
func TestSameOnEveryMachine(t *testing.T) {
	p := NewPassage(fourParts, []Note{{84, 0, 1}, {86, 1, 2}})
	asked := p.Sound(0, Drawn{Stop: Of(openDiapason, Options{})})
	reference := asked.Heard()
	var b bytes.Buffer
	for _, k := range append(append(kinds[:0:0], kinds...), cornetV, mixtureIII, fifteenth, nazard) {
		for octave := -1; octave <= 1; octave++ {
			for _, box := range []Box{Open, Half, Shut} {
				line := p.Sound(0, Drawn{Stop: Of(k, Options{}), Octave: octave, Box: box})
				d := Between(line.Heard(), reference)
				solo := p.Sound(1, Drawn{Stop: Of(k, Options{}), Octave: octave, Box: box})
				s := StandsOut(solo, asked)
				fmt.Fprintf(&b, "%s %s, octave %d, shut %v: %d %d %d, %d %d\n", k.Entry, k.Pitch, octave, box.Shut,
					Tenths(d.Loudness), Tenths(10*d.Brightness), Tenths(d.Colour), Tenths(s.DB), Tenths(10*s.Time))
			}
		}
	}
	golden(t, "tenths.txt", b.Bytes())
}
