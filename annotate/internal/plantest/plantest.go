// Package plantest checks plans in tests: the promises that hold of every
// plan, whatever the score and the organ. It shares no code with the resolver
// and none with what computes which stops sound: what couplers bring and where
// a stop sounds is worked out here once more, from the organ alone.
//
// The promises:
//
//  1. Every stop, coupler and keyboard of a plan is on the organ. Every key
//     that is pressed is on its keyboard, or flagged.
//  2. Lines on one keyboard sound the same stops. What is drawn and what
//     couplers bring sounds from every keyboard that it reaches, and nothing
//     else does.
//  3. A solo's pitch is never given up for its colour while any playable
//     choice keeps it; where none does, that is a problem.
//  5. The same input gives the same plan.
//
// (The fourth is of the marks, and of marked files.)
package plantest

import (
	"fmt"
	"testing"

	"stopgap/annotate/resolve"
)

// Check fails the test for every promise that the plan breaks.
func Check(t testing.TB, plan *resolve.Plan) {
	t.Helper()
	for _, b := range Broken(plan) {
		t.Error(b)
	}
}

// Broken lists what the plan does not hold of what every plan promises, one
// sentence each with the number of the promise and the measure.
func Broken(plan *resolve.Plan) []string {
	c := &checker{plan: plan, organ: plan.Organ}
	if len(plan.Settings) != len(plan.Asked.Passages) {
		c.say(1, "the plan has %d settings for %d passages", len(plan.Settings), len(plan.Asked.Passages))
		return c.broken
	}
	if plan.Bound > plan.Cost {
		c.say(0, "the bound %d is above the cost %d", plan.Bound, plan.Cost)
	}
	for i, s := range plan.Settings {
		if s.Passage.Span != plan.Asked.Passages[i].Span {
			c.say(1, "setting %d is of another passage", i)
			continue
		}
		c.where = "measure " + s.Passage.From.Measure + ", "
		c.setting(s)
		for _, line := range s.Lines {
			c.keys(s, line)
		}
		c.soloPitches(s)
		for n, alt := range s.Alternatives {
			c.where = fmt.Sprintf("measure %s, alternative %d, ", s.Passage.From.Measure, n+1)
			c.setting(alt)
		}
	}
	return c.broken
}

type checker struct {
	plan   *resolve.Plan
	organ  organ
	where  string
	broken []string
}

func (c *checker) say(promise int, format string, args ...any) {
	c.broken = append(c.broken, fmt.Sprintf("promise %d: %s%s", promise, c.where, fmt.Sprintf(format, args...)))
}
