package stopname

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stopgap/registry/pitch"
)

//go:embed stops.tsv
var stopsTSV string

//go:embed abbreviations.tsv
var abbreviationsTSV string

// An entry is one row of stops.tsv.
type entry struct {
	name, lang string
	family     Family
	kind       string
	pitches    []pitch.Feet // usual on a manual; none where open
	pedal      []pitch.Feet // usual on the pedal, where that differs
	fixed      bool
	ranks      int // the least usual number of a compound stop, 0 if unknown
	loud       int
	solo       bool
	chorus     bool
	beats      string
	where      string
	also       []string
	source     string
	key        string // the folded name
}

// An expansion is what an abbreviated word may stand for.
type expansion struct {
	words []string // folded
	lang  string
	bare  bool // understood without its dot, too
}

// table is the vocabulary with its indexes; the ints are positions in entries.
type table struct {
	entries []entry
	byKey   map[string][]int
	abbr    map[string][]expansion
	longest int // the number of words of the longest name

	// bySpelling is byKey with the spellings of different countries folded.
	bySpelling func() map[string][]int
	// byWords holds the folded words of every name by how many they are, for
	// abbreviations that the list does not have ("Quintad.").
	byWords func() [][]indexedName
}

type indexedName struct {
	words []string
	entry int
}

// vocabulary is parsed when a name is first asked for, and not when the
// program starts.
var vocabulary = sync.OnceValue(func() *table {
	t, err := readTable(stopsTSV, abbreviationsTSV)
	if err != nil {
		panic("stopname: " + err.Error()) // embedded, and tested
	}
	return t
})

func readTable(stops, abbreviations string) (*table, error) {
	t := &table{byKey: make(map[string][]int, 4096), abbr: make(map[string][]expansion, 512)}
	t.entries = make([]entry, 0, 2600)
	t.bySpelling = sync.OnceValue(t.indexSpellings)
	t.byWords = sync.OnceValue(t.indexWords)
	err := eachRow(stops, func(cells map[string]string) error {
		e, err := readEntry(cells)
		if err != nil {
			return fmt.Errorf("%q: %w", cells["name"], err)
		}
		t.add(e)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("stops.tsv: %w", err)
	}
	err = eachRow(abbreviations, func(cells map[string]string) error {
		x := expansion{lang: cells["lang"], bare: cells["bare"] == "yes"}
		for _, w := range wordsOf(cells["full"]) {
			x.words = append(x.words, w.key)
		}
		key := fold(cells["short"])
		if key == "" || len(x.words) == 0 {
			return fmt.Errorf("%q stands for nothing", cells["short"])
		}
		t.abbr[key] = append(t.abbr[key], x)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("abbreviations.tsv: %w", err)
	}
	return t, nil
}

// eachRow calls f with the cells of every row, by the name of their column.
func eachRow(tsv string, f func(cells map[string]string) error) error {
	var header []string
	cells := map[string]string{}
	for n := 1; tsv != ""; n++ {
		var line string
		line, tsv, _ = strings.Cut(tsv, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		if header == nil {
			header = strings.Split(line, "\t")
			continue
		}
		rest, more := line, true
		for i := range header {
			if !more {
				return fmt.Errorf("line %d: %d cells where the header has %d", n, i, len(header))
			}
			cells[header[i]], rest, more = strings.Cut(rest, "\t")
		}
		if more {
			return fmt.Errorf("line %d: more cells than the header has", n)
		}
		if err := f(cells); err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
	}
	return nil
}

func readEntry(cells map[string]string) (e entry, err error) {
	e = entry{name: cells["name"], lang: cells["lang"], kind: cells["kind"], beats: cells["beats"], where: cells["where"], source: cells["source"]}
	family, ok := FamilyOf(e.kind)
	if !ok {
		return e, fmt.Errorf("%q is no kind of stop", e.kind)
	}
	word := cells["family"]
	if word == "-" {
		word = ""
	}
	if family.String() != word {
		return e, fmt.Errorf("%s is a kind of %q, not of %q", e.kind, family, word)
	}
	e.family = family
	lengths := cells["pitch"]
	if after, ok := strings.CutPrefix(lengths, "="); ok {
		e.fixed, lengths = true, after
	}
	if e.pitches, err = readFeet(lengths); err != nil {
		return e, err
	}
	if e.pedal, err = readFeet(cells["pedal"]); err != nil {
		return e, err
	}
	if r, _, _ := strings.Cut(cells["ranks"], ";"); r != "" {
		e.ranks = pitch.Roman(r)
	}
	if e.loud, err = strconv.Atoi(cells["loud"]); err != nil || e.loud < 1 || e.loud > 6 {
		return e, fmt.Errorf("loudness %q is not 1 to 6", cells["loud"])
	}
	e.solo = strings.Contains(cells["use"], "S")
	e.chorus = strings.Contains(cells["use"], "C")
	if also := cells["also"]; also != "" {
		for also != "" {
			var name string
			name, also, _ = strings.Cut(also, ";")
			e.also = append(e.also, strings.TrimSpace(name))
		}
	}
	return e, nil
}

func readFeet(cell string) ([]pitch.Feet, error) {
	if cell == "" || cell == "*" {
		return nil, nil
	}
	var all []pitch.Feet
	for cell != "" {
		var one string
		one, cell, _ = strings.Cut(cell, ";")
		f, err := pitch.ParseFeet(one)
		if err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, nil
}

func (t *table) add(e entry) {
	n := len(t.entries)
	e.key = t.index(e.name, n)
	t.entries = append(t.entries, e)
	for _, name := range e.also {
		t.index(name, n)
	}
}

func (t *table) index(name string, n int) (key string) {
	words := wordsOf(name)
	t.longest = max(t.longest, len(words))
	key = joinKeys(words)
	if key != "" && !slices.Contains(t.byKey[key], n) {
		t.byKey[key] = append(t.byKey[key], n)
	}
	return key
}

func (t *table) indexSpellings() map[string][]int {
	spellings := make(map[string][]int, len(t.byKey))
	for n := range t.entries {
		for _, name := range t.entries[n].names() {
			if s := spelling(joinKeys(wordsOf(name))); s != "" && !slices.Contains(spellings[s], n) {
				spellings[s] = append(spellings[s], n)
			}
		}
	}
	return spellings
}

func (t *table) indexWords() [][]indexedName {
	all := make([][]indexedName, t.longest+1)
	for n := range t.entries {
		for _, name := range t.entries[n].names() {
			words := wordsOf(name)
			keys := make([]string, len(words))
			for i, w := range words {
				keys[i] = w.key
			}
			all[len(words)] = append(all[len(words)], indexedName{keys, n})
		}
	}
	return all
}

func (e *entry) names() []string { return append([]string{e.name}, e.also...) }

// choose picks the entry that fits the place best: one whose condition holds,
// in the language, with the pitch; the first of the table among equals.
func (t *table) choose(found []int, at Place, ranks int) *entry {
	return t.chooseAs("", found, at, ranks)
}

// chooseAs prefers the row that is printed just so: "Violón" is another stop
// than "Violon".
func (t *table) chooseAs(printed string, found []int, at Place, ranks int) *entry {
	best, bestScore := -1, -1
	for _, i := range found {
		e := &t.entries[i]
		if !e.holds(at, ranks) {
			continue
		}
		score := 0
		if e.where != "" {
			score += 8
		}
		if at.Lang != "" && e.lang == at.Lang {
			score += 16
		}
		if strings.EqualFold(e.name, printed) {
			score += 4
		}
		if !at.Pitch.IsZero() && e.hasPitch(at.Pitch) {
			score += 2
		}
		if score > bestScore {
			best, bestScore = i, score
		}
	}
	if best < 0 {
		return nil
	}
	return &t.entries[best]
}

// holds reports whether the condition of the row is met.
func (e *entry) holds(at Place, ranks int) bool {
	switch {
	case e.where == "":
		return true
	case e.where == "pedal":
		return at.Pedal
	case e.where == "manual":
		return !at.Pedal
	case e.where == "ranks":
		return ranks > 1
	case e.where == "ranks 3":
		return ranks > 2
	case e.where == "single":
		return ranks <= 1
	case strings.HasPrefix(e.where, "at "):
		lengths, _ := readFeet(strings.TrimPrefix(e.where, "at "))
		return ranks <= 1 && slices.Contains(lengths, at.Pitch)
	}
	return false
}

func (e *entry) hasPitch(f pitch.Feet) bool {
	return slices.Contains(e.pitches, f) || slices.Contains(e.pedal, f)
}

// known describes the entry for the place.
func (e *entry) known(name string, at Place, ranks int) Known {
	k := Known{
		Name: name, Entry: e.name, Family: e.family, Subfamily: e.kind, Fixed: e.fixed, Ranks: ranks,
		Loudness: e.loud, Solo: e.solo, Chorus: e.chorus, Beats: e.beats, How: ByTable, Source: e.source,
	}
	k.Pitch = at.Pitch
	if k.Pitch.IsZero() {
		switch {
		case at.Pedal && len(e.pedal) > 0:
			k.Pitch = e.pedal[0]
		case len(e.pitches) > 0:
			k.Pitch = e.pitches[0]
		}
	} else {
		k.Pitch = pitch.Rounded(k.Pitch, e.isMutation())
	}
	return k
}

// isMutation reports whether the name usually stands at a mutation's pitch.
func (e *entry) isMutation() bool {
	return len(e.pitches) > 0 && e.pitches[0].IsMutation()
}
