// Command stopgap marks an organ score for the organ at hand. See README.md.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"runtime"
	"strings"

	"github.com/spf13/pflag"
)

// Exit statuses.
const (
	exitDone     = 0
	exitUnplayed = 1 // check: something can't be played as asked
	exitBad      = 2 // bad usage or bad input; nothing is written
)

// console is where a command reads and writes.
type console struct {
	in       io.Reader
	out, err io.Writer
	width    int // columns of the terminal

	terminal, errTerminal bool // out is a terminal; err is
}

// A subcommand is what the first word of a command line names.
type subcommand struct {
	name, args, does string
	run              func(c *console, args []string) int
}

func commands() []subcommand {
	return []subcommand{
		{"annotate", "SCORE…", "write the score marked for the organ", runAnnotate},
		{"read", "SCORE", "show what the score asks for", runRead},
		{"plan", "SCORE", "show how to play it on the organ", runPlan},
		{"check", "SCORE", "show only what can't be played as asked", runCheck},
		{"strip", "SCORE", "take the marks out again", runStrip},
		{"organ", "list | show NAME | check FILE | stop NAME | compare A B", "look at organs and stop names", runOrgan},
	}
}

func main() { os.Exit(stopgap()) }

// stopgap is the whole command: it returns the exit status.
func stopgap() int {
	keepBrokenPipes()
	out := &output{to: os.Stdout}
	c := &console{in: os.Stdin, out: out, err: &output{to: os.Stderr}, width: terminalWidth(os.Stdout)}
	c.terminal, c.errTerminal = isTerminal(os.Stdout), isTerminal(os.Stderr)
	status := exitBad
	if err := guarded(func() { status = run(c, os.Args[1:]) }); err != nil {
		c.fail("stopgap: %v", err)
	}
	if err := out.failed(); err != nil && status != exitBad {
		status = c.written(err)
	}
	return status
}

// guarded does some work. What goes wrong in it that was not foreseen is an
// error like others, in one line, with the place in the program.
func guarded(work func()) (err error) {
	defer func() {
		if wrong := recover(); wrong != nil {
			err = fmt.Errorf("the program has met something that it was not made for; nothing more is written; please report this, with the file: %v (%s)", wrong, whereItFailed())
		}
	}()
	work()
	return nil
}

// whereItFailed is the innermost place in this program that a panic came from.
func whereItFailed() string {
	var calls [64]uintptr
	frames := runtime.CallersFrames(calls[:runtime.Callers(0, calls[:])])
	failed := false
	for {
		frame, more := frames.Next()
		failed = failed || frame.Function == "runtime.gopanic"
		if failed && strings.HasPrefix(frame.Function, "stopgap/") || !more {
			return fmt.Sprintf("%s:%d", path.Base(frame.File), frame.Line)
		}
	}
}

// run carries out one command line and returns the exit status.
func run(c *console, args []string) int {
	if len(args) == 0 {
		usage(c.err)
		return exitBad
	}
	switch args[0] {
	case "help", "--help", "-h":
		if len(args) > 1 {
			return run(c, []string{args[1], "--help"})
		}
		usage(c.out)
		return exitDone
	}
	for _, cmd := range commands() {
		if cmd.name == args[0] {
			return cmd.run(c, args[1:])
		}
	}
	var names []string
	for _, cmd := range commands() {
		names = append(names, cmd.name)
	}
	return c.fail("stopgap %s: there is no such command; there are %s", args[0], strings.Join(names, ", "))
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "stopgap works out how to play an organ score on the organ at hand, and marks it in the score.")
	fmt.Fprintln(w)
	fmt.Fprintln(w, "Usage: stopgap COMMAND [flags] FILE…")
	fmt.Fprintln(w)
	for _, cmd := range commands() {
		fmt.Fprintf(w, "  %-9s %s\n", cmd.name, cmd.does)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "stopgap COMMAND --help tells more of each. A file - is standard input or output.")
}

// fail prints one line and returns the status for bad usage or input.
func (c *console) fail(format string, args ...any) int {
	fmt.Fprintln(c.err, seen(strings.ReplaceAll(fmt.Sprintf(format, args...), "\n", " ")))
	return exitBad
}

// parse reads a command's flags. ok is false when the command is over: help
// was asked for or the flags are bad, and status says which.
func (c *console) parse(fs *pflag.FlagSet, args []string, usageLine, does string) (status int, ok bool) {
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	fs.Usage = func() {}
	err := fs.Parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		fmt.Fprintf(c.out, "%s.\n\nUsage: stopgap %s\n", strings.ToUpper(does[:1])+does[1:], usageLine)
		if flags := fs.FlagUsages(); flags != "" {
			fmt.Fprintf(c.out, "\n%s", flags)
		}
		return exitDone, false
	}
	if err != nil {
		return c.fail("stopgap %s: %v (stopgap %s --help lists the flags)", fs.Name(), err, fs.Name()), false
	}
	return exitDone, true
}
