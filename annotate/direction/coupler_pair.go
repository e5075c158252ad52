package direction

import (
	"slices"
	"strings"

	"stopgap/registry/division"
)

// A way says how two divisions are joined in the text.
type way uint8

const (
	noWay    way = iota
	directed     // "Sw. to Gt.": the first sounds on the second
	usual        // "Gt. coupled to Sw.": the lesser on the greater
)

// usualCoupler orders two divisions as they are usually coupled: to the pedal,
// or the lesser division on the keys of the greater.
func usualCoupler(a, b division.Role) (from, to division.Role) {
	if rank(a) < rank(b) {
		return b, a
	}
	return a, b
}

// joint reads what joins two divisions into a coupler; next is 0 where
// nothing does. octaves are those that the words in between give.
func (r *reader) joint(i int) (w way, octaves []int, next int) {
	if r.is(i, classOctave) || r.is(i, classOctaveCoupler) {
		octaves = r.octaveValues(i)
		i++
	}
	coupled := r.is(i, classCoupled)
	if coupled {
		i++
	}
	switch {
	case r.is(i, classTo), r.could(i, classTo) && (r.isRoman(i-1) || r.is(i-1, classDivision) || r.is(i-1, classManual)) && (r.isRoman(i+1) || r.is(i+1, classDivision) || r.is(i+1, classManual) && r.manualNumber(i+2) > 0), coupled && (r.is(i, classAt) || r.is(i, classWith) || r.is(i, classOf)):
		i = r.skip(i + 1)
		if coupled {
			return usual, octaves, i
		}
		return directed, octaves, i
	case coupled:
		return usual, octaves, i
	case r.is(i, classOf) && r.uncoupling:
		return directed, octaves, r.skip(i + 1) // "uncouple Sw. from Gt."
	case r.mark(i) == markSlash && !r.isRoman(i-1) && !r.isRoman(i+1):
		return usual, octaves, i + 1 // "G/R" and "R/G" are the same coupler
	case r.mark(i) == markArrow, r.mark(i) == markSlash:
		return directed, octaves, i + 1
	case r.mark(i) == markHyphen, r.mark(i) == markLongDash:
		return usual, octaves, i + 1
	case r.is(i, classAt) && r.lang == "fr" && r.at(i).token.text == "sur":
		return directed, octaves, r.skip(i + 1)
	}
	return noWay, nil, 0
}

// octaveValues are the octaves of an octave word: 4 is 1, 16 is -1.
func (r *reader) octaveValues(i int) []int {
	v := r.value(i, classOctaveCoupler)
	if v == "" {
		v = r.value(i, classOctave)
	}
	var octaves []int
	for _, p := range splitWords(v) {
		octaves = append(octaves, octaveOf(p))
	}
	return octaves
}

func octaveOf(p string) int {
	switch p {
	case "4":
		return 1
	case "16":
		return -1
	}
	return 0
}

// A coupling is a coupler, or several, that one construction names.
type coupling struct {
	from, to  []division.Role
	literal   bool // in the order written
	bare      bool // nothing but a "coupled"
	noun      bool // of a word for a coupler
	octaves   []int
	next      int
	statement []Statement
}

// pair reads "A to B", with lists on either side.
func (r *reader) pair(i int) (c coupling, ok bool) {
	manuals := false
	from, _, next := r.divisionList(i, true)
	switch {
	case len(from) > 0:
	case r.is(r.skip(i), classManuals):
		from, manuals, next = []division.Role{division.Every}, true, r.skip(i)+1
	case r.is(r.skip(i), classManual):
		from, manuals, next = []division.Role{division.None}, true, r.skip(i)+1
	default:
		return c, false
	}
	w, octaves, after := r.joint(next)
	if w == noWay || from[0] == division.Solo && r.is(next, classAt) {
		return c, false // "Solo au Récit" is no coupler
	}
	if to, end := r.bothTargets(from, after); len(to) > 0 {
		return coupling{from: from[len(from)-1:], to: to, literal: true, octaves: octaves, next: end}, true
	}
	to, end := r.targets(after)
	if len(to) == 0 {
		return c, false
	}
	if manuals && to[0] != division.Pedal {
		return c, false
	}
	if _, first := r.divisionAt(i); len(from) > 1 && from[0] == to[0] && r.mark(first) == markComma {
		return c, false // "Positif, Récit accouplé au Pos.": the first is where to play
	}
	for _, d := range append(append([]division.Role{}, from...), to...) {
		if len(from)+len(to) == 2 && from[0] == to[0] && d == from[0] && len(octaves) == 0 {
			return c, false
		}
	}
	return coupling{from: from, to: to, literal: w == directed, octaves: octaves, next: end}, true
}

// targets reads the divisions after "to"; the last one is left where another
// coupler begins with it.
func (r *reader) targets(i int) ([]division.Role, int) {
	i = r.skip(i)
	if r.is(i, classManuals) {
		return []division.Role{division.Every}, i + 1
	}
	first, next := r.namedDivision(i, false)
	if len(first) == 0 {
		return nil, i
	}
	to := first
	for range maxList {
		j := next
		if !r.joins(j) {
			break
		}
		more, after := r.divisionAt(r.skip(j+1, classTo))
		if len(more) == 0 || r.voicesFollow(after) || r.mark(after) == markColon {
			break
		}
		if w, _, _ := r.joint(after); w != noWay {
			break
		}
		to, next = append(to, more...), after
	}
	return to, next
}

// bothTargets are the two divisions that "both" at i means in "Gt. Diaps., Ch.
// Flute 8, Sw. coupled to both": the manuals named last before the division
// that is coupled, which is the last of from.
func (r *reader) bothTargets(from []division.Role, i int) (to []division.Role, next int) {
	next = i + 1
	if !r.is(i, classHand) || r.value(i, classHand) != string(Both) {
		return nil, i
	}
	if r.is(next, classManuals) || r.is(next, classManual) {
		next++
	}
	if !r.ends(next) {
		return nil, i
	}
	for k := max(0, len(r.out)-maxList); k < len(r.out); k++ {
		for _, st := range r.out[k].statements {
			to = append(to, st.Division)
		}
	}
	if r.clause != nil {
		to = append(to, r.clause.lead...)
	}
	to = append(to, from[:len(from)-1]...)
	var named []division.Role
	for _, d := range to {
		if d != division.None && d != division.Every && d != division.Pedal && d != from[len(from)-1] {
			named = append(slices.DeleteFunc(named, func(old division.Role) bool { return old == d }), d)
		}
	}
	if len(named) < 2 {
		return every, next // "Sw. coupled to both manuals"
	}
	return named[len(named)-2:], next
}

// startsPair reports whether a coupler of two divisions stands at i.
func (r *reader) startsPair(i int) bool {
	_, ok := r.pair(i)
	return ok
}

func (c coupling) target() division.Role {
	if len(c.to) == 0 {
		return division.None
	}
	return c.to[0]
}

var (
	every   = []division.Role{division.Every}
	unnamed = []division.Role{division.None}
)

// coupledTogether couples all of several divisions to the greatest of them.
func coupledTogether(roles []division.Role, next int) coupling {
	main := greatest(roles)
	c := coupling{to: []division.Role{main}, literal: true, next: next}
	for _, d := range roles {
		if d != main {
			c.from = append(c.from, d)
		}
	}
	return c
}

// statements are the couplers one by one.
func (c coupling) statements(verb Verb) []Statement {
	if len(c.statement) > 0 {
		return c.statement
	}
	octaves := c.octaves
	if len(octaves) == 0 {
		octaves = []int{0}
	}
	var all []Statement
	for _, to := range c.to {
		for _, from := range c.from {
			a, b := from, to
			if a == division.Pedal || !c.literal && b != division.None && b != division.Every && a != division.Every {
				a, b = usualCoupler(a, b)
			}
			if b == division.None && a == division.Pedal {
				a, b = division.None, division.Pedal
			}
			if a == b && len(c.from)+len(c.to) > 2 && len(c.octaves) == 0 {
				continue // "Gt. and Sw. coupled to Gt."
			}
			for _, o := range octaves {
				all = append(all, Statement{Verb: verb, Division: a, To: b, Octave: o})
			}
		}
	}
	return all
}

// splitWords splits at spaces.
func splitWords(s string) []string { return strings.Fields(s) }
