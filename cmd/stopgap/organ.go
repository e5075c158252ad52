package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"stopgap/registry/organfile"
	"stopgap/registry/shelf"
	"stopgap/registry/sound"
	"stopgap/registry/stoplist"
	"stopgap/registry/stopname"
)

func runOrgan(c *console, args []string) int {
	usageLine := "organ list | show NAME | check FILE | stop NAME | compare A B"
	if len(args) > 0 {
		switch args[0] {
		case "list":
			return c.organList(args[1:])
		case "show":
			return c.organShow(args[1:])
		case "check":
			return c.organCheck(args[1:])
		case "stop":
			return c.organStop(args[1:])
		case "compare":
			return c.organCompare(args[1:])
		}
		if !strings.HasPrefix(args[0], "-") {
			return c.fail("stopgap organ %s: there is no such command; there are list, show, check, stop, compare", args[0])
		}
	}
	fs := pflag.NewFlagSet("organ", pflag.ContinueOnError)
	if status, ok := c.parse(fs, args, usageLine, "look at organs and stop names"); !ok {
		return status
	}
	return c.fail("stopgap organ: say what to do: %s", usageLine)
}

func (c *console) organList(args []string) int {
	fs := pflag.NewFlagSet("organ list", pflag.ContinueOnError)
	if status, ok := c.parse(fs, args, "organ list", "list the organs on the shelf"); !ok {
		return status
	}
	if fs.NArg() > 0 {
		return c.fail("stopgap organ list: takes no names")
	}
	out := bufio.NewWriter(c.out)
	longest := 0
	for _, name := range shelf.Names() {
		longest = max(longest, len(name))
	}
	for _, name := range shelf.Names() {
		o, err := shelf.Outline(name)
		if err != nil {
			return c.fail("%v", err)
		}
		fmt.Fprintf(out, "%-*s  %s; %s, %s\n", longest, name, o.Name, count(o.Manuals, "manual", "manuals"), count(o.Stops, "stop", "stops"))
	}
	return c.written(out.Flush())
}

func (c *console) organShow(args []string) int {
	fs := pflag.NewFlagSet("organ show", pflag.ContinueOnError)
	format := fs.String("format", "text", "`text`, or yaml: a file to start one's own from")
	if status, ok := c.parse(fs, args, "organ show NAME", "show an organ of the shelf, or an organ file, as a stop list"); !ok {
		return status
	}
	if err := oneOf("format", *format, "text", "yaml"); err != nil {
		return c.fail("stopgap organ show: %v", err)
	}
	if fs.NArg() != 1 {
		return c.fail("stopgap organ show: name one organ")
	}
	o, _, problems, err := c.openOrgan(fs.Arg(0))
	if err != nil || len(problems) > 0 {
		return c.badOrgan(err, problems)
	}
	if *format == "yaml" {
		_, err = c.out.Write(organfile.Write(o))
	} else {
		err = stoplist.Write(c.out, o, c.width)
	}
	return c.written(err)
}

func (c *console) organCheck(args []string) int {
	fs := pflag.NewFlagSet("organ check", pflag.ContinueOnError)
	quiet := fs.BoolP("quiet", "q", false, "print only what is wrong")
	if status, ok := c.parse(fs, args, "organ check FILE", "check an organ file"); !ok {
		return status
	}
	if fs.NArg() != 1 {
		return c.fail("stopgap organ check: name one organ file")
	}
	name := fs.Arg(0)
	var text []byte
	var err error
	if shelf.Has(name) {
		text, err = shelf.File(name)
	} else {
		text, err = c.readFile(name, organfile.MaxSize)
	}
	if err != nil {
		return c.fail("%v", err)
	}
	name = called(name)
	o, findings := organfile.Read(name, text)
	for _, f := range findings {
		c.fail("%s", f.String())
	}
	if organfile.Failed(findings) {
		return exitBad
	}
	if !*quiet {
		t := o.Totals()
		fmt.Fprintf(c.out, "%s: %s, %s, %s; in order\n", name, o.Name, count(len(o.Keyboards), "manual", "manuals"), count(t.Stops, "stop", "stops"))
	}
	return exitDone
}

// stopJSON is what is known of a stop name, as JSON.
type stopJSON struct {
	Name      string `json:"name"`
	Family    string `json:"family"`
	Subfamily string `json:"subfamily"`
	Pitch     string `json:"pitch"`
	Mutation  bool   `json:"mutation"`
	Known     string `json:"known"`
	Source    string `json:"source"`
}

func stopOf(k stopname.Known) stopJSON {
	return stopJSON{
		Name: k.Name, Family: k.Family.String(), Subfamily: k.Subfamily, Pitch: pitchText(k),
		Mutation: k.Pitch.IsMutation() && k.Family != stopname.Mixture && k.Family != stopname.Cornet,
		Known:    string(k.How), Source: stopname.SourceText(k.Source),
	}
}

// pitchText is a known stop's pitch as the normal form writes it: * for a
// mixture of open pitch.
func pitchText(k stopname.Known) string {
	if k.Pitch.IsZero() && k.How != stopname.Unknown {
		return "*"
	}
	return k.Pitch.String()
}

func (c *console) organStop(args []string) int {
	fs := pflag.NewFlagSet("organ stop", pflag.ContinueOnError)
	format := fs.String("format", "text", "`text`, json, or svg: a plot of its partials and bands")
	pedal := fs.Bool("pedal", false, "the stop stands on the pedal")
	lang := fs.String("lang", "", "language of the knob: en, fr, de, nl, it or es")
	if status, ok := c.parse(fs, args, "organ stop NAME", "show what is known of a stop name; - reads one per line"); !ok {
		return status
	}
	if err := oneOf("format", *format, "text", "json", "svg"); err != nil {
		return c.fail("stopgap organ stop: %v", err)
	}
	if fs.NArg() == 0 {
		return c.fail("stopgap organ stop: give a stop name")
	}
	at := stopname.Place{Pedal: *pedal, Lang: *lang}
	name := strings.Join(fs.Args(), " ")
	out := bufio.NewWriter(c.out)
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if name != "-" {
		k := stopname.Resolve(name, at)
		if *format == "svg" {
			if k.How == stopname.Unknown {
				return c.fail("stopgap organ stop: %s is not a known stop name, so its sound is not known", name)
			}
			if err := sound.Plot(out, name, sound.Of(k, sound.Options{})); err != nil {
				return c.written(err)
			}
		} else if *format == "json" {
			if err := enc.Encode(stopOf(k)); err != nil {
				return c.written(err)
			}
		} else {
			stopText(out, k)
			if k.How != stopname.Unknown {
				fmt.Fprintln(out)
				if err := sound.Of(k, sound.Options{}).Figures().WriteText(out); err != nil {
					return c.written(err)
				}
			}
		}
		return c.written(out.Flush())
	}
	if *format == "svg" {
		return c.fail("stopgap organ stop: --format svg draws one stop; name it")
	}
	all := []stopJSON{}
	err := c.eachLine(func(line string) {
		k := stopname.Resolve(line, at)
		if *format == "text" {
			stopText(out, k)
		} else {
			all = append(all, stopOf(k))
		}
	})
	if err != nil {
		out.Flush()
		return c.fail("%v", err)
	}
	if *format == "json" {
		if err := enc.Encode(all); err != nil {
			return c.written(err)
		}
	}
	return c.written(out.Flush())
}

// stopText tells what is known of a name in a few lines.
func stopText(w io.Writer, k stopname.Known) {
	if k.How == stopname.Unknown {
		fmt.Fprintf(w, "%s: not known", k.Name)
		if near := k.Near(); len(near) > 0 {
			fmt.Fprintf(w, "; nearest: %s", strings.Join(near, ", "))
		}
		fmt.Fprintln(w)
		return
	}
	fmt.Fprintf(w, "%s: %s, %s", k.Name, k.Family, k.Subfamily)
	if !k.Pitch.IsZero() {
		fmt.Fprintf(w, ", %s′", k.Pitch)
	}
	fmt.Fprintln(w)
	if k.Entry != "" && k.Entry != k.Name {
		fmt.Fprintf(w, "  taken for %s\n", k.Entry)
	}
	if k.Reason != "" {
		fmt.Fprintf(w, "  %s\n", k.Reason)
	}
	if k.Beats != "" {
		fmt.Fprintf(w, "  tuned %s of its partner\n", k.Beats)
	}
	fmt.Fprintf(w, "  source: %s\n", stopname.SourceText(k.Source))
}
