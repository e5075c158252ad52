package organfile

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/pitch"
	"stopgap/registry/stopname"
)

var stopKeys = []string{
	"stop", "family", "kind", "loudness", "compass", "half", "pipes", "ranks", "composition",
	"level", "use", "side", "note", "extends", "borrows", "ventil", "enclosed",
}

// stop reads one stop: its text alone, or a map that adds what the name does
// not say. pipes is the number that the division's chest has room for.
func (r *reader) stop(d *registry.Division, n ast.Node, pipes int) {
	n = r.plain(n)
	text, alone := scalar(n)
	at := n
	var fields map[string]field
	if !alone {
		if isNothing(n) {
			r.add(n, "missing-value", "write the text on the knob, or leave the dash out", "a stop of %s has no text", d.Name)
			return
		}
		if fields = r.fields(n, "a stop", stopKeys...); fields == nil {
			return
		}
		r.required(n, fields, "a stop", "stop")
		text, at = r.text(fields["stop"]), fields["stop"].value
	}
	if alone && !r.short(n, text) {
		return
	}
	if text == "" {
		if alone {
			r.add(n, "missing-value", "write the text on the knob", "a stop of %s has no text", d.Name)
		}
		return
	}
	if d.Stop(text) != nil {
		r.add(at, "doubled-stop", "number them, such as “Trumpet I 8” and “Trumpet II 8”, or leave one out", "%s has two stops %q", d.Name, text)
		return
	}
	knob := stopname.Dissect(text)
	s := &registry.Stop{
		Text: text, Division: d, Name: knob.Name, Composition: knob.Composition,
		Level: r.decimal(fields["level"], -30, 30),
		Use:   r.oneOf(fields["use"], "solo", "never in chorus"),
		Side:  r.oneOf(fields["side"], "left", "right"),
		Note:  r.text(fields["note"]), Ventil: r.yes(fields["ventil"]),
	}
	r.meaning(s, knob, fields, at)
	r.extent(s, fields, pipes)
	if f, ok := fields["enclosed"]; ok {
		in := r.yes(f)
		switch {
		case in && !d.Enclosed:
			r.add(f.value, "not-enclosed", "add enclosed: true to the division, and enclosed: false to the stops outside", "%s has no box for %q to stand in", d.Name, text)
		default:
			s.Outside = !in && d.Enclosed
		}
	}
	for _, key := range []string{"extends", "borrows"} {
		if f, ok := fields[key]; ok {
			_, family := fields["family"]
			_, kind := fields["kind"]
			r.borrowings = append(r.borrowings, borrowing{s, f, family || kind})
		}
	}
	if len(fields) > 0 && fields["extends"].value != nil && fields["borrows"].value != nil {
		r.add(fields["borrows"].keyNode, "bad-word", "leave one of them out", "%q can't both extend a stop and borrow one", text)
	}
	d.Stops = append(d.Stops, s)
}

// meaning settles what the stop is: by its name, and by what the file adds.
func (r *reader) meaning(s *registry.Stop, knob stopname.Knob, fields map[string]field, at ast.Node) {
	place := stopname.Place{Pedal: s.Division.Role == division.Pedal, Lang: r.organ.Lang, Pitch: knob.Pitch}
	s.Known = stopname.Resolve(s.Text, place)
	s.Ranks = max(knob.Ranks, 1)
	if f, ok := fields["ranks"]; ok {
		s.Ranks = r.whole(f, 1, 20)
	}
	if f, ok := fields["composition"]; ok {
		r.composition(s, f)
	}
	if s.Ranks > 1 {
		s.Known.Ranks = s.Ranks
	}
	f, given := fields["family"]
	if given {
		var words []string
		for family := stopname.Principal; family <= stopname.Cornet; family++ {
			words = append(words, family.String())
		}
		family, ok := stopname.ParseFamily(r.oneOf(f, words...))
		if ok && family != s.Known.Family {
			s.Known = stopname.OfFamily(s.Known, family)
		}
	}
	if f, ok := fields["kind"]; ok {
		kind := r.text(f)
		family, ok := stopname.FamilyOf(kind)
		switch {
		case !ok:
			remedy := "the kinds are " + strings.Join(stopname.Kinds(s.Known.Family), ", ")
			if near := nearest(kind, stopname.Kinds(stopname.NoFamily)); near != "" {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			r.add(f.value, "bad-word", remedy, "%q can't be %q", "kind", kind)
		case given && family != s.Known.Family:
			r.add(f.value, "bad-word", "leave one of them out", "%s is not a kind of %v", kind, s.Known.Family)
		default:
			s.Known = stopname.OfKind(s.Known, kind)
			given = true
		}
	}
	if f, ok := fields["loudness"]; ok {
		s.Known.Loudness = r.whole(f, 1, 6)
	}
	s.Pitch = s.Known.Pitch
	switch {
	case s.Known.How == stopname.Unknown && !given:
		remedy := "add family: (principal, flute, string, celeste, reed, mixture or cornet)"
		if near := s.Known.Near(); len(near) > 0 {
			remedy = "did you mean " + quoteOr(near) + "? Otherwise add family:"
		}
		r.warn(at, "unknown-stop", remedy, "the stop name %q is not known", s.Name)
	case s.Pitch.IsZero() && s.Known.Family != stopname.Mixture && s.Known.Subfamily != stopname.KindPercussion:
		r.warn(at, "no-pitch", fmt.Sprintf("write it after the name, such as “%s 8”", s.Name), "the stop %q has no pitch, and its name does not tell it", s.Text)
	case s.Known.Subfamily == stopname.KindPercussion:
	case knob.Pitch.IsZero() && !s.Known.Fixed && !s.Pitch.IsZero() && s.Known.Family != stopname.Mixture && s.Known.Family != stopname.Cornet:
		r.warn(at, "pitch-assumed", fmt.Sprintf("write “%s %v” if that is right", s.Name, s.Pitch), "the stop %q has no pitch; %v is taken, which is usual for the name", s.Text, s.Pitch)
	}
}

func quoteOr(names []string) string {
	var quoted []string
	for _, name := range names {
		quoted = append(quoted, fmt.Sprintf("%q", name))
	}
	if len(quoted) < 2 {
		return strings.Join(quoted, "")
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
}

func (r *reader) composition(s *registry.Stop, f field) {
	text := r.text(f)
	c, rest, ok := pitch.Composition(text)
	if !ok || rest != "" {
		if text != "" {
			r.add(f.value, "bad-pitch", "write it as 15.19.22 or as 2 + 1 1/3 + 1", "%q is not a composition", text)
		}
		return
	}
	s.Composition = c
	if s.Ranks == 1 {
		s.Ranks = len(c)
	}
}

// extent is where the stop speaks, and how many pipes it has.
func (r *reader) extent(s *registry.Stop, fields map[string]field, pipes int) {
	d := s.Division
	s.Compass = d.Compass
	if f, ok := fields["half"]; ok {
		switch r.oneOf(f, "bass", "treble") {
		case "bass":
			s.Half = registry.BassHalf
		case "treble":
			s.Half = registry.TrebleHalf
		}
		if s.Half != registry.Whole && (d.Keyboard == nil || d.Keyboard.Divided == 0) {
			r.add(f.value, "not-divided", "add divided: to the keyboard, with the lowest key of the treble half, such as C4", "%q is half a stop, and its keyboard does not say where stops divide", s.Text)
		} else if s.Half == registry.BassHalf {
			s.Compass = d.Compass.Within(d.Compass.Low, d.Keyboard.Divided-1)
		} else if s.Half == registry.TrebleHalf {
			s.Compass = d.Compass.Within(d.Keyboard.Divided, d.Compass.High)
		}
	}
	if f, ok := fields["compass"]; ok {
		whole := s.Compass
		s.Compass = r.compass(f, &whole)
		if s.Compass.Low < whole.Low || s.Compass.High > whole.High {
			r.add(f.value, "bad-compass", fmt.Sprintf("the keys of %s go from %v to %v", d.Name, whole.Low, whole.High), "the compass of %q is wider than its keyboard", s.Text)
			s.Compass = whole
		}
	}
	s.Pipes = s.Compass.Keys()
	if extra := pipes - d.Compass.Keys(); extra > 0 && s.Compass.High == d.Compass.High {
		s.Pipes += extra
	}
	if f, ok := fields["pipes"]; ok {
		if n := r.whole(f, s.Compass.Keys(), 128); n > 0 {
			s.Pipes = n
		}
	}
}

// A borrowing is a stop that uses the pipes of another.
type borrowing struct {
	stop      *registry.Stop
	from      field
	kindGiven bool // by the file, whatever the pipes are
}

// borrow finds the stops that others extend or borrow: "extends: Bourdon 16"
// of the same division, "borrows: Great Trumpet 8" of another.
func (r *reader) borrow() {
	for _, b := range r.borrowings {
		text := r.text(b.from)
		if text == "" {
			continue
		}
		from := b.stop.Division.Stop(text)
		if b.from.key == "borrows" {
			from = nil
			for _, d := range r.organ.Divisions {
				if after, ok := strings.CutPrefix(text, d.Name+" "); ok && d.Stop(after) != nil {
					from = d.Stop(after)
				}
			}
		}
		switch {
		case from == nil:
			r.add(b.from.value, "unknown-stop-named", r.nearestStop(b, text), "there is no stop %q for %q to use", text, b.stop.Text)
		case from == b.stop:
			r.add(b.from.value, "unknown-stop-named", "name the stop that has the pipes", "%q can't use its own pipes", b.stop.Text)
		default:
			b.stop.From = from
			b.stop.Ranks = 0
		}
	}
	// a chain of borrowings must come to a stop that has pipes
	for _, b := range r.borrowings {
		s, n := b.stop, 0
		for ; s.From != nil && n <= len(r.borrowings); n++ {
			s = s.From
		}
		if n > len(r.borrowings) {
			r.add(b.from.value, "unknown-stop-named", "one of them must have the pipes", "%q uses the pipes of a stop that uses its own", b.stop.Text)
			b.stop.From = nil
			continue
		}
		if !b.kindGiven {
			b.stop.Known = ofItsPipes(b.stop.Known, s)
		}
	}
}

// ofItsPipes is what a stop is that uses the pipes of another: a Flute 4 from
// a Bourdon is as stopped as that is.
func ofItsPipes(k stopname.Known, from *registry.Stop) stopname.Known {
	if from.Known.Family == k.Family {
		k.Subfamily = from.Known.Subfamily
	}
	return k
}

func (r *reader) nearestStop(b borrowing, text string) string {
	var names []string
	for _, d := range r.organ.Divisions {
		for _, s := range d.Stops {
			switch {
			case s == b.stop:
			case b.from.key == "borrows":
				names = append(names, d.Name+" "+s.Text)
			case d == b.stop.Division:
				names = append(names, s.Text)
			}
		}
	}
	if near := nearest(text, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if b.from.key == "borrows" {
		return "write the division before it, such as “Great Trumpet 8”"
	}
	return "write it as it stands in this division"
}
