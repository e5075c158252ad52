package stopname

import "slices"

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
