package resolve

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/sound"
)

// A trial is one way of playing a passage: a part for each thing that is
// asked, put together on the console.
type trial struct {
	desk  *desk
	parts []*Part
	drawn []bool // of each part: it has a host and joins no other there
	knobs knobs
	under *coupled
	cost  int

	sounding knobs // what sounds for the hands, once it was asked for
}

// A desk is a passage made ready for trials, as it stands or with a hand and
// the feet changing parts.
type desk struct {
	r       *resolver
	p       *passage.Passage
	swap    *swap              // nil where it is as it stands
	places  []passage.Division // of the asks, as the score has them
	asks    []*ask             // in the order of the passage
	lines   []deskLine
	audible *sound.Passage // its lines ready for hearing, once that was asked for
	hearing *hearing

	drownings map[string]int  // what it costs that a solo does not stand out, by how it sounds beside the rest
	meets     map[[2]int]bool // whether a line comes down to the keys of another, as far as it was asked
}

// A deskLine is a line, with what the score wants to sound from its keyboard:
// the parts asked for on it or coupled to it, and the divisions that are
// coupled to it without being asked for.
type deskLine struct {
	played *passage.Played
	part   int // -1 where nothing is asked
	wanted []int
	others []*registry.Division
	every  bool // the whole organ is coupled to it
}

func (r *resolver) desk(p *passage.Passage) *desk {
	d := &desk{r: r, p: p, swap: r.swapIn[p]}
	for _, a := range p.Drawn {
		if a.Division.Role == division.Every {
			continue
		}
		d.asks = append(d.asks, r.askOf(p, a))
		if d.swap != nil && d.swap.asked[a] != nil {
			a = d.swap.asked[a]
		}
		d.places = append(d.places, a.Division)
	}
	for _, played := range p.Lines {
		line := deskLine{played: played, part: d.askedOn(played.Division)}
		for c := range coupledTo(p, played.Division) {
			if c.Role == division.Every {
				line.every = true
			} else if i := d.askedOn(c); i >= 0 {
				line.wanted = append(line.wanted, i)
			} else if h := r.byRole(c.Role); h != nil {
				line.others = append(line.others, h)
			}
		}
		d.lines = append(d.lines, line)
	}
	return d
}

// askedOn is the number of what is asked of a division, -1 if nothing is.
func (d *desk) askedOn(on passage.Division) int {
	for i, k := range d.asks {
		if k.asked.Division == on {
			return i
		}
	}
	return -1
}

// put puts parts together on the console, in place of what t was: sum is what
// they cost beside one another. What the lines hear is not counted yet. The
// trial holds the parts as they are given; to last, it is cloned.
func (d *desk) put(t *trial, parts []*Part, sum int) *trial {
	*t = trial{desk: d, parts: parts, drawn: append(t.drawn[:0], make([]bool, len(parts))...), knobs: append(t.knobs[:0], make(knobs, d.r.board.words)...), cost: sum}
	for i, p := range parts {
		if p.Host == nil {
			continue
		}
		if t.drawn[i] = !p.joins; t.drawn[i] {
			t.knobs.add(p.knobs)
		}
	}
	d.couple(t)
	return t
}

// clone is a trial of its own that holds the same.
func (t *trial) clone() *trial {
	c := *t
	c.parts, c.drawn, c.knobs = slices.Clone(t.parts), slices.Clone(t.drawn), slices.Clone(t.knobs)
	return &c
}

// listen adds what it costs that couplers bring stops to lines that did not
// ask for them.
func (d *desk) listen(t *trial) {
	t.under = d.r.board.under(t.knobs)
	for i := range d.lines {
		t.cost += costStranger * d.strangers(t, i)
	}
	d.crossing(t)
}

// ends are the divisions of the organ between which a coupler is asked for.
func (d *desk) ends(t *trial, c passage.Coupling) (from, to *registry.Division) {
	if i := d.askedOn(c.To); i >= 0 {
		to = t.parts[i].Host
	}
	if c.From.Role == division.Every {
		return nil, to
	}
	if i := d.askedOn(c.From); i >= 0 {
		from = t.parts[i].Host
	}
	if from == nil {
		from = d.r.byRole(c.From.Role)
	}
	return from, to
}

// couple draws the couplers that the score asks for, between the homes of the
// divisions that it names.
func (d *desk) couple(t *trial) {
	var wanting []passage.Coupling
	for _, c := range d.p.Couplings {
		from, to := d.ends(t, c)
		switch {
		case to == nil:
		case c.From.Role == division.Every:
			d.coupleEvery(t, to)
		case from == nil || from == to && c.Octave == 0:
		default:
			if k := d.r.coupler(from, to, c.Octave); k != nil {
				t.knobs.draw(d.r.board.couplerAt[k])
			} else {
				wanting = append(wanting, c)
			}
		}
	}
	for _, c := range wanting {
		from, to := d.ends(t, c)
		if d.r.chain(t.knobs, from, to, c.Octave) == nil && !d.coupleThrough(t, from, to, c.Octave) {
			t.cost += costNoCoupler
		}
	}
}

// coupleThrough brings a division to another's keyboard through a third that
// nobody needs, where couplers carry on; it reports whether that can be done.
func (d *desk) coupleThrough(t *trial, from, to *registry.Division, octave int) bool {
	if !d.r.organ.CouplersCarry {
		return false
	}
	for _, via := range d.r.organ.Divisions {
		if via == from || via == to || via.Keyboard == nil {
			continue
		}
		first, second := d.r.coupler(from, via, octave), d.r.coupler(via, to, 0)
		if first == nil || second == nil {
			continue
		}
		// One that is needed for something else may only pass on what it is
		// coupled to anyway: the Récit by the Positif, in G.P.R.
		if !d.needed(t, via) || t.knobs.has(d.r.board.couplerAt[second]) && !d.played(t, via) {
			t.knobs.draw(d.r.board.couplerAt[first])
			t.knobs.draw(d.r.board.couplerAt[second])
			return true
		}
	}
	return false
}

// played reports whether a line plays on a division.
func (d *desk) played(t *trial, on *registry.Division) bool {
	return slices.ContainsFunc(t.parts, func(p *Part) bool { return p.Host == on && p.played })
}

// needed reports whether a part stands on a division, or borrows from it.
func (d *desk) needed(t *trial, on *registry.Division) bool {
	for _, p := range t.parts {
		if p.Host == on {
			return true
		}
		for _, path := range p.Lending {
			if path.From == on {
				return true
			}
		}
	}
	return false
}

// chain is how a division reaches another's keyboard through couplers that
// are drawn and carry on, nil if it does not.
func (r *resolver) chain(k knobs, from, to *registry.Division, octave int) []*registry.Coupler {
	if to.Keyboard == nil {
		return nil
	}
	for _, x := range r.board.under(k).from(to.Keyboard) {
		if x.sound.Stop.Division == from && x.sound.Octave == octave && len(x.sound.Via) > 0 {
			return x.sound.Via
		}
	}
	return nil
}

// coupleEvery brings the whole organ to a keyboard, as a tutti asks.
func (d *desk) coupleEvery(t *trial, to *registry.Division) {
	for _, k := range d.r.organ.Couplers {
		if k.To != to || k.From == to || k.Octave != 0 || k.UnisonOff || !t.joins(k.From) {
			continue
		}
		t.knobs.draw(d.r.board.couplerAt[k])
		if leads(t.parts, k.From) == nil {
			stops, _, _ := d.r.expand(d.joiningTutti(), k.From)
			for _, st := range stops {
				t.knobs.draw(d.r.board.stopAt[st])
			}
		}
	}
}

// joiningTutti is what a division gives that joins a tutti: all it has, without
// what the tutti leaves out.
func (d *desk) joiningTutti() wanted {
	v, a := direction.Voice{Group: direction.Full}, &passage.Asked{}
	for _, k := range d.asks {
		for _, asked := range k.asked.Voices {
			if asked.Group == direction.Tutti {
				v.Except, a.Without = asked.Except, k.asked.Without
			}
		}
	}
	return d.r.want(v, a, chorus, false)
}

// joins reports whether a division may join a tutti: nobody plays a colour of
// its own on it.
func (t *trial) joins(d *registry.Division) bool {
	for _, p := range t.parts {
		if p.Host == d && len(p.ask.voice) > 0 && p.played && p.ask.use != chorus {
			return false
		}
	}
	return true
}

// strangers counts the stops that couplers bring to a line that did not ask
// for them.
func (d *desk) strangers(t *trial, line int) int {
	l := &d.lines[line]
	if l.part < 0 || t.parts[l.part].Host == nil || l.every {
		return 0
	}
	n := 0
	for _, x := range t.under.from(t.parts[l.part].Host.Keyboard) {
		if t.knobs.has(x.stop) && !d.wants(t, l, x.sound.Stop.Division) {
			n++
		}
	}
	return n
}

// wants reports whether the score wants a division to sound from a line's
// keyboard: its own, those that lend to it, and those that are coupled to it,
// one over another.
func (d *desk) wants(t *trial, l *deskLine, on *registry.Division) bool {
	for _, i := range l.wanted {
		p := t.parts[i]
		if p.Host == on {
			return true
		}
		for _, path := range p.Lending {
			if path.From == on {
				return true
			}
		}
		for n := range p.Picks {
			if j := p.Picks[n].Joined; j != nil && j.From == on {
				return true
			}
		}
	}
	for _, other := range l.others {
		if other == on {
			return true
		}
	}
	return false
}
