// Package resolve works out how to play what a score asks for on the organ at
// hand: for every passage which division plays each line, from which keyboard
// and in which octave, with which stops, couplers, boxes and tremulants.
package resolve

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// A Plan is how a whole score is played on an organ.
type Plan struct {
	Organ    *registry.Organ
	Asked    *passage.Score
	Settings []*Setting // one for each passage, in order
	Cost     int        // of the whole plan, changes between passages included
	Bound    int        // no plan of the search's kind costs less

	numbering Numbering
	asking    *resolver        // for questions about the plan
	heldTo    map[string]*Part // the ways that words which come back are held to
}

// Numbering is what the numbers of manuals were taken to mean.
func (p *Plan) Numbering() Numbering { return p.numbering }

// A Setting is how one passage is played.
type Setting struct {
	Passage      *passage.Passage
	Parts        []*Part // one for each division asked for, in the order of the passage
	Lines        []*Line
	Drawn        registry.Drawn
	Boxes        map[*registry.Division]string // "shut", "half", "open", "opening", "closing"
	Tremulants   []*registry.Division
	Problems     []Problem
	Follows      []Follow // couplers to the pedal that go on or off with the hands, unprinted
	Cost         int      // of the passage by itself
	Why          string   // of an alternative: what it gives up or gains
	Alternatives []*Setting

	knobs knobs
	trial *trial
}

// A Part is what is given for one division that is asked for.
type Part struct {
	Asked   *passage.Asked
	By      passage.Line       // who plays it where hand and feet have changed parts, else ""
	Host    *registry.Division // the division whose keyboard plays it; nil where the organ has none
	Octave  int                // how far the player moves the line, in octaves
	Picks   []Pick             // one for each voice asked
	Lending []Path             // divisions coupled in for some of the picks
	Cost    int
	Shared  bool // it has to share its keyboard and sound with another part
	played  bool // a line plays it
	soft    bool // of a loud pedal, what goes with soft hands
	joins   bool // it draws nothing, and sounds what others draw on its host
	ask     *ask
	knobs   knobs    // its stops, and the couplers that it brings
	stops   knobs    // its stops alone
	sounds  []Chosen // see sounding; nil until it is asked for
}

// A Pick is what is given for one voice.
type Pick struct {
	Voice   direction.Voice
	Stops   []Chosen
	Joined  *registry.Coupler // it is had by coupling down a manual that is played, with all that is drawn there
	Doubled *registry.Coupler // it is had by the octave coupler of the host, from what is drawn for another voice
	Missing bool              // nothing was found for it, and nothing stands in
	Instead bool              // it is left out, and the stop is drawn only so that the line is not silent
	// Resultant tells that the stop gives the voice together with one an octave
	// below that is drawn for another.
	Resultant bool
	Note      string // what an organist would say of the choice; "" where it is what is asked
	Same      bool   // it is what the score asks for, as an organist reads it
	off       bool   // it sounds in another octave than is asked for
}

// Chosen is a stop and the path by which it sounds: nil Path on the host
// itself.
type Chosen struct {
	Stop *registry.Stop
	Path *Path
}

// A Path is how a division's stops reach a keyboard: couplers, and the octave
// that they add.
type Path struct {
	From     *registry.Division
	Couplers []*registry.Coupler
	Octave   int
}

// A Line is who plays what from where.
type Line struct {
	Asked     *passage.Played
	By        passage.Line // who plays it: the line itself, or the one that it changes parts with
	Part      *Part
	Keyboard  *registry.Keyboard // nil where it cannot be played
	Octave    int
	Sounds    []registry.Sound
	PitchKept bool
	Heard     *Difference // against what is asked; nil where nothing is asked
	Changed   []string    // of "stops", "keyboard", "octave", "couplers", "box", "hand"
	Why       string
	Tried     []Attempt // ways that would have been nearer to what is asked, and why each will not do

	lost *passage.Pressed // the first note that does not sound as asked, where the pitch is not kept
}

// An Attempt is a way of giving a line that was tried and will not do.
type Attempt struct {
	Text  string           // "Trumpet 8 an octave higher"
	Why   string           // "A3 in measure 7 would be A4, and the pedalboard ends on F4"
	First *passage.Pressed // the first note that does not fit, nil where it fails for another reason
	Cost  int              // what it would cost if it could be had
}

// A Problem is something that cannot be played as asked.
type Problem struct {
	Code     string // "pitch-lost", "off-compass", "no-pedals", "no-coupler", "voice-missing", "shared-keyboard"
	Line     passage.Line
	From, To passage.Span
	First    *passage.Pressed // the first note concerned, if notes are
	Text     string
	Remedies []Remedy
}

// A Remedy is a way out of a problem, checked against the organ.
type Remedy struct {
	Text     string
	Keyboard *registry.Keyboard
	Octave   int
	Sounds   []registry.Sound
}

// Changes reports whether anything of the part differs from what is printed.
func (p *Part) Changes() bool {
	if p.Host == nil || p.Octave != 0 || p.Shared || len(p.Lending) > 0 || p.Asked.Proposed && len(p.Picks) > 0 || p.soft {
		return true
	}
	for _, pick := range p.Picks {
		if !pick.Same {
			return true
		}
	}
	return false
}

// Stops are the part's stops in the order of the voices, without doubles;
// those on the host first.
func (p *Part) Stops() []Chosen {
	n := 0
	for i := range p.Picks {
		n += len(p.Picks[i].Stops)
	}
	out, own := make([]Chosen, 0, n), 0
	for i := range p.Picks {
		for _, c := range p.Picks[i].Stops {
			switch {
			case slices.ContainsFunc(out, func(x Chosen) bool { return x.Stop == c.Stop }):
			case c.Path == nil:
				out = slices.Insert(out, own, c)
				own++
			default:
				out = append(out, c)
			}
		}
	}
	return out
}

// ratio is where the stop sounds against the printed note when the line is
// played so many octaves away.
func (c Chosen) ratio(octave int) pitch.Ratio {
	if c.Path != nil {
		octave += c.Path.Octave
	}
	return c.Stop.Pitch.Ratio().Octaves(octave)
}
