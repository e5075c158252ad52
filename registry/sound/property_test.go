package sound

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// kinds are one stop of every sort.
var kinds = []stopname.Known{
	openDiapason, geigen, gamba, violeOrchestre, dulciana, claribel, stoppedDiapason, bourdon, trumpet, oboe, clarinet, tuba,
	quintaton, salicional, named("Gemshorn 8"), named("Rohr Flute 8"), named("Vox Humana 8"), named("Regal 8"), named("Posaune 16"), named("Harmonic Flute 8"),
}

// usual is the loudness class of one of the kinds.
func usual(name string) int {
	return kinds[slices.IndexFunc(kinds, func(k stopname.Known) bool { return k.Name == name })].Loudness
}

// anyRank is a stop of one rank, of any kind and pitch.
var anyRank = rapid.Custom(func(t *rapid.T) stopname.Known {
	k := rapid.SampledFrom(kinds).Draw(t, "name")
	k.Pitch = rapid.SampledFrom([]pitch.Feet{
		pitch.Foot(16), pitch.Foot(8), pitch.FeetOf(16, 3), pitch.Foot(4), pitch.FeetOf(8, 3), pitch.Foot(2), pitch.FeetOf(8, 5), pitch.FeetOf(4, 3),
	}).Draw(t, "pitch")
	k.Loudness = rapid.IntRange(1, 6).Draw(t, "loudness")
	return k
})

// anyStop may be a compound stop as well.
var anyStop = rapid.Custom(func(t *rapid.T) stopname.Known {
	if rapid.IntRange(0, 4).Draw(t, "compound") > 0 {
		return anyRank.Draw(t, "rank")
	}
	k := rapid.SampledFrom([]stopname.Known{
		cornetV, mixtureIII, named("Cymbale"), named("Sesquialtera"), named("Harmonics"), named("Voix Céleste"),
	}).Draw(t, "name")
	k.Ranks = rapid.IntRange(0, 7).Draw(t, "ranks")
	return k
})

var anyBox = rapid.Custom(func(t *rapid.T) Box {
	return Box{Strength: rapid.Float64Range(0, 30).Draw(t, "strength"), Shut: rapid.Float64Range(0, 1).Draw(t, "shut")}
})

var anyDrawn = rapid.Custom(func(t *rapid.T) Drawn {
	return Drawn{Stop: Of(anyStop.Draw(t, "stop"), Options{}), Octave: rapid.IntRange(-1, 1).Draw(t, "octave"), Box: anyBox.Draw(t, "box")}
})

// anyNotes stay within the compass of a manual.
func anyNotes(t *rapid.T, top int) []Note {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Note {
		start := rapid.IntRange(0, 16).Draw(t, "start")
		return Note{rapid.IntRange(36, top).Draw(t, "key"), float64(start), float64(start + rapid.IntRange(1, 8).Draw(t, "length"))}
	}), 1, 12).Draw(t, "notes")
}

func TestAddingRanksIsNeverSofter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := anyNotes(t, 96)
		some := rapid.SliceOfN(anyDrawn, 0, 6).Draw(t, "drawn")
		before := Hear(some, notes)
		after := Hear(append(some, anyDrawn.Draw(t, "added")), notes)
		if after.Sones < before.Sones-1e-9 {
			t.Fatalf("%v sone before, %v after", before.Sones, after.Sones)
		}
		for i := range after.Bands {
			if after.Bands[i] < before.Bands[i]-1e-9 {
				t.Fatalf("band %d: %v before, %v after", i, before.Bands[i], after.Bands[i])
			}
		}
	})
}

// An octave up is never duller from C2 as far as there are such pipes: C8, the
// top note of a 4′ flue, and C7 for reeds. Above that the overtones leave the
// range of hearing, and a reed's fundamental its formant. Below C2, and where a
// stop is hardly heard (under a quarter of a sone), the threshold of hearing
// decides which partials are heard at all.
func TestOctaveUpIsNeverDuller(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyRank.Draw(t, "stop")
		k.Loudness = usual(k.Name)
		highest := 108.0
		if k.Family == stopname.Reed {
			highest = 96
		}
		top := min(84, int(highest-12-12*math.Log2(k.Pitch.Ratio().Float())))
		bottom := max(36, int(math.Ceil(36-12*math.Log2(k.Pitch.Ratio().Float()))))
		lowest := rapid.IntRange(bottom, top).Draw(t, "lowest")
		var notes []Note
		for _, above := range rapid.SliceOfN(rapid.IntRange(0, min(12, top-lowest)), 1, 5).Draw(t, "chord") {
			notes = append(notes, Note{lowest + above, 0, 1})
		}
		d := Drawn{Stop: Of(k, Options{}), Box: rapid.SampledFrom([]Box{Open, Half, Shut}).Draw(t, "box")}
		up := d
		up.Octave = 1
		low, high := Hear([]Drawn{d}, notes), Hear([]Drawn{up}, notes)
		if low.Sones > 0.25 && high.Sones > 0.25 && high.Brightness < low.Brightness {
			t.Fatalf("%v Hz, and an octave up %v Hz", low.Brightness, high.Brightness)
		}
	})
}

func TestOctaveIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyRank.Draw(t, "stop")
		key := rapid.IntRange(36, 84).Draw(t, "key")
		higher := k
		higher.Pitch = k.Pitch.Octaves(1)
		coupled := Partials([]Drawn{{Stop: Of(k, Options{}), Octave: 1}}, key)
		played := Of(k, Options{}).Partials(key + 12)
		if len(coupled) != len(played) {
			t.Fatalf("%d partials coupled, %d played an octave higher", len(coupled), len(played))
		}
		for i := range coupled {
			if coupled[i].Level != played[i].Level || coupled[i].Ratio != played[i].Ratio.Octaves(1) {
				t.Fatalf("partial %d: coupled %v, played %v", i, coupled[i], played[i])
			}
		}
	})
}

func TestOpeningTheBoxIsNeverSofter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyBox.Draw(t, "box")
		b := a
		b.Shut = rapid.Float64Range(0, a.Shut).Draw(t, "opened")
		for band := range BandCount {
			hz := BandCentre(band)
			if b.Attenuation(hz) > a.Attenuation(hz)+1e-12 {
				t.Fatalf("%v Hz: %v dB off, and more open %v", hz, a.Attenuation(hz), b.Attenuation(hz))
			}
			if band > 0 && a.Attenuation(hz) < a.Attenuation(BandCentre(band-1))-1e-12 {
				t.Fatalf("%v Hz: less off than in the band below", hz)
			}
		}
	})
}

func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := anyNotes(t, 96)
		a := Hear(rapid.SliceOfN(anyDrawn, 0, 4).Draw(t, "a"), notes)
		b := Hear(rapid.SliceOfN(anyDrawn, 0, 4).Draw(t, "b"), notes)
		there, back := Between(a, b), Between(b, a)
		if there.Loudness != -back.Loudness || math.Abs(there.Brightness+back.Brightness) > 1e-9 || math.Abs(there.Colour-back.Colour) > 1e-9 {
			t.Fatalf("there %+v, back %+v", there, back)
		}
		if same := Between(a, a); same != (Difference{}) {
			t.Fatalf("against itself %+v", same)
		}
		for _, x := range []float64{there.Loudness, there.Brightness, there.Colour} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%+v", there)
			}
		}
	})
}

func TestStandingOutIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := NewPassage(anyNotes(t, 96), anyNotes(t, 96))
		solo, rest := p.Sound(0, anyDrawn.Draw(t, "solo")), p.Sound(1, anyDrawn.Draw(t, "rest"))
		before := StandsOut(solo, rest)
		rest.Add(p.Sound(1, anyDrawn.Draw(t, "more rest")))
		covered := StandsOut(solo, rest)
		solo.Add(p.Sound(0, anyDrawn.Draw(t, "more solo")))
		after := StandsOut(solo, rest)
		if covered.DB > before.DB+1e-9 || covered.Time > before.Time+1e-9 {
			t.Fatalf("more beside it: %+v, then %+v", before, covered)
		}
		if after.DB < covered.DB-1e-9 || after.Time < covered.Time-1e-9 {
			t.Fatalf("more on it: %+v, then %+v", covered, after)
		}
	})
}

func TestPassageIsWhatIsPlayed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := anyNotes(t, 96)
		d := []Drawn{anyDrawn.Draw(t, "drawn")}
		want := Hear(d, notes)
		other := slices.Clone(notes)
		slices.Reverse(other)
		for i, n := range other {
			// Twice as slow, and every note struck again half way: nothing else.
			other[i] = Note{n.Key, 2 * n.Start, n.Start + n.End}
			other = append(other, Note{n.Key, n.Start + n.End, 2 * n.End})
		}
		if got := Hear(d, other); math.Abs(got.Sones-want.Sones) > 1e-6*(1+want.Sones) {
			t.Fatalf("%v sone, and slower, in another order and struck again %v", want.Sones, got.Sones)
		}
		p := NewPassage(notes)
		time := 0.0
		for _, m := range p.moments {
			time += m.time
		}
		if math.Abs(time-1) > 1e-9 || len(p.moments) > MaxMoments {
			t.Fatalf("%d moments of %v in all", len(p.moments), time)
		}
	})
}

func TestOrderOfStopsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := anyNotes(t, 96)
		some := rapid.SliceOfN(anyDrawn, 1, 8).Draw(t, "drawn")
		a := Hear(some, notes)
		slices.Reverse(some)
		b := Hear(some, notes)
		if Tenths(a.Phon) != Tenths(b.Phon) {
			t.Fatalf("%v and %v phon", a.Phon, b.Phon)
		}
	})
}
