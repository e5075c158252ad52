package passage

import (
	"strings"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// How much a text says about the language of the score's registration.
const (
	votesAsking = 100 // one that asks for stops
	votesMarked = 50  // one that the file says the language of
	votesName   = 2   // the name of a part
	votesOther  = 1   // a tempo mark and the like
)

// languageOf is the language of the score's registration, "" where nothing
// tells: that in which most of the texts are read that ask for something, or,
// where none does, most of the others.
func languageOf(score *musicxml.Score) string {
	votes := map[string]int{}
	known := map[string]direction.Reading{}
	read := func(text string) {
		r, ok := known[text]
		if !ok {
			r = direction.Read(text, direction.Context{})
			known[text] = r
		}
		switch {
		case r.Lang == "":
		case len(r.Statements) > 0:
			votes[r.Lang] += votesAsking
		default:
			votes[r.Lang] += votesOther
		}
	}
	for i := range score.Credits {
		c := &score.Credits[i]
		if !namesPeople(c.Types) && !isTitle(score, c) {
			read(c.Text)
		}
		if kindsOf(c.Text)[organKind] {
			nameVotes(votes, c.Text)
		}
	}
	for _, text := range []string{score.WorkTitle, score.MovementTitle} {
		if kindsOf(text)[organKind] {
			nameVotes(votes, text) // "für Orgel"
		}
	}
	for _, p := range score.Parts {
		nameVotes(votes, p.Name)
		for _, d := range p.Directions {
			for _, piece := range d.Pieces {
				if lang, _, _ := strings.Cut(strings.ToLower(piece.Lang), "-"); lang != "" {
					votes[lang] += votesMarked
				}
			}
		}
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

// nameVotes lets the words of a name vote that belong to one language only.
// English names do not count: programs put them there unasked.
func nameVotes(votes map[string]int, name string) {
	for _, w := range foldedWords(name) {
		if known, ok := partWords()[w]; ok && known.lang != "" && known.lang != "en" && known.kind != singerKind && known.kind != instrumentKind {
			votes[known.lang] += votesName
		}
	}
}
