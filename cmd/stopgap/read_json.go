package main

import (
	"encoding/json"
	"fmt"
	"io"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/musicxml"
)

// What follows is what read --format json writes.
type (
	readScore struct {
		Score struct {
			File  string `json:"file"`
			Title string `json:"title"`
		} `json:"score"`
		Language   string        `json:"language"`
		TwoManuals bool          `json:"two_manuals"`
		Numbering  readNumbering `json:"numbering"`
		Staves     []readStaff   `json:"staves"`
		Others     []string      `json:"others"`
		Texts      []readText    `json:"texts"`
		Passages   []readPassage `json:"passages"`
		Returns    []readReturn  `json:"returns"`
		Findings   []readFinding `json:"findings"`
	}
	readNumbering struct {
		Order   string            `json:"order"`
		Manuals map[string]string `json:"manuals"`
		Why     string            `json:"why"`
	}
	readStaff struct {
		Staff    string   `json:"staff"`
		Line     string   `json:"line"`
		KeyShift int      `json:"key_shift"`
		Evidence []string `json:"evidence"`
	}
	readPlace struct {
		Measure string  `json:"measure"`
		Beat    float64 `json:"beat"`
	}
	readText struct {
		readPlace
		Staff   string       `json:"staff"`
		Source  string       `json:"source"`
		Text    string       `json:"text"`
		Reading string       `json:"reading"`
		Unread  []readUnread `json:"unread"`
	}
	readUnread struct {
		Text string   `json:"text"`
		Near []string `json:"near"`
	}
	readPassage struct {
		Start    readPlace   `json:"start"`
		End      readPlace   `json:"end"`
		Texts    []int       `json:"texts"` // which of the texts above stand at its start or ask for the same further on
		Resumes  *readPlace  `json:"resumes"`
		Lines    []readLine  `json:"lines"`
		Drawn    []readDrawn `json:"drawn"`
		Couplers []string    `json:"couplers"`
		FeetOff  bool        `json:"manuals_only"`
	}
	readLine struct {
		Line     string `json:"line"`
		Division string `json:"division"`
		Of       string `json:"of"`
		Role     string `json:"role"`
		Level    string `json:"level"`
	}
	readDrawn struct {
		Division string   `json:"division"`
		Of       string   `json:"of"`
		Heard    bool     `json:"heard"`
		Voices   []string `json:"voices"`
		Without  []string `json:"without"`
		Prepared []string `json:"prepared"`
		Box      string   `json:"box"`
		Tremming bool     `json:"tremulant"`
		Level    string   `json:"level"`
		Swells   bool     `json:"swells"`
	}
	readReturn struct {
		Sign    string    `json:"sign"`
		At      readPlace `json:"at"`
		Back    readPlace `json:"back"`
		Changes bool      `json:"changes"`
	}
	readFinding struct {
		ID string `json:"id"`
		readPlace
		Staff    string   `json:"staff"`
		Text     string   `json:"text"`
		Remedies []string `json:"remedies"`
	}
)

func readJSON(w io.Writer, file, title string, s *passage.Score) error {
	out := readScore{
		Language: s.Lang, TwoManuals: s.TwoManuals,
		Numbering: readNumbering{Order: string(s.Numbering.Order), Manuals: map[string]string{}, Why: s.Numbering.Why},
		Staves:    []readStaff{}, Others: listed(s.Layout.Others), Texts: []readText{}, Passages: []readPassage{}, Returns: []readReturn{}, Findings: []readFinding{},
	}
	out.Score.File, out.Score.Title = file, title
	for n, role := range s.Numbering.Manuals {
		out.Numbering.Manuals[fmt.Sprint(n)] = role.String()
	}
	for _, st := range append(append([]*passage.Staff{}, s.Layout.Staves...), s.Layout.Aside...) {
		line := string(st.Line)
		if st == s.Layout.Shared {
			line += "+feet"
		}
		out.Staves = append(out.Staves, readStaff{st.ID(), line, st.KeyShift, listed(st.Evidence)})
	}
	number := map[*passage.Text]int{}
	for i, t := range s.Texts {
		number[t] = i
		row := readText{placeOf(t.Place), staffID(t), string(t.Source), t.Text, t.Reading.NormalForm(), []readUnread{}}
		for _, u := range t.Reading.Unread {
			row.Unread = append(row.Unread, readUnread{u.Text, listed(s.Near(u.Text))})
		}
		out.Texts = append(out.Texts, row)
	}
	for _, p := range s.Passages {
		out.Passages = append(out.Passages, passageOf(p, number))
	}
	for _, r := range s.Returns {
		part := s.Layout.Staves[0].Part
		out.Returns = append(out.Returns, readReturn{r.Sign, placeOf(part.Place(r.At)), placeOf(part.Place(r.Back)), r.Changes})
	}
	for _, f := range s.Findings {
		row := readFinding{ID: f.ID, readPlace: placeOf(f.Place), Text: f.Text, Remedies: listed(f.Remedies)}
		if f.Staff != nil {
			row.Staff = f.Staff.ID()
		}
		out.Findings = append(out.Findings, row)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

func passageOf(p *passage.Passage, number map[*passage.Text]int) readPassage {
	out := readPassage{Start: placeOf(p.From), End: placeOf(p.To), Texts: []int{}, Lines: []readLine{}, Drawn: []readDrawn{}, Couplers: []string{}, FeetOff: p.FeetOff}
	for _, t := range append(append([]*passage.Text{}, p.Texts...), p.Restated...) {
		out.Texts = append(out.Texts, number[t])
	}
	if p.Resumes != nil {
		from := placeOf(p.Resumes.From)
		out.Resumes = &from
	}
	for _, line := range p.Lines {
		out.Lines = append(out.Lines, readLine{string(line.Line), line.Division.String(), string(line.Division.Of), string(line.Role), line.Level})
	}
	drawn := func(heard bool, all []*passage.Asked) {
		for _, a := range all {
			out.Drawn = append(out.Drawn, readDrawn{
				a.Division.String(), string(a.Division.Of), heard, normalForms(a.Voices), normalForms(a.Without), normalForms(a.Prepared), a.Box, a.Tremming, a.Level, a.Swells,
			})
		}
	}
	drawn(true, p.Drawn)
	drawn(false, p.Waiting)
	for _, c := range p.Couplings {
		st := direction.Statement{Verb: direction.Couple, Division: c.From.Role, To: c.To.Role, Octave: c.Octave}
		out.Couplers = append(out.Couplers, st.String()[len("couple "):])
	}
	return out
}

func normalForms(voices []direction.Voice) []string {
	out := []string{}
	for _, v := range voices {
		out = append(out, v.String())
	}
	return out
}

func placeOf(p musicxml.Place) readPlace { return readPlace{p.Measure, p.Beat.Float64()} }

// listed is the list itself, an empty one for none.
func listed(all []string) []string {
	if all == nil {
		return []string{}
	}
	return all
}
