package direction

import (
	"stopgap/registry/pitch"
)

// pastRanks passes over the number of ranks of a mixture: "IV", "3-4 fach",
// "III rgs", and the number of a stop that there are two of: "No. 1".
func (r *reader) pastRanks(i int) int {
	if r.endsSentence(i - 1) {
		return i
	}
	j := i
	for j < i+3 && (r.isRoman(j) && !r.is(j, classDivision) || r.at(j).number && r.feetAt(j).IsZero() && len(r.at(j).token.text) == 1 || romanRanks[r.at(j).token.text] && r.at(j).mark == "") {
		j++
		if r.is(j, classRanks) {
			return j + 1
		}
		if r.mark(j) != markHyphen && r.mark(j) != markLongDash {
			// A Roman number that a list or a colon follows is a manual.
			if r.at(i).number || r.voicesFollow(j) || r.mark(j) == markColon || r.coupledBy(j) {
				return i
			}
			return j
		}
		j++
	}
	return i
}

var romanRanks = map[string]bool{"vi": true, "vii": true, "viii": true, "ix": true, "x": true}

// pitchesAt reads pitches that are joined by commas, "and", dots or nothing.
// leading is set where a name may follow that they belong to.
func (r *reader) pitchesAt(i int, leading bool) (feet []pitch.Feet, next int) {
	feet, next = []pitch.Feet{r.feetAt(i)}, i+1
	for {
		j := next
		dash := false
		switch {
		case r.joins(j), r.mark(j) == markComma && !r.joins(j+1), r.mark(j) == markSlash:
			j = r.skip(j+1, classOf)
		case r.mark(j) == markComma && r.joins(j+1):
			j = r.skip(j+2, classOf)
		case r.mark(j) == markHyphen, r.mark(j) == markLongDash:
			j, dash = j+1, true
		}
		f := r.feetAt(j)
		if f.IsZero() || r.isVersed(j) || r.mark(next) == markComma && r.isCouplerPitch(j) {
			return feet, next
		}
		if after := r.skip(j+1, classStrength); !leading && r.nameAt(after) && r.mark(j-1) != "" && r.namePrefixed(after) && r.at(j).token.marked && !r.endsSentence(j) {
			return feet, next
		}
		if dash {
			feet = append(feet, octavesBetween(feet[len(feet)-1], f)...)
		}
		feet, next = append(feet, f), j+1
	}
}

// isVersed reports whether the number at i belongs to the word after it.
func (r *reader) isVersed(i int) bool {
	return (r.is(i+1, classRanks) || r.is(i+1, classManual)) && !r.endsSentence(i)
}

// octavesBetween are the octaves that a range such as "8–2" leaves out.
func octavesBetween(from, to pitch.Feet) (feet []pitch.Feet) {
	for f := from.Octaves(1); f.Cmp(to) > 0 && len(feet) < 6; f = f.Octaves(1) {
		feet = append(feet, f)
	}
	return feet
}
