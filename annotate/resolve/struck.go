package resolve

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// A struck key is one that goes down in a passage, so many times. Keys that
// are only held into it count in the passage before.
type struck struct {
	key   registry.Key
	times int
}

// struckKeys are the keys that lines press in a span, from the lowest up.
func struckKeys(lines []*passage.Played, span passage.Span) []struck {
	at := map[registry.Key]int{}
	var out []struck
	for _, line := range lines {
		for _, n := range line.Notes {
			if n.Note != n.Struck || !n.StruckIn(span) {
				continue
			}
			i, ok := at[n.Key]
			if !ok {
				i = len(out)
				at[n.Key] = i
				out = append(out, struck{key: n.Key})
			}
			out[i].times++
		}
	}
	slices.SortFunc(out, func(a, b struck) int { return int(a.key - b.key) })
	return out
}

// speaks reports whether a stop sounds when a key of the host's keyboard is
// pressed: it has the pipe, also at the end of its couplers.
func (c Chosen) speaks(host *registry.Division, key registry.Key) bool {
	s := registry.Sound{Stop: c.Stop}
	if c.Path != nil {
		s.Octave, s.Via = c.Path.Octave, c.Path.Couplers
	}
	_, ok := s.PipeOf(host.Keyboard, key)
	return ok
}

// offKeys is what it costs that keys are not on the host's keyboard.
func (s *sketch) offKeys() int {
	off := 0
	for _, k := range s.k.struck {
		if !s.host.Keyboard.Compass.Has(k.key + registry.Key(12*s.octave)) {
			off += k.times
		}
	}
	return s.gaps(off)
}

// gaps is what it costs that so many notes cannot be had as they are asked
// for. A solo is heard through, so its first gap is the dearest; after some it
// counts how large a part of it is lost, since most of a tune is better than none.
func (s *sketch) gaps(notes int) int {
	if notes == 0 || !s.k.solo {
		return costOffKey * notes
	}
	all := 0
	for _, k := range s.k.struck {
		all += k.times
	}
	cost := costSoloGap + costOffKey*min(notes, offKeysDear)
	if more := notes - offKeysDear; more > 0 {
		cost += costOffKeyMore * more / max(all, more)
	}
	return cost
}

// silentKeys is what the notes cost on which a stop of the part does not
// speak, unless another has them that is drawn for the same voice: most where
// it is a solo, and no other of its stops has the pitch.
func (s *sketch) silentKeys(p *Part) int {
	if s.k.use != colour && !s.k.solo {
		return 0
	}
	stops := p.sounding()
	cost, gaps := 0, 0
	for _, c := range stops {
		beside := p.beside(c.Stop)
		silent := 0
		for _, k := range s.k.struck {
			key := k.key + registry.Key(12*s.octave)
			if !s.host.Keyboard.Compass.Has(key) || c.speaks(s.host, key) {
				continue
			}
			if !sameRatioSpeaks(beside, c, s.host, key) {
				silent += k.times
			}
			if s.k.solo && !sameRatioSpeaks(stops, c, s.host, key) {
				gaps += k.times
			}
		}
		cost += min(costOffStop*silent, costOffStopAtMost)
	}
	return cost + s.gaps(gaps)
}

// beside are the stops that are drawn for one voice together with a stop.
func (p *Part) beside(s *registry.Stop) []Chosen {
	for n := range p.Picks {
		if stops := p.Picks[n].Stops; len(stops) > 1 && slices.ContainsFunc(stops, func(c Chosen) bool { return c.Stop == s }) {
			return stops
		}
	}
	return nil
}

// sameRatioSpeaks reports whether another of the stops sounds at the pitch of
// one that does not speak on a key.
func sameRatioSpeaks(stops []Chosen, silent Chosen, host *registry.Division, key registry.Key) bool {
	return slices.ContainsFunc(stops, func(c Chosen) bool {
		return c.ratio(0) == silent.ratio(0) && c.speaks(host, key)
	})
}

// keepsPitch reports whether each note that a line strikes sounds at the
// pitches that are asked for and no others, in exact ratios, and if not, the
// first note that does not. Where a group word leaves the pitches open, it is
// enough that nothing that it stands for is wanting.
func (r *resolver) keepsPitch(s *Setting, line *Line) (ok bool, first *passage.Pressed) {
	asked, known := askedRatios(s.Passage, line.Asked.Division)
	if !known {
		if slices.ContainsFunc(line.Part.Picks, func(x Pick) bool { return x.lost() }) {
			return false, nil
		}
		return line.keepsGround(s)
	}
	good := map[registry.Key]bool{}
	for i, n := range line.Asked.Notes {
		if !n.StruckIn(s.Passage.Span) {
			continue
		}
		same, seen := good[n.Key]
		if !seen {
			same = sameRatios(asked, givenRatios(line, n.Key))
			good[n.Key] = same
		}
		if !same {
			return false, &line.Asked.Notes[i]
		}
	}
	return true, nil
}

// keepsGround reports whether each key sounds at the pitch from which a Cornet
// is asked for, among others, and if not which is the first that does not.
func (line *Line) keepsGround(s *Setting) (ok bool, first *passage.Pressed) {
	for _, v := range line.Part.Asked.Voices {
		if v.Group != direction.Cornet || v.Pitch.IsZero() {
			continue
		}
		for i, n := range line.Asked.Notes {
			if n.StruckIn(s.Passage.Span) && !givenRatios(line, n.Key)[v.Pitch.Ratio()] {
				return false, &line.Asked.Notes[i]
			}
		}
	}
	return true, nil
}

// askedRatios are the sounding ratios that a division is asked for with what
// the score couples to it. They are not known where a group word leaves them
// open.
func askedRatios(p *passage.Passage, d passage.Division) (ratios map[pitch.Ratio]bool, known bool) {
	ratios = map[pitch.Ratio]bool{}
	type reached struct {
		division passage.Division
		octave   int
	}
	seen := map[reached]bool{{d, 0}: true}
	for open := []reached{{d, 0}}; len(open) > 0; open = open[1:] {
		at := open[0]
		if a := p.Asked(at.division); a != nil && len(a.Voices) > 0 {
			own := passage.Ratios(a.Voices)
			if own == nil {
				return nil, false
			}
			for _, x := range own {
				ratios[x.Octaves(at.octave)] = true
			}
		}
		for _, c := range p.Couplings {
			next := reached{c.From, at.octave + c.Octave}
			if c.To != at.division || seen[next] || next.octave > 3 || next.octave < -3 {
				continue
			}
			seen[next] = true
			open = append(open, next)
		}
	}
	return ratios, len(ratios) > 0
}

// givenRatios are the ratios against the printed note at which a key sounds
// when the line plays it in its octave.
func givenRatios(line *Line, printed registry.Key) map[pitch.Ratio]bool {
	out := map[pitch.Ratio]bool{}
	for _, x := range line.Sounds {
		if x.Stop.Pitch.IsZero() {
			out[pitch.Ratio{}] = true // a mixture sounds what nobody asked for by pitch
			continue
		}
		if ratio, ok := x.RatioAt(line.Keyboard, printed+registry.Key(12*line.Octave)); ok {
			out[ratio.Octaves(line.Octave)] = true
		}
	}
	return out
}

func sameRatios(a, b map[pitch.Ratio]bool) bool {
	if len(a) != len(b) {
		return false
	}
	for x := range a {
		if !b[x] {
			return false
		}
	}
	return true
}
