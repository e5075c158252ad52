package main

import (
	"bufio"
	"fmt"

	"github.com/spf13/pflag"
)

func runCheck(c *console, args []string) int {
	fs := pflag.NewFlagSet("check", pflag.ContinueOnError)
	var rf readFlags
	var pf resolveFlags
	quiet := fs.BoolP("quiet", "q", false, "print nothing; the exit status tells")
	pf.add(fs)
	rf.add(fs)
	if status, ok := c.parse(fs, args, "check [flags] SCORE", "show only what can't be played as asked"); !ok {
		return status
	}
	r, organ, chosen, status := c.plan("check", fs, &rf, &pf, *quiet)
	if r == nil {
		return status
	}
	out := bufio.NewWriter(forPeople(c.out))
	if chosen != "" && !*quiet {
		fmt.Fprintf(out, "Organ: %s (%s)\n", organ.Name, chosen)
	}
	n := 0
	for _, f := range r.Findings {
		if !f.Unplayed {
			continue
		}
		n++
		if !*quiet {
			printFinding(out, "", fs.Arg(0), f)
		}
	}
	if n == 0 && !*quiet {
		fmt.Fprintln(out, "Everything can be played as asked.")
	}
	if status := c.written(out.Flush()); status != exitDone {
		return status
	}
	if n > 0 {
		return exitUnplayed
	}
	return exitDone
}
