package stopname

import (
	"strings"
)

// Resolve says what a stop name means where it stands. The name may carry its
// pitch, ranks and composition ("Open Diapason 8", "Mixture 15.19.22"), and
// may be abbreviated or spelled in any of the ways that builders and printers
// have. A name that is not in the table is resolved by its parts, with the
// reason, or is Unknown, as one is that is too long to be a name; [Known.Near] then has the nearest names of the table.
func Resolve(name string, at Place) Known {
	if len(name) > maxName {
		return Known{Name: name, Pitch: at.Pitch, How: Unknown}
	}
	knob := Dissect(name)
	if at.Pitch.IsZero() {
		at.Pitch = knob.Pitch
	}
	t := vocabulary()
	if e := t.lookUp(knob.Name, at, knob.Ranks); e != nil {
		return e.known(knob.Name, at, knob.Ranks)
	}
	k := resolveByParts(knob.Name, at)
	k.Ranks = knob.Ranks
	return k
}

// lookUp finds a name as the table has it, perhaps with a number, a note in
// parentheses or an article that does not belong to the name.
func (t *table) lookUp(name string, at Place, ranks int) *entry {
	plain := withoutNote(name)
	for _, candidate := range []string{name, plain, withoutNumber(plain)} {
		words := wordsOf(candidate)
		if len(words) == 0 {
			continue
		}
		if e := t.chooseAs(candidate, t.find(words), at, ranks); e != nil {
			return e
		}
		if e := t.expand(words, at, ranks, true); e != nil {
			return e
		}
	}
	words := wordsOf(withoutNumber(plain))
	if len(words) == 0 {
		return nil
	}
	if e := t.choose(t.bySpelling()[spelling(joinKeys(words))], at, ranks); e != nil {
		return e
	}
	if e := t.choose(t.bySpelling()[spelling(joinKeys(singular(words)))], at, ranks); e != nil {
		return e
	}
	return t.choose(t.withLost(joinKeys(words)), at, ranks)
}

// find returns the entries that the words name, spelled as the table has them
// apart from accents, capitals, spaces and plurals.
func (t *table) find(words []word) []int {
	if found := t.byKey[joinKeys(words)]; len(found) > 0 {
		return found
	}
	if found := t.byKey[joinKeys(singular(words))]; len(found) > 0 {
		return found
	}
	var without []word
	for i, w := range words {
		if i == 0 || i == len(words)-1 || !joiners[w.key] {
			without = append(without, w)
		}
	}
	if len(without) < len(words) && len(without) > 0 {
		return t.byKey[joinKeys(without)]
	}
	return nil
}

// singular takes the plural endings of English and French off each word, and
// those of German off the last.
func singular(words []word) []word {
	single := make([]word, len(words))
	for i, w := range words {
		if len(w.key) > 4 {
			w.key = strings.TrimSuffix(w.key, "s")
		}
		if i == len(words)-1 && len(w.key) > 6 && strings.HasSuffix(w.key, "en") {
			w.key = strings.TrimSuffix(w.key, "n")
			if !strings.HasSuffix(w.key, "ote") && !strings.HasSuffix(w.key, "ete") && !strings.HasSuffix(w.key, "une") && !strings.HasSuffix(w.key, "ave") && !strings.HasSuffix(w.key, "ine") && !strings.HasSuffix(w.key, "inte") {
				w.key = strings.TrimSuffix(w.key, "e")
			}
		}
		single[i] = w
	}
	return single
}

// expand tries what abbreviated words may stand for. With loose, words are
// taken for abbreviations without their dot, too.
func (t *table) expand(words []word, at Place, ranks int, loose bool) *entry {
	var best *entry
	bestScore := -1
	tries := 0
	parts := make([]string, len(words))
	var try func(i, score int, changed bool)
	try = func(i, score int, changed bool) {
		if tries > 400 {
			return
		}
		if i == len(words) {
			tries++
			if !changed {
				return
			}
			if e := t.choose(t.byKey[strings.Join(parts, "")], at, ranks); e != nil {
				if at.Lang != "" && e.lang == at.Lang {
					score += 2
				}
				if score > bestScore {
					best, bestScore = e, score
				}
			}
			return
		}
		w := words[i]
		parts[i] = w.key
		try(i+1, score, changed)
		for _, x := range t.abbr[w.key] {
			if !w.dotted && !x.bare && !loose {
				continue
			}
			s := score
			if x.lang == at.Lang || x.lang == "" {
				s++
			}
			parts[i] = strings.Join(x.words, "")
			try(i+1, s, true)
		}
		// several words may be one abbreviation: "O. D.", "V. C."
		if i == 0 && len(words) > 1 {
			for n := 2; n <= min(3, len(words)); n++ {
				joined := joinKeys(words[:n])
				for _, x := range t.abbr[joined] {
					parts[0] = strings.Join(x.words, "")
					for j := 1; j < n; j++ {
						parts[j] = ""
					}
					if words[0].dotted || x.bare || loose {
						try(n, score+1, true)
					}
				}
			}
		}
	}
	try(0, 0, false)
	if best != nil {
		return best
	}
	least := 4
	if loose {
		least = 3
	}
	return t.choose(t.abbreviated(words, least), at, ranks)
}

// abbreviated finds the names whose words begin with the dotted words given,
// of at least so many letters, and are otherwise the same.
func (t *table) abbreviated(words []word, least int) []int {
	dotted := false
	for _, w := range words {
		if w.dotted && len(w.key) >= least {
			dotted = true
		}
	}
	if !dotted || len(words) >= len(t.byWords()) {
		return nil
	}
	var found []int
names:
	for _, name := range t.byWords()[len(words)] {
		for i, w := range words {
			full := name.words[i]
			if w.key == full || (w.dotted && len(w.key) >= least && strings.HasPrefix(full, w.key)) {
				continue
			}
			continue names
		}
		found = append(found, name.entry)
	}
	return found
}

// withLost finds the names of which letters were lost on the way: a '?' stands
// for two letters, one or none, in at most half of the name.
func (t *table) withLost(key string) []int {
	if lost := strings.Count(key, "?"); lost == 0 || 2*lost > len(key) || len(key) < 5 {
		return nil
	}
	least := ""
	for full := range t.byKey {
		// the smallest, so that every run finds the same
		if (least == "" || full < least) && matchesLost(key, full) {
			least = full
		}
	}
	return t.byKey[least]
}

// matchesLost reports whether a name is that of a key with two letters, one or
// none for each '?'.
func matchesLost(key, full string) bool {
	if lost := strings.Count(key, "?"); len(full) < len(key)-lost || len(full) > len(key)+lost {
		return false
	}
	// from is where in the name what is left of the key may begin: all these
	// places at once, since one by one they multiply with every '?'.
	from := make([]bool, len(full)+1)
	from[0] = true
	for i := range len(key) {
		next := make([]bool, len(full)+1)
		some := false
		for at, may := range from {
			switch {
			case !may:
			case key[i] == '?':
				for to := at; to <= min(at+2, len(full)); to++ {
					next[to], some = true, true
				}
			case at < len(full) && full[at] == key[i]:
				next[at+1], some = true, true
			}
		}
		if !some {
			return false
		}
		from = next
	}
	return from[len(full)]
}

// withoutNote drops what stands in parentheses: "Open Diapason (wood)".
func withoutNote(name string) string {
	for {
		open := strings.IndexAny(name, "([")
		if open < 0 {
			return strings.TrimSpace(name)
		}
		end := strings.IndexAny(name[open:], ")]")
		if end < 0 {
			return strings.TrimSpace(name[:open])
		}
		name = strings.TrimSpace(name[:open]) + " " + strings.TrimSpace(name[open+end+1:])
	}
}

// numbers are how like stops of one division are told apart.
var numbers = map[string]bool{
	"1": true, "2": true, "3": true, "4": true, "i": true, "ii": true, "iii": true, "iv": true,
	"no": true, "nr": true, "n": true, "1st": true, "2nd": true, "3rd": true, "1er": true, "1re": true, "1ere": true,
	"2e": true, "2eme": true, "3e": true, "2me": true, "1o": true, "2o": true, "a": true, "b": true,
	"premier": true, "premiere": true, "second": true, "seconde": true, "deuxieme": true, "first": true, "third": true,
	"primo": true, "secondo": true, "prima": true, "seconda": true, "erste": true, "zweite": true, "1ste": true,
}

// withoutNumber drops the number of a stop that the division has twice, at
// either end: "Trumpet No. 2", "1re Trompette", "Octave I".
func withoutNumber(name string) string {
	fields := strings.Fields(name)
	for len(fields) > 1 && numbers[fold(fields[len(fields)-1])] {
		fields = fields[:len(fields)-1]
	}
	for len(fields) > 1 && numbers[fold(fields[0])] {
		fields = fields[1:]
	}
	return strings.Join(fields, " ")
}
