package sheet

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"stopgap/annotate/passage"
	"stopgap/musicxml"
	"stopgap/registry"
)

// The heights of the strip's rows, in units of the picture.
const (
	stripRow   = 50.0
	soundStrip = 11.0 // the loudness along the foot of a row
)

// A stay is a stretch of the piece during which one keyboard is played by the
// same hands or feet with the same stops.
type stay struct {
	from, to musicxml.Time
	who      string
	stops    string
	box      string
	phon     float64 // loudness level of what is given, 0 where not known
	first    musicxml.Place
	last     musicxml.Place // of its last measure
}

// stripPictures show the whole piece: measures across, a row for each keyboard,
// with who plays there, what sounds from it, how the box stands and how loud
// it is.
func (s *sheet) stripPictures(listener ear) []template.HTML {
	var used []*registry.Keyboard
	stays := map[*registry.Keyboard][]stay{}
	for _, kb := range rowsOf(s.plan.Organ) {
		if stays[kb] = s.staysOn(kb, listener); len(stays[kb]) > 0 {
			used = append(used, kb)
		}
	}
	loudest, softest := loudnessRange(stays)
	sys := newSystems(s.moments.part)
	var out []template.HTML
	for system := range sys.count {
		d := sys.begin("strip", "The piece on the keyboards", saysStays(used, stays, sys.time(system)), system, stripRow*float64(len(used)))
		for i, kb := range used {
			y := headHeight + float64(i)*stripRow
			d.text("name", 0, y+stripRow/2, fit(kb.Name, labelWidth, 7))
			d.line("rule", labelWidth, y+stripRow, pictureWidth, y+stripRow)
		}
		sys.ruler(d, system, headHeight+stripRow*float64(len(used)), s.entries)
		for i, kb := range used {
			for _, st := range stays[kb] {
				for _, part := range sys.stretches(st.from, st.to) {
					if part.system == system {
						st.draw(d, part, headHeight+float64(i)*stripRow, softest, loudest)
					}
				}
			}
		}
		out = append(out, d.done())
	}
	return out
}

// rowsOf are the keyboards from the top of the picture down, as they lie at
// the console.
func rowsOf(o *registry.Organ) []*registry.Keyboard {
	rows := slices.Clone(o.Keyboards)
	slices.Reverse(rows)
	if o.Pedalboard != nil {
		rows = append(rows, o.Pedalboard)
	}
	return rows
}

// saysStays says in words what the picture of a span shows.
func saysStays(rows []*registry.Keyboard, stays map[*registry.Keyboard][]stay, span passage.Span) string {
	var said []string
	for _, kb := range rows {
		var parts []string
		for _, st := range stays[kb] {
			if st.from.Less(span.End) && span.Start.Less(st.to) {
				parts = append(parts, st.says())
			}
		}
		if len(parts) > 0 {
			said = append(said, kb.Name+": "+strings.Join(parts, "; ")+".")
		}
	}
	return strings.Join(said, " ")
}

func loudnessRange(stays map[*registry.Keyboard][]stay) (loudest, softest float64) {
	softest = math.Inf(1)
	for _, row := range stays {
		for _, st := range row {
			if st.phon > 0 {
				loudest, softest = max(loudest, st.phon), min(softest, st.phon)
			}
		}
	}
	return loudest, softest
}

// staysOn lists what is played on a keyboard, neighbours that are alike as one.
func (s *sheet) staysOn(kb *registry.Keyboard, listener ear) []stay {
	var out []stay
	for i, setting := range s.plan.Settings {
		for _, line := range setting.Lines {
			if line.Keyboard != kb {
				continue
			}
			st := stay{
				from: setting.Passage.Start, to: setting.Passage.End, who: lineName(line.Asked.Line), stops: soundText(line),
				first: setting.Passage.From, last: s.moments.lastPlace(setting.Passage.End),
			}
			for _, d := range s.plan.Organ.Divisions {
				if d.Keyboard == kb && d.Enclosed && s.states[i].boxes[d] != "" {
					st.box = s.states[i].boxes[d]
				}
			}
			if h, ok := listener.Given(setting, line); ok {
				st.phon = h.Phon
			}
			if last := len(out) - 1; last >= 0 && out[last].to == st.from && out[last].alike(st) {
				out[last].to, out[last].last = st.to, st.last
				out[last].phon = max(out[last].phon, st.phon)
				continue
			}
			if last := len(out) - 1; last >= 0 && out[last].from == st.from {
				out[last].who += ", " + st.who // two lines on one keyboard
				out[last].phon = max(out[last].phon, st.phon)
				continue
			}
			out = append(out, st)
		}
	}
	return out
}

func (a stay) alike(b stay) bool {
	return a.who == b.who && a.stops == b.stops && a.box == b.box && math.Abs(a.phon-b.phon) < 3
}

// lastPlace is the last measure before a moment.
func (m *moments) lastPlace(t musicxml.Time) musicxml.Place {
	measure := m.part.MeasureAt(t)
	if measure != nil && measure.Start == t && measure.Index > 0 {
		measure = m.part.Measures[measure.Index-1]
	}
	if measure == nil {
		return musicxml.Place{}
	}
	return measure.Place(measure.Start)
}

func (a stay) says() string {
	text := "bars " + a.first.Measure + " to " + a.last.Measure
	if a.first.Measure == a.last.Measure {
		text = "bar " + a.first.Measure
	}
	text += " " + a.who
	if a.stops != "" {
		text += ", " + a.stops
	}
	if a.box != "" {
		text += ", " + boxStands(a.box)
	}
	return text
}

func (a stay) draw(d *drawing, part stretch, y, softest, loudest float64) {
	w := part.to - part.from
	d.titled(a.says())
	d.rect("stay", part.from+0.5, y+1, w-1, stripRow-2)
	if a.phon > 0 {
		share := 1.0
		if loudest > softest {
			share = (a.phon - softest) / (loudest - softest)
		}
		h := 2 + (soundStrip-2)*share
		d.rect("loud", part.from+0.5, y+stripRow-1-h, w-1, h)
	}
	if a.box != "" {
		drawBox(d, a.box, part.from+2, part.to-2, y+stripRow-soundStrip-7)
	}
	who := fit(a.who, w-4, 6)
	d.text("who", part.from+3, y+11, who)
	d.text("tiny", part.from+3, y+22, fit(a.stops, w-5, 4.9))
	d.close()
}

// drawBox draws how a box stands as two lines: together when it is shut, apart
// when it is open, as hairpins are.
func drawBox(d *drawing, position string, x1, x2, y float64) {
	left, right := 0.0, 0.0
	switch position {
	case "open":
		left, right = 3, 3
	case "half":
		left, right = 1.5, 1.5
	case "opening":
		right = 3
	case "closing":
		left = 3
	}
	if x2 <= x1 {
		return
	}
	d.path("box", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %s", num(x1), num(y-left), num(x2), num(y-right), num(x1), num(y+left), num(x2), num(y+right)))
}

// feetPlay reports whether the feet play anywhere in the plan.
func (s *sheet) feetPlay() bool {
	for _, setting := range s.plan.Settings {
		for _, line := range setting.Lines {
			if line.Asked.Line == passage.Feet && len(line.Asked.Notes) > 0 {
				return true
			}
		}
	}
	return false
}
