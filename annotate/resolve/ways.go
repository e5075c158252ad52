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
	r     *resolver
	known map[waysKey][]fit
	kept  int // fits in known
}

// A waysKey is all that the ways of giving a voice depend on.
type waysKey struct {
	voice string // in its normal form
	meaning
	host   *registry.Division
	octave int
}

// mostWays is how many fits are kept: some tens of megabytes of them.
const mostWays = 100_000

// of are the ways of giving a voice on a host and in an octave, cheapest
// first. What paths cost is not in them. They are shared: nobody may change
// them.
func (ws *ways) of(w wanted, host *registry.Division, octave int) []fit {
	key := waysKey{w.voice.String(), w.meaning, host, octave}
	if known, ok := ws.known[key]; ok {
		return known
	}
	re := reach{r: ws.r, host: host, octave: octave, paths: ws.r.paths(host)}
	found := re.every(w)
	slices.SortStableFunc(found, func(a, b fit) int { return cmp.Compare(a.cost, b.cost) })
	if ws.kept += len(found); ws.known == nil || ws.kept > mostWays {
		ws.known, ws.kept = map[waysKey][]fit{}, len(found)
	}
	ws.known[key] = found
	return found
}
