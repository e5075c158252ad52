package registry

import (
	"cmp"
	"slices"

	"stopgap/registry/pitch"
)

// Drawn is the state of the console: the knobs that are out. A permanent
// coupler acts whether it stands in Couplers or not.
type Drawn struct {
	Stops    map[*Stop]bool
	Couplers map[*Coupler]bool
}

// A Sound is one stop as it sounds from a keyboard.
type Sound struct {
	Stop   *Stop
	Octave int         // how far couplers move it, in octaves
	Via    []*Coupler  // the couplers that bring it, from the keyboard outwards; none for its own
	Note   CouplerNote // which of the keys held it sounds from
}

// Ratio is where the stop sounds against the key that is pressed: 8′ through
// an octave coupler is 2. It is zero for a mixture of open pitch.
func (s Sound) Ratio() pitch.Ratio { return s.Stop.Pitch.Ratio().Octaves(s.Octave) }

// Sounding is what sounds from a keyboard: the stops drawn on its own
// divisions, and those of every division coupled to it, each at its coupler's
// octave. Octave, Sub Octave and Unison Off belong to their division and hold
// for every keyboard that it is coupled to. Where couplers carry on, so do
// those to the keyboard that another takes from.
//
// Each stop stands at most once at each octave, by the shortest way, in the
// order of divisions and knobs and from the lowest octave up.
func (o *Organ) Sounding(d Drawn, kb *Keyboard) []Sound {
	var sounds []Sound
	at := map[soundKey]int{}
	for _, r := range o.reached(d, kb) {
		for _, oct := range o.octavesOf(r.division, d) {
			via := r.via
			if oct.coupler != nil {
				via = append(slices.Clone(via), oct.coupler)
			}
			for _, s := range r.division.Stops {
				if !d.Stops[s] {
					continue
				}
				sound := Sound{Stop: s, Octave: r.octave + oct.octave, Via: via, Note: r.note}
				key := soundKey{s, sound.Octave}
				if i, ok := at[key]; ok {
					if sounds[i].Note != EveryNote && sound.Note == EveryNote {
						sounds[i] = sound
					}
					continue
				}
				at[key] = len(sounds)
				sounds = append(sounds, sound)
			}
		}
	}
	order := map[*Stop]int{}
	for _, division := range o.Divisions {
		for _, s := range division.Stops {
			order[s] = len(order)
		}
	}
	slices.SortStableFunc(sounds, func(a, b Sound) int {
		return cmp.Or(cmp.Compare(order[a.Stop], order[b.Stop]), cmp.Compare(a.Octave, b.Octave))
	})
	return sounds
}

type soundKey struct {
	stop   *Stop
	octave int
}

// A reach is a division that sounds from a keyboard.
type reach struct {
	division *Division
	octave   int
	via      []*Coupler
	note     CouplerNote
}

// farthest bounds how far a chain of octave couplers goes: beyond three
// octaves no pipe is left.
const farthest = 3

// reached lists the divisions that sound from the keyboard, nearest first.
func (o *Organ) reached(d Drawn, kb *Keyboard) []reach {
	var all []reach
	type place struct {
		division *Division
		octave   int
		note     CouplerNote
	}
	seen := map[place]bool{}
	visit := func(r reach) {
		p := place{r.division, r.octave, r.note}
		if !seen[p] && r.octave <= farthest && r.octave >= -farthest {
			seen[p] = true
			all = append(all, r)
		}
	}
	if kb == nil {
		return nil
	}
	for _, division := range o.Divisions {
		if division.Keyboard == kb {
			visit(reach{division: division})
		}
	}
	o.couple(d, kb, reach{}, visit)
	for i := 0; i < len(all) && o.CouplersCarry; i++ {
		if r := all[i]; len(r.via) > 0 {
			o.couple(d, r.division.Keyboard, r, visit)
		}
	}
	return all
}

// couple visits what the couplers to a keyboard bring, by way of from.
func (o *Organ) couple(d Drawn, kb *Keyboard, from reach, visit func(reach)) {
	for _, c := range o.Couplers {
		if c.Within() || kb == nil || c.To.Keyboard != kb || !(c.Permanent || d.Couplers[c]) {
			continue
		}
		note := from.note
		if note == EveryNote {
			note = c.Note
		}
		visit(reach{c.From, from.octave + c.Octave, append(slices.Clone(from.via), c), note})
	}
}

// A shift is an octave at which a division sounds, and the coupler for it.
type shift struct {
	octave  int
	coupler *Coupler
}

// octavesOf are the octaves at which a division sounds by its own couplers.
func (o *Organ) octavesOf(division *Division, d Drawn) []shift {
	shifts := []shift{{}}
	for _, c := range o.Couplers {
		if c.From != division || !c.Within() || !(c.Permanent || d.Couplers[c]) {
			continue
		}
		if c.UnisonOff {
			shifts = slices.DeleteFunc(shifts, func(s shift) bool { return s.coupler == nil })
		} else {
			shifts = append(shifts, shift{c.Octave, c})
		}
	}
	return shifts
}

// PipeOf is the pipe of the stop, named by the key of the stop's own division
// that it belongs to, that speaks when key k of the keyboard is pressed. ok is
// false where none does: the key is not there, the stop does not go so far, an
// octave coupler has run out at the end of the chest, or a carried coupler
// meets a keyboard that lacks the key.
func (s Sound) PipeOf(kb *Keyboard, k Key) (pipe Key, ok bool) {
	if !kb.Compass.Has(k) {
		return 0, false
	}
	for i, c := range s.Via {
		k += Key(12 * c.Octave)
		between := !c.Within() && i+1 < len(s.Via) && !s.Via[i+1].Within()
		if between && c.From.Keyboard != nil && !c.From.Keyboard.Compass.Has(k) {
			return 0, false
		}
	}
	return k, s.Stop.HasPipe(k)
}

// HasPipe reports whether the stop has a pipe for the key: on its compass, or
// above it where the chest has pipes for octave couplers.
func (s *Stop) HasPipe(k Key) bool {
	if k <= s.Compass.High {
		return s.Compass.Has(k)
	}
	return int(k-s.Compass.High) <= s.Pipes-s.Compass.Keys()
}

// RatioAt is where the stop sounds against key k when k is pressed, and
// whether it sounds at all.
func (s Sound) RatioAt(kb *Keyboard, k Key) (pitch.Ratio, bool) {
	if _, ok := s.PipeOf(kb, k); !ok {
		return pitch.Ratio{}, false
	}
	return s.Ratio(), true
}
