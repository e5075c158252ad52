package resolve

import (
	"stopgap/registry/sound"
)

// A Listener hears the lines of a plan.
type Listener struct{ r *resolver }

// Listen returns a Listener for the plan. It keeps what it has computed of
// each stop, so one serves for the whole plan.
func (p *Plan) Listen() *Listener {
	return &Listener{newResolver(p.Organ, p.Asked.Lang, p.numbering)}
}

// Given is how a line sounds on the organ; ok is false where it is silent.
func (l *Listener) Given(s *Setting, line *Line) (h sound.Heard, ok bool) {
	if line.Keyboard == nil || len(line.Sounds) == 0 || len(line.Asked.Notes) == 0 {
		return h, false
	}
	return l.r.ear(line.Asked).heard(l.r.givenSound(s, line)), true
}

// Asked is how what is asked of a line would sound; ok is false where nothing
// is asked or nothing can be told.
func (l *Listener) Asked(s *Setting, line *Line) (h sound.Heard, ok bool) {
	if line.Part == nil || len(line.Part.Asked.Voices) == 0 || len(line.Asked.Notes) == 0 {
		return h, false
	}
	asked := l.r.askedSound(s, line)
	if len(asked) == 0 {
		return h, false
	}
	return l.r.ear(line.Asked).heard(asked), true
}
