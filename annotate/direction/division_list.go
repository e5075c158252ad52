package direction

import (
	"slices"
	"strconv"

	"stopgap/registry/division"
)

// A head is a division that the text has named and that nothing hangs on yet.
type head struct {
	divisions []division.Role
	entry     *entry // where "play ?: D" goes if nothing comes to hang on it
	last      int    // the lexeme after it
	colon     bool
	together  bool // the divisions are to sound together: "G. et R."
	letters   bool // they are written as one: "G.P.R."
}

var romanNumbers = map[string]int{"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5}

// manualNumber is the number that the lexeme at i can give a manual, 0 if none.
func (r *reader) manualNumber(i int) int {
	lx := r.at(i)
	if n := romanNumbers[lx.token.text]; n > 0 && lx.token.kind == wordToken {
		return n
	}
	if s, ok := lx.sense(classOrdinal, everyLang); ok {
		n, _ := strconv.Atoi(s.value)
		return n
	}
	if lx.number && len(lx.token.text) == 1 && lx.token.text[0] >= '1' && lx.token.text[0] <= '5' && !lx.token.marked {
		return int(lx.token.text[0] - '0')
	}
	return 0
}

// isRoman reports whether a Roman number of a manual stands at i.
func (r *reader) isRoman(i int) bool {
	lx := r.at(i)
	if lx.token.kind != wordToken || lx.mark != "" || romanNumbers[lx.token.text] == 0 || lx.end != lx.token.end {
		return false
	}
	return r.lang != "it" || lx.token.text != "i" || lx.dot || !r.is(i+1, classFamily) // "i fondi"
}

// divisionAt reads the name of one division, or of several that are written
// as one ("G.P.R."). No roles are returned where none stands at i.
func (r *reader) divisionAt(i int) (roles []division.Role, next int) {
	return r.namedDivision(i, true)
}

// namedDivision is divisionAt; without beside, a name right after a number is
// left as the next thing said: "III an I. SW Gedackt".
func (r *reader) namedDivision(i int, beside bool) (roles []division.Role, next int) {
	i = r.skip(i)
	roles, next = r.plainDivisionAt(i)
	if len(roles) != 1 {
		return roles, next
	}
	// "I (GO)", "Récit (III)", "I HW": the name says more than the number.
	j, closed := next, true
	if r.mark(j) == markOpen {
		j, closed = j+1, false
	}
	other, after := r.plainDivisionAt(j)
	if len(other) != 1 || (other[0].Number() > 0) == (roles[0].Number() > 0) {
		return roles, next
	}
	if !closed {
		if r.mark(after) != markClose {
			return roles, next
		}
		after++
	} else if !beside || roles[0].Number() == 0 || r.coupledBy(after) {
		return roles, next
	}
	if roles[0].Number() > 0 {
		roles = other
	}
	return roles, after
}

// coupledBy reports whether a word that joins two divisions stands at i.
func (r *reader) coupledBy(i int) bool {
	_, _, next := r.joint(i)
	return next > 0
}

func (r *reader) plainDivisionAt(i int) ([]division.Role, int) {
	if r.is(i, classManual) {
		j := i + 1
		if n := r.manualNumber(j); n > 0 {
			return []division.Role{division.Manual(n)}, j + 1
		}
		return nil, i
	}
	if n := r.manualNumber(i); n > 0 {
		if r.is(i+1, classManual) {
			return []division.Role{division.Manual(n)}, i + 2
		}
		if r.isRoman(i) {
			return []division.Role{division.Manual(n)}, i + 1
		}
		return nil, i
	}
	if s, ok := r.at(i).sense(classJoined, everyLang); ok {
		var roles []division.Role
		for _, name := range splitWords(s.value) {
			roles = append(roles, division.Role(name))
		}
		return roles, i + 1
	}
	s, ok := r.at(i).sense(classDivision, everyLang)
	if !ok {
		return nil, i
	}
	if lx := r.at(i); lx.end == lx.token.end && !lx.dot && (r.could(i, classAt) || r.could(i, classTo) || r.could(i, classOf) || r.could(i, classArticle)) {
		return nil, i // "op HW"
	}
	role := division.Role(s.value)
	if next := r.at(i + 1); len(r.at(i).token.text) == 1 && next.number && next.glued && !r.at(i).dot {
		return nil, i // "G7" is a chord
	}
	if lx := r.at(i); lx.token.text == "p" && lx.end == lx.token.end {
		// In French the Positif, elsewhere the pedal; without a dot a dynamic.
		toPedal := r.is(i-1, classTo) && len(r.at(i-2).token.text) == 1 && r.mark(i-2) == "" // "G to P"
		if !lx.dot && !toPedal && r.mark(i-1) != markSlash && r.mark(i-1) != markHyphen && r.mark(i+1) != markSlash && r.mark(i+1) != markColon {
			return nil, i
		}
		role = division.Positive
		switch {
		case r.mark(i-1) == markSlash && r.at(i-2).token.text == "r", r.lang == "fr":
		case r.mark(i+1) == markSlash && r.isRoman(i+2):
			role = division.Pedal
		case r.mark(i-1) == markSlash || r.mark(i-1) == markHyphen || r.is(i-1, classTo):
			role = division.Pedal
		case r.lang == "de" || r.lang == "nl" || r.lang == "it" || r.lang == "es":
			role = division.Pedal
		}
	}
	return []division.Role{role}, i + 1
}

// maxList is the most divisions that a text names in one breath.
const maxList = 6

// divisionList reads divisions that are joined by "and", "+" or "&", and by
// commas where the caller takes them. Divisions written as one count as
// together. The last division is left out where a coupler begins with it.
func (r *reader) divisionList(i int, commas bool) (roles []division.Role, together bool, next int) {
	first, next := r.divisionAt(i)
	if len(first) == 0 {
		return nil, false, i
	}
	roles, together = first, len(first) > 1
	for range maxList {
		j := next
		switch {
		case r.is(j, classOr) && !commas:
			// "Ch. or Sw.": the first is what is asked for
			if more, after := r.divisionAt(r.skip(j+1, classAt)); len(more) > 0 && !r.voicesFollow(after) {
				next = after
			}
			return roles, together, next
		case r.mark(j) == markAmpersand, r.mark(j) == markPlus, r.is(j, classAnd):
			j++
		case commas && r.mark(j) == markComma:
			if j++; r.is(j, classAnd) || r.mark(j) == markAmpersand {
				j++
			}
		default:
			return roles, together, next
		}
		j = r.skip(j, classTo, classAt, classOf)
		more, after := r.divisionAt(j)
		if len(more) == 0 {
			return roles, together, next
		}
		roles, next = append(roles, more...), after
	}
	return roles, together, next
}

// rank orders divisions by how much they lead: what is coupled usually sounds
// from the keys of the division that leads.
func rank(role division.Role) int {
	if n := role.Number(); n > 0 {
		return n
	}
	i := slices.Index([]division.Role{
		division.Pedal, division.Great, division.Positive, division.Choir, division.Ober, division.Swell,
		division.Brust, division.Bombarde, division.Solo, division.Echo,
	}, role)
	if i < 0 {
		return 9
	}
	return i
}

// readHead reads a division that is named by itself or before its stops, or
// after them.
func (r *reader) readHead() bool {
	roles, together, next := r.divisionList(r.i, false)
	if len(roles) == 0 || !r.standsForDivision(r.i, next) {
		return false
	}
	if c := r.clause; c != nil && len(c.items) > 0 && !c.ended && !c.given && !c.leadWeak && len(c.lead) == 1 && len(roles) == 1 &&
		r.lang == "en" && r.gap == (gap{to: true}) && !r.voicesFollow(next) && c.lead[0] != roles[0] {
		a, b := usualCoupler(c.lead[0], roles[0]) // "Sw. Reeds to Gt."
		r.emit(r.i, next, Statement{Verb: Couple, Division: a, To: b})
		r.take(next)
		return true
	}
	if c := r.clause; c != nil && len(c.items) > 0 {
		last := c.items[len(c.items)-1]
		if r.gap == (gap{}) && !c.ended && (len(c.lead) == 0 || c.leadWeak) && last.kind == familyItem && len(last.feet) == 0 && r.pitchOnly(next) {
			c.lead, c.leadWeak, c.infix = roles, false, len(c.items) // "Anches Péd. 16"
			r.rest(c.entry, r.i, next)
			r.scope, r.scopeWeak = roles, true
			r.take(next)
			return true
		}
		if r.trails(next) {
			r.nameAfter(roles, next)
			return true
		}
	}
	from := r.i
	alone := !r.voicesFollow(next) && !r.rangeFollows(next)
	if alone && r.reducing {
		// "reduce Gt." says that it is to be less and not what is left
		for ; r.i < next; r.i++ {
			r.lost[r.i] = true
		}
		r.closeClause()
		r.scope, r.scopeWeak = roles, false
		return true
	}
	if alone && (r.verb == Off || r.verb == Add) && !r.later && r.readChangeOfDivision(roles, from, next) {
		return true
	}
	r.joined = nil
	if r.gap.and && !r.gap.broken() {
		r.joined = r.clause
	}
	r.closeClause()
	r.closeHead()
	r.openHead(roles, len(roles) > 1, from, next)
	if r.head != nil {
		r.head.letters = together
	}
	r.take(next)
	return true
}

// pitchOnly reports whether pitches without a name stand at i.
func (r *reader) pitchOnly(i int) bool {
	if r.feetAt(i).IsZero() {
		return false
	}
	_, next := r.pitchesAt(i, true)
	return !r.nameAt(next) && !r.is(next, classCoupler)
}

// openHead makes divisions those that what follows is about.
func (r *reader) openHead(roles []division.Role, together bool, from, next int) {
	e := r.emit(from, next)
	if r.before = r.scope; r.gap.line || r.gap.semicolon {
		r.before = nil
	}
	r.head = &head{divisions: roles, entry: e, last: next, together: together}
	r.scope, r.scopeWeak = roles, false
	r.nameRole(roles)
}

// nameRole gives a role that waits for its division the one named.
func (r *reader) nameRole(roles []division.Role) {
	if r.role == nil {
		return
	}
	r.role.statements[0].Division = roles[0]
	r.role = nil
	if r.head != nil {
		r.head = nil
	}
}

// standsForDivision tells a division from a word that only looks like one.
func (r *reader) standsForDivision(i, next int) bool {
	i = r.skip(i)
	lx := r.at(i)
	if s, ok := lx.sense(classDivision, everyLang); ok && s.value == string(division.Solo) && lx.end == lx.token.end {
		return r.voicesFollow(next) || r.gap.at || r.gap.to
	}
	switch {
	case lx.token.kind == wordToken && len(lx.token.text) == 1 && lx.end == lx.token.end && !r.isRoman(i) && lx.token.text != "r" && lx.token.text != "g":
		// A single letter needs its dot and something to be about.
		return lx.dot && (r.voicesFollow(next) || r.mark(next) == markColon) || r.mark(next) == markColon
	case lx.sensible(classJoined):
		return true
	case lx.sensible(classStop):
		return r.prefersDivision(i, next)
	case lx.sensible(classExpression) || lx.sensible(classTempo):
		return r.voicesFollow(next) || r.mark(next) == markColon || r.gap.at && r.ends(next)
	}
	return true
}

// prefersDivision decides between a division and a stop that are called the
// same, "Pos." or "Bombarde": a stop has a pitch or stands in a list of stops.
func (r *reader) prefersDivision(i, next int) bool {
	lx := r.at(i)
	switch {
	case lx.stop == nil || !lx.sensible(classDivision) || !r.feetAt(i+1).IsZero():
		return false
	case r.mark(next) == markColon || r.voicesFollow(next):
		return true
	case r.coupledBy(next) || r.coupledBy(i-1) || r.gap.of || r.gap.at:
		return lx.stop.short || r.coupledBy(next)
	case r.hasItems() && !r.clause.leadWeak && len(r.clause.lead) > 0 && (r.gap.and || r.gap.comma):
		return false
	}
	return lx.stop.short
}

// trails reports whether the division at the present place, which ends at
// next, belongs to the stops before it.
func (r *reader) trails(next int) bool {
	weak := len(r.clause.lead) == 0 || r.clause.leadWeak
	joined := r.gap.of || r.gap.at || r.gap.to
	follows := r.voicesFollow(next) || r.mark(next) == markColon ||
		!weak && r.mark(next) == markComma && r.voicesFollow(next+1) // "À la Pédale, les Fonds"
	switch {
	case r.gap.open && r.mark(next) == markClose:
		return true
	case r.gap.line || r.gap.semicolon:
		return false
	case joined && r.gap.comma:
		return !follows
	case joined:
		return !(follows && !r.gap.of)
	case r.gap.comma:
		return false
	}
	return weak && !follows
}

// nameAfter gives the stops just read the divisions that are named after them.
func (r *reader) nameAfter(roles []division.Role, next int) {
	c := r.clause
	k := 0
	if len(c.lead) > 0 && !c.leadWeak {
		k = c.chunkStart()
	} else {
		k = c.groupsApart()
	}
	r.rest(c.entry, r.i, next)
	if k > 0 {
		r.splitClause(k)
	}
	r.clause.lead, r.clause.leadWeak = roles, false
	r.clause.ended, r.clause.named = true, true
	r.closeHead()
	r.scope, r.scopeWeak = roles, true
	r.nameRole(roles)
	closing := r.gap.open
	r.take(next)
	r.gap.close = closing
}

// closeHead ends the time in which something can come to hang on the last
// division named: if nothing has, the text says to play there.
func (r *reader) closeHead() {
	h := r.head
	r.head = nil
	if h == nil {
		return
	}
	main := greatest(h.divisions)
	if !h.together {
		h.entry.statements = []Statement{playStatement(AnyHand, main)}
		return
	}
	if main != division.Pedal {
		h.entry.statements = append(h.entry.statements, playStatement(AnyHand, main))
	}
	h.entry.statements = append(h.entry.statements, coupledTogether(h.divisions, 0).statements(Couple)...)
}

// greatest is the division that leads among several.
func greatest(roles []division.Role) division.Role {
	main := roles[0]
	for _, d := range roles {
		if rank(d) < rank(main) {
			main = d
		}
	}
	return main
}

// hang reports whether what is read next hangs on the division named last,
// which then asks for nothing of its own.
func (r *reader) hang() bool {
	if r.head == nil || r.gap.comma || r.gap.semicolon || r.gap.line || r.gap.open {
		return false
	}
	r.head = nil
	return true
}

// playStatement says that a hand plays on a division.
func playStatement(hand Hand, d division.Role) Statement {
	if d == division.Pedal && (hand == AnyHand || hand == Feet) {
		return Statement{Verb: Play, Hand: Feet, State: "pedal"}
	}
	return Statement{Verb: Play, Hand: hand, Division: d}
}
