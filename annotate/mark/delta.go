package mark

import (
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/division"
)

// delta is the text of a mark at a printed "add" or "off": only what comes in,
// or only what goes, since what stands is known. It is "" where the whole has
// to be told: where the print draws anew, where hands move, and where stops go
// as others come.
func (m *marker) delta(s *resolve.Setting, before, now *resolve.Part) string {
	switch {
	case before == nil || before.Host != now.Host || before.Octave != now.Octave || before.By != now.By || before.Shared || now.Shared:
		return ""
	case !addsOnly(s, now.Asked.Division):
		return ""
	}
	in, out := lessOf(now, before), lessOf(before, now)
	more := slices.DeleteFunc(m.missing(now), func(x string) bool { return slices.Contains(m.missing(before), x) })
	gone := slices.DeleteFunc(couplersText(before), func(x string) bool { return slices.Contains(couplersText(now), x) })
	joined := slices.DeleteFunc(couplersText(now), func(x string) bool { return slices.Contains(couplersText(before), x) })
	stops, off := m.changeText(in, "+ "), m.changeText(out, "− ")
	if stops != "" && off != "" || len(gone) > 0 || stops == "" && off == "" {
		return ""
	}
	parts := []string{stops + off}
	parts = append(parts, joined...)
	if len(more) > 0 {
		parts = append(parts, m.without(more))
	}
	return strings.Join(parts, ", ")
}

// lessOf is a part with only those stops that another has not.
func lessOf(p, other *resolve.Part) *resolve.Part {
	has := map[*registry.Stop]bool{}
	for _, c := range other.Stops() {
		has[c.Stop] = true
	}
	out := *p
	out.Picks = nil
	for _, pick := range p.Picks {
		pick.Stops = slices.DeleteFunc(slices.Clone(pick.Stops), func(c resolve.Chosen) bool { return has[c.Stop] })
		out.Picks = append(out.Picks, pick)
	}
	return &out
}

// changeText lists the stops of a part that come in or go; "" where there are none.
func (m *marker) changeText(p *resolve.Part, sign string) string {
	text := stopsText(p)
	if text == "" {
		return ""
	}
	if lent, only := strings.CutPrefix(text, ": "); only {
		return sign + lent
	}
	return sign + Abbreviation(p.Host) + text
}

// addsOnly reports whether what is printed at the start of a passage adds stops
// to a division, or takes some off, and draws nothing anew.
func addsOnly(s *resolve.Setting, d passage.Division) bool {
	adds := false
	for _, t := range s.Passage.Texts {
		for _, st := range t.Reading.Statements {
			if st.Division != d.Role && st.Division != division.None {
				continue
			}
			switch st.Verb {
			case direction.Set:
				return false
			case direction.Add, direction.Off:
				adds = true
			}
		}
	}
	return adds
}
