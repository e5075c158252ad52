package stopname

import (
	"slices"
	"sort"
	"strings"
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

// A fringe tells what names begin and go on with, so that a reader of running
// text need not look up what cannot be a name. Its lists are sorted.
type fringe struct {
	keys    []string // names and abbreviations, folded
	endings []string // the same, each read backwards
	words   []string // words within names
}

var fringes = sync.OnceValue(func() fringe {
	t := vocabulary()
	var f fringe
	for key := range t.byKey {
		f.keys = append(f.keys, key)
	}
	for key := range t.abbr {
		f.keys = append(f.keys, key)
		f.words = append(f.words, key)
	}
	for _, key := range f.keys {
		f.endings = append(f.endings, backwards(key))
	}
	for _, names := range t.byWords() {
		for _, name := range names {
			f.words = append(f.words, name.words...)
		}
	}
	for w := range joiners {
		f.words = append(f.words, w)
	}
	for _, list := range []*[]string{&f.keys, &f.endings, &f.words} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	return f
})

func backwards(key string) string {
	b := []byte(key)
	slices.Reverse(b)
	return string(b)
}

// Begins reports whether Lookup could find a name that begins with the word:
// also with "Wald" of what the table writes as one word, or "O." of "O.D.".
func Begins(printed string) bool {
	f := fringes()
	return anyForm(printed, func(key string) bool { return anyBegins(f.keys, key) })
}

// Continues reports whether Lookup could find a name of which the word is not
// the first: a word of one, in full or abbreviated, or the end of one.
func Continues(printed string) bool {
	f := fringes()
	return anyForm(printed, func(key string) bool {
		return anyBegins(f.words, key) || anyBegins(f.endings, backwards(key))
	})
}

// anyForm asks for the word as printed, and for its singular.
func anyForm(printed string, is func(key string) bool) bool {
	words := wordsOf(printed)
	return len(words) > 0 && (is(words[0].key) || is(singular(words)[0].key))
}

// anyBegins reports whether a word of the sorted list begins with the start.
func anyBegins(sorted []string, start string) bool {
	i := sort.SearchStrings(sorted, start)
	return i < len(sorted) && strings.HasPrefix(sorted[i], start)
}
