package resolve

import (
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
)

// setting is a trial as the plan shows it.
func (d *desk) setting(t *trial) *Setting {
	s := &Setting{Passage: d.p, Follows: d.r.follows[d.p]}
	out := d.r.board.out(t.knobs)
	s.Drawn, s.Cost, s.knobs, s.trial = out.drawn, t.cost, t.knobs, t
	copied := make([]Part, len(t.parts))
	s.Parts = make([]*Part, len(t.parts))
	for i, p := range t.parts {
		part := &copied[i]
		*part = *p
		part.Shared = !t.drawn[i]
		if p.joins {
			part.Picks, _ = d.r.joined(p, drawnOn(t.parts, p.Host))
			part.sounds = nil
		}
		s.Parts[i] = part
		if part.Host == nil || part.Shared {
			continue
		}
		if box := part.Asked.Box; box != "" && part.Host.Enclosed {
			s.setBox(part.Host, box)
		}
		if part.Asked.Tremming && leads(t.parts, p.Host) == p && d.r.organ.HasTremulant(part.Host) {
			s.Tremulants = append(s.Tremulants, part.Host)
		}
	}
	lines := make([]Line, len(d.lines))
	s.Lines = make([]*Line, len(d.lines))
	for i, l := range d.lines {
		line := &lines[i]
		line.Asked, line.By = l.played, l.played.Line
		s.Lines[i] = line
		if l.part < 0 {
			continue
		}
		line.Part = s.Parts[l.part]
		if line.Part.Host == nil {
			continue
		}
		line.Keyboard, line.Octave = line.Part.Host.Keyboard, line.Part.Octave
		line.Sounds = out.sounds(line.Keyboard)
	}
	if d.swap != nil {
		d.swap.turn(s)
	}
	return s
}

func (s *Setting) setBox(d *registry.Division, position string) {
	if s.Boxes == nil {
		s.Boxes = map[*registry.Division]string{}
	}
	s.Boxes[d] = position
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
