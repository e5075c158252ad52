package pitch

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed lengths.tsv
var lengthsTSV string

// A length is one row of lengths.tsv.
type length struct {
	feet   Feet
	degree int // 0 where compositions do not use it
	names  map[string][]string
	source string
}

var lengthRows = sync.OnceValue(func() []length {
	rows, err := readLengths(lengthsTSV)
	if err != nil {
		panic("pitch: lengths.tsv: " + err.Error()) // embedded, and tested
	}
	return rows
})

func readLengths(tsv string) ([]length, error) {
	var rows []length
	var header []string
	for i, line := range strings.Split(tsv, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		cells := strings.Split(line, "\t")
		if header == nil {
			header = cells
			continue
		}
		if len(cells) != len(header) {
			return nil, fmt.Errorf("line %d: %d cells where the header has %d", i+1, len(cells), len(header))
		}
		row := length{names: map[string][]string{}}
		for j, cell := range cells {
			var err error
			switch {
			case cell == "":
			case header[j] == "feet":
				row.feet, err = ParseFeet(cell)
			case header[j] == "degree":
				row.degree, err = strconv.Atoi(cell)
			case header[j] == "source":
				row.source = cell
			default:
				for _, name := range strings.Split(cell, ";") {
					row.names[header[j]] = append(row.names[header[j]], strings.TrimSpace(name))
				}
			}
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", i+1, err)
			}
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// Lengths are the lengths that ranks have, longest first.
func Lengths() []Feet {
	rows := lengthRows()
	all := make([]Feet, len(rows))
	for i, row := range rows {
		all[i] = row.feet
	}
	return all
}

// Names are what the trade calls the pitch of f in the language ("en", "fr",
// "de", "nl", "it", "es"), the usual name first; none where it has no name of
// its own there. Source is where the names are from.
func Names(f Feet, lang string) (names []string, source string) {
	for _, row := range lengthRows() {
		if row.feet == f {
			return row.names[lang], row.source
		}
	}
	return nil, ""
}

// Degree is the pitch that compositions of mixtures write as a step of the
// scale: 1 is 8′, 12 is 2⅔′, 15 is 2′, 19 is 1⅓′.
func Degree(n int) (Feet, bool) {
	for _, row := range lengthRows() {
		if n > 0 && row.degree == n {
			return row.feet, true
		}
	}
	return Feet{}, false
}

// DegreeOf is the step of the scale at which f stands, 0 where it has none.
func DegreeOf(f Feet) int {
	for _, row := range lengthRows() {
		if row.feet == f {
			return row.degree
		}
	}
	return 0
}

// Rounded is the pitch that old lists write as a rounded or a shortened
// length: a mutation at 3′, 6′, 12′ or 1½′ is one of 2⅔′, 5⅓′, 10⅔′, 1⅓′, and
// a unison rank of 24′, 12′ or 6′ is one of 32′, 16′, 8′ whose keyboard begins
// at F (common practice). Other lengths are themselves.
func Rounded(f Feet, mutation bool) Feet {
	if mutation {
		switch f {
		case Foot(12):
			return FeetOf(32, 3)
		case Foot(6):
			return FeetOf(16, 3)
		case Foot(3):
			return FeetOf(8, 3)
		case FeetOf(3, 2):
			return FeetOf(4, 3)
		}
		return f
	}
	switch f {
	case Foot(24):
		return Foot(32)
	case Foot(12):
		return Foot(16)
	case Foot(6):
		return Foot(8)
	case Foot(3):
		return Foot(4)
	}
	return f
}
