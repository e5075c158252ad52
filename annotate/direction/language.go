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

// detect decides in which language a text is written: the one that most of
// its words belong to. Where no word tells, it is the hint, else English,
// in which most short forms are ("Gt.").
// told is false where only the names of stops have told.
func detect(lexemes []lexeme, hint string) (lang string, told bool) {
	votes := make([]int, len(languages))
	for i := range lexemes {
		lx := &lexemes[i]
		var belongs, called langSet
		weight := 0
		for _, s := range lx.senses {
			if s.class == classInstrument || s.class == classCommonName || s.class == classOnly {
				continue // "solo" is "alone" in some languages, and solo in all
			}
			if s.langs == everyLang && s.class != classStop {
				belongs, called = 0, 0
				break // "Man." is a manual in all, though in English it also means manuals only
			}
			if s.class == classStop {
				called = s.langs
				continue
			}
			belongs |= s.langs
			weight = max(weight, weightOf(s))
		}
		told = told || belongs != 0 && belongs != everyLang
		if belongs == 0 {
			belongs, weight = called, stopWeight
		}
		n := bits.OnesCount8(uint8(belongs))
		if n == 0 || n >= len(languages)-1 {
			continue
		}
		for j, l := range languages {
			switch {
			case belongs&(1<<j) == 0:
			case l == "en" && n > 1 && weight == stopWeight:
				votes[j] += 12 * weight / n / 2 // English organs have the stops of all countries
			default:
				votes[j] += 12 * weight / n
			}
		}
	}
	capitals := slices.ContainsFunc(lexemes, func(lx lexeme) bool { return lx.token.kind == wordToken && !lx.token.small })
	for i := range lexemes {
		if t := lexemes[i].token; capitals && t.kind == wordToken && t.small && lexemes[i].sensible(classCoupler) {
			votes[4] += 12 * accentWeight // a German Koppel has a capital, a Dutch koppel none
		}
		if l := accented(lexemes[i].token.letters); l >= 0 {
			votes[l] += 12 * accentWeight
		}
	}
	best, bestVotes := "", 0
	for j, l := range languages {
		if strings.HasPrefix(hint, l) {
			votes[j] += 12 * hintWeight
		}
		if votes[j] > bestVotes {
			best, bestVotes = l, votes[j]
		}
	}
	return best, told || hint != ""
}

// accented is the language, by its place in languages, that alone has one of
// the letters of a word; -1 where none tells.
func accented(special rune) int {
	switch special {
	case 'ß', 'ä', 'ö', 'ü':
		return 2
	case 'ñ', 'í', 'ó', 'á', 'ú':
		return 5
	case 'û', 'ê', 'î', 'ô', 'ç', 'œ':
		return 1
	}
	return -1
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

// settle keeps of each lexeme what it means in the language, where it means
// anything in it. What a stop is called is understood in every language.
func settle(lexemes []lexeme, lang string) {
	set := langOf(lang)
	if set == 0 {
		return
	}
	for i := range lexemes {
		lx := &lexemes[i]
		known := false
		for _, s := range lx.senses {
			known = known || s.langs&set != 0 && s.class != classStop && s.class != classCommonName && s.class != classInstrument
		}
		if !known {
			if lx.stop != nil {
				lx.every = lx.senses
				lx.senses = withoutForeign(lx.senses)
			}
			continue
		}
		lx.every = lx.senses
		kept := make([]sense, 0, len(lx.senses))
		for _, s := range lx.senses {
			if s.langs&set != 0 || s.class == classStop || s.class == classJoined && lang == "" {
				kept = append(kept, s)
			}
		}
		lx.senses = kept
	}
}
