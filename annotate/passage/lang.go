package passage

import (
	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// languageOf is the language of the score's registration, "" where nothing
// tells: that in which most of the texts are read that ask for something, or,
// where none does, most of the others.
func languageOf(score *musicxml.Score) string {
	votes := map[string]int{}
	const asking = 100 // a text that asks for stops says more than a tempo mark
	read := func(text string) {
		r := direction.Read(text, direction.Context{})
		if r.Lang == "" {
			return
		}
		if len(r.Statements) > 0 {
			votes[r.Lang] += asking
		} else {
			votes[r.Lang]++
		}
	}
	for _, c := range score.Credits {
		if !namesPeople(c.Types) {
			read(c.Text)
		}
	}
	for _, p := range score.Parts {
		read(p.Name)
		for _, g := range p.DirectionGroups() {
			if g.Text != "" {
				read(g.Text)
			}
		}
	}
	best := ""
	for _, lang := range []string{"en", "fr", "de", "nl", "it", "es"} {
		if votes[lang] > votes[best] {
			best = lang
		}
	}
	return best
}
