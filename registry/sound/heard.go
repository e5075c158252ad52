package sound

import "math"

// Heard is what a listener makes of a sound.
type Heard struct {
	Sones      float64                    // loudness: twice as many are twice as loud
	Phon       float64                    // the same as a loudness level: ten phon more is twice as loud
	Brightness float64                    // where the loudness has its middle on the ear's scale, as a frequency in Hz; 0 for silence
	Bands      [CriticalBandCount]float64 // specific loudness in each critical band, sone per Bark
}

// Heard is what is heard of a sound over its passage: the mean over the time
// in which its lines hold keys.
func (s *Sound) Heard() Heard {
	var sum pattern
	time := 0.0
	for i := range s.powers {
		if !s.sounds(i) {
			continue
		}
		part := s.passage.moments[i].time
		time += part
		p := hear(filtered(&s.powers[i]), diffuse)
		sum.sones += float64(part * p.sones)
		sum.moment += float64(part * p.moment)
		for band, n := range p.specific {
			sum.specific[band] += float64(part * n)
		}
	}
	return sum.heard(time)
}

func (p *pattern) heard(time float64) (h Heard) {
	if time == 0 || p.sones <= 0 {
		return Heard{Phon: phon(0)}
	}
	h.Sones = p.sones / time
	h.Phon = phon(h.Sones)
	h.Brightness = barkFrequency(p.moment / p.sones)
	for band, n := range p.specific {
		h.Bands[band] = n / time
	}
	return h
}

// Hear is a registration over notes of one line, in one call.
func Hear(drawn []Drawn, notes []Note) Heard {
	p := NewPassage(notes)
	s := p.Line(0)
	for _, d := range drawn {
		s.Add(p.Sound(0, d))
	}
	return s.Heard()
}

// HearKey is a registration at one key.
func HearKey(drawn []Drawn, key int) Heard {
	return Hear(drawn, []Note{{Key: key, End: 1}})
}

// A Difference is how far one sound is from another.
type Difference struct {
	Loudness   float64 // phon, above 0 where the given is louder than the asked
	Brightness float64 // octaves, above 0 where the given is brighter
	Colour     float64 // dB between the band levels, loudness apart; never negative
}

// Between is what the given sound has that the asked has not.
func Between(given, asked Heard) Difference {
	d := Difference{Loudness: given.Phon - asked.Phon, Colour: colour(given, asked)}
	if given.Brightness > 0 && asked.Brightness > 0 {
		d.Brightness = math.Log2(given.Brightness / asked.Brightness)
	}
	return d
}

// colour is how far two sounds differ in their bands when their difference in
// loudness is taken out: the root of the mean square of the differences of
// the levels, every band counting as much as is heard in it. That timbres
// differ as the levels in third-octave bands do was found by R. Plomp,
// "Timbre as a multidimensional attribute of complex tones" (1970; from
// memory). The level in a band is what is heard there, masking included, and
// never less than the threshold of hearing.
func colour(a, b Heard) float64 {
	var difference, weight [CriticalBandCount]float64
	sum, mean := 0.0, 0.0
	bottom := 0.0
	for i := range difference {
		difference[i] = Decibels(excitationFor(a.Bands[i], i) / excitationFor(b.Bands[i], i))
		weight[i] = (a.Bands[i] + b.Bands[i]) * (bandTop[i] - bottom)
		bottom = bandTop[i]
		sum += weight[i]
		mean += float64(weight[i] * difference[i])
	}
	if sum == 0 {
		return 0
	}
	mean /= sum
	square := 0.0
	for i, d := range difference {
		square += float64(weight[i] * (d - mean) * (d - mean))
	}
	return math.Sqrt(square / sum)
}

// Tenths rounds a figure of this package to whole tenths, for costs that must
// be the same on every machine. Machines may differ in the last bits of a
// figure (some fuse multiplication and addition, and their logarithms are not
// the same); rounding hides that unless a figure lies on the edge between two
// tenths. Figures that are round by construction, such as 0.25 dB, would, so
// the edges are set a millionth aside.
func Tenths(x float64) int { return int(math.Floor(x*10 + 0.5 + 1e-6)) }
