package direction

import (
	"stopgap/registry/division"
)

// Read says what a text asks of the organ. It never fails: words of a
// registration that it does not understand are in Unread, and a text that
// asks for nothing gives no statements. Its time is linear in the length.
func Read(text string, ctx Context) Reading {
	if statements, err := ParseNormalForm(text); err == nil {
		return Reading{Statements: statements, Lang: ctx.Lang}
	}
	lexemes := lex(text, tokenise(text))
	v := detect(lexemes, ctx.Lang)
	settle(lexemes, v)
	r := &reader{text: text, lexemes: lexemes, ctx: ctx, lang: v.lang, told: v.told}
	r.used, r.resolved = make([]bool, len(lexemes)), map[int]bool{}
	r.lost = map[int]bool{}
	for r.i < len(r.lexemes) {
		r.step()
	}
	r.closeClause()
	r.closeHead()
	return r.reading()
}

// A reader goes through the lexemes of a text once. Each method that reads a
// construction tries it at the present lexeme: it takes the whole of it and
// reports true, or leaves the reader as it was and reports false.
type reader struct {
	text    string
	lexemes []lexeme
	ctx     Context
	lang    string
	told    bool // the language is not only that of stops

	i        int
	used     []bool       // the lexemes that a statement rests on
	lost     map[int]bool // pitches of stops that were not understood
	resolved map[int]bool // the words that were taken apart
	gap      gap          // what stands between the last thing read and the present lexeme
	out      []*entry
	recall   bool
	reduced  bool

	pedalLetter int // 2 where the text calls the pedal P, 1 where it does not, 0 where that is not known yet

	uncoupling bool // an "uncouple" has been read, so that "from" joins two divisions
	reducing   bool // a "reduce" has been read

	scope     []division.Role // the divisions that what follows is about
	before    []division.Role // those named before them in the same line
	scopeWeak bool            // they were named after their stops, so others may follow
	head      *head           // the last division named, while nothing hangs on it
	clause    *clause         // the list of stops being read
	joined    *clause         // the list that an "and" joins the next one to

	verb     Verb // of the verb before the stops to come, "" for none
	with     bool // that verb is only a "with"
	later    bool // what follows is for later
	prepare  bool // what follows is to be prepared
	limit    bool // what follows is left out of the group before
	strength string
	role     *entry // a role that waits for its division
}

// An entry is what one construction of the text asks for.
type entry struct {
	statements []Statement
	from, to   int  // the lexemes that it rests on
	content    int  // how many of them name something of an organ
	strong     bool // one of them is used of organs only
	bareReeds  bool // nothing but "Reeds", which adds them
	ahead      bool // made ready for later
	coupler    bool // a coupler that no word puts on or off
}

// A gap is what has been passed over since the last thing read.
type gap struct {
	comma, line, semicolon, colon, open, close, dash bool
	and, or, with                                    bool
	of, at, to                                       bool
	filler                                           bool // words of no account
}

// broken reports whether a mark parts what follows from what was before.
func (g gap) broken() bool { return g.comma || g.line || g.semicolon || g.colon }

// begins reports whether a new phrase begins behind the gap.
func (g gap) begins() bool { return g.line || g.semicolon }

// mayBegin reports whether a phrase may begin here: nothing small stands before.
func (g gap) mayBegin() bool { return !g.and && !g.or && !g.with && !g.of && !g.at && !g.to }

// nothing stands for the place after the last lexeme.
var nothing = &lexeme{mark: markBreak, token: &token{kind: markToken, text: markBreak}}

// at is the lexeme at a place.
func (r *reader) at(i int) *lexeme {
	if i < 0 || i >= len(r.lexemes) {
		return nothing
	}
	return &r.lexemes[i]
}

// is reports whether the lexeme at i can be of the class.
func (r *reader) is(i int, c class) bool {
	_, ok := r.at(i).sense(c, everyLang)
	return ok
}

// could reports whether the lexeme at i can be of the class in any language,
// also one that the rest of the text is not in.
func (r *reader) could(i int, c class) bool {
	if r.is(i, c) {
		return true
	}
	for _, s := range r.at(i).every {
		if s.class == c {
			return true
		}
	}
	return false
}

// value is the value of the sense that the lexeme at i has in the class.
func (r *reader) value(i int, c class) string {
	s, _ := r.at(i).sense(c, everyLang)
	return s.value
}

// mark is the mark at i, "" for a word or number.
func (r *reader) mark(i int) string { return r.at(i).mark }

// maxSkip is the most small words that stand together in a direction; every
// look ahead is bounded, so that reading takes time linear in the length.
const maxSkip = 6

// skip passes over articles and other small words.
func (r *reader) skip(i int, also ...class) int {
	for last := i + maxSkip; i < len(r.lexemes) && i < last && r.at(i).mark == ""; i++ {
		skipped := r.is(i, classArticle) && !r.is(i, classDivision)
		for _, c := range also {
			skipped = skipped || r.is(i, c) && !(c == classOnly && r.is(i, classRole))
		}
		if !skipped {
			break
		}
	}
	return i
}

// ends reports whether nothing more of the same run of words stands at i.
func (r *reader) ends(i int) bool {
	switch r.mark(i) {
	case "", markPlus, markMinus, markHyphen, markLongDash, markSlash, markArrow, markAmpersand, markOpen:
		return false
	}
	return true
}

// emit records what lexemes from … to-1 ask for.
func (r *reader) emit(from, to int, statements ...Statement) *entry {
	e := &entry{statements: statements, from: from, to: to, ahead: r.prepare}
	r.rest(e, from, to)
	r.out = append(r.out, e)
	return e
}

// rest makes an entry rest on lexemes: they count as read.
func (r *reader) rest(e *entry, from, to int) {
	e.from, e.to = min(e.from, from), max(e.to, to)
	for i := from; i < to; i++ {
		r.used[i] = true
		lx := r.at(i)
		content, strong := lx.weight()
		if content {
			e.content++
		}
		e.strong = e.strong || strong
	}
}

// take moves on to lexeme i, past something that was read.
func (r *reader) take(i int) {
	r.i, r.gap = i, gap{}
}

// step reads one construction, or passes over one lexeme.
func (r *reader) step() {
	switch {
	case r.readMark():
	case r.readRecall():
	case r.readCoupler():
	case r.readPedalUse():
	case r.readBox():
	case r.readTremulant():
	case r.readHand():
	case r.readRole():
	case r.readLevel():
	case r.readStrength():
	case r.readVerb():
	case r.readRange():
	case r.readFull():
	case r.readVoices():
	case r.readHead():
	default:
		r.pass()
	}
}

// readMark passes over a mark.
func (r *reader) readMark() bool {
	switch r.mark(r.i) {
	case "":
		return false
	case markComma:
		r.gap.comma = true
		r.limit = false
	case markSemicolon, markSlash: // a slash that couples nothing parts lines
		r.gap.semicolon = true
		r.endPhrase()
	case markColon:
		r.gap.colon = true
		if r.head != nil {
			r.head.colon = true
		}
	case markBreak:
		if !r.is(r.skip(r.i+1), classAnd) && !r.gap.colon {
			r.endPhrase()
		}
		r.gap.line = true
	case markOpen:
		r.gap.open = true
	case markClose:
		r.gap.close = true
		r.gap.semicolon = r.gap.semicolon || r.at(r.i).dot
		r.limit = false
		if r.later || r.prepare {
			r.closeClause()
			r.later, r.prepare, r.verb = false, false, ""
		}
	case markAmpersand:
		r.gap.and = true
	case markPlus:
		r.readPlus()
	case markMinus, markHyphen, markLongDash:
		r.readDash()
	default:
		r.gap.filler = true
	}
	r.i++
	return true
}

// endPhrase forgets what held only for the phrase before.
func (r *reader) endPhrase() {
	r.verb, r.with, r.later, r.prepare, r.limit, r.strength = "", false, false, false, false, ""
	r.reducing = false
}

// pass passes over a lexeme that nothing reads.
func (r *reader) pass() {
	switch {
	case r.is(r.i, classAnd):
		r.gap.and = true
	case r.is(r.i, classOr):
		r.gap.or = true
	case r.is(r.i, classAt), r.is(r.i, classOn), r.is(r.i, classIn):
		r.gap.at = true
	case r.is(r.i, classTo):
		r.gap.to = true
	case r.is(r.i, classOf):
		r.gap.of = true
	case r.is(r.i, classDevice):
		r.head = nil // "Sw. Chimes" does not ask to play there and no more
		r.gap.filler = true
		if r.numbersDevice(r.i + 1) {
			r.i++ // "Gt. piston 2"
		}
	case r.is(r.i, classArticle), r.is(r.i, classNeutral), r.is(r.i, classOnly), r.is(r.i, classAll):
	default:
		r.gap.filler = true
	}
	r.i++
}

// numbersDevice reports whether the number at i is that of the piston or the
// combination before it, and neither a pitch nor a manual.
func (r *reader) numbersDevice(i int) bool {
	before, lx := r.at(i-1), r.at(i)
	if before.dot && len(before.token.text) > 4 || r.is(i+1, classManual) || r.mark(i+1) == markColon {
		return false
	}
	return lx.number && !lx.token.marked || r.isRoman(i)
}

// readRecall reads a call for an earlier registration.
func (r *reader) readRecall() bool {
	if !r.is(r.i, classRecall) {
		return false
	}
	r.recall = true
	r.take(r.i + 1)
	return true
}
