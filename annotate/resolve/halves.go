package resolve

import (
	"fmt"
	"slices"

	"stopgap/registry"
	"stopgap/registry/stopname"
)

// A stop may begin at tenor C and leave its lowest notes to another: the two
// halves of one stop (Stopped Diapason and Stopped Bass; the halves of a
// divided stop), or a common bass for several (common practice of small organs).

// isBass reports whether a stop has only the lowest notes of its division.
func isBass(s *registry.Stop) bool {
	d := s.Division.Compass
	return isOf(s, stopname.Principal, stopname.Flute, stopname.String, stopname.Reed) &&
		s.Compass.Low <= d.Low && s.Compass.High < d.High-12
}

// bassOf is the stop that has the notes below those of s, nil if there is none;
// own tells that the two are one stop rather than that one lends its bass.
func bassOf(s *registry.Stop) (bass *registry.Stop, own bool) {
	if s.Compass.Low <= s.Division.Compass.Low || !isOf(s, stopname.Principal, stopname.Flute, stopname.String, stopname.Reed) {
		return nil, false
	}
	for _, b := range inOrder(s.Division) {
		if !isBass(b) || b.Pitch != s.Pitch || b.Compass.High+1 < s.Compass.Low {
			continue
		}
		reed := s.Known.Family == stopname.Reed
		switch {
		case s.Known.Subfamily == b.Known.Subfamily:
			return b, true
		case reed || b.Known.Family == stopname.Reed:
		case bass == nil:
			bass = b
		}
	}
	return bass, false
}

// completed adds to the ways of giving a voice by stops that lack their lowest
// notes those with their bass. A bass alone is given only where it is named, or
// where nothing goes on above it.
func (re reach) completed(w wanted, fits []fit) []fit {
	var out []fit
	for _, f := range fits {
		c := f.pick.Stops[0]
		if isBass(c.Stop) && c.Stop.Half == registry.Whole && !sameWords(w.voice.Name, c.Stop.Name) && goesOn(c.Stop) {
			continue
		}
		bass, own := bassOf(c.Stop)
		if bass == nil {
			out = append(out, f)
			continue
		}
		whole := f
		whole.pick.Stops = []Chosen{c, {bass, c.Path}}
		whole.pick.Note = fmt.Sprintf("%s has the lowest notes of %s", bass.Text, c.Stop.Text)
		if f.pick.Note != "" {
			whole.pick.Note = f.pick.Note + "; " + whole.pick.Note
		}
		whole.pick.Same = false
		if own && c.Stop.Half == registry.Whole && !servesTwo(bass) {
			out = append(out, whole)
			continue
		}
		whole.cost += costHalf
		out = append(out, whole, f)
	}
	return out
}

// servesTwo reports whether two stops of the kind of a bass go on above it.
func servesTwo(bass *registry.Stop) bool {
	n := 0
	for _, s := range bass.Division.Stops {
		if b, own := bassOf(s); b == bass && own {
			n++
		}
	}
	return n > 1
}

// goesOn reports whether a stop of the division goes on above a bass.
func goesOn(bass *registry.Stop) bool {
	return slices.ContainsFunc(bass.Division.Stops, func(s *registry.Stop) bool {
		b, _ := bassOf(s)
		return b == bass
	})
}

// inHalves reports whether two hands have each its own half of one keyboard,
// where stops are divided: all that one draws is in the treble and all that the
// other draws in the bass, and neither has a key in the other's half.
func inHalves(a, b *Part) bool {
	x, y := a.half(), b.half()
	return x != registry.Whole && y != registry.Whole && x != y && a.Octave == b.Octave && !a.reaches(b) && !b.reaches(a)
}

// half is the half of the keyboard in which all stops of a part are, Whole if
// they are not all in one.
func (p *Part) half() registry.Half {
	half := registry.Whole
	for n := range p.Picks {
		for _, c := range p.Picks[n].Stops {
			if c.Path != nil || c.Stop.Half == registry.Whole || half != registry.Whole && half != c.Stop.Half {
				return registry.Whole
			}
			half = c.Stop.Half
		}
	}
	return half
}

// reaches reports whether a part has a key on which a stop of another speaks.
func (p *Part) reaches(other *Part) bool {
	for _, k := range p.ask.struck {
		for n := range other.Picks {
			for _, c := range other.Picks[n].Stops {
				if c.Stop.Compass.Has(k.key + registry.Key(12*p.Octave)) {
					return true
				}
			}
		}
	}
	return false
}
