package direction

import (
	"slices"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
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

// readHead reads a division that is named by itself or before its stops, or
// after them.
func (r *reader) readHead() bool {
	roles, together, next := r.divisionList(r.i, false)
	if len(roles) == 0 || !r.standsForDivision(r.i, next) {
		return false
	}
	if c := r.clause; c != nil && len(c.items) > 0 && !c.ended && !c.given && !c.leadWeak && len(c.lead) == 1 && len(roles) == 1 &&
		r.lang == "en" && (r.gap == (gap{to: true}) || r.gap == (gap{to: true, comma: true})) && !r.voicesFollow(next) && c.lead[0] != roles[0] {
		a, b := usualCoupler(c.lead[0], roles[0]) // "Sw. Reeds to Gt."
		r.emit(r.i, next, Statement{Verb: Couple, Division: a, To: b})
		r.take(next)
		return true
	}
	if c := r.clause; c != nil && len(c.items) > 0 {
		last := c.items[len(c.items)-1]
		if len(c.items) > 1 && last.gap.begins() && last.kind == familyItem && len(last.feet) == 0 && (r.gap == (gap{}) || r.gap == (gap{of: true}) || r.gap == (gap{at: true})) && !c.ended && r.pitchOnly(next) {
			r.splitClause(len(c.items) - 1) // "R. Flûte 8; Anches Péd. 16"
			c = r.clause
			c.leadWeak = true
		}
		if (r.gap == (gap{}) || r.gap == (gap{of: true}) || r.gap == (gap{at: true})) && !c.ended && (len(c.lead) == 0 || c.leadWeak) && last.kind == familyItem && len(last.feet) == 0 && r.pitchOnly(next) {
			c.lead, c.leadWeak, c.infix = roles, false, len(c.items) // "Anches Péd. 16", "Anches du Récit 8, 4"
			r.rest(c.entry, r.i, next)
			r.scope, r.scopeWeak = roles, true
			r.take(next)
			return true
		}
		if r.trails(next) {
			if more, after := r.listedDivisions(r.i); len(more) > len(roles) && (r.removable(c.items) || r.gap == (gap{at: true})) && r.ends(after) && r.mark(after) != markColon {
				roles, next = more, after // "ôtez Anches G.O., Pos. et Péd."
			}
			r.nameAfter(roles, next)
			return true
		}
		if more, after := r.listedDivisions(r.i); r.namesReeds(after) {
			prepared := c.ended
			r.nameAfter(more, after)
			if !prepared {
				r.clause.verb, r.clause.given = Add, true
			}
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
		return r.voicesFollow(next) || r.gap.at || r.gap.to || r.mark(next) == markColon && r.voicesFollow(next+1)
	}
	if n := r.at(next); n.number && len(n.token.text) > 1 && r.feetAt(next).IsZero() && lx.dot && len(lx.token.text) < 4 {
		return false // "Ps. 23"
	}
	switch {
	case lx.token.kind == wordToken && len(lx.token.text) == 1 && lx.end == lx.token.end && !r.isRoman(i) && lx.token.text != "r" && lx.token.text != "g":
		// A single letter needs its dot and something to be about.
		listed := r.clause != nil && len(r.clause.items) > 0 && (r.gap == (gap{}) && r.removable(r.clause.items) || r.gap == (gap{at: true})) // "Anches P., G. et Péd."
		return lx.dot && (r.voicesFollow(next) || listed) || r.mark(next) == markColon
	case lx.sensible(classJoined):
		return true
	case lx.sensible(classStop):
		return r.prefersDivision(i, next)
	case lx.sensible(classExpression) || lx.sensible(classTempo) || lx.sensible(classHeading) && !lx.dot:
		return r.voicesFollow(next) || r.mark(next) == markColon || r.gap.at && r.ends(next)
	}
	return true
}

// prefersDivision decides between a division and a stop that are called the
// same, "Pos." or "Bombarde": a stop has a pitch or stands in a list of stops.
func (r *reader) prefersDivision(i, next int) bool {
	lx := r.at(i)
	if f := r.feetAt(i + 1); lx.stop != nil && lx.stop.short && lx.sensible(classDivision) && !f.IsZero() && f.Cmp(pitch.Foot(8)) <= 0 &&
		r.lang != "de" && r.lang != "nl" && (r.gap.begins() || !r.listsStops() && !isPedal(r.scope)) {
		return true // "Pos. 8, 4"
	}
	switch {
	case lx.stop == nil || !lx.sensible(classDivision) || !r.feetAt(i+1).IsZero() && !(r.gap.at && lx.stop.short && r.hasItems()):
		return false
	case r.mark(next) == markColon || r.voicesFollow(next):
		return true
	case r.coupledBy(next) || r.coupledBy(i-1) || r.gap.of || r.gap.at:
		return lx.stop.short || r.coupledBy(next)
	case r.hasItems() && !r.clause.leadWeak && len(r.clause.lead) > 0 && (r.gap.and || r.gap.comma):
		return false
	}
	return lx.stop.short && !lx.sensible(classFamily) // "Lleno y Trompetería"
}

// listsStops reports whether the list that is being read names a single stop.
func (r *reader) listsStops() bool {
	return r.hasItems() && slices.ContainsFunc(r.clause.items, func(it item) bool { return it.kind == stopItem })
}

// trails reports whether the division at the present place, which ends at
// next, belongs to the stops before it.
func (r *reader) trails(next int) bool {
	last := r.clause.items[len(r.clause.items)-1]
	weak := len(r.clause.lead) == 0 || r.clause.leadWeak || last.gap.begins() && len(r.clause.items) > 1 // "R. Gambe; Hautbois au Positif, …"
	joined := r.gap.of || r.gap.at || r.gap.to
	follows := r.voicesFollow(next) || r.mark(next) == markColon ||
		!weak && r.mark(next) == markComma && r.voicesFollow(next+1) // "À la Pédale, les Fonds"
	switch {
	case r.gap.open && r.mark(next) == markClose && !(r.gap.begins() && r.voicesFollow(next+1)):
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

// listedDivisions reads divisions that stand side by side or in a list, the
// pedal among them, until one has stops of its own: "G.O., Pos. et Péd.".
func (r *reader) listedDivisions(i int) (roles []division.Role, next int) {
	next = i
	for range maxList {
		j := next
		if len(roles) > 0 {
			if r.mark(j) == markComma {
				j++
			}
			if r.joins(j) {
				j++
			}
			j = r.skip(j, classOf, classTo, classAt)
		}
		more, after := r.divisionAt(j)
		if len(more) == 0 || r.voicesFollow(after) || r.mark(after) == markColon || r.coupledBy(after) {
			break
		}
		roles, next = append(roles, more...), after
	}
	return roles, next
}

// namesReeds reports whether divisions that end at next stand after reeds that
// are added, or prepared, to what others have: "G.O. P. R. Fonds 8, Anches R.",
// "G.O. Fonds 8; Anches préparées P. et G.".
func (r *reader) namesReeds(next int) bool {
	c := r.clause
	last := c.items[len(c.items)-1]
	return r.gap == (gap{}) && (!c.given || c.ended && c.verb == Prep) && !c.named && last.gap.broken() &&
		(len(c.items) > 1 || c.ended) && r.bareReeds(c.items[len(c.items)-1:]) && r.ends(next) && r.mark(next) != markColon
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
	if r.head == nil || r.gap.comma || r.gap.semicolon || r.gap.line || r.gap.open || r.gap.with && r.could(r.skip(r.i), classBox) {
		return false // "Sw. with box closed" also says to play there
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
