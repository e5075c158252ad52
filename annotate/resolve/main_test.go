package resolve_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain makes the random cases the same on every run, so that a test tells
// of the change at hand and not of luck. To try others: -rapid.seed=N.
func TestMain(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.seed"); f != nil && f.Value.String() == f.DefValue {
		if err := flag.Set("rapid.seed", "7"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
