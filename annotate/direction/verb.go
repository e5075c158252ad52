package direction

import (
	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// readVerb reads a verb that stands before its stops, or after them.
func (r *reader) readVerb() bool {
	switch {
	case r.is(r.i, classLater):
		r.closeClause()
		r.verb, r.later = Prep, true
	case r.is(r.i, classPrepared) && r.takesVerb():
		r.applyVerb(Prep)
	case r.is(r.i, classPrepare):
		r.closeClause()
		r.verb, r.prepare = Set, true
	case r.is(r.i, classReduce):
		r.closeClause()
		r.verb, r.reducing, r.reduced = Set, true, true
	case r.is(r.i, classWithout), r.is(r.i, classExcept):
		return r.readWithout()
	case r.is(r.i, classOff):
		return r.readOff()
	case r.could(r.i, classIn) && r.takesVerb() && !r.gap.broken() && r.ends(r.i+1):
		r.applyVerb(Off)
	case r.is(r.i, classAdd):
		return r.readAdd()
	case r.is(r.i, classSet):
		if r.hasItems() && !r.gap.broken() {
			r.clause.given = true
			break
		}
		r.closeClause()
		r.verb, r.with = Set, false
	case r.is(r.i, classOn) && r.takesVerb() && !r.gap.broken() && !r.divisionFollows(r.i+1):
		r.applyVerb(Add)
	case r.is(r.i, classWith):
		r.readWith()
		r.i++
		return true
	default:
		return false
	}
	r.take(r.i + 1)
	return true
}

// divisionFollows reports whether a division is named at i.
func (r *reader) divisionFollows(i int) bool {
	roles, _ := r.divisionAt(i)
	return len(roles) > 0
}

// readWithout reads "without": right after a group it limits the group, else
// it takes stops off.
func (r *reader) readWithout() bool {
	if r.hasItems() && !r.gap.line && !r.gap.semicolon && r.limitable(r.clause.items[len(r.clause.items)-1]) {
		r.limit = true
	} else {
		r.closeClause()
		r.verb, r.with = Off, false
	}
	r.take(r.i + 1)
	return true
}

// limitable reports whether an item is a group that can leave something out.
func (r *reader) limitable(it item) bool {
	switch it.kind {
	case fullItem, groupItem, rangeItem, allItem:
		return true
	case familyItem:
		return r.family(it) == Foundation
	}
	return false
}

func (r *reader) readOff() bool {
	place := r.value(r.i, classOff)
	after := r.skip(r.i + 1)
	switch {
	case place != "pre" && r.takesVerb() && !(r.gap.comma && r.voicesFollow(after)):
		r.applyVerb(Off)
	case place != "pre" && r.head != nil && !r.gap.broken() && !r.voicesFollow(after):
		h := r.head
		r.head = nil
		r.rest(h.entry, r.i, r.i+1)
		for _, d := range h.divisions {
			s := Statement{Verb: Off, Division: d, All: true}
			if d == division.Pedal {
				s = Statement{Verb: Play, Hand: Feet, State: "none"}
			}
			h.entry.statements = append(h.entry.statements, s)
		}
	case place == "post":
		return false
	default:
		r.closeClause()
		r.verb, r.with, r.later = Off, false, false
	}
	r.take(r.i + 1)
	return true
}

func (r *reader) readAdd() bool {
	place := r.value(r.i, classAdd)
	switch {
	case place != "pre" && r.takesVerb() && !(r.gap.comma && r.voicesFollow(r.skip(r.i+1))):
		r.applyVerb(Add)
	case place == "post":
		return false
	case r.later:
		// "puis ajoutez les Anches" is still for later
	default:
		r.closeClause()
		r.verb, r.with = Add, false
	}
	r.take(r.i + 1)
	return true
}

// readWith reads "with", which joins inside a list and adds at the head of one.
func (r *reader) readWith() {
	r.gap.with = true
	if !r.hasItems() && r.verb == "" {
		r.verb, r.with = Add, true
	}
}

// readPlus reads a plus sign, which is an "add" at the head of a list.
func (r *reader) readPlus() {
	r.gap.and = true
	if !r.hasItems() || r.gap.line && !r.clause.given {
		r.closeClause()
		if !r.later {
			r.verb, r.with = Add, false
		}
	}
}

// readDash reads a dash: a minus sign takes off; another dash does so at the
// head of a list, where a long one after a division only parts.
func (r *reader) readDash() {
	if r.at(r.i-1).number && !r.hasItems() {
		r.gap.dash = true // a fingering
		return
	}
	if r.at(r.i).glued && r.at(r.i+1).glued && r.mark(r.i) == markHyphen && r.mark(r.i-1) == "" && !r.at(r.i-1).dot {
		r.gap.dash = true // a hyphen
		return
	}
	long := r.mark(r.i) == markLongDash
	minus := r.mark(r.i) == markMinus || !long && !r.at(r.i).glued && r.at(r.i+1).glued && r.removableAt(r.i+1) // "Gt. -Reeds"
	begins := r.i == 0 || r.gap.line || r.gap.open || r.gap.comma
	follows := r.voicesFollow(r.i+1) || (minus || begins) && r.divisionFollows(r.i+1) || r.is(r.i+1, classPedalCoupler) || r.is(r.i+1, classTremulant)
	atHead := !r.hasItems() || r.gap.comma || r.gap.line || r.gap.open || r.gap.semicolon
	switch {
	case !follows:
		r.gap.dash = true
	case r.hasItems() && !r.gap.broken() && r.limitable(r.clause.items[len(r.clause.items)-1]) && r.nameAt(r.i+1):
		r.limit = true
	case minus || atHead && (r.head == nil || !long && r.lang != "en" && r.removableAt(r.i+1)):
		r.closeClause()
		r.verb, r.with = Off, false
	default:
		r.gap.dash = true
	}
}

// removableAt reports whether a word for reeds or mixtures stands at i, or a
// pitch.
func (r *reader) removableAt(i int) bool {
	i = r.skip(i)
	family := Group(firstWord(r.value(i, classFamily)))
	return family == Reed || family == Mixture || r.nameAt(i) && r.isMixture(i) || !r.feetAt(i).IsZero() && !r.nameAt(i+1)
}

// readChangeOfDivision reads a division that is itself added or taken off:
// "add Sw.", "+ II", "ohne II".
func (r *reader) readChangeOfDivision(roles []division.Role, from, next int) bool {
	if r.mark(next) == markColon {
		return false
	}
	verb := Couple
	if r.verb == Off {
		verb = Uncouple
	}
	to := r.couplerTarget()
	var statements []Statement
	for _, d := range roles {
		if d == division.Pedal {
			state := "pedal"
			if verb == Uncouple {
				state = "none"
			}
			statements = append(statements, Statement{Verb: Play, Hand: Feet, State: state})
			continue
		}
		s := Statement{Verb: verb, Division: d, To: to}
		if to != division.None {
			s.Division, s.To = usualCoupler(d, to)
		}
		statements = append(statements, s)
	}
	r.closeClause()
	if r.head != nil {
		r.closeHead()
	}
	r.emit(from, next, statements...)
	if r.with {
		r.verb, r.with = "", false
	}
	r.take(next)
	return true
}

// readRange reads how far a chorus goes: "to Fifteenth", "bis 2'".
func (r *reader) readRange() bool {
	isRange := r.is(r.i, classRange)
	if !isRange && !r.is(r.i, classTo) {
		return false
	}
	begins := r.i == 0 || r.mark(r.i-1) != ""
	if r.gap.line && !begins || !isRange && r.head == nil && !r.hasItems() && r.verb == "" && !begins {
		return false
	}
	j := r.skip(r.i+1, classAll, classStrength)
	from := r.i
	feet := r.feetAt(j)
	switch {
	case !feet.IsZero():
		list, after := r.pitchesAt(j, true)
		if r.nameAt(after) && r.namePrefixed(after) || len(list) > 1 && !r.hasItems() || !r.hasItems() && feet.Cmp(pitch.Foot(4)) > 0 {
			r.i++ // "reduce to 8 ft. flutes"
			return true
		}
		r.addRange(item{kind: rangeItem, lexeme: -1, group: ChorusTo, feet: []pitch.Feet{feet}, from: from, to: j + 1})
		return true
	case r.nameAt(j):
		it := item{lexeme: j, kind: r.nameKind(j)}
		v := r.voices(it, false)[0]
		after := r.pastRanks(j + 1)
		if f := r.feetAt(after); !f.IsZero() {
			if v.Group == Principal {
				v.Pitch = f
			}
			after++
		}
		it = item{kind: rangeItem, lexeme: j, from: from, to: after}
		switch {
		case v.Group == Mixture:
			it.group = Plenum
		case v.Group == Principal && !v.Pitch.IsZero() && v.Pitch.Cmp(pitch.Foot(4)) <= 0:
			it.group, it.feet = ChorusTo, []pitch.Feet{v.Pitch}
		default:
			if begins && !isRange && r.verb == "" && r.head == nil {
				return false
			}
			r.i++ // "reduce to Diaps."
			return true
		}
		r.addRange(it)
		return true
	case r.is(j, classGroup), r.is(j, classFull):
		r.i++
		return true
	}
	return false
}

// rangeFollows reports whether it is said at i how far a chorus goes.
func (r *reader) rangeFollows(i int) bool {
	return (r.is(i, classRange) || r.is(i, classTo)) && r.voicesFollow(r.skip(i+1))
}

// addRange takes a range into the list; what stands before it ("Full", "8'")
// is where the range begins.
func (r *reader) addRange(it item) {
	it.gap = r.gap
	if r.hasItems() {
		items := r.clause.items
		last := items[len(items)-1]
		switch {
		case last.kind == fullItem, last.kind == groupItem && last.group == Tutti, last.kind == familyItem && r.family(last) == Principal && (len(last.feet) == 0 || len(last.feet) == 1 && last.feet[0] == pitch.Foot(8)),
			last.kind == pitchItem && len(last.feet) == 1 && last.feet[0] == pitch.Foot(8):
			r.clause.items = items[:len(items)-1]
			if len(items) == 1 {
				it.from = last.from
			}
		case last.kind == familyItem && len(last.feet) == 1 && it.group == ChorusTo && it.lexeme < 0:
			last.feet = append(append(last.feet, octavesBetween(last.feet[0], it.feet[0])...), it.feet...)
			items[len(items)-1] = last
			r.rest(r.clause.entry, it.from, it.to)
			r.take(it.to)
			return
		}
	}
	if r.clause != nil && len(r.clause.items) == 0 {
		r.clause.items = append(r.clause.items, it)
		r.rest(r.clause.entry, it.from, it.to)
		r.take(it.to)
		return
	}
	r.addItem(it)
}

// rangeName is the printed name of the last stop of a chorus: the name in the
// table where the text has it in full letters.
func (r *reader) rangeName(i int) string { return r.printed(i) }

// readFull reads "full", which says how much of a division is drawn.
func (r *reader) readFull() bool {
	if !r.is(r.i, classFull) || r.is(r.i, classGroup) {
		return false
	}
	from := r.i
	it := item{kind: fullItem, lexeme: r.i, gap: r.gap, from: from, to: r.i + 1}
	roles, _, next := r.divisionList(r.i+1, false)
	if len(roles) > 1 && r.rangeFollows(next) {
		roles, next = r.divisionAt(r.i + 1) // "Full Sw. & Gt. to Fifteenth"
	}
	if len(roles) > 0 {
		if r.hasItems() {
			r.closeClause()
		}
		r.closeHead()
		if r.startsPair(r.i + 1) {
			next = r.i + 1 // "Full Sw. to Gt.": the coupler is read next
		}
		r.openHead(roles, len(roles) > 1, from, next)
		it.to = next
		it.gap = gap{}
		r.addItem(it)
		return true
	}
	r.addItem(it)
	return true
}
