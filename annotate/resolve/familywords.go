package resolve

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed familywords.tsv
var familyWordsTSV string

var familyWords = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{}
	for line := range strings.Lines(familyWordsTSV) {
		if word, _, ok := strings.Cut(strings.TrimRight(line, "\n"), "\t"); ok && !strings.HasPrefix(word, "#") {
			words[word] = true
		}
	}
	return words
})
