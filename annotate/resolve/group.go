package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

var (
	feet16, feet8    = pitch.Foot(16), pitch.Foot(8)
	feet4, feet2     = pitch.Foot(4), pitch.Foot(2)
	feet2and2, feet1 = pitch.FeetOf(8, 3), pitch.Foot(1)
)

// isGroupWord reports whether a voice asks for several stops at once.
func isGroupWord(v direction.Voice) bool {
	switch v.Group {
	case direction.Foundation, direction.ChorusTo, direction.Plenum, direction.Grandjeu, direction.Full, direction.Tutti, direction.Celeste:
		return true
	}
	return v.Pitch.IsZero() || isDiapasons(v)
}

// isDiapasons: the old English "Diapasons" are the Open and the Stopped
// Diapason together (Grove, "Organ stop", Diapason).
func isDiapasons(v direction.Voice) bool {
	if v.Group != direction.Principal {
		return false
	}
	name := plainWord(strings.ReplaceAll(v.Name, "'", ""))
	return strings.HasPrefix(name, "diap") && strings.HasSuffix(name, "s")
}

// group draws what a group word means on the host division.
func (re reach) group(w wanted) fit {
	stops, lacking, note := re.r.expand(w, re.host)
	f := fit{Pick{Voice: w.voice, Note: note, Same: note == "" && re.octave == 0}, lacking}
	for _, s := range stops {
		f.pick.Stops = append(f.pick.Stops, Chosen{Stop: s})
	}
	if len(stops) == 0 {
		f.pick.Missing, f.pick.Same = true, false
		f.pick.Note = ""
		f.cost = max(lacking, w.missing())
	}
	return f
}

// An expansion gathers the stops of a division that a group word draws.
type expansion struct {
	r       *resolver
	w       wanted
	d       *registry.Division
	stops   []*registry.Stop
	lacking int    // what the lack of stops costs
	note    string // what is lacking first
}

// expand lists the stops of a division that a group word draws, in the order
// of the knobs, what their lack costs, and a sentence where something that
// the word stands for is not there. The meanings are those of the handbooks
// (Grove, "Full organ" and "Organ stop"; for the French words the teaching on
// Franck's and Widor's directions), and common practice.
func (r *resolver) expand(w wanted, d *registry.Division) (stops []*registry.Stop, lacking int, note string) {
	e := &expansion{r: r, w: w, d: d}
	switch w.voice.Group {
	case direction.Foundation:
		e.foundation()
	case direction.ChorusTo:
		e.chorusTo(w.pitch)
	case direction.Plenum:
		e.plenum()
	case direction.Grandjeu:
		e.grandjeu()
	case direction.Full:
		e.full(false)
	case direction.Tutti:
		e.full(true)
	case direction.Reed:
		e.reeds(r.lang)
	case direction.Celeste:
		e.celeste()
	case direction.Any:
		e.all()
	case direction.Principal:
		if isDiapasons(w.voice) {
			e.diapasons()
			break
		}
		e.family(stopname.Principal)
	default:
		f, _ := stopname.ParseFamily(string(w.voice.Group))
		e.family(f)
	}
	return e.inOrder(), e.lacking, e.note
}

// take draws every stop that the test lets pass, and reports how many.
func (e *expansion) take(test func(*registry.Stop) bool) int {
	n := 0
	for _, s := range e.d.Stops {
		if s.Use != "" || excepts(e.w.voice, s.Known.Family) || leftOut(e.w.leave, s) || !test(s) {
			continue
		}
		e.stops, n = append(e.stops, s), n+1
	}
	return n
}

// takeAt draws the stops of some families at one pitch.
func (e *expansion) takeAt(p pitch.Feet, families ...stopname.Family) int {
	return e.take(func(s *registry.Stop) bool { return s.Pitch == p && isOf(s, families...) })
}

func isOf(s *registry.Stop, families ...stopname.Family) bool {
	for _, f := range families {
		if s.Known.Family == f {
			return true
		}
	}
	return false
}

func (e *expansion) lack(cost int, format string, args ...any) {
	e.lacking += cost
	if e.note == "" {
		e.note = fmt.Sprintf(format, args...)
	}
}

// lackPitch notes that a pitch of the group cannot be had.
func (e *expansion) lackPitch(p pitch.Feet) {
	e.lack(wanted{meaning: meaning{pitch: p, use: e.w.use, pedal: e.w.pedal}}.missing(), "the %s has nothing at %s for %q", e.d.Name, feetText(p), e.w.called())
}

// inOrder are the stops in the order of the knobs, without doubles.
func (e *expansion) inOrder() []*registry.Stop {
	drawn := map[*registry.Stop]bool{}
	for _, s := range e.stops {
		drawn[s] = true
		if bass, _ := bassOf(s); bass != nil {
			drawn[bass] = true // the lowest notes of the stop
		}
	}
	var out []*registry.Stop
	for _, s := range e.d.Stops {
		if drawn[s] {
			out = append(out, s)
		}
	}
	return out
}

func (e *expansion) ground() pitch.Feet {
	if e.w.pedal {
		return feet16
	}
	return feet8
}

// foundation: the flue stops that carry the chorus. The Hautbois of a Récit
// counts among its 8′ Fonds (teaching on Franck's third Choral).
func (e *expansion) foundation() {
	pitches := []pitch.Feet{e.w.pitch}
	if e.w.pitch.IsZero() {
		pitches = []pitch.Feet{feet8, feet4}
		if e.w.pedal {
			pitches = []pitch.Feet{feet16, feet8}
		}
	}
	soft := e.w.voice.Strength == "soft"
	for i, p := range pitches {
		n := e.take(func(s *registry.Stop) bool {
			return s.Pitch == p && isOf(s, stopname.Principal, stopname.Flute, stopname.String) && (!soft || strengthOf(s) <= 3)
		})
		if n == 0 && soft {
			n = e.takeAt(p, stopname.Flute, stopname.String)
		}
		if n == 0 && (i == 0 || !e.w.pitch.IsZero()) {
			e.lackPitch(p)
		}
		if p == e.ground() && n > 0 && !soft && !e.has(stopname.Principal) && !e.has(stopname.Flute) {
			e.lack(missChorusBody, "the %s has only strings at %s", e.d.Name, feetText(p))
		}
		if p == feet8 && n > 0 && !soft && e.d.Role == division.Swell && plainWord(e.w.voice.Name) == "fonds" {
			e.take(func(s *registry.Stop) bool { return s.Pitch == feet8 && s.Known.Subfamily == stopname.KindOboe })
		}
	}
}

// chorusTo: the flue chorus from 8′ up to a pitch; a flute where a principal
// is wanting.
func (e *expansion) chorusTo(top pitch.Feet) {
	for _, p := range []pitch.Feet{feet16, feet8, feet4, feet2and2, feet2, feet1} {
		if p.Cmp(top) < 0 || p == feet16 && !e.w.pedal {
			continue
		}
		principal := e.take(func(s *registry.Stop) bool {
			return s.Pitch == p && s.Known.Family == stopname.Principal && s.Known.Subfamily != stopname.KindSoftPrincipal
		})
		if principal > 0 || p.IsMutation() && p != top {
			continue // a twelfth is not missed below the pitch that is named
		}
		if e.takeAt(p, stopname.Flute) == 0 && e.takeAt(p, stopname.Principal, stopname.String) == 0 {
			e.lackPitch(p)
		}
	}
}

func (e *expansion) hasAt(p pitch.Feet) bool {
	return slices.ContainsFunc(e.stops, func(s *registry.Stop) bool { return s.Pitch == p })
}

func (e *expansion) has(f stopname.Family) bool {
	for _, s := range e.stops {
		if s.Known.Family == f {
			return true
		}
	}
	return false
}

// all: every flue at the ground and the octave, or the soft or loud ones; where
// there are none so soft or so loud, whatever comes nearest to it.
func (e *expansion) all() {
	within := func(strong func(int) bool) int {
		return e.take(func(s *registry.Stop) bool {
			flue := isOf(s, stopname.Principal, stopname.Flute, stopname.String)
			return flue && (s.Pitch == feet8 || s.Pitch == feet4 || s.Pitch == e.ground()) && strong(strengthOf(s))
		})
	}
	n := 0
	switch e.w.voice.Strength {
	case "soft":
		for most := 3; n == 0 && most <= 12; most++ {
			n = within(func(strength int) bool { return strength <= most })
		}
	case "loud":
		for least := 3; n == 0 && least >= -12; least-- {
			n = within(func(strength int) bool { return strength >= least })
		}
	default:
		n = within(func(int) bool { return true })
	}
	if n == 0 {
		e.lackPitch(e.ground())
	}
}

// diapasons: the Open and the Stopped Diapason.
func (e *expansion) diapasons() {
	open := e.take(func(s *registry.Stop) bool {
		return s.Pitch == feet8 && s.Known.Family == stopname.Principal && s.Known.Subfamily != stopname.KindSoftPrincipal
	})
	stopped := e.take(func(s *registry.Stop) bool { return s.Pitch == feet8 && s.Known.Subfamily == stopname.KindStoppedFlute })
	if open == 0 {
		e.lack(missChorusTwo, "the %s has no Open Diapason", e.d.Name)
		if stopped == 0 {
			e.takeAt(feet8, stopname.Flute)
		}
	}
}

// family: the stops of a family at its usual pitch, or at the one given.
func (e *expansion) family(f stopname.Family) {
	p := e.w.pitch
	if p.IsZero() && f != stopname.Mixture && f != stopname.Cornet {
		p = e.ground()
	}
	n := 0
	if f == stopname.Mixture {
		n = e.take(e.isNamed) // one mixture by its name, not all that there are
	}
	if n == 0 {
		n = e.take(func(s *registry.Stop) bool { return s.Known.Family == f && (p.IsZero() || s.Pitch == p) })
	}
	if n == 0 && p == feet16 && e.w.pitch.IsZero() {
		n = e.takeAt(feet8, f)
	}
	if n == 0 && f != stopname.Mixture && f != stopname.Cornet {
		// The nearest family at the pitch, rather than nothing.
		s, d := nearest(e.d, func(s *registry.Stop) (int, bool) {
			d, ok := distance(stopname.UsualKind(f), s.Known.Subfamily, f, s.Known.Family)
			return d, ok && s.Pitch == p && d < otherFamily && s.Use == ""
		})
		if s != nil {
			e.stops = append(e.stops, s)
			e.lack(d, "the %s has no %s; %s comes nearest", e.d.Name, f, s.Text)
			return
		}
	}
	if n == 0 {
		e.lack(e.w.missing(), "the %s has no %s", e.d.Name, f)
	}
}

// leftOut reports whether a stop is one of those that the print leaves out of a
// group: of its pitch, its family, or both.
func leftOut(leave []direction.Voice, s *registry.Stop) bool {
	for _, v := range leave {
		family, known := stopname.ParseFamily(string(v.Group))
		if (v.Pitch.IsZero() || v.Pitch == s.Pitch) && (!known || family == s.Known.Family) && (known || !v.Pitch.IsZero()) {
			return true
		}
	}
	return false
}

// isNamed reports whether a stop has the name that the text gives, in the
// singular.
func (e *expansion) isNamed(s *registry.Stop) bool {
	name := plainWord(e.w.voice.Name)
	if name == "" || strings.HasSuffix(name, "s") || strings.HasSuffix(name, "en") {
		return false
	}
	return sameWords(e.w.voice.Name, s.Name) || e.w.name.Entry != "" && e.w.name.Entry == s.Known.Entry
}

func excepts(v direction.Voice, f stopname.Family) bool {
	for _, g := range v.Except {
		if string(g) == f.String() {
			return true
		}
	}
	return false
}
