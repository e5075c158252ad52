package pitch

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Composition reads the pitches of a mixture at the start of text, as steps of
// the scale ("15.19.22", "15-19-22", "12, 15") or as lengths ("2⅔′ + 2′",
// "4+2"), and returns what follows. It needs at least two; steps ascend and
// lengths descend, which is what tells "8.12.15" from "16.8.4": the latter are
// three pitches of single stops, and not read here.
func Composition(text string) (pitches []Feet, rest string, ok bool) {
	if pitches, rest, ok = degrees(text); ok {
		return pitches, rest, true
	}
	return sum(text)
}

// degrees reads "15.19.22".
func degrees(text string) (pitches []Feet, rest string, ok bool) {
	s := strings.TrimLeft(text, " ")
	last := 0
	rest = text
	for {
		run, after := digits(s)
		n, isNumber := number(run)
		f, known := Degree(int(n))
		if !isNumber || !known || int(n) <= last {
			break
		}
		if r, _ := utf8.DecodeRuneInString(after); r == '/' || r == '⁄' || vulgar[r] != [2]int64{} || unicode.IsLetter(r) || r == '\'' || r == '′' {
			break
		}
		pitches, last, rest = append(pitches, f), int(n), after
		joint := strings.TrimLeft(after, ".,-–·:+ ")
		if joint == after {
			break
		}
		s = joint
	}
	// "1 5" and "3.5" are no mixtures: those begin at the octave or above.
	if len(pitches) < 2 || pitches[len(pitches)-1].Cmp(FeetOf(8, 3)) > 0 {
		return nil, text, false
	}
	return pitches, rest, true
}

// sum reads "2⅔′ + 2′".
func sum(text string) (pitches []Feet, rest string, ok bool) {
	s := text
	for {
		f, after, ok := Parse(s)
		if !ok || (len(pitches) > 0 && f.Cmp(pitches[len(pitches)-1]) >= 0) {
			break
		}
		pitches, rest = append(pitches, f), after
		joint, ok := strings.CutPrefix(strings.TrimLeft(after, " "), "+")
		if !ok {
			break
		}
		s = joint
	}
	if len(pitches) < 2 {
		return nil, text, false
	}
	return pitches, rest, true
}

// rankWords follow the number of ranks, by language: ranks, rangs, fach,
// sterk, file, hileras. The short ones need their dot or a space and a number
// in figures before them.
var rankWords = []string{
	"ranks", "rank", "rks.", "rks", "rk.", "rk", "rangs", "rang", "rgs.", "rgs", "rg.", "rg",
	"-fach", "fach", "faches", "fache", "fch.", "fch", "f.", "f", "sterk", "st.", "st", "koren", "korig", "file", "fila", "fl.", "hileras", "hilera", "hil.", "hs.", "h.", "x",
}

// Ranks reads how many ranks a compound stop has, at the start of text: "III",
// "III ranks", "4 rgs", "3-4 fach", "IV–VI". Low and high differ where the
// stop grows from bass to treble. A bare figure without a word is not read: it
// may be a pitch.
func Ranks(text string) (low, high int, rest string, ok bool) {
	s := strings.TrimLeft(text, " \u00a0")
	low, after, roman := count(s)
	if low == 0 {
		return 0, 0, text, false
	}
	high, rest = low, after
	if next, cut := cutAny(strings.TrimLeft(after, " "), "-", "–", "—", "‑", "/", "à", "bis", "to", "a "); cut {
		if n, after, _ := count(strings.TrimLeft(next, " ")); n > low {
			high, rest = n, after
		}
	}
	word := strings.TrimLeft(rest, " \u00a0")
	for _, w := range rankWords {
		if len(word) >= len(w) && strings.EqualFold(word[:len(w)], w) && endsWord(w, word[len(w):]) {
			return low, high, strings.TrimPrefix(word[len(w):], "."), true
		}
	}
	if !roman {
		return 0, 0, text, false
	}
	r, _ := utf8.DecodeRuneInString(rest)
	if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' {
		return 0, 0, text, false
	}
	return low, high, rest, true
}

func cutAny(s string, prefixes ...string) (string, bool) {
	for _, p := range prefixes {
		if after, ok := strings.CutPrefix(s, p); ok {
			return after, true
		}
	}
	return s, false
}

// count reads a number of ranks, 1 to 20, in figures or in Roman capitals.
func count(s string) (n int, rest string, roman bool) {
	run, rest := digits(s)
	if run != "" {
		if n, ok := number(run); ok && n >= 1 && n <= 20 {
			return int(n), rest, false
		}
		return 0, s, false
	}
	end := 0
	for end < len(s) && (s[end] == 'I' || s[end] == 'V' || s[end] == 'X') {
		end++
	}
	return Roman(s[:end]), s[end:], true
}

var romans = [...]string{"", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII", "XIII", "XIV", "XV", "XVI", "XVII", "XVIII", "XIX", "XX"}

// Roman is the value of a Roman numeral in capitals from I to XX, 0 for
// anything else.
func Roman(s string) int {
	for n, r := range romans {
		if n > 0 && r == s {
			return n
		}
	}
	return 0
}

// Numeral writes n, 1 to 20, as ranks are written on knobs: "IV".
func Numeral(n int) string {
	if n < 1 || n >= len(romans) {
		return ""
	}
	return romans[n]
}

// Resultant is the pitch that the ear hears below two ranks that are the
// second and third partial of it: 16′ with 10⅔′ gives 32′, 8′ with 5⅓′ gives
// 16′ (the principle of the acoustic bass). ok is false for any other pair.
func Resultant(a, b Feet) (f Feet, ok bool) {
	if a.IsZero() || b.IsZero() {
		return Feet{}, false
	}
	if a.Cmp(b) < 0 {
		a, b = b, a
	}
	if a.r.Mul(NewRatio(2, 3)) != b.r {
		return Feet{}, false
	}
	return a.Octaves(-1), true
}
