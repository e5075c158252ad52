package mark

import (
	_ "embed"
	"strings"
	"sync"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

//go:embed words.tsv
var wordsTSV string

var words = sync.OnceValue(func() map[[2]string]string {
	out := map[[2]string]string{}
	for line := range strings.Lines(wordsTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && f[0][0] != '#' {
			out[[2]string{f[0], f[1]}] = f[2]
		}
	}
	return out
})

// word is a word of the marks in a language, in English where the language
// has none.
func word(key, lang string) string {
	if w, ok := words()[[2]string{key, lang}]; ok {
		return w
	}
	return words()[[2]string{key, "en"}]
}

// handWord is how a hand is called before what it does, "" for both and for
// the feet.
func handWord(line passage.Line, lang string) string {
	switch line {
	case passage.RH, passage.LH:
		return word(string(line), lang)
	}
	return ""
}

// Abbreviation is how a division of the organ is written in a mark: the
// usual abbreviation of its name in the name's own language, so that the
// player finds it at the console; the whole name where there is none.
func Abbreviation(d *registry.Division) string {
	if a := division.AbbreviationOf(d.Name, d.Role); a != "" {
		return a
	}
	for _, lang := range division.Languages(d.Name) {
		if role, ok := division.RoleOf(d.Name, lang); ok && role == d.Role {
			if a := division.Abbreviation(role, lang); a != "" {
				return a
			}
		}
	}
	return d.Name
}

// Coupler is a coupler as a mark writes it: "Sw. to Gt.".
func Coupler(c *registry.Coupler) string {
	if c.From == c.To {
		return c.Text
	}
	return couplerText(c.From, c.To, c.Octave)
}

func couplerText(from, to *registry.Division, octave int) string {
	text := Abbreviation(from) + " to " + Abbreviation(to)
	switch octave {
	case 1:
		text += " 4"
	case -1:
		text += " 16"
	}
	return text
}
