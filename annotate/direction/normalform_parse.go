package direction

import (
	"fmt"
	"slices"
	"strings"

	"stopgap/registry/division"
	"stopgap/registry/pitch"
)

// What the normal form allows in each place.
var (
	boxStates  = []string{"shut", "open", "half", "opening", "closing"}
	levels     = []string{"ppp", "pp", "p", "mp", "mf", "f", "ff", "fff"}
	tremStates = []string{"on", "off"}
	leadStates = []string{"solo", "accompaniment"}
	strengths  = []string{"soft", "loud"}
	hands      = []Hand{RH, LH, Both, Feet, AnyHand}
	groups     = []Group{
		Principal, Flute, String, Celeste, Reed, Mixture, Cornet,
		Foundation, Any, ChorusTo, Plenum, Grandjeu, Full, Tutti,
	}
)

// ParseNormalForm reads what NormalForm writes, and nothing else: a text that
// is not exactly a normal form is an error that says what is wrong with it.
func ParseNormalForm(s string) ([]Statement, error) {
	if s == Nothing {
		return nil, nil
	}
	var statements []Statement
	for part := range splitOutside(s, "; ") {
		statement, err := parseStatement(part)
		if err != nil {
			return nil, fmt.Errorf("%q is not a statement of the normal form: %w", part, err)
		}
		statements = append(statements, statement)
	}
	return statements, nil
}

// parseStatement reads one statement.
func parseStatement(s string) (Statement, error) {
	verb, rest, ok := strings.Cut(s, " ")
	if !ok {
		return Statement{}, fmt.Errorf("nothing follows the verb")
	}
	statement := Statement{Verb: Verb(verb)}
	if statement.Verb == Couple || statement.Verb == Uncouple {
		return parseCoupler(statement, rest)
	}
	subject, state, ok := strings.Cut(rest, ": ")
	if !ok {
		return Statement{}, fmt.Errorf("no colon after the division")
	}
	if statement.Verb == Play {
		return parsePlay(subject, state)
	}
	if statement.Division, ok = roles[subject]; !ok || statement.Division == division.Every {
		return Statement{}, fmt.Errorf("%q is no division", subject)
	}
	states := map[Verb][]string{Box: boxStates, Level: levels, Trem: tremStates, Lead: leadStates}[statement.Verb]
	switch {
	case slices.Contains(states, state):
		statement.State = state
		return statement, nil
	case states != nil:
		return Statement{}, fmt.Errorf("%q is not one of %s", state, strings.Join(states, ", "))
	case statement.Verb == Off && state == "all":
		statement.All = true
		return statement, nil
	case !slices.Contains([]Verb{Set, Add, Off, Prep}, statement.Verb):
		return Statement{}, fmt.Errorf("%q is no verb", verb)
	}
	for part := range splitOutside(state, ", ") {
		voice, err := parseVoice(part)
		if err != nil {
			return Statement{}, err
		}
		statement.Voices = append(statement.Voices, voice)
	}
	return statement, nil
}

// parseCoupler reads what follows "couple" or "uncouple".
func parseCoupler(s Statement, rest string) (Statement, error) {
	if rest == "all" && s.Verb == Uncouple {
		s.All = true
		return s, nil
	}
	pair, octave, hasOctave := strings.Cut(rest, " ")
	switch {
	case hasOctave && octave == "4":
		s.Octave = 1
	case hasOctave && octave == "16":
		s.Octave = -1
	case hasOctave:
		return s, fmt.Errorf("a coupler is at pitch, 4 or 16, not %q", octave)
	}
	from, to, ok := strings.Cut(pair, ">")
	if !ok {
		return s, fmt.Errorf("a coupler is written A>B")
	}
	var known [2]bool
	s.Division, known[0] = roles[from]
	s.To, known[1] = roles[to]
	if !known[0] || !known[1] {
		return s, fmt.Errorf("%q does not couple two divisions", pair)
	}
	return s, nil
}

// parsePlay reads what follows "play".
func parsePlay(hand, place string) (Statement, error) {
	s := Statement{Verb: Play, Hand: Hand(hand)}
	if !slices.Contains(hands, s.Hand) {
		return s, fmt.Errorf("%q is no hand", hand)
	}
	if s.Hand == Feet && (place == "none" || place == "pedal") {
		s.State = place
		return s, nil
	}
	var ok bool
	if s.Division, ok = roles[place]; !ok || s.Division == division.Every {
		return s, fmt.Errorf("%q is no division", place)
	}
	return s, nil
}

// parseVoice reads a voice with its alternatives.
func parseVoice(s string) (Voice, error) {
	var first Voice
	for i, part := range slices.Collect(splitOutside(s, " | ")) {
		v, err := parseSingleVoice(part)
		if err != nil {
			return Voice{}, err
		}
		if i == 0 {
			first = v
		} else {
			first.Or = append(first.Or, v)
		}
	}
	return first, nil
}

// parseSingleVoice reads "GROUP PITCH (Name) strength except FAMILY".
func parseSingleVoice(s string) (Voice, error) {
	v := Voice{}
	rest := ""
	for _, g := range groups {
		if after, ok := strings.CutPrefix(s, string(g)+" "); ok {
			v.Group, rest = g, after
		}
	}
	if v.Group == "" {
		return v, fmt.Errorf("%q does not begin with a family or a group", s)
	}
	fields := strings.SplitN(rest, " ", 3)
	written := fields[0]
	if len(fields) > 1 && strings.Contains(fields[1], "/") && !strings.HasPrefix(fields[1], "(") {
		written += " " + fields[1]
	}
	rest = rest[len(written):]
	if written != "*" {
		feet, err := pitch.ParseFeet(written)
		if err != nil {
			return v, err
		}
		if feet.String() != written {
			return v, fmt.Errorf("the pitch %q is written %q", written, feet)
		}
		v.Pitch = feet
	}
	if after, ok := strings.CutPrefix(rest, " ("); ok {
		name, tail, closed := strings.Cut(after, ")")
		if !closed || !plainName(name) {
			return v, fmt.Errorf("the name in %q is not right", s)
		}
		v.Name, rest = name, tail
	}
	for _, strength := range strengths {
		if after, ok := strings.CutPrefix(rest, " "+strength); ok && v.Strength == "" {
			v.Strength, rest = strength, after
		}
	}
	for rest != "" {
		after, ok := strings.CutPrefix(rest, " except ")
		if !ok {
			return v, fmt.Errorf("%q is left over", strings.TrimSpace(rest))
		}
		family, tail, more := strings.Cut(after, " ")
		if !slices.Contains(groups, Group(family)) {
			return v, fmt.Errorf("%q is no family", family)
		}
		v.Except = append(v.Except, Group(family))
		if rest = ""; more {
			rest = " " + tail
		}
	}
	return v, nil
}

// plainName reports whether a name can stand in parentheses as it is.
func plainName(name string) bool {
	return name != "" && name == strings.TrimSpace(name) && !strings.ContainsAny(name, "()\n")
}

// splitOutside splits at a separator, except inside parentheses.
func splitOutside(s, separator string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		start, depth := 0, 0
		for i := 0; i < len(s); i++ {
			switch {
			case s[i] == '(':
				depth++
			case s[i] == ')' && depth > 0:
				depth--
			case depth == 0 && strings.HasPrefix(s[i:], separator):
				if !yield(s[start:i]) {
					return
				}
				start = i + len(separator)
				i = start - 1
			}
		}
		yield(s[start:])
	}
}
