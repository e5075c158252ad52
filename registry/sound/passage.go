package sound

import (
	"slices"
	"sort"
)

// A Note is a key that is held for a while. Times are in any unit, the same
// for all notes of a passage: quarter-notes or seconds.
type Note struct {
	Key        int // 60 is middle C
	Start, End float64
}

// MaxMoments is how many moments a passage is heard in. Moments in which the
// same keys are held are one; where there are more, those that lie nearest in
// pitch are heard together as their mean.
const MaxMoments = 8

// A Passage is what is played, of one line or of several at the same time,
// made ready for hearing stops in it.
type Passage struct {
	lines   int
	moments []moment
}

// A moment is a chord, or several like it.
type moment struct {
	time float64   // part of the passage, over all moments 1
	keys [][]share // by line
}

// A share is a key and the part of the moment for which it is held.
type share struct {
	key  int
	part float64
}

// NewPassage takes the notes of each line. Time in which nothing is held does
// not count; a note without length is left out.
func NewPassage(lines ...[]Note) *Passage {
	p := &Passage{lines: len(lines)}
	chords := chordsOf(lines)
	total := 0.0
	for _, c := range chords {
		total += c.time
	}
	// As many moments as allowed, each with its part of the time.
	for from := 0; from < len(chords); {
		room := MaxMoments - len(p.moments)
		left := 0.0
		for _, c := range chords[from:] {
			left += c.time
		}
		to, time := from+1, chords[from].time
		if len(chords)-from > room {
			for to < len(chords) && (room == 1 || time+chords[to].time/2 < left/float64(room)) {
				time += chords[to].time
				to++
			}
		}
		p.moments = append(p.moments, mean(chords[from:to], len(lines), total))
		from = to
	}
	return p
}

// A chord is the keys that are held together, by line, and for how long.
type chord struct {
	time  float64
	keys  [][]int
	pitch float64 // mean key
}

// chordsOf cuts the time where a note begins or ends, and puts equal chords
// together. They come ordered by pitch.
func chordsOf(lines [][]Note) []chord {
	var times []float64
	for _, notes := range lines {
		for _, n := range notes {
			if n.End > n.Start {
				times = append(times, n.Start, n.End)
			}
		}
	}
	slices.Sort(times)
	times = slices.Compact(times)
	var chords []chord
	for i := 1; i < len(times); i++ {
		c := chord{time: times[i] - times[i-1], keys: make([][]int, len(lines))}
		count, sum := 0, 0
		for line, notes := range lines {
			for _, n := range notes {
				if n.Start <= times[i-1] && n.End >= times[i] {
					c.keys[line] = append(c.keys[line], n.Key)
				}
			}
			slices.Sort(c.keys[line])
			c.keys[line] = slices.Compact(c.keys[line])
			for _, k := range c.keys[line] {
				sum += k
				count++
			}
		}
		if count > 0 {
			c.pitch = float64(sum) / float64(count)
			chords = append(chords, c)
		}
	}
	order := func(a, b chord) int {
		switch {
		case a.pitch < b.pitch:
			return -1
		case a.pitch > b.pitch:
			return 1
		}
		for line := range a.keys {
			if d := slices.Compare(a.keys[line], b.keys[line]); d != 0 {
				return d
			}
		}
		return 0
	}
	sort.SliceStable(chords, func(i, j int) bool { return order(chords[i], chords[j]) < 0 })
	out := chords[:0]
	for _, c := range chords {
		if n := len(out); n > 0 && order(out[n-1], c) == 0 {
			out[n-1].time += c.time
			continue
		}
		out = append(out, c)
	}
	return out
}

// mean hears several chords as one: every key for the part of the time that
// it is held.
func mean(chords []chord, lines int, total float64) moment {
	time := 0.0
	for _, c := range chords {
		time += c.time
	}
	m := moment{time: time / total, keys: make([][]share, lines)}
	for line := range m.keys {
		held := map[int]float64{}
		for _, c := range chords {
			for _, k := range c.keys[line] {
				held[k] += c.time / time
			}
		}
		for k, part := range held {
			m.keys[line] = append(m.keys[line], share{k, part})
		}
		slices.SortFunc(m.keys[line], func(a, b share) int { return a.key - b.key })
	}
	return m
}

// A Sound is what comes of stops in a passage: the powers per moment and
// band. Sounds of one passage that are heard together add.
type Sound struct {
	passage *Passage
	lines   uint64 // bit set of the lines that it belongs to
	powers  []Powers
}

// Line is a silent Sound of a line, to which stops are added.
func (p *Passage) Line(line int) Sound {
	return Sound{passage: p, lines: 1 << line, powers: make([]Powers, len(p.moments))}
}

// Sound is one drawn stop played by a line: computed once, it can be added to
// any registration of that line.
func (p *Passage) Sound(line int, d Drawn) Sound {
	s := p.Line(line)
	if line < 0 || line >= p.lines {
		return s
	}
	gain := d.Box.gains()
	level := Power(d.Level)
	for i := range p.moments {
		to := &s.powers[i]
		for _, k := range p.moments[i].keys[line] {
			from := d.Stop.powersAt(k.key + 12*d.Octave)
			if from == nil {
				continue
			}
			for band, power := range from {
				to[band] += float64(power * k.part)
			}
		}
		for band := range to {
			to[band] *= gain[band] * level
		}
	}
	return s
}

// Add adds another sound of the same passage to s.
func (s *Sound) Add(other Sound) {
	s.lines |= other.lines
	for i := range other.powers {
		to, from := &s.powers[i], &other.powers[i]
		for band := range to {
			to[band] += from[band]
		}
	}
}

// Reset makes s silent again, for another sum of the same line.
func (s *Sound) Reset() { clear(s.powers) }

// sounds reports whether one of the sound's lines holds a key in a moment.
func (s *Sound) sounds(moment int) bool {
	for line, keys := range s.passage.moments[moment].keys {
		if s.lines&(1<<line) != 0 && len(keys) > 0 {
			return true
		}
	}
	return false
}
