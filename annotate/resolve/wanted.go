package resolve

import (
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// A use is what a registration is for, which settles what may be left out.
type use uint8

const (
	colour use = iota // one colour: its pitches are exact
	chorus            // a chorus: it may thin from the top
	bass              // the pedal's bass
)

// wanted is a voice as a stop would have to be.
type wanted struct {
	voice direction.Voice
	leave []direction.Voice // what a group word would bring and is left out
	meaning
}

// A meaning is all that the ways of giving a voice depend on beside the
// voice's own words.
type meaning struct {
	name    stopname.Known // what the printed name means; Unknown where none is printed
	family  stopname.Family
	kind    string // the kind asked for, or the usual one of the family
	generic bool   // only the family is asked for, any kind of it will do
	pitch   pitch.Feet
	use     use
	solo    bool
	below   bool // it accompanies a solo
	pedal   bool

	// original is the stop that the voice was on the organ that the composer
	// wrote for, nil where none is chosen or it had none.
	original *registry.Stop
	shared   bool   // another single stop of the same registration has the same pitch
	leaves   string // leave in its normal form
	fed      bool   // the score couples other divisions to this one, so that it is not silent without its own stops
	doubled  bool   // a group word of the same registration brings the pitch as well
}

// want works out what a voice asks for.
func (r *resolver) want(v direction.Voice, a *passage.Asked, u use, solo bool) wanted {
	w := wanted{voice: v, meaning: meaning{pitch: v.Pitch, use: u, solo: solo, pedal: a.Division == passage.Pedal}}
	if isGroupWord(v) {
		w.leave, w.leaves = a.Without, voicesText(a.Without)
	}
	w.family, _ = stopname.ParseFamily(string(v.Group))
	w.name = stopname.Known{How: stopname.Unknown}
	if v.Name != "" {
		w.name = r.nameOf(v, w.pedal)
	}
	w.generic = v.Name == "" || w.name.How == stopname.Unknown || isFamilyWord(v.Name)
	w.kind = w.name.Subfamily
	if w.generic || w.kind == "" {
		w.kind = stopname.UsualKind(w.family)
	}
	if w.original = r.originalOf(a.Division, v); w.original != nil {
		w.kind = w.original.Known.Subfamily
	}
	return w
}

// nameKey is what the meaning of a voice's name depends on.
type nameKey struct {
	name  string
	pitch pitch.Feet
	pedal bool
}

// mostNames is of how many names it is remembered what they mean: more than a
// score has, which asks for the same ones in passage after passage.
var mostNames = 5000

// nameOf is what the printed name of a voice means.
func (r *resolver) nameOf(v direction.Voice, pedal bool) stopname.Known {
	key := nameKey{v.Name, v.Pitch, pedal}
	known, ok := r.names[key]
	if !ok {
		if len(r.names) >= mostNames {
			clear(r.names)
		}
		known = stopname.Resolve(v.Name, stopname.Place{Pedal: pedal, Lang: r.lang, Pitch: v.Pitch})
		r.names[key] = known
	}
	return known
}

// voicesText are voices in their normal form.
func voicesText(voices []direction.Voice) string {
	var texts []string
	for _, v := range voices {
		texts = append(texts, v.String())
	}
	return strings.Join(texts, "|")
}

// originalOf is the one stop that a voice was on the organ that the composer
// wrote for, of the family that is asked for.
func (r *resolver) originalOf(d passage.Division, v direction.Voice) *registry.Stop {
	if r.writtenFor == nil || isGroupWord(v) || v.Group == direction.Any {
		return nil
	}
	o := OriginalOf(r.writtenFor, d, v, r.lang, r.numbering)
	if len(o.Stops) != 1 || o.Stops[0].Known.Family.String() != string(v.Group) {
		return nil
	}
	return o.Stops[0]
}

// isSingle reports whether the voice is one rank at a pitch.
func (w wanted) isSingle() bool {
	if w.pitch.IsZero() || isGroupWord(w.voice) {
		return false
	}
	switch w.voice.Group {
	case direction.Principal, direction.Flute, direction.String, direction.Reed, direction.Any:
		return true
	}
	return false
}

// called is the voice as the text has it.
func (w wanted) called() string {
	if w.voice.Name != "" {
		return w.voice.Name
	}
	if w.voice.Group == direction.Any {
		return "stop"
	}
	return string(w.voice.Group)
}

// useOf tells what a registration is for: the pedal's bass, a chorus, or else
// one colour.
func useOf(a *passage.Asked, lines []*passage.Played) use {
	if a.Division == passage.Pedal {
		for _, line := range lines {
			if line.Role == passage.Solo {
				return colour
			}
		}
		return bass
	}
	ground, octave := false, false
	for _, v := range a.Voices {
		switch v.Group {
		case direction.Foundation, direction.ChorusTo, direction.Plenum, direction.Grandjeu, direction.Full, direction.Tutti, direction.Mixture:
			return chorus
		case direction.Principal:
			ground = ground || v.Pitch == feet8
			octave = octave || v.Pitch.Cmp(feet8) < 0
		}
	}
	if ground && octave || len(a.Voices) > 4 {
		return chorus
	}
	return colour
}

// missing is what it costs to leave the voice out. Where another voice of the
// registration gives its pitch as well, only colour is lost; what it costs to
// leave out all of them is for lostPitches to say.
func (w wanted) missing() int {
	if w.shared || w.doubled {
		return min(missDoubled, w.alone())
	}
	return w.alone()
}

// alone is what it costs to leave the voice out if nothing else has its pitch.
func (w wanted) alone() int {
	f := w.pitch
	open := f.IsZero()
	if w.solo && !open && !isGroupWord(w.voice) {
		return missSoloPitch + missSoloAll
	}
	if w.isGround() {
		if w.pedal {
			return missBassSixteen
		}
		return missChorusUnison
	}
	switch w.use {
	case colour:
		switch {
		case w.family == stopname.Celeste:
			return missCeleste
		case open, f.IsMutation():
			return missColourMutation
		case f.Cmp(feet8) > 0 && !w.pedal:
			return missColourDouble
		case f == feet8 || w.pedal && f == feet16:
			return missColourUnison
		}
		return missColourOctave
	case bass:
		switch {
		case open:
			return missBassUpper
		case f.Cmp(feet16) > 0:
			return missBassThirtyTwo
		case f == feet16:
			return missBassSixteen
		case f == feet8:
			return missBassEight
		}
		return missBassUpper
	}
	switch {
	case w.family == stopname.Reed:
		return missChorusReeds
	case w.family == stopname.Mixture || open:
		return missChorusMixture
	case f.IsMutation():
		return missChorusMutation
	case f.Cmp(feet8) > 0:
		return missChorusDouble
	case f == feet8:
		return missChorusUnison
	case f == feet4:
		return missChorusFour
	case f == feet2:
		return missChorusTwo
	}
	return missChorusTop
}

// isGround reports whether a group word stands for a whole sound, its unison
// among it, so that without it there is nothing.
func (w wanted) isGround() bool {
	if !isGroupWord(w.voice) {
		return false
	}
	switch w.voice.Group {
	case direction.Any, direction.Principal, direction.Flute, direction.String:
		return w.pitch.IsZero() || isDiapasons(w.voice)
	}
	return w.brings(feet8) || w.pedal && w.brings(feet16)
}

// brings reports whether a group word has a pitch among what it draws: that at
// which it stands, or the ground of the manual or the pedal.
func (w wanted) brings(p pitch.Feet) bool {
	switch w.voice.Group {
	case direction.Foundation:
		if !w.pitch.IsZero() {
			return w.pitch == p
		}
	case direction.ChorusTo, direction.Plenum, direction.Full, direction.Tutti:
	default:
		return false
	}
	return p == feet8 || w.pedal && p == feet16
}

// isFamilyWord reports whether a name says no more than the family, so that
// any stop of it is what is asked for.
func isFamilyWord(name string) bool { return familyWords()[plainWord(name)] }

func plainWord(name string) string {
	return strings.TrimRight(strings.ToLower(strings.TrimSpace(name)), ".")
}

// asked is the division that the voice is asked on, as far as want needs it.
func (w wanted) asked() *passage.Asked {
	if w.pedal {
		return &passage.Asked{Division: passage.Pedal}
	}
	return &passage.Asked{}
}
