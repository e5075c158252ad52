package sheet

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
)

const pedalHeight = 118.0

// A pedalNote is one note of the feet as it is printed and as it is played.
type pedalNote struct {
	from, to        musicxml.Time
	printed, played registry.Key
	off             bool // no such key
}

// pedalPictures show the pedal part against the pedalboard: the keys that there
// are shaded, every note at the key that is played, what is played in another
// octave also where it is printed, and what is off the board crossed.
func (s *sheet) pedalPictures() []template.HTML {
	board := s.plan.Organ.Pedalboard
	notes := s.pedalNotes()
	low, high := registry.Key(127), registry.Key(0)
	for _, n := range notes {
		low, high = min(low, n.printed, n.played), max(high, n.printed, n.played)
	}
	if board != nil {
		low, high = min(low, board.Compass.Low), max(high, board.Compass.High)
	}
	g := pedalGrid{board: board, low: low - 1, high: high + 1}
	sys := newSystems(s.moments.part)
	var out []template.HTML
	for system := range sys.count {
		span := sys.time(system)
		here := slices.DeleteFunc(slices.Clone(notes), func(n pedalNote) bool { return !n.from.Less(span.End) || !span.Start.Less(n.to) })
		d := sys.begin("pedal", "The pedal part against the pedalboard", s.pedalText(here, board), system, pedalHeight)
		g.draw(d)
		sys.ruler(d, system, headHeight+pedalHeight, s.entries)
		for _, n := range here {
			for _, part := range sys.stretches(n.from, n.to) {
				if part.system == system {
					g.note(d, n, part)
				}
			}
		}
		out = append(out, d.done())
	}
	return out
}

// A pedalGrid places keys in the picture, a row each.
type pedalGrid struct {
	board     *registry.Keyboard // nil where the organ has none
	low, high registry.Key
}

func (g pedalGrid) step() float64 { return pedalHeight / float64(g.high-g.low+1) }

// at is the top of a key's row.
func (g pedalGrid) at(k registry.Key) float64 { return headHeight + float64(g.high-k)*g.step() }

// draw shades the pedalboard and names its ends and every C.
func (g pedalGrid) draw(d *drawing) {
	step := g.step()
	if g.board != nil {
		c := g.board.Compass
		d.rect("board", labelWidth, g.at(c.High), pictureWidth-labelWidth, g.at(c.Low)+step-g.at(c.High))
		for _, k := range c.Missing {
			d.rect("gap", labelWidth, g.at(k), pictureWidth-labelWidth, step)
		}
		d.text("small end", labelWidth-6, g.at(c.High)+step, c.High.String())
		d.text("small end", labelWidth-6, g.at(c.Low)+step, c.Low.String())
	}
	for k := g.low; k <= g.high; k++ {
		if k%12 != 0 {
			continue
		}
		d.line("rule", labelWidth, g.at(k)+step/2, pictureWidth, g.at(k)+step/2)
		if g.board == nil || k-g.board.Compass.Low >= 5 && g.board.Compass.High-k >= 5 {
			d.text("small end", labelWidth-6, g.at(k)+step/2+3, k.String())
		}
	}
}

func (g pedalGrid) note(d *drawing, n pedalNote, part stretch) {
	step, w := g.step(), max(1.5, part.to-part.from-0.7)
	if n.printed != n.played {
		d.rect("printed", part.from, g.at(n.printed), w, step)
	}
	y := g.at(n.played)
	switch {
	case n.off:
		d.titled(n.played.String() + " is not there")
		d.rect("off", part.from, y, w, step)
		d.path("cross", fmt.Sprintf("M%s %sl7 7m0 -7l-7 7", num(part.from+w/2-3.5), num(y+step/2-3.5)))
		d.close()
	case n.printed != n.played:
		d.rect("moved", part.from, y, w, step)
	default:
		d.rect("note", part.from, y, w, step)
	}
}

func (s *sheet) pedalNotes() []pedalNote {
	var out []pedalNote
	for _, setting := range s.plan.Settings {
		for _, line := range setting.Lines {
			if line.Asked.Line != passage.Feet {
				continue
			}
			for _, n := range line.Asked.Notes {
				from, to := n.Note.Onset, n.Note.Onset.Add(n.Note.Duration)
				if from.Less(setting.Passage.Start) {
					from = setting.Passage.Start
				}
				if setting.Passage.End.Less(to) {
					to = setting.Passage.End
				}
				x := pedalNote{from: from, to: to, printed: n.Key, played: n.Key + registry.Key(12*line.Octave)}
				x.off = line.Keyboard == nil || !line.Keyboard.Compass.Has(x.played)
				if from.Less(to) {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// pedalText says in words what the picture shows.
func (s *sheet) pedalText(notes []pedalNote, board *registry.Keyboard) string {
	var parts []string
	if board == nil {
		parts = append(parts, "The organ has no pedalboard.")
	} else {
		parts = append(parts, fmt.Sprintf("The pedalboard goes from %s to %s.", board.Compass.Low, board.Compass.High))
	}
	if len(notes) == 0 {
		return strings.Join(append(parts, "The feet rest."), " ")
	}
	low, high := notes[0].played, notes[0].played
	for _, n := range notes {
		low, high = min(low, n.played), max(high, n.played)
	}
	parts = append(parts, fmt.Sprintf("The feet play from %s to %s.", low, high))
	runs := func(what string, test func(pedalNote) bool) {
		var from, to string
		var spans []string
		flush := func() {
			if from != "" {
				span := "bars " + from + " to " + to
				if from == to {
					span = "bar " + from
				}
				spans = append(spans, span)
			}
			from = ""
		}
		for _, n := range notes {
			if !test(n) {
				flush()
				continue
			}
			if from == "" {
				from = s.moments.part.Place(n.from).Measure
			}
			to = s.moments.part.Place(n.from).Measure
		}
		flush()
		if len(spans) > 0 {
			parts = append(parts, what+": "+strings.Join(spans, ", ")+".")
		}
	}
	runs("Played in another octave than printed", func(n pedalNote) bool { return n.printed != n.played })
	runs("Not on the pedalboard", func(n pedalNote) bool { return n.off })
	return strings.Join(parts, " ")
}
