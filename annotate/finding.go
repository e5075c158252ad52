package annotate

import (
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
)

// A Finding is something that the tool has to say of a place in the score.
type Finding struct {
	ID       string // stable: "unread-direction", "off-compass" …
	Unplayed bool   // something that cannot be played as asked
	Position musicxml.Position
	Place    musicxml.Place
	Staff    string // "P1.3"; "" where no one staff is meant
	Text     string
	Remedies []string
}

// findings gathers what is to be said of a plan, in the order of the score.
func findings(doc *musicxml.Document, plan *resolve.Plan) []Finding {
	var out []Finding
	for _, r := range plan.Asked.Findings {
		f := Finding{ID: r.ID, Place: r.Place, Text: r.Text, Remedies: r.Remedies}
		if r.Elem.Exists() {
			f.Position = doc.Position(r.Elem.Span().Start)
		}
		if r.Staff != nil {
			f.Staff = r.Staff.ID()
		}
		out = append(out, f)
	}
	type saying struct{ code, text string }
	said := map[saying]bool{}
	for _, s := range plan.Settings {
		for _, p := range s.Problems {
			f := Finding{ID: p.Code, Unplayed: true, Place: s.Passage.From, Text: p.Text}
			if staff := staffOf(plan.Asked.Layout, p); staff != nil {
				f.Staff = staff.ID()
			}
			if p.First != nil {
				f.Place = p.First.Staff.Part.Place(p.First.Note.Onset)
				f.Position = doc.Position(p.First.Note.Elem.Span().Start)
			} else if said[saying{p.Code, p.Text}] {
				continue // once is enough for what holds on through the piece
			}
			said[saying{p.Code, p.Text}] = true
			for _, r := range p.Remedies {
				f.Remedies = append(f.Remedies, r.Text)
			}
			out = append(out, f)
		}
	}
	return out
}

func staffOf(l *passage.Layout, p resolve.Problem) *passage.Staff {
	if p.First != nil {
		return p.First.Staff
	}
	if s := l.Of(p.Line); s != nil {
		return s
	}
	if p.Line == passage.Feet {
		return l.Shared
	}
	return nil
}
