package sheet

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate"
	"stopgap/annotate/direction"
	"stopgap/annotate/mark"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// lineName is what a player calls his hands and feet on a sheet.
func lineName(l passage.Line) string {
	switch l {
	case passage.RH:
		return "R.H."
	case passage.LH:
		return "L.H."
	case passage.Both:
		return "Hands"
	}
	return "Feet"
}

// saysKnobs are the moves that pistons do, as an organist writes them, one text
// for each division, coupler and tremulant: "+ Sw. Oboe 8, − Salicional 8",
// "Gt. to Ped. off".
func saysKnobs(moves []move) []string {
	var out []string
	var division *registry.Division
	for _, m := range moves {
		switch {
		case m.knob.stop != nil:
			sign := "− "
			if m.on {
				sign = "+ "
			}
			if d := m.knob.stop.Division; d != division {
				division = d
				out = append(out, sign+mark.Abbreviation(d)+" "+m.knob.stop.Text)
			} else {
				out[len(out)-1] += ", " + sign + m.knob.stop.Text
			}
		case m.isKnob():
			out = append(out, m.knob.name()+onOff(m.on))
		}
	}
	return out
}

func onOff(on bool) string {
	if on {
		return " on"
	}
	return " off"
}

// name is what a knob is called where its division stands beside it.
func (k knob) name() string {
	switch {
	case k.stop != nil:
		return k.stop.Text
	case k.coupler != nil:
		return mark.Coupler(k.coupler)
	}
	return mark.Abbreviation(k.tremulant) + " tremulant"
}

// saysHands are the moves that no piston does: boxes, hands and feet: "Sw. box
// shut", "R.H. to Ch.".
func saysHands(moves []move, o *registry.Organ) []string {
	var out []string
	for _, m := range moves {
		switch {
		case m.box != nil:
			out = append(out, boxMove(m.box, m.shows))
		case m.line != "":
			out = append(out, placeMove(m, o))
		}
	}
	return out
}

func boxMove(d *registry.Division, to string) string {
	box := mark.Abbreviation(d) + " box"
	switch to {
	case "opening":
		return "open the " + box + " gradually"
	case "closing":
		return "close the " + box + " gradually"
	case "half":
		return box + " half open"
	}
	return box + " " + to
}

// boxStands says how a box stands when one starts here.
func boxStands(position string) string {
	switch position {
	case "opening":
		return "box opening"
	case "closing":
		return "box closing"
	case "half":
		return "box half open"
	}
	return "box " + position
}

func placeMove(m move, o *registry.Organ) string {
	who := lineName(m.line)
	if m.from.keyboard == m.to.keyboard || m.line == passage.Feet {
		if m.to.octave == 0 {
			return who + " as printed again"
		}
		return who + " " + octaveText(m.to.octave)
	}
	text := who + " to " + keyboardShort(m.to.keyboard, o)
	if m.to.octave != m.from.octave {
		if m.to.octave == 0 {
			return text + ", as printed again"
		}
		return text + ", " + octaveText(m.to.octave)
	}
	return text
}

// keyboardShort is a keyboard by the abbreviation of the division that is
// called after it, or that it plays.
func keyboardShort(kb *registry.Keyboard, o *registry.Organ) string {
	if d := o.Division(kb.Name); d != nil {
		return mark.Abbreviation(d)
	}
	return kb.Name
}

func octaveText(n int) string {
	switch {
	case n == 1:
		return "an octave higher than printed"
	case n > 1:
		return fmt.Sprintf("%d octaves higher than printed", n)
	case n == -1:
		return "an octave lower than printed"
	case n < -1:
		return fmt.Sprintf("%d octaves lower than printed", -n)
	}
	return "as printed"
}

// A row is one line of a whole setting: a division with what is drawn on it,
// the couplers, the tremulants, or the hands.
type row struct{ Name, Text string }

// rows are the whole setting of the console, in the order of the knobs. Where
// nothing is drawn and nothing stands, nothing is said.
func (st *state) rows(o *registry.Organ) []row {
	var rows []row
	for _, d := range o.Divisions {
		var names []string
		for _, s := range d.Stops {
			if st.out[knob{stop: s}] {
				names = append(names, s.Text)
			}
		}
		text := strings.Join(names, ", ")
		if box := st.boxes[d]; box != "" && (text != "" || d.Enclosed) {
			if text != "" {
				text += "; "
			}
			text += boxStands(box)
		}
		if text != "" {
			rows = append(rows, row{d.Name, text})
		}
	}
	var couplers, tremulants []string
	for _, k := range knobsOf(o) {
		switch {
		case k.coupler != nil && st.out[k]:
			couplers = append(couplers, k.name())
		case k.tremulant != nil && st.out[k]:
			tremulants = append(tremulants, mark.Abbreviation(k.tremulant))
		}
	}
	if len(couplers) > 0 {
		rows = append(rows, row{"Couplers", strings.Join(couplers, ", ")})
	}
	if len(tremulants) > 0 {
		rows = append(rows, row{"Tremulant", strings.Join(tremulants, ", ")})
	}
	if text := st.players(o); text != "" {
		rows = append(rows, row{"Hands", text})
	}
	return rows
}

// startRows are the rows of the setting before the first note, and those of the
// keyboards that are played although the score never says with what.
func (s *sheet) startRows(first *entry) []row {
	rows := first.to.rows(s.plan.Organ)
	sounds := map[*registry.Keyboard]bool{}
	for _, setting := range s.plan.Settings {
		for _, line := range setting.Lines {
			if line.Keyboard != nil && len(line.Asked.Notes) > 0 {
				sounds[line.Keyboard] = sounds[line.Keyboard] || len(line.Sounds) > 0
			}
		}
	}
	var free []row
	for _, d := range s.plan.Organ.Divisions {
		if heard, played := sounds[d.Keyboard]; played && !heard {
			free = append(free, row{d.Name, "as you like: the score names no stops for it"})
			sounds[d.Keyboard] = true // once for each keyboard
		}
	}
	at := slices.IndexFunc(rows, func(r row) bool { return s.plan.Organ.Division(r.Name) == nil })
	if at < 0 {
		at = len(rows)
	}
	return slices.Insert(rows, at, free...)
}

// players says where the hands are, and the feet where they do not play as
// printed.
func (st *state) players(o *registry.Organ) string {
	var parts []string
	on := func(who string, at place) {
		text := who + "on " + keyboardShort(at.keyboard, o)
		if at.octave != 0 {
			text += ", " + octaveText(at.octave)
		}
		parts = append(parts, text)
	}
	rh, right := st.hands[passage.RH]
	lh, left := st.hands[passage.LH]
	switch {
	case right && left && rh == lh:
		on("both ", rh)
	default:
		if right {
			on("R.H. ", rh)
		}
		if left {
			on("L.H. ", lh)
		}
	}
	if feet, ok := st.hands[passage.Feet]; ok && feet.octave != 0 {
		parts = append(parts, "feet "+octaveText(feet.octave))
	}
	return strings.Join(parts, "; ")
}

// where is how the place of an entry is written: "p. 2, 27.3, after the held
// chord" is page 2, bar 27, beat 3. The page is left out where a heading has
// said it.
func (e *entry) where(page bool) string {
	parts := []string{}
	if e.page != "" && page {
		parts = append(parts, "p. "+e.page)
	}
	parts = append(parts, e.moment())
	if e.cue != "" && e.back == nil {
		parts = append(parts, e.cue)
	}
	return strings.Join(parts, ", ")
}

// moment is the bar and the beat; of a jump, from where to where.
func (e *entry) moment() string {
	if e.back == nil {
		return spot(e.place.Measure, e.place.Beat.Printed())
	}
	to := "on to bar " + e.back.Measure
	if e.again {
		to = "back to bar " + e.back.Measure
	}
	return "end of bar " + e.place.Measure + ", " + to
}

func spot(measure, beat string) string { return measure + "." + beat }

// heading is what begins at an entry: "B", "Page 2", "B, page 2".
func (e *entry) heading() string {
	switch {
	case e.turn && len(e.marks) > 0:
		return strings.Join(e.marks, ", ") + ", page " + e.page
	case e.turn:
		return "Page " + e.page
	}
	return strings.Join(e.marks, ", ")
}

// asking are the texts of a setting's passage that ask for something, without
// what stands above or below them and asks for nothing.
func asking(s *resolve.Setting, lang string) []asked {
	var out []asked
	for _, t := range s.Passage.Texts {
		if !t.AsksNothing() {
			out = append(out, asked{t.Place, askingLines(t.Text, lang)})
		}
	}
	return out
}

// where is the place of the text where that is not the entry's, else "".
func (a asked) where(e *entry) string {
	if a.at == e.place {
		return ""
	}
	return spot(a.at.Measure, a.at.Beat.Printed()) + ":"
}

// longestText is how much of a printed text stands on a sheet.
const longestText = 400

// askingLines is a text on one line, without those of its lines that it asks
// the same without: a tempo above the stops, a rehearsal mark.
func askingLines(text, lang string) string {
	lines := strings.Split(text, "\n")
	if len(lines) > 1 && len(text) <= 4*longestText {
		read := func(lines []string) string {
			return direction.Read(strings.Join(lines, "\n"), direction.Context{Lang: lang}).NormalForm()
		}
		whole := read(lines)
		for i := 0; i < len(lines); {
			if rest := slices.Delete(slices.Clone(lines), i, i+1); len(rest) > 0 && read(rest) == whole {
				lines = rest
				continue
			}
			i++
		}
	}
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	short := []rune(strings.Join(lines, " / "))
	if len(short) > longestText {
		return string(short[:longestText]) + "…"
	}
	return string(short)
}

// heardWords says how a line sounds against what is asked, "" where there is
// no difference to speak of. The steps are those that listeners tell apart
// (common practice): a phon or two are hardly heard, ten are twice as loud.
func heardWords(d *resolve.Difference) string {
	if d == nil {
		return ""
	}
	var parts []string
	add := func(n, little, plain, much int, more, less string) {
		word := more
		if n < 0 {
			n, word = -n, less
		}
		switch {
		case n >= much:
			parts = append(parts, "much "+word)
		case n >= plain:
			parts = append(parts, word)
		case n >= little:
			parts = append(parts, "a little "+word)
		}
	}
	add(d.Loudness, 15, 35, 70, "louder", "softer")
	add(d.Brightness, 2, 5, 10, "brighter", "darker")
	if len(parts) == 0 {
		if d.Colour >= 40 {
			return "as loud as what is asked for, of another colour"
		}
		return ""
	}
	return strings.Join(parts, " and ") + " than what is asked for"
}

// heardFigures are the same as figures.
func heardFigures(d *resolve.Difference) string {
	return fmt.Sprintf("%+.1f phon, %+.1f octaves of brightness, %.1f dB of colour",
		float64(d.Loudness)/10, float64(d.Brightness)/10, float64(d.Colour)/10)
}

// why is a line's reason, with what the stops were on the organ that the
// composer wrote for.
func (s *sheet) why(line *resolve.Line) string { return why(s.Result, line) }

func why(r *annotate.Result, line *resolve.Line) string {
	text := line.Why
	if r.WrittenFor == nil || line.Part == nil {
		return text
	}
	return strings.TrimSpace(text + " " + r.Plan.OnTheOriginal(line.Part, r.WrittenFor))
}

// findingText is a caution with its place before it.
func findingText(f annotate.Finding) string {
	if f.Place.Measure == "" {
		return f.Text
	}
	return spot(f.Place.Measure, f.Place.Beat.Printed()) + ": " + f.Text
}
