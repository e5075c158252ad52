package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"stopgap/annotate"
	"stopgap/annotate/passage"
)

func runAnnotate(c *console, args []string) int {
	fs := pflag.NewFlagSet("annotate", pflag.ContinueOnError)
	var rf readFlags
	var pf resolveFlags
	var mf markFlags
	output := fs.StringP("output", "o", "", "`FILE` to write, - for standard output (default: NAME.annotated.EXT beside the score)")
	outDir := fs.String("out-dir", "", "`FOLDER` to write into")
	force := fs.Bool("force", false, "overwrite files that are there, the score itself too")
	quiet := fs.BoolP("quiet", "q", false, "print no summary")
	pf.add(fs)
	rf.add(fs)
	mf.add(fs)
	if status, ok := c.parse(fs, args, "annotate [flags] SCORE…", "write the score marked for the organ"); !ok {
		return status
	}
	opts, err := options(&rf, &pf, &mf)
	if err != nil {
		return c.fail("stopgap annotate: %v", err)
	}
	if fs.NArg() == 0 {
		return c.fail("stopgap annotate: name a score to mark")
	}
	if *output != "" && (fs.NArg() > 1 || *outDir != "") {
		return c.fail("stopgap annotate: -o is for one score; --out-dir takes several")
	}
	organ, chosen, problems, err := openOrgan(pf.organ)
	if err != nil || len(problems) > 0 {
		return c.badOrgan(err, problems)
	}
	summary := c.out
	if *output == "-" {
		summary = c.err
	}
	if *quiet {
		summary = io.Discard
	}
	status := exitDone
	for _, name := range fs.Args() {
		to := *output
		if to == "" {
			if name == "-" {
				to = "-"
				if !*quiet {
					summary = c.err
				}
			} else {
				to = annotatedName(name, *outDir)
			}
		}
		doc, err := c.readScore(name)
		if err != nil {
			status = c.fail("%v", err)
			continue
		}
		r, err := annotate.Plan(doc, organ, opts)
		if err != nil {
			status = c.fail("%s: %v", name, err)
			continue
		}
		data, err := r.Write(opts, organ.Name)
		if err != nil {
			status = c.fail("%s: %v", name, err)
			continue
		}
		if *outDir != "" {
			if err := os.MkdirAll(*outDir, 0o777); err != nil {
				return c.fail("%v", fileError(err))
			}
		}
		if err := c.writeScore(name, to, data, *force); err != nil {
			status = c.fail("%v", err)
			continue
		}
		if chosen != "" {
			fmt.Fprintf(summary, "Organ: %s (%s)\n", organ.Name, chosen)
			chosen = ""
		}
		summarise(summary, name, to, r)
	}
	return status
}

// summarise tells what was marked and what is to be looked at.
func summarise(w io.Writer, name, to string, r *annotate.Result) {
	if to == "-" {
		to = "standard output"
	}
	l := r.Plan.Asked.Layout
	switch {
	case len(l.Staves) == 0:
		fmt.Fprintf(w, "%s: no organ part in it; written unchanged to %s\n", name, to)
		return
	case len(r.Marks) == 0:
		fmt.Fprintf(w, "%s: nothing to mark; written unchanged to %s\n", name, to)
	default:
		fmt.Fprintf(w, "%s: %s written to %s\n", name, count(len(r.Marks), "mark", "marks"), to)
	}
	for _, s := range l.Staves {
		fmt.Fprintf(w, "  %s %s: %s\n", s.ID(), lineWords[s.Line], join(s.Evidence))
	}
	if l.Shared != nil {
		fmt.Fprintf(w, "  %s also holds the pedal part, from Ped. to Man.\n", l.Shared.ID())
	}
	for _, m := range r.Marks {
		p := m.Staff.Part.Place(m.Time)
		fmt.Fprintf(w, "  measure %s, beat %s: %s\n", p.Measure, p.Beat.Printed(), m.Text)
	}
	for _, f := range r.Findings {
		printFinding(w, name, f)
	}
}

func printFinding(w io.Writer, name string, f annotate.Finding) {
	where := name
	if f.Position.Line > 0 {
		where = fmt.Sprintf("%s:%d:%d", name, f.Position.Line, f.Position.Column)
	}
	fmt.Fprintf(w, "  %s: measure %s, beat %s: %s", where, f.Place.Measure, f.Place.Beat.Printed(), f.Text)
	for _, r := range f.Remedies {
		fmt.Fprintf(w, " %s", r)
	}
	fmt.Fprintf(w, " [%s]\n", f.ID)
}

// badOrgan reports a bad organ file, one line for each mistake.
func (c *console) badOrgan(err error, problems []string) int {
	if err != nil {
		return c.fail("%v", err)
	}
	for _, p := range problems {
		c.fail("%s", p)
	}
	return exitBad
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

var lineWords = map[passage.Line]string{
	passage.RH: "right hand", passage.LH: "left hand", passage.Both: "both hands", passage.Feet: "feet",
}

func join(parts []string) string { return strings.Join(parts, "; ") }
