package resolve

import (
	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/sound"
)

// standsOut is by how many decibels a solo has to be above what masks it.
const standsOut = 6

// setting puts the parts of a passage together on the console and adds up
// what they cost there.
func (r *resolver) setting(p *passage.Passage, parts []*Part) *Setting {
	s := r.console(p, parts)
	s.Cost += r.drowned(s)
	return s
}

// console is the setting without what is heard of it.
func (r *resolver) console(p *passage.Passage, parts []*Part) *Setting {
	s := &Setting{Passage: p, Follows: r.follows[p], Boxes: map[*registry.Division]string{}}
	s.Drawn = registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	owner := r.share(s, parts)
	for _, part := range s.Parts {
		if part.Host == nil || part.Shared {
			continue
		}
		for _, c := range part.Stops() {
			s.Drawn.Stops[c.Stop] = true
		}
		for _, path := range part.Lending {
			for _, c := range path.Couplers {
				s.Drawn.Couplers[c] = true
			}
		}
		for _, pick := range part.Picks {
			if pick.Joined != nil {
				s.Drawn.Couplers[pick.Joined] = true
			}
		}
		if box := part.Asked.Box; box != "" && part.Host.Enclosed {
			s.Boxes[part.Host] = box
		}
		if part.Asked.Tremming && owner[part.Host] == part && r.organ.HasTremulant(part.Host) {
			s.Tremulants = append(s.Tremulants, part.Host)
		}
	}
	r.couple(s)
	r.lines(s)
	s.knobs = r.knobsOf(s.Drawn)
	return s
}

// share copies the parts into the setting and settles whose stops are drawn
// where two registrations have to share a keyboard: those of the one that
// leads, else of the first.
func (r *resolver) share(s *Setting, parts []*Part) map[*registry.Division]*Part {
	owner := map[*registry.Division]*Part{}
	for _, p := range parts {
		copied := *p
		part := &copied
		s.Parts = append(s.Parts, part)
		s.Cost += part.Cost
		if part.Host == nil || len(part.Picks) == 0 {
			continue
		}
		q := owner[part.Host]
		switch {
		case q == nil:
			owner[part.Host] = part
		case sameStops(q, part):
			s.Cost += costMerged
		default:
			s.Cost += costMerged + costShared
			if part.played && (!q.played || part.ask.solo && !q.ask.solo) {
				q.Shared, owner[part.Host] = true, part
			} else {
				part.Shared = true
			}
		}
	}
	return owner
}

// couple draws the couplers that the score asks for, between the homes of the
// divisions that it names.
func (r *resolver) couple(s *Setting) {
	var wanting []passage.Coupling
	for _, c := range s.Passage.Couplings {
		if c.From.Role == division.Every {
			if to := s.home(c.To); to != nil {
				r.coupleEvery(s, to)
			}
			continue
		}
		from, to := r.ends(s, c)
		if from == nil || to == nil || from == to && c.Octave == 0 {
			continue
		}
		if k := r.coupler(from, to, c.Octave); k != nil {
			s.Drawn.Couplers[k] = true
		} else {
			wanting = append(wanting, c)
		}
	}
	for _, c := range wanting {
		if from, to := r.ends(s, c); r.chain(s, from, to, c.Octave) == nil {
			s.Cost += costNoCoupler
		}
	}
}

// ends are the divisions of the organ between which a coupler is asked for.
func (r *resolver) ends(s *Setting, c passage.Coupling) (from, to *registry.Division) {
	from, to = s.home(c.From), s.home(c.To)
	if from == nil && c.From.Role != division.Every {
		from = r.byRole(c.From.Role)
	}
	return from, to
}

// chain is how a division reaches another's keyboard through couplers that
// are drawn and carry on, nil if it does not.
func (r *resolver) chain(s *Setting, from, to *registry.Division, octave int) []*registry.Coupler {
	if to.Keyboard == nil {
		return nil
	}
	probe := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: s.Drawn.Couplers}
	for _, st := range from.Stops {
		probe.Stops[st] = true
	}
	for _, x := range r.organ.Sounding(probe, to.Keyboard) {
		if x.Stop.Division == from && x.Octave == octave && len(x.Via) > 0 {
			return x.Via
		}
	}
	return nil
}

// coupleEvery brings the whole organ to a keyboard, as a tutti asks.
func (r *resolver) coupleEvery(s *Setting, to *registry.Division) {
	for _, k := range r.organ.Couplers {
		if k.To != to || k.From == to || k.Octave != 0 || k.UnisonOff || !s.joins(k.From) {
			continue
		}
		s.Drawn.Couplers[k] = true
		if p := s.partAt(k.From); p == nil || len(p.Picks) == 0 {
			stops, _, _ := r.expand(wanted{voice: direction.Voice{Group: direction.Full}, use: chorus}, k.From)
			for _, st := range stops {
				s.Drawn.Stops[st] = true
			}
		}
	}
}

// joins reports whether a division may join a tutti: nobody plays a colour of
// its own on it.
func (s *Setting) joins(d *registry.Division) bool {
	p := s.partAt(d)
	return p == nil || len(p.Picks) == 0 || !p.played || p.ask.use == chorus
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

// lines says who plays what from where, and counts what couplers bring to a
// line that did not ask for it.
func (r *resolver) lines(s *Setting) {
	for _, played := range s.Passage.Lines {
		line := &Line{Asked: played, By: played.Line, Part: s.partOf(played.Division)}
		s.Lines = append(s.Lines, line)
		if line.Part == nil || line.Part.Host == nil {
			continue
		}
		line.Keyboard, line.Octave = line.Part.Host.Keyboard, line.Part.Octave
		line.Sounds = r.organ.Sounding(s.Drawn, line.Keyboard)
		ours := r.heardOn(s, line)
		for _, x := range line.Sounds {
			if ours != nil && !ours[x.Stop.Division] {
				s.Cost += costStranger
			}
		}
	}
}

// heardOn are the divisions that the score wants to sound from a line's
// keyboard: its own, those that lend to it, and those that are coupled to it,
// one over another; nil where that is every one.
func (r *resolver) heardOn(s *Setting, line *Line) map[*registry.Division]bool {
	out := map[*registry.Division]bool{}
	for d := range coupledTo(s.Passage, line.Asked.Division) {
		if d.Role == division.Every {
			return nil
		}
		p := s.partOf(d)
		if p == nil {
			if h := r.byRole(d.Role); h != nil {
				out[h] = true
			}
			continue
		}
		out[p.Host] = true
		for _, path := range p.Lending {
			out[path.From] = true
		}
		for _, pick := range p.Picks {
			if pick.Joined != nil {
				out[pick.Joined.From] = true
			}
		}
	}
	return out
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

// drowned is what it costs that a solo does not stand out from the rest.
func (r *resolver) drowned(s *Setting) int {
	var lines []*Line
	solo := false
	for _, line := range s.Lines {
		if line.Keyboard != nil && len(line.Sounds) > 0 && len(line.Asked.Notes) > 0 {
			lines = append(lines, line)
			solo = solo || line.Asked.Role == passage.Solo
		}
	}
	if !solo || len(lines) < 2 {
		return 0
	}
	h := r.hearing(s.Passage, lines)
	cost := 0
	for i, line := range lines {
		if line.Asked.Role != passage.Solo {
			continue
		}
		rest := h.silence(0)
		own := h.silence(i)
		for q, other := range lines {
			sum := h.sum(r, s, q, other)
			if q == i {
				own = sum
			} else {
				rest.Add(sum)
			}
		}
		if short := standsOut*10 - sound.Tenths(sound.StandsOut(own, rest).DB); short > 0 {
			cost += min(costDrowned*short/10, costDrowned*20)
		}
	}
	return cost
}
