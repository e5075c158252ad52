package musicxml

// A lineKey tells lines of one kind apart that are open at the same time.
type lineKey struct{ staff, number int }

// pairLines finds where octave lines and hairpins end. One that does not end
// goes on to the next of its number, or to the end of the part.
func (p *Part) pairLines() {
	end := Time{}
	if n := len(p.Measures); n > 0 {
		end = p.Measures[n-1].End
	}
	shifts, hairpins := map[lineKey]int{}, map[lineKey]int{}
	for _, d := range p.Directions {
		if s := d.Shift; s != nil {
			key := lineKey{d.Staff, s.Number}
			if i, open := shifts[key]; open && s.Type != "continue" {
				p.OctaveShifts[i].End = d.Time
				delete(shifts, key)
			}
			if s.Type == "up" || s.Type == "down" {
				shifts[key] = len(p.OctaveShifts)
				p.OctaveShifts = append(p.OctaveShifts, OctaveShift{Staff: d.Staff, Type: s.Type, Size: s.Size, Number: s.Number, Start: d.Time, End: end, Direction: d})
			}
		}
		for _, w := range d.Wedges {
			key := lineKey{d.Staff, w.Number}
			if _, open := hairpins[key]; !open && w.Type == "stop" {
				key = otherStaff(hairpins, key)
			}
			if i, open := hairpins[key]; open && w.Type != "continue" {
				p.Hairpins[i].End = d.Time
				delete(hairpins, key)
			}
			if w.Type == "crescendo" || w.Type == "diminuendo" {
				hairpins[key] = len(p.Hairpins)
				p.Hairpins = append(p.Hairpins, Hairpin{Staff: d.Staff, Type: w.Type, Number: w.Number, Start: d.Time, End: end, Direction: d})
			}
		}
	}
}

// otherStaff finds an open line of the same number on another staff, the
// highest one: a line that is drawn between two staves may start with one and
// stop with the other.
func otherStaff(open map[lineKey]int, key lineKey) lineKey {
	best := key
	for k := range open {
		if k.number == key.number && (best == key || k.staff < best.staff) {
			best = k
		}
	}
	return best
}
