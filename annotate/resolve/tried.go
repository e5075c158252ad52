package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// mostTried is how many ways are told that were tried and will not do.
const mostTried = 6

// tellTried says for each solo that is not given as asked which ways would
// have been nearer, and why each will not do.
func (r *resolver) tellTried(s *Setting) {
	for _, line := range s.Lines {
		if line.Asked.Role != passage.Solo || line.Part == nil || len(line.Part.Asked.Voices) == 0 || len(line.Changed) == 0 && line.PitchKept {
			continue
		}
		line.Tried = r.tried(s, line)
		var tried []string
		for _, x := range line.Tried {
			tried = append(tried, fmt.Sprintf("%s (%s)", x.Text, x.Why))
		}
		if len(tried) > 0 {
			line.Why += " Tried first: " + strings.Join(tried, "; ") + "."
		}
	}
}

// tried lists the ways for a solo that cost less than the one taken, were all
// keys there and all divisions free, cheapest first.
func (r *resolver) tried(s *Setting, line *Line) []Attempt {
	taken := line.Part
	k := *r.askOf(s.Passage, taken.Asked)
	k.struck = nil // as if every key were there
	limit := taken.Cost
	if taken.By != "" {
		limit += costSwap
	}
	parts, _ := r.options(&k, limit, nil)
	var out []Attempt
	said := map[string]bool{}
	for _, o := range parts {
		if o.Cost >= limit || len(out) == mostTried {
			break
		}
		if slices.ContainsFunc(o.Picks, func(x Pick) bool { return x.lost() }) || taken.By == "" && samePlace(o, taken) && len(o.Lending) == len(taken.Lending) {
			continue
		}
		x := Attempt{Text: r.wayText(o), Cost: o.Cost}
		if said[x.Text] {
			continue
		}
		x.Why, x.First = r.unfit(s, line, o)
		if x.Why != "" {
			said[x.Text] = true
			out = append(out, x)
		}
	}
	if taken.By == "" && taken.Cost > costSwap {
		out = append(out, r.triedSwaps(s)...)
	}
	return out
}

// wayText is "Trumpet 8 an octave higher", "Clarion 4 coupled from the Swell".
func (r *resolver) wayText(p *Part) string {
	text := stopNames(p)
	for i := range p.Picks {
		if j := p.Picks[i].Joined; j != nil {
			text = strings.TrimPrefix(text+", ", ", ") + "what the hands have on the " + j.From.Name
			break
		}
	}
	if p.Asked.Division != passage.Pedal {
		text += " on the " + p.Host.Name
	}
	for _, path := range p.Lending {
		text += fmt.Sprintf(" coupled from the %s", path.From.Name)
		if len(path.Couplers) > 1 || path.Octave != 0 {
			text += " by its octave coupler"
		}
	}
	if p.Octave != 0 {
		text += " " + octaves(p.Octave) + " " + upOrDown(p.Octave)
	}
	return text
}

// unfit is why a way of giving a line will not do, with the first note that
// does not fit where that is the reason; "" where nothing stands in its way
// but that another is better.
func (r *resolver) unfit(s *Setting, line *Line, o *Part) (string, *passage.Pressed) {
	kb := o.Host.Keyboard
	for i, n := range line.Asked.Notes {
		if !n.StruckIn(s.Passage.Span) {
			continue
		}
		key := n.Key + registry.Key(12*o.Octave)
		if !kb.Compass.Has(key) {
			return fmt.Sprintf("%s, and the %s", wouldBe(n, o.Octave), lacks(kb, key)), &line.Asked.Notes[i]
		}
		for _, c := range o.Stops() {
			if !c.speaks(o.Host, key) && !sameRatioSpeaks(o.beside(c.Stop), c, o.Host, key) {
				return fmt.Sprintf("%s has no pipe for %s in measure %s", c.Stop.Text, n.Key, n.Note.Measure.Number), &line.Asked.Notes[i]
			}
		}
	}
	for _, q := range s.Parts {
		if q == line.Part || q.Host == nil {
			continue
		}
		for _, path := range o.Lending {
			if path.From == q.Host && lendsFrom(s.Passage, o, q) {
				return fmt.Sprintf("%s the %s", playedBy(s, q), path.From.Name), nil
			}
			for _, x := range q.Lending {
				if x.From == path.From {
					return fmt.Sprintf("the %s lends its stops to the %s", path.From.Name, q.Host.Name), nil
				}
			}
		}
		if o.Host == q.Host && len(q.Picks) > 0 && q.played && !sameStops(o, q) {
			return fmt.Sprintf("%s the %s", playedBy(s, q), q.Host.Name), nil
		}
	}
	return "", nil
}

// playedBy is "the left hand plays on", for a part of a setting.
func playedBy(s *Setting, p *Part) string {
	for _, line := range s.Lines {
		if line.Part == p {
			switch line.By {
			case passage.Both:
				return "both hands play on"
			case passage.Feet:
				return "the feet play on"
			default:
				return "the " + handName(line.By) + " plays on"
			}
		}
	}
	return "other stops are wanted on"
}

// wouldBe is "A3 in measure 7 would be A4".
func wouldBe(n passage.Pressed, octave int) string {
	if octave == 0 {
		return fmt.Sprintf("measure %s has %s", n.Note.Measure.Number, n.Key)
	}
	return fmt.Sprintf("%s in measure %s would be %s", n.Key, n.Note.Measure.Number, n.Key+registry.Key(12*octave))
}

// lacks is "pedalboard ends on F4", for a key that a keyboard lacks.
func lacks(kb *registry.Keyboard, key registry.Key) string {
	switch c := kb.Compass; {
	case key > c.High:
		return fmt.Sprintf("%s ends on %s", keyboardName(kb), c.High)
	case key < c.Low:
		return fmt.Sprintf("%s begins with %s", keyboardName(kb), c.Low)
	default:
		return fmt.Sprintf("%s has no such key", keyboardName(kb))
	}
}

// triedSwaps are why no hand changes parts with the feet.
func (r *resolver) triedSwaps(s *Setting) []Attempt {
	if len(r.swaps(s.Passage)) > 0 {
		return nil // it could be done, and costs more
	}
	for _, hand := range []passage.Line{passage.LH, passage.RH} {
		feet, theirs, _ := swappable(s.Passage, hand)
		if feet == nil || theirs == nil {
			continue
		}
		if why, first := notForFeet(theirs.Notes, r.twoVoices); why != "" {
			return []Attempt{{
				Text: fmt.Sprintf("the %s taking the tune and the feet its notes", handName(hand)),
				Why:  fmt.Sprintf("in measure %s %s", first.Note.Measure.Number, why), First: &first, Cost: costSwap,
			}}
		}
	}
	return nil
}
