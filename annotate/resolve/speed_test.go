package resolve_test

import (
	"flag"
	"fmt"
	"testing"
	"time"

	"stopgap/annotate/resolve"
)

var speed = flag.Bool("speed", false, "measure the tables of README.md")

// TestSpeed measures the second table of README.md: see the first, in
// cmd/stopgap.
func TestSpeed(t *testing.T) {
	if !*speed {
		t.Skip("-speed is not given")
	}
	organ := largeOrgan(t)
	fmt.Println("| passages | planning | for each | cost above what is proven |")
	fmt.Println("|--:|--:|--:|--:|")
	for _, n := range []int{50, 100, 200, 400} {
		asked := manyPassages(t, n)
		var best time.Duration
		var plan *resolve.Plan
		for range 3 {
			began := time.Now()
			plan = resolve.Resolve(asked, organ, resolve.Options{})
			if took := time.Since(began); best == 0 || took < best {
				best = took
			}
		}
		fmt.Printf("| %d | %.1f s | %.0f ms | %d of %d |\n", n, best.Seconds(), best.Seconds()*1000/float64(n), plan.Cost-plan.Bound, plan.Cost)
	}
}
