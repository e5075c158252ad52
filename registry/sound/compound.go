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

// serves reports whether the row is for such stops.
func (r *compoundRow) serves(k stopname.Known) bool {
	switch r.of {
	case "any":
		return true
	case "compound":
		return k.Family == stopname.Mixture || k.Family == stopname.Cornet
	}
	return r.of == k.Family.String() || r.of == k.Subfamily
}

// composition is what a stop of several pitches is made of: the usual
// composition of its name for as many ranks as it has, beginning at the
// pitches of its lowest key where these are given. It is nil for a stop of
// one pitch.
func composition(k stopname.Known, name string, lowest []pitch.Feet) []Section {
	rows := known().compounds
	first := slices.IndexFunc(rows, func(r compoundRow) bool { return r.serves(k) && r.name.in(name) })
	if first < 0 {
		if len(lowest) > 0 {
			return []Section{{Ranks: lowest}}
		}
		return nil
	}
	head := rows[first]
	count := k.Ranks
	if count <= 0 {
		count = head.usual
	}
	start := longest(head.first(count))
	steps := 0
	if k.Family == stopname.Mixture && len(lowest) == 0 {
		steps = quintSteps(start, k.Pitch)
	}
	var sections []Section
	for _, row := range rows[first:] {
		if row.of != head.of || row.name != head.name {
			break
		}
		ranks := slices.Clone(row.first(count))
		if len(lowest) > 0 {
			ranks = slices.Clone(lowest)
			steps = quintSteps(start, longest(row.first(count)))
		}
		for i, feet := range ranks {
			ranks[i] = moveBySteps(feet, steps)
		}
		if k.Family == stopname.Cornet && len(lowest) == 0 {
			ranks = cornetAt(ranks, k.Pitch)
		}
		sections = append(sections, Section{From: row.from, Ranks: ranks})
	}
	return sections
}

// first are the ranks of a stop that has count of them.
func (r *compoundRow) first(count int) []pitch.Feet {
	return r.ranks[:min(count, len(r.ranks))]
}

func longest(ranks []pitch.Feet) pitch.Feet { return slices.MaxFunc(ranks, pitch.Feet.Cmp) }

// cornetAt makes a cornet begin at a pitch: one of 16′ stands an octave lower
// than usual, one of less than 8′ lacks the longer ranks.
func cornetAt(ranks []pitch.Feet, at pitch.Feet) []pitch.Feet {
	if at.IsZero() {
		return ranks
	}
	var out []pitch.Feet
	for _, feet := range ranks {
		switch {
		case at.Cmp(pitch.Foot(16)) >= 0:
			out = append(out, feet.Octaves(-1))
		case feet.Cmp(at) <= 0:
			out = append(out, feet)
		}
	}
	if len(out) == 0 {
		return ranks
	}
	return out
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
