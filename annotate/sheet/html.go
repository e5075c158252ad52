package sheet

import (
	_ "embed"
	"html/template"
	"io"

	"stopgap/annotate"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
)

//go:embed page.html
var pageHTML string

var page = template.Must(template.New("page").Parse(pageHTML))

type pageView struct {
	Title, Organ, Lang string
	Start              []pageRow
	Changes            []pageChange
	Findings           []string
	Caution            string
}

type pageRow struct{ Name, Text string }

type pageChange struct {
	Place string
	Asked []string
	Do    []string
	Why   []string
}

// HTML writes the plan as one self-contained page.
func HTML(w io.Writer, r *annotate.Result) error {
	p := r.Plan
	view := pageView{Title: title(r), Organ: p.Organ.Name, Lang: "en", Caution: Caution}
	for i, s := range p.Settings {
		c := pageChange{Place: place(s)}
		for _, t := range s.Passage.Texts {
			c.Asked = append(c.Asked, t.Text)
		}
		for _, line := range s.Lines {
			if len(line.Changed) > 0 && line.Why != "" {
				c.Why = append(c.Why, lineName(line.Asked.Line)+": "+line.Why)
			}
		}
		if i == 0 {
			view.Start = startRows(p, s)
		} else {
			c.Do = Changes(p, p.Settings[i-1], s)
		}
		if i == 0 || len(c.Do)+len(c.Asked) > 0 {
			view.Changes = append(view.Changes, c)
		}
	}
	for _, f := range r.Findings {
		view.Findings = append(view.Findings, findingText(f))
	}
	return page.Execute(w, view)
}

func startRows(p *resolve.Plan, s *resolve.Setting) []pageRow {
	var rows []pageRow
	for _, d := range p.Organ.Divisions {
		if names := stopNames(s.StopsInOrder(d)); names != "" {
			if box := s.Boxes[d]; box != "" {
				names += "; box " + box
			}
			rows = append(rows, pageRow{d.Name, names})
		}
	}
	if names := couplerNames(s.CouplersInOrder(p.Organ)); names != "" {
		rows = append(rows, pageRow{"Couplers", names})
	}
	for _, d := range s.Tremulants {
		rows = append(rows, pageRow{"Tremulant", d.Name})
	}
	for _, line := range s.Lines {
		if line.Keyboard != nil && (line.Asked.Line != passage.Feet || line.Octave != 0) {
			rows = append(rows, pageRow{lineName(line.Asked.Line), line.Keyboard.Name + octaveText(line.Octave)})
		}
	}
	return rows
}
