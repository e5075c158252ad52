package passage

import (
	_ "embed"
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"stopgap/annotate/direction"
	"stopgap/musicxml"
	"stopgap/registry/division"
)

//go:embed proposals.tsv
var proposalsTSV string

// proposals are the voices for a dynamic, by level and line.
var proposals = sync.OnceValue(func() map[[2]string][]direction.Voice {
	out := map[[2]string][]direction.Voice{}
	for line := range strings.Lines(proposalsTSV) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 4 || strings.HasPrefix(f[0], "#") || f[0] == "level" {
			continue
		}
		statements, err := direction.ParseNormalForm("set ?: " + f[2])
		if err != nil {
			panic(fmt.Sprintf("proposals.tsv: %q: %v", f[2], err)) // an embedded table
		}
		out[[2]string{f[0], f[1]}] = statements[0].Voices
	}
	return out
})

// Propose asks for stops where the score names none, from its dynamics, by a
// published scheme: a passage is parted where the hands' dynamic changes. A
// score that names stops anywhere, or that has no dynamics in the organ's
// staves, stays as it is. It reports whether anything was proposed.
func (s *Score) Propose() bool {
	if s.dynamics == nil || s.namesStops() {
		return false
	}
	hands, feet := s.dynamics.of(RH, LH), s.dynamics.of(Feet)
	if len(hands) == 0 {
		return false
	}
	if len(feet) == 0 {
		feet = hands
	}
	var out []*Passage
	parted := map[*Passage]*Passage{} // by the passage: its first part
	next := 0
	for _, p := range s.Passages {
		for start := p.Start; start.Less(p.End); {
			for next < len(hands) && !start.Less(hands[next].at) {
				next++
			}
			end := p.End
			if next < len(hands) && hands[next].at.Less(end) {
				end = hands[next].at
			}
			q := p.Within(s.Layout, Span{start, end})
			q.partHands(s.Layout, levelAt(hands, start))
			q.propose(levelAt(hands, start), levelAt(feet, start))
			if start == p.Start {
				parted[p] = q
			}
			out = append(out, q)
			start = end
		}
	}
	for _, q := range out {
		q.Resumes = parted[q.Resumes]
	}
	s.Passages = out
	for i := range s.Returns {
		r := &s.Returns[i]
		r.From, r.To = passageAt(out, r.At, true), passageAt(out, r.Back, false)
		r.Changes = r.Changes || r.From.level() != r.To.level()
	}
	return true
}

// level is what is proposed for the first line of a passage.
func (p *Passage) level() string {
	for _, line := range p.Lines {
		if a := p.Asked(line.Division); a != nil {
			return a.Level
		}
	}
	return ""
}

func (s *Score) namesStops() bool {
	for _, t := range s.Texts {
		for _, st := range t.Reading.Statements {
			if len(st.Voices) > 0 {
				return true
			}
		}
	}
	return false
}

// levelAt is the dynamic in force at a moment: the last one before it, or the
// first of the score.
func levelAt(all []dynamic, t musicxml.Time) string {
	i := sort.Search(len(all), func(i int) bool { return t.Less(all[i].at) })
	return all[max(0, i-1)].level
}

// Within is the part of a passage that lies in a span.
func (p *Passage) Within(l *Layout, span Span) *Passage {
	q := *p
	q.Span, q.From, q.To = span, placeOf(l, span.Start), placeOf(l, span.End)
	q.Lines, q.Drawn = nil, nil
	if span.Start != p.Start {
		q.Texts, q.Resumes = nil, nil
	}
	first := sort.Search(len(p.Restated), func(i int) bool { return !p.Restated[i].Time.Less(span.Start) })
	last := sort.Search(len(p.Restated), func(i int) bool { return !p.Restated[i].Time.Less(span.End) })
	q.Restated = p.Restated[first:last]
	for _, line := range p.Lines {
		part := *line
		part.Notes = nil
		for _, h := range handsIn(line.Line) {
			part.Notes = append(part.Notes, l.NotesOf(h, span)...)
		}
		if sortNotes(part.Notes); len(part.Notes) > 0 {
			q.Lines = append(q.Lines, &part)
		}
	}
	for _, a := range p.Drawn {
		b := *a
		q.Drawn = append(q.Drawn, &b)
	}
	return &q
}

// softLevels are the dynamics at which hands are parted; louder ones are a
// chorus, whatever the texture.
var softLevels = map[string]bool{"pp": true, "p": true, "mp": true, "mf": true}

// leastParted is how long music has to go on for its hands to be parted.
var leastParted = musicxml.Whole(12)

// partHands gives each hand a place of its own where both play on one that no
// text names, and the music is a trio, or a tune over chords.
func (p *Passage) partHands(l *Layout, level string) {
	i := slices.IndexFunc(p.Lines, func(x *Played) bool { return x.Line == Both && x.Division.Role == division.None })
	if i < 0 || !softLevels[level] || p.End.Sub(p.Start).Less(leastParted) {
		return
	}
	right, left := l.NotesOf(RH, p.Span), l.NotesOf(LH, p.Span)
	feet := slices.ContainsFunc(p.Lines, func(x *Played) bool { return x.Line == Feet })
	trio := feet && monophonic(left)
	if !monophonic(right) || len(left) == 0 || monophonic(left) && !trio {
		return
	}
	both, asked := p.Lines[i], p.Asked(p.Lines[i].Division)
	var lines []*Played
	for _, hand := range []Line{RH, LH} {
		line, a := *both, *asked
		line.Line, line.Division, line.Role, line.Notes = hand, Division{Of: hand}, "", right
		if hand == LH {
			line.Notes = left
		}
		a.Division = line.Division
		lines, p.Drawn = append(lines, &line), append(p.Drawn, &a)
	}
	p.Drawn = slices.DeleteFunc(p.Drawn, func(a *Asked) bool { return a == asked })
	p.Lines = slices.Concat(p.Lines[:i], lines, p.Lines[i+1:])
	p.settleRoles()
}

// propose draws what the dynamics mean on every division that is played.
func (p *Passage) propose(hands, feet string) {
	for _, line := range p.Lines {
		a := p.Asked(line.Division)
		if a == nil {
			continue
		}
		level := hands
		if line.Line == Feet {
			level = feet
		}
		voices, ok := proposals()[[2]string{level, p.kindOf(line)}]
		if !ok {
			voices = proposals()[[2]string{level, "hands"}]
		}
		a.Voices, a.Level, a.Proposed = voices, level, true
	}
}

// kindOf is what a line is called in the table of proposals.
func (p *Passage) kindOf(line *Played) string {
	if line.Line == Feet {
		return "feet"
	}
	var solos, others int
	for _, x := range p.Lines {
		switch {
		case x.Line == Feet:
		case x.Role == Solo:
			solos++
		default:
			others++
		}
	}
	switch {
	case solos == 2:
		return "trio " + string(line.Line)
	case solos == 1 && others == 1 && line.Role == Solo:
		return "solo"
	case solos == 1 && others == 1:
		return "accompaniment"
	}
	return "hands"
}
