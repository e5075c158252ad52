package sound

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
)

// Plot writes an SVG picture of a stop: on the left its partials at one key,
// on the right its bands at three. The title stands above it; the figures
// stand in the description, for those who cannot see the picture.
func Plot(w io.Writer, title string, s *Stop) error {
	f := s.Figures()
	p := newPicture(title, f.describe(title))
	p.partials(panel{x: 62, y: 64, width: 352, height: 250}, f)
	curves := []bandCurve{}
	for _, key := range []int{36, 60, 84} {
		if powers := s.powersAt(key); powers != nil {
			curves = append(curves, bandCurve{keyName(key), levels(powers)})
		}
	}
	p.bands(panel{x: 492, y: 64, width: 330, height: 250}, "Level in thirds of an octave", "dB", curves, f.floor(), f.floor()+70)
	return p.write(w)
}

// PlotBox writes an SVG picture of what a swell box lets through at several
// positions of its shutters.
func PlotBox(w io.Writer, title string, strength float64) error {
	strength = min(strength, strongest)
	var curves []bandCurve
	var said []string
	for _, position := range []struct {
		name string
		shut float64
	}{{"open", 0}, {"half", 0.5}, {"shut", 1}} {
		c := bandCurve{name: position.name}
		for band := range BandCount {
			c.levels[band] = -Box{Strength: strength, Shut: position.shut}.Attenuation(BandCentre(band))
		}
		curves = append(curves, c)
		said = append(said, fmt.Sprintf("%s %.1f dB at 100 Hz, %.1f at 1 kHz, %.1f at 4 kHz", position.name, c.levels[6], c.levels[16], c.levels[22]))
	}
	p := newPicture(title, strings.Join(said, "; ")+".")
	p.bands(panel{x: 62, y: 64, width: 760, height: 250}, "What the box lets through, in thirds of an octave", "dB", curves, -10*math.Ceil(strength*2.2/10), 5)
	return p.write(w)
}

func levels(p *Powers) (l [BandCount]float64) {
	for band, power := range p {
		l[band] = Decibels(power)
	}
	return l
}

// describe says in words what the picture shows.
func (f Figures) describe(title string) string {
	var b strings.Builder
	if len(f.Partials) == 0 {
		return title + ": no pipes."
	}
	fmt.Fprintf(&b, "%s, sounding as %s.", title, f.Kind)
	for _, k := range f.Keys {
		fmt.Fprintf(&b, " %s: %.0f phon, middle of the loudness at %.0f Hz.", keyName(k.Key), k.Phon, k.Brightness)
	}
	fmt.Fprintf(&b, " Partials of %s:", keyName(f.At))
	for i, p := range f.Partials {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, " %s at %.0f dB", p.Ratio, p.Level)
	}
	b.WriteByte('.')
	return b.String()
}

// A picture is an SVG drawing in the making. Black on white, one line weight,
// curves told apart by their dashes as well as by their shade.
type picture struct{ b strings.Builder }

const pictureWidth, pictureHeight = 860, 372

func newPicture(title, description string) *picture {
	p := new(picture)
	p.printf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="t d" font-family="Georgia, serif" font-size="12" fill="#222">`+"\n",
		pictureWidth, pictureHeight, pictureWidth, pictureHeight)
	p.printf(`<title id="t">%s</title>`+"\n"+`<desc id="d">%s</desc>`+"\n", escape(title), escape(description))
	p.printf(`<rect width="%d" height="%d" fill="#fff"/>`+"\n", pictureWidth, pictureHeight)
	p.printf(`<text x="62" y="28" font-size="17">%s</text>`+"\n", escape(title))
	return p
}

func (p *picture) printf(format string, args ...any) { fmt.Fprintf(&p.b, format, args...) }

func (p *picture) write(w io.Writer) error {
	p.printf("</svg>\n")
	_, err := io.WriteString(w, p.b.String())
	return err
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}

// A panel is the part of the picture that one set of axes takes.
type panel struct{ x, y, width, height float64 }

// frame draws the axes with their ticks: levels upwards, and places along the
// bottom, given as parts of the width.
func (p *picture) frame(at panel, heading, below string, low, high float64, ticks []tick) {
	p.printf(`<text x="%.1f" y="%.1f">%s</text>`+"\n", at.x, at.y-10, escape(heading))
	for level := low; level <= high; level += 10 {
		y := at.level(level, low, high)
		p.printf(`<line x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f" stroke="#ddd"/>`+"\n", at.x, at.x+at.width, y, y)
		p.printf(`<text x="%.1f" y="%.1f" text-anchor="end" font-size="11">%.0f</text>`+"\n", at.x-6, y+4, level)
	}
	for _, t := range ticks {
		x := at.x + t.part*at.width
		p.printf(`<line x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f" stroke="#222"/>`+"\n", x, x, at.y+at.height, at.y+at.height+4)
		p.printf(`<text x="%.1f" y="%.1f" text-anchor="middle" font-size="11">%s</text>`+"\n", x, at.y+at.height+17, t.label)
	}
	p.printf(`<line x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f" stroke="#222"/>`+"\n", at.x, at.x+at.width, at.y+at.height, at.y+at.height)
	p.printf(`<text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`+"\n", at.x+at.width/2, at.y+at.height+36, escape(below))
}

type tick struct {
	part  float64
	label string
}

// level is the height at which a level is drawn, kept within the panel.
func (at panel) level(level, low, high float64) float64 {
	return at.y + at.height*(1-(max(low, min(level, high))-low)/(high-low))
}

// partials draws a bar for every partial, over its frequency against the
// key's 8′ fundamental.
func (p *picture) partials(at panel, f Figures) {
	first, last := 0.0, 4.0 // octaves
	for _, part := range f.Partials {
		o := math.Log2(part.Ratio.Float())
		first, last = min(first, math.Floor(o)), max(last, o+0.2)
	}
	place := func(ratio float64) float64 { return (math.Log2(ratio) - first + 0.15) / (last - first + 0.3) }
	var ticks []tick
	for _, t := range []struct {
		ratio float64
		label string
	}{{0.25, "¼"}, {0.5, "½"}, {1, "1"}, {2, "2"}, {3, "3"}, {4, "4"}, {5, "5"}, {6, "6"}, {8, "8"}, {10, "10"}, {12, "12"}, {16, "16"}, {24, "24"}, {32, "32"}, {48, "48"}} {
		if part := place(t.ratio); part >= 0 && part <= 1 {
			ticks = append(ticks, tick{part, t.label})
		}
	}
	low := f.floor()
	high := low + 70
	p.frame(at, "Partials of "+keyName(f.At)+", dB", "partial of the 8′", low, high, ticks)
	for _, part := range f.Partials {
		x, y := at.x+place(part.Ratio.Float())*at.width, at.level(part.Level, low, high)
		p.printf(`<line x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f" stroke="#7a2f1d" stroke-width="4"/>`+"\n", x, x, at.y+at.height, y)
	}
}

// A bandCurve is a level for every third of an octave, with its name.
type bandCurve struct {
	name   string
	levels [BandCount]float64
}

// strokes tell up to three curves apart: by the shape of their marks and by
// dashes as well as by colour.
var strokes = []struct{ colour, dash, mark string }{
	{"#7a2f1d", "none", `<circle cx="%.1f" cy="%.1f" r="3" stroke="none"/>`},
	{"#1d4f7a", "6 3", `<path d="M%.1f %.1fm-3-3h6v6h-6z" stroke="none"/>`},
	{"#4d6b2a", "2 3", `<path d="M%.1f %.1fm0-4l4 7h-8z" stroke="none"/>`},
}

// bands draws curves through the thirds of an octave in which there is
// something, a mark for each; neighbours are joined.
func (p *picture) bands(at panel, heading, unit string, curves []bandCurve, low, high float64) {
	step := at.width / BandCount
	var ticks []tick
	for _, t := range []struct {
		band  int
		label string
	}{{1, "31"}, {4, "63"}, {7, "125"}, {10, "250"}, {13, "500"}, {16, "1k"}, {19, "2k"}, {22, "4k"}, {25, "8k"}} {
		ticks = append(ticks, tick{(float64(t.band) + 0.5) / BandCount, t.label})
	}
	p.frame(at, heading+", "+unit, "Hz", low, high, ticks)
	for i, c := range curves {
		shape := strokes[i%len(strokes)]
		var path, marks strings.Builder
		joined := false
		for band, level := range c.levels {
			if level < low {
				joined = false
				continue
			}
			x, y := at.x+(float64(band)+0.5)*step, at.level(level, low, high)
			command := byte('M')
			if joined {
				command = 'L'
			}
			joined = true
			fmt.Fprintf(&path, "%c%.1f %.1f", command, x, y)
			fmt.Fprintf(&marks, shape.mark, x, y)
		}
		p.printf(`<g fill="%s" stroke="%s"><path d="%s" fill="none" stroke-width="1.5" stroke-dasharray="%s"/>%s</g>`+"\n", shape.colour, shape.colour, path.String(), shape.dash, marks.String())
		x, y := at.x+at.width-float64(len(curves)-i)*54, at.y-14
		p.printf(`<g fill="%s" stroke="%s">`+shape.mark+`</g><text x="%.1f" y="%.1f">%s</text>`+"\n", shape.colour, shape.colour, x, y, x+8, y+4, escape(c.name))
	}
}
