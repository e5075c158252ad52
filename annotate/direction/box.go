package direction

import (
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// enclosable reports whether a division can stand in a swell box by itself:
// the main manual and the pedal hardly do.
func enclosable(d division.Role) bool {
	return d != division.None && d != division.Every && d != division.Great && d != division.Pedal && d.Number() != 1
}

// boxScope is the division whose box a text means that does not name it.
func (r *reader) boxScope() division.Role {
	if len(r.scope) > 0 && enclosable(r.scope[len(r.scope)-1]) {
		return r.scope[len(r.scope)-1]
	}
	for i := len(r.out) - 1; i >= 0 && i >= len(r.out)-3; i-- {
		for _, s := range r.out[i].statements {
			if s.Verb == Couple && s.Division == division.Swell {
				return s.Division
			}
		}
	}
	return division.None
}

// readBox reads where a swell box stands or which way it goes.
func (r *reader) readBox() bool {
	i := r.i
	gradual := false
	for i < r.i+maxSkip && r.is(i, classGradual) && !r.is(i, classBoxVerb) && !r.at(i).dot {
		gradual = true
		i++
	}
	state, where, next := "", []division.Role(nil), 0
	switch {
	case r.is(r.skip(i), classBox):
		where, state, next = r.boxNoun(r.skip(i))
	case r.is(i, classBoxVerb) && !(r.gap.open && r.stateAt(i) > 0 && r.boxBefore(i)): // but "Sw. (shut)"
		where, state, next = r.boxVerb(i)
	case r.stateAt(i) > 0 && r.boxBefore(i):
		state, next = r.boxState(i)
	default:
		if roles, _, after := r.divisionList(i, false); len(roles) > 0 {
			where, state, next = r.divisionBox(roles, after)
		}
	}
	if next == 0 || state == "" {
		return false
	}
	if r.is(next, classGradual) {
		gradual = true
		next++
	}
	if gradual {
		state = moving(state)
	}
	if len(where) == 0 {
		where = []division.Role{r.boxScope()}
	} else if len(r.scope) == 0 {
		r.scope, r.scopeWeak = where, true
	}
	if r.head != nil && !r.hang() {
		if after := next + 1; r.gap.open && r.mark(next) == markClose && (r.voicesFollow(after) || r.mark(after) == markColon && r.voicesFollow(after+1)) {
			r.head = nil // "Sw. (shut) Strings": the stops hang on it
		} else {
			r.closeHead()
		}
	}
	var statements []Statement
	for _, d := range where {
		statements = append(statements, Statement{Verb: Box, Division: d, State: state})
	}
	e := r.emit(r.i, next, statements...)
	e.strong = true
	if r.with {
		r.verb, r.with = "", false
	}
	r.take(next)
	r.closeSentence(next)
	return true
}

// moving is the state of a box on its way to another.
func moving(state string) string {
	switch state {
	case "open":
		return "opening"
	case "shut":
		return "closing"
	}
	return state
}

// stateAt is how many lexemes at i say where a box stands.
func (r *reader) stateAt(i int) int {
	state, next := r.boxState(i)
	if state == "" {
		return 0
	}
	return next - i
}

// boxState reads "closed", "½ open", "gradually opened".
func (r *reader) boxState(i int) (state string, next int) {
	gradual := false
	for steps := 0; steps < 3; steps++ {
		switch {
		case r.is(i, classGradual):
			gradual = true
			i++
			continue
		case r.is(i, classBoxState):
			state = r.value(i, classBoxState)
		case r.is(i, classHalf), r.at(i).number && r.at(i).feet() == pitch.FeetOf(1, 2):
			state = "half"
			if r.is(i+1, classBoxState) {
				i++
			}
		case r.is(i, classBoxVerb):
			state = r.value(i, classBoxVerb)
		case (r.is(i, classExpression) || r.is(i, classOn)) && r.mark(i) == "":
			i++ // "still closed", "toujours fermée"
			continue
		}
		break
	}
	if state == "" {
		return "", i
	}
	if gradual {
		state = moving(state)
	}
	return state, i + 1
}

// boxNoun reads "box closed", "boîte du Récit demi-ouverte".
func (r *reader) boxNoun(i int) (where []division.Role, state string, next int) {
	j := r.skip(i+1, classOf, classAt)
	if roles, after := r.divisionAt(j); len(roles) > 0 && !r.voicesFollow(after) {
		where, j = roles, after
	} else {
		j = i + 1
	}
	state, next = r.boxState(j)
	if state == "" {
		return nil, "", 0
	}
	if len(where) == 0 {
		k := r.skip(next, classOf)
		open := r.mark(k) == markOpen
		if roles, after := r.divisionAt(k + b2i(open)); len(roles) > 0 && (k > next && !r.voicesFollow(after) || open && r.mark(after) == markClose) {
			where, next = roles, after
		}
	}
	return where, state, next
}

// boxVerb reads "close the box", "ouvrez peu à peu la boîte", "fermez Récit".
func (r *reader) boxVerb(i int) (where []division.Role, state string, next int) {
	state = r.value(i, classBoxVerb)
	j := i + 1
	gradual := false
	for steps := 0; steps < 3; steps++ {
		k := r.skip(j)
		if r.is(k, classGradual) {
			gradual = true
			j = k + 1
		} else if r.is(k, classExpression) && r.mark(k) == "" {
			j = k + 1
		}
	}
	if gradual {
		state = moving(state)
	}
	j = r.skip(j)
	if r.is(j, classBox) {
		next = j + 1
		if roles, after := r.divisionAt(r.skip(next, classOf)); len(roles) > 0 && !r.voicesFollow(after) && r.mark(next) == "" {
			return roles, state, after
		}
		return nil, state, next
	}
	if roles, after := r.divisionAt(j); len(roles) > 0 && enclosable(roles[0]) && !r.voicesFollow(after) {
		if r.is(after, classBox) || r.swellPedal(roles, after) {
			after++
		}
		return roles, state, after
	}
	if gradual && !r.is(i, classExpression) {
		return nil, state, j
	}
	return nil, "", 0
}

// divisionBox reads "Sw. box closed", "Récit fermé".
func (r *reader) divisionBox(roles []division.Role, after int) (where []division.Role, state string, next int) {
	if r.is(after, classBox) || r.swellPedal(roles, after) {
		state, next = r.boxState(after + 1)
		if state == "" {
			return nil, "", 0
		}
		return roles, state, next
	}
	if !enclosable(roles[0]) || r.mark(after) != "" || !r.is(after, classBoxState) && !r.is(after, classHalf) {
		return nil, "", 0
	}
	if r.at(after).token.text == "cl" && roles[0] != division.Swell {
		return nil, "", 0 // "Ch. Cl.": the Clarinet; only of a Swell does it say closed
	}
	state, next = r.boxState(after)
	if state == "" || r.divisionFollows(next) && r.is(after, classAt) || r.voicesFollow(next) {
		return nil, "", 0
	}
	return roles, state, next
}

// swellPedal reports whether the "Pedal" at i is the one that moves the box of
// the division before it: "Swell pedal gradually open".
func (r *reader) swellPedal(before []division.Role, i int) bool {
	if len(before) != 1 || before[0] != division.Swell || r.mark(i) != "" {
		return false
	}
	roles, next := r.plainDivisionAt(i)
	return len(roles) == 1 && roles[0] == division.Pedal && next == i+1
}

// boxBefore reports whether a state by itself at i can only be that of the
// box of the division that the text is about: "Full Sw. (closed)".
func (r *reader) boxBefore(i int) bool {
	if len(r.scope) != 1 || !enclosable(r.scope[0]) || r.gap.line || r.gap.semicolon {
		return false
	}
	if !r.is(i, classBoxState) || r.is(i, classAt) || r.is(i, classTo) || r.is(i, classOff) || r.at(i).token.text == "cl" && r.scope[0] != division.Swell || !r.feetAt(i+1).IsZero() {
		return false // "Pos. Crom., Cl. 4": the Clairon
	}
	return r.hasItems() || r.gap.open && r.mark(i+r.stateAt(i)) == markClose
}

// readTremulant reads the tremulant, on unless the text says otherwise.
func (r *reader) readTremulant() bool {
	if !r.is(r.i, classTremulant) {
		return false
	}
	state := "on"
	if r.verb == Off || r.limit {
		state = "off"
	}
	next := r.i + 1
	var where []division.Role
	k := r.skip(next, classOf, classAt)
	open := r.mark(k) == markOpen
	if roles, after := r.divisionAt(k + b2i(open)); len(roles) > 0 && !r.voicesFollow(after) && r.mark(after) != markColon &&
		(!open || r.mark(after) == markClose) && !r.coupledBy(after) && (r.mark(r.i-1) != markComma || len(r.scope) == 0) {
		where, next = roles, after
	}
	switch {
	case r.is(next, classOff) && r.value(next, classOff) != "pre", r.is(next, classIn) && r.ends(next+1):
		state = "off"
		next++
	case r.is(next, classOn) && r.ends(next+1), r.is(next, classAdd) && r.value(next, classAdd) != "pre":
		next++
	}
	switch {
	case len(where) > 0:
	case len(r.scope) > 0:
		where = r.scope
	default:
		where = []division.Role{division.None}
	}
	if r.head != nil && !r.hang() {
		r.closeHead()
	}
	var statements []Statement
	for _, d := range where {
		statements = append(statements, Statement{Verb: Trem, Division: d, State: state})
	}
	r.emit(r.i, next, statements...)
	if r.with {
		r.verb, r.with = "", false
	}
	r.take(next)
	r.closeSentence(next)
	return true
}
