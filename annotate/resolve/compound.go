package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// compounds make up a Cornet or a Sesquialtera from single ranks of flutes (a
// Cornet is 8, 4, 2⅔, 2 and 1⅗: Wedgwood 1905, Cornet), once on the host alone
// and once with each path or two that lend some of the ranks.
func (re reach) compounds(w wanted) []fit {
	pitches := ranksOf(w)
	if pitches == nil {
		return nil
	}
	// The best rank of each pitch by each path; the host's own come first.
	by := make([][]fit, len(pitches))
	for i, p := range pitches {
		one := wanted{
			voice: direction.Voice{Group: direction.Flute, Pitch: p}, family: stopname.Flute, pitch: p,
			kind: stopname.UsualKind(stopname.Flute), generic: true, name: stopname.Known{How: stopname.Unknown},
		}
		by[i] = make([]fit, len(re.paths)+1)
		for n := range by[i] {
			by[i][n].cost = never
		}
		for _, f := range re.single(one) {
			n := 0
			if path := f.pick.Stops[0].Path; path != nil {
				n = slices.Index(re.paths, path) + 1
			}
			if f.cost < by[i][n].cost {
				by[i][n] = f
			}
		}
	}
	var out []fit
	add := func(from ...int) {
		if f, ok := re.madeUp(w, by, from); ok {
			out = append(out, f)
		}
	}
	add(0)
	for a := range re.paths {
		add(0, a+1)
		for b := range re.paths[:a] {
			if re.paths[a].From != re.paths[b].From {
				add(0, b+1, a+1)
			}
		}
	}
	return out
}

// ranksOf are the pitches that a compound voice is made up of, nil for others.
func ranksOf(w wanted) []pitch.Feet {
	switch {
	case w.family == stopname.Cornet && w.pitch == feet8:
		return []pitch.Feet{feet8, feet4, feet2and2, feet2, feet1and3}
	case w.family == stopname.Cornet && w.pitch == feet2and2:
		return []pitch.Feet{feet2and2, feet1and3}
	}
	return nil
}

// madeUp takes the best rank of each pitch from some of the places; ok is
// false where one is lacking, or a path is not needed.
func (re reach) madeUp(w wanted, by [][]fit, from []int) (f fit, ok bool) {
	f = fit{Pick{Voice: w.voice, Note: fmt.Sprintf("the %s is made up from single ranks", w.called())}, costMadeUp}
	needed := map[int]bool{}
	for _, ranks := range by {
		best := from[0]
		for _, n := range from[1:] {
			if ranks[n].cost < ranks[best].cost {
				best = n
			}
		}
		if ranks[best].cost >= never {
			return fit{}, false
		}
		needed[best] = true
		f.pick.Stops = append(f.pick.Stops, ranks[best].pick.Stops...)
		f.cost += ranks[best].cost / 2
	}
	for _, n := range from[1:] {
		if !needed[n] {
			return fit{}, false
		}
	}
	return f, true
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
