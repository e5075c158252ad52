package resolve_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopgap/annotate/internal/plantest"
	"stopgap/annotate/passage"
	"stopgap/annotate/resolve"
	"stopgap/registry"
)

// The tests of this file compare two plans whose askings differ in one thing,
// on random organs and scores, and say how the plans may differ.

// planned makes a plan and holds it to what every plan promises. What pins fix
// may cost a solo its pitch: the player has decided so.
func planned(t *rapid.T, asked *passage.Score, organ *registry.Organ, opts resolve.Options) *resolve.Plan {
	plan := resolve.Resolve(asked, organ, opts)
	for _, b := range plantest.Broken(plan) {
		if len(opts.Pins) > 0 && strings.HasPrefix(b, "promise 3") && strings.Contains(b, "could be kept") {
			continue
		}
		t.Errorf("%s\n%s", b, plantest.Dump(plan))
	}
	return plan
}

// played is how a plan is played and what it costs, in an order that does not
// depend on that of the stops in the organ file: without the reasons and the
// ways to fall back on.
func played(plan *resolve.Plan) string {
	var b strings.Builder
	fmt.Fprintf(&b, "cost %d, bound %d\n", plan.Cost, plan.Bound)
	for _, s := range plan.Settings {
		fmt.Fprintf(&b, "%s to %s, cost %d\n", s.Passage.Start, s.Passage.End, s.Cost)
		for _, d := range plan.Organ.Divisions {
			var stops []string
			for _, st := range s.StopsInOrder(d) {
				stops = append(stops, st.Text)
			}
			slices.Sort(stops)
			fmt.Fprintf(&b, "  %s: %s; box %q; tremulant %v\n", d.Name, strings.Join(stops, ", "), s.Boxes[d], slices.Contains(s.Tremulants, d))
		}
		for _, c := range s.CouplersInOrder(plan.Organ) {
			fmt.Fprintf(&b, "  %s\n", c.Text)
		}
		for _, line := range s.Lines {
			if line.Keyboard != nil {
				fmt.Fprintf(&b, "  %s by %s on %s, octave %d\n", line.Asked.Line, line.By, line.Keyboard.Name, line.Octave)
			}
		}
	}
	return b.String()
}

// drawCase draws an organ, a score of one to three sections and how to resolve it.
func drawCase(t *rapid.T) (randomOrgan, *passage.Score, []section, resolve.Options) {
	list := drawOrgan(t, rapid.IntRange(4, 12).Draw(t, "stops"), 3)
	asked, sections := drawScore(t, rapid.IntRange(1, 3).Draw(t, "passages"))
	return list, asked, sections, resolve.Options{Few: rapid.Bool().Draw(t, "few")}
}

// moreStops: a stop more never makes the plan dearer, unless a word of the
// score stands for it among others, and draws it as well. (Where it has the very
// name that is asked for, a stop so near to it that few points part them costs a
// few points more than it did; and where words come back after something else,
// it may become what they are held to, which costs what it costs to depart from
// that. And a hand and the feet change parts only where the pedal has not its
// tune, so one that has it can make that plan impossible.)
func moreStops(t *rapid.T) string {
	list, asked, sections, opts := drawCase(t)
	more := list.clone()
	d := &more.divisions[rapid.IntRange(0, len(more.divisions)-1).Draw(t, "where")]
	s := rapid.SampledFrom(d.pool()).Draw(t, "added")
	if contains(d.stops, s) {
		return ""
	}
	d.stops = append(d.stops, s)
	organ := more.read(t)
	before, after := planned(t, asked, list.read(t), opts), planned(t, asked, organ, opts)
	if slices.ContainsFunc(before.Settings, changeParts) {
		return ""
	}
	added := stopOn(organ, d.name, len(d.stops)-1)
	if pricing := resolve.PricingOf(asked, after, opts); after.Cost > before.Cost+pricing.Returns() && !pricing.Belongs(added) {
		return fmt.Sprintf("with %s added on the %s the plan costs %d more\n%s\n%s\n%sand with it\n%s", s, d.name, after.Cost-before.Cost, list, told(sections), plantest.Dump(before), plantest.Dump(after))
	}
	return ""
}

// changeParts reports whether a hand and the feet have changed parts.
func changeParts(s *resolve.Setting) bool {
	return slices.ContainsFunc(s.Parts, func(p *resolve.Part) bool { return p.By != "" })
}

// stopOn is the stop of a division, by its place in the file.
func stopOn(o *registry.Organ, division string, n int) *registry.Stop {
	for _, d := range o.Divisions {
		if d.Name == division {
			return d.Stops[n]
		}
	}
	return nil
}

// unusedStop: a stop that the plan does not draw can go without changing it,
// unless it belongs to what the score asks for (see Pricing.Belongs).
func unusedStop(t *rapid.T) string {
	list, asked, sections, opts := drawCase(t)
	organ := list.read(t)
	plan := planned(t, asked, organ, opts)
	pricing := resolve.PricingOf(asked, plan, opts)
	var idle [][2]int
	for i, d := range organ.Divisions {
		for n, s := range d.Stops {
			if len(d.Stops) > 1 && !pricing.Belongs(s) && !slices.ContainsFunc(plan.Settings, func(x *resolve.Setting) bool { return x.Drawn.Stops[s] }) {
				idle = append(idle, [2]int{i, n})
			}
		}
	}
	if len(idle) == 0 {
		return ""
	}
	gone := rapid.SampledFrom(idle).Draw(t, "gone")
	fewer := list.clone()
	d := &fewer.divisions[gone[0]]
	s := d.stops[gone[1]]
	d.stops = slices.Delete(d.stops, gone[1], gone[1]+1)
	without := planned(t, asked, fewer.read(t), opts)
	if a, b := played(plan), played(without); a != b {
		return fmt.Sprintf("without %s of the %s, which it does not draw, the plan is another\n%s\n%s\n%sand without it\n%s", s, d.name, list, told(sections), plantest.Dump(plan), plantest.Dump(without))
	}
	return ""
}

// otherOrder: the order of the stops in the organ file does not matter.
func otherOrder(t *rapid.T) string {
	list, asked, sections, opts := drawCase(t)
	mixed := list.clone()
	for i := range mixed.divisions {
		d := &mixed.divisions[i]
		d.stops = rapid.Permutation(d.stops).Draw(t, "order")
	}
	one, other := planned(t, asked, list.read(t), opts), planned(t, asked, mixed.read(t), opts)
	if a, b := played(one), played(other); a != b {
		return fmt.Sprintf("the order of the stops changes the plan\n%s\n%s\n%s\n%sand\n%s", list, mixed, told(sections), plantest.Dump(one), plantest.Dump(other))
	}
	return ""
}

// withPin: a pin never makes the plan cheaper, and is obeyed where CheckPins
// lets it pass; what CheckPins refuses, it says of which pin and why.
func withPin(t *rapid.T) string {
	list, asked, sections, opts := drawCase(t)
	organ := list.read(t)
	free := planned(t, asked, organ, opts)
	pins := opts
	for range rapid.IntRange(1, 2).Draw(t, "pins") {
		p := asked.Passages[rapid.IntRange(0, len(asked.Passages)-1).Draw(t, "passage")]
		if len(p.Lines) == 0 {
			return ""
		}
		line := p.Lines[rapid.IntRange(0, len(p.Lines)-1).Draw(t, "line")]
		text := p.From.Measure + " " + string(line.Line) + " ="
		d := organ.Divisions[rapid.IntRange(0, len(organ.Divisions)-1).Draw(t, "on")]
		if rapid.Bool().Draw(t, "division") {
			text += " " + d.Name
		}
		if rapid.Bool().Draw(t, "octave") {
			text += rapid.SampledFrom([]string{" 0", " +1", " -1"}).Draw(t, "by")
		}
		if rapid.Bool().Draw(t, "stops") {
			text += ": " + rapid.SampledFrom(d.Stops).Draw(t, "stop").Text
		}
		if pin, err := resolve.ParsePin(text); err == nil {
			pins.Pins = append(pins.Pins, pin)
		}
	}
	if err := resolve.CheckPins(asked, organ, pins); err != nil {
		if !slices.ContainsFunc(pins.Pins, func(p resolve.Pin) bool { return strings.Contains(err.Error(), strconv.Quote(p.Text)+" ") }) {
			return err.Error()
		}
		planned(t, asked, organ, pins) // as far as they go
		return ""
	}
	pinned := planned(t, asked, organ, pins)
	for _, p := range pins.Pins {
		if why := disobeyed(pinned, p); why != "" {
			return fmt.Sprintf("the pin %s is not obeyed: %s\n%s\n%s\n%s", p.Text, why, list, told(sections), plantest.Dump(pinned))
		}
	}
	if pinned.Cost < free.Cost {
		return fmt.Sprintf("with the pins %v the plan costs %d less\n%s\n%s\n%sand with them\n%s", pins.Pins, free.Cost-pinned.Cost, list, told(sections), plantest.Dump(free), plantest.Dump(pinned))
	}
	return ""
}

// costsInOrder: the bound is at most the cost, which is that of its passages and
// the changes between them; no way to fall back on, put into the plan, makes it
// cheaper; and none is played like the plan or like another. Planned again, the
// score is played in the same way.
func costsInOrder(t *rapid.T) string {
	list, asked, sections, opts := drawCase(t)
	organ := list.read(t)
	plan := planned(t, asked, organ, opts)
	cost, with := resolve.Replaced(asked, organ, opts)
	told := func(format string, args ...any) string {
		return fmt.Sprintf(format, args...) + fmt.Sprintf("\n%s\n%s\n%s", list, told(sections), plantest.Dump(plan))
	}
	if plan.Bound > plan.Cost {
		return told("the bound is above the cost")
	}
	if cost != plan.Cost {
		return told("passages and changes cost %d", cost)
	}
	for i, s := range plan.Settings {
		for n, alt := range s.Alternatives {
			if with[i][n] < plan.Cost {
				return told("passage %d: with alternative %d the plan costs %d", i+1, n+1, with[i][n])
			}
			if alt.Why == "" || alt.Why == s.Why || n > 0 && alt.Why == s.Alternatives[0].Why {
				return told("passage %d: alternative %d is nothing new", i+1, n+1)
			}
		}
	}
	if again := planned(t, asked, organ, opts); plantest.Dump(plan) != plantest.Dump(again) {
		return told("planned again it is another:\n%s\nwas", plantest.Dump(again))
	}
	return ""
}

// exactMatch: where every stop that is asked for is on its manual, and every
// coupler, box and tremulant is there, all is given as it is printed, but for a
// loud pedal that gives way to soft hands.
func exactMatch(t *rapid.T) string {
	asked, sections := drawScore(t, rapid.IntRange(1, 3).Draw(t, "passages"))
	if rapid.Bool().Draw(t, "near") {
		asked, sections = drawNearStops(t)
	}
	list := randomOrgan{action: rapid.SampledFrom([]string{"mechanical", "electric"}).Draw(t, "action")}
	for _, name := range manualNames {
		list.divisions = append(list.divisions, randomDivision{name: name, marks: "C2-C7, box, tremulant"})
	}
	list.divisions = append(list.divisions, randomDivision{name: "Pedal", marks: "C2-G4"})
	for _, c := range list.everyCoupler() {
		if !strings.HasSuffix(c, "Octave") && !strings.HasSuffix(c, "Off") && !strings.HasSuffix(c, "4") && !strings.HasSuffix(c, "16") {
			list.couplers = append(list.couplers, c)
		}
	}
	for _, p := range asked.Passages {
		for _, a := range p.Drawn {
			for _, v := range a.Voices {
				switch v.Group {
				case "principal", "flute", "string", "reed":
				default:
					return ""
				}
				if v.Name == "" || v.Pitch.IsZero() {
					return "" // no single stop is asked for by name
				}
				for i := range list.divisions {
					d := &list.divisions[i]
					s := v.Name + " " + v.Pitch.String()
					if strings.EqualFold(d.name, a.Division.String()) && !contains(d.stops, s) {
						d.stops = append(d.stops, s)
					}
				}
			}
		}
	}
	for i := range list.divisions {
		if d := &list.divisions[i]; len(d.stops) == 0 {
			d.stops = []string{map[bool]string{true: "Bourdon 16", false: "Stopped Diapason 8"}[d.name == "Pedal"]}
		}
	}
	plan := planned(t, asked, list.read(t), resolve.Options{})
	for i, s := range plan.Settings {
		if slices.ContainsFunc(s.Lines, func(l *resolve.Line) bool { return strings.Contains(l.Why, "the loud pedal stops come off") }) {
			return ""
		}
		for _, p := range s.Parts {
			if p.Cost != 0 || p.Changes() || plan.Moved(p) {
				return fmt.Sprintf("passage %d: what is asked of the %v costs %d\n%s\n%s\n%s", i+1, p.Asked.Division, p.Cost, list, told(sections), plantest.Dump(plan))
			}
		}
		for _, line := range s.Lines {
			if len(line.Changed) > 0 {
				return fmt.Sprintf("passage %d: %s is changed\n%s\n%s\n%s", i+1, line.Asked.Line, list, told(sections), plantest.Dump(plan))
			}
		}
	}
	return ""
}

// drawNearStops draws a score that changes from one stop of a manual to another
// of nearly the same kind, where leaving the knobs as they are would save most.
func drawNearStops(t *rapid.T) (*passage.Score, []section) {
	near := []string{"Stopped Diapason 8", "Gedackt 8", "Lieblich Gedackt 8", "Open Diapason 8, Principal 4", "Open Diapason 8, Octave 4"}
	var sections []section
	for range 4 {
		words := "Ch. " + rapid.SampledFrom(near).Draw(t, "stops")
		sections = append(sections, section{music: textures["hymn"], texts: []text{{"rh", words}}})
	}
	asked, err := readAsked(tinyScore(sections), "en")
	if err != nil {
		t.Fatalf("%v", err)
	}
	return asked, sections
}

// disobeyed is what a pin says that is otherwise in the passage at whose start
// its measure is, "" if nothing is.
func disobeyed(plan *resolve.Plan, p resolve.Pin) string {
	for _, s := range plan.Settings {
		for _, line := range s.Lines {
			if s.Passage.From.Measure != p.Measure || line.Asked.Line != p.Line || line.Part == nil {
				continue
			}
			var stops []string
			for _, c := range line.Part.Stops() {
				stops = append(stops, c.Stop.Text)
			}
			slices.Sort(stops)
			switch {
			case line.Part.Host == nil:
				return "no keyboard"
			case p.Division != "" && line.Part.Host.Name != p.Division:
				return "on the " + line.Part.Host.Name
			case p.Octave != nil && line.Octave != *p.Octave:
				return fmt.Sprint("in octave ", line.Octave)
			case len(p.Stops) > 0 && !slices.Equal(slices.Compact(stops), p.Stops):
				return "with " + strings.Join(stops, ", ")
			}
		}
	}
	return ""
}

// holds checks a property that gives "" where it holds.
func holds(t *testing.T, n int, property func(*rapid.T) string) {
	t.Helper()
	rapidly(t, n, func(t *rapid.T) {
		if broken := property(t); broken != "" {
			t.Error(broken)
		}
	})
}

func TestOrderOfStopsDoesNotMatter(t *testing.T) { holds(t, 300, otherOrder) }

func TestStopMoreNeverCostsMore(t *testing.T) { holds(t, 300, moreStops) }

func TestUnusedStopCanGo(t *testing.T) { holds(t, 300, unusedStop) }

func TestPinNeverCostsLess(t *testing.T) { holds(t, 300, withPin) }

func TestCostsAreInOrder(t *testing.T) { holds(t, 300, costsInOrder) }

func TestExactMatchOfRandomScores(t *testing.T) { holds(t, 300, exactMatch) }
