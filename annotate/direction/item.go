package direction

import (
	"strings"
	"unicode"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// An item is one entry of a list of stops, before it is known on which
// division it stands.
type item struct {
	kind     itemKind
	lexeme   int // of the name or group word, -1 where only pitches are given
	feet     []pitch.Feet
	strength string
	group    Group // of groupItem, and of a range
	except   []Group
	noun     bool // a word for stops stands with the pitches
	gap      gap  // what stands before it
	from, to int
}

type itemKind uint8

// usualFeet are the lengths that a number without a mark of feet can mean.
var usualFeet = map[pitch.Feet]bool{
	pitch.Foot(64): true, pitch.Foot(32): true, pitch.Foot(16): true, pitch.Foot(8): true,
	pitch.Foot(4): true, pitch.Foot(2): true, pitch.Foot(1): true,
}

// feetAt is the pitch that stands at i, zero if none does.
func (r *reader) feetAt(i int) pitch.Feet {
	lx := r.at(i)
	if lx.number && r.is(i+1, classManual) && r.manualNumber(i) > 0 && r.manualNumber(i+2) == 0 {
		return pitch.Feet{} // "8', 1. Manual: Prinzipal 8'"
	}
	if lx.number && !lx.token.marked && r.mark(i+1) == markColon && (r.at(i-1).stop == nil || len(r.at(i-1).token.text) == 1) && !r.is(i-1, classDivision) && !r.is(i-1, classFamily) && (r.mark(i-1) != "" || r.is(i-1, classAnd) || len(r.at(i-1).token.text) == 1) {
		return pitch.Feet{} // "v. 2:", "Verses 1 & 4:"
	}
	if !lx.number || !(lx.token.marked || usualFeet[lx.feet()]) || r.is(i+1, classRanks) && !r.endsSentence(i) || r.is(i-1, classHeading) && !r.is(i-1, classWithout) {
		return pitch.Feet{}
	}
	return lx.feet()
}

// nameAt reports whether the name of a stop or of a family stands at i.
func (r *reader) nameAt(i int) bool {
	lx := r.at(i)
	if len(lx.senses) == 0 && lx.mark == "" {
		r.resolve(i)
	}
	switch {
	case lx.sensible(classJoined):
		return false
	case lx.sensible(classFamily):
		return !lx.sensible(classVoice) || isPedal(r.scope) || !r.feetAt(r.skip(i+1, classOf)).IsZero()
	case lx.stop == nil || !lx.sensible(classStop):
		return false
	case lx.stop.loose && r.head == nil && !r.hasItems() && r.verb == "":
		return false
	case lx.sensible(classVoice) || lx.sensible(classHeading):
		// "Soprano and Alto", but "Sw. Violins"
		return !r.feetAt(i+1).IsZero() || r.head != nil && r.head.divisions[0] != division.Choir || r.verb == Add || r.verb == Off
	}
	// A single letter names a stop only where its pitch says so.
	if len(lx.token.text) > 1 || lx.end > lx.token.end {
		return true
	}
	numbered := r.mark(i+2) == markColon || r.divisionFollows(i+2) // "v. 2: Sw.", the second verse
	return !r.feetAt(i+1).IsZero() && !(numbered && !r.at(i+1).token.marked)
}

// maxResolved is how many unknown words of one text are taken apart.
const maxResolved = 64

// resolve sees whether a word that nothing knows is the name of a stop by its
// parts. It must stand where a stop can, or have a pitch.
func (r *reader) resolve(i int) {
	lx := r.at(i)
	inPlace := r.head != nil || r.hasItems() || r.verb != "" || r.at(i+1).number && r.at(i+1).token.marked
	if lx.number || len(lx.token.text) < 5 || len(lx.token.text) > 40 || !inPlace || r.resolved[i] || len(r.resolved) >= maxResolved {
		return
	}
	r.resolved[i] = true
	if stop := byParts(r.text[lx.start:lx.end]); stop != nil {
		lx.stop, lx.senses = stop, []sense{stop.sense}
	}
}

// voicesFollow reports whether something that can be drawn is named at i.
func (r *reader) voicesFollow(i int) bool {
	i = r.skip(i, classAll, classOnly, classStrength, classOf)
	if r.is(i, classTempo) || r.is(i, classExpression) {
		return r.nameAt(i) && !r.feetAt(i+1).IsZero()
	}
	return r.nameAt(i) && !r.is(i, classDivision) || r.nameAt(i) && !r.feetAt(i+1).IsZero() ||
		r.is(i, classGroup) || r.is(i, classFull) || r.is(i, classStops) || !r.feetAt(i).IsZero()
}

// readVoices reads one item of a list of stops.
func (r *reader) readVoices() bool {
	if r.readAllStops() {
		return true
	}
	it, next := r.itemAt(r.i)
	if next == r.i || !r.inCompany(it, next) {
		return false
	}
	if it.kind == pitchItem && it.strength == "" && r.i > 0 && r.mark(r.i-1) == "" && r.unknown(r.i-1) && !r.used[r.i-1] {
		for ; r.i < next; r.i++ {
			r.lost[r.i] = true // the pitch of a stop that is not known
		}
		r.head = nil
		return true
	}
	if it.lexeme == r.i && r.prefersDivision(r.i, r.i+1) {
		return false
	}
	it.gap, it.from, it.to = r.gap, r.i, next
	r.addItem(it)
	r.closeSentence(next)
	return true
}

// readAllStops reads "all Sw. stops".
func (r *reader) readAllStops() bool {
	if !r.is(r.i, classAll) {
		return false
	}
	roles, next := r.divisionAt(r.i + 1)
	if len(roles) == 0 || !r.is(next, classStops) {
		return false
	}
	r.closeClause()
	r.closeHead()
	r.openHead(roles, false, r.i, next)
	r.addItem(item{kind: allItem, lexeme: -1, from: r.i, to: next + 1})
	return true
}

// closeSentence forgets what held for a sentence that ends before lexeme i.
func (r *reader) closeSentence(i int) {
	if r.endsSentence(i - 1) {
		r.gap.semicolon = true
		r.endPhrase()
	}
}

// endsSentence reports whether the full stop after the lexeme at i is one, and
// not the dot of an abbreviation.
func (r *reader) endsSentence(i int) bool {
	lx := r.at(i)
	switch {
	case !lx.dot || r.at(i+1).number:
		return false
	case lx.number:
		measure := strings.TrimLeftFunc(r.text[lx.start:lx.end], func(c rune) bool { return !unicode.IsLetter(c) })
		return measure == "" || len(measure) > 3 // "8'.", "8 pieds.", but "8 ft."
	case lx.stop != nil:
		return !lx.stop.short
	case r.is(i, classDivision) || r.is(i, classBoxState) || r.is(i, classTremulant):
		return len(lx.token.text) > 4
	}
	return r.is(i, classFamily) && len(lx.token.text) > 5
}

// inCompany reports whether an item that may be something else stands where
// stops are named.
func (r *reader) inCompany(it item, next int) bool {
	listed := r.head != nil || r.hasItems() || r.verb != "" || r.limit
	switch it.kind {
	case pitchItem:
		if len(it.feet) == 1 && it.feet[0] == pitch.Foot(1) && !r.at(r.i).token.marked && !r.hasItems() && r.verb == "" {
			return false // "Ant. 1"
		}
		return listed || it.noun || r.placeBefore() || it.strength != "" || r.strength != "" || r.at(r.i).token.marked || r.handBefore() ||
			len(it.feet) > 1 && it.feet[0].Cmp(pitch.Foot(8)) >= 0 && r.mark(r.i-1) != markHyphen
	case stopItem, familyItem:
		lx := r.at(it.lexeme)
		if !lx.sensible(classExpression) && !lx.sensible(classTempo) && !lx.sensible(classLevel) {
			return true
		}
		named := r.hasItems() && (r.gap.and || r.gap.comma) && !r.gap.line ||
			r.head != nil && (r.lang == "en" || r.head.colon) && lx.stop != nil ||
			(r.verb == Add || r.verb == Off) && !r.with || r.is(next, classOff) || r.is(next, classAdd) && r.lang != "en"
		return len(it.feet) > 0 || it.noun || named || r.nameAt(next) || r.joins(next) && r.nameAt(r.skip(next+1))
	}
	return true
}

// handBefore reports whether a hand has just been named.
func (r *reader) handBefore() bool { return r.i > 0 && r.is(r.i-1, classHand) }

// placeBefore reports whether the division that a hand or a role was given has
// just been named: "R.H. Ch. 8".
func (r *reader) placeBefore() bool {
	if r.gap != (gap{}) || len(r.scope) == 0 || r.scopeWeak || r.i == 0 || !r.used[r.i-1] {
		return false
	}
	roles, next := r.plainDivisionAt(r.i - 1)
	return len(roles) > 0 && next == r.i
}

// joins reports whether a word or mark that joins stops stands at i.
func (r *reader) joins(i int) bool {
	return r.is(i, classAnd) || r.mark(i) == markAmpersand || r.mark(i) == markPlus
}

// itemAt reads one item of a list of stops; next is i where none stands there.
func (r *reader) itemAt(i int) (it item, next int) {
	it = item{lexeme: -1}
	all := false
	for j := i; j < i+maxSkip; j++ {
		switch {
		case r.is(j, classAll) && (r.verb == Off && (r.ends(j+1) || r.is(j+1, classOf)) || r.is(j+1, classOff)):
			it.kind = allItem // "ôtez tout", "alles ab"
			return it, j + 1
		case r.is(j, classStops) && (r.is(j+1, classOff) || r.is(j+1, classIn) && r.ends(j+2)) && r.value(j+1, classOff) != "pre":
			it.kind = allItem // "Ch. stops off"
			return it, j + 1
		case r.is(j, classAll):
			all = true
		case r.is(j, classStrength) && r.itemStarts(r.skip(j+1, classAll, classStrength)):
			it.strength = r.value(j, classStrength)
		case r.is(j, classStrength) && !r.is(j, classExpression) && !r.is(j, classStop) && (r.head != nil && j == i && !r.gap.broken()):
			it.strength = r.value(j, classStrength) // "Sw. soft"
			it.kind = pitchItem
			return it, j + 1
		case (r.is(j, classArticle) || r.is(j, classOnly) && !r.is(j, classRole)) && !r.nameAt(j):
		default:
			if !r.itemStarts(j) {
				return it, i
			}
			return r.plainItemAt(it, i, j, all)
		}
	}
	return it, i
}

// itemStarts reports whether an item begins at i, its strength apart.
func (r *reader) itemStarts(i int) bool {
	return !r.feetAt(i).IsZero() || r.nameAt(i) || r.is(i, classGroup) || r.is(i, classStops)
}

func (r *reader) plainItemAt(it item, i, j int, all bool) (item, int) {
	switch {
	case !r.feetAt(j).IsZero():
		it.kind = pitchItem
		it.feet, j = r.pitchesAt(j, true)
		k := r.skip(j, classOnly)
		if (r.is(k, classManual) || r.is(k, classManualsOnly)) && r.is(k+1, classFamily) {
			k++ // "16 ft. manual reeds"
		}
		if r.is(k, classStrength) && it.strength == "" {
			it.strength = r.value(k, classStrength)
			k++
			j = k
		}
		if h := k + 1; r.mark(k) == markHyphen && r.at(k).glued && r.at(h).glued && (r.is(h, classStops) || r.is(h, classFamily)) {
			k = h // "8'-Flöten"
		}
		switch {
		case r.is(k, classStops) && !r.nameAt(k):
			it.noun = true
			j = k + 1
		case r.nameAt(k) && !r.is(k, classDivision) && r.namePrefixed(k) && !(len(it.feet) > 1 && r.isMixture(k)):
			it.kind, it.lexeme = r.nameKind(k), k
			j = r.pastRanks(k + 1)
		}
		return it, r.skip(j, classOnly)
	case r.is(j, classGroup) && !(r.is(j, classStop) && r.amongStops(j)):
		it.kind, it.lexeme = groupItem, j
		it.group = Group(firstWord(r.value(j, classGroup)))
		return it, j + 1
	case r.nameAt(j):
		it.kind, it.lexeme = r.nameKind(j), j
		j = r.pastRanks(j + 1)
		if it.kind == familyItem && r.is(j, classStops) {
			it.noun = true // "string tone 8 ft."
			j++
		}
	case all || it.strength != "" || r.is(j+1, classStrength) || !r.feetAt(r.skip(j+1, classOf)).IsZero():
		it.kind, it.noun = pitchItem, true // "Sanfte Stimmen 8'", "les jeux de 8"
		if all && it.strength == "" {
			it.kind = allItem
		}
		j++
	default:
		return it, i
	}
	if r.is(j, classStrength) && !r.is(j, classExpression) {
		it.strength = r.value(j, classStrength)
		j++
	}
	if k := r.skip(j, classOf, classTo, classOnly); !r.feetAt(k).IsZero() && (k == j || r.at(k).token.marked || !r.is(j, classTo)) {
		it.feet, j = r.pitchesAt(k, false)
		if it.kind == allItem {
			it.kind = pitchItem
		}
	} else if r.mark(j) == markOpen && !r.feetAt(j+1).IsZero() && r.mark(j+2) == markClose {
		it.feet, j = []pitch.Feet{r.feetAt(j + 1)}, j+3
	}
	return it, r.skip(j, classOnly)
}

// nameKind tells a family word from a stop's name.
func (r *reader) nameKind(i int) itemKind {
	if r.is(i, classFamily) {
		return familyItem
	}
	return stopItem
}

// isMixture reports whether the name at i is that of a mixture.
func (r *reader) isMixture(i int) bool {
	v := r.voices(item{kind: r.nameKind(i), lexeme: i}, false)
	return v[0].Group == Mixture
}

// namePrefixed reports whether the name at k belongs to the pitch before it
// and not to a pitch of its own: "8' Flute", "8' Flute 4' Reed".
func (r *reader) namePrefixed(k int) bool {
	own := r.skip(r.pastRanks(k+1), classOf)
	if r.feetAt(own).IsZero() {
		return true
	}
	_, after := r.pitchesAt(own, true)
	return r.nameAt(after) && !r.is(after, classDivision)
}

// amongStops reports whether the list so far, or what follows, names single
// stops, so that a word like "Plein jeu" is one too.
func (r *reader) amongStops(j int) bool {
	if r.is(j+1, classRanks) || r.pastRanks(j+1) > j+1 || !r.feetAt(j+1).IsZero() {
		return true
	}
	if k := j + 1; (r.joins(k) || r.mark(k) == markComma) && r.nameAt(k+1) && !r.is(k+1, classFamily) && !r.is(k+1, classDivision) {
		return true
	}
	if !r.hasItems() || r.gap.begins() && r.divisionFollows(r.skip(j+1, classOf, classAt)) {
		return false // "R. Flûte 8; Plein jeu du G.O."
	}
	for _, it := range r.clause.items {
		if it.kind == stopItem || r.family(it) == Principal && len(it.feet) > 1 {
			return true
		}
	}
	return false
}
