package resolve

import (
	"fmt"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// reach is what one keyboard can sound for a part: its own stops and those of
// the divisions that lend to it.
type reach struct {
	host   *registry.Division
	paths  []Path // lenders
	octave int
}

// wanted is the voice as a stop would have to be.
type wanted struct {
	voice  direction.Voice
	name   stopname.Known // what the printed name means; Unknown where none is printed
	family stopname.Family
	pitch  pitch.Feet
	role   passage.Role
	pedal  bool
}

func want(v direction.Voice, a *passage.Asked, role passage.Role, lang string) wanted {
	w := wanted{voice: v, pitch: v.Pitch, role: role, pedal: a.Division == passage.Pedal}
	if v.Name != "" {
		w.name = stopname.Resolve(v.Name, stopname.Place{Pedal: w.pedal, Lang: lang, Pitch: v.Pitch})
	}
	w.family, _ = stopname.ParseFamily(string(v.Group))
	return w
}

// choose finds the best stops for a voice within reach, and what they cost.
func (r reach) choose(w wanted, taken map[*registry.Stop]bool) (Pick, int) {
	best, cost := r.chooseOne(w, taken)
	for _, v := range w.voice.Or {
		alt := w
		alt.voice, alt.pitch = v, v.Pitch
		alt.family, _ = stopname.ParseFamily(string(v.Group))
		alt.name = stopname.Known{How: stopname.Unknown}
		if v.Name != "" {
			alt.name = stopname.Resolve(v.Name, stopname.Place{Pedal: w.pedal, Pitch: v.Pitch})
		}
		if p, c := r.chooseOne(alt, taken); c < cost {
			best, cost = p, c
		}
	}
	best.Voice = w.voice
	return best, cost
}

func (r reach) chooseOne(w wanted, taken map[*registry.Stop]bool) (Pick, int) {
	if isGroupWord(w.voice) {
		return r.chooseGroup(w)
	}
	best := Pick{Voice: w.voice, Missing: true}
	cost := missingCost(w)
	best.Note = fmt.Sprintf("there is no %s to be had at %s", w.called(), feetText(w.pitch))
	consider := func(d *registry.Division, p *Path, shift int) {
		for _, s := range d.Stops {
			if taken[s] {
				continue
			}
			c, same, note, ok := w.fit(s, shift)
			if !ok {
				continue
			}
			if p != nil {
				same = false
			}
			if c < cost {
				cost = c
				best = Pick{Voice: w.voice, Stops: []Chosen{{s, p}}, Note: note, Same: same && shift == 0}
			}
		}
	}
	consider(r.host, nil, r.octave)
	for i := range r.paths {
		p := &r.paths[i]
		consider(p.From, p, r.octave+p.Octave)
	}
	if best.Missing {
		if pick, c, ok := r.compound(w); ok && c < cost {
			return pick, c
		}
	}
	return best, cost
}

// fit says what it costs to give a stop for the voice, when it sounds shift
// octaves higher than its own pitch.
func (w wanted) fit(s *registry.Stop, shift int) (cost int, same bool, note string, ok bool) {
	if s.Known.Family == stopname.NoFamily {
		return 0, false, "", false
	}
	if !w.pitch.IsZero() {
		if s.Pitch.IsZero() || s.Pitch.Octaves(shift) != w.pitch {
			return 0, false, "", false
		}
	} else if w.family != s.Known.Family {
		return 0, false, "", false
	}
	if s.Use == "never in chorus" && w.role != passage.Solo {
		return 0, false, "", false
	}
	same = true
	switch {
	case w.voice.Group == direction.Any:
		cost, ok = w.anyFit(s)
		return cost, true, "", ok
	case w.name.How != stopname.Unknown && w.name.Entry != "" && w.name.Entry == s.Known.Entry:
	case sameWords(w.voice.Name, s.Name):
	case s.Known.Family == w.family && w.generic():
		cost += genericCost(s)
	case s.Known.Family == w.family && w.name.Subfamily != "" && w.name.Subfamily == s.Known.Subfamily:
		cost, same, note = costOtherName, false, fmt.Sprintf("%s is of the same kind as the %s", s.Text, w.called())
	case s.Known.Family == w.family:
		cost, same, note = costOtherKind, false, fmt.Sprintf("%s is a %s too, though of another kind than the %s", s.Text, s.Known.Family, w.called())
		if kindForbidden(w, s) {
			cost += costForbiddenReed
		}
	default:
		c, near := familyCost(w.family, s.Known.Family)
		cost, same = c, false
		note = fmt.Sprintf("%s has the pitch of the %s, but is a %s and not a %s", s.Text, w.called(), s.Known.Family, w.family)
		if !near {
			cost += costFamilyFar - costFamilyNear
		}
	}
	if w.name.Loudness > 0 && s.Known.Loudness > 0 && !same {
		cost += costLoudness * abs(w.name.Loudness-s.Known.Loudness)
	}
	switch w.voice.Strength {
	case "soft":
		cost += costLoudness * max(0, s.Known.Loudness-2)
	case "loud":
		cost += costLoudness * max(0, 5-s.Known.Loudness)
	}
	return cost, same, note, true
}

// generic reports whether the text only names a family ("Flute 8", "reed 4"),
// so that every stop of it is what is asked.
func (w wanted) generic() bool {
	if w.voice.Name == "" {
		return true
	}
	return w.name.How == stopname.Unknown || isFamilyWord(w.voice.Name)
}

// genericCost prefers the plain stops of a family where only the family is named.
func genericCost(s *registry.Stop) int {
	switch {
	case strings.Contains(s.Known.Subfamily, "solo"):
		return 3
	case s.Known.Family == stopname.Celeste:
		return 9
	}
	return 0
}

// anyFit ranks the flues where only a pitch is given: soft ones where the
// text says soft, loud ones where it says loud, else the ordinary ones.
func (w wanted) anyFit(s *registry.Stop) (int, bool) {
	switch s.Known.Family {
	case stopname.Principal, stopname.Flute, stopname.String:
	default:
		return 0, false
	}
	if s.Pitch.IsMutation() != w.pitch.IsMutation() {
		return 0, false
	}
	switch w.voice.Strength {
	case "soft":
		return s.Known.Loudness, true
	case "loud":
		return 6 - s.Known.Loudness, true
	}
	return abs(s.Known.Loudness - 3), true
}

// called is the voice as the text has it.
func (w wanted) called() string {
	if w.voice.Name != "" {
		return w.voice.Name
	}
	return string(w.voice.Group)
}

// missingCost is what it costs to leave the voice out.
func missingCost(w wanted) int {
	f := w.pitch
	switch {
	case w.role == passage.Solo:
		return costMissingSolo
	case f.IsZero() || f.IsMutation():
		return costMissingMutation
	case f == pitch.Foot(8) || w.pedal && f == pitch.Foot(16):
		return costMissingUnison
	case f.Cmp(pitch.Foot(8)) > 0:
		return costMissingDouble
	}
	return costMissingUpper
}

// near lists the families that come next to one another.
var near = map[[2]stopname.Family]bool{
	{stopname.Principal, stopname.Flute}:  true,
	{stopname.Principal, stopname.String}: true,
	{stopname.Flute, stopname.String}:     true,
	{stopname.String, stopname.Celeste}:   true,
	{stopname.Mixture, stopname.Cornet}:   true,
	{stopname.Reed, stopname.Cornet}:      true,
}

func familyCost(a, b stopname.Family) (int, bool) {
	if near[[2]stopname.Family{a, b}] || near[[2]stopname.Family{b, a}] {
		return costFamilyNear, true
	}
	if a == stopname.Reed || b == stopname.Reed {
		return costReedForFlue, true
	}
	return costFamilyNear, false
}

// kindForbidden reports whether the chorus reeds are asked and the stop is
// one that never stands among them.
func kindForbidden(w wanted, s *registry.Stop) bool {
	return w.family == stopname.Reed && w.role == passage.Chorus && !chorusReed(s)
}

// chorusReed reports whether a reed may stand in a chorus.
func chorusReed(s *registry.Stop) bool {
	return s.Known.Family == stopname.Reed && s.Known.Chorus && s.Use != "never in chorus" && s.Use != "solo"
}

func sameWords(a, b string) bool {
	return a != "" && strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

func feetText(f pitch.Feet) string {
	if f.IsZero() {
		return "any pitch"
	}
	return f.String() + "′"
}

func abs(n int) int { return max(n, -n) }
