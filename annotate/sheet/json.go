package sheet

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
)

// The types below are the plan as JSON. Keys are always there; numbers may be
// null where nothing is asked.

type jsonPlan struct {
	Score    jsonScore     `json:"score"`
	Organ    jsonOrgan     `json:"organ"`
	Passages []jsonPassage `json:"passages"`
	Cost     int           `json:"cost"`
	Bound    int           `json:"bound"`
}

type jsonScore struct {
	File  string `json:"file"`
	Title string `json:"title"`
}

type jsonOrgan struct {
	Name    string `json:"name"`
	Manuals int    `json:"manuals"`
	Stops   int    `json:"stops"`
}

type jsonPlace struct {
	Measure string  `json:"measure"`
	Beat    float64 `json:"beat"`
}

type jsonText struct {
	jsonPlace
	Staff   string `json:"staff"`
	Text    string `json:"text"`
	Reading string `json:"reading"`
}

type jsonAsked struct {
	Division string   `json:"division"`
	Voices   []string `json:"voices"`
	Ratios   []string `json:"ratios"`
	Role     string   `json:"role"`
}

type jsonSound struct {
	Division string   `json:"division"`
	Stop     string   `json:"stop"`
	Pitch    string   `json:"pitch"`
	Family   string   `json:"family"`
	Via      []string `json:"via"`
	Octave   int      `json:"octave"`
}

type jsonLine struct {
	Line       string      `json:"line"`
	Asked      jsonAsked   `json:"asked"`
	By         string      `json:"by"`
	Keyboard   string      `json:"keyboard"`
	Octave     int         `json:"octave"`
	Sounds     []jsonSound `json:"sounds"`
	Level      *float64    `json:"level_db"`
	Brightness *float64    `json:"brightness_octaves"`
	Colour     *float64    `json:"colour_db"`
	PitchKept  bool        `json:"pitch_kept"`
	Changed    []string    `json:"changed"`
	Why        string      `json:"why"`
}

type jsonSetting struct {
	Lines      []jsonLine          `json:"lines"`
	Drawn      map[string][]string `json:"drawn"`
	Couplers   []string            `json:"couplers"`
	Boxes      map[string]string   `json:"boxes"`
	Tremulants []string            `json:"tremulants"`
}

type jsonAlternative struct {
	Lines    []jsonLine          `json:"lines"`
	Drawn    map[string][]string `json:"drawn"`
	Couplers []string            `json:"couplers"`
	Boxes    map[string]string   `json:"boxes"`
	Cost     int                 `json:"cost"`
	Why      string              `json:"why"`
}

type jsonRemedy struct {
	Text     string      `json:"text"`
	Keyboard string      `json:"keyboard"`
	Octave   int         `json:"octave"`
	Sounds   []jsonSound `json:"sounds"`
}

type jsonProblem struct {
	Code string `json:"code"`
	jsonPlace
	To       jsonPlace    `json:"to"`
	Staff    string       `json:"staff"`
	Text     string       `json:"text"`
	Remedies []jsonRemedy `json:"remedies"`
}

type jsonPassage struct {
	Start jsonPlace  `json:"start"`
	End   jsonPlace  `json:"end"`
	Asked []jsonText `json:"asked"`
	jsonSetting
	Alternatives []jsonAlternative `json:"alternatives"`
	Problems     []jsonProblem     `json:"problems"`
}

// JSON writes the plan as one JSON object, passage by passage: that of a long
// score has hundreds of megabytes.
func JSON(w io.Writer, r *annotate.Result, file string) error {
	p := r.Plan
	out := jsonPlan{
		Score:    jsonScore{File: file, Title: r.Score.Title},
		Organ:    jsonOrgan{Name: p.Organ.Name, Manuals: len(p.Organ.Keyboards), Stops: stopCount(p.Organ)},
		Passages: []jsonPassage{},
		Cost:     p.Cost,
		Bound:    p.Bound,
	}
	var b bytes.Buffer
	encoder := func(prefix string) *json.Encoder {
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		enc.SetIndent(prefix, "  ")
		return enc
	}
	if err := encoder("").Encode(out); err != nil {
		return err
	}
	// The passages go where none are written: a line cannot begin so inside a string.
	const none = "\n  \"passages\": []"
	head, tail, _ := strings.Cut(b.String(), none)
	to := bufio.NewWriter(w)
	to.WriteString(head + strings.TrimSuffix(none, "]"))
	enc := encoder("    ") // one for all, since it keeps its memory
	for i, s := range p.Settings {
		if i > 0 {
			to.WriteByte(',')
		}
		b.Reset()
		if err := enc.Encode(passageJSON(r, s)); err != nil {
			return err
		}
		to.WriteString("\n    ")
		to.Write(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
	}
	if len(p.Settings) > 0 {
		to.WriteString("\n  ")
	}
	to.WriteString("]" + tail)
	return to.Flush()
}

func passageJSON(r *annotate.Result, s *resolve.Setting) jsonPassage {
	p := r.Plan
	out := jsonPassage{
		Start:        placeJSON(s.Passage.From),
		End:          placeJSON(s.Passage.To),
		Asked:        []jsonText{},
		jsonSetting:  settingJSON(r, s),
		Alternatives: []jsonAlternative{},
		Problems:     []jsonProblem{},
	}
	for _, t := range s.Passage.Texts {
		staff := ""
		if t.Staff != nil {
			staff = t.Staff.ID()
		}
		out.Asked = append(out.Asked, jsonText{placeJSON(t.Place), staff, t.Text, t.Reading.NormalForm()})
	}
	for _, alt := range s.Alternatives {
		a := settingJSON(r, alt)
		out.Alternatives = append(out.Alternatives, jsonAlternative{a.Lines, a.Drawn, a.Couplers, a.Boxes, alt.Cost, alt.Why})
	}
	for _, x := range s.Problems {
		j := jsonProblem{Code: x.Code, jsonPlace: placeJSON(s.Passage.From), To: placeJSON(s.Passage.To), Text: x.Text, Remedies: []jsonRemedy{}}
		if st := p.Asked.Layout.Of(x.Line); st != nil {
			j.Staff = st.ID()
		} else if p.Asked.Layout.Shared != nil && x.Line == passage.Feet {
			j.Staff = p.Asked.Layout.Shared.ID()
		}
		if x.First != nil {
			part := x.First.Staff.Part
			j.Staff = x.First.Staff.ID()
			j.jsonPlace, j.To = placeJSON(part.Place(x.From.Start)), placeJSON(part.Place(x.To.Start))
		}
		for _, remedy := range x.Remedies {
			k := jsonRemedy{Text: remedy.Text, Octave: remedy.Octave, Sounds: []jsonSound{}}
			if remedy.Keyboard != nil {
				k.Keyboard = remedy.Keyboard.Name
			}
			for _, sound := range remedy.Sounds {
				k.Sounds = append(k.Sounds, soundJSON(sound))
			}
			j.Remedies = append(j.Remedies, k)
		}
		out.Problems = append(out.Problems, j)
	}
	return out
}

func settingJSON(r *annotate.Result, s *resolve.Setting) jsonSetting {
	p := r.Plan
	out := jsonSetting{
		Lines:      []jsonLine{},
		Drawn:      map[string][]string{},
		Couplers:   []string{},
		Boxes:      map[string]string{},
		Tremulants: []string{},
	}
	for _, line := range s.Lines {
		out.Lines = append(out.Lines, lineJSON(r, line))
	}
	for _, d := range p.Organ.Divisions {
		for _, st := range s.StopsInOrder(d) {
			out.Drawn[d.Name] = append(out.Drawn[d.Name], st.Text)
		}
		if box := s.Boxes[d]; box != "" {
			out.Boxes[d.Name] = box
		}
	}
	for _, c := range s.CouplersInOrder(p.Organ) {
		out.Couplers = append(out.Couplers, c.Text)
	}
	for _, d := range s.Tremulants {
		out.Tremulants = append(out.Tremulants, d.Name)
	}
	return out
}

func lineJSON(r *annotate.Result, line *resolve.Line) jsonLine {
	out := jsonLine{
		Line:      string(line.Asked.Line),
		Asked:     jsonAsked{Division: line.Asked.Division.String(), Voices: []string{}, Ratios: []string{}, Role: string(line.Asked.Role)},
		By:        by(line),
		Octave:    line.Octave,
		Sounds:    []jsonSound{},
		PitchKept: line.PitchKept,
		Changed:   []string{},
		Why:       why(r, line),
	}
	if line.Part != nil {
		for _, v := range line.Part.Asked.Voices {
			bare := v
			bare.Name = ""
			out.Asked.Voices = append(out.Asked.Voices, bare.String())
		}
		for _, ratio := range passage.Ratios(line.Part.Asked.Voices) {
			out.Asked.Ratios = append(out.Asked.Ratios, ratio.String())
		}
	}
	if h := line.Heard; h != nil {
		out.Level, out.Brightness, out.Colour = tenths(h.Loudness), tenths(h.Brightness), tenths(h.Colour)
	}
	if line.Keyboard != nil {
		out.Keyboard = line.Keyboard.Name
	}
	for _, s := range line.Sounds {
		out.Sounds = append(out.Sounds, soundJSON(s))
	}
	out.Changed = append(out.Changed, line.Changed...)
	return out
}

func tenths(n int) *float64 {
	x := float64(n) / 10
	return &x
}

// by is who plays a line: a line of both hands is the right hand's and the
// left's, and is called after the line.
func by(line *resolve.Line) string {
	if line.By != "" {
		return string(line.By)
	}
	if line.Asked.Line == passage.Both {
		return "both"
	}
	return string(line.Asked.Line)
}

func soundJSON(s registry.Sound) jsonSound {
	out := jsonSound{
		Division: s.Stop.Division.Name,
		Stop:     s.Stop.Text,
		Pitch:    s.Stop.Pitch.String(),
		Family:   s.Stop.Known.Family.String(),
		Via:      []string{},
		Octave:   s.Octave,
	}
	if s.Stop.Pitch.IsZero() {
		out.Pitch = "*"
	}
	for _, c := range s.Via {
		out.Via = append(out.Via, c.Text)
	}
	return out
}

func placeJSON(p musicxml.Place) jsonPlace { return jsonPlace{p.Measure, p.Beat.Float64()} }

func stopCount(o *registry.Organ) int {
	n := 0
	for _, d := range o.Divisions {
		n += len(d.Stops)
	}
	return n
}
