package plantest

import (
	"math/big"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/stopname"
)

// soloPitches checks promise 3. Only solos are looked at that ask for single
// stops at given pitches and that no coupler of the score joins to others.
func (c *checker) soloPitches(s *resolve.Setting) {
	var solos []*resolve.Line
	for _, line := range s.Lines {
		if line.Asked.Role == passage.Solo && len(line.Asked.Notes) > 0 && c.plain(s, line) {
			solos = append(solos, line)
		}
	}
	if len(solos) == 0 {
		return
	}
	var lost []*resolve.Line
	for _, line := range solos {
		kept := line.Keyboard != nil && keepsPitch(s, line)
		if kept != line.PitchKept {
			c.say(3, "the pitch of %s is said to be kept: %v; asked %v, sounding %s", line.Asked.Line, line.PitchKept, askedRatios(line), names(line.Sounds))
		}
		if !kept {
			lost = append(lost, line)
			if !slices.ContainsFunc(s.Problems, func(p resolve.Problem) bool {
				return (p.Code == resolve.PitchLost || p.Code == resolve.NoPedals) && p.Line == line.Asked.Line
			}) {
				c.say(3, "the pitch of %s is lost, and nothing is said of it", line.Asked.Line)
			}
		}
	}
	if len(lost) == 0 {
		return
	}
	if choice := c.keepAll(s, solos); choice != "" {
		c.say(3, "the pitch of %s is given up, and could be kept: %s", lost[0].Asked.Line, choice)
	}
}

// plain reports whether a solo asks for single stops, each at a pitch.
func (c *checker) plain(s *resolve.Setting, line *resolve.Line) bool {
	if line.Part == nil || len(line.Part.Asked.Voices) == 0 {
		return false
	}
	for _, k := range s.Passage.Couplings {
		if k.To == line.Asked.Division || k.From == line.Asked.Division || k.To.Role == "*" {
			return false
		}
	}
	for _, v := range line.Part.Asked.Voices {
		switch v.Group {
		case "principal", "flute", "string", "reed", "any":
		default:
			return false
		}
		name := strings.ToLower(v.Name)
		if v.Pitch.IsZero() || strings.HasPrefix(name, "diap") && strings.HasSuffix(strings.TrimRight(name, "."), "s") {
			return false
		}
	}
	return true
}

func askedRatios(line *resolve.Line) []string {
	var out []string
	for _, v := range line.Part.Asked.Voices {
		out = append(out, ratio(v.Pitch.String(), 0).String())
	}
	return unique(out)
}

// keepsPitch reports whether every key that goes down in the passage sounds at
// the pitches asked for and no others.
func keepsPitch(s *resolve.Setting, line *resolve.Line) bool {
	for _, n := range line.Asked.Notes {
		if s.Passage.Contains(n.Struck.Onset) && !sameRatios(askedRatios(line), givenRatios(line, n.Key)) {
			return false
		}
	}
	return true
}

// givenRatios are the ratios at which a printed key sounds as the line plays it.
func givenRatios(line *resolve.Line, printed registry.Key) []string {
	var out []string
	key := printed + registry.Key(12*line.Octave)
	for _, x := range line.Sounds {
		if !hasKey(line.Keyboard.Compass, key) || !hasPipe(x.Stop, key+registry.Key(12*x.Octave)) {
			continue
		}
		r := ratio(x.Stop.Pitch.String(), x.Octave+line.Octave)
		if r == nil {
			r = new(big.Rat)
		}
		out = append(out, r.String())
	}
	return unique(out)
}

// soundingRatios are those of all that sounds of a line.
func soundingRatios(line *resolve.Line) []string {
	var out []string
	for _, x := range line.Sounds {
		r := ratio(x.Stop.Pitch.String(), x.Octave+line.Octave)
		if r == nil {
			r = new(big.Rat)
		}
		out = append(out, r.String())
	}
	return unique(out)
}

// hasPipe reports whether a stop has the pipe that a key of its own division
// would play: on its compass, or among those above it.
func hasPipe(s *registry.Stop, k registry.Key) bool {
	above := int(k - s.Compass.High)
	return hasKey(s.Compass, k) || above > 0 && above <= s.Pipes-int(s.Compass.High-s.Compass.Low)-1+len(s.Compass.Missing)
}

func unique(list []string) []string {
	slices.Sort(list)
	return slices.Compact(list)
}

func sameRatios(a, b []string) bool { return slices.Equal(a, b) }

// A way is one way of giving a solo at its pitches: a keyboard, an octave, and
// the manuals that lend it a stop.
type way struct {
	keyboard *registry.Keyboard
	octave   int
	lenders  []*registry.Division
	stops    []*registry.Stop
}

// keepAll finds a way for each solo at once in which every pitch is kept,
// every key is there, and the other lines keep the pitches that they have now
// by stops of the families that they have now, and a keyboard if they are
// silent; "" if there is none.
func (c *checker) keepAll(s *resolve.Setting, solos []*resolve.Line) string {
	var ways [][]way
	lines := slices.Clone(solos)
	others := map[passage.Division][]passage.Pressed{}
	for _, line := range s.Lines {
		switch {
		case slices.Contains(solos, line) || len(line.Asked.Notes) == 0:
		case len(line.Sounds) > 0:
			lines = append(lines, line)
		case line.Asked.Line != passage.Feet:
			others[line.Asked.Division] = append(others[line.Asked.Division], line.Asked.Notes...)
		}
	}
	for i, line := range lines {
		octaves, want := []int{0}, soundingRatios(line)
		if i < len(solos) {
			octaves, want = []int{0, 1, -1}, askedRatios(line)
		}
		w := c.ways(line, octaves, want)
		if i >= len(solos) {
			w = slices.DeleteFunc(w, func(w way) bool { return !familiesOf(line).hold(w) })
		}
		if len(w) == 0 {
			return ""
		}
		ways = append(ways, w)
	}
	var rest [][]passage.Pressed
	for _, notes := range others {
		rest = append(rest, notes)
	}
	chosen := make([]way, len(lines))
	var choose func(i int) bool
	choose = func(i int) bool {
		if i == len(lines) {
			return c.leavesRoom(chosen, rest)
		}
		for _, w := range ways[i] {
			chosen[i] = w
			if apart(chosen[:i], w) && choose(i+1) {
				return true
			}
		}
		return false
	}
	if !choose(0) {
		return ""
	}
	var out []string
	for i, w := range chosen {
		text := string(lines[i].Asked.Line) + " on the " + w.keyboard.Name + " with " + stopTexts(w.stops)
		if w.octave != 0 {
			text += " at another octave"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func stopTexts(stops []*registry.Stop) string {
	var out []string
	for _, s := range stops {
		out = append(out, s.Division.Name+" "+s.Text)
	}
	return strings.Join(out, ", ")
}

// families are those that sound of a line.
type families map[stopname.Family]bool

func familiesOf(line *resolve.Line) families {
	f := families{}
	for _, x := range line.Sounds {
		f[x.Stop.Known.Family] = true
	}
	return f
}

func (f families) hold(w way) bool {
	return !slices.ContainsFunc(w.stops, func(s *registry.Stop) bool { return !f[s.Known.Family] })
}

// apart reports whether a way stands clear of those already chosen.
func apart(chosen []way, w way) bool {
	for _, v := range chosen {
		if v.keyboard == w.keyboard {
			return false
		}
		for _, d := range append(slices.Clone(v.lenders), w.lenders...) {
			if d.Keyboard == w.keyboard || d.Keyboard == v.keyboard {
				return false
			}
		}
		for _, d := range v.lenders {
			if slices.Contains(w.lenders, d) {
				return false
			}
		}
	}
	return true
}

// leavesRoom reports whether each of the other registrations still has a
// manual with the keys that it plays. Where nothing is lent and nothing played
// in another octave they may have to share, as the organ is what it is.
func (c *checker) leavesRoom(chosen []way, others [][]passage.Pressed) bool {
	taken := map[*registry.Keyboard]bool{}
	plain := true
	for _, w := range chosen {
		taken[w.keyboard] = true
		plain = plain && w.octave == 0
		for _, d := range w.lenders {
			taken[d.Keyboard] = true
			plain = false
		}
	}
	return plain || c.room(taken, others)
}

// room reports whether the registrations can each have a keyboard of those
// that are not taken.
func (c *checker) room(taken map[*registry.Keyboard]bool, others [][]passage.Pressed) bool {
	if len(others) == 0 {
		return true
	}
	for _, kb := range c.organ.Keyboards {
		if taken[kb] || slices.ContainsFunc(others[0], func(n passage.Pressed) bool { return !hasKey(kb.Compass, n.Key) }) {
			continue
		}
		taken[kb] = true
		if c.room(taken, others[1:]) {
			return true
		}
		taken[kb] = false
	}
	return false
}

// ways lists the ways of giving a line so many pitches.
func (c *checker) ways(line *resolve.Line, octaves []int, want []string) []way {
	var out []way
	keyboards := c.organ.Keyboards
	if line.Asked.Line == passage.Feet {
		keyboards = nil
		if c.organ.Pedalboard != nil {
			keyboards = []*registry.Keyboard{c.organ.Pedalboard}
		}
	}
	for _, kb := range keyboards {
		for _, octave := range octaves {
			if !slices.ContainsFunc(line.Asked.Notes, func(n passage.Pressed) bool {
				return !hasKey(kb.Compass, n.Key+registry.Key(12*octave))
			}) {
				out = append(out, c.waysFrom(line, kb, octave, want)...)
			}
		}
	}
	return out
}

// A lender is a division that a keyboard can sound, and how.
type lender struct {
	division *registry.Division
	octave   int
	borrowed bool
}

func (c *checker) waysFrom(line *resolve.Line, kb *registry.Keyboard, octave int, want []string) []way {
	var own []lender
	for _, d := range c.organ.Divisions {
		if d.Keyboard == kb {
			own = append(own, lender{division: d})
		}
	}
	if len(own) > 1 || c.permanent(kb) {
		return nil // what stands on such a keyboard is not worked out here
	}
	var lent []lender
	for _, k := range c.organ.Couplers {
		if k.From == k.To || k.To.Keyboard != kb || k.Note != registry.EveryNote || k.From.Keyboard == nil {
			continue
		}
		lent = append(lent, lender{k.From, k.Octave, true})
		if k.Octave != 0 {
			continue
		}
		off := slices.ContainsFunc(c.organ.Couplers, func(x *registry.Coupler) bool { return x.From == k.From && x.UnisonOff })
		for _, up := range c.organ.Couplers {
			if off && up.From == k.From && up.To == k.From && !up.UnisonOff {
				lent = append(lent, lender{k.From, up.Octave, true})
			}
		}
	}
	sets := [][]lender{own}
	for i, a := range lent {
		sets = append(sets, append(slices.Clone(own), a))
		for _, b := range lent[i+1:] {
			if a.division != b.division {
				sets = append(sets, append(slices.Clone(own), a, b))
			}
		}
	}
	var out []way
	for _, set := range sets {
		if w, ok := c.draw(line, kb, octave, set, want); ok {
			out = append(out, w)
		}
	}
	return out
}

func (c *checker) permanent(kb *registry.Keyboard) bool {
	return slices.ContainsFunc(c.organ.Couplers, func(k *registry.Coupler) bool { return k.Permanent && k.To.Keyboard == kb })
}

// draw finds a stop for every pitch among the lenders, and reports whether
// each of those that are borrowed from is needed.
func (c *checker) draw(line *resolve.Line, kb *registry.Keyboard, octave int, from []lender, pitches []string) (way, bool) {
	w := way{keyboard: kb, octave: octave}
	needed := map[*registry.Division]bool{}
	for _, want := range pitches {
		found := false
		for _, l := range from {
			for _, st := range l.division.Stops {
				r := ratio(st.Pitch.String(), octave+l.octave)
				if found || r == nil || r.String() != want || !single(st) || !c.speaks(line, st, l, octave) {
					continue
				}
				found = true
				w.stops = append(w.stops, st)
				if l.borrowed {
					needed[l.division] = true
				}
			}
		}
		if !found {
			return way{}, false
		}
	}
	for _, l := range from {
		if l.borrowed {
			if !needed[l.division] {
				return way{}, false
			}
			w.lenders = append(w.lenders, l.division)
		}
	}
	return w, true
}

// single reports whether a stop is one rank in tune, which can carry a tune.
func single(s *registry.Stop) bool {
	switch s.Known.Family {
	case stopname.Principal, stopname.Flute, stopname.String, stopname.Reed:
		return s.Use != "never in chorus" && s.Half == registry.Whole
	}
	return false
}

// speaks reports whether the stop has a pipe for every note of the line.
func (c *checker) speaks(line *resolve.Line, s *registry.Stop, l lender, octave int) bool {
	for _, n := range line.Asked.Notes {
		if !hasPipe(s, n.Key+registry.Key(12*(octave+l.octave))) {
			return false
		}
	}
	return true
}
