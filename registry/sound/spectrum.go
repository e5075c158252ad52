package sound

import (
	"math"
	"sync"
)

// maxPartials bounds the partials of a pipe; a pipe that could have more
// (a reed of 32′) is some forty dB down there.
const maxPartials = 64

// quietest is how far below the strongest a partial still counts, in dB.
const quietest = 75

// highestHz is where hearing ends for this model, the upper edge of the band
// of 12.5 kHz. Partials above it are left out.
const highestHz = 14125

// A spectrum is the shape of the partials of one kind of pipe: a row of
// spectra.tsv, where each figure has its unit and its source.
type spectrum struct {
	kind, source  string
	slope, beyond float64 // dB per partial, up to and above the knee
	knee          float64 // partial
	even          float64 // dB, minus infinity where there are no even partials
	evenTo        int     // last partial that even applies to
	bump, bumpDB  float64 // partial, dB
	formant       float64 // Hz at middle C, 0 for none
	formantDB     float64
	formantWidth  float64 // octaves
	follow        float64
	warp          float64 // per octave

	equalOnce sync.Once
	equal     float64 // dB over phon, see equalising

	shapes sync.Map // pitch (float64) to *Powers, see bands
}

// middleC is the key and the pitch from which formants and scales are reckoned.
const middleC = 60

// Formants have been measured to move from C#3 to A5 (the Weingarten Vox
// humana); beyond these pitches they stay where they are there.
const formantLow, formantHigh = 49, 81

// level is the level of partial n (from 1) of a pipe that sounds at a pitch in
// semitones, in dB against an arbitrary zero; minus infinity where the pipe
// does not have that partial.
func (s *spectrum) level(n int, pitch float64) float64 {
	octaves := (pitch - middleC) / 12
	steeper := math.Exp2(s.warp * octaves)
	below := min(float64(n), s.knee) - 1
	above := max(float64(n)-s.knee, 0)
	level := float64(steepen(s.slope, steeper)*below) + float64(steepen(s.beyond, steeper)*above)
	if n%2 == 0 && n <= s.evenTo {
		level += s.even
	}
	if s.bumpDB != 0 {
		d := float64(n) - s.bump
		level += s.bumpDB * math.Exp2(-d*d)
	}
	if s.formantDB != 0 {
		followed := max(formantLow, min(pitch, formantHigh)) - middleC
		centre := s.formant * math.Exp2(s.follow*followed/12)
		d := math.Log2(float64(n)*pipeFrequency(pitch)/centre) / s.formantWidth
		level += s.formantDB * math.Exp2(-d*d)
	}
	return level
}

// steepen makes a falling line fall faster in the treble; a rising one then
// rises less.
func steepen(slope, by float64) float64 {
	if slope > 0 {
		return slope / by
	}
	return slope * by
}

// partials are the powers of the partials of a pipe, the first first, as
// shares that sum to 1.
func (s *spectrum) partials(pitch float64) []float64 {
	count := max(1, min(maxPartials, int(highestHz/pipeFrequency(pitch))))
	levels := make([]float64, count)
	top := math.Inf(-1)
	for i := range levels {
		levels[i] = s.level(i+1, pitch)
		top = max(top, levels[i])
	}
	sum := 0.0
	last := 0
	for i, l := range levels {
		levels[i] = 0
		if l >= top-quietest {
			levels[i] = Power(l - top)
			sum += levels[i]
			last = i
		}
	}
	levels = levels[:last+1]
	for i := range levels {
		levels[i] /= sum
	}
	return levels
}

// bands are the band powers of a pipe of this kind of 0 dB. They are kept,
// since the ranks of an organ are of few kinds and all have the same notes.
func (s *spectrum) bands(pitch float64) *Powers {
	if p, ok := s.shapes.Load(pitch); ok {
		return p.(*Powers)
	}
	p := new(Powers)
	frequency := pipeFrequency(pitch)
	for i, part := range s.partials(pitch) {
		if band, ok := bandAt(float64(i+1) * frequency); ok {
			p[band] += part
		}
	}
	kept, _ := s.shapes.LoadOrStore(pitch, p)
	return kept.(*Powers)
}
