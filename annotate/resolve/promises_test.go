package resolve_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/shelf"
)

// brokenBy lists the promises that a plan breaks, that of being the same a
// second time among them.
func brokenBy(plan *resolve.Plan, asked *passage.Score, organ *registry.Organ, opts resolve.Options) []string {
	broken := plantest.Broken(plan)
	again := resolve.Resolve(asked, organ, opts)
	if a, b := plantest.Dump(plan), plantest.Dump(again); a != b {
		broken = append(broken, "promise 5: a second run gives another plan:\n"+a+"and\n"+b)
	}
	return broken
}

// TestPromises plans each of the project's scores for each organ of the shelf.
func TestPromises(t *testing.T) {
	scores := projectScores(t)
	organs := map[string]*registry.Organ{}
	for _, name := range shelf.Names() {
		organs[name] = shelfOrgan(t, name)
	}
	if len(scores) < 50 || len(organs) < 10 {
		t.Fatalf("%d scores and %d organs", len(scores), len(organs))
	}
	for file, asked := range scores {
		for name, organ := range organs {
			plan := resolve.Resolve(asked, organ, resolve.Options{})
			if broken := brokenBy(plan, asked, organ, resolve.Options{}); len(broken) > 0 {
				t.Errorf("%s on %s:\n%s", file, name, strings.Join(broken, "\n"))
			}
		}
	}
}

// projectScores reads the scores of the project's testdata.
func projectScores(t testing.TB) map[string]*passage.Score {
	t.Helper()
	scores := map[string]*passage.Score{}
	for _, pattern := range []string{"../../testdata/*.musicxml", "../../testdata/*/*.musicxml", "../../testdata/*/*.mxl"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			content, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			doc, err := musicxml.Read(file, content)
			if err != nil {
				t.Fatal(err)
			}
			asked, err := passage.Read(doc.Score(), passage.Options{})
			if err != nil {
				t.Fatal(err)
			}
			scores[filepath.Base(file)] = asked
		}
	}
	return scores
}
