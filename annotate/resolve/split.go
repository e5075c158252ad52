package resolve

import (
	"slices"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry/stopname"
)

// Cuts are where passages, by their number, are divided although nothing new
// is asked there: at the rests and phrase ends of a solo that cannot be played
// whole in another octave.
type cuts map[int][]musicxml.Time

// findCuts finds the passages that are better played in pieces. A passage is
// divided if its solo, phrase by phrase, costs less than whole, the dividing
// counted in.
func (r *resolver) findCuts(passages []*passage.Passage) cuts {
	out := cuts{}
	for i, p := range passages {
		for _, a := range p.Drawn {
			k := r.askOf(p, a)
			if len(k.lines) != 1 || len(k.octaves()) == 1 || len(r.fixed[fixedKey{p, a.Division}]) > 0 {
				continue
			}
			if at := r.cutsOf(p, k); len(at) > 0 {
				out[i] = at
				break
			}
		}
	}
	return out
}

// cutsOf finds where to divide one passage for one solo.
func (r *resolver) cutsOf(p *passage.Passage, k *ask) []musicxml.Time {
	line := k.lines[0]
	parts := phrases(line.Notes, p.Span)
	if len(parts) < 2 {
		return nil
	}
	whole, _ := r.options(k, 0, nil)
	if len(whole) == 0 || whole[0].Cost <= costSplit {
		return nil
	}
	at := r.seams(p, k, parts)
	if len(at) == 0 {
		return nil
	}
	// Weigh the pieces against the whole by how many notes each has.
	all, sum, dividing := 0, 0, 0
	var before stopname.Family
	for i, q := range divide(r.layout, p, at) {
		r.follows[q], r.softPedal[q] = r.follows[p], r.softPedal[p]
		s := r.alone(q)
		at := slices.IndexFunc(s.Lines, func(l *Line) bool { return l.Asked.Line == line.Line })
		if at < 0 {
			return nil
		}
		solo := s.Lines[at]
		if ok, _ := r.keepsPitch(s, solo); !ok {
			return nil
		}
		n := len(solo.Asked.Notes)
		all, sum = all+n, sum+n*s.Cost
		family := familyOf(solo.Part)
		if i > 0 {
			dividing += costSplit
			if family != before {
				dividing += costSplitColour
			}
		}
		before = family
	}
	if all == 0 || sum/all+dividing >= r.alone(p).Cost {
		return nil
	}
	return at
}

// familyOf is the family of the first stop that a part gives.
func familyOf(p *Part) stopname.Family {
	if stops := p.Stops(); len(stops) > 0 {
		return stops[0].Stop.Known.Family
	}
	return stopname.NoFamily
}

// seams are where phrases meet that are best given in different ways. A bar
// or two are not given in another octave.
func (r *resolver) seams(p *passage.Passage, k *ask, parts []phrase) []musicxml.Time {
	best := make([]*Part, len(parts))
	for i, ph := range parts {
		found := r.phraseOptions(p, k, ph.notes)
		if len(found) == 0 {
			return nil
		}
		best[i] = found[0]
	}
	for i := 0; i < len(parts); {
		j := i
		var notes []passage.Pressed
		for ; j < len(parts) && samePlace(best[i], best[j]); j++ {
			notes = append(notes, parts[j].notes...)
		}
		if best[i].Octave != 0 && brief(notes, p.Span) {
			found := r.phraseOptions(p, k, notes)
			asPrinted := slices.IndexFunc(found, func(o *Part) bool { return o.Octave == 0 })
			if asPrinted < 0 {
				return nil
			}
			for q := i; q < j; q++ {
				best[q] = found[asPrinted]
			}
		}
		i = j
	}
	var at []musicxml.Time
	for i := 1; i < len(parts); i++ {
		if !samePlace(best[i-1], best[i]) {
			at = append(at, parts[i].start)
		}
	}
	return at
}

// phraseOptions are the ways of giving some notes of a solo.
func (r *resolver) phraseOptions(p *passage.Passage, k *ask, notes []passage.Pressed) []*Part {
	one := *k
	one.struck = struckKeys([]*passage.Played{{Notes: notes}}, p.Span)
	found, _ := r.options(&one, slackWide, nil)
	return found
}

// brief reports whether notes go on for no more than a bar or two.
func brief(notes []passage.Pressed, span passage.Span) bool {
	first, last := -1, -1
	for _, n := range notes {
		if n.StruckIn(span) {
			if first < 0 {
				first = n.Note.Measure.Index
			}
			last = max(last, n.Note.Measure.Index)
		}
	}
	return last-first < briefMeasures
}

// divide cuts a passage at moments within it. What the score says stands at
// the start of the first piece.
func divide(l *passage.Layout, p *passage.Passage, at []musicxml.Time) []*passage.Passage {
	var out []*passage.Passage
	start := p.Start
	for _, end := range append(slices.Clone(at), p.End) {
		out = append(out, p.Within(l, passage.Span{Start: start, End: end}))
		start = end
	}
	return out
}

// divided is the score with some of its passages in pieces.
func (c cuts) divided(asked *passage.Score) *passage.Score {
	if len(c) == 0 {
		return asked
	}
	out := *asked
	out.Passages = nil
	for i, p := range asked.Passages {
		at := c[i]
		if len(at) == 0 {
			out.Passages = append(out.Passages, p)
			continue
		}
		pieces := divide(asked.Layout, p, at)
		pieces[0].From, pieces[len(pieces)-1].To = p.From, p.To
		out.Passages = append(out.Passages, pieces...)
	}
	return &out
}

// dropIdle takes back the cuts that turned out to change nothing, and reports
// whether there were any. The settings are those of the divided score.
func (c cuts) dropIdle(asked *passage.Score, settings []*Setting) bool {
	dropped := false
	at := 0
	for i := range asked.Passages {
		var keep []musicxml.Time
		for _, t := range c[i] {
			at++
			if sameConsole(settings[at-1], settings[at]) {
				dropped = true
			} else {
				keep = append(keep, t)
			}
		}
		at++
		if c[i] = keep; len(keep) == 0 {
			delete(c, i)
		}
	}
	return dropped
}

// sameConsole reports whether two settings are played alike.
func sameConsole(a, b *Setting) bool {
	if a.knobs.differ(b.knobs) > 0 || len(a.Parts) != len(b.Parts) {
		return false
	}
	for i, p := range a.Parts {
		if q := b.Parts[i]; p.Asked.Division != q.Asked.Division || p.By != q.By || !samePlace(p, q) {
			return false
		}
	}
	return true
}
