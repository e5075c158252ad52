package sound

import (
	"math"
	"sort"
	"sync/atomic"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Options say what an organ file knows of a stop beyond its name.
type Options struct {
	Level     float64       // dB against what is usual for the name
	Division  division.Role // where it stands; None makes no difference
	Ranks     []pitch.Feet  // of a compound stop at its lowest key ("15.19.22"), with the usual breaks; nil for the usual ones
	Sections  []Section     // of a compound stop with all its breaks, ascending; goes before Ranks
	Low, High int           // keys (of its own chest) on which it speaks; both 0 for all
}

// A Stop is how one stop sounds, from every key. It does not change.
type Stop struct {
	kind     *spectrum
	row      *kindRow
	level    float64 // dB of one 8′ pipe in the middle octave, all ranks of the stop together
	sections []Section
	cents    float64 // out of tune at middle C; 0 for a stop in tune
	pair     bool    // a celeste that has its fellow in tune with it
	low      int
	high     int

	powers [keyCount]atomic.Pointer[Powers] // by key, once they have been asked for
}

// keyCount bounds the keys, octave couplers included: 0 to 127 as in MIDI.
const keyCount = 128

// A Partial is one partial of what sounds from a key.
type Partial struct {
	Ratio pitch.Ratio // its frequency over the key's 8′ fundamental
	Cents float64     // how far it is off that: a celeste's; else 0
	Level float64     // dB (20 µPa), for a listener in the church
}

// Of is the sound of a stop of which the name's meaning is known. A family
// that is not known is taken as a principal, a pitch that is not given as 8′,
// a loudness class that is not known as its family's (families.tsv).
func Of(k stopname.Known, o Options) *Stop {
	t := known()
	name := fold(k.Name)
	if k.Entry != "" {
		name = fold(k.Entry)
	}
	row := t.kindOf(k, name)
	s := &Stop{kind: row.kind, row: row, sections: o.Sections, low: o.Low, high: o.High}
	switch {
	case k.Subfamily == stopname.KindPercussion:
		s.low = keyCount // bells and bars have no pipes: never heard here
	case s.low == 0 && s.high == 0:
		s.high = keyCount - 1
	}
	feet := k.Pitch
	if feet.IsZero() {
		feet = pitch.Foot(8)
	}
	if len(s.sections) == 0 {
		s.sections = composition(k, name, o.Ranks)
	}
	upper := 0.0
	if len(s.sections) == 0 {
		s.sections = []Section{{Ranks: []pitch.Feet{feet}}}
		upper = max(0, math.Log2(feet.Ratio().Float())) * row.upper
	}
	if k.Family == stopname.Celeste {
		s.pair = k.Ranks > 1
		s.cents = t.celeste.cents
		if k.Beats == "flat" {
			s.cents = -s.cents
		}
	}
	s.level = t.classLevel(k) + t.equalising(row.kind) + row.level + upper + t.divisions[string(o.Division)] + max(-mostLevel, min(o.Level, mostLevel))
	return s
}

// mostLevel bounds what an organ file can make a stop louder or softer, in dB.
const mostLevel = 60

// kindOf is the first row of kinds.tsv that fits. The last fits everything.
func (t *tables) kindOf(k stopname.Known, name string) *kindRow {
	for i := range t.kinds {
		row := &t.kinds[i]
		if (row.family == stopname.NoFamily || row.family == k.Family) && row.name.in(name) && row.stopKind.are(k.Subfamily) {
			return row
		}
	}
	return &t.kinds[len(t.kinds)-1]
}

// classLevel is the phon of the stop's loudness class, or of its family's
// where it has none. Classes outside the table are taken as its ends.
func (t *tables) classLevel(k stopname.Known) float64 {
	class := k.Loudness
	if class == 0 {
		class = t.families[k.Family]
	}
	return t.levels[max(1, min(class, len(t.levels)))]
}

// referencePhon is the loudness level at which kinds are made equally loud.
const referencePhon = 60

// equalising is what a kind of pipe needs in dB over its loudness level in
// phon to be heard as loud as another kind: classes of loudness are what ears
// say, and a flute needs more power than a reed to be as loud.
func (t *tables) equalising(kind *spectrum) float64 {
	kind.equalOnce.Do(func() {
		low, high := 0.0, 120.0
		for range 40 {
			mid := (low + high) / 2
			var p Powers
			addPipe(&p, kind, middleOctave, mid)
			if phon(hear(filtered(&p), diffuse).sones) < referencePhon {
				low = mid
			} else {
				high = mid
			}
		}
		kind.equal = math.Round(high*100)/100 - referencePhon
	})
	return kind.equal
}

// middleOctave is the pitch in the middle of the keyboard where stops are
// loudest: F#4.
const middleOctave = 66

// highestPipe is the pitch above which no pipes are made, C9; ranks break
// back an octave there, by common practice.
const highestPipe = 120

// A pipe is one pipe that speaks from a key.
type pipe struct {
	ratio pitch.Ratio
	cents float64
	level float64 // dB
}

// pitchAt is where the pipe sounds in semitones, when played from a key.
func (p pipe) pitchAt(key int) float64 {
	return float64(key) + 12*math.Log2(p.ratio.Float()) + p.cents/100
}

// RanksAt are the pitches of the ranks that a key sounds, one for a stop of one
// pitch; nil where the stop is silent.
func (s *Stop) RanksAt(key int) []pitch.Feet {
	if key < s.low || key > s.high || key < 0 || key >= keyCount {
		return nil
	}
	section := s.sections[0]
	for _, next := range s.sections[1:] {
		if key >= next.From {
			section = next
		}
	}
	return section.Ranks
}

// pipes are what speaks from a key.
func (s *Stop) pipes(key int) []pipe {
	ranks := s.RanksAt(key)
	if len(ranks) == 0 {
		return nil
	}
	t := known()
	cents := 0.0
	if s.cents != 0 {
		cents = s.cents * math.Exp2(-t.celeste.narrowing*float64(key-middleC)/12)
	}
	count := len(ranks)
	if s.pair {
		count *= 2
	}
	share := Decibels(1 / float64(count))
	pipes := make([]pipe, 0, count)
	for _, feet := range ranks {
		p := pipe{ratio: feet.Ratio()}
		for p.pitchAt(key) > highestPipe {
			p.ratio = p.ratio.Octaves(-1)
		}
		p.level = s.level + share + t.keyboard.at((p.pitchAt(key)-middleOctave)/12)
		if s.pair {
			pipes = append(pipes, p)
		}
		p.cents = cents
		pipes = append(pipes, p)
	}
	return pipes
}

// Level is the level of the stop at a key, in dB; minus infinity where it
// does not speak.
func (s *Stop) Level(key int) float64 {
	sum := 0.0
	for _, p := range s.pipes(key) {
		sum += Power(p.level)
	}
	return Decibels(sum)
}

// Partials are what sounds from a key, the lowest first. Partials of the same
// frequency from several ranks are one, with the sum of their powers.
func (s *Stop) Partials(key int) []Partial {
	return Partials([]Drawn{{Stop: s}}, key)
}

// Beat is how many times a second the stop beats at a key with a rank of its
// pitch that is in tune: 0 but for a celeste.
func (s *Stop) Beat(key int) float64 {
	for _, p := range s.pipes(key) {
		if p.cents != 0 {
			in := p
			in.cents = 0
			return math.Abs(pipeFrequency(p.pitchAt(key)) - pipeFrequency(in.pitchAt(key)))
		}
	}
	return 0
}

// powersAt are the band powers of the stop at a key; nil where it is silent.
func (s *Stop) powersAt(key int) *Powers {
	if key < s.low || key > s.high || key < 0 || key >= keyCount {
		return nil
	}
	if p := s.powers[key].Load(); p != nil {
		return p
	}
	p := new(Powers)
	for _, pipe := range s.pipes(key) {
		addPipe(p, s.kind, pipe.pitchAt(key), pipe.level)
	}
	s.powers[key].Store(p)
	return p
}

// addPipe adds a pipe's partials to band powers.
func addPipe(p *Powers, kind *spectrum, pitch, level float64) {
	power := Power(level)
	for band, part := range kind.bands(pitch) {
		p[band] += float64(power * part)
	}
}

// A Drawn stop is one that sounds: at pitch or by an octave coupler, inside a
// box or not.
type Drawn struct {
	Stop   *Stop
	Octave int     // 1 where a coupler sounds it an octave higher, -1 lower
	Box    Box     // zero outside a box
	Level  float64 // dB more or less than it has by itself
}

// Partials are what sounds from one key of all that is drawn, the lowest
// first. Powers add, partial by partial.
func Partials(drawn []Drawn, key int) []Partial {
	type place struct {
		ratio pitch.Ratio
		cents float64
	}
	sums := map[place]float64{}
	for _, d := range drawn {
		played := key + 12*d.Octave
		for _, p := range d.Stop.pipes(played) {
			at := p.pitchAt(played)
			for i, part := range d.Stop.kind.partials(at) {
				hz := float64(i+1) * pipeFrequency(at)
				level := p.level + d.Level - d.Box.Attenuation(hz)
				if part > 0 {
					sums[place{p.ratio.Octaves(d.Octave).Mul(pitch.NewRatio(int64(i+1), 1)), p.cents}] += Power(level) * part
				}
			}
		}
	}
	partials := make([]Partial, 0, len(sums))
	for at, power := range sums {
		partials = append(partials, Partial{Ratio: at.ratio, Cents: at.cents, Level: Decibels(power)})
	}
	sort.Slice(partials, func(i, j int) bool {
		a, b := partials[i], partials[j]
		if c := a.Ratio.Cmp(b.Ratio); c != 0 {
			return c < 0
		}
		return a.Cents < b.Cents
	})
	return partials
}
