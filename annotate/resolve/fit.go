package resolve

import (
	"fmt"
	"math"
	"slices"

	"stopgap/annotate/direction"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/sound"
	"stopgap/registry/stopname"
)

// reach is what one keyboard can sound for a part: the stops of its host and
// those of the divisions that lend to it.
type reach struct {
	r      *resolver
	host   *registry.Division
	octave int
	paths  []*Path
}

// A fit is one way of giving a voice.
type fit struct {
	pick Pick
	cost int
}

// every lists the ways of giving a voice within reach, leaving it out among
// them.
func (re reach) every(w wanted) []fit {
	var out []fit
	missing := fit{Pick{Voice: w.voice, Missing: true}, w.missing()}
	if isGroupWord(w.voice) {
		f := re.group(w)
		if !f.pick.Missing {
			// What there is of it is drawn, or all of it left out.
			return append(re.compounds(w), f, fit{Pick{Voice: w.voice, Missing: true}, w.missing()})
		}
		missing = f
	} else {
		out = re.single(w)
		out = append(out, re.warmed(w, out)...)
		for _, v := range w.voice.Or {
			alt := re.r.want(v, w.asked(), w.use, w.solo)
			for _, f := range re.single(alt) {
				f.pick.Voice = w.voice
				out = append(out, f)
			}
		}
	}
	out = append(out, re.compounds(w)...)
	out = append(out, re.coupledDown(w)...)
	out = append(out, re.otherOctave(w)...)
	out = append(out, re.doubled(w)...)
	out = append(out, re.resultants(w)...)
	out = append(out, re.instead(w, missing.cost)...)
	return append(out, missing)
}

// coupledDown lists the couplers that can bring the pedal its 8′ from a manual that
// is played, with whatever is drawn there: to the bass, and as a last resort to
// a solo, which then has the hands' colour but its own pitch.
func (re reach) coupledDown(w wanted) []fit {
	if !w.pedal || w.pitch.IsZero() || isGroupWord(w.voice) {
		return nil
	}
	solo := w.solo && w.use == colour && !w.shared
	if !solo && (w.use != bass || w.pitch != feet8) {
		return nil
	}
	var out []fit
	for _, c := range re.r.organ.Couplers {
		if c.To != re.host || c.Within() || c.Octave != 0 || c.Note != registry.EveryNote {
			continue
		}
		if !solo {
			note := fmt.Sprintf("the %s has no %s at %s, so the %s is coupled down for it", re.host.Name, w.rankWord(), feetText(w.pitch), c.From.Name)
			out = append(out, fit{Pick{Voice: w.voice, Joined: c, Note: note}, costJoin})
			continue
		}
		for off := -2; off <= 2; off++ {
			if feet8.Octaves(re.octave) != w.pitch.Octaves(off) || off != 0 && re.octave != 0 {
				continue // off its pitch it stays in the octave that is printed
			}
			f := fit{Pick{Voice: w.voice, Joined: c, off: off != 0}, costJoinSolo}
			f.pick.Note = fmt.Sprintf("the %s, as the hands have it, is coupled down for the %s", c.From.Name, w.called())
			if off != 0 {
				f.pick.Note += fmt.Sprintf(", and sounds %s %s than is asked for", octaves(off), upOrDown(off))
				f.cost = missSoloPitch + costOtherPitch*max(off, -off) + costJoin
			}
			out = append(out, f)
		}
	}
	return out
}

// rankWord is what the lack of a voice is the lack of: "reed", or "stop".
func (w wanted) rankWord() string {
	if w.family == stopname.Reed {
		return "reed"
	}
	return "stop"
}

// single lists the stops that can be given for a voice.
func (re reach) single(w wanted) []fit {
	var out []fit
	from := func(d *registry.Division, p *Path, shift int) {
		for _, x := range re.r.fitting(w, d, shift) {
			f := fit{Pick{Voice: w.voice, Stops: []Chosen{{x.stop, p}}, Note: x.note, Same: x.same && p == nil && shift == 0}, x.cost}
			if w.use == colour && !w.shared && re.r.lacksUnison(w, x.stop) {
				f.cost += costThinCornet
				f.pick.Note = fmt.Sprintf("%s has no 8′ of its own", x.stop.Text)
			}
			out = append(out, f)
		}
	}
	from(re.host, nil, re.octave)
	for _, p := range re.paths {
		from(p.From, p, re.octave+p.Octave)
	}
	return re.completed(w, out)
}

// otherOctave lists the stops to be had for a solo where nothing has its pitch:
// those an octave off, or two, rather than silence.
func (re reach) otherOctave(w wanted) []fit {
	if !w.solo || w.use != colour || w.pitch.IsZero() || isGroupWord(w.voice) || re.octave != 0 {
		return nil // off its pitch it stays in the octave that is printed
	}
	var out []fit
	for _, off := range []int{-1, 1, -2, 2} {
		at := w
		at.pitch = w.pitch.Octaves(off)
		for _, f := range re.single(at) {
			f.pick.Same, f.pick.off = false, true
			f.pick.Note = offPitch(f.pick.Stops[0].Stop, off, w)
			f.cost += costOtherPitch * max(off, -off)
			if !w.shared {
				f.cost += missSoloPitch
			}
			out = append(out, f)
		}
	}
	return out
}

func offPitch(s *registry.Stop, off int, w wanted) string {
	return fmt.Sprintf("%s sounds %s %s than the %s that is asked for", s.Text, octaves(off), upOrDown(off), VoiceText(w.voice))
}

// A fitting stop is one that can be given for a voice, by itself.
type fittingStop struct {
	stop *registry.Stop
	cost int
	same bool
	note string
}

// fittingKey is what the cost of a stop for a voice depends on.
type fittingKey struct {
	group    direction.Group
	pitch    pitch.Feet
	name     string
	strength string
	use      use
	solo     bool
	below    bool
	pedal    bool
	was      *registry.Stop // on the organ that the composer wrote for
	division *registry.Division
	shift    int
}

// fitting are the stops of a division that can be given for a voice when they
// sound shift octaves above their own pitch.
func (r *resolver) fitting(w wanted, d *registry.Division, shift int) []fittingStop {
	v := w.voice
	key := fittingKey{v.Group, w.pitch, v.Name, v.Strength, w.use, w.solo, w.below, w.pedal, w.original, d, shift}
	if known, ok := r.fittings[key]; ok {
		return known
	}
	var out []fittingStop
	for _, s := range inOrder(d) {
		if cost, same, note, ok := r.fit(w, s, shift); ok {
			out = append(out, fittingStop{s, cost, same, note})
		}
	}
	named := slices.ContainsFunc(out, func(x fittingStop) bool { return x.same && x.cost == 0 && !w.generic })
	for i := range out {
		if named && !out[i].same {
			out[i].cost = max(out[i].cost, costPassedOver)
		}
	}
	r.fittings[key] = out
	return out
}

// fit says what it costs to give a stop for a voice when it sounds shift
// octaves above its own pitch, whether an organist would take it for what is
// printed, and if not what is different. ok is false where it will not do.
func (r *resolver) fit(w wanted, s *registry.Stop, shift int) (cost int, same bool, note string, ok bool) {
	k := s.Known
	if k.Family == stopname.NoFamily || s.Pitch.IsZero() || s.Pitch.Octaves(shift) != w.pitch {
		return 0, false, "", false
	}
	if s.Use == "never in chorus" && w.use != colour {
		return 0, false, "", false
	}
	if w.voice.Group == direction.Any {
		cost, ok = anyFit(w, s)
		return cost, true, "", ok
	}
	switch {
	case w.name.How != stopname.Unknown && w.name.Entry != "" && w.name.Entry == k.Entry, sameWords(w.voice.Name, s.Name):
		cost, same = 0, true
	case w.generic && k.Family == w.family:
		// Among the stops of a family the plain ones are meant first.
		d, near := distance(w.kind, k.Subfamily, w.family, k.Family)
		if !near {
			return 0, false, "", false
		}
		cost, same = min(d/4, 12), true
		if k.Family == stopname.Reed && w.use == chorus && !chorusReed(s) {
			return 0, false, "", false
		}
	default:
		d, near := distance(w.kind, k.Subfamily, w.family, k.Family)
		if !near && w.solo && carriesTune(k) {
			d, near = costForeign, true
		}
		if !near {
			return 0, false, "", false
		}
		if w.use == chorus && isOf(s, stopname.Principal, stopname.Flute, stopname.String) {
			d = min(d, costChorusFamily)
		}
		cost = d + costOtherName + r.soundCost(w, s, shift)
		note = unlike(w, s, d)
	}
	switch w.voice.Strength {
	case "soft":
		cost += costStrength * max(0, strengthOf(s)-2)
	case "loud":
		cost += costStrength * max(0, 5-strengthOf(s))
	}
	return cost, same, note, true
}

// carriesTune reports whether a stop of another family can give a solo its
// pitch where nothing nearer does: any single rank in tune.
func carriesTune(k stopname.Known) bool {
	switch k.Family {
	case stopname.Principal, stopname.Flute, stopname.String, stopname.Reed:
		return true
	}
	return false
}

// unlike says how a stop differs from the one asked for.
func unlike(w wanted, s *registry.Stop, distance int) string {
	switch {
	case distance == 0:
		return fmt.Sprintf("%s is of the same kind as the %s", s.Text, w.called())
	case s.Known.Family == w.family && distance < otherKind:
		return fmt.Sprintf("%s comes nearest to the %s", s.Text, w.called())
	case s.Known.Family == w.family:
		return fmt.Sprintf("%s stands in for the %s, though another kind of %s", s.Text, w.called(), w.family)
	}
	return fmt.Sprintf("%s keeps the pitch of the %s, but it is a %s", s.Text, w.called(), s.Known.Family)
}

// anyFit ranks the flues where only a pitch is given: soft or loud ones where
// the text says so, else the ordinary ones, flutes and principals first.
func anyFit(w wanted, s *registry.Stop) (int, bool) {
	cost, strength := 0, strengthOf(s)
	switch s.Known.Family {
	case stopname.Principal, stopname.Flute:
	case stopname.String:
		cost = 2
	default:
		return 0, false
	}
	switch w.voice.Strength {
	case "soft":
		if k := s.Known; k.Family == stopname.Flute && k.Subfamily != stopname.KindStoppedFlute && k.Subfamily != stopname.KindChimneyFlute {
			cost++ // a stopped flute of the same loudness is meant first
		}
		return cost + 2*max(0, strength-1) + costStrength*max(0, strength-3), true
	case "loud":
		return cost + 2*(6-strength), true
	}
	if w.below {
		// An accompaniment stays below the solo: soft stops first.
		return cost + costBelow*max(0, strength-2) + max(0, 2-strength), true
	}
	return cost + max(strength-3, 3-strength), true
}

// strengthOf is how loud a stop is, from 1 to 6 as stop names are classed, with
// what the player says of it on this organ: five decibels to a class.
func strengthOf(s *registry.Stop) int {
	return s.Known.Loudness + int(math.Round(s.Level/5))
}

// soundCost is how far a stop is from what the voice means on an ordinary
// organ, as it sounds at middle C, or at C3 on the pedal.
func (r *resolver) soundCost(w wanted, s *registry.Stop, shift int) int {
	key := soundKey{w.voice.Group, w.voice.Name, w.pitch, w.pedal, w.original, s, shift}
	if c, ok := r.soundCosts[key]; ok {
		return c
	}
	at := 60
	if w.pedal {
		at = 48
	}
	asked := r.soundAsked(w.voice, w.pedal, w.original)
	d := sound.Between(
		sound.HearKey([]sound.Drawn{{Stop: r.soundOf(s), Octave: shift}}, at),
		sound.HearKey([]sound.Drawn{{Stop: asked}}, at))
	phon, colour := sound.Tenths(math.Abs(d.Loudness)), sound.Tenths(d.Colour)
	c := min(costSoundAtMost, (costLoudness*phon+costColour*colour)/10)
	r.soundCosts[key] = c
	return c
}

// chorusReed reports whether a reed may stand in a chorus: "Reeds" never
// draws a Clarinet, a Vox humana or a Tuba.
func chorusReed(s *registry.Stop) bool {
	if s.Known.Family != stopname.Reed || s.Use == "never in chorus" || s.Use == "solo" {
		return false
	}
	switch s.Known.Subfamily {
	case stopname.KindChorusReed, stopname.KindBassoon, stopname.KindOboe:
		return true
	case stopname.KindHorn:
		return s.Known.Chorus
	case stopname.KindRegal:
		return s.Known.Chorus
	}
	return false
}
