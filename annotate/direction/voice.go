package direction

import (
	"strings"
	"unicode"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
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

const (
	pitchItem  itemKind = iota // "8 & 4"
	stopItem                   // "Oboe 8"
	familyItem                 // "Fl. 8, 4"
	groupItem                  // "Tutti", "Plein jeu"
	fullItem                   // "Full"
	rangeItem                  // "to Fifteenth": the last lexeme says how far
	allItem                    // "tous les jeux"
)

// usualFeet are the lengths that a number without a mark of feet can mean.
var usualFeet = map[pitch.Feet]bool{
	pitch.Foot(64): true, pitch.Foot(32): true, pitch.Foot(16): true, pitch.Foot(8): true,
	pitch.Foot(4): true, pitch.Foot(2): true, pitch.Foot(1): true,
}

// feetAt is the pitch that stands at i, zero if none does.
func (r *reader) feetAt(i int) pitch.Feet {
	lx := r.at(i)
	if !lx.number || !(lx.token.marked || usualFeet[lx.feet()]) || r.is(i+1, classRanks) && !r.endsSentence(i) || r.is(i-1, classHeading) && r.mark(i-1) == "" {
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
	return len(lx.token.text) > 1 || lx.end > lx.token.end || !r.feetAt(i+1).IsZero()
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
		return listed || it.noun || it.strength != "" || r.strength != "" || r.at(r.i).token.marked || r.handBefore() ||
			len(it.feet) > 1 && it.feet[0].Cmp(pitch.Foot(8)) >= 0 && r.mark(r.i-1) != markHyphen
	case stopItem, familyItem:
		lx := r.at(it.lexeme)
		if !lx.sensible(classExpression) && !lx.sensible(classTempo) && !lx.sensible(classLevel) {
			return true
		}
		named := r.hasItems() && (r.gap.and || r.gap.comma) && !r.gap.line ||
			r.head != nil && (r.lang == "en" || r.head.colon) && lx.stop != nil ||
			(r.verb == Add || r.verb == Off) && !r.with || r.is(next, classOff) || r.is(next, classAdd) && r.lang != "en"
		return len(it.feet) > 0 || named || r.nameAt(next) || r.joins(next) && r.nameAt(r.skip(next+1))
	}
	return true
}

// handBefore reports whether a hand has just been named.
func (r *reader) handBefore() bool { return r.i > 0 && r.is(r.i-1, classHand) }

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
		if r.is(k, classStrength) && it.strength == "" {
			it.strength = r.value(k, classStrength)
			k++
			j = k
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
	if !r.hasItems() {
		return false
	}
	for _, it := range r.clause.items {
		if it.kind == stopItem {
			return true
		}
	}
	return false
}

// pastRanks passes over the number of ranks of a mixture: "IV", "3-4 fach",
// "III rgs", and the number of a stop that there are two of: "No. 1".
func (r *reader) pastRanks(i int) int {
	if r.endsSentence(i - 1) {
		return i
	}
	j := i
	for j < i+3 && (r.isRoman(j) && !r.is(j, classDivision) || r.at(j).number && r.feetAt(j).IsZero() && len(r.at(j).token.text) == 1 || romanRanks[r.at(j).token.text] && r.at(j).mark == "") {
		j++
		if r.is(j, classRanks) {
			return j + 1
		}
		if r.mark(j) != markHyphen && r.mark(j) != markLongDash {
			// A Roman number that a list or a colon follows is a manual.
			if r.at(i).number || r.voicesFollow(j) || r.mark(j) == markColon || r.coupledBy(j) {
				return i
			}
			return j
		}
		j++
	}
	return i
}

var romanRanks = map[string]bool{"vi": true, "vii": true, "viii": true, "ix": true, "x": true}

// pitchesAt reads pitches that are joined by commas, "and", dots or nothing.
// leading is set where a name may follow that they belong to.
func (r *reader) pitchesAt(i int, leading bool) (feet []pitch.Feet, next int) {
	feet, next = []pitch.Feet{r.feetAt(i)}, i+1
	for {
		j := next
		dash := false
		switch {
		case r.joins(j), r.mark(j) == markComma && !r.joins(j+1), r.mark(j) == markSlash:
			j = r.skip(j+1, classOf)
		case r.mark(j) == markComma && r.joins(j+1):
			j = r.skip(j+2, classOf)
		case r.mark(j) == markHyphen, r.mark(j) == markLongDash:
			j, dash = j+1, true
		}
		f := r.feetAt(j)
		if f.IsZero() || r.isVersed(j) {
			return feet, next
		}
		if after := r.skip(j+1, classStrength); !leading && r.nameAt(after) && r.mark(j-1) != "" && r.namePrefixed(after) && r.at(j).token.marked && !r.endsSentence(j) {
			return feet, next
		}
		if dash {
			feet = append(feet, octavesBetween(feet[len(feet)-1], f)...)
		}
		feet, next = append(feet, f), j+1
	}
}

// isVersed reports whether the number at i belongs to the word after it.
func (r *reader) isVersed(i int) bool {
	return (r.is(i+1, classRanks) || r.is(i+1, classManual)) && !r.endsSentence(i)
}

// octavesBetween are the octaves that a range such as "8–2" leaves out.
func octavesBetween(from, to pitch.Feet) (feet []pitch.Feet) {
	for f := from.Octaves(1); f.Cmp(to) > 0 && len(feet) < 6; f = f.Octaves(1) {
		feet = append(feet, f)
	}
	return feet
}

// voices are what an item asks for on a division of the kind.
func (r *reader) voices(it item, pedal bool) []Voice {
	switch it.kind {
	case fullItem, allItem:
		return []Voice{{Group: Full, Strength: it.strength, Except: it.except}}
	case groupItem:
		return []Voice{{Group: it.group, Strength: it.strength, Except: it.except}}
	case rangeItem:
		v := Voice{Group: it.group, Except: it.except}
		if it.group == ChorusTo {
			v.Pitch = it.feet[0]
			if it.lexeme >= 0 {
				v.Name = r.rangeName(it.lexeme)
			}
		}
		return []Voice{v}
	case pitchItem:
		var voices []Voice
		for _, f := range it.feet {
			voices = append(voices, Voice{Group: Any, Pitch: pitch.Rounded(f, false), Strength: it.strength})
		}
		if len(voices) == 0 {
			voices = []Voice{{Group: Any, Strength: it.strength}}
		}
		return voices
	}
	v := Voice{Strength: it.strength, Except: it.except, Name: r.printed(it.lexeme)}
	if it.kind == familyItem {
		usual := r.value(it.lexeme, classFamily)
		family, usual, _ := strings.Cut(usual, " ")
		usual, _, _ = strings.Cut(usual, " single")
		v.Group = Group(family)
		if f, err := pitch.ParseFeet(usual); err == nil {
			v.Pitch = f
		}
		if usual == "?" {
			v.Pitch = r.known(it, pedal, pitch.Feet{}).Pitch
		}
		if len(it.feet) > 1 {
			v.Name = ""
		}
		if v.Group == Mixture {
			it.feet = nil
		}
		return spread(v, it.feet)
	}
	var voices []Voice
	for _, f := range append([]pitch.Feet{}, it.feet...) {
		k := r.known(it, pedal, f)
		voices = append(voices, Voice{Group: Group(k.Family.String()), Pitch: k.Pitch, Name: v.Name, Strength: v.Strength})
	}
	if len(voices) == 0 {
		k := r.known(it, pedal, pitch.Feet{})
		voices = []Voice{{Group: Group(k.Family.String()), Pitch: k.Pitch, Name: v.Name, Strength: v.Strength}}
	}
	for i := range voices {
		if voices[i].Group == Mixture {
			voices[i].Pitch = pitch.Feet{}
		}
		voices[i].Except = it.except
	}
	if voices[0].Group == Mixture {
		voices = voices[:1]
	}
	return voices
}

// spread gives a voice each of the pitches.
func spread(v Voice, feet []pitch.Feet) []Voice {
	if len(feet) == 0 {
		return []Voice{v}
	}
	voices := make([]Voice, len(feet))
	for i, f := range feet {
		voices[i] = v
		voices[i].Pitch = f
	}
	return voices
}

// known is what is known of a stop's name where it stands.
func (r *reader) known(it item, pedal bool, f pitch.Feet) stopname.Known {
	stop := r.at(it.lexeme).stop
	if stop == nil {
		return stopname.Known{}
	}
	place := stopname.Place{Pedal: pedal, Lang: r.lang, Pitch: f}
	k, _ := stopname.Lookup(stop.words, place)
	if stop.parts {
		k = stopname.Resolve(stop.words[0], place)
	}
	if k.Family == stopname.Principal && isTierce(k.Pitch) {
		k.Family = stopname.Flute // the normal form has every tierce a flute
	}
	return k
}

// isTierce reports whether a rank sounds a third.
func isTierce(f pitch.Feet) bool { return !f.IsZero() && f.Ratio().Num()%5 == 0 }

// printed is the name at a lexeme as the text has it: on one line, with the
// dot of an abbreviation.
func (r *reader) printed(i int) string {
	lx := r.at(i)
	fields := strings.Fields(r.text[lx.start:lx.end])
	if n := len(fields); n > 1 && isNumber(fields[n-1]) {
		// "Flautado de 13": the length in palms is no part of the name.
		for fields = fields[:n-1]; len(fields) > 1 && len(fields[len(fields)-1]) == 2; {
			fields = fields[:len(fields)-1]
		}
	}
	name := strings.Join(fields, " ")
	if lx.dot && (lx.stop == nil || lx.stop.short) {
		name += "."
	}
	return withoutBrackets.Replace(name)
}

var withoutBrackets = strings.NewReplacer("(", "", ")", "")

// isNumber reports whether a word is written in digits.
func isNumber(word string) bool {
	return strings.Trim(word, "0123456789") == ""
}

// isPedal reports whether any of the divisions is the pedal.
func isPedal(roles []division.Role) bool {
	for _, d := range roles {
		if d == division.Pedal {
			return true
		}
	}
	return false
}
