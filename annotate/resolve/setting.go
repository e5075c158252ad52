package resolve

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// setting is a trial as the plan shows it.
func (d *desk) setting(t *trial) *Setting {
	s := &Setting{Passage: d.p, Follows: d.r.follows[d.p], Boxes: map[*registry.Division]string{}}
	s.Drawn, s.Cost, s.knobs, s.trial = d.r.board.drawn(t.knobs), t.cost, t.knobs, t
	for i, p := range t.parts {
		copied := *p
		copied.Shared = !t.drawn[i]
		if p.joins {
			copied.Picks, _ = d.r.joined(p, drawnOn(t.parts, p.Host))
			copied.sounds = nil
		}
		part := &copied
		s.Parts = append(s.Parts, part)
		if part.Host == nil || part.Shared {
			continue
		}
		if box := part.Asked.Box; box != "" && part.Host.Enclosed {
			s.Boxes[part.Host] = box
		}
		if part.Asked.Tremming && leads(t.parts, p.Host) == p && d.r.organ.HasTremulant(part.Host) {
			s.Tremulants = append(s.Tremulants, part.Host)
		}
	}
	for _, l := range d.lines {
		line := &Line{Asked: l.played, By: l.played.Line}
		s.Lines = append(s.Lines, line)
		if l.part < 0 {
			continue
		}
		line.Part = s.Parts[l.part]
		if line.Part.Host == nil {
			continue
		}
		line.Keyboard, line.Octave = line.Part.Host.Keyboard, line.Part.Octave
		var sounding []reached
		for _, x := range t.under.from(line.Keyboard) {
			if t.knobs.has(x.stop) {
				sounding = append(sounding, x)
			}
		}
		slices.SortFunc(sounding, func(a, b reached) int { return a.at - b.at })
		line.Sounds = slices.Grow(line.Sounds, len(sounding))
		for _, x := range sounding {
			line.Sounds = append(line.Sounds, x.sound)
		}
	}
	if d.swap != nil {
		d.swap.turn(s)
	}
	return s
}

// settle lets go of what only the search needs, once all is said of a setting
// and its alternatives.
func (s *Setting) settle() {
	s.trial = nil
	for _, p := range s.Parts {
		p.ask, p.sounds = nil, nil
	}
	for _, alt := range s.Alternatives {
		alt.settle()
	}
}

// console is a passage with certain parts, one for each thing asked in its
// order, without what that costs.
func (r *resolver) console(p *passage.Passage, parts []*Part) *Setting {
	d := r.desk(p)
	t := d.put(new(trial), parts, 0)
	d.listen(t)
	return d.setting(t)
}

// alone is the cheapest way of playing a passage by itself.
func (r *resolver) alone(p *passage.Passage) *Setting {
	t := r.stage(p, edges{}).trials[0]
	return t.desk.setting(t)
}

// ends are the divisions of the organ between which a coupler is asked for.
func (r *resolver) ends(s *Setting, c passage.Coupling) (from, to *registry.Division) {
	from, to = s.home(c.From), s.home(c.To)
	if from == nil && c.From.Role != division.Every {
		from = r.byRole(c.From.Role)
	}
	return from, to
}

func (s *Setting) partAt(d *registry.Division) *Part {
	for _, p := range s.Parts {
		if p.Host == d {
			return p
		}
	}
	return nil
}

func (s *Setting) partOf(d passage.Division) *Part {
	for _, p := range s.Parts {
		if p.Asked.Division == d {
			return p
		}
	}
	return nil
}

// home is where what is asked of a division is given.
func (s *Setting) home(d passage.Division) *registry.Division {
	if p := s.partOf(d); p != nil {
		return p.Host
	}
	return nil
}

// byRole is the division with a manual that comes nearest to a role.
func (r *resolver) byRole(role division.Role) *registry.Division {
	if n := role.Number(); n > 0 {
		return r.numbered(n)
	}
	var best *registry.Division
	for _, d := range r.organ.Divisions {
		if d.Keyboard == nil || d.Keyboard.Pedal {
			continue
		}
		if best == nil || standInRank(role, d.Role) < standInRank(role, best.Role) {
			best = d
		}
	}
	return best
}

func (r *resolver) coupler(from, to *registry.Division, octave int) *registry.Coupler {
	for _, c := range r.organ.Couplers {
		if c.From == from && c.To == to && c.Octave == octave && !c.UnisonOff && c.Note == registry.EveryNote {
			return c
		}
	}
	return nil
}

// coupledTo are the divisions that the score couples to one, itself among them.
func coupledTo(p *passage.Passage, d passage.Division) map[passage.Division]bool {
	reached := map[passage.Division]bool{d: true}
	for changed := true; changed; {
		changed = false
		for _, c := range p.Couplings {
			if reached[c.To] && !reached[c.From] {
				reached[c.From], changed = true, true
			}
		}
	}
	return reached
}
