package stopname

import (
	"sort"
	"strings"
)

// near returns the names of the table that are least edits away from name, at
// most n, and none that has little in common with it.
func (t *table) near(name string, n int) []string {
	key := joinKeys(wordsOf(name))
	if len(key) < 3 {
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
		if d := Distance(key, joinKeys(wordsOf(e.name)), limit); d <= limit {
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

// Distance is the number of letters to insert, delete, change or swap with
// their neighbour to turn a into b; limit+1 where it is more than limit.
func Distance(a, b string, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	before := make([]int, len(b)+1)
	last := make([]int, len(b)+1)
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
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
	return min(last[len(b)], limit+1)
}
