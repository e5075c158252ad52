package resolve_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
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
