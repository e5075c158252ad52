package main

import (
	"bufio"
	"fmt"
	"io"

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
	reader := fs.String("for", "player", "who the sheet is for: `player`, registrant (who draws the stops) or student")
	figures := fs.Bool("figures", false, "say with figures how what is given differs in sound from what is asked")
	output := fs.StringP("output", "o", "-", "`FILE` to write, - for standard output")
	force := fs.Bool("force", false, "overwrite a file that is there")
	quiet := fs.BoolP("quiet", "q", false, "say nothing but the plan")
	pf.add(fs)
	rf.add(fs)
	if status, ok := c.parse(fs, args, "plan [flags] SCORE", "show how to play the score on the organ"); !ok {
		return status
	}
	for _, err := range []error{
		oneOf("format", *format, "text", "html", "json", "csv"),
		oneOf("for", *reader, string(sheet.Player), string(sheet.Registrant), string(sheet.Student)),
	} {
		if err != nil {
			return c.fail("stopgap plan: %v", err)
		}
	}
	r, organ, chosen, status := c.plan("plan", fs, &rf, &pf, *quiet)
	if r == nil {
		return status
	}
	opts := sheet.Options{For: sheet.Reader(*reader), Figures: *figures, Width: c.width}
	err := c.writeBy(fs.Arg(0), *output, *force, func(w io.Writer) error {
		out := bufio.NewWriter(w)
		var err error
		switch *format {
		case "json":
			err = sheet.JSON(out, r, fs.Arg(0))
		case "csv":
			err = sheet.CSV(out, r)
		case "html":
			err = sheet.HTML(out, r, opts)
		default:
			if chosen != "" && !*quiet {
				fmt.Fprintf(out, "Organ: %s (%s)\n\n", organ.Name, chosen)
			}
			opts.Bold = c.terminal && *output == "-"
			err = sheet.Text(forPeople(out), r, opts)
		}
		if err != nil {
			return err
		}
		return out.Flush()
	})
	if err != nil {
		return c.fail("%v", err)
	}
	return exitDone
}

// plan reads the one score of a command and plans it; the result is nil where
// that failed and the failure is printed.
func (c *console) plan(command string, fs *pflag.FlagSet, rf *readFlags, pf *resolveFlags, quiet bool) (*annotate.Result, *registry.Organ, string, int) {
	if fs.NArg() != 1 {
		return nil, nil, "", c.fail("stopgap %s: name one score", command)
	}
	opts, err := c.options(rf, pf, nil)
	if err != nil {
		return nil, nil, "", c.fail("stopgap %s: %v", command, err)
	}
	organ, chosen, problems, err := c.openOrgan(pf.organ)
	if err != nil || len(problems) > 0 {
		return nil, nil, "", c.badOrgan(err, problems)
	}
	original, problems, err := pf.original(c)
	if err != nil || len(problems) > 0 {
		return nil, nil, "", c.badOrgan(err, problems)
	}
	opts.Resolve.WrittenFor = original
	opts.Resolve.OnlyPlayed = command == "check"
	doc, err := c.readScore(fs.Arg(0))
	if err != nil {
		return nil, nil, "", c.fail("%v", err)
	}
	work := c.progress(quiet)
	work.at("Planning %s", fs.Arg(0))
	r, err := annotate.Plan(doc, organ, opts)
	work.done()
	if err != nil {
		return nil, nil, "", c.fail("%v", about(fs.Arg(0), err))
	}
	return r, organ, chosen, exitDone
}
