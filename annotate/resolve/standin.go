package resolve

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

//go:embed stands_in.tsv
var standsInTSV string

var standsIn = sync.OnceValue(func() map[[2]division.Role]int {
	ranks := map[[2]division.Role]int{}
	for line := range strings.Lines(standsInTSV) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 4 || strings.HasPrefix(f[0], "#") {
			continue
		}
		if n, err := strconv.Atoi(f[2]); err == nil {
			ranks[[2]division.Role{division.Role(f[0]), division.Role(f[1])}] = n
		}
	}
	return ranks
})

// lastRank stands for a division that the table does not name as a stand-in.
const lastRank = 8

func standInRank(asked, given division.Role) int {
	if asked == given {
		return 0
	}
	if n, ok := standsIn()[[2]division.Role{asked, given}]; ok {
		return n
	}
	return lastRank
}

// A Numbering says what the number of a manual means.
type Numbering string

// From the bottom keyboard up, as in England and America; or the main manual
// first, as in Germany and in Cavaillé-Coll's new organs in France.
const (
	FromBottom Numbering = "bottom-up"
	MainFirst  Numbering = "main-first"
)

// NumberingOf is the usual one for the language of a score.
func NumberingOf(lang string) Numbering {
	switch lang {
	case "de", "fr", "it", "nl", "es":
		return MainFirst
	}
	return FromBottom
}

// NumberingOf is what the player says, else what the score itself tells, else
// the usual one for its language.
func (o Options) NumberingOf(asked *passage.Score) Numbering {
	switch {
	case o.Numbering != "":
		return o.Numbering
	case asked.Numbering.Order != "":
		return Numbering(asked.Numbering.Order)
	}
	return NumberingOf(asked.Lang)
}

// numbered is the division that a numbered manual means on this organ, nil
// where it has not so many.
func (r *resolver) numbered(n int) *registry.Division {
	var manuals []*registry.Division
	for _, kb := range r.organ.Keyboards {
		if d := r.mainOf(kb); d != nil {
			manuals = append(manuals, d)
		}
	}
	if r.numbering == MainFirst {
		for i, d := range manuals {
			if d.Role == division.Great && i > 0 {
				rest := append([]*registry.Division{d}, manuals[:i]...)
				manuals = append(rest, manuals[i+1:]...)
				break
			}
		}
	}
	if n < 1 || n > len(manuals) {
		return nil
	}
	return manuals[n-1]
}

// mainOf is the first division that the keyboard plays.
func (r *resolver) mainOf(kb *registry.Keyboard) *registry.Division {
	for _, d := range r.organ.Divisions {
		if d.Keyboard == kb {
			return d
		}
	}
	return nil
}
