package direction

import (
	"slices"
	"strings"
	"sync"
)

// maxNear is the most runs of unread words of one text that are compared with
// the vocabulary: each costs a pass over it.
const maxNear = 12

// knownWords are all phrases of the vocabulary and all names of stops, folded.
var knownWords = sync.OnceValue(func() []string {
	var words []string
	var walk func(n *node, path string)
	walk = func(n *node, path string) {
		if len(n.senses) > 0 {
			words = append(words, path)
		}
		for w, c := range n.next {
			walk(c, strings.TrimSpace(path+" "+w))
		}
	}
	walk(vocabulary(), "")
	slices.Sort(words)
	return slices.Compact(words)
})

// near are the known words that differ least from a word, at most three, none
// that differ in more than a third of their letters.
func near(word string) []string {
	if len(word) < 3 || len(word) > 60 {
		return nil
	}
	limit := max(1, len(word)/3)
	var found [4][]string
	for _, w := range knownWords() {
		if d := distance(word, w, min(limit, 3)); d <= min(limit, 3) {
			found[d] = append(found[d], w)
		}
	}
	for _, words := range found {
		// What has lost letters is likelier than what has too many.
		slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) })
	}
	all := slices.Concat(found[:]...)
	return all[:min(3, len(all))]
}

// distance is how many letters must be changed to get from a to b; limit+1
// where that is more than limit.
func distance(a, b string, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit {
		return limit + 1
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal, least := row[0], i
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
			least = min(least, row[j])
		}
		if least > limit {
			return limit + 1
		}
	}
	return row[len(b)]
}

// foldedWords are the words of a text, folded.
func foldedWords(text string) []string {
	var words []string
	for _, t := range tokenise(text) {
		if t.kind == wordToken {
			words = append(words, t.text)
		}
	}
	return words
}

// firstWord is what stands before the first space.
func firstWord(s string) string {
	w, _, _ := strings.Cut(s, " ")
	return w
}
