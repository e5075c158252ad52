package organfile

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"stopgap/registry"
	"stopgap/registry/division"
)

var divisionKeys = []string{"name", "role", "keyboard", "compass", "pipes", "enclosed", "note", "stops"}

// floating is the keyboard of a division that only couplers play.
const floating = "floating"

func (r *reader) division(n ast.Node) {
	fields := r.fields(n, "a division", divisionKeys...)
	if fields == nil {
		return
	}
	r.required(n, fields, "a division", "name")
	d := &registry.Division{Name: r.text(fields["name"]), Note: r.text(fields["note"])}
	if d.Name == "" {
		return
	}
	if r.organ.Division(d.Name) != nil {
		r.add(fields["name"].value, "doubled-division", "give each division a name of its own, or put the stops under one", "there are two divisions %q", d.Name)
		return
	}
	r.role(d, fields)
	r.playedFrom(d, fields)
	whole := registry.Compass{Low: 36, High: 96} // a floating division's: C2-C7
	if d.Keyboard != nil {
		whole = d.Keyboard.Compass
	}
	d.Compass = whole
	if f, ok := fields["compass"]; ok {
		d.Compass = r.compass(f, &whole)
		if d.Keyboard != nil && (d.Compass.Low < whole.Low || d.Compass.High > whole.High) {
			r.add(f.value, "bad-compass", fmt.Sprintf("its keyboard goes from %v to %v", whole.Low, whole.High), "the compass of %s is wider than its keyboard", d.Name)
		}
	}
	r.enclosed(d, fields["enclosed"])
	pipes := r.whole(fields["pipes"], d.Compass.Keys(), 128)
	r.organ.Divisions = append(r.organ.Divisions, d)
	if f, ok := fields["stops"]; ok {
		for _, n := range r.several(f, maxStops-r.stops) {
			r.stops++
			r.stop(d, n, pipes)
		}
	}
}

// role is what the name says, or the role: key.
func (r *reader) role(d *registry.Division, fields map[string]field) {
	if f, ok := fields["role"]; ok {
		var words []string
		for _, role := range division.Named() {
			words = append(words, role.String())
		}
		for n := 1; n <= 5; n++ {
			words = append(words, division.Manual(n).String())
		}
		d.Role = division.Role(r.oneOf(f, words...))
		return
	}
	role, ok := division.RoleOf(d.Name, r.organ.Lang)
	if !ok {
		remedy := "add role: with one of " + roleWords()
		if near := division.Near(d.Name); near != "" {
			remedy = fmt.Sprintf("did you mean %q? Otherwise add role:", near)
		}
		r.warn(fields["name"].value, "unknown-division", remedy, "%q is not a name of a division that is known", d.Name)
	}
	d.Role = role
}

func roleWords() string {
	var words []string
	for _, role := range division.Named() {
		words = append(words, role.String())
	}
	return strings.Join(words, ", ")
}

// playedFrom finds the keyboard: the one named, else that of the division's
// name, else the pedalboard for the pedal.
func (r *reader) playedFrom(d *registry.Division, fields map[string]field) {
	o := r.organ
	f, given := fields["keyboard"]
	name := d.Name
	if given {
		if name = r.text(f); name == "" || name == floating {
			return
		}
	}
	if kb := o.Keyboard(name); kb != nil {
		d.Keyboard = kb
		return
	}
	role, _ := division.RoleOf(name, o.Lang)
	if role == division.Pedal || (!given && d.Role == division.Pedal) {
		if o.Pedalboard == nil {
			r.misplaced[d] = true
			r.add(fields["name"].value, "no-pedalboard", "add pedalboard: {compass: C2-F4}", "the division %s needs a pedalboard, and the organ has none", d.Name)
			return
		}
		if o.Pedalboard.Name == "" {
			o.Pedalboard.Name = name
		}
		d.Keyboard = o.Pedalboard
		return
	}
	r.misplaced[d] = true
	at := fields["name"].value
	remedy := "add it to keyboards:, or add keyboard: with the one that plays it, or keyboard: floating"
	if given {
		at = f.value
		remedy = "the keyboards are " + strings.Join(r.keyboardNames(), ", ")
	}
	if near := nearest(name, r.keyboardNames()); near != "" {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	r.add(at, "unknown-keyboard", remedy, "there is no keyboard %q", name)
}

func (r *reader) keyboardNames() []string {
	var names []string
	for _, kb := range r.organ.Keyboards {
		names = append(names, kb.Name)
	}
	if r.organ.Pedalboard != nil && r.organ.Pedalboard.Name != "" {
		names = append(names, r.organ.Pedalboard.Name)
	}
	return names
}

func (r *reader) divisionNames() []string {
	var names []string
	for _, d := range r.organ.Divisions {
		names = append(names, d.Name)
	}
	return names
}

// enclosed reads "true" or "{box: Swell, positions: 3, strength: 12}"; two
// divisions that name one box share it.
func (r *reader) enclosed(d *registry.Division, f field) {
	if f.value == nil {
		return
	}
	if _, ok := scalar(f.value); ok {
		if !r.yes(f) {
			return
		}
		d.Enclosed = true
		d.Box = r.box(d.Name)
		return
	}
	fields := r.fields(f.value, "enclosed", "box", "positions", "strength")
	if fields == nil {
		return
	}
	d.Enclosed = true
	name := d.Name
	if f, ok := fields["box"]; ok {
		if s := r.text(f); s != "" {
			name = s
		}
	}
	d.Box = r.box(name)
	if f, ok := fields["positions"]; ok {
		d.Box.Positions = r.whole(f, 2, 64)
	}
	if f, ok := fields["strength"]; ok {
		d.Box.Strength = r.decimal(f, 0.1, 40)
	}
}

func (r *reader) box(name string) *registry.Box {
	if r.boxes[name] == nil {
		r.boxes[name] = &registry.Box{Name: name}
	}
	return r.boxes[name]
}

// afterDivisions checks what can only be seen when all divisions are known.
func (r *reader) afterDivisions(top map[string]field) {
	o := r.organ
	if o.Pedalboard != nil && o.Pedalboard.Name == "" {
		// pull-down pedals without a division of their own
		o.Pedalboard.Name = "Pedal"
		if names := division.Names(division.Pedal, o.Lang); len(names) > 0 {
			o.Pedalboard.Name = names[0]
		}
		if o.Keyboard(o.Pedalboard.Name) != o.Pedalboard || o.Division(o.Pedalboard.Name) != nil {
			r.add(top["pedalboard"].keyNode, "doubled-keyboard", "give the division of the pedalboard role: pedal", "no division is played from the pedalboard")
			return
		}
		o.Divisions = append(o.Divisions, &registry.Division{
			Name: o.Pedalboard.Name, Role: division.Pedal, Keyboard: o.Pedalboard, Compass: o.Pedalboard.Compass,
		})
	}
	for _, kb := range o.Keyboards {
		played := false
		for _, d := range o.Divisions {
			played = played || d.Keyboard == kb
		}
		if !played && kb.Name != "" && top["divisions"].value != nil {
			r.warn(top["keyboards"].keyNode, "idle-keyboard", "add a division of that name, or keyboard: to one", "no division is played from the keyboard %q, only what is coupled to it", kb.Name)
			// its couplers need something to be coupled to
			if o.Division(kb.Name) == nil {
				role, _ := division.RoleOf(kb.Name, o.Lang)
				o.Divisions = append(o.Divisions, &registry.Division{Name: kb.Name, Role: role, Keyboard: kb, Compass: kb.Compass})
			}
		}
	}
	manuals := 0
	for _, d := range o.Divisions {
		if d.Keyboard != nil && !d.Keyboard.Pedal {
			manuals++
		}
	}
	for _, d := range o.Divisions {
		// the only manual is the main one, whatever it is called
		if manuals == 1 && d.Keyboard != nil && !d.Keyboard.Pedal && d.Role == division.None {
			d.Role = division.Great
			r.forgetWarning("unknown-division", d.Name)
		}
	}
}

func (r *reader) forgetWarning(id, name string) {
	for i, f := range r.findings {
		if f.ID == id && strings.Contains(f.Text, fmt.Sprintf("%q", name)) {
			r.findings = append(r.findings[:i], r.findings[i+1:]...)
			return
		}
	}
}
