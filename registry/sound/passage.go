package sound

import (
	"cmp"
	"slices"
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
	type held struct {
		Note
		line int
	}
	count := 0
	for _, of := range lines {
		count += len(of)
	}
	notes := make([]held, 0, count)
	times := make([]float64, 0, 2*count)
	for line, of := range lines {
		for _, n := range of {
			if n.End > n.Start {
				notes = append(notes, held{n, line})
				times = append(times, n.Start, n.End)
			}
		}
	}
	slices.SortStableFunc(notes, func(a, b held) int { return cmp.Compare(a.Start, b.Start) })
	slices.Sort(times)
	times = slices.Compact(times)
	chords := make([]chord, 0, len(times))
	byLine := make([][]int, len(times)*len(lines)) // the keys of all chords
	var keys []int                                 // what those are cut from
	var sounding []held
	for i := 1; i < len(times); i++ {
		from, to := times[i-1], times[i]
		sounding = slices.DeleteFunc(sounding, func(n held) bool { return n.End <= from })
		for len(notes) > 0 && notes[0].Start <= from {
			sounding = append(sounding, notes[0])
			notes = notes[1:]
		}
		if len(sounding) == 0 {
			continue
		}
		c := chord{time: to - from, keys: byLine[:len(lines):len(lines)]}
		byLine = byLine[len(lines):]
		count, sum := 0, 0
		for line := range c.keys {
			first := len(keys)
			for _, n := range sounding {
				if n.line == line {
					keys = append(keys, n.Key)
				}
			}
			slices.Sort(keys[first:])
			keys = keys[:first+len(slices.Compact(keys[first:]))]
			c.keys[line] = keys[first:len(keys):len(keys)]
			count += len(c.keys[line])
			for _, k := range c.keys[line] {
				sum += k
			}
		}
		c.pitch = float64(sum) / float64(count)
		chords = append(chords, c)
	}
	order := func(a, b int) int {
		by := cmp.Compare(chords[a].pitch, chords[b].pitch)
		for line := 0; by == 0 && line < len(lines); line++ {
			by = slices.Compare(chords[a].keys[line], chords[b].keys[line])
		}
		return by
	}
	at := make([]int, len(chords))
	for i := range at {
		at[i] = i
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Or(order(a, b), a-b) })
	var out []chord
	for i, n := range at {
		if i > 0 && order(at[i-1], n) == 0 {
			out[len(out)-1].time += chords[n].time
			continue
		}
		out = append(out, chords[n])
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
		var held []share
		for _, c := range chords {
			for _, k := range c.keys[line] {
				i := slices.IndexFunc(held, func(s share) bool { return s.key == k })
				if i < 0 {
					i = len(held)
					held = append(held, share{key: k})
				}
				held[i].part += c.time / time
			}
		}
		slices.SortFunc(held, func(a, b share) int { return a.key - b.key })
		m.keys[line] = held
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
	s := Sound{passage: p, powers: make([]Powers, len(p.moments))}
	if line >= 0 && line < p.lines {
		s.lines = 1 << line
	}
	return s
}

// Sound is one drawn stop played by a line: computed once, it can be added to
// any registration of that line.
func (p *Passage) Sound(line int, d Drawn) Sound {
	s := p.Line(line)
	if s.lines == 0 {
		return s // no such line in the passage
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

// Silence takes away again all that was added to a line.
func (s *Sound) Silence() { clear(s.powers) }

// sounds reports whether one of the sound's lines holds a key in a moment.
func (s *Sound) sounds(moment int) bool {
	for line, keys := range s.passage.moments[moment].keys {
		if s.lines&(1<<line) != 0 && len(keys) > 0 {
			return true
		}
	}
	return false
}
