package direction

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// A lexeme is one word or phrase of the vocabulary, a number, a mark, or a
// word that is not known.
type lexeme struct {
	senses     []sense
	every      []sense // before those of other languages were put aside
	mark       string  // of a mark
	number     bool
	token      *token     // the first token
	start, end int        // byte offsets in the text
	dot        bool       // a full stop follows
	glued      bool       // nothing stands between it and what is before
	stop       *stopFound // of a stop's name
}

// maxPhrase is the most words that a phrase of the vocabulary has.
const maxPhrase = 7

// lex joins tokens to the longest phrases that the vocabulary and the table
// of stop names know.
func lex(text string, tokens []token) []lexeme {
	lexemes := make([]lexeme, 0, len(tokens))
	stops := newStopFinder(text)
	stops.letters = callsByLetters(tokens)
	for i := 0; i < len(tokens); {
		t := &tokens[i]
		first := i == 0 || tokens[i-1].kind == markToken
		lx := lexeme{token: t, start: t.start, end: t.end, dot: t.dot, glued: t.glued}
		n := 1
		if t.kind == markToken {
			lx.mark = t.text
		} else if senses, m := slashedWith(tokens[i:]); m > 0 {
			lx.senses, n = senses, m
		} else {
			lx.senses, n = longestPhrase(vocabulary(), tokens[i:])
			if stop, m := stops.find(tokens[i:], false, first); stop != nil && m >= n && !(m == n && stop.short && hasManner(lx.senses) && !isPitchedVoice(tokens[i:], m, lx.senses)) {
				if m > n {
					lx.senses = nil
				}
				lx.senses = append(lx.senses[:len(lx.senses):len(lx.senses)], stop.sense)
				n, lx.stop = m, stop
			}
			if n <= 1 && lx.stop == nil && t.kind == wordToken && len(t.text) > 1 && !t.dot {
				if stop, m := stops.find(tokens[i:], true, first); stop != nil && m > n {
					lx.senses, lx.stop, n = []sense{stop.sense}, stop, m
				}
			}
			if lx.number = t.kind == numberToken && n == 0; lx.number && t.marked {
				// The fraction and the mark of feet belong to the number.
				for n = 1; i+n < len(tokens) && tokens[i+n].start < t.feetEnd; n++ {
				}
			} else if lx.number && !t.feet.IsZero() && i+1 < len(tokens) && isFeetWord(text, &tokens[i+1]) {
				t.marked, n = true, 2
			}
			n = max(n, 1)
		}
		last := tokens[i+n-1]
		lx.end, lx.dot = last.end, last.dot
		lexemes = append(lexemes, lx)
		i += n
	}
	completeNames(text, lexemes)
	return joinNames(text, lexemes)
}

// joinNames joins an unknown word to the stop beside it where a pitch follows,
// if stops are named so: "Flûte angélique 8", "Clear Flute 4".
func joinNames(text string, lexemes []lexeme) []lexeme {
	joined := lexemes[:0]
	tries := 0
	for i := 0; i < len(lexemes); i++ {
		lx := lexemes[i]
		if tries < maxResolved && i+2 < len(lexemes) && lexemes[i+2].number && !lexemes[i+2].feet().IsZero() && mayJoin(&lx, &lexemes[i+1]) {
			tries++
			if stop := byParts(text[lx.start:lexemes[i+1].end]); stop != nil {
				lx.end, lx.dot = lexemes[i+1].end, lexemes[i+1].dot
				lx.stop, lx.senses = stop, []sense{stop.sense}
				i++
			}
		}
		joined = append(joined, lx)
	}
	return joined
}

// mayJoin reports whether one of two lexemes is a stop and the other unknown.
func mayJoin(a, b *lexeme) bool {
	unknown := func(lx *lexeme) bool {
		return lx.mark == "" && !lx.number && len(lx.senses) == 0 && len(lx.token.text) > 3 && romanNumbers[lx.token.text] == 0
	}
	return a.stop != nil && unknown(b) || unknown(a) && b.stop != nil
}

// completeNames finds the stops of which only the first word is printed, since
// the next stop has the other: "Open & Stopped Diapasons".
func completeNames(text string, lexemes []lexeme) {
	completeDiapasons(text, lexemes)
	for i := 0; i+2 < len(lexemes); i++ {
		lx, and, next := &lexemes[i], &lexemes[i+1], &lexemes[i+2]
		_, joined := and.sense(classAnd, everyLang)
		if next.stop == nil || len(next.stop.words) < 2 || lx.stop != nil || lx.token.kind != wordToken || !joined && and.mark != markAmpersand {
			continue
		}
		word := text[lx.start:lx.end]
		if lx.dot {
			word += "."
		}
		pair := []string{word, next.stop.words[len(next.stop.words)-1]}
		if stop := lookUp(pair, false); stop != nil && len(stop.words) == 2 {
			lx.stop = stop
			lx.senses = []sense{stop.sense}
		}
	}
}

// completeDiapasons finds the Diapasons of which only the first word is printed,
// with a pitch: "Ped. Open 16".
func completeDiapasons(text string, lexemes []lexeme) {
	for i := 1; i+1 < len(lexemes); i++ {
		lx, before, pitch := &lexemes[i], &lexemes[i-1], &lexemes[i+1]
		if lx.token.text != "open" && lx.token.text != "stopped" || lx.stop != nil || !pitch.number || !usualFeet[pitch.feet()] {
			continue
		}
		s, divided := before.sense(classDivision, everyLang)
		if divided && enclosable(division.Role(s.value)) || before.mark == "" && !divided && before.stop == nil && !before.sensible(classAnd) && !before.sensible(classAdd) && !before.sensible(classStrength) {
			continue // the box is open
		}
		if stop := lookUp([]string{text[lx.start:lx.end], "Diapason"}, false); stop != nil && len(stop.words) == 2 {
			lx.stop, lx.senses = stop, []sense{stop.sense}
		}
	}
}

// isFeetWord reports whether a word behind a number says that it is feet.
func isFeetWord(text string, t *token) bool {
	n := vocabulary().next[t.text]
	if t.kind != wordToken || n == nil {
		return false
	}
	for _, s := range n.senses {
		raised, _ := utf8.DecodeRuneInString(text[t.start:]) // "8ᵖ"
		if s.class == classFeet && (len(t.text) > 1 || t.dot || unicode.Is(unicode.Lm, raised)) {
			return true
		}
	}
	return false
}

// slashedWith reads the "w/" and "w/o" of hurried writing, and how many tokens
// they take.
func slashedWith(tokens []token) (senses []sense, n int) {
	if tokens[0].text != "w" || len(tokens) < 3 || tokens[1].text != markSlash || !tokens[1].glued {
		return nil, 0
	}
	if tokens[2].text == "o" && tokens[2].glued {
		return vocabulary().next["without"].senses, 3
	}
	return vocabulary().next["with"].senses, 2
}

// hasManner reports whether a short form has a meaning that goes before that
// of a stop whose name begins like it: "Clav." is no Claviola.
func hasManner(senses []sense) bool {
	for _, s := range senses {
		switch s.class {
		case classManual, classTempo, classExpression, classVoice, classHeading, classRole, classHand, classLevel, classStrength:
			return true
		}
	}
	return false
}

// isPitchedVoice reports whether the short form of a stop that is also that of
// a singer has a pitch behind it: "Bass. 16", the Basson.
func isPitchedVoice(tokens []token, n int, senses []sense) bool {
	singer := slices.ContainsFunc(senses, func(s sense) bool { return s.class == classVoice })
	return singer && tokens[n-1].dot && n < len(tokens) && usualFeet[tokens[n].feet]
}

// longestPhrase is the longest phrase that tokens begin with, and how many
// tokens it takes: hyphens inside a phrase are taken along.
func longestPhrase(tree *node, tokens []token) (senses []sense, n int) {
	at, words := tree, 0
	for i := 0; i < len(tokens) && words < maxPhrase; i++ {
		t := tokens[i]
		if t.kind == markToken {
			if (t.text == markHyphen || t.text == markLongDash) && t.glued && i+1 < len(tokens) && tokens[i+1].glued && tokens[i+1].kind == wordToken && words > 0 && len(tokens[i-1].text) > 1 {
				continue
			}
			break
		}
		if i > 0 && tokens[i-1].kind == numberToken && !t.glued && len(t.text) <= 3 {
			break // "4e" is the fourth, "4 e 8" is not
		}
		if i > 0 && tokens[i-1].dot && len(tokens[i-1].text) > 2 && romanNumbers[t.text] > 0 {
			break // "Oboe. I. Fondi"
		}
		if at = at.next[t.text]; at == nil {
			break
		}
		words++
		if len(at.senses) > 0 {
			senses, n = at.senses, i+1
		}
	}
	return senses, n
}

// sense is what the lexeme means if it is of the class, in the languages.
func (lx *lexeme) sense(c class, langs langSet) (sense, bool) {
	for _, s := range lx.senses {
		if s.class == c && s.langs&langs != 0 {
			return s, true
		}
	}
	return sense{}, false
}

// feet is the pitch that begins here, zero if none does.
func (lx *lexeme) feet() pitch.Feet { return lx.token.feet }
