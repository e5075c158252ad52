package stopname

import (
	"fmt"
	"strings"
)

// A Report is what is known of a stop name, as it is shown and as JSON.
type Report struct {
	Name      string   `json:"name"`      // as asked
	Family    string   `json:"family"`    // one of the seven; "" where not known
	Subfamily string   `json:"subfamily"` // the kind within the family
	Pitch     string   `json:"pitch"`     // "8", "2 2/3"; "*" where open, as of mixtures
	Mutation  bool     `json:"mutation"`  // sounds something else than octaves and unison
	Known     How      `json:"known"`     // "table", "parts" or "no"
	Source    string   `json:"source"`
	Reason    string   `json:"reason,omitempty"` // for parts: which of them decided
	Near      []string `json:"near,omitempty"`   // for names that are not known
}

// ReportOn resolves the name and reports what was found.
func ReportOn(name string, at Place) Report {
	k := Resolve(name, at)
	r := Report{
		Name: strings.TrimSpace(name), Family: k.Family.String(), Subfamily: k.Subfamily, Pitch: k.Pitch.String(),
		Known: k.How, Source: k.Source, Reason: k.Reason, Near: k.Near,
	}
	r.Mutation = k.Pitch.IsMutation() && k.Family != Mixture && k.Family != Cornet && k.How != Unknown
	if r.Pitch == "" && k.How != Unknown {
		r.Pitch = "*"
	}
	return r
}

// loudnessWords say the loudness classes 1 to 6.
var loudnessWords = [...]string{"", "very soft", "soft", "of middling strength", "rather loud", "loud", "very loud"}

// LoudnessWord is a loudness class in words, "" for a class that is none.
func LoudnessWord(class int) string {
	if class < 1 || class >= len(loudnessWords) {
		return ""
	}
	return loudnessWords[class]
}

// Describe says in a few plain sentences what is known of a stop, one per
// line, for a reader.
func (k Known) Describe() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	if k.How == Unknown {
		line("%s: not known", k.Name)
		if len(k.Near) > 0 {
			line("  nearest names: %s", strings.Join(k.Near, ", "))
		}
		return b.String()
	}
	family := k.Family.String()
	if family == "" {
		family = "no pipes"
	}
	line("%s: %s (%s)", k.Name, family, k.Subfamily)
	switch pitch := k.Pitch.String(); {
	case pitch == "":
		line("  pitch: open, as the maker composes it")
	case k.Fixed:
		line("  pitch: %s, fixed by the name", pitch)
	default:
		line("  pitch: %s", pitch)
	}
	if k.Ranks > 0 {
		line("  ranks: %d", k.Ranks)
	}
	if word := LoudnessWord(k.Loudness); word != "" {
		line("  strength: %s among the stops of its division", word)
	}
	switch {
	case k.Solo && k.Chorus:
		line("  use: as a solo and in the chorus")
	case k.Solo:
		line("  use: as a solo")
	case k.Chorus:
		line("  use: in the chorus")
	}
	if k.Beats != "" {
		line("  beats: tuned %s against its partner", k.Beats)
	}
	if k.How == ByParts {
		line("  understood by its parts: %s", k.Reason)
	} else if fold(k.Entry) != fold(k.Name) {
		line("  taken for: %s", k.Entry)
	}
	line("  source: %s", k.Source)
	return b.String()
}
