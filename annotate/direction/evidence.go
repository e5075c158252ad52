package direction

import (
	"unicode"
	"unicode/utf8"

	"stopgap/registry/division"
)

// weight says whether a lexeme names something of an organ, and whether it is
// a word that only organ music uses.
func (lx *lexeme) weight() (content, strong bool) {
	if lx.number {
		return lx.token.marked, lx.token.marked
	}
	instrument := lx.sensible(classInstrument)
	for _, s := range lx.senses {
		switch s.class {
		case classDivision, classJoined, classGroup, classFamily, classCoupler, classPedalCoupler, classOctaveCoupler, classUnisonOff,
			classManualCoupling, classDevice, classBox, classTremulant, classHand, classManual, classManuals, classManualsOnly, classWithPedal, classStop:
			content = true
			strong = strong || !s.ordinary && !(s.class == classStop && (lx.stop != nil && lx.stop.loose || instrument || lx.sensible(classExpression) || lx.sensible(classHeading)))
		case classRole:
			strong = strong || !s.ordinary
		}
	}
	for _, s := range lx.senses {
		if s.ordinary && (s.class == classDivision || s.class == classFamily) || s.dotted && !lx.dot {
			strong = false
		}
	}
	return content, strong
}

// sensible reports whether the lexeme can be of the class.
func (lx *lexeme) sensible(c class) bool {
	_, ok := lx.sense(c, everyLang)
	return ok
}

// unknown reports whether a lexeme is a word that no vocabulary has.
func (r *reader) unknown(i int) bool {
	lx := r.at(i)
	return lx.mark == "" && !lx.number && (len(lx.senses) == 0 || lx.stop != nil && lx.stop.loose) && len(lx.token.text) > 1 && !r.isRoman(i) && !romanRanks[lx.token.text]
}

// foreign reports whether a lexeme is none of a registration: an unknown
// word, a singer, a heading.
func (r *reader) foreign(i int) bool {
	if r.used[i] {
		return false
	}
	return r.unknown(i) || r.is(i, classVoice) || r.is(i, classHeading)
}

// reading gathers what was read: entries that rest on words that other texts
// use too count only where nothing else speaks against them.
func (r *reader) reading() Reading {
	lines := make([]int, len(r.lexemes)+1)
	line := 0
	for i := range r.lexemes {
		lines[i] = line
		if r.mark(i) == markBreak {
			line++
		}
	}
	lines[len(r.lexemes)] = line
	sure := make([]bool, line+1)
	strange := make([]bool, line+1)
	for _, e := range r.out {
		if len(e.statements) > 0 && (e.strong || e.content > 1) {
			sure[lines[e.from]] = true
		}
	}
	for i := range r.lexemes {
		if r.foreign(i) {
			strange[lines[i]] = true
		}
		r.reduced = r.reduced || r.is(i, classOnly) && !r.is(i, classRole) // "8 ft. only"
	}
	reading := Reading{Lang: r.lang, Recall: r.recall, Reduce: r.reduced}
	sets, last := 0, Statement{}
	for _, e := range r.out {
		if len(e.statements) == 0 {
			continue
		}
		l := lines[e.from]
		weak := !e.strong && e.content < 2
		if weak && !sure[l] && (strange[l] || r.besideManner(e)) || r.onlyHand(e) && r.besideManner(e) || !e.strong && r.sung(e, lines) || r.isLikened(e) {
			e.statements = nil
			continue
		}
		if v := e.statements[0].Verb; v == Set || v == Prep {
			sets++
		}
	}
	for _, e := range r.out {
		for _, s := range e.statements {
			if e.bareReeds && sets == 1 && s.Verb == Set {
				s.Verb = Add
			}
			if s.String() == last.String() && s.Verb != Set {
				continue
			}
			if e.ahead {
				reading.Ahead = append(reading.Ahead, make([]bool, len(reading.Statements)-len(reading.Ahead))...)
				reading.Ahead = append(reading.Ahead, true)
			}
			reading.Statements = append(reading.Statements, s)
			last = s
		}
	}
	if n := len(reading.Ahead); n > 0 {
		reading.Ahead = append(reading.Ahead, make([]bool, len(reading.Statements)-n)...)
	}
	reading.Unread = r.unread(lines)
	return reading
}

// onlyHand reports whether an entry names a hand and no place for it: "the left
// hand very legato".
func (r *reader) onlyHand(e *entry) bool {
	s := e.statements[0]
	return len(e.statements) == 1 && s.Verb == Play && s.Hand != AnyHand && s.Hand != Feet && s.Division == division.None
}

// besideManner reports whether a word of tempo or manner stands right beside
// what an entry rests on, which then is no registration: "great expression".
func (r *reader) besideManner(e *entry) bool {
	if s := e.statements[0]; s.Verb == Off && len(s.Voices) > 0 || s.Verb == Play && s.State == "none" {
		return false // "sans Pédale legato"
	}
	numbered := e.statements[0].Division.Number() > 0
	beside := func(i int) bool {
		if i < 0 || i >= len(r.lexemes) || r.used[i] {
			return false
		}
		if lx := r.at(e.from); numbered || e.to == e.from+1 && len(lx.token.text) == 1 && lx.dot {
			return r.is(i, classTempo) // "II. Adagio" is a heading, "II dolce" is not
		}
		return r.is(i, classExpression) && !r.is(i, classAt) || r.is(i, classGradual) || r.is(i, classTempo) || (r.is(i, classOrgan) || r.is(i, classLevel)) && r.is(e.from, classRole)
	}
	before := e.from - 1
	for i := e.from; i >= 0 && i > e.from-maxSkip && !numbered && (r.used[i] || i >= before); i-- {
		if indefinite[r.at(i).token.text] && !r.namesStops(e) && r.is(i, classArticle) && !r.is(i-1, classAt) && !r.is(i-1, classOn) {
			return true // "a great swell"
		}
	}
	for before >= 0 && r.is(before, classArticle) && !r.used[before] {
		before--
	}
	if r.joins(before) && before > 0 {
		before-- // "tranquilo y expresivo"
	}
	after := r.skip(e.to)
	if r.joins(after) && (r.is(after+1, classExpression) || r.is(after+1, classTempo)) {
		after++ // "swell and diminish"
	}
	return beside(before) && !r.at(before).dot || beside(after)
}

// namesStops reports whether an entry rests on a word for stops: "a soft stop on
// the Swell".
func (r *reader) namesStops(e *entry) bool {
	for i := e.from; i < e.to && i < e.from+2*maxSkip; i++ {
		if r.used[i] && r.is(i, classStops) {
			return true
		}
	}
	return false
}

// indefinite are the articles that no division has.
var indefinite = map[string]bool{"a": true, "an": true, "un": true, "une": true, "ein": true, "eine": true, "einen": true, "una": true, "een": true}

// isLikened reports whether an entry is only what something is compared with:
// "like a flute", "trumpet-like".
func (r *reader) isLikened(e *entry) bool {
	before := e.from - 1
	for before >= 0 && (r.is(before, classArticle) || r.is(before, classTo)) && !r.used[before] {
		before--
	}
	if before >= 0 && r.is(before, classLikeness) && !r.used[before] {
		return true
	}
	after := e.to
	if r.mark(after) == markHyphen {
		after++
	}
	return r.is(after, classLikeness) && !r.used[min(after, len(r.used)-1)] && e.content < 2
}

// sung reports whether the line of an entry speaks of singers.
func (r *reader) sung(e *entry, lines []int) bool {
	for i := e.from - 1; i >= 0 && lines[i] == lines[e.from] && i > e.from-12; i-- {
		if r.is(i, classVoice) && !r.is(i, classHeading) && !r.used[i] {
			return true
		}
	}
	for i := e.to; i < len(r.lexemes) && lines[i] == lines[e.from] && i < e.to+12; i++ {
		if r.is(i, classVoice) && !r.is(i, classHeading) && !r.used[i] {
			return true
		}
	}
	return false
}

// unread are the words of a registration that were not understood.
func (r *reader) unread(lines []int) []Unread {
	told := make([]bool, lines[len(lines)-1]+1)
	for i := range r.lexemes {
		if content, strong := r.at(i).weight(); content && strong {
			told[lines[i]] = true
		}
		if (i == 0 || r.mark(i-1) == markBreak) && r.addsUnknown(i) {
			told[lines[i]] = true
		}
	}
	var all []Unread
	for i := 0; i < len(r.lexemes); i++ {
		if !told[lines[i]] || !r.unreadable(i) {
			continue
		}
		j := i + 1
		for j < len(r.lexemes) && r.unreadable(j) && r.mark(j) == "" {
			j++
		}
		start, end := r.at(i).start, r.at(j-1).end
		all = append(all, Unread{Text: r.text[start:end], Start: start, End: end})
		i = j - 1
	}
	return all
}

// addsUnknown reports whether a line begins at i that adds, or takes off, what
// seems to be a stop by its capital and is not known: "add Zephyr".
func (r *reader) addsUnknown(i int) bool {
	if !r.could(i, classAdd) && !r.could(i, classOff) {
		return false
	}
	k := r.skip(i+1, classStrength)
	if roles, next := r.divisionAt(k); len(roles) > 0 {
		k = next
	}
	first, _ := utf8.DecodeRuneInString(r.text[min(r.at(k).start, len(r.text)):])
	return r.unknown(k) && !r.used[k] && unicode.IsUpper(first)
}

// unreadable reports whether a lexeme is one that a reader of registrations
// would have to understand and did not.
func (r *reader) unreadable(i int) bool {
	if r.used[i] {
		return false
	}
	if r.lost[i] {
		return true
	}
	lx := r.at(i)
	if lx.sensible(classTempo) || lx.sensible(classExpression) || lx.sensible(classVoice) || lx.sensible(classHeading) || lx.sensible(classRecall) || lx.sensible(classLikeness) || lx.sensible(classLevel) {
		return false
	}
	if len(lx.token.text) == 1 && lx.dot && r.at(i+1).number {
		return false // "v. 2"
	}
	content, _ := lx.weight()
	small := r.could(i, classAnd) || r.could(i, classOf) || r.could(i, classAt) || r.could(i, classTo) || r.could(i, classArticle)
	return r.unknown(i) || content && !small
}
