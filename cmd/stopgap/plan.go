package main

import (
	"bufio"
	"fmt"

	"github.com/spf13/pflag"

	"stopgap/annotate"
	"stopgap/annotate/sheet"
	"stopgap/registry"
)

func runPlan(c *console, args []string) int {
	fs := pflag.NewFlagSet("plan", pflag.ContinueOnError)
	var rf readFlags
	var pf resolveFlags
	format := fs.String("format", "text", "`text`, html, json or csv")
	pf.add(fs)
	rf.add(fs)
	if status, ok := c.parse(fs, args, "plan [flags] SCORE", "show how to play the score on the organ"); !ok {
		return status
	}
	if err := oneOf("format", *format, "text", "html", "json", "csv"); err != nil {
		return c.fail("stopgap plan: %v", err)
	}
	r, organ, chosen, status := c.plan("plan", fs, &rf, &pf)
	if r == nil {
		return status
	}
	out := bufio.NewWriter(c.out)
	var err error
	switch *format {
	case "json":
		err = sheet.JSON(out, r, fs.Arg(0))
	case "csv":
		err = sheet.CSV(out, r)
	case "html":
		err = sheet.HTML(out, r)
	default:
		if chosen != "" {
			fmt.Fprintf(out, "Organ: %s (%s)\n\n", organ.Name, chosen)
		}
		err = sheet.Text(out, r, c.width)
	}
	if err == nil {
		err = out.Flush()
	}
	return c.written(err)
}

// plan reads the one score of a command and plans it; the result is nil where
// that failed and the failure is printed.
func (c *console) plan(command string, fs *pflag.FlagSet, rf *readFlags, pf *resolveFlags) (*annotate.Result, *registry.Organ, string, int) {
	if fs.NArg() != 1 {
		return nil, nil, "", c.fail("stopgap %s: name one score", command)
	}
	opts, err := options(rf, pf, nil)
	if err != nil {
		return nil, nil, "", c.fail("stopgap %s: %v", command, err)
	}
	organ, chosen, problems, err := openOrgan(pf.organ)
	if err != nil || len(problems) > 0 {
		return nil, nil, "", c.badOrgan(err, problems)
	}
	doc, err := c.readScore(fs.Arg(0))
	if err != nil {
		return nil, nil, "", c.fail("%v", err)
	}
	r, err := annotate.Plan(doc, organ, opts)
	if err != nil {
		return nil, nil, "", c.fail("%s: %v", fs.Arg(0), err)
	}
	return r, organ, chosen, exitDone
}
