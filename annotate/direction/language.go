package direction

import (
	"math/bits"
	"slices"
	"strings"
)

// How much a word says about the language of its text, in tenths.
const (
	hintWeight   = 6 // the language of the score's other texts
	properWeight = 10
	commonWeight = 5 // a word that ordinary texts use too
	smallWeight  = 4 // a word of the grammar, which languages share by chance
	stopWeight   = 6 // a stop's name travels
	accentWeight = 2 // a letter that few languages have
)

// A verdict says in which language a text is written.
type verdict struct {
	lang  string   // "" where no word tells
	order []string // all languages that some word belongs to, the likeliest first
	told  bool     // more than the names of stops have told
}

// detect decides in which language a text is written: the one that most of
// its words belong to. Where no word tells, it is the hint.
func detect(lexemes []lexeme, hint string) verdict {
	votes := make([]int, len(languages))
	var v verdict
	for i := range lexemes {
		belongs, weight := lexemes[i].belongs()
		v.told = v.told || weight != 0 && weight != stopWeight
		n := bits.OnesCount8(uint8(belongs))
		if n >= len(languages)-1 {
			continue // it tells next to nothing
		}
		for j, l := range languages {
			if belongs&(1<<j) == 0 {
				continue
			}
			vote := votesOfWeight * weight / n
			if l == "en" && n > 1 && weight == stopWeight {
				vote /= 2 // English organs have the stops of all countries
			}
			votes[j] += vote
		}
	}
	countLetters(lexemes, votes)
	for j, l := range languages {
		if strings.HasPrefix(hint, l) {
			votes[j] += votesOfWeight * hintWeight
			v.told = true
		}
		if votes[j] > 0 {
			v.order = append(v.order, l)
		}
	}
	slices.SortStableFunc(v.order, func(a, b string) int {
		return votes[slices.Index(languages, b)] - votes[slices.Index(languages, a)]
	})
	if len(v.order) > 0 {
		v.lang = v.order[0]
	}
	return v
}

// votesOfWeight is what one unit of weight counts, so that it can be shared
// among two, three or four languages without a rest.
const votesOfWeight = 12

// belongs is the languages that a lexeme belongs to, and how much that says.
func (lx *lexeme) belongs() (langs langSet, weight int) {
	var called langSet
	for _, s := range lx.senses {
		switch {
		case s.class == classStop:
			called = s.langs
		case s.class == classInstrument || s.class == classCommonName || s.class == classOnly:
			// "solo" is "alone" in some languages, and solo in all
		case s.langs == everyLang:
			return 0, 0 // "Man." is a manual in all, though in English it also means manuals only
		default:
			langs |= s.langs
			weight = max(weight, weightOf(s))
		}
	}
	if langs == 0 && called != 0 {
		return called, stopWeight
	}
	return langs, weight
}

// countLetters adds what letters tell that few languages have.
func countLetters(lexemes []lexeme, votes []int) {
	dutch := slices.Index(languages, "nl")
	capitals := slices.ContainsFunc(lexemes, func(lx lexeme) bool { return lx.token.kind == wordToken && !lx.token.small })
	for i := range lexemes {
		if t := lexemes[i].token; capitals && t.kind == wordToken && t.small && lexemes[i].sensible(classCoupler) {
			votes[dutch] += votesOfWeight * accentWeight // a German Koppel has a capital, a Dutch koppel none
		}
		if l := slices.Index(languages, accented(lexemes[i].token.letters)); l >= 0 {
			votes[l] += votesOfWeight * accentWeight
		}
	}
}

// accented is the language that alone has a letter, "" where none tells.
func accented(letter rune) string {
	switch letter {
	case 'ß', 'ä', 'ö', 'ü':
		return "de"
	case 'ñ', 'í', 'ó', 'á', 'ú':
		return "es"
	case 'û', 'ê', 'î', 'ô', 'ç', 'œ':
		return "fr"
	}
	return ""
}

func weightOf(s sense) int {
	switch s.class {
	case classStop:
		return stopWeight
	case classAnd, classOr, classOf, classAt, classTo, classArticle, classOnly, classAll, classIn, classJoined:
		return smallWeight
	}
	if s.ordinary {
		return commonWeight
	}
	return properWeight
}

// withoutForeign drops from a stop's name what the same word means in another
// language than that of the text: in English a Viole is one stop.
func withoutForeign(senses []sense) []sense {
	kept := make([]sense, 0, len(senses))
	for _, s := range senses {
		if s.class != classJoined && s.class != classFamily {
			kept = append(kept, s)
		}
	}
	return kept
}

// settle keeps of each lexeme what it means in the language of the text, or
// in the likeliest one in which it means anything. What a stop is called is
// understood in every language.
func settle(lexemes []lexeme, v verdict) {
	for i := range lexemes {
		lx := &lexemes[i]
		lx.every = lx.senses
		lang := slices.IndexFunc(v.order, func(l string) bool { return lx.means(langOf(l)) })
		switch {
		case lang > 0 && lx.stop != nil:
			lx.senses = withoutForeign(lx.senses)
		case lang >= 0:
			set := langOf(v.order[lang])
			kept := make([]sense, 0, len(lx.senses))
			for _, s := range lx.senses {
				if s.langs&set != 0 || s.class == classStop {
					kept = append(kept, s)
				}
			}
			lx.senses = kept
		}
	}
}

// means reports whether the vocabulary has a meaning for the lexeme in one of
// the languages.
func (lx *lexeme) means(langs langSet) bool {
	for _, s := range lx.senses {
		if s.langs&langs != 0 && s.class != classStop && s.class != classCommonName && s.class != classInstrument {
			return true
		}
	}
	return false
}
