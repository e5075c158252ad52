package resolve

import (
	"math"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// never is a bound that nothing reaches.
const never = math.MaxInt / 4

// An ask is what a passage asks of one division, made ready for resolving.
type ask struct {
	asked     *passage.Asked
	lines     []*passage.Played // those that play on it; none if it is only coupled to others
	use       use
	solo      bool
	fed       bool // other divisions are coupled to it
	fixed     bool // other divisions are coupled to it, or it is coupled to others
	voice     []wanted
	struck    []struck // the keys that the lines press
	softened  bool     // a loud pedal that gives way to soft hands
	anyOctave bool     // for a remedy: whatever the line is for
	swapped   bool     // the feet take it from a hand
	brief     bool     // for a bar or two, before and after which the line plays on
	recurs    recurrence
	key       string // the same for the same words on the same division

	end     *passage.Division // see soundsFrom; nil until it is known
	joining map[*ask]bool     // see joins

	everyPart bool      // all parts are looked at, not mostParts
	sketches  []*sketch // where it has been looked for, unless that is forgotten
}

func (r *resolver) askOf(p *passage.Passage, a *passage.Asked) *ask {
	k := &ask{asked: a, lines: linesOn(p, a.Division)}
	k.use = useOf(a, k.lines)
	for _, line := range k.lines {
		k.solo = k.solo || line.Role == passage.Solo
	}
	if a.Division == passage.Pedal && r.swapIn[p] != nil {
		k.swapped, k.use = true, colour
	}
	k.struck, k.brief = struckKeys(k.lines, p.Span), r.brief[fixedKey{p, a.Division}]
	k.recurs = r.recurs[fixedKey{p, a.Division}]
	for _, c := range p.Couplings {
		k.fixed = k.fixed || c.To == a.Division || c.From == a.Division
		k.fed = k.fed || c.To == a.Division
	}
	var key strings.Builder
	key.WriteString(a.Division.String() + string(a.Division.Of))
	voices := a.Voices
	if a.Division == passage.Pedal && r.softPedal[p] {
		voices, k.softened = softPedalVoices, true
	}
	for _, v := range voices {
		w := r.want(v, a, k.use, k.solo)
		w.below = k.accompanies()
		k.voice = append(k.voice, w)
		key.WriteString("|" + v.String())
	}
	key.WriteString("|without " + voicesText(a.Without))
	for i, w := range k.voice {
		k.voice[i].fed = k.fed
		for n, other := range k.voice {
			if i != n && w.isSingle() && other.isSingle() && w.pitch == other.pitch {
				k.voice[i].shared = true
			}
			k.voice[i].doubled = k.voice[i].doubled || i != n && w.isSingle() && other.brings(w.pitch)
		}
	}
	k.key = key.String()
	k.voice = r.ways.same(k.key, k.voice)
	return k
}

// softPedalVoices are what is left of a loud pedal under soft hands: 16′ with 8′.
var softPedalVoices = []direction.Voice{
	{Group: direction.Any, Pitch: feet16, Strength: "soft"},
	{Group: direction.Any, Pitch: feet8, Strength: "soft"},
}

func linesOn(p *passage.Passage, d passage.Division) []*passage.Played {
	var out []*passage.Played
	for _, line := range p.Lines {
		if line.Division == d {
			out = append(out, line)
		}
	}
	return out
}

// samePlace reports whether two parts give the same stops from the same host.
func samePlace(a, b *Part) bool {
	return a.Host == b.Host && a.Octave == b.Octave && sameStops(a, b)
}

// sameStops reports whether two parts draw the same stops, and the same octave
// coupler for them.
func sameStops(a, b *Part) bool {
	return slices.Equal(a.stops, b.stops) && a.doubledBy() == b.doubledBy()
}

// hosts are the divisions that may give what is asked of d, in the order of
// the organ: any with a manual of its own, or the pedal's.
func (r *resolver) hosts(d passage.Division) []*registry.Division {
	var out []*registry.Division
	for _, h := range r.organ.Divisions {
		if h.Keyboard != nil && h.Keyboard.Pedal == (d == passage.Pedal) {
			out = append(out, h)
		}
	}
	return out
}

// octaves are how far the player may move what is asked: only single stops
// that lead, or that the feet take from a hand, and that no coupler joins to
// other lines.
func (k *ask) octaves() []int {
	if k.anyOctave {
		return []int{0, -1, 1, -2, 2}
	}
	if !k.solo && !k.swapped || k.fixed || len(k.voice) == 0 {
		return []int{0}
	}
	for _, w := range k.voice {
		if isGroupWord(w.voice) {
			return []int{0}
		}
	}
	return []int{0, 1, -1, 2}
}

// hostCost is what it costs to play what is asked of a division on that host.
func (r *resolver) hostCost(k *ask, host *registry.Division) int {
	d := k.asked.Division
	rank, elsewhere := rankChorus, elsewhereChorus
	switch {
	case k.use == colour && k.solo:
		rank, elsewhere = rankSolo, elsewhereSolo
	case k.use == colour:
		rank, elsewhere = rankAccompaniment, elsewhereAccompaniment
	}
	switch r.prefer {
	case PreferManual:
		rank, elsewhere = preferredTimes*rank, preferredTimes*elsewhere
	case PreferColour:
		rank, elsewhere = rank/preferredTimes, elsewhere/preferredTimes
	}
	switch {
	case d == passage.Pedal:
		return 0
	case d.Role == division.None && k.use == chorus && k.bothHands():
		// A chorus of no named place is the main manual's.
		cost := rank * standInRank(division.Great, host.Role)
		if host.Role != division.Great && r.has(division.Great) {
			cost += elsewhere
		}
		return cost
	case d.Role == division.None:
		return min(2, standInRank(division.Great, host.Role))
	case d.Role.Number() > 0:
		if home := r.numbered(d.Role.Number()); home == host {
			return 0
		} else if home != nil {
			return elsewhere + rank*2
		}
		return rank * 2
	case host.Role == d.Role:
		return 0
	}
	cost := rank * standInRank(d.Role, host.Role)
	if r.has(d.Role) {
		cost += elsewhere
	}
	return cost
}

func (r *resolver) has(role division.Role) bool {
	for _, d := range r.organ.Divisions {
		if d.Role == role && d.Keyboard != nil {
			return true
		}
	}
	return false
}

// bothHands reports whether the hands play together on what is asked.
func (k *ask) bothHands() bool {
	return slices.ContainsFunc(k.lines, func(x *passage.Played) bool { return x.Line == passage.Both })
}

// accompanies reports whether what is asked is all for an accompaniment by the hands.
func (k *ask) accompanies() bool {
	return k.asked.Division != passage.Pedal && len(k.lines) > 0 &&
		!slices.ContainsFunc(k.lines, func(x *passage.Played) bool { return x.Role != passage.Accompaniment })
}
