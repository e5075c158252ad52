package stopname

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// takeApart finds stop names and parts in a name: whole words first, the
// longest run of them that is a stop name, and then within words.
func takeApart(name string, at Place) []piece {
	t := vocabulary()
	words := wordsOf(name)
	var pieces []piece
	for i := 0; i < len(words); {
		n, e := 0, (*entry)(nil)
		for j := min(len(words), i+4); j > i && e == nil; j-- {
			if j-i == len(words) {
				continue // the whole name is not in the table, or we would not be here
			}
			if e = t.choose(t.find(words[i:j]), at, 0); e != nil {
				n = j - i
			}
		}
		p := partNamed(words[i].key, at)
		// "Octave", "Bass", "Double" qualify what follows rather than name it
		if e != nil && !(n == 1 && p != nil && len(words) > 1 && p.head == "") {
			pieces = append(pieces, piece{text: printed(words[i : i+n]), entry: e})
			i += n
			continue
		}
		switch {
		case p != nil && p.head != "":
			pieces = append(pieces, piece{text: words[i].printed, entry: t.choose(t.byKey[p.head], Place{Lang: at.Lang, Pitch: at.Pitch, Pedal: at.Pedal}, 0)})
		case p != nil:
			pieces = append(pieces, piece{text: words[i].printed, part: p})
		default:
			pieces = append(pieces, takeWordApart(words[i], at)...)
		}
		i++
	}
	// a name of parts only: the last that is a stop too is the stop
	if !slices.ContainsFunc(pieces, func(p piece) bool { return p.entry != nil }) {
		for i := len(pieces) - 1; i >= 0; i-- {
			if pieces[i].part == nil || pieces[i].part.refuse {
				continue
			}
			if e := t.choose(t.byKey[fold(pieces[i].text)], at, 0); e != nil {
				pieces[i].entry, pieces[i].part = e, nil
				break
			}
		}
	}
	return pieces
}

func printed(words []word) string {
	var all []string
	for _, w := range words {
		all = append(all, w.printed)
	}
	return strings.Join(all, " ")
}

func partNamed(key string, at Place) *part {
	rows := parts()[key]
	for i := range rows {
		if rows[i].lang == at.Lang && at.Lang != "" {
			return &rows[i]
		}
	}
	for i := range rows {
		if rows[i].lang == "" {
			return &rows[i]
		}
	}
	if len(rows) > 0 {
		return &rows[0]
	}
	return nil
}

// leastHead is the number of letters from which a stop name is looked for
// within a word; shorter ones turn up by accident.
const leastHead = 4

// takeWordApart splits a compound word into parts and stop names, linking
// letters allowed between them. Where that fails, the word may still end in
// something that compounds are made with.
func takeWordApart(w word, at Place) []piece {
	var pieces []piece
	t := vocabulary()
	// the word is longer than any of its parts
	if pieces = split(w.key, at, map[string][]piece{}, len(w.key)-1); pieces != nil {
		return pieces
	}
	for cut := 3; cut <= len(w.key)-leastHead; cut++ {
		for _, p := range parts()[w.key[cut:]] {
			if e := t.choose(t.byKey[p.head], at, 0); p.suffix && e != nil {
				return []piece{{text: w.key[:cut], capital: true, within: true}, {text: w.key[cut:], entry: e, within: true}}
			}
		}
	}
	r, _ := utf8.DecodeRuneInString(w.printed)
	return []piece{{text: w.printed, capital: unicode.IsUpper(r)}}
}

// split is the split of a word into the fewest pieces, none longer than
// longest letters; nil where there is no such split.
func split(key string, at Place, done map[string][]piece, longest int) []piece {
	if key == "" {
		return []piece{}
	}
	if pieces, ok := done[key]; ok {
		return pieces
	}
	t := vocabulary()
	var best []piece
	for end := min(len(key), longest); end >= 3; end-- {
		var p piece
		first := key[:end]
		switch q := partNamed(first, at); {
		case q != nil && q.head != "":
			p = piece{text: first, entry: t.choose(t.byKey[q.head], at, 0), within: true}
		case q != nil && !q.refuse:
			p = piece{text: first, part: q, within: true}
		case end >= leastHead:
			p = piece{text: first, entry: t.choose(t.byKey[first], at, 0), within: true}
		}
		if !p.known() || (end == len(key) && p.part != nil && best != nil) {
			continue
		}
		for _, link := range []string{"", "s", "n", "en", "er", "e"} {
			rest, ok := strings.CutPrefix(key[end:], link)
			if !ok || (rest == "" && link != "") {
				continue
			}
			if tail := split(rest, at, done, longest); tail != nil && (best == nil || len(tail)+1 < len(best)) {
				best = append([]piece{p}, tail...)
			}
		}
	}
	done[key] = best
	return best
}
