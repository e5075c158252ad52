package direction

import (
	"maps"
	"math/rand"
	"slices"
	"strings"
	"testing"
)

// TestNeighbours reads two directions for different divisions one after the
// other, on two lines and behind a semicolon: each has to say what it says
// alone. A few of them speak of one another by chance.
func TestNeighbours(t *testing.T) {
	const pairs, perThousand = 400, 3
	divisions := []string{"great", "swell", "choir", "positive", "pedal", "solo", "echo", "ober", "brust", "bombarde", "man1", "man2", "man3"}
	byLang := map[string][]row{}
	for _, r := range conformance(t) {
		if strings.HasPrefix(r.want, "set ") && !strings.ContainsAny(r.want+r.text, "?\n") && len(r.text) < 45 {
			byLang[r.lang] = append(byLang[r.lang], r)
		}
	}
	rng := rand.New(rand.NewSource(7))
	all := 0
	var wrong []string
	for _, lang := range slices.Sorted(maps.Keys(byLang)) {
		rows := byLang[lang]
		for range pairs {
			a, b := rows[rng.Intn(len(rows))], rows[rng.Intn(len(rows))]
			if slices.ContainsFunc(divisions, func(d string) bool { return strings.Contains(a.want, d) && strings.Contains(b.want, d) }) {
				continue
			}
			for _, between := range []string{"\n", "; "} {
				text := a.text + between + b.text
				all++
				if got := Read(text, Context{Lang: lang}).NormalForm(); got != a.want+"; "+b.want {
					wrong = append(wrong, text+"\n got "+got)
				}
			}
		}
	}
	if len(wrong)*1000 > all*perThousand {
		t.Errorf("%d of %d read otherwise than alone:\n%s", len(wrong), all, strings.Join(wrong, "\n"))
	}
	t.Logf("%d of %d read otherwise than alone", len(wrong), all)
}
