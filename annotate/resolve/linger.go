package resolve

import (
	"stopgap/registry"
)

// linger leaves out what was out already and cannot be heard: nobody pushes
// knobs in while the line that they are for rests. A knob stays only if every
// line sounds the same with it.
func (r *resolver) linger(before, s *Setting) {
	for _, d := range r.organ.Divisions {
		if r.isUsed(s, d) {
			continue
		}
		for _, st := range d.Stops {
			if before.Drawn.Stops[st] {
				s.Drawn.Stops[st] = true
			}
		}
		if box := before.Boxes[d]; box != "" && s.Boxes[d] == "" {
			s.Boxes[d] = box
		}
	}
	for _, c := range r.organ.Couplers {
		if before.Drawn.Couplers[c] && !s.Drawn.Couplers[c] {
			s.Drawn.Couplers[c] = true
			if !r.soundsAlike(s) {
				delete(s.Drawn.Couplers, c)
			}
		}
	}
	s.knobs = r.board.of(s.Drawn)
}

// isUsed reports whether a division is used in a setting: a line plays it,
// or its stops sound from a line's keyboard, or would if more were drawn.
func (r *resolver) isUsed(s *Setting, d *registry.Division) bool {
	if s.partAt(d) != nil {
		return true
	}
	probe := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: s.Drawn.Couplers}
	for _, st := range d.Stops {
		probe.Stops[st] = true
	}
	for _, line := range s.Lines {
		if line.Keyboard != nil && len(r.organ.Sounding(probe, line.Keyboard)) > 0 {
			return true
		}
	}
	return false
}

// soundsAlike reports whether every line still sounds as the setting says.
func (r *resolver) soundsAlike(s *Setting) bool {
	for _, line := range s.Lines {
		if line.Keyboard == nil {
			continue
		}
		now := r.organ.Sounding(s.Drawn, line.Keyboard)
		if len(now) != len(line.Sounds) {
			return false
		}
		for i := range now {
			if now[i].Stop != line.Sounds[i].Stop || now[i].Octave != line.Sounds[i].Octave {
				return false
			}
		}
	}
	return true
}
