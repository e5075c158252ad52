package passage

import (
	_ "embed"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"stopgap/musicxml"
)

//go:embed partwords.tsv
var partWordsTSV string

// A kind is what a word of a part's name says about who plays it.
type kind string

const (
	organKind      kind = "organ"
	pedalKind      kind = "pedal"
	manualKind     kind = "manual"
	rightKind      kind = "right"
	leftKind       kind = "left"
	singerKind     kind = "singer"
	instrumentKind kind = "instrument"
	pianoKind      kind = "piano"
)

var partWords = sync.OnceValue(func() map[string]kind {
	words := map[string]kind{}
	for line := range strings.Lines(partWordsTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && f[0][0] != '#' {
			words[f[0]] = kind(f[1])
		}
	}
	return words
})

// kindsOf reads the names that the file gives a part: its name, abbreviation
// and instruments.
func kindsOf(p *musicxml.Part) map[kind]bool {
	kinds := map[kind]bool{}
	read := func(name string) {
		for _, w := range nameWords(name) {
			if k, ok := partWords()[w]; ok {
				kinds[k] = true
			}
		}
	}
	read(p.Name)
	if len(kinds) == 0 {
		read(p.Abbreviation)
	}
	if len(kinds) == 0 {
		for _, name := range p.Instruments {
			read(name)
		}
	}
	return kinds
}

// nameWords splits a name into bare lower-case words without accents or dots.
func nameWords(name string) []string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(name)) {
		switch {
		case unicode.Is(unicode.Mn, r) || r == '.':
		case r == 'œ':
			b.WriteString("oe")
		case unicode.IsLetter(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Fields(b.String())
}
