package organfile

import (
	"fmt"
	"strconv"
	"strings"

	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

// Write writes the organ as an organ file, to start one's own from. What Read
// takes by itself is left out, so that reading the file and writing it again
// gives the same bytes.
func Write(o *registry.Organ) []byte {
	w := &writer{organ: o}
	w.line(0, "name", o.Name)
	w.line(0, "place", o.Place)
	w.line(0, "builder", o.Builder)
	w.line(0, "year", o.Year)
	w.line(0, "source", o.Source)
	w.line(0, "note", o.Note)
	w.line(0, "language", o.Lang)
	w.raw("action: %s\n", o.Action)
	if o.CouplersCarry != (o.Action == registry.Mechanical) {
		w.raw("couplers_carry: %v\n", o.CouplersCarry)
	}
	if o.Pedalboard != nil {
		w.raw("pedalboard: {compass: %s%s}\n", flow(o.Pedalboard.Compass.String()), dividedAt(o.Pedalboard))
	}
	w.raw("keyboards: # bottom to top\n")
	for _, kb := range o.Keyboards {
		w.raw("  - {name: %s, compass: %s%s}\n", flow(kb.Name), flow(kb.Compass.String()), dividedAt(kb))
	}
	w.raw("divisions:\n")
	for _, d := range o.Divisions {
		w.division(d)
	}
	w.couplers()
	if len(o.Tremulants) > 0 {
		var names []string
		for _, d := range o.Tremulants {
			names = append(names, flow(d.Name))
		}
		w.raw("tremulants: [%s]\n", strings.Join(names, ", "))
	}
	w.pistons()
	if o.Crescendo {
		w.raw("crescendo: true\n")
	}
	return []byte(w.b.String())
}

type writer struct {
	b     strings.Builder
	organ *registry.Organ
}

func (w *writer) raw(format string, args ...any) { fmt.Fprintf(&w.b, format, args...) }

func (w *writer) line(indent int, key, value string) {
	if value != "" {
		w.raw("%*s%s: %s\n", indent, "", key, block(value))
	}
}

func dividedAt(kb *registry.Keyboard) string {
	if kb.Divided == 0 {
		return ""
	}
	return fmt.Sprintf(", divided: %v", kb.Divided)
}

func (w *writer) division(d *registry.Division) {
	w.raw("  - name: %s\n", block(d.Name))
	if role, _ := division.RoleOf(d.Name, w.organ.Lang); role != d.Role && d.Role != division.None {
		w.raw("    role: %s\n", d.Role)
	}
	switch {
	case d.Keyboard == nil:
		w.raw("    keyboard: %s\n", floating)
	case d.Keyboard.Name != d.Name:
		w.line(4, "keyboard", d.Keyboard.Name)
	}
	whole := registry.Compass{Low: 36, High: 96}
	if d.Keyboard != nil {
		whole = d.Keyboard.Compass
	}
	if !d.Compass.Equal(whole) {
		w.raw("    compass: %s\n", block(d.Compass.String()))
	}
	pipes := commonPipes(d)
	if pipes > 0 {
		w.raw("    pipes: %d\n", pipes)
	}
	w.enclosed(d)
	w.line(4, "note", d.Note)
	if len(d.Stops) == 0 {
		return
	}
	w.raw("    stops:\n")
	for _, s := range d.Stops {
		w.stop(s, pipes)
	}
}

// commonPipes is the number of pipes for which the whole chest has room, 0
// where that is no more than keys.
func commonPipes(d *registry.Division) int {
	extra := 0
	for i, s := range d.Stops {
		if s.Compass.High != d.Compass.High {
			continue
		}
		n := s.Pipes - s.Compass.Keys()
		if n <= 0 || (extra > 0 && n != extra) {
			return 0
		}
		if i == 0 || extra == 0 {
			extra = n
		}
	}
	if extra == 0 {
		return 0
	}
	return d.Compass.Keys() + extra
}

func (w *writer) enclosed(d *registry.Division) {
	if !d.Enclosed {
		return
	}
	var parts []string
	if d.Box.Name != d.Name {
		parts = append(parts, "box: "+flow(d.Box.Name))
	}
	first := true // a shared box is described where it is named first
	for _, other := range w.organ.Divisions {
		if other == d {
			break
		}
		first = first && other.Box != d.Box
	}
	if first && d.Box.Positions > 0 {
		parts = append(parts, fmt.Sprintf("positions: %d", d.Box.Positions))
	}
	if first && d.Box.Strength > 0 {
		parts = append(parts, "strength: "+number(d.Box.Strength))
	}
	if len(parts) == 0 {
		w.raw("    enclosed: true\n")
		return
	}
	w.raw("    enclosed: {%s}\n", strings.Join(parts, ", "))
}

func (w *writer) stop(s *registry.Stop, pipes int) {
	parts := w.additions(s, pipes)
	if len(parts) == 0 {
		w.raw("      - %s\n", block(s.Text))
		return
	}
	w.raw("      - {stop: %s, %s}\n", flow(s.Text), strings.Join(parts, ", "))
}

// additions are the keys that say more than the text on the knob.
func (w *writer) additions(s *registry.Stop, pipes int) []string {
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	d := s.Division
	knob := stopname.Dissect(s.Text)
	named := stopname.Resolve(s.Text, stopname.Place{Pedal: d.Role == division.Pedal, Lang: w.organ.Lang, Pitch: knob.Pitch})
	if s.From != nil {
		root := s.From
		for root.From != nil {
			root = root.From
		}
		named = ofItsPipes(named, root)
	}
	if s.Known.Subfamily != named.Subfamily {
		named = stopname.OfKind(named, s.Known.Subfamily)
		if s.Known.Subfamily == stopname.UsualKind(s.Known.Family) {
			add("family: %v", s.Known.Family)
		} else {
			add("kind: %s", flow(s.Known.Subfamily))
		}
	}
	if s.Known.Loudness != named.Loudness && s.Known.Loudness > 0 {
		add("loudness: %d", s.Known.Loudness)
	}
	if s.Half != registry.Whole {
		add("half: %v", s.Half)
	}
	if !s.Compass.Equal(usualCompass(s)) {
		add("compass: %s", flow(s.Compass.String()))
	}
	usual := s.Compass.Keys()
	if extra := pipes - d.Compass.Keys(); pipes > 0 && s.Compass.High == d.Compass.High {
		usual += extra
	}
	if s.Pipes != usual {
		add("pipes: %d", s.Pipes)
	}
	if ranks := max(knob.Ranks, 1); s.Ranks != ranks && s.From == nil && s.Ranks != len(s.Composition) {
		add("ranks: %d", s.Ranks)
	}
	if c := composition(s.Composition); c != composition(knob.Composition) {
		add("composition: %s", flow(c))
	}
	if s.Level != 0 {
		add("level: %s", number(s.Level))
	}
	if s.Use != "" {
		add("use: %s", flow(s.Use))
	}
	if s.Side != "" {
		add("side: %s", s.Side)
	}
	if s.Outside {
		add("enclosed: false")
	}
	if s.Ventil {
		add("ventil: true")
	}
	switch {
	case s.From == nil:
	case s.From.Division == d:
		add("extends: %s", flow(s.From.Text))
	default:
		add("borrows: %s", flow(s.From.Division.Name+" "+s.From.Text))
	}
	if s.Note != "" {
		add("note: %s", flow(s.Note))
	}
	return parts
}

// usualCompass is what Read gives the stop where its file says nothing.
func usualCompass(s *registry.Stop) registry.Compass {
	d := s.Division
	switch {
	case s.Half == registry.BassHalf && d.Keyboard != nil:
		return d.Compass.Within(d.Compass.Low, d.Keyboard.Divided-1)
	case s.Half == registry.TrebleHalf && d.Keyboard != nil:
		return d.Compass.Within(d.Keyboard.Divided, d.Compass.High)
	}
	return d.Compass
}

// composition writes pitches as steps of the scale where all are.
func composition(pitches []pitch.Feet) string {
	var degrees, feet []string
	for _, f := range pitches {
		feet = append(feet, f.String())
		if n := pitch.DegreeOf(f); n > 0 {
			degrees = append(degrees, strconv.Itoa(n))
		}
	}
	if len(degrees) == len(feet) {
		return strings.Join(degrees, ".")
	}
	return strings.Join(feet, " + ")
}

func (w *writer) couplers() {
	if len(w.organ.Couplers) == 0 {
		return
	}
	w.raw("couplers:\n")
	for _, c := range w.organ.Couplers {
		more := ""
		if c.Permanent {
			more += ", permanent: true"
		}
		if c.Remark != "" {
			more += ", note: " + flow(c.Remark)
		}
		if more == "" {
			w.raw("  - %s\n", block(c.Text))
		} else {
			w.raw("  - {coupler: %s%s}\n", flow(c.Text), more)
		}
	}
}

func (w *writer) pistons() {
	p := w.organ.Pistons
	var parts []string
	if p.General > 0 {
		parts = append(parts, fmt.Sprintf("general: %d", p.General))
	}
	var divisional []string
	for _, d := range w.organ.Divisions {
		if n := p.Divisional[d.Name]; n > 0 {
			divisional = append(divisional, fmt.Sprintf("%s: %d", flow(d.Name), n))
		}
	}
	if len(divisional) > 0 {
		parts = append(parts, "divisional: {"+strings.Join(divisional, ", ")+"}")
	}
	if len(parts) > 0 {
		w.raw("pistons: {%s}\n", strings.Join(parts, ", "))
	}
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// block is a text as YAML outside of brackets, flow inside of them: in
// quotation marks only where it would be misread without.
func block(s string) string { return quoted(s, "") }

func flow(s string) string { return quoted(s, ",[]{}") }

func quoted(s, special string) string {
	if plainText(s) && !strings.ContainsAny(s, special) {
		return s
	}
	return strconv.Quote(s)
}

// plainText reports whether YAML reads the text as it stands.
func plainText(s string) bool {
	if s == "" || strings.TrimSpace(s) != s || strings.ContainsAny(s[:1], "-?:,[]{}#&*!|>'\"%@`~=<0123456789.+") {
		return false
	}
	if strings.Contains(s, ": ") || strings.Contains(s, " #") || strings.HasSuffix(s, ":") || strings.ContainsAny(s, "\"\\\n\t") {
		return false
	}
	for _, r := range s {
		if r < ' ' || r == 0x7f || r == 0x85 || r == 0xa0 || r == 0xfeff || r == 0x2028 || r == 0x2029 {
			return false
		}
	}
	switch strings.ToLower(s) {
	case "true", "false", "yes", "no", "on", "off", "y", "n", "null", "nan", "inf":
		return false
	}
	return true
}
