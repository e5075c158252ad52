package passage

import (
	_ "embed"
	"slices"
	"sort"
	"strings"
	"sync"

	"stopgap/musicxml"
)

// dynamics are what a score says of loudness, by staff.
type dynamics struct {
	marks    map[*Staff][]dynamic
	below    map[*Staff][]dynamic // those of the marks that stand under the staff
	swelling map[*Staff][]Span    // hairpins, and from "cresc." to the next mark
	layout   *Layout
}

// A dynamic is a mark of loudness at a staff.
type dynamic struct {
	at    musicxml.Time
	level string // "pp" … "ff"; "" where a crescendo begins in words
	below bool
}

func newDynamics(l *Layout) *dynamics {
	d := &dynamics{marks: map[*Staff][]dynamic{}, below: map[*Staff][]dynamic{}, swelling: map[*Staff][]Span{}, layout: l}
	for _, s := range l.Staves {
		for _, h := range s.Part.Hairpins {
			if h.Staff == s.Number && h.Start.Less(h.End) {
				d.swelling[s] = append(d.swelling[s], Span{h.Start, h.End})
			}
		}
	}
	return d
}

// levels are the dynamics by what is printed, "" for those that are over at
// once.
var levels = map[string]string{
	"pp": "pp", "p": "p", "mp": "mp", "mf": "mf", "f": "f", "ff": "ff",
	"ppp": "pp", "pppp": "pp", "ppppp": "pp", "fff": "ff", "ffff": "ff", "fffff": "ff", "fp": "p", "pf": "f",
}

// add takes what stands at one place.
func (d *dynamics) add(g *musicxml.DirectionGroup, t *Text) {
	if level := levels[t.Dynamics]; level != "" {
		d.marks[t.Staff] = append(d.marks[t.Staff], dynamic{g.Time, level, g.Placement == "below"})
	}
	if t.Text != "" && len(t.Text) < 80 && swells(t.Text) {
		d.marks[t.Staff] = append(d.marks[t.Staff], dynamic{g.Time, "", g.Placement == "below"})
	}
}

//go:embed swelling.tsv
var swellingTSV string

var swellingWords = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{}
	for line := range strings.Lines(swellingTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 3 && f[0][0] != '#' {
			words[f[0]] = true
		}
	}
	return words
})

// swells reports whether a text calls for a crescendo or diminuendo.
func swells(text string) bool {
	for _, w := range foldedWords(text) {
		if swellingWords()[w] {
			return true
		}
	}
	return false
}

// settle puts the marks in order and ends what swells by words: at the next
// mark, at the latest after four measures (common practice gives no end).
func (d *dynamics) settle() {
	for s, marks := range d.marks {
		sort.SliceStable(marks, func(i, j int) bool { return marks[i].at.Less(marks[j].at) })
		kept := marks[:0]
		for i, m := range marks {
			if m.level != "" {
				kept = append(kept, m)
				continue
			}
			const measures = 4
			at := s.Part.MeasureAt(m.at)
			if at == nil {
				continue
			}
			end := s.Part.Measures[min(at.Index+measures, len(s.Part.Measures)-1)].End
			if i+1 < len(marks) && m.at.Less(marks[i+1].at) && marks[i+1].at.Less(end) {
				end = marks[i+1].at
			}
			d.swelling[s] = append(d.swelling[s], Span{m.at, end})
		}
		d.marks[s] = kept
		for _, m := range kept {
			if m.below {
				d.below[s] = append(d.below[s], m)
			}
		}
	}
	for s, spans := range d.swelling {
		sort.SliceStable(spans, func(i, j int) bool { return spans[i].Start.Less(spans[j].Start) })
		merged := spans[:0]
		for _, sp := range spans {
			if n := len(merged); n > 0 && !merged[n-1].End.Less(sp.Start) {
				merged[n-1].End = later(merged[n-1].End, sp.End)
				continue
			}
			merged = append(merged, sp)
		}
		d.swelling[s] = merged
	}
}

// of are the marks at the staves of the lines, in order, each where it differs
// from the one before.
func (d *dynamics) of(lines ...Line) []dynamic {
	var out []dynamic
	seen := map[*Staff]bool{}
	for _, line := range lines {
		for _, s := range d.layout.AllOf(line) {
			if !seen[s] {
				seen[s] = true
				out = append(out, d.marks[s]...)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at.Less(out[j].at) })
	return slices.CompactFunc(out, func(a, b dynamic) bool { return a.level == b.level })
}

// near is how far behind the start of a passage a dynamic may stand and still
// say how loud it begins.
var near = musicxml.Whole(1)

// levelOf is how loud a line is to be at the start of a span, and since when
// that is said: the last mark at its staff that stands there or before, or one
// right behind. A mark under the right hand's staff stands between the hands
// and is for both; a hand that has none goes with the other.
func (d *dynamics) levelOf(line Line, span Span) (level string, since musicxml.Time, ok bool) {
	take := func(marks []dynamic) {
		if m, found := markAt(marks, span); found && (!ok || since.Less(m.at)) {
			level, since, ok = m.level, m.at, true
		}
	}
	for _, h := range handsIn(line) {
		for _, s := range d.layout.AllOf(h) {
			take(d.marks[s])
		}
	}
	if line == LH {
		for _, s := range d.layout.AllOf(RH) {
			take(d.below[s])
		}
	}
	if !ok && (line == RH || line == LH) {
		for _, s := range d.layout.AllOf(other(line)) {
			take(d.marks[s])
		}
	}
	return level, since, ok
}

// markAt is the mark that counts at the start of a span.
func markAt(marks []dynamic, span Span) (dynamic, bool) {
	next := sort.Search(len(marks), func(i int) bool { return span.Start.Less(marks[i].at) })
	if next > 0 && marks[next-1].at == span.Start {
		return marks[next-1], true
	}
	if next < len(marks) && !span.Start.Add(near).Less(marks[next].at) && marks[next].at.Less(span.End) {
		return marks[next], true
	}
	if next > 0 {
		return marks[next-1], true
	}
	return dynamic{}, false
}

// moves reports whether a hairpin or a crescendo in words moves a line during
// a span.
func (d *dynamics) moves(line Line, span Span) bool {
	hands := handsIn(line)
	if line == LH {
		hands = []Line{RH, LH} // hairpins stand between the staves, at either
	}
	for _, h := range hands {
		for _, s := range d.layout.AllOf(h) {
			spans := d.swelling[s]
			i := sort.Search(len(spans), func(i int) bool { return span.Start.Less(spans[i].End) })
			if i < len(spans) && spans[i].Start.Less(span.End) {
				return true
			}
		}
	}
	return false
}

// handsIn are the hands, or the feet, that a line is made of.
func handsIn(line Line) []Line {
	if line == Both {
		return []Line{RH, LH}
	}
	return []Line{line}
}
