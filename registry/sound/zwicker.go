package sound

import "math"

// The loudness model is Zwicker's for stationary sounds, from third-octave
// levels: ISO 532-1:2017 (before: DIN 45631:1991, ISO 532:1975 method B), for
// a diffuse field, which is what a church is. Its tables and its procedure
// are written here from memory; the checks hold them against the standard's
// own worked example (zwicker_test.go), which they would miss if a figure
// were wrong in a band or at a level that it uses.

// CriticalBandCount is the number of bands in which the model holds what is
// heard. The lowest three third-octave groups (up to 90, 180 and 280 Hz) are
// one critical band each, above them each third of an octave is one.
const CriticalBandCount = 20

// Tables of the standard. Levels in dB.
var (
	// lowRange are the levels up to which a row of lowWeight holds.
	lowRange = [8]float64{45, 55, 65, 71, 80, 90, 100, 120}
	// lowWeight is the level correction of the eleven bands below 300 Hz,
	// after the curves of equal loudness, by range of level.
	lowWeight = [8][11]float64{
		{-32, -24, -16, -10, -5, 0, -7, -3, 0, -2, 0},
		{-29, -22, -15, -10, -4, 0, -7, -2, 0, -2, 0},
		{-27, -19, -14, -9, -4, 0, -6, -2, 0, -2, 0},
		{-25, -17, -12, -9, -3, 0, -5, -2, 0, -2, 0},
		{-23, -16, -11, -7, -3, 0, -4, -1, 0, -1, 0},
		{-20, -14, -10, -6, -3, 0, -4, -1, 0, -1, 0},
		{-18, -12, -9, -6, -2, 0, -3, -1, 0, -1, 0},
		{-15, -10, -8, -4, -2, 0, -3, -1, 0, -1, 0},
	}
	// quietThreshold is the level of each critical band that is just heard.
	quietThreshold = [CriticalBandCount]float64{30, 18, 12, 8, 7, 6, 5, 4, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3}
	// earTransfer is what the way through the ear takes off.
	earTransfer = [CriticalBandCount]float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -0.5, -1.6, -3.2, -5.4, -5.6, -4.0, -1.5, 2.0, 5.0, 12.0}
	// diffuseField is what sound from all sides gains over sound from the front.
	diffuseField = [CriticalBandCount]float64{0, 0, 0.5, 0.9, 1.2, 1.6, 2.3, 2.8, 3.0, 2.0, 0, -1.4, -2.0, -1.9, -1.0, 0.5, 3.0, 4.0, 4.3, 4.0}
	// widthAdaption takes a third-octave level to the critical band's.
	widthAdaption = [CriticalBandCount]float64{-0.25, -0.6, -0.8, -0.8, -0.5, 0, 0.5, 1.1, 1.5, 1.7, 1.8, 1.8, 1.7, 1.6, 1.4, 1.2, 0.8, 0.5, 0, -0.5}
	// bandTop is the upper edge of each critical band in Bark; above the last
	// lies only the tail of what is heard below.
	bandTop = [CriticalBandCount + 1]float64{0.9, 1.8, 2.8, 3.5, 4.4, 5.4, 6.6, 7.9, 9.2, 10.6, 12.3, 13.8, 15.2, 16.7, 18.1, 19.3, 20.6, 21.8, 22.7, 23.6, 24.0}
	// slopeRange are the specific loudnesses (sone per Bark) down to which a
	// row of slopeSteepness holds.
	slopeRange = [18]float64{21.5, 18.0, 15.1, 11.5, 9.0, 6.1, 4.4, 3.1, 2.13, 1.36, 0.82, 0.42, 0.30, 0.22, 0.15, 0.10, 0.035, 0.0}
	// slopeSteepness is how fast specific loudness falls above a band, in sone
	// per Bark per Bark, by what it has fallen to and by band (the last column
	// holds for all bands from the ninth).
	slopeSteepness = [18][8]float64{
		{13.00, 8.20, 6.30, 5.50, 5.50, 5.50, 5.50, 5.50},
		{9.00, 7.50, 6.00, 5.10, 4.50, 4.50, 4.50, 4.50},
		{7.80, 6.70, 5.60, 4.90, 4.40, 3.90, 3.90, 3.90},
		{6.20, 5.40, 4.60, 4.00, 3.50, 3.20, 3.20, 3.20},
		{4.50, 3.80, 3.60, 3.20, 2.90, 2.70, 2.70, 2.70},
		{3.70, 3.00, 2.80, 2.35, 2.20, 2.20, 2.20, 2.20},
		{2.90, 2.30, 2.10, 1.90, 1.80, 1.70, 1.70, 1.70},
		{2.40, 1.70, 1.50, 1.35, 1.30, 1.30, 1.30, 1.30},
		{1.95, 1.45, 1.30, 1.15, 1.10, 1.10, 1.10, 1.10},
		{1.50, 1.20, 0.94, 0.86, 0.82, 0.82, 0.82, 0.82},
		{0.72, 0.67, 0.64, 0.63, 0.62, 0.62, 0.62, 0.62},
		{0.59, 0.53, 0.51, 0.50, 0.42, 0.42, 0.42, 0.42},
		{0.40, 0.33, 0.26, 0.24, 0.24, 0.22, 0.22, 0.22},
		{0.27, 0.21, 0.20, 0.18, 0.17, 0.17, 0.17, 0.17},
		{0.16, 0.15, 0.14, 0.12, 0.11, 0.11, 0.11, 0.11},
		{0.12, 0.11, 0.10, 0.08, 0.08, 0.08, 0.08, 0.08},
		{0.09, 0.08, 0.07, 0.06, 0.06, 0.06, 0.06, 0.05},
		{0.06, 0.05, 0.03, 0.02, 0.02, 0.02, 0.02, 0.02},
	}
)

// A field is where the sound comes from.
type field uint8

const (
	diffuse field = iota // from all sides, as in a church
	frontal              // from the front in the open: only to check the standard's example
)

// What the tables give in powers, worked out once, so that the model needs
// square roots and no logarithms.
var (
	lowLimit, lowGain [8][11]float64
	excitationGain    [2][CriticalBandCount]float64 // by field: band power to excitation over threshold
	widthPower        [CriticalBandCount]float64
	coreScale         [CriticalBandCount]float64
)

func init() {
	for row, level := range lowRange {
		for band := range lowWeight[row] {
			lowLimit[row][band] = Power(level - lowWeight[row][band])
			lowGain[row][band] = Power(lowWeight[row][band])
		}
	}
	for i := range coreScale {
		loss := quietThreshold[i] + earTransfer[i] + widthAdaption[i]
		excitationGain[frontal][i] = Power(-loss)
		excitationGain[diffuse][i] = Power(diffuseField[i] - loss)
		widthPower[i] = Power(widthAdaption[i])
		coreScale[i] = 0.0635 * math.Pow(10, 0.025*quietThreshold[i])
	}
}

// excitation is how far each critical band is excited, as a power over the
// power that is just heard there.
func excitation(p *Powers, f field) (e [CriticalBandCount]float64) {
	var low [11]float64
	for band := range low {
		row := 0
		for row < 7 && p[band] > lowLimit[row][band] {
			row++
		}
		low[band] = p[band] * lowGain[row][band]
	}
	e[0] = low[0] + low[1] + low[2] + low[3] + low[4] + low[5]
	e[1] = low[6] + low[7] + low[8]
	e[2] = low[9] + low[10]
	copy(e[3:], p[11:])
	for i := range e {
		e[i] *= excitationGain[f][i]
	}
	return e
}

// coreLoudness is the specific loudness in a band from its excitation.
func coreLoudness(e float64, band int) float64 {
	if e*widthPower[band] <= 1 {
		return 0
	}
	n := coreScale[band] * (fourthRoot(0.75+float64(0.25*e)) - 1)
	if n <= 0 {
		return 0
	}
	if band == 0 {
		n *= min(1, 0.4+float64(0.32*math.Pow(n, 0.2)))
	}
	return n
}

// excitationFor is the excitation that has the specific loudness n in a band:
// the reverse of coreLoudness, but for the small correction of the lowest
// band. Where nothing is heard it is 1, the threshold.
func excitationFor(n float64, band int) float64 {
	r := n/coreScale[band] + 1
	r *= r
	return max(1, 4*(r*r-0.75))
}

func fourthRoot(x float64) float64 { return math.Sqrt(math.Sqrt(x)) }

// A pattern is what the ear makes of band powers.
type pattern struct {
	sones    float64 // total loudness
	moment   float64 // specific loudness times place, summed: sone × Bark
	specific [CriticalBandCount]float64
}

// hear works out the loudness pattern of band powers: the core loudness of
// each critical band, and above each the slope by which it masks the next.
// specific is the mean over each critical band, in sone per Bark.
func hear(p *Powers, f field) (out pattern) {
	e := excitation(p, f)
	var core [CriticalBandCount + 1]float64
	for i := range e {
		core[i] = coreLoudness(e[i], i)
	}
	z, n := 0.0, 0.0 // where we are on the Bark scale, and the loudness there
	row := len(slopeRange) - 1
	for i, top := range bandTop {
		bottom, area := z, 0.0
		column := max(0, min(i-1, 7))
		for z < top {
			next, to := top, core[i]
			switch {
			case n <= core[i]:
				if n < core[i] {
					for row = 0; row < len(slopeRange)-1 && slopeRange[row] > core[i]; row++ {
					}
				}
				area += to * (next - z)
				out.moment += to * (next - z) * (next + z) / 2
			default:
				to = max(slopeRange[row], core[i])
				steep := slopeSteepness[row][column]
				width := (n - to) / steep
				if next = z + width; next > top {
					next = top
					width = next - z
					to = n - float64(width*steep)
				}
				area += width * (n + to) / 2
				out.moment += width * ((n+to)/2*z + float64(width*(n+2*to)/6))
			}
			for row < len(slopeRange)-1 && to <= slopeRange[row] {
				row++
			}
			z, n = next, to
		}
		out.sones += area
		if i < CriticalBandCount {
			out.specific[i] = area / (top - bottom)
		}
	}
	return out
}

// skirt is what the standard's third-octave filters let through of a tone one
// and two bands away. The standard leaves it to the filters; with these its
// worked tones come out right.
var skirt = [2]float64{Power(-20), Power(-40)}

// filtered are the band levels that a sound level meter's filters would show:
// what is in each band and what comes through from its neighbours. The model
// expects these, so that a single tone is as loud as it should be.
func filtered(p *Powers) *Powers {
	out := *p
	for i, power := range p {
		if power == 0 {
			continue
		}
		for d, part := range skirt {
			if i-d-1 >= 0 {
				out[i-d-1] += float64(power * part)
			}
			if i+d+1 < BandCount {
				out[i+d+1] += float64(power * part)
			}
		}
	}
	return &out
}

// phon is the loudness level of a loudness in sones: 40 phon is 1 sone, and
// ten phon more is twice as loud.
func phon(sones float64) float64 {
	if sones >= 1 {
		return 40 + 10*math.Log2(sones)
	}
	return max(3, 40*math.Pow(sones+0.0005, 0.35))
}

// barkFrequency is the frequency at a place on the model's Bark scale, in Hz:
// the band edges are thirds of an octave, between them it goes in proportion.
func barkFrequency(bark float64) float64 {
	low, lowLog := 0.0, math.Log2(22)
	for i := range CriticalBandCount {
		top := bandTop[i]
		topLog := math.Log2(1000) + (float64(upperThird(i)-bandOf1kHz)+0.5)/3
		if bark <= top || i == CriticalBandCount-1 {
			return math.Exp2(lowLog + (bark-low)/(top-low)*(topLog-lowLog))
		}
		low, lowLog = top, topLog
	}
	return 0
}

// upperThird is the highest third-octave band of a critical band.
func upperThird(critical int) int {
	switch critical {
	case 0:
		return 5
	case 1:
		return 8
	case 2:
		return 10
	}
	return critical + 8
}
