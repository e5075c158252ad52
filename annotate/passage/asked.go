package passage

import (
	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// A Role is what a line is for, which settles what counts when its stops
// cannot be had.
type Role string

// The roles.
const (
	Solo          Role = "solo"
	Accompaniment Role = "accompaniment"
	Chorus        Role = "chorus"
	Bass          Role = "bass"
)

// A Score is what is asked of the organ, whole.
type Score struct {
	Layout     *Layout
	Lang       string  // the language of its registration: "en", "fr" …; "" where nothing tells
	Texts      []*Text // all the organ's texts, also those that ask for nothing
	Numbering  Numbering
	TwoManuals bool // a heading asks for two manuals, whatever they are called
	// Passages cover the score from its start to its end without a gap, in
	// order, none of them empty. A score of no length has none.
	Passages []*Passage
	Returns  []Return
	Findings []Finding

	dynamics *dynamics
	near     map[string][]string // the known words nearest to words that were not read
}

// A Passage is a span of the score during which nothing that is asked for
// changes.
type Passage struct {
	Span
	From, To  musicxml.Place
	Texts     []*Text // those that ask for something at its start
	Restated  []*Text // those further on that ask for what is in force already
	Lines     []*Played
	Drawn     []*Asked // the divisions that sound in it: played by a line or coupled to one
	Waiting   []*Asked // the others that something is drawn on or prepared
	Couplings []Coupling
	FeetOff   bool // "manuals only"
	// Resumes is the passage whose registration comes back here, before what the
	// texts change, although none says so: at a second ending that before the
	// first ending, at a coda that where the player left for it. It is nil
	// elsewhere.
	Resumes *Passage
}

// Played is one line in a passage.
type Played struct {
	Line     Line
	Division Division
	Role     Role
	Level    string    // how loud it begins by the dynamics: "", "pp" … "ff"
	Notes    []Pressed // in time order; empty where the line rests

	came moment // when it came to the division
}

// Pressed is one note as a key.
type Pressed struct {
	Key    registry.Key
	Note   *musicxml.Note
	Staff  *Staff         // on which it stands, be it another's than the player's
	Struck *musicxml.Note // where the key goes down: the note itself, or the first of those tied to it
}

// StruckIn reports whether the key goes down in the span, rather than being
// held into it by a tie or by a long note.
func (n Pressed) StruckIn(span Span) bool { return span.Contains(n.Struck.Onset) }

// Asked is what is to be drawn on one division.
type Asked struct {
	Division Division
	Voices   []direction.Voice
	Without  []direction.Voice // what a group word among the voices would bring and is left out
	Prepared []direction.Voice // drawn but silent, or to be added later
	Box      string            // "", "shut", "half", "open", "opening", "closing"
	Tremming bool              // the tremulant is on
	Level    string            // how loud, by its text or by the dynamics of those who play on it: "", "pp" … "ff"
	Proposed bool              // the print names no stops; they are proposed from its dynamics
	Swells   bool              // a hairpin, a crescendo in words or a box direction moves it during the passage

	said   moment // when a text gave the level
	listed moment // when its stops were last listed
}

// Coupling is a coupler that is asked for.
type Coupling struct {
	From, To Division
	Octave   int
}

// Asked finds what is asked of the division, nil if it is silent in the passage.
func (p *Passage) Asked(d Division) *Asked {
	for _, a := range p.Drawn {
		if a.Division == d {
			return a
		}
	}
	return nil
}

// Ratios are the sounding ratios that the voices ask for, ascending and
// without doubles; nil where a group word leaves any of them open, or a Cornet,
// whose ranks are those of the organ at hand.
func Ratios(voices []direction.Voice) []pitch.Ratio {
	var out []pitch.Ratio
	for _, v := range voices {
		if v.Pitch.IsZero() || v.Group == direction.ChorusTo || v.Group == direction.Cornet {
			return nil
		}
		out = append(out, v.Pitch.Ratio())
	}
	return sortedRatios(out)
}

func sortedRatios(rs []pitch.Ratio) []pitch.Ratio {
	var out []pitch.Ratio
	for _, r := range rs {
		at := len(out)
		for i, o := range out {
			if c := r.Cmp(o); c == 0 {
				at = -1
				break
			} else if c < 0 {
				at = i
				break
			}
		}
		if at < 0 {
			continue
		}
		out = append(out[:at], append([]pitch.Ratio{r}, out[at:]...)...)
	}
	return out
}
