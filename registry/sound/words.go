package sound

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// words is what the tables look for in a name: alternatives between bars, "*"
// for anything.
type words string

// in reports whether one of the alternatives is part of a folded name.
func (w words) in(name string) bool {
	if w == "*" {
		return true
	}
	for alternative := range strings.SplitSeq(string(w), "|") {
		if strings.Contains(name, alternative) {
			return true
		}
	}
	return false
}

// are reports whether one of the alternatives is the whole of a word.
func (w words) are(word string) bool {
	if w == "*" {
		return true
	}
	for alternative := range strings.SplitSeq(string(w), "|") {
		if alternative == word {
			return true
		}
	}
	return false
}

// fold writes a name in small letters without accents, ß as ss and with a
// space at its end, by which the tables recognise the end of a word.
func fold(name string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(name) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == 'ß':
			b.WriteString("ss")
		case r == 'œ' || r == 'Œ':
			b.WriteString("oe")
		case r == '’':
			b.WriteByte('\'')
		default:
			b.WriteRune(unicode.ToLower(r))
		}
	}
	b.WriteByte(' ')
	return b.String()
}
