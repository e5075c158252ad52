package division

import "iter"

// A Spelling is one way in which a division is called: its name, or a short
// form of that.
type Spelling struct {
	Role   Role
	Lang   string // "en", "fr", "de", "nl", "it", "es"
	Text   string // as printed: "Grand-Orgue", "Gd. Orgue"
	Short  bool
	Source string
}

// Spellings goes through all that divisions are called, in the order of the
// table, for readers of running text that keep an index of their own.
func Spellings() iter.Seq[Spelling] {
	return func(yield func(Spelling) bool) {
		for _, r := range rows() {
			if !yield(Spelling{r.role, r.lang, r.name, false, r.source}) {
				return
			}
			for _, short := range r.shorts {
				if !yield(Spelling{r.role, r.lang, short, true, r.source}) {
					return
				}
			}
		}
	}
}
