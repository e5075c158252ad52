package direction

import (
	"slices"
	"strconv"
	"strings"

	"stopgap/registry/division"
)

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
	if lx.token.text == "v" && lx.dot && r.at(i+1).number {
		return false // a verse, or a Viole
	}
	return r.lang != "it" || lx.token.text != "i" || lx.dot || !r.is(i+1, classFamily) || !strings.HasSuffix(r.value(i+1, classFamily), "*") && r.is(i+1, classFamily) // "i fondi", but "I Principale"
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
	if !closed && len(other) == 1 && sameOffice(roles[0], other[0]) && r.mark(after) == markClose {
		return roles, after + 1
	}
	if len(other) != 1 || (other[0].Number() > 0) == (roles[0].Number() > 0) {
		return roles, next
	}
	if !closed {
		if r.mark(after) != markClose {
			return roles, next
		}
		after++
	} else if !beside || roles[0].Number() == 0 || r.coupledBy(after) || r.is(j, classFamily) {
		return roles, next
	}
	if roles[0].Number() > 0 {
		roles = other
	}
	return roles, after
}

// sameOffice reports whether two names, of which one stands in parentheses,
// mean one division: "Gt. (Hw.)", "Ch. (Pos.)".
func sameOffice(a, b division.Role) bool {
	secondary := func(d division.Role) bool { return d == division.Choir || d == division.Positive }
	return a == b || secondary(a) && secondary(b)
}

// coupledBy reports whether a word that joins two divisions stands at i.
func (r *reader) coupledBy(i int) bool {
	_, _, next := r.joint(i)
	return next > 0
}

func (r *reader) plainDivisionAt(i int) ([]division.Role, int) {
	if r.is(i, classManual) || r.could(i, classManual) && r.isRoman(i+1) {
		j := i + 1
		if n := r.manualNumber(j); n > 0 {
			return []division.Role{division.Manual(n)}, j + 1
		}
		return nil, i
	}
	if n := r.manualNumber(i); n > 0 {
		if r.is(i+1, classManuals) && r.at(i).number && !r.at(i).dot {
			return nil, i // "for 2 manuals"
		}
		if r.is(i+1, classManual) || r.could(i+1, classManual) && (r.isRoman(i) || r.at(i).dot) {
			return []division.Role{division.Manual(n)}, i + 2
		}
		if r.isRoman(i) && !(r.is(i-1, classHeading) && r.mark(i-1) == "" && !r.used[max(0, i-1)]) { // "Var. II"
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
	if before := r.at(i - 1); indefinite[before.token.text] && !before.dot && r.is(i-1, classArticle) && s.value == string(division.Solo) {
		return nil, i // "a solo reed"
	}
	role := division.Role(s.value)
	if next := r.at(i + 1); len(r.at(i).token.text) == 1 && next.number && next.glued && !r.at(i).dot {
		return nil, i // "G7" is a chord
	}
	if lx := r.at(i); lx.token.text == "p" && lx.end == lx.token.end {
		// In French the Positif, elsewhere the pedal; without a dot a dynamic.
		toPedal := r.is(i-1, classTo) && len(r.at(i-2).token.text) == 1 && r.mark(i-2) == "" // "G to P"
		dashed := r.mark(i-1) == markHyphen || r.mark(i-1) == markArrow || r.mark(i-1) == markLongDash && lx.glued && (r.isRoman(i-2) || r.is(i-2, classDivision) && len(r.at(i-2).token.text) == 1)
		if !lx.dot && !toPedal && r.mark(i-1) != markSlash && !dashed && r.mark(i+1) != markSlash && r.mark(i+1) != markColon {
			return nil, i
		}
		role = division.Positive
		switch {
		case (r.mark(i-1) == markSlash || dashed) && r.isRoman(i-2):
			role = division.Pedal
		case (r.mark(i-1) == markSlash || dashed) && r.at(i-2).token.text == "r", r.lang == "fr":
		case r.mark(i+1) == markSlash && r.isRoman(i+2):
			role = division.Pedal
		case r.mark(i-1) == markSlash || dashed || r.is(i-1, classTo):
			role = division.Pedal
		case r.letterPedal():
			role = division.Pedal
		case r.lang == "de" || r.lang == "nl" || r.lang == "it" || r.lang == "es":
			role = division.Pedal
		}
	}
	return []division.Role{role}, i + 1
}

// letterPedal reports whether the text couples a manual to a pedal that it
// calls P: "P. 16', 8' II/P".
func (r *reader) letterPedal() bool {
	if r.pedalLetter == 0 {
		r.pedalLetter = 1
		for i := range r.lexemes {
			if r.at(i).token.text == "p" && r.mark(i-1) == markSlash && r.isRoman(i-2) {
				r.pedalLetter = 2
			}
		}
	}
	return r.pedalLetter == 2
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
		case r.mark(j) == markOpen && r.is(j+1, classOr) && !commas:
			if more, after := r.divisionAt(r.skip(j+2, classAt)); len(more) > 0 && r.mark(after) == markClose {
				next = after + 1 // "Ch. (or Pos.)"
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
