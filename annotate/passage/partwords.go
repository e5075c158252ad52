package passage

import (
	_ "embed"
	"strconv"
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
	neutralKind    kind = "neutral"
)

// kinds are what the words of a name say.
type kinds map[kind]bool

// A partWord is a row of partwords.tsv.
type partWord struct {
	kind kind
	lang string
}

var partWords = sync.OnceValue(func() map[string]partWord {
	words := map[string]partWord{}
	for line := range strings.Lines(partWordsTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && f[0][0] != '#' {
			words[f[0]] = partWord{kind(f[1]), f[2]}
		}
	}
	return words
})

// kindsOf reads a name.
func kindsOf(name string) kinds {
	k := kinds{}
	for _, w := range foldedWords(name) {
		if known, ok := partWords()[w]; ok && known.kind != neutralKind {
			k[known.kind] = true
		}
	}
	return k
}

// foldedWords splits a text into bare lower-case words without accents or dots.
func foldedWords(text string) []string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(text)) {
		switch {
		case unicode.Is(unicode.Mn, r) || r == '.':
		case r == 'œ':
			b.WriteString("oe")
		case r == 'ß':
			b.WriteString("ss")
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Fields(b.String())
}

// soundOf is what the sound says that the file has a part played with: the
// names and sounds of its instruments, and the MIDI programs. It is "" where
// they say nothing. Programs fill them in unasked, so a name counts for more.
func soundOf(p *musicxml.Part) kind {
	found := kind("")
	for _, text := range p.Instruments {
		k := soundKind(text)
		switch {
		case k == organKind:
			return organKind
		case found == "":
			found = k
		}
	}
	if !p.Elem.Exists() {
		return found
	}
	for m := range p.Elem.All("midi-instrument") {
		e := m.Child("midi-program")
		if !e.Exists() {
			continue
		}
		program, _ := strconv.Atoi(strings.TrimSpace(e.Text()))
		switch k := programKind(program); {
		case k == organKind:
			return organKind
		case found == "":
			found = k
		}
	}
	return found
}

// soundKind reads an <instrument-sound> of the MusicXML sound list, such as
// "keyboard.organ.pipe", or an instrument's name.
func soundKind(text string) kind {
	family, rest, isSound := strings.Cut(text, ".")
	if !isSound || strings.ContainsAny(text, " \t") {
		k := kindsOf(text)
		for _, one := range []kind{organKind, pianoKind, singerKind, instrumentKind} {
			if k[one] {
				return one
			}
		}
		return ""
	}
	switch family {
	case "keyboard":
		switch {
		case rest == "organ" || strings.HasPrefix(rest, "organ."):
			return organKind
		case strings.HasPrefix(rest, "piano"):
			return pianoKind
		}
		return instrumentKind
	case "voice":
		return singerKind
	case "synth", "effect":
		return ""
	}
	return instrumentKind
}

// programKind reads a MIDI program as MusicXML counts it, from 1: General MIDI
// has the pianos from 1 to 8, the organs from 17 to 21 and the choirs from 53
// to 55; what is above 24 is another instrument, but for the synthesizers.
func programKind(program int) kind {
	switch {
	case program >= 1 && program <= 8:
		return pianoKind
	case program >= 17 && program <= 21:
		return organKind
	case program >= 53 && program <= 55:
		return singerKind
	case program >= 25 && program <= 80:
		return instrumentKind
	}
	return ""
}
