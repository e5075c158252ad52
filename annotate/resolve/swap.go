package resolve

import (
	"cmp"
	"slices"

	"stopgap/annotate/passage"
	"stopgap/registry/division"
)

// A swap is a passage in which a hand and the feet change parts: the hand
// takes the solo that the pedal has, on a manual, and the feet take the hand's
// notes at the pitch that they had. It is resolved as a passage of its own, in
// which the solo is asked of a place without a name and the hand's stops of
// the pedal, and what comes of it is then said of the passage that it stands
// for.
type swap struct {
	of      *passage.Passage
	passage *passage.Passage
	hand    passage.Line
	lines   map[*passage.Played]*passage.Played // of the score, by those of the swap
	asked   map[*passage.Asked]*passage.Asked
}

// swaps are the ways in which a hand could take the pedal's solo in a passage:
// none where the feet have it just as it is asked for.
func (r *resolver) swaps(p *passage.Passage) []*swap {
	if known, ok := r.swapped[p]; ok {
		return known
	}
	var out []*swap
	for _, hand := range []passage.Line{passage.LH, passage.RH} {
		if x := r.swap(p, hand); x != nil && !r.pedalHas(p) {
			out = append(out, x)
			r.swapIn[x.passage] = x
			r.follows[x.passage] = r.follows[p]
		}
	}
	r.swapped[p] = out
	return out
}

// pedalHas reports whether what is asked of the pedal is there as it is asked.
func (r *resolver) pedalHas(p *passage.Passage) bool {
	parts, _ := r.options(r.askOf(p, p.Asked(passage.Pedal)), 0, nil)
	return len(parts) > 0 && parts[0].Cost == 0
}

// tune is the place without a name that the pedal's solo is asked of while a
// hand plays it.
var tune = passage.Division{Role: division.None, Of: passage.Feet}

// swap makes the passage in which one hand and the feet change parts; nil
// where that cannot be: nobody can play it so, or couplers or pins join what
// they play to the rest.
func (r *resolver) swap(p *passage.Passage, hand passage.Line) *swap {
	feet, theirs, other := swappable(p, hand)
	if feet == nil || theirs == nil {
		return nil
	}
	solo, asked := p.Asked(passage.Pedal), p.Asked(theirs.Division)
	if solo == nil || asked == nil || len(solo.Voices) == 0 || len(asked.Voices) == 0 || passage.Ratios(asked.Voices) == nil {
		return nil
	}
	for _, c := range p.Couplings {
		if c.To == passage.Pedal || c.From == passage.Pedal || c.To == theirs.Division || c.From == theirs.Division || c.To.Role == division.Every {
			return nil
		}
	}
	if len(r.fixed[fixedKey{p, passage.Pedal}]) > 0 || len(r.fixed[fixedKey{p, theirs.Division}]) > 0 {
		return nil
	}
	if why, _ := notForFeet(theirs.Notes, r.twoVoices); why != "" || len(theirs.Notes) == 0 || !fitsHand(feet.Notes) {
		return nil
	}
	q := *p
	x := &swap{of: p, passage: &q, hand: hand, lines: map[*passage.Played]*passage.Played{}, asked: map[*passage.Asked]*passage.Asked{}}
	byHand := &passage.Played{Line: hand, Division: tune, Role: passage.Solo, Notes: feet.Notes}
	byFeet := &passage.Played{Line: passage.Feet, Division: passage.Pedal, Role: passage.Accompaniment, Notes: theirs.Notes}
	x.lines[byHand], x.lines[byFeet] = feet, theirs
	q.Lines = []*passage.Played{byHand, byFeet}
	if other != nil {
		x.lines[other] = other
		q.Lines = append(q.Lines, other)
	}
	soloAsked, handAsked := *solo, *asked
	soloAsked.Division, handAsked.Division, handAsked.Box, handAsked.Tremming = tune, passage.Pedal, "", false
	x.asked[&soloAsked], x.asked[&handAsked] = solo, asked
	q.Drawn = []*passage.Asked{&soloAsked, &handAsked}
	for _, a := range p.Drawn {
		if a != solo && (a != asked || other != nil && other.Division == a.Division) {
			q.Drawn = append(q.Drawn, a)
		}
	}
	return x
}

// swappable are the feet's line, if it leads, the hand's, and the other
// hand's if that plays. Where both hands play in one place they are parted by
// their staves.
func swappable(p *passage.Passage, hand passage.Line) (feet, theirs, other *passage.Played) {
	for _, line := range p.Lines {
		switch {
		case line.Line == passage.Feet && line.Role == passage.Solo:
			feet = line
		case line.Line == hand:
			theirs = line
		case line.Line == passage.RH || line.Line == passage.LH:
			other = line
		case line.Line == passage.Both:
			theirs, other = parted(line, hand)
		}
	}
	return feet, theirs, other
}

// parted divides the line of both hands into one hand's and the other's, nil
// where they share a staff.
func parted(both *passage.Played, hand passage.Line) (theirs, other *passage.Played) {
	rest := passage.RH
	if hand == passage.RH {
		rest = passage.LH
	}
	theirs, other = &passage.Played{Line: hand, Division: both.Division, Role: both.Role}, &passage.Played{Line: rest, Division: both.Division, Role: both.Role}
	for _, n := range both.Notes {
		switch n.Staff.Line {
		case hand:
			theirs.Notes = append(theirs.Notes, n)
		case rest:
			other.Notes = append(other.Notes, n)
		default:
			return nil, nil
		}
	}
	if len(theirs.Notes) == 0 || len(other.Notes) == 0 {
		return nil, nil
	}
	return theirs, other
}

// reaches reports whether the hands can reach what a trial of the swap gives
// them, without crossing too far.
func (x *swap) reaches(t *trial) bool {
	var rest []passage.Pressed
	for _, line := range t.desk.lines {
		if line.played.Division != tune && line.played.Line != passage.Feet {
			rest = line.played.Notes
		}
	}
	for _, line := range t.desk.lines {
		if line.played.Division == tune && crosses(x.hand, line.played.Notes, t.parts[line.part].Octave, rest) {
			return false
		}
	}
	return true
}

// turn makes a setting of the swap one of the passage that it stands for.
func (x *swap) turn(s *Setting) {
	s.Passage = x.of
	for _, part := range s.Parts {
		if a := x.asked[part.Asked]; a != nil {
			part.By = passage.Feet
			if part.Asked.Division == tune {
				part.By = x.hand
			}
			part.Asked = a
		}
	}
	for _, line := range s.Lines {
		line.By = line.Asked.Line
		line.Asked = x.lines[line.Asked]
	}
	order := []passage.Line{passage.Both, passage.RH, passage.LH, passage.Feet}
	slices.SortStableFunc(s.Lines, func(a, b *Line) int {
		return cmp.Compare(slices.Index(order, a.Asked.Line), slices.Index(order, b.Asked.Line))
	})
}
