package resolve

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// A Pricing tells tests what it costs to give what a score asks in a way that
// they chose themselves. It says nothing of which ways there are, nor which is
// the cheapest: that is what the tests find out.
type Pricing struct {
	r        *resolver
	passages []*passage.Passage
	versions [][]*version // of each passage: as it stands, and with hand and feet changing parts
}

// PricingOf is the pricing for a score on an organ, in the passages into which
// a plan divides it.
func PricingOf(asked *passage.Score, plan *Plan, opts Options) *Pricing {
	r := newResolver(plan.Organ, asked.Lang, opts.Numbering)
	r.few, r.prefer, r.twoVoices, r.layout, r.writtenFor = opts.Few, opts.Prefer, opts.TwoVoices, asked.Layout, opts.WrittenFor
	if plan.heldTo != nil {
		r.canon = plan.heldTo
	}
	passages := r.prepare(asked, opts.Pins)
	if plan.Asked != asked {
		passages = r.prepare(plan.Asked, opts.Pins)
	}
	p := &Pricing{r: r, passages: passages}
	for _, x := range passages {
		all := []*version{{desk: r.desk(x)}}
		for _, s := range r.swaps(x) {
			all = append(all, &version{desk: r.desk(s.passage), base: costSwap})
		}
		p.versions = append(p.versions, all)
	}
	return p
}

// Passages counts those that are resolved.
func (p *Pricing) Passages() int { return len(p.passages) }

// Versions counts the ways to share a passage among hands and feet: as it
// stands, and with one hand and the feet changing parts.
func (p *Pricing) Versions(i int) int { return len(p.versions[i]) }

// Couplings are the couplers asked for in a version of a passage.
func (p *Pricing) Couplings(i, v int) []passage.Coupling { return p.versions[i][v].p.Couplings }

// An Item is one division's registration in a passage.
type Item struct{ ask *ask }

// Items are what a version of a passage asks to be drawn.
func (p *Pricing) Items(i, v int) []Item {
	var out []Item
	for _, k := range p.versions[i][v].asks {
		out = append(out, Item{k})
	}
	return out
}

// Division is the place that is asked for.
func (it Item) Division() passage.Division { return it.ask.asked.Division }

// Played reports whether a line plays on it, rather than a coupler.
func (it Item) Played() bool { return len(it.ask.lines) > 0 }

// Leads reports whether it is a solo.
func (it Item) Leads() bool { return it.ask.solo }

// Voices counts what is asked for.
func (it Item) Voices() int { return len(it.ask.voice) }

// MayMove reports whether it is one colour that leads, alone on its keyboard,
// which a player may take in another octave.
func (it Item) MayMove() bool { return len(it.ask.octaves()) > 1 }

// A Way is a host, an octave and the paths by which others lend to it.
type Way struct {
	Host   *registry.Division
	Octave int
	Paths  []*Path
}

// A Give is one way of giving a voice, and what that costs.
type Give struct {
	Pick  Pick
	Cost  int
	Group bool // for a word that means several stops, which may draw what is drawn already
}

// Gives lists each stop within reach that can be given for a voice, each
// remedy that the tables name for it, and leaving it out.
func (p *Pricing) Gives(it Item, w Way, voice int) []Give {
	re := reach{r: p.r, host: w.Host, octave: w.Octave, paths: w.Paths}
	var out []Give
	for _, f := range re.every(it.ask.voice[voice]) {
		if !it.ask.swapped || !f.pick.lost() && f.pick.Joined == nil {
			out = append(out, Give{f.pick, f.cost, isGroupWord(f.pick.Voice)})
		}
	}
	return out
}

// Part prices a registration; nil where a lender would lend nothing, or where
// the feet would take a hand's part without having its keys.
func (p *Pricing) Part(it Item, w Way, gives []Give) *Part {
	s := p.r.sketch(it.ask, w.Host, w.Octave)
	if s == nil {
		return nil
	}
	cost := s.base
	var picks []*Pick
	lends := map[*Path]bool{}
	for i := range gives {
		picks, cost = append(picks, &gives[i].Pick), cost+gives[i].Cost
		for _, c := range gives[i].Pick.Stops {
			lends[c.Path] = true
		}
	}
	for _, path := range w.Paths {
		if !lends[path] {
			return nil
		}
		cost += path.cost()
	}
	return s.part(picks, w.Paths, cost)
}

// Join is the registration that draws nothing, and sounds what others draw on
// the way's host.
func (p *Pricing) Join(it Item, w Way) *Part {
	if it.ask.swapped {
		return nil
	}
	return p.r.sketch(it.ask, w.Host, w.Octave).joiner()
}

// Returns is what it costs at most that words which come back after something
// else are given otherwise than they are held to.
func (p *Pricing) Returns() int {
	cost := 0
	for _, v := range p.versions {
		for _, k := range v[0].asks {
			if k.recurs.returns {
				cost += costTextChange
			}
		}
	}
	return cost
}

// Belongs reports whether a word of the score that stands for several stops
// draws a stop, on any host that may give it; or whether it would do under soft
// hands for the big 16′ of the pedal, which then is not asked for.
func (p *Pricing) Belongs(s *registry.Stop) bool {
	for _, versions := range p.versions {
		for _, v := range versions {
			for _, k := range v.asks {
				if k.asked.Division == passage.Pedal && isBig(k.asked) && isSoftSixteen(s) && s.Division.Keyboard.Pedal {
					return true
				}
				for _, w := range k.voice {
					if !isGroupWord(w.voice) {
						continue
					}
					stops, _, _ := p.r.expand(w, s.Division)
					if slices.Contains(stops, s) {
						return true
					}
				}
			}
		}
	}
	return false
}

// Nothing is the registration of an item that the organ has no keyboard for;
// nil where the feet would take a hand's part, which then stays as it was.
func (p *Pricing) Nothing(it Item) *Part {
	if it.ask.swapped {
		return nil
	}
	return p.r.nothing(it.ask)
}

// Setting prices the registrations of a version of a passage together, what
// those lose that join others among it. ok is false where the hands would cross
// too far.
func (p *Pricing) Setting(i, v int, parts []*Part) (c Console, ok bool) {
	d := p.versions[i][v]
	lost, _ := d.r.shared(parts, nil)
	sum := d.base + lost
	for n, part := range parts {
		extra, _ := beside(d.p, parts[:n], part)
		sum += part.Cost + extra
	}
	t := d.put(new(trial), append([]*Part(nil), parts...), sum)
	if d.swap != nil && !d.swap.reaches(t) {
		return Console{}, false
	}
	d.listen(t)
	d.drowned(t)
	return Console{t}, true
}

// A Console is the registrations of a passage put together.
type Console struct{ t *trial }

// Cost is what it costs by itself, Parts what it was put together of.
func (c Console) Cost() int      { return c.t.cost }
func (c Console) Parts() []*Part { return c.t.parts }

// Replaced is what a plan costs as it is, and with each way to fall back on, by
// passage, in the place of what was chosen: the passages and the changes
// between them.
func Replaced(asked *passage.Score, organ *registry.Organ, opts Options) (cost int, with [][]int) {
	r := resolverFor(asked, organ, opts)
	plan, stages := r.plan(asked, opts.Pins)
	var chosen []*trial
	for _, s := range plan.Settings {
		chosen = append(chosen, s.trial)
	}
	for i, st := range stages {
		var costs []int
		for _, t := range st.others(chosen[i], mostAlternatives, true) {
			other := slices.Clone(chosen)
			other[i] = t
			costs = append(costs, r.total(other))
		}
		with = append(with, costs)
	}
	return r.total(chosen), with
}

func (r *resolver) total(trials []*trial) int {
	cost := 0
	for i, t := range trials {
		if cost += t.cost; i > 0 {
			cost += r.change(trials[i-1], t, i, never)
		}
	}
	return cost
}

// Change prices going from one setting to the next, at the start of passage i.
func (p *Pricing) Change(a, b Console, i int) int { return p.r.change(a.t, b.t, i, never) }

// ForgetAtOnce has the search keep next to nothing that it could find again,
// until what it returns is called.
func ForgetAtOnce() (restore func()) {
	limits := []*int{&hearingsKept, &drowningsKept, &mostMaskings, &mostCoupled, &partsKept, &mostWants, &mostWays, &mostGivings, &mostNames}
	var usual []int
	for _, limit := range limits {
		usual = append(usual, *limit)
		*limit = 1
	}
	return func() {
		for i, limit := range limits {
			*limit = usual[i]
		}
	}
}

// LookAtFew has the search look at so few parts of each host in each octave,
// until what it returns is called.
func LookAtFew(parts int) (restore func()) {
	usual := mostParts
	mostParts = parts
	return func() { mostParts = usual }
}
