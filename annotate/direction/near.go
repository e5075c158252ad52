package direction

import (
	"slices"
	"strings"
	"sync"

	"stopgap/registry/stopname"
)

// A knownWord is a phrase of the vocabulary, folded and as it is written.
type knownWord struct{ folded, spelling string }

// knownWords are all phrases of the vocabulary, in order.
var knownWords = sync.OnceValue(func() []knownWord {
	var words []knownWord
	var walk func(n *node, path string)
	walk = func(n *node, path string) {
		if len(n.senses) > 0 {
			words = append(words, knownWord{path, n.spelling})
		}
		for w, c := range n.next {
			walk(c, strings.TrimSpace(path+" "+w))
		}
	}
	walk(vocabulary(), "")
	slices.SortFunc(words, func(a, b knownWord) int { return strings.Compare(a.folded, b.folded) })
	return words
})

// Near are the known words and names of stops that differ least from words
// that were not read, at most three, none that differ in more than a third of
// their letters. Each call goes through the whole vocabulary.
func Near(text string) []string {
	word := strings.Join(foldedWords(text), " ")
	if len(word) < 3 || len(word) > 60 {
		return nil
	}
	limit := min(3, max(1, len(word)/3))
	var found [4][]string
	for _, w := range knownWords() {
		if d := distance(word, w.folded, limit); d <= limit {
			found[d] = append(found[d], w.spelling)
		}
	}
	for _, name := range stopname.Resolve(text, stopname.Place{}).Near() {
		if d := distance(word, strings.Join(foldedWords(name), " "), limit); d <= limit {
			found[d] = append(found[d], name)
		}
	}
	for _, words := range found {
		// What has lost letters is likelier than what has too many.
		slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) })
	}
	all := slices.Concat(found[:]...)
	return all[:min(3, len(all))]
}

// distance is how many letters must be put in, left out, changed or swapped
// with their neighbour to get from a to b; limit+1 where that is more than
// limit.
func distance(a, b string, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+b2i(a[i-1] != b[j-1]))
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit {
			return limit + 1
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
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
