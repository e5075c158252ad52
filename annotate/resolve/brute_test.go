package resolve_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// TestSearchIsExactInOnePassage tries every combination there is of hosts,
// octaves, lending manuals and stops: none costs less than the plan, and the
// bound that the plan claims is its cost.
func TestSearchIsExactInOnePassage(t *testing.T) {
	rapidly(t, 2000, func(t *rapid.T) { exact(t, drawOrgan(t, 10, 3), 1) })
}

// TestSearchIsExactOverThreePassages does so for three passages, changes from
// one to the next included.
func TestSearchIsExactOverThreePassages(t *testing.T) {
	rapidly(t, 1500, func(t *rapid.T) { exact(t, drawOrgan(t, 6, 2), 3) })
}

func exact(t *rapid.T, list randomOrgan, passages int) {
	organ := list.read(t)
	asked, sections := drawScore(t, passages)
	few := rapid.Bool().Draw(t, "few")
	opts := resolve.Options{Few: few}
	plan := resolve.Resolve(asked, organ, opts)
	for _, b := range plantest.Broken(plan) {
		t.Errorf("%s\n%s\n%s\n%s", b, list, told(sections), plantest.Dump(plan))
	}
	b := &brute{pricing: resolve.PricingOf(asked, plan, opts), organ: organ}
	least := b.least(plan.Cost)
	if plan.Cost != least || plan.Bound != least {
		t.Errorf("cost %d, bound %d, and the cheapest of all is %d\n%s\n%s\n%s%s", plan.Cost, plan.Bound, least, list, told(sections), plantest.Dump(plan), b.told())
	}
}

// brute finds the cheapest plan by trying all of them.
type brute struct {
	pricing *resolve.Pricing
	organ   *registry.Organ
	best    resolve.Console // the last passage's cheapest, for a failure
}

// told is the cheapest way of playing the last passage.
func (b *brute) told() string {
	if b.best == (resolve.Console{}) {
		return ""
	}
	out := "the cheapest way, in the last passage:\n"
	for _, p := range b.best.Parts() {
		if p.Host == nil {
			continue
		}
		out += fmt.Sprintf("  %v on the %s, octave %d, cost %d:", p.Asked.Division, p.Host.Name, p.Octave, p.Cost)
		for _, c := range p.Stops() {
			out += " " + c.Stop.Division.Name + " " + c.Stop.Text
		}
		out += "\n"
	}
	return out
}

// least is what the cheapest plan costs, if that is at most limit; else
// limit+1. Registrations whose own costs are above the limit are passed over,
// since nothing that comes on top is negative (which setting checks).
func (b *brute) least(limit int) int {
	if b.pricing.Passages() == 0 {
		return 0
	}
	var before []resolve.Console
	costs := map[resolve.Console]int{}
	for i := range b.pricing.Passages() {
		settings := b.settings(i, limit)
		for _, s := range settings {
			costs[s] = s.Cost()
			best := limit + 1
			for _, p := range before {
				best = min(best, costs[p]+b.pricing.Change(p, s, i))
			}
			if i > 0 {
				costs[s] += best
			}
		}
		before = before[:0:0]
		for _, s := range settings {
			if costs[s] <= limit {
				before = append(before, s)
			}
		}
	}
	least := limit + 1
	for _, s := range before {
		if costs[s] < least {
			least = costs[s]
			b.best = s
		}
	}
	return least
}

// settings are all the ways of playing a passage that cost at most limit, as
// it stands and with a hand and the feet changing parts.
func (b *brute) settings(i, limit int) []resolve.Console {
	var out []resolve.Console
	for v := range b.pricing.Versions(i) {
		out = append(out, b.version(i, v, limit)...)
	}
	return out
}

func (b *brute) version(i, v, limit int) []resolve.Console {
	items := b.pricing.Items(i, v)
	choices := make([][]*resolve.Part, len(items))
	joins := map[*resolve.Part]bool{}
	for n, it := range items {
		choices[n] = b.parts(it)
		if it.Voices() == 0 {
			continue
		}
		for _, p := range b.joiners(it) {
			joins[p] = true
			choices[n] = append(choices[n], p)
		}
	}
	var out []resolve.Console
	var parts []*resolve.Part
	var choose func(sum int)
	choose = func(sum int) {
		n := len(parts)
		if n == len(items) {
			if !joined(items, b.pricing.Couplings(i, v), parts) || !sounding(items, joins, parts) {
				return
			}
			s, ok := b.pricing.Setting(i, v, parts)
			switch {
			case !ok:
			case s.Cost() < sum:
				panic("a setting costs less than its parts")
			case s.Cost() <= limit:
				out = append(out, s)
			}
			return
		}
		for _, p := range choices[n] {
			if sum+p.Cost > limit || !beside(items, b.pricing.Couplings(i, v), joins, parts, p) {
				continue
			}
			parts = append(parts, p)
			choose(sum + p.Cost)
			parts = parts[:n]
		}
	}
	choose(0)
	return out
}

// parts are all the ways of giving one registration by itself.
func (b *brute) parts(it resolve.Item) []*resolve.Part {
	var out []*resolve.Part
	for _, host := range b.organ.Divisions {
		if host.Keyboard == nil || host.Keyboard.Pedal != (it.Division() == passage.Pedal) {
			continue
		}
		octaves := []int{0}
		if it.MayMove() {
			octaves = []int{-1, 0, 1, 2}
		}
		for _, octave := range octaves {
			for _, paths := range b.lenders(host) {
				way := resolve.Way{Host: host, Octave: octave, Paths: paths}
				out = append(out, b.give(it, way, nil)...)
			}
		}
	}
	if nothing := b.pricing.Nothing(it); len(out) == 0 && nothing != nil {
		out = append(out, nothing)
	}
	return out
}

// joiners are the ways of drawing nothing for a registration, whose keyboard
// then sounds what others draw there.
func (b *brute) joiners(it resolve.Item) []*resolve.Part {
	var out []*resolve.Part
	for _, host := range b.organ.Divisions {
		if host.Keyboard == nil || host.Keyboard.Pedal != (it.Division() == passage.Pedal) {
			continue
		}
		octaves := []int{0}
		if it.MayMove() {
			octaves = []int{-1, 0, 1, 2}
		}
		for _, octave := range octaves {
			if p := b.pricing.Join(it, resolve.Way{Host: host, Octave: octave}); p != nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// sounding reports whether something is asked for and drawn where others join.
func sounding(items []resolve.Item, joins map[*resolve.Part]bool, parts []*resolve.Part) bool {
	for _, p := range parts {
		if !joins[p] {
			continue
		}
		stops := 0
		for n, q := range parts {
			if q.Host == p.Host && items[n].Voices() > 0 {
				stops += len(q.Stops())
			}
		}
		if stops == 0 {
			return false
		}
	}
	return true
}

// give tries each stop and remedy for each voice that is still to be given.
func (b *brute) give(it resolve.Item, way resolve.Way, given []resolve.Give) []*resolve.Part {
	if len(given) == it.Voices() {
		if p := b.pricing.Part(it, way, given); p != nil {
			return []*resolve.Part{p}
		}
		return nil
	}
	var out []*resolve.Part
	for _, g := range b.pricing.Gives(it, way, len(given)) {
		if !twice(given, g) {
			out = append(out, b.give(it, way, append(given[:len(given):len(given)], g))...)
		}
	}
	return out
}

// twice reports whether a stop, or one of two, would be drawn for two voices.
func twice(given []resolve.Give, g resolve.Give) bool {
	if len(g.Pick.Stops) > 2 || g.Group {
		return false
	}
	for _, other := range given {
		if other.Group {
			continue
		}
		for _, c := range other.Pick.Stops {
			for _, own := range g.Pick.Stops {
				if c.Stop == own.Stop {
					return true
				}
			}
		}
	}
	return false
}

// lenders are the sets of at most two manuals that lend to a host: each by a
// coupler as it is, or by one at the unison with an octave coupler and Unison
// Off of its own.
func (b *brute) lenders(host *registry.Division) [][]*resolve.Path {
	var paths []*resolve.Path
	for _, c := range b.organ.Couplers {
		if c.To != host || c.From == host {
			continue
		}
		paths = append(paths, &resolve.Path{From: c.From, Couplers: []*registry.Coupler{c}, Octave: c.Octave})
		for _, off := range b.organ.Couplers {
			for _, up := range b.organ.Couplers {
				if c.Octave == 0 && off.UnisonOff && off.From == c.From && up.From == c.From && up.To == c.From && up.Octave != 0 {
					paths = append(paths, &resolve.Path{From: c.From, Couplers: []*registry.Coupler{c, up, off}, Octave: up.Octave})
				}
			}
		}
	}
	sets := [][]*resolve.Path{nil}
	for i, p := range paths {
		sets = append(sets, []*resolve.Path{p})
		for _, q := range paths[:i] {
			if p.From != q.From {
				sets = append(sets, []*resolve.Path{q, p})
			}
		}
	}
	return sets
}

// beside reports whether a registration can be given beside others: a manual
// that lends is free of the hands, and lends to one alone; what stands on it
// for itself may only be there to join the one that it lends to; and one
// keyboard is played in one octave. Two that are asked for stops on one host
// have the same, or join one another, or both sound from one keyboard alone.
func beside(items []resolve.Item, couplings []passage.Coupling, joins map[*resolve.Part]bool, others []*resolve.Part, p *resolve.Part) bool {
	at := len(others)
	for n, q := range others {
		if p.Host != nil && p.Host == q.Host && items[n].Voices() > 0 && items[at].Voices() > 0 && !joins[p] && !joins[q] && !sameStops(p, q) {
			if items[n].Played() && items[at].Played() || doubled(p) != doubled(q) {
				return false
			}
			from, ok := soundsFrom(items, couplings, n)
			also, too := soundsFrom(items, couplings, at)
			if !ok || !too || from != also {
				return false
			}
		}
		if p.Host != nil && p.Host == q.Host && items[n].Played() && items[at].Played() && p.Octave != q.Octave {
			return false
		}
		if !lendable(items, couplings, p, at, q, n) || !lendable(items, couplings, q, n, p, at) {
			return false
		}
		for _, x := range p.Lending {
			for _, y := range q.Lending {
				if x.From == y.From {
					return false
				}
			}
		}
	}
	return true
}

// joined reports whether each manual that is coupled down to the pedal is
// played as it is printed, leads nowhere, and has its 8′ drawn; and nothing else,
// nor couplers of its own, where a solo is to have its pitch from there.
func joined(items []resolve.Item, couplings []passage.Coupling, parts []*resolve.Part) bool {
	for n, p := range parts {
		for _, pick := range p.Picks {
			if pick.Joined == nil {
				continue
			}
			eights, others := 0, 0
			for m, q := range parts {
				if q.Host != pick.Joined.From {
					continue
				}
				if items[n].Leads() && slices.ContainsFunc(couplings, func(c passage.Coupling) bool {
					return c.From == items[m].Division() || c.To == items[m].Division()
				}) {
					return false
				}
				if items[m].Leads() || q.Octave != 0 {
					if items[n].Leads() {
						return false
					}
					continue
				}
				if !items[m].Played() {
					if items[n].Leads() && len(q.Stops()) > 0 {
						return false
					}
					continue
				}
				for _, other := range q.Picks {
					for _, c := range other.Stops {
						if c.Path == nil && c.Stop.Pitch.String() == "8" {
							eights++
						} else {
							others++
						}
					}
					if other.Doubled != nil {
						others++
					}
				}
			}
			if eights == 0 || items[n].Leads() && pitch.Foot(8).Octaves(p.Octave) == pick.Voice.Pitch && others > 0 {
				return false
			}
		}
	}
	return true
}

func sameStops(p, q *resolve.Part) bool {
	drawn := func(p *resolve.Part) map[*registry.Stop]bool {
		out := map[*registry.Stop]bool{}
		for _, c := range p.Stops() {
			out[c.Stop] = true
		}
		return out
	}
	return maps.Equal(drawn(p), drawn(q)) && doubled(p) == doubled(q)
}

// doubled is the octave coupler that a part draws on its host.
func doubled(p *resolve.Part) *registry.Coupler {
	for _, pick := range p.Picks {
		if pick.Doubled != nil {
			return pick.Doubled
		}
	}
	return nil
}

// soundsFrom is the one division whose player hears an item: itself if it is
// played, else where its unison couplers lead in the end; ok is false where
// there are several, or none, or an octave coupler is on the way.
func soundsFrom(items []resolve.Item, couplings []passage.Coupling, n int) (passage.Division, bool) {
	played := map[passage.Division]bool{}
	for _, it := range items {
		played[it.Division()] = played[it.Division()] || it.Played()
	}
	if items[n].Played() {
		return items[n].Division(), true
	}
	ends, seen, ok := map[passage.Division]bool{}, map[passage.Division]bool{}, true
	var walk func(d passage.Division)
	walk = func(d passage.Division) {
		if seen[d] {
			return
		}
		seen[d] = true
		for _, c := range couplings {
			if c.From == d && c.To != d {
				ok = ok && c.Octave == 0
				ends[c.To] = ends[c.To] || played[c.To]
				walk(c.To)
			}
		}
	}
	walk(items[n].Division())
	var out []passage.Division
	for d, end := range ends {
		if end {
			out = append(out, d)
		}
	}
	if !ok || len(out) != 1 {
		return passage.Division{}, false
	}
	return out[0], true
}

func lendable(items []resolve.Item, couplings []passage.Coupling, borrower *resolve.Part, bn int, owner *resolve.Part, on int) bool {
	for _, path := range borrower.Lending {
		if path.From != owner.Host {
			continue
		}
		if items[on].Played() {
			return false
		}
		if items[on].Voices() == 0 {
			continue
		}
		owns, borrows := items[on].Division(), items[bn].Division()
		if len(path.Couplers) > 1 || !reaches(couplings, owns, borrows) {
			return false
		}
		for n := range items {
			if on := items[n].Division(); items[n].Played() && reaches(couplings, owns, on) && !reaches(couplings, borrows, on) {
				return false
			}
		}
	}
	return true
}

// reaches reports whether what is drawn on one division of the score sounds
// from the keyboard of another, by the couplers that it asks for.
func reaches(couplings []passage.Coupling, from, to passage.Division) bool {
	heard := []passage.Division{from}
	for i := 0; i < len(heard); i++ {
		if heard[i] == to {
			return true
		}
		for _, c := range couplings {
			if c.From == heard[i] && !slices.Contains(heard, c.To) {
				heard = append(heard, c.To)
			}
		}
	}
	return false
}
