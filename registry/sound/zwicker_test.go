package sound

import (
	"math"
	"testing"
)

// tone is a single tone in the middle of a third-octave band.
func tone(band int, level float64) *Powers {
	var p Powers
	p[band] = Power(level)
	return &p
}

// TestWorkedExample is the machine noise of ISO 532-1:2017, annex B, test
// signal 1, given there as third-octave levels (from memory). It uses bands
// from 40 Hz to 12.5 kHz at levels from 30 to 89 dB, so a wrong figure in the
// tables shows.
func TestWorkedExample(t *testing.T) {
	levels := [BandCount]float64{-60, -60, 78, 79, 89, 72, 80, 89, 75, 87, 85, 79, 86, 80, 71, 70, 72, 71, 72, 74, 69, 65, 67, 77, 68, 58, 45, 30}
	var p Powers
	for band, level := range levels {
		p[band] = Power(level)
	}
	if got := hear(&p, frontal).sones; math.Abs(got-83.296) > 0.01 {
		t.Errorf("machine noise: %.3f sone, the standard has 83.296", got)
	}
}

func TestWorkedTones(t *testing.T) {
	for _, c := range []struct {
		name   string
		band   int
		level  float64
		sones  float64
		within float64 // part
		source string
	}{
		{"1 kHz, 40 dB", 16, 40, 1, 0.01, "definition of the sone"},
		{"1 kHz, 50 dB", 16, 50, 2, 0.01, "ten phon more is twice as loud"},
		{"1 kHz, 60 dB", 16, 60, 4.019, 0.01, "ISO 532-1 annex B, signal 3"},
		{"1 kHz, 70 dB", 16, 70, 8, 0.01, "ten phon more is twice as loud"},
		{"1 kHz, 80 dB", 16, 80, 16, 0.01, "ten phon more is twice as loud"},
		{"250 Hz, 80 dB", 10, 80, 14.655, 0.01, "ISO 532-1 annex B, signal 2"},
		{"4 kHz, 40 dB", 22, 40, 1.549, 0.02, "ISO 532-1 annex B, signal 4"},
	} {
		got := hear(filtered(tone(c.band, c.level)), frontal).sones
		if math.Abs(got/c.sones-1) > c.within {
			t.Errorf("%s: %.3f sone, want %.3f (%s)", c.name, got, c.sones, c.source)
		}
	}
}

func TestPhon(t *testing.T) {
	for _, c := range []struct{ sones, phon float64 }{{1, 40}, {2, 50}, {4, 60}, {16, 80}, {64, 100}} {
		if got := phon(c.sones); math.Abs(got-c.phon) > 1e-9 {
			t.Errorf("%v sone are %v phon, want %v", c.sones, got, c.phon)
		}
	}
	if a, b := phon(0.999999), phon(1); math.Abs(a-b) > 0.02 {
		t.Errorf("the loudness level jumps at 1 sone from %v to %v", a, b)
	}
}

func TestBarkFrequency(t *testing.T) {
	for i, top := range bandTop[:CriticalBandCount] {
		want := BandCentre(upperThird(i)) * math.Exp2(1.0/6)
		if got := barkFrequency(top); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("band %d ends at %v Bark, %v Hz, want %v", i, top, got, want)
		}
	}
}

func TestBandsAvoidTheScale(t *testing.T) {
	for key := range 12 {
		for n := 1; n <= 16; n++ {
			place := 3 * math.Log2(KeyFrequency(key)*float64(n)/1000)
			edge := math.Abs(place-math.Floor(place)-0.5) * 400 // cents
			if edge < 4 {
				t.Errorf("partial %d of key %d lies %.1f cents from the edge of a band", n, key, edge)
			}
		}
	}
}
