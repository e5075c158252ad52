package main

import (
	"bufio"
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
	if rf.lang != "" {
		if err := oneOf("lang", rf.lang, "en", "fr", "de", "nl", "it", "es"); err != nil {
			return c.fail("stopgap read: %v", err)
		}
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
		return c.fail("%v", about(fs.Arg(0), err))
	}
	switch {
	case *plain:
		err = readPlain(c.out, asked)
	case *format == "json":
		err = readJSON(c.out, fs.Arg(0), doc.Score().Title, asked)
	default:
		t := &readTable{out: bufio.NewWriter(forPeople(c.out)), width: c.width, numbering: rf.numbering}
		err = t.write(doc.Score().Title, asked)
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

// staffID is the staff that a text stands at, "" for a heading.
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

// readPlain writes one row for each printed text: measure, beat, staff, text
// and normal form, with tabs between them.
func readPlain(w io.Writer, asked *passage.Score) error {
	out := bufio.NewWriter(w)
	for _, t := range asked.Texts {
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%s\n", t.Place.Measure, t.Place.Beat.Decimal(), staffID(t), flat(t.Text), t.Reading.NormalForm())
	}
	return out.Flush()
}
