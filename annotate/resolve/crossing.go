package resolve

import "stopgap/annotate/passage"

// crossing adds what it costs that a manual is coupled to the pedal, unasked,
// while its own line comes down to the keys of the feet: where both press one
// key, one of them is not heard (organ teaching, Brigham Young University: Great
// to Pedal only where no pedal note meets or crosses the lowest manual notes).
func (d *desk) crossing(t *trial) {
	for i, p := range t.parts {
		for n := range p.Picks {
			j := p.Picks[n].Joined
			if j == nil {
				continue
			}
			for q := range d.lines {
				if part := d.lines[q].part; part >= 0 && t.parts[part].Host == j.From && d.meet(i, q) {
					t.cost += costCrossing
				}
			}
			break // one coupler crosses once, whatever it is for
		}
	}
}

// meet reports whether a line comes down to the keys of those that play on what
// is asked as number i.
func (d *desk) meet(i, line int) bool {
	key := [2]int{i, line}
	known, ok := d.meets[key]
	if !ok {
		for _, l := range d.lines {
			known = known || l.part == i && comesDown(l.played.Notes, d.lines[line].played.Notes)
		}
		if d.meets == nil {
			d.meets = map[[2]int]bool{}
		}
		d.meets[key] = known
	}
	return known
}

// comesDown reports whether a key of the lower line lies at or above one of the
// upper line that sounds at the same time. Both are in time order.
func comesDown(lower, upper []passage.Pressed) bool {
	from := 0
	for _, a := range lower {
		for from < len(upper) && !a.Note.Onset.Less(upper[from].Note.End()) {
			from++
		}
		for _, b := range upper[from:] {
			if !b.Note.Onset.Less(a.Note.End()) {
				break
			}
			if a.Key >= b.Key && a.Note.Onset.Less(b.Note.End()) {
				return true
			}
		}
	}
	return false
}
