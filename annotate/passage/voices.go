package passage

import (
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry/stopname"
)

// maxVoices is the most that is kept of what is asked of one division: more
// than any division has.
const maxVoices = 100

// A registration is what is asked of one division at a moment. Its slices are
// never changed in place, so that copies may share them.
type registration struct {
	voices   []direction.Voice
	without  []direction.Voice // what a group word among the voices would bring and that was put in
	prepared []direction.Voice // drawn, or to be added, later
	before   []direction.Voice // what was drawn before a word for everything ("Tutti"), and comes back after it
	box      string
	level    string
	levelAt  moment
	trem     bool
	role     Role
	called   []direction.Voice // the reeds and mixtures that were added to what was listed
	drawnAt  int               // the number of the text that last drew stops on it
	setAt    moment            // when its stops were last listed
}

// set draws exactly these: what was there goes, what is prepared waits on.
func (r registration) set(voices []direction.Voice) registration {
	was := r.voices
	r.voices, r.without = nil, nil
	for _, v := range voices {
		r = r.draw(v, was)
	}
	switch {
	case len(voices) != 1 || !isEverything(voices[0].Group):
		r.before = nil
	case len(was) != 1 || !isEverything(was[0].Group):
		r.before = was
	}
	r.trem, r.role, r.called = false, "", nil
	return r
}

// leftOf are what is left of the stops that are drawn when they are reduced to
// these: "reduce to 8 ft." leaves the flue stops of 8 ft.
func (r registration) leftOf(voices []direction.Voice) []direction.Voice {
	var out []direction.Voice
	for _, v := range voices {
		var left []direction.Voice
		for _, w := range r.voices {
			flue := w.Group != direction.Reed && w.Group != direction.Mixture && !isGroup(w.Group)
			if !w.Pitch.IsZero() && w.Pitch == v.Pitch && mayBe(v.Name, w.Name) && (v.Group == direction.Any && flue || v.Group == w.Group || v.Group == direction.Foundation && matches(v, w)) {
				left = append(left, w)
			}
		}
		if len(left) == 0 || v.Name != "" && len(left) > 1 && !isGroup(v.Group) {
			left = []direction.Voice{v}
		}
		out = append(out, left...)
	}
	return out
}

// mayBe reports whether what is called by one name can be what is drawn under
// another: a Flute can be the Claribel Flute, but an Oboe no Vox Humana.
func mayBe(name, drawn string) bool {
	if name == "" || drawn == "" {
		return true
	}
	a, b := stopname.Resolve(name, stopname.Place{}), stopname.Resolve(drawn, stopname.Place{})
	return a.Family != stopname.Reed || b.Family != stopname.Reed || a.Subfamily == b.Subfamily
}

// hasAll reports whether all these are drawn already.
func (r registration) hasAll(voices []direction.Voice) bool {
	for _, v := range voices {
		if !slices.ContainsFunc(r.voices, func(w direction.Voice) bool { return sameButForName(v, w) }) {
			return false
		}
	}
	return true
}

// add draws these as well.
func (r registration) add(voices []direction.Voice) registration {
	for _, v := range voices {
		if isCalled(v) && len(r.called) < maxVoices {
			r.called = append(slices.Clone(r.called), v)
		}
		r = r.draw(v, r.voices)
	}
	return r
}

// isCalled reports whether a voice is a word for reeds or mixtures, which are
// called for and put away on several divisions at once.
func isCalled(v direction.Voice) bool {
	return (v.Group == direction.Reed || v.Group == direction.Mixture) && v.Pitch.IsZero()
}

// draw adds one voice. A group word without a pitch means what the score has
// prepared of that group, or named by its pitches before: "Fonds" after
// "Fonds de 16, 8 et 4" are those three.
func (r registration) draw(v direction.Voice, was []direction.Voice) registration {
	meant, alike := []direction.Voice{v}, sameVoice
	if v.Pitch.IsZero() {
		if found := ofGroup(v, was); len(found) > 0 {
			meant, alike = found, sameButForName
		}
		if found := ofGroup(v, r.prepared); len(found) > 0 {
			meant, alike = found, sameButForName
			for i := range meant {
				if meant[i].Name == "" {
					meant[i].Name = v.Name
				}
			}
		}
	}
	r.prepared = slices.DeleteFunc(slices.Clone(r.prepared), func(w direction.Voice) bool {
		return w.Group == v.Group && (v.Pitch.IsZero() || w.Pitch == v.Pitch)
	})
	r, back := r.letBack(v)
	if back {
		return r
	}
	drawn := slices.Clone(r.voices)
	for _, m := range meant {
		same := func(w direction.Voice) bool { return alike(m, w) }
		if len(drawn) < maxVoices && !slices.ContainsFunc(drawn, same) {
			drawn = append(drawn, m)
		}
	}
	r.voices = drawn
	return r
}

// letBack gives a group word back what was left out of it: "add Reeds" after
// "without Reeds" of a full division.
func (r registration) letBack(v direction.Voice) (registration, bool) {
	found := false
	r.without = slices.DeleteFunc(slices.Clone(r.without), func(w direction.Voice) bool {
		found = found || matches(v, w)
		return matches(v, w) || w.Group == v.Group && w.Pitch.IsZero() // "8 ft. without Reeds", then "add Oboe"
	})
	if v.Pitch.IsZero() {
		r.voices = slices.Clone(r.voices)
		for i, w := range r.voices {
			if slices.Contains(w.Except, v.Group) {
				r.voices[i].Except = slices.DeleteFunc(slices.Clone(w.Except), func(g direction.Group) bool { return g == v.Group })
				found = true
			}
		}
	}
	return r, found
}

// ofGroup are the voices that a group word stands for: those of the group that
// have a pitch and no name of their own.
func ofGroup(word direction.Voice, voices []direction.Voice) []direction.Voice {
	var out []direction.Voice
	for _, v := range voices {
		if v.Group == word.Group && !v.Pitch.IsZero() && (v.Name == "" || strings.EqualFold(v.Name, word.Name)) {
			out = append(out, v)
		}
	}
	return out
}

// off puts voices in.
func (r registration) off(voices []direction.Voice) registration {
	for _, v := range voices {
		if len(r.voices) == 1 && isEverything(v.Group) && r.voices[0].Group == v.Group && r.before != nil {
			r.voices, r.before = r.before, nil
			continue
		}
		r = r.putIn(v)
	}
	return r
}

// putIn puts in one voice: the one of that name, else all that match. A group
// word that is drawn keeps the rest of what it has.
func (r registration) putIn(v direction.Voice) registration {
	fits := func(w direction.Voice) bool { return matches(v, w) }
	if v.Name != "" {
		named := func(w direction.Voice) bool {
			return strings.EqualFold(strings.TrimRight(v.Name, "."), strings.TrimRight(w.Name, ".")) && (v.Pitch.IsZero() || v.Pitch == w.Pitch)
		}
		if slices.ContainsFunc(r.voices, named) {
			fits = named
		}
	}
	var kept []direction.Voice
	found, limited := false, false
	for _, w := range r.voices {
		switch {
		case fits(w):
			found = true
			continue
		case isGroup(w.Group) && w.Pitch.IsZero() && !isGroup(v.Group) && v.Pitch.IsZero():
			if !slices.Contains(w.Except, v.Group) {
				w.Except = append(slices.Clone(w.Except), v.Group)
			}
			limited = true
		}
		kept = append(kept, w)
	}
	// "Without 16 ft." of a full organ: nothing drawn has that pitch by itself.
	open := slices.ContainsFunc(kept, func(w direction.Voice) bool { return isGroup(w.Group) })
	if !found && !limited && open && len(r.without) < maxVoices && !slices.ContainsFunc(r.without, func(w direction.Voice) bool { return sameVoice(v, w) }) {
		r.without = append(slices.Clone(r.without), v)
	}
	r.voices = kept
	r.prepared = slices.DeleteFunc(slices.Clone(r.prepared), func(w direction.Voice) bool { return matches(v, w) })
	return r
}

// prepare keeps voices for later.
func (r registration) prepare(voices []direction.Voice) registration {
	prepared := slices.Clone(r.prepared)
	for _, v := range voices {
		if len(prepared) < maxVoices && !slices.ContainsFunc(prepared, func(w direction.Voice) bool { return sameVoice(v, w) }) {
			prepared = append(prepared, v)
		}
	}
	r.prepared = prepared
	return r
}

// matches reports whether putting in v puts in w.
func matches(v, w direction.Voice) bool {
	if !v.Pitch.IsZero() && w.Pitch != v.Pitch {
		return false
	}
	switch v.Group {
	case direction.Any, w.Group:
		return true
	case direction.Foundation:
		return w.Group == direction.Principal || w.Group == direction.Flute || w.Group == direction.String
	}
	return false
}

// sameVoice reports whether two voices ask for the same thing.
func sameVoice(a, b direction.Voice) bool {
	return a.Group == b.Group && a.Pitch == b.Pitch && a.Name == b.Name && a.Strength == b.Strength &&
		slices.Equal(a.Except, b.Except) && slices.EqualFunc(a.Or, b.Or, sameVoice)
}

// sameButForName reports the same of a voice that has no name of its own.
func sameButForName(a, b direction.Voice) bool {
	if a.Name == "" || b.Name == "" {
		a.Name, b.Name = "", ""
	}
	return sameVoice(a, b)
}

// isGroup reports whether the word stands for several stops.
func isGroup(g direction.Group) bool {
	switch g {
	case direction.Foundation, direction.Any, direction.ChorusTo, direction.Plenum, direction.Grandjeu, direction.Full, direction.Tutti:
		return true
	}
	return false
}

// isEverything reports whether the word stands for all that a division has, so
// that taking it off brings back what was there.
func isEverything(g direction.Group) bool { return g == direction.Full || g == direction.Tutti }

// isTutti reports whether everything is drawn on the whole organ.
func (r registration) isTutti() bool {
	return slices.ContainsFunc(r.voices, func(v direction.Voice) bool { return v.Group == direction.Tutti })
}
