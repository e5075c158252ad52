package resolve_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopgap/annotate/resolve"
)

// TestForgetfulSearch: what the search remembers saves time and changes
// nothing.
func TestForgetfulSearch(t *testing.T) {
	if testing.Short() {
		t.Skip("too long")
	}
	asked, organ := manyPassages(t, 24), largeOrgan(t)
	usual := planText(resolve.Resolve(asked, organ, resolve.Options{}))
	restore := resolve.ForgetAtOnce()
	forgetful := planText(resolve.Resolve(asked, organ, resolve.Options{}))
	restore()
	if diff := cmp.Diff(usual, forgetful); diff != "" {
		t.Errorf("with nothing kept the plan is another (-usual +forgetful):\n%s", diff)
	}
}

// planText is all that a plan gives, its alternatives among it.
func planText(plan *resolve.Plan) string {
	var b strings.Builder
	fmt.Fprintln(&b, plan.Cost, plan.Bound)
	for _, s := range plan.Settings {
		for _, s := range append([]*resolve.Setting{s}, s.Alternatives...) {
			fmt.Fprintln(&b, s.Passage.From.Measure, s.Cost, s.Why)
			for _, line := range s.Lines {
				fmt.Fprintln(&b, " ", line.By, line.Octave, line.PitchKept, line.Changed, line.Why)
				if line.Keyboard != nil {
					fmt.Fprintln(&b, "  from the", line.Keyboard.Name)
				}
				for _, x := range line.Sounds {
					fmt.Fprintln(&b, "    ", x.Stop.Division.Name, x.Stop.Text, x.Octave)
				}
			}
		}
	}
	return b.String()
}
