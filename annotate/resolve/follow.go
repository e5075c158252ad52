package resolve

import (
	"slices"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// A Follow is a coupler to the pedal that goes on or off, unprinted, because
// the hands have gone to another manual.
type Follow struct {
	Coupling passage.Coupling
	On       bool
}

// follow lets the pedal follow the manual, printed or not: when the hands
// leave the Great for the Swell, Great to Pedal comes off and Swell to Pedal
// goes on, so that no solo and no loud division sounds in the bass by a
// coupler that was forgotten (common practice). It returns passages that say
// so, and leaves those of the score as they are.
func (r *resolver) follow(passages []*passage.Passage) []*passage.Passage {
	var printed, inForce []passage.Coupling
	forSoft := false // what the pedal draws was asked for under soft hands
	ownSoft := false // and in a text for the pedal alone, not in a list for the whole organ
	out := make([]*passage.Passage, len(passages))
	for i, p := range passages {
		now := toPedal(p.Couplings)
		then := r.following(p, now, printed)
		q := *p
		q.Couplings = append(slices.DeleteFunc(slices.Clone(p.Couplings), func(c passage.Coupling) bool { return c.To == passage.Pedal }), then...)
		q.Drawn = slices.DeleteFunc(slices.Clone(p.Drawn), func(a *passage.Asked) bool {
			return !heardIn(&q, a.Division) || joinsTutti(&q, a.Division)
		})
		out[i] = &q
		if playsFeet(p) {
			r.follows[&q] = unprinted(printed, now, inForce, then)
			printed, inForce = now, then
		}
		soft := r.softHands(p)
		if said, alone := saysPedal(p); said {
			forSoft, ownSoft = soft, soft && alone
		} else if soft && (!ownSoft && r.loudPedal(p) || !forSoft && r.bigPedal(p)) {
			r.softPedal[&q] = true
		}
	}
	return out
}

// following are the couplers to the pedal that a passage should have.
func (r *resolver) following(p *passage.Passage, now, before []passage.Coupling) []passage.Coupling {
	// A solo does not count: neither that over an accompaniment nor the two of a
	// trio may sound in the bass by a coupler that was forgotten.
	hands := map[passage.Division]bool{}
	var ground passage.Division
	bass, play := false, false
	for _, line := range p.Lines {
		if line.Line == passage.Feet {
			bass = line.Role == passage.Bass
			continue
		}
		play = true
		if line.Role != passage.Solo {
			hands[line.Division], ground = true, line.Division
		}
	}
	if !bass || !play {
		return now
	}
	var kept []passage.Coupling
	left := false
	for _, c := range now {
		if slices.Contains(before, c) && !asks(p, c) && !reachesHands(p, c.From, hands) {
			left = true
			continue
		}
		kept = append(kept, c)
	}
	if !left || ground.Role == division.None || ground == (passage.Division{}) {
		return kept
	}
	on := passage.Coupling{From: ground, To: passage.Pedal}
	from, pedals := r.byRole(ground.Role), r.hosts(passage.Pedal)
	if from != nil && len(pedals) > 0 && r.coupler(from, pedals[0], 0) != nil && !slices.Contains(kept, on) {
		kept = append(kept, on)
	}
	return kept
}

// reachesHands reports whether a division is played by a hand or coupled to
// one that is.
func reachesHands(p *passage.Passage, d passage.Division, hands map[passage.Division]bool) bool {
	for h := range hands {
		reached := coupledTo(p, h)
		if reached[d] || reached[passage.Division{Role: division.Every}] {
			return true
		}
	}
	return false
}

// asks reports whether the passage's own texts ask for the coupler.
func asks(p *passage.Passage, c passage.Coupling) bool {
	for _, t := range p.Texts {
		for _, st := range t.Reading.Statements {
			if st.Verb == direction.Couple && (st.To == division.Pedal || st.To == division.None) &&
				(st.Division == c.From.Role || st.Division == division.None || st.Division == division.Every) {
				return true
			}
		}
	}
	return false
}

func toPedal(cs []passage.Coupling) []passage.Coupling {
	var out []passage.Coupling
	for _, c := range cs {
		if c.To == passage.Pedal && c.From != passage.Pedal {
			out = append(out, c)
		}
	}
	return out
}

// unprinted are the changes of couplers that the print does not say.
func unprinted(printedBefore, printed, before, now []passage.Coupling) []Follow {
	var out []Follow
	for _, c := range before {
		if !slices.Contains(now, c) && !(slices.Contains(printedBefore, c) && !slices.Contains(printed, c)) {
			out = append(out, Follow{c, false})
		}
	}
	for _, c := range now {
		if !slices.Contains(before, c) && !(slices.Contains(printed, c) && !slices.Contains(printedBefore, c)) {
			out = append(out, Follow{c, true})
		}
	}
	return out
}

// heardIn reports whether a division is played in the passage or coupled to
// one that is.
func heardIn(p *passage.Passage, d passage.Division) bool {
	for _, line := range p.Lines {
		if coupledTo(p, line.Division)[d] {
			return true
		}
	}
	return false
}

// joinsTutti reports whether a division only joins a tutti, in which it gives
// all it has, whatever was drawn on it before.
func joinsTutti(p *passage.Passage, d passage.Division) bool {
	every := slices.ContainsFunc(p.Couplings, func(c passage.Coupling) bool {
		return c.From.Role == division.Every && c.To != passage.Pedal
	})
	return every && d != passage.Pedal && len(linesOn(p, d)) == 0
}

func playsFeet(p *passage.Passage) bool {
	return slices.ContainsFunc(p.Lines, func(l *passage.Played) bool { return l.Line == passage.Feet })
}

// loudPedal reports whether a full or reed pedal is in force.
func (r *resolver) loudPedal(p *passage.Passage) bool {
	a := p.Asked(passage.Pedal)
	if a == nil {
		return false
	}
	return slices.ContainsFunc(a.Voices, func(v direction.Voice) bool {
		switch v.Group {
		case direction.Full, direction.Tutti, direction.Plenum:
			return true
		case direction.Reed:
			return v.Pitch.IsZero() || v.Pitch.Cmp(feet16) >= 0
		}
		return false
	})
}

// bigPedal reports whether an open 16′ or 32′ is in force on the pedal, and the
// organ has a softer 16′ to put in its place.
func (r *resolver) bigPedal(p *passage.Passage) bool {
	a, pedals := p.Asked(passage.Pedal), r.hosts(passage.Pedal)
	if a == nil || len(pedals) == 0 {
		return false
	}
	return isBig(a) && slices.ContainsFunc(pedals[0].Stops, isSoftSixteen)
}

func isBig(a *passage.Asked) bool {
	return slices.ContainsFunc(a.Voices, func(v direction.Voice) bool {
		return v.Group == direction.Principal && v.Pitch.Cmp(feet16) >= 0
	})
}

func isSoftSixteen(s *registry.Stop) bool {
	const soft = 3 // of the classes of stopname
	return s.Pitch == feet16 && isOf(s, stopname.Principal, stopname.Flute, stopname.String) && strengthOf(s) <= soft
}

// softHands reports whether nothing that the hands play is a chorus.
func (r *resolver) softHands(p *passage.Passage) bool {
	soft := false
	for _, line := range p.Lines {
		if line.Line == passage.Feet {
			if line.Role != passage.Bass {
				return false
			}
			continue
		}
		for d := range coupledTo(p, line.Division) {
			if d.Role == division.Every {
				return false
			}
			a := p.Asked(d)
			if a == nil {
				continue
			}
			if useOf(a, linesOn(p, d)) == chorus || a.Level == "f" || a.Level == "ff" {
				return false
			}
			soft = soft || len(a.Voices) > 0
		}
	}
	return soft
}

// saysPedal reports whether the passage's own texts draw something on the
// pedal, and whether a text that does so is for the pedal alone.
func saysPedal(p *passage.Passage) (said, alone bool) {
	for _, t := range p.Texts {
		pedal, others := false, false
		for _, st := range t.Reading.Statements {
			if st.Verb != direction.Set && st.Verb != direction.Add {
				continue
			}
			if st.Division == division.Pedal || st.Division == division.None && t.Staff != nil && t.Staff.Line == passage.Feet {
				pedal = true
			} else {
				others = true
			}
		}
		said = said || pedal
		alone = alone || pedal && !others && t.Source == passage.Words
	}
	return said, alone
}
