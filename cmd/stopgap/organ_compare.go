package main

import (
	"bufio"

	"github.com/spf13/pflag"

	"stopgap/registry"
	"stopgap/registry/stoplist"
)

func (c *console) organCompare(args []string) int {
	fs := pflag.NewFlagSet("organ compare", pflag.ContinueOnError)
	if status, ok := c.parse(fs, args, "organ compare A B", "show two organs, of the shelf or organ files, beside one another, and what either lacks"); !ok {
		return status
	}
	if fs.NArg() != 2 {
		return c.fail("stopgap organ compare: name two organs")
	}
	var organs [2]*registry.Organ
	for i, name := range fs.Args() {
		o, problems, err := c.namedOrgan(name)
		if err != nil || len(problems) > 0 {
			return c.badOrgan(err, problems)
		}
		organs[i] = o
	}
	out := bufio.NewWriter(c.out)
	if err := stoplist.SideBySide(out, organs[0], organs[1], c.width); err != nil {
		return c.written(err)
	}
	return c.written(out.Flush())
}
