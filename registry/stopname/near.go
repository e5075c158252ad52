package stopname

import (
	"sort"
	"strings"

	"stopgap/registry/internal/letters"
)

// Near are the names of the table that are nearest to an unknown one, none for
// one that is known. They are looked for when they are asked for: that takes
// longer than all the rest.
func (k Known) Near() []string {
	if k.How != Unknown {
		return nil
	}
	return vocabulary().near(Dissect(k.Name).Name, 3)
}

// near returns the names of the table that are least edits away from name, at
// most n, and none that has little in common with it.
func (t *table) near(name string, n int) []string {
	key := joinKeys(wordsOf(name))
	if len(key) < 3 || len(key) > maxName {
		return nil
	}
	limit := max(2, len(key)/3)
	type candidate struct {
		name     string
		distance int
	}
	var found []candidate
	seen := map[string]bool{}
	for i := range t.entries {
		e := &t.entries[i]
		if seen[e.name] {
			continue
		}
		seen[e.name] = true
		if d := letters.Distance(key, e.key, limit); d <= limit {
			found = append(found, candidate{e.name, d})
		}
	}
	sort.SliceStable(found, func(i, j int) bool {
		if found[i].distance != found[j].distance {
			return found[i].distance < found[j].distance
		}
		return commonPrefix(found[i].name, name) > commonPrefix(found[j].name, name)
	})
	var names []string
	for i := 0; i < len(found) && i < n; i++ {
		names = append(names, found[i].name)
	}
	return names
}

func commonPrefix(a, b string) int {
	a, b = strings.ToLower(a), strings.ToLower(b)
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
