package passage

import (
	_ "embed"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
)

// How much a text says about the language of the score's registration.
const (
	votesAsking = 100 // one that asks for stops, in words of one language only
	votesMarked = 50  // one that the file says the language of
	votesTitle  = 6   // a small word of the title, shared among the languages that have it
	votesName   = 6   // the name of a part, or what the title calls the organ
	votesOther  = 1   // a tempo mark and the like
)

var languages = []string{"en", "fr", "de", "nl", "it", "es"}

// languageOf is the language of the score's registration, "" where nothing
// tells: that in which most of the texts are read that ask for something, or,
// where none does or they could be of several, that of the title, of the parts'
// names and of the other texts.
func languageOf(score *musicxml.Score) string {
	v := &votes{count: map[string]int{}, seen: map[string]bool{}}
	for i := range score.Credits {
		c := &score.Credits[i]
		if !namesPeople(c.Types) && !isTitle(score, c) {
			v.read(c.Text)
		}
		v.organ(c.Text)
	}
	for _, title := range []string{score.WorkTitle, score.MovementTitle} {
		v.title(title)
		v.organ(title)
	}
	if score.WorkTitle == "" && score.MovementTitle == "" {
		v.title(score.Title)
	}
	for _, p := range score.Parts {
		v.name(p.Name)
		for _, d := range p.Directions {
			for _, piece := range d.Pieces {
				if lang, _, _ := strings.Cut(strings.ToLower(piece.Lang), "-"); lang != "" {
					v.count[lang] += votesMarked
				}
			}
		}
		for _, g := range p.DirectionGroups() {
			if g.Text != "" {
				v.read(g.Text)
			}
		}
	}
	return v.winner()
}

// votes are cast for languages.
type votes struct {
	count  map[string]int
	seen   map[string]bool
	probed int
}

// most texts are read in one language only, but "Ped." is of all; so many are
// looked at closely enough to tell.
const maxProbed = 300

// maxVote is how many bytes of a text are read to tell its language.
const maxVote = 2000

// read lets a text vote, each once: in full where it is of one language.
func (v *votes) read(text string) {
	if v.seen[text] {
		return
	}
	v.seen[text] = true
	if len(text) > maxVote {
		text = text[:maxVote]
	}
	r := direction.Read(text, direction.Context{})
	if r.Lang == "" {
		return
	}
	if len(r.Statements) == 0 {
		v.count[r.Lang] += votesOther
		return
	}
	if v.probed++; v.probed > maxProbed {
		v.count[r.Lang] += votesAsking
		return
	}
	var could []string
	for _, lang := range languages {
		if direction.Read(text, direction.Context{Lang: lang}).Lang == lang {
			could = append(could, lang)
		}
	}
	if len(could) == 1 && could[0] == r.Lang {
		v.count[r.Lang] += votesAsking
		return
	}
	for _, lang := range could {
		v.count[lang] += votesOther
	}
}

// name lets the words of a part's name vote that belong to one language.
// English ones do not count: programs put them there unasked.
func (v *votes) name(name string) {
	for _, w := range foldedWords(name) {
		if known, ok := partWords()[w]; ok && known.lang != "en" && known.kind != singerKind && known.kind != instrumentKind {
			v.count[known.lang] += votesName
		}
	}
}

// organ lets what a title calls the organ vote: "für Orgel".
func (v *votes) organ(text string) {
	for _, w := range foldedWords(text) {
		if known, ok := partWords()[w]; ok && known.kind == organKind {
			v.count[known.lang] += votesName
		}
	}
}

//go:embed titlewords.tsv
var titleWordsTSV string

var titleWords = sync.OnceValue(func() map[string][]string {
	words := map[string][]string{}
	for line := range strings.Lines(titleWordsTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 3 && f[0][0] != '#' {
			words[f[0]] = append(words[f[0]], f[1])
		}
	}
	return words
})

func (v *votes) title(title string) {
	for _, w := range foldedWords(title) {
		langs := titleWords()[w]
		for _, lang := range langs {
			v.count[lang] += votesTitle / len(langs)
		}
	}
}

// winner is the language with most votes, "" where two have as many.
func (v *votes) winner() string {
	best, tied := "", false
	for _, lang := range languages {
		switch {
		case v.count[lang] == 0:
		case best == "" || v.count[lang] > v.count[best]:
			best, tied = lang, false
		case v.count[lang] == v.count[best]:
			tied = true
		}
	}
	if tied {
		return ""
	}
	return best
}
