// Package letters compares words that printers and builders spell with and
// without accents, in capitals, hyphenated or run together.
package letters

import (
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Fold is the form in which one word of a name is compared: small letters and
// digits without accents, ß as ss, and ä, ae, æ alike as a, so that Flöte,
// Floete and FLOTE are one word. Anything else is dropped: "d'amour" is
// "damour", "Rohr-" is "rohr". A sign that stands for a lost letter ("Fl?te",
// U+FFFD) is kept as '?'.
func Fold(word string) string {
	var b strings.Builder
	b.Grow(len(word))
	plain := true
	for i := 0; i < len(word); i++ {
		if word[i] >= utf8.RuneSelf {
			plain = false
			break
		}
	}
	if !plain {
		word = norm.NFKD.String(word)
	}
	lastVowel := byte(0)
	put := func(c byte) {
		// ae, oe and ue are the umlauts of typewriters
		if c == 'e' && (lastVowel == 'a' || lastVowel == 'o' || lastVowel == 'u') {
			lastVowel = 0
			return
		}
		lastVowel = c
		b.WriteByte(c)
	}
	for i, r := range word {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			put(byte(r))
		case r >= 'A' && r <= 'Z':
			put(byte(r + 'a' - 'A'))
		case r == 'ß' || r == 'ẞ':
			put('s')
			put('s')
		case r == 'æ' || r == 'Æ':
			put('a')
		case r == 'œ' || r == 'Œ' || r == 'ø' || r == 'Ø':
			put('o')
		case r == 'ı':
			put('i')
		case r == utf8.RuneError, r == '?' && i > 0 && i < len(word)-1:
			put('?')
		case r == '&':
			put('&')
		}
	}
	return b.String()
}

// Repair undoes UTF-8 that was read as Latin-1 and encoded again ("FlÃ»te"),
// as far as it can be told.
func Repair(s string) string {
	if !strings.ContainsAny(s, "ÃÂÅ") {
		return s
	}
	raw := make([]byte, 0, len(s))
	for _, r := range s {
		if r > 0xFF {
			return s
		}
		raw = append(raw, byte(r))
	}
	if !utf8.Valid(raw) {
		return s
	}
	return string(raw)
}
