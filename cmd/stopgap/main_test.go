package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/rogpeppe/go-internal/testscript"
)

// asCommand makes the test program be the command, for tests that have to run
// it in a process of its own.
const asCommand = "STOPGAP_TEST_AS_COMMAND"

// asLibrary makes it read and write a score with the XML library and do
// nothing else: what the command is compared with.
const asLibrary = "STOPGAP_TEST_AS_LIBRARY"

// memoryTo names the file in which a process leaves how much memory it had at
// most. What the system says of a child counts in what its parent had before.
const memoryTo = "STOPGAP_TEST_MEMORY_TO"

// tellMemory leaves that, where Linux tells it.
func tellMemory() {
	status, err := os.ReadFile("/proc/self/status")
	if _, most, ok := strings.Cut(string(status), "VmHWM:"); ok && err == nil && os.Getenv(memoryTo) != "" {
		most, _, _ = strings.Cut(most, "kB")
		if err := os.WriteFile(os.Getenv(memoryTo), []byte(strings.TrimSpace(most)), 0o666); err != nil {
			panic(err)
		}
	}
}

// libraryMain reads the file of its first argument and writes it to the second.
func libraryMain() {
	doc := etree.NewDocument()
	if err := doc.ReadFromFile(os.Args[1]); err != nil {
		panic(err)
	}
	if err := doc.WriteToFile(os.Args[2]); err != nil {
		panic(err)
	}
}

func TestMain(m *testing.M) {
	switch {
	case os.Getenv(asLibrary) != "":
		libraryMain()
		tellMemory()
		return
	case os.Getenv(asCommand) != "":
		status := stopgap()
		tellMemory()
		os.Exit(status)
	}
	testscript.Main(m, map[string]func(){"stopgap": main})
}

// command is a stopgap command line, to be run in a process of its own.
func command(t testing.TB, args ...string) *exec.Cmd {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, args...)
	cmd.Env = append(os.Environ(), asCommand+"=1", "STOPGAP_ORGAN=", "COLUMNS=80")
	return cmd
}

// statusOf runs a command to its end and returns its exit status.
func statusOf(t testing.TB, cmd *exec.Cmd) int {
	t.Helper()
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode()
}

// TestScripts runs the command lines of testdata/script: exit statuses, what
// is printed where, and the files that are written or not written. $SCORES is
// the folder of the project's own scores.
func TestScripts(t *testing.T) {
	scores, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("SCORES", scores)
			env.Setenv("STOPGAP_ORGAN", "")
			env.Setenv("COLUMNS", "80")
			return nil
		},
	})
}
