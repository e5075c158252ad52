package resolve

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/registry"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

//go:embed compounds.tsv
var compoundsTSV string

// A recipe is what a compound stop is made up of from single ranks.
type recipe struct {
	asked  pitch.Feet
	ranks  []pitch.Feet
	points int
	lacks  string // "" where it is whole
}

var recipes = sync.OnceValue(func() []recipe {
	var out []recipe
	for line := range strings.Lines(compoundsTSV) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 5 || strings.HasPrefix(f[0], "#") {
			continue
		}
		asked, err := pitch.ParseFeet(f[0])
		if err != nil {
			continue // the heading
		}
		r := recipe{asked: asked, lacks: f[3]}
		r.points, _ = strconv.Atoi(f[2])
		for text := range strings.SplitSeq(f[1], ", ") {
			if rank, err := pitch.ParseFeet(text); err == nil {
				r.ranks = append(r.ranks, rank)
			}
		}
		out = append(out, r)
	}
	return out
})

// compounds make up a Cornet or a Sesquialtera from single ranks of flutes, or
// complete a Cornet that lacks its longer ranks; once on the host alone, and
// once with each path or two that lend something to it.
func (re reach) compounds(w wanted) []fit {
	if w.family != stopname.Cornet || w.use == chorus {
		return nil
	}
	m := mixing{reach: re, wanted: w, by: map[pitch.Feet][]fit{}}
	for _, r := range recipes() {
		if r.asked == w.pitch {
			m.recipes = append(m.recipes, r)
		}
	}
	if len(m.recipes) == 0 {
		return nil
	}
	short := re.shortCornets(w)
	var out []fit
	out = append(out, m.onHost(nil)...)
	for i := range short {
		out = append(out, m.onHost(&short[i])...)
	}
	for _, from := range re.places()[1:] {
		out = append(out, m.make(from, nil)...)
		for i := range short {
			out = append(out, m.make(from, &short[i])...)
		}
	}
	return out
}

// places are the sets of at most three places that ranks may come from: the
// host, which is number 0, and one or two paths, counted from 1.
func (re reach) places() [][]int {
	out := [][]int{{0}}
	for a := range re.paths {
		out = append(out, []int{0, a + 1})
		for b := range re.paths[:a] {
			if re.paths[a].From != re.paths[b].From {
				out = append(out, []int{0, b + 1, a + 1})
			}
		}
	}
	return out
}

// placeOf is the number of the place that a stop comes from.
func (re reach) placeOf(c Chosen) int {
	if c.Path == nil {
		return 0
	}
	return slices.Index(re.paths, c.Path) + 1
}

// A shortCornet is a Cornet without its 8′, which is completed from other ranks.
type shortCornet struct {
	fit   fit
	place int
	ranks []pitch.Feet
}

// shortCornets lists those within reach for a Cornet, a Sesquialtera among
// them, where nothing else of what is asked brings the 8′.
func (re reach) shortCornets(w wanted) []shortCornet {
	if w.shared || w.pitch != feet8 {
		return nil
	}
	var out []shortCornet
	from := func(d *registry.Division, path *Path, place int) {
		for _, s := range inOrder(d) {
			if !re.r.lacksUnison(w, s) {
				continue
			}
			if points, ok := distance(w.kind, s.Known.Subfamily, w.family, s.Known.Family); ok {
				pick := Pick{Voice: w.voice, Stops: []Chosen{{s, path}}}
				out = append(out, shortCornet{fit{pick, points / 2}, place, re.r.soundOf(s).RanksAt(middleC)})
			}
		}
	}
	if re.octave == 0 {
		from(re.host, nil, 0)
	}
	for i, p := range re.paths {
		if re.octave+p.Octave == 0 {
			from(p.From, p, i+1)
		}
	}
	return out
}

// middleC is the key by which a compound stop is judged.
const middleC = 60

// lacksUnison reports whether a stop for a Cornet has no 8′ of its own.
func (r *resolver) lacksUnison(w wanted, s *registry.Stop) bool {
	if w.family != stopname.Cornet || s.Known.Family != stopname.Cornet || w.pitch != feet8 {
		return false
	}
	ranks := r.soundOf(s).RanksAt(middleC)
	return len(ranks) > 0 && !slices.Contains(ranks, feet8)
}

// mixing is the making up of one compound voice within reach.
type mixing struct {
	reach
	wanted  wanted
	recipes []recipe
	by      map[pitch.Feet][]fit // the best rank of a pitch at each place
	unison  *fit                 // the host's rank at 8′ if that is settled, nil for the best
}

// flute is a rank of a compound at a pitch.
func flute(feet pitch.Feet) wanted {
	return wanted{
		voice: direction.Voice{Group: direction.Flute, Pitch: feet},
		meaning: meaning{
			family: stopname.Flute, pitch: feet, kind: stopname.UsualKind(stopname.Flute), generic: true,
			name: stopname.Known{How: stopname.Unknown},
		},
	}
}

// onHost makes up the voice on the host alone, with each of its ranks at 8′:
// the one that is drawn already may be as good as the best.
func (m mixing) onHost(short *shortCornet) []fit {
	out := m.make([]int{0}, short)
	best := m.rank(feet8)[0]
	for _, f := range m.single(flute(feet8)) {
		if c := f.pick.Stops[0]; c.Path == nil && best.cost < never && c.Stop != best.pick.Stops[0].Stop {
			m.unison = &f
			for _, other := range m.make([]int{0}, short) {
				if slices.ContainsFunc(other.pick.Stops, func(x Chosen) bool { return x.Stop == c.Stop }) {
					out = append(out, other)
				}
			}
		}
	}
	return out
}

// rank is the best rank of a pitch at each place; where a place has none, its
// cost is never.
func (m mixing) rank(feet pitch.Feet) []fit {
	if known, ok := m.by[feet]; ok {
		return known
	}
	best := make([]fit, len(m.paths)+1)
	for n := range best {
		best[n].cost = never
	}
	for _, f := range m.single(flute(feet)) {
		if (feet == feet4 || feet == feet2) && f.pick.Stops[0].Stop.Known.Family == stopname.Principal {
			f.cost = min(f.cost, costPrincipalRank)
		}
		if n := m.placeOf(f.pick.Stops[0]); f.cost < best[n].cost {
			best[n] = f
		}
	}
	m.by[feet] = best
	return best
}

// make takes the best rank of each pitch of each recipe that can be had from
// certain places and needs each path among them, beside a short Cornet if one is
// given. A recipe that is less whole costs more, so that it is only for sparing
// the player.
func (m mixing) make(from []int, short *shortCornet) []fit {
	if short != nil && !slices.Contains(from, short.place) {
		return nil
	}
	var out []fit
	for _, r := range m.recipes {
		f, needed, ok := m.follow(r, from, short)
		if ok && !slices.ContainsFunc(from[1:], func(n int) bool { return !needed[n] }) {
			out = append(out, f)
		}
	}
	return out
}

// follow makes up one recipe; needed are the places that give something to it.
func (m mixing) follow(r recipe, from []int, short *shortCornet) (f fit, needed map[int]bool, ok bool) {
	f = fit{pick: Pick{Voice: m.wanted.voice}, cost: r.points}
	needed = map[int]bool{}
	if short != nil {
		f.cost += short.fit.cost
		needed[short.place] = true
	}
	for _, feet := range r.ranks {
		if short != nil && slices.Contains(short.ranks, feet) {
			continue
		}
		ranks := m.rank(feet)
		if feet == feet8 && m.unison != nil {
			f.pick.Stops = append(f.pick.Stops, m.unison.pick.Stops...)
			f.cost += m.unison.cost / 2
			continue
		}
		best := from[0]
		for _, n := range from[1:] {
			if ranks[n].cost < ranks[best].cost {
				best = n
			}
		}
		if ranks[best].cost >= never {
			return fit{}, nil, false
		}
		needed[best] = true
		f.pick.Stops = append(f.pick.Stops, ranks[best].pick.Stops...)
		f.cost += ranks[best].cost / 2
	}
	switch added := textsOf(f.pick.Stops); {
	case short != nil && len(added) == 0:
		return fit{}, nil, false // not in want of anything
	case short != nil:
		name := short.fit.pick.Stops[0].Stop.Text
		f.pick.Note = fmt.Sprintf("%s has not the longer ranks of the %s: %s with it", name, m.wanted.called(), strings.Join(added, " and "))
		f.pick.Stops = append(f.pick.Stops, short.fit.pick.Stops...)
	case r.lacks != "":
		f.pick.Note = fmt.Sprintf("the %s is made up from single ranks, without %s", m.wanted.called(), r.lacks)
	default:
		f.pick.Note = fmt.Sprintf("the %s is made up from single ranks", m.wanted.called())
	}
	return f, needed, true
}

// textsOf are stops as the organ file has them.
func textsOf(stops []Chosen) []string {
	var out []string
	for _, c := range stops {
		out = append(out, c.Stop.Text)
	}
	return out
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
