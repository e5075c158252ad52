package resolve

import (
	"slices"

	"stopgap/registry"
)

// linger leaves out what was out already and cannot be heard: nobody pushes
// knobs in while the line that they are for rests. A knob stays only if every
// line sounds the same with it.
func (r *resolver) linger(before, s *Setting) {
	k := slices.Clone(s.knobs)
	for _, d := range r.organ.Divisions {
		if r.isUsed(s, d) {
			continue
		}
		for _, st := range d.Stops {
			if n := r.board.stopAt[st]; before.knobs.has(n) {
				k.draw(n)
			}
		}
		if box := before.Boxes[d]; box != "" && s.Boxes[d] == "" {
			s.setBox(d, box)
		}
	}
	for _, c := range r.organ.Couplers {
		if n := r.board.couplerAt[c]; before.knobs.has(n) && !k.has(n) {
			k.draw(n)
			if !r.soundsAlike(s, k) {
				k.putIn(n)
			}
		}
	}
	s.knobs, s.Drawn = k, r.board.out(k).drawn
}

// isUsed reports whether a division is used in a setting: a line plays it,
// or its stops sound from a line's keyboard, or would if more were drawn.
func (r *resolver) isUsed(s *Setting, d *registry.Division) bool {
	if s.partAt(d) != nil {
		return true
	}
	under := r.board.under(s.knobs)
	for _, line := range s.Lines {
		if line.Keyboard != nil && slices.ContainsFunc(under.from(line.Keyboard), func(x reached) bool { return x.sound.Stop.Division == d }) {
			return true
		}
	}
	return false
}

// soundsAlike reports whether every line still sounds as the setting says if
// other knobs are out.
func (r *resolver) soundsAlike(s *Setting, k knobs) bool {
	same := func(a, b registry.Sound) bool { return a.Stop == b.Stop && a.Octave == b.Octave }
	for _, line := range s.Lines {
		if line.Keyboard != nil && !slices.EqualFunc(r.board.sounds(k, line.Keyboard), line.Sounds, same) {
			return false
		}
	}
	return true
}
