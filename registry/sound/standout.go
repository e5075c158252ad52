package sound

import "math"

// maskingIndex is by how many dB a sound must be weaker than what is excited
// in a critical band to be just not heard in it: about 4 dB (E. Zwicker and
// H. Fastl, Psychoacoustics, ch. 4; from memory).
const maskingIndex = 4

// downward is how fast masking falls below a band: 27 dB per Bark (E. Terhardt
// 1979, from memory). Upwards the loudness model has its own slopes.
const downward = 27

// The same as parts of power: downwardPart from each band's next to the band,
// each over its own threshold of hearing.
var (
	indexPart    = Power(-maskingIndex)
	downwardPart [CriticalBandCount - 1]float64
)

func init() {
	for i := range downwardPart {
		width := (bandTop[i+1] - bandBottom(i)) / 2
		downwardPart[i] = Power(-downward*width + quietThreshold[i+1] - quietThreshold[i])
	}
}

// Prominence is how a line stands out from what sounds with it.
type Prominence struct {
	// DB is how far the line is above the point at which the rest would just
	// hide it, over all bands together; below 0 it is not made out.
	DB float64
	// Time is the part of its time in which the line can be made out.
	Time float64
}

// StandsOut compares a line with the rest of its passage, moment by moment,
// over the time in which the line sounds. In each critical band the rest hides
// what lies under its masked threshold or the threshold of hearing; bands are
// taken together as the square root of the sum of the squares of their ratios
// (D. M. Green 1958; from memory).
func StandsOut(line, rest Sound) Prominence { return NewMasking(rest).StandsOut(line) }

// A Masking is what the rest of a passage hides, for hearing one line after
// another beside it.
type Masking struct {
	rest       Sound
	thresholds []*threshold // of each moment; nil until a line sounds in it
}

// threshold is what a sound must exceed in each critical band to be heard.
type threshold [CriticalBandCount]float64

// NewMasking takes what sounds beside a line.
func NewMasking(rest Sound) *Masking {
	return &Masking{rest, make([]*threshold, len(rest.powers))}
}

// StandsOut is how a line of the same passage stands out from the rest.
func (m *Masking) StandsOut(line Sound) Prominence {
	var out Prominence
	time := 0.0
	for i := range line.powers {
		if !line.sounds(i) {
			continue
		}
		if m.thresholds[i] == nil {
			m.thresholds[i] = maskedThreshold(filtered(&m.rest.powers[i]))
		}
		part := line.passage.moments[i].time
		time += part
		level := prominence(filtered(&line.powers[i]), m.thresholds[i])
		out.DB += float64(part * level)
		if level > 0 {
			out.Time += part
		}
	}
	if time == 0 {
		return Prominence{DB: quietestProminence}
	}
	out.DB /= time
	out.Time /= time
	return out
}

// quietestProminence is what a silent line has, in dB.
const quietestProminence = -60

func prominence(line *Powers, hidden *threshold) float64 {
	sum := 0.0
	for i, e := range excitation(line, diffuse) {
		ratio := e / hidden[i]
		sum += float64(ratio * ratio)
	}
	return max(quietestProminence, 5*math.Log10(sum))
}

// maskedThreshold is the threshold beside another sound, over the threshold of
// hearing.
func maskedThreshold(rest *Powers) *threshold {
	core := excitation(rest, diffuse)
	p := hear(rest, diffuse)
	t := new(threshold)
	for i := range t {
		// The mean over the band would be less than the band's own excitation
		// only by rounding; above a loud band it is the slope of that.
		t[i] = max(core[i], excitationFor(p.specific[i], i))
	}
	for i := CriticalBandCount - 2; i >= 0; i-- {
		t[i] = max(t[i], t[i+1]*downwardPart[i])
	}
	for i := range t {
		t[i] = max(1, t[i]*indexPart)
	}
	return t
}

// bandBottom is the lower edge of a critical band in Bark.
func bandBottom(i int) float64 {
	if i == 0 {
		return 0
	}
	return bandTop[i-1]
}
