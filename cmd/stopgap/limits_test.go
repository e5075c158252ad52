package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stopgap/musicxml"
)

// endless is a reader that never ends.
type endless struct{}

func (endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = 'x'
	}
	return len(b), nil
}

// TestTooLarge gives commands files that are larger than what is read. They
// are refused before they are read, whatever the system says of their size.
func TestTooLarge(t *testing.T) {
	large := func(name string, size int64) string {
		file := filepath.Join(t.TempDir(), name)
		write(t, file, nil)
		if err := os.Truncate(file, size); err != nil {
			t.Fatal(err)
		}
		return file
	}
	score := large("score.musicxml", musicxml.MaxFileBytes+1)
	organ := large("organ.yaml", 100_000_000)
	pins := large("pins.txt", maxPinBytes+1)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"annotate", "-o", "-", score}, score + ": the file is larger than 256 MiB, the most that is read\n"},
		{[]string{"read", score}, score + ": the file is larger than 256 MiB, the most that is read\n"},
		{[]string{"organ", "check", organ}, organ + ": the file is larger than 1 MiB, the most that is read\n"},
		{[]string{"organ", "check", "-"}, "standard input: the file is larger than 1 MiB, the most that is read\n"},
		{[]string{"plan", "--organ", organ, "../../testdata/chorale-prelude.musicxml"}, organ + ": the file is larger than 1 MiB, the most that is read\n"},
		{[]string{"plan", "--pin", "@" + pins, "../../testdata/chorale-prelude.musicxml"}, pins + ": the file is larger than 1 MiB, the most that is read\n"},
		{[]string{"plan", "--pin", "@-", "../../testdata/chorale-prelude.musicxml"}, "standard input: the file is larger than 1 MiB, the most that is read\n"},
		{[]string{"read", "--text", "-"}, "standard input: a line is longer than 4 MiB, the most that is read\n"},
		{[]string{"organ", "stop", "-"}, "standard input: a line is longer than 4 MiB, the most that is read\n"},
	} {
		var out, stderr bytes.Buffer
		status := run(&console{in: endless{}, out: &out, err: &stderr, width: 80}, c.args)
		if status != exitBad || !strings.HasSuffix(stderr.String(), c.says) || strings.Count(stderr.String(), "\n") != 1 || out.Len() > 0 {
			t.Errorf("%v: status %d, %q, %q; want %q", c.args, status, stderr.String(), out.String(), c.says)
		}
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		fmt.Sprintf("| command line | a file of pins | %d MiB |\n", maxPinBytes>>20),
		fmt.Sprintf("| command line | a line of standard input (`read --text -`, `organ stop -`) | %d MiB |\n", maxLineBytes>>20),
	} {
		if !strings.Contains(string(readme), row) {
			t.Errorf("README.md lacks %s", row)
		}
	}
}

// TestLongDirection reads a direction of 1 MiB, on the command line's standard
// input and in a score.
func TestLongDirection(t *testing.T) {
	long := strings.Repeat("Gt. Flute 8, ", 1<<20/13)
	var out, stderr bytes.Buffer
	if status := run(&console{in: strings.NewReader(long + "\n"), out: &out, err: &stderr}, []string{"read", "--text", "-"}); status != exitDone || !strings.HasPrefix(out.String(), "set great: flute 8 (Flute)") {
		t.Errorf("status %d, %q, %.80q", status, stderr.String(), out.String())
	}
	score := strings.Replace(string(longScore{measures: 4, every: 1}.text()), asksFor[0].text, long, 1)
	file := filepath.Join(t.TempDir(), "long.musicxml")
	write(t, file, []byte(score))
	for _, args := range [][]string{{"annotate", "-o", "-"}, {"read", "--plain"}} {
		out.Reset()
		stderr.Reset()
		if status := run(&console{out: &out, err: &stderr, width: 80}, append(args, file)); status == exitBad || out.Len() == 0 {
			t.Errorf("%v: status %d, %q", args, status, stderr.String())
		}
	}
}

// TestGuarded: what was not foreseen is one line, with its place.
func TestGuarded(t *testing.T) {
	err := guarded(func() { var none []int; _ = none[len(os.Args)] })
	if err == nil || !strings.Contains(err.Error(), "limits_test.go:") || strings.Contains(err.Error(), "\n") {
		t.Errorf("got %v", err)
	}
}
