package resolve

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"stopgap/registry/stopname"
)

//go:embed nearness.tsv
var nearnessTSV string

var nearness = sync.OnceValue(func() map[[2]string]int {
	out := map[[2]string]int{}
	for line := range strings.Lines(nearnessTSV) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 4 || strings.HasPrefix(f[0], "#") {
			continue
		}
		if n, err := strconv.Atoi(f[2]); err == nil {
			out[[2]string{f[0], f[1]}] = n
		}
	}
	return out
})

const (
	// otherKind is how far two kinds of a family are where the table is silent.
	otherKind = 30
	// otherFamily is how far two families are where the table is silent.
	otherFamily = 180
)

// distance is how far a stop of one kind is from another that is asked for.
// ok is false where it cannot stand in at all.
func distance(asked, given string, af, gf stopname.Family) (points int, ok bool) {
	if asked == given && asked != "" {
		return 0, true
	}
	for _, key := range [][2]string{
		{asked, given}, {asked, "family:" + gf.String()},
		{"family:" + af.String(), given}, {"family:" + af.String(), "family:" + gf.String()},
	} {
		if n, ok := nearness()[key]; ok {
			return n, true
		}
	}
	switch {
	case af == gf:
		return otherKind, true
	case gf == stopname.Celeste || gf == stopname.Mixture || af == stopname.Mixture || gf == stopname.Reed:
		// A celeste or a mixture never stands for a stop alone, nor a reed for a flue.
		return 0, false
	}
	return otherFamily, true
}
