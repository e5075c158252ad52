package sheet

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
)

// csvColumns are the columns of the table, those of the JSON's lines and
// passages under the same names.
var csvColumns = []string{
	"measure", "beat", "end measure", "end beat", "line", "by",
	"asked division", "asked voices", "asked ratios", "role",
	"keyboard", "octave", "sounds", "level_db", "brightness_octaves", "colour_db",
	"pitch_kept", "changed", "why",
	"drawn", "couplers", "boxes", "tremulants", "problems",
}

// CSV writes one row for each line of each passage; a passage in which nobody
// plays has one row without a line. Several things in one cell are set apart
// by commas.
func CSV(w io.Writer, r *annotate.Result) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvColumns); err != nil {
		return err
	}
	for _, s := range r.Plan.Settings {
		p := passageJSON(r, s)
		lines := p.Lines
		if len(lines) == 0 {
			lines = []jsonLine{{}}
		}
		for _, line := range lines {
			if err := out.Write(csvRow(r.Plan, s, p, line)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func csvRow(plan *resolve.Plan, s *resolve.Setting, p jsonPassage, line jsonLine) []string {
	var sounds, drawn, boxes, problems []string
	for _, x := range line.Sounds {
		text := x.Division + " " + x.Stop
		if len(x.Via) > 0 {
			text += " (" + strings.Join(x.Via, ", ") + ")"
		}
		sounds = append(sounds, text)
	}
	for _, d := range plan.Organ.Divisions {
		for _, name := range p.Drawn[d.Name] {
			drawn = append(drawn, d.Name+" "+name)
		}
		if box := p.Boxes[d.Name]; box != "" {
			boxes = append(boxes, d.Name+" "+box)
		}
	}
	for _, x := range p.Problems {
		problems = append(problems, x.Code+": "+x.Text)
	}
	kept, octave := "", ""
	if line.Line != "" {
		kept, octave = strconv.FormatBool(line.PitchKept), strconv.Itoa(line.Octave)
	}
	from, to := s.Passage.From, s.Passage.To
	list := func(names []string) string { return strings.Join(names, ", ") }
	return []string{
		from.Measure, from.Beat.Decimal(), to.Measure, to.Beat.Decimal(), line.Line, line.By,
		line.Asked.Division, list(line.Asked.Voices), list(line.Asked.Ratios), line.Asked.Role,
		line.Keyboard, octave, list(sounds), figure(line.Level), figure(line.Brightness), figure(line.Colour),
		kept, list(line.Changed), line.Why,
		list(drawn), list(p.Couplers), list(boxes), list(p.Tremulants), list(problems),
	}
}

// figure is a number that may be absent.
func figure(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}
