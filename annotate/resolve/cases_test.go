package resolve_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
	"stopgap/registry/pitch"
)

// An organCase is a small score on an organ, and what an organist would
// accept. The tables stand in the files cases_*_test.go, by subject.
type organCase struct {
	name     string
	organ    string // an organ of the shelf, or a short stop list as tinyOrgan reads it
	lang     string // of the score; "" is English
	opts     resolve.Options
	pins     string // one a line
	propose  bool   // stops are proposed from the dynamics
	sections []section

	// accept are answers that an organist would accept: one of them has to hold
	// whole. always is what each has to hold besides. Both are written as wishes,
	// one a line; see wish.
	accept []string
	always string
	source string // where the trade says so, "common practice" otherwise
}

// wish is one line of what is accepted. The words are:
//
//	at 5                           the lines below are for the passage in force at measure 5
//	rh on Great | Choir            from which keyboard: rh, lh, feet; a hand that plays with the other is both
//	rh = Flute 4, Great Nazard 2 2/3    these sound from it, and nothing else
//	rh has Flute 4, mixture        these sound from it, among others
//	rh lacks reed, Trumpet 8       none of these sounds from it
//	rh pitches 8, 4                these pitches sound, for the note as printed
//	rh octave 1                    how far the player moves it
//	rh by feet                     who plays it
//	rh says "has to be left out"   part of the reason given
//	rh silent                      nothing sounds from it
//	apart rh lh                    they have keyboards of their own
//	drawn Swell = …, has …, lacks …    what is out on a division, whether or not it is heard
//	coupler A, no coupler A        what is on
//	box Swell shut, no box Swell   where a box stands
//	tremulant A, no tremulant A
//	problem code, no problem code, no problem
//	problem says "…"
//
// A stop is written as on the knob, with its division before it where that
// matters; a family or a kind, with or without a pitch, stands for any stop of
// it: "reed", "chorus reed 8". Alternatives are parted by a bar.
type wish struct {
	plan *resolve.Plan
	at   *resolve.Setting
}

func (c organCase) organOf(t *testing.T) *registry.Organ {
	if strings.Contains(c.organ, ":") {
		return tinyOrgan(t, c.organ)
	}
	return shelfOrgan(t, c.organ)
}

// planned makes the plan of a case, and checks the promises of every plan.
func (c organCase) planned(t *testing.T) *resolve.Plan {
	lang := c.lang
	if lang == "" {
		lang = "en"
	}
	asked, organ := askedOf(t, c.sections, lang), c.organOf(t)
	if c.propose && !asked.Propose() {
		t.Fatal("nothing was proposed")
	}
	pins, err := resolve.ParsePins(c.pins)
	if err != nil {
		t.Fatal(err)
	}
	c.opts.Pins = pins
	if err := resolve.CheckPins(asked, organ, c.opts); err != nil {
		t.Fatal(err)
	}
	plan := resolve.Resolve(asked, organ, c.opts)
	for _, b := range brokenBy(plan, asked, organ, c.opts) {
		t.Error(b)
	}
	return plan
}

// TestCases holds the plans of small scores to what an organist would accept.
func TestCases(t *testing.T) {
	seen := map[string]bool{}
	for _, table := range [][]organCase{
		soloCases, pedalSoloCases, accompanimentCases, chorusCases, fullCases, bassCases,
		frenchCases, germanCases, smallOrganCases, dynamicsCases, changeCases, missingCases, playerCases, relationCases, nationCases,
		compassCases,
		historicCases,
		coupledCases,
		withoutCases,
		offBoardCases,
		growingCases,
		asPrintedCases, sharingCases,
		colourCases,
	} {
		for _, c := range table {
			if seen[c.name] || c.source == "" || len(c.accept) == 0 {
				t.Errorf("%q: a case needs a name of its own, a source and an answer", c.name)
			}
			seen[c.name] = true
			t.Run(c.name, c.check)
		}
	}
	if len(seen) < 60 {
		t.Errorf("only %d cases", len(seen))
	}
}

func (c organCase) check(t *testing.T) {
	plan := c.planned(t)
	var why []string
	for i, answer := range c.accept {
		failed := unmet(t, plan, c.always+"\n"+answer)
		if len(failed) == 0 {
			return
		}
		why = append(why, fmt.Sprintf("answer %d fails in: %s", i+1, strings.Join(failed, "; ")))
	}
	t.Errorf("%s\n%s%s", strings.Join(why, "\n"), told(c.sections), plantest.Dump(plan))
}

// unmet lists the wishes that a plan does not meet.
func unmet(t *testing.T, plan *resolve.Plan, wishes string) []string {
	var failed []string
	w := wish{plan, plan.Settings[0]}
	for line := range strings.Lines(wishes) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		ok, known := w.met(line)
		if !known {
			t.Fatalf("not a wish: %q", line)
		}
		if !ok {
			failed = append(failed, line)
		}
	}
	return failed
}

func (w *wish) met(line string) (ok, known bool) {
	head, rest, _ := strings.Cut(line, " ")
	switch head {
	case "at":
		w.at = settingAt(w.plan, rest)
		return w.at != nil, true
	case "rh", "lh", "feet":
		return w.line(passage.Line(head), rest)
	case "drawn":
		name, rest, _ := strings.Cut(rest, " ")
		d := w.plan.Organ.Division(strings.ReplaceAll(name, "_", " "))
		if d == nil {
			return false, false
		}
		var sounds []registry.Sound
		for _, s := range w.at.StopsInOrder(d) {
			sounds = append(sounds, registry.Sound{Stop: s})
		}
		return compare(sounds, 0, rest)
	case "apart":
		a, b, _ := strings.Cut(rest, " ")
		x, y := w.find(passage.Line(a)), w.find(passage.Line(b))
		return x != nil && y != nil && x.Keyboard != nil && y.Keyboard != nil && x.Keyboard != y.Keyboard, true
	case "no":
		if rest == "problem" {
			return len(w.at.Problems) == 0, true
		}
		met, known := w.met(rest)
		return !met, known
	case "coupler":
		return slices.ContainsFunc(w.at.CouplersInOrder(w.plan.Organ), func(c *registry.Coupler) bool { return oneOf(c.Text, rest) }), true
	case "box":
		name, state, _ := strings.Cut(rest, " ")
		for d, at := range w.at.Boxes {
			if d.Name == strings.ReplaceAll(name, "_", " ") {
				return state == "" || oneOf(at, state), true
			}
		}
		return false, true
	case "tremulant":
		return slices.ContainsFunc(w.at.Tremulants, func(d *registry.Division) bool { return oneOf(d.Name, rest) }), true
	case "problem":
		if text, ok := strings.CutPrefix(rest, "says "); ok {
			return slices.ContainsFunc(w.at.Problems, func(p resolve.Problem) bool { return strings.Contains(p.Text, strings.Trim(text, `"`)) }), true
		}
		return slices.ContainsFunc(w.at.Problems, func(p resolve.Problem) bool { return oneOf(p.Code, rest) }), true
	}
	return false, false
}

func (w *wish) line(name passage.Line, rest string) (ok, known bool) {
	line := w.find(name)
	if line == nil {
		return false, true
	}
	word, what, _ := strings.Cut(rest, " ")
	switch word {
	case "on":
		return line.Keyboard != nil && oneOf(line.Keyboard.Name, what), true
	case "octave":
		return strconv.Itoa(line.Octave) == what, true
	case "by":
		return oneOf(string(line.By), what), true
	case "says":
		return strings.Contains(line.Why, strings.Trim(what, `"`)), true
	case "silent":
		return len(line.Sounds) == 0, true
	case "pitches":
		return pitchesOf(line) == sortedPitches(what), true
	}
	return compare(line.Sounds, line.Octave, rest)
}

// find is the line of that name; a hand's is that of both where they play together.
func (w *wish) find(name passage.Line) *resolve.Line {
	for _, l := range w.at.Lines {
		if l.Asked.Line == name || l.Asked.Line == passage.Both && name != passage.Feet {
			return l
		}
	}
	return nil
}

// settingAt is the setting in force at the first beat of a measure.
func settingAt(plan *resolve.Plan, measure string) *resolve.Setting {
	m, err := strconv.Atoi(measure)
	if err != nil {
		return nil
	}
	var in *resolve.Setting
	for _, s := range plan.Settings {
		if from, err := strconv.Atoi(s.Passage.From.Measure); err == nil && from <= m {
			in = s
		}
	}
	return in
}

// compare holds what sounds to a list: "= …", "has …" or "lacks …".
func compare(sounds []registry.Sound, octave int, rest string) (ok, known bool) {
	how, list, _ := strings.Cut(rest, " ")
	var items []string
	for item := range strings.SplitSeq(list, ",") {
		if item = strings.TrimSpace(item); item != "" {
			items = append(items, item)
		}
	}
	there := func(item string) bool {
		return slices.ContainsFunc(sounds, func(s registry.Sound) bool { return isStop(s, octave, item) })
	}
	switch how {
	case "has":
		return !slices.ContainsFunc(items, func(item string) bool { return !there(item) }), true
	case "lacks":
		return !slices.ContainsFunc(items, there), true
	case "=":
		for _, s := range sounds {
			if !slices.ContainsFunc(items, func(item string) bool { return isStop(s, octave, item) }) {
				return false, true
			}
		}
		return !slices.ContainsFunc(items, func(item string) bool { return !there(item) }), true
	}
	return false, false
}

// isStop reports whether a stop that sounds is meant by an item of a list.
func isStop(s registry.Sound, octave int, item string) bool {
	for one := range strings.SplitSeq(item, "|") {
		one = strings.TrimSpace(one)
		if one == s.Stop.Text || one == s.Stop.Division.Name+" "+s.Stop.Text {
			return true
		}
		for _, kind := range []string{s.Stop.Known.Family.String(), s.Stop.Known.Subfamily} {
			if one == kind || one == kind+" "+s.Stop.Pitch.Octaves(s.Octave+octave).String() {
				return true
			}
		}
	}
	return false
}

func oneOf(what, list string) bool {
	for one := range strings.SplitSeq(list, "|") {
		if strings.TrimSpace(one) == what {
			return true
		}
	}
	return false
}

// pitchesOf are the pitches that a line sounds, for the notes as printed;
// mixtures without a footage are passed over.
func pitchesOf(line *resolve.Line) string {
	var out []string
	for _, s := range line.Sounds {
		if s.Stop.Pitch.IsZero() {
			continue
		}
		if text := s.Stop.Pitch.Octaves(s.Octave + line.Octave).String(); !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return sortedPitches(strings.Join(out, ","))
}

func sortedPitches(list string) string {
	var feet []pitch.Feet
	for text := range strings.SplitSeq(list, ",") {
		if f, err := pitch.ParseFeet(strings.TrimSpace(text)); err == nil {
			feet = append(feet, f)
		}
	}
	slices.SortFunc(feet, func(a, b pitch.Feet) int { return b.Cmp(a) })
	var out []string
	for _, f := range feet {
		out = append(out, f.String())
	}
	return strings.Join(out, ", ")
}

// The music of most cases: a tune over chords, two equal voices over a bass,
// chords for both hands, a tune in the pedal under moving hands.
var (
	soloOverChords = textures["solo rh"]
	soloUnderneath = textures["solo lh"]
	trio           = textures["trio"]
	hymn           = textures["hymn"]
	bigChords      = textures["chorus"]
	pedalTune      = textures["pedal tune"]
	highPedalTune  = textures["high pedal"]
	manualsOnly    = textures["manuals only"]
)

// score is a case's music in one section with its directions, each written
// "rh: R.H. Sw. Oboe 8".
func score(m music, directions ...string) []section {
	return []section{part(m, directions...)}
}

func part(m music, directions ...string) section {
	s := section{music: m}
	for _, d := range directions {
		at, words, _ := strings.Cut(d, ": ")
		s.texts = append(s.texts, text{at, words})
	}
	return s
}

// rested is a section before which all rest for a bar.
func rested(m music, directions ...string) section {
	s := part(m, directions...)
	s.rest = true
	return s
}
