package main

import (
	"bytes"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestProgressOnlyOnATerminal: nothing is written where standard error is no
// terminal or the player wants it quiet, and on a terminal the line is gone
// when the work is done.
func TestProgressOnlyOnATerminal(t *testing.T) {
	for _, test := range []struct{ terminal, quiet, shows bool }{
		{true, false, true}, {true, true, false}, {false, false, false},
	} {
		var out bytes.Buffer
		c := &console{err: &out, errTerminal: test.terminal}
		p := c.progress(test.quiet)
		p.at("Planning %s", "a.musicxml")
		if p.w != nil {
			p.mu.Lock()
			p.show()
			p.mu.Unlock()
		}
		p.aside(func() { out.WriteString("said\n") })
		p.done()
		got := out.String()
		if shown := strings.Contains(got, "Planning a.musicxml"); shown != test.shows {
			t.Errorf("%+v: %q", test, got)
		}
		if test.shows && !strings.HasSuffix(got, "\r\x1b[Ksaid\n") {
			t.Errorf("the line stays: %q", got)
		}
	}
}

// TestInOrder: results come in the order of the work, whichever is done first,
// and as soon as those before are there.
func TestInOrder(t *testing.T) {
	var mu sync.Mutex
	seen := map[int]bool{}
	var taken []int
	inOrder(40, func(i int) int {
		time.Sleep(time.Duration(40-i) * 100 * time.Microsecond)
		mu.Lock()
		defer mu.Unlock()
		if seen[i] {
			t.Errorf("%d was done twice", i)
		}
		seen[i] = true
		return i * i
	}, func(i, square int) {
		if square != i*i {
			t.Errorf("%d came for %d", square, i)
		}
		taken = append(taken, i)
	})
	if len(taken) != 40 || !slices.IsSorted(taken) {
		t.Errorf("taken in the order %v", taken)
	}
	inOrder(0, func(int) int { return 0 }, func(int, int) { t.Error("there is nothing to take") })
}
