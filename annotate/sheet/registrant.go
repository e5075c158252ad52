package sheet

import (
	"fmt"

	"stopgap/annotate/mark"
	"stopgap/registry"
)

// A pull is what the one who draws the stops does at one side of the console.
type pull struct {
	Side string   // "Left", "Right"; a division, or "Couplers", where the organ file gives no sides
	Pull []string // knobs to draw
	Push []string // knobs to put in
}

// pullsOf sorts an entry's knobs by the side of the console, in the order of
// the knobs. Where the organ file tells no side of any stop they stand by
// division.
func pullsOf(moves []move, o *registry.Organ) []pull {
	sides := hasSides(o)
	var order []string
	by := map[string]*pull{}
	at := func(side string) *pull {
		if by[side] == nil {
			by[side] = &pull{Side: side}
			order = append(order, side)
		}
		return by[side]
	}
	if sides {
		at("Left")
		at("Right")
	}
	for _, m := range moves {
		if !m.isKnob() {
			continue
		}
		side, name := "Couplers", m.knob.name()
		switch k := m.knob; {
		case k.stop != nil && sides:
			name = mark.Abbreviation(k.stop.Division) + " " + name
			side = map[string]string{"left": "Left", "right": "Right", "": "Elsewhere"}[k.stop.Side]
		case k.stop != nil:
			side = k.stop.Division.Name
		case k.tremulant != nil:
			side = "Tremulant"
		}
		if m.on {
			at(side).Pull = append(at(side).Pull, name)
		} else {
			at(side).Push = append(at(side).Push, name)
		}
	}
	var out []pull
	for _, side := range order {
		if p := by[side]; len(p.Pull)+len(p.Push) > 0 {
			out = append(out, *p)
		}
	}
	return out
}

func hasSides(o *registry.Organ) bool {
	for _, d := range o.Divisions {
		for _, s := range d.Stops {
			if s.Side != "" {
				return true
			}
		}
	}
	return false
}

// registrant writes only what to pull and push.
func (t *textWriter) registrant() {
	t.line("")
	t.strong("BEFORE THE FIRST NOTE")
	t.pulls(t.entries[0])
	for _, e := range t.entries[1:] {
		if e.knobs() == 0 {
			continue
		}
		t.line("")
		t.strong(e.where(true))
		t.pulls(e)
	}
}

func (t *textWriter) pulls(e *entry) {
	if e.piston > 0 {
		t.line("  GENERAL %d, or:", e.piston)
	}
	for _, p := range pullsOf(e.moves, t.plan.Organ) {
		t.line("  %s", p.Side)
		for _, name := range p.Pull {
			t.wrapped("    PULL  ", "          ", name)
		}
		for _, name := range p.Push {
			t.wrapped("    push  ", "          ", name)
		}
	}
	if e.knobs() == 0 {
		t.line("  nothing")
	}
}

// number says how many knobs there are to move, for the head of the page.
func (s *sheet) number() string {
	changes, knobs := 0, 0
	for _, e := range s.entries[1:] {
		if n := e.knobs(); n > 0 {
			changes, knobs = changes+1, knobs+n
		}
	}
	return fmt.Sprintf("%s, %s in all", counted(changes, "change"), counted(knobs, "knob"))
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
