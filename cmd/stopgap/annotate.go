package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"stopgap/annotate"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
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
	opts, err := c.options(&rf, &pf, &mf)
	if err != nil {
		return c.fail("stopgap annotate: %v", err)
	}
	opts.Resolve.OnlyPlayed = true
	if fs.NArg() == 0 {
		return c.fail("stopgap annotate: name a score to mark")
	}
	if *output != "" && (fs.NArg() > 1 || *outDir != "") {
		return c.fail("stopgap annotate: -o is for one score; --out-dir takes several")
	}
	organ, chosen, problems, err := c.openOrgan(pf.organ)
	if err != nil || len(problems) > 0 {
		return c.badOrgan(err, problems)
	}
	if opts.Resolve.WrittenFor, problems, err = pf.original(c); err != nil || len(problems) > 0 {
		return c.badOrgan(err, problems)
	}
	jobs := annotateJobs(fs.Args(), *output, *outDir)
	summary := forPeople(c.out)
	for _, j := range jobs {
		if j.to == "-" {
			summary = forPeople(c.err)
		}
	}
	if *quiet {
		summary = io.Discard
	}
	work := annotateWork{c, organ, opts, *outDir, *force, c.progress(*quiet)}
	sum := annotateSum{chosen: chosen}
	inOrder(len(jobs), func(i int) annotated {
		work.progress.at("%s", nowDoing(jobs, i))
		return work.do(jobs[i])
	}, func(i int, a annotated) {
		work.progress.aside(func() { sum.add(c, summary, a, len(jobs)) })
	})
	work.progress.done()
	if len(jobs) > 1 {
		fmt.Fprintln(summary, sum.text(len(jobs)))
	}
	return sum.status
}

// An annotateJob is one score and where its marked copy goes.
type annotateJob struct {
	name, to string
	err      error // why it can't be done at all
}

// annotateJobs says where each score goes. Two that would be written to one
// file are a mistake: the first is done. So is one that would be written over
// another of the scores.
func annotateJobs(names []string, output, outDir string) []annotateJob {
	var jobs []annotateJob
	taken := map[string]string{}
	given := map[string]bool{}
	for _, name := range names {
		given[filepath.Clean(name)] = true
	}
	for _, name := range names {
		j := annotateJob{name: name, to: output}
		switch {
		case output != "":
		case name == "-":
			j.to = "-"
		default:
			j.to = annotatedName(name, outDir)
		}
		if first, ok := taken[filepath.Clean(j.to)]; ok {
			j.err = fmt.Errorf("%s: it would be written to %s, as %s is already; give scores of one name folders of their own", name, j.to, first)
		} else {
			taken[filepath.Clean(j.to)] = name
		}
		if len(names) > 1 && j.to != "-" && given[filepath.Clean(j.to)] {
			j.err = fmt.Errorf("%s: it would be written to %s, which is one of the scores to mark", name, j.to)
		}
		jobs = append(jobs, j)
	}
	return jobs
}

func nowDoing(jobs []annotateJob, i int) string {
	if len(jobs) == 1 {
		return "Marking " + jobs[0].name
	}
	return fmt.Sprintf("Marking score %d of %d, %s", i+1, len(jobs), jobs[i].name)
}

// annotateWork is what marking a score needs. Several scores may be marked at
// once.
type annotateWork struct {
	c        *console
	organ    *registry.Organ
	opts     annotate.Options
	outDir   string
	force    bool
	progress *progress
}

// An annotated score is what came of a job: a result and what is to go to
// standard output, or an error.
type annotated struct {
	annotateJob
	organ  string
	result *annotate.Result
	data   []byte // for standard output
}

// do marks one score.
func (w annotateWork) do(j annotateJob) annotated {
	out := annotated{annotateJob: j, organ: w.organ.Name}
	if j.err != nil {
		return out
	}
	doc, err := w.c.readScore(j.name)
	if err != nil {
		out.err = err
		return out
	}
	var data []byte
	if wrong := guarded(func() { data, err = out.mark(doc, w) }); wrong != nil {
		err = wrong
	}
	if err != nil {
		out.err = about(j.name, err)
		return out
	}
	if j.to == "-" {
		out.data = data
		return out
	}
	if w.outDir != "" {
		if err := os.MkdirAll(w.outDir, 0o777); err != nil {
			out.err = fileError(err)
			return out
		}
	}
	out.err = w.c.writeScore(j.name, j.to, data, w.force)
	return out
}

// mark plans a score and writes the plan into it.
func (a *annotated) mark(doc *musicxml.Document, w annotateWork) (data []byte, err error) {
	if a.result, err = annotate.Plan(doc, w.organ, w.opts); err != nil {
		return nil, err
	}
	return a.result.Write(w.opts, w.organ.Name)
}

// annotateSum adds up what came of the scores.
type annotateSum struct {
	chosen                           string // how the organ was chosen, until it has been said
	status                           int
	marked, unmarked, notOrgan, fail int
}

// add tells of one score.
func (s *annotateSum) add(c *console, w io.Writer, a annotated, of int) {
	if a.err == nil && a.to == "-" {
		if _, err := c.out.Write(a.data); err != nil {
			a.err = outputError(err)
		}
	}
	if a.err != nil {
		s.status = c.fail("%v", a.err)
		s.fail++
		return
	}
	switch {
	case len(a.result.Plan.Asked.Layout.Staves) == 0:
		s.notOrgan++
	case len(a.result.Marks) == 0:
		s.unmarked++
	default:
		s.marked++
	}
	if s.chosen != "" {
		fmt.Fprintf(w, "Organ: %s (%s)\n", a.organ, s.chosen)
		s.chosen = ""
	}
	headline(w, a.name, a.to, a.result)
	if of == 1 {
		summarise(w, a.name, a.result)
	} else if n := len(a.result.Findings); n > 0 {
		fmt.Fprintf(w, "  %s to be looked at; stopgap check %s tells more\n", count(n, "thing", "things"), a.name)
	}
}

// text is the last line of the summary of several scores.
func (s *annotateSum) text(of int) string {
	var parts []string
	for _, part := range []struct {
		n    int
		what string
	}{{s.marked, "marked"}, {s.unmarked, "with nothing to mark"}, {s.notOrgan, "without an organ part"}, {s.fail, "not done"}} {
		if part.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", part.n, part.what))
		}
	}
	return fmt.Sprintf("%d scores: %s", of, strings.Join(parts, ", "))
}

// headline says in one line what came of a score.
func headline(w io.Writer, name, to string, r *annotate.Result) {
	if to == "-" {
		to = "standard output"
	}
	switch {
	case len(r.Plan.Asked.Layout.Staves) == 0:
		fmt.Fprintf(w, "%s: no organ part in it; written unchanged to %s\n", name, to)
	case len(r.Marks) == 0:
		fmt.Fprintf(w, "%s: nothing to mark; written unchanged to %s\n", name, to)
	default:
		fmt.Fprintf(w, "%s: %s written to %s\n", name, count(len(r.Marks), "mark", "marks"), to)
	}
}

// summarise tells what was marked and what is to be looked at.
func summarise(w io.Writer, name string, r *annotate.Result) {
	l := r.Plan.Asked.Layout
	for _, s := range l.Staves {
		fmt.Fprintf(w, "  %s %s: %s\n", s.ID(), lineWords[s.Line], join(s.Evidence))
	}
	if l.Shared != nil {
		fmt.Fprintf(w, "  %s also holds the pedal part, from Ped. to Man.\n", l.Shared.ID())
	}
	if r.Plan.Asked.Numbering.Used {
		flag := r.Plan.Numbering()
		if flag == (resolve.Options{}).NumberingOf(r.Plan.Asked) {
			flag = "" // it says no more than the score or custom
		}
		fmt.Fprintf(w, "  %s\n", numbersText(r.Plan.Asked, string(flag)))
	}
	for _, m := range r.Marks {
		p := m.Staff.Part.Place(m.Time)
		fmt.Fprintf(w, "  measure %s, beat %s: %s\n", p.Measure, p.Beat.Printed(), m.Text)
	}
	for _, f := range r.Findings {
		printFinding(w, "  ", name, f)
	}
}

// printFinding prints where, what and, one a line, what can be done about it.
func printFinding(w io.Writer, indent, name string, f annotate.Finding) {
	where := name
	if f.Position.Line > 0 {
		where = fmt.Sprintf("%s:%d:%d", name, f.Position.Line, f.Position.Column)
	}
	if f.Place.Measure != "" {
		where += fmt.Sprintf(": measure %s, beat %s", f.Place.Measure, f.Place.Beat.Printed())
	}
	fmt.Fprintf(w, "%s%s: %s [%s]\n", indent, where, f.Text, f.ID)
	for _, r := range f.Remedies {
		fmt.Fprintf(w, "%s  - %s\n", indent, r)
	}
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
