package direction

import (
	"embed"
	"fmt"
	"strings"
	"sync"
)

//go:embed vocabulary/*.tsv
var vocabularyFiles embed.FS

// A class is what a word does in a direction.
type class string

// The classes of the vocabulary's third column.
const (
	classDivision       class = "division"
	classHand           class = "hand"
	classGroup          class = "group"  // several stops at once, always taken whole: tutti, plenum
	classFamily         class = "family" // a family word that takes pitches: "Fl. 8, 4"
	classFull           class = "full"   // full, with a division
	classStops          class = "stops"  // the bare word for stops
	classAdd            class = "add"
	classOff            class = "off"
	classSet            class = "set"
	classOn             class = "on"
	classIn             class = "in" // "Oboe in", "im Pedal"
	classWith           class = "with"
	classWithout        class = "without"
	classExcept         class = "except"
	classReduce         class = "reduce"
	classPrepare        class = "prepare"  // what stands on its own: "Prepare Sw. Oboe"
	classPrepared       class = "prepared" // after its stops: "Anches préparées"
	classLater          class = "later"
	classRecall         class = "recall" // back to an earlier registration
	classTo             class = "to"
	classAt             class = "at"
	classOf             class = "of"
	classAnd            class = "and"
	classOr             class = "or"
	classArticle        class = "article"
	classOnly           class = "only"
	classAll            class = "all"
	classCoupled        class = "coupled"
	classCouple         class = "couple"
	classUncoupled      class = "uncoupled"
	classUncouple       class = "uncouple"
	classCoupler        class = "coupler"
	classPedalCoupler   class = "pedalcoupler"
	classOctave         class = "octave"        // an octave word that may also name a stop
	classOctaveCoupler  class = "octavecoupler" // one that can only be a coupler
	classUnisonOff      class = "unisonoff"
	classManualCoupling class = "manualcoupling"
	classBox            class = "box"
	classBoxState       class = "boxstate"
	classBoxVerb        class = "boxverb"
	classHalf           class = "half"
	classGradual        class = "gradual"
	classTremulant      class = "trem"
	classStrength       class = "strength"
	classLevel          class = "level"
	classRole           class = "role"
	classManual         class = "manual"  // before or after a number: "Man. II"
	classManuals        class = "manuals" // all of them: "Manuals coupled"
	classManualsOnly    class = "manualsonly"
	classWithPedal      class = "withpedal"
	classOrdinal        class = "ordinal"
	classOrgan          class = "organ"
	classNeutral        class = "neutral"
	classExpression     class = "expression"
	classVoice          class = "voice"
	classHeading        class = "heading"
	classStop           class = "stop"   // from registry/stopname
	classJoined         class = "joined" // several divisions in letters: "G.P.R."
	classRange          class = "range"  // as far as: "bis", "up to"
	classFeet           class = "feet"   // the measure behind a number
	classRanks          class = "ranks"
	classDevice         class = "device"     // of an organ, but nothing that the normal form has a word for
	classCommonName     class = "commonname" // a division's name that ordinary texts use too
	classLikeness       class = "likeness"   // "like", so that what follows is only compared
	classTempo          class = "tempo"
	classInstrument     class = "instrument" // a stop that is also an instrument
)

// A langSet is a set of the six languages.
type langSet uint8

var languages = []string{"en", "fr", "de", "it", "nl", "es"}

const everyLang langSet = 1<<6 - 1

// langOf is the set that holds one language; nothing for an unknown one.
func langOf(name string) langSet {
	for i, l := range languages {
		if l == name {
			return 1 << i
		}
	}
	return 0
}

// A sense is one thing that a word may mean.
type sense struct {
	class    class
	value    string
	langs    langSet
	ordinary bool // texts that are not registration use the word too
	dotted   bool // a short form that is written with its dot
}

// A node is a place in the tree of the vocabulary's words.
type node struct {
	next     map[string]*node
	senses   []sense
	spelling string // as the vocabulary writes the phrase that ends here
}

func (n *node) child(word string) *node {
	if n.next == nil {
		n.next = map[string]*node{}
	}
	c := n.next[word]
	if c == nil {
		c = &node{}
		n.next[word] = c
	}
	return c
}

// add enters a spelling.
func (n *node) add(spelling string, s sense) {
	for _, t := range tokenise(spelling) {
		if t.kind != markToken {
			n = n.child(t.text)
		}
	}
	if n.spelling == "" {
		n.spelling = spelling
	}
	for i, old := range n.senses {
		if old.class == s.class && old.value == s.value {
			n.senses[i].langs |= s.langs
			n.senses[i].ordinary = old.ordinary && s.ordinary
			n.senses[i].dotted = old.dotted && s.dotted
			return
		}
	}
	n.senses = append(n.senses, s)
}

// vocabulary is the tree of every word that directions are made of.
var vocabulary = sync.OnceValue(func() *node {
	root := &node{}
	files, err := vocabularyFiles.ReadDir("vocabulary")
	if err != nil {
		panic(err) // the files are part of the program
	}
	for _, f := range files {
		content, err := vocabularyFiles.ReadFile("vocabulary/" + f.Name())
		if err != nil {
			panic(err)
		}
		if err := readVocabulary(root, f.Name(), string(content)); err != nil {
			panic(err)
		}
	}
	addDivisions(root, commonNames(root))
	return root
})

// commonNames are the names of divisions that ordinary texts use too.
func commonNames(root *node) map[string]bool {
	names := map[string]bool{}
	for word, n := range root.next {
		for _, s := range n.senses {
			if s.class == classCommonName {
				names[word] = true
			}
		}
	}
	return names
}

// readVocabulary enters the rows of one file: spellings, languages, class,
// value, whether ordinary texts use the words, source.
func readVocabulary(root *node, name, content string) error {
	header := true
	for i, line := range strings.Split(content, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		if header {
			header = false
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != 6 || cells[5] == "" {
			return fmt.Errorf("%s:%d: a row has six cells and names its source", name, i+1)
		}
		s := sense{class: class(cells[2]), value: cells[3], ordinary: cells[4] == "yes"}
		for _, l := range strings.Split(cells[1], ",") {
			if s.langs |= langOf(l); l == "*" {
				s.langs = everyLang
			}
		}
		if s.langs == 0 {
			return fmt.Errorf("%s:%d: %q names no language", name, i+1, cells[1])
		}
		for _, spelling := range strings.Split(cells[0], "; ") {
			root.add(spelling, s)
			if spelled := umlautSpelled(spelling); spelled != spelling {
				root.add(spelled, s)
			}
		}
	}
	return nil
}

var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue")

// umlautSpelled writes umlauts with an e, as typewriters do.
func umlautSpelled(s string) string { return umlauts.Replace(s) }
