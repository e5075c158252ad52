package stopname

import (
	"slices"
	"sync"
)

// Languages are those in which a stop is called by the name, in the order of
// the table; none where the table does not have it.
func Languages(name string) []string {
	t := vocabulary()
	var langs []string
	for _, i := range t.find(wordsOf(name)) {
		if l := t.entries[i].lang; !slices.Contains(langs, l) {
			langs = append(langs, l)
		}
	}
	return langs
}

// A fringe holds what the words of names begin and go on with, folded, so that
// a reader of running text need not look up what cannot be a name.
type fringe struct{ begins, continues map[string]bool }

var fringes = sync.OnceValue(func() fringe {
	t := vocabulary()
	f := fringe{begins: map[string]bool{}, continues: map[string]bool{}}
	for key := range t.byKey {
		for i := 1; i <= len(key); i++ {
			f.begins[key[:i]] = true // also "Wald" of what the table writes as one word
			f.continues[key[i-1:]] = true
		}
	}
	for _, names := range t.words {
		for _, name := range names {
			for _, w := range name.words {
				for i := 1; i <= len(w); i++ {
					f.continues[w[:i]] = true // in full or abbreviated
				}
			}
		}
	}
	for key := range t.abbr {
		f.continues[key] = true
		for i := 1; i <= len(key); i++ {
			f.begins[key[:i]] = true // also "O." of "O.D."
			f.continues[key[i-1:]] = true
		}
	}
	for w := range joiners {
		f.continues[w] = true
	}
	return f
})

// Begins reports whether Lookup could find a name that begins with the word.
func Begins(printed string) bool { return onFringe(fringes().begins, printed) }

// Continues reports whether Lookup could find a name of which the word is not
// the first.
func Continues(printed string) bool { return onFringe(fringes().continues, printed) }

func onFringe(set map[string]bool, printed string) bool {
	words := wordsOf(printed)
	if len(words) == 0 {
		return false
	}
	if set[words[0].key] {
		return true
	}
	return set[singular(words)[0].key]
}
