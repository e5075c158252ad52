package sound

import (
	"math"
	"sync"
)

// UsualStrength is what an ordinary swell box takes off at 1 kHz when it is
// shut, in dB; from memory, see box.tsv.
const UsualStrength = 10

// strongest is the most that a box can take off; no box comes near it.
const strongest = 60

// A Box is a swell box at a position of its shutters: a filter that takes off
// more in the treble than in the bass. The zero Box takes off nothing, which
// is also what an open box does and what stands where there is no box.
type Box struct {
	Strength float64 // dB at 1 kHz when shut; UsualStrength where nothing is known
	Shut     float64 // 1 shut, ½ half open, 0 open
}

// The positions of the shutters in words.
var (
	Open = Box{Strength: UsualStrength, Shut: 0}
	Half = Box{Strength: UsualStrength, Shut: 0.5}
	Shut = Box{Strength: UsualStrength, Shut: 1}
)

// Attenuation is what the box takes off at a frequency, in dB, never negative.
func (b Box) Attenuation(hz float64) float64 {
	if b.Strength <= 0 || b.Shut <= 0 {
		return 0
	}
	t := known()
	return t.box.at(math.Log2(hz)) * min(b.Strength, strongest) / UsualStrength * t.shutters.at(1-b.Shut)
}

// gains are the parts of the power that the box lets through, band by band:
// within a third of an octave it is taken as even. An organ has few boxes, and
// they few positions.
func (b Box) gains() *Powers {
	if known, ok := boxGains.Load(b); ok {
		return known.(*Powers)
	}
	g := new(Powers)
	for band := range g {
		g[band] = Power(-b.Attenuation(BandCentre(band)))
	}
	boxGains.Store(b, g)
	return g
}

var boxGains sync.Map // of *Powers by Box
