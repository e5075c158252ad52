package annotate_test

import (
	"path/filepath"
	"reflect"
	"testing"

	"stopgap/annotate"
	"stopgap/registry/shelf"
)

// TestOnlyPlayed holds that a score is marked alike, and the same is told of it,
// whether or not what only sheets tell is looked for.
func TestOnlyPlayed(t *testing.T) {
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range scores(t) {
		doc := open(t, file)
		opts := annotate.Options{Propose: true}
		whole, err := annotate.Plan(doc, organ, opts)
		if err != nil {
			t.Fatal(err)
		}
		opts.Resolve.OnlyPlayed = true
		played, err := annotate.Plan(doc, organ, opts)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(whole.Findings, played.Findings) {
			t.Errorf("%s: other findings: %v, not %v", filepath.Base(file), played.Findings, whole.Findings)
		}
		if a, b := whole.Plan, played.Plan; a.Cost != b.Cost || a.Bound != b.Bound || len(whole.Marks) != len(played.Marks) {
			t.Errorf("%s: other plans: cost %d and %d", filepath.Base(file), a.Cost, b.Cost)
		}
		for i, s := range played.Plan.Settings {
			if len(s.Alternatives) > 0 || len(s.Lines) > 0 && s.Lines[0].Heard != nil {
				t.Errorf("%s: passage %d has what only a sheet tells", filepath.Base(file), i+1)
			}
			for n, line := range s.Lines {
				if as := whole.Plan.Settings[i].Lines[n]; as.Why != line.Why {
					t.Errorf("%s: passage %d: %q, not %q", filepath.Base(file), i+1, line.Why, as.Why)
				}
			}
		}
	}
}
