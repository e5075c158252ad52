package stopname

import (
	"strings"
	"unicode"

	"stopgap/registry/internal/letters"
)

func fold(word string) string { return letters.Fold(word) }

// A word is one word of a name as printed, with its folded form.
type word struct {
	printed string
	key     string
	dotted  bool // an abbreviation dot stands after it or within it
}

// joiners are the little words that prints put in or leave out.
var joiners = map[string]bool{"&": true, "and": true, "et": true, "und": true, "en": true, "e": true, "y": true}

// wordsOf splits a name at spaces, hyphens and slashes. Abbreviation dots part
// words too ("O.D.", "St.Diap."), but leave their mark.
func wordsOf(name string) []word {
	var words []word
	for _, part := range strings.FieldsFunc(name, func(r rune) bool {
		return unicode.IsSpace(r) || r == '-' || r == '–' || r == '‑' || r == '/' || r == '_' || r == ','
	}) {
		words = append(words, dottedWords(part)...)
	}
	return words
}

func dottedWords(part string) []word {
	if !strings.Contains(part, ".") {
		if key := fold(part); key != "" {
			return []word{{printed: part, key: key}}
		}
		return nil
	}
	var words []word
	for part != "" {
		before, after, dotted := strings.Cut(part, ".")
		if key := fold(before); key != "" {
			words = append(words, word{printed: before, key: key, dotted: dotted})
		}
		part = after
	}
	return words
}

func joinKeys(words []word) string {
	var b strings.Builder
	for _, w := range words {
		b.WriteString(w.key)
	}
	return b.String()
}

// spelling folds what the orthographies of organ builders change most: c, ck,
// k and z, doubled letters, th, ph, y, qu, and a final e. Two names that agree
// so far are spellings of one name, while a slip of the pen is not forgiven.
func spelling(key string) string {
	var b strings.Builder
	n := len(key)
	for i := 0; i < n; i++ {
		c := key[i]
		next := byte(0)
		if i+1 < n {
			next = key[i+1]
		}
		switch {
		case c == 'c' && next == 'k':
			continue
		case c == 'c' && next == 'h':
			c = 'c'
		case c == 'c' && (next == 'e' || next == 'i' || next == 'y'):
			c = 'z'
		case c == 'c':
			c = 'k'
		case c == 'p' && next == 'h':
			c = 'f'
			i++
		case c == 't' && (next == 'h' || next == 'z'):
			if next == 'z' {
				continue
			}
			i++
		case c == 'q' && next == 'u':
			c = 'k'
			i++
			b.WriteByte('k')
			c = 'w'
		case c == 'i' && next == 'j':
			i++
		case c == 'y' || c == 'j':
			c = 'i'
		case c == 'x':
			b.WriteByte('k')
			c = 's'
		case c == 'w' || c == 'v':
			c = 'v'
		}
		if s := b.Len(); s > 0 && b.String()[s-1] == c {
			continue
		}
		b.WriteByte(c)
	}
	s := b.String()
	if len(s) > 4 {
		s = strings.TrimSuffix(s, "e")
	}
	return s
}
