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

// maxPitchText is as many bytes as a pitch with its mark of feet can have.
const maxPitchText = 40

// tokenise splits a text in one pass.
func tokenise(text string) []token {
	tokens := make([]token, 0, len(text)/4+4)
	glued := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case isWordRune(r):
			end := wordEnd(text, i)
			tokens = append(tokens, token{kind: wordToken, text: foldWord(text[i:end]), letters: specialLetter(text[i:end]), start: i, end: end, glued: glued})
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
			if mark == markHyphen && strings.HasPrefix(text[i+size:], ">") {
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

// onlyPrimes reports whether there is nothing but spaces and primes.
func onlyPrimes(s string) bool {
	for _, r := range s {
		if r != ' ' && !isApostrophe(r) {
			return false
		}
	}
	return true
}

// numberAt reads the digits at i, and the pitch in feet that they may begin.
func numberAt(text string, i int, glued bool) token {
	end := i
	for end < len(text) {
		r, size := utf8.DecodeRuneInString(text[end:])
		if !isDigit(r) && (end > i || !isVulgar(r)) {
			break
		}
		end += size
		if isVulgar(r) {
			break
		}
	}
	t := token{kind: numberToken, text: text[i:end], start: i, end: end, glued: glued}
	piece := pieceAt(text, i)
	if feet, end, ok := spacedFraction(text, i); ok {
		t.feet, t.feetEnd, t.marked = feet, end, true
	} else if isSlashedList(piece) {
		t.feet, t.feetEnd = lengthOf(t.text), end // "8/4/2"
	} else if isTimeSignature(piece) {
		return t
	} else if feet, rest, ok := pitch.Parse(piece); ok {
		t.feet, t.feetEnd = feet, i+len(piece)-len(rest)
		_, _, t.marked = pitch.ParseMarked(piece)
		if !t.marked && strings.HasPrefix(text[t.feetEnd:], "″") {
			t.marked = true // a doubled prime
		}
	}
	return t
}

// isTimeSignature reports whether a text begins with a fraction that is a
// time and no length: 2/4, 12/8, but 1/2 is half a foot.
func isTimeSignature(s string) bool {
	whole, rest, ok := strings.Cut(s, "/")
	if !ok || whole == "" || len(whole) > 2 || whole == "1" || strings.Trim(whole, "0123456789") != "" {
		return false
	}
	beat := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
	return (beat == "2" || beat == "4" || beat == "8" || beat == "16") && len(whole) < 3 && !usualFeet[lengthOf(whole)] || beat == "4" && whole == "2"
}

// isSlashedList reports whether a text begins with two whole lengths, the
// longer first, that a slash parts.
func isSlashedList(s string) bool {
	first, rest, ok := strings.Cut(s, "/")
	second := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
	if !ok || !isNumber(first) || first == "" || second == "" {
		return false
	}
	a, b := lengthOf(first), lengthOf(second)
	return usualFeet[a] && usualFeet[b] && a.Cmp(b) > 0
}

// lengthOf is the length that a whole number of feet is.
func lengthOf(whole string) pitch.Feet {
	f, _ := pitch.ParseFeet(whole)
	return f
}

// pieceAt is as much of the text from i on as a pitch can take, cut between
// characters.
func pieceAt(text string, i int) string {
	cut := min(len(text), i+maxPitchText)
	for cut < len(text) && !utf8.RuneStart(text[cut]) {
		cut++
	}
	return text[i:cut]
}

// spacedFraction reads a pitch whose fraction was spaced out: "2 2 / 3".
func spacedFraction(text string, i int) (feet pitch.Feet, end int, ok bool) {
	var parts []string
	for j := i; j < len(text) && j < i+maxPitchText; {
		switch c := text[j]; {
		case isDigit(rune(c)):
			k := j
			for k < len(text) && isDigit(rune(text[k])) {
				k++
			}
			parts, j = append(parts, text[j:k]), k
			if n := len(parts); n == 4 && parts[2] == "/" {
				feet, _, ok = pitch.Parse(strings.Join(parts[:n-2], " ") + "/" + parts[n-1])
				if !ok || feet.String() == parts[0] {
					return pitch.Feet{}, i, false
				}
				// The mark of feet may follow as it does any number.
				tail := "8" + pieceAt(text, k)
				_, rest, _ := pitch.Parse(tail)
				return feet, k + len(tail) - 1 - len(rest), true
			}
		case c == '/' && len(parts) == 2:
			parts = append(parts, "/")
			j++
		case c == ' ':
			j++
		default:
			return pitch.Feet{}, i, false
		}
	}
	return pitch.Feet{}, i, false
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

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isVulgar(r rune) bool { return r == '½' || r >= '⅐' && r <= '⅞' || r == '¼' || r == '¾' }

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
		if r >= utf8.RuneSelf && i < maxPitchText && accented(unicode.ToLower(r)) >= 0 {
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
