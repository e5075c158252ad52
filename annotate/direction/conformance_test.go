package direction

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A row is one line of a conformance table.
type row struct{ file, id, lang, source, text, want string }

// conformance reads the tables of testdata/directions: id, language, source,
// text, normal form.
func conformance(t testing.TB) []row {
	t.Helper()
	files, err := filepath.Glob("testdata/directions/*.tsv")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conformance tables: %v", err)
	}
	var rows []row
	for _, f := range files {
		content, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		header := true
		for n, line := range strings.Split(strings.TrimSuffix(string(content), "\n"), "\n") {
			if strings.HasPrefix(line, "#") || line == "" {
				continue
			}
			if header {
				header = false
				continue
			}
			cells := strings.Split(line, "\t")
			if len(cells) != 5 {
				t.Fatalf("%s:%d: %d cells, not 5", f, n+1, len(cells))
			}
			text := strings.ReplaceAll(cells[3], `\n`, "\n")
			rows = append(rows, row{filepath.Base(f), cells[0], cells[1], cells[2], text, cells[4]})
		}
	}
	return rows
}

// TestConformance reads every row, without its language, and compares exactly.
func TestConformance(t *testing.T) {
	scores := map[string]*score{}
	for _, r := range conformance(t) {
		got := Read(r.text, Context{}).NormalForm()
		for _, key := range []string{r.lang, r.file, "all"} {
			if scores[key] == nil {
				scores[key] = &score{}
			}
			scores[key].count(r.want, got)
		}
		t.Run(r.file+"/"+r.id, func(t *testing.T) {
			if got != r.want {
				t.Errorf("%q\n got %s\nwant %s", r.text, got, r.want)
			}
		})
	}
	for _, key := range slices.SortedFunc(maps.Keys(scores), cmp.Compare[string]) {
		fmt.Printf("%-24s %s\n", key, scores[key])
	}
}

// TestConformanceWithLanguage gives the reader the language of each row.
func TestConformanceWithLanguage(t *testing.T) {
	for _, r := range conformance(t) {
		if got := Read(r.text, Context{Lang: r.lang}).NormalForm(); got != r.want {
			t.Errorf("%s %s: %q\n got %s\nwant %s", r.file, r.id, r.text, got, r.want)
		}
	}
}

// TestConformanceTables checks that what the tables want is in the normal form.
func TestConformanceTables(t *testing.T) {
	ids := map[string]bool{}
	for _, r := range conformance(t) {
		statements, err := ParseNormalForm(r.want)
		if err != nil {
			t.Errorf("%s: %v", r.id, err)
		} else if again := NormalForm(statements); again != r.want {
			t.Errorf("%s: %q is written %q", r.id, r.want, again)
		}
		if ids[r.id] {
			t.Errorf("the id %s stands twice", r.id)
		}
		ids[r.id] = true
		if r.source == "" {
			t.Errorf("%s names no source", r.id)
		}
	}
}

// A score is how well a table is read: rows that are exactly right, and the
// statements that were read against those that are wanted.
type score struct{ rows, exact, wanted, read, both int }

func (s *score) count(want, got string) {
	s.rows++
	if want == got {
		s.exact++
	}
	left := map[string]int{}
	for _, w := range statementsOf(want) {
		left[w]++
		s.wanted++
	}
	for _, g := range statementsOf(got) {
		s.read++
		if left[g] > 0 {
			left[g]--
			s.both++
		}
	}
}

func statementsOf(normal string) []string {
	if normal == Nothing {
		return nil
	}
	return strings.Split(normal, "; ")
}

func (s *score) String() string {
	f1 := 1.0
	if s.wanted+s.read > 0 {
		f1 = 2 * float64(s.both) / float64(s.wanted+s.read)
	}
	return fmt.Sprintf("%4d rows, %5.1f %% exact, F1 of the statements %.3f", s.rows, 100*float64(s.exact)/float64(s.rows), f1)
}
