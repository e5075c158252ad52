package sound

import "math"

// BandCount is the number of third-octave bands from 25 Hz to 12.5 kHz that
// the loudness model takes.
const BandCount = 28

// bandOf1kHz is the index of the band whose centre is 1 kHz.
const bandOf1kHz = 16

// Powers are sound powers per third-octave band, relative to the power of
// 0 dB (20 µPa). Powers of sounds that are heard together add.
//
// The bands are exact thirds of an octave on either side of 1 kHz, so a sound
// an octave higher has the same powers three bands up. None of their edges
// comes within four cents of a note of the tempered scale at A4 = 440 Hz or
// of one of its first sixteen partials, so the band of a partial does not
// hang on a rounding error.
type Powers [BandCount]float64

// BandCentre is the centre frequency of a third-octave band, in Hz.
func BandCentre(band int) float64 {
	return 1000 * math.Exp2(float64(band-bandOf1kHz)/3)
}

// bandAt is the band in which a frequency lies; false where it lies outside
// all of them: below 22 Hz, where no pitch is heard, and above 14 kHz.
func bandAt(hz float64) (int, bool) {
	band := int(math.Floor(3*math.Log2(hz/1000)+0.5)) + bandOf1kHz
	return band, band >= 0 && band < BandCount
}

// KeyFrequency is the fundamental of an 8′ rank at a key, in Hz; key 69 is A4
// and sounds 440 Hz, in equal temperament.
func KeyFrequency(key int) float64 { return pipeFrequency(float64(key)) }

// pipeFrequency is the frequency of a pipe whose pitch is given in semitones,
// numbered as keys are; mutations fall between the whole numbers.
func pipeFrequency(semitone float64) float64 {
	return 440 * math.Exp2((semitone-69)/12)
}

// Decibels turns a power into a level in dB; no power is minus infinity.
func Decibels(power float64) float64 { return 10 * math.Log10(power) }

// Power turns a level in dB into a power.
func Power(db float64) float64 { return math.Pow(10, db/10) }
