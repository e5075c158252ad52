package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"stopgap/registry/sound"
)

const (
	bandsWidth, bandsHeight = 300.0, 118.0
	bandsLeft, bandsTop     = 6.0, 20.0
	bandsFloor              = 96.0
)

// bandMarks are edges of critical bands to find one's way by: the number of
// bands below the edge, and its frequency. The lowest three bands end at 90,
// 180 and 280 Hz, the others are thirds of an octave (see registry/sound).
var bandMarks = []struct {
	below int
	label string
}{{3, "280 Hz"}, {6, "560"}, {9, "1.1 kHz"}, {12, "2.2"}, {15, "4.5"}, {18, "9"}}

// bandsPicture shows how loud asked and given are in each critical band of the
// ear: what is given filled, what is asked as a line over it.
func bandsPicture(id, name string, asked, given sound.Heard) template.HTML {
	top := 0.0
	for i := range given.Bands {
		top = max(top, given.Bands[i], asked.Bands[i])
	}
	if top == 0 {
		return ""
	}
	d := newDrawing(id, "Asked and given in the bands of the ear: "+name, bandsText(asked, given), bandsWidth, bandsHeight)
	step := (bandsWidth - 2*bandsLeft) / sound.CriticalBandCount
	y := func(n float64) float64 { return bandsFloor - (bandsFloor-bandsTop)*n/top }
	for i, n := range given.Bands {
		d.rect("given", bandsLeft+float64(i)*step+1, y(n), step-2, bandsFloor-y(n))
	}
	var path strings.Builder
	for i, n := range asked.Bands {
		x := bandsLeft + float64(i)*step
		fmt.Fprintf(&path, "%c%s %sH%s", "ML"[min(i, 1)], num(x), num(y(n)), num(x+step))
	}
	d.path("asked", path.String())
	d.line("axis", bandsLeft, bandsFloor, bandsWidth-bandsLeft, bandsFloor)
	for _, m := range bandMarks {
		x := bandsLeft + float64(m.below)*step
		d.line("axis", x, bandsFloor, x, bandsFloor+3)
		d.text("small mid", x, bandsFloor+14, m.label)
	}
	d.rect("given", bandsLeft, 4, 9, 9)
	d.text("small", bandsLeft+13, 12, "given")
	d.path("asked", fmt.Sprintf("M%s 9h16", num(bandsLeft+52)))
	d.text("small", bandsLeft+72, 12, "asked")
	return d.done()
}

// bandsText says in words where asked and given differ: in the bass (up to
// 280 Hz), in the middle (up to 2.2 kHz), in the treble.
func bandsText(asked, given sound.Heard) string {
	var parts []string
	for _, part := range []struct {
		name     string
		from, to int
	}{{"bass", 0, 3}, {"middle", 3, 12}, {"treble", 12, sound.CriticalBandCount}} {
		a, g := 0.0, 0.0
		for i := part.from; i < part.to; i++ {
			a, g = a+asked.Bands[i], g+given.Bands[i]
		}
		switch {
		case g > a*1.25:
			parts = append(parts, "more in the "+part.name)
		case g < a*0.8:
			parts = append(parts, "less in the "+part.name)
		}
	}
	if len(parts) == 0 {
		return "What is given has about as much in the bass, the middle and the treble as what is asked."
	}
	return "Against what is asked, what is given has " + strings.Join(parts, ", ") + "."
}
