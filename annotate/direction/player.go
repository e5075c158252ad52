package direction

import (
	"strings"

	"stopgap/registry/division"
)

// readPedalUse reads whether the feet play at all.
func (r *reader) readPedalUse() bool {
	s := Statement{Verb: Play, Hand: Feet, State: "none"}
	next := r.i + 1
	switch {
	case r.head != nil && r.head.divisions[0] == division.Pedal && r.gap == (gap{and: true}) && r.is(r.i, classManualsOnly) && r.ends(next):
		r.closeHead() // "Ped. & Man."
		r.used[r.i] = true
		r.take(next)
		return true
	case r.headsManuals(r.i):
		r.closeClause()
		r.closeHead()
		r.scope, r.scopeWeak = nil, false
		r.used[r.i] = true
		r.take(next)
		return true
	case r.is(r.i, classManualsOnly):
		if r.is(r.i, classManual) && r.manualNumber(r.i+1) > 0 {
			return false
		}
		for r.is(next, classOnly) {
			next++
		}
		if r.joins(next) || r.could(next, classAnd) {
			if roles, after := r.divisionAt(next + 1); r.is(next+1, classWithPedal) {
				s.State, next = "pedal", next+2 // "Manualiter et pedaliter"
			} else if len(roles) == 1 && roles[0] == division.Pedal && r.ends(after) {
				s.State, next = "pedal", after // "Man. e Ped."
			}
		}
	case r.is(r.i, classWithPedal):
		s.State = "pedal"
		if r.is(next, classCoupled) && r.ends(next+1) {
			s = Statement{Verb: Couple, Division: division.Every, To: division.Pedal} // "with Ped. coupled"
			next++
		}
	case r.is(r.i, classWithout), r.is(r.i, classWith):
		j := r.skip(r.i + 1)
		roles, after := r.divisionAt(j)
		if len(roles) != 1 || roles[0] != division.Pedal || r.voicesFollow(after) || r.coupledBy(after) && !(r.is(r.i, classWithout) && r.lang != "en" && r.is(after, classTo)) ||
			r.is(after, classCoupler) || r.is(after, classTremulant) || r.is(after, classCoupled) {
			return false
		}
		if r.is(r.i, classWith) {
			s.State = "pedal"
		}
		next = after
	case r.is(r.i, classManuals) && !r.is(r.i, classManual) && !r.divisionFollows(r.i), r.is(r.i, classManual) && r.manualAlone():
		if r.is(r.i, classStop) {
			return false
		}
		for r.is(next, classOnly) {
			next++
		}
	default:
		return false
	}
	r.closeClause()
	r.closeHead()
	r.emit(r.i, next, s)
	r.take(next)
	return true
}

// headsManuals reports whether the word for the manuals at i is the heading of
// what is drawn on them, and not the call to leave the pedal: "Manuals: flutes
// 8, 4. Pedal: 16".
func (r *reader) headsManuals(i int) bool {
	if !r.is(i, classManuals) && !r.is(i, classManual) && !r.is(i, classManualsOnly) || r.is(i, classStop) || r.is(i, classPedalCoupler) {
		return false
	}
	if r.mark(i+1) == markColon {
		return r.voicesFollow(i + 2)
	}
	if r.manualNumber(i+1) > 0 || r.is(i+1, classOnly) || !r.voicesFollow(i+1) {
		return false
	}
	for j := i + 2; j < i+8*maxSkip && j < len(r.lexemes); j++ {
		if s, ok := r.at(j).sense(classDivision, everyLang); ok && division.Role(s.value) == division.Pedal {
			return r.mark(j-1) != "" && (r.voicesFollow(j+1) || r.mark(j+1) == markColon)
		}
	}
	return false
}

// manualAlone reports whether the word for a manual stands without a number.
func (r *reader) manualAlone() bool {
	if !strings.HasPrefix(r.at(r.i).token.text, "man") {
		return false // a Klavier is also a piano
	}
	return r.manualNumber(r.i+1) == 0 && (r.i == 0 || r.manualNumber(r.i-1) == 0 || r.used[r.i-1])
}

// readHand reads which hand plays where.
func (r *reader) readHand() bool {
	s, ok := r.at(r.i).sense(classHand, everyLang)
	if !ok {
		return false
	}
	hand := Hand(s.value)
	first := r.i + 1
	if k := first; r.joins(k) && r.is(k+1, classHand) && r.value(k+1, classHand) != s.value {
		hand, first = Both, k+2 // "L.H. & R.H."
	}
	var role *Statement
	for k := first; k < first+2 && r.is(k, classRole) && !(r.is(k, classDivision) && r.voicesFollow(k+1)); k++ {
		after := r.skip(k+1, classAt, classOn)
		said := after > k+1 // "R.H. solo on Sw.", "R.H. solo: Sw. Oboe", "R.H. solo Sw. Oboe"
		if r.mark(after) == markColon || r.mark(after) == markOpen {
			after, said = r.skip(after+1, classAt, classOn), true
		}
		if r.divisionFollows(after) && !r.startsPair(after) && (said || !r.startsPair(k)) {
			role, first = &Statement{Verb: Lead, State: r.value(k, classRole)}, k+1
		}
	}
	j := r.skip(r.pastManner(first), classAt, classTo, classOn, classOf, classNeutral)
	if m := r.mark(j); m == markColon || m == markHyphen || m == markLongDash || m == markComma || m == markOpen {
		j = r.skip(j+1, classAt, classTo, classOn)
	}
	roles, together, next := r.divisionList(j, false)
	soloist := len(roles) == 1 && roles[0] == division.Solo && r.lang != "en" && r.lang != "" && !r.voicesFollow(next)
	before := r.mark(first) == markComma && (r.head != nil && r.gap == (gap{}) || r.hasItems() && !r.clause.leadWeak && r.gap == (gap{close: true})) // "Sw. R.H., Ch. L.H.", "Sw. (Oboe) R.H., Ch."
	if len(roles) > 0 && !before && !r.startsPair(j) && !soloist && r.divisionPlausible(j) {
		if r.mark(j-1) == markOpen && r.mark(next) == markClose {
			next++
		}
		r.closeClause()
		r.closeHead()
		main := roles[0]
		e := r.emit(r.i, next, playStatement(hand, main))
		if role != nil {
			role.Division = main
			e.statements = append(e.statements, *role)
		}
		if together {
			for _, d := range roles[1:] {
				a, b := usualCoupler(d, main)
				e.statements = append(e.statements, Statement{Verb: Couple, Division: a, To: b})
			}
		}
		r.scope, r.scopeWeak = roles[:1], false
		r.nameRole(roles)
		r.take(next)
		return true
	}
	if r.head != nil && !r.gap.line && len(r.head.divisions) == 1 {
		e := r.head.entry
		e.statements = []Statement{playStatement(hand, r.head.divisions[0])}
		r.rest(e, r.i, r.i+1)
		r.head = nil
		r.take(r.i + 1)
		return true
	}
	if s.ordinary {
		return false
	}
	where := division.None
	if r.hasItems() && r.ends(r.i+1) && len(r.clause.lead) == 1 && !r.clause.leadWeak && !r.gap.line && !r.gap.semicolon {
		where = r.clause.lead[0] // "Ch. Flute, R.H."
	}
	r.closeClause()
	r.closeHead()
	if r.gap.line || r.gap.semicolon || r.gap.comma {
		r.scope = nil
	}
	r.emit(r.i, r.i+1, Statement{Verb: Play, Hand: hand, Division: where})
	r.take(r.i + 1)
	return true
}

// pastManner passes over words of manner between a hand and the division that is
// named for it: "L.H. legato on Ch."; i where none is named behind them.
func (r *reader) pastManner(i int) int {
	j := i
	for j < i+3 && r.is(j, classExpression) && !r.is(j, classDivision) && !r.is(j, classAt) && !r.nameAt(j) {
		j++
	}
	k := r.skip(j, classAt, classOn)
	if j == i || k == j && r.mark(j) != markOpen && r.mark(j) != markComma {
		return i
	}
	if m := r.mark(k); m == markOpen || m == markComma {
		k = r.skip(k+1, classAt, classOn)
	}
	if !r.divisionFollows(k) {
		return i
	}
	return j
}

// divisionPlausible keeps "m.d. p" from moving the hand to the Positif.
func (r *reader) divisionPlausible(i int) bool {
	i = r.skip(i)
	lx := r.at(i)
	if lx.sensible(classExpression) || lx.sensible(classTempo) {
		return lx.sensible(classDivision) && (r.is(i-1, classAt) && r.ends(i+1) || r.mark(i+1) == markColon && r.voicesFollow(i+2)) // "all'Espressivo"
	}
	return !(lx.sensible(classLevel) && !lx.dot)
}

// readRole reads which line leads: "Solo: Sw. Oboe", "Tuba solo", "melody on
// Gt.", "Sw. accomp.".
func (r *reader) readRole() bool {
	if r.readOldSolo() {
		return true
	}
	s, ok := r.at(r.i).sense(classRole, everyLang)
	if !ok || r.is(r.i, classStop) && s.langs&langOf(r.lang) == 0 { // "Ch. Melodia"
		return false
	}
	role := Statement{Verb: Lead, State: s.value}
	j := r.i + 1
	for j < r.i+maxSkip && r.is(j, classRole) && r.value(j, classRole) == s.value && !(r.is(j, classDivision) && r.voicesFollow(j+1)) {
		j++ // "solo melody"
	}
	if r.readRoleOf(role, j) {
		return true
	}
	solo := r.is(r.i, classDivision) // the word may name the division
	english := r.lang == "en" || r.lang == "" || r.isEnglish(j) && !r.told
	colon := r.mark(j) == markColon
	before := r.roleHangs(j) && !(r.gap.comma && s.value == "accompaniment" && r.voicesFollow(j)) // "Solo Tuba, accompaniment Full Swell"
	if colon && solo && r.lang == "en" && r.head == nil && r.voicesFollow(j+1) && r.gap.mayBegin() && !r.divisionInPhrase(j+1) {
		return false // "Solo: Tuba", a list of what is drawn there
	}
	switch {
	case solo && english && !colon && r.voicesFollow(j) && (!before || r.hasItems()):
		if !r.told {
			r.lang = "en"
		}
		return false // "Solo Tuba", "Gt. Diaps., Solo Tuba"
	case before:
		if len(r.scope) > 0 && !r.scopeWeak {
			role.Division = r.scope[0]
		}
		r.head = nil
		r.addRole(role, j)
	case colon || r.voicesFollow(j) || r.voicesFollow(r.skip(j, classAt, classOn, classRole)) || r.is(j, classHand):
		r.closeClause()
		r.closeHead()
		r.role = r.emit(r.i, j, role)
		r.take(j)
	case s.ordinary && !solo:
		return false
	default:
		r.closeClause()
		r.closeHead()
		r.addRole(role, j)
	}
	return true
}

// divisionInPhrase reports whether a division is named from i on before the
// phrase ends.
func (r *reader) divisionInPhrase(i int) bool {
	for end := i + 4*maxSkip; i < end && i < len(r.lexemes); i++ {
		if m := r.mark(i); m == markSemicolon || m == markBreak {
			return false
		}
		if roles, _ := r.divisionAt(i); len(roles) > 0 && !r.nameAt(i) {
			return true
		}
	}
	return false
}

// readOldSolo reads "Récit de Cromorne": in the old French school a solo, and
// not the division.
func (r *reader) readOldSolo() bool {
	if r.at(r.i).token.text != "recit" || r.at(r.i+1).token.text != "de" || !r.nameAt(r.i+2) || r.hasItems() || r.head != nil {
		return false
	}
	r.emit(r.i, r.i+2, Statement{Verb: Lead, State: "solo"})
	r.take(r.i + 2)
	return true
}

// roleHangs reports whether a role whose words end before j belongs to the
// stops, the division or the hand named just before it.
func (r *reader) roleHangs(j int) bool {
	if r.gap.open && r.mark(j) == markClose && (r.hasItems() || r.head != nil) {
		return true
	}
	return (r.hasItems() || r.head != nil || r.handBefore()) && !r.gap.of && !r.gap.line && !r.gap.semicolon && !r.gap.open
}

// readRoleOf reads a role whose division is named after it, from j on.
func (r *reader) readRoleOf(role Statement, j int) bool {
	k := r.skip(j, classAt, classOn, classTo, classOf, classIn)
	m := r.mark(j)
	if m == markColon || m == markOpen || m == markComma && !r.hasItems() || m == markHyphen || m == markLongDash {
		k = r.skip(j+1, classAt, classOn)
	}
	roles, after := r.divisionAt(k)
	if len(roles) == 0 {
		return false
	}
	role.Division = roles[0]
	if k > j && m != markColon && r.hasItems() && len(r.clause.items) > 1 && r.clause.items[len(r.clause.items)-1].gap.begins() && r.gap == (gap{}) {
		r.splitClause(len(r.clause.items) - 1) // "R. Flûte 8; Trompette solo au G.O."
		r.clause.lead = nil
	}
	if len(roles) == 1 && k > j && m != markColon && r.hasItems() && (len(r.clause.lead) == 0 || r.clause.leadWeak) && !r.voicesFollow(after) && r.mark(after) != markColon {
		// "Trumpet solo on Gt.": the stops are there, too.
		r.clause.lead, r.scope, r.scopeWeak = roles, roles, true
		r.emit(r.i, after, role)
		r.take(after)
		return true
	}
	if r.roleHangs(j) && r.gap == (gap{}) || !r.divisionPlausible(k) || roles[0] == division.Solo && r.is(r.i, classDivision) || r.startsPair(k) {
		return false
	}
	r.closeClause()
	r.closeHead()
	if r.mark(k-1) == markOpen && r.mark(after) == markClose {
		after++
	}
	r.emit(r.i, after, role)
	r.scope, r.scopeWeak = roles, false
	r.take(after)
	return true
}

// addRole records a role, unless it has just been said.
func (r *reader) addRole(role Statement, next int) {
	hangs := r.roleHangs(next)
	for i := len(r.out) - 1; i >= 0 && i >= len(r.out)-2; i-- {
		for _, old := range r.out[i].statements {
			if old.Verb == Lead && old.State == role.State && old.Division == role.Division {
				r.rest(r.out[i], r.i, next)
				r.take(next)
				return
			}
		}
	}
	e := r.emit(r.i, next, role)
	if hangs {
		e.content++
	}
	r.take(next)
}

// readStrength reads a strength word before a division: "Soft Ped.", "Soft Sw.
// Reeds".
func (r *reader) readStrength() bool {
	if !r.is(r.i, classStrength) || r.is(r.i, classExpression) {
		return false
	}
	roles, next := r.divisionAt(r.i + 1)
	if len(roles) == 0 || r.mark(r.i+1) != "" {
		return false
	}
	strength := r.value(r.i, classStrength)
	if r.voicesFollow(next) {
		r.strength = strength
		r.i++
		return true
	}
	if r.mark(next) == markColon || r.coupledBy(next) {
		return false
	}
	r.closeClause()
	r.closeHead()
	r.openHead(roles, false, r.i, next)
	r.addItem(item{kind: pitchItem, lexeme: -1, strength: strength, gap: r.gap, from: r.i, to: next})
	return true
}

// isEnglish reports whether the name at i is one that English stops have.
func (r *reader) isEnglish(i int) bool {
	lx := r.at(i)
	return lx.stop != nil && lx.stop.sense.langs&langOf("en") != 0
}

// readLevel reads a dynamic mark that says how loud a division is to be.
func (r *reader) readLevel() bool {
	lx := r.at(r.i)
	s, ok := lx.sense(classLevel, everyLang)
	if ok && len(lx.token.text) == 1 && r.at(r.i-1).number && !r.feetAt(r.i-1).IsZero() && r.used[r.i-1] && (r.lang == "fr" || r.lang == "it" || r.lang == "es") {
		r.take(r.i + 1) // "8 p", feet without their dot
		return true
	}
	if !ok || lx.dot && r.gap == (gap{at: true}) && r.is(r.i, classDivision) || lx.dot && r.is(r.i, classDivision) && !r.ends(r.i+1) && (r.lang == "fr" || r.lang == "de") {
		return false
	}
	if r.head != nil && r.gap == (gap{to: true}) && r.head.divisions[0] == division.Swell {
		r.head = nil // "swell to ff"
		return false
	}
	if (r.head != nil || r.hasItems() && !r.clause.leadWeak && len(r.clause.lead) > 0) && !r.gap.line && !r.gap.semicolon && !r.gap.filler {
		var statements []Statement
		for _, d := range r.scope {
			statements = append(statements, Statement{Verb: Level, Division: d, State: s.value})
		}
		if r.head != nil {
			e := r.head.entry
			e.statements = statements
			r.rest(e, r.i, r.i+1)
			r.head = nil
		} else {
			r.emit(r.i, r.i+1, statements...)
		}
		r.take(r.i + 1)
		return true
	}
	on := r.skip(r.i+1, classAt, classOn) // "pp on Choir"
	open := r.mark(on) == markOpen        // "ff (Gt.)"
	if open {
		on++
	}
	if roles, next := r.divisionAt(on); len(roles) > 0 && (r.mark(r.i+1) == "" || open && r.mark(next) == markClose) && r.ends(next) && r.mark(next) != markColon &&
		r.standsForDivision(on, next) && !r.is(r.i+1, classRole) {
		r.closeClause()
		r.closeHead()
		var statements []Statement
		for _, d := range roles {
			statements = append(statements, Statement{Verb: Level, Division: d, State: s.value})
		}
		r.emit(r.i+1, next, statements...)
		r.scope, r.scopeWeak = roles, false
		r.take(next)
		return true
	}
	return false
}
