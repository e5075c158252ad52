package stopname

import "strings"

// Lookup finds the longest run of words, beginning at words[0], that is a name
// of the table, in full or abbreviated, and says how many words it took; n is
// 0 where there is none. It guesses nothing: neither parts nor misspellings.
//
// The words are as printed, with their abbreviation dots ("St.", "Diap.",
// "O.D.") and without pitches and the commas between items; what a word is
// printed like decides, since "St" and "Op" may be something else where "St."
// and "Op. Diap." are not. A word that shows no dot is taken for an
// abbreviation only where the table says that it is used so.
func Lookup(words []string, at Place) (k Known, n int) {
	t := vocabulary()
	var run []word
	for taken, printed := range words {
		if taken >= t.longest+2 || printed == "" {
			break
		}
		more := wordsOf(strings.Trim(printed, ",;:()[]"))
		if len(more) == 0 {
			break
		}
		run = append(run, more...)
		if e := t.inText(run, at); e != nil {
			k, n = e.known(strings.Join(words[:taken+1], " "), at, 0), taken+1
		}
	}
	return k, n
}

func (t *table) inText(run []word, at Place) *entry {
	if e := t.chooseAs(printed(run), t.find(run), at, 0); e != nil {
		return e
	}
	return t.expand(run, at, 0, false)
}
