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
// published scheme. A score that names stops anywhere, or that has no
// dynamics in the organ's staves, stays as it is. It reports whether anything
// was proposed.
func (s *Score) Propose() bool {
	if s.namesStops() {
		return false
	}
	hands, feet := s.Layout.dynamics(false), s.Layout.dynamics(true)
	if len(hands) == 0 {
		return false
	}
	if len(feet) == 0 {
		feet = hands
	}
	var out []*Passage
	for _, p := range s.Passages {
		for _, q := range p.cut(hands) {
			q.propose(levelAt(hands, q.Start), levelAt(feet, q.Start))
			out = append(out, q)
		}
	}
	for _, p := range out {
		p.From, p.To = placeOf(s.Layout, p.Start), placeOf(s.Layout, p.End)
	}
	s.Passages = out
	return true
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

// dynamics are the dynamics in the staves of the hands, or of the feet, each
// where it differs from the one before.
func (l *Layout) dynamics(feet bool) []dynamic {
	var out []dynamic
	for _, s := range l.Staves {
		if (s.Line == Feet) != feet {
			continue
		}
		for _, d := range s.Part.Directions {
			if d.Staff != s.Number {
				continue
			}
			if level := levelOf(d.Dynamics); level != "" {
				out = append(out, dynamic{at: d.Time, level: level})
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at.Less(out[j].at) })
	return slices.CompactFunc(out, func(a, b dynamic) bool { return a.level == b.level })
}

// levelOf is the dynamic that holds on after a mark: an accent such as sf
// changes nothing, after fp it is p.
func levelOf(mark string) string {
	switch {
	case mark == "":
		return ""
	case mark == "fp":
		return "p"
	case strings.Trim(mark, "p") == "":
		return mark[:min(2, len(mark))]
	case strings.Trim(mark, "f") == "":
		return mark[:min(2, len(mark))]
	case mark == "mp" || mark == "mf":
		return mark
	}
	return ""
}

// levelAt is the dynamic in force at a moment: the last one before it, or the
// first of the score.
func levelAt(all []dynamic, t musicxml.Time) string {
	i := sort.Search(len(all), func(i int) bool { return t.Less(all[i].at) })
	return all[max(0, i-1)].level
}

// cut parts a passage where the dynamic changes.
func (p *Passage) cut(at []dynamic) []*Passage {
	out := []*Passage{p}
	for _, d := range at {
		last := out[len(out)-1]
		if !last.Start.Less(d.at) || !d.at.Less(last.End) {
			continue
		}
		first, second := last.within(Span{last.Start, d.at}), last.within(Span{d.at, last.End})
		second.Texts = nil
		out = append(out[:len(out)-1], first, second)
	}
	return out
}

// within is the part of a passage that lies in a span.
func (p *Passage) within(span Span) *Passage {
	q := *p
	q.Span = span
	q.Lines = nil
	for _, line := range p.Lines {
		l := *line
		l.Notes = slices.DeleteFunc(slices.Clone(line.Notes), func(n Pressed) bool {
			return !n.Note.Onset.Less(span.End) || !span.Start.Less(n.Note.Onset.Add(n.Note.Duration)) && !span.Contains(n.Note.Onset)
		})
		if len(l.Notes) > 0 {
			q.Lines = append(q.Lines, &l)
		}
	}
	q.Drawn = nil
	for _, a := range p.Drawn {
		b := *a
		q.Drawn = append(q.Drawn, &b)
	}
	return &q
}

// propose draws what the dynamics mean on every division that is played.
func (p *Passage) propose(hands, feet string) {
	for _, line := range p.Lines {
		a := p.Asked(line.Division)
		if a == nil {
			continue
		}
		level, who := hands, "hands"
		if line.Line == Feet {
			level, who = feet, "feet"
		}
		a.Voices, a.Level, a.Proposed = proposals()[[2]string{level, who}], level, true
	}
}
