package resolve

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/annotate/direction"
	"stopgap/annotate/passage"
	"stopgap/registry"
	"stopgap/registry/division"
	"stopgap/registry/stopname"
)

// An Original is what a voice that the score asks for was on the organ that
// the composer wrote for.
type Original struct {
	Division *registry.Division // nil where that organ had none of the kind
	Stops    []*registry.Stop   // one, or all of its family where the score gives no name and no pitch; none where it had none
	Loudness int                // class of the loudest, 1 (softest) to 6; 0 where not known
	Boxed    bool               // they stood in a swell box
}

// OriginalOf finds the stop that a voice means on an organ: on the division of
// the role that is asked for (a numbered manual as the numbering has it), by
// its name and pitch; else by its kind, else by its family. Where the text
// names no division, any that has the stop by name will do.
func OriginalOf(organ *registry.Organ, d passage.Division, v direction.Voice, lang string, numbering Numbering) Original {
	r := newResolver(organ, lang, numbering)
	w := r.want(v, &passage.Asked{Division: d}, colour, false)
	best, least := Original{}, farFromAsked+1
	for _, host := range r.originalDivisions(d) {
		limit := farFromAsked
		if d.Role == division.None {
			limit = nameOfAsked
		} else if best.Division == nil {
			best.Division = host
		}
		for _, s := range inOrder(host) {
			far, ok := distanceFromAsked(s, w)
			if ok && far <= limit && far < least {
				best, least = Original{Division: host, Stops: []*registry.Stop{s}}, far
			}
		}
		if len(best.Stops) == 0 && w.name.Entry == "" && v.Pitch.IsZero() && w.family != stopname.NoFamily {
			for _, s := range host.Stops {
				if s.Known.Family == w.family {
					best.Stops = append(best.Stops, s)
				}
			}
		}
	}
	best.Boxed = len(best.Stops) > 0
	for _, s := range best.Stops {
		best.Loudness = max(best.Loudness, s.Known.Loudness)
		best.Boxed = best.Boxed && s.Box() != nil
	}
	return best
}

// How far a stop may be from the one asked for and still be it: the same
// name, the same kind, the same family.
const (
	nameOfAsked = iota
	kindOfAsked
	farFromAsked
)

func distanceFromAsked(s *registry.Stop, w wanted) (int, bool) {
	if !w.pitch.IsZero() && s.Pitch != w.pitch {
		return 0, false
	}
	named := w.name.How != stopname.Unknown && w.name.Entry != ""
	switch {
	case sameWords(w.voice.Name, s.Name), named && w.name.Entry == s.Known.Entry:
		return nameOfAsked, true
	case named && w.name.Subfamily == s.Known.Subfamily && s.Pitch == w.name.Pitch:
		return kindOfAsked, true
	case w.family != stopname.NoFamily && s.Known.Family == w.family && !w.pitch.IsZero():
		return farFromAsked, true
	}
	return 0, false
}

func (r *resolver) originalDivisions(d passage.Division) []*registry.Division {
	if n := d.Role.Number(); n > 0 {
		if host := r.numbered(n); host != nil {
			return []*registry.Division{host}
		}
		return nil
	}
	var out []*registry.Division
	for _, host := range r.organ.Divisions {
		if host.Role == d.Role || d.Role == division.None && (host.Keyboard == nil || !host.Keyboard.Pedal) {
			out = append(out, host)
		}
	}
	return out
}

// OnTheOriginal says of a part of a plan what its named stops were on the
// organ that the composer wrote for, where that differs from what is given: in
// name, in loudness, or in standing in a box. "" where nothing does.
func (p *Plan) OnTheOriginal(part *Part, organ *registry.Organ) string {
	var out []string
	for _, pick := range part.Picks {
		o := OriginalOf(organ, part.Asked.Division, pick.Voice, p.Asked.Lang, p.numbering)
		text := o.sentence(pick)
		switch {
		case text == "" || slices.Contains(out, text):
		case len(out) == 0:
			out = append(out, fmt.Sprintf("On the composer's organ (%s) %s", organ.Name, text))
		default:
			out = append(out, "There "+text)
		}
	}
	return strings.Join(out, " ")
}

// sentence tells how the original differs from what is given, "" where it
// does not, or where the composer's organ had no such stop.
func (o Original) sentence(pick Pick) string {
	if len(o.Stops) == 0 {
		return ""
	}
	was := stopTexts(o.Stops)
	text := fmt.Sprintf("the %s was the %s's %s, ", VoiceText(pick.Voice), o.Division.Name, was)
	if len(o.Stops) > 1 {
		text = fmt.Sprintf("the %s were the %s's %s, ", VoiceText(pick.Voice), o.Division.Name, was)
	}
	if word := loudnessWord(o.Loudness); word != "" {
		text += word + " and "
	}
	if o.Boxed {
		text += "in a swell box"
	} else {
		text += "in the open"
	}
	if len(pick.Stops) == 0 {
		return text + "."
	}
	var given []*registry.Stop
	loudness, boxed := 0, true
	for _, c := range pick.Stops {
		given = append(given, c.Stop)
		loudness = max(loudness, c.Stop.Known.Loudness)
		boxed = boxed && c.Stop.Box() != nil
	}
	var differs []string
	switch by := loudness - o.Loudness; {
	case by == 0 || loudness == 0 || o.Loudness == 0:
	case by == 1:
		differs = append(differs, "a little louder")
	case by == -1:
		differs = append(differs, "a little softer")
	case by > 0:
		differs = append(differs, "louder")
	default:
		differs = append(differs, "softer")
	}
	switch {
	case boxed && !o.Boxed:
		differs = append(differs, "in a box")
	case !boxed && o.Boxed:
		differs = append(differs, "in no box")
	}
	if len(differs) == 0 {
		if sameWords(was, stopTexts(given)) {
			return ""
		}
		return text + "."
	}
	be := "is"
	if len(given) > 1 {
		be = "are"
	}
	return fmt.Sprintf("%s; the %s here %s %s.", text, stopTexts(given), be, strings.Join(differs, " and "))
}

func stopTexts(stops []*registry.Stop) string {
	var names []string
	for _, s := range stops {
		names = append(names, s.Text)
	}
	return strings.Join(names, ", ")
}

// loudnessWord is a class of loudness in words.
func loudnessWord(class int) string {
	words := [...]string{1: "very soft", 2: "soft", 3: "of middling strength", 4: "strong", 5: "loud", 6: "very loud"}
	if class < 1 || class >= len(words) {
		return ""
	}
	return words[class]
}
