package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"stopgap/annotate"
	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
)

func runRead(c *console, args []string) int {
	fs := pflag.NewFlagSet("read", pflag.ContinueOnError)
	var rf readFlags
	text := fs.String("text", "", "read this direction instead of a score; - reads one per line of standard input")
	plain := fs.Bool("plain", false, "tab-separated columns: measure, beat, staff, text, normal form")
	format := fs.String("format", "text", "`text` or json")
	fs.StringVar(&rf.lang, "lang", "", "language of the directions: en, fr, de, nl, it or es (default: found from the texts)")
	rf.add(fs)
	if status, ok := c.parse(fs, args, "read [flags] SCORE", "show what the score asks for"); !ok {
		return status
	}
	if err := oneOf("format", *format, "text", "json"); err != nil {
		return c.fail("stopgap read: %v", err)
	}
	if fs.Changed("text") {
		return c.readTexts(*text, rf.lang)
	}
	if fs.NArg() != 1 {
		return c.fail("stopgap read: name one score, or give a direction with --text")
	}
	opts, err := c.options(&rf, nil, nil)
	if err != nil {
		return c.fail("stopgap read: %v", err)
	}
	doc, err := c.readScore(fs.Arg(0))
	if err != nil {
		return c.fail("%v", err)
	}
	if doc, err = annotate.Clean(doc); err != nil {
		return c.fail("%v", err)
	}
	asked, err := passage.Read(doc.Score(), opts.Read)
	if err != nil {
		return c.fail("%s: %v", fs.Arg(0), err)
	}
	switch {
	case *plain:
		err = readPlain(c.out, asked)
	case *format == "json":
		err = readJSON(c.out, asked)
	default:
		err = readTable(c.out, asked)
	}
	return c.written(err)
}

// readTexts prints the normal form of a direction, or of one per line of
// standard input; \n in a line stands for a line break.
func (c *console) readTexts(text, lang string) int {
	ctx := direction.Context{Lang: lang}
	out := bufio.NewWriter(c.out)
	one := func(s string) {
		fmt.Fprintln(out, direction.Read(strings.ReplaceAll(s, `\n`, "\n"), ctx).NormalForm())
	}
	if text != "-" {
		one(text)
		return c.written(out.Flush())
	}
	if err := c.eachLine(one); err != nil {
		out.Flush()
		return c.fail("%v", err)
	}
	return c.written(out.Flush())
}

func staffID(t *passage.Text) string {
	if t.Staff == nil {
		return ""
	}
	return t.Staff.ID()
}

// flat writes a text in one column: line breaks as \n, tabs as spaces.
func flat(s string) string {
	return strings.NewReplacer("\r\n", `\n`, "\n", `\n`, "\r", `\n`, "\t", " ").Replace(s)
}

func readPlain(w io.Writer, asked *passage.Score) error {
	out := bufio.NewWriter(w)
	for _, t := range asked.Texts {
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%s\n", t.Place.Measure, t.Place.Beat.Decimal(), staffID(t), flat(t.Text), t.Reading.NormalForm())
	}
	return out.Flush()
}

func readTable(w io.Writer, asked *passage.Score) error {
	out := bufio.NewWriter(w)
	if len(asked.Layout.Staves) == 0 {
		fmt.Fprintln(out, "There is no organ part in this score.")
		return out.Flush()
	}
	for _, s := range asked.Layout.Staves {
		fmt.Fprintf(out, "%s %s: %s\n", s.ID(), lineWords[s.Line], join(s.Evidence))
	}
	if asked.Layout.Shared != nil {
		fmt.Fprintf(out, "%s also holds the pedal part, from Ped. to Man.\n", asked.Layout.Shared.ID())
	}
	for _, p := range asked.Passages {
		if len(p.Texts) == 0 {
			continue
		}
		fmt.Fprintf(out, "\nMeasure %s, beat %s\n", p.From.Measure, p.From.Beat.Printed())
		for _, t := range p.Texts {
			where := staffID(t)
			if where == "" {
				where = string(t.Source)
			}
			fmt.Fprintf(out, "  %-8s %s\n  %8s = %s\n", where, strings.ReplaceAll(t.Text, "\n", " / "), "", t.Reading.NormalForm())
			for _, u := range t.Reading.Unread {
				fmt.Fprintf(out, "  %8s not understood: %q\n", "", u.Text)
			}
		}
		for _, line := range p.Lines {
			fmt.Fprintf(out, "  in force %-5s %s\n", line.Line, inForce(p, line))
		}
	}
	return out.Flush()
}

// inForce is what a line has at its place: the division and what is drawn on
// it and on what is coupled to it.
func inForce(p *passage.Passage, line *passage.Played) string {
	text := line.Division.String()
	if a := p.Asked(line.Division); a != nil && len(a.Voices) > 0 {
		text += ": " + voices(a)
	}
	for _, c := range p.Couplings {
		if c.To == line.Division {
			text += " + " + c.From.String()
			if a := p.Asked(c.From); a != nil && len(a.Voices) > 0 {
				text += " (" + voices(a) + ")"
			}
		}
	}
	return text
}

func voices(a *passage.Asked) string {
	var out []string
	for _, v := range a.Voices {
		out = append(out, v.String())
	}
	return strings.Join(out, ", ")
}

func readJSON(w io.Writer, asked *passage.Score) error {
	type row struct {
		Measure string   `json:"measure"`
		Beat    float64  `json:"beat"`
		Staff   string   `json:"staff"`
		Source  string   `json:"source"`
		Text    string   `json:"text"`
		Reading string   `json:"reading"`
		Unread  []string `json:"unread"`
	}
	rows := []row{}
	for _, t := range asked.Texts {
		r := row{t.Place.Measure, t.Place.Beat.Float64(), staffID(t), string(t.Source), t.Text, t.Reading.NormalForm(), []string{}}
		for _, u := range t.Reading.Unread {
			r.Unread = append(r.Unread, u.Text)
		}
		rows = append(rows, r)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(rows)
}
