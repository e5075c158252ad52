package sound

import (
	"slices"

	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// A Section is what a compound stop is made of from a key upwards, until its
// next section begins: where it does, the stop breaks.
type Section struct {
	From  int // key, 60 is middle C
	Ranks []pitch.Feet
}

// serves reports whether the row is for stops of the family.
func (r *compoundRow) serves(f stopname.Family) bool {
	switch r.family {
	case "any":
		return true
	case "compound":
		return f == stopname.Mixture || f == stopname.Cornet
	}
	return r.family == f.String()
}

// composition is what a stop of several pitches is made of: the usual
// composition of its name for as many ranks as it has. It is nil for a stop
// of one pitch.
func composition(k stopname.Known, name string) []Section {
	rows := known().compounds
	first := slices.IndexFunc(rows, func(r compoundRow) bool { return r.serves(k.Family) && r.name.in(name) })
	if first < 0 {
		return nil
	}
	head := rows[first]
	count := k.Ranks
	if count <= 0 {
		count = head.usual
	}
	steps := 0
	if k.Family == stopname.Mixture {
		steps = quintSteps(slices.MaxFunc(head.first(count), pitch.Feet.Cmp), k.Pitch)
	}
	var sections []Section
	for _, row := range rows[first:] {
		if row.family != head.family || row.name != head.name {
			break
		}
		ranks := slices.Clone(row.first(count))
		for i, feet := range ranks {
			ranks[i] = moveBySteps(feet, steps)
		}
		sections = append(sections, Section{From: row.from, Ranks: ranks})
	}
	return sections
}

// first are the ranks of a stop that has count of them.
func (r *compoundRow) first(count int) []pitch.Feet {
	return r.ranks[:min(count, len(r.ranks))]
}

// quintRow are the pitches of mixtures of octaves and fifths, upwards.
var quintRow = []pitch.Feet{
	pitch.Foot(16), pitch.FeetOf(32, 3), pitch.Foot(8), pitch.FeetOf(16, 3), pitch.Foot(4), pitch.FeetOf(8, 3), pitch.Foot(2), pitch.FeetOf(4, 3),
	pitch.Foot(1), pitch.FeetOf(2, 3), pitch.FeetOf(1, 2), pitch.FeetOf(1, 3), pitch.FeetOf(1, 4), pitch.FeetOf(1, 6), pitch.FeetOf(1, 8),
}

// quintSteps counts the steps of the row of octaves and fifths from one pitch
// to another, upwards; 0 where either does not stand in it.
func quintSteps(from, to pitch.Feet) int {
	i, j := slices.Index(quintRow, from), slices.Index(quintRow, to)
	if i < 0 || j < 0 {
		return 0
	}
	return j - i
}

// moveBySteps moves a pitch along the row; thirds and sevenths stay.
func moveBySteps(feet pitch.Feet, steps int) pitch.Feet {
	i := slices.Index(quintRow, feet)
	if i < 0 {
		return feet
	}
	return quintRow[max(0, min(i+steps, len(quintRow)-1))]
}
