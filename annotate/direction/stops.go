package direction

import (
	"strings"
	"unicode/utf8"

	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// maxStopWords is the most words that a stop's name has in a direction.
const maxStopWords = 5

// A stopFound is the name of a stop in a text.
type stopFound struct {
	words  []string // as printed, with the dots of abbreviations
	tokens int
	entry  string // the name in the table
	family stopname.Family
	short  bool // it is abbreviated
	loose  bool // without the dot that the short form has
}

// findStop looks for the longest name of a stop that tokens begin with.
func findStop(text string, tokens []token) *stopFound {
	var words [maxStopWords]string
	var ends [maxStopWords]int // how many tokens the words so far take
	n := 0
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		if t.kind == markToken {
			if (t.text == markHyphen || t.text == markLongDash) && t.glued && i+1 < len(tokens) && tokens[i+1].glued && n > 0 {
				continue
			}
			break
		}
		printed := text[t.start:t.end]
		if t.dot {
			printed += "."
		}
		if n > 0 && t.glued && t.kind == wordToken && (tokens[i-1].kind == numberToken || apostropheBetween(text, tokens[i-1], t)) {
			words[n-1] += text[tokens[i-1].end:t.start] + printed // "15th", "Diap'ns"
			ends[n-1] = i + 1
			continue
		}
		if n == maxStopWords || n == 1 && !stopname.Begins(words[0]) || n > 1 && !stopname.Continues(words[n-1]) {
			break
		}
		words[n], ends[n] = printed, i+1
		n++
	}
	switch {
	case n == 0, n == 1 && !stopname.Begins(words[0]):
		return nil
	case n > 1 && !stopname.Continues(words[n-1]):
		n--
	}
	k, taken := stopname.Lookup(words[:n], stopname.Place{})
	if taken > 1 && namesPlace(words[taken-1]) {
		k, taken = stopname.Lookup(words[:taken-1], stopname.Place{}) // "Tuba solo"
	}
	if taken == 0 || taken > 1 && namesPlace(words[0]) {
		return nil // "Solo Tuba": the division and the stop
	}
	found := &stopFound{words: append([]string(nil), words[:taken]...), tokens: ends[taken-1], entry: k.Entry, family: k.Family}
	found.short = len(foldPlain(strings.Join(found.words, ""))) < len(foldPlain(k.Entry))-1
	return found
}

// namesPlace reports whether a word says where a stop stands or how it is
// used, so that it is no part of its name although some knobs have it.
func namesPlace(word string) bool {
	switch foldPlain(word) {
	case "solo", "great", "swell", "choir", "pedal", "soft":
		return true
	}
	return false
}

// apostropheBetween reports whether nothing but an apostrophe parts two tokens.
func apostropheBetween(text string, a, b token) bool {
	between := text[a.end:b.start]
	r, size := utf8.DecodeRuneInString(between)
	return size > 0 && size == len(between) && isApostrophe(r)
}

// foldPlain folds a name to its letters.
func foldPlain(name string) string { return strings.Join(foldedWords(name), "") }

// findLoose looks for short forms that have lost their dots: "Ob", "St Diap".
// They are names only where a name is expected.
func findLoose(text string, tokens []token) *stopFound {
	dotted := make([]token, 0, 3)
	for _, t := range tokens {
		if t.kind != wordToken || len(t.text) > 6 || len(dotted) == 3 {
			break
		}
		t.dot = true
		dotted = append(dotted, t)
	}
	found := findStop(text, dotted)
	if found != nil {
		found.loose, found.short = true, true
	}
	return found
}

// findWords looks for the stop that all the words name, nil if there is none.
func findWords(words []string) *stopFound {
	k, n := stopname.Lookup(words, stopname.Place{})
	if n < len(words) {
		return nil
	}
	return &stopFound{words: words, entry: k.Entry, family: k.Family, short: true}
}

// stopSense is what a name of a stop means to the grammar.
func stopSense(found *stopFound) sense {
	s := sense{class: classStop}
	for _, l := range stopname.Languages(found.entry) {
		s.langs |= langOf(l)
	}
	if s.langs == 0 {
		s.langs = everyLang
	}
	return s
}

// addDivisions enters the names and short forms of the registry's divisions.
// common are the names that ordinary texts use too; a single letter always is.
func addDivisions(root *node, common map[string]bool) {
	for s := range division.Spellings() {
		key := foldPlain(s.Text)
		meaning := sense{
			class: classDivision, value: string(s.Role), langs: langOf(s.Lang),
			ordinary: common[key] || len(key) == 1, dotted: s.Short && strings.HasSuffix(s.Text, "."),
		}
		root.add(s.Text, meaning)
		if spelled := umlautSpelled(strings.ToLower(s.Text)); spelled != strings.ToLower(s.Text) {
			root.add(spelled, meaning)
		}
	}
}
