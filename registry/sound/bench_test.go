package sound

import "testing"

// hymn is a passage of the common sort: two hands and feet, 64 chords.
func hymn() (rh, lh, feet []Note) {
	steps := []int{0, 2, 4, 5, 7, 9, 11, 12}
	for i := range 64 {
		from, to := float64(i), float64(i+1)
		s := steps[(i*5)%8]
		rh = append(rh, Note{60 + s, from, to}, Note{64 + steps[(i*3)%8], from, to}, Note{72 + s, from, to})
		lh = append(lh, Note{48 + s, from, to}, Note{55 + steps[(i*7)%8], from, to})
		feet = append(feet, Note{36 + s, from, to})
	}
	return rh, lh, feet
}

// manyStops are 120 stops of every sort.
func manyStops() []*Stop {
	var stops []*Stop
	for i := range 120 {
		k := kinds[i%len(kinds)]
		if i%7 == 0 {
			k = mixtureIII
		}
		k.Loudness = i%6 + 1
		stops = append(stops, Of(k, Options{}))
	}
	return stops
}

// BenchmarkPassageOf120Stops makes a passage ready: the band powers of 120
// stops, each at three octaves and two positions of its box, for two lines.
func BenchmarkPassageOf120Stops(b *testing.B) {
	rh, lh, feet := hymn()
	stops := manyStops()
	for b.Loop() {
		p := NewPassage(append(rh, lh...), feet)
		for _, s := range stops {
			for octave := -1; octave <= 1; octave++ {
				for _, box := range []Box{Open, Shut} {
					for line := range 2 {
						p.Sound(line, Drawn{Stop: s, Octave: octave, Box: box})
					}
				}
			}
		}
	}
}

// BenchmarkStopsFromNames is what an organ of 120 stops costs once.
func BenchmarkStopsFromNames(b *testing.B) {
	for b.Loop() {
		for _, s := range manyStops() {
			for key := 24; key <= 108; key++ {
				s.powersAt(key)
			}
		}
	}
}

// BenchmarkRegistration is what a search does for every candidate: the sum of
// twelve stops, what is heard, how far it is from what is asked, and whether
// the line stands out.
func BenchmarkRegistration(b *testing.B) {
	rh, lh, feet := hymn()
	p := NewPassage(append(rh, lh...), feet)
	var ready []Sound
	for _, s := range manyStops() {
		ready = append(ready, p.Sound(0, Drawn{Stop: s}))
	}
	pedal := p.Sound(1, Drawn{Stop: Of(bourdon, Options{})})
	asked := ready[3].Heard()
	for b.Loop() {
		sum := p.Line(0)
		for i := range 12 {
			sum.Add(ready[i*9])
		}
		Between(sum.Heard(), asked)
		StandsOut(sum, pedal)
	}
}

func BenchmarkHeard(b *testing.B) {
	rh, lh, feet := hymn()
	p := NewPassage(append(rh, lh...), feet)
	s := p.Sound(0, Drawn{Stop: Of(openDiapason, Options{})})
	for b.Loop() {
		s.Heard()
	}
}
