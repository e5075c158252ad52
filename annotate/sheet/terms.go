package sheet

import (
	_ "embed"
	"strings"
	"sync"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry/stopname"
)

//go:embed terms.tsv
var termsTSV string

// A term is a word of the sheet and what it means.
type term struct{ use, Name, Text string }

var terms = sync.OnceValue(func() []term {
	var all []term
	for line := range strings.Lines(termsTSV) {
		if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) == 4 && !strings.HasPrefix(f[0], "#") {
			all = append(all, term{f[0], f[1], f[2]})
		}
	}
	return all
})

// termsUsed are the terms that occur on this sheet.
func (s *sheet) termsUsed() []term {
	used := map[string]bool{"always": true}
	for _, e := range s.entries {
		if e.piston > 0 {
			used["general"] = true
		}
		for d, box := range e.to.boxes {
			used["box"] = used["box"] || d != nil && box != ""
		}
		for _, m := range e.moves {
			used["moved"] = used["moved"] || m.to.octave != 0
			switch k := m.knob; {
			case k.stop != nil:
				used["mutation"] = used["mutation"] || k.stop.IsMutation()
				used["mixture"] = used["mixture"] || k.stop.Known.Family == stopname.Mixture
				used["celeste"] = used["celeste"] || k.stop.Known.Family == stopname.Celeste
				used["reed"] = used["reed"] || k.stop.Known.Family == stopname.Reed
			case k.coupler != nil:
				used["coupler"] = used["coupler"] || !k.coupler.Within()
				used["octave"] = used["octave"] || k.coupler.Octave != 0
				used["unison"] = used["unison"] || k.coupler.UnisonOff
			case k.tremulant != nil:
				used["tremulant"] = true
			}
		}
	}
	for _, setting := range s.plan.Settings {
		for _, line := range setting.Lines {
			used["solo"] = used["solo"] || line.Asked.Role == passage.Solo
		}
	}
	for _, f := range s.Findings {
		used["off-compass"] = used["off-compass"] || f.ID == resolve.OffCompass
	}
	var out []term
	for _, t := range terms() {
		if used[t.use] {
			out = append(out, t)
		}
	}
	return out
}
