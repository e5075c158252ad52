package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/sound"
)

// Options are what the player says about how to resolve.
type Options struct {
	Numbering Numbering // "" takes the usual one for the score's language
}

type resolver struct {
	organ     *registry.Organ
	lang      string
	numbering Numbering
	sounds    map[*registry.Stop]*sound.Stop
}

// Resolve plans the whole score on the organ.
func Resolve(asked *passage.Score, organ *registry.Organ, opts Options) *Plan {
	r := &resolver{organ: organ, lang: asked.Lang, numbering: opts.Numbering}
	if r.numbering == "" {
		r.numbering = NumberingOf(asked.Lang)
	}
	plan := &Plan{Organ: organ, Asked: asked, numbering: r.numbering}
	var kept [][]*Setting
	for _, p := range asked.Passages {
		kept = append(kept, r.settingsFor(p))
	}
	for _, row := range kept {
		plan.Bound += row[0].Cost // changes cost nothing less than nothing
	}
	plan.Settings, plan.Cost = r.acrossPassages(kept)
	for i, s := range plan.Settings {
		for _, alt := range kept[i] {
			if alt != s && len(s.Alternatives) < 2 {
				s.Alternatives = append(s.Alternatives, alt)
			}
		}
		r.explain(s)
		r.problems(s)
	}
	return plan
}

// setting puts the parts of a passage together on the console.
func (r *resolver) setting(p *passage.Passage, parts []*Part) *Setting {
	s := &Setting{Passage: p, Parts: parts, Boxes: map[*registry.Division]string{}}
	s.Drawn = registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	owner := map[*registry.Division]*Part{}
	for _, part := range parts {
		s.Cost += part.Cost
		if part.Host == nil {
			continue
		}
		if q := owner[part.Host]; q != nil && !sameStops(q, part) {
			s.Cost += costShared
			weaker := part
			if leads(part) && !leads(q) {
				weaker, owner[part.Host] = q, part
			}
			weaker.Shared = true
		} else if q == nil || len(q.Picks) == 0 {
			owner[part.Host] = part
		}
	}
	for _, part := range parts {
		if part.Host == nil || part.Shared && owner[part.Host] != part {
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
		if box := part.Asked.Box; box != "" && part.Host.Enclosed {
			s.Boxes[part.Host] = box
		}
		if part.Asked.Tremming && slices.Contains(r.organ.Tremulants, part.Host) {
			s.Tremulants = append(s.Tremulants, part.Host)
		}
	}
	r.couple(s)
	r.lines(s)
	return s
}

// leads reports whether a solo plays on the part.
func leads(p *Part) bool {
	return p.played && len(p.Asked.Voices) == 1
}

// couple draws the couplers that the score asks for, between the homes of the
// divisions that it names.
func (r *resolver) couple(s *Setting) {
	for _, c := range s.Passage.Couplings {
		to := s.home(c.To)
		if to == nil {
			continue
		}
		if c.From.Role == division.Every {
			for _, k := range r.organ.Couplers {
				if k.To == to && k.From != to && k.Octave == 0 && !k.UnisonOff && s.joins(k.From) {
					s.Drawn.Couplers[k] = true
					r.drawFull(s, k.From)
				}
			}
			continue
		}
		from := s.home(c.From)
		if from == nil {
			from = r.byRole(c.From.Role)
		}
		if from == nil || from == to && c.Octave == 0 {
			continue
		}
		if k := r.coupler(from, to, c.Octave); k != nil {
			s.Drawn.Couplers[k] = true
		} else {
			s.Cost += costNoCoupler
		}
	}
}

// joins reports whether a division may join a tutti: it is not somebody's
// solo or accompaniment in this passage.
func (s *Setting) joins(d *registry.Division) bool {
	for _, p := range s.Parts {
		if p.Host == d {
			return len(p.Asked.Voices) == 0 || asksGroup(p.Asked.Voices)
		}
	}
	return true
}

// drawFull draws a division that only a tutti brings in.
func (r *resolver) drawFull(s *Setting, d *registry.Division) {
	for _, p := range s.Parts {
		if p.Host == d && len(p.Picks) > 0 {
			return
		}
	}
	stops, _, _ := expand(wanted{voice: fullVoice, role: passage.Chorus}, d)
	for _, st := range stops {
		s.Drawn.Stops[st] = true
	}
}

func (s *Setting) home(d passage.Division) *registry.Division {
	for _, p := range s.Parts {
		if p.Asked.Division == d {
			return p.Host
		}
	}
	return nil
}

func (r *resolver) byRole(role division.Role) *registry.Division {
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
		if c.From == from && c.To == to && c.Octave == octave && !c.UnisonOff {
			return c
		}
	}
	return nil
}

// lines says who plays what from where, and counts what couplers bring to a
// line that did not ask for it.
func (r *resolver) lines(s *Setting) {
	for _, played := range s.Passage.Lines {
		line := &Line{Asked: played, Part: s.partOf(played.Division)}
		s.Lines = append(s.Lines, line)
		if line.Part == nil || line.Part.Host == nil {
			continue
		}
		line.Keyboard, line.Octave = line.Part.Host.Keyboard, line.Part.Octave
		line.Sounds = r.organ.Sounding(s.Drawn, line.Keyboard)
		for _, sound := range line.Sounds {
			if !r.asked(s, line, sound) {
				s.Cost += costStranger
			}
		}
		line.PitchKept = pitchKept(line)
	}
}

func (s *Setting) partOf(d passage.Division) *Part {
	for _, p := range s.Parts {
		if p.Asked.Division == d {
			return p
		}
	}
	return nil
}

// asked reports whether a sound belongs to a line: a stop of its own part, or
// one of a division that the score couples to it.
func (r *resolver) asked(s *Setting, line *Line, sound registry.Sound) bool {
	if sound.Stop.Division == line.Part.Host {
		return true
	}
	for _, p := range line.Part.Lending {
		if p.From == sound.Stop.Division {
			return true
		}
	}
	reached := map[passage.Division]bool{line.Asked.Division: true}
	for changed := true; changed; {
		changed = false
		for _, c := range s.Passage.Couplings {
			if reached[c.To] && !reached[c.From] {
				reached[c.From], changed = true, true
			}
		}
	}
	if reached[passage.Division{Role: division.Every}] {
		return true
	}
	for _, p := range s.Parts {
		if reached[p.Asked.Division] {
			if p.Host == sound.Stop.Division {
				return true
			}
			for _, path := range p.Lending {
				if path.From == sound.Stop.Division {
					return true
				}
			}
		}
	}
	return false
}

// pitchKept reports whether the pitches given for a line are those asked for;
// where a group word leaves them open, whether the unison is there.
func pitchKept(line *Line) bool {
	given := line.Part.ratios()
	asked := passage.Ratios(line.Part.Asked.Voices)
	if asked == nil {
		for _, pick := range line.Part.Picks {
			if pick.Missing {
				return false
			}
		}
		return true
	}
	if len(given) != len(asked) {
		return false
	}
	for _, a := range asked {
		if !given[a] {
			return false
		}
	}
	return true
}

// explain gives every line its reason, as an organist would say it, and says
// what has changed.
func (r *resolver) explain(s *Setting) {
	for _, line := range s.Lines {
		line.Changed = r.changed(s, line)
		line.Why = r.why(s, line)
		line.Heard = r.hear(s, line)
	}
}

func (r *resolver) changed(s *Setting, line *Line) []string {
	var out []string
	p := line.Part
	if p == nil || p.Host == nil {
		return nil
	}
	for _, pick := range p.Picks {
		if !pick.Same {
			out = append(out, "stops")
			break
		}
	}
	if r.moved(p) {
		out = append(out, "keyboard")
	}
	if p.Octave != 0 {
		out = append(out, "octave")
	}
	if len(p.Lending) > 0 {
		out = append(out, "couplers")
	}
	return out
}

// moved reports whether a part has another home than the score names.
func (r *resolver) moved(p *Part) bool {
	d := p.Asked.Division
	if p.Host == nil || d == passage.Pedal || d.Role == division.None {
		return false
	}
	if n := d.Role.Number(); n > 0 {
		return r.numbered(n) != p.Host
	}
	return p.Host.Role != d.Role
}

func (r *resolver) why(s *Setting, line *Line) string {
	p := line.Part
	switch {
	case p == nil || p.Host == nil:
		return fmt.Sprintf("%s has no keyboard for this line.", r.organ.Name)
	case len(line.Changed) == 0 && len(p.Asked.Voices) == 0:
		return "The score asks for no stops here."
	case len(line.Changed) == 0:
		return "Everything that is asked for is there."
	}
	var notes []string
	if r.moved(p) {
		notes = append(notes, fmt.Sprintf("the %s plays what the %s is asked for", p.Host.Name, p.Asked.Division))
	}
	for _, pick := range p.Picks {
		if pick.Note != "" {
			notes = append(notes, pick.Note)
		}
		for _, c := range pick.Stops {
			if c.Path != nil {
				notes = append(notes, fmt.Sprintf("%s is on the %s and is coupled in", c.Stop.Text, c.Path.From.Name))
			}
		}
	}
	switch {
	case p.Octave > 0:
		notes = append(notes, fmt.Sprintf("played %s higher, the %s keeps the pitch that is asked for", octaves(p.Octave), stopNames(p)))
	case p.Octave < 0:
		notes = append(notes, fmt.Sprintf("played %s lower, the %s keeps the pitch that is asked for", octaves(-p.Octave), stopNames(p)))
	}
	if len(notes) == 0 {
		return ""
	}
	text := strings.Join(notes, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

func octaves(n int) string {
	if n == 1 {
		return "an octave"
	}
	return fmt.Sprintf("%d octaves", n)
}

func stopNames(p *Part) string {
	var names []string
	for _, c := range p.Stops() {
		names = append(names, c.Stop.Text)
	}
	return strings.Join(names, " and ")
}

// StopsInOrder lists what is drawn on a division, in the order of the knobs.
func (s *Setting) StopsInOrder(d *registry.Division) []*registry.Stop {
	var out []*registry.Stop
	for _, st := range d.Stops {
		if s.Drawn.Stops[st] {
			out = append(out, st)
		}
	}
	return out
}

// CouplersInOrder lists the couplers that are on, in the order of the organ.
func (s *Setting) CouplersInOrder(o *registry.Organ) []*registry.Coupler {
	var out []*registry.Coupler
	for _, c := range o.Couplers {
		if s.Drawn.Couplers[c] {
			out = append(out, c)
		}
	}
	return out
}

// Moved reports whether a part has another home than the score names.
func (p *Plan) Moved(part *Part) bool { return p.resolver().moved(part) }

// Named reports whether a division of the organ is the one that the score's
// name means on it.
func (p *Plan) Named(d passage.Division, host *registry.Division) bool {
	return !p.resolver().moved(&Part{Asked: &passage.Asked{Division: d}, Host: host})
}

// Coupled is what is given for a coupler that the score asks for: the coupler,
// nil if there is none, and the divisions that it would join.
func (p *Plan) Coupled(s *Setting, c passage.Coupling) (given *registry.Coupler, from, to *registry.Division) {
	r := p.resolver()
	from, to = s.home(c.From), s.home(c.To)
	if c.From.Role == division.Every {
		return nil, nil, to
	}
	if from == nil {
		from = r.byRole(c.From.Role)
	}
	if from == nil || to == nil {
		return nil, from, to
	}
	return r.coupler(from, to, c.Octave), from, to
}

func (p *Plan) resolver() *resolver {
	return &resolver{organ: p.Organ, lang: p.Asked.Lang, numbering: p.numbering}
}
