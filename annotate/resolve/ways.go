package resolve

import (
	"cmp"
	"slices"

	"stopgap/registry"
)

// Ways remembers in which ways each voice can be given in each place: a score
// asks for few different voices, and for the same ones in passage after
// passage.
type ways struct {
	r      *resolver
	wants  map[string][][]wanted // by the words of an ask: all that they have been wanted for
	kept   int                   // lists of wants
	known  map[waysKey][]fit
	stored int // fits in known
}

type waysKey struct {
	wanted *wanted // in wants, so the same for the same
	host   *registry.Division
	octave int
}

// How many lists of wants are kept, and how many fits: up to a hundred
// megabytes of them, for organs and scores that have as many. Where a score asks for more it is begun anew.
var (
	mostWants = 20_000
	mostWays  = 300_000
)

// same is the list of wants that is kept for the words of an ask where they
// have been wanted just so before.
func (ws *ways) same(words string, list []wanted) []wanted {
	for _, known := range ws.wants[words] {
		if slices.EqualFunc(known, list, func(a, b wanted) bool { return a.meaning == b.meaning }) {
			return known
		}
	}
	if ws.kept++; ws.wants == nil || ws.kept > mostWants {
		ws.wants, ws.kept = map[string][][]wanted{}, 1
	}
	ws.wants[words] = append(ws.wants[words], list)
	return list
}

// of are the ways of giving a voice on a host and in an octave, cheapest
// first. What paths cost is not in them. They are shared: nobody may change
// them.
func (ws *ways) of(w *wanted, host *registry.Division, octave int) []fit {
	key := waysKey{w, host, octave}
	if known, ok := ws.known[key]; ok {
		return known
	}
	re := reach{r: ws.r, host: host, octave: octave, paths: ws.r.paths(host)}
	found := re.every(*w)
	slices.SortStableFunc(found, func(a, b fit) int { return cmp.Compare(a.cost, b.cost) })
	if ws.stored += len(found); ws.known == nil || ws.stored > mostWays {
		ws.known, ws.stored = map[waysKey][]fit{}, len(found)
	}
	ws.known[key] = found
	return found
}
