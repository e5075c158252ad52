package direction

import (
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// couplerTarget is the division on whose keys a coupler sounds that names
// only what is coupled: the one that the text is about.
func (r *reader) couplerTarget() division.Role {
	named := r.clause != nil && r.clause.named && !r.gap.semicolon // "Fonds 8 au G.O., R. accouplé"
	if len(r.scope) == 1 && (!r.scopeWeak || named) && !r.gap.line {
		return r.scope[0]
	}
	return division.None
}

// readCoupler reads one coupler or several.
func (r *reader) readCoupler() bool {
	i := r.i
	verb := Couple
	if r.verb == Off || r.limit {
		verb = Uncouple
	}
	commanded := false
	switch {
	case r.is(i, classUncouple):
		verb, commanded, r.uncoupling = Uncouple, true, true
		i = r.skip(i + 1)
	case r.is(i, classCouple):
		commanded = true
		i = r.skip(i + 1)
	}
	c, ok := r.couplingAt(i, commanded, &verb)
	r.uncoupling = false
	if !ok && commanded && verb == Couple && r.is(i, classTo) {
		if to, next := r.targets(i + 1); len(to) > 0 {
			c, ok = coupling{from: unnamed, to: to, literal: true, next: next}, true // "couple to Great"
		}
	}
	if !ok && commanded && !r.is(r.i, classExpression) && (r.ends(i) || r.is(r.i, classUncouple)) {
		c, ok = coupling{from: every, to: unnamed, literal: true, bare: true, next: i}, true
	}
	if !ok {
		return false
	}
	next := r.couplerOctaves(&c)
	stated := next
	next = r.couplerState(next, &verb)
	if stated != next && verb == Uncouple && r.gap == (gap{and: true}) {
		r.uncoupleBefore() // "Gt. to Ped. and Sw. to Ped. off"
	}
	statements := c.statements(verb)
	var e *entry
	if r.head != nil && r.hangsCoupler(statements) {
		e = r.head.entry
		r.head = nil
		e.statements = statements
		r.rest(e, r.i, next)
	} else {
		if r.head != nil {
			r.closeHead()
		}
		if r.hasItems() && c.target() == division.None && r.gap.line {
			r.closeClause()
		}
		e = r.emit(r.i, next, statements...)
	}
	e.strong = e.strong || !c.bare
	e.coupler = !commanded && stated == next && verb == Couple && !r.with
	if r.with {
		r.verb, r.with = "", false
	}
	if len(c.to) == 1 && !c.noun && c.to[0] != division.None && c.to[0] != division.Every && r.mark(next) == "" && r.nameAt(r.skip(next)) {
		r.closeClause() // "coupled to Gt. Diaps.": the stops are the Great's
		r.scope, r.scopeWeak = c.to, false
	}
	r.take(next)
	r.closeSentence(next)
	return true
}

// uncoupleBefore takes off the coupler that was named just before with no word
// of its own, and with "and" before the next.
func (r *reader) uncoupleBefore() {
	if n := len(r.out); n > 0 && r.out[n-1].coupler {
		for i := range r.out[n-1].statements {
			r.out[n-1].statements[i].Verb = Uncouple
		}
	}
}

// hangsCoupler reports whether couplers say what the division named just
// before them is for, so that it asks for nothing else: "Péd. Tirasse R.".
func (r *reader) hangsCoupler(statements []Statement) bool {
	if r.gap.comma || r.gap.line || r.gap.open || r.gap.semicolon || r.gap.with || len(r.head.divisions) != 1 {
		return false
	}
	for _, s := range statements {
		if s.To != r.head.divisions[0] || s.To != division.Pedal && s.Division != s.To {
			return false
		}
	}
	return true
}

// couplingAt reads a coupler from its first word on, its verb apart.
func (r *reader) couplingAt(i int, commanded bool, verb *Verb) (coupling, bool) {
	all := false
	j := r.skip(i)
	if r.is(j, classAll) {
		all = true
		j = r.skip(j + 1)
	}
	if r.hasItems() && r.gap == (gap{at: true}) {
		if _, after := r.divisionAt(j); r.mark(after) == markComma {
			return coupling{}, false // "Fonds 8 au G.O., R. accouplé": the first is where the stops are
		}
	}
	switch {
	case r.isCouplerPitch(j):
		return r.couplersByPitch(j)
	case r.is(j, classCoupler):
		return r.couplerNoun(j, all, verb)
	case r.is(j, classManualCoupling):
		return coupling{from: every, to: unnamed, literal: true, next: j + 1}, true
	case r.is(j, classPedalCoupler):
		c, ok := r.pedalCoupler(j, verb)
		c.noun = true
		return c, ok
	case r.is(j, classOctaveCoupler), r.is(j, classOctave):
		if c, ok := r.octaveCoupler(j); ok {
			return c, true
		}
	case r.is(j, classManuals):
		if c, ok := r.pair(j); ok {
			return c, true
		}
		if r.is(j+1, classCoupled) || commanded {
			return coupling{from: every, to: unnamed, literal: true, next: j + 1 + b2i(r.is(j+1, classCoupled))}, true
		}
		if r.is(j+1, classUncoupled) {
			*verb = Uncouple
			return coupling{from: every, to: unnamed, literal: true, next: j + 2}, true
		}
	case r.is(j, classRole) && r.could(j, classCoupled) && r.startsPair(j+1):
		return r.pair(j + 1) // "Acc. II/I"
	case r.is(j, classCoupled), r.is(j, classUncoupled):
		return r.coupledAlone(j, verb)
	}
	if c, ok := r.pair(i); ok {
		return c, true
	}
	return r.coupledList(i, commanded, verb)
}

// isCouplerPitch reports whether pitches that a word for couplers follows stand
// at i: "16 & 4 ft. couplers".
func (r *reader) isCouplerPitch(i int) bool {
	for n := 0; n < maxList && octaveFeet[r.feetAt(i)]; n++ {
		if i++; r.is(i, classCoupler) {
			return true
		}
		if r.joins(i) || r.mark(i) == markComma {
			i++
		}
	}
	return false
}

// couplersByPitch reads the couplers of a division upon itself that are called
// by their pitches only.
func (r *reader) couplersByPitch(i int) (coupling, bool) {
	feet, after := r.pitchesAt(i, true)
	if !r.is(after, classCoupler) {
		return coupling{}, false
	}
	on := []division.Role{r.couplerTarget()}
	c := coupling{from: on, to: on, literal: true, next: after + 1}
	for _, f := range feet {
		c.octaves = append(c.octaves, octaveOf(f.String()))
	}
	return c, true
}

// couplerOctaves reads the octaves that stand after a coupler: "8, 4",
// "Sub and Super", and a "coupled" that says it again.
func (r *reader) couplerOctaves(c *coupling) (next int) {
	next = c.next
	if len(c.statement) > 0 {
		return next
	}
	if r.is(next, classCoupler) {
		next++
	}
	if r.is(next, classCoupled) && len(c.to) > 0 && !r.coupledToMore(next) {
		next++
		c.literal = false
	}
	if r.mark(next) == markOpen && octaveFeet[r.feetAt(next+1)] {
		if feet, after := r.pitchesAt(next+1, true); r.mark(after) == markClose {
			for _, f := range feet { // "Sw. to Gt. (8, 4)"
				c.octaves = append(c.octaves, octaveOf(f.String()))
			}
			return after + 1
		}
	}
	for {
		j := next
		if r.joins(j) && !c.noun || (r.mark(j) == markComma || r.mark(j) == markHyphen || r.mark(j) == markLongDash || r.mark(j) == markSlash) && len(c.octaves) > 0 {
			j++
		}
		if r.is(j, classOctave) || r.is(j, classOctaveCoupler) {
			if r.is(j+1, classTo) || r.startsPair(r.skip(j+1, classOf)) {
				return next
			}
			c.octaves = append(c.octaves, r.octaveValues(j)...)
			next = j + 1
			if r.is(next, classCoupler) {
				next++
			}
			continue
		}
		f := r.feetAt(j)
		if !octaveFeet[f] || j != next && len(c.octaves) == 0 {
			return next
		}
		if after := r.skip(j + 1); r.nameAt(after) && r.mark(after) == "" {
			return next
		}
		c.octaves = append(c.octaves, octaveOf(f.String()))
		next = j + 1
	}
}

// octaveFeet are the lengths by which couplers are called.
var octaveFeet = map[pitch.Feet]bool{pitch.Foot(16): true, pitch.Foot(8): true, pitch.Foot(4): true}

// coupledToMore reports whether "coupled" at i goes on to another division.
func (r *reader) coupledToMore(i int) bool {
	w, _, next := r.joint(i)
	return w != noWay && next > i+1
}

// couplerState reads "on", "off", "in" after a coupler.
func (r *reader) couplerState(i int, verb *Verb) (next int) {
	switch {
	case r.is(i, classOff) && r.value(i, classOff) != "pre" && !r.voicesFollow(r.skip(i+1)):
		*verb = Uncouple
		return i + 1
	case r.is(i, classUncoupled):
		*verb = Uncouple
		return i + 1
	case r.is(i, classIn) && r.ends(i+1):
		*verb = Uncouple
		return i + 1
	case r.is(i, classOn) && !r.divisionFollows(i+1), r.is(i, classAdd) && r.value(i, classAdd) != "pre" && r.ends(i+1),
		r.is(i, classSet) && r.ends(i+1):
		return i + 1
	}
	return i
}
