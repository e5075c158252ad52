package resolve

import (
	_ "embed"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/sound"
	"stopgap/registry/stopname"
)

//go:embed ordinary.tsv
var ordinaryTSV string

// ordinary are the names of the ordinary organ's stops by family and pitch.
var ordinary = sync.OnceValue(func() map[[2]string]string {
	out := map[[2]string]string{}
	for line := range strings.Lines(ordinaryTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && f[0][0] != '#' {
			out[[2]string{f[0], f[1]}] = f[2]
		}
	}
	return out
})

// Difference is how a line sounds on the organ against what is asked, in
// tenths: loudness in tenths of a phon (of a decibel at 1 kHz), brightness in
// tenths of an octave, colour in tenths of a decibel. Loudness and brightness
// are positive where the organ gives more.
type Difference struct{ Loudness, Brightness, Colour int }

// hear compares what a line sounds like with what is asked of it, on an
// ordinary organ of the kind. It returns nil where no stops are asked for or
// nothing sounds.
func (r *resolver) hear(s *Setting, line *Line) *Difference {
	if line.Part == nil || line.Keyboard == nil || len(line.Part.Asked.Voices) == 0 || len(line.Sounds) == 0 || len(line.Asked.Notes) == 0 {
		return nil
	}
	asked := r.askedSound(s, line)
	if len(asked) == 0 {
		return nil
	}
	h := r.ear(line.Asked)
	d := sound.Between(h.heard(r.givenSound(s, line)), h.heard(asked))
	return &Difference{sound.Tenths(d.Loudness), sound.Tenths(d.Brightness), sound.Tenths(d.Colour)}
}

// givenSound is what sounds on the organ where a line is played, against the
// printed notes.
func (r *resolver) givenSound(s *Setting, line *Line) []sound.Drawn {
	var given []sound.Drawn
	for _, x := range line.Sounds {
		d := r.drawn(s, x)
		d.Octave += line.Octave
		given = append(given, d)
	}
	return given
}

// drawn is a sounding stop of the organ as it is heard, in its box.
func (r *resolver) drawn(s *Setting, x registry.Sound) sound.Drawn {
	return r.inBox(x, s.Boxes[x.Stop.Division])
}

// inBox is a sounding stop as it is heard where the box of its division has a
// position.
func (r *resolver) inBox(x registry.Sound, position string) sound.Drawn {
	d := sound.Drawn{Stop: r.soundOf(x.Stop), Octave: x.Octave}
	if box := x.Stop.Box(); box != nil {
		d.Box = boxAt(box, position)
	}
	return d
}

func boxAt(box *registry.Box, position string) sound.Box {
	b := sound.Box{Strength: box.Strength}
	if b.Strength == 0 {
		b.Strength = sound.UsualStrength
	}
	switch position {
	case "shut", "opening":
		b.Shut = 1
	case "half":
		b.Shut = 0.5
	}
	return b
}

func (r *resolver) soundOf(s *registry.Stop) *sound.Stop {
	if known := r.sounds[s]; known != nil {
		return known
	}
	k := s.Known
	k.Pitch = s.Pitch
	out := sound.Of(k, sound.Options{Level: s.Level, Ranks: s.Composition})
	r.sounds[s] = out
	return out
}

// askedSound is what the score asks for, on an ordinary organ: each voice as
// the stop that its name or family means; a group word as the organ at hand
// has it.
func (r *resolver) askedSound(s *Setting, line *Line) []sound.Drawn {
	reached := coupledTo(s.Passage, line.Asked.Division)
	var out []sound.Drawn
	for _, p := range s.Parts {
		if !reached[p.Asked.Division] || p != line.Part && p.Asked == line.Part.Asked {
			continue // another hand has a part of its own of what is asked there
		}
		// A box that the score speaks of stands alike in what is asked and given.
		var box sound.Box
		if p.Asked.Box != "" {
			box = boxAt(&registry.Box{}, p.Asked.Box)
		}
		for _, pick := range p.Picks {
			if isGroupWord(pick.Voice) {
				for _, c := range pick.Stops {
					out = append(out, sound.Drawn{Stop: r.soundOf(c.Stop), Box: box})
				}
				continue
			}
			stop := r.soundAsked(pick.Voice, p.Asked.Division == passage.Pedal, r.originalOf(p.Asked.Division, pick.Voice))
			out = append(out, sound.Drawn{Stop: stop, Box: box})
		}
	}
	return out
}

// soundAsked is how a voice is meant to sound: as it did on the organ that the
// composer wrote for, where one is chosen, else on an ordinary one.
func (r *resolver) soundAsked(v direction.Voice, pedal bool, original *registry.Stop) *sound.Stop {
	if original != nil {
		return r.soundOf(original)
	}
	key := meantKey{v.Group, v.Name, v.Pitch, pedal}
	known := r.meant[key]
	if known == nil {
		known = sound.Of(ordinaryStop(v, pedal, r.lang), sound.Options{})
		r.meant[key] = known
	}
	return known
}

// meantKey is what the meaning of a voice on an ordinary organ depends on.
type meantKey struct {
	group direction.Group
	name  string
	pitch pitch.Feet
	pedal bool
}

// ordinaryStop is what a voice means on an ordinary organ.
func ordinaryStop(v direction.Voice, pedal bool, lang string) stopname.Known {
	at := stopname.Place{Pedal: pedal, Lang: lang, Pitch: v.Pitch}
	if v.Name != "" {
		if k := stopname.Resolve(v.Name, at); k.How != stopname.Unknown {
			return withPitch(k, v.Pitch)
		}
	}
	name, ok := ordinary()[[2]string{string(v.Group), v.Pitch.String()}]
	if !ok {
		name = ordinary()[[2]string{string(v.Group), "-"}]
	}
	at.Lang = "en"
	return withPitch(stopname.Resolve(name, at), v.Pitch)
}

func withPitch(k stopname.Known, p pitch.Feet) stopname.Known {
	if !p.IsZero() {
		k.Pitch = p
	}
	return k
}

func soundNotes(notes []passage.Pressed, octave int) []sound.Note {
	var out []sound.Note
	for _, n := range notes {
		out = append(out, sound.Note{
			Key:   int(n.Key) + 12*octave,
			Start: n.Note.Onset.Float64(),
			End:   n.Note.Onset.Add(n.Note.Duration).Float64(),
		})
	}
	return out
}
