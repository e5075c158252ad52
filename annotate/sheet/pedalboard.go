package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
)

const (
	pedalHead   = 26.0
	pedalHeight = 118.0
)

// A pedalNote is one note of the feet as it is printed and as it is played.
type pedalNote struct {
	from, to        musicxml.Time
	printed, played registry.Key
	off             bool // no such key
}

// pedalPicture is the pedal part against the pedalboard: the keys that there
// are shaded, every note at the key that is played, what is played in another
// octave also where it is printed, and what is off the board crossed.
func (s *sheet) pedalPicture() template.HTML {
	board := s.plan.Organ.Pedalboard
	notes := s.pedalNotes()
	low, high := registry.Key(127), registry.Key(0)
	for _, n := range notes {
		low, high = min(low, n.printed, n.played), max(high, n.printed, n.played)
	}
	if board != nil {
		low, high = min(low, board.Compass.Low), max(high, board.Compass.High)
	}
	low, high = low-1, high+1
	step := pedalHeight / float64(high-low+1)
	sys := newSystems(s.moments.part)
	height := pedalHead + pedalHeight
	d := newDrawing("pedal", "The pedal part against the pedalboard", s.pedalText(notes, board), pictureWidth, (height+systemGap)*float64(sys.count)-systemGap+2)
	at := func(system int, k registry.Key) float64 { // the top of a key's row
		return float64(system)*(height+systemGap) + pedalHead + float64(high-k)*step
	}
	for system := range sys.count {
		top := at(system, high)
		if board != nil {
			c := board.Compass
			d.rect("board", labelWidth, at(system, c.High), pictureWidth-labelWidth, at(system, c.Low)+step-at(system, c.High))
			for _, k := range c.Missing {
				d.rect("gap", labelWidth, at(system, k), pictureWidth-labelWidth, step)
			}
			d.text("small end", labelWidth-6, at(system, c.High)+step, c.High.String())
			d.text("small end", labelWidth-6, at(system, c.Low)+step, c.Low.String())
		}
		for k := low; k <= high; k++ {
			if k%12 == 0 {
				d.line("rule", labelWidth, at(system, k)+step/2, pictureWidth, at(system, k)+step/2)
				if board == nil || k-board.Compass.Low >= 5 && board.Compass.High-k >= 5 {
					d.text("small end", labelWidth-6, at(system, k)+step/2+3, k.String())
				}
			}
		}
		sys.ruler(d, system, top, top+pedalHeight)
		sys.starts(d, system, top-15, s.entries)
	}
	for _, n := range notes {
		for _, part := range sys.stretches(n.from, n.to) {
			w := max(1.5, part.to-part.from-0.7)
			if n.printed != n.played {
				d.rect("printed", part.from, at(part.system, n.printed), w, step)
			}
			y := at(part.system, n.played)
			switch {
			case n.off:
				d.titled(n.played.String() + " is not there")
				d.rect("off", part.from, y, w, step)
				x := part.from + w/2
				d.path("cross", fmt.Sprintf("M%s %sl7 7m0 -7l-7 7", num(x-3.5), num(y+step/2-3.5)))
				d.close()
			case n.printed != n.played:
				d.rect("moved", part.from, y, w, step)
			default:
				d.rect("note", part.from, y, w, step)
			}
		}
	}
	return d.done()
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
