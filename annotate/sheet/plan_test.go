package sheet

import (
	"os"
	"slices"
	"strings"
	"testing"

	"stopgap/annotate"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
	"stopgap/registry/organfile"
)

// The plans of these tests are put together by hand, so that they test how a
// plan is written and not how it is found.

// smallOrgan has knobs on both sides and two generals.
const smallOrgan = `
name: Test Organ
source: invented
language: en
action: electric
pedalboard: {compass: C2-F4}
keyboards: [{name: Great, compass: C2-G6}, {name: Swell, compass: C2-G6}]
divisions:
  - {name: Great, stops: [{stop: Open Diapason 8, side: right}, {stop: Stopped Diapason 8, side: right}, {stop: Principal 4, side: right}, {stop: Mixture III, side: right}]}
  - {name: Swell, enclosed: true, stops: [{stop: Lieblich Gedackt 8, side: left}, {stop: Voix Celeste 8, side: left}, {stop: Nazard 2 2/3, side: left}, {stop: Oboe 8, side: left}]}
  - {name: Pedal, stops: [{stop: Bourdon 16, side: left}, {stop: Bass Flute 8, side: left}, {stop: Trumpet 8, side: left}]}
couplers: [Swell to Great, Swell to Pedal, Great to Pedal, Swell Octave, Swell Unison Off]
tremulants: [Swell]
pistons: {general: 2}
`

func testOrgan(t testing.TB, text string) *registry.Organ {
	t.Helper()
	o, findings := organfile.Read("test.yaml", []byte(text))
	if o == nil {
		t.Fatal(findings)
	}
	return o
}

// A given is a setting as a test writes it.
type given struct {
	lines    string // "rh Great, lh Swell, feet Pedal+1"
	drawn    string // "Great Open Diapason 8, Pedal Bourdon 16"
	couplers string
	boxes    string // "Swell shut"
	trem     string
	why      map[passage.Line]string // a line that has one is changed
	heard    *resolve.Difference
	other    *given
	otherWhy string
	problems []resolve.Problem
}

func list(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, ", ")
}

// setting makes the setting of a passage.
func (g given) setting(t testing.TB, o *registry.Organ, p *passage.Passage) *resolve.Setting {
	t.Helper()
	s := &resolve.Setting{Passage: p, Boxes: map[*registry.Division]string{}, Problems: g.problems, Why: g.otherWhy}
	s.Drawn = registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	for _, text := range list(g.drawn) {
		name, stop, _ := strings.Cut(text, " ")
		d := o.Division(name)
		if d == nil || d.Stop(stop) == nil {
			t.Fatalf("the organ has no %s", text)
		}
		s.Drawn.Stops[d.Stop(stop)] = true
	}
	for _, text := range list(g.couplers) {
		i := slices.IndexFunc(o.Couplers, func(c *registry.Coupler) bool { return c.Text == text })
		s.Drawn.Couplers[o.Couplers[i]] = true
	}
	for _, text := range list(g.boxes) {
		name, position, _ := strings.Cut(text, " ")
		s.Boxes[o.Division(name)] = position
	}
	for _, name := range list(g.trem) {
		s.Tremulants = append(s.Tremulants, o.Division(name))
	}
	for _, a := range p.Drawn {
		part := &resolve.Part{Asked: a}
		for _, v := range a.Voices {
			part.Picks = append(part.Picks, resolve.Pick{Voice: v, Same: true})
		}
		s.Parts = append(s.Parts, part)
	}
	for _, played := range p.Lines {
		line := &resolve.Line{Asked: played, PitchKept: true}
		for _, part := range s.Parts {
			if part.Asked.Division == played.Division {
				line.Part = part
			}
		}
		for _, text := range list(g.lines) {
			who, where, _ := strings.Cut(text, " ")
			if passage.Line(who) != played.Line {
				continue
			}
			where, up := strings.CutSuffix(where, "+1")
			if up {
				line.Octave = 1
			}
			line.Keyboard = o.Keyboard(where)
			line.Part.Host = o.Division(where)
			line.Part.Octave = line.Octave
			line.Sounds = o.Sounding(s.Drawn, line.Keyboard)
		}
		if why := g.why[played.Line]; why != "" {
			line.Why, line.Changed, line.Heard = why, []string{"stops"}, g.heard
		}
		s.Lines = append(s.Lines, line)
	}
	if g.other != nil {
		s.Alternatives = []*resolve.Setting{g.other.setting(t, o, p)}
	}
	return s
}

// planned puts a plan together for a score.
func planned(t testing.TB, o *registry.Organ, score []byte, settings ...given) *annotate.Result {
	t.Helper()
	doc, err := musicxml.Read("score.musicxml", score)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := passage.Read(doc.Score(), passage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(asked.Passages) != len(settings) {
		t.Fatalf("the score has %d passages, the test %d", len(asked.Passages), len(settings))
	}
	plan := &resolve.Plan{Organ: o, Asked: asked, Cost: 120, Bound: 100}
	for i, g := range settings {
		plan.Settings = append(plan.Settings, g.setting(t, o, asked.Passages[i]))
	}
	return &annotate.Result{Plan: plan, Score: doc.Score()}
}

// tenBars is a plan for testdata/ten-bars.musicxml: a rehearsal mark, a page,
// a held chord, a bar's rest, a repeat with a change inside, a line in another
// octave, and something that cannot be had.
func tenBars(t testing.TB) *annotate.Result {
	t.Helper()
	score, err := os.ReadFile("testdata/ten-bars.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	o := testOrgan(t, smallOrgan)
	r := planned(t, o, score,
		given{
			lines: "rh Great, lh Swell, feet Pedal", drawn: "Great Open Diapason 8, Swell Oboe 8, Pedal Bourdon 16",
			couplers: "Swell to Pedal", boxes: "Swell shut",
		},
		given{
			lines: "rh Great, lh Swell, feet Pedal", drawn: "Great Stopped Diapason 8, Swell Oboe 8, Pedal Bourdon 16",
			couplers: "Swell to Pedal", boxes: "Swell shut",
			why:   map[passage.Line]string{passage.RH: "There is no Clarinet; the Stopped Diapason 8 is on a keyboard of its own."},
			heard: &resolve.Difference{Loudness: -42, Brightness: -6, Colour: 51},
			other: &given{
				lines: "rh Swell, lh Swell, feet Pedal", drawn: "Swell Oboe 8, Pedal Bourdon 16",
				couplers: "Swell to Pedal", otherWhy: "a reed, but both hands are on it",
			},
			problems: []resolve.Problem{{Code: resolve.VoiceMissing, Line: passage.RH, Text: "Clarinet 8 is left out."}},
		},
		given{
			lines: "rh Great, lh Swell, feet Pedal+1", drawn: "Great Open Diapason 8, Swell Oboe 8, Pedal Trumpet 8",
			boxes: "Swell shut",
			why:   map[passage.Line]string{passage.Feet: "Played an octave higher, the Trumpet 8 keeps the pitch that is asked for."},
		},
		given{
			lines: "rh Great, lh Swell, feet Pedal+1", drawn: "Great Open Diapason 8, Great Principal 4, Swell Oboe 8, Pedal Trumpet 8",
			boxes: "Swell opening",
			why:   map[passage.Line]string{passage.Feet: "Played an octave higher, the Trumpet 8 keeps the pitch that is asked for."},
		},
		given{
			lines: "both Swell, feet Pedal", drawn: "Swell Oboe 8, Swell Nazard 2 2/3, Pedal Bourdon 16",
			couplers: "Swell to Pedal, Swell Octave", trem: "Swell",
		},
	)
	p := r.Plan.Settings[1].Passage
	r.Findings = []annotate.Finding{{
		ID: resolve.VoiceMissing, Unplayed: true, Place: p.From, Staff: "P1.1",
		Text: "Clarinet 8 is left out.", Remedies: []string{"Oboe 8 on the Swell."},
	}}
	return r
}
