package sheet

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry"
)

// somewhere draws a random setting of the passages of ten-bars.musicxml.
func somewhere(t *rapid.T, o *registry.Organ, last bool) given {
	manual := rapid.SampledFrom([]string{"Great", "Swell"})
	g := given{}
	lines := []string{"rh " + manual.Draw(t, "rh"), "lh " + manual.Draw(t, "lh"), "feet Pedal"}
	if last {
		lines = []string{"both " + manual.Draw(t, "both"), "feet Pedal"}
	}
	for _, line := range lines {
		if rapid.IntRange(0, 3).Draw(t, "plays") > 0 {
			g.lines += ", " + line
		}
	}
	var stops, couplers []string
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			if rapid.Bool().Draw(t, s.Text) {
				stops = append(stops, d.Name+" "+s.Text)
			}
		}
	}
	for _, c := range o.Couplers {
		if rapid.Bool().Draw(t, c.Text) {
			couplers = append(couplers, c.Text)
		}
	}
	g.lines = strings.TrimPrefix(g.lines, ", ")
	g.drawn, g.couplers = strings.Join(stops, ", "), strings.Join(couplers, ", ")
	g.boxes = rapid.SampledFrom([]string{"", "Swell shut", "Swell open", "Swell opening"}).Draw(t, "box")
	g.trem = rapid.SampledFrom([]string{"", "Swell"}).Draw(t, "tremulant")
	return g
}

func (st *state) drawn() registry.Drawn {
	d := registry.Drawn{Stops: map[*registry.Stop]bool{}, Couplers: map[*registry.Coupler]bool{}}
	for k, on := range st.out {
		switch {
		case !on:
		case k.stop != nil:
			d.Stops[k.stop] = true
		case k.coupler != nil:
			d.Couplers[k.coupler] = true
		}
	}
	return d
}

// TestStatesSoundAsPlanned: knobs that are not heard may stand otherwise than
// in the plan, but every line sounds as planned, whatever the plan; and the
// moves of the sheet lead from each state to the next.
func TestStatesSoundAsPlanned(t *testing.T) {
	score, err := os.ReadFile("testdata/ten-bars.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	o := testOrgan(t, smallOrgan)
	rapid.Check(t, func(rt *rapid.T) {
		o.CouplersCarry = rapid.Bool().Draw(rt, "carry")
		var settings []given
		for i := range 5 {
			settings = append(settings, somewhere(rt, o, i == 4))
		}
		s := newSheet(planned(t, o, score, settings...), Options{})
		for i, setting := range s.plan.Settings {
			for _, line := range setting.Lines {
				if line.Keyboard == nil {
					continue
				}
				want, got := o.Sounding(setting.Drawn, line.Keyboard), o.Sounding(s.states[i].drawn(), line.Keyboard)
				if diff := cmp.Diff(soundNames(want), soundNames(got)); diff != "" {
					rt.Errorf("passage %d, %s: planned -, on the sheet +:\n%s", i, line.Asked.Line, diff)
				}
				for d, box := range setting.Boxes {
					if audibleIn(o, setting).divisions[d] && s.states[i].boxes[d] != box {
						rt.Errorf("passage %d: the box of the %s is %s, planned %s", i, d.Name, s.states[i].boxes[d], box)
					}
				}
				for _, x := range want {
					if d := x.Stop.Division; s.states[i].out[knob{tremulant: d}] != slices.Contains(setting.Tremulants, d) && o.HasTremulant(d) {
						rt.Errorf("passage %d: the tremulant of the %s is not as planned", i, d.Name)
					}
				}
			}
		}
		for _, e := range s.entries {
			if e.setting <= 0 {
				continue
			}
			now := map[knob]bool{}
			for k, on := range s.states[e.setting-1].out {
				now[k] = on
			}
			for _, m := range e.moves {
				if m.isKnob() {
					now[m.knob] = m.on
				}
			}
			for _, k := range knobsOf(o) {
				if now[k] != e.to.out[k] {
					rt.Errorf("%s: %s is left on %v", e.moment(), k.name(), now[k])
				}
			}
		}
	})
}

func soundNames(sounds []registry.Sound) []string {
	var names []string
	for _, s := range sounds {
		names = append(names, s.Stop.Division.Name+" "+s.Stop.Text+strings.Repeat(" up", max(0, s.Octave)))
	}
	return names
}

// TestPrepared: what is not heard is drawn ahead, and left as it is.
func TestPrepared(t *testing.T) {
	score, err := os.ReadFile("testdata/ten-bars.musicxml")
	if err != nil {
		t.Fatal(err)
	}
	hands := "rh Great, lh Great"
	r := planned(t, testOrgan(t, smallOrgan), score,
		given{lines: hands, drawn: "Great Open Diapason 8"},
		given{lines: hands, drawn: "Great Open Diapason 8"},
		given{lines: hands + ", feet Pedal+1", drawn: "Great Open Diapason 8, Pedal Trumpet 8"},
		given{lines: hands, drawn: "Great Open Diapason 8"},
		given{lines: "both Swell", drawn: "Swell Oboe 8", boxes: "Swell shut"},
	)
	s := newSheet(r, Options{})
	rows := s.entries[0].to.rows(r.Plan.Organ)
	want := []row{{"Great", "Open Diapason 8"}, {"Swell", "Oboe 8; box shut"}, {"Pedal", "Trumpet 8"}, {"Hands", "both on Gt."}}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	var told []string
	for _, e := range s.entries[1:] {
		for _, text := range e.says(s) {
			told = append(told, e.moment()+" "+text)
		}
	}
	if diff := cmp.Diff([]string{"5.1 Feet an octave higher than printed", "9.1 Hands to Sw."}, told); diff != "" {
		t.Error(diff)
	}
}

// TestMoments: how much time there is for a change, and by which notes a
// player knows the place.
func TestMoments(t *testing.T) {
	r := tenBars(t)
	m := newMoments(r)
	beat := func(n, d int64) musicxml.Time { return musicxml.NewTime(n, d) }
	for _, test := range []struct {
		at   musicxml.Time
		free int // milliseconds at a quarter note a second
		cue  string
		page string
	}{
		{beat(2, 1), 0, "after R.H. C D", "1"},
		{beat(4, 1), 0, "after R.H. D E F", "1"}, // the left hand and the feet hold four beats, and the right hand moves
		{beat(10, 1), 2000, "after the held chord", "1"},
		{beat(14, 1), 4000, "in the rest", "1"},
		{beat(16, 1), 4000, "in the rest", "1"},
		{beat(20, 1), 0, "after R.H. E D C", "2"},
		{beat(24, 1), 0, "after R.H. E D C♯", "2"},
		{beat(32, 1), 0, "at the double bar, after R.H. A G F", "2"},
	} {
		if got := m.millisecondsFree(test.at); got != test.free {
			t.Errorf("at %v: %d ms are free, want %d", test.at, got, test.free)
		}
		if got := m.cue(test.at); got != test.cue {
			t.Errorf("at %v: cue %q, want %q", test.at, got, test.cue)
		}
		if got := m.page(test.at); got != test.page {
			t.Errorf("at %v: page %q, want %q", test.at, got, test.page)
		}
	}
}

// TestPistons: the generals go where there is least time, and one serves
// wherever its setting comes back.
func TestPistons(t *testing.T) {
	o := testOrgan(t, smallOrgan)
	knobs := knobsOf(o)
	stateOf := func(n int) *state { // the first n knobs
		st := &state{out: map[knob]bool{}}
		for _, k := range knobs[:n] {
			st.out[k] = true
		}
		return st
	}
	change := func(from, to *state, free int) *entry {
		return &entry{to: to, moves: movesBetween(o, from, to), free: free}
	}
	a, b, c, d := stateOf(0), stateOf(3), stateOf(5), stateOf(9)
	for _, test := range []struct {
		name    string
		general int
		entries []*entry
		want    []int // the piston of each entry
		hurried []bool
	}{
		{"none", 0, []*entry{{to: a}, change(a, b, 500)}, []int{0, 0}, []bool{false, true}},
		{"enough for the start too", 3, []*entry{{to: a}, change(a, b, 0), change(b, c, 0)}, []int{1, 2, 3}, []bool{false, false, false}},
		{"the hurried one first", 1, []*entry{{to: a}, change(a, b, 9000), change(b, d, 0), change(d, c, 9000)}, []int{0, 0, 1, 0}, []bool{false, false, false, false}},
		{"what comes back", 1, []*entry{{to: a}, change(a, c, 2000), change(c, b, 500), change(b, c, 0), change(c, b, 0)}, []int{0, 1, 0, 1, 0}, []bool{false, false, true, false, true}},
		{"no knobs", 2, []*entry{{to: a}, change(a, a, 0)}, []int{0, 0}, []bool{false, false}},
	} {
		o.Pistons.General = test.general
		p := assignPistons(o, test.entries)
		for i, e := range test.entries {
			if e.piston != test.want[i] || e.hurried != test.hurried[i] {
				t.Errorf("%s: entry %d is on piston %d (hurried: %v), want %d (%v)", test.name, i, e.piston, e.hurried, test.want[i], test.hurried[i])
			}
		}
		if test.general > 0 && test.name != "no knobs" && len(p.generals) > test.general {
			t.Errorf("%s: %d generals are set, and the organ has %d", test.name, len(p.generals), test.general)
		}
	}
}

// TestTransitions: a repeat is one jump, and the music goes on after it.
func TestTransitions(t *testing.T) {
	s := newSheet(tenBars(t), Options{})
	linear, jumps := s.transitions()
	if len(jumps) != 1 || jumps[0].At != musicxml.Whole(32) || jumps[0].Back != musicxml.Whole(24) {
		t.Errorf("the jumps are %v", jumps)
	}
	if !linear(musicxml.Whole(32)) || !linear(musicxml.Whole(30)) {
		t.Error("the music goes on from bar 8 to bar 9")
	}
}

func TestWords(t *testing.T) {
	o := testOrgan(t, smallOrgan)
	swell, great := o.Division("Swell"), o.Keyboard("Great")
	for _, test := range []struct {
		move move
		want string
	}{
		{move{box: swell, shows: "shut"}, "Sw. box shut"},
		{move{box: swell, shows: "half"}, "Sw. box half open"},
		{move{box: swell, shows: "opening"}, "open the Sw. box gradually"},
		{move{line: passage.RH, to: place{keyboard: great}}, "R.H. to Gt."},
		{move{line: passage.Both, to: place{keyboard: great, octave: -1}}, "Hands to Gt., an octave lower than printed"},
		{move{line: passage.LH, from: place{great, 1}, to: place{great, 0}}, "L.H. as printed again"},
		{move{line: passage.Feet, to: place{o.Pedalboard, 2}}, "Feet 2 octaves higher than printed"},
	} {
		if got := saysHands([]move{test.move}, o); len(got) != 1 || got[0] != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
	for _, test := range []struct {
		d    resolve.Difference
		want string
	}{
		{resolve.Difference{Loudness: 10, Brightness: 1}, ""},
		{resolve.Difference{Loudness: -20}, "a little softer than what is asked for"},
		{resolve.Difference{Loudness: 90, Brightness: -6}, "much louder and darker than what is asked for"},
		{resolve.Difference{Colour: 60}, "as loud as what is asked for, of another colour"},
	} {
		if got := heardWords(&test.d); got != test.want {
			t.Errorf("%+v: %q, want %q", test.d, got, test.want)
		}
	}
}

// TestTerms: every term of the table has a use that the sheet knows, a meaning
// and a source, and those that occur are explained.
func TestTerms(t *testing.T) {
	known := map[string]bool{}
	for _, use := range strings.Fields("always mutation mixture celeste reed coupler octave unison box tremulant general moved solo off-compass") {
		known[use] = true
	}
	rows := 0
	for line := range strings.Lines(termsTSV) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		rows++
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) != 4 || !known[f[0]] || f[1] == "" || f[2] == "" || f[3] == "" {
			t.Errorf("%q", line)
		}
	}
	if rows != len(terms()) {
		t.Errorf("%d rows, %d terms", rows, len(terms()))
	}
	var names []string
	for _, term := range newSheet(tenBars(t), Options{}).termsUsed() {
		if term.use != "always" {
			names = append(names, term.use)
		}
	}
	// There is no mixture, no celeste and no Unison Off in the ten bars.
	if diff := cmp.Diff([]string{"mutation", "reed", "coupler", "octave", "box", "tremulant", "general", "moved", "solo"}, names); diff != "" {
		t.Error(diff)
	}
}

func TestAskingLines(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"Gt. Diapasons 8", "Gt. Diapasons 8"},
		{"B Tempo I, maestoso\nGt. to Fifteenth, Sw. to Gt.", "Gt. to Fifteenth, Sw. to Gt."},
		{"Great to\nPedal", "Great to / Pedal"},
		{"Sw. Salicional 8,\nVoix Celeste 8", "Sw. Salicional 8, / Voix Celeste 8"},
		{"Sw. Oboe 8\ndolce", "Sw. Oboe 8"},
		{strings.Repeat("Gt. Flute 8 ", 100), strings.Repeat("Gt. Flute 8 ", 34)[:longestText] + "…"},
	} {
		if got := askingLines(test.text, "en"); got != test.want {
			t.Errorf("%.60q gives %q, want %q", test.text, got, test.want)
		}
	}
}
