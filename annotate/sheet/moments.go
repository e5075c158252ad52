package sheet

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
)

// moments knows of any moment of the score on which page it is, which notes
// lead up to it, and how much time there is for a change.
type moments struct {
	layout *passage.Layout
	part   *musicxml.Part // of the organ's first staff
	pages  []string       // by measure; nil where the score has no page breaks
	marks  []rehearsal
	free   map[musicxml.Time]int
}

// A rehearsal is a rehearsal mark that is only that.
type rehearsal struct {
	at   musicxml.Time
	text string
}

func newMoments(r *annotate.Result) *moments {
	l := r.Plan.Asked.Layout
	m := &moments{layout: l, part: l.Staves[0].Part, free: map[musicxml.Time]int{}}
	m.pages = pagesOf(r.Score)
	m.marks = rehearsalMarks(r.Score, r.Plan.Asked.Lang)
	return m
}

// pagesOf are the numbers of the pages by measure: as the score numbers them,
// else counted from 1; nil where there is no page break.
func pagesOf(score *musicxml.Score) []string {
	longest := 0
	for _, p := range score.Parts {
		longest = max(longest, len(p.Measures))
	}
	pages := make([]string, longest)
	number, broken := 1, false
	for i := range pages {
		turned, printed := false, 0
		for _, p := range score.Parts {
			if i >= len(p.Measures) {
				continue
			}
			turned = turned || p.Measures[i].NewPage && i > 0
			if !p.Measures[i].Elem.Exists() {
				continue
			}
			for el := range p.Measures[i].Elem.All("print") {
				if n, err := strconv.Atoi(el.Attr("page-number")); err == nil && n > 0 && (i == 0 || p.Measures[i].NewPage) {
					printed = n
				}
			}
		}
		if turned {
			number, broken = number+1, true
		}
		if printed > 0 {
			number = printed
		}
		pages[i] = strconv.Itoa(number)
	}
	if !broken {
		return nil
	}
	return pages
}

// longestMark bounds what a rehearsal mark says: longer ones are headings.
const longestMark = 12

// rehearsalMarks are the marks of all parts, in the order of time. A mark that
// asks for something is a direction in a box and no mark to start again from.
func rehearsalMarks(score *musicxml.Score, lang string) []rehearsal {
	var all []rehearsal
	for _, p := range score.Parts {
		for _, d := range p.Directions {
			if d.Rehearsal == "" || len([]rune(d.Rehearsal)) > longestMark {
				continue
			}
			if r := direction.Read(d.Rehearsal, direction.Context{Lang: lang}); len(r.Statements) > 0 {
				continue
			}
			if mark := (rehearsal{d.Time, d.Rehearsal}); !slices.Contains(all, mark) {
				all = append(all, mark)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b rehearsal) int { return a.at.Cmp(b.at) })
	return all
}

// page is the number of the page that a moment is on, "" where none is known.
func (m *moments) page(t musicxml.Time) string {
	measure := m.part.MeasureAt(t)
	if m.pages == nil || measure == nil || measure.Index >= len(m.pages) {
		return ""
	}
	return m.pages[measure.Index]
}

// pageTurns are the moments at which a new page begins.
func (m *moments) pageTurns() []musicxml.Time {
	var turns []musicxml.Time
	for i, measure := range m.part.Measures {
		if i > 0 && i < len(m.pages) && m.pages[i] != m.pages[i-1] {
			turns = append(turns, measure.Start)
		}
	}
	return turns
}

// usualTempo is taken where the score gives none: quarter notes a minute of a
// walking pace (common practice).
const usualTempo = 76

// tempo is the speed at a moment in quarter notes a minute.
func (m *moments) tempo(t musicxml.Time) float64 {
	tempos := m.part.Tempos
	i := sort.Search(len(tempos), func(i int) bool { return t.Less(tempos[i].Time) })
	if i == 0 {
		return usualTempo
	}
	return tempos[i-1].Quarter
}

// notesAround is how many notes of a staff are looked at before a moment, and
// after.
const notesAround = 60

// around is the span that is looked at for a moment: the measure that ends
// with it or holds it, the one before, and the one after.
func (m *moments) around(t musicxml.Time) passage.Span {
	measures := m.part.Measures
	at := m.part.MeasureAt(t)
	if at == nil {
		return passage.Span{Start: t, End: t}
	}
	before := at.Index - 1
	if at.Start == t {
		before--
	}
	return passage.Span{
		Start: measures[max(0, before)].Start,
		End:   measures[min(len(measures)-1, at.Index+1)].End,
	}
}

// millisecondsFree is how long a hand is free for a change at a moment, the
// hand that has more time: from where it last let go to where it next begins.
// A fermata before the moment lasts twice its note (common practice).
func (m *moments) millisecondsFree(t musicxml.Time) int {
	if ms, ok := m.free[t]; ok {
		return ms
	}
	most := musicxml.Time{}
	span := m.around(t)
	for _, line := range []passage.Line{passage.RH, passage.LH} {
		if line == passage.LH && m.layout.Of(passage.LH) == m.layout.Of(passage.RH) {
			continue // one staff for both: when it plays, both may
		}
		from, to, held := span.Start, span.End, musicxml.Time{}
		for _, n := range m.layout.NotesOf(line, m.layout.Near(line, span, t, notesAround)) {
			end := n.Note.Onset.Add(n.Note.Duration)
			switch {
			case !n.Note.Onset.Less(t):
				if n.Note.Onset.Less(to) {
					to = n.Note.Onset
				}
			case t.Less(end):
				from, to = t, t
			case from.Less(end):
				from = end
			}
			if n.Note.Fermata && end == t && held.Less(n.Note.Duration) {
				held = n.Note.Duration
			}
		}
		if free := to.Sub(from).Add(held); from.Cmp(to) <= 0 && most.Less(free) {
			most = free
		}
	}
	ms := int(most.Float64() * 60000 / m.tempo(t))
	m.free[t] = ms
	return ms
}

// roomiest is the passage, from first to last, at whose start there is most
// time for a change; the latest of those that have equally much.
func (m *moments) roomiest(p *resolve.Plan, first, last int) int {
	best := last
	for i := last - 1; i >= first; i-- {
		if m.millisecondsFree(p.Settings[i].Passage.Start) > m.millisecondsFree(p.Settings[best].Passage.Start) {
			best = i
		}
	}
	return best
}

// cue is by what a player knows the moment: "in the rest", "after the held
// chord", "after R.H. G A B♭"; "" where nothing leads up to it.
func (m *moments) cue(t musicxml.Time) string {
	var parts []string
	if measure := m.part.MeasureAt(t); measure != nil && measure.Start == t && measure.Index > 0 {
		switch m.part.Measures[measure.Index-1].Barline {
		case "light-light", "light-heavy", "heavy-light", "heavy-heavy", "heavy":
			parts = append(parts, "at the double bar")
		}
	}
	if by := m.cueByNotes(t); by != "" {
		parts = append(parts, by)
	}
	return strings.Join(parts, ", ")
}

func (m *moments) cueByNotes(t musicxml.Time) string {
	span := passage.Span{Start: m.around(t).Start, End: t}
	if !span.Start.Less(t) {
		return ""
	}
	var lastOnset, lastEnd musicxml.Time
	var sounding []passage.Pressed
	lines := map[passage.Line][]passage.Pressed{}
	fermata := false
	for _, line := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		for _, n := range m.layout.NotesOf(line, m.layout.Near(line, span, t, notesAround)) {
			if n.Note.Grace || !n.Note.Onset.Less(t) {
				continue
			}
			end := n.Note.Onset.Add(n.Note.Duration)
			if lastEnd.Less(end) {
				lastEnd = end
			}
			if lastOnset.Less(n.Note.Onset) && !n.Note.TieStop {
				lastOnset = n.Note.Onset
			}
			if !end.Less(t) {
				sounding = append(sounding, n)
				fermata = fermata || n.Note.Fermata
			}
			lines[line] = append(lines[line], n)
		}
	}
	switch {
	case len(lines) == 0 || lastEnd.Less(t):
		return "in the rest"
	case fermata || t.Sub(lastOnset).Cmp(musicxml.Whole(2)) >= 0:
		if keysOf(sounding) >= 3 {
			return "after the held chord"
		}
		return "after the held note"
	}
	for _, line := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		names := topNotes(lines[line], 3)
		if len(names) > 1 {
			return "after " + lineName(line) + " " + strings.Join(names, " ")
		}
	}
	for _, line := range []passage.Line{passage.RH, passage.LH, passage.Feet} {
		if names := topNotes(lines[line], 1); len(names) > 0 {
			return "after " + lineName(line) + " " + names[0]
		}
	}
	return ""
}

func keysOf(notes []passage.Pressed) int {
	seen := map[int]bool{}
	for _, n := range notes {
		seen[int(n.Key)] = true
	}
	return len(seen)
}

// topNotes names the highest note of each of the last few attacks.
func topNotes(notes []passage.Pressed, count int) []string {
	var tops []passage.Pressed
	for _, n := range notes { // in the order of time, low to high
		if n.Note.TieStop {
			continue
		}
		if last := len(tops) - 1; last >= 0 && tops[last].Note.Onset == n.Note.Onset {
			tops[last] = n
			continue
		}
		tops = append(tops, n)
	}
	var names []string
	for _, n := range tops[max(0, len(tops)-count):] {
		names = append(names, noteName(n.Note.Pitch))
	}
	return names
}

func noteName(p musicxml.Pitch) string {
	name := string(p.Step)
	switch {
	case p.Alter > 0:
		name += strings.Repeat("♯", min(p.Alter, 2))
	case p.Alter < 0:
		name += strings.Repeat("♭", min(-p.Alter, 2))
	}
	return name
}
