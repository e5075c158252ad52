package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write what the commands print into README.md")

// TestReadme runs the commands that README.md shows and compares what it
// prints under them with what they print. A block that is checked follows the
// line <!-- checked -->; its first line is "$ stopgap …".
func TestReadme(t *testing.T) {
	t.Chdir("../..")
	t.Setenv("STOPGAP_ORGAN", "")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	const mark, open, end = "<!-- checked -->\n```\n$ stopgap ", "```\n", "\n```"
	var out strings.Builder
	rest := string(text)
	blocks := 0
	for {
		before, after, found := strings.Cut(rest, mark)
		out.WriteString(before)
		if !found {
			break
		}
		block, tail, ok := strings.Cut(after, end)
		if !ok {
			t.Fatalf("README.md: a checked block does not end: %.60s", after)
		}
		command, _, _ := strings.Cut(block, "\n")
		out.WriteString(mark + command + "\n" + runShown(t, command))
		rest, blocks = strings.TrimPrefix(tail, "\n"), blocks+1
		out.WriteString(open)
	}
	if blocks == 0 {
		t.Fatal("README.md shows no checked command")
	}
	if *update {
		if err := os.WriteFile("README.md", []byte(out.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(text), out.String()); diff != "" {
		t.Errorf("README.md shows something else than the commands print (go test ./cmd/stopgap -run Readme -update writes it):\n%s", diff)
	}
}

// runShown runs a command line as README.md shows it. Output files go to a
// folder that is thrown away, whatever folder the command line names.
func runShown(t *testing.T, line string) string {
	t.Helper()
	scratch := filepath.Join(os.TempDir(), "stopgap-readme")
	if err := os.MkdirAll(scratch, 0o777); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(scratch) })
	var out, errs bytes.Buffer
	c := &console{in: strings.NewReader(""), out: &out, err: &errs, width: 80}
	if status := run(c, words(strings.ReplaceAll(line, "out/", scratch+"/"))); status == exitBad {
		t.Fatalf("%s: status %d: %s", line, status, errs.String())
	}
	return strings.ReplaceAll(out.String()+errs.String(), scratch+"/", "out/")
}

// words splits a command line at spaces, quoted words kept whole.
func words(line string) []string {
	var out []string
	var word strings.Builder
	quoted, any := false, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted, any = !quoted, true
		case r == ' ' && !quoted:
			if any {
				out = append(out, word.String())
				word.Reset()
				any = false
			}
		default:
			word.WriteRune(r)
			any = true
		}
	}
	if any {
		out = append(out, word.String())
	}
	return out
}

// TestDependenciesAreListed holds the table of DEVELOPERS.md against go.mod.
func TestDependenciesAreListed(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	listed, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	direct := 0
	for line := range strings.Lines(string(mod)) {
		if f := strings.Fields(line); len(f) == 2 && strings.HasPrefix(line, "\t") {
			direct++
			if row := "| `" + f[0] + "` | " + f[1] + " |"; !strings.Contains(string(listed), row) {
				t.Errorf("DEVELOPERS.md lacks %s", row)
			}
		}
	}
	if rows := strings.Count(string(listed), "\n| `"); rows != direct {
		t.Errorf("DEVELOPERS.md lists %d modules, go.mod %d", rows, direct)
	}
}
