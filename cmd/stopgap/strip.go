package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"stopgap/annotate"
)

func runStrip(c *console, args []string) int {
	fs := pflag.NewFlagSet("strip", pflag.ContinueOnError)
	output := fs.StringP("output", "o", "", "`FILE` to write, - for standard output")
	force := fs.Bool("force", false, "overwrite a file that is there, the score itself too")
	quiet := fs.BoolP("quiet", "q", false, "print no summary")
	if status, ok := c.parse(fs, args, "strip SCORE -o FILE", "take the marks out again"); !ok {
		return status
	}
	if fs.NArg() != 1 || *output == "" {
		return c.fail("stopgap strip: name one score, and with -o where to write it")
	}
	name := fs.Arg(0)
	doc, err := c.readScore(name)
	if err != nil {
		return c.fail("%v", err)
	}
	data, n, err := annotate.Strip(doc)
	if err != nil {
		return c.fail("%v", about(name, err))
	}
	if err := c.writeScore(name, *output, data, *force); err != nil {
		return c.fail("%v", err)
	}
	summary := c.out
	if *output == "-" {
		summary = c.err
	}
	if *quiet {
		summary = io.Discard
	}
	fmt.Fprintf(summary, "%s: %s taken out\n", name, count(n, "mark", "marks"))
	return exitDone
}
