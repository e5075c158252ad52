package stopname

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"stopgap/registry/pitch"
)

//go:embed parts.tsv
var partsTSV string

// A part is one row of parts.tsv.
type part struct {
	lang    string
	effects []effect
	head    string // folded name of the stop that the part stands for
	suffix  bool   // unknown words before it do no harm
	refuse  bool   // no stop is called so
	meaning string
}

// An effect is what a part does to the stop that it qualifies.
type effect struct {
	octave  int
	loud    int
	kind    string
	celeste bool
	bass    bool
	only    string // family, kind or "mutation" to which it applies; "" any
}

var parts = sync.OnceValue(func() map[string][]part {
	all, err := readParts(partsTSV)
	if err != nil {
		panic("stopname: parts.tsv: " + err.Error()) // embedded, and tested
	}
	return all
})

func readParts(tsv string) (map[string][]part, error) {
	all := map[string][]part{}
	err := eachRow(tsv, func(cells map[string]string) error {
		p := part{lang: cells["lang"], meaning: cells["meaning"]}
		for _, does := range strings.Split(cells["does"], ";") {
			if err := p.read(does); err != nil {
				return err
			}
		}
		for _, name := range strings.Split(cells["part"], ";") {
			key := joinKeys(wordsOf(name))
			if key == "" {
				return fmt.Errorf("an empty part")
			}
			all[key] = append(all[key], p)
		}
		return nil
	})
	return all, err
}

func (p *part) read(does string) error {
	does, only, _ := strings.Cut(does, " if ")
	verb, object, _ := strings.Cut(does, " ")
	e := effect{only: only}
	switch verb {
	case "-":
		return nil
	case "stop":
		p.refuse = true
		return nil
	case "head", "suffix":
		p.head, p.suffix = joinKeys(wordsOf(object)), verb == "suffix"
		return nil
	case "octave", "loud":
		n, err := strconv.Atoi(object)
		if err != nil {
			return err
		}
		if verb == "octave" {
			e.octave = n
		} else {
			e.loud = n
		}
	case "kind":
		if _, ok := FamilyOf(object); !ok {
			return fmt.Errorf("%q is no kind", object)
		}
		e.kind = object
	case "celeste":
		e.celeste = true
	case "bass":
		e.bass = true
	default:
		return fmt.Errorf("a part can't %q", does)
	}
	p.effects = append(p.effects, e)
	return nil
}

// A piece is a stretch of a name that was understood, or was not.
type piece struct {
	text    string // as printed, or folded where a word was taken apart
	entry   *entry // a stop name
	part    *part  // a part that qualifies one
	capital bool
	within  bool // taken out of a compound word
}

func (p piece) known() bool { return p.entry != nil || p.part != nil }

// resolveByParts resolves a name that the table does not have by the parts of
// which the trade builds names: "Lieblichflöte", "Contra Salicet", "Trompette
// militaire". In a German or English name the last stop named is what it is
// ("Oboe Flute" is a flute), in a French, Italian or Spanish one the first.
func resolveByParts(name string, at Place) Known {
	unknown := Known{Name: name, Pitch: at.Pitch, How: Unknown}
	pieces := takeApart(withoutNumber(withoutNote(name)), at)
	head := -1
	romance := isRomance(pieces, at)
	for i, p := range pieces {
		if p.part != nil && p.part.refuse {
			return unknown
		}
		if p.entry != nil && (head < 0 || !romance) {
			head = i
		}
	}
	if head < 0 || !mayBeUnknown(pieces, head, romance) {
		return unknown
	}
	e := pieces[head].entry
	k := e.known(name, at, 0)
	k.How, k.Fixed, k.Source = ByParts, false, "common practice of naming stops"
	reasons := []string{fmt.Sprintf("“%s” names it: %s", pieces[head].text, describeKind(e))}
	octave := 0
	for i, p := range pieces {
		if i == head {
			continue
		}
		switch {
		case p.entry != nil:
			k.colour(p.entry)
			reasons = append(reasons, fmt.Sprintf("“%s”: after the stop of that name", p.text))
		case p.part != nil:
			octave += k.apply(p.part, e, at, i < head)
			if p.part.meaning != "" {
				reasons = append(reasons, fmt.Sprintf("“%s”: %s", p.text, p.part.meaning))
			}
		default:
			reasons = append(reasons, fmt.Sprintf("“%s” is not known", p.text))
		}
	}
	if at.Pitch.IsZero() {
		k.Pitch = k.Pitch.Octaves(octave)
	} else {
		k.Pitch = pitch.Rounded(at.Pitch, e.isMutation())
	}
	k.Loudness = min(max(k.Loudness, 1), 6)
	k.Reason = strings.Join(reasons, "; ")
	return k
}

func describeKind(e *entry) string {
	if e.kind == KindPercussion {
		return "bells or bars, no pipes"
	}
	if strings.ContainsAny(e.kind[:1], "aeiou") {
		return "an " + e.kind
	}
	return "a " + e.kind
}

// colour is what a stop named before or after another says of it: a mutation
// of flutes, a mixture of strings.
func (k *Known) colour(by *entry) {
	switch {
	case k.Subfamily == KindPrincipalMutation && (by.family == Flute || by.family == String):
		k.Family, k.Subfamily = Flute, KindFluteMutation
	case k.Subfamily == KindPrincipal && by.family == String && by.kind != KindDulciana:
		k.Subfamily = KindGeigen
	case k.Family == Mixture && by.loud <= 2 && by.family != Mixture:
		k.Subfamily, k.Loudness = KindSoftMixture, min(k.Loudness, 3)
	case by.family == Celeste:
		k.undulate()
	case by.family == Reed && k.Family == Reed && by.kind != KindChorusReed && k.Subfamily == KindChorusReed:
		k.Subfamily = by.kind
	}
}

func (k *Known) undulate() {
	switch k.Family {
	case Flute:
		k.Subfamily = KindFluteCeleste
	case Principal:
		k.Subfamily = KindPrincipalCeleste
	case String:
		k.Subfamily = KindStringCeleste
	default:
		return
	}
	k.Family, k.Beats, k.Chorus = Celeste, "sharp", false
}

// apply does what the part says and returns the octaves that it moves.
func (k *Known) apply(p *part, e *entry, at Place, before bool) (octave int) {
	for _, x := range p.effects {
		if x.only != "" && x.only != k.Family.String() && x.only != k.Subfamily && !(x.only == "mutation" && e.isMutation()) {
			continue
		}
		k.Loudness += x.loud
		octave += x.octave
		if x.kind != "" && k.Family != Celeste {
			k.Subfamily = x.kind
			k.Family, _ = FamilyOf(x.kind)
		}
		if x.celeste {
			k.undulate()
		}
		// "Salicetbass" is 16′ on the pedal, "Trompetenbass" what the trumpet is there
		if x.bass && !before && at.Pitch.IsZero() && k.Family != Reed && k.Pitch == pitch.Foot(8) && len(e.pedal) == 0 {
			octave--
		} else if x.bass && !before && at.Pitch.IsZero() && len(e.pedal) > 0 {
			k.Pitch = e.pedal[0]
		}
	}
	return octave
}

var romanceLangs = map[string]bool{"fr": true, "it": true, "es": true}

// prepositions show that what the stop is comes first: "Flûte de …".
var prepositions = map[string]bool{"de": true, "du": true, "des": true, "d": true, "a": true, "au": true, "aux": true, "di": true, "del": true, "della": true, "da": true, "dei": true, "in": true, "en": true}

func isRomance(pieces []piece, at Place) bool {
	if at.Lang != "" {
		return romanceLangs[at.Lang]
	}
	var first *entry
	for i, p := range pieces {
		if p.entry != nil && first == nil {
			first = p.entry
		}
		if first != nil && i > 0 && prepositions[fold(p.text)] {
			return true
		}
	}
	if first == nil || pieces[0].entry != first || pieces[0].within {
		return false
	}
	if romanceLangs[first.lang] {
		return true
	}
	// "Trompette martiale": the trumpet is French too, and only so does the
	// word that is not known follow it
	t := vocabulary()
	return !pieces[len(pieces)-1].known() && slices.ContainsFunc(t.byKey[joinKeys(wordsOf(pieces[0].text))], func(i int) bool {
		return romanceLangs[t.entries[i].lang]
	})
}

// mayBeUnknown reports whether the words that are not known leave the meaning
// alone: what follows the head of a French name ("Trompette martiale"), a name
// before an English or German one ("Salisbury Trumpet").
func mayBeUnknown(pieces []piece, head int, romance bool) bool {
	for i, p := range pieces {
		if p.known() {
			continue
		}
		if utf8.RuneCountInString(p.text) < 3 {
			return false
		}
		if romance && i < head || !romance && (i > head || !p.capital) {
			return false
		}
	}
	return true
}
