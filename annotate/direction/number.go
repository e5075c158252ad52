package direction

import (
	"strings"
	"unicode/utf8"

	"stopgap/registry/pitch"
)

// maxPitchText is as many bytes as a pitch with its mark of feet can have.
const maxPitchText = 40

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
	if isDuration(piece) || i > 0 && isDuration(text[lastDigits(text, i):]) {
		return t // 3'30"
	}
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

// isDuration reports whether a text begins with minutes and seconds: 3'30".
func isDuration(s string) bool {
	minutes, rest := leadingDigits(s)
	r, size := utf8.DecodeRuneInString(rest)
	if minutes == "" || len(minutes) > 2 || size == 0 || !isApostrophe(r) || r == '"' || r == '″' {
		return false
	}
	seconds, rest := leadingDigits(strings.TrimLeft(rest[size:], " "))
	r, _ = utf8.DecodeRuneInString(rest)
	return len(seconds) == 2 && (r == '"' || r == '″' || r == '”' || strings.HasPrefix(rest, "''") || strings.HasPrefix(rest, "′′"))
}

func leadingDigits(s string) (digits, rest string) {
	rest = strings.TrimLeft(s, "0123456789")
	return s[:len(s)-len(rest)], rest
}

// lastDigits is where the digits begin that a mark of minutes parts from those
// at i, i itself if none do.
func lastDigits(text string, i int) int {
	before := text[max(0, i-8):i]
	trimmed := strings.TrimRight(before, " ")
	r, size := utf8.DecodeLastRuneInString(trimmed)
	if size == 0 || !isApostrophe(r) {
		return i
	}
	trimmed = trimmed[:len(trimmed)-size]
	digits := len(trimmed) - len(strings.TrimRight(trimmed, "0123456789"))
	if digits == 0 {
		return i
	}
	return i - len(before) + len(trimmed) - digits
}

// isTimeSignature reports whether a text begins with a fraction that is a
// time and no length: 2/4, 12/8, but 1/2 is half a foot.
func isTimeSignature(s string) bool {
	whole, rest, ok := strings.Cut(s, "/")
	if !ok || whole == "" || len(whole) > 2 || whole == "1" || strings.Trim(whole, "0123456789") != "" {
		return false
	}
	beat := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
	if a, b := lengthOf(whole), lengthOf(beat); whole != "1" && usualFeet[a] && usualFeet[b] && a.Cmp(b) <= 0 {
		return true // 4/4, 2/8: no length in feet is written so
	}
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

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isVulgar(r rune) bool { return r == '½' || r >= '⅐' && r <= '⅞' || r == '¼' || r == '¾' }
