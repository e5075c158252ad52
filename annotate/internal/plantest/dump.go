package plantest

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/resolve"
)

// Dump writes everything that a plan says, so that two plans can be compared.
func Dump(plan *resolve.Plan) string {
	var b strings.Builder
	fmt.Fprintf(&b, "cost %d, bound %d\n", plan.Cost, plan.Bound)
	for _, s := range plan.Settings {
		dumpSetting(&b, plan, s)
		for _, p := range s.Problems {
			fmt.Fprintf(&b, "  problem %s %s %v-%v: %s\n", p.Code, p.Line, p.From, p.To, p.Text)
			for _, r := range p.Remedies {
				fmt.Fprintf(&b, "    remedy: %s %s\n", r.Text, names(r.Sounds))
			}
		}
		for _, alt := range s.Alternatives {
			fmt.Fprintf(&b, " alternative: %s\n", alt.Why)
			dumpSetting(&b, plan, alt)
		}
	}
	return b.String()
}

func dumpSetting(b *strings.Builder, plan *resolve.Plan, s *resolve.Setting) {
	fmt.Fprintf(b, "%s %s to %s %s, cost %d\n", s.Passage.From.Measure, s.Passage.Start, s.Passage.To.Measure, s.Passage.End, s.Cost)
	for _, d := range plan.Organ.Divisions {
		var stops []string
		for _, st := range d.Stops {
			if s.Drawn.Stops[st] {
				stops = append(stops, st.Text)
			}
		}
		if len(stops) > 0 || s.Boxes[d] != "" || slices.Contains(s.Tremulants, d) {
			fmt.Fprintf(b, "  %s: %s; box %q; tremulant %v\n", d.Name, strings.Join(stops, ", "), s.Boxes[d], slices.Contains(s.Tremulants, d))
		}
	}
	for _, k := range plan.Organ.Couplers {
		if s.Drawn.Couplers[k] {
			fmt.Fprintf(b, "  %s\n", k.Text)
		}
	}
	for _, line := range s.Lines {
		keyboard := "nothing"
		if line.Keyboard != nil {
			keyboard = line.Keyboard.Name
		}
		fmt.Fprintf(b, "  %s on %s, octave %d: %s; kept %v; changed %v; %s", line.Asked.Line, keyboard, line.Octave, names(line.Sounds), line.PitchKept, line.Changed, line.Why)
		if line.Heard != nil {
			fmt.Fprintf(b, " %v", *line.Heard)
		}
		b.WriteByte('\n')
	}
}
