package stopname

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"stopgap/registry/internal/letters"
	"stopgap/registry/pitch"
)

// A Knob is the text on a stop knob taken apart.
type Knob struct {
	Name        string       // the text without pitch, ranks and composition
	Pitch       pitch.Feet   // zero where none is written
	Ranks       int          // the greatest number of ranks, 0 where not written
	LeastRanks  int          // differs from Ranks for "III-V"
	Composition []pitch.Feet // of a mixture, where it is written
}

// Split takes the text on a knob apart: "Open Diapason 8" is a name and 8′,
// "Mixture 15.19.22 III" a name, three ranks and their pitches. See Dissect.
func Split(text string) (name string, p pitch.Feet, ranks int, composition []pitch.Feet) {
	k := Dissect(text)
	return k.Name, k.Pitch, k.Ranks, k.Composition
}

// maxName is how long a name can be that is looked into, in bytes: none has a
// third of that. To try the parts of a longer one takes time by its square and
// more.
const maxName = 300

// Dissect is Split with everything that is written. A Roman numeral counts
// ranks only after a name that has ranks ("Mixture III", but "Open Diapason
// II"), and a small bare figure is a pitch only where the name has that pitch
// ("Fifteenth 2", but "Open Diapason 2").
func Dissect(text string) Knob {
	text = strings.Join(strings.Fields(letters.Repair(text)), " ")
	if len(text) > maxName {
		return Knob{Name: text}
	}
	if k, ok := leadingPitch(text); ok {
		return k
	}
	whole := Knob{Name: text}
	if text == "" || len(vocabulary().byKey[joinKeys(wordsOf(text))]) > 0 {
		return whole // "Flautado de 13", "Flauto in XII"
	}
	for i := range text {
		if !startsTail(text, i) {
			continue
		}
		name := strings.TrimRight(text[:i], " ,;:-–—=([")
		k, ok := readTail(name, text[i:])
		if ok {
			return k
		}
	}
	return whole
}

// startsTail reports whether a word of pitch or ranks may begin at i.
func startsTail(text string, i int) bool {
	if i == 0 {
		return false
	}
	r, _ := utf8.DecodeRuneInString(text[i:])
	before, _ := utf8.DecodeLastRuneInString(text[:i])
	if unicode.IsDigit(r) || strings.ContainsRune("½⅓⅔¼¾⅕⅖⅗⅘⅐⅛⅜⅝⅞", r) {
		return !unicode.IsDigit(before) && before != '.' && before != '/'
	}
	return (r == 'I' || r == 'V' || r == 'X') && (before == ' ' || before == '(' || before == '-')
}

// readTail reads pitch, ranks and composition up to the end of the text. What
// comes after them may still belong to the name: a note in parentheses, the
// number of the stop, a half ("Tromba 8 soprani").
func readTail(name, tail string) (Knob, bool) {
	k := Knob{Name: name}
	s := tail
	bareFigure, bareRoman := false, false
	for {
		s = strings.TrimLeft(s, " ,;:()[]-–=.")
		if s == "" {
			break
		}
		if k.Composition == nil {
			if c, rest, ok := pitch.Composition(s); ok {
				k.Composition, s = c, rest
				continue
			}
		}
		if k.Ranks == 0 {
			if low, high, rest, ok := pitch.Ranks(s); ok && !meansFeet(name, s[:len(s)-len(rest)]) {
				word := s[:len(s)-len(rest)]
				bareRoman = strings.Trim(word, "IVX-–— ") == ""
				if bareRoman && !k.Pitch.IsZero() && !takesRanks(name) {
					k.Name, s, bareRoman = name+" "+strings.TrimSpace(word), rest, false // "Principal 8 II"
					continue
				}
				k.LeastRanks, k.Ranks, s = low, high, rest
				continue
			}
		}
		if k.Pitch.IsZero() {
			if f, rest, ok := pitch.Parse(s); ok {
				_, _, marked := pitch.ParseMarked(s)
				bareFigure = !marked
				k.Pitch, s = f, rest
				continue
			}
		}
		// "Mixture 3": ranks without a word
		if n, rest, ok := bareRanks(s); ok && k.Ranks == 0 && takesRanks(name) {
			k.Ranks, k.LeastRanks, s = n, n, rest
			continue
		}
		rest, ok := restOfName(name, tail, s)
		if !ok {
			return Knob{}, false
		}
		k.Name, s = name+" "+rest, ""
	}
	if bareRoman && !takesRanks(name) {
		return Knob{}, false
	}
	if bareFigure && !bareFigureIsPitch(name, k) {
		if k.Ranks == 0 && k.Pitch.Cmp(pitch.Foot(2)) > 0 && takesRanks(name) {
			k.Ranks = int(8 * k.Pitch.Ratio().Den() / k.Pitch.Ratio().Num())
			k.LeastRanks, k.Pitch = k.Ranks, pitch.Feet{}
			return k, true
		}
		return Knob{}, false
	}
	if len(k.Composition) > 0 && k.Ranks == 0 {
		k.Ranks, k.LeastRanks = len(k.Composition), len(k.Composition)
	}
	return k, name != ""
}

// restOfName takes what follows the pitch as part of the name where it stands
// in parentheses, or where the table has the name so.
func restOfName(name, tail, s string) (rest string, ok bool) {
	if s == tail || strings.ContainsAny(s, "0123456789") && !strings.Contains(tail, "(") {
		return "", false
	}
	if before := tail[:len(tail)-len(s)]; strings.HasSuffix(before, "(") || strings.HasSuffix(before, "[") {
		return before[len(before)-1:] + s, true
	}
	return s, len(vocabulary().find(wordsOf(name+" "+s))) > 0
}

// meansFeet tells the "8f" and "4 f." of a single stop from the "4f." of a
// mixture, where f is fach.
func meansFeet(name, word string) bool {
	word = strings.TrimRight(word, " .")
	if !strings.HasSuffix(word, "f") || strings.ContainsAny(word, "-–") {
		return false
	}
	f, _, ok := pitch.Parse(word)
	return ok && (f == pitch.Foot(8) || f == pitch.Foot(16) || !takesRanks(name))
}

func bareRanks(s string) (n int, rest string, ok bool) {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		n = n*10 + int(s[i]-'0')
		i++
	}
	return n, s[i:], i > 0 && i < 3 && n > 2 && n <= 20 && (i == len(s) || s[i] == ' ')
}

// takesRanks reports whether a name is one that ranks are counted for.
func takesRanks(name string) bool {
	t := vocabulary()
	for _, ranks := range []int{3, 2} {
		for _, i := range t.find(wordsOf(withoutNumber(name))) {
			e := &t.entries[i]
			if !e.holds(Place{}, ranks) {
				continue
			}
			if e.family == Mixture || e.family == Cornet || e.family == Celeste || e.where == "ranks" {
				return true
			}
		}
	}
	k := resolveByParts(name, Place{})
	return k.How == ByParts && (k.Family == Mixture || k.Family == Cornet || k.Family == Celeste)
}

// bareFigureIsPitch tells the pitch of "Fifteenth 2" from the number of "Open
// Diapason 2".
func bareFigureIsPitch(name string, k Knob) bool {
	compound := takesRanks(name)
	if k.Pitch.Cmp(pitch.Foot(4)) >= 0 {
		return !compound || k.Ranks > 0 || hasPitch(name, k.Pitch)
	}
	if k.Pitch == pitch.Foot(3) {
		return !compound
	}
	if compound {
		return true
	}
	// "Octave 2" is a pitch, "Open Diapason 2" a number: nobody makes one three
	// octaves above its usual self
	t := vocabulary()
	usual := false
	for _, i := range t.find(wordsOf(name)) {
		for _, f := range t.entries[i].pitches {
			usual = true
			if f.Cmp(k.Pitch.Octaves(-1)) <= 0 {
				return true
			}
		}
	}
	return !usual
}

func hasPitch(name string, f pitch.Feet) bool {
	t := vocabulary()
	for _, i := range t.find(wordsOf(name)) {
		if t.entries[i].hasPitch(f) {
			return true
		}
	}
	return false
}

// leadingPitch reads "8' Gedackt" and "16 ft. Bourdon".
func leadingPitch(text string) (Knob, bool) {
	f, rest, ok := pitch.Parse(text)
	if !ok {
		return Knob{}, false
	}
	name := strings.TrimLeft(rest, " :-–")
	r, _ := utf8.DecodeRuneInString(name)
	if name == rest && f.String()+rest == text && rest != "" {
		return Knob{}, false // "1re Trompette"
	}
	if !unicode.IsLetter(r) {
		return Knob{}, false
	}
	k := Dissect(name)
	if !k.Pitch.IsZero() {
		return Knob{}, false
	}
	k.Pitch = f
	return k, true
}
