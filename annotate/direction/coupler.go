package direction

import (
	"strings"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
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
	case r.is(i, classTo), r.could(i, classTo) && (r.isRoman(i-1) || r.is(i-1, classDivision) || r.is(i-1, classManual)) && (r.isRoman(i+1) || r.is(i+1, classDivision)), coupled && (r.is(i, classAt) || r.is(i, classWith) || r.is(i, classOf)):
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
	to, end := r.targets(after)
	if len(to) == 0 {
		return c, false
	}
	if manuals && to[0] != division.Pedal {
		return c, false
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

// startsPair reports whether a coupler of two divisions stands at i.
func (r *reader) startsPair(i int) bool {
	_, ok := r.pair(i)
	return ok
}

// couplerTarget is the division on whose keys a coupler sounds that names
// only what is coupled: the one that the text is about.
func (r *reader) couplerTarget() division.Role {
	if len(r.scope) == 1 && !r.scopeWeak && !r.gap.line {
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
	next = r.couplerState(next, &verb)
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

func (c coupling) target() division.Role {
	if len(c.to) == 0 {
		return division.None
	}
	return c.to[0]
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
	switch {
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

var (
	every   = []division.Role{division.Every}
	unnamed = []division.Role{division.None}
)

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// couplerNoun reads "coupler", "Koppel", "unione" with what it couples.
func (r *reader) couplerNoun(i int, all bool, verb *Verb) (coupling, bool) {
	many := r.value(i, classCoupler) == "many"
	alone := r.at(i).stop != nil && (!r.feetAt(i+1).IsZero() || r.lang == "en" && (r.head != nil || r.hasItems())) // "Coppel 8'"
	j := r.skip(i+1, classOf)
	if r.mark(j) == markColon {
		j = r.skip(j + 1)
	}
	var octaves []int
	if r.is(j, classOctave) && r.startsPair(j+1) {
		octaves = r.octaveValues(j)
		j++
	}
	if c, ok := r.pair(j); ok {
		if len(octaves) > 0 {
			c.octaves = octaves
		}
		return c, true
	}
	if r.is(j, classTo) {
		if to, next := r.targets(j + 1); len(to) == 1 {
			return coupling{from: unnamed, to: to, literal: true, next: next}, true
		}
	}
	if from, _, next := r.divisionList(j, true); len(from) > 0 && r.mark(next) != markColon && !r.voicesFollow(next) {
		if len(from) == 2 && from[0] != division.Pedal && from[1] != division.Pedal {
			return coupling{from: from[:1], to: from[1:], next: next}, true // "Koppel I+II", "accouplement R. G."
		}
		c := coupling{from: from, to: []division.Role{r.couplerTarget()}, next: next}
		if len(from) == 1 && from[0] == division.Pedal {
			c = coupling{from: unnamed, to: from, literal: true, next: next}
		} else if second, after := r.divisionAt(next); len(second) == 1 && len(from) == 1 {
			c = coupling{from: from, to: second, next: after} // "accouplement R. G."
		}
		return c, true
	}
	if alone {
		return coupling{}, false
	}
	switch off := *verb == Uncouple || r.is(i+1, classOff) || r.is(i+1, classIn) && r.ends(i+2) || r.verb == Off; {
	case off:
		*verb = Uncouple
		c := coupling{next: i + 1, statement: []Statement{{Verb: Uncouple, All: true}}}
		if len(r.scope) == 1 && r.scope[0] == division.Pedal && !many && !r.gap.broken() && r.head != nil {
			c.statement = []Statement{{Verb: Uncouple, Division: division.Every, To: division.Pedal}}
		}
		return c, true
	case all && many, all:
		return coupling{from: every, to: every, literal: true, next: i + 1}, true
	case many:
		return coupling{from: every, to: unnamed, literal: true, next: i + 1}, true
	}
	if r.head != nil && r.head.divisions[0] == division.Pedal && !r.gap.broken() {
		return coupling{from: unnamed, to: r.head.divisions, literal: true, next: i + 1}, true
	}
	return coupling{from: unnamed, to: []division.Role{r.couplerTarget()}, literal: true, next: i + 1}, true
}

// pedalCoupler reads "Tirasse G.P.R.", "Pedalkoppel II".
func (r *reader) pedalCoupler(i int, verb *Verb) (coupling, bool) {
	many := r.value(i, classPedalCoupler) == "many"
	j := r.skip(i+1, classOf, classAt, classTo, classNeutral)
	if r.mark(j) == markColon {
		j++
	}
	if roles, after := r.divisionAt(j); len(roles) == 1 && roles[0] == division.Pedal && !r.voicesFollow(after) {
		j = after // "Tirasse Péd. G.R."
	}
	from, next := r.bareDivisions(j)
	if len(from) == 0 || r.mark(next) == markColon || r.voicesFollow(next) && !r.joins(next-1) && len(from) == 1 && r.gapLine(i+1, j) {
		next = i + 1
		from = []division.Role{division.None}
		if many || *verb == Uncouple || r.is(next, classOff) {
			from = every
		}
	}
	return coupling{from: from, to: []division.Role{division.Pedal}, literal: true, next: next}, true
}

// gapLine reports whether a line ends between i and j.
func (r *reader) gapLine(i, j int) bool {
	for ; i < j; i++ {
		if r.mark(i) == markBreak {
			return true
		}
	}
	return false
}

// bareDivisions reads divisions that stand side by side or in a list, as
// after "Tirasse": "G.O. et Pos.", "R, P", "G P R".
func (r *reader) bareDivisions(i int) (roles []division.Role, next int) {
	next = i
	for range maxList {
		j := next
		if len(roles) > 0 {
			if r.joins(j) || r.mark(j) == markComma || r.mark(j) == markSlash || r.mark(j) == markHyphen {
				j++
			}
			j = r.skip(j, classOf)
		}
		more, after := r.divisionAt(j)
		if len(more) == 0 || more[0] == division.Pedal {
			break
		}
		if len(roles) > 0 && (r.voicesFollow(after) || r.mark(after) == markColon || r.coupledBy(after)) {
			break
		}
		roles, next = append(roles, more...), after
	}
	return roles, next
}

// octaveCoupler reads "Octaves graves", "Superoktavkoppel II/I".
func (r *reader) octaveCoupler(i int) (coupling, bool) {
	octaves := r.octaveValues(i)
	sure := r.is(i, classOctaveCoupler) || !r.is(i, classStop)
	j := i + 1
	for k := j; k < i+2*maxSkip; k = j {
		if r.mark(k) == markHyphen {
			k++
		}
		if !r.joins(k) || !r.is(k+1, classOctave) && !r.is(k+1, classOctaveCoupler) {
			break
		}
		octaves = append(octaves, r.octaveValues(k+1)...) // "Sub- und Superkoppel"
		sure = sure || r.is(k+1, classOctaveCoupler) || !r.is(k+1, classStop)
		j = k + 2
	}
	if r.is(j, classCoupler) {
		sure = true
		j++
	}
	k := r.skip(j, classOf, classAt)
	if c, ok := r.pair(k); ok && (sure || r.mark(j) == "") {
		c.octaves = octaves
		return c, true
	}
	if r.is(j, classTo) {
		if to, next := r.targets(j + 1); len(to) == 1 && len(r.scope) == 1 && r.head != nil {
			return coupling{from: r.scope, to: to, literal: true, octaves: octaves, next: next}, true
		}
	}
	on := r.couplerTarget()
	if on == division.None && r.head != nil {
		on = r.head.divisions[0]
	}
	if !sure {
		// "Sw. Octave": the coupler where no Octave is listed among stops.
		enclosed := on == division.Swell || on == division.Choir || on == division.Solo
		if r.lang != "en" || !enclosed || r.head == nil || r.joins(j) && r.nameAt(j+1) || !r.feetAt(j).IsZero() || r.mark(j) == markComma {
			return coupling{}, false
		}
	}
	next := j
	if from, _, after := r.divisionList(k, false); len(from) > 0 && !r.voicesFollow(after) && r.mark(after) != markColon {
		on, next = from[0], after
	}
	if !r.hasItems() || sure {
		return coupling{from: []division.Role{on}, to: []division.Role{on}, literal: true, octaves: octaves, next: next}, true
	}
	return coupling{}, false
}

// coupledAlone reads "coupled" without a division before it: what the text is
// about is coupled to what follows.
func (r *reader) coupledAlone(i int, verb *Verb) (coupling, bool) {
	if r.is(i, classUncoupled) && !r.is(i, classCoupled) {
		*verb = Uncouple
	}
	if r.is(i, classRole) && (r.mark(i+1) == markColon || r.voicesFollow(i+1)) {
		return coupling{}, false // "Acc.: Bourdon 8", the accompaniment
	}
	if roles, together, next := r.divisionList(i+1, false); together && len(roles) > 1 && r.is(i, classCoupled) {
		return coupledTogether(roles, next), true // "Acc. P.G."
	}
	if c, ok := r.pair(i + 1); ok && r.is(i, classCoupled) {
		return c, true // "Acc. R. au G.O."
	}
	about := r.couplerTarget()
	if _, octaves, after := r.joint(i); after > 0 {
		full := r.is(after, classFull)
		to, next := r.targets(after + b2i(full))
		if len(to) > 0 {
			if full {
				next = after
			}
			if about == division.None {
				about = division.None
				return coupling{from: to, to: unnamed, literal: true, octaves: octaves, next: next}, true
			}
			if to[0] == division.Every {
				return coupling{from: every, to: []division.Role{about}, literal: true, next: next}, true
			}
			return coupling{from: []division.Role{about}, to: to, octaves: octaves, next: next}, true
		}
	}
	if about == division.None && len(r.scope) > 1 && r.hasItems() && !r.gap.line {
		return coupledTogether(r.scope, i+1), true // "Full Gt. & Sw. coupled"
	}
	if about == division.None {
		if !r.ends(i+1) && !r.gap.broken() {
			return coupling{}, false
		}
		return coupling{from: every, to: unnamed, literal: true, bare: true, next: i + 1}, true
	}
	if len(r.before) == 1 && rank(r.before[0]) < rank(about) && r.before[0] != division.Pedal {
		return coupling{from: []division.Role{about}, to: r.before, literal: true, next: i + 1}, true // "Gt. Diaps., Sw. Oboe coupled"
	}
	if len(r.before) == 1 && rank(about) <= 1 && about != division.Pedal && r.before[0] != division.Pedal && rank(r.before[0]) > rank(about) {
		return coupling{from: r.before, to: []division.Role{about}, literal: true, next: i + 1}, true // "Full Sw., Gt. Diaps. coupled"
	}
	return r.oneCoupled(about, i+1, *verb), true
}

// oneCoupled is "Sw. coupled", "Gt. coupled", "Ped. uncoupled": the pedal and
// the leading manual are where couplers go, another division is what is
// coupled.
func (r *reader) oneCoupled(d division.Role, next int, verb Verb) coupling {
	if rank(d) <= 1 {
		from := unnamed
		if verb == Uncouple {
			from = every
		}
		return coupling{from: from, to: []division.Role{d}, literal: true, next: next}
	}
	return coupling{from: []division.Role{d}, to: unnamed, literal: true, next: next}
}

// coupledList reads "Pos. et Réc. accouplés", "couple Sw.", "Sw. coupled".
func (r *reader) coupledList(i int, commanded bool, verb *Verb) (coupling, bool) {
	roles, _, next := r.divisionList(i, true)
	if len(roles) == 0 {
		return coupling{}, false
	}
	if more, after := r.bareDivisions(i); len(more) > len(roles) && r.is(after, classCoupled) && roles[0] != division.Pedal {
		roles, next = more, after // "G.O. Pos. Réc. accouplés"
	}
	j := next
	if r.is(j, classUnisonOff) && len(roles) == 1 {
		*verb = Uncouple
		return coupling{from: roles, to: roles, literal: true, next: j + 1}, true
	}
	if len(roles) == 1 && !r.feetAt(j).IsZero() {
		// "Sw. 16 & 4 ft. couplers"
		if feet, after := r.pitchesAt(j, true); r.is(after, classCoupler) {
			c := coupling{from: roles, to: roles, literal: true, next: after + 1}
			for _, f := range feet {
				c.octaves = append(c.octaves, octaveOf(f.String()))
			}
			return c, true
		}
		return coupling{}, false
	}
	if len(roles) == 1 && (r.is(j, classOctaveCoupler) || r.is(j, classOctave) && (r.is(j+1, classCoupler) || !r.is(j, classStop))) && !r.is(j+1, classTo) {
		next := j + 1 + b2i(r.is(j+1, classCoupler))
		return coupling{from: roles, to: roles, literal: true, octaves: r.octaveValues(j), next: next}, true
	}
	switch {
	case r.is(j, classCoupled):
		j++
	case r.is(j, classUncoupled):
		*verb = Uncouple
		j++
	case commanded:
	case roles[0] == division.Pedal && len(roles) == 1:
		// "Ped. R G": what is coupled to the pedal
		if from, after := r.bareDivisions(next); len(from) > 0 && r.lettersOnly(next, after) && !r.voicesFollow(after) && r.mark(after) != markColon {
			return coupling{from: from, to: roles, literal: true, next: after}, true
		}
		return coupling{}, false
	default:
		return coupling{}, false
	}
	if len(roles) == 1 {
		if to := r.couplerTarget(); to != division.None && to != roles[0] {
			return coupling{from: roles, to: []division.Role{to}, next: j}, true
		}
		return r.oneCoupled(roles[0], j, *verb), true
	}
	c := coupledTogether(roles, j)
	if to := r.couplerTarget(); to != division.None && rank(to) < rank(c.to[0]) && !commanded {
		c.from, c.to = roles, []division.Role{to} // "G.O. Fonds, Pos. et Réc. accouplés"
	}
	return c, true
}

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

// lettersOnly reports whether lexemes are divisions in single letters.
func (r *reader) lettersOnly(i, end int) bool {
	for ; i < end; i++ {
		if lx := r.at(i); lx.mark == "" && len(lx.token.text) > 1 && !r.is(i, classJoined) && !r.isRoman(i) {
			return false
		}
	}
	return true
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
		if r.joins(j) && !c.noun || r.mark(j) == markComma && len(c.octaves) > 0 {
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
			for _, o := range octaves {
				all = append(all, Statement{Verb: verb, Division: a, To: b, Octave: o})
			}
		}
	}
	return all
}

// splitWords splits at spaces.
func splitWords(s string) []string { return strings.Fields(s) }
