package direction

import (
	"strings"
	"unicode/utf8"

	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// maxStopWords is the most words that a stop's name has in a direction.
const maxStopWords = 5

// A stopFound is the name of a stop in a text.
type stopFound struct {
	words []string // as printed, with the dots of abbreviations
	short bool     // it is abbreviated
	loose bool     // without the dot that the short form has
	parts bool     // not in the table, but known by the parts of the name
	sense sense
}

// A stopFinder finds the names of stops in one text. It remembers what it has
// looked up, since directions say the same words again and again.
type stopFinder struct {
	text              string
	begins, continues map[string]bool // by folded word
	found             map[string]*stopFound
	letters           bool // the text calls divisions by single letters: "G. Bourdon 8, R. Fl. 4"
}

func newStopFinder(text string) *stopFinder {
	return &stopFinder{text: text, begins: map[string]bool{}, continues: map[string]bool{}, found: map[string]*stopFound{}}
}

// remembered is what a map holds for a word; the first time, what ask says.
func remembered(m map[string]bool, t *token, printed string, ask func(string) bool) bool {
	yes, known := m[t.text]
	if !known {
		yes = ask(printed)
		m[t.text] = yes
	}
	return yes
}

// find looks for the longest name of a stop that tokens begin with, and says
// how many tokens it takes. With loose, words are taken for short forms that
// have lost their dots.
//
// first is set at the head of a text or line, where "Echo" is a division.
func (f *stopFinder) find(tokens []token, loose, first bool) (found *stopFound, n int) {
	if f.letters && len(tokens[0].text) == 1 && tokens[0].dot && isLetterName(&tokens[0]) {
		return nil, 0
	}
	var words [maxStopWords]string
	var ends [maxStopWords]int // how many tokens the words so far take
	for i := range tokens {
		t := &tokens[i]
		if t.kind == markToken {
			if (t.text == markHyphen || t.text == markLongDash) && t.glued && i+1 < len(tokens) && tokens[i+1].glued && n > 0 {
				continue
			}
			break
		}
		if loose && (t.kind == numberToken || len(t.text) > 6) {
			break
		}
		printed := f.text[t.start:t.end]
		if t.dot || loose {
			printed += "."
		}
		if n > 0 && t.glued && t.kind == wordToken && (tokens[i-1].kind == numberToken || f.apostropheBetween(&tokens[i-1], t)) {
			words[n-1] += f.text[tokens[i-1].end:t.start] + printed // "15th", "Diap'ns"
			ends[n-1] = i + 1
			continue
		}
		if n > 0 && tokens[i-1].dot && romanNumbers[t.text] > 0 {
			break // "Prinzipal. II. Man."
		}
		if n == maxStopWords || n == 0 && t.kind == wordToken && !remembered(f.begins, t, printed, stopname.Begins) ||
			n > 0 && t.kind == wordToken && !remembered(f.continues, t, printed, stopname.Continues) {
			break
		}
		words[n], ends[n] = printed, i+1
		n++
	}
	if n == 0 {
		return nil, 0
	}
	key := strings.Join(words[:n], "|")
	found, known := f.found[key]
	if !known {
		found = lookUp(words[:n], loose)
		f.found[key] = found
	}
	if found == nil || first && len(found.words) > 1 && tokens[0].text == "echo" {
		return nil, 0
	}
	return found, ends[len(found.words)-1]
}

// callsByLetters reports whether a text calls a division by a letter which is
// that of no stop: "G.", "P." or, with a colon, "R:".
func callsByLetters(tokens []token) bool {
	for i := range tokens {
		t := &tokens[i]
		if len(t.text) != 1 || t.kind != wordToken || i+1 >= len(tokens) {
			continue
		}
		if next := &tokens[i+1]; t.text == "g" && t.dot && next.kind == wordToken && len(next.text) > 1 || t.text == "r" && next.text == markColon {
			return true
		}
	}
	return false
}

// isLetterName reports whether a letter names a division of French organs.
func isLetterName(t *token) bool { return t.text == "r" || t.text == "g" || t.text == "p" }

// joiners are the words that part two stops of a list, which the table of
// stops takes as belonging to a name.
var joiners = map[string]bool{"and": true, "et": true, "und": true, "u": true, "en": true, "e": true, "ed": true, "y": true}

// joinerIn is the place of the first joiner after the first word, 0 if none.
func joinerIn(words []string) int {
	for i := 1; i < len(words); i++ {
		if joiners[foldPlain(words[i])] {
			return i
		}
	}
	return 0
}

// lookUp asks the table of stops for the longest name that words begin with.
func lookUp(words []string, loose bool) *stopFound {
	k, taken := stopname.Lookup(words, stopname.Place{})
	if at := joinerIn(words[:taken]); at > 0 && !strings.Contains(" "+strings.Join(foldedWords(k.Entry), " ")+" ", " "+foldPlain(words[at])+" ") {
		k, taken = stopname.Lookup(words[:at], stopname.Place{}) // "Gedeckt and Flute", but "Trompette en chamade"
	}
	for taken > 1 && (namesPlace(words[taken-1]) || joinsWords(words[taken-1])) {
		k, taken = stopname.Lookup(words[:taken-1], stopname.Place{}) // "Tuba solo", "Pos. au G.O."
	}
	if taken == 0 || taken > 1 && namesPlace(words[0]) {
		return nil // "Solo Tuba": the division and the stop
	}
	found := &stopFound{words: append([]string(nil), words[:taken]...), loose: loose, sense: stopSense(k.Entry)}
	if k.Family == stopname.NoFamily {
		found.sense.class = classDevice // chimes, a Zimbelstern
	}
	found.short = loose || len(foldPlain(strings.Join(found.words, ""))) < len(foldPlain(k.Entry))-1
	return found
}

// byParts is the stop that a word names which is not in the table, but built
// as names are: "Harfenviola"; nil if it is not.
func byParts(word string) *stopFound {
	if k := stopname.Resolve(word, stopname.Place{}); k.How != stopname.ByParts || k.Family == stopname.NoFamily {
		return nil
	}
	return &stopFound{words: []string{word}, parts: true, sense: sense{class: classStop, langs: everyLang}}
}

// joinsWords reports whether a word is a preposition or the like, with which
// no name ends.
func joinsWords(word string) bool {
	n := vocabulary().next[foldPlain(word)]
	if n == nil || isDigit(rune(word[0])) || strings.HasSuffix(word, ".") { // "Vox cöl."
		return false
	}
	for _, s := range n.senses {
		switch s.class {
		case classAt, classTo, classOf, classAnd, classOr, classArticle, classWith:
			return true
		}
	}
	return false
}

// namesPlace reports whether a word says where a stop stands or how it is
// used, so that it is no part of its name although some knobs have it.
func namesPlace(word string) bool {
	switch foldPlain(word) {
	case "solo", "great", "swell", "choir", "pedal", "soft":
		return true
	}
	return false
}

// apostropheBetween reports whether nothing but an apostrophe parts two tokens.
func (f *stopFinder) apostropheBetween(a, b *token) bool {
	between := f.text[a.end:b.start]
	r, size := utf8.DecodeRuneInString(between)
	return size > 0 && size == len(between) && isApostrophe(r)
}

// foldPlain folds a name to its letters.
func foldPlain(name string) string { return strings.Join(foldedWords(name), "") }

// stopSense is what a name of the table means to the grammar.
func stopSense(entry string) sense {
	s := sense{class: classStop}
	for _, l := range stopname.Languages(entry) {
		s.langs |= langOf(l)
	}
	if s.langs == 0 {
		s.langs = everyLang
	}
	return s
}

// addDivisions enters the names and short forms of the registry's divisions.
// common are the names that ordinary texts use too; a single letter always is.
func addDivisions(root *node, common map[string]bool) {
	for s := range division.Spellings() {
		key := foldPlain(s.Text)
		meaning := sense{
			class: classDivision, value: string(s.Role), langs: langOf(s.Lang),
			ordinary: common[key] || len(key) == 1, dotted: s.Short && strings.HasSuffix(s.Text, "."),
		}
		root.add(s.Text, meaning)
		if spelled := umlautSpelled(strings.ToLower(s.Text)); spelled != strings.ToLower(s.Text) {
			root.add(spelled, meaning)
		}
	}
}
