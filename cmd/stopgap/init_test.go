package main

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"testing"
)

// TestNothingIsParsedAtStart: the embedded tables are parsed when they are
// first needed, so that the command starts at once. What the packages allocate
// in their initialisation tells.
func TestNothingIsParsedAtStart(t *testing.T) {
	var out bytes.Buffer
	cmd := command(t, "--help")
	cmd.Env = append(cmd.Env, "GODEBUG=inittrace=1")
	cmd.Stderr = &out
	if status := statusOf(t, cmd); status != exitDone {
		t.Fatalf("status %d\n%s", status, out.String())
	}
	inits := regexp.MustCompile(`(?m)^init (stopgap/\S+) .* (\d+) bytes, (\d+) allocs$`).FindAllStringSubmatch(out.String(), -1)
	if len(inits) == 0 {
		missing(t, fmt.Sprintf("this Go does not tell what is done at the start:\n%.300s", out.String()))
	}
	for _, m := range inits {
		if m[1] == "stopgap/cmd/stopgap" {
			continue // where the tables of these tests are, too
		}
		const most = 100_000
		if n, _ := strconv.Atoi(m[2]); n > most {
			t.Errorf("%s allocates %d bytes at the start", m[1], n)
		}
	}
}

// BenchmarkStart is how long commands take that need next to nothing.
func BenchmarkStart(b *testing.B) {
	for _, args := range [][]string{{"--help"}, {"organ", "list"}, {"read", "--text", "Gt. Flute 8"}} {
		b.Run(args[0], func(b *testing.B) {
			for b.Loop() {
				if status := statusOf(b, command(b, args...)); status != exitDone {
					b.Fatal(status)
				}
			}
		})
	}
}
