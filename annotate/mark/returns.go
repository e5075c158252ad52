package mark

import (
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
)

// returns marks where a repeat, D.C. or D.S. comes back to a place at which
// something else was drawn, and nothing printed there says what.
func (m *marker) returns() {
	for _, r := range m.plan.Asked.Returns {
		if !r.Changes || r.To == nil || r.To.Start == r.Back && len(r.To.Texts) > 0 {
			continue // what is printed there is read again
		}
		i := slices.IndexFunc(m.plan.Settings, func(s *resolve.Setting) bool { return s.Passage.Contains(r.Back) })
		if i < 0 {
			continue
		}
		var texts []string
		s := m.plan.Settings[i]
		for _, p := range s.Parts {
			if p.Host == nil || len(linesOn(s, p)) == 0 {
				continue
			}
			var stops []string
			for _, st := range s.StopsInOrder(p.Host) {
				stops = append(stops, st.Text)
			}
			if len(stops) > 0 {
				texts = append(texts, Abbreviation(p.Host)+" "+strings.Join(stops, ", "))
			}
		}
		if len(texts) == 0 {
			continue
		}
		sign := r.Sign
		if sign == "repeat" {
			sign = word("repeat", m.lang)
		}
		staff, placement := m.place(passage.Division{})
		m.add(Stops, staff, r.Back, placement, sign+": "+strings.Join(texts, "; "))
	}
}
