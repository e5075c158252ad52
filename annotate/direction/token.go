package direction

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"stopgap/registry/pitch"
)

// A token is the smallest piece of a text: a word, a number or a mark.
type token struct {
	kind       tokenKind
	text       string // a word folded, a number's digits, a mark as itself
	start, end int    // byte offsets in the text
	letters    rune   // a letter of the word that few languages have, 0 if none
	small      bool   // the word begins with a small letter
	glued      bool   // nothing stands between it and the token before
	dot        bool   // a full stop follows: an abbreviation, or the end of a sentence

	// Of a number that begins a pitch in feet ("2 2/3 ft."):
	feet    pitch.Feet
	feetEnd int  // where the pitch ends in the text
	marked  bool // it has a mark of feet or a fraction
}

type tokenKind uint8

const (
	wordToken tokenKind = iota
	numberToken
	markToken
)

// Marks that the grammar knows. Every dash but the minus sign is one mark,
// every bracket a parenthesis, a line break a mark too.
const (
	markComma     = ","
	markSemicolon = ";"
	markColon     = ":"
	markOpen      = "("
	markClose     = ")"
	markSlash     = "/"
	markHyphen    = "-"
	markLongDash  = "–"
	markMinus     = "−"
	markPlus      = "+"
	markAmpersand = "&"
	markArrow     = ">"
	markEquals    = "="
	markBreak     = "\n"
	markDots      = "…"
)

var markOf = map[rune]string{
	',': markComma, ';': markSemicolon, ':': markColon,
	'(': markOpen, '[': markOpen, '{': markOpen, ')': markClose, ']': markClose, '}': markClose,
	'/': markSlash, '\\': markSlash, '|': markSlash, '⁄': markSlash,
	'-': markHyphen, '‐': markHyphen, '‑': markHyphen, '–': markLongDash, '—': markLongDash, '―': markLongDash, '‒': markLongDash,
	'−': markMinus, '➖': markMinus, '+': markPlus, '&': markAmpersand,
	'>': markArrow, '→': markArrow, '⇒': markArrow, '=': markEquals, '\n': markBreak, '…': markDots, '•': markSemicolon, '·': markComma,
}

// tokenise splits a text in one pass.
func tokenise(text string) []token {
	tokens := make([]token, 0, len(text)/4+4)
	glued := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case isWordRune(r):
			end := wordEnd(text, i)
			tokens = append(tokens, token{kind: wordToken, text: foldWord(text[i:end]), letters: specialLetter(text[i:end]), small: unicode.IsLower(r), start: i, end: end, glued: glued})
			i, glued = end, true
			continue
		case isDigit(r) || isVulgar(r):
			tokens = append(tokens, numberAt(text, i, glued))
			i, glued = tokens[len(tokens)-1].end, true
			continue
		case r == '.':
			if n := len(tokens); n > 0 && tokens[n-1].end <= i && onlyPrimes(text[tokens[n-1].end:i]) {
				tokens[n-1].dot = true
			}
			glued = true
		case isApostrophe(r):
			glued = len(tokens) > 0 && tokens[len(tokens)-1].end == i
		case unicode.IsSpace(r) && r != '\n', r == utf8.RuneError:
			glued = false
		case isInvisible(r):
		default:
			mark, ok := markOf[r]
			if (mark == markHyphen || mark == markEquals) && strings.HasPrefix(text[i+size:], ">") {
				mark, size = markArrow, size+1
			}
			if !ok {
				glued = false
				break
			}
			tokens = append(tokens, token{kind: markToken, text: mark, start: i, end: i + size, glued: glued})
			glued = true
		}
		i += size
	}
	return tokens
}

// wordEnd is where the word that begins at i ends.
func wordEnd(text string, i int) int {
	for i < len(text) {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !isWordRune(r) && !unicode.Is(unicode.Mn, r) && !isInvisible(r) && !(isStrayAccent(r) && wordGoesOn(text[i+size:])) {
			break
		}
		i += size
	}
	return i
}

func wordGoesOn(rest string) bool {
	r, _ := utf8.DecodeRuneInString(rest)
	return unicode.IsLower(r)
}

func isWordRune(r rune) bool { return unicode.IsLetter(r) }

// isApostrophe holds for all that stands for an apostrophe or a prime.
func isApostrophe(r rune) bool {
	return strings.ContainsRune("'’‘`´′ʹ″\"“”„ʼ＇", r)
}

// isStrayAccent holds for accents that a copy has set beside their letter.
func isStrayAccent(r rune) bool { return strings.ContainsRune("´`¨^¸~", r) }

// isInvisible holds for soft hyphens, joiners and byte order marks.
func isInvisible(r rune) bool {
	return r == '\u00ad' || r >= '\u200b' && r <= '\u200d' || r == '\ufeff' || r == '\u2060'
}

// specialLetter is the first letter of a word that few languages have.
func specialLetter(word string) rune {
	if len(word) > maxPitchText {
		return 0
	}
	for i, r := range norm.NFC.String(word) {
		if r >= utf8.RuneSelf && i < maxPitchText && accented(unicode.ToLower(r)) != "" {
			return unicode.ToLower(r)
		}
	}
	return 0
}

// foldWord brings a word to the form in which words are compared: lower case,
// without accents, ligatures resolved, ß as ss.
func foldWord(word string) string {
	ascii := true
	for i := 0; i < len(word); i++ {
		if word[i] >= utf8.RuneSelf || word[i] == '`' || word[i] == '^' || word[i] == '~' {
			ascii = false
			break
		}
	}
	if ascii {
		return strings.ToLower(word)
	}
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(word)) {
		switch {
		case unicode.Is(unicode.Mn, r) || isStrayAccent(r) || isInvisible(r):
		case r == 'ß' || r == 'ẞ':
			b.WriteString("ss")
		case r == 'œ':
			b.WriteString("oe")
		case r == 'æ':
			b.WriteString("ae")
		case r == 'ø':
			b.WriteString("o")
		case r == 'ı':
			b.WriteString("i")
		case unicode.IsLetter(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}
