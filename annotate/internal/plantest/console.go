package plantest

import (
	"math/big"
	"slices"
	"strings"

	"stopgap/annotate/resolve"
	"stopgap/registry"
)

type organ = *registry.Organ

// sounding is a stop as it sounds from a keyboard.
type sounding struct {
	stop   *registry.Stop
	octave int
}

// hear works out what sounds from the keyboard when some knobs are out, by
// following the couplers from the keyboard outwards, one after another, until
// nothing new comes. The value tells which of the keys held it sounds from.
func hear(o organ, stops map[*registry.Stop]bool, couplers map[*registry.Coupler]bool, kb *registry.Keyboard) map[sounding]registry.CouplerNote {
	type place struct {
		division *registry.Division
		octave   int
		note     registry.CouplerNote
		coupled  bool
	}
	on := func(c *registry.Coupler) bool { return c.Permanent || couplers[c] }
	var open []place
	seen := map[place]bool{}
	add := func(p place) {
		if p.octave >= -3 && p.octave <= 3 && !seen[p] {
			seen[p] = true
			open = append(open, p)
		}
	}
	bring := func(to *registry.Keyboard, by place) {
		for _, c := range o.Couplers {
			if c.From == c.To || to == nil || c.To.Keyboard != to || !on(c) {
				continue
			}
			note := by.note
			if note == registry.EveryNote {
				note = c.Note
			}
			add(place{c.From, by.octave + c.Octave, note, true})
		}
	}
	for _, d := range o.Divisions {
		if d.Keyboard == kb {
			add(place{division: d})
		}
	}
	bring(kb, place{})
	for i := 0; i < len(open); i++ {
		if p := open[i]; p.coupled && o.CouplersCarry {
			bring(p.division.Keyboard, p)
		}
	}
	heard := map[sounding]registry.CouplerNote{}
	for _, p := range open {
		for _, shift := range shiftsOf(o, p.division, on) {
			for _, s := range p.division.Stops {
				if !stops[s] {
					continue
				}
				key := sounding{s, p.octave + shift}
				if note, ok := heard[key]; !ok || note != registry.EveryNote && p.note == registry.EveryNote {
					heard[key] = p.note
				}
			}
		}
	}
	return heard
}

// shiftsOf are the octaves at which a division sounds by its own couplers.
func shiftsOf(o organ, d *registry.Division, on func(*registry.Coupler) bool) []int {
	unison := true
	var shifts []int
	for _, c := range o.Couplers {
		if c.From == d && c.To == d && on(c) {
			if c.UnisonOff {
				unison = false
			} else {
				shifts = append(shifts, c.Octave)
			}
		}
	}
	if unison {
		shifts = append(shifts, 0)
	}
	return shifts
}

// ratio is where a stop of so many feet sounds against the key, octaves up:
// the key's 8′ pitch times 8/F. It is nil for a mixture without a pitch.
func ratio(feet string, octaves int) *big.Rat {
	if feet == "" {
		return nil
	}
	length := new(big.Rat)
	for part := range strings.FieldsSeq(feet) {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			return nil
		}
		length.Add(length, r)
	}
	out := new(big.Rat).Quo(big.NewRat(8, 1), length)
	for ; octaves > 0; octaves-- {
		out.Mul(out, big.NewRat(2, 1))
	}
	for ; octaves < 0; octaves++ {
		out.Mul(out, big.NewRat(1, 2))
	}
	return out
}

// hasKey reports whether a keyboard, or what speaks on it, goes to the key.
func hasKey(c registry.Compass, k registry.Key) bool {
	return c.Low <= k && k <= c.High && !slices.Contains(c.Missing, k)
}

// setting checks promises 1 and 2 of what is drawn and where it sounds.
func (c *checker) setting(s *resolve.Setting) {
	for st, out := range s.Drawn.Stops {
		if out && !c.hasStop(st) {
			c.say(1, "%s is not on the organ", st.Text)
		}
	}
	for k, on := range s.Drawn.Couplers {
		if on && !slices.Contains(c.organ.Couplers, k) {
			c.say(1, "the coupler %s is not on the organ", k.Text)
		}
	}
	for d, state := range s.Boxes {
		if !slices.Contains(c.organ.Divisions, d) || !d.Enclosed {
			c.say(1, "the box of the %s is %s, and it has none", d.Name, state)
		}
	}
	for _, d := range s.Tremulants {
		if !slices.Contains(c.organ.Tremulants, d) {
			c.say(1, "the %s has no tremulant", d.Name)
		}
	}
	for _, p := range s.Parts {
		if p.Host != nil && !slices.Contains(c.organ.Divisions, p.Host) {
			c.say(1, "the division %s is not on the organ", p.Host.Name)
		}
	}
	at := map[*registry.Keyboard]*resolve.Line{}
	for _, line := range s.Lines {
		if line.Keyboard == nil {
			if len(line.Sounds) > 0 {
				c.say(2, "the line %s has no keyboard and sounds", line.Asked.Line)
			}
			continue
		}
		if line.Keyboard != c.organ.Pedalboard && !slices.Contains(c.organ.Keyboards, line.Keyboard) {
			c.say(1, "the keyboard %s is not on the organ", line.Keyboard.Name)
		}
		c.sounds(s, line)
		if other := at[line.Keyboard]; other == nil {
			at[line.Keyboard] = line
		} else if names(other.Sounds) != names(line.Sounds) {
			c.say(2, "%s and %s play on the %s and sound otherwise: %s; %s", other.Asked.Line, line.Asked.Line, line.Keyboard.Name, names(other.Sounds), names(line.Sounds))
		}
	}
	for _, p := range s.Problems {
		for _, r := range p.Remedies {
			if r.Keyboard != nil && r.Keyboard != c.organ.Pedalboard && !slices.Contains(c.organ.Keyboards, r.Keyboard) {
				c.say(1, "a remedy for %s is played on the %s, which is not on the organ", p.Code, r.Keyboard.Name)
			}
			for _, x := range r.Sounds {
				if !c.hasStop(x.Stop) {
					c.say(1, "a remedy for %s has %s, which is not on the organ", p.Code, x.Stop.Text)
				}
			}
		}
	}
}

func (c *checker) hasStop(s *registry.Stop) bool {
	return slices.ContainsFunc(c.organ.Divisions, func(d *registry.Division) bool { return slices.Contains(d.Stops, s) })
}

// sounds compares what the plan says of a line with what the knobs bring.
func (c *checker) sounds(s *resolve.Setting, line *resolve.Line) {
	heard := hear(c.organ, s.Drawn.Stops, s.Drawn.Couplers, line.Keyboard)
	said := map[sounding]bool{}
	for _, x := range line.Sounds {
		key := sounding{x.Stop, x.Octave}
		if said[key] {
			c.say(2, "%s is said to sound twice for %s", x.Stop.Text, line.Asked.Line)
		}
		said[key] = true
		if note, ok := heard[key]; !ok || note != x.Note {
			c.say(2, "%s at octave %d is said to sound for %s from the %s, and does not", x.Stop.Text, x.Octave, line.Asked.Line, line.Keyboard.Name)
		}
		for _, k := range x.Via {
			if !k.Permanent && !s.Drawn.Couplers[k] {
				c.say(2, "%s is said to come by the coupler %s, which is off", x.Stop.Text, k.Text)
			}
		}
	}
	for key := range heard {
		if !said[key] {
			c.say(2, "%s at octave %d sounds for %s from the %s, and is not said to", key.stop.Text, key.octave, line.Asked.Line, line.Keyboard.Name)
		}
	}
}

func names(sounds []registry.Sound) string {
	var out []string
	for _, x := range sounds {
		name := x.Stop.Division.Name + " " + x.Stop.Text
		switch x.Octave {
		case 0:
		case 1:
			name += " an octave up"
		default:
			name += " at another octave"
		}
		out = append(out, name)
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// keys checks that each key of the line is on its keyboard, or flagged.
func (c *checker) keys(s *resolve.Setting, line *resolve.Line) {
	if len(line.Asked.Notes) == 0 {
		return
	}
	if line.Keyboard == nil {
		if !slices.ContainsFunc(s.Problems, func(p resolve.Problem) bool { return p.Line == line.Asked.Line }) {
			c.say(1, "%s has no keyboard, and nothing is said of it", line.Asked.Line)
		}
		return
	}
	for _, n := range line.Asked.Notes {
		key := n.Key + registry.Key(12*line.Octave)
		if hasKey(line.Keyboard.Compass, key) {
			continue
		}
		if !s.Passage.Contains(n.Struck.Onset) {
			continue // it was flagged where it was struck
		}
		flagged := slices.ContainsFunc(s.Problems, func(p resolve.Problem) bool {
			return p.Code == resolve.OffCompass && p.Line == line.Asked.Line && !n.Note.Onset.Less(p.From.Start) && !p.To.End.Less(n.Note.Onset)
		})
		if !flagged {
			c.say(1, "%s plays %v at %s, which is not on the %s, and it is not flagged", line.Asked.Line, key, n.Note.Onset, line.Keyboard.Name)
		}
	}
}
