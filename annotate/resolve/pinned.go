package resolve

import (
	"cmp"
	"fmt"
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// CheckPins reports why a pin cannot be played on the organ, nil if all can.
func CheckPins(asked *passage.Score, organ *registry.Organ, opts Options) error {
	if len(opts.Pins) == 0 {
		return nil
	}
	r := resolverFor(asked, organ, opts)
	passages := r.follow(asked.Passages)
	if err := r.place(passages, opts.Pins); err != nil {
		return err
	}
	r.findBrief(passages)
	for _, p := range passages {
		pins := 0
		for _, a := range p.Drawn {
			fixed := r.fixed[fixedKey{p, a.Division}]
			if len(fixed) == 0 {
				continue
			}
			pins++
			k := r.askOf(p, a)
			free, _ := r.options(k, 0, nil)
			parts, _ := r.options(k, 0, fixed)
			if len(parts) > 0 && (!r.leavesKeys(parts[0]) || len(free) > 0 && r.leavesKeys(free[0])) {
				continue
			}
			if _, err := r.pinned(p, k); err != nil {
				return err
			}
		}
		if pins > 0 && len(r.stageAsPinned(p, edges{}).trials) == 0 {
			return r.clash(p)
		}
	}
	return nil
}

// clash says which pins of a passage cannot be had at once.
func (r *resolver) clash(p *passage.Passage) error {
	var pins []*fixed
	for _, a := range p.Drawn {
		if all := r.fixed[fixedKey{p, a.Division}]; len(all) > 0 {
			pins = append(pins, merged(all))
		}
	}
	for i, f := range pins {
		for _, g := range pins[:i] {
			why := f.inTheWay(g)
			if why == "" {
				why = g.inTheWay(f)
			}
			if why != "" {
				return fmt.Errorf("the pins %q and %q exclude one another in measure %s: %s", g.pin.Text, f.pin.Text, p.From.Measure, why)
			}
		}
	}
	if len(pins) > 1 {
		return fmt.Errorf("the pins %q and %q exclude one another in measure %s: they cannot be had at once", pins[0].pin.Text, pins[1].pin.Text, p.From.Measure)
	}
	return fmt.Errorf("the pin %q cannot be played: what else is played in measure %s needs the keyboard otherwise", pins[0].pin.Text, p.From.Measure)
}

// inTheWay is why two pins on different registrations cannot be had at once,
// "" if nothing of what they say stands in the way.
func (f *fixed) inTheWay(g *fixed) string {
	same := f.host != nil && f.host == g.host
	switch {
	case same && f.pin.Octave != nil && g.pin.Octave != nil && *f.pin.Octave != *g.pin.Octave:
		return fmt.Sprintf("the %s is played in one octave", f.host.Name)
	case same && len(f.stops) > 0 && len(g.stops) > 0:
		return fmt.Sprintf("the %s sounds the same stops for both", f.host.Name)
	case f.host != nil && g.host != nil:
		for s := range f.stops {
			if s.Division == g.host {
				return fmt.Sprintf("the %s cannot lend %s while it is played by itself", g.host.Name, s.Text)
			}
		}
	}
	return ""
}

// merged is what several pins on one registration say together.
func merged(pins []*fixed) *fixed {
	out := *pins[0]
	for _, f := range pins[1:] {
		if out.host == nil {
			out.host = f.host
		}
		if out.pin.Octave == nil {
			out.pin.Octave = f.pin.Octave
		}
		if len(out.stops) == 0 {
			out.stops = f.stops
		}
	}
	return &out
}

// stageAsPinned is a passage as the pins have it, without a trial where they
// exclude one another.
func (r *resolver) stageAsPinned(p *passage.Passage, e edges) *stage {
	st := &stage{r: r, margin: marginFirst, far: marginFar, edges: e}
	st.version(p, 0)
	for _, x := range r.swaps(p) {
		st.version(x.passage, costSwap)
	}
	st.search()
	return st
}

// unpin forgets the pins of a passage, and reports whether there were any.
func (r *resolver) unpin(p *passage.Passage) bool {
	any := false
	for _, a := range p.Drawn {
		at := fixedKey{p, a.Division}
		any = any || len(r.fixed[at]) > 0
		delete(r.fixed, at)
	}
	return any
}

// leavesKeys reports whether keys are pressed that are not on the keyboard.
func (r *resolver) leavesKeys(p *Part) bool {
	s := r.sketch(p.ask, p.Host, p.Octave)
	return s == nil || s.offKeys() > 0
}

// choices are the parts of a division in a passage: those that its pins allow,
// or else all within the slack, and those that join others, whatever they cost.
func (r *resolver) choices(p *passage.Passage, k *ask, slack int) (parts []*Part, left cut) {
	pins := r.fixed[fixedKey{p, k.asked.Division}]
	parts, left = r.options(k, slack, pins)
	joiners := r.joiners(p, k, pins)
	if len(parts) == 0 && len(pins) > 0 {
		if part, err := r.pinned(p, k); err == nil {
			parts, left = []*Part{part}, cut{never, never}
		} else if len(joiners) == 0 {
			parts, left = r.options(k, slack, nil) // CheckPins has said why
		}
	}
	if len(joiners) > 0 {
		parts = append(slices.Clone(parts), joiners...)
		slices.SortStableFunc(parts, func(a, b *Part) int { return cmp.Compare(a.Cost, b.Cost) })
	}
	return parts, left
}

// pinned is the part that the pins on a division ask for where no ordinary
// one does as they say: their stops as they stand, at the cost of what they
// give up.
func (r *resolver) pinned(p *passage.Passage, k *ask) (*Part, error) {
	f := merged(r.fixed[fixedKey{p, k.asked.Division}])
	part := &Part{Asked: k.asked, played: true, ask: k, soft: k.softened, Host: f.host}
	if f.pin.Octave != nil {
		part.Octave = *f.pin.Octave
	}
	if part.Host == nil {
		for _, d := range r.hosts(k.asked.Division) {
			for _, s := range d.Stops {
				if f.stops[s] && part.Host == nil {
					part.Host = d
				}
			}
		}
	}
	if part.Host == nil || part.Host.Keyboard == nil || part.Host.Keyboard.Pedal != (k.asked.Division == passage.Pedal) {
		return nil, fmt.Errorf("the pin %q cannot be played: there is no keyboard for the line there", f.pin.Text)
	}
	for _, line := range k.lines {
		for _, n := range line.Notes {
			if key := n.Key + registry.Key(12*part.Octave); !part.Host.Keyboard.Compass.Has(key) {
				return nil, fmt.Errorf("the pin %q cannot be played: %s in measure %s is not on the %s", f.pin.Text, key, n.Note.Measure.Number, keyboardName(part.Host.Keyboard))
			}
		}
	}
	var drawn []Chosen
	for _, d := range r.organ.Divisions {
		for _, s := range d.Stops {
			if !f.stops[s] {
				continue
			}
			if d == part.Host {
				drawn = append(drawn, Chosen{Stop: s})
				continue
			}
			c := r.coupler(d, part.Host, 0)
			if c == nil {
				return nil, fmt.Errorf("the pin %q cannot be played: there is no coupler from the %s to the %s for %s", f.pin.Text, d.Name, part.Host.Name, s.Text)
			}
			drawn = append(drawn, Chosen{s, part.lender(d, c)})
		}
	}
	var lost int
	part.Picks, lost = r.joined(part, drawn)
	part.drawAll(drawn)
	r.board.number(part)
	part.Cost = r.sketch(k, part.Host, part.Octave).base + costPinned + lost + r.departs(part)
	for i := range part.Lending {
		part.Cost += part.Lending[i].cost()
	}
	return part, nil
}

// drawAll adds to the picks of a part the stops that none of them has yet, as
// pinned: to one that has some, else to one that is left out and for which
// they are played.
func (p *Part) drawAll(stops []Chosen) {
	var more []Chosen
	for _, c := range stops {
		if !slices.ContainsFunc(p.Picks, func(x Pick) bool { return slices.Contains(x.Stops, c) }) {
			more = append(more, c)
		}
	}
	if len(p.Picks) == 0 {
		p.Picks = []Pick{{}}
	}
	at := max(0, slices.IndexFunc(p.Picks, func(x Pick) bool { return !x.Missing }))
	pick := &p.Picks[at]
	pick.Note, pick.Same = "pinned", false
	if len(more) > 0 {
		pick.Stops = append(slices.Clone(pick.Stops), more...)
		pick.Instead, pick.Missing = pick.Instead || pick.Missing, false
	}
}

// lender is the part's path from a division, made if it is new.
func (p *Part) lender(d *registry.Division, c *registry.Coupler) *Path {
	for i := range p.Lending {
		if p.Lending[i].From == d {
			return &p.Lending[i]
		}
	}
	p.Lending = append(p.Lending, Path{From: d, Couplers: []*registry.Coupler{c}})
	return &p.Lending[len(p.Lending)-1]
}
