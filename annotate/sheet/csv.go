package sheet

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"stopgap/annotate"
)

// CSV writes one row for each line of each passage.
func CSV(w io.Writer, r *annotate.Result) error {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"measure", "beat", "line", "asked division", "asked", "keyboard", "octave", "sounds", "couplers", "changed", "why"}); err != nil {
		return err
	}
	for _, s := range r.Plan.Settings {
		for _, line := range s.Lines {
			j := lineJSON(line)
			var sounds, couplers []string
			for _, x := range j.Sounds {
				sounds = append(sounds, x.Division+" "+x.Stop)
			}
			for _, c := range s.CouplersInOrder(r.Plan.Organ) {
				couplers = append(couplers, c.Text)
			}
			err := out.Write([]string{
				s.Passage.From.Measure, s.Passage.From.Beat.Decimal(), j.Line, j.Asked.Division,
				strings.Join(j.Asked.Voices, ", "), j.Keyboard, strconv.Itoa(j.Octave),
				strings.Join(sounds, ", "), strings.Join(couplers, ", "), strings.Join(j.Changed, " "), j.Why,
			})
			if err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}
