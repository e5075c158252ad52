package organfile

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"stopgap/registry"
)

// coupler reads "Swell to Great", "Swell to Great 4", "Swell Octave", "Swell
// Sub Octave", "Swell Unison Off", "Swell to Great Melody", or a map with
// coupler:, permanent: and note:.
func (r *reader) coupler(n ast.Node) {
	n = r.plain(n)
	text, alone := scalar(n)
	permanent, remark := false, ""
	if !alone {
		if isNothing(n) {
			r.add(n, "missing-value", "write it, such as “Swell to Great”, or leave the dash out", "a coupler has no text")
			return
		}
		fields := r.fields(n, "a coupler", "coupler", "permanent", "note")
		if fields == nil {
			return
		}
		r.required(n, fields, "a coupler", "coupler")
		text, n = r.text(fields["coupler"]), fields["coupler"].value
		permanent, remark = r.yes(fields["permanent"]), r.text(fields["note"])
	}
	if text == "" || alone && !r.short(n, text) {
		return
	}
	c := &registry.Coupler{Text: text, Permanent: permanent, Remark: remark}
	if !r.readCoupler(c, n) {
		return
	}
	for _, other := range r.organ.Couplers {
		if other.From == c.From && other.To == c.To && other.Octave == c.Octave && other.UnisonOff == c.UnisonOff && other.Note == c.Note {
			r.add(n, "doubled-coupler", "leave one of them out", "the coupler %q is there twice", text)
			return
		}
	}
	r.organ.Couplers = append(r.organ.Couplers, c)
}

const couplerForms = "write “A to B”, “A to B 4”, “A to B 16”, “A Octave”, “A Sub Octave” or “A Unison Off”"

func (r *reader) readCoupler(c *registry.Coupler, n ast.Node) bool {
	from, to, between := cutWord(c.Text, "to")
	if !between {
		name, ok := cutWithin(c)
		if !ok {
			r.add(n, "bad-coupler", couplerForms, "%q is not a coupler", c.Text)
			return false
		}
		c.From = r.coupled(name, c.Text, n)
		c.To = c.From
		return c.From != nil
	}
	to = cutNote(c, to)
	c.From = r.coupled(from, c.Text, n)
	c.To = r.organ.Division(to)
	if c.To == nil {
		to = cutOctave(c, to)
		c.To = r.coupled(cutNote(c, to), c.Text, n)
	}
	switch {
	case c.From == nil || c.To == nil:
		return false
	case c.From == c.To && c.Octave == 0:
		r.add(n, "bad-coupler", "leave it out; to itself there are only Octave and Sub Octave", "%q couples %s to itself", c.Text, c.From.Name)
		return false
	case c.To.Keyboard == nil && r.misplaced[c.To]:
		return false // said already
	case c.To.Keyboard == nil:
		r.add(n, "bad-coupler", "name a division that has keys", "%q: %s floats, so it has no keys to couple to", c.Text, c.To.Name)
		return false
	}
	return true
}

// cutWithin reads the couplers of one division.
func cutWithin(c *registry.Coupler) (name string, ok bool) {
	for _, form := range []struct {
		end       string
		octave    int
		unisonOff bool
	}{
		{"Unison Off", 0, true}, {"Sub Octave", -1, false}, {"Suboctave", -1, false}, {"Sub-Octave", -1, false},
		{"Super Octave", 1, false}, {"Superoctave", 1, false}, {"Super-Octave", 1, false}, {"Octave", 1, false},
	} {
		if len(c.Text) > len(form.end)+1 && strings.EqualFold(c.Text[len(c.Text)-len(form.end):], form.end) && c.Text[len(c.Text)-len(form.end)-1] == ' ' {
			c.Octave, c.UnisonOff = form.octave, form.unisonOff
			return strings.TrimSpace(c.Text[:len(c.Text)-len(form.end)]), true
		}
	}
	return "", false
}

// cutOctave reads the pitch at the end of "Swell to Great 4".
func cutOctave(c *registry.Coupler, to string) string {
	for end, octave := range map[string]int{" 16": -1, " 8": 0, " 4": 1} {
		for _, mark := range []string{"", "'", "′", "’", " ft", " ft."} {
			if before, ok := strings.CutSuffix(to, end+mark); ok {
				c.Octave = octave
				return before
			}
		}
	}
	return to
}

// cutNote reads the "Melody" or "Bass" at the end.
func cutNote(c *registry.Coupler, to string) string {
	if before, ok := strings.CutSuffix(to, " Melody"); ok {
		c.Note = registry.HighestNote
		return before
	}
	if before, ok := strings.CutSuffix(to, " Bass"); ok {
		c.Note = registry.LowestNote
		return before
	}
	return to
}

// cutWord cuts at a word that stands between spaces.
func cutWord(s, word string) (before, after string, ok bool) {
	fields := strings.Fields(s)
	for i := 1; i+1 < len(fields); i++ {
		if strings.EqualFold(fields[i], word) {
			return strings.Join(fields[:i], " "), strings.Join(fields[i+1:], " "), true
		}
	}
	return s, "", false
}

// coupled finds the division that a coupler names.
func (r *reader) coupled(name, text string, n ast.Node) *registry.Division {
	if d := r.organ.Division(name); d != nil {
		return d
	}
	remedy := "the divisions are " + strings.Join(r.divisionNames(), ", ")
	if near := nearest(name, r.divisionNames()); near != "" {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	r.add(n, "unknown-division-named", remedy, "%q: there is no division %q", text, name)
	return nil
}

// tremulant reads the name of a division that has one.
func (r *reader) tremulant(n ast.Node) {
	n = r.plain(n)
	name, ok := scalar(n)
	if !ok {
		r.add(n, "wrong-kind", "write the division's name", "a tremulant is %s, not the name of a division", kindName(n))
		return
	}
	d := r.coupled(name, name, n)
	switch {
	case d == nil:
		r.findings[len(r.findings)-1].Text = fmt.Sprintf("there is no division %q to have a tremulant", name)
	case r.organ.HasTremulant(d):
		r.add(n, "doubled-tremulant", "leave one of them out", "the tremulant of %s is there twice", name)
	default:
		r.organ.Tremulants = append(r.organ.Tremulants, d)
	}
}

// pistons reads "{general: 4, divisional: 5}" or a number for each division.
func (r *reader) pistons(f field) {
	if f.value == nil {
		return
	}
	fields := r.fields(f.value, "pistons", "general", "divisional")
	p := &r.organ.Pistons
	if f, ok := fields["general"]; ok {
		p.General = r.whole(f, 0, 1000)
	}
	f, ok := fields["divisional"]
	if !ok || isNothing(f.value) {
		return
	}
	p.Divisional = map[string]int{}
	if _, one := scalar(f.value); one {
		n := r.whole(f, 0, 100)
		for _, d := range r.organ.Divisions {
			if len(d.Stops) > 0 && n > 0 {
				p.Divisional[d.Name] = n
			}
		}
		return
	}
	for _, v := range r.fields(f.value, "the list of divisional pistons", r.divisionNames()...) {
		if n := r.whole(v, 0, 100); n > 0 {
			p.Divisional[v.key] = n
		}
	}
}
