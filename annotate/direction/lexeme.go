package direction

import (
	"stopgap/registry/pitch"
)

// A lexeme is one word or phrase of the vocabulary, a number, a mark, or a
// word that is not known.
type lexeme struct {
	senses     []sense
	mark       string // of a mark
	number     bool
	token      token     // the first token
	start, end int       // byte offsets in the text
	dot        bool      // a full stop follows
	glued      bool      // nothing stands between it and what is before
	stop       stopFound // of a stop's name
}

// maxPhrase is the most words that a phrase of the vocabulary has.
const maxPhrase = 7

// lex joins tokens to the longest phrases that the vocabulary and the table
// of stop names know.
func lex(text string, tokens []token) []lexeme {
	lexemes := make([]lexeme, 0, len(tokens))
	for i := 0; i < len(tokens); {
		t := tokens[i]
		lx := lexeme{token: t, start: t.start, end: t.end, dot: t.dot, glued: t.glued}
		n := 1
		if t.kind == markToken {
			lx.mark = t.text
		} else {
			lx.senses, n = longestPhrase(vocabulary(), tokens[i:])
			if found, ok := findStop(text, tokens[i:]); ok && found.tokens >= n {
				if found.tokens > n {
					lx.senses = nil
				}
				lx.senses = append(lx.senses[:len(lx.senses):len(lx.senses)], stopSense(found))
				n, lx.stop = found.tokens, found
			}
			if lx.number = t.kind == numberToken && n == 0; lx.number && t.marked {
				// The fraction and the mark of feet belong to the number.
				for n = 1; i+n < len(tokens) && tokens[i+n].start < t.feetEnd; n++ {
				}
			}
			n = max(n, 1)
		}
		last := tokens[i+n-1]
		lx.end, lx.dot = last.end, last.dot
		lexemes = append(lexemes, lx)
		i += n
	}
	return lexemes
}

// longestPhrase is the longest phrase that tokens begin with, and how many
// tokens it takes: hyphens inside a phrase are taken along.
func longestPhrase(tree *node, tokens []token) (senses []sense, n int) {
	at, words := tree, 0
	for i := 0; i < len(tokens) && words < maxPhrase; i++ {
		t := tokens[i]
		if t.kind == markToken {
			if t.text == markHyphen && t.glued && i+1 < len(tokens) && tokens[i+1].glued && tokens[i+1].kind == wordToken && words > 0 {
				continue
			}
			break
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
