package resolve

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopgap/annotate/passage"
	"stopgap/registry"
)

// A Pin fixes a choice: how a line is played from the passage on that a
// measure lies in, for as long as the score asks for the same. What it does not
// fix is solved around it.
type Pin struct {
	Measure  string // the file's own number
	Line     passage.Line
	Division string   // as the organ file calls it, "" leaves it open
	Octave   *int     // nil leaves it open
	Stops    []string // as on the knobs, none leaves them open
	Text     string   // as the player wrote it
}

// ParsePin reads a pin: the measure, the line (rh, lh, both or feet), an equals
// sign, then any of: a division, +1 or -1 for the octave, and after a colon the
// stops, parted by commas.
//
//	27 feet = Pedal +1: Trumpet 8
//	1 rh = Great
//	40 lh = : Dulciana 8, Flute 4
func ParsePin(text string) (Pin, error) {
	bad := func(why string) (Pin, error) {
		return Pin{}, fmt.Errorf("the pin %q %s; write it as 27 feet = Pedal +1: Trumpet 8", inShort(text), why)
	}
	if strings.ContainsFunc(text, func(c rune) bool { return unicode.IsControl(c) && c != '\t' }) {
		return bad("holds what is no text")
	}
	left, right, ok := strings.Cut(text, "=")
	where := strings.Fields(left)
	if !ok || len(where) != 2 {
		return bad("does not name a measure and a line before an equals sign")
	}
	p := Pin{Measure: where[0], Line: passage.Line(where[1]), Text: inShort(strings.TrimSpace(text))}
	switch p.Line {
	case passage.RH, passage.LH, passage.Both, passage.Feet:
	default:
		return bad("names no line: it can be rh, lh, both or feet")
	}
	place, stops, _ := strings.Cut(right, ":")
	var name []string
	for _, word := range strings.Fields(place) {
		if n, err := strconv.Atoi(word); err == nil && (word[0] == '+' || word[0] == '-' || n == 0) {
			if n < -2 || n > 2 {
				return bad("moves the line by more than two octaves")
			}
			p.Octave = &n
			continue
		}
		name = append(name, word)
	}
	p.Division = strings.Join(name, " ")
	for _, s := range strings.Split(stops, ",") {
		if s = strings.Join(strings.Fields(s), " "); s != "" {
			p.Stops = append(p.Stops, s)
		}
	}
	if p.Division == "" && p.Octave == nil && len(p.Stops) == 0 {
		return bad("fixes nothing")
	}
	return p, nil
}

// inShort is the beginning of a text that messages repeat.
func inShort(text string) string {
	const most = 200
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

var lineEnds = strings.NewReplacer("\ufeff", "", "\r\n", "\n", "\r", "\n")

// ParsePins reads pins, one a line; empty lines and what follows # are passed
// over, and so is a byte order mark.
func ParsePins(text string) ([]Pin, error) {
	if !utf8.ValidString(text) {
		return nil, errors.New("this is not text in UTF-8; save it as UTF-8")
	}
	var out []Pin
	for i, line := range strings.Split(lineEnds.Replace(text), "\n") {
		line, _, _ = strings.Cut(line, "#")
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		p, err := ParsePin(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// A fixed choice is a pin on this organ.
type fixed struct {
	pin  Pin
	host *registry.Division
	// stops are those of the pin by division: its own and those that lend.
	stops map[*registry.Stop]bool
	from  int // the passage from which on it holds
}

// place finds the passages that the pins are for, and what they mean on the
// organ.
func (r *resolver) place(passages []*passage.Passage, pins []Pin) error {
	for _, pin := range pins {
		f := &fixed{pin: pin, stops: map[*registry.Stop]bool{}, from: -1}
		if pin.Division != "" {
			for _, d := range r.organ.Divisions {
				if strings.EqualFold(d.Name, pin.Division) {
					f.host = d
				}
			}
			if f.host == nil {
				return fmt.Errorf("the pin %q names a division that the organ has not: %s", pin.Text, inShort(pin.Division))
			}
		}
		for _, name := range pin.Stops {
			s := r.stopCalled(name, f.host)
			if s == nil {
				return fmt.Errorf("the pin %q names a stop that the organ has not: %s", pin.Text, inShort(name))
			}
			f.stops[s] = true
		}
		// It holds on for as long as the same is asked of the same division.
		held := ""
		for i, p := range passages {
			for _, line := range p.Lines {
				if line.Line != pin.Line || held == "" && !inMeasure(line, p, pin.Measure) {
					continue
				}
				key := line.Division.String()
				if a := p.Asked(line.Division); a != nil {
					key = r.askOf(p, a).key
				}
				if held == "" || held == key {
					held = key
					if f.from < 0 {
						f.from = i
					}
					if err := r.fix(fixedKey{p, line.Division}, f); err != nil {
						return err
					}
				} else {
					held = "gone"
				}
			}
		}
		if held == "" {
			return fmt.Errorf("the pin %q names measure %s, where %s does not play as a line of its own", pin.Text, inShort(pin.Measure), pin.Line)
		}
	}
	return nil
}

// fix adds a pin to those on one registration. A later one takes the place of
// what an earlier one says otherwise; those that say otherwise of the same
// passage on exclude one another.
func (r *resolver) fix(at fixedKey, f *fixed) error {
	var kept []*fixed
	for _, other := range r.fixed[at] {
		why := other.excludes(f)
		switch {
		case why == "" || other.from > f.from:
			kept = append(kept, other)
		case other.from == f.from:
			return fmt.Errorf("the pins %q and %q exclude one another: %s", other.pin.Text, f.pin.Text, why)
		}
	}
	if !slices.ContainsFunc(kept, func(other *fixed) bool { return other.excludes(f) != "" }) {
		kept = append(kept, f)
	}
	r.fixed[at] = kept
	return nil
}

// excludes is why two pins cannot both hold for one registration, "" if they can.
func (f *fixed) excludes(g *fixed) string {
	switch {
	case f.host != nil && g.host != nil && f.host != g.host:
		return fmt.Sprintf("the same is played on the %s or on the %s", f.host.Name, g.host.Name)
	case f.pin.Octave != nil && g.pin.Octave != nil && *f.pin.Octave != *g.pin.Octave:
		return "the same is played in one octave or in another"
	case len(f.stops) > 0 && len(g.stops) > 0 && !maps.Equal(f.stops, g.stops):
		return "the same is played with these stops or with those"
	}
	return ""
}

// inMeasure reports whether a measure of that number begins or lies in the passage.
func inMeasure(line *passage.Played, p *passage.Passage, number string) bool {
	if p.From.Measure == number {
		return true
	}
	for _, n := range line.Notes {
		if n.Note.Measure != nil && n.Note.Measure.Number == number && p.Contains(n.Note.Onset) {
			return true
		}
	}
	return false
}

// stopCalled finds a stop by its text, on the division first.
func (r *resolver) stopCalled(name string, first *registry.Division) *registry.Stop {
	var found *registry.Stop
	for _, d := range r.organ.Divisions {
		for _, s := range inOrder(d) {
			if strings.EqualFold(s.Text, name) && (found == nil || d == first) {
				found = s
			}
		}
	}
	return found
}

type fixedKey struct {
	passage  *passage.Passage
	division passage.Division
}

// place reports whether a host and an octave are what the pin says.
func (f *fixed) place(host *registry.Division, octave int) bool {
	return (f.host == nil || f.host == host) && (f.pin.Octave == nil || *f.pin.Octave == octave)
}

// draws reports whether a pick draws nothing but what the pin says.
func (f *fixed) draws(p *Pick) bool {
	return len(f.stops) == 0 || !slices.ContainsFunc(p.Stops, func(c Chosen) bool { return !f.stops[c.Stop] })
}

// whole reports whether the picks together draw all that the pin says.
func (f *fixed) whole(picks []*Pick) bool {
	drawn := map[*registry.Stop]bool{}
	for _, p := range picks {
		for _, c := range p.Stops {
			drawn[c.Stop] = true
		}
	}
	return len(f.stops) == 0 || len(drawn) == len(f.stops)
}
