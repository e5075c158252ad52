package pitch

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Parse reads a footage at the start of text, as prints and knobs write it,
// and returns what follows it: "2⅔′ Nazard", "2 2/3 ft.", "2-2/3", "2.2/3",
// "22/3" (the space was lost), "8 Fuß", "16 p.", "4 voet", "1/2'". The mark
// of feet is taken along where there is one. ok is false where the text does
// not begin with a length that organ builders use, which is what tells "8"
// from "7", and "2 2/3" from the bar "2 5/9".
//
// len(text)-len(rest) is the number of bytes read.
func Parse(text string) (f Feet, rest string, ok bool) {
	f, rest, ok = parseLength(text)
	if !ok {
		return Feet{}, text, false
	}
	return f, skipFeetMark(rest), true
}

// ParseMarked is Parse for text where a bare number may mean something else:
// it reads only what carries a mark of feet or a fraction.
func ParseMarked(text string) (f Feet, rest string, ok bool) {
	f, rest, ok = parseLength(text)
	if !ok {
		return Feet{}, text, false
	}
	after := skipFeetMark(rest)
	fraction := strings.ContainsAny(text[:len(text)-len(rest)], "/⁄½⅓⅔¼¾⅕⅖⅗⅘⅐⅛⅜⅝⅞")
	if after == rest && !fraction {
		return Feet{}, text, false
	}
	return f, after, true
}

// parseLength reads the number alone.
func parseLength(text string) (f Feet, rest string, ok bool) {
	s := strings.TrimLeft(text, " \t\u00a0\u202f\u2009")
	whole, s := digits(s)
	if whole == "" {
		return vulgarLength(0, s)
	}
	// "2⅔", "2 ⅔": the fraction as one character.
	if n, ok := number(whole); ok {
		if f, rest, ok := vulgarLength(n, strings.TrimLeft(s, " \u00a0\u202f\u2009-.")); ok {
			return f, rest, true
		}
	}
	if den, after, ok := overDen(s); ok {
		return fractionOf(whole, den, after) // "2/3", "22/3", "16/19"
	}
	// "2 2/3", "2-2/3", "2.2/3", "2+2/3"
	if num, after, ok := joinedNum(s); ok {
		if den, after, ok := overDen(after); ok {
			w, _ := number(whole)
			n, _ := number(num)
			if f, ok := mixed(w, n, den); ok {
				return f, after, true
			}
		}
	}
	n, isNumber := number(whole)
	if !isNumber || n == 0 || startsDecimal(s) {
		return Feet{}, text, false
	}
	f = Foot(n)
	return f, s, isLength(f)
}

// fractionOf reads "num/den" where num is written in digits. A numerator too
// great for any pitch has lost the space after the whole feet.
func fractionOf(num string, den int64, rest string) (Feet, string, bool) {
	n, ok := number(num)
	if !ok || n == 0 || den == 0 {
		return Feet{}, rest, false
	}
	if f := FeetOf(n, den); n < den && isLength(f) {
		return f, rest, true
	}
	for i := 1; i < len(num); i++ {
		w, _ := number(num[:i])
		n, _ := number(num[i:])
		if f, ok := mixed(w, n, den); ok {
			return f, rest, true
		}
	}
	if f := FeetOf(n, den); isLength(f) {
		return f, rest, true // "8/3"
	}
	return Feet{}, rest, false
}

func mixed(whole, num, den int64) (Feet, bool) {
	if num <= 0 || den <= 0 || num >= den || whole < 0 {
		return Feet{}, false
	}
	f := FeetOf(whole*den+num, den)
	return f, isLength(f)
}

// isLength reports whether organs have ranks of that length: those of the
// table, and the rounded lengths of old lists (see Rounded).
func isLength(f Feet) bool {
	switch f {
	case Foot(24), Foot(12), Foot(6), Foot(3), FeetOf(3, 2):
		return true
	}
	return lengthSet()[f]
}

var lengthSet = sync.OnceValue(func() map[Feet]bool {
	set := map[Feet]bool{}
	for _, row := range lengthRows() {
		set[row.feet] = true
	}
	return set
})

// vulgar are the fractions that have a character of their own.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅐': {1, 7},
	'⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅙': {1, 6}, '⅚': {5, 6},
}

func vulgarLength(whole int64, s string) (Feet, string, bool) {
	r, size := utf8.DecodeRuneInString(s)
	v, ok := vulgar[r]
	if !ok {
		return Feet{}, s, false
	}
	f, ok := mixed(whole, v[0], v[1])
	return f, s[size:], ok
}

// digits takes the leading digits of s, raised and lowered ones too.
func digits(s string) (run, rest string) {
	var b strings.Builder
	for i, r := range s {
		d, ok := digitOf(r)
		if !ok || b.Len() == 5 {
			return b.String(), s[i:]
		}
		b.WriteByte(d)
	}
	return b.String(), ""
}

func digitOf(r rune) (byte, bool) {
	switch {
	case r >= '0' && r <= '9':
		return byte(r), true
	case r >= '₀' && r <= '₉':
		return byte('0' + r - '₀'), true
	case r >= '⁴' && r <= '⁹':
		return byte('4' + r - '⁴'), true
	case r == '⁰':
		return '0', true
	case r == '¹':
		return '1', true
	case r == '²' || r == '³':
		return byte('2' + r - '²'), true
	}
	return 0, false
}

func number(s string) (int64, bool) {
	var n int64
	if s == "" || len(s) > 4 {
		return 0, false
	}
	for _, c := range []byte(s) {
		n = n*10 + int64(c-'0')
	}
	return n, true
}

// overDen reads "/3" or "⁄3".
func overDen(s string) (den int64, rest string, ok bool) {
	after, ok := strings.CutPrefix(s, "/")
	if !ok {
		if after, ok = strings.CutPrefix(s, "⁄"); !ok {
			return 0, s, false
		}
	}
	run, rest := digits(after)
	den, ok = number(run)
	return den, rest, ok && den > 0
}

// joinedNum reads the numerator that follows the whole feet after a space, a
// hyphen, a dot or a plus.
func joinedNum(s string) (num, rest string, ok bool) {
	after := strings.TrimLeft(s, " \u00a0\u202f\u2009")
	for _, joint := range []string{"-", "‑", ".", "+", "–", "'", "′", "’"} {
		if cut, ok := strings.CutPrefix(after, joint); ok {
			after = strings.TrimLeft(cut, " \u00a0")
			break
		}
	}
	num, rest = digits(after)
	return num, rest, num != "" && after != s
}

// startsDecimal keeps "8.5" and "4,5" from being read as 8 and 4.
func startsDecimal(s string) bool {
	if len(s) < 2 || (s[0] != '.' && s[0] != ',') {
		return false
	}
	run, _ := digits(s[1:])
	n, ok := number(run)
	return run != "" && (!ok || n == 0 || !isLength(Foot(n)))
}

// feetMarks are the marks and words of feet, longest first. A word must end
// where it ends; one of a single letter needs its dot or must touch the
// number, since "8 f" and "8 p" may be a dynamic.
var feetMarks = []string{
	"-foot", "-ft.", "-ft", "feet", "foot", "fusse", "fuss", "fuß", "füße", "fus", "pieds", "pied", "pds.", "pds", "pi.", "pi", "piedi", "piede", "pies", "pié", "pie",
	"voeten", "voet", "vt.", "vt", "ft.", "ft", "fts.", "fs.", "′", "'", "’", "‘", "´", "`", "ʹ", "ˈ", "\u2032", "＇",
}

func skipFeetMark(s string) string {
	trimmed := strings.TrimLeft(s, " \t\u00a0\u202f\u2009")
	touches := len(trimmed) == len(s)
	lower := strings.ToLower(trimmed)
	if len(lower) == len(trimmed) {
		for _, mark := range feetMarks {
			if strings.HasPrefix(lower, mark) && endsWord(mark, lower[len(mark):]) {
				rest := trimmed[len(mark):]
				if isLetterEnd(mark) {
					rest = strings.TrimPrefix(rest, ".")
				}
				return rest
			}
		}
		for _, letter := range []string{"f", "p", "v"} {
			after, ok := strings.CutPrefix(lower, letter)
			if !ok {
				continue
			}
			rest := trimmed[1:]
			if strings.HasPrefix(after, ".") {
				return rest[1:]
			}
			// "8F", "8f", "8 F" but not "8 f" nor "8ff"
			if endsWord(letter, after) && (touches || trimmed[0] == 'F') {
				return rest
			}
		}
	}
	return s
}

func isLetterEnd(mark string) bool {
	r, _ := utf8.DecodeLastRuneInString(mark)
	return unicode.IsLetter(r)
}

// endsWord reports whether a mark that ends in a letter is not just the
// beginning of a longer word.
func endsWord(mark, after string) bool {
	if !isLetterEnd(mark) {
		return true
	}
	r, _ := utf8.DecodeRuneInString(after)
	return !unicode.IsLetter(r) && !unicode.IsDigit(r)
}
