package direction

import (
	"slices"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
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
			if r.couplerTarget() == division.Pedal && to[0] != division.Pedal {
				return coupling{from: to, to: r.scope, literal: true, next: next}, true // "Pedal 16, enganche al G.O."
			}
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
		onPedal := len(r.scope) == 1 && r.scope[0] == division.Pedal && !r.gap.line && !r.gap.semicolon
		if onPedal && (!many && !r.gap.broken() && r.head != nil || r.insideParentheses(i)) {
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

// insideParentheses reports whether a parenthesis is open at i.
func (r *reader) insideParentheses(i int) bool {
	for last := i - 2*maxSkip; i >= 0 && i > last; i-- {
		switch r.mark(i) {
		case markOpen:
			return true
		case markClose, markBreak:
			return false
		}
	}
	return false
}

// pedalCoupler reads "Tirasse G.P.R.", "Pedalkoppel II".
func (r *reader) pedalCoupler(i int, verb *Verb) (coupling, bool) {
	many := r.value(i, classPedalCoupler) == "many"
	j := r.skip(i+1, classOf, classAt, classTo, classNeutral)
	if r.mark(j) == markColon {
		j++
	}
	alone := i + 1
	if roles, after := r.divisionAt(j); len(roles) == 1 && roles[0] == division.Pedal && !r.voicesFollow(after) && r.mark(after) != markColon {
		j = after // "Tirasse Péd. G.R."
		if !r.gapLine(i+1, j) {
			alone = after
		}
	}
	from, next := r.bareDivisions(j)
	if len(from) == 0 || r.mark(next) == markColon || r.voicesFollow(next) && !r.joins(next-1) && len(from) == 1 && r.gapLine(i+1, j) {
		next = alone
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

// sideBySide is bareDivisions where a "coupled" comes after them.
func (r *reader) sideBySide(i int) (roles []division.Role, next int) {
	for j := i; j < i+2*maxList; j++ {
		if r.is(j, classCoupled) {
			return r.bareDivisions(i)
		}
		if m := r.mark(j); m != "" && m != markComma && m != markAmpersand {
			break
		}
	}
	return nil, i
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
	if d := r.coupledOnItself(); d != division.None && !sure && r.feetAt(j).IsZero() {
		on, sure = d, true // "Sw. Unison off, Octave on"
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

// coupledOnItself is the division of which a coupler upon itself has just been
// named, None where there is none.
func (r *reader) coupledOnItself() division.Role {
	if len(r.out) == 0 || r.hasItems() || r.gap.line || r.gap.semicolon || r.head != nil {
		return division.None
	}
	for _, s := range r.out[len(r.out)-1].statements {
		if (s.Verb == Couple || s.Verb == Uncouple) && s.Division == s.To && s.To != division.None {
			return s.To
		}
	}
	return division.None
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
	if more, after := r.sideBySide(i); len(more) > len(roles) && r.is(after, classCoupled) && roles[0] != division.Pedal {
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
		} else if to, end := r.targets(after + 1); r.is(after, classTo) && len(to) > 0 && !slices.Contains(feet, pitch.Foot(8)) {
			c := coupling{from: roles, to: to, literal: true, next: end}
			for _, f := range feet { // "Sw. 16, 4 to Gt."
				if !octaveFeet[f] {
					return coupling{}, false
				}
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
	if _, _, at := r.joint(j); at > 0 && len(roles) > 1 {
		if to, _ := r.divisionAt(at); len(to) == 1 && to[0] == roles[0] {
			return coupling{}, false // "Positif, Récit accouplé au Pos."
		}
	}
	switch {
	case r.is(j, classCoupled):
		j++
	case r.is(j, classUncoupled):
		*verb = Uncouple
		j++
		if to, end := r.targets(j + 1); len(to) > 0 && len(roles) == 1 && (r.is(j, classOf) || r.is(j, classTo)) {
			return coupling{from: roles, to: to, next: end}, true // "Sw. uncoupled from Gt."
		}
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
		if to := r.couplerTarget(); to != division.None && to != roles[0] && !(*verb == Uncouple && roles[0] == division.Pedal) {
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

// lettersOnly reports whether lexemes are divisions in single letters.
func (r *reader) lettersOnly(i, end int) bool {
	for ; i < end; i++ {
		if lx := r.at(i); lx.mark == "" && len(lx.token.text) > 1 && !r.is(i, classJoined) && !r.isRoman(i) {
			return false
		}
	}
	return true
}
